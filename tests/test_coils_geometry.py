"""Coils of copper and fins: correlations against their libraries, condensers against a march."""

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import coils, refrigerants
from lowside.coils import tubes
from lowside.errors import OutOfRange
from lowside.units import ICE_POINT

ht = pytest.importorskip("ht")

FLUIDS = ("R290", "R404A", "R448A", "R454C", "R600a")
CONDENSER = coils.Condenser(30.0, 120.0, 80.0, 250.0)
FIN_COIL = coils.FinCoil(6e-3, 12.0, 120.0, 0.2)


def saturated(name, celsius):
    fluid = refrigerants.get(name)
    return fluid, fluid.saturation(fluid.dew_pressure(celsius + ICE_POINT))


@pytest.fixture(scope="module")
def points():
    """Random states, fluxes and bores."""
    rng = np.random.default_rng(3)
    return [
        (
            *saturated(rng.choice(FLUIDS), rng.uniform(-30.0, 50.0)),
            rng.uniform(0.02, 0.98),
            rng.uniform(30.0, 400.0),
            rng.uniform(3e-3, 12e-3),
        )
        for _ in range(40)
    ]


# Correlations against the libraries that print them ---------------------------------------------


def test_condensing_coefficient_is_that_of_ht(points):
    """`ht.Shah` (Shah 1979), point by point."""
    for fluid, sat, x, flux, bore in points:
        reduced = sat.pressure / fluid.critical_pressure
        theirs = ht.condensation.Shah(
            m=flux * np.pi / 4 * bore**2,
            x=x,
            D=bore,
            rhol=sat.liquid_density,
            mul=sat.liquid_viscosity,
            kl=sat.liquid_conductivity,
            Cpl=sat.liquid_heat_capacity,
            P=sat.pressure,
            Pc=fluid.critical_pressure,
        )
        assert tubes.shah(x, sat, flux, bore, reduced) == pytest.approx(theirs, rel=1e-9)


def test_boiling_coefficient_is_that_of_ht(points):
    """`ht.Liu_Winterton` (Liu and Winterton 1991, with Cooper 1984)."""
    for fluid, sat, x, flux, bore in points:
        reduced = sat.pressure / fluid.critical_pressure
        theirs = ht.boiling_flow.Liu_Winterton(
            m=flux * np.pi / 4 * bore**2,
            x=x,
            D=bore,
            rhol=sat.liquid_density,
            rhog=sat.vapour_density,
            mul=sat.liquid_viscosity,
            kl=sat.liquid_conductivity,
            Cpl=sat.liquid_heat_capacity,
            MW=1e3 * fluid.facts.molar_mass,
            P=sat.pressure,
            Pc=fluid.critical_pressure,
            Te=3.0,
        )
        ours = tubes.liu_winterton(x, sat, flux, bore, reduced, fluid.facts.molar_mass, 3.0)
        assert ours == pytest.approx(theirs, rel=1e-9)


def test_single_phase_coefficient_is_that_of_ht():
    """`ht.turbulent_Gnielinski` with Petukhov's friction factor; 3.66 where flow is laminar."""
    rng = np.random.default_rng(4)
    reynolds, prandtl = np.exp(rng.uniform(7.8, 12.0, 30)), rng.uniform(0.6, 6.0, 30)
    friction = (0.79 * np.log(reynolds) - 1.64) ** -2
    theirs = [
        ht.conv_internal.turbulent_Gnielinski(Re=r, Pr=p, fd=f)
        for r, p, f in zip(reynolds, prandtl, friction, strict=True)
    ]
    assert tubes.gnielinski(reynolds, prandtl) == pytest.approx(theirs, rel=1e-12)
    assert tubes.gnielinski(500.0, 1.0) == 3.66


