"""What lesson 22 computes: the box of the call on its days, and what its texts speak of."""

from __future__ import annotations

from functools import cache

import numpy as np

from lowside.errors import NoOperatingPoint
from lowside.system import ports, solve_low_side, with_port

from . import hall
from .wording import Difference

BOX = "butcher-walk-in"
SMALL_BOX = "drinks-merchandiser"
LARGE_BOX = "produce-room"
PROPANE_BOX = "ice-cream-freezer"
FITTED = 1.25e-3  # [m] the port that somebody left in the butcher's valve

_WARMEST = 15.0  # [K] above design, as far as a warm box is looked for
_HALF_DEGREE, _TWO_DEGREES = 0.5, 2.0  # [K]
_HARDLY, _NEARLY_DOUBLE = 1.05, 1.7


@cache
def sweep():
    """Solve the box of the call with every port.

    Returns
    -------
    system.ports.PortSweep
    """
    return _sweep_of(hall.box(BOX))


@cache
def as_found():
    """Solve the box of the call as the tech finds it on the first hot day.

    With too little cooling the box warms until what leaks in has become as little as what is taken
    out; the heat that leaks in goes with the difference to the air outside.

    Returns
    -------
    system.LowSideResult
        One point; its air temperature is that of the warm box.

    Raises
    ------
    NoOperatingPoint
        If the box settles nowhere up to the warmest air looked at.
    """
    box, now = hall.box(BOX), sweep()
    hardware = with_port(now.box, FITTED)
    air = box.box_temperature + np.linspace(0.0, _WARMEST, 61)
    cooling = solve_low_side(hardware, air, box.summer_condensing).capacity
    spare = cooling - heat_gain(box, box.summer_ambient, air)
    if not spare[0] <= 0.0 <= spare[-1]:
        raise NoOperatingPoint(
            "the box of the call settles at no temperature that was looked at",
            box_temperature=box.box_temperature,
        )
    settled = np.interp(0.0, spare, air)
    point = solve_low_side(hardware, settled, box.summer_condensing)
    point.refuse()
    return point


def heat_gain(box, outside, air):
    """Heat that gets into a box, in proportion to the difference to the air outside.

    Parameters
    ----------
    box : hall.Box
        The box; at its set temperature it gains its design load on the hot day.
    outside, air : float or ndarray
        Air outside and in the box. [K]

    Returns
    -------
    float or ndarray
        [W]
    """
    return box.design_load * (outside - air) / (box.summer_ambient - box.box_temperature)


