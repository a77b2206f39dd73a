"""The adjusting stem, a valve at a load, and the pressure limit of a gas charge."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import refrigerants, valve
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange
from lowside.units import ICE_POINT

R404A = refrigerants.get("R404A")
SET_AT = 263.15
HEAD = 313.15


def make(fluid=R404A, balance=0.0, static=4.0, charge="liquid", diameter=2e-3, external=True):
    spring = valve.Spring(
        static_superheat=static,
        evaporating_temperature=SET_AT,
        pressure_difference=fluid.dew_pressure(HEAD) - fluid.dew_pressure(SET_AT),
    )
    return valve.Valve(
        valve.standard_port(diameter, balance),
        valve.PowerElement(charge, fluid),
        spring,
        external_equaliser=external,
    )


def arriving(fluid=R404A, subcooling=5.0):
    pressure = fluid.dew_pressure(HEAD)
    liquid = fluid.bubble_temperature(pressure) - subcooling
    return valve.inlet(fluid, pressure, fluid.liquid_enthalpy(pressure, liquid))


# ------------------------------------------------------------------------ the stem


def test_more_spring_is_more_superheat():
    """US Army TM 5-4120-375-14, p. 5-53 (read): the greater the spring pressure, the higher the
    superheat."""
    statics = [
        float(valve.turned(make(), R404A, turns).spring.static_superheat)
        for turns in (-1.0, 0.0, 1.0, 2.0)
    ]
    assert np.all(np.diff(statics) > 0.5)


def test_turning_adds_force_and_nothing_else():
    before, after = make(), valve.turned(make(), R404A, 1.5)
    added = valve.preload(after, R404A) - valve.preload(before, R404A)
    assert added == pytest.approx(1.5 * before.spring.rate * valve.THREAD, rel=1e-6)
    evaporating, flow = R404A.dew_pressure(SET_AT), 0.015
    was, now = (
        valve.superheats(built, R404A, flow, arriving(), evaporating) for built in (before, after)
    )
    assert now.lift_share == was.lift_share
    assert now.static > was.static + 1.0
    # The bulb stands a little warmer, where its pressure rises faster: hardly less to open.
    assert now.opening == pytest.approx(was.opening, rel=0.15)
    assert now.opening < was.opening


@given(turns=st.floats(-1.2, 4.0), balance=st.floats(0.0, 1.0), name=st.sampled_from(
    ["R290", "R404A", "R448A", "R134a"]))  # fmt: skip
@settings(max_examples=40, deadline=None)
def test_turns_add_up(turns, balance, name):
    fluid = refrigerants.get(name)
    built = make(fluid, balance)
    try:
        there = valve.turned(built, fluid, turns)
        back = valve.turned(there, fluid, -turns)
    except LowsideError:
        return
    assert back.spring.static_superheat == pytest.approx(4.0, abs=5e-3)


def test_a_turn_is_worth_more_degrees_in_the_cold():
    """The slope of the vapour-pressure curve alone: Clausius-Clapeyron, any textbook."""
    temperatures = ICE_POINT + np.array([5.0, -10.0, -25.0, -35.0])
    worth = valve.superheat_per_turn(make(balance=1.0), R404A, temperatures)
    assert np.all(np.diff(worth) > 0.0)
    # First order: force over diaphragm over slope of the dew line at the bulb.
    at_bulb = valve.superheats(
        make(balance=1.0), R404A, 0.0, arriving(), R404A.dew_pressure(temperatures)
    )
    slope = make().element.slope(temperatures + at_bulb.static)
    force = valve.force_per_turn(make())
    assert worth == pytest.approx(force / 5e-4 / slope, rel=0.05)


def test_a_turn_differs_from_refrigerant_to_refrigerant():
    """The steeper the vapour pressure, the less superheat the same force makes."""
    worth = {
        name: float(valve.superheat_per_turn(make(refrigerants.get(name)), fluid, SET_AT))
        for name in ("R404A", "R134a", "R290")
        for fluid in [refrigerants.get(name)]
    }
    assert worth["R404A"] < worth["R290"] < worth["R134a"]


def test_a_slack_spring_is_refused():
    with pytest.raises(NoOperatingPoint, match="slack") as caught:
        valve.turned(make(), R404A, -10.0)
    assert caught.value.numbers["spring_force"] < 0.0


def test_a_valve_that_would_open_without_superheat_is_refused():
    with pytest.raises(OutOfRange, match="static superheat"):
        valve.turned(make(diameter=4e-3), R404A, -2.5)


@pytest.mark.parametrize("thread", [0.0, -1e-3, np.nan])
def test_a_stem_without_pitch_is_refused(thread):
    with pytest.raises(OutOfRange, match="pitch"):
        valve.turned(make(), R404A, 1.0, thread)


# ------------------------------------------------------------------------ a valve at a load


@given(load=st.floats(500.0, 5000.0), evaporating=st.floats(-30.0, 5.0))
@settings(max_examples=40, deadline=None)
def test_the_load_is_carried(load, evaporating):
    pressure = R404A.dew_pressure(evaporating + ICE_POINT)
    duty = valve.at_load(make(), R404A, load, arriving(), pressure, 2e8)
    outlet = R404A.dew_temperature(pressure) + duty.superheats.operating
    taken = R404A.vapour_enthalpy(pressure, outlet) - arriving().enthalpy
    assert duty.mass_flow * taken == pytest.approx(load, rel=1e-4)
    assert duty.drop == pytest.approx(2e8 * duty.mass_flow**2, rel=1e-9)


@pytest.mark.parametrize("load", [0.0, -100.0, np.nan])
def test_no_load_is_refused(load):
    with pytest.raises(OutOfRange, match="load"):
        valve.at_load(make(), R404A, load, arriving(), R404A.dew_pressure(SET_AT))


def test_internal_equaliser_pays_for_the_drop_and_more_so_in_the_cold():
    temperatures = ICE_POINT + np.array([5.0, -10.0, -25.0])
    pressure = R404A.dew_pressure(temperatures)
    drop = 0.4e5
    prices = []
    for external in (True, False):
        built = make(balance=1.0, external=external)
        flow = valve.at_load(built, R404A, 2000.0, arriving(), pressure).mass_flow
        found = valve.superheats(built, R404A, flow, arriving(), pressure, drop)
        prices.append(found.operating)
    extra = prices[1] - prices[0]
    assert np.all(np.diff(extra) > 0.5)
    # Fall of the dew line over the same drop, counted where the bulb stands: independent of valve.
    bulb = R404A.dew_pressure(temperatures + prices[0])
    expected = R404A.dew_temperature(bulb + drop) - R404A.dew_temperature(bulb)
    assert extra == pytest.approx(expected, rel=0.02)


# ------------------------------------------------------------------------ the pressure limit


@pytest.mark.parametrize("balance", [0.0, 0.9, 1.0])
def test_a_gas_charge_closes_at_its_limit(balance):
    built, highest = make(balance=balance, diameter=3.15e-3), 273.15
    limit = valve.limit_pressure(built.port, built.element, built.spring, R404A, highest)
    gas = replace(built, element=valve.PowerElement("gas", R404A, limit_pressure=limit))
    inlet = arriving()
    evaporating = R404A.dew_pressure(highest + np.array([-2.0, -0.01, 0.5, 2.0]))
    plain, limited = (
        valve.superheats(one, R404A, 0.0, inlet, evaporating).static for one in (built, gas)
    )
    assert limited[:2] == pytest.approx(plain[:2], abs=0.05)
    assert limited[2] > plain[2] + 2.0
    assert limited[3] > limited[2] + 5.0


def test_turning_in_lowers_the_limit():
    """More spring: the same bulb pressure holds the valve open only at less evaporator pressure."""
    built = make(balance=1.0)
    limit = valve.limit_pressure(built.port, built.element, built.spring, R404A, 268.15)
    gas = replace(built, element=valve.PowerElement("gas", R404A, limit_pressure=limit))
    evaporating = R404A.dew_pressure(268.15 - 0.5)
    before, after = (
        valve.superheats(one, R404A, 0.0, arriving(), evaporating).static
        for one in (gas, valve.turned(gas, R404A, 1.0))
    )
    assert after > before + 8.0
