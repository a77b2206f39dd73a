"""Which evaporating temperature the goods want: a small difference keeps the air moist."""

from __future__ import annotations

from functools import cache

import numpy as np

from .. import store
from ..errors import require
from .walls import FILE

SPREAD = 1.0  # [K] by which sources differ about the same humidity


@cache
def table():
    """Read what temperature differences go with which humidity.

    Returns
    -------
    tuple of (float, float, str)
        Air less evaporating temperature [K], relative humidity that a forced-air cooler then
        holds, and goods that like it so; wettest first. Status in ``data/load.toml``.
    """
    rows = store.read_toml(FILE)["humidity"]
    return tuple((row["difference_K"], row["relative"], row["holds"]) for row in rows)


def humidity_held(difference):
    """Humidity that goes with a temperature difference, between the rows of `table`.

    Parameters
    ----------
    difference : array_like
        Air less evaporating temperature. [K]

    Returns
    -------
    ndarray
        Relative humidity.

    Raises
    ------
    OutOfRange
        Outside the table.
    """
    differences, humidities, _ = zip(*table(), strict=True)
    require(
        "air less evaporating temperature",
        difference,
        differences[0],
        differences[-1],
        "temperature_difference",
    )
    return np.interp(difference, differences, humidities)


def air_difference(humidity):
    """Temperature difference that holds a humidity; the inverse of `humidity_held`.

    Parameters
    ----------
    humidity : array_like
        Relative.

    Returns
    -------
    ndarray
        Air less evaporating temperature; sources differ by ``SPREAD``. [K]

    Raises
    ------
    OutOfRange
        Outside the table.
    """
    differences, humidities, _ = zip(*table(), strict=True)
    require("relative humidity", humidity, humidities[-1], humidities[0], "ratio")
    return np.interp(humidity, humidities[::-1], differences[::-1])


def evaporating_temperature(temperature, humidity):
    """Evaporating (dew) temperature for a room of a wanted humidity.

    Parameters
    ----------
    temperature : array_like
        Of the air. [K]
    humidity : array_like
        Relative.

    Returns
    -------
    ndarray
        [K]

    Raises
    ------
    OutOfRange
        As `air_difference`.
    """
    return temperature - air_difference(humidity)
