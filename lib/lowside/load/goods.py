"""Goods: what must be taken out of them to get cold, and what they give off while they breathe."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import store, units
from ..errors import UnknownName, require
from .walls import FILE

_KILO = 1e3
_HOTTEST = 373.15  # [K] nothing boils in a cold room
_COLDEST = 213.15  # [K]


@dataclass(frozen=True)
class Food:
    """What a food needs to be cooled and frozen.

    Attributes
    ----------
    key, name : str
        For code, and in words.
    freezing : float
        Where it begins to freeze. [K]
    above, below : float
        Specific heats. [J/(kg K)]
    latent : float
        Taken at the freezing point. [J/kg]
    breathing : tuple of float or None
        Coefficients f and g of Becker and Fricke; None for what is not alive.
    source, status : str
        Where these come from.
    """

    key: str
    name: str
    freezing: float
    above: float
    below: float
    latent: float
    breathing: tuple | None
    source: str
    status: str

    def enthalpy(self, temperature):
        """Enthalpy from the frozen food at its freezing point.

        Parameters
        ----------
        temperature : array_like
            -60 to 100 °C. [K]

        Returns
        -------
        ndarray
            [J/kg]

        Raises
        ------
        OutOfRange
            Outside that range.
        """
        require(f"temperature of {self.name}", temperature, _COLDEST, _HOTTEST, "temperature")
        above = np.asarray(temperature, dtype=float) - self.freezing
        return np.where(above >= 0.0, self.latent + self.above * above, self.below * above)

    def heat_to_cool(self, entering, kept):
        """Heat to take out from one temperature to another, through freezing if need be.

        Parameters
        ----------
        entering, kept : array_like
            [K]

        Returns
        -------
        ndarray
            Negative where it warms up. [J/kg]

        Raises
        ------
        OutOfRange
            As `enthalpy`.
        """
        return self.enthalpy(entering) - self.enthalpy(kept)

    def breathing_heat(self, temperature):
        """Heat that living produce gives off.

        Becker and Fricke 1996, coefficients from memory; single sorts differ by a factor of two.

        Parameters
        ----------
        temperature : array_like
            [K]

        Returns
        -------
        ndarray
            Zero for what is dead or frozen. [W/kg]
        """
        temperature = np.asarray(temperature, dtype=float)
        if self.breathing is None:
            return np.zeros_like(temperature)
        first, power = self.breathing
        celsius = np.maximum(temperature, self.freezing) - units.ICE_POINT
        heat = 10.7 * first / units.HOUR * (1.8 * celsius + 32.0) ** power
        return np.where(temperature < self.freezing, 0.0, heat)


def foods():
    """List the foods there are.

    Returns
    -------
    tuple of str
        Keys for `food`.
    """
    return tuple(store.read_toml(FILE)["foods"])


@cache
def food(key):
    """Get a food by its key.

    Parameters
    ----------
    key : str
        One of `foods`.

    Returns
    -------
    Food

    Raises
    ------
    UnknownName
        If there is no such food.
    """
    rows = store.read_toml(FILE)["foods"]
    if key not in rows:
        raise UnknownName("food", key, rows)
    row = rows[key]
    breathing = (row["breathing_f"], row["breathing_g"]) if "breathing_f" in row else None
    return Food(
        key,
        row["name"],
        row["freezing_C"] + units.ICE_POINT,
        row["above_kJ_kgK"] * _KILO,
        row["below_kJ_kgK"] * _KILO,
        row["latent_kJ_kg"] * _KILO,
        breathing,
        row["source"],
        row["status"],
    )


@dataclass(frozen=True)
class Goods:
    """What is brought in every day, and what lies there; numbers may be arrays.

    Parameters
    ----------
    food : Food
    brought : float or ndarray
        In a day. [kg]
    entering : float or ndarray
        Its temperature as it comes. [K]
    stock : float or ndarray
        What lies in the box, on average. [kg]
    chilling_time : float or ndarray
        Until 95 % of the heat is out of it. [s]

    Raises
    ------
    OutOfRange
        For a negative mass, or a chilling time not above zero.
    """

    food: Food
    brought: float
    entering: float
    stock: float
    chilling_time: float = 12.0 * units.HOUR

    def __post_init__(self):
        require("goods brought in a day", self.brought, 0.0, None, "goods")
        require("goods in the box", self.stock, 0.0, None, "goods")
        require("chilling time", self.chilling_time, 0.0, None, "hours", open_low=True)

    def heat(self, kept):
        """Heat to take out of a day's goods [J].

        Parameters
        ----------
        kept : float or ndarray
            Temperature of the box. [K]

        Returns
        -------
        ndarray
            [J]
        """
        return self.brought * self.food.heat_to_cool(self.entering, kept)
