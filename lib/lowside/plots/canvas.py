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
import html
from collections import OrderedDict
from itertools import groupby
from typing import NamedTuple

import numpy as np

from lowside.plots import png, style
from lowside.plots.layout import Layout, PathMark
from lowside.plots.marks import Text

#: Figure pixels to the inch, and device pixels to the figure pixel.
PIXELS_PER_INCH = 100
SHARPNESS = 2
_KEPT = 32
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
        figure, axes = self._fresh()
        self.frames = {name: _frame(ax, height) for name, ax in axes.items()}
        self._add(figure, axes, self._fixed, layout := Layout(width, height))
        self.boxes = layout.boxes
        self.png = _png(figure)
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
            None if x is None else frame.x(x).tolist(),
            None if y is None else frame.y(y).tolist(),
        )

    def box(self, axes="main"):
        """Left, top, right and bottom of an axes [px]."""
        return self.frames[axes][:4]

    def with_items(self, items):
        """Return a PNG of the background with primitives drawn on it by matplotlib."""
        figure, axes = self._fresh()
        self._add(figure, axes, self._fixed, Layout(self.width, self.height))
        self._add(figure, axes, items, self.layout(), _FRONT)
        return _png(figure)

    def layout(self):
        """Return a layout that knows what the background already shows."""
        layout = Layout(self.width, self.height)
        layout.boxes = list(self.boxes)
        return layout

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
            for order, mark in enumerate(lower(items, self, layout)):
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

    def overlay(self):
        """Return the picture as an SVG string; the background comes from ``paper``, by class."""
        place = self.background
        marks = lower(self.items, place, place.layout())
        parts = [
            f'<svg class="lowside-picture lowside-paper-{place.name}" '
            'xmlns="http://www.w3.org/2000/svg" '
            f'viewBox="0 0 {place.width} {place.height}" role="img" '
            f'aria-label="{html.escape(self.words, quote=True)}">'
        ]
        for clip, group in groupby(marks, key=lambda mark: getattr(mark, "clip", None)):
            inner = "".join(_svg(mark) for mark in group)
            if clip:
                left, top, right, bottom = place.box(clip)
                size = f"{_n(right - left)} {_n(bottom - top)}"
                wide, tall = size.split()
                inner = (
                    f'<svg x="{_n(left)}" y="{_n(top)}" width="{wide}" height="{tall}" '
                    f'viewBox="{_n(left)} {_n(top)} {size}">{inner}</svg>'
                )
            parts.append(inner)
        return "".join(parts) + "</svg>"

    def paper(self):
        """Return the style sheet that puts the background behind every ``overlay`` on it."""
        place = self.background
        image = base64.b64encode(place.png).decode("ascii")
        return (
            f"<style>.lowside-paper-{place.name}{{background:#fff "
            f"url(data:image/png;base64,{image}) 0 0/100% 100% no-repeat;display:block;"
            f"width:100%;min-width:{place.width * 0.62:.0f}px;"
            f"max-width:{place.width * 1.3:.0f}px;height:auto;"
            "-webkit-print-color-adjust:exact;print-color-adjust:exact}</style>"
        )

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


def _along(value, limits, log, start, end):
    value = np.atleast_1d(np.asarray(value, dtype=float))
    low, high = limits
    with np.errstate(divide="ignore", invalid="ignore"):
        if log:
            value, low, high = np.log(value), np.log(low), np.log(high)
        return start + (value - low) / (high - low) * (end - start)


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


def _n(value):
    text = f"{value:.1f}"
    return text[:-2] if text.endswith(".0") else text


def _svg(mark):
    if isinstance(mark, PathMark):
        data = "".join(c[0] + " ".join(map(_n, c[1:])) for c in mark.commands)
        look = f'fill="{mark.fill or "none"}"'
        if mark.stroke:
            look += f' stroke="{mark.stroke}" stroke-width="{mark.width:g}" stroke-linejoin="round"'
            if mark.dash:
                look += f' stroke-dasharray="{" ".join(f"{d:g}" for d in mark.dash)}"'
            else:
                look += ' stroke-linecap="round"'
        if mark.opacity < 1:
            look += f' opacity="{mark.opacity:g}"'
        return f'<path d="{data}" {look}/>'
    family = ",".join(style.FONTS)
    look = f'font-family="{family}" font-size="{mark.size:g}" fill="{mark.colour}"'
    if mark.anchor != "start":
        look += f' text-anchor="{mark.anchor}"'
    if mark.bold:
        look += ' font-weight="bold"'
    if mark.halo:
        look += ' paint-order="stroke" stroke="#fff" stroke-width="3.5" stroke-linejoin="round"'
    if mark.angle:
        look += f' transform="rotate({_n(-mark.angle)} {_n(mark.x)} {_n(mark.y)})"'
    return f'<text x="{_n(mark.x)}" y="{_n(mark.y)}" {look}>{html.escape(mark.text)}</text>'


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