def test_two_phase_gradient_is_that_of_fluids(points):
    """`fluids.Muller_Steinhagen_Heck`: the mixing exactly, with our own friction factor nearly."""
    for _, sat, x, flux, bore in points:
        inputs = {"D": bore, "L": 1.0, "m": flux * np.pi / 4 * bore**2}
        theirs = fluids.two_phase.Muller_Steinhagen_Heck(
            x=x,
            rhol=sat.liquid_density,
            rhog=sat.vapour_density,
            mul=sat.liquid_viscosity,
            mug=sat.vapour_viscosity,
            **inputs,
        )
        single = []
        for density, viscosity in (
            (sat.liquid_density, sat.liquid_viscosity),
            (sat.vapour_density, sat.vapour_viscosity),
        ):
            factor = fluids.friction_factor(Re=flux * bore / viscosity, eD=0.0)
            single.append(factor * flux**2 / (2.0 * density * bore))
        assert tubes.mueller_steinhagen_heck(x, *single) == pytest.approx(theirs, rel=1e-9)
        own = [
            tubes.gradient(flux, bore, sat.liquid_density, sat.liquid_viscosity),
            tubes.gradient(flux, bore, sat.vapour_density, sat.vapour_viscosity),
        ]
        # The paper takes Blasius where fluids takes Colebrook and a transition of its own.
        assert tubes.mueller_steinhagen_heck(x, *own) == pytest.approx(theirs, rel=0.12)


@pytest.mark.parametrize(
    ("quality", "boiling", "condensing", "gradient"),
    [(0.2, 4241.0, 2159.0, 1442.0), (0.5, 4897.0, 3340.0, 3331.0), (0.8, 5382.0, 4164.0, 5206.0)],
)
def test_propane_in_a_six_millimetre_tube(quality, boiling, condensing, gradient):
    """R290, 6 mm, 150 kg/(m² s): run by ht and fluids with CoolProp (CHECKS C346, C347, C348)."""
    fluid, cold = saturated("R290", -5.0)
    reduced = cold.pressure / fluid.critical_pressure
    ours = tubes.liu_winterton(quality, cold, 150.0, 6e-3, reduced, fluid.facts.molar_mass, 4.0)
    assert ours == pytest.approx(boiling, rel=0.01)
    _, hot = saturated("R290", 40.0)
    ours = tubes.shah(quality, hot, 150.0, 6e-3, hot.pressure / fluid.critical_pressure)
    assert ours == pytest.approx(condensing, rel=0.01)
    single = [
        tubes.gradient(150.0, 6e-3, density, viscosity)
        for density, viscosity in (
            (cold.liquid_density, cold.liquid_viscosity),
            (cold.vapour_density, cold.vapour_viscosity),
        )
    ]
    # Blasius against Colebrook: 3 % at these Reynolds numbers.
    assert tubes.mueller_steinhagen_heck(quality, *single) == pytest.approx(gradient, rel=0.04)


def test_means_are_means():
    """Closed mean gradient, and harmonic mean coefficients, against ten thousand strips."""
    fluid, sat = saturated("R290", 40.0)
    x = (np.arange(10_000) + 0.5) / 10_000
    strips = tubes.mueller_steinhagen_heck(0.25 + 0.75 * x, 900.0, 9000.0)
    assert tubes.mean_gradient(0.25, 1.0, 900.0, 9000.0) == pytest.approx(strips.mean(), rel=1e-5)
    reduced = sat.pressure / fluid.critical_pressure
    local = tubes.shah(x, sat, 150.0, 6e-3, reduced)
    ours = tubes.condensing(sat, 150.0, 6e-3, reduced)
    assert ours == pytest.approx(1.0 / np.mean(1.0 / local), rel=0.02)
    # Shah's own mean from gas to liquid, arithmetic, h_L (0.55 + 2.09 / p_r^0.38) (from memory);
    # it leaves (1 - x)^0.04 out.
    liquid, _, _ = tubes.liquid_only(sat, 150.0, 6e-3)
    assert local.mean() == pytest.approx(liquid * (0.55 + 2.09 * reduced**-0.38), rel=0.025)


