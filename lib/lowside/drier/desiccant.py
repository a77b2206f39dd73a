"""What the drier holds: refrigerant in its free volume, water in its beads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import store
from ..errors import UnknownName, require
from ..water import saturation_pressure
from .solubility import solubility

#: One drop of water, a convention: 0.05 mL.
DROP = 50e-6  # [kg]

_ROUNDS = 80


@cache
def _data():
    return store.read_toml("desiccants.toml")


def _sieves():
    return {name: row for name, row in _data().items() if "b0_per_Pa" in row}


def drops(water):
    """Water in drops of 50 mg.

    Parameters
    ----------
    water : array_like
        [kg]

    Returns
    -------
    float or ndarray
        Number of drops.
    """
    return water / DROP


def water_loading(water_pressure, temperature, sieve="5A"):
    """Water on a molecular sieve in equilibrium, by Toth's isotherm.

    Measured between 15 Pa and 1.7 kPa of water; outside that the fit is continued.

    Parameters
    ----------
    water_pressure : array_like
        Partial pressure of water. [Pa]
    temperature : array_like
        0 °C to 100 °C. [K]
    sieve : str
        ``"5A"`` or ``"13X"``.

    Returns
    -------
    ndarray
        Mass of water per mass of dry sieve. [kg/kg]

    Raises
    ------
    UnknownName
        For another sieve.
    OutOfRange
        For a negative pressure or a temperature outside the measured range.
    """
    if sieve not in _sieves():
        raise UnknownName("molecular sieve", sieve, _sieves())
    row = _sieves()[sieve]
    require("partial pressure of water", water_pressure, 0.0, None, "pressure")
    require("temperature of the sieve", temperature, *row["measured_K"], "temperature")
    kelvin = np.asarray(temperature, dtype=float)
    pull = row["b0_per_Pa"] * np.exp(row["energy_K"] / kelvin) * water_pressure
    n = row["n0"] + row["c_K"] / kelvin
    return row["saturation_kg_kg"] * pull / (1.0 + pull**n) ** (1.0 / n)


@dataclass(frozen=True)
class Drier:
    """A filter-drier.

    Parameters
    ----------
    free_volume : float or ndarray
        Inside, not taken by beads: it fills with liquid refrigerant. [m3]
    desiccant_mass : float or ndarray
        Beads. [kg]
    sieve : str
        Isotherm that the beads follow, ``"5A"`` or ``"13X"``.
    share : float or ndarray
        Capacity of the beads over that of the pure sieve; the default is assumed (finer pores and
        binder, see data/desiccants.toml).

    Raises
    ------
    OutOfRange
        For a negative volume or mass, or a share outside 0 to 1.
    """

    free_volume: float
    desiccant_mass: float
    sieve: str = "5A"
    share: float | None = None

    def __post_init__(self):
        require("free volume of the drier", self.free_volume, 0.0, None, "volume")
        require("mass of desiccant", self.desiccant_mass, 0.0, None, "mass")
        if self.share is None:
            object.__setattr__(self, "share", _data()["beads"]["share"])
        require("share of the sieve's capacity", self.share, 0.0, 1.0, "ratio")

    @classmethod
    def of_shell(cls, inner_volume, desiccant_mass, **changes):
        """Build a drier from its inner volume: beads take their mass over 1100 kg/m3 (assumed).

        Parameters
        ----------
        inner_volume : float or ndarray
            Of the empty shell. [m3]
        desiccant_mass : float or ndarray
            [kg]
        **changes
            Further fields of `Drier`.

        Returns
        -------
        Drier

        Raises
        ------
        OutOfRange
            If the beads do not fit.
        """
        beads = np.asarray(desiccant_mass, dtype=float) / _data()["beads"]["density_kg_m3"]
        require("inner volume of the drier", inner_volume, np.max(beads), None, "volume")
        return cls(inner_volume - beads, desiccant_mass, **changes)

    def refrigerant_held(self, refrigerant, pressure, temperature):
        """Liquid refrigerant in the free volume.

        Parameters
        ----------
        refrigerant : Refrigerant
        pressure, temperature : array_like
            In the liquid line. [Pa], [K]

        Returns
        -------
        ndarray
            [kg]
        """
        enthalpy = refrigerant.liquid_enthalpy(pressure, temperature)
        return self.free_volume * refrigerant.state_ph(pressure, enthalpy).density

    def water_capacity(self, name, temperature, water):
        """Water in the beads when the refrigerant around them holds so much.

        A liquid that holds a share of the water it could dissolve offers the beads that share of
        water's own vapour pressure: equal activity.

        Parameters
        ----------
        name : str
            Refrigerant, a key of ``solubility.known``.
        temperature : array_like
            Of the drier. [K]
        water : array_like
            Left in the refrigerant, such as 50e-6 for 50 ppm. [kg/kg]

        Returns
        -------
        ndarray
            [kg]

        Raises
        ------
        UnknownName
            If the refrigerant has no solubility table.
        OutOfRange
            For negative water or a temperature outside the tables.
        """
        require("water in the refrigerant", water, 0.0, None, "ratio")
        activity = np.minimum(np.asarray(water, dtype=float) / solubility(name, temperature), 1.0)
        loading = water_loading(
            activity * saturation_pressure(temperature), temperature, self.sieve
        )
        return self.desiccant_mass * self.share * loading


def remaining_water(drier, name, charge, water, temperature):
    """Water left in the refrigerant after drier and charge have shared what got in.

    Isotherms are measured from some 5 % loading up. A drier with less than that on its beads leaves
    less than a part per million; do not read more into such an answer.

    Parameters
    ----------
    drier : Drier
    name : str
        Refrigerant, a key of ``solubility.known``.
    charge : array_like
        Refrigerant in the system. [kg]
    water : array_like
        Water in the system, oil and iron left out. [kg]
    temperature : array_like
        Of the drier. [K]

    Returns
    -------
    ndarray
        Mass of water per mass of refrigerant, at most what it dissolves (the rest is free). [kg/kg]

    Raises
    ------
    UnknownName
        If the refrigerant has no solubility table.
    OutOfRange
        For a charge not above zero, negative water or a temperature outside the tables.
    """
    require("charge", charge, 0.0, None, "mass", open_low=True)
    require("water in the system", water, 0.0, None, "mass")
    charge, water, temperature = np.broadcast_arrays(
        *(np.asarray(each, dtype=float) for each in (charge, water, temperature))
    )
    full = solubility(name, temperature)
    low, high = np.full_like(full, -40.0), np.log(full)
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        left = np.exp(middle)
        held = left * charge + drier.water_capacity(name, temperature, left)
        low, high = np.where(held < water, middle, low), np.where(held < water, high, middle)
    left = np.exp(0.5 * (low + high))
    return np.where(water > 0.0, left, 0.0)
