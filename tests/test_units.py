"""Conversions; published factors and barometers run in tests/test_checks.py."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lowside import units
from lowside.errors import OutOfRange, UnknownName


def test_one_atmosphere_in_psia():
    # Arithmetic on the two definitions: 14.695 95 psia (CHECKS C486).
    assert units.from_si(101325.0, "psi") == pytest.approx(14.69595, abs=5e-6)


@pytest.mark.parametrize("altitude", [-501.0, 5501.0, math.nan, math.inf])
def test_no_barometer_off_the_map(altitude):
    with pytest.raises(OutOfRange) as refusal:
        units.atmosphere(altitude)
    assert refusal.value.kind == "altitude"


@given(st.floats(-500, 5500), st.floats(-500, 5500))
def test_barometer_falls_with_altitude(one, other):
    low, high = sorted((one, other))
    assert units.atmosphere(high) <= units.atmosphere(low)


def test_fixed_points_of_the_temperature_scales():
    # Ice and (conventional) steam point, and where both scales agree: definitions.
    fahrenheit = units.from_si([273.15, 373.15, 233.15], "degF")
    assert fahrenheit == pytest.approx([32.0, 212.0, -40.0])
    assert units.from_si(0.0, "degR") == 0.0


def test_a_difference_has_no_zero_to_shift():
    # 1 K = 1.8 °F by definition: 10 K of superheat is 18 °F, not 50 °F.
    assert units.from_si(10.0, "degF_difference") == pytest.approx(18.0)
    assert units.from_si(283.15, "degF") == pytest.approx(50.0)


@given(st.sampled_from(sorted(units.UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back(name, value):
    back = units.from_si(units.to_si(value, name), name)
    # A shifted zero costs digits near it: 273 K in double precision resolves some 1e-13 K.
    assert back == pytest.approx(value, rel=1e-12, abs=1e-9)


@given(st.floats(-1e5, 1e7), st.floats(5e4, 1.1e5))
def test_gauge_and_absolute_are_inverse(gauge, barometer):
    assert units.gauge(units.absolute(gauge, barometer), barometer) == pytest.approx(
        gauge, abs=1e-8
    )


def test_arrays_keep_their_shape_and_scalars_are_plain_floats():
    values = np.array([[0.0, 1.0, 2.0], [3.0, 4.0, 5.0]])
    assert units.to_si(values, "psi").shape == values.shape
    assert type(units.to_si(1, "psi")) is float
    assert type(units.from_si(np.float64(1.0), "psi")) is float


def test_every_unit_of_a_family_shares_one_si_unit():
    names = {unit.family for unit in units.UNITS.values()}
    for family in names:
        factors = [u.factor for u in units.UNITS.values() if u.family == family]
        assert 1.0 in factors, family


def test_unknown_unit_is_named():
    with pytest.raises(UnknownName, match="furlong"):
        units.to_si(1.0, "furlong")
