"""The glide of every refrigerant at one pressure, side by side."""

from __future__ import annotations

import numpy as np

from lowside import refrigerants
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Text
from lowside.refrigerants.lines import WORTH_KNOWING

WIDTH, HEIGHT = 640, 470
EDGES = (0.125, 0.115, 0.86, 0.81)
WIDEST = 23.0  # [K] right edge of the axis

_HALF = 0.36  # of a row, half the height of a bar


def glides_figure(show, pressure, chosen=None):
    """Draw the glide of every refrigerant at one pressure as bars, the widest on top.

    Parameters
    ----------
    show : Readout
        The reader's units.
    pressure : float
        Absolute. [Pa]
    chosen : str, optional
        Name of the refrigerant to stand out.

    Returns
    -------
    LiveFigure
        With words that name the widest and count those for which the column does not matter.

    Raises
    ------
    OutOfRange
        If the pressure lies outside the range of one of them.
    """
    fluids = [refrigerants.get(name) for name in refrigerants.NAMES]
    rows = sorted(
        ((float(fluid.glide(pressure)), fluid) for fluid in fluids),
        key=lambda row: (-round(row[0], 3), row[1].name),
    )
    background = Background.once(
        lambda figure: _draw(figure, show, len(rows)), WIDTH, HEIGHT, ("glides", show)
    )
    items = [
        Text(
            0.0,
            -0.5,
            f"glide at {show.text(pressure, 'gauge_pressure')}",
            (Spot(-78, -12),),
            style.TEXT,
        ),
        Line([WORTH_KNOWING] * 2, [-0.5, len(rows) - 0.5], style.MUTED, 1.2, "dotted"),
    ]
    for place, (glide, fluid) in enumerate(rows):
        own = fluid.name == chosen
        items += _row(show, place, glide, fluid, pressure, own)
    numbers = {fluid.name: glide for glide, fluid in rows}
    return LiveFigure(background, items, _words(show, pressure, rows, chosen), (), numbers)


def _draw(figure, show, count):
    from matplotlib.ticker import FixedFormatter, FixedLocator, MaxNLocator, NullLocator

    axes = figure.add_axes(EDGES)
    axes.set_xlim(0.0, WIDEST)
    axes.set_ylim(count - 0.5, -0.5)
    high = show.value(WIDEST, "temperature_difference")
    values = [v for v in MaxNLocator(8).tick_values(0.0, high) if 0.0 <= v <= high]
    axes.xaxis.set_major_locator(
        FixedLocator([float(show.si(v, "temperature_difference")) for v in values])
    )
    axes.xaxis.set_major_formatter(FixedFormatter([f"{v:g}" for v in values]))
    axes.yaxis.set_major_locator(NullLocator())
    axes.set_xlabel(show.axis("dew minus bubble", "temperature_difference"), loc="left")
    axes.grid(True, axis="x", linewidth=0.8 * style.POINTS)
    return axes


def _row(show, place, glide, fluid, pressure, own):
    bubble, dew = (
        show.text(temperature(pressure), "temperature")
        for temperature in (fluid.bubble_temperature, fluid.dew_temperature)
    )
    matters = glide > WORTH_KNOWING
    text = show.text(glide, "temperature_difference")
    text += f" ({bubble} to {dew})" if matters else f" ({dew} in either column)"
    colour = style.OWN if own else style.LOW
    return [
        Bar(
            0.0,
            place - _HALF,
            max(glide, 0.03),
            place + _HALF,
            colour if matters else style.MUTED,
            opacity=1.0 if own else 0.75,
        ),
        Text(
            0.0,
            place,
            fluid.name + (" ▸" if own else ""),
            (Spot(-6, 5, "end"),),
            style.SMALL,
            colour if own else style.INK,
            own,
        ),
        Text(
            max(glide, WORTH_KNOWING),
            place,
            text,
            (Spot(8, 5),),
            style.SMALL,
            colour if own else style.INK,
            own,
        ),
    ]


def _words(show, pressure, rows, chosen):
    def difference(value):
        return show.text(value, "temperature_difference")

    glides = np.array([glide for glide, _ in rows])
    (widest, first), *_ = rows
    words = (
        f"Glide of {len(rows)} refrigerants at {show.text(pressure, 'gauge_pressure')}. The widest "
        f"is {first.name} with {difference(widest)}; for {int((glides <= WORTH_KNOWING).sum())} of "
        f"them it is below {difference(WORTH_KNOWING)}, so that dew and bubble read the same."
    )
    named = [(glide, fluid) for glide, fluid in rows if fluid.name == chosen]
    if named:
        glide, fluid = named[0]
        words += f" {fluid.name}: {difference(glide)}."
    return words
