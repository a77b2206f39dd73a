"""The heat of a cold room as streams, as wide as their watts, in and out through the coil.

What comes from outside crosses the wall of the drawing; what is made inside begins inside. The
insulation is drawn as thick as it is.
"""

from __future__ import annotations

import numpy as np

from lowside.plots import style
from lowside.plots.marks import Area, Bar, Line
from lowside.plots.pagework import word

#: Parts from outside and from inside: fields of `load.HeatGains` that one stream carries, its name.
OUTSIDE = (
    (("walls",), "walls, ceiling"),
    (("floor",), "floor"),
    (("door",), "open door"),
    (("goods",), "warm goods"),
)
INSIDE = (
    (("breathing",), "goods' breath"),
    (("fans",), "fans"),
    (("lights", "people"), "lights, people"),
    (("defrost",), "heaters"),
)

WIDEST = 92.0  # [px] of all streams together
_LADDER = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)  # and their tenfolds
_ROUND = (1.0, 2.0, 5.0, 10.0)
_LEAST_BAR = 11.0  # [px]
_ROW, _GAP = 20.0, 4.0  # [px] least height of a row, and between rows
TOP, BOTTOM = 48.0, 346.0  # [px] of the box inside
_LEFT, _RIGHT = 206.0, 536.0
_NAMES_OUT, _VALUES_OUT, _FROM_OUT = 12.0, 182.0, 188.0
_NAMES_IN, _VALUES_IN, _FROM_IN = 216.0, 392.0, 398.0
_JOIN, _TRUNK = 410.0, 486.0
_WALL_SCALE = 100.0  # [px/m]
_LEAST_SHOWN = 0.5  # [W]
_BEND = np.linspace(0.0, 1.0, 25)
_EASE = _BEND**2 * (3.0 - 2.0 * _BEND)


def streams(gains):
    """Gather a room's gains into the streams that are drawn.

    Parameters
    ----------
    gains : dict of str to float
        By the fields of `load.HeatGains`. [W]

    Returns
    -------
    list of (str, float, bool)
        Name, heat [W] and whether it comes from outside; those of no size are left out.
    """
    found = []
    for group, outside in ((OUTSIDE, True), (INSIDE, False)):
        for names, words in group:
            heat = sum(gains[name] for name in names)
            if abs(heat) >= _LEAST_SHOWN:
                found.append((words, heat, outside))
    return found


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
        word(_NAMES_OUT, 42, "from outside", bold=True, colour=style.LOW),
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
    total = sum(heat for _, heat, _ in found)
    scale = watts_to_the_pixel(total)
    items, flows = _box(wall_thickness), []
    y, turned = TOP + 8.0, False
    for name, heat, outside in found:
        wide = abs(heat) / scale
        height = max(wide, _ROW)
        if not outside and not turned:
            turned = True
            y += 22.0
            items.append(word(_NAMES_IN, y - 6, "made inside", bold=True, colour=style.HIGH))
        flows.append((name, heat, outside, y + 0.5 * height, wide))
        y += height + _GAP
    middle = 0.5 * (TOP + BOTTOM)
    edge = middle - 0.5 * total / scale
    for number, (name, heat, outside, at, wide) in enumerate(flows):
        colour = style.LOW if outside else style.HIGH
        start = _FROM_OUT if outside else _FROM_IN
        items += _stream(start, at, edge + 0.5 * wide, wide, colour, 0.85 if number % 2 else 0.65)
        edge += wide
        left, right = (_NAMES_OUT, _VALUES_OUT) if outside else (_NAMES_IN, _VALUES_IN)
        items.append(word(left, at + 5, name))
        text = show.text(heat, "heat_flow")
        items.append(word(right, at + 5, text, "end", style.SMALL, colour, True))
    items += _coil(middle, 0.5 * total / scale)
    return [*items, *_scale_bar(show, scale)]


def _box(wall_thickness):
    """Outline of the box, its insulation as thick as it is."""
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
    floor = [outer[0] - 6, outer[2] + 6]
    items.append(Line(floor, [bottom, bottom], style.INK, 3.0, axes="page"))
    return items


def _stream(start, at, joins, wide, colour, opacity):
    """One stream from its row to its place in the trunk."""
    x = np.r_[start, _JOIN + (_TRUNK - _JOIN) * _BEND, _RIGHT - 12.0]
    y = np.r_[at, at + (joins - at) * _EASE, joins]
    half = 0.5 * wide
    if wide < 1.5:
        return [Line(x, y, colour, max(wide, 1.0), axes="page")]
    outline = np.r_[x, x[::-1]], np.r_[y - half, (y + half)[::-1]]
    return [
        Area(*outline, None, colour, opacity, "page"),
        Line(*outline, style.PAPER, 1.0, closed=True, axes="page"),
    ]


def _coil(middle, half):
    """Draw the coil at the right wall, and what it carries away."""
    items = [
        Bar(_RIGHT - 12, TOP + 12, _RIGHT, BOTTOM - 12, style.HAZE, style.INK, axes="page"),
        word(_RIGHT - 18, TOP + 22, "coil", "end", bold=True),
    ]
    for y in np.linspace(TOP + 20, BOTTOM - 20, 16):
        items.append(Line([_RIGHT - 12, _RIGHT], [y, y], style.MUTED, 1.0, axes="page"))
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
