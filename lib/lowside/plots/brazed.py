"""The joint drawn to scale: line, joint, stub, valve, torch, and what is round the valve."""

from __future__ import annotations

import numpy as np

from lowside import joint
from lowside.plots import style
from lowside.plots.marks import Area, Arrow, Bar, Line
from lowside.plots.pagework import word

#: Ends of the drawing and of the chart under it, from the joint. [m]
LEFT, RIGHT = -0.040, 0.120

MIDDLE = 128  # [px] down the page, where the pipe lies
_HOLLOW = 1.25  # size of a drawn body over that of a solid cube of its mass
_METALS = {
    "copper": "#E9BFA0",
    "brass": "#EAD58E",
    "steel": "#AEB8C1",
    "stainless steel": "#D5DCE2",
}
_WATER = "#BFDDF0"
_FLAME, _CORE = "#F4C37D", "#7FA9D6"


def drawn_pipe(setup, numbers, frame):
    """Draw the parts to scale above the chart along the pipe.

    Parameters
    ----------
    setup : joint.Setup
    numbers : dict
        Of the figure; "wrap" is what is round the valve.
    frame : (float, float, float, float)
        Left, top, right and bottom of the chart under it. [px]

    Returns
    -------
    list
        Primitives, in figure pixels.
    """
    scale = (frame[2] - frame[0]) / (RIGHT - LEFT)

    def x(place):
        return frame[0] + (place - LEFT) * scale

    half = 0.5 * setup.tube.diameter * scale
    deep = joint.overlap(setup.tube)
    side = body_side(setup)
    start, end = x(setup.stub_length), x(setup.stub_length + side)
    top, bottom = MIDDLE - 0.5 * side * scale, MIDDLE + 0.5 * side * scale
    items = [
        *_wrap(setup, x, (start, top, end, bottom), half),
        _tube(x(LEFT), x(0.0), half, setup.line),
        _tube(x(-deep), start, half, setup.stub),
        Bar(x(-deep), MIDDLE - half - 3, x(0.0), MIDDLE + half + 3, style.INK, axes="page"),
        Bar(start, top, end, bottom, _METALS["brass"], style.INK, axes="page"),
        *_power_element((start + end) / 2, top, side * scale),
        *_torch(x(-0.5 * deep), MIDDLE - half - 4),
        Arrow(x(LEFT) + 4, MIDDLE, x(LEFT) + 44, MIDDLE, style.LOW, axes="page"),
    ]
    low = MIDDLE + half + 18
    items += [
        word(x(LEFT), low, f"{_short(setup.line)} line"),
        word(x(LEFT), low + 16, "nitrogen flowing", colour=style.LOW),
        word((start + end) / 2, MIDDLE + 5, "valve", "middle"),
        word(x(0.0) + 8, low + 36, f"{_short(setup.stub)} stub"),
        Line([x(0.0) + 14] * 2, [MIDDLE + half, low + 24], style.MUTED, 1.2, axes="page"),
    ]
    if setup.wrap is not None:
        items.append(word(end + 16, top - 6, numbers["wrap"], colour=style.LOW, bold=True))
    return items


def _short(metal):
    return metal.name.removesuffix(" steel")


def body_side(setup):
    """Size of the drawn valve body.

    Parameters
    ----------
    setup : joint.Setup

    Returns
    -------
    float
        [m]
    """
    return _HOLLOW * (setup.body_mass / joint.metal("brass").density) ** (1.0 / 3.0)


def _tube(left, right, half, metal):
    return Bar(
        left, MIDDLE - half, right, MIDDLE + half, _METALS[metal.name], style.INK, axes="page"
    )


def _wrap(setup, x, body, half):
    """Something wet: a tinted outline with a row of drops along its edge."""
    if setup.wrap is None:
        return []
    left = x(setup.stub_length * (1.0 - setup.wrap.cover))
    start, top, end, bottom = body
    thick = 8
    outline = [
        (left, MIDDLE - half - thick),
        (start - thick, MIDDLE - half - thick),
        (start - thick, top - thick),
        (end + thick, top - thick),
        (end + thick, bottom + thick),
        (start - thick, bottom + thick),
        (start - thick, MIDDLE + half + thick),
        (left, MIDDLE + half + thick),
    ]
    xs, ys = (np.array(each) for each in zip(*outline, strict=True))
    return [
        Area(xs, ys, None, _WATER, 0.9, axes="page"),
        Line(xs, ys, style.LOW, 1.6, "dotted", closed=True, axes="page"),
    ]


def _power_element(middle, top, side):
    wide = 0.36 * side
    angle = np.linspace(np.pi, 2.0 * np.pi, 15)
    return [
        Area(
            middle + wide * np.cos(angle),
            top + 0.55 * wide * np.sin(angle),
            None,
            _METALS["steel"],
            1.0,
            axes="page",
        ),
        Line(
            middle + wide * np.cos(angle),
            top + 0.55 * wide * np.sin(angle),
            style.INK,
            1.5,
            closed=True,
            axes="page",
        ),
    ]


def _torch(x, y):
    """Draw a flame that points away from the valve, and the torch behind it."""
    reach, lean = 44.0, 22.0
    flame = np.array([(x, y), (x + lean - 11, y - reach), (x + lean + 9, y - reach)])
    core = np.array([(x + 0.45 * lean, y - 0.45 * reach), *(flame[1:] * 0.97 + 0.03 * flame[0])])
    core[1:, 0] += np.array([3.0, -3.0])
    tip = x + lean - 1, y - reach
    return [
        Area(*flame.T, None, _FLAME, 1.0, axes="page"),
        Line(*flame.T, style.HIGH, 1.2, closed=True, axes="page"),
        Area(*core.T, None, _CORE, 1.0, axes="page"),
        Line([tip[0], tip[0] + 10], [tip[1], tip[1] - 20], style.INK, 9.0, axes="page"),
        word(tip[0] + 22, tip[1] - 14, "torch, pointing away from the valve"),
    ]
