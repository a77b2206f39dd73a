"""Water in propane: what stays dissolved and what falls out at the port."""

from __future__ import annotations

import numpy as np

from lowside import drier, refrigerants, units
from lowside.drier import DROP, Drier
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Arrow, Line, Markers, Span, Text
from lowside.plots.pagework import add_axes, add_page, word

SIZE = WIDTH, HEIGHT = 760, 470
CHART = (70, 66, 470, 404)  # [px] left, top, right, bottom
SIDE = 500  # [px] left edge of the verdict

COLDEST, WARMEST = 233.15, 283.15  # [K]
LEAST, MOST = 3e-7, 1e-2  # [kg/kg]
_LEAST_SEEN = 6e-7  # [kg/kg] where less than a ppm is drawn
_TICKS = (1, 10, 100, 1000, 10000)
_ICE = "#E4F0F8"
_BESIDE = (Spot(14, 5), Spot(14, 22), Spot(14, -12))


def icing_figure(show, drops, beads, charge, evaporating, quality, liquid):
    """Draw how much water propane carries at every temperature, and what there is of it.

    Parameters
    ----------
    show : Readout
        The reader's units.
    drops : float
        Drops of water that got into the box.
    beads : float
        Of the drier; 0 for none. [kg]
    charge : float
        Propane in the box. [kg]
    evaporating : float
        Temperature behind the port. [K]
    quality : float
        Mass share of vapour behind the port.
    liquid : float
        Temperature of the drier. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a temperature outside the tables, or negative water.
    """
    fluid = refrigerants.get("R290")
    water = drops * DROP
    bare = water / charge
    dried = bare
    if beads > 0.0:
        dried = float(drier.remaining_water(Drier(0.0, beads), "R290", charge, water, liquid))
    temperature = np.linspace(COLDEST, WARMEST, 101)
    carried = drier.falls_out(fluid, 0.0, temperature, quality).carried
    here = drier.falls_out(fluid, 0.0, evaporating, quality).carried
    doubt = drier.doubt("R290")
    vapour = quality * float(drier.in_vapour(fluid, evaporating))
    dissolved = float(here) - vapour
    numbers = {
        "drops": drops,
        "beads": beads,
        "charge": charge,
        "evaporating": evaporating,
        "quality": quality,
        "liquid": liquid,
        "bare": bare,
        "dried": dried,
        "carried": dissolved + vapour,
        "least": dissolved / doubt + vapour,
        "most": dissolved * doubt + vapour,
        "cold": evaporating < units.ICE_POINT,
    }
    background = Background.once(lambda figure: _draw(figure, show), WIDTH, HEIGHT, ("icing", show))
    vapours = quality * drier.in_vapour(fluid, temperature)
    band = [(carried - vapours) * factor + vapours for factor in (1 / doubt, doubt)]
    items = [*_curves(temperature, carried, band), *_here(show, numbers), *_side(show, numbers)]
    return LiveFigure(background, items, _words(show, numbers), _strip(show, numbers), numbers)


def why(start, now, show):
    """Say what becomes of the water.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two sentences.
    """
    before, after = _fate(now, "bare"), _fate(now, "dried")
    if now["beads"] <= 0.0:
        said = f"No drier: {before}."
    elif before == after:
        said = f"With the beads or without them: {after}."
    else:
        said = f"Without the drier {before}; with it {after}."
    if not now["cold"]:
        return f"{said} Hydrates, solid like ice, can still form a few degrees above freezing."
    return f"{said} Vapour carries part of the water past the port, so it is not the liquid alone."


def _fate(n, which):
    water = n[which]
    solid = "freezes at the port" if n["cold"] else "falls out as liquid water"
    if water <= n["least"]:
        return "all the water stays dissolved"
    if water > n["most"]:
        return f"water {solid}"
    return f"nobody can say whether water {solid}, so near is it"


def _draw(figure, show):
    chart = add_axes(figure, SIZE, *CHART)
    chart.set_yscale("log")
    chart.set_ylim(LEAST, MOST)
    chart.set_xlim(COLDEST, WARMEST)
    chart.set_yticks([value * 1e-6 for value in _TICKS], [f"{value:g}" for value in _TICKS])
    chart.set_yticks([], minor=True)
    step = 20 if show.system == "us" else 10
    edges = [float(show.value(edge, "temperature")) for edge in (COLDEST, WARMEST)]
    values = np.arange(np.ceil(edges[0] / step - 1e-9) * step, edges[1] + 1e-9, step)
    chart.set_xticks([float(show.si(v, "temperature")) for v in values], [f"{v:g}" for v in values])
    chart.grid(True)
    across = show.axis("temperature behind the port", "temperature")
    return {"main": chart, "page": add_page(figure, SIZE)}, [
        Span("x", COLDEST, units.ICE_POINT, _ICE, 1.0),
        word(14, 22, "water in the propane [ppm by mass]", size=style.LARGE, bold=True),
        word((CHART[0] + CHART[2]) / 2, HEIGHT - 20, across, "middle", style.TEXT),
        Text(units.ICE_POINT, LEAST, "below freezing", (Spot(-6, -8, "end"),), style.SMALL),
    ]


