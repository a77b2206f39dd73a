"""Lesson 22 shows one box with every port, and what a balanced port is worth at each size."""

from __future__ import annotations

from functools import partial
from itertools import pairwise

from lowside import refrigerants
from lowside.lesson import hall, l22_numbers, l22_tasks
from lowside.plots import portwords, swing
from lowside.plots.port import port_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.ladder import Ladder
from lowside.screens.panel import Panel
from lowside.system import ports

_BETWEEN = 5  # steps from one kit size to the next
_ROUND = 5  # decimals of a metre: a hundredth of a millimetre

LOAD = hall.QUARTER_TON, hall.FIVE_TONS  # [W]
BOX_AIR = 248.15, 283.15  # [K]
HOT = 308.15, 328.15  # [K]
COLD = 288.15, 308.15  # [K]
STATIC = 1.0, 5.0  # [K]


def as_found():
    """Give the box of the call as figures and controls take it.

    Returns
    -------
    dict
        Arguments of `port_figure` besides the units.
    """
    box = hall.box(l22_numbers.BOX)
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "box_temperature": box.box_temperature,
        "hot": box.summer_condensing,
        "cold": box.winter_condensing,
        "port": l22_numbers.FITTED,
        "day": "hot",
        "balanced": False,
        "static_superheat": ports.STATIC_SUPERHEAT,
    }


def picture(show):
    """Draw the box of the call with the port that was found in it."""
    return port_figure(show, **as_found())


def first_move(reader):
    """Move the port of the call and nothing else: what the front page shows."""
    box = as_found()
    return Panel(
        partial(port_figure, **{name: box[name] for name in box if name not in ("port", "day")}),
        [_port(box["port"]), _day()],
        reader,
        title="One walk-in, every port",
        why=portwords.why,
        anew=portwords.BOX,
    )


def explore(reader):
    """Move port, box, head, construction and spring."""
    start = as_found()

    def slider(name, label, kind, limits, step=None):
        return Slider(name, label, kind, start[name], *limits, step)

    controls = [
        _port(start["port"]),
        _day(),
        Choice("balanced", "Port is", [("conventional", False), ("balanced", True)]),
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
        slider("load", "Design load", "capacity", LOAD),
        slider("box_temperature", "Box air", "temperature", BOX_AIR),
        slider("hot", "Condensing, hot day", "temperature", HOT),
        slider("cold", "Condensing, cold day", "temperature", COLD),
        slider("static_superheat", "Static superheat (spring)", "temperature_difference", STATIC),
    ]
    examples = {
        "As planned": {**start, "port": hall.box(l22_numbers.BOX).metering.port},
        "Propane freezer": _example("ice-cream-freezer"),
        "Large cold room": _example("produce-room"),
    }
    return Panel(
        port_figure,
        controls,
        reader,
        title=l22_tasks.PANEL,
        why=portwords.why,
        anew=portwords.BOX,
        examples=examples,
    )


def _port(value):
    sizes = _sizes()
    return Ladder("port", "Port", "port", value, sizes[0], sizes[-1], None, sizes, "window")


def _day():
    return Choice("day", "Read the gauges on the", [("hot day", "hot"), ("cold day", "cold")])


def _example(key):
    box = hall.box(key)
    return {
        **as_found(),
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "box_temperature": box.box_temperature,
        "hot": box.summer_condensing,
        "cold": box.winter_condensing,
        "port": box.metering.port,
    }


def _sizes():
    """Kit sizes with a few between, rounded to what a rule shows."""
    found = set(ports.KIT)
    for small, large in pairwise(ports.KIT):
        for step in range(1, _BETWEEN):
            found.add(round(small * (large / small) ** (step / _BETWEEN), _ROUND))
    return tuple(sorted(found))


def balance(reader):
    """Move the size of the box and see what a balanced port saves."""
    start, small = as_found(), hall.box(l22_numbers.SMALL_BOX)

    def slider(name, label, kind, value, limits):
        return Slider(name, label, kind, value, *limits)

    controls = [
        slider("load", "Design load", "capacity", small.design_load, LOAD),
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
        slider("box_temperature", "Box air", "temperature", start["box_temperature"], BOX_AIR),
        slider("hot", "Condensing, hot day", "temperature", start["hot"], HOT),
        slider("cold", "Condensing, cold day", "temperature", start["cold"], COLD),
    ]
    return Panel(
        swing.swing_figure,
        controls,
        reader,
        title="What a balanced port is worth",
        why=swing.why,
        lead="From the hot to the cold day, superheat",
    )


PICTURES = {"port": picture}
PANELS = {"port": explore, "balance": balance}
