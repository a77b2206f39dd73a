"""Where hunting begins: least stable superheat against load, and what the valve's setting gives."""

from __future__ import annotations

import numpy as np

from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Markers, Text

WIDTH, HEIGHT = 700, 380
_EDGES = (58, 44, 668, 322)  # [px] left, top, right, bottom
MOST = 5.0  # [K] of superheat shown
_HUNTS = "#E4D8F2"
_STEP = {"us": 2.0, "metric": 1.0}
_LOAD_STEP = {"us": 0.2, "metric": 0.5}


def edge_figure(show, name, edge, settings):
    """Draw the edge of hunting over the load, and the superheat of a valve with its stem as set.

    Parameters
    ----------
    show : Readout
        The reader's units.
    name : str
        Of the box and its port.
    edge : sequence of hunting.LeastSuperheat
        By load, rising.
    settings : sequence of (str, sequence of hunting.Circuit)
        What a setting of the stem is called, and the box at rest with it, by load.

    Returns
    -------
    LiveFigure
        With words and numbers.
    """
    least = np.array([(one.capacity, one.superheat) for one in edge])
    lines = [
        (said, np.array([(one.capacity, one.superheat, one.margin) for one in row]))
        for said, row in settings
    ]
    every = np.concatenate([least[:, 0], *(line[:, 0] for _, line in lines)])
    window = 0.96 * float(every.min()), 1.02 * float(every.max())

    def draw(figure):
        return _draw(figure, show, window)

    background = Background.once(draw, WIDTH, HEIGHT, ("edge", show, window))
    grown = least.copy()
    grown[0, 0], grown[-1, 0] = window
    items = [
        Area(grown[:, 0], np.zeros(len(grown)), grown[:, 1], _HUNTS, 1.0),
        Line(grown[:, 0], grown[:, 1], style.INK, 3.0),
        Text(
            float(np.mean(window)),
            0.9,
            "hunts",
            (Spot(0, 0, "middle"),),
            style.LARGE,
            bold=True,
            halo=False,
        ),
    ]
    said = [
        f"{name}. The least superheat at which the valve settles rises with the load, from "
        f"{_point(show, least[0])} to {_point(show, least[-1])}."
    ]
    for (label, line), dash in zip(lines, ("dashed", "dash-dot"), strict=False):
        calm = line[:, 2] >= 1.0
        items.append(Line(line[:, 0], line[:, 1], style.OWN, 2.4, dash))
        items.append(Markers(line[calm, 0], line[calm, 1], "circle", 11, style.GOOD))
        items.append(Markers(line[~calm, 0], line[~calm, 1], "diamond", 13, style.OWN))
        items.append(
            Text(
                line[-1, 0],
                line[-1, 1],
                label,
                (Spot(-6, -12, "end"), Spot(-6, 22, "end")),
                style.SMALL,
                bold=True,
            )
        )
        said.append(
            f"{label}: {_point(show, line[0])} to {_point(show, line[-1])}; it settles at "
            f"{int(calm.sum())} of the {calm.size} loads drawn."
        )
    numbers = {"edge": least, "settings": dict(lines)}
    return LiveFigure(background, items, " ".join(said), numbers=numbers)


def _point(show, point):
    load, superheat = (float(value) for value in point[:2])
    return f"{show.text(superheat, 'temperature_difference')} at {show.text(load, 'capacity')}"


def _draw(figure, show, window):
    left, top, right, bottom = _EDGES
    axes = figure.add_axes(
        (left / WIDTH, 1 - bottom / HEIGHT, (right - left) / WIDTH, (bottom - top) / HEIGHT)
    )
    axes.set_xlim(*window)
    axes.set_ylim(0.0, MOST)
    axes.grid()
    _ticks(axes.set_xticks, axes.set_xticklabels, show, "capacity", window, _LOAD_STEP)
    ends = (0.0, MOST)
    _ticks(axes.set_yticks, axes.set_yticklabels, show, "temperature_difference", ends, _STEP)
    page = figure.add_axes((0, 0, 1, 1))
    page.set_axis_off()
    page.set_xlim(0, WIDTH)
    page.set_ylim(HEIGHT, 0)
    look = {"bold": True, "halo": False, "axes": "page"}
    texts = [
        Text(left, 24, show.axis("superheat", "temperature_difference"), (Spot(0, 0),), **look),
        Text(right, HEIGHT - 8, show.axis("cooling", "capacity"), (Spot(0, 0, "end"),), **look),
    ]
    texts.append(Line([left + 128, left + 158], [19, 19], style.INK, 3.0, axes="page"))
    key = left + 166, 24, "least superheat that settles", (Spot(0, 0),), style.SMALL
    texts.append(Text(*key, halo=False, axes="page"))
    keys = (("circle", style.GOOD, "settles"), ("diamond", style.OWN, "hunts"))
    for number, (shape, colour, text) in enumerate(keys):
        x = right - 190 + 100 * number
        texts.append(Markers([x], [19], shape, 12, colour, axes="page"))
        texts.append(Text(x + 12, 24, text, (Spot(0, 0),), style.SMALL, halo=False, axes="page"))
    return {"main": axes, "page": page}, texts


def _ticks(place, label, show, kind, ends, steps):
    step = steps[show.system]
    low, high = (float(show.value(end, kind)) for end in ends)
    values = np.arange(np.ceil(low / step - 1e-9) * step, high + 1e-9, step)
    place([float(show.si(value, kind)) for value in values])
    label([f"{value + 0.0:g}" for value in values])