@cache
def holds_up_to():
    """Find how warm it may be outside until the port found in the valve no longer suffices.

    Returns
    -------
    float
        Air outside at which the box of the call, at its set temperature, gains just what is taken
        out. [K]
    """
    box = hall.box(BOX)
    outside = np.linspace(_warmest_cold_day(), box.summer_ambient, 41)
    condensing = np.array([box.condensing_temperature(air) for air in outside])
    cooling = solve_low_side(with_port(sweep().box, FITTED), box.box_temperature, condensing)
    spare = cooling.capacity - heat_gain(box, outside, box.box_temperature)
    return float(np.interp(0.0, spare[::-1], outside[::-1]))


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, now, found = hall.box(BOX), sweep(), as_found()
    next_up = ports.next_size(FITTED)
    before, after = _hot(FITTED), _hot(next_up)
    right, double = _hot(box.metering.port), _hot(_double())
    small, large = hall.box(SMALL_BOX), hall.box(LARGE_BOX)
    winter, mild = now.points(FITTED).at((ports.COLD, ports.CONVENTIONAL)), _warmest_cold_day()
    fed = float(winter.capacity) / box.design_load
    need = heat_gain(box, mild, box.box_temperature) / box.design_load
    difference, gauge = "temperature_difference", "gauge_pressure"
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "load": (box.design_load, "capacity"),
        "set_point": (box.box_temperature, "temperature"),
        "outside": (box.summer_ambient, "temperature"),
        "fitted": (FITTED, "port"),
        "planned": (box.metering.port, "port"),
        "next_up": (next_up, "port"),
        "double": (_double(), "port"),
        "box_air": (float(found.air_temperature), "temperature"),
        "suction": (float(found.evaporating_pressure), gauge),
        "suction_line": (float(found.suction_temperature), "temperature"),
        "found_dew": (float(found.evaporating_temperature), "temperature"),
        "found_superheat": _superheat(found),
        "head": (float(found.condensing_pressure), gauge),
        "liquid_line": (float(found.liquid_temperature), "temperature"),
        "subcooling": (float(found.subcooling), difference),
        "superheat_before": _superheat(before),
        "superheat_after": _superheat(after),
        "suction_before": (float(before.evaporating_pressure), gauge),
        "suction_after": (float(after.evaporating_pressure), gauge),
        "winter_superheat": _superheat(winter),
        "winter_fed": (fed, "ratio"),
        "mild": (mild, "temperature"),
        "mild_need": (need, "ratio"),
        "mild_run": (need / fed, "ratio"),
        "holds_up_to": (holds_up_to(), "temperature"),
        "not_weather": ((fed - need) / (1.0 - need), "ratio"),
        "hot_fed": (float(before.capacity) / box.design_load, "ratio"),
        "cooling_before": (float(before.capacity), "capacity"),
        "cooling_after": (float(after.capacity), "capacity"),
        "right_cooling": (float(right.capacity), "capacity"),
        "double_cooling": (float(double.capacity), "capacity"),
        "right_superheat": _superheat(right),
        "double_superheat": _superheat(double),
        "double_lift": (float(double.lift_share), "ratio"),
        "half_degree": (_HALF_DEGREE, difference),
        "two_degrees": (_TWO_DEGREES, difference),
        "small_stall": small.stall,
        "small_what": small.what,
        "small_refrigerant": small.refrigerant,
        "small_port": (small.metering.port, "port"),
        "small_shift": (_price(SMALL_BOX, small.metering.port), difference),
        "planned_shift": (_price(BOX, box.metering.port), difference),
        "large_what": large.what,
        "large_load": (large.design_load, "capacity"),
        "large_port": (large.metering.port, "port"),
        "large_shift": (_price(LARGE_BOX, large.metering.port), difference),
        "right": (now.right, "port"),
        "spread_here": (_spread(BOX), "ratio"),
        "spread_propane": (_spread(PROPANE_BOX), "ratio"),
        "least_load": (hall.QUARTER_TON, "capacity"),
        "most_load": (hall.FIVE_TONS, "capacity"),
    }


def _sweep_of(box):
    return ports.port_sweep(
        box.refrigerant,
        box.design_load,
        box.box_temperature,
        box.summer_condensing,
        box.winter_condensing,
    )


def _superheat(point):
    return Difference(point.suction_temperature, point.evaporating_temperature, "temperature")


def _warmest_cold_day():
    """Air outside up to which head-pressure control holds the head of the cold day [K]."""
    box = hall.box(BOX)
    return box.winter_condensing - box.condenser_difference


def _double():
    return 2.0 * hall.box(BOX).metering.port


def _hot(port):
    return sweep().points(port).at((ports.HOT, ports.CONVENTIONAL))


def _price(key, port):
    """Shift of superheat from hot to cold day that a conventional port adds to a balanced one."""
    superheat = _sweep_of(hall.box(key)).points(port).superheat
    shift = superheat[ports.COLD] - superheat[ports.HOT]
    return float(shift[ports.CONVENTIONAL] - shift[ports.BALANCED])


def _spread(key):
    """Difference of the two flow models at a port half as wide as planned, wide open."""
    now, port = _sweep_of(hall.box(key)), 0.5 * hall.box(key).metering.port
    one, other = (
        float(now.points(port, model).mass_flow[ports.HOT, ports.CONVENTIONAL])
        for model in (False, True)
    )
    return other / one - 1.0


def moves_most():
    """Find what changes by the largest share with the next size, as a key of the prediction."""
    before, after = _hot(FITTED), _hot(ports.next_size(FITTED))
    moved = {
        "superheat": after.superheat / before.superheat,
        "suction": after.evaporating_pressure / before.evaporating_pressure,
        "cooling": after.capacity / before.capacity,
        "head": after.condensing_pressure / before.condensing_pressure,
    }
    return max(moved, key=lambda name: abs(moved[name] - 1.0))


def twice_as_wide():
    """Say what a port twice as wide as planned does to the cooling, as a key of the prediction."""
    gain = _hot(_double()).capacity / _hot(hall.box(BOX).metering.port).capacity
    if gain > _NEARLY_DOUBLE:
        return "double"
    return "quarter" if gain > _HARDLY else "hardly"


def what_balance_saves():
    """Say what balance saves on the small box, as a key of the prediction."""
    shift = abs(_price(SMALL_BOX, hall.box(SMALL_BOX).metering.port))
    if shift < _HALF_DEGREE:
        return "little"
    return "some" if shift < _TWO_DEGREES else "much"
