"""Swing of superheat from hot to cold day against the size of the box, for both kinds of port."""

from __future__ import annotations

import math

import numpy as np

from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Markers, Text
from lowside.system import Status, ports
from lowside.system.swing import LEAST, MOST, superheat_swing

WIDTH, HEIGHT = 700, 330
EDGES = (52, 66, 680, 268)  # [px] left, top, right, bottom of the chart
MOST_SWING = 5.0  # [K]
TELLABLE = 0.5  # [K] what a clamp thermometer can tell: common practice, no published source

LOOKS = {
    ports.CONVENTIONAL: ("conventional", style.OWN, "solid"),
    ports.BALANCED: ("balanced", style.GOOD, "dashed"),
}
_LOAD_TICKS = {"us": (0.25, 0.5, 1, 2, 3, 5), "metric": (1, 2, 3, 5, 10, 15)}
_SWING_STEP = {"us": 2.0, "metric": 1.0}


def swing_figure(show, refrigerant, load, box_temperature, hot, cold):
    """Draw how far superheat swings with a conventional and with a balanced port.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name.
    load : float
        Design load of the box that is looked at. [W]
    box_temperature : float
        Air entering the evaporator. [K]
    hot, cold : float
        Condensing temperatures of the two days; every box is sized on the hot one. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        If the box does not run on the cold day.
    """
    swing = superheat_swing(refrigerant, box_temperature, hot, cold)
    one = superheat_swing(refrigerant, box_temperature, hot, cold, load)
    background = Background.once(lambda figure: _draw(figure, show), WIDTH, HEIGHT, ("swing", show))
    cold_day = [one.result.at((0, ports.COLD, kind)) for kind in LOOKS]
    for point in cold_day:
        point.refuse()
    swings = dict(zip(LOOKS, one.swings[0].tolist(), strict=True))
    numbers = {
        "refrigerant": refrigerant,
        "load": load,
        "box_temperature": box_temperature,
        "hot": hot,
        "cold": cold,
        "port": float(one.ports[0]),
        "conventional": swings[ports.CONVENTIONAL],
        "balanced": swings[ports.BALANCED],
        "saved": float(one.saved[0]),
        "wide_open": all(point.status == Status.WIDE_OPEN for point in cold_day),
        "drop_change": float(np.diff(one.result.condensing_pressure[0, :, 0])[0]),
    }
    items = [*_curves(swing), *_ports(swing, show), *_here(numbers, show)]
    readings = [("Right port", show.text(numbers["port"], "port"))]
    labels = "Conventional swings", "Balanced swings", "Balance saves"
    readings += zip(labels, _texts(numbers, show), strict=True)
    return LiveFigure(background, items, _words(numbers, show), readings, numbers)


def why(start, now, show):
    """Say what the balanced port saves at this size, and why.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two sentences.
    """
    if now["wide_open"]:
        return (
            "On the cold day the pin stands at its stop, conventional or balanced: what is short "
            "is pressure, and no balance brings it back. Hold the head up, or take a bigger port."
        )
    _, _, saved = _texts(now, show)
    lost = show.text(-now["drop_change"], "pressure_difference")
    port = show.text(now["port"], "port")
    force = f"The head falls by {lost}; that pressure times the area of a {port} port"
    if abs(now["saved"]) < TELLABLE:
        return f"{force} is next to nothing against the diaphragm: {saved}, no clamp can tell."
    return f"{force} is a push that the diaphragm has to replace: {saved} of superheat."


