"""How far a fault moves every reading, measured in what the instruments can tell apart."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache

import numpy as np

from lowside import store
from lowside.system import cabinets

from .applying import apply, batch
from .catalogue import Fault, fitting, get
from .instruments import KEYS, errors, read
from .situation import Situation, sound

NOTHING = 0.1  # instrument errors: less is called "the same"
SEEN = 1.0  # instrument errors: more shows on an honest instrument
CLEAR = 3.0  # instrument errors
STEPS = 20
PUBLISHED_KIND = "published kind"
PLAIN_BORE = 1.0e-3  # [m]
PLAIN_CHARGE = 0.050  # [kg]


@dataclass(frozen=True)
class Sweep:
    """One fault on one box, from none to its worst.

    Attributes
    ----------
    situation : Situation
        Without the fault.
    fault : Fault
    severities : ndarray, shape (n,)
        Rising from zero. [SI of the fault's kind]
    points : system.BoxResult
        In the same order.
    readings, errors : dict of str to ndarray
        From `read`; the errors are those at the sound box. [SI of each kind]
    """

    situation: Situation
    fault: Fault
    severities: np.ndarray
    points: object
    readings: dict
    errors: dict

    def moved(self, key):
        """Change of a reading against the sound box, in the unit of the reading.

        Parameters
        ----------
        key : str
            Of the reading.

        Returns
        -------
        ndarray, shape (n,)
        """
        values = self.readings[key]
        return values - values[0]

    def size(self, key):
        """Change of a reading against the sound box, in errors of its instrument [-].

        Parameters
        ----------
        key : str
            Of the reading.

        Returns
        -------
        ndarray, shape (n,)
        """
        return self.moved(key) / self.errors[key]

    def at(self, severity):
        """Pick one severity; one between the steps is solved for.

        Parameters
        ----------
        severity : float
            [SI of the fault's kind]

        Returns
        -------
        point : system.BoxResult
        readings : dict of str to float
            From `read`. [SI of each kind]

        Raises
        ------
        OutOfRange
            For a severity that the fault cannot have.
        """
        near = int(np.abs(self.severities - severity).argmin())
        point = self.points.at(near)
        if abs(self.severities[near] - severity) > 1e-9 * self.fault.high:
            point = apply(self.situation, {self.fault.key: severity}).solve(start=point)
        readings = read(self.situation.box.refrigerant, point)
        return point, {name: float(value) for name, value in readings.items()}


@dataclass(frozen=True)
class SignTable:
    """Every fault that a box can have, each at one severity.

    Attributes
    ----------
    situation : Situation
        Without faults.
    faults : tuple of Fault
    severities : tuple of float
        [SI of each fault's kind]
    points : system.BoxResult
        The sound box, then one for each fault.
    sizes : dict of str to ndarray
        Change of each reading in errors of its instrument, in the order of the faults; NaN where
        the box does not run. [-]
    """

    situation: Situation
    faults: tuple
    severities: tuple
    points: object
    sizes: dict

    def row(self, key):
        """Pick the changes under one fault.

        Parameters
        ----------
        key : str
            Of the fault.

        Returns
        -------
        dict of str to float
            By the readings' keys, in errors of their instruments. [-]
        """
        place = self._place(key)
        return {name: float(sizes[place]) for name, sizes in self.sizes.items()}

    def read(self, key=None):
        """Read the box with one fault, or sound.

        Parameters
        ----------
        key : str, optional
            Of the fault.

        Returns
        -------
        dict of str to float
            From `read`. [SI of each kind]
        """
        point = self.points.at(0 if key is None else self._place(key) + 1)
        readings = read(self.situation.box.refrigerant, point)
        return {name: float(value) for name, value in readings.items()}

    def _place(self, key):
        return [fault.key for fault in self.faults].index(key)

    def against_published(self):
        """Hold the table against the published signs.

        Returns
        -------
        dict of (str, str) to bool
            By fault and reading, for those that are published: whether the reading moves the same
            way here, by more than `NOTHING`.
        """
        agrees = {}
        for fault, signs in published().items():
            row = self.row(fault)
            agrees |= {(fault, name): row[name] * sign > NOTHING for name, sign in signs.items()}
        return agrees


def sweep(situation, key, steps=STEPS):
    """Put one fault into a box at rising severities; solved in one call.

    Parameters
    ----------
    situation : Situation
        Of plain numbers, without the fault.
    key : str
        Of the fault.
    steps : int
        Steps from none to the worst; a fault that is there or not has one.

    Returns
    -------
    Sweep

    Raises
    ------
    UnknownName
        If there is no such fault.
    LowsideError
        If it does not fit the box.
    NoOperatingPoint
        If the box does not even run without it.
    """
    fault = get(key)
    severities = fault.high * np.linspace(0.0, 1.0, (steps if fault.stepless else 1) + 1)
    faulty = batch(situation, [{key: severity} for severity in severities])
    points = faulty.solve()
    points.at(0).refuse()
    fluid = situation.box.refrigerant
    readings = read(fluid, points)
    at_first = {name: values[0] for name, values in readings.items()}
    return Sweep(situation, fault, severities, points, readings, errors(fluid, at_first))


@lru_cache(maxsize=64)
def cabinet_sweep(name, key, ambient_temperature=None):
    """Put one fault into one of the cabinets at rising severities.

    Parameters
    ----------
    name : str
        One of ``system.cabinets.names()``.
    key : str
        Of the fault.
    ambient_temperature : float, optional
        Air entering the condenser; as designed if not given. [K]

    Returns
    -------
    Sweep
        Kept: ask as often as you like.

    Raises
    ------
    UnknownName
        If there is no such cabinet or fault.
    LowsideError, NoOperatingPoint
        As `sweep`.
    """
    return sweep(sound(cabinets.get(name), ambient_temperature=ambient_temperature), key)


def sign_table(situation, severities=None):
    """Put every fault that fits into a box, one at a time; solved in one call.

    Parameters
    ----------
    situation : Situation
        Of plain numbers, without faults.
    severities : mapping of str to float, optional
        Where other than `Fault.usual`. [SI of each fault's kind]

    Returns
    -------
    SignTable

    Raises
    ------
    OutOfRange
        For a severity that the fault cannot have.
    NoOperatingPoint
        If the box does not even run without faults.
    """
    chosen = severities or {}
    faults = fitting(situation)
    how_bad = tuple(float(chosen.get(fault.key, fault.usual)) for fault in faults)
    cases = [{fault.key: severity} for fault, severity in zip(faults, how_bad, strict=True)]
    points = batch(situation, [{}, *cases]).solve()
    points.at(0).refuse()
    fluid = situation.box.refrigerant
    readings = read(fluid, points)
    off = errors(fluid, {name: values[0] for name, values in readings.items()})
    runs = points.accepted[1:]
    sizes = {
        name: np.where(runs, (readings[name][1:] - readings[name][0]) / off[name], np.nan)
        for name in KEYS
    }
    return SignTable(situation, faults, how_bad, points, sizes)


@lru_cache(maxsize=64)
def cabinet_table(name, ambient_temperature=None):
    """Put every fault that fits into one of the cabinets, one at a time.

    Parameters
    ----------
    name : str
        One of ``system.cabinets.names()``, or `PUBLISHED_KIND` for `like_published`.
    ambient_temperature : float, optional
        Air entering the condenser; as designed if not given. [K]

    Returns
    -------
    SignTable
        Kept: ask as often as you like.

    Raises
    ------
    UnknownName
        If there is no such cabinet.
    NoOperatingPoint
        As `sign_table`.
    """
    if name != PUBLISHED_KIND:
        return sign_table(sound(cabinets.get(name), ambient_temperature=ambient_temperature))
    plain = like_published()
    if ambient_temperature is not None:
        plain = replace(plain, ambient_temperature=ambient_temperature)
    return sign_table(plain)


def word(size):
    """Say a change in a word.

    Parameters
    ----------
    size : float
        In errors of the instrument. [-]

    Returns
    -------
    str
        Such as "far up", "up", "up, hidden by the error", "same", or "does not run" for NaN.
    """
    if np.isnan(size):
        return "does not run"
    if abs(size) < NOTHING:
        return "same"
    direction = "up" if size > 0.0 else "down"
    if abs(size) < SEEN:
        return f"{direction}, hidden by the error"
    return f"far {direction}" if abs(size) > CLEAR else direction


def like_published():
    """Put a box of the published kind into the world: fixed orifice, no receiver, nothing wrong.

    The isobutane cabinet with a plain and wider tube that is not soldered to the suction line, and
    the charge that goes with it.

    Returns
    -------
    Situation
    """
    built = sound(cabinets.get("isobutane-undercounter"))
    tube = replace(built.box.metering, inner_diameter=PLAIN_BORE)
    box = replace(built.box, exchange=0.0, metering=tube)
    return replace(built, box=box, charge=PLAIN_CHARGE)


@cache
def published():
    """Signs as published for a machine with a fixed orifice.

    Returns
    -------
    dict of str to dict of str to int
        By fault and reading: 1 rises, -1 falls.
    """
    table = store.read_toml("fault_signs.toml")
    return {
        fault: {
            reading: 1 if sign == "+" else -1
            for reading, sign in zip(table["readings"], signs, strict=True)
        }
        for fault, signs in table["signs"].items()
    }
