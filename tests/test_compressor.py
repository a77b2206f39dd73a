"""Compressors: limits, balances, and the rating polynomial against the model it was made from."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import compressor, refrigerants
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange
from lowside.units import HOUR, ICE_POINT, POUND

FLUID = refrigerants.get("R404A")
MACHINE = compressor.Compressor(1e-3)


def suction(evaporating=-10.0, superheat=8.0, fluid=FLUID):
    pressure = fluid.dew_pressure(evaporating + ICE_POINT)
    return pressure, fluid.vapour_enthalpy(pressure, evaporating + ICE_POINT + superheat)


@given(
    evaporating=st.floats(-40.0, 5.0),
    condensing=st.floats(20.0, 55.0),
    superheat=st.floats(0.5, 20.0),
    loss=st.floats(0.0, 0.5),
)
@settings(max_examples=60, deadline=None)
def test_energy_balance_and_efficiency_recovered(evaporating, condensing, superheat, loss):
    machine = compressor.Compressor(1e-3, shell_loss=loss)
    pressure, enthalpy = suction(evaporating, superheat)
    high = FLUID.dew_pressure(condensing + ICE_POINT)
    result = machine.run(FLUID, pressure, enthalpy, high)
    carried = result.mass_flow * (result.discharge_enthalpy - enthalpy)
    assert carried + result.shell_heat == pytest.approx(result.power, rel=1e-9)
    entropy = FLUID.state_ph(pressure, enthalpy).entropy
    isentropic = FLUID.state_ps(high, entropy).enthalpy - enthalpy
    assert result.mass_flow * isentropic / result.power == pytest.approx(
        result.isentropic_efficiency, rel=1e-9
    )


def test_without_clearance_the_pressure_ratio_does_not_matter():
    """Limit of the clearance formula."""
    ideal = compressor.Compressor(1e-3, clearance=0.0, filling=1.0)
    assert ideal.volumetric_efficiency(np.array([1.0, 5.0, 20.0])) == pytest.approx(1.0)


def test_clearance_formula_by_hand():
    """c = 5 %, n = 1, r = 6: the dead gas expands to 30 % of the stroke, 0.75 is drawn in."""
    machine = compressor.Compressor(1e-3, clearance=0.05, re_expansion_exponent=1.0, filling=1.0)
    assert machine.volumetric_efficiency(6.0) == pytest.approx(0.75)
    assert machine.volumetric_efficiency(21.0) == pytest.approx(0.0, abs=1e-12)
    assert machine.volumetric_efficiency(40.0) == 0.0


def test_volumetric_efficiency_falls_with_pressure_ratio():
    ratio = np.linspace(1.0, 25.0, 60)
    assert np.all(np.diff(MACHINE.volumetric_efficiency(ratio)) < 0.0)


def test_isentropic_efficiency_peaks_where_told():
    ratio = np.linspace(1.1, 15.0, 500)
    efficiency = MACHINE.isentropic_efficiency(ratio)
    assert ratio[np.argmax(efficiency)] == pytest.approx(MACHINE.best_pressure_ratio, rel=0.01)
    assert efficiency.max() == pytest.approx(MACHINE.peak_efficiency, rel=1e-4)
    assert np.all(efficiency > 0.0)


def test_hotter_condensing_pumps_less_and_costs_more_per_kilogram():
    pressure, enthalpy = suction()
    high = FLUID.dew_pressure(np.linspace(25.0, 55.0, 20) + ICE_POINT)
    result = MACHINE.run(FLUID, pressure, enthalpy, high)
    assert np.all(np.diff(result.mass_flow) < 0.0)
    assert np.all(np.diff(result.power / result.mass_flow) > 0.0)
    assert np.all(np.diff(result.discharge_temperature) > 0.0)


def test_shell_heat_cools_the_discharge():
    pressure, enthalpy = suction()
    high = FLUID.dew_pressure(313.15)
    loss = np.array([0.0, 0.2, 0.4])
    result = compressor.Compressor(1e-3, shell_loss=loss).run(FLUID, pressure, enthalpy, high)
    assert np.all(np.diff(result.discharge_temperature) < 0.0)
    assert result.power == pytest.approx(result.power[0])


def test_polynomial_term_by_term():
    """Order of the ten terms as in the open model HPSim, src/Compressor.f90, function X."""
    s, d = 3.0, 5.0
    terms = (1.0, s, d, s**2, s * d, d**2, s**3, d * s**2, s * d**2, d**3)
    for k, term in enumerate(terms):
        coefficients = np.zeros(10)
        coefficients[k] = 1.0
        assert compressor.polynomial(coefficients, s, d) == pytest.approx(term)


GRID = (np.linspace(243.15, 273.15, 7), np.linspace(298.15, 328.15, 7))


@pytest.mark.parametrize("name", ["R404A", "R290", "R448A"])
def test_rating_follows_the_machine_between_its_points(name):
    """A cubic through a smooth machine: what is left is what a rating table also leaves."""
    fluid = refrigerants.get(name)
    rated = compressor.rate(MACHINE, fluid, *GRID, return_superheat=10.0)
    between = np.meshgrid(*(0.5 * (side[1:] + side[:-1]) for side in GRID))
    low, high = fluid.dew_pressure(between[0]), fluid.dew_pressure(between[1])
    enthalpy = fluid.vapour_enthalpy(low, between[0] + 10.0)
    real = MACHINE.run(fluid, low, enthalpy, high)
    table = rated.run(fluid, low, enthalpy, high)
    assert table.mass_flow == pytest.approx(real.mass_flow, rel=0.01)
    assert table.power == pytest.approx(real.power, rel=0.02)


def test_rating_in_both_unit_sets_is_the_same_machine():
    """The same cubic written in °F and lb/h."""
    rated = compressor.rate(MACHINE, FLUID, *GRID, return_superheat=10.0)
    suction_dew, discharge_dew = (side - ICE_POINT for side in GRID)
    s, d = (mesh.ravel() for mesh in np.meshgrid(suction_dew, discharge_dew))
    terms = compressor.polynomial(np.eye(10), *np.zeros((2, 1)))
    assert terms.shape == (10,)
    columns = [compressor.polynomial(row, s * 1.8 + 32.0, d * 1.8 + 32.0) for row in np.eye(10)]
    matrix = np.stack(columns, axis=1)
    flow = compressor.polynomial(rated.mass_flow_coefficients, s, d) * HOUR / POUND
    power = compressor.polynomial(rated.power_coefficients, s, d)
    imperial = compressor.RatedCompressor(
        tuple(np.linalg.lstsq(matrix, flow, rcond=None)[0]),
        tuple(np.linalg.lstsq(matrix, power, rcond=None)[0]),
        units="IP",
        return_superheat=10.0,
    )
    pressure, enthalpy = suction(-17.0, 14.0)
    high = FLUID.dew_pressure(311.15)
    ours, theirs = (m.run(FLUID, pressure, enthalpy, high) for m in (rated, imperial))
    assert theirs.mass_flow == pytest.approx(ours.mass_flow, rel=1e-6)
    assert theirs.power == pytest.approx(ours.power, rel=1e-6)


def test_warmer_return_gas_follows_density_by_its_weight():
    """F = 1 is the density ratio itself, F = 0 ignores it."""
    rated = compressor.rate(MACHINE, FLUID, *GRID, return_superheat=10.0)
    pressure, _ = suction()
    high = FLUID.dew_pressure(313.15)
    rating, actual = (FLUID.state_pt(pressure, 263.15 + sh).density for sh in (10.0, 25.0))
    for weight, factor in ((1.0, actual / rating), (0.0, 1.0)):
        changed = compressor.RatedCompressor(
            rated.mass_flow_coefficients,
            rated.power_coefficients,
            return_superheat=10.0,
            mass_flow_weight=weight,
        )
        flow, base = (changed.mass_flow(FLUID, pressure, rho, high) for rho in (actual, rating))
        assert flow / base == pytest.approx(factor)


def rated_over_the_grid():
    return compressor.rate(MACHINE, FLUID, *GRID, return_superheat=10.0)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("part", ["mass_flow_coefficients", "power_coefficients"])
def test_a_rating_is_refused_where_its_polynomials_go_negative(part):
    """No compressor pumps backwards or makes power (second law): the map ends before."""
    rated = rated_over_the_grid()
    first, *others = getattr(rated, part)
    there = float(compressor.polynomial((first, *others), -10.0, 40.0))
    rated = replace(rated, **{part: (first - 1.2 * there, *others)})
    pressure, enthalpy = suction(-10.0, 10.0)
    high = FLUID.dew_pressure(40.0 + ICE_POINT)
    with pytest.raises(NoOperatingPoint, match="does not reach"):
        rated.run(FLUID, pressure, enthalpy, high)
    unchecked = rated.run(FLUID, pressure, enthalpy, high, check=False)
    assert np.isnan(unchecked.isentropic_efficiency)
    assert unchecked.power >= 0.0
    assert np.isfinite(unchecked.discharge_temperature)


@pytest.mark.parametrize("machine", [MACHINE, rated_over_the_grid()], ids=["swept", "rated"])
def test_a_discharge_below_the_suction_is_refused(machine):
    pressure, enthalpy = suction()
    with pytest.raises(OutOfRange, match="rise from suction to discharge") as caught:
        machine.run(FLUID, pressure, enthalpy, 0.8 * pressure)
    assert caught.value.value == pytest.approx(-0.2 * pressure)


def test_return_temperature_rating_meets_return_superheat_rating():
    rated = compressor.rate(MACHINE, FLUID, *GRID, return_superheat=10.0)
    other = compressor.RatedCompressor(
        rated.mass_flow_coefficients, rated.power_coefficients, return_temperature=273.15
    )
    pressure, enthalpy = suction(-10.0, 10.0)
    high = FLUID.dew_pressure(313.15)
    assert other.run(FLUID, pressure, enthalpy, high).power == pytest.approx(
        rated.run(FLUID, pressure, enthalpy, high).power, rel=1e-6
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: compressor.Compressor(0.0), "swept volume"),
        (lambda: compressor.Compressor(1e-3, clearance=-0.1), "clearance"),
        (lambda: compressor.Compressor(1e-3, shell_loss=np.array([0.1, 1.5])), "shell loss"),
        (
            lambda: compressor.RatedCompressor((1.0,) * 9, (1.0,) * 10, return_superheat=5.0),
            "10 coefficients; the mass flow coefficients are 9",
        ),
        (lambda: compressor.RatedCompressor((1.0,) * 10, (1.0,) * 10), "either"),
        (
            lambda: compressor.RatedCompressor(
                (1.0,) * 10, (1.0,) * 10, units="kPa", return_superheat=5.0
            ),
            "kPa",
        ),
        (lambda: compressor.rate(MACHINE, FLUID, GRID[0][:3], GRID[1], 10.0), "four"),
        (lambda: MACHINE.run(FLUID, 100.0, 370e3, 1e6), "pressure"),
        (lambda: compressor.Compressor(1e-3, filling=1.1), "filling"),
        (lambda: compressor.Compressor(1e-3, re_expansion_exponent=0.0), "exponent"),
        (lambda: compressor.Compressor(1e-3, efficiency_width=0.0), "width"),
        (lambda: compressor.Compressor(1e-3, best_pressure_ratio=-3.0), "best pressure ratio"),
        (
            lambda: compressor.RatedCompressor((np.nan,) * 10, (1.0,) * 10, return_superheat=5.0),
            "not a number",
        ),
    ],
)
def test_nonsense_is_refused(call, words):
    with pytest.raises(LowsideError, match=words):
        call()


def test_refusal_carries_its_number():
    with pytest.raises(OutOfRange) as caught:
        compressor.Compressor(1e-3, clearance=0.7)
    assert caught.value.value == pytest.approx(0.7)
    assert caught.value.high == pytest.approx(0.5)


# A leaking discharge valve ----------------------------------------------------------------------


@pytest.mark.parametrize("leak", [0.05, 0.25, 0.45])
def test_leaking_gas_is_compressed_again(leak):
    """Energy of the mixed gas closes, and the cylinder does the work of the gas that fills it."""
    machine = replace(MACHINE, leak=leak, shell_loss=0.2)
    pressure, enthalpy = suction()
    high = FLUID.dew_pressure(40.0 + ICE_POINT)
    result = machine.run(FLUID, pressure, enthalpy, high)
    mixed = (1.0 - leak) * enthalpy + leak * result.discharge_enthalpy
    filling = FLUID.state_ph(pressure, mixed)
    ideal = FLUID.state_ps(high, filling.entropy).enthalpy - mixed
    efficiency = machine.isentropic_efficiency(high / pressure)
    compressed = (
        machine.volumetric_efficiency(high / pressure) * machine.swept_volume_flow * filling.density
    )
    assert result.mass_flow == pytest.approx((1.0 - leak) * compressed, rel=2e-3)
    assert result.power == pytest.approx(compressed * ideal / efficiency, rel=2e-3)
    carried = result.mass_flow * (result.discharge_enthalpy - enthalpy)
    assert carried + result.shell_heat == pytest.approx(result.power, rel=1e-9)


def test_a_leak_costs_flow_saves_little_power_and_heats_the_discharge():
    pressure, enthalpy = suction()
    high = FLUID.dew_pressure(40.0 + ICE_POINT)
    leaking = replace(MACHINE, leak=np.linspace(0.0, 0.45, 7))
    result = leaking.run(FLUID, pressure, enthalpy, high)
    assert np.all(np.diff(result.mass_flow) < 0.0)
    assert np.all(np.diff(result.discharge_temperature) > 0.0)
    flow, power = (values / values[0] for values in (result.mass_flow, result.power))
    assert np.all(flow[1:] < 1.0 - leaking.leak[1:])  # hot gas in the cylinder weighs less
    assert np.all(power[1:] > flow[1:])
    sound = MACHINE.run(FLUID, pressure, enthalpy, high)
    assert result.power[0] == pytest.approx(sound.power, rel=1e-12)
    with pytest.raises(OutOfRange, match="leak"):
        replace(MACHINE, leak=0.9)
