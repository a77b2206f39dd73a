"""What a vacuum reading says about water and ice."""

from __future__ import annotations

import numpy as np

from ..errors import require
from ..water import GAS_CONSTANT, RANGE, boiling_temperature


def vacuum_margin(pressure, coldest_temperature):
    """How far water in the coldest part is above its boiling point at a vacuum.

    Positive: it boils off, in time. Negative: it stays, and a gauge that reads low is reading the
    vapour pressure of that water or ice. Below 0 °C it boils off as ice: slowly, so warm the box
    and pull slowly at first.

    Parameters
    ----------
    pressure : array_like
        Measured at the system, pump isolated. [Pa]
    coldest_temperature : array_like
        [K]

    Returns
    -------
    ndarray
        [K]

    Raises
    ------
    OutOfRange
        As `boiling_temperature`.
    """
    require("temperature of the coldest part", coldest_temperature, *RANGE, "temperature")
    return coldest_temperature - boiling_temperature(pressure)


def vapour_left(pressure, volume, temperature):
    """Water that the space itself can still hold at a vacuum, if all that is left is its vapour.

    Parameters
    ----------
    pressure : array_like
        [Pa]
    volume : array_like
        Evacuated space. [m3]
    temperature : array_like
        [K]

    Returns
    -------
    ndarray
        [kg]

    Raises
    ------
    OutOfRange
        For a negative pressure or volume, or a temperature outside the range of water.
    """
    require("pressure", pressure, 0.0, None, "vacuum")
    require("evacuated volume", volume, 0.0, None, "volume")
    require("temperature", temperature, *RANGE, "temperature")
    return np.asarray(pressure, dtype=float) * volume / (GAS_CONSTANT * temperature)
