"""A box that stands: one pressure everywhere, and the liquid in the coldest place."""

from __future__ import annotations

import copy
from dataclasses import dataclass

import numpy as np

from ..errors import OutOfRange, require
from .inventory import Inventory
from .oil import Oil, dissolved
from .parts import vapour_density

_VACUUM = 1.0  # [Pa] no charge is so small
_ROUNDS = 60
_TOLERANCE = 1e-12


@dataclass(frozen=True)
class Standing:
    """A box at rest, in equilibrium.

    Attributes
    ----------
    pressure : ndarray
        Everywhere in the box. [Pa]
    saturation_pressure : ndarray
        Of the refrigerant at the coldest part's temperature: what a pressure-temperature chart
        promises. [Pa]
    below_saturation : ndarray of bool
        No liquid is left outside the oil, so that the pressure stays under the chart. That alone
        does not prove undercharge: in a small box the oil can take that much.
    inventory : Inventory
        Refrigerant in every part. [kg]
    liquid : dict of str to ndarray
        Part name to the liquid in it; equally cold parts share by volume. [kg]
    """

    pressure: np.ndarray
    saturation_pressure: np.ndarray
    below_saturation: np.ndarray
    inventory: Inventory
    liquid: dict


class _Account:
    """Volumes, temperatures and what they hold at a pressure; one row a part, one column a box."""

    def __init__(self, volumes, refrigerant, charge, temperatures):
        spaces = volumes.spaces()
        self.names = tuple(spaces)
        oil = volumes.oil
        given = [charge, temperatures["oil"], oil.mass, oil.density, oil.chi]
        given += [spaces[name] for name in self.names]
        given += [temperatures[name] for name in self.names]
        fields = np.broadcast_arrays(*(np.asarray(each, dtype=float) for each in given))
        self.shape = fields[0].shape
        rows = np.array([field.ravel() for field in fields])
        self.charge, self.oil_temperature = rows[:2]
        self.oil = Oil(*rows[2:5])
        self.volume, self.temperature = np.split(rows[5:], 2)
        self.refrigerant = refrigerant
        saturated = refrigerant.dew_pressure(self.temperature, check=False)
        highest = np.where(self.volume > 0.0, saturated, 0.0).max(axis=0)
        self.saturated = np.where(self.volume > 0.0, saturated, highest)
        boiling = refrigerant.bubble_pressure(self.temperature, check=False)
        self.liquid_density = refrigerant.saturation(boiling, check=False).liquid_density

    def gas(self, pressure):
        """Mass in every part if it held nothing but gas, ideal below the tables [kg]."""
        known = np.maximum(pressure, self.refrigerant.pressure_range[0])
        density = vapour_density(self.refrigerant, known, self.temperature)
        return self.volume * density * (pressure / known)

    def in_oil(self, pressure):
        """Dissolved mass [kg]."""
        return dissolved(self.oil, self.refrigerant, pressure, self.oil_temperature)

    def total(self, pressure, *filled):
        """Mass in the box for each choice of parts that are full of liquid [kg]."""
        gas, oil = self.gas(pressure), self.in_oil(pressure)
        full = self.volume * self.liquid_density
        return [np.where(choice, full, gas).sum(axis=0) + oil for choice in filled]

    def only(self, chosen):
        """Keep the account of some of the boxes."""
        part = copy.copy(self)
        for name in ("charge", "oil_temperature"):
            setattr(part, name, getattr(self, name)[chosen])
        for name in ("volume", "temperature", "saturated", "liquid_density"):
            setattr(part, name, getattr(self, name)[:, chosen])
        part.oil = Oil(self.oil.mass[chosen], self.oil.density[chosen], self.oil.chi[chosen])
        return part


