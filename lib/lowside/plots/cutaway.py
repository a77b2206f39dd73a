"""A cut through port and pin, to scale: why a big port barely opens.

Liquid comes from below, the pin from above. The axes they are drawn in run from -1 to 1 across and
have the same scale up; a millimetre is worth as much across as up, and in port, pin and lift alike.
"""

from __future__ import annotations

import math

from lowside.plots import style
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Arrow, Line, Text

SEAT = -0.62  # lower edge of the seat plate
TOP = 1.0
PIN, BODY, GAP = "#9AA6B2", "#D5DCE2", style.OWN
_LIQUID, _VAPOUR = "#F6D9CB", "#D6E8F3"
_BARS = (0.1e-3, 0.2e-3, 0.5e-3, 1e-3, 2e-3, 5e-3, 10e-3)  # [m] scale bars to choose from
_BLUNT = 1.15  # bores below the seat at which a slender pin ends
_STEM = 1.25  # width of the pin's stem, in bores


def cutaway(port, lift, show, half_width, axes="cut"):
    """Draw a port with its pin at a lift.

    Parameters
    ----------
    port : valve.Port
        With scalar numbers.
    lift : float
        Of the pin from its seat. [m]
    show : Readout
        The reader's units.
    half_width : float
        What the axes show from the middle to the edge. [m]
    axes : str
        Axes from -1 to 1 across, equally scaled.

    Returns
    -------
    list
        Primitives.
    """
    radius, rise = 0.5 * port.diameter / half_width, lift / half_width
    angle, full = port.half_angle, port.max_lift / half_width
    pin = _pin(radius, angle, rise)
    ghost = _pin(radius, angle, full)
    items = [
        Area([-1, 1, 1, -1], [SEAT - 0.6, SEAT - 0.6, SEAT, SEAT], colour=_LIQUID, opacity=1),
        Area([-radius, radius, radius, -radius], [SEAT, SEAT, 0, 0], colour=_LIQUID, opacity=1),
        Area([-1, 1, 1, -1], [0, 0, TOP + 0.2, TOP + 0.2], colour=_VAPOUR, opacity=1),
    ]
    for side in (-1, 1):
        x = [side * radius, side * 1.1, side * 1.1, side * radius]
        items.append(Area(x, [0, 0, SEAT, SEAT], colour=BODY, opacity=1))
        items.append(Line([side * 1.1, side * radius, side * radius], [0, 0, SEAT], width=1.6))
        items.append(Line([side * radius, side * 1.1], [SEAT, SEAT], width=1.6))
    items.append(Area(*pin, colour=PIN, opacity=1))
    items.append(Line(*pin, width=1.6, closed=True))
    if full - rise > 0.015:
        items.append(Line(*ghost, colour=style.INK, width=1.2, dash="dotted", closed=True))
    if rise > 0:
        items += _flow(radius, angle, rise)
    items = [_in(item, axes) for item in items]
    return items + _labels(half_width, show, axes)


def _pin(radius, angle, rise):
    """Outline of the pin: stem, cone, blunt tip."""
    stem = _STEM * radius
    shoulder = rise + (stem - radius) / math.tan(angle)
    depth = min(radius / math.tan(angle), _BLUNT * 2 * radius)
    tip = radius - depth * math.tan(angle)
    top = max(TOP, shoulder) + 0.2
    xs = [stem, stem, tip, -tip, -stem, -stem]
    ys = [top, shoulder, rise - depth, rise - depth, shoulder, top]
    return xs, ys


def _flow(radius, angle, rise):
    """Narrowest opening on both sides, and the way the liquid takes through it."""
    slant = rise * math.sin(angle)
    items = []
    for side in (-1, 1):
        inner = side * (radius - slant * math.cos(angle)), slant * math.sin(angle)
        items.append(Line([side * radius, inner[0]], [0, inner[1]], GAP, 5))
        out = side * (radius + 0.1), 0.14
        items.append(Arrow(*out, out[0] + side * 0.24, 0.14 + 0.06, GAP, 3, 12))
    return items


def _labels(half_width, show, axes):
    bar = max((b for b in _BARS if b <= 0.8 * half_width), default=_BARS[0])
    left, right, level = -0.94, -0.94 + bar / half_width, SEAT - 0.12
    ends = [level - 0.035, level + 0.035]
    small = style.SMALL
    return [
        Line([left, right], [level, level], width=3, axes=axes),
        Line([left, left], ends, width=2, axes=axes),
        Line([right, right], ends, width=2, axes=axes),
        Text(right, level, show.text(bar, "port", 1), (Spot(6, 4),), small, halo=False, axes=axes),
        Text(0.96, level, "liquid in", (Spot(0, 4, "end"),), small, halo=False, axes=axes),
        Text(0.96, 0.82, "to the\ncoil", (Spot(0, 0, "end"),), small, halo=False, axes=axes),
    ]


def _in(item, axes):
    object.__setattr__(item, "axes", axes)
    return item
