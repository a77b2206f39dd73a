"""The drier's price: grams of refrigerant it keeps, drops of water it takes."""

from __future__ import annotations

import math

import numpy as np

from lowside import drier, refrigerants, store
from lowside.drier import Drier
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Bar, Line, Markers
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 760, 500
SHELLS = (92, 58, 700, 206)  # [px] left, top, right, bottom of the cut shells
ACCOUNT = (196, 314, 644, 444)
VALUES = 744  # [px] right edge of the column of values

_TOPS = (0.1, 0.2, 0.3, 0.5, 0.8)  # [kg] where the axis may end
_SLENDER = 3.2  # length of a drawn shell over its width
_LIQUID, _BEAD = "#F6D9CB", "#9AA6B2"
_KEPT = style.HIGH

NAMES = ("as built", "big drier", "topped up")


def drier_figure(
    show,
    nameplate,
    topped_up,
    inner_volume,
    beads,
    condensing,
    subcooling,
    dryness,
    original=(25e-6, 0.015),
):
    """Draw what a bigger drier does to the grams of a propane box, and what water it takes.

    Parameters
    ----------
    show : Readout
        The reader's units.
    nameplate : float
        Charge on the nameplate. [kg]
    topped_up : float
        What somebody added because the box ran short. [kg]
    inner_volume, beads : float
        Of the drier that was fitted. [m3], [kg]
    condensing, subcooling : float
        Give the liquid in the drier. [K]
    dryness : float
        Water left in the refrigerant up to which the beads count as good. [kg/kg]
    original : (float, float)
        Inner volume and beads of the drier the box was built with. [m3], [kg]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        If the beads do not fit into the shell, or the liquid is outside the tables.
    """
    fluid = refrigerants.get("R290")
    small, large = (Drier.of_shell(*sizes) for sizes in (original, (inner_volume, beads)))
    pressure = float(fluid.bubble_pressure(condensing))
    liquid = condensing - subcooling
    held = [float(unit.refrigerant_held(fluid, pressure, liquid)) for unit in (small, large)]
    doubt = drier.doubt("R290")
    takes = [
        [
            float(drier.drops(unit.water_capacity("R290", liquid, w)))
            for w in (dryness / doubt, dryness, dryness * doubt)
        ]
        for unit in (small, large)
    ]
    numbers = {
        "nameplate": nameplate,
        "topped_up": topped_up,
        "inner_volume": inner_volume,
        "beads": beads,
        "original": original,
        "free_small": float(small.free_volume),
        "free_large": float(large.free_volume),
        "condensing": condensing,
        "subcooling": subcooling,
        "liquid": liquid,
        "density": held[1] / float(large.free_volume) if large.free_volume > 0 else math.nan,
        "held_small": held[0],
        "held_large": held[1],
        "swallowed": held[1] - held[0],
        "rest": nameplate - held[1],
        "total": nameplate + topped_up,
        "takes_small": takes[0],
        "takes_large": takes[1],
        "dryness": dryness,
    }
    scene = _Scene(show, numbers)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, ("drier", show, scene.top))
    return LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say what the drier costs and what it does not buy.

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
    swallowed = show.text(abs(now["swallowed"]), "charge")
    share = show.text(abs(now["swallowed"]) / now["nameplate"], "ratio")
    if now["swallowed"] > 0.02 * now["nameplate"]:
        said = (
            f"This drier keeps {swallowed} more than the one the box was built with: {share} of "
            "the nameplate is missing from coils and lines."
        )
    elif now["swallowed"] < -0.02 * now["nameplate"]:
        said = f"This drier keeps {swallowed} less: the condenser fills up by as much."
    else:
        said = "This drier keeps about as much as the one the box was built with."
    if now["topped_up"] > 0.0005:
        added = show.text(now["topped_up"], "charge")
        return (
            f"{said} The {added} added on top are over the nameplate: what sits in the drier "
            "leaks out too."
        )
    return f"{said} The nameplate stays what it is, whatever drier is in the line."


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers):
        self.show, self.n = show, numbers
        most = 1.06 * max(numbers["total"], numbers["nameplate"])
        self.top = next((top for top in _TOPS if top >= most), 1.0)

    def draw_background(self, figure):
        chart = add_axes(figure, SIZE, *ACCOUNT)
        chart.set_xlim(0.0, self.top)
        chart.set_ylim(len(NAMES), 0.0)
        places, labels = user_ticks(self.show, "charge", 0.0, self.top, 8)
        chart.set_xticks(places, labels)
        chart.set_yticks([])
        chart.grid(axis="x")
        chart.spines["left"].set_visible(False)
        axes = {"account": chart, "page": add_page(figure, SIZE)}
        unit = self.show.unit("charge")
        return axes, [
            word(14, 22, "two driers, cut open, to one scale", size=style.LARGE, bold=True),
            word(14, 276, "where the grams are", size=style.LARGE, bold=True),
            word(VALUES, ACCOUNT[3] + 36, f"in the whole box [{unit}]", "end"),
        ]

    def items(self):
        return [*self._shells(), *self._account()]

    def _shells(self):
        n, show = self.n, self.show
        left, top, right, bottom = SHELLS
        volumes = n["original"][0], n["inner_volume"]
        widths = [(4.0 * v / (math.pi * _SLENDER)) ** (1.0 / 3.0) for v in volumes]
        gap = 120.0
        room = right - left - gap
        scale = min((bottom - top) / max(widths), room / (_SLENDER * sum(widths)))
        items, x, middle = [], left, (top + bottom) / 2
        sets = zip(
            widths,
            ("the one it was built with", "the one that was fitted"),
            (n["original"][1], n["beads"]),
            volumes,
            ("small", "large"),
            strict=True,
        )
        for width, title, beads, volume, which in sets:
            long, tall = _SLENDER * width * scale, width * scale
            y = middle - tall / 2
            items += [
                Line([x - 22, x], [middle] * 2, style.MUTED, 6.0, axes="page"),
                Line([x + long, x + long + 22], [middle] * 2, style.MUTED, 6.0, axes="page"),
                Bar(x, y, x + long, y + tall, _LIQUID, style.INK, axes="page"),
                *_beads(x, y, long, tall, beads, volume),
            ]
            at = x + long / 2
            held, takes = n[f"held_{which}"], n[f"takes_{which}"]
            low, _, high = takes
            items += [
                word(at, top - 18, title, "middle", style.TEXT, bold=True),
                word(
                    at,
                    bottom + 12,
                    f"keeps {show.text(held, 'charge')} of propane",
                    "middle",
                    style.TEXT,
                    _KEPT,
                    True,
                ),
                word(
                    at,
                    bottom + 32,
                    f"beads take {low:.0f} to {high:.0f} drops of water",
                    "middle",
                    style.TEXT,
                    style.LOW,
                ),
            ]
            x += long + gap
        return items

    def _account(self):
        n, show, items = self.n, self.show, []
        rows = (
            (NAMES[0], n["held_small"], n["nameplate"] - n["held_small"], 0.0),
            (NAMES[1], n["held_large"], n["rest"], 0.0),
            (NAMES[2], n["held_large"], n["rest"], n["topped_up"]),
        )
        for place, (name, kept, rest, added) in enumerate(rows):
            y = ACCOUNT[1] + (place + 0.5) / len(rows) * (ACCOUNT[3] - ACCOUNT[1])
            low, high = place + 0.2, place + 0.8
            rest = max(rest, 0.0)
            items += [
                word(ACCOUNT[0] - 10, y + 5, name, "end", style.TEXT, bold=True),
                Bar(0.0, low, rest, high, style.LOW, opacity=0.85, axes="account"),
                Bar(rest, low, rest + kept, high, _KEPT, opacity=0.8, axes="account"),
            ]
            if added > 0.0:
                items.append(
                    Bar(
                        rest + kept,
                        low,
                        rest + kept + added,
                        high,
                        style.OWN,
                        style.OWN,
                        0.85,
                        axes="account",
                    )
                )
            text = show.text(rest + kept + added, "charge")
            over = kept + rest + added > n["nameplate"] * (1 + 1e-9)
            items.append(
                word(VALUES, y + 5, text, "end", style.TEXT, style.OWN if over else style.INK, True)
            )
            if rest > 0.25 * self.top:
                items.append(
                    word(
                        ACCOUNT[0] + 8,
                        y + 5,
                        show.text(rest, "charge"),
                        size=style.TEXT,
                        colour=style.PAPER,
                        bold=True,
                    )
                )
        at = n["nameplate"]
        items.append(Line([at, at], [-0.1, len(rows)], style.INK, 2.2, "dashed", axes="account"))
        x = ACCOUNT[0] + at / self.top * (ACCOUNT[2] - ACCOUNT[0])
        items.append(
            word(
                min(x, WIDTH - 90),
                ACCOUNT[1] - 6,
                f"nameplate {show.text(at, 'charge')}",
                "middle",
                style.TEXT,
                bold=True,
            )
        )
        x = 14
        for colour, text in (
            (style.LOW, "in coils, lines and oil"),
            (_KEPT, "in the drier"),
            (style.OWN, "over the nameplate"),
        ):
            items.append(Bar(x, HEIGHT - 20, x + 16, HEIGHT - 8, colour, axes="page"))
            items.append(word(x + 22, HEIGHT - 9, text))
            x += 44 + 7.6 * len(text)
        return items


