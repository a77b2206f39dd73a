"""Marks as SVG text: short, for it travels at every step of a slider.

What most marks share stands once on the picture. What stood still since the last step stands once
on the page, in ``definitions``, and the picture only refers to it.
"""

from __future__ import annotations

import html
from itertools import groupby

from lowside.plots import style
from lowside.plots.layout import PathMark, StillMark

_SHARED = (
    f'font-family="{",".join(style.FONTS)}" font-size="{style.TEXT:g}" '
    f'fill="{style.INK}" stroke-linejoin="round" stroke-linecap="round"'
)
_HALO = ' paint-order="stroke" stroke="#fff" stroke-width="3.5"'


def picture(marks, place, words, by_reference=False):
    """Return marks as a picture.

    Parameters
    ----------
    marks : sequence of PathMark, TextMark and StillMark
        In drawing order.
    place : Background
        Whose axes clip them; its PNG comes by class.
    words : str
        The alternative text.
    by_reference : bool
        Whether still marks stand elsewhere on the page, in ``definitions``.

    Returns
    -------
    str
        An ``svg`` element.
    """
    return (
        f'<svg class="lowside-picture lowside-paper-{place.name}" '
        f'xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {place.width} {place.height}" '
        f'{_SHARED} role="img" aria-label="{html.escape(words, quote=True)}">'
        f"{drawing(marks, place, by_reference)}</svg>"
    )


def definitions(stills):
    """Return still marks as an element that shows nothing by itself."""
    groups = "".join(f'<g id="lowside-still-{still.name}">{still.drawing}</g>' for still in stills)
    return f'<svg width="0" height="0" aria-hidden="true"><defs>{groups}</defs></svg>'


def drawing(marks, place, by_reference=False):
    """Return marks without a frame, those of one axes after the other clipped together."""
    parts = []
    for clip, group in groupby(marks, key=lambda mark: getattr(mark, "clip", None)):
        inner = "".join(_drawn(mark, by_reference) for mark in group)
        if clip:
            left, top, right, bottom = place.box(clip)
            size = f"{_n(right - left)} {_n(bottom - top)}"
            wide, tall = size.split()
            inner = (
                f'<svg x="{_n(left)}" y="{_n(top)}" width="{wide}" height="{tall}" '
                f'viewBox="{_n(left)} {_n(top)} {size}">{inner}</svg>'
            )
        parts.append(inner)
    return "".join(parts)


def _drawn(mark, by_reference):
    if isinstance(mark, StillMark):
        return f'<use href="#lowside-still-{mark.name}"/>' if by_reference else mark.drawing
    return _path(mark) if isinstance(mark, PathMark) else _text(mark)


def _path(mark):
    data = "".join([command[0] + " ".join(map(_n, command[1:])) for command in mark.commands])
    look = f'fill="{mark.fill or "none"}"'
    if mark.stroke:
        look += f' stroke="{mark.stroke}" stroke-width="{mark.width:g}"'
        if mark.dash:
            dashes = " ".join(f"{dash:g}" for dash in mark.dash)
            look += f' stroke-dasharray="{dashes}" stroke-linecap="butt"'
    if mark.opacity < 1:
        look += f' opacity="{mark.opacity:g}"'
    return f'<path d="{data}" {look}/>'


def _text(mark):
    look = ""
    if mark.size != style.TEXT:
        look += f' font-size="{mark.size:g}"'
    if mark.colour != style.INK:
        look += f' fill="{mark.colour}"'
    if mark.anchor != "start":
        look += f' text-anchor="{mark.anchor}"'
    if mark.bold:
        look += ' font-weight="bold"'
    if mark.halo:
        look += _HALO
    if mark.angle:
        look += f' transform="rotate({_n(-mark.angle)} {_n(mark.x)} {_n(mark.y)})"'
    return f'<text x="{_n(mark.x)}" y="{_n(mark.y)}"{look}>{html.escape(mark.text)}</text>'


def _n(value):
    return f"{value:.1f}".removesuffix(".0")
