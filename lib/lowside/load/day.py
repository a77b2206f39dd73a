"""The load through the day: when the heat comes, and when the machine catches up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .. import units
from ..errors import LowsideError, require
from .door import DAY
from .room import heat_gains

STEPS = 48  # half hours
_CHILLED = 3.0  # time constants of the goods in their chilling time: 95 % of the heat is out


@dataclass(frozen=True)
class Timetable:
    """When people open and bring in, in seconds after midnight.

    Parameters
    ----------
    opens, closes : float
        Doors, lights and people belong between them. [s]
    delivery : float
        When the day's goods come. [s]
    delivery_share : float
        Share of the door's open time in the hour of the delivery.

    Raises
    ------
    OutOfRange
        If it closes before it opens, or the delivery comes at another time.
    """

    opens: float = 6.0 * units.HOUR
    closes: float = 18.0 * units.HOUR
    delivery: float = 7.0 * units.HOUR
    delivery_share: float = 0.3

    def __post_init__(self):
        require("opening time", self.opens, 0.0, DAY, "hours")
        require("closing time", self.closes, self.opens + units.HOUR, DAY, "hours")
        require(
            "time of the delivery", self.delivery, self.opens, self.closes - units.HOUR, "hours"
        )
        require("share of the delivery", self.delivery_share, 0.0, 1.0, "ratio")


@dataclass(frozen=True)
class Day:
    """A room's heat through the day, and a machine against it.

    Attributes
    ----------
    hours : ndarray, shape (STEPS,)
        Middle of each step, after midnight. [s]
    parts : dict of str to ndarray, shape (..., STEPS)
        Heat gains by the names of `HeatGains`. [W]
    available : ndarray, shape (..., STEPS)
        What the machine can take out, less while it defrosts. [W]
    behind : ndarray, shape (..., STEPS)
        Heat it has not yet taken out at the end of each step. [J]
    catches_up : ndarray of bool
        Whether it ever does.
    running : ndarray
        How long it runs in a day. [s]
    """

    hours: np.ndarray
    parts: dict
    available: np.ndarray
    behind: np.ndarray
    catches_up: np.ndarray
    running: np.ndarray

    @property
    def total(self):
        """All gains together [W]."""
        return sum(self.parts.values())

    @property
    def furthest_behind(self):
        """Most heat that waits in the goods [J]."""
        return self.behind.max(axis=-1)

    def warming(self, room):
        """How much warmer the goods get while the machine is behind, if all share it alike.

        Parameters
        ----------
        room : ColdRoom

        Returns
        -------
        ndarray
            Infinite in an empty room. [K]
        """
        food = room.goods.food
        heat = np.where(np.less(room.temperature, food.freezing), food.below, food.above)
        holds = np.asarray(room.goods.stock * heat, dtype=float)
        with np.errstate(divide="ignore", invalid="ignore"):
            warms = self.furthest_behind / holds
        return np.where(holds > 0.0, warms, np.where(self.furthest_behind > 0.0, np.inf, 0.0))


def through_the_day(room, timetable, capacity):
    """Spread a room's gains over the day, and let a machine run against them.

    Walls, fans and breathing are the same at all hours; door, lights and people belong to the
    opening hours; goods give their heat off in an exponential that begins with the delivery and
    runs into the next day. Every part adds up to exactly its daily mean.

    Parameters
    ----------
    room : ColdRoom
    timetable : Timetable
    capacity : float or ndarray
        Of the machine while it runs. [W]

    Returns
    -------
    Day

    Raises
    ------
    OutOfRange
        For a capacity not above zero, and as `heat_gains`.
    LowsideError
        Where the defrosts are not a whole number, the same in every room of an array.
    """
    require("capacity of the machine", capacity, 0.0, None, "capacity", open_low=True)
    gains = heat_gains(room)
    edges = np.linspace(0.0, DAY, STEPS + 1)
    even = np.ones(STEPS)
    open_hours = _within(edges, timetable.opens, timetable.closes)
    delivery = _within(edges, timetable.delivery, timetable.delivery + units.HOUR)
    share = timetable.delivery_share
    defrosting = _defrosting(edges, room.inside)
    shapes = {
        "door": share * delivery + (1.0 - share) * open_hours,
        "lights": open_hours,
        "people": open_hours,
        "goods": _given_off(edges, timetable.delivery, room.goods.chilling_time / _CHILLED),
    }
    parts = {
        name: np.asarray(value)[..., None] * shapes.get(name, even)
        for name, value in gains.parts.items()
    }
    available = np.asarray(capacity, dtype=float)[..., None] * (1.0 - defrosting)
    behind, running = _run(sum(parts.values()), available, capacity)
    catches_up = available.sum(axis=-1) * DAY / STEPS >= gains.per_day * (1.0 - 1e-12)
    return Day(0.5 * (edges[1:] + edges[:-1]), parts, available, behind, catches_up, running)


def _within(edges, start, end):
    """Shape of what happens evenly between two times, of mean 1."""
    overlap = np.minimum(edges[1:], end) - np.maximum(edges[:-1], start)
    return np.maximum(overlap, 0.0) * STEPS / (end - start)


def _given_off(edges, start, lag):
    """Shape of an exponential that begins every day at one time, of mean 1."""
    lag = np.asarray(lag, dtype=float)[..., None]

    def given(since):
        """Share given off since the first delivery of an endless row of days."""
        days, rest = np.floor(since / DAY), np.mod(since, DAY)
        return days - np.expm1(-rest / lag) / -np.expm1(-DAY / lag)

    return np.diff(given(edges - start)) * STEPS


def _defrosting(edges, inside):
    """Share of each step that goes to defrost, the defrosts evenly over the day."""
    thaws, counts, lasting = np.zeros(STEPS), inside.defrosts, inside.defrost_time
    count = int(np.max(counts))
    if np.any(np.asarray(counts) != count) or np.ptp(lasting) > 0.0:
        raise LowsideError(
            "A day is drawn with a whole number of defrosts, alike in every room of an array."
        )
    for number in range(count):
        start = (number + 0.5) * DAY / count
        overlap = np.minimum(edges[1:], start + np.max(lasting))
        thaws += np.maximum(overlap - np.maximum(edges[:-1], start), 0.0) * STEPS / DAY
    return np.minimum(thaws, 1.0)


def _run(load, available, capacity):
    """Heat left over through a second day like the first [J], and time run in it [s]."""
    step = DAY / STEPS
    load, available = np.broadcast_arrays(load, available)
    behind, left = np.empty_like(load), np.zeros(load.shape[:-1])
    for _ in range(2):
        taken = np.zeros(load.shape[:-1])
        for place in range(STEPS):
            waiting = left + load[..., place] * step
            out = np.minimum(waiting, available[..., place] * step)
            left, taken = waiting - out, taken + out
            behind[..., place] = left
    return behind, taken / capacity
