"""The heat of a cold room as streams, as wide as their watts, in and out through the coil.

What comes from outside crosses the wall of the drawing; what is made inside begins inside. The
insulation is drawn as thick as it is.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from lowside.plots import style
from lowside.plots.marks import Area, Bar, Line
from lowside.plots.pagework import word

SIDE, INNER, BELOW = "from outside", "made inside", "from below"
DOOR, GOODS = "open door", "warm goods"

#: What each stream carries: fields of `load.HeatGains`, its name, where it comes from.
STREAMS = (
    (("walls",), "walls, ceiling", SIDE),
    (("door",), DOOR, SIDE),
    (("goods",), GOODS, SIDE),
    (("breathing",), "goods' breath", INNER),
    (("fans",), "fans", INNER),
    (("lights", "people"), "lights, people", INNER),
    (("defrost",), "heaters", INNER),
    (("floor",), "floor", BELOW),
)


class Stream(NamedTuple):
    """One stream: its name, its heat [W] and where it comes from."""

    name: str
    heat: float
    origin: str


WIDEST = 92.0  # [px] of all streams together
_LADDER = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)  # and their tenfolds
_ROUND = (1.0, 2.0, 5.0, 10.0)
_LEAST_BAR = 11.0  # [px]
_ROW, _GAP = 20.0, 4.0  # [px] least height of a row, and between rows
TOP, BOTTOM = 48.0, 346.0  # [px] of the box inside
_LEFT, _RIGHT = 206.0, 536.0
_NAMES_OUT, _VALUES_OUT, _FROM_OUT = 12.0, 182.0, 188.0
_NAMES_IN, _VALUES_IN, _FROM_IN = 216.0, 392.0, 398.0
_JOIN, _TRUNK = 404.0, 466.0
_COIL = _RIGHT - 12.0
_GROUND = 12.0  # [px] below the floor where its stream begins
_WALL_SCALE = 100.0  # [px/m]
_LEAST_SHOWN = 0.5  # [W]
_BEND = np.linspace(0.0, 1.0, 15)
_EASE = _BEND**2 * (3.0 - 2.0 * _BEND)


def streams(gains):
    """Gather a room's gains into the streams that are drawn.

    Parameters
    ----------
    gains : dict of str to float
        By the fields of `load.HeatGains`. [W]

    Returns
    -------
    list of Stream
        Those of no size are left out.
    """
    found = (
        Stream(words, sum(gains[name] for name in names), origin)
        for names, words, origin in STREAMS
    )
    return [stream for stream in found if abs(stream.heat) >= _LEAST_SHOWN]


def watts_to_the_pixel(total):
    """Choose a round scale at which all streams fit.

    Parameters
    ----------
    total : float
        [W]

    Returns
    -------
    float
        [W/px]
    """
    return round_up(max(total / WIDEST, 1e-3), _LADDER)


def round_up(value, ladder):
    """Round a number up to the next of a ladder, in any decade.

    Parameters
    ----------
    value : float
        Above zero.
    ladder : sequence of float
        From 1 to 10.

    Returns
    -------
    float
    """
    decade = 10.0 ** np.floor(np.log10(value))
    return float(next(step * decade for step in ladder if step * decade >= value * (1.0 - 1e-9)))


def backdrop():
    """Draw what never moves: the words above the columns.

    Returns
    -------
    list
        Primitives in the axes "page".
    """
    return [
        word(_NAMES_OUT, 20, "where the heat comes from", size=style.LARGE, bold=True),
        word(_NAMES_OUT, 42, SIDE, bold=True, colour=style.LOW),
    ]


def draw(show, gains, wall_thickness):
    """Draw box, streams and trunk.

    Parameters
    ----------
    show : Readout
        The reader's units.
    gains : dict of str to float
        By the fields of `load.HeatGains`. [W]
    wall_thickness : float
        Of the insulation. [m]

    Returns
    -------
    list
        Primitives in the axes "page".
    """
    found = streams(gains)
    total = sum(stream.heat for stream in found)
    scale = watts_to_the_pixel(total)
    rows = _rows(found, scale)
    opening = [rows[stream.name] for stream in found if stream.name in (DOOR, GOODS)]
    items = _box(wall_thickness, opening)
    if any(stream.origin == INNER for stream in found):
        top = min(rows[stream.name][0] for stream in found if stream.origin == INNER)
        items.append(word(_NAMES_IN, top - 6, INNER, bold=True, colour=style.HIGH))
    middle = 0.5 * (TOP + BOTTOM)
    edge = middle - 0.5 * total / scale
    for number, (name, heat, origin) in enumerate(found):
        wide = abs(heat) / scale
        colour = style.HIGH if origin == INNER else style.LOW
        opacity, joins = 0.85 if number % 2 else 0.65, edge + 0.5 * wide
        edge += wide
        if origin == BELOW:
            path, label = _from_below(joins, wide), (None, _COIL - 2.0 * wide - 22.0, BOTTOM - 12)
        else:
            at = 0.5 * sum(rows[name])
            path = _from_row(_FROM_IN if origin == INNER else _FROM_OUT, at, joins)
            names, values = (
                (_NAMES_IN, _VALUES_IN) if origin == INNER else (_NAMES_OUT, _VALUES_OUT)
            )
            label = names, values, at + 5
        items += _band(*path, wide, colour, opacity)
        items += _label(show, name, heat, label, colour)
    items += _coil(middle, 0.5 * total / scale)
    return [*items, *_scale_bar(show, scale)]


def _rows(found, scale):
    """Top and bottom of the row in which each stream begins [px]."""
    rows, y, inner = {}, TOP + 8.0, False
    for name, heat, origin in found:
        if origin == BELOW:
            continue
        if origin == INNER and not inner:
            inner, y = True, y + 22.0
        height = max(abs(heat) / scale, _ROW)
        rows[name] = y, y + height
        y += height + _GAP
    return rows


def _label(show, name, heat, place, colour):
    """Name and heat of a stream; without a place for the name both stand together."""
    names, values, y = place
    text = show.text(heat, "heat_flow")
    if names is None:
        return [word(values, y, f"{name}  {text}", "end", style.SMALL, colour, True)]
    return [word(names, y, name), word(values, y, text, "end", style.SMALL, colour, True)]


def _box(wall_thickness, opening):
    """Outline of the box, its insulation as thick as it is, open where the door is."""
    thick = _WALL_SCALE * wall_thickness
    left, right, top, bottom = _LEFT, _RIGHT, TOP, BOTTOM
    outer = (left - thick, top - thick, right + thick, bottom)
    parts = (
        (outer[0], outer[1], left, bottom),
        (right, outer[1], outer[2], bottom),
        (left, outer[1], right, top),
    )
    items = [Bar(*part, style.RULE, opacity=0.55, axes="page") for part in parts]
    for x0, y0, x1, y1 in (outer, (left, top, right, bottom)):
        items.append(Line([x0, x0, x1, x1], [y1, y0, y0, y1], style.INK, 1.6, axes="page"))
    if opening:
        high, low = opening[0][0] - 1.0, opening[-1][1] + 1.0
        items.append(Bar(outer[0] - 2, high, left + 2, low, style.PAPER, axes="page"))
        for y in (high, low):
            items.append(Line([outer[0], left], [y, y], style.INK, 1.6, axes="page"))
    floor = [outer[0] - 6, outer[2] + 6]
    items.append(Line(floor, [bottom, bottom], style.INK, 3.0, axes="page"))
    return items


def _from_row(start, at, joins):
    """Middle line of a stream from its row to the coil, and which way its width goes."""
    x = np.r_[start, _JOIN + (_TRUNK - _JOIN) * _BEND, _COIL]
    return x, np.r_[at, at + (joins - at) * _EASE, joins], 0.0, -1.0


def _from_below(joins, wide):
    """Middle line of the stream that comes up through the floor and turns into the coil."""
    radius = 0.5 * wide + 5.0
    turn = np.r_[0.0, 0.5 * np.pi * _BEND, 0.5 * np.pi]
    across, up = np.cos(turn), np.sin(turn)
    x, y = _COIL - 3.0 - radius * across, joins + radius * (1.0 - up)
    x[-1], y[0] = _COIL, BOTTOM + _GROUND
    return x, y, -across, -up


def _band(x, y, across, up, wide, colour, opacity):
    """Draw a stream along its middle line."""
    if wide < 1.5:
        return [Line(x, y, colour, max(wide, 1.0), axes="page")]
    half = 0.5 * wide
    one, other = (x + half * across, y + half * up), (x - half * across, y - half * up)
    outline = tuple(np.r_[first, second[::-1]] for first, second in zip(one, other, strict=True))
    return [
        Area(*outline, None, colour, opacity, "page"),
        Line(*outline, style.PAPER, 1.0, closed=True, axes="page"),
    ]


def _coil(middle, half):
    """Draw the coil at the right wall, and what it carries away."""
    items = [
        Bar(_COIL, TOP + 12, _RIGHT, BOTTOM - 12, style.HAZE, style.INK, axes="page"),
        word(_RIGHT - 18, TOP + 22, "coil", "end", bold=True),
    ]
    for y in np.linspace(TOP + 20, BOTTOM - 20, 16):
        items.append(Line([_COIL, _RIGHT], [y, y], style.MUTED, 1.0, axes="page"))
    half, start, neck, tip = max(half, 1.5), _RIGHT + 4, _RIGHT + 30, _RIGHT + 54
    head = half + 9.0
    x = [start, neck, neck, tip, neck, neck, start]
    y = [half, half, head, 0.0, -head, -half, -half]
    items.append(Area(x, middle + np.array(y), None, style.INK, 0.75, "page"))
    return items


def _scale_bar(show, scale):
    """How wide a round amount is."""
    least = float(show.value(_LEAST_BAR * scale, "heat_flow"))
    heat = float(show.si(round_up(least, _ROUND), "heat_flow"))
    wide = heat / scale
    x, y = _RIGHT + 64.0, BOTTOM - 26.0
    return [
        Bar(x, y, x + 10, y + wide, style.INK, opacity=0.7, axes="page"),
        word(x + 16, y + 0.5 * wide + 5, f"as wide as\n{show.text(heat, 'heat_flow')}"),
    ]
