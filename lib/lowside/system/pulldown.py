"""A warm box pulled down: what the low side does at every air temperature on the way, and when.

Coil, valve and compressor settle within a minute or so, a box takes hours: so at every air
temperature the low side is solved as if it stood still, all of them in one batch, and time follows
from what the box must lose,

    dt = C dT / (cooling - heat gain),     heat gain = U (outside - box).

The condenser answers with its temperature: the difference to the air outside goes with the heat
that it must shed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lowside import refrigerants, valve
from lowside.errors import NoOperatingPoint, require

from .box import LowSide, size_low_side
from .result import LowSideResult, Status
from .solve import solve_low_side

POINTS = 31
LIMITED, PLAIN = 0, 1  # along the first axis of `limits_compared`
STEEL_HEAT = 480.0  # [J/(kg K)] of carbon steel, from memory
_ROUNDS = 12  # for the condensing temperature
_FIRST_GUESS = 14.0  # [K] of condensing above the air outside
_SHARE = 0.94  # of the first step: a hotter condenser has less to shed, a whole one goes too far
_CLOSE = 0.03  # [K]

_SHARE_OF_GAIN = 0.6  # of the design load that gets in with everything shut; our own choice
_STATIC, _LIFT_SHARE, _BALANCE, _DIFFERENCE = 3.0, 0.42, 0.9, 6.0  # of the freezer compared


@dataclass(frozen=True, eq=False)
class PullDown:
    """A pull-down, from warm to cold; arrays end with one value an air temperature.

    Parameters
    ----------
    time : ndarray, shape (..., n)
        From the start. [s]
    air_temperature : ndarray, shape (n,)
        [K]
    condensing_temperature : ndarray, shape (..., n)
        [K]
    result : LowSideResult, shape (..., n)
        The low side at each.
    """

    time: np.ndarray
    air_temperature: np.ndarray
    condensing_temperature: np.ndarray
    result: LowSideResult


def pull_down(
    box,
    warm,
    cold,
    outside,
    *,
    heat_capacity,
    gain_conductance,
    condenser_conductance,
    subcooling=5.0,
    points=POINTS,
):
    """Pull a box down from one air temperature to another.

    Parameters
    ----------
    box : LowSide
        Hardware. To compare several, give their numbers the shape (k, 1).
    warm, cold : float
        Air in the box at the start and at the end. [K]
    outside : float
        Air around box and condenser. [K]
    heat_capacity : float
        Of everything that is cooled. [J/K]
    gain_conductance : float
        Heat gain per kelvin between outside and box. [W/K]
    condenser_conductance : float
        Heat shed per kelvin between condensing dew point and outside. [W/K]
    subcooling : float
        At the valve inlet. [K]
    points : int
        Air temperatures solved.

    Returns
    -------
    PullDown

    Raises
    ------
    OutOfRange
        If the box does not start warmer than it ends, or a size is not above zero.
    NoOperatingPoint
        If the low side does not run on the way, or its cooling does not exceed the heat gain.
    """
    require("air temperature at the start", warm, cold + 0.1, None, "temperature")
    for what, size in (
        ("heat capacity of the box", heat_capacity),
        ("heat gain per kelvin", gain_conductance),
        ("conductance of the condenser", condenser_conductance),
    ):
        require(what, size, 0.0, None, open_low=True)
    air = np.linspace(warm, cold, points)
    condensing, share = np.full_like(air, outside + _FIRST_GUESS), _SHARE
    at, missed = condensing, None
    for _ in range(_ROUNDS):
        result = solve_low_side(box, air, condensing, subcooling)
        _refuse(result, air)
        answered = outside + (result.capacity + result.power) / condenser_conductance
        miss = answered - condensing
        if np.max(np.abs(miss)) < _CLOSE:
            break
        if missed is not None:  # the slope between the last two: a secant for every point
            share = np.clip((condensing - at) / _apart_from_zero(missed - miss), 0.5, 1.0)
        at, missed = condensing, miss
        condensing = condensing + share * miss
    else:
        raise NoOperatingPoint(
            "the condenser settles at no temperature: it is too small for this box",
            condensing_temperature=float(np.max(condensing)),
        )
    surplus = result.capacity - gain_conductance * (outside - air)
    if np.any(surplus <= 0.0):
        stuck = float(np.max(np.where(surplus <= 0.0, air, -np.inf)))
        raise NoOperatingPoint(
            "the cooling is used up by the heat that gets in before the box is cold",
            air_temperature=stuck,
        )
    pace = heat_capacity / surplus  # [s/K]
    steps = 0.5 * (pace[..., 1:] + pace[..., :-1]) * -np.diff(air)
    time = np.concatenate([np.zeros((*steps.shape[:-1], 1)), np.cumsum(steps, axis=-1)], axis=-1)
    return PullDown(time, air, condensing, result)


@lru_cache(maxsize=32)
def limits_compared(
    refrigerant, load, set_point, outside, condenser_difference, warm, highest, steel
):
    """Pull a freezer down with and without a pressure limit.

    Parameters
    ----------
    refrigerant : str
        Name.
    load, set_point : float
        Design load [W] and box air [K].
    outside, condenser_difference : float
        Air outside [K], and condensing above it at the design load [K].
    warm : float
        Box air at the start. [K]
    highest : float
        Evaporating dew point at which the limited valve closes. [K]
    steel : float
        Racks, lining and floor, as a mass of steel. [kg]

    Returns
    -------
    down : PullDown
        First axis: with the limit, without it.
    design : LowSideResult
        The freezer at its design point.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        As `pull_down`.
    UnknownName
        If there is no such refrigerant.
    """
    fluid = refrigerants.get(refrigerant)
    condensing = outside + condenser_difference
    box = size_low_side(
        fluid,
        load,
        set_point,
        condensing,
        temperature_difference=_DIFFERENCE,
        static_superheat=_STATIC,
        lift_share=_LIFT_SHARE,
        balance=_BALANCE,
    )
    design = solve_low_side(box, set_point, condensing)
    built = box.valve
    limit = valve.limit_pressure(built.port, built.element, built.spring, fluid, highest)
    limits = np.array([[float(limit)], [fluid.pressure_range[1]]])
    element = valve.PowerElement("gas", fluid, limit_pressure=limits)
    both = LowSide(
        fluid,
        box.compressor,
        box.evaporator,
        valve.Valve(built.port, element, built.spring),
    )
    down = pull_down(
        both,
        warm,
        set_point,
        outside,
        heat_capacity=STEEL_HEAT * steel,
        gain_conductance=_SHARE_OF_GAIN * load / (outside - set_point),
        condenser_conductance=float(design.capacity + design.power) / condenser_difference,
    )
    return down, design


def _apart_from_zero(values):
    return np.where(np.abs(values) < 1e-9, 1.0, values)


def _refuse(result, air):
    bad = ~np.asarray(result.accepted)
    if bad.any():
        first = tuple(np.argwhere(bad)[0])
        raise NoOperatingPoint(
            Status(int(result.status[first])).reason,
            air_temperature=float(air[first[-1]]),
            condensing_pressure=float(result.condensing_pressure[first]),
        )
