"""Grams, against the library of void fractions, measured oil solubility, arithmetic and limits."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from fluids import two_phase_voidage
from lowside import charge, refrigerants, store
from lowside.charge import MODELS, Oil, Tube, Volumes
from lowside.checks.parts import oil_band
from lowside.errors import OutOfRange, UnknownName
from scipy import integrate


@pytest.fixture(scope="module")
def propane():
    return refrigerants.get("R290")


@pytest.fixture(scope="module")
def cabinet():
    """An invented propane reach-in with physical geometry."""
    return Volumes(
        condenser=Tube(4.9e-3, 14.0),
        evaporator=Tube(7.9e-3, 10.0),
        liquid_line=Tube(4.8e-3, 2.5),
        suction_line=Tube(7.9e-3, 2.0),
        discharge_line=Tube(4.9e-3, 1.0),
        drier=15e-6,
        shell=1.6e-3,
        oil=Oil(0.28),
    )


def running_state(fluid, **changes):
    """A plausible point of that cabinet: -9 °C / 48 °C, 14 K subcooled."""
    low, high = fluid.dew_pressure(264.0), fluid.bubble_pressure(321.5)
    liquid = fluid.liquid_enthalpy(high, 307.5)
    return charge.Running(
        **{
            "mass_flow": 2.8e-3,
            "condensing_pressure": high,
            "evaporating_pressure": low,
            "discharge_enthalpy": fluid.vapour_enthalpy(high, 363.0),
            "condenser_outlet_enthalpy": liquid,
            "condenser_vapour_share": 0.15,
            "condenser_liquid_share": 0.20,
            "liquid_line_enthalpy": liquid,
            "evaporator_inlet_enthalpy": liquid,
            "evaporator_outlet_enthalpy": fluid.vapour_enthalpy(low, 269.5),
            "evaporator_vapour_share": 0.10,
            "suction_enthalpy": fluid.vapour_enthalpy(low, 280.0),
            "shell_temperature": 340.0,
            "oil_temperature": 338.0,
        }
        | changes
    )


# void fraction ------------------------------------------------------------------------------------


def test_void_fractions_are_those_of_fluids():
    """At random points, against `fluids.two_phase_voidage` (open library of published models)."""
    rng = np.random.default_rng(3)
    for _ in range(60):
        x, bore, flux = rng.uniform(0.01, 0.99), rng.uniform(3e-3, 2e-2), rng.uniform(20.0, 500.0)
        rhol, rhog = rng.uniform(400.0, 1300.0), rng.uniform(2.0, 90.0)
        mul, mug = rng.uniform(6e-5, 4e-4), rng.uniform(7e-6, 1.5e-5)
        sigma = rng.uniform(2e-3, 2e-2)
        sat = SimpleNamespace(
            liquid_density=rhol,
            vapour_density=rhog,
            liquid_viscosity=mul,
            vapour_viscosity=mug,
            surface_tension=sigma,
        )
        flow = flux * 0.25 * np.pi * bore**2
        expected = {
            "homogeneous": two_phase_voidage.homogeneous(x, rhol, rhog),
            "Zivi": two_phase_voidage.Zivi(x, rhol, rhog),
            "Smith": two_phase_voidage.Smith(x, rhol, rhog),
            "Steiner": two_phase_voidage.Steiner(x, rhol, rhog, sigma, flow, bore),
            "Baroczy": two_phase_voidage.Baroczy(x, rhol, rhog, mul, mug),
            "Graham": two_phase_voidage.Graham(x, rhol, rhog, mul, mug, flow, bore),
        }
        for model, value in expected.items():
            ours = charge.void_fraction(x, sat, flux, bore, model)
            assert ours == pytest.approx(value, rel=1e-10), model


@pytest.mark.parametrize(
    ("name", "celsius", "bore", "flux", "quality", "hand"),
    [
        # Premoli worked by hand from its formula, outside this library, properties from CoolProp.
        ("R290", 0.0, 6e-3, 100.0, 0.2, 0.77885),
        ("R290", 0.0, 6e-3, 100.0, 0.5, 0.89512),
        ("R134a", 0.0, 9.4e-3, 100.0, 0.2, 0.8128),
        ("R290", 40.0, 4.765e-3, 200.0, 0.5, 0.85063),
    ],
)
def test_premoli_by_hand(name, celsius, bore, flux, quality, hand):
    fluid = refrigerants.get(name)
    sat = fluid.saturation(fluid.dew_pressure(celsius + 273.15))
    ours = charge.void_fraction(quality, sat, flux, bore, "Premoli")
    assert ours == pytest.approx(hand, abs=3e-4)


@pytest.mark.parametrize("model", MODELS)
@pytest.mark.parametrize("celsius", [-30.0, 0.0, 50.0])
@pytest.mark.parametrize("flux", [30.0, 150.0, 400.0])
def test_void_fraction_limits(propane, model, celsius, flux):
    """0 for liquid, 1 for vapour, rising between."""
    sat = propane.saturation(propane.dew_pressure(celsius + 273.15))
    void = charge.void_fraction(np.linspace(0.0, 1.0, 201), sat, flux, 7e-3, model)
    assert void[0] == pytest.approx(0.0, abs=1e-12)
    assert void[-1] == pytest.approx(1.0, abs=1e-5)
    assert np.all(np.diff(void) >= -1e-12)


@pytest.mark.parametrize(
    ("model", "from_quality", "highest_celsius", "highest_flux"),
    [
        ("Zivi", 0.0, 50.0, 400.0),
        ("Smith", 0.0, 50.0, 400.0),
        ("Steiner", 0.0, 50.0, 400.0),
        ("Premoli", 0.0, 50.0, 400.0),
        # Two fits break the rule where they were not fitted: Baroczy at very low quality, Graham
        # also at high pressure and flux (up to quality 0.28 at 50 °C and 400 kg/(m2 s)).
        ("Baroczy", 0.02, 50.0, 400.0),
        ("Graham", 0.02, 0.0, 150.0),
    ],
)
def test_no_vapour_is_slower_than_liquid(
    propane, model, from_quality, highest_celsius, highest_flux
):
    """So void fraction is never above homogeneous."""
    quality = np.linspace(from_quality, 1.0, 201)
    for celsius in np.linspace(-35.0, highest_celsius, 5):
        sat = propane.saturation(propane.dew_pressure(celsius + 273.15))
        for flux in np.linspace(20.0, highest_flux, 5):
            void = charge.void_fraction(quality, sat, flux, 7e-3, model)
            most = charge.void_fraction(quality, sat, flux, 7e-3, "homogeneous")
            assert np.all(void <= most + 1e-12)


def test_mean_density_of_the_homogeneous_model_has_a_closed_form(propane):
    """Mean of 1/v with v linear in quality is ln(v2/v1)/(v2 - v1)."""
    sat = propane.saturation(propane.dew_pressure(np.array([250.0, 283.0, 320.0])))
    for low, high in ((0.0, 1.0), (0.25, 1.0), (0.4, 0.41)):
        first = (1 - low) / sat.liquid_density + low / sat.vapour_density
        last = (1 - high) / sat.liquid_density + high / sat.vapour_density
        exact = np.log(last / first) / (last - first)
        ours = charge.mean_density(high, low, sat, 100.0, 6e-3, "homogeneous")
        assert ours == pytest.approx(exact, rel=5e-4)


@pytest.mark.parametrize("model", MODELS)
def test_mean_density_is_the_integral(propane, model):
    for kelvin, low in ((263.15, 0.25), (313.15, 0.0)):
        sat = propane.saturation(propane.dew_pressure(kelvin))

        def density(x, sat=sat):
            void = charge.void_fraction(x, sat, 100.0, 6e-3, model)
            return void * sat.vapour_density + (1.0 - void) * sat.liquid_density

        exact = integrate.quad(density, low, 1.0, limit=400)[0] / (1.0 - low)
        ours = charge.mean_density(low, 1.0, sat, 100.0, 6e-3, model)
        # Graham's void fraction jumps from 0 to 0.27 at low quality; nothing integrates that well.
        assert ours == pytest.approx(exact, rel=0.01 if model == "Graham" else 5e-4)


@pytest.mark.parametrize(
    ("kelvin", "low", "table"),
    [
        # Mean densities computed apart from this library with fluids 1.3.1 and CoolProp [kg/m3]:
        # propane, bore 6 mm, 100 kg/(m2 s). The spread between models is the point.
        (263.15, 0.25, {"homogeneous": 13.9, "Zivi": 32.0, "Smith": 33.8, "Steiner": 40.3}),
        (313.15, 0.0, {"homogeneous": 88.3, "Zivi": 128.8, "Smith": 117.9, "Steiner": 122.6}),
    ],
)
def test_mean_density_values(propane, kelvin, low, table):
    sat = propane.saturation(propane.dew_pressure(kelvin))
    for model, value in table.items():
        ours = charge.mean_density(low, 1.0, sat, 100.0, 6e-3, model)
        assert ours == pytest.approx(value, rel=0.01)


def test_homogeneous_is_the_lightest_model_for_a_coil(propane):
    """ "Not for charge": every model with slip holds more, in an evaporator at least half more."""
    sat = propane.saturation(propane.dew_pressure(263.15))
    masses = {m: charge.mean_density(0.25, 1.0, sat, 100.0, 7e-3, m) for m in MODELS}
    lightest = masses.pop("homogeneous")
    assert all(value > 1.5 * lightest for value in masses.values())
    assert masses[charge.BAND[0]] < masses[charge.DEFAULT] < masses[charge.BAND[1]]


# oil ----------------------------------------------------------------------------------------------


def test_measured_isobutane_in_oil_lies_in_the_band():
    """Marcelino Neto and Barbosa 2008; the band of chi must hold every measured point."""
    for data in store.read_toml("checks/oil_solubility.toml")["set"]:
        measured, least, usual, most = oil_band(data)
        assert np.all(measured <= most * (1.0 + data["tolerance"]))
        assert np.all(measured >= least * (1.0 - data["tolerance"]))
        assert np.median(np.abs(usual / measured - 1.0)) < 0.25


def test_flory_huggins_satisfies_its_equation():
    pressure, chi = np.meshgrid(np.geomspace(1e-4, 0.98, 60), np.linspace(-0.5, 2.0, 11))
    phi = charge.oil_fraction(pressure, chi)
    free = 1.0 - phi
    assert np.allclose(np.log(phi) + free + chi * free**2, np.log(pressure), atol=1e-9)
    assert np.all((phi > 0.0) & (phi < 1.0))


def test_oil_takes_more_when_pressure_rises_and_less_when_it_is_warm(propane):
    """Signs: all published solubility data."""
    oil = Oil(0.28)
    by_pressure = charge.dissolved(oil, propane, np.linspace(1e5, 8e5, 20), 330.0)
    by_temperature = charge.dissolved(oil, propane, 3e5, np.linspace(290.0, 360.0, 20))
    assert np.all(np.diff(by_pressure) > 0.0)
    assert np.all(np.diff(by_temperature) < 0.0)
    assert charge.dissolved(replace(oil, chi=0.2), propane, 3e5, 330.0) > by_pressure[0]


def test_dilute_limit_is_henrys_law(propane):
    """For little refrigerant phi = (p/p_sat) exp(-1 - chi)."""
    phi = charge.oil_fraction(1e-7, np.array([0.0, 0.5, 1.5]))
    assert phi == pytest.approx(1e-7 * np.exp(-1.0 - np.array([0.0, 0.5, 1.5])), rel=1e-5)


def test_propane_in_mineral_oil_has_the_right_size(propane):
    """40 °C, 200 kPa: 1.9 to 3.9 mass %, an estimate by Raoult and by a cubic equation, ±40 %."""
    grams = charge.dissolved(Oil(1.0, density=880.0), propane, 2e5, 313.15)
    share = grams / (1.0 + grams)
    assert 0.6 * 0.019 < share < 1.4 * 0.039


# parts and the running box ------------------------------------------------------------------------


def test_suction_line_grams_per_metre(propane):
    """3/8 in line (bore 7.9 mm), saturated propane vapour at -10 °C: 0.374 g/m (from CoolProp)."""
    pressure = propane.dew_pressure(263.15)
    density = charge.vapour_density(propane, pressure, 263.15)
    assert Tube(7.9e-3, 1.0).volume * density == pytest.approx(0.374e-3, rel=0.01)


def test_liquid_takes_two_millilitres_a_gram(propane):
    """Liquid propane at 25 °C: 2.031 mL/g (from CoolProp; printed tables round to 2.0)."""
    pressure = propane.bubble_pressure(298.15)
    hose = Tube(4.8e-3, 1.5)
    held = charge.hose_mass(propane, hose, pressure, 298.15, "liquid")
    assert hose.volume / held == pytest.approx(2.031e-3, rel=0.002)
    gas = charge.hose_mass(propane, hose, pressure, 298.15, "vapour")
    assert hose.volume * 20.618 == pytest.approx(gas, rel=0.002)


def test_a_coil_full_of_one_phase(propane):
    tube, pressure = Tube(5e-3, 10.0, parallel=2), propane.bubble_pressure(313.15)
    sat = propane.saturation(pressure)
    gas = charge.coil_mass(
        propane, tube, pressure, 2e-3, sat.vapour_enthalpy, sat.vapour_enthalpy, 1.0, 0.0
    )
    assert gas.total == pytest.approx(tube.volume * sat.vapour_density, rel=1e-6)
    liquid = charge.coil_mass(
        propane, tube, pressure, 2e-3, sat.liquid_enthalpy, sat.liquid_enthalpy, 0.0, 1.0
    )
    assert liquid.total == pytest.approx(tube.volume * sat.liquid_density, rel=1e-6)
    assert tube.volume == pytest.approx(2 * 10.0 * np.pi / 4 * 25e-6)


def test_stream_density_is_continuous_across_the_dome(propane):
    sat = propane.saturation(1.2e6)
    for edge in (sat.liquid_enthalpy, sat.vapour_enthalpy):
        near = edge + np.array([-1e-3, 1e-3])
        below, above = charge.stream_density(propane, 1.2e6, near, 150.0, 5e-3)
        assert below == pytest.approx(above, rel=1e-4)


def test_condenser_holds_the_most(propane, cabinet):
    """So it does in bottle coolers (Purdue iracc 1503, abstract read) and in unitary equipment.

    The latter: Harms, Groll and Braun 2003, HVAC&R Research 9(1), 55-78 (abstract read).
    """
    for model in ("Steiner", *charge.BAND, "Baroczy"):
        parts = charge.running(cabinet, propane, running_state(propane), model).parts()
        assert max(parts, key=parts.get) == "condenser", model


def test_drier_and_liquid_line_are_full_of_liquid(propane, cabinet):
    """25 mL more free volume takes 25 mL x 475 kg/m3 = 12 g more."""
    state = running_state(propane)
    bigger = charge.running(replace(cabinet, drier=40e-6), propane, state)
    normal = charge.running(cabinet, propane, state)
    assert bigger.drier - normal.drier == pytest.approx(12e-3, abs=0.5e-3)
    assert bigger.total - normal.total == pytest.approx(bigger.drier - normal.drier)


def test_parts_sum_to_the_total_and_batches_agree(propane, cabinet):
    flow = np.linspace(1e-3, 5e-3, 7)
    shares = np.linspace(0.0, 0.4, 7)
    both = charge.running(
        cabinet, propane, running_state(propane, mass_flow=flow, condenser_liquid_share=shares)
    )
    assert both.total == pytest.approx(sum(both.parts().values()))
    for k in (0, 3, 6):
        state = running_state(propane, mass_flow=flow[k], condenser_liquid_share=shares[k])
        alone = charge.running(cabinet, propane, state)
        assert float(alone.total) == pytest.approx(both.total[k], rel=1e-12)
    assert np.all(np.diff(both.condenser) > 0.0)  # more of it flooded, more grams


def test_receiver_by_its_level(propane):
    sat = propane.saturation(1.4e6)
    held = charge.vessel_mass(propane, 1e-3, 1.4e6, np.array([0.0, 0.5, 1.0]))
    ends = np.array([sat.vapour_density, sat.liquid_density]) * 1e-3
    assert held[[0, 2]] == pytest.approx(ends)
    assert held[1] == pytest.approx(ends.mean())


# off cycle ----------------------------------------------------------------------------------------


def resting(volumes, ambient=305.15, **changes):
    return dict.fromkeys(volumes.spaces(), ambient) | {"oil": ambient} | changes


def test_standing_account_closes(propane, cabinet):
    masses = np.concatenate([np.linspace(0.004, 0.4, 60), [0.8, 1.0]])
    for temperatures in (
        resting(cabinet),
        resting(cabinet, evaporator=276.15),
        resting(cabinet, evaporator=276.15, condenser=290.0, shell=320.0, oil=320.0),
        resting(cabinet, shell=280.0, oil=280.0),
    ):
        rest = charge.standing(cabinet, propane, masses, temperatures)
        assert rest.inventory.total == pytest.approx(masses, rel=1e-9)
        assert np.all(np.diff(rest.pressure) >= -1e-3)
        for name, liquid in rest.liquid.items():
            assert np.all(liquid <= rest.inventory.parts()[name] + 1e-12)
            assert np.all(liquid >= 0.0)


def test_liquid_goes_to_the_coldest_part_and_the_chart_rules(propane, cabinet):
    rest = charge.standing(cabinet, propane, 0.105, resting(cabinet, evaporator=276.15))
    assert rest.pressure == pytest.approx(propane.dew_pressure(276.15))
    assert rest.saturation_pressure == pytest.approx(propane.dew_pressure(276.15))
    assert not rest.below_saturation
    where = {name for name, liquid in rest.liquid.items() if liquid > 0.0}
    assert where == {"evaporator"}
    outdoors = charge.standing(cabinet, propane, 0.105, resting(cabinet, condenser=268.15))
    assert {name for name, liquid in outdoors.liquid.items() if liquid > 0.0} == {"condenser"}


def test_oil_can_pull_the_standing_pressure_below_the_chart(propane, cabinet):
    """A correct small charge, willing oil: the gauge reads under the chart. No oil: it does not."""
    cold = resting(cabinet, ambient=283.15)
    willing = replace(cabinet, oil=Oil(0.35, chi=0.0))
    rest = charge.standing(willing, propane, 0.075, cold)
    assert rest.below_saturation
    assert rest.pressure < 0.99 * rest.saturation_pressure
    assert sum(rest.liquid.values()) == 0.0
    dry = charge.standing(replace(cabinet, oil=Oil(0.0)), propane, 0.075, cold)
    assert not dry.below_saturation
    assert dry.pressure == pytest.approx(propane.dew_pressure(283.15))


def test_thin_gas_is_ideal(propane, cabinet):
    """1 g of propane in the empty box: m R T / (M V) within 1 %."""
    empty = replace(cabinet, oil=Oil(0.0))
    volume = sum(cabinet.spaces().values())
    rest = charge.standing(empty, propane, 1e-3, resting(cabinet, ambient=298.15))
    assert rest.pressure == pytest.approx(1e-3 / 0.0440956 * 8.314463 * 298.15 / volume, rel=0.01)


def test_box_full_of_liquid_is_refused_with_its_limit(propane, cabinet):
    with pytest.raises(OutOfRange, match="full of liquid") as refused:
        charge.standing(cabinet, propane, [0.1, 5.0], resting(cabinet))
    full = sum(cabinet.spaces().values()) * propane.saturation(1.1e6).liquid_density
    assert refused.value.value == 5.0
    assert full < refused.value.high < 2.0 * full
    for wrong in (-0.1, 0.0):
        with pytest.raises(OutOfRange, match="charge"):
            charge.standing(cabinet, propane, wrong, resting(cabinet))


def test_ambient_outside_the_tables_is_refused(propane, cabinet):
    for ambient in (120.0, 380.0):
        with pytest.raises(OutOfRange, match="coldest part") as refused:
            charge.standing(cabinet, propane, 0.1, resting(cabinet, ambient))
        assert refused.value.kind == "temperature"
        assert refused.value.low == pytest.approx(propane.temperature_range[0])


def test_blends_rest_too(cabinet):
    blend = refrigerants.get("R448A")
    rest = charge.standing(cabinet, blend, 0.3, resting(cabinet, evaporator=276.15))
    assert rest.inventory.total == pytest.approx(0.3)
    assert rest.liquid["evaporator"] > 0.0


# by weight ----------------------------------------------------------------------------------------


def test_charging_by_weight_arithmetic():
    """Balance and GUM (JCGM 100): a half-width a counts as a/sqrt(3), resolution twice."""
    done = charge.weigh(
        0.120,
        resolution=0.001,
        scale_error=0.002,
        hose_before=0.0,
        hose_after=0.0134,
        hose_doubt=0.006,
        remaining=0.003,
    )
    assert done.charged == pytest.approx(0.1066)
    assert done.total == pytest.approx(0.1096)
    by_hand = np.sqrt(2 * 0.0005**2 / 3 + 0.002**2 / 3 + 0.006**2 / 3)
    assert done.standard_uncertainty == pytest.approx(by_hand)
    low, high = done.band()
    assert (high - low) == pytest.approx(4 * by_hand)
    assert max(done.shares, key=done.shares.get) == "hose"


def test_a_hose_of_liquid_is_a_large_part_of_a_small_charge(propane):
    """1.5 m of 1/4 in hose full of liquid: over a tenth of a 90 g charge (arithmetic)."""
    held = charge.hose_mass(propane, Tube(4.8e-3, 1.5), propane.bubble_pressure(298.15), 298.15)
    assert 0.10 < held / 0.090 < 0.20


@pytest.mark.parametrize("doubts", [(0.002, 0.006, 0.003), (0.0, 0.0, 0.0), (0.01, 0.0, 0.0)])
def test_the_spread_of_a_charge_is_that_of_many_thrown_dice(doubts):
    """Monte Carlo as in JCGM 101, with its own random numbers; area one, width as in the GUM."""
    scale, hose, left = doubts
    done = charge.weigh(
        0.1, resolution=0.001, scale_error=scale, hose_doubt=hose, remaining_doubt=left
    )
    mass, density = done.spread()
    assert np.trapezoid(density, mass) == pytest.approx(1.0, abs=1e-3)
    mean = np.trapezoid(mass * density, mass)
    width = np.sqrt(np.trapezoid((mass - mean) ** 2 * density, mass))
    assert mean == pytest.approx(0.1, abs=1e-5)
    assert width == pytest.approx(float(done.standard_uncertainty), rel=0.01)
    rng = np.random.default_rng(42)
    halves = (0.0005, 0.0005, scale, hose, left)
    thrown = 0.1 + sum(rng.uniform(-half, half, 200_000) for half in halves)
    below = np.cumsum(density) / density.sum()
    for share in (0.025, 0.25, 0.75, 0.975):
        ours = np.interp(share, below, mass)
        assert ours == pytest.approx(np.quantile(thrown, share), abs=0.03 * width)


def test_what_a_hose_may_hold(propane):
    """Empty < vapour < unknown < liquid; the doubt of unknown reaches from vapour to liquid."""
    hose = Tube(4.8e-3, 1.5)
    empty, vapour, liquid, unknown = (
        charge.hose_content(propane, hose, 298.15, holds) for holds in charge.HOSE_HOLDS
    )
    assert empty == (0.0, 0.0)
    assert 0.0 < vapour[0] < unknown[0] < liquid[0]
    assert unknown[0] - unknown[1] == pytest.approx(vapour[0])
    assert unknown[0] + unknown[1] == pytest.approx(liquid[0])
    # 27.1 mL of liquid propane at 492 kg/m3 (NIST tables from memory: 492 kg/m3 at 25 °C).
    assert liquid[0] == pytest.approx(27.1e-6 * 492.0, rel=0.01)
    with pytest.raises(UnknownName, match="liquid"):
        charge.hose_content(propane, hose, 298.15, "foam")


# refusals -----------------------------------------------------------------------------------------


def test_refusals_carry_numbers(propane, cabinet):
    with pytest.raises(UnknownName, match="Zivi"):
        charge.void_fraction(0.5, propane.saturation(5e5), 100.0, 6e-3, "zivy")
    with pytest.raises(UnknownName):
        charge.running(cabinet, propane, running_state(propane), "none")
    with pytest.raises(OutOfRange, match="quality") as refused:
        charge.void_fraction(1.2, propane.saturation(5e5), 100.0, 6e-3)
    assert (refused.value.low, refused.value.high) == (0.0, 1.0)
    with pytest.raises(OutOfRange, match="diameter"):
        Tube(0.0, 1.0)
    with pytest.raises(OutOfRange, match="drier"):
        replace(cabinet, drier=-1e-6)
    with pytest.raises(OutOfRange, match="oil"):
        Oil(-0.1)
    with pytest.raises(OutOfRange, match="level"):
        charge.vessel_mass(propane, 1e-3, 1e6, 1.5)
    with pytest.raises(OutOfRange, match="resolution"):
        charge.weigh(0.1, resolution=0.0)
    with pytest.raises(OutOfRange, match="drop"):
        charge.weigh(-0.1, resolution=0.001)
