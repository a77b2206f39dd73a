"""Cubic splines on uniform knots, many columns at once, in few numpy calls."""

from __future__ import annotations

import numpy as np

REACH = 4  # steps beyond the end knots over which a spline goes on as a straight line


def coefficients(values):
    """Power coefficients of the C2 not-a-knot cubic spline through uniform knots.

    Parameters
    ----------
    values : array_like, shape (n + 1, ...)
        Values at the knots, at least four.

    Returns
    -------
    numpy.ndarray, shape (n, ..., 4)
        Coefficients of 1, t, t2, t3 with t from 0 to 1 across each interval.

    Notes
    -----
    With second derivatives M in units of the step squared, M[i-1] + 4 M[i] + M[i+1] is six times
    the second difference, and the third derivative is continuous across the first and last inner
    knot (de Boor, A Practical Guide to Splines, ch. IV).
    """
    values = np.asarray(values, float)
    knots = len(values)
    flat = values.reshape(knots, -1)
    matrix = 4 * np.eye(knots) + np.eye(knots, k=1) + np.eye(knots, k=-1)
    matrix[0], matrix[-1] = 0, 0
    matrix[0, :3] = matrix[-1, -3:] = 1, -2, 1
    right = np.zeros_like(flat)
    right[1:-1] = 6 * (flat[:-2] - 2 * flat[1:-1] + flat[2:])
    bend = np.linalg.solve(matrix, right)
    rise = flat[1:] - flat[:-1]
    powers = np.stack(
        [
            flat[:-1],
            rise - (2 * bend[:-1] + bend[1:]) / 6,
            bend[:-1] / 2,
            (bend[1:] - bend[:-1]) / 6,
        ],
        axis=-1,
    )
    return powers.reshape(knots - 1, *values.shape[1:], 4)


class Knots:
    """Uniform knots: where a value falls, and the powers that a spline multiplies.

    Parameters
    ----------
    start, step : float
        First knot and distance between knots.
    count : int
        Number of intervals.
    """

    def __init__(self, start, step, count):
        self.start, self.step, self.count = float(start), float(step), int(count)

    @property
    def values(self):
        """All knots, shape (count + 1,)."""
        return self.start + self.step * np.arange(self.count + 1)

    def locate(self, x):
        """Interval and powers of the position inside it.

        Outside the knots the spline goes on as a straight line for `REACH` steps and is constant
        beyond, so that a solver that overshoots always gets finite numbers. NaN stays NaN.

        Parameters
        ----------
        x : numpy.ndarray, shape (n,)

        Returns
        -------
        interval : numpy.ndarray of int, shape (n,)
        powers : numpy.ndarray, shape (n, 4)
        """
        position = (x - self.start) / self.step
        inside = position
        if position.size and not (position.min() >= 0 and position.max() <= self.count):
            position = np.clip(position, -REACH, self.count + REACH)
            inside = np.clip(position, 0, self.count)
            interval = np.nan_to_num(inside).astype(np.intp)
        else:
            interval = position.astype(np.intp)
        np.minimum(interval, self.count - 1, out=interval)
        t = inside - interval
        powers = np.empty((len(t), 4))
        powers[:, 0] = 1
        powers[:, 1] = t
        powers[:, 2] = t * t
        powers[:, 3] = powers[:, 2] * t
        if inside is not position:
            powers[:, 1:] += (position - inside)[:, None] * slope_powers(t)[:, 1:]
        return interval, powers


def slope_powers(t):
    """Differentiate 1, t, t2, t3: what a spline's coefficients multiply to give its slope.

    Parameters
    ----------
    t : numpy.ndarray, shape (n,)

    Returns
    -------
    numpy.ndarray, shape (n, 4)
    """
    powers = np.zeros((len(t), 4))
    powers[:, 1] = 1
    powers[:, 2] = 2 * t
    powers[:, 3] = 3 * t * t
    return powers


def evaluate(table, interval, powers):
    """Spline values of all columns.

    Parameters
    ----------
    table : numpy.ndarray, shape (count, columns, 4)
    interval : numpy.ndarray of int, shape (n,)
    powers : numpy.ndarray, shape (n, 4)

    Returns
    -------
    numpy.ndarray, shape (n, columns)
    """
    return np.einsum("nk,nck->nc", powers, table[interval])
