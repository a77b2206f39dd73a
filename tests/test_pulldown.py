"""A warm box pulled down: energy, time, and what a pressure limit does."""

from dataclasses import replace

import numpy as np
import pytest
from lowside import refrigerants, system, valve
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange

FLUID = refrigerants.get("R404A")
LOAD, COLD, OUTSIDE, CONDENSING = 3000.0, 253.15, 303.15, 315.15
CAPACITY = 2.0e6  # [J/K]


def freezer(limits=None):
    box = system.size_low_side(  # its valve has room to open further
        FLUID,
        LOAD,
        COLD,
        CONDENSING,
        temperature_difference=6.0,
        static_superheat=3.0,
        lift_share=0.4,
    )
    if limits is None:
        return box
    element = valve.PowerElement("gas", FLUID, limit_pressure=limits)
    return replace(box, valve=replace(box.valve, element=element))


def pull(box, warm=293.15, gain=LOAD / 90.0, **changes):
    sizes = {
        "heat_capacity": CAPACITY,
        "gain_conductance": gain,
        "condenser_conductance": 1.5 * LOAD / (CONDENSING - OUTSIDE),
    } | changes
    return system.pull_down(box, warm, COLD, OUTSIDE, **sizes)


def test_heat_taken_out_is_heat_lost_plus_heat_gained():
    """Energy over the whole pull-down, integrated over time instead of over temperature."""
    down = pull(freezer(), points=161)
    taken = np.trapezoid(down.result.capacity, down.time)
    gained = np.trapezoid((OUTSIDE - down.air_temperature) * LOAD / 90.0, down.time)
    assert taken - gained == pytest.approx(CAPACITY * (293.15 - COLD), rel=2e-4)


def test_the_condenser_sheds_cooling_and_work():
    down = pull(freezer())
    shed = 1.5 * LOAD / (CONDENSING - OUTSIDE) * (down.condensing_temperature - OUTSIDE)
    assert shed == pytest.approx(down.result.capacity + down.result.power, rel=3e-3)


def test_few_points_do_for_the_time():
    coarse, fine = (pull(freezer(), points=n).time[-1] for n in (21, 161))
    assert coarse == pytest.approx(fine, rel=5e-3)


def test_half_the_stuff_takes_half_the_time():
    whole, half = (pull(freezer(), heat_capacity=c).time[-1] for c in (CAPACITY, CAPACITY / 2))
    assert half == pytest.approx(whole / 2, rel=1e-9)


def test_a_pressure_limit_spares_the_motor_and_costs_time():
    """Direction: ACHR News, "TEVs: fine points of maximum operating pressure" (read): the limit
    keeps the compressor from overload during pull-down."""
    limit = valve.limit_pressure(
        freezer().valve.port, freezer().valve.element, freezer().valve.spring, FLUID, 258.15
    )
    limits = np.array([[float(limit)], [FLUID.pressure_range[1]]])
    down = pull(freezer(limits))
    power, evaporating = down.result.power, down.result.evaporating_temperature
    assert power[0].max() < 0.92 * power[1].max()
    assert down.time[0, -1] > down.time[1, -1]
    # Held within a few kelvin of the limit while the other runs far above it; once both are below
    # it they are the same.
    assert evaporating[0].max() < 258.15 + 4.0
    assert evaporating[1].max() > 258.15 + 6.0
    assert evaporating[0, -1] == pytest.approx(evaporating[1, -1], abs=1e-3)


def test_several_at_once_are_the_same_as_one_by_one():
    limits = np.array([3.0e5, 4.0e5])
    both = pull(freezer(limits[:, None]))
    for number, limit in enumerate(limits):
        alone = pull(freezer(float(limit)))
        assert both.time[number] == pytest.approx(alone.time, rel=1e-3)


def test_a_box_that_gains_more_than_it_loses_is_refused():
    with pytest.raises(NoOperatingPoint, match="used up") as caught:
        pull(freezer(), gain=LOAD / 40.0)
    assert COLD <= caught.value.numbers["air_temperature"] < 293.15


@pytest.mark.parametrize(
    "changed",
    [
        {"warm": COLD - 1.0},
        {"warm": np.nan},
        {"heat_capacity": 0.0},
        {"gain": -1.0},
        {"condenser_conductance": np.nan},
    ],
)
def test_nonsense_is_refused(changed):
    with pytest.raises(OutOfRange):
        pull(freezer(), **changed)


def test_a_low_side_that_does_not_run_is_refused():
    with pytest.raises(LowsideError):
        pull(freezer(), condenser_conductance=30.0)
