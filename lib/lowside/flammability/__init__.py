"""Flammable charges: limits by edition, leaks through a hole, and what a leak does to a room.

The numbers explain why the limits are what they are. They never permit anything: the nameplate,
the edition in force and local code rule, and a leak is treated as flammable until a meter for that
gas says otherwise.
"""

from .leak import (
    GAS_HOLE,
    LIQUID_HOLE,
    LiquidLeak,
    critical_mass_flux,
    emptying_time,
    liquid_leak,
    vapour_leak,
)
from .limits import (
    RELEASE_HEIGHTS,
    ChargeLimit,
    LowerLimit,
    charge_limits,
    largest_charge,
    lower_limits,
    mass_concentration,
    multiple_of_lfl,
    rule,
    smallest_floor,
    smallest_room,
)
from .room import CAUTIONS, Room, concentration, peak_concentration, time_above

__all__ = [
    "CAUTIONS",
    "GAS_HOLE",
    "LIQUID_HOLE",
    "RELEASE_HEIGHTS",
    "ChargeLimit",
    "LiquidLeak",
    "LowerLimit",
    "Room",
    "charge_limits",
    "concentration",
    "critical_mass_flux",
    "emptying_time",
    "largest_charge",
    "liquid_leak",
    "lower_limits",
    "mass_concentration",
    "multiple_of_lfl",
    "peak_concentration",
    "rule",
    "smallest_floor",
    "smallest_room",
    "time_above",
    "vapour_leak",
]