def standing(volumes, refrigerant, charge, temperatures):
    """Pressure and whereabouts of the refrigerant in a box at rest.

    One pressure and, part by part, its own temperature. Gas fills every space and dissolves in the
    oil; what is left over condenses where it is coldest and, once that part is full, in the next
    coldest. Equilibrium: how long migration takes is not asked.

    Parameters
    ----------
    volumes : Volumes
    refrigerant : Refrigerant
        From ``refrigerants.get``. Liquid of a blend is taken at the blend's own composition.
    charge : array_like
        Refrigerant in the box. [kg]
    temperatures : dict of str to array_like
        Temperature of every part: the names of ``volumes.spaces()`` and ``"oil"``. [K]

    Returns
    -------
    Standing

    Raises
    ------
    OutOfRange
        For a charge not above zero or more than the box holds when full of liquid, or for a box
        whose coldest part is outside the refrigerant's range.
    """
    require("charge", charge, 0.0, None, "mass", open_low=True)
    account = _Account(volumes, refrigerant, charge, temperatures)
    require(
        f"temperature of the coldest part of the box with {refrigerant.name}",
        account.temperature.min(axis=0),
        *refrigerant.temperature_range,
        "temperature",
    )
    ceiling = account.saturated.max(axis=0)
    (capacity,) = account.total(ceiling, True)
    over = account.charge > capacity
    if np.any(over):
        k = int(np.argmax(over))
        raise OutOfRange(
            "charge (more than the box holds when full of liquid)",
            account.charge[k],
            0.0,
            capacity[k],
            "mass",
        )

    order = np.sort(account.saturated, axis=0)
    level = np.zeros_like(ceiling)
    at_level = np.zeros(ceiling.shape, bool)
    bottom, top = np.full_like(ceiling, _VACUUM), order[-1]
    unresolved = np.ones(ceiling.shape, bool)
    for step in order:
        below, above = account.total(step, account.saturated < step, account.saturated <= step)
        under = unresolved & (account.charge < below)
        top = np.where(under, step, top)
        resting = unresolved & ~under & (account.charge <= above)
        level = np.where(resting, step, level)
        at_level |= resting
        unresolved &= ~(under | resting)
        bottom = np.where(unresolved, step, bottom)
        if not unresolved.any():
            break

    pressure, gaseous = level, ~at_level
    if gaseous.any():
        pressure[gaseous] = _between(account.only(gaseous), bottom[gaseous], top[gaseous])
    return _report(account, pressure, at_level)


def _between(account, bottom, top):
    """Pressure between two levels where the gas accounts for the charge: Illinois in ln p."""
    filled = account.saturated <= bottom
    low, high = np.log(bottom), np.log(top)

    def miss(log_pressure):
        (total,) = account.total(np.exp(log_pressure), filled)
        return np.log(total / account.charge)

    low_miss, high_miss = miss(low), miss(high)
    guess = low
    for _ in range(_ROUNDS):
        span = np.where(high_miss == low_miss, 1.0, high_miss - low_miss)
        guess = np.clip(low - low_miss * (high - low) / span, low, high)
        here = miss(guess)
        if np.all((np.abs(here) < _TOLERANCE) | (high - low < _TOLERANCE)):
            break
        over = here > 0.0
        low_miss = np.where(over, 0.5 * low_miss, here)
        high_miss = np.where(over, here, 0.5 * high_miss)
        low, high = np.where(over, low, guess), np.where(over, guess, high)
    return np.exp(guess)


def _report(account, pressure, at_level):
    gas = account.gas(pressure)
    full = account.saturated < pressure
    filling = at_level & (account.saturated == pressure)
    oil = account.in_oil(pressure)
    rest = np.where(full, account.volume * account.liquid_density, gas).sum(axis=0) + oil
    # Liquid takes the place of gas: a kilogram of it adds 1 - rho_gas/rho_liquid to the account.
    surplus = np.maximum(account.charge - rest, 0.0)
    room = np.where(filling, account.volume * account.liquid_density - gas, 0.0)
    share = np.where(at_level, surplus / np.maximum(room.sum(axis=0), 1e-300), 0.0)
    liquid = account.volume * account.liquid_density * np.where(full, 1.0, filling * share)
    vapour = gas * np.where(full, 0.0, 1.0 - filling * share)
    coldest = account.saturated.min(axis=0)

    def named(rows):
        each = zip(account.names, rows, strict=True)
        return {name: row.reshape(account.shape) for name, row in each}

    return Standing(
        pressure=pressure.reshape(account.shape),
        saturation_pressure=coldest.reshape(account.shape),
        below_saturation=(pressure < coldest * (1.0 - 1e-9)).reshape(account.shape),
        inventory=Inventory(oil=oil.reshape(account.shape), **named(liquid + vapour)),
        liquid=named(liquid),
    )
