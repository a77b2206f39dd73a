"""Small helpers of figures that are laid out in figure pixels."""

from __future__ import annotations

import numpy as np

from lowside.plots import style
from lowside.plots.layout import Spot
from lowside.plots.marks import Text

_ANCHORS = {"start": (Spot(0, 0),), "middle": (Spot(0, 0, "middle"),), "end": (Spot(0, 0, "end"),)}


def add_axes(figure, size, left, top, right, bottom):
    """Add axes at figure pixels.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
    size : (int, int)
        Width and height of the figure. [px]
    left, top, right, bottom : float
        [px from the top left]

    Returns
    -------
    matplotlib.axes.Axes
    """
    width, height = size
    return figure.add_axes(
        (left / width, 1 - bottom / height, (right - left) / width, (bottom - top) / height)
    )


def add_page(figure, size):
    """Add unseen axes over the whole figure, in figure pixels from the top left.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
    size : (int, int)
        Width and height of the figure. [px]

    Returns
    -------
    matplotlib.axes.Axes
    """
    page = add_axes(figure, size, 0, 0, *size)
    page.set_axis_off()
    page.set_xlim(0, size[0])
    page.set_ylim(size[1], 0)
    return page


def word(x, y, text, anchor="start", size=style.SMALL, colour=style.INK, bold=False):
    """Make a text at figure pixels, standing on its baseline.

    Parameters
    ----------
    x, y : float
        [px from the top left]
    text : str
        Its words.
    anchor : {"start", "middle", "end"}
        What of it stands at ``x``.
    size : float
        [px]
    colour : str
    bold : bool

    Returns
    -------
    Text
    """
    return Text(x, y, text, _ANCHORS[anchor], size, colour, bold, halo=False, axes="page")


def user_ticks(show, kind, low, high, most):
    """Round numbers of the reader's units between two values.

    Parameters
    ----------
    show : Readout
        The reader's units.
    kind : str
        Kind of quantity.
    low, high : float
        [SI]
    most : int
        How many, about.

    Returns
    -------
    places : list of float
        [SI]
    labels : list of str
    """
    from matplotlib.ticker import MaxNLocator

    first, last = (float(show.value(edge, kind)) for edge in (low, high))
    slack = 1e-9 * (last - first)
    values = [
        value
        for value in MaxNLocator(most, steps=[1, 2, 2.5, 5, 10]).tick_values(first, last)
        if first - slack <= value <= last + slack
    ]
    return [float(show.si(value, kind)) for value in values], [
        f"{v:g}" for v in np.round(values, 9)
    ]
