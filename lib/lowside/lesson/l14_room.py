"""The basement room of lesson 14 as somebody measured it, and what may change on it.

All of it is invented, like the hall; the machine is that of the hall's produce room.
"""

from __future__ import annotations

from functools import cache

from lowside import load, units
from lowside.errors import require

from . import hall

BOX = "produce-room"

SIZE = 9.0, 7.0, 2.8  # [m] length, width, height inside
MATERIAL = "polystyrene"
THICKNESS = 0.08  # [m]
DOOR = 1.4, 2.1  # [m]
OPEN_TIME = 50.0 * 60.0  # [s] in a day
FOOD = "cabbage"
BROUGHT = 1800.0  # [kg] in a day
NEWCOMER = 1500.0  # [kg] in a day on top
ENTERING = 295.15  # [K]
STOCK = 6000.0  # [kg]
CHILLING_TIME = 14.0 * units.HOUR  # [s]
OUTSIDE = 299.15, 0.55  # [K], relative; the corridor on a summer's day
GROUND = 288.15  # [K]
HUMIDITY = 0.85
FANS = 540.0  # [W]
LIGHTS = 300.0  # [W]
LIGHTS_TIME = 12.0 * units.HOUR
PEOPLE = 2.0
PEOPLE_TIME = 3.0 * units.HOUR
TIMETABLE = load.Timetable()

# If the room is taken below freezing, air no longer thaws its coil.
_HEATER = {
    "defrost_heater": 5000.0,
    "defrosts": 4.0,
    "defrost_time": 1800.0,
    "frame_heaters": 150.0,
}


def room(
    temperature=None,
    food=FOOD,
    brought=BROUGHT,
    entering=ENTERING,
    thickness=THICKNESS,
    open_time=OPEN_TIME,
    protection=0.0,
    outside=OUTSIDE[0],
):
    """Build the room, with what the learner may change.

    Below freezing it defrosts by heater.

    Parameters
    ----------
    temperature : float, optional
        Of its air; that of the hall's box if not given. [K]
    food : str
        Key of `load.food`.
    brought : float
        In a day. [kg]
    entering : float
        [K]
    thickness : float
        Of walls and ceiling. [m]
    open_time : float
        Of the door in a day. [s]
    protection : float
        Share of the air that the doorway keeps out.
    outside : float
        Air around. [K]

    Returns
    -------
    load.ColdRoom

    Raises
    ------
    OutOfRange
        If the goods come colder than the room, or it is colder outside than inside.
    """
    box = hall.box(BOX)
    temperature = box.box_temperature if temperature is None else temperature
    require("temperature of the goods as they come", entering, temperature, None, "temperature")
    require("air outside", outside, temperature, None, "temperature")
    length, width, height = SIZE
    heater = _HEATER if temperature < units.ICE_POINT else {}
    return load.ColdRoom(
        length=length,
        width=width,
        height=height,
        wall=load.Wall.panel(MATERIAL, thickness),
        floor=load.Wall.slab(),
        door=load.Door(*DOOR, open_time, protection),
        goods=load.Goods(load.food(food), brought, entering, STOCK, CHILLING_TIME),
        inside=load.Inside(
            fans=FANS,
            lights=LIGHTS,
            lights_time=LIGHTS_TIME,
            people=PEOPLE,
            people_time=PEOPLE_TIME,
            **heater,
        ),
        temperature=temperature,
        humidity=HUMIDITY,
        outside_temperature=outside,
        outside_humidity=OUTSIDE[1],
        ground_temperature=GROUND,
        pressure=units.atmosphere(hall.hall().altitude),
    )


@cache
def today():
    """Build the room as it is used today.

    Returns
    -------
    load.ColdRoom
    """
    return room()


@cache
def with_newcomer():
    """Build the room with the goods of the new stall.

    Returns
    -------
    load.ColdRoom
    """
    return room(brought=BROUGHT + NEWCOMER)


def machine():
    """Capacity of the room's machine on a summer's day [W].

    Returns
    -------
    float
    """
    return hall.box(BOX).design_load