def _draw(figure, show):
    left, top, right, bottom = EDGES
    axes = figure.add_axes(
        (left / WIDTH, 1 - bottom / HEIGHT, (right - left) / WIDTH, (bottom - top) / HEIGHT)
    )
    axes.set_xscale("log")
    axes.set_xlim(LEAST, MOST)
    axes.set_ylim(0.0, MOST_SWING)
    axes.grid(axis="y")
    loads = _LOAD_TICKS[show.system]
    axes.set_xticks([float(show.si(load, "capacity")) for load in loads])
    axes.set_xticks([], minor=True)
    axes.set_xticklabels([f"{load:g}" for load in loads])
    most = float(show.value(MOST_SWING, "temperature_difference"))
    steps = np.arange(0.0, most + 0.1, _SWING_STEP[show.system])
    axes.set_yticks([float(show.si(step, "temperature_difference")) for step in steps])
    axes.set_yticklabels([f"{step:g}" for step in steps])
    page = figure.add_axes((0, 0, 1, 1))
    page.set_axis_off()
    page.set_xlim(0, WIDTH)
    page.set_ylim(HEIGHT, 0)
    title = show.axis("superheat, cold day less hot day", "temperature_difference")
    across = show.axis("design load", "capacity")
    bold = {"bold": True, "halo": False, "axes": "page"}
    return {"main": axes, "page": page}, [
        Text(left, 22, title, (Spot(0, 0),), **bold),
        Text((left + right) / 2, HEIGHT - 10, across, (Spot(0, 0, "middle"),), **bold),
    ]


def _curves(swing):
    known = np.isfinite(swing.saved)
    kinds = ports.BALANCED, ports.CONVENTIONAL
    between = (swing.swings[known, kind] for kind in kinds)
    items = [Area(swing.loads[known], *between, style.OWN, 0.12)]
    x = EDGES[2] - 266
    for kind, (name, colour, dash) in LOOKS.items():
        items.append(Line(swing.loads, swing.swings[:, kind], colour, 3.2, dash))
        items.append(Line([x, x + 30], [17, 17], colour, 3.2, dash, axes="page"))
        look = style.TEXT, colour, True, False
        items.append(Text(x + 38, 22, name, (Spot(0, 0),), *look, axes="page"))
        x += 156
    return items


def _ports(swing, show):
    """Right ports along the top: the bigger the box, the bigger the port."""
    items = [Text(EDGES[0], 50, "right port", (Spot(0, 0),), style.SMALL, halo=False, axes="page")]
    for load in _LOAD_TICKS[show.system][1:]:
        si = float(show.si(load, "capacity"))
        port = float(np.interp(math.log(si), np.log(swing.loads), swing.ports))
        share = math.log(si / LEAST) / math.log(MOST / LEAST)
        x = EDGES[0] + share * (EDGES[2] - EDGES[0])
        text = show.text(port, "port", 1)
        spots = (Spot(0, 0, "middle"), Spot(0, 0, "end"))
        items.append(Text(x, 50, text, spots, style.SMALL, halo=False, optional=True, axes="page"))
    return items


def _here(numbers, show):
    load = numbers["load"]
    items = [Line([load, load], [0.0, MOST_SWING], style.INK, 1.4)]
    for kind, shape in ((ports.CONVENTIONAL, "circle"), (ports.BALANCED, "square")):
        name, colour, _ = LOOKS[kind]
        y = min(numbers[name], MOST_SWING)
        items.append(Markers([load], [y], shape, 12, colour))
    text = f"balance saves {_texts(numbers, show)[-1]}"
    left_half = load < math.sqrt(LEAST * MOST)
    spot = Spot(10, 0) if left_half else Spot(-10, 0, "end")
    items.append(Text(load, 0.86 * MOST_SWING, text, (spot,), style.LARGE, bold=True))
    return items


def _words(numbers, show):
    air = show.text(numbers["box_temperature"], "temperature")
    load, port = show.text(numbers["load"], "capacity"), show.text(numbers["port"], "port")
    head = (
        f"{numbers['refrigerant']}, box air {air}, every box with its right port. "
        f"At {load} that is {port}. "
    )
    conventional, balanced, saved = _texts(numbers, show)
    return (
        f"{head}From the hot to the cold day superheat swings {conventional} with a conventional "
        f"port and {balanced} with a balanced one: balance saves {saved}."
    )


def _texts(numbers, show):
    """Both swings and their difference, rounded so that the three agree."""
    kind = "temperature_difference"
    swings = [show.rounded(numbers[name], kind) for name in ("conventional", "balanced")]
    return [show.text(value, kind) for value in (*swings, swings[0] - swings[1])]
