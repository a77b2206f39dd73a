"""Cycles against thermodynamics itself; the textbooks' examples run in tests/test_checks.py."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import cycle, refrigerants
from lowside.errors import LowsideError, OutOfRange
from lowside.units import ICE_POINT

EASY = ("R290", "R134a", "R404A", "R448A", "R454C", "R22", "R1234yf")


def celsius(value):
    return value + ICE_POINT


@pytest.mark.parametrize(
    ("low", "cooling", "work", "cop", "discharge"),
    [(-10.0, 259.1, 72.0, 3.60, 56.2), (-25.0, 241.2, 97.9, 2.463, 59.8)],
)
def test_propane_cycle(low, cooling, work, cop, discharge):
    """R290 to 45 °C with 5 K superheat and 3 K subcooling; CoolProp 8.0.0 called directly."""
    solved = cycle.between_temperatures(
        refrigerants.get("R290"), celsius(low), celsius(45.0), superheat=5.0, subcooling=3.0
    )
    assert solved.cooling / 1e3 == pytest.approx(cooling, rel=0.002)
    assert solved.work / 1e3 == pytest.approx(work, rel=0.002)
    assert solved.cop == pytest.approx(cop, rel=0.002)
    assert solved.discharge.temperature == pytest.approx(celsius(discharge), abs=0.3)


@pytest.mark.parametrize(("low", "cop"), [(-10.0, 4.785), (-25.0, 3.545)])
def test_carnot(low, cop):
    """Definition: T_low / (T_high - T_low)."""
    solved = cycle.between_temperatures(refrigerants.get("R290"), celsius(low), celsius(45.0))
    assert solved.carnot_cop == pytest.approx(cop, abs=0.001)


@pytest.mark.parametrize("name", ["R448A", "R454C", "R455A"])
@pytest.mark.parametrize("lift", [0.5, 3.0, 40.0])
def test_the_reversible_cop_of_a_gliding_fluid_is_positive_and_falls_with_the_lift(name, lift):
    """Lorenz 1894 (from memory): with gliding heat exchange the mean temperatures count.

    Both pressures of one fluid: between them a reversible machine needs some work, however small
    the lift against the glide. For a small glide, the mean of bubble and dew point stands for it.
    """
    fluid = refrigerants.get(name)
    solved = cycle.between_temperatures(fluid, celsius(0.0), celsius(lift))
    cold, warm = (
        (fluid.dew_temperature(p) + fluid.bubble_temperature(p)) / 2
        for p in (solved.evaporator_outlet.pressure, solved.discharge.pressure)
    )
    assert solved.carnot_cop == pytest.approx(cold / (warm - cold), rel=0.1)


CONDITIONS = {
    "name": st.sampled_from(EASY),
    "low": st.floats(-35.0, 5.0),
    "high": st.floats(25.0, 50.0),
    "superheat": st.floats(0.0, 15.0),
    "subcooling": st.floats(0.0, 12.0),
    "efficiency": st.floats(0.5, 1.0),
}


@given(**CONDITIONS)
@settings(max_examples=80, deadline=None)
def test_first_and_second_law(name, low, high, superheat, subcooling, efficiency):
    solved = cycle.between_temperatures(
        refrigerants.get(name), celsius(low), celsius(high), superheat, subcooling, efficiency
    )
    assert solved.cooling + solved.work == pytest.approx(solved.rejection, rel=1e-12)
    assert solved.valve_outlet.enthalpy == pytest.approx(solved.liquid.enthalpy, rel=1e-12)
    # Throttling and real compression make entropy; 0.3 J/(kg K) is what the tables leave.
    assert solved.valve_outlet.entropy > solved.liquid.entropy
    assert solved.discharge.entropy >= solved.suction.entropy - 0.3
    # The second law for whatever temperatures heat is really taken up and given off at.
    taken_up = solved.cooling / (solved.suction.entropy - solved.valve_outlet.entropy)
    given_off = solved.rejection / (solved.discharge.entropy - solved.liquid.entropy)
    assert solved.cop < taken_up / (given_off - taken_up)


@given(**CONDITIONS)
@settings(max_examples=60, deadline=None)
def test_less_than_carnot(name, low, high, superheat, subcooling, efficiency):
    solved = cycle.between_temperatures(
        refrigerants.get(name), celsius(low), celsius(high), superheat, subcooling, efficiency
    )
    assert 0.0 < solved.cop < solved.carnot_cop
    if solved.discharge.quality <= 1.0:
        return  # R1234yf compressed from saturation ends wet: a clamp cannot tell its enthalpy
    recovered = cycle.compressor_efficiency(
        solved.refrigerant,
        solved.suction.pressure,
        solved.suction.temperature,
        solved.discharge.pressure,
        solved.discharge.temperature,
    )
    assert recovered == pytest.approx(efficiency, rel=2e-3)


def test_arrays_are_the_same_as_one_by_one():
    fluid = refrigerants.get("R448A")
    low = celsius(np.linspace(-30.0, 0.0, 5))[:, None]
    high = celsius(np.linspace(30.0, 50.0, 3))
    together = cycle.between_temperatures(fluid, low, high, 5.0, 3.0, 0.7)
    assert together.cop.shape == (5, 3)
    for i in range(5):
        for j in range(3):
            alone = cycle.between_temperatures(fluid, low[i, 0], high[j], 5.0, 3.0, 0.7)
            assert alone.cop == pytest.approx(together.cop[i, j], rel=1e-12)


def test_suction_line_heat_is_paid_for_and_not_sold():
    fluid = refrigerants.get("R134a")
    plain = cycle.between_temperatures(fluid, celsius(-10.0), celsius(40.0), superheat=5.0)
    warm = cycle.between_temperatures(
        fluid, celsius(-10.0), celsius(40.0), superheat=5.0, line_superheat=20.0, suction_drop=5e3
    )
    assert warm.cooling == pytest.approx(plain.cooling)
    assert warm.line_heat > 0.0
    assert warm.work > plain.work
    assert warm.volumetric_capacity < plain.volumetric_capacity


def test_corners_close_the_figure():
    solved = cycle.between_temperatures(refrigerants.get("R290"), celsius(-10.0), celsius(40.0))
    pressures, enthalpies = solved.corners()
    assert pressures.shape == enthalpies.shape == (5,)
    assert pressures[0] == pressures[-1]
    assert enthalpies[2] == enthalpies[3]


@pytest.mark.parametrize(
    ("changed", "quantity"),
    [
        ({"superheat": -1.0}, "superheat"),
        ({"subcooling": np.array([2.0, -1.0])}, "subcooling"),
        ({"isentropic_efficiency": 0.0}, "isentropic efficiency"),
        ({"isentropic_efficiency": 1.2}, "isentropic efficiency"),
        ({"condensing_pressure": 1e5}, "rise from suction to discharge pressure"),
        ({"superheat": float("nan")}, "superheat"),
    ],
)
def test_nonsense_is_refused_with_its_number(changed, quantity):
    given_values = {
        "evaporating_pressure": 2e5,
        "condensing_pressure": 1e6,
        "superheat": 5.0,
        "subcooling": 3.0,
        "isentropic_efficiency": 0.7,
    } | changed
    with pytest.raises(OutOfRange, match=quantity):
        cycle.between_pressures(refrigerants.get("R134a"), **given_values)


def test_pressure_outside_the_fluid_is_refused():
    with pytest.raises(LowsideError):
        cycle.between_pressures(refrigerants.get("R134a"), 100.0, 1e6)
