"""Filler metals for a pair of base metals: where each melts, and which is right, with what."""

from __future__ import annotations

from lowside import joint
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Markers, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 760, 470
CHART = (232, 64, 506, 412)  # [px] left, top, right, bottom
COOLEST, HOTTEST = 853.15, 1093.15  # [K]
VERDICT = 522  # [px] where the column of verdicts begins

_BARS = {joint.NO_FLUX: style.GOOD, joint.FLUX: style.LOW}
_SHAPES = {joint.NO_FLUX: "circle", joint.FLUX: "square"}
_ELEMENTS = {"Ag": "silver", "P": "phosphorus", "Cd": "cadmium", "Ni": "nickel", "Sn": "tin"}


def rods_figure(show, one, other):
    """Draw every filler's melting range, and what it is worth between two base metals.

    Parameters
    ----------
    show : Readout
        The reader's units.
    one, other : str
        The base metals, keys of ``joint.metals``.

    Returns
    -------
    LiveFigure
        With words and numbers.

    Raises
    ------
    UnknownName
        If there is no such metal.
    """
    pair = joint.metal(one), joint.metal(other)
    best = joint.coolest(*pair)
    judged = sorted(joint.judge_all(*pair), key=lambda each: -each.filler.liquidus)
    background = Background.once(
        lambda figure: _draw_background(figure, show, judged), WIDTH, HEIGHT, ("rods", show)
    )
    items = [word(VERDICT, 42, f"{one} on {other}")]
    items += [
        mark for row, each in enumerate(judged) for mark in _row(row, each, best, len(judged))
    ]
    soft = min(pair, key=lambda metal: metal.melts)
    if COOLEST < soft.melts < HOTTEST:
        items += _melts(soft, len(judged))
    numbers = {"best": None if best is None else best.filler.name, "judged": judged}
    return LiveFigure(background, items, _words(show, pair, judged, best), (), numbers)


def _draw_background(figure, show, judged):
    chart = add_axes(figure, SIZE, *CHART)
    chart.set_xlim(COOLEST, HOTTEST)
    chart.set_ylim(len(judged), 0.0)
    chart.set_xticks(*user_ticks(show, "temperature", COOLEST, HOTTEST, 6))
    chart.set_yticks([])
    chart.grid(axis="x")
    chart.spines["left"].set_visible(False)
    axes = {"melting": chart, "page": add_page(figure, SIZE)}
    middle, unit = (CHART[0] + CHART[2]) / 2, show.unit("temperature")
    labels = [
        word(14, 24, "filler, and what is in it", size=style.LARGE, bold=True),
        word(middle, 24, "begins to melt – all liquid", "middle", style.LARGE, bold=True),
        word(VERDICT, 24, "between these metals", size=style.LARGE, bold=True),
        word(middle, HEIGHT - 14, f"temperature [{unit}]", "middle"),
    ]
    for row, each in enumerate(judged):
        y = _down(row, len(judged))
        labels += [
            word(14, y - 2, each.filler.name, size=style.TEXT, bold=True),
            word(14, y + 14, _content(each.filler), colour=style.MUTED),
        ]
    return axes, labels


def _down(row, rows):
    return CHART[1] + (row + 0.5) / rows * (CHART[3] - CHART[1])


def _content(filler):
    """Say what makes this filler what it is; the rest is copper, and zinc in the silver ones."""
    told = [
        f"{100.0 * share:g} % {_ELEMENTS[element]}"
        for element, share in filler.content.items()
        if element in _ELEMENTS
    ]
    return ", ".join(told)


def _row(row, each, best, rows):
    filler, y = each.filler, _down(row, rows)
    low, high = row + 0.28, row + 0.72
    never = each.verdict == joint.NEVER
    if never:
        bar = Bar(
            filler.solidus, low, filler.liquidus, high, style.PAPER, style.MUTED, axes="melting"
        )
        cross = [
            Line([VERDICT, VERDICT + 12], [y - 12, y], style.HIGH, 2.6, axes="page"),
            Line([VERDICT, VERDICT + 12], [y, y - 12], style.HIGH, 2.6, axes="page"),
        ]
        marks = [bar, *cross]
    else:
        colour = _BARS[each.verdict]
        marks = [
            Bar(filler.solidus, low, filler.liquidus, high, colour, colour, 0.85, axes="melting"),
            Markers([VERDICT + 6], [y - 6], _SHAPES[each.verdict], 12, colour, axes="page"),
        ]
    colour = style.HIGH if never else style.INK
    first = best is not None and each == best
    said = f"{each.verdict}: begin here" if first else each.verdict
    return [
        *(_framed(y, 0.5 * (CHART[3] - CHART[1]) / rows) if first else ()),
        *marks,
        word(VERDICT + 20, y - 1, said, size=style.TEXT, colour=colour, bold=True),
        word(VERDICT + 20, y + 15, each.reason, colour=style.MUTED),
    ]


def _framed(y, half):
    across, down = [6, WIDTH - 6, WIDTH - 6, 6], [y - half, y - half, y + half, y + half]
    yield Line(across, down, style.INK, 1.6, closed=True, axes="page")


def _melts(soft, rows):
    at = soft.melts
    return [
        Line([at, at], [0.0, rows], style.HIGH, 2.2, "dashed", axes="melting"),
        Text(
            at,
            0.0,
            f"{soft.name} melts",
            (Spot(0, -6, "middle"),),
            style.SMALL,
            style.HIGH,
            True,
            axes="melting",
        ),
    ]


def _words(show, pair, judged, best):
    one, other = pair
    names = f"{one.name} on {other.name}"
    if best is None:
        return (
            f"Fillers for {names}: not one of these. The {min(pair, key=lambda m: m.melts).name} "
            "would melt before the filler flows. Take a mechanical connection listed for it."
        )
    with_flux = "without flux" if best.verdict == joint.NO_FLUX else "with flux"
    usable = [each.filler.name for each in judged if each.verdict != joint.NEVER]
    never = [
        f"{each.filler.name} ({each.reason})" for each in judged if each.verdict == joint.NEVER
    ]
    return (
        f"Fillers for {names}: begin with {best.filler.name}, {with_flux}; it is all liquid at "
        f"{show.text(best.filler.liquidus, 'temperature', 0)}. Usable: {', '.join(usable)}. "
        f"Never: {', '.join(never)}."
    )
