"""How much cold a box needs: walls, doors, goods, people, fans, and the hours the machine runs.

>>> from lowside import load, units
>>> room = load.ColdRoom(
...     length=3.0, width=2.5, height=2.4,
...     wall=load.Wall.panel("polyurethane", 0.1), floor=load.Wall.slab(),
...     door=load.Door(0.9, 2.0, 45.0 * 60.0), inside=load.Inside(fans=120.0),
...     goods=load.Goods(load.food("beef"), 200.0, 281.15, 800.0),
...     temperature=275.15, humidity=0.85, outside_temperature=303.15, outside_humidity=0.5,
...     ground_temperature=288.15)
>>> round(float(load.required_capacity(room)))
2444

`heat_gains` says where the heat comes from, `required_capacity` what the machine must take out,
`through_the_day` when, and `evaporating_temperature` how cold the coil may be for the goods'
sake. Every number of a room may be an array.

Not modelled: sun on walls, the heat that walls store, doors that leak while shut, fork-lift trucks.
"""

from .air import MoistAir, humidity_floor
from .day import Day, Timetable, through_the_day
from .door import DAY, LARGE_DIFFERENCE, PROTECTION, Door
from .goods import Food, Goods, food, foods
from .humidity import SPREAD, air_difference, evaporating_temperature, humidity_held, table
from .room import (
    MARGIN,
    RUN_TIMES,
    ColdRoom,
    HeatGains,
    Inside,
    heat_gains,
    person_heat,
    required_capacity,
)
from .walls import Wall, conductivity, materials, still_air

__all__ = [
    "DAY",
    "LARGE_DIFFERENCE",
    "MARGIN",
    "PROTECTION",
    "RUN_TIMES",
    "SPREAD",
    "ColdRoom",
    "Day",
    "Door",
    "Food",
    "Goods",
    "HeatGains",
    "Inside",
    "MoistAir",
    "Timetable",
    "Wall",
    "air_difference",
    "conductivity",
    "evaporating_temperature",
    "food",
    "foods",
    "heat_gains",
    "humidity_floor",
    "humidity_held",
    "materials",
    "person_heat",
    "required_capacity",
    "still_air",
    "table",
    "through_the_day",
]
