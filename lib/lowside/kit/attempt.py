"""One power element and one equaliser, tried with every cartridge at every corner of the year."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from lowside import system, valve
from lowside.system import ports

from . import parts, shelf
from .build import assembled, side_by_side
from .job import COLD_FULL, CORNERS, HOT_FULL, PULL_DOWN


@dataclass(frozen=True)
class Limits:
    """What a valve has to keep to; our own marks, and not laws.

    Attributes
    ----------
    carries : float
        Least share of the design load carried at full load. [-]
    most_lift : float
        Of the travel at full load on the hottest day: the rest is kept in hand for a strainer that
        clogs and liquid that flashes. [-]
    least_lift : float
        Of the travel: closer to its seat a pin chatters and dirt counts. [-]
    hunts : float
        Most that the flow may answer the bulb, over the answer of the ideal port. [-]
    least_superheat : float
        Below it liquid is too near the compressor. [K]
    most_swing : float
        Of the superheat from the hottest to the coldest day by the force on the port alone. [K]
    """

    carries: float = 0.97
    most_lift: float = 0.75
    least_lift: float = 0.1
    hunts: float = ports.NERVOUS
    least_superheat: float = 1.5
    most_swing: float = 1.0


LIMITS = Limits()

NEAR = 0.45, 2.2  # times the ideal port: what lies outside starves or hunts, and is not solved


class Fault(IntEnum):
    """What is wrong with a cartridge at a corner; 0 for nothing."""

    NONE = 0
    NO_BODY = 1
    NO_RUN = 2
    STARVES = 3
    NO_RESERVE = 4
    FLOODS = 5
    OVERLOADS = 6
    HUNTS = 7
    NEAR_SEAT = 8
    SWINGS = 9

    @property
    def too_small(self):
        """Whether a larger port would mend it."""
        return self in (Fault.STARVES, Fault.NO_RESERVE)

    @property
    def charge(self):
        """Bulb charge that might mend it where a liquid charge has it; None if none does."""
        return {Fault.FLOODS: "cross", Fault.OVERLOADS: "gas"}.get(self)


@dataclass(frozen=True, eq=False)
class Attempt:
    """Every cartridge near the ideal port with one element and one equaliser.

    Attributes
    ----------
    element : parts.Element
    external : bool
        Equaliser.
    cartridges : tuple of Cartridge
        By construction, smallest first.
    points : system.LowSideResult, shape (n, 5)
        By cartridge and by corner.
    able, least : ndarray, shape (n, 5)
        Cooling that the port feeds with its pin at the stop, and at the least lift, at the
        pressures found. [W]
    swing : ndarray, shape (n,)
        Of the superheat from the hottest to the coldest day by the force on the port alone. [K]
    answer : ndarray, shape (n,)
        How strongly the flow answers the bulb at full load on the hottest day, over the answer of
        the ideal port; 0 where that one does not answer at all. [-]
    faults : ndarray of int, shape (n, 5)
        Values of `Fault`.
    """

    element: parts.Element
    external: bool
    cartridges: tuple[parts.Cartridge, ...]
    points: system.LowSideResult
    able: np.ndarray
    least: np.ndarray
    swing: np.ndarray
    answer: np.ndarray
    faults: np.ndarray

    @property
    def meets(self):
        """Which cartridges meet every corner, ndarray of bool (n,)."""
        return (self.faults == Fault.NONE).all(axis=1)

    @property
    def turndown(self):
        """Most over least cooling at each corner, ndarray (n, 5) [-]."""
        return self.able / self.least

    @property
    def mop(self):
        """Highest evaporating temperature, that of the pull-down, ndarray (n,) [K]."""
        return self.points.evaporating_temperature[:, PULL_DOWN]


def attempt(job, element, external, limits=LIMITS, discharge="wile"):
    """Try every cartridge near the ideal port with one element and one equaliser.

    Parameters
    ----------
    job : Job
    element : parts.Element
    external : bool
        Equaliser.
    limits : Limits
    discharge : {"wile", "constant"}
        As in `valve.Valve`.

    Returns
    -------
    Attempt

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        If no coil can carry the load with this superheat and temperature difference.
    """
    ideal = _ideal(job, discharge)
    cartridges = _near(job, float(ideal.diameter))
    port = side_by_side([*cartridges, ideal])
    column = valve.Port(*(values[:, None] for values in vars(port).values()))
    hardware = assembled(column, element, job.setting, external, discharge)
    points = job.solve(hardware)
    least_area, open_area, now = (
        column.area(lift)
        for lift in (limits.least_lift * column.max_lift, column.max_lift, points.lift)
    )
    per_area = points.capacity / np.maximum(now, np.finfo(float).tiny)
    heads = job.fluid.dew_pressure(np.array([job.hot, job.cold]))
    push = column.exposed_area[:, 0] * (heads[0] - heads[1]) / element.diaphragm_area
    swing = push / hardware.element.slope(job.evaporating_temperature + job.static_superheat)
    gain = points.relative_gain[:, HOT_FULL]
    answer = np.divide(gain, gain[-1], out=np.zeros_like(gain), where=gain[-1] > 0.0)
    fits = [bool(shelf.bodies(job.connection, external, part.port)) for part in cartridges]
    points = points.at(np.s_[:-1])
    faults = _faults(job, points, answer[:-1], swing[:-1], np.array(fits), limits)
    return Attempt(
        element,
        external,
        cartridges,
        points,
        (per_area * open_area)[:-1],
        (per_area * least_area)[:-1],
        swing[:-1],
        answer[:-1],
        faults,
    )


def _near(job, ideal):
    """Cartridges of the wanted construction near a port, the nearest in any case."""
    found = [
        part
        for part in shelf.the_kit().cartridges
        if job.construction in (parts.EITHER, part.construction)
    ]
    nearest = min(found, key=lambda part: abs(math.log(part.port / ideal)))
    return tuple(
        part for part in found if part.port == nearest.port or NEAR[0] < part.port / ideal < NEAR[1]
    )


def _ideal(job, discharge):
    """Port that carries the design load at the usual lift, whatever the sizes of the kit."""
    known = job.box.valve
    if discharge == known.discharge:
        return known.port
    box, travel = job.box, known.port.max_lift
    point = job.solve(known).at(HOT_FULL)
    arriving = valve.inlet(
        job.fluid,
        point.condensing_pressure - job.distributor_drop,
        job.fluid.liquid_enthalpy(point.condensing_pressure, point.liquid_temperature),
    )
    flux = valve.mass_flux(box.refrigerant, arriving, point.evaporator_inlet_pressure, discharge)
    return valve.port_for_area(point.mass_flow / flux, ports.LIFT_SHARE, 0.0, travel)


def _faults(job, points, answer, swing, fits, limits):
    """Find the first fault at every corner, ndarray of int (n, 5)."""
    full = np.array([corner.full for corner in CORNERS])
    at = np.arange(len(CORNERS))
    pulls = at == PULL_DOWN
    highest = np.inf if job.highest_evaporating is None else job.highest_evaporating
    short = points.capacity < limits.carries * job.load
    wet = (points.status == system.Status.LIQUID_LEAVING) | (
        points.superheat < limits.least_superheat
    )
    return np.select(
        [
            ~fits[:, None] & (at == HOT_FULL),
            ~points.accepted,
            full & short,
            (at == HOT_FULL) & (points.lift_share > limits.most_lift),
            wet,
            pulls & (points.evaporating_temperature > highest),
            (at == HOT_FULL) & (answer > limits.hunts)[:, None],
            ~pulls & (points.lift_share < limits.least_lift),
            (at == COLD_FULL) & (swing > limits.most_swing)[:, None],
        ],
        [
            Fault.NO_BODY,
            Fault.NO_RUN,
            Fault.STARVES,
            Fault.NO_RESERVE,
            Fault.FLOODS,
            Fault.OVERLOADS,
            Fault.HUNTS,
            Fault.NEAR_SEAT,
            Fault.SWINGS,
        ],
        Fault.NONE,
    )
