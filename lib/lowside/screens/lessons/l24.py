"""Lesson 24 shows every size of the kit at every corner of a year."""

from __future__ import annotations

from functools import partial

from lowside import kit, refrigerants
from lowside.lesson import hall, l24_numbers, l24_tasks
from lowside.plots import cornerwords
from lowside.plots.corners import corner_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

LOAD = hall.QUARTER_TON, hall.FIVE_TONS  # [W]
BOX_AIR = 248.15, 283.15  # [K]
HOT = 308.15, 325.15  # [K]
COLD = 288.15, 308.15  # [K]
SHARE = 0.2, 1.0
COIL_DROP = 0.0, 60e3  # [Pa]
LIMIT = 248.15, 293.15  # [K]
FIXED = "temperature_difference", "pull_down_temperature", "static_superheat"


def picture(show):
    """Draw the box of the call at the corners of its year."""
    return corner_figure(show, **l24_numbers.conditions())


def explore(reader):
    """Move the job: refrigerant, load, heads, coil, limits and wishes."""
    start = l24_numbers.conditions()

    def slider(name, label, kind, limits):
        return Slider(name, label, kind, start[name], *limits)

    corners = [(corner.key, at) for at, corner in enumerate(kit.CORNERS)]
    controls = [
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
        slider("load", "Design load", "capacity", LOAD),
        slider("box_temperature", "Box air", "temperature", BOX_AIR),
        slider("hot", "Condensing, hottest day", "temperature", HOT),
        slider("cold", "Condensing, coldest day", "temperature", COLD),
        slider("least_share", "Compressor's lowest speed", "ratio", SHARE),
        slider("highest_evaporating", "Compressor may boil at most at", "temperature", LIMIT),
        slider("coil_drop", "Lost in the coil", "pressure_difference", COIL_DROP),
        Choice(
            "distributor_drop",
            "Distributor",
            [("yes", l24_numbers.DISTRIBUTOR_DROP), ("none", 0.0)],
        ),
        Choice("connection", "Pipes are to be", [("brazed", "braze"), ("flared", "flare")]),
        Choice(
            "construction",
            "Port is",
            [("as the kit decides", kit.EITHER), *((name, name) for name in kit.CONSTRUCTIONS)],
        ),
        Choice("corner", "Read the gauges at", corners),
    ]
    return Panel(
        partial(corner_figure, **{name: start[name] for name in FIXED}),
        controls,
        reader,
        title=l24_tasks.PANEL,
        why=cornerwords.why,
        anew=cornerwords.BOX,
        examples=examples(),
    )


def examples():
    """Give other boxes of the hall by the names of their buttons.

    Returns
    -------
    dict of str to dict
    """
    return {
        "Butcher's walk-in": _example("butcher-walk-in", 283.15),
        "Large cold room": _example("produce-room", 288.15),
        "Propane merchandiser": _example("drinks-merchandiser", 288.15, "flare"),
    }


def _example(key, limit, connection="braze"):
    box = hall.box(key)
    distributor = 0.0 if connection == "flare" else l24_numbers.DISTRIBUTOR_DROP
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "box_temperature": box.box_temperature,
        "hot": box.summer_condensing,
        "cold": box.winter_condensing,
        "highest_evaporating": limit,
        "distributor_drop": distributor,
        "connection": connection,
        "construction": kit.EITHER,
    }


PICTURES = {"corners": picture}
PANELS = {"corners": explore}
