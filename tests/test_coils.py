"""The evaporator against closed limits, a fine march, and its own balances."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import coils, refrigerants
from lowside.errors import LowsideError, NoOperatingPoint
from lowside.units import ICE_POINT

COIL = coils.Evaporator(300.0, 90.0, 350.0)
FLUIDS = ("R290", "R404A", "R448A", "R454C", "R455A")


def boiling(name, evaporating=-10.0):
    fluid = refrigerants.get(name)
    return fluid, fluid.dew_pressure(evaporating + ICE_POINT)


def march(coil, fluid, mass_flow, enthalpy, pressure, air, drop=0.0, steps=400):
    """Runge-Kutta (4) over equal shares of the coil; the drop spread evenly over the coil's length.

    Shares of one step know only their own state: wet where the state is below dew, dry above.
    """
    wet = coil.air_capacity_rate * (1.0 - np.exp(-coil.wet_conductance / coil.air_capacity_rate))
    dry = coil.air_capacity_rate * (1.0 - np.exp(-coil.dry_conductance / coil.air_capacity_rate))

    def slope(share, h):
        p = pressure + drop * (1.0 - share)
        state = fluid.state_ph(p, h)
        rate = wet if h < fluid.saturation(p).vapour_enthalpy else dry
        return rate * (air - state.temperature) / mass_flow

    step = 1.0 / steps
    for k in range(steps):
        s = k * step
        a = slope(s, enthalpy)
        b = slope(s + step / 2, enthalpy + a * step / 2)
        c = slope(s + step / 2, enthalpy + b * step / 2)
        d = slope(s + step, enthalpy + c * step)
        enthalpy += step * (a + 2 * b + 2 * c + d) / 6
    return enthalpy


@pytest.mark.parametrize(
    ("units", "published"),
    [(0.5, 0.3935), (1.0, 0.6321), (2.0, 0.8647)],
)
def test_effectiveness(units, published):
    """1 - exp(-NTU) for a side of constant temperature; any textbook of heat transfer."""
    assert coils.effectiveness(units * 350.0, 350.0) == pytest.approx(published, abs=1e-4)


def test_log_mean_difference():
    """Hundy, Trott & Welch 4e, example 1.10: 8.5 and 3.4 K; 110 m² at 420 W/(m² K) gives 257 kW."""
    mean = coils.log_mean_difference(8.5, 3.4)
    assert mean == pytest.approx(5.566, rel=1e-3)
    assert 110.0 * 420.0 * mean / 1e3 == pytest.approx(257.0, rel=1e-3)


@given(a=st.floats(0.01, 80.0), b=st.floats(0.01, 80.0))
def test_log_mean_lies_between_geometric_and_arithmetic_mean(a, b):
    mean = coils.log_mean_difference(a, b)
    assert np.sqrt(a * b) * (1 - 1e-9) <= mean <= 0.5 * (a + b) * (1 + 1e-9)
    near = coils.log_mean_difference(a, a * (1 + 1e-3))
    assert near == pytest.approx(a * 1e-3 / np.log1p(1e-3), rel=1e-9)


def test_all_wet_coil_without_glide_is_the_textbook_exchanger():
    """Liquid leaving, no glide: duty = C (1 - exp(-UA/C)) (T_air - T_evaporating)."""
    fluid, pressure = boiling("R290")
    result = coils.evaporate(COIL, fluid, 0.02, 300e3, pressure, 276.15)
    expected = 350.0 * (1.0 - np.exp(-300.0 / 350.0)) * (276.15 - fluid.dew_temperature(pressure))
    assert result.duty == pytest.approx(expected, rel=1e-4)
    assert result.wet_share == pytest.approx(1.0)
    assert result.outlet.quality < 1.0


@pytest.mark.parametrize("name", FLUIDS)
@pytest.mark.parametrize("fill", [0.4, 0.8, 0.95, 1.1, 1.6])
def test_against_a_march(name, fill):
    """Three pieces and closed forms against 400 steps, from starved to flooded."""
    fluid, pressure = boiling(name)
    inlet, air = 255e3 if name != "R290" else 300e3, 276.15
    dew = fluid.saturation(pressure).vapour_enthalpy
    entering = fluid.state_ph(pressure, inlet).temperature
    mean = coils.log_mean_difference(air - entering, air - fluid.dew_temperature(pressure))
    full = 350.0 * coils.effectiveness(300.0, 350.0) * mean / (dew - inlet)
    flow = fill * full
    ours = coils.evaporate(COIL, fluid, flow, inlet, pressure, air)
    fine = march(COIL, fluid, flow, inlet, pressure, air)
    assert ours.duty == pytest.approx(flow * (fine - inlet), rel=2e-3)
    assert ours.outlet.temperature == pytest.approx(
        fluid.state_ph(pressure, fine).temperature, abs=0.25
    )


@pytest.mark.parametrize("name", ["R290", "R404A", "R448A"])
def test_pressure_drop_against_a_march(name):
    """Drop spread over enthalpy (ours) or over length (the march): the duty hardly notices."""
    fluid, pressure = boiling(name)
    drop, flow = 20e3, 0.004 if name == "R290" else 0.009
    coil = coils.Evaporator(300.0, 90.0, 350.0, drop_coefficient=drop / flow**2)
    inlet = 255e3 if name != "R290" else 300e3
    ours = coils.evaporate(coil, fluid, flow, inlet, pressure, 276.15)
    assert ours.inlet_pressure - pressure == pytest.approx(drop)
    fine = march(coil, fluid, flow, inlet, pressure, 276.15, drop)
    assert ours.duty == pytest.approx(flow * (fine - inlet), rel=0.015)


@given(
    name=st.sampled_from(FLUIDS),
    evaporating=st.floats(-35.0, 0.0),
    difference=st.floats(4.0, 20.0),
    wet=st.floats(50.0, 2000.0),
    dry_share=st.floats(0.1, 0.8),
    rate=st.floats(50.0, 3000.0),
    flow=st.floats(5e-4, 0.05),
)
@settings(max_examples=120, deadline=None)
def test_balances_and_bounds(name, evaporating, difference, wet, dry_share, rate, flow):
    fluid, pressure = boiling(name, evaporating)
    air = fluid.dew_temperature(pressure) + difference
    coil = coils.Evaporator(wet, dry_share * wet, rate)
    inlet = fluid.saturation(pressure).liquid_enthalpy + 60e3
    result = coils.evaporate(coil, fluid, flow, inlet, pressure, air)
    assert result.duty == pytest.approx(flow * (result.outlet.enthalpy - inlet), rel=1e-12)
    assert result.duty == pytest.approx(rate * (air - result.air_outlet_temperature), rel=1e-9)
    assert 0.0 < result.wet_share <= 1.0 + 1e-12
    # 2 mK: the tables there and back.
    assert result.outlet.temperature <= air + 2e-3
    assert result.air_outlet_temperature > fluid.bubble_temperature(pressure) - 2e-3


@pytest.mark.parametrize("name", FLUIDS)
def test_more_refrigerant_leaves_colder_and_takes_up_more(name):
    fluid, pressure = boiling(name)
    inlet = 255e3 if name != "R290" else 300e3
    flow = np.linspace(0.002, 0.03, 60)
    result = coils.evaporate(COIL, fluid, flow, inlet, pressure, 276.15)
    assert np.all(np.diff(result.duty) > -1e-9 * result.duty[1:])
    assert np.all(np.diff(result.outlet.enthalpy) < 0.0)
    assert np.all(np.diff(result.wet_share) >= -1e-12)


@pytest.mark.parametrize("name", FLUIDS)
def test_outlet_is_continuous_where_the_coil_floods(name):
    """No jump between the last superheat and the first liquid."""
    fluid, pressure = boiling(name)
    inlet = 255e3 if name != "R290" else 300e3
    flow = np.linspace(0.002, 0.03, 4001)
    result = coils.evaporate(COIL, fluid, flow, inlet, pressure, 276.15)
    assert np.abs(np.diff(result.outlet.enthalpy)).max() < 300.0


def test_starved_coil_reaches_the_air():
    fluid, pressure = boiling("R404A")
    result = coils.evaporate(COIL, fluid, 1e-4, 255e3, pressure, 276.15)
    assert result.outlet.temperature == pytest.approx(276.15, abs=2e-3)


@pytest.mark.parametrize("name", FLUIDS)
def test_sized_coil_does_what_it_was_sized_for(name):
    fluid, pressure = boiling(name)
    inlet = 255e3 if name != "R290" else 300e3
    wanted = fluid.vapour_enthalpy(pressure, fluid.dew_temperature(pressure) + 5.0)
    flow = np.array([0.002, 0.01, 0.05])
    coil = coils.size_evaporator(
        fluid, flow, inlet, wanted, pressure, 273.15, flow * 6e4, pressure_drop=8e3
    )
    result = coils.evaporate(coil, fluid, flow, inlet, pressure, 273.15)
    assert result.outlet.enthalpy == pytest.approx(wanted, rel=1e-9)
    assert coil.wet_conductance / coil.wet_conductance[0] == pytest.approx(flow / flow[0])


def test_blend_needs_its_pieces():
    """One mean difference for a glide of 5 K and more is wrong by per cents, three are not."""
    fluid, pressure = boiling("R455A")
    inlet, air = 255e3, 272.15
    dew = fluid.saturation(pressure).vapour_enthalpy
    nodes = np.linspace(inlet, dew, 2001)
    difference = air - fluid.state_ph(pressure, nodes).temperature
    exact = np.sum(
        (dew - inlet) / 2000 / coils.log_mean_difference(difference[1:], difference[:-1])
    )

    def share(pieces):
        ends = difference[:: 2000 // pieces]
        return np.sum((dew - inlet) / pieces / coils.log_mean_difference(ends[1:], ends[:-1]))

    assert share(4) == pytest.approx(exact, rel=2e-3)
    assert abs(share(1) / exact - 1.0) > 5 * abs(share(4) / exact - 1.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: coils.Evaporator(0.0, 1.0, 1.0), "wet conductance"),
        (lambda: coils.Evaporator(1.0, 1.0, np.array([1.0, -1.0])), "air capacity rate"),
        (lambda: coils.Evaporator(1.0, 1.0, 1.0, -1.0), "pressure drop"),
        (
            lambda: coils.evaporate(COIL, *boiling("R404A")[:1], 0.01, 255e3, 4.3e5, 250.0),
            "air entering",
        ),
    ],
)
def test_nonsense_is_refused(call, words):
    with pytest.raises(LowsideError, match=words):
        call()


def test_too_little_air_is_said():
    fluid, pressure = boiling("R404A")
    wanted = fluid.saturation(pressure).vapour_enthalpy + 5e3
    with pytest.raises(NoOperatingPoint, match="this much air"):
        coils.size_evaporator(fluid, 0.01, 255e3, wanted, pressure, 273.15, 50.0)
    with pytest.raises(NoOperatingPoint, match="as warm as the air"):
        coils.size_evaporator(fluid, 0.01, 255e3, wanted + 30e3, pressure, 273.15, 5000.0)


def test_a_distributor_costs_pressure_before_the_coil_and_no_cooling():
    """The coil boils behind it: duty as without, only the valve outlet stands higher."""
    fluid, pressure = boiling("R449A")
    plain, spread = (coils.Evaporator(300.0, 90.0, 350.0, 2e7, lost) for lost in (0.0, 4e8))
    enthalpy = fluid.saturation(fluid.dew_pressure(313.15)).liquid_enthalpy
    one, other = (
        coils.evaporate(coil, fluid, 0.015, enthalpy, pressure, 275.15) for coil in (plain, spread)
    )
    assert other.duty == pytest.approx(one.duty, rel=1e-12)
    assert other.inlet_pressure - one.inlet_pressure == pytest.approx(4e8 * 0.015**2)
    with pytest.raises(LowsideError, match="distributor"):
        coils.Evaporator(300.0, 90.0, 350.0, 0.0, -1.0)
