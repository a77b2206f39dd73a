"""Lesson 14 shows where a room's heat comes from, its day, and the humidity a coil leaves."""

from __future__ import annotations

from functools import partial

from lowside import load, refrigerants, units
from lowside.lesson import hall, l14_room
from lowside.plots import heatin, moist
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

_CURTAINS = [(name, share) for name, share in load.PROTECTION.items()]
_FOODS = [(load.food(key).name, key) for key in load.foods()]
_LEAD = "What the room wants, and what its machine does"
_FREEZER = {
    "food": "fish",
    "brought": 300.0,
    "entering": 268.15,
    "temperature": 253.15,
    "run_time": load.RUN_TIMES["heater"],
    "capacity": 16e3,
}


def as_found():
    """Give the room of the call as the controls take it.

    Returns
    -------
    dict
        Arguments of `room_figure` besides the units.
    """
    return {
        "food": l14_room.FOOD,
        "brought": l14_room.BROUGHT,
        "entering": l14_room.ENTERING,
        "thickness": l14_room.THICKNESS,
        "open_time": l14_room.OPEN_TIME,
        "protection": load.PROTECTION["nothing"],
        "outside": l14_room.OUTSIDE[0],
        "temperature": hall.box(l14_room.BOX).box_temperature,
        "run_time": load.RUN_TIMES["air"],
        "capacity": l14_room.machine(),
    }


def room_figure(show, capacity, run_time, **values):
    """Build the room from the controls and draw it.

    Parameters
    ----------
    show : Readout
        The reader's units.
    capacity, run_time : float
        [W], [s]
    **values
        Arguments of `l14_room.room`.

    Returns
    -------
    LiveFigure
    """
    room = l14_room.room(**values)
    return heatin.heat_figure(show, room, capacity, run_time, l14_room.TIMETABLE)


def picture(show):
    """Draw the room of the call as it is used today."""
    drawn = room_figure(show, **as_found())
    drawn.readings = ()  # an account, and no gauge readings
    return drawn


def explore(reader):
    """Move walls, door, goods and machine."""
    start = as_found()
    slider = partial(_slider, start)
    newcomer = {**start, "brought": l14_room.BROUGHT + l14_room.NEWCOMER}
    return Panel(
        room_figure,
        [
            slider("brought", "Brought in a day", "goods", 0.0, 6000.0),
            slider("entering", "They come at", "temperature", 253.15, 308.15),
            Choice("food", "Goods", _FOODS, start["food"]),
            slider("open_time", "Door open in a day", "minutes", 0.0, 240.0 * 60.0, 300.0),
            Choice("protection", "Doorway", _CURTAINS, start["protection"]),
            slider("thickness", "Insulation", "thickness", 0.03, 0.25),
            slider("outside", "Air outside", "temperature", 278.15, 313.15),
            slider("temperature", "Box air", "temperature", 248.15, 288.15),
            slider("run_time", "May run", "hours", 10 * units.HOUR, 22 * units.HOUR, 1800.0),
            slider("capacity", "This machine", "capacity", 2e3, 30e3),
        ],
        reader,
        "Where the heat comes from, and when",
        heatin.why,
        {
            "The newcomer": newcomer,
            "… and a strip curtain": {**newcomer, "protection": load.PROTECTION["strip curtain"]},
            "As a freezer": {**start, **_FREEZER},
        },
        _LEAD,
    )


def humidity(reader):
    """Move the difference between air and coil."""
    box = hall.box(l14_room.BOX)
    differences = [row[0] for row in load.table()]
    return Panel(
        moist.moist_figure,
        [
            Slider(
                "difference",
                "Air less evaporating",
                "temperature_difference",
                box.evaporator_difference,
                differences[0],
                differences[-1],
            ),
            Slider("temperature", "Box air", "temperature", box.box_temperature, 253.15, 288.15),
            Choice("refrigerant", "Refrigerant", refrigerants.NAMES, box.refrigerant),
        ],
        reader,
        "How cold may the coil be?",
        moist.why,
        {"For leaves": {"difference": differences[0]}, "For bottles": {"difference": 10.0}},
    )


def _slider(start, name, label, kind, low, high, step=None):
    return Slider(name, label, kind, start[name], low, high, step)


PICTURES = {"heat": picture}
PANELS = {"room": explore, "humidity": humidity}