def _beads(x, y, long, tall, beads, volume):
    """Dots over the share of the shell that beads and their gaps take up."""
    density = store.read_toml("desiccants.toml")["beads"]["density_kg_m3"]
    solid = beads / density / volume
    size = 9.0
    count = int(0.8 * solid * long * tall / (0.25 * math.pi * size**2))
    if count < 1:
        return []
    columns = max(1, round(math.sqrt(count * long / tall)))
    rows = max(1, round(count / columns))
    across = x + (np.arange(columns) + 0.5) * long / columns
    down = y + (np.arange(rows) + 0.5) * tall / rows
    xs, ys = (each.ravel() for each in np.meshgrid(across, down))
    return [Markers(xs, ys, "circle", size, _BEAD, style.PAPER, axes="page")]


def _strip(show, n):
    return [
        ("New drier keeps", show.text(n["held_large"], "charge")),
        ("More than before", show.text(n["swallowed"], "charge")),
        ("Over the nameplate", show.text(n["topped_up"], "charge")),
        ("New beads take", f"{n['takes_large'][1]:.0f} drops"),
        ("Old beads took", f"{n['takes_small'][1]:.0f} drops"),
    ]


def _words(show, n):
    def grams(name):
        return show.text(n[name], "charge")

    def drops(name):
        low, _, high = n[name]
        return f"{low:.0f} to {high:.0f}"

    return (
        f"Propane box, nameplate {grams('nameplate')}, liquid at "
        f"{show.text(n['liquid'], 'temperature')}. The drier it was built with keeps "
        f"{grams('held_small')}; the one that was fitted has "
        f"{show.text(n['free_large'], 'volume')} of free volume and keeps {grams('held_large')}, "
        f"so {grams('rest')} of the nameplate are left for all the rest. {grams('topped_up')} were "
        f"added: {grams('total')} in the box. Down to "
        f"{show.text(n['dryness'], 'water_content')} of water in the propane the old beads take "
        f"{drops('takes_small')} drops and the new ones {drops('takes_large')}; the span is the "
        "doubt about how much water propane dissolves."
    )
