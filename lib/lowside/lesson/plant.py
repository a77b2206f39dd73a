"""The boxes of the market hall as hardware that runs: low side, readings, cycle.

``hall`` says what a box is; here it is built so that it carries exactly its design load in summer
with the port that the hall says it has, and solved.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from lowside import cycle, refrigerants, system, valve
from lowside.errors import LowsideError, NoOperatingPoint

from . import hall

_FIRST_SHARES = (0.3, 0.25)  # of the valve's travel; the port hardly curves over their logarithms
_STEPS = 12
_CLOSE = 1e-9


@cache
def low_side(box):
    """Build the low side of a box with a thermostatic valve, fitted to its own port.

    Coil and compressor are sized for the design load at the lift at which the box's port passes
    what that load needs.

    Parameters
    ----------
    box : hall.Box
        A box of the hall.

    Returns
    -------
    system.LowSide
        Hardware that carries the design load in summer.

    Raises
    ------
    LowsideError
        If the box has no thermostatic valve.
    NoOperatingPoint
        If no opening of this port carries the load with a bulb colder than the air.
    """
    if not isinstance(box.metering, hall.ExpansionValve):
        raise LowsideError(f"The box {box.key} has no thermostatic valve.")
    share, other = _FIRST_SHARES
    built, before = _sized(box, share), _sized(box, other)
    for _ in range(_STEPS):
        wide = math.log(built.valve.port.diameter / box.metering.port)
        if abs(wide) < _CLOSE:
            return built
        slope = math.log(built.valve.port.diameter / before.valve.port.diameter)
        slope /= math.log(share / other)
        share, other, before = share * math.exp(-wide / slope), share, built
        built = _sized(box, min(share, 1.0))
    raise NoOperatingPoint(
        f"no opening of the port of {box.key} carries its load", port=box.metering.port
    )


@cache
def run(box, static_superheat=None):
    """Solve a box at its design point in summer.

    Parameters
    ----------
    box : hall.Box
        A box of the hall.
    static_superheat : float, optional
        To which somebody has set the spring, if not as in the hall. [K]

    Returns
    -------
    system.LowSideResult
        One point.

    Raises
    ------
    NoOperatingPoint
        If the box does not run so.
    """
    built = low_side(box)
    if static_superheat is not None:
        spring = replace(built.valve.spring, static_superheat=static_superheat)
        built = replace(built, valve=replace(built.valve, spring=spring))
    point = system.solve_low_side(built, box.box_temperature, box.summer_condensing)
    point.refuse()
    return point


@cache
def cycle_of(box):
    """Draw up the cycle that a box runs at its design point in summer.

    Parameters
    ----------
    box : hall.Box
        A box of the hall.

    Returns
    -------
    cycle.CycleResult
        With the superheat, subcooling and compressor efficiency of the solved box.

    Raises
    ------
    NoOperatingPoint
        If the box does not run so.
    """
    fluid, point = refrigerants.get(box.refrigerant), run(box)
    efficiency = cycle.compressor_efficiency(
        fluid,
        point.evaporating_pressure,
        point.suction_temperature,
        point.condensing_pressure,
        point.discharge_temperature,
    )
    return cycle.between_pressures(
        fluid,
        point.evaporating_pressure,
        point.condensing_pressure,
        point.superheat,
        point.subcooling,
        efficiency,
    )


def _sized(box, lift_share):
    """Low side that carries the design load at one opening of the valve."""
    fluid, metering = refrigerants.get(box.refrigerant), box.metering
    return system.size_low_side(
        fluid,
        box.design_load,
        box.box_temperature,
        box.summer_condensing,
        temperature_difference=box.evaporator_difference,
        static_superheat=metering.static_superheat,
        lift_share=lift_share,
        balance=metering.balance,
        element=_element(box, fluid),
        external_equaliser=metering.equaliser == "external",
    )


def _element(box, fluid):
    metering = box.metering
    if metering.bulb_charge == "gas":
        return valve.PowerElement("gas", fluid, limit_pressure=_dry_pressure(box, fluid))
    reference = box.evaporating_temperature
    return valve.PowerElement(metering.bulb_charge, fluid, reference_temperature=reference)


def _dry_pressure(box, fluid):
    """Bulb pressure that just closes the valve at its MOP, so that the last liquid goes there."""
    metering = box.metering
    return float(
        valve.limit_pressure(
            valve.standard_port(metering.port, metering.balance),
            valve.PowerElement("liquid", fluid),
            valve.Spring(
                static_superheat=metering.static_superheat,
                evaporating_temperature=box.evaporating_temperature,
            ),
            fluid,
            metering.mop_temperature,
        )
    )
