"""What lesson 20 computes: the cold room of the call, and what its texts speak of."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from lowside import refrigerants, valve
from lowside.errors import NoOperatingPoint
from lowside.system import limits_compared, solve_low_side

from . import hall, plant
from .l22_numbers import heat_gain
from .wording import Difference

BOX, FREEZER = "produce-room", "fish-freezer"
DISTRIBUTOR = 1.5e5  # [Pa] lost in the distributor at design; Hundy, Trott and Welch: 1 to 2 bar
COIL_DIFFERENCE = 6.0  # [K] box air less evaporating

STATIC = 3.0  # [K] of the bulbs compared
FLATNESS = 0.92  # of the cross charge
HIGHEST = 258.15  # [K] evaporating, where the gas charge closes
COLD_CASE = 248.15  # [K] evaporating, in the second prediction
WARM = 293.15  # [K] box air before the pull-down
STEEL = 2000.0  # [kg] as much as racks, lining and floor hold

_WARMEST = 12.0  # [K] above design, as far as a warm room is looked for
_HALF_TURN = 0.5
_DOUBLE, _HALF_MORE, _SAME = 2.0, 1.5, 1.1
_LITTLE, _SOME = 1.0, 4.0  # [K]


@cache
def planned():
    """Build the cold room as planned: its distributor, and a valve with an external equaliser.

    Returns
    -------
    system.LowSide
    """
    box = hall.box(BOX)
    built = plant.low_side(box)
    flow = float(plant.run(box).mass_flow)
    lost = DISTRIBUTOR / flow**2
    return replace(built, evaporator=replace(built.evaporator, distributor_coefficient=lost))


@cache
def fitted():
    """Build the cold room as it was found: the same with an internal equaliser.

    Returns
    -------
    system.LowSide
    """
    built = planned()
    return replace(built, valve=replace(built.valve, external_equaliser=False))


def run(built, air=None):
    """Solve the cold room in summer.

    Parameters
    ----------
    built : system.LowSide
        As `planned` or `fitted`.
    air : float or ndarray, optional
        In the room, if not at its set temperature. [K]

    Returns
    -------
    system.LowSideResult

    Raises
    ------
    NoOperatingPoint
        If a single point does not run.
    """
    box = hall.box(BOX)
    at = box.box_temperature if air is None else air
    found = solve_low_side(built, at, box.summer_condensing)
    if np.ndim(at) == 0:
        found.refuse()
    return found


@cache
def as_found():
    """Solve the room as the tech finds it: so warm that no more heat gets in than is taken out.

    Returns
    -------
    system.LowSideResult

    Raises
    ------
    NoOperatingPoint
        If the room settles nowhere up to the warmest air looked at.
    """
    box = hall.box(BOX)
    air = box.box_temperature + np.linspace(0.0, _WARMEST, 49)
    spare = run(fitted(), air).capacity - heat_gain(box, box.summer_ambient, air)
    if not spare[0] <= 0.0 <= spare[-1]:
        raise NoOperatingPoint(
            "the room of the call settles at no temperature that was looked at",
            box_temperature=box.box_temperature,
        )
    return run(fitted(), float(np.interp(0.0, spare, air)))


@cache
def turned_out():
    """Solve the room as found after half a turn counterclockwise, at its set temperature.

    Returns
    -------
    system.LowSideResult
    """
    built = fitted()
    fluid = built.refrigerant
    return run(replace(built, valve=valve.turned(built.valve, fluid, -_HALF_TURN)))


def freezer():
    """Give the freezer of the pull-down as the figure takes it.

    Returns
    -------
    dict
        Arguments of `system.limits_compared`.
    """
    box = hall.box(FREEZER)
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "set_point": box.box_temperature,
        "outside": box.summer_ambient,
        "condenser_difference": box.condenser_difference,
        "warm": WARM,
        "highest": HIGHEST,
        "steel": STEEL,
    }


@cache
def colder():
    """Superheat that opens one valve at its setting and in a freezer, spring untouched [K].

    Returns
    -------
    tuple of float
        Set to, and needed in the cold.
    """
    box = hall.box(BOX)
    fluid = refrigerants.get(box.refrigerant)
    set_at = box.evaporating_temperature
    elements, spring = valve.bulbs(fluid, set_at, STATIC, FLATNESS, HIGHEST)
    return STATIC, float(valve.opens_at(elements["liquid"], fluid, spring, COLD_CASE))


@cache
def by_the_stem():
    """Turn the stem of the planned valve one turn clockwise, the load as before.

    Returns
    -------
    dict of str to float
        Share by which static superheat, opening superheat and the largest flow change.
    """
    box, built = hall.box(BOX), planned()
    fluid, point = built.refrigerant, plant.run(box)
    inlet = valve.inlet(fluid, point.condensing_pressure, _enthalpy(fluid, point))
    after = valve.turned(built.valve, fluid, 1.0)
    one, other = (
        valve.superheats(v, fluid, point.mass_flow, inlet, point.evaporating_pressure)
        for v in (built.valve, after)
    )
    largest = [float(v.port.largest_area) for v in (built.valve, after)]
    return {
        "static": float(other.static / one.static) - 1.0,
        "opening": float(other.opening / one.opening) - 1.0,
        "most": largest[1] / largest[0] - 1.0,
    }


def _enthalpy(fluid, point):
    return fluid.liquid_enthalpy(point.condensing_pressure, point.liquid_temperature)


def what_the_stem_moves():
    """Find what a turn of the stem changes most, as a key of the prediction."""
    changed = by_the_stem()
    return max(changed, key=lambda name: abs(changed[name]))


def what_cold_does():
    """Say what the cold does to the superheat that opens, as a key of the prediction."""
    before, after = colder()
    ratio = after / before
    if ratio < 1.0 / _SAME:
        return "less"
    if ratio < _SAME:
        return "same"
    return "double" if ratio > _HALF_MORE else "some"


def what_the_drop_costs():
    """Say how much superheat the internal equaliser adds, as a key of the prediction."""
    added = float(run(fitted()).superheat - run(planned()).superheat)
    if added < _LITTLE:
        return "little"
    return "some" if added < _SOME else "much"


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, found, right, wrong = hall.box(BOX), as_found(), run(planned()), run(fitted())
    fluid, out = refrigerants.get(box.refrigerant), turned_out()
    difference, gauge = "temperature_difference", "gauge_pressure"
    spring = valve.spring_pressure(planned().valve, fluid)
    down, _ = limits_compared(**freezer())
    turn = valve.superheat_per_turn(planned().valve, fluid, box.evaporating_temperature)
    cold_turn = valve.superheat_per_turn(planned().valve, fluid, COLD_CASE)
    drop = float(found.evaporator_inlet_pressure - found.evaporating_pressure)
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "set_point": (box.box_temperature, "temperature"),
        "outside": (box.summer_ambient, "temperature"),
        "box_air": (float(found.air_temperature), "temperature"),
        "suction": (float(found.evaporating_pressure), gauge),
        "behind_valve": (float(found.evaporator_inlet_pressure), gauge),
        "drop": (drop, "pressure_difference"),
        "found_dew": (float(found.evaporating_temperature), "temperature"),
        "suction_line": (float(found.suction_temperature), "temperature"),
        "found_superheat": _superheat(found),
        "head": (float(found.condensing_pressure), gauge),
        "liquid_line": (float(found.liquid_temperature), "temperature"),
        "subcooling": (float(found.subcooling), difference),
        "found_lift": (float(found.lift_share), "ratio"),
        "right_superheat": _superheat(right),
        "wrong_superheat": _superheat(wrong),
        "right_suction": (float(right.evaporating_pressure), gauge),
        "wrong_suction": (float(wrong.evaporating_pressure), gauge),
        "wrong_cooling": (float(wrong.capacity / box.design_load), "ratio"),
        "right_cooling": (float(right.capacity / box.design_load), "ratio"),
        "out_superheat": _superheat(out),
        "out_cooling": (float(out.capacity / box.design_load), "ratio"),
        "static": (box.metering.static_superheat, difference),
        "spring": (float(spring), "pressure_difference"),
        "turn": (float(turn), difference),
        "cold_turn": (float(cold_turn), difference),
        "design_dew": (box.evaporating_temperature, "temperature"),
        "cold_dew": (COLD_CASE, "temperature"),
        "set_static": (colder()[0], difference),
        "cold_static": (colder()[1], difference),
        "half_more": (_HALF_MORE - 1.0, "ratio"),
        "tenth": (_SAME - 1.0, "ratio"),
        "little": (_LITTLE, difference),
        "some": (_SOME, difference),
        "stem_static": (by_the_stem()["static"], "ratio"),
        "stem_opening": (abs(by_the_stem()["opening"]), "ratio"),
        "freezer": hall.box(FREEZER).what,
        "freezer_air": (hall.box(FREEZER).box_temperature, "temperature"),
        "warm": (WARM, "temperature"),
        "highest": (HIGHEST, "temperature"),
        "limited_time": (float(down.time[0, -1]), "hours"),
        "plain_time": (float(down.time[1, -1]), "hours"),
    }


def _superheat(point):
    return Difference(point.suction_temperature, point.evaporating_temperature, "temperature")
