"""A cold room, where its heat comes from, and what the machine must be able to take out."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache

import numpy as np

from .. import store, units
from ..errors import require
from .air import FUSION, MoistAir
from .door import DAY, Door
from .goods import Goods
from .walls import FILE, Wall

#: Hours a day for which the machine is laid out, by the way it defrosts: the rest is for defrost
#: and for hotter days. Common practice, no published source.
RUN_TIMES = {"air": 16.0 * units.HOUR, "heater": 18.0 * units.HOUR}  # [s]

#: On top for what nobody foresaw. Common practice, no published source.
MARGIN = 0.10


@dataclass(frozen=True, kw_only=True)
class Inside:
    """What makes heat inside the box; every number may be an array.

    Parameters
    ----------
    fans : float
        Electric power of the evaporator's fans. [W]
    lights : float
        [W]
    lights_time : float
        In a day. [s]
    people : float
        How many work inside at a time.
    people_time : float
        In a day. [s]
    frame_heaters : float
        Of door frames and drains, always on. [W]
    defrost_heater : float
        Electric power; 0 where air does the thawing. [W]
    defrosts : float
        In a day.
    defrost_time : float
        How long each takes. [s]
    defrost_share : float
        Share of the heater's heat that stays in the box; the rest leaves with the meltwater.
        One half is common practice, no published source.

    Raises
    ------
    OutOfRange
        For anything negative, more than a day in a day, or a share that is none.
    """

    fans: float = 0.0
    lights: float = 0.0
    lights_time: float = 0.0
    people: float = 0.0
    people_time: float = 0.0
    frame_heaters: float = 0.0
    defrost_heater: float = 0.0
    defrosts: float = 0.0
    defrost_time: float = 0.0
    defrost_share: float = 0.5

    def __post_init__(self):
        for name in ("fans", "lights", "frame_heaters", "defrost_heater"):
            require(name.replace("_", " "), getattr(self, name), 0.0, None, "power")
        require("people inside", self.people, 0.0, None)
        require("defrosts in a day", self.defrosts, 0.0, None)
        require("time with lights", self.lights_time, 0.0, DAY, "hours")
        require("time with people", self.people_time, 0.0, DAY, "hours")
        require("time of all defrosts", self.thawing, 0.0, DAY, "hours")
        require("share of the defrost heat", self.defrost_share, 0.0, 1.0, "ratio")

    @property
    def thawing(self):
        """Time in a day that goes to defrost [s]."""
        return self.defrosts * self.defrost_time


@dataclass(frozen=True, kw_only=True)
class ColdRoom:
    """A cold room with its use and its surroundings; every number may be an array.

    Parameters
    ----------
    length, width, height : float
        Inside. [m]
    wall, floor : Wall
        Walls and ceiling alike; the floor on the ground.
    door : Door
    goods : Goods
    inside : Inside
    temperature, humidity : float
        Of the air inside. [K], relative
    outside_temperature, outside_humidity : float
        Of the air around. [K], relative
    ground_temperature : float
        Of the ground around the floor, averaged over the year. [K]
    pressure : float
        Barometer. [Pa]

    Raises
    ------
    OutOfRange
        For a room without size.
    """

    length: float
    width: float
    height: float
    wall: Wall
    floor: Wall
    door: Door
    goods: Goods
    inside: Inside
    temperature: float
    humidity: float
    outside_temperature: float
    outside_humidity: float
    ground_temperature: float
    pressure: float = units.STANDARD_ATMOSPHERE

    def __post_init__(self):
        for name in ("length", "width", "height"):
            size = getattr(self, name)
            require(f"{name} of the room", size, 0.0, None, "distance", open_low=True)

    @property
    def wall_area(self):
        """Four walls and ceiling, halfway between inside and outside [m2].

        For a room whose walls are much thinner than long this is within a few percent of the
        conduction shape factors of edges and corners.
        """
        thick = self.wall.thickness
        length, width, height = (
            size + thick for size in (self.length, self.width, self.height - 0.5 * thick)
        )
        return 2.0 * (length + width) * height + length * width

    @property
    def air(self):
        """The air inside."""
        return MoistAir(self.temperature, self.humidity, self.pressure)

    @property
    def outside_air(self):
        """The air around."""
        return MoistAir(self.outside_temperature, self.outside_humidity, self.pressure)

    @property
    def defrost(self):
        """Which key of ``RUN_TIMES`` belongs to the way it defrosts."""
        return "heater" if np.any(self.inside.defrost_heater) else "air"


@dataclass(frozen=True)
class HeatGains:
    """Where a room's heat comes from, averaged over the day.

    Attributes
    ----------
    walls, floor : ndarray
        Through insulation. [W]
    door : ndarray
        With the air of open doors, its water condensed and in a freezer frozen. [W]
    goods : ndarray
        Out of what is brought in. [W]
    breathing : ndarray
        Out of living produce that lies there. [W]
    fans, lights, people, defrost : ndarray
        Made inside; ``defrost`` with the heaters of frames and drains. [W]
    water : ndarray
        That comes in through the door and ends on the coil. [kg/s]
    """

    walls: np.ndarray
    floor: np.ndarray
    door: np.ndarray
    goods: np.ndarray
    breathing: np.ndarray
    fans: np.ndarray
    lights: np.ndarray
    people: np.ndarray
    defrost: np.ndarray
    water: np.ndarray

    @property
    def parts(self):
        """The gains by name, without ``water``."""
        return {f.name: getattr(self, f.name) for f in fields(self) if f.name != "water"}

    @property
    def total(self):
        """All together, averaged over the day [W]."""
        return sum(self.parts.values())

    @property
    def per_day(self):
        """All together in a day [J]."""
        return self.total * DAY


@cache
def _people():
    return store.read_toml(FILE)["people"]


def person_heat(temperature):
    """Heat of one person at work, more the colder it is.

    Parameters
    ----------
    temperature : array_like
        Of the room. [K]

    Returns
    -------
    ndarray
        ASHRAE Handbook, Refrigeration, from memory: 272 - 6 t. [W]
    """
    row = _people()
    celsius = np.asarray(temperature, dtype=float) - units.ICE_POINT
    return row["at_freezing_W"] - row["slope_W_K"] * celsius


def heat_gains(room):
    """Add up where a room's heat comes from.

    Parameters
    ----------
    room : ColdRoom

    Returns
    -------
    HeatGains
        Of the shape to which the room's numbers broadcast.

    Raises
    ------
    OutOfRange
        If it is colder outside than inside, or a number lies outside its tables.
    """
    inside, difference = room.inside, np.subtract(room.outside_temperature, room.temperature)
    below = np.subtract(room.ground_temperature, room.temperature)
    door, water = room.door.gain(room.air, room.outside_air)
    frozen = np.where(np.less(room.temperature, units.ICE_POINT), FUSION, 0.0)
    heater = inside.defrost_share * inside.defrost_heater * inside.thawing / DAY
    parts = (
        room.wall.heat(room.wall_area, difference),
        room.floor.heat_from_ground(room.length, room.width, below),
        door + water * frozen,
        room.goods.heat(room.temperature) / DAY,
        room.goods.stock * room.goods.food.breathing_heat(room.temperature),
        inside.fans * (1.0 - inside.thawing / DAY),
        inside.lights * inside.lights_time / DAY,
        inside.people * person_heat(room.temperature) * inside.people_time / DAY,
        inside.frame_heaters + heater,
        water,
    )
    return HeatGains(*np.broadcast_arrays(*parts))


def required_capacity(room, run_time=None, margin=MARGIN):
    """Cooling that the machine must have to take a day's heat out in its running time.

    The load for which ports, coils and compressors are chosen.

    Parameters
    ----------
    room : ColdRoom
    run_time : float or ndarray, optional
        Of a day; by default that of ``RUN_TIMES`` for the way the room defrosts. [s]
    margin : float or ndarray
        On top, as a share.

    Returns
    -------
    ndarray
        [W]

    Raises
    ------
    OutOfRange
        For a running time not above zero, or one that leaves no time to defrost.
    """
    run_time = RUN_TIMES[room.defrost] if run_time is None else run_time
    longest = np.min(DAY - room.inside.thawing)
    require("running time in a day", run_time, 0.0, longest, "hours", open_low=True)
    require("margin", margin, 0.0, None, "ratio")
    return heat_gains(room).per_day * (1.0 + np.asarray(margin, dtype=float)) / run_time
