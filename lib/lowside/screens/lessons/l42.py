"""Lesson 42 shows limits by edition, the account of a charge by weight, and a leak in a room."""

from __future__ import annotations

from lowside import charge, units
from lowside.lesson import hall, l42
from lowside.plots import leaking, weighing
from lowside.plots.limits import limits_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

_NAMES = {
    "empty": "empty (evacuated)",
    "vapour": "vapour only",
    "liquid": "full of liquid",
    "unknown": "nobody knows",
}
_HOLDS = [(_NAMES[state], state) for state in charge.HOSE_HOLDS]
_WHERE = [(words, where) for where, words in leaking.WHERE.items()]

GRAM = 0.001  # [kg]
NAMEPLATE = 0.030, 0.500  # [kg]
SHOP = 278.15, 313.15  # [K]


def nameplate():
    """Give the charge on the nameplate of the call.

    Returns
    -------
    float
        [kg]
    """
    return hall.box(l42.BOX).charge


def as_charged():
    """Give the charge of the call as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `weighing_figure` besides the units.
    """
    return {
        "nameplate": nameplate(),
        "scale_drop": nameplate(),
        "step": l42.STEP,
        "scale_error": l42.SCALE_ERROR,
        "hose_length": l42.HOSE.length,
        "hose_bore": l42.HOSE.inner_diameter,
        "before": "empty",
        "after": "liquid",
        "temperature": l42.SHOP,
        "left": 0.0,
    }


def as_leaked():
    """Give the leak of the lesson as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `leak_figure` besides the units.
    """
    return {
        "charge": nameplate(),
        "hole": 0.5e-3,
        "where": "liquid",
        "floor_area": l42.ROOM.floor_area,
        "height": l42.ROOM.height,
        "air_changes": l42.ROOM.air_change_rate,
        "layer": l42.LAYER,
        "temperature": l42.SHOP,
    }


def picture(show):
    """Draw the account of the charge of the call."""
    drawn = weighing.weighing_figure(show, **as_charged())
    drawn.readings = ()  # an account, and no gauge readings
    return drawn


def limits(show):
    """Draw the limits beside the nameplate of the call."""
    return limits_figure(show, nameplate=nameplate())


def explore(reader):
    """Move scale, hose and what was left, and see the grams in the box."""
    start = as_charged()

    def slider(name, label, kind, low, high, step=None):
        return Slider(name, label, kind, start[name], low, high, step)

    careful = {**start, "step": 0.001, "scale_error": 0.001, "after": "vapour"}
    guessed = {**start, "before": "unknown", "after": "unknown", "left": 0.010}
    return Panel(
        weighing.weighing_figure,
        [
            slider("scale_drop", "The scale says", "charge", 0.0, 0.6, GRAM),
            slider("nameplate", "Nameplate", "charge", *NAMEPLATE, GRAM),
            Choice("before", "Hose when zeroed", _HOLDS, start["before"]),
            Choice("after", "Hose at the end", _HOLDS, start["after"]),
            slider("hose_length", "Length of the hose", "distance", 0.2, 4.0),
            slider("hose_bore", "Bore of the hose", "port", 2e-3, 10e-3, 1e-4),
            slider("step", "Step of the scale", "charge", 0.0005, 0.020),
            slider("scale_error", "Error of the scale, ±", "charge", 0.0, 0.020),
            slider("left", "Left by the last call", "charge", 0.0, 0.050),
            slider("temperature", "Hose and cylinder", "temperature", *SHOP),
        ],
        reader,
        "What the scale says and what the box got",
        weighing.why,
        {"Done with care": careful, "Nobody knows": guessed},
        "What is in the box. Meter on the floor, no ignition source, never above the nameplate",
    )


def room(reader):
    """Move hole, room and air, and see how near it comes to burning."""
    start = as_leaked()

    def slider(name, label, kind, low, high, step=None):
        return Slider(name, label, kind, start[name], low, high, step)

    hour = units.unit("1/h").factor
    return Panel(
        leaking.leak_figure,
        [
            slider("charge", "Charge that leaks", "charge", 0.030, 0.500, GRAM),
            slider("hole", "Hole", "port", 0.1e-3, 3.0e-3, 0.05e-3),
            Choice("where", "Behind the hole", _WHERE, start["where"]),
            slider("floor_area", "Floor", "floor", 2.0, 60.0),
            slider("height", "Height", "distance", 2.0, 4.0),
            slider("air_changes", "Air changes", "air_changes", 0.0, 20 * hour, 0.5 * hour),
            slider("layer", "Floor layer, of the height", "ratio", 0.1, 1.0, 0.01),
            slider("temperature", "Room", "temperature", *SHOP),
        ],
        reader,
        "If it leaks: how near to burning",
        leaking.why,
        {
            "Walk-in size": {**start, "floor_area": 4.0, "height": 2.2, "air_changes": 0.0},
            "Fan running": {**start, "air_changes": 6 * hour},
            "Pinhole": {**start, "hole": 0.1e-3, "where": "vapour"},
        },
        "What the air would hold. A picture, not a permit: only a meter near the floor knows",
    )


def by_edition(reader):
    """Choose a refrigerant and move a nameplate along the limits."""
    return Panel(
        limits_figure,
        [
            Choice("refrigerant", "Refrigerant", ["R290", "R600a"]),
            Slider("nameplate", "Nameplate", "charge", nameplate(), *NAMEPLATE, GRAM),
        ],
        reader,
        "Limits by edition",
    )


PICTURES = {"weighing": picture, "limits": limits}
PANELS = {"weighing": explore, "a leak": room, "limits": by_edition}
