"""The property layer by itself: identities, round trips, limits and refusals."""

import doctest
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import refrigerants
from lowside.errors import OutOfRange, UnknownName

every = pytest.mark.parametrize("name", refrigerants.NAMES)
part = st.floats(0, 1)
ZEOTROPES = ("R448A", "R449A", "R454C", "R455A", "R452A")


def between(ends, fraction):
    """A pressure at a fraction of the way on a logarithmic scale."""
    return float(np.exp(np.log(ends[0]) + fraction * np.log(ends[1] / ends[0])))


# names and facts ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("R448A", "R448A"),
        ("r448a", "R448A"),
        ("R-448A", "R448A"),
        (" r 448 a ", "R448A"),
        ("448A", "R448A"),
        ("propane", "R290"),
        ("Isobutane", "R600a"),
        ("R600A", "R600a"),
        ("r-1234yf", "R1234yf"),
    ],
)
def test_usual_spellings_are_understood(typed, name):
    assert refrigerants.get(typed) is refrigerants.get(name)
    assert refrigerants.get(typed).name == name


def test_unknown_names_get_the_list():
    with pytest.raises(UnknownName, match=r"“R999A”.*R290") as caught:
        refrigerants.get("R999A")
    assert caught.value.choices == refrigerants.NAMES


@every
def test_composition_adds_up(name):
    assert sum(refrigerants.facts_of(name).composition.values()) == pytest.approx(1, abs=1e-12)


@every
def test_every_fact_says_where_it_comes_from(name):
    facts = refrigerants.facts_of(name)
    for field in ("composition", "molar_mass", "safety_class", "lfl", *facts.gwp):
        assert facts.sources[field]


def test_the_example_in_the_docstring_is_true():
    assert doctest.testmod(refrigerants).attempted >= 2
    assert doctest.testmod(refrigerants).failed == 0


