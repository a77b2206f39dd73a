"""Splines and polynomials under the property tables, by what they must reproduce exactly."""

import numpy as np
import pytest
from lowside.refrigerants import build, spline


@pytest.fixture
def knots():
    return spline.Knots(2.0, 0.5, 12)


def cubic(x):
    return np.stack([1 + 2 * x - 3 * x**2 + 0.5 * x**3, x**3, np.ones_like(x)], axis=-1)


def test_a_cubic_is_reproduced_exactly(knots):
    table = spline.coefficients(cubic(knots.values))
    x = np.linspace(2, 8, 301)
    np.testing.assert_allclose(spline.evaluate(table, *knots.locate(x)), cubic(x), atol=1e-10)


def test_value_slope_and_curvature_are_continuous(knots):
    values = np.random.default_rng(0).random((13, 2))
    table = spline.coefficients(values)
    np.testing.assert_allclose(table[:, :, 0], values[:-1], atol=1e-14)
    at_end = table.sum(-1), table @ [0, 1, 2, 3], table @ [0, 0, 2, 6]
    at_start = table[..., 0], table[..., 1], 2 * table[..., 2]
    for end, start in zip(at_end, at_start, strict=True):
        np.testing.assert_allclose(end[:-1], start[1:], atol=1e-12)


def test_outside_the_knots_it_goes_on_straight_then_level(knots):
    table = spline.coefficients(cubic(knots.values)[:, :1])

    def value(x):
        return spline.evaluate(table, *knots.locate(np.atleast_1d(x)))[:, 0]

    slope = 2 - 6 * 8 + 1.5 * 8**2
    np.testing.assert_allclose(value(8.5), cubic(np.array(8.0))[0] + 0.5 * slope, rtol=1e-9)
    far = 8 + spline.REACH * 0.5
    np.testing.assert_array_equal(value(far), value(far + 1000))
    assert np.isfinite(value([-np.inf, np.inf])).all()
    assert np.isnan(value(np.nan)).all()


def test_polynomials_go_through_their_points():
    x = build.lobatto(10)
    assert (x[0], x[-1]) == (0, 1)
    powers = build.through(x, np.exp(x))
    np.testing.assert_allclose(np.vander(x, increasing=True) @ powers, np.exp(x), rtol=1e-12)
    middle = np.linspace(0, 1, 50)
    np.testing.assert_allclose(np.polyval(powers[::-1], middle), np.exp(middle), rtol=1e-10)


def test_missing_knots_are_filled_and_counted():
    knots = np.linspace(10, 14, 30)
    rows = list(np.column_stack([np.exp(knots / 4), np.sqrt(knots)]))
    expected = np.array(rows)
    for k in (0, 11, 12, 29):
        rows[k] = None
    filled, missing = build.fill(knots, rows)
    assert missing == 4
    np.testing.assert_allclose(filled, expected, rtol=1e-7)


def test_the_liquid_region_stops_where_the_equation_of_state_does():
    bubble = np.linspace(212, 340, 20)
    spans = build.liquid_spans(bubble, 200.0)
    assert (bubble - spans >= 200).all()
    assert (np.diff(spans) > 0).all()
    assert build.liquid_spans(bubble, 100.0)[0] == build.SUBCOOLING_SPANS[0]
