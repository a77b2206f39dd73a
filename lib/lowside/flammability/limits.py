"""How much is allowed: lower flammability limits and charge limits, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import store
from ..errors import UnknownName, require

_GAS_CONSTANT = 8.314462618  # [J/(mol K)]
_ROOM_TEMPERATURE = 298.15  # [K] at which concentrations are converted
_ATMOSPHERE = 101325.0  # [Pa]

#: Height of the leak by where the unit sits, for `largest_charge` [m]; IEC 60335-2-40 and EN 378
#: (from memory).
RELEASE_HEIGHTS = {"floor": 0.6, "window": 1.0, "wall": 1.8, "ceiling": 2.2}


@dataclass(frozen=True)
class LowerLimit:
    """One source's lower flammability limit.

    Attributes
    ----------
    volume_share : float
        Share of the air's volume.
    concentration : float
        The same as mass in air, as printed or converted at 25 °C. [kg/m3]
    used_for_limits : bool
        Whether appliance limits are built on it.
    source, status : str
        Where it comes from, and whether it was read there.
    """

    volume_share: float
    concentration: float
    used_for_limits: bool
    source: str
    status: str


@dataclass(frozen=True)
class ChargeLimit:
    """One line of the table of charge limits.

    Attributes
    ----------
    standard, edition, applies_to : str
        Who sets it, when, and for what.
    multiple : float or None
        Multiple of the LFL that it stands on. [m3]
    mass : float or None
        That multiple times the LFL; None where the rule gives no multiple. [kg]
    printed : float or None
        The figure printed or quoted, rounded by its authors. [kg]
    source, status : str
        Where it comes from, and whether it was read there or is from memory.
    """

    standard: str
    edition: str
    applies_to: str
    multiple: float | None
    mass: float | None
    printed: float | None
    source: str
    status: str


@cache
def _data():
    return store.read_toml("charge_limits.toml")


def rule():
    """Sentence that goes with every charge limit.

    Returns
    -------
    str
    """
    return _data()["rule"]


def mass_concentration(volume_share, molar_mass):
    """Mass of gas in a cubic metre of air, from its share of the volume, at 25 °C.

    Parameters
    ----------
    volume_share : array_like
        0 to 1.
    molar_mass : array_like
        [kg/mol]

    Returns
    -------
    float or ndarray
        [kg/m3]

    Raises
    ------
    OutOfRange
        For a share outside 0 to 1.
    """
    require("share of the air's volume", volume_share, 0.0, 1.0, "ratio")
    return volume_share * molar_mass * _ATMOSPHERE / (_GAS_CONSTANT * _ROOM_TEMPERATURE)


def lower_limits(refrigerant):
    """Every source's lower flammability limit of a refrigerant; they disagree.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.

    Returns
    -------
    tuple of LowerLimit
        First the one that appliance limits are built on.

    Raises
    ------
    UnknownName
        If the table has none for it.
    """
    rows = [row for row in _data()["lfl"] if row["refrigerant"] == refrigerant.name]
    if not rows:
        known = dict.fromkeys(row["refrigerant"] for row in _data()["lfl"])
        raise UnknownName("lower flammability limit for", refrigerant.name, known)
    limits = [
        LowerLimit(
            row["volume_share"],
            row.get("printed_kg_m3")
            or mass_concentration(row["volume_share"], refrigerant.facts.molar_mass),
            row.get("used_for_limits", False),
            row["source"],
            row["status"],
        )
        for row in rows
    ]
    return tuple(sorted(limits, key=lambda limit: not limit.used_for_limits))


def multiple_of_lfl(multiple, lfl):
    """Charge limit that stands on a multiple of the lower flammability limit.

    Parameters
    ----------
    multiple : array_like
        Such as 4, 8, 13, 26 or 130. [m3]
    lfl : array_like
        [kg/m3]

    Returns
    -------
    float or ndarray
        [kg]

    Raises
    ------
    OutOfRange
        For an LFL not above zero.
    """
    require("lower flammability limit", lfl, 0.0, None, "density", open_low=True)
    return multiple * lfl


def charge_limits(refrigerant):
    """Charge limits for a flammable refrigerant, by standard and edition; show `rule` with them.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.

    Returns
    -------
    tuple of ChargeLimit

    Raises
    ------
    UnknownName
        If the table has no lower flammability limit for it.
    """
    lfl = lower_limits(refrigerant)[0].concentration
    return tuple(
        ChargeLimit(
            row["standard"],
            row["edition"],
            row["applies_to"],
            row.get("multiple_m3"),
            multiple_of_lfl(row["multiple_m3"], lfl) if "multiple_m3" in row else None,
            row.get("printed_kg"),
            row["source"],
            row["status"],
        )
        for row in _data()["limit"]
        if refrigerant.name in row["refrigerants"]
    )


def largest_charge(lfl, floor_area, release_height):
    """Largest charge of a unit in a room by the formula of IEC 60335-2-40 and EN 378 (memory).

    m_max = 2.5 LFL^1.25 h0 sqrt(A): what leaks at height h0 sinks and spreads over the floor.

    Parameters
    ----------
    lfl : array_like
        [kg/m3]
    floor_area : array_like
        [m2]
    release_height : array_like
        See `RELEASE_HEIGHTS`. [m]

    Returns
    -------
    float or ndarray
        [kg]

    Raises
    ------
    OutOfRange
        For any of them not above zero.
    """
    require("lower flammability limit", lfl, 0.0, None, "density", open_low=True)
    require("floor area", floor_area, 0.0, None, "area", open_low=True)
    require("height of the leak", release_height, 0.0, None, "length", open_low=True)
    return 2.5 * lfl**1.25 * release_height * np.sqrt(floor_area)


def smallest_floor(mass, lfl, release_height):
    """Smallest floor for a charge by the same formula.

    Parameters
    ----------
    mass : array_like
        [kg]
    lfl : array_like
        [kg/m3]
    release_height : array_like
        [m]

    Returns
    -------
    float or ndarray
        [m2]

    Raises
    ------
    OutOfRange
        For a negative mass, or the others not above zero.
    """
    require("charge", mass, 0.0, None, "mass")
    require("lower flammability limit", lfl, 0.0, None, "density", open_low=True)
    require("height of the leak", release_height, 0.0, None, "length", open_low=True)
    return np.square(mass / (2.5 * lfl**1.25 * release_height))


def smallest_room(mass, practical_limit):
    """Room volume in which a whole charge stays under the practical limit.

    Parameters
    ----------
    mass : array_like
        [kg]
    practical_limit : array_like
        Such as 0.008 for propane (EN 378-1, from memory). [kg/m3]

    Returns
    -------
    float or ndarray
        [m3]

    Raises
    ------
    OutOfRange
        For a negative mass or a limit not above zero.
    """
    require("charge", mass, 0.0, None, "mass")
    require("practical limit", practical_limit, 0.0, None, "density", open_low=True)
    return mass / practical_limit