def test_using_the_tables_does_not_import_coolprop():
    code = (
        "import sys\n"
        "from lowside import refrigerants\n"
        "refrigerants.get('R448A').state_ph(5e5, 300e3)\n"
        "assert not {'CoolProp', 'scipy', 'pandas', 'matplotlib'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


# the saturation lines -----------------------------------------------------------------------------


@every
def test_saturation_is_monotone(name):
    fluid = refrigerants.get(name)
    s = fluid.saturation(np.geomspace(*fluid.pressure_range, 2000))
    for rising in (s.bubble_temperature, s.dew_temperature, s.vapour_density, s.liquid_enthalpy):
        assert (np.diff(rising) > 0).all()
    for falling in (s.liquid_density, s.latent_heat, s.surface_tension, s.liquid_viscosity):
        assert (np.diff(falling) < 0).all()


@every
def test_dew_is_never_below_bubble(name):
    fluid = refrigerants.get(name)
    glide = fluid.glide(np.geomspace(*fluid.pressure_range, 2000))
    assert (glide >= 0).all()
    if not fluid.is_blend:
        assert (glide == 0).all()


def test_which_refrigerants_glide():
    gliding = {n for n in refrigerants.NAMES if refrigerants.get(n).has_glide}
    assert gliding == {*ZEOTROPES, "R404A"}


@every
@settings(max_examples=40, deadline=None)
@given(fraction=part)
def test_temperature_and_pressure_are_inverses(name, fraction):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    assert fluid.dew_pressure(fluid.dew_temperature(p)) == pytest.approx(p, rel=1e-9)
    assert fluid.bubble_pressure(fluid.bubble_temperature(p)) == pytest.approx(p, rel=1e-9)


@every
@settings(max_examples=25, deadline=None)
@given(fraction=part, difference=st.floats(-30, 60))
def test_superheat_counts_from_dew_and_subcooling_from_bubble(name, fraction, difference):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    dew, bubble = fluid.dew_temperature(p), fluid.bubble_temperature(p)
    assert fluid.superheat(p, dew + difference) == pytest.approx(difference, abs=1e-9)
    assert fluid.subcooling(p, bubble - difference) == pytest.approx(difference, abs=1e-9)


@pytest.mark.parametrize("name", [n for n in refrigerants.NAMES if n not in (*ZEOTROPES, "R404A")])
def test_clausius_clapeyron(name):
    """dp/dT = (s" - s') / (v" - v'): the saved lines obey thermodynamics, not only CoolProp."""
    fluid = refrigerants.get(name)
    p = np.geomspace(*fluid.pressure_range, 300)[5:-5]
    s = fluid.saturation(p)
    step = 1e-5
    rise = fluid.dew_temperature(p * (1 + step)) - fluid.dew_temperature(p * (1 - step))
    slope = 2 * step * p / rise
    volume = 1 / s.vapour_density - 1 / s.liquid_density
    expected = (s.vapour_entropy - s.liquid_entropy) / volume
    # Almost azeotropic blends obey it only as far as their small glide allows.
    tolerance = 5e-5 if not fluid.is_blend else 2e-2
    np.testing.assert_allclose(slope, expected, rtol=tolerance)


@every
def test_reference_state_is_the_iir_one(name):
    fluid = refrigerants.get(name)
    s = fluid.saturation(fluid.bubble_pressure(273.15))
    assert s.liquid_enthalpy == pytest.approx(200e3, abs=2)
    assert s.liquid_entropy == pytest.approx(1000, abs=0.01)


# states -------------------------------------------------------------------------------------------


def enthalpies(fluid, p, fraction):
    """An enthalpy between 20 kJ/kg below bubble and 60 kJ/kg above dew."""
    s = fluid.saturation(p)
    low, high = s.liquid_enthalpy - 8e3, s.vapour_enthalpy + 60e3
    return low + fraction * (high - low)


@every
@settings(max_examples=40, deadline=None)
@given(fraction=part, way=part)
def test_states_come_back_from_entropy(name, fraction, way):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    state = fluid.state_ph(p, enthalpies(fluid, p, way))
    back = fluid.state_ps(p, state.entropy)
    assert back.enthalpy == pytest.approx(state.enthalpy, abs=20)
    assert back.entropy == pytest.approx(state.entropy, abs=0.05)
    assert back.density == pytest.approx(state.density, rel=3e-4)


@every
@settings(max_examples=40, deadline=None)
@given(fraction=part, difference=st.floats(0.1, 100), vapour=st.booleans())
def test_single_phase_states_come_back_from_temperature(name, fraction, difference, vapour):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    if vapour:
        temperature = fluid.dew_temperature(p) + difference
    else:
        temperature = fluid.bubble_temperature(p) - difference / 10
    state = fluid.state_pt(p, temperature)
    assert state.temperature == pytest.approx(temperature, abs=0.01)
    assert state.phase == (1 if vapour else -1)


@pytest.mark.parametrize("name", ZEOTROPES)
@settings(max_examples=40, deadline=None)
@given(fraction=part, way=st.floats(0.01, 0.99))
def test_inside_a_glide_temperature_tells_the_quality(name, fraction, way):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    state = fluid.state_px(p, way)
    assert fluid.state_pt(p, state.temperature).quality == pytest.approx(way, abs=2e-3)


@every
@settings(max_examples=40, deadline=None)
@given(fraction=part, way=part)
def test_quality_is_enthalpy_by_the_lever_rule(name, fraction, way):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, fraction)
    s, state = fluid.saturation(p), fluid.state_px(p, way)
    assert state.quality == pytest.approx(way, abs=1e-12)
    expected = s.liquid_enthalpy + way * s.latent_heat
    assert state.enthalpy == pytest.approx(expected, rel=1e-12)
    volume = (1 - way) / s.liquid_density + way / s.vapour_density
    # Composition shifts between the phases of a blend, so that volumes mix almost, not quite.
    assert 1 / state.density == pytest.approx(volume, rel=1e-9 if not fluid.is_blend else 0.1)


@every
def test_states_meet_the_saturation_lines(name):
    fluid = refrigerants.get(name)
    p = np.geomspace(*fluid.pressure_range, 200)
    s = fluid.saturation(p)
    for h, temperature, entropy, density in (
        (s.liquid_enthalpy, s.bubble_temperature, s.liquid_entropy, s.liquid_density),
        (s.vapour_enthalpy, s.dew_temperature, s.vapour_entropy, s.vapour_density),
    ):
        for nudge in (-1e-3, 1e-3):
            state = fluid.state_ph(p, h + nudge)
            np.testing.assert_allclose(state.temperature, temperature, atol=1e-5)
            np.testing.assert_allclose(state.entropy, entropy, atol=1e-4)
            np.testing.assert_allclose(state.density, density, rtol=1e-5)