def _curves(temperature, carried, band):
    return [
        Area(temperature, *band, style.LOW, 0.25),
        Line(temperature, carried, style.LOW, 3.2),
        Line([CHART[0], CHART[0] + 28], [43, 43], style.LOW, 3.2, axes="page"),
        word(
            CHART[0] + 36,
            48,
            "most that propane carries, with its doubt",
            colour=style.LOW,
            bold=True,
        ),
    ]


def _here(show, n):
    at = n["evaporating"]
    items = [Line([at, at], [LEAST, MOST], style.INK, 2.0, "dashed")]
    marks = [("bare", "square", style.HIGH, "without drier", _BESIDE)]
    if n["beads"] > 0.0:
        marks.append(("dried", "circle", style.GOOD, "with drier", _BESIDE))
    for name, shape, colour, text, spots in marks:
        water = n[name]
        y = min(max(water, _LEAST_SEEN), MOST)
        if water > n["carried"] * 1.02:
            items.append(Arrow(at, y, at, max(n["carried"], LEAST), colour, 2.6))
            middle = (y * n["carried"]) ** 0.5
            spots_out = (Spot(-10, 5, "end"),)
            items.append(
                Text(at, middle, "falls out", spots_out, style.SMALL, colour, optional=True)
            )
        items.append(Markers([at], [y], shape, 14, colour))
        said = f"{text} {_ppm(show, water)}"
        items.append(Text(at, y, said, spots, style.TEXT, colour, True))
    return items


def _side(show, n):
    lines = [
        (f"{_drops(n)} of water", style.INK, True),
        (f"in {show.text(n['charge'], 'charge')} of propane", style.INK, False),
        ("", style.INK, False),
        ("without a drier", style.HIGH, True),
        *[(line, style.INK, False) for line in _folded(_fate(n, "bare"))],
    ]
    if n["beads"] > 0.0:
        lines += [
            ("", style.INK, False),
            (f"with {show.text(n['beads'], 'charge')} of beads", style.GOOD, True),
            *[(line, style.INK, False) for line in _folded(_fate(n, "dried"))],
        ]
    return [
        word(SIDE, 82 + 22 * place, text, size=style.TEXT, colour=colour, bold=bold)
        for place, (text, colour, bold) in enumerate(lines)
        if text
    ]


def _folded(text, longest=28):
    lines = [""]
    for each in text.split():
        if len(lines[-1]) + len(each) > longest:
            lines.append("")
        lines[-1] = f"{lines[-1]} {each}".strip()
    return lines


def _drops(n):
    return f"{n['drops']:g} drop" if n["drops"] == 1.0 else f"{n['drops']:g} drops"


def _ppm(show, water):
    return "under 1 ppm" if 0.0 < water < 1e-6 else show.text(water, "water_content")


def _strip(show, n):
    return [
        ("Without drier", _ppm(show, n["bare"])),
        ("With drier", _ppm(show, n["dried"]) if n["beads"] > 0.0 else "no drier"),
        ("Carried at most", f"{_ppm(show, n['least'])} to {_ppm(show, n['most'])}"),
        ("Behind the port", show.text(n["evaporating"], "temperature")),
    ]


def _words(show, n):
    beads = (
        f"With {show.text(n['beads'], 'charge')} of beads {_ppm(show, n['dried'])} are left, and "
        f"{_fate(n, 'dried')}."
        if n["beads"] > 0.0
        else "There is no drier."
    )
    return (
        f"{_drops(n)} of water in {show.text(n['charge'], 'charge')} of propane make "
        f"{_ppm(show, n['bare'])}. At {show.text(n['evaporating'], 'temperature')} behind the "
        f"port, {show.text(n['quality'], 'ratio')} of it vapour, propane carries between "
        f"{_ppm(show, n['least'])} and {_ppm(show, n['most'])}. Without a drier "
        f"{_fate(n, 'bare')}. {beads}"
    )
