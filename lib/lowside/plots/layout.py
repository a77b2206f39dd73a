"""Marks in figure pixels, and the keeping apart of labels.

A mark is what both back ends of ``canvas`` draw as it comes: a path or one line of text, in figure
pixels from the top left. ``Layout`` knows which boxes of a figure are taken.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from lowside.plots import style

# How wide text runs in the figures' typeface, in ems; enough to keep labels apart.
_NARROW, _USUAL, _WIDE = 0.36, 0.63, 0.87
_WIDTHS = dict.fromkeys(" .,:;!|'ijlIftr()[]·°-", _NARROW) | dict.fromkeys("mwMW%@–—×", _WIDE)
_RISE, _FALL, LEADING = 0.76, 0.24, 1.28
_SHIFT = {"start": 0.0, "middle": 0.5, "end": 1.0}


class Spot(NamedTuple):
    """Where a text sits beside its point: offset to the right and down [px], and what it aligns."""

    dx: float
    dy: float
    anchor: str = "start"


#: The usual places around a point, best first.
AROUND = (
    Spot(10, -8),
    Spot(10, 16),
    Spot(-10, -8, "end"),
    Spot(-10, 16, "end"),
    Spot(0, -14, "middle"),
    Spot(0, 24, "middle"),
    Spot(16, 4),
    Spot(-16, 4, "end"),
)


@dataclass(frozen=True, eq=False)
class PathMark:
    """A path in figure pixels, as commands ``("M", x, y)``, ``("L", ...)``, ``("C", ...)``..."""

    commands: list
    stroke: str | None = style.INK
    width: float = style.LINE
    dash: tuple = ()
    fill: str | None = None
    opacity: float = 1.0
    clip: str | None = None


@dataclass(frozen=True)
class TextMark:
    """One line of text in figure pixels, standing on its baseline."""

    x: float
    y: float
    text: str
    anchor: str
    size: float
    colour: str
    bold: bool = False
    halo: bool = True
    angle: float = 0.0


class StillMark(NamedTuple):
    """Marks that stood still between some steps, with their drawing as SVG and its name."""

    name: str
    marks: list
    drawing: str
    boxes: list


class Layout:
    """Boxes already taken in a figure, so that labels keep clear of them [px]."""

    def __init__(self, width, height):
        self.width, self.height = width, height
        self.boxes = []

    def reserve(self, x, y, width, height):
        """Keep a box free of labels."""
        self.boxes.append((x, y, x + width, y + height))

    def choose(self, x, y, spots, width, size, extra=0.0, optional=False):
        """Take the first spot where a text is clear of the edge and of other boxes.

        If no spot is quite clear, take the one that overlaps least, or none if it is optional.
        """
        if len(spots) == 1 and not optional:
            self.boxes.append(_box(x, y, spots[0], width, size, extra))
            return spots[0]
        best, least, apart = None, math.inf, 4.0 if optional else 0.0
        for spot in spots:
            box = left, top, right, bottom = _box(x, y, spot, width, size, extra)
            roomy = (left - apart, top, right + apart, bottom)
            clash = sum(_overlap(roomy, other) for other in self.boxes)
            clash += 4 * self._outside(box)
            if clash < least:
                best, least, taken = spot, clash, box
            if clash == 0:
                break
        if optional and least > 0:
            return None
        self.boxes.append(taken)
        return best

    def _outside(self, box):
        left, top, right, bottom = box
        wide = max(0.0, 2 - left) + max(0.0, right - self.width + 2)
        tall = max(0.0, 2 - top) + max(0.0, bottom - self.height + 2)
        return wide * (bottom - top) + tall * (right - left)


@lru_cache(maxsize=1024)
def text_width(text, size):
    """Return about how wide a line of text runs [px], on the generous side."""
    return size * sum(_WIDTHS.get(c, _USUAL) for c in text)


def _box(x, y, spot, width, size, extra):
    left = x + spot.dx - _SHIFT[spot.anchor] * width
    top, bottom = y + spot.dy - _RISE * size, y + spot.dy + extra + _FALL * size
    return left, top, left + width, bottom


def _overlap(a, b):
    wide = min(a[2], b[2]) - max(a[0], b[0])
    tall = min(a[3], b[3]) - max(a[1], b[1])
    return wide * tall if wide > 0 and tall > 0 else 0.0
