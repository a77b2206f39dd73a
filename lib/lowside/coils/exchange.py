"""What every zone of every coil rests on: effectiveness, mean differences, pieces in a row."""

from __future__ import annotations

import numpy as np

PIECES = 3  # of the boiling or condensing zone
LEAST_DIFFERENCE = 0.01  # [K] air to refrigerant; keeps a solver's trial points finite


def effectiveness(conductance, capacity_rate):
    """Effectiveness of a coil against air where the other side keeps its temperature.

    Parameters
    ----------
    conductance : float or ndarray
        UA. [W/K]
    capacity_rate : float or ndarray
        Of the air. [W/K]

    Returns
    -------
    float or ndarray
        1 - exp(-UA/C). [-]
    """
    return -np.expm1(-np.asarray(conductance) / capacity_rate)


def log_mean_difference(first, second):
    """Logarithmic mean of two temperature differences of equal sign.

    Parameters
    ----------
    first, second : float or ndarray
        Differences at the two ends, above zero. [K]

    Returns
    -------
    float or ndarray
        [K]
    """
    first, second = np.asarray(first, dtype=float), np.asarray(second, dtype=float)
    mean = 0.5 * (first + second)
    bend = (first - second) / (first + second)
    close = np.abs(bend) < 1e-4
    safe = np.where(close, 0.5, bend)
    return mean * np.where(close, 1.0 - bend**2 / 3.0, safe / np.arctanh(safe))


def through_pieces(rate, difference, step, room=1.0):
    """Pass pieces of equal enthalpy one after the other, as far as the coil reaches.

    Parameters
    ----------
    rate : float or ndarray
        Air capacity rate times effectiveness over mass flow. [J/(kg K)]
    difference : ndarray, shape (pieces + 1, ...)
        Between air and refrigerant at the ends of the pieces, above zero. [K]
    step : float or ndarray
        Enthalpy that each piece moves. [J/kg]
    room : float or ndarray
        Share of the coil that is left for the pieces. [-]

    Returns
    -------
    moved : float or ndarray
        Enthalpy moved in the room there is. [J/kg]
    share : float or ndarray
        Share of the coil used. [-]
    """
    shares = step / (rate * log_mean_difference(difference[:-1], difference[1:]))
    before = np.cumsum(shares, axis=0) - shares
    taken = np.clip(room - before, 0.0, shares)
    # Inside a piece the difference is linear in enthalpy, so enthalpy is exponential in share.
    slope = (difference[1:] - difference[:-1]) / step * rate * taken
    steep = np.where(np.abs(slope) > 1e-9, slope, 1.0)
    stretch = np.where(np.abs(slope) > 1e-9, np.expm1(steep) / steep, 1.0)
    moved = np.where(taken < shares, rate * difference[:-1] * taken * stretch, step)
    return moved.sum(axis=0), taken.sum(axis=0)


def along_pieces(shape):
    """Places from 0 to 1 at the ends of the pieces, as a column over arrays of a shape.

    Parameters
    ----------
    shape : tuple of int

    Returns
    -------
    ndarray, shape (PIECES + 1, 1, ...)
    """
    return np.linspace(0.0, 1.0, PIECES + 1).reshape(-1, *(1 for _ in shape))
