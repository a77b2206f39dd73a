"""Charge limits of flammable refrigerants by standard and edition, as multiples of the LFL."""

from __future__ import annotations

import math
import textwrap

from lowside import flammability, readout, refrigerants
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Bar, Line, Markers
from lowside.plots.pagework import add_axes, add_page, word

WIDTH = 760
LEFT, RIGHT = 330, 738  # [px] of the axis
FIRST, ROW = 116, 46  # [px] top of the first row, height of a row
LEAST, MOST = 0.028, 8.0  # [kg]
MULTIPLES = (4, 8, 13, 26, 130)

_TICKS = {
    "us": (1, 2, 5, 10, 20, 50, 100, 200),
    "metric": (30, 50, 100, 200, 500, 1000, 2000, 5000),
}
_LONGEST, _LONGER = 38, 50  # characters of a bold and of a small line beside the axis


def limits_figure(show, refrigerant="R290", nameplate=None):
    """Draw the charge limits of every edition in the table beside a nameplate.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name of a flammable refrigerant.
    nameplate : float, optional
        Charge on the nameplate of a box. [kg]

    Returns
    -------
    LiveFigure
        With words and numbers.

    Raises
    ------
    UnknownName
        If the table has no limits for it.
    """
    fluid = refrigerants.get(refrigerant)
    lower = flammability.lower_limits(fluid)
    rows = [row for row in flammability.charge_limits(fluid) if row.multiple or row.printed]
    rows.sort(key=lambda row: row.printed or row.mass)
    size = WIDTH, FIRST + ROW * len(rows) + 74
    scene = _Scene(show, fluid.name, lower, rows, nameplate, size)
    background = Background.once(scene.draw_background, *size, ("limits", show, fluid.name))
    numbers = {
        "refrigerant": fluid.name,
        "nameplate": nameplate,
        "limits": [row.printed or row.mass for row in rows],
        "lfl": [limit.concentration for limit in lower],
    }
    return LiveFigure(
        background, scene.items(), _words(show, fluid.name, lower, rows, nameplate), (), numbers
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, name, lower, rows, nameplate, size):
        self.show, self.name, self.lower, self.rows = show, name, lower, rows
        self.nameplate, self.size = nameplate, size
        self.bottom = FIRST + ROW * len(rows)

    def draw_background(self, figure):
        show = self.show
        chart = add_axes(figure, self.size, LEFT, FIRST, RIGHT, self.bottom)
        chart.set_xscale("log")
        chart.set_xlim(LEAST, MOST)
        chart.set_ylim(len(self.rows), 0.0)
        chart.set_yticks([])
        places = [float(show.si(value, "charge")) for value in _TICKS[show.system]]
        chart.set_xticks(places, [f"{value:g}" for value in _TICKS[show.system]])
        chart.set_xticks([], minor=True)
        chart.grid(axis="x")
        axes = {"main": chart, "page": add_page(figure, self.size)}
        fixed = [
            word(
                14, 24, "The nameplate and the edition in force rule.", size=style.LARGE, bold=True
            ),
            word(
                14,
                45,
                f"This picture only explains them. It permits nothing. ({self.name})",
                size=style.TEXT,
            ),
            word(
                RIGHT, self.bottom + 38, show.axis("charge", "charge"), "end", style.TEXT, bold=True
            ),
            word(LEFT - 8, FIRST - 26, "times the LFL", "end", style.SMALL, bold=True),
        ]
        lfl = self.lower[0].concentration
        for multiple in MULTIPLES:
            at = multiple * lfl
            fixed.append(Line([at, at], [0, len(self.rows)], style.RULE, 1.6, "dotted"))
            fixed.append(
                word(self._across(at), FIRST - 26, f"{multiple}", "middle", style.TEXT, bold=True)
            )
        for place, row in enumerate(self.rows):
            y = FIRST + ROW * (place + 0.5)
            first, *more = _lines(row)
            fixed.append(word(14, y - 6, first, size=style.SMALL, bold=True))
            for number, line in enumerate(more[:2]):
                fixed.append(word(14, y + 7 + 12 * number, line, size=11.0, colour=style.MUTED))
            fixed.append(Line([14, RIGHT], [y + ROW / 2] * 2, style.HAZE, 1.0, axes="page"))
        return axes, fixed

    def items(self):
        items = []
        lfl, other = (limit.concentration for limit in self.lower[:2])
        for place, row in enumerate(self.rows):
            value = row.printed or row.mass
            middle = place + 0.5
            items.append(Bar(LEAST, middle - 0.16, value, middle + 0.16, style.LOW, opacity=0.35))
            if row.mass:
                items.append(
                    Markers(
                        [row.mass * other / lfl], [middle], "circle", 10, style.PAPER, style.MUTED
                    )
                )
            items.append(
                Markers([value], [middle], "diamond" if row.printed else "square", 13, style.LOW)
            )
            text = _grams(self.show, value)
            x = self._across(value)
            late = x > RIGHT - 130
            items.append(
                word(
                    x + (-14 if late else 14),
                    FIRST + ROW * middle + (-9 if late else 5),
                    text,
                    "end" if late else "start",
                    style.SMALL,
                    bold=True,
                )
            )
        if self.nameplate is not None:
            at = self.nameplate
            items.append(Line([at, at], [0, len(self.rows)], style.HIGH, 2.4, "dashed"))
            text = f"nameplate of this box {_grams(self.show, at)}"
            items.append(
                word(self._across(at), FIRST - 48, text, "middle", style.TEXT, style.HIGH, True)
            )
            items.append(
                Line([self._across(at)] * 2, [FIRST - 42, FIRST - 40], style.HIGH, 2.4, axes="page")
            )
        return items + self._legend(other / lfl)

    def _legend(self, ratio):
        y = self.bottom + 58
        items, x = [], 14
        for shape, colour, edge, text in (
            ("diamond", style.LOW, style.PAPER, "as printed"),
            ("square", style.LOW, style.PAPER, "multiple × LFL"),
            (
                "circle",
                style.PAPER,
                style.MUTED,
                "the same multiple if the lower published LFL held",
            ),
        ):
            items.append(Markers([x + 6], [y - 5], shape, 12, colour, edge, axes="page"))
            items.append(word(x + 18, y, text))
            x += 34 + 7.4 * len(text)
        return items

    @staticmethod
    def _across(mass):
        share = math.log(mass / LEAST) / math.log(MOST / LEAST)
        return LEFT + share * (RIGHT - LEFT)


