"""A box drawn as its parts, each filled with squares that weigh the same: one look says where.

One square is a gram, or a twentieth of an ounce. A frame fills from below like a glass; the last
square is cut where its gram ends. A dashed mark shows how far each frame filled in another state.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from lowside import units
from lowside.plots import style
from lowside.plots.marks import Area, Arrow, Line
from lowside.plots.pagework import word

WIDTH = 396  # [px] of the drawing, from the left of the figure

PITCH, SIDE, PAD = 10.0, 8.6, 4.0  # [px] from square to square, of a square, around them

_HALF_OPEN = 9.0  # [px] half-width of the valve's symbol


class Part(NamedTuple):
    """Frame, label and colour of one part; its grams stand under the label, or right of it."""

    left: float
    top: float
    columns: int
    rows: int
    name: str
    label_x: float
    label_y: float
    anchor: str
    colour: str
    beside: bool

    @property
    def squares(self):
        """How many fit."""
        return self.columns * self.rows

    @property
    def right(self):
        """Right edge [px]."""
        return self.left + self.columns * PITCH + 2 * PAD

    @property
    def bottom(self):
        """Lower edge [px]."""
        return self.top + self.rows * PITCH + 2 * PAD


#: Parts in the order in which the refrigerant passes.
PARTS = {
    "discharge_line": Part(44, 130, 3, 2, "discharge line", 90, 138, "start", style.HIGH, True),
    "condenser": Part(98, 58, 20, 6, "condenser", 98, 50, "start", style.HIGH, False),
    "drier": Part(330, 126, 5, 7, "drier", 322, 156, "end", style.HIGH, True),
    "liquid_line": Part(330, 228, 5, 12, "liquid line", 322, 312, "end", style.HIGH, True),
    "evaporator": Part(98, 406, 20, 6, "evaporator", 98, 398, "start", style.LOW, False),
    "suction_line": Part(44, 406, 3, 2, "suction line", 12, 452, "start", style.LOW, True),
    "shell": Part(19, 162, 8, 5, "compressor, gas", 114, 192, "start", style.LOW, True),
    "oil": Part(19, 220, 8, 13, "compressor, oil", 114, 312, "start", style.OWN, True),
}
_VALVE = 359.0, 394.0  # [px] middle of the expansion valve


def square(show):
    """Mass of one square [kg].

    Parameters
    ----------
    show : Readout
        The reader's units.

    Returns
    -------
    float
    """
    return 0.05 * units.OUNCE if show.system == "us" else 1e-3


def backdrop():
    """Draw frames and pipes, which never move.

    Returns
    -------
    list
        Primitives in the axes "page".
    """
    items = []
    for xs, ys, colour in _pipes():
        items.append(Line(xs, ys, colour, 4.0, axes="page"))
    for part in PARTS.values():
        x, y = [part.left, part.right, part.right, part.left], [part.top] * 2 + [part.bottom] * 2
        items.append(Area(x, y, None, style.PAPER, 1.0, "page"))
        items.append(Line(x, y, part.colour, 2.0, closed=True, axes="page"))
        items.append(word(part.label_x, part.label_y, part.name, part.anchor))
    x, y, r = *_VALVE, _HALF_OPEN
    items.append(
        Area(
            [x - r, x + r, x - r, x + r],
            [y - r, y - r, y + r, y + r],
            colour=style.INK,
            opacity=1.0,
            axes="page",
        )
    )
    items.append(word(x + 14, y + 5, "valve"))
    for x0, y0, x1, y1, colour in (
        (63, 116, 63, 96, style.HIGH),
        (359, 96, 359, 118, style.HIGH),
        (63, 398, 63, 370, style.LOW),
    ):
        items.append(Arrow(x0, y0, x1, y1, colour, 4.0, 12.0, "page"))
    return items


def fill(parts, show, reference=None):
    """Fill every part with its squares, and label it.

    Parameters
    ----------
    parts : dict of str to float
        By the names of ``charge.Inventory``. [kg]
    show : Readout
        The reader's units.
    reference : dict of str to float, optional
        Another state: what is missing against it is drawn hollow, what is more is drawn light. [kg]

    Returns
    -------
    list
        Primitives in the axes "page".
    """
    weight, items = square(show), []
    for name, part in PARTS.items():
        now = parts[name] / weight
        before = now if reference is None else reference[name] / weight
        items += _squares(part, 0.0, min(now, before))
        items += _squares(part, before, now, opacity=0.5)
        items += _squares(part, now, before, hollow=True)
        text = show.text(parts[name], "charge")
        number = {"size": style.TEXT, "colour": part.colour, "bold": True}
        if part.beside:
            items.append(word(part.label_x, part.label_y + 17, text, part.anchor, **number))
        else:
            items.append(word(part.right, part.label_y, text, "end", **number))
    return items


def said(parts, show):
    """Say where the grams are, the most first.

    Parameters
    ----------
    parts : dict of str to float
        By the names of ``charge.Inventory``. [kg]
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A list in words.
    """
    order = sorted(PARTS, key=lambda name: -parts[name])
    return ", ".join(
        f"{PARTS[name].name.replace(', ', ' ')} {show.text(parts[name], 'charge')}"
        for name in order
    )


def legend(show, reference=None):
    """Say what one square weighs, and what hollow and light squares are.

    Parameters
    ----------
    show : Readout
        The reader's units.
    reference : str, optional
        What the present state is compared with.

    Returns
    -------
    list
        Primitives in the axes "page".
    """
    x, y = 14.0, 506.0
    items = [*_sample(x, y, 1.0), word(x + 16, y + 9, f"{show.text(square(show), 'charge')} each")]
    if reference is not None:
        items += [
            *_sample(x + 122, y, 0.0),
            word(x + 138, y + 9, "less"),
            *_sample(x + 190, y, 0.5),
            word(x + 206, y + 9, "more"),
            word(x, y + 29, reference),
        ]
    return items


def _sample(x, y, opacity):
    outline = [x, x + SIDE, x + SIDE, x], [y, y, y + SIDE, y + SIDE]
    if opacity == 0.0:
        return [Line(*outline, style.INK, 1.2, closed=True, axes="page")]
    return [Area(*outline, None, style.INK, opacity, "page")]


def _pipes():
    """Straight pieces of pipe, as x, y and colour."""
    left, right, top, bottom = 63.0, 359.0, 87.0, 440.0
    return (
        ([left, left, 98], [172, top, top], style.HIGH),
        ([306, right, right], [top, top, 128], style.HIGH),
        ([right, right], [180, 236], style.HIGH),
        ([right, right], [356, _VALVE[1]], style.HIGH),
        ([right, right, 306], [_VALVE[1], bottom, bottom], style.LOW),
        ([98, left, left], [bottom - 18, bottom - 18, 358], style.LOW),
    )


def _squares(part, first, last, opacity=1.0, hollow=False):
    """Squares of one part from one count to another, as a single shape; ends are cut."""
    first, last = (min(max(count, 0.0), part.squares) for count in (first, last))
    if last - first < 0.02:
        return []
    place = np.arange(math.floor(first), math.ceil(last))
    left = part.left + PAD + 0.5 * (PITCH - SIDE) + PITCH * (place % part.columns)
    low = part.bottom - PAD - 0.5 * (PITCH - SIDE) - PITCH * (place // part.columns)
    start = left + SIDE * np.clip(first - place, 0.0, 1.0)
    end = left + SIDE * np.clip(last - place, 0.0, 1.0)
    high, gap = low - SIDE, np.full(place.size, np.nan)
    x = np.stack([start, end, end, start, start, gap], axis=1).ravel()
    y = np.stack([low, low, high, high, low, gap], axis=1).ravel()
    if hollow:
        return [Line(x, y, part.colour, 1.2, axes="page")]
    return [Area(x, y, None, part.colour, opacity, "page")]
