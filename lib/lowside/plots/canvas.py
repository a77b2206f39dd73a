"""The live figure: a background that matplotlib draws once, and a light layer on top that moves.

What stands still (axes, grid, dome, isotherms) is a ``Background``: drawn once, kept as a small PNG
under a key. What moves is a list of primitives (``marks``) in data coordinates. Live, they become a
short SVG string, a few kB a step, which a browser shows at once; static, they become matplotlib
artists on a fresh copy of the background, for print and for a reader without a kernel. Both are
made from the same marks in figure pixels, so nothing moves between screen and paper.
"""

from __future__ import annotations

import base64
import hashlib
from collections import OrderedDict
from functools import cached_property
from math import log, nan
from typing import NamedTuple

import numpy as np

from lowside.plots import png, style, svg
from lowside.plots.layout import Layout, PathMark, StillMark
from lowside.plots.marks import Still, Text
from lowside.plots.tidy import tidied

#: Figure pixels to the inch, and device pixels to the figure pixel.
PIXELS_PER_INCH = 100
SHARPNESS = 2
_KEPT = 32  # backgrounds, and ...
_KEPT_STILL = 6  # ... on each what stands still between some steps
_BACK, _FRONT = 10, 1000  # drawing order of a background's own labels, and of what moves

_drawn: OrderedDict[object, Background] = OrderedDict()


class Frame(NamedTuple):
    """Where one axes lies in the figure [px, from the top left] and what its edges are worth."""

    left: float
    top: float
    right: float
    bottom: float
    x_limits: tuple
    y_limits: tuple
    x_log: bool
    y_log: bool

    def x(self, value):
        """Turn data into pixels across."""
        return _along(value, self.x_limits, self.x_log, self.left, self.right)

    def y(self, value):
        """Turn data into pixels down."""
        return _along(value, self.y_limits, self.y_log, self.bottom, self.top)