@every
def test_heat_added_at_constant_pressure_is_t_ds(name):
    """(dh/ds) at constant p is T, in liquid, dome and vapour alike."""
    fluid = refrigerants.get(name)
    p = np.geomspace(*fluid.pressure_range, 40)[1:-1, None]
    s = fluid.saturation(p)
    low, high = s.liquid_enthalpy - 8e3, s.vapour_enthalpy + 60e3
    h = low + (high - low) * np.linspace(0.02, 0.98, 61)
    step = 20.0
    rise = fluid.state_ph(p, h + step).entropy - fluid.state_ph(p, h - step).entropy
    # The chord across the dome of R404A, R507A, R513A is straight in T and in s, to 0.3 %.
    np.testing.assert_allclose(2 * step / rise, fluid.state_ph(p, h).temperature, rtol=3e-3)


@every
def test_heat_capacity_is_the_slope_of_enthalpy(name):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, 0.5)
    for temperature in (fluid.dew_temperature(p) + 20, fluid.bubble_temperature(p) - 15):
        state = fluid.state_pt(p, temperature)
        warm = fluid.state_ph(p, state.enthalpy + 50).temperature
        cold = fluid.state_ph(p, state.enthalpy - 50).temperature
        slope = 100 / (warm - cold)
        assert fluid.heat_capacity(p, state.enthalpy) == pytest.approx(slope, rel=1e-4)
    s = fluid.saturation(p)
    assert fluid.heat_capacity(p, s.vapour_enthalpy + 10) == pytest.approx(
        s.vapour_heat_capacity, rel=5e-3
    )


@every
def test_liquid_and_vapour_enthalpy_stop_at_their_lines(name):
    fluid = refrigerants.get(name)
    p = between(fluid.pressure_range, 0.6)
    s = fluid.saturation(p)
    bubble, dew = s.bubble_temperature, s.dew_temperature
    assert fluid.liquid_enthalpy(p, bubble + 5) == pytest.approx(s.liquid_enthalpy, abs=1e-3)
    assert fluid.vapour_enthalpy(p, dew - 5) == pytest.approx(s.vapour_enthalpy, abs=1e-3)
    assert fluid.liquid_enthalpy(p, bubble - 5) < s.liquid_enthalpy - 4e3
    assert fluid.vapour_enthalpy(p, dew + 5) > s.vapour_enthalpy + 3e3


# shapes -------------------------------------------------------------------------------------------


def test_arrays_broadcast_and_numbers_stay_numbers():
    fluid = refrigerants.get("R454C")
    p = np.array([[3e5], [6e5]])
    h = np.array([190e3, 300e3, 420e3])
    state = fluid.state_ph(p, h)
    assert state.temperature.shape == state.pressure.shape == state.quality.shape == (2, 3)
    one = fluid.state_ph(6e5, 300e3)
    assert float(one.temperature) == state.temperature[1, 1]
    assert np.ndim(one.density) == np.ndim(fluid.dew_temperature(6e5)) == 0
    assert fluid.saturation(p).liquid_viscosity.shape == (2, 1)
    assert fluid.state_ph(np.zeros(0), np.zeros(0)).temperature.shape == (0,)


def test_many_states_are_the_same_as_each_alone():
    fluid = refrigerants.get("R448A")
    rng = np.random.default_rng(1)
    p = rng.uniform(1e5, 30e5, 3000)
    h = enthalpies(fluid, p, rng.random(3000))
    together = fluid.state_ph(p, h)
    for k in range(0, 3000, 311):
        alone = fluid.state_ph(p[k], h[k])
        for field in ("temperature", "entropy", "density", "quality"):
            assert getattr(alone, field) == pytest.approx(getattr(together, field)[k], rel=1e-13)


# refusals -----------------------------------------------------------------------------------------