# The condenser ----------------------------------------------------------------------------------


def march_condenser(coil, fluid, flow, enthalpy, pressure, air, steps=400):
    """Runge-Kutta (4) over equal shares: each strip knows only its own state."""
    sat = fluid.saturation(pressure)
    gas, both, liquid = (
        coil.air_capacity_rate * coils.effectiveness(ua, coil.air_capacity_rate)
        for ua in (coil.vapour_conductance, coil.two_phase_conductance, coil.liquid_conductance)
    )

    def slope(h):
        rate = gas if h > sat.vapour_enthalpy else both if h > sat.liquid_enthalpy else liquid
        return -rate * (fluid.state_ph(pressure, h).temperature - air) / flow

    step = 1.0 / steps
    for _ in range(steps):
        a = slope(enthalpy)
        b = slope(enthalpy + a * step / 2)
        c = slope(enthalpy + b * step / 2)
        d = slope(enthalpy + c * step)
        enthalpy += step * (a + 2 * b + 2 * c + d) / 6
    return enthalpy


@pytest.mark.parametrize("name", FLUIDS)
@pytest.mark.parametrize("fill", [0.3, 0.7, 0.95, 1.1, 2.0, 8.0])
def test_condenser_against_a_march(name, fill):
    """From deep subcooling over liquid and gas together to gas that never condenses."""
    fluid, sat = saturated(name, 45.0)
    air = 32.0 + ICE_POINT
    hot = fluid.vapour_enthalpy(sat.pressure, sat.dew_temperature + 30.0)
    full = 250.0 * coils.effectiveness(120.0, 250.0) * 12.0 / (hot - sat.liquid_enthalpy)
    ours = coils.condense(CONDENSER, fluid, fill * full, hot, sat.pressure, air)
    fine = march_condenser(CONDENSER, fluid, fill * full, hot, sat.pressure, air)
    assert hot - ours.enthalpy == pytest.approx(hot - fine, rel=0.01)
    shares = ours.vapour_share, ours.liquid_share
    assert all(0.0 <= share <= 1.0 for share in shares)
    assert sum(shares) <= 1.0 + 1e-12


def test_wet_gas_condenses_at_once():
    fluid, sat = saturated("R290", 45.0)
    wet = sat.liquid_enthalpy + 0.8 * sat.latent_heat
    ours = coils.condense(CONDENSER, fluid, 3e-3, wet, sat.pressure, 305.15)
    assert ours.vapour_share == 0.0
    fine = march_condenser(CONDENSER, fluid, 3e-3, wet, sat.pressure, 305.15)
    assert wet - ours.enthalpy == pytest.approx(wet - fine, rel=5e-3)


def test_endless_condenser_cools_liquid_to_the_air():
    fluid, sat = saturated("R404A", 45.0)
    huge = coils.Condenser(1e5, 1e5, 1e5, 1e6)
    ours = coils.condense(huge, fluid, 0.01, sat.vapour_enthalpy + 3e4, sat.pressure, 305.15)
    leaving = fluid.state_ph(sat.pressure, ours.enthalpy).temperature
    assert leaving == pytest.approx(305.15, abs=0.02)


def test_condenser_at_the_pinch_does_next_to_nothing():
    """Air as warm as the refrigerant condenses: refused when checked, tame in a solver."""
    fluid, sat = saturated("R290", 32.0)
    gas = sat.vapour_enthalpy + 2e4
    with pytest.raises(OutOfRange, match="air entering the condenser"):
        coils.condense(CONDENSER, fluid, 3e-3, gas, sat.pressure, 306.0)
    ours = coils.condense(CONDENSER, fluid, 3e-3, gas, sat.pressure, 306.0, check=False)
    assert np.isfinite(ours.enthalpy)
    assert gas - ours.enthalpy < 2.1e4


