"""A thermostatic valve cut open, with its forces drawn to scale beside it.

The valve is a plain sketch: only the forces are to one scale, and the lift to another, much larger
one. What moves is one piece: diaphragm, push rod and pin. The bulb pushes it down, which opens; the
evaporator under the diaphragm and the spring under the pin push it up, which shuts.
"""

from __future__ import annotations

import math

from lowside.plots import style
from lowside.plots.marks import Area, Arrow, Bar, Line, Markers
from lowside.plots.pagework import word

PIXELS_PER_NEWTON = 0.30
TRAVEL = 26.0  # [px] of the pin from its seat to its stop

_MIDDLE = 226.0  # [px] across, of the valve
_INNER, _OUTER = 40.0, 76.0  # [px] from the middle
_DIAPHRAGM, _WALL, _INLET, _SEAT, _OUTLET, _FOOT = 172.0, 206.0, 222.0, 274.0, 290.0, 398.0
_PORT, _ROD, _CARRIER = 14.0, 3.0, 27.0  # [px] half-widths
_SLOPE = math.tan(math.pi / 6)  # of the pin
_SPRING_FOOT, _PER_TURN = 382.0, 4.0  # [px]
_BODY, _METAL, _LIQUID, _VAPOUR, _BULB = "#D5DCE2", "#9AA6B2", "#F6D9CB", "#D6E8F3", "#E7DCF3"
_FIRST, _SECOND = 26.0, 78.0  # [px] across, of the arrows at the diaphragm and at the pin
_SUCTION = (46.0, 68.0)  # [px] down, of the suction line
_BULB_AT = (322.0, 398.0)
_TAP, _CHANNEL = 306.0, 56.0  # [px] of the equaliser's line; of the channel from the middle

OPENING, CLOSING = style.HIGH, style.LOW


def valve_body(external, turns=0.0):
    """Draw what of the valve does not move with the pin.

    Parameters
    ----------
    external : bool
        Whether the equaliser is a line to the suction line, or a channel in the body.
    turns : float
        Of the stem, clockwise.

    Returns
    -------
    list
        Primitives in figure pixels.
    """
    left, right = _MIDDLE - _INNER, _MIDDLE + _INNER
    items = [
        *_box(_MIDDLE - _OUTER, _WALL, _MIDDLE + _OUTER, _FOOT + 14, _BODY),
        *_box(_MIDDLE - 60, _DIAPHRAGM - 4, _MIDDLE + 60, _WALL, _VAPOUR),
        *_dome(),
        *_box(left, _INLET, right, _SEAT, _LIQUID),
        *_box(left, _OUTLET, right, _FOOT, _VAPOUR),
        *_pipe(_MIDDLE - _OUTER - 8, left + 2, 236, 258, _LIQUID),
        *_pipe(right - 2, _MIDDLE + _OUTER + 18, 302, 326, _VAPOUR),
        Area(
            [_MIDDLE - _PORT, _MIDDLE + _PORT, _MIDDLE + _PORT, _MIDDLE - _PORT],
            [_SEAT - 1, _SEAT - 1, _OUTLET + 1, _OUTLET + 1],
            colour=_LIQUID,
            opacity=1,
            axes="page",
        ),
        *_stem(turns),
        *_bulb(),
        *_equaliser(external),
        word(_MIDDLE - _OUTER + 2, 231, "liquid"),
        word(_MIDDLE + _OUTER + 4, 342, "to the coil"),
        word(_MIDDLE + 22, _FOOT + 42, "stem: clockwise = more spring"),
    ]
    return items


def moving_piece(lift_share, turns=0.0):
    """Draw diaphragm, rod, pin and spring at a lift.

    Parameters
    ----------
    lift_share : float
        Lift over full travel. [-]
    turns : float
        Of the stem, clockwise: they move the spring's lower end.

    Returns
    -------
    list
        Primitives in figure pixels.
    """
    down = TRAVEL * lift_share
    cone = (_CARRIER - _PORT) / _SLOPE
    tip, shoulder = _OUTLET - _PORT / _SLOPE + down, _OUTLET + cone + down
    middle, sheet = _MIDDLE, _DIAPHRAGM + down
    items = [
        Line(
            [middle - 60, middle - 34, middle + 34, middle + 60],
            [_DIAPHRAGM, sheet, sheet, _DIAPHRAGM],
            width=3.0,
            axes="page",
        ),
        *_box(middle - _ROD, sheet, middle + _ROD, tip + 4, _METAL, 1.0),
        *_outline(
            [middle, middle + _CARRIER, middle + _CARRIER, middle - _CARRIER, middle - _CARRIER],
            [tip, shoulder, shoulder + 6, shoulder + 6, shoulder],
            _METAL,
        ),
        _coil(shoulder + 6, _SPRING_FOOT - _PER_TURN * turns),
    ]
    if lift_share > 0:
        across = down * math.sin(math.pi / 6)
        for side in (-1, 1):
            x = middle + side * _PORT
            near = x - side * across * math.cos(math.pi / 6), _OUTLET + across * 0.5
            items.append(Line([x, near[0]], [_OUTLET, near[1]], style.OWN, 4, axes="page"))
    return items