@every
def test_pressures_outside_the_range_are_refused(name):
    fluid = refrigerants.get(name)
    low, high = fluid.pressure_range
    for call in (
        fluid.dew_temperature,
        fluid.bubble_temperature,
        fluid.glide,
        fluid.saturation,
        lambda p: fluid.superheat(p, 280.0),
        lambda p: fluid.subcooling(p, 280.0),
        lambda p: fluid.state_ph(p, 300e3),
        lambda p: fluid.state_pt(p, 280.0),
        lambda p: fluid.state_ps(p, 1500.0),
        lambda p: fluid.state_px(p, 0.5),
        lambda p: fluid.liquid_enthalpy(p, 280.0),
        lambda p: fluid.vapour_enthalpy(p, 280.0),
        lambda p: fluid.heat_capacity(p, 300e3),
    ):
        for wrong in (low * 0.99, high * 1.01, 0.0, -1e5, np.nan, np.inf):
            with pytest.raises(OutOfRange) as caught:
                call(wrong)
            assert (caught.value.low, caught.value.high) == (low, high)
            assert caught.value.kind == "pressure"
            assert name in str(caught.value)


@every
def test_one_bad_value_in_an_array_is_the_one_named(name):
    fluid = refrigerants.get(name)
    p = np.array([5e5, 6e5, 99e5, 7e5])
    with pytest.raises(OutOfRange) as caught:
        fluid.saturation(p)
    assert caught.value.value == 99e5


@every
def test_temperatures_outside_the_range_are_refused(name):
    fluid = refrigerants.get(name)
    for pressure_of, end in ((fluid.dew_pressure, 0), (fluid.bubble_pressure, 1)):
        ends = fluid.temperature_range
        with pytest.raises(OutOfRange, match="temperature of") as caught:
            pressure_of(ends[end] + (-20 if end == 0 else 5))
        assert caught.value.kind == "temperature"


def test_states_beyond_the_tables_are_refused_with_their_limits():
    fluid = refrigerants.get("R290")
    dew = fluid.dew_temperature(5e5)
    with pytest.raises(OutOfRange, match="vapour temperature of R290") as caught:
        fluid.state_pt(5e5, dew + 121)
    assert caught.value.high == pytest.approx(dew + 120, abs=1e-6)
    with pytest.raises(OutOfRange, match="vapour enthalpy of R290"):
        fluid.state_ph(5e5, 900e3)
    with pytest.raises(OutOfRange, match="liquid enthalpy of R290"):
        fluid.state_ph(5e5, 0.0)
    with pytest.raises(OutOfRange, match="liquid entropy of R290"):
        fluid.state_ps(5e5, 0.0)
    with pytest.raises(OutOfRange, match="quality of R290"):
        fluid.state_px(5e5, 1.2)


@every
@settings(max_examples=60, deadline=None)
@given(p=st.floats(-1e6, 1e9), h=st.floats(-1e8, 1e8), temperature=st.floats(0, 3000))
def test_solvers_always_get_finite_answers(name, p, h, temperature):
    fluid = refrigerants.get(name)
    for state in (
        fluid.state_ph(p, h, check=False),
        fluid.state_pt(p, temperature, check=False),
        fluid.state_ps(p, h / 100, check=False),
    ):
        assert np.isfinite([state.temperature, state.entropy, state.enthalpy]).all()
        assert state.temperature > 0
        assert state.density > 0 or p < 1
    s = fluid.saturation(p, check=False)
    assert np.isfinite(list(vars(s).values())).all()
    assert s.latent_heat > 0
    assert np.isfinite(fluid.dew_pressure(temperature, check=False))
    assert np.isfinite(fluid.bubble_pressure(temperature, check=False))


def test_not_a_number_stays_not_a_number():
    state = refrigerants.get("R134a").state_ph([np.nan, 5e5], [300e3, np.nan], check=False)
    assert np.isnan(state.temperature).all()


@every
def test_the_edge_of_the_table_is_smooth_for_solvers(name):
    fluid = refrigerants.get(name)
    low, high = fluid.pressure_range
    p = np.concatenate([low * np.linspace(0.9, 1.1, 201), high * np.linspace(0.95, 1.05, 201)])
    dew = fluid.dew_temperature(p, check=False)
    assert (np.abs(np.diff(dew[:201])) < 0.1).all()
    assert (np.abs(np.diff(dew[201:])) < 0.1).all()
    assert (np.diff(dew[:201]) > 0).all()