class Background:
    """What stands still in a figure.

    Parameters
    ----------
    draw : callable
        ``draw(figure)`` draws on an empty matplotlib figure and returns its axes by name: a dict,
        or a single axes, which is then called "main". It may return a pair with a list of
        primitives as well, such as labels that keep clear of each other.
    width, height : int
        Size in figure pixels.
    key : hashable
        All that the drawing depends on. With the same key it is drawn only once.
    """

    def __init__(self, draw, width=600, height=470, key=None):
        self._draw = draw
        self.width, self.height = width, height
        self.key = key
        self.frames = {}
        self.boxes = []
        self._still = OrderedDict()
        with tidied():
            self.png = self._still_png()
        self.name = hashlib.sha256(self.png).hexdigest()[:12]

    @classmethod
    def once(cls, draw, width=600, height=470, key=None):
        """Return the background of this key, drawing it only if it is new."""
        full = (key, width, height)
        if key is not None and full in _drawn:
            _drawn.move_to_end(full)
            return _drawn[full]
        background = cls(draw, width, height, key)
        if key is not None:
            _drawn[full] = background
            if len(_drawn) > _KEPT:
                _drawn.popitem(last=False)
        return background

    def points(self, x, y, axes="main"):
        """Turn data coordinates into figure pixels.

        Parameters
        ----------
        x, y : array_like or None
            In the units of the axes; None where only the other one is wanted.
        axes : str
            Which axes.

        Returns
        -------
        tuple of list or None
            Pixels from the left and from the top.
        """
        frame = self.frames[axes]
        return (
            None if x is None else frame.x(x),
            None if y is None else frame.y(y),
        )

    def box(self, axes="main"):
        """Left, top, right and bottom of an axes [px]."""
        return self.frames[axes][:4]

    def with_items(self, items):
        """Return a PNG of the background with primitives drawn on it by matplotlib."""
        with tidied():
            return self._png_with(items)

    @cached_property
    def paper(self):
        """The style sheet that puts the PNG behind every picture on this background."""
        image = base64.b64encode(self.png).decode("ascii")
        return (
            f"<style>.lowside-paper-{self.name}{{background:#fff "
            f"url(data:image/png;base64,{image}) 0 0/100% 100% no-repeat;display:block;"
            f"width:100%;min-width:{self.width * 0.62:.0f}px;"
            f"max-width:{self.width * 1.3:.0f}px;height:auto;"
            "-webkit-print-color-adjust:exact;print-color-adjust:exact}</style>"
        )

    def keep(self, still):
        """Return the mark of primitives that stand still, lowered only if they are new.

        Parameters
        ----------
        still : Still
            The primitives and what they depend on.

        Returns
        -------
        StillMark
        """
        if still.key not in self._still:
            layout = self.layout()
            marks = lower(still.make(), self, layout)
            drawing = svg.drawing(marks, self)
            name = hashlib.sha256(drawing.encode()).hexdigest()[:12]
            boxes = layout.boxes[len(self.boxes) :]
            self._still[still.key] = StillMark(name, marks, drawing, boxes)
            if len(self._still) > _KEPT_STILL:
                self._still.popitem(last=False)
        self._still.move_to_end(still.key)
        return self._still[still.key]

    def layout(self):
        """Return a layout that knows what the background already shows."""
        layout = Layout(self.width, self.height)
        layout.boxes = list(self.boxes)
        return layout

    def _still_png(self):
        figure, axes = self._fresh()
        self.frames = {name: _frame(ax, self.height) for name, ax in axes.items()}
        self._add(figure, axes, self._fixed, layout := Layout(self.width, self.height))
        self.boxes = layout.boxes
        return _png(figure)

    def _png_with(self, items):
        figure, axes = self._fresh()
        self._add(figure, axes, self._fixed, Layout(self.width, self.height))
        self._add(figure, axes, items, self.layout(), _FRONT)
        return _png(figure)

    def _fresh(self):
        from matplotlib.figure import Figure

        with style.in_style():
            figure = Figure(
                figsize=(self.width / PIXELS_PER_INCH, self.height / PIXELS_PER_INCH),
                dpi=PIXELS_PER_INCH * SHARPNESS,
            )
            drawn = self._draw(figure)
        axes, self._fixed = drawn if isinstance(drawn, tuple) else (drawn, [])
        return figure, axes if isinstance(axes, dict) else {"main": axes}

    def _add(self, figure, axes, items, layout, front=_BACK):
        from matplotlib.transforms import Affine2D

        pixels = Affine2D().scale(SHARPNESS, -SHARPNESS).translate(0, self.height * SHARPNESS)
        with style.in_style():
            for order, mark in enumerate(_flat(lower(items, self, layout))):
                artist = _artist(mark, pixels)
                artist.set_zorder(front + order)
                figure.add_artist(artist)
                if getattr(mark, "clip", None):
                    artist.set_clip_box(axes[mark.clip].bbox)


class LiveFigure:
    """A picture that can move, and that says in words what it shows.

    Parameters
    ----------
    background : Background
        What stands still.
    items : sequence
        Primitives of the moving layer, drawn in this order.
    words : str
        What the picture shows, in plain and rounded words: its alternative text, the text under
        it, and what a notebook test compares.
    readings : sequence of (str, str)
        What the gauges and clamps would say: where, and what, in the reader's units.
    numbers : dict
        SI numbers of what is shown, by name, for a sentence on what changed.
    remarks : sequence of (str, str)
        What deserves a second look, the worst first: how sure it is, and a sentence. They are part
        of ``words``; ``caption`` is what is left without them.
    """

    def __init__(self, background, items=(), words="", readings=(), numbers=None, remarks=()):
        self.background = background
        self.readings = tuple(readings)
        self.numbers = dict(numbers or {})
        self.remarks = tuple(remarks)
        self.update(items, words)

    def update(self, items, words):
        """Show other items and words on the same background."""
        self.items, self.caption = tuple(items), words
        self.words = " ".join([words, *(f"{weight}: {said}" for weight, said in self.remarks)])

    def overlay(self, by_reference=False):
        """Return the picture as an SVG string; the background comes from ``paper``, by class.

        Parameters
        ----------
        by_reference : bool
            Whether ``still`` is on the page, so that its drawings need not come once more.

        Returns
        -------
        str
            An ``svg`` element.
        """
        place = self.background
        marks = lower(self.items, place, place.layout())
        return svg.picture(marks, place, self.words, by_reference)

    def still(self):
        """Return what an ``overlay`` by reference refers to; "" if there is nothing."""
        kept = [self.background.keep(item) for item in self.items if isinstance(item, Still)]
        return svg.definitions(kept) if kept else ""

    def paper(self):
        """Return the style sheet that puts the background behind every ``overlay`` on it."""
        return self.background.paper

    def html(self):
        """Return the whole picture as HTML."""
        return self.paper() + self.overlay()

    def png(self):
        """Return the picture as PNG bytes, drawn by matplotlib at twice the figure's pixels."""
        return self.background.with_items(self.items)

    def _repr_mimebundle_(self, include=None, exclude=None):
        image = base64.b64encode(self.png()).decode("ascii")
        size = {"width": self.background.width, "height": self.background.height}
        return (
            {"image/png": image, "text/plain": self.words},
            {"image/png": {"alt": self.words, **size}},
        )