@given(
    name=st.sampled_from(FLUIDS),
    condensing=st.floats(20.0, 55.0),
    difference=st.floats(1.0, 25.0),
    flow=st.floats(2e-4, 0.05),
    superheat=st.floats(0.5, 60.0),
)
@settings(max_examples=80, deadline=None)
def test_condenser_is_sane_everywhere(name, condensing, difference, flow, superheat):
    fluid, sat = saturated(name, condensing)
    air = sat.dew_temperature - difference
    hot = fluid.vapour_enthalpy(sat.pressure, sat.dew_temperature + superheat)
    ours = coils.condense(CONDENSER, fluid, flow, hot, sat.pressure, air, check=False)
    leaving = fluid.state_ph(sat.pressure, ours.enthalpy, check=False).temperature
    assert ours.enthalpy <= hot + 1e-6
    assert leaving >= min(air, sat.bubble_temperature) - 0.05
    slower = coils.condense(CONDENSER, fluid, 0.8 * flow, hot, sat.pressure, air, check=False)
    assert slower.enthalpy <= ours.enthalpy + 1.0


# The coil of copper and fins --------------------------------------------------------------------


def test_fin_coil_against_a_march_with_local_coefficients():
    """400 strips, each with the coefficient of its own quality, against our zone means."""
    fluid, sat = saturated("R290", -8.0)
    flow, air, inlet = 2.2e-3, 276.15, sat.liquid_enthalpy + 0.28 * sat.latent_heat
    evaporator = FIN_COIL.evaporator(fluid, flow, inlet, sat, air)
    ours, _ = coils.outlet_enthalpy(evaporator, fluid, flow, inlet, sat.pressure, air, sat)
    flux, rate = flow / FIN_COIL.flow_area, FIN_COIL.air_capacity_rate
    drop = evaporator.pressure_drop(flow)
    reduced = sat.pressure / fluid.critical_pressure
    enthalpy, steps = inlet, 400
    for k in range(steps):
        here = fluid.saturation(sat.pressure + drop * (1.0 - k / steps))
        quality = (enthalpy - here.liquid_enthalpy) / here.latent_heat
        temperature = fluid.state_ph(here.pressure, enthalpy).temperature
        gas = tubes.single_phase(
            flux, 6e-3, here.vapour_viscosity, here.vapour_conductivity, here.vapour_heat_capacity
        )
        inside, excess = gas, 1.0
        for _ in range(60 if quality < 1.0 else 0):
            wet = tubes.liu_winterton(
                quality, here, flux, 6e-3, reduced, fluid.facts.molar_mass, excess
            )
            drying = np.clip((quality - tubes.DRY_OUT) / (1.0 - tubes.DRY_OUT), 0.0, 1.0)
            inside = wet + drying * min(gas - wet, 0.0)
            through = 1.0 / (1.0 / FIN_COIL.air_side + 1.0 / (inside * FIN_COIL.inner_area))
            heat = rate * coils.effectiveness(through, rate) * (air - temperature)
            excess = np.sqrt(excess * heat / FIN_COIL.inner_area / inside)
        through = 1.0 / (1.0 / FIN_COIL.air_side + 1.0 / (inside * FIN_COIL.inner_area))
        heat = rate * coils.effectiveness(through, rate) * (air - temperature)
        enthalpy += heat / steps / flow
    assert ours - inlet == pytest.approx(enthalpy - inlet, rel=0.02)


