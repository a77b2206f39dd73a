"""Where the bulb sits: a cut through suction line and bulb to scale, and the line from the side."""

from __future__ import annotations

import math

import numpy as np

from lowside import hunting
from lowside.plots import style
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Arrow, Bar, Line, Text

COPPER, LIQUID, FOAM, BULB = "#D9B08C", "#0A6EA8", "#EFE9DA", "#D5DCE2"
_BULB_DIAMETER = 13e-3  # [m] of an usual bulb: common practice, no published source
_WIDEST = 62e-3  # [m] that the cut has room for
_GAP = 2.2e-3  # [m] drawn between pipe and a bulb that hangs loose
_FOAM = 6e-3  # [m] of insulation
_SIDE_HEIGHT, _SIDE_PIPE = 64, 17  # [px]


def cut(circuit, left, top, size):
    """Cut through line and bulb, looking with the flow.

    Parameters
    ----------
    circuit : hunting.Circuit
        Its pipe and its bulb.
    left, top, size : float
        Square of the page to draw in. [px]

    Returns
    -------
    list
        Primitives on the axes "page".
    """
    pipe, bulb = circuit.plant.pipe, circuit.bulb
    scale = size / _WIDEST
    x, y = left + 0.5 * size, top + 0.5 * size
    inner, outer = scale * 0.5 * pipe.bore, scale * (0.5 * pipe.bore + pipe.wall)
    loose = bulb.contact < 0.5 * hunting.STRAPPED
    covered = bulb.exposure <= hunting.INSULATED
    own = scale * 0.5 * _BULB_DIAMETER
    away = outer + own + (scale * _GAP if loose else 0.0)
    turn = (bulb.clock - 3.0) * math.pi / 6.0
    bx, by = x + away * math.cos(turn), y + away * math.sin(turn)
    foam = scale * _FOAM
    items = []
    if covered:
        around = (x, y, outer + foam), (bx, by, own + foam)
        xs, ys = _wrapped(*around)
        items += [
            Area(xs, ys, colour=FOAM, opacity=1, axes="page"),
            Line(xs, ys, style.MUTED, 1.2, "dashed", closed=True, axes="page"),
        ]
    if not loose:
        xs, ys = _wrapped((x, y, outer + 2), (bx, by, own + 2))
        items.append(Line(xs, ys, style.MUTED, 2.4, closed=True, axes="page"))
    items += [
        *_disc(x, y, outer, COPPER, style.INK, 1.6),
        *_disc(x, y, inner, style.PAPER, style.INK, 1.2),
        _stream(x, y, inner),
        *_disc(bx, by, own, BULB, style.INK, 1.6),
        *_disc(bx, by, 0.82 * own, style.PAPER, style.MUTED, 1.0),
    ]
    for hour in (12, 3, 6, 9):
        angle = (hour - 3.0) * math.pi / 6.0
        at = inner - (17 if hour == 6 else 11)
        items.append(
            _text(x + at * math.cos(angle), y + at * math.sin(angle) + 4, str(hour), "middle")
        )
    return items


def along(circuit, left, top, width):
    """Line from coil to compressor, with bulb and equaliser.

    Parameters
    ----------
    circuit : hunting.Circuit
        Its bulb and its equaliser.
    left, top, width : float
        Strip of the page to draw in. [px]

    Returns
    -------
    list
        Primitives on the axes "page".
    """
    middle = top + _SIDE_HEIGHT * 0.62
    half, right = 0.5 * _SIDE_PIPE, left + width
    bulb = circuit.bulb
    below = 3.0 < bulb.clock < 9.0
    loose = 3.0 if bulb.contact < 0.5 * hunting.STRAPPED else 0.0
    items = [
        Bar(left + 22, middle - half, right, middle + half, style.PAPER, style.INK, axes="page"),
        Bar(left, top, left + 22, top + _SIDE_HEIGHT, style.HAZE, style.INK, axes="page"),
        Arrow(right - 34, middle, right - 8, middle, style.LOW, 2.0, 9, axes="page"),
    ]
    bulb_left, bulb_right = left + 74, left + 118
    low, high = (
        (middle + half + loose, middle + half + loose + 11)
        if below
        else (middle - half - loose - 11, middle - half - loose)
    )
    items.append(Bar(bulb_left, low, bulb_right, high, BULB, style.INK, axes="page"))
    name = high + 13 if below else low - 4
    items.append(_text(0.5 * (bulb_left + bulb_right), name, "bulb", "middle"))
    items.append(_text(left + 11, top + _SIDE_HEIGHT + 14, "coil", "middle"))
    if circuit.plant.external:
        at = left + 48 if bulb.equaliser == "before" else left + 148
        items.append(Line([at, at], [middle - half, top], style.OWN, 3.0, axes="page"))
        items.append(_text(at, top - 5, "equaliser", "middle", style.OWN))
    else:
        items.append(_text(right, top - 5, "equaliser: in the valve", "end", style.OWN))
    return items


def _text(x, y, text, anchor, colour=style.INK):
    spot = (Spot(0, 0, anchor),)
    return Text(x, y, text, spot, style.SMALL, colour, halo=False, axes="page")


def _circle(x, y, radius, start=0.0, end=2.0 * math.pi, points=49):
    angle = np.linspace(start, end, points)
    return x + radius * np.cos(angle), y + radius * np.sin(angle)


def _disc(x, y, radius, fill, edge=None, width=1.0, dash="solid"):
    xs, ys = _circle(x, y, radius)
    items = [Area(xs, ys, colour=fill, opacity=1, axes="page")] if fill else []
    if edge:
        items.append(Line(xs, ys, edge, width, dash, closed=True, axes="page"))
    return items


def _wrapped(first, second):
    """Outline of a band laid tight around two discs, each (x, y, radius)."""
    (x0, y0, r0), (x1, y1, r1) = first, second
    angle = math.atan2(y1 - y0, x1 - x0)
    turn = math.acos((r0 - r1) / math.hypot(x1 - x0, y1 - y0))
    one = _circle(x0, y0, r0, angle + turn, angle + 2.0 * math.pi - turn)
    two = _circle(x1, y1, r1, angle - turn, angle + turn)
    return np.r_[one[0], two[0]], np.r_[one[1], two[1]]


def _stream(x, y, inner):
    """Draw the stream on the bottom, as wide as the model has it."""
    half = hunting.STREAM_HALF_ANGLE
    xs, ys = _circle(x, y, inner - 3, 0.5 * math.pi - half, 0.5 * math.pi + half, 9)
    return Line(xs, ys, LIQUID, 6.0, axes="page")