def lower(items, place, layout):
    """Turn primitives into marks in drawing order, placing words after all the rest is known."""
    marks = [None if isinstance(item, Text) else list(item._lower(place, layout)) for item in items]
    for number, item in enumerate(items):
        if marks[number] is None:
            marks[number] = list(item._lower(place, layout))
    return [mark for group in marks for mark in group]


def _flat(marks):
    for mark in marks:
        if isinstance(mark, StillMark):
            yield from mark.marks
        else:
            yield mark


def _along(values, limits, logarithmic, start, end):
    values = np.asarray(values, dtype=float).ravel().tolist()
    low, high = limits
    if logarithmic:
        low, high = log(low), log(high)
        values = [log(value) if value > 0 else nan for value in values]
    scale = (end - start) / (high - low)
    return [start + (value - low) * scale for value in values]


def _frame(axes, height):
    axes.apply_aspect()
    box = axes.get_window_extent()
    return Frame(
        box.x0 / SHARPNESS,
        height - box.y1 / SHARPNESS,
        box.x1 / SHARPNESS,
        height - box.y0 / SHARPNESS,
        axes.get_xlim(),
        axes.get_ylim(),
        axes.get_xscale() == "log",
        axes.get_yscale() == "log",
    )


def _render(figure):
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    canvas = FigureCanvasAgg(figure)
    with style.in_style():
        canvas.draw()
    return canvas


def _png(figure):
    return png.encode(np.asarray(_render(figure).buffer_rgba())[..., :3])


def _artist(mark, pixels):
    from matplotlib import patheffects
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path
    from matplotlib.text import Text as Words

    if isinstance(mark, PathMark):
        vertices, codes = [(0.0, 0.0)], [Path.MOVETO]
        for command in mark.commands:
            numbers = command[1:]
            pairs = list(zip(numbers[::2], numbers[1::2], strict=True)) or [(0.0, 0.0)]
            vertices += pairs
            codes += [_CODES[command[0]]] * len(pairs)
        dash = mark.dash and (0, [d / mark.width for d in mark.dash])
        return PathPatch(
            Path(vertices, codes),
            transform=pixels,
            facecolor=mark.fill or "none",
            edgecolor=mark.stroke or "none",
            linewidth=mark.width * style.POINTS if mark.stroke else 0,
            linestyle=dash or "solid",
            capstyle="butt" if dash else "round",
            joinstyle="round",
            alpha=mark.opacity if mark.opacity < 1 else None,
        )
    words = Words(
        mark.x,
        mark.y,
        mark.text,
        transform=pixels,
        color=mark.colour,
        fontsize=mark.size * style.POINTS,
        fontweight="bold" if mark.bold else "normal",
        horizontalalignment={"start": "left", "middle": "center", "end": "right"}[mark.anchor],
        verticalalignment="baseline",
        rotation=mark.angle,
        rotation_mode="anchor",
        parse_math=False,
    )
    if mark.halo:
        stroke = patheffects.withStroke(linewidth=3.5 * style.POINTS, foreground="white")
        words.set_path_effects([stroke])
    return words


_CODES = {"M": 1, "L": 2, "C": 4, "Z": 79}