def _grams(show, mass):
    """Write the reader's unit, and the grams in which standards and nameplates are printed."""
    if show.system == "metric":
        return show.text(mass, "charge", 0 if mass < 1.0 else 2)
    grams = readout.choose("metric").text(mass, "charge", 0 if mass < 1.0 else 2)
    return f"{show.text(mass, 'charge', 1)} ({grams})"


def _lines(row):
    """Name standard, edition and what it applies to in lines that fit beside the axis."""
    edition = row.edition.split(" (")[0]
    first, rest = f"{row.standard}, {edition}", row.applies_to
    if len(first) > _LONGEST:
        first, rest = row.standard, f"{edition}: {rest}"
    return first, *textwrap.wrap(rest, _LONGER)


def _words(show, name, lower, rows, nameplate):
    listed = "; ".join(
        f"{row.standard}, {row.edition.split(' (')[0]}: "
        + (f"{row.multiple:g} × LFL, " if row.multiple else "")
        + _grams(show, row.printed or row.mass)
        + (" as printed" if row.printed else "")
        for row in rows
    )
    first, second = (
        f"{show.text(limit.volume_share, 'ratio', 1)} of the air ({limit.source.split(' (')[0]})"
        for limit in lower[:2]
    )
    plate = f" Nameplate of this box: {_grams(show, nameplate)}." if nameplate else ""
    return (
        f"{flammability.rule()} Charge limits of {name}: {listed}. Lower flammability limits as "
        f"published: {first} and {second}.{plate}"
    )