def test_frost_costs_capacity():
    """Less air and a worse surface each cost conductance; the coil's effectiveness rises."""
    fluid, sat = saturated("R404A", -10.0)
    inlet, air = sat.liquid_enthalpy + 0.3 * sat.latent_heat, 275.15
    duty = {}
    for words, shares in {
        "clean": {},
        "half the air": {"air_share": 0.5},
        "frosted": {"surface_share": 0.5},
    }.items():
        coil = coils.FinCoil(8e-3, 12.0, 150.0, 0.25, **shares)
        evaporator = coil.evaporator(fluid, 0.012, inlet, sat, air)
        leaving, _ = coils.outlet_enthalpy(evaporator, fluid, 0.012, inlet, sat.pressure, air, sat)
        duty[words] = leaving - inlet
    assert duty["half the air"] < 0.8 * duty["clean"]
    assert duty["frosted"] < 0.85 * duty["clean"]


def test_air_side_follows_its_exponent():
    coil = coils.FinCoil(8e-3, 12.0, 150.0, 0.25, air_share=0.5)
    assert coil.air_side == pytest.approx(150.0 * 0.5**0.6)
    assert coil.air_capacity_rate == pytest.approx(0.5 * 0.25 * 1.2 * 1005.0)


def test_smaller_bores_cost_pressure():
    """Friction goes about as bore^-4.75 at one flow (Blasius)."""
    fluid, sat = saturated("R290", 45.0)
    drops = [
        coils.FinCoil(bore, 10.0, 90.0, 0.2).condenser(fluid, 2.5e-3, sat).pressure_drop
        for bore in (4e-3, 8e-3)
    ]
    assert drops[0] / drops[1] == pytest.approx(2.0**4.75, rel=0.05)


@pytest.mark.parametrize(
    "wrong",
    [
        {"inner_diameter": 0.0},
        {"length": -1.0},
        {"air_flow": float("nan")},
        {"circuits": 0.5},
        {"air_share": 0.0},
        {"surface_share": 5.0},
    ],
)
def test_impossible_coils_are_refused(wrong):
    sizes = {"inner_diameter": 6e-3, "length": 10.0, "air_conductance": 90.0, "air_flow": 0.2}
    with pytest.raises(OutOfRange, match="coil"):
        coils.FinCoil(**(sizes | wrong))


def test_impossible_condensers_are_refused():
    with pytest.raises(OutOfRange, match="two phase conductance"):
        coils.Condenser(10.0, 0.0, 10.0, 100.0)


# The suction line -------------------------------------------------------------------------------


@pytest.mark.parametrize("superheat", [12.0, 3.0, 0.0])
@pytest.mark.parametrize("conductance", [0.0, 0.3, 1.5, 6.0])
def test_line_read_backwards_is_a_line(superheat, conductance):
    """March forwards from the state found; ends where the line ended."""
    fluid, sat = saturated("R290", -8.0)
    temperature = sat.dew_temperature + superheat
    leaving = fluid.vapour_enthalpy(sat.pressure, temperature)
    if superheat == 0.0:
        leaving -= 4e3
    entering = coils.before_line(
        conductance, 3e-3, sat, leaving, temperature, sat.dew_temperature + 40.0
    )
    enthalpy, steps = entering, 2000
    heat_capacity = (
        (leaving - sat.vapour_enthalpy) / superheat if superheat else sat.vapour_heat_capacity
    )
    for _ in range(steps):
        above = max(enthalpy - sat.vapour_enthalpy, 0.0) / heat_capacity
        enthalpy += conductance / 3e-3 / steps * (40.0 - above)
    assert enthalpy == pytest.approx(leaving, abs=50.0)


def test_exchange_given_its_outlet():
    """Effectiveness recovered from the gas: (h_out - h_in) / (h at liquid temperature - h_in)."""
    heat = coils.exchange_given_outlet(0.4, 300e3, 180e3, 640e3, 600e3)
    entering = 600e3 - heat
    assert heat / (640e3 - entering) == pytest.approx(0.4)
    assert coils.exchange_given_outlet(0.0, 300e3, 180e3, 640e3, 600e3) == 0.0
    # Liquid flooding back: the liquid line gives what it has, not more.
    assert coils.exchange_given_outlet(0.5, 300e3, 180e3, 640e3, 350e3) == pytest.approx(60e3)
