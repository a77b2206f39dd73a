"""Water and ice: their vapour pressure, and where they boil."""

from __future__ import annotations

import numpy as np

from .errors import require

MOLAR_MASS = 0.01801528  # [kg/mol]
TRIPLE_TEMPERATURE = 273.16  # [K]
TRIPLE_PRESSURE = 611.657  # [Pa]
GAS_CONSTANT = 8.314462618 / MOLAR_MASS  # [J/(kg K)] of water vapour
RANGE = (173.15, 640.0)  # [K]

_CRITICAL_TEMPERATURE, _CRITICAL_PRESSURE = 647.096, 22.064e6
# IAPWS SR1-86 (1992), Wagner and Pruss: saturated liquid.
_LIQUID = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)
# IAPWS R14-08 (2011): sublimation of ice.
_ICE = (
    (-0.212144006e2, 0.333333333e-2),
    (0.273203819e2, 0.120666667e1),
    (-0.610598130e1, 0.170333333e1),
)


def saturation_pressure(temperature):
    """Vapour pressure of water, over ice below 0.01 °C.

    Parameters
    ----------
    temperature : array_like
        -100 °C to 367 °C. [K]

    Returns
    -------
    ndarray
        [Pa]

    Raises
    ------
    OutOfRange
        Outside that range.
    """
    require("temperature of water", temperature, *RANGE, "temperature")
    return np.exp(_log_pressure(np.asarray(temperature, dtype=float)))


def _log_pressure(temperature):
    theta = np.minimum(temperature, TRIPLE_TEMPERATURE) / TRIPLE_TEMPERATURE
    ice = np.log(TRIPLE_PRESSURE) + sum(a * theta**b for a, b in _ICE) / theta
    warm = np.maximum(temperature, TRIPLE_TEMPERATURE)
    tau = 1.0 - warm / _CRITICAL_TEMPERATURE
    series = sum(a * tau**b for a, b in _LIQUID)
    liquid = np.log(_CRITICAL_PRESSURE) + _CRITICAL_TEMPERATURE / warm * series
    return np.where(temperature < TRIPLE_TEMPERATURE, ice, liquid)


def boiling_temperature(pressure):
    """Temperature at which water boils, or ice sublimes, at a pressure.

    Parameters
    ----------
    pressure : array_like
        Absolute; 1 micron of vacuum is 0.1333 Pa. [Pa]

    Returns
    -------
    ndarray
        [K]

    Raises
    ------
    OutOfRange
        Outside the pressures of -100 °C to 367 °C.
    """
    low, high = np.exp(_log_pressure(np.array(RANGE)))
    require("pressure over water", pressure, low, high, "vacuum")
    goal = np.log(np.asarray(pressure, dtype=float))
    # ln p is nearly straight over 1/T on either side of the triple point.
    inverse = 1.0 / TRIPLE_TEMPERATURE - (goal - np.log(TRIPLE_PRESSURE)) / 5500.0
    for _ in range(50):
        inverse = np.clip(inverse, 1.0 / RANGE[1], 1.0 / RANGE[0])
        here = _log_pressure(1.0 / inverse)
        slope = (_log_pressure(1.0 / (inverse * (1.0 + 1e-6))) - here) / (inverse * 1e-6)
        step = (goal - here) / slope
        inverse = inverse + step
        if np.all(np.abs(step) < 1e-13):
            break
    return 1.0 / inverse
