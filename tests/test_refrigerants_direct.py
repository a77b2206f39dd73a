"""The tables against CoolProp itself, and the way they are made.

CoolProp is the source of the tables, so this is no outside check of the physics: it shows that what
is shipped says what CoolProp says, between the knots as well as on them.
"""

import numpy as np
import pytest
from lowside import refrigerants, store
from lowside.errors import OutOfRange, UnknownName
from lowside.refrigerants import build, coolprop, facts

POINTS = 10
TEMPERATURE = 0.02  # K
DENSITY = 5e-4
TWO_PHASE_DENSITY = 7e-3
ENTHALPY = 150.0  # J/kg
ENTROPY = 0.5  # J/(kg K)
every = pytest.mark.parametrize("name", refrigerants.NAMES)


@pytest.fixture(scope="module")
def sources():
    return {name: coolprop.Direct(facts.of(name).coolprop) for name in refrigerants.NAMES}


def pressures(fluid, seed):
    """Random pressures from -45 to +65 °C dew, as far as the range goes."""
    low = fluid.dew_pressure(273.15 - 45)
    high = fluid.dew_pressure(min(273.15 + 65, fluid.temperature_range[1]))
    return np.exp(np.random.default_rng(seed).uniform(np.log(low), np.log(high), POINTS))


@every
def test_saturation(name, sources):
    fluid = refrigerants.get(name)
    compared = 0
    for p in pressures(fluid, 1):
        s = fluid.saturation(p)
        for quality, ours in (
            (0, (s.bubble_temperature, s.liquid_enthalpy, s.liquid_entropy, s.liquid_density)),
            (1, (s.dew_temperature, s.vapour_enthalpy, s.vapour_entropy, s.vapour_density)),
        ):
            try:
                found = sources[name].saturated(p, quality, near=ours[0])
            except coolprop.Missed:
                continue
            compared += 1
            assert ours[0] == pytest.approx(found[0], abs=TEMPERATURE)
            assert ours[1] == pytest.approx(found[1], abs=ENTHALPY)
            assert ours[2] == pytest.approx(found[2], abs=ENTROPY)
            assert ours[3] == pytest.approx(1 / found[3], rel=DENSITY)
    assert compared > POINTS


@every
@pytest.mark.parametrize("vapour", [True, False], ids=["vapour", "liquid"])
def test_single_phase(name, vapour, sources):
    fluid = refrigerants.get(name)
    compared = 0
    for k, p in enumerate(pressures(fluid, 2)):
        s = fluid.saturation(p)
        away = (k + 0.5) / POINTS
        if vapour:
            temperature, density = s.dew_temperature + 90 * away, s.vapour_density
        else:
            temperature, density = s.bubble_temperature - 40 * away, s.liquid_density
        try:
            ours = fluid.state_pt(p, temperature)
        except OutOfRange:
            assert name in ("R404A", "R507A")
            assert temperature < 213
            continue
        found = sources[name].single(p, temperature, vapour, 1 / density)
        compared += 1
        back = fluid.state_ph(p, found[1])
        assert ours.enthalpy == pytest.approx(found[1], abs=ENTHALPY)
        assert back.temperature == pytest.approx(temperature, abs=TEMPERATURE)
        assert back.density == pytest.approx(1 / found[3], rel=DENSITY)
        assert back.entropy == pytest.approx(found[2], abs=ENTROPY)
        assert fluid.state_ps(p, found[2]).enthalpy == pytest.approx(found[1], abs=ENTHALPY)
        assert fluid.heat_capacity(p, found[1]) == pytest.approx(found[4], rel=5e-3)
    assert compared > POINTS / 2


@pytest.mark.parametrize("name", [n for n in refrigerants.NAMES if ".mix" in facts.of(n).coolprop])
def test_two_phase(name, sources):
    fluid = refrigerants.get(name)
    compared = 0
    for k, p in enumerate(pressures(fluid, 3)):
        try:
            found = sources[name].saturated(p, (k + 0.5) / POINTS)
        except coolprop.Missed:
            continue
        if not fluid.bubble_temperature(p) - 1 < found[0] < fluid.dew_temperature(p) + 1:
            continue  # one of CoolProp's wrong roots
        compared += 1
        ours = fluid.state_ph(p, found[1])
        assert ours.temperature == pytest.approx(found[0], abs=TEMPERATURE)
        assert ours.entropy == pytest.approx(found[2], abs=ENTROPY)
        assert ours.density == pytest.approx(1 / found[3], rel=TWO_PHASE_DENSITY)
    assert compared > POINTS / 2


@every
def test_composition_is_the_one_coolprop_uses(name, sources):
    ours = refrigerants.facts_of(name)
    assert sources[name].molar_mass == pytest.approx(ours.molar_mass, rel=3e-4)
    if sources[name].is_mixture:
        theirs = sorted(mass for _, mass, _ in sources[name].components())
        assert theirs == pytest.approx(sorted(ours.composition.values()), abs=2e-3)


def test_liquid_viscosity_of_blends_does_not_come_from_coolprops_mixture_model():
    """Log-mole mixing gives about 2.0e-4 Pa s for R448A at -5 °C; CoolProp says 8.2e-4.

    The rule is compared with CoolProp's dedicated correlations for R404A and R507A, whose
    components it is given.
    """
    import CoolProp
    from lowside.refrigerants import transport

    fluid = refrigerants.get("R448A")
    s = fluid.saturation(fluid.bubble_pressure(273.15 - 5))
    assert s.liquid_viscosity == pytest.approx(2.0e-4, rel=0.05)
    temperatures = 273.15 + np.array([-20.0, 40.0])
    for name in ("R404A", "R507A"):
        components = coolprop.Direct(f"{name}.mix").components()
        mixed = transport.of_mixture(components, temperatures, temperatures)
        state = CoolProp.AbstractState("HEOS", name)
        for row, temperature in zip(mixed, temperatures, strict=True):
            for value, (quality, wanted) in zip(row, transport.SOURCES, strict=True):
                state.update(CoolProp.QT_INPUTS, quality, temperature)
                assert value == pytest.approx(getattr(state, wanted)(), rel=0.15)


def test_building_again_gives_the_shipped_table():
    """The bytes are equal on the machine that made them; elsewhere the last digits may differ."""
    shipped = store.load_table("properties/R134a.npz")
    first, second = build.make("R134a").arrays, build.make("R134a").arrays
    for key, values in shipped.items():
        np.testing.assert_array_equal(first[key], second[key])
        np.testing.assert_allclose(first[key], values, rtol=1e-5, atol=1e-5 * abs(values).max())


def test_a_refrigerant_can_be_added():
    added = refrigerants.add("R32", safety_class="A2L")
    assert refrigerants.get("R32") is added
    assert added.facts.molar_mass == pytest.approx(0.052024, rel=1e-4)
    assert added.facts.safety_class == "A2L"
    # Normal boiling point -51.7 °C: ASHRAE Standard 34, from memory.
    assert added.dew_temperature(101325.0) - 273.15 == pytest.approx(-51.7, abs=0.2)
    found = refrigerants.direct("R32").single(8e5, 300.0, vapour=True)
    assert added.state_pt(8e5, 300.0).enthalpy == pytest.approx(found[1], abs=ENTHALPY)


def test_a_fluid_coolprop_does_not_know_is_said():
    with pytest.raises(UnknownName, match="R9999"):
        refrigerants.add("R9999")