def force_arrows(forces, show):
    """Draw the forces on the moving piece to scale, at the height where they act.

    Parameters
    ----------
    forces : valve.Forces
        Of scalars.
    show : Readout
        The reader's units.

    Returns
    -------
    list
        Primitives in figure pixels.
    """
    pin = _OUTLET + 8
    spring = forces.preload + forces.compression
    items = []
    for x, level, opening, closing, names in (
        (_FIRST, _DIAPHRAGM, forces.bulb, forces.equaliser, ("bulb", "evaporator")),
        (_SECOND, pin, forces.port, spring, ("port", "spring")),
    ):
        edge = _MIDDLE - (60 if level == _DIAPHRAGM else _OUTER)
        items.append(Line([x - 8, edge], [level, level], style.MUTED, 1.2, "dotted", axes="page"))
        down, up = (float(force) * PIXELS_PER_NEWTON for force in (opening, closing))
        items.append(Arrow(x, level - down, x, level - 1, OPENING, 5, 12, axes="page"))
        items.append(Arrow(x, level + up, x, level + 1, CLOSING, 5, 12, axes="page"))
        high, low = (level - 42, level + 34) if level == _DIAPHRAGM else (level - 28, level + 20)
        texts = (show.text(float(force), "force") for force in (opening, closing))
        for top, name, text, colour in zip((high, low), names, texts, (OPENING, CLOSING),
                                           strict=True):  # fmt: skip
            at = x + 10
            items.append(word(at, top, name, size=style.SMALL, colour=colour, bold=True))
            items.append(word(at, top + 16, text, size=style.SMALL))
    return items


def force_scale(show, top):
    """Draw how long a round force is in the arrows.

    Parameters
    ----------
    show : Readout
        The reader's units.
    top : float
        [px]

    Returns
    -------
    list
        Primitives in figure pixels.
    """
    step = float(show.si(20.0 if show.system == "us" else 100.0, "force"))
    x, long = 12.0, step * PIXELS_PER_NEWTON
    return [
        Line([x, x], [top, top + long], width=2.5, axes="page"),
        *(Line([x - 4, x + 4], [y, y], width=2, axes="page") for y in (top, top + long)),
        word(x + 8, top + long / 2 + 5, show.text(step, "force", 0), size=style.SMALL),
    ]


def _dome():
    xs, ys = [], []
    for step in range(25):
        angle = math.pi * step / 24
        xs.append(_MIDDLE - 60 * math.cos(angle))
        ys.append(_DIAPHRAGM - 42 * math.sin(angle))
    return _outline(xs, ys, _BULB)


def _stem(turns):
    seat = _SPRING_FOOT - _PER_TURN * turns
    return [
        *_box(_MIDDLE - 5, seat + 6, _MIDDLE + 5, _FOOT + 36, _METAL),
        *_box(_MIDDLE - 26, seat, _MIDDLE + 26, seat + 6, _METAL),
        *_box(_MIDDLE - 13, _FOOT + 30, _MIDDLE + 13, _FOOT + 46, _METAL),
    ]


def _bulb():
    top, bottom = _SUCTION
    left, right = _BULB_AT
    return [
        *_pipe(_TAP - 26, right + 16, top, bottom, _VAPOUR),
        Line(
            [left, _MIDDLE, _MIDDLE],
            [top - 10, top - 10, _DIAPHRAGM - 42],
            _METAL,
            3.0,
            axes="page",
        ),
        *_box(left, top - 18, right, top - 2, _BULB),
        word((left + right) / 2, top - 24, "bulb", "middle", bold=True),
        Arrow(right + 10, 57, right - 30, 57, style.LOW, 2.0, 9, axes="page"),
        word(right + 16, bottom + 16, "suction line", "end"),
    ]


def _equaliser(external):
    x, level = _MIDDLE + 60, 190.0
    if external:
        return [
            Line([x, _TAP, _TAP], [level, level, _SUCTION[1]], style.LOW, 5.0, axes="page"),
            Markers([_TAP], [_SUCTION[1]], "circle", 9, style.LOW, axes="page"),
            word(_TAP + 8, 150, "external", bold=True, colour=style.LOW),
            word(_TAP + 8, 166, "equaliser", bold=True, colour=style.LOW),
        ]
    channel = _MIDDLE + _CHANNEL
    return [
        Line(
            [channel, channel, _MIDDLE + _INNER],
            [_WALL - 4, _OUTLET + 6, _OUTLET + 6],
            style.LOW,
            5.0,
            axes="page",
        ),
        word(_TAP - 12, 168, "internal", bold=True, colour=style.LOW),
        word(_TAP - 12, 184, "equaliser", bold=True, colour=style.LOW),
    ]


def _coil(top, bottom):
    turns, half = 5, 20.0
    xs, ys = [_MIDDLE], [top]
    for step in range(2 * turns):
        xs.append(_MIDDLE + (half if step % 2 else -half))
        ys.append(top + (bottom - top) * (step + 0.5) / (2 * turns))
    return Line([*xs, _MIDDLE], [*ys, bottom], style.INK, 2.2, axes="page")


def _pipe(left, right, top, bottom, colour):
    return [
        Bar(left, top, right, bottom, colour, axes="page"),
        *(Line([left, right], [y, y], width=1.4, axes="page") for y in (top, bottom)),
    ]


def _box(left, top, right, bottom, colour, width=1.4):
    return _outline([left, right, right, left], [top, top, bottom, bottom], colour, width)


def _outline(xs, ys, colour, width=1.4):
    return [
        Area(xs, ys, colour=colour, opacity=1, axes="page"),
        Line(xs, ys, width=width, closed=True, axes="page"),
    ]
