"""How much water a refrigerant carries, and what falls out where it gets cold."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import store, units
from ..errors import UnknownName, require
from ..water import MOLAR_MASS, TRIPLE_TEMPERATURE, saturation_pressure


@dataclass(frozen=True)
class Fallout:
    """Water against what cold refrigerant can carry. Mass of water per mass of refrigerant.

    Attributes
    ----------
    carried : ndarray
        Most that liquid and vapour together keep dissolved. [kg/kg]
    free : ndarray
        What falls out. [kg/kg]
    freezes : ndarray of bool
        Something falls out below 0 °C: it can build up at the port. With hydrocarbons and HFCs it
        can be a hydrate, solid even a few degrees above 0 °C.
    """

    carried: np.ndarray
    free: np.ndarray
    freezes: np.ndarray


@cache
def _data():
    return store.read_toml("water_solubility.toml")


def known():
    """Refrigerants with a solubility table, and where each comes from.

    Returns
    -------
    dict of str to str
        Name to source and status.
    """
    return {
        name: f"{row['source']} ({row['status']})"
        for name, row in _data().items()
        if isinstance(row, dict)
    }


def _table(name):
    rows = known()
    if name not in rows:
        raise UnknownName("water solubility table for", name, rows)
    return _data()[name]


def solubility(name, temperature):
    """Most water that a liquid refrigerant dissolves.

    Between the points of the table ln(solubility) runs straight over 1/T; beyond its ends the last
    stretch is continued.

    Parameters
    ----------
    name : str
        A key of `known`.
    temperature : array_like
        -45 °C to 55 °C. [K]

    Returns
    -------
    ndarray
        Mass of water per mass of refrigerant. [kg/kg]

    Raises
    ------
    UnknownName
        With the refrigerants that have a table.
    OutOfRange
        For a temperature outside that range.
    """
    row = _table(name)
    low, high = (value + units.ICE_POINT for value in _data()["valid_degC"])
    require(f"temperature of liquid {name}", temperature, low, high, "temperature")
    kelvin = (np.array(row["temperature_degF"]) + 459.67) * units.RANKINE
    x, y = 1.0 / kelvin, np.log(np.array(row["ppm"]) * 1e-6)
    at = 1.0 / np.asarray(temperature, dtype=float)
    left = np.clip(np.searchsorted(x, at) - 1, 0, len(x) - 2)
    slope = (y[left + 1] - y[left]) / (x[left + 1] - x[left])
    return np.exp(y[left] + slope * (at - x[left]))


def doubt(name):
    """Factor by which a solubility may be too high or too low.

    Parameters
    ----------
    name : str
        A key of `known`.

    Returns
    -------
    float

    Raises
    ------
    UnknownName
        With the refrigerants that have a table.
    """
    return _table(name)["factor"]


def in_vapour(refrigerant, temperature):
    """Most water in the saturated vapour of a refrigerant, by Dalton's law.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    temperature : array_like
        [K]

    Returns
    -------
    ndarray
        Mass of water per mass of refrigerant. [kg/kg]

    Raises
    ------
    OutOfRange
        For a temperature outside the refrigerant's or the water's range.
    """
    water = saturation_pressure(temperature)
    dry = refrigerant.dew_pressure(temperature) - water
    return MOLAR_MASS / refrigerant.facts.molar_mass * water / dry


def falls_out(refrigerant, water, temperature, quality=0.0):
    """Whether water falls out behind the port, where the refrigerant is coldest.

    Behind the valve liquid and vapour share the water. Vapour carries a good part of it, in propane
    more than the liquid does, so that counting the liquid alone would cry wolf.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``, one with a solubility table (`known`).
    water : array_like
        Water per refrigerant that arrives; 1 ppm is 1e-6. [kg/kg]
    temperature : array_like
        Evaporating temperature. [K]
    quality : array_like
        Mass share of vapour behind the port.

    Returns
    -------
    Fallout

    Raises
    ------
    UnknownName
        If the refrigerant has no solubility table.
    OutOfRange
        For negative water, a quality outside 0 to 1, or a temperature outside the tables.
    """
    require("water in the refrigerant", water, 0.0, None, "ratio")
    require("quality", quality, 0.0, 1.0, "ratio")
    liquid = solubility(refrigerant.name, temperature)
    vapour = in_vapour(refrigerant, temperature)
    carried = (1.0 - np.asarray(quality, dtype=float)) * liquid + quality * vapour
    free = np.maximum(water - carried, 0.0)
    freezes = (free > 0.0) & (np.asarray(temperature) < TRIPLE_TEMPERATURE)
    return Fallout(carried=carried, free=free, freezes=freezes)
