"""The primitives of a moving layer, in the data coordinates of one of the figure's axes.

Each lowers itself to marks in figure pixels (``layout``), which both back ends of ``canvas`` draw
as they come; so a picture looks the same live and in print.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lowside.plots import style
from lowside.plots.layout import AROUND, LEADING, PathMark, Spot, TextMark, text_width

__all__ = [
    "AROUND",
    "Area",
    "Arrow",
    "Bar",
    "Brace",
    "Line",
    "Markers",
    "Numbered",
    "Span",
    "Spot",
    "Still",
    "Text",
]


@dataclass(frozen=True, eq=False)
class Line:
    """A line through points; a point that is not a number breaks it."""

    x: object
    y: object
    colour: str = style.INK
    width: float = style.LINE
    dash: str = "solid"
    opacity: float = 1.0
    closed: bool = False
    axes: str = "main"

    def _lower(self, place, layout):
        commands = _polyline(*place.points(self.x, self.y, self.axes), closed=self.closed)
        yield PathMark(
            commands,
            self.colour,
            self.width,
            style.DASHES[self.dash],
            None,
            self.opacity,
            self.axes,
        )


@dataclass(frozen=True, eq=False)
class Area:
    """The area between two curves over the same ``x``, or a closed outline if ``high`` is None."""

    x: object
    low: object
    high: object = None
    colour: str = style.HAZE
    opacity: float = 0.5
    axes: str = "main"

    def _lower(self, place, layout):
        x, y = np.atleast_1d(self.x), np.atleast_1d(self.low)
        if self.high is not None:
            x, y = np.r_[x, x[::-1]], np.r_[y, np.atleast_1d(self.high)[::-1]]
        commands = _polyline(*place.points(x, y, self.axes), closed=True)
        yield PathMark(commands, None, 0.0, (), self.colour, self.opacity, self.axes)


@dataclass(frozen=True)
class Span:
    """A band right across the axes, between two values of ``along`` ("x" or "y")."""

    along: str
    low: float
    high: float
    colour: str = style.HAZE
    opacity: float = 0.6
    axes: str = "main"

    def _lower(self, place, layout):
        left, top, right, bottom = place.box(self.axes)
        if self.along == "x":
            (left, right), _ = place.points([self.low, self.high], None, self.axes)
        else:
            _, (bottom, top) = place.points(None, [self.low, self.high], self.axes)
        yield PathMark(
            _rectangle(left, top, right, bottom), None, 0, (), self.colour, self.opacity, self.axes
        )


@dataclass(frozen=True)
class Bar:
    """A rectangle between two corners."""

    x0: float
    y0: float
    x1: float
    y1: float
    colour: str = style.LOW
    edge: str | None = None
    opacity: float = 1.0
    axes: str = "main"

    def _lower(self, place, layout):
        (left, right), (top, bottom) = place.points(
            [self.x0, self.x1], [self.y0, self.y1], self.axes
        )
        yield PathMark(
            _rectangle(left, top, right, bottom),
            self.edge,
            style.THIN * 1.5,
            (),
            self.colour,
            self.opacity,
            self.axes,
        )


@dataclass(frozen=True, eq=False)
class Markers:
    """Points as "circle", "square", "diamond" or "triangle"; ``size`` is their width [px]."""

    x: object
    y: object
    shape: str = "circle"
    size: float = 11.0
    colour: str = style.INK
    edge: str = style.PAPER
    axes: str = "main"

    def _lower(self, place, layout):
        xs, ys = place.points(self.x, self.y, self.axes)
        commands = []
        for x, y in zip(xs, ys, strict=True):
            if math.isfinite(x) and math.isfinite(y):
                commands += _SHAPES[self.shape](x, y, self.size / 2)
                layout.reserve(x - self.size / 2, y - self.size / 2, self.size, self.size)
        if commands:
            yield PathMark(commands, self.edge, 1.4, (), self.colour, 1.0, None)


@dataclass(frozen=True)
class Text:
    """Words beside a point of the data.

    ``spots`` are tried in turn; the first that stays inside the figure and clear of what is already
    placed is taken. If none is quite clear, an ``optional`` text is left out. Each line break
    starts a new line.
    """

    x: float
    y: float
    text: str
    spots: tuple = (Spot(0, 0, "middle"),)
    size: float = style.TEXT
    colour: str = style.INK
    bold: bool = False
    halo: bool = True
    angle: float = 0.0
    optional: bool = False
    axes: str = "main"

    def _lower(self, place, layout):
        (x,), (y,) = place.points([self.x], [self.y], self.axes)
        if not (math.isfinite(x) and math.isfinite(y)):
            return
        lines = self.text.split("\n")
        width = max(text_width(line, self.size) for line in lines)
        leading = self.size * LEADING
        spot = layout.choose(
            x, y, self.spots, width, self.size, leading * (len(lines) - 1), self.optional
        )
        if spot is None:
            return
        for number, line in enumerate(lines):
            yield TextMark(
                x + spot.dx,
                y + spot.dy + number * leading,
                line,
                spot.anchor,
                self.size,
                self.colour,
                self.bold,
                self.halo,
                self.angle,
            )


@dataclass(frozen=True)
class Numbered:
    """A numbered disc, as on a cycle diagram."""

    x: float
    y: float
    number: str
    colour: str = style.INK
    radius: float = 11.0
    axes: str = "main"

    def _lower(self, place, layout):
        (x,), (y,) = place.points([self.x], [self.y], self.axes)
        if not (math.isfinite(x) and math.isfinite(y)):
            return
        r = self.radius
        layout.reserve(x - r, y - r, 2 * r, 2 * r)
        yield PathMark(_circle(x, y, r), style.PAPER, 1.6, (), self.colour)
        size = style.SMALL
        yield TextMark(
            x, y + 0.36 * size, self.number, "middle", size, style.PAPER, bold=True, halo=False
        )


@dataclass(frozen=True)
class Arrow:
    """An arrow from one point of the data to another; ``head`` is its length [px]."""

    x0: float
    y0: float
    x1: float
    y1: float
    colour: str = style.INK
    width: float = 2.0
    head: float = 10.0
    axes: str = "main"

    def _lower(self, place, layout):
        (x0, x1), (y0, y1) = place.points([self.x0, self.x1], [self.y0, self.y1], self.axes)
        length = math.hypot(x1 - x0, y1 - y0)
        if not length > 0.5:
            return
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        head = min(self.head, length)
        bx, by, half = x1 - ux * head, y1 - uy * head, 0.42 * head
        yield PathMark([("M", x0, y0), ("L", bx, by)], self.colour, self.width)
        yield PathMark(
            [
                ("M", x1, y1),
                ("L", bx - uy * half, by + ux * half),
                ("L", bx + uy * half, by - ux * half),
                ("Z",),
            ],
            None,
            0.0,
            (),
            self.colour,
        )


@dataclass(frozen=True)
class Brace:
    """A curly brace along a distance of the data, with its label at the tip.

    Parameters
    ----------
    x0, y0, x1, y1 : float
        The two ends, in data coordinates.
    text : str
        The label.
    side : {"below", "above", "left", "right"}
        Where the tip points.
    gap : float
        From the data to the brace. [px]
    stem : float
        From the tip to the label; a thin line joins them. [px]
    leans : tuple of float
        How far the label may stand to the right of the tip (below, above), best first; the first
        that keeps clear of other labels is taken. [px]
    """

    x0: float
    y0: float
    x1: float
    y1: float
    text: str
    side: str = "below"
    colour: str = style.INK
    gap: float = 8.0
    stem: float = 8.0
    leans: tuple = (0.0,)
    size: float = style.TEXT
    bold: bool = True
    axes: str = "main"

    def _lower(self, place, layout):
        (x0, x1), (y0, y1) = place.points([self.x0, self.x1], [self.y0, self.y1], self.axes)
        if not all(map(math.isfinite, (x0, x1, y0, y1))):
            return
        across = self.side in ("below", "above")
        sign = 1 if self.side in ("below", "right") else -1
        a, b = sorted((x0, x1) if across else (y0, y1))
        base = (max if sign > 0 else min)(*((y0, y1) if across else (x0, x1))) + sign * self.gap

        def at(along, out):
            return (along, base + sign * out) if across else (base + sign * out, along)

        middle, depth = (a + b) / 2, 9.0
        if b - a < 22:
            corners = [at(a, 0), at(a, depth / 2), at(b, depth / 2), at(b, 0)]
            commands = [("M" if n == 0 else "L", *corner) for n, corner in enumerate(corners)]
            commands += [("M", *at(middle, depth / 2)), ("L", *at(middle, depth))]
        else:
            commands = _curly(at, a, b, depth)
        yield PathMark(commands, self.colour, 1.8)
        lines = self.text.split("\n")
        leading = self.size * LEADING
        drop = leading * (len(lines) - 1)
        width = max(text_width(line, self.size) for line in lines)
        tip, (x, y) = at(middle, depth), at(middle, depth + self.stem)
        spots = tuple(self._spot(lean, across, sign, drop) for lean in self.leans)
        spot = layout.choose(x, y, spots, width, self.size, drop)
        lean = self.leans[spots.index(spot)] if across else 0.0
        if self.stem > 3 or lean:
            yield PathMark([("M", *tip), ("L", x + lean, y)], self.colour, 1.2)
        (left, right), (top, bottom) = map(
            sorted, zip(at(a, 0), at(b, depth + self.stem), strict=True)
        )
        layout.reserve(left, top, right - left, bottom - top)
        x, y = x + spot.dx, y + spot.dy
        for number, line in enumerate(lines):
            yield TextMark(
                x, y + number * leading, line, spot.anchor, self.size, self.colour, self.bold
            )

    def _spot(self, lean, across, sign, drop):
        """Where the label sits beside the end of the stem; `drop` is from first to last line."""
        level = 0.36 * self.size - drop / 2
        if not across:
            return Spot(4 * sign, level, "start" if sign > 0 else "end")
        if lean:
            return Spot(lean + math.copysign(4, lean), level, "start" if lean > 0 else "end")
        return Spot(0, 1 + (self.size if sign > 0 else -4 - drop), "middle")


@dataclass(frozen=True, eq=False)
class Still:
    """Primitives that stand still between many steps: lowered once, and sent once to a panel.

    Parameters
    ----------
    key : hashable
        All that they depend on, besides the background.
    make : callable
        ``make()`` returns them.
    """

    key: object
    make: object

    def _lower(self, place, layout):
        kept = place.keep(self)
        layout.boxes += kept.boxes
        yield kept


def _polyline(xs, ys, closed=False):
    commands, pen = [], "M"
    for x, y in zip(xs, ys, strict=True):
        if math.isfinite(x) and math.isfinite(y):
            commands.append((pen, x, y))
            pen = "L"
        else:
            pen = "M"
    if closed and commands:
        commands.append(("Z",))
    return commands


def _curly(at, a, b, depth):
    """Return a curly brace from a to b; ``at(along, out)`` places its points."""
    middle, half, bend = (a + b) / 2, depth / 2, min(7.0, (b - a) / 4)
    near = 0.3 * bend
    return [
        ("M", *at(a, 0)),
        ("C", *at(a, 0.7 * depth), *at(a + near, half), *at(a + bend, half)),
        ("L", *at(middle - bend, half)),
        ("C", *at(middle - near, half), *at(middle, half), *at(middle, depth)),
        ("C", *at(middle, half), *at(middle + near, half), *at(middle + bend, half)),
        ("L", *at(b - bend, half)),
        ("C", *at(b - near, half), *at(b, 0.7 * depth), *at(b, 0)),
    ]


def _rectangle(left, top, right, bottom):
    return [("M", left, top), ("L", right, top), ("L", right, bottom), ("L", left, bottom), ("Z",)]


def _circle(x, y, r):
    k = 0.5522847498 * r
    return [
        ("M", x + r, y),
        ("C", x + r, y + k, x + k, y + r, x, y + r),
        ("C", x - k, y + r, x - r, y + k, x - r, y),
        ("C", x - r, y - k, x - k, y - r, x, y - r),
        ("C", x + k, y - r, x + r, y - k, x + r, y),
        ("Z",),
    ]


def _square(x, y, r):
    return _rectangle(x - 0.86 * r, y - 0.86 * r, x + 0.86 * r, y + 0.86 * r)


def _diamond(x, y, r):
    r = 1.15 * r
    return [("M", x, y - r), ("L", x + r, y), ("L", x, y + r), ("L", x - r, y), ("Z",)]


def _triangle(x, y, r):
    return [
        ("M", x, y - 1.1 * r),
        ("L", x + 1.1 * r, y + 0.8 * r),
        ("L", x - 1.1 * r, y + 0.8 * r),
        ("Z",),
    ]


_SHAPES = {"circle": _circle, "square": _square, "diamond": _diamond, "triangle": _triangle}
