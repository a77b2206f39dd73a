"""Sealed cases: a box, what is wrong with it, the weather and what the customer says, from a seed.

Only SHA-256 and one multiplication stand between a seed and its numbers, so a seed gives the same
case on every machine. Sealed means: not shown. Who reads the code can open it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict, dataclass

from lowside import faults
from lowside.errors import LowsideError, UnknownName
from lowside.system.ports import KIT, next_size

from .larder import highest
from .said import complaint

LEVELS = {
    "first": "first calls: one plain fault, nothing that misleads",
    "usual": "usual: one fault or none, a hot day or warm goods may mislead",
    "hard": "hard: two faults, one or none, and milder",
}
#: Faults that a call of this kind cannot end with: they need other pipes.
NOT_DEALT = frozenset({"lift"})
PLAIN = frozenset(
    {"undercharge", "strainer", "drier", "condenser_dirty", "condenser_fan", "evaporator_air"}
)
SEVERITIES = (1.0, 1.25, 0.8, 0.6, 0.4)  # times the usual one, tried until the box runs and shows
LEAST_LOSS = 0.08  # of the cooling, before a customer calls
DROP = 3.0  # [K] that two clamps can prove
_HALF = 0.5  # [K] to which the weather is told


class Draw:
    """Numbers from a text, alike everywhere: SHA-256 of the text and a count.

    Parameters
    ----------
    text : str
        Seed.
    """

    def __init__(self, text):
        self._text, self._count = text, 0

    def share(self):
        """Draw a number from 0 up to 1.

        Returns
        -------
        float
        """
        self._count += 1
        data = hashlib.sha256(f"{self._text}#{self._count}".encode()).digest()
        return int.from_bytes(data[:6], "big") / 2.0**48

    def between(self, low, high):
        """Draw a number between two others.

        Parameters
        ----------
        low, high : float

        Returns
        -------
        float
        """
        return low + (high - low) * self.share()

    def one(self, things):
        """Draw one of several.

        Parameters
        ----------
        things : sequence

        Returns
        -------
        object
        """
        things = list(things)
        return things[int(self.share() * len(things))]


@dataclass(frozen=True)
class Place:
    """A box to be called to.

    Attributes
    ----------
    key, label, holds : str
        Name in programs; where and what it is; what is in it.
    build : callable
        Gives its ``system.cabinets.Cabinet``.
    """

    key: str
    label: str
    holds: str
    build: Callable


@dataclass(frozen=True)
class Case:
    """A sealed case.

    Attributes
    ----------
    seed, level, place : str
        What it was dealt from, and the key of its box.
    faults : tuple of (str, float)
        What is wrong and how badly, by keys of ``faults``; empty where nothing is. [SI]
    decoys : tuple of str
        Of "hot_day" and "warm_product".
    ambient : float
        Air at the condenser. [K]
    air, food : float
        In the box on arrival. [K]
    warm : float
        That the food has already been too warm. [s]
    said : str
        What the customer says.
    """

    seed: str
    level: str
    place: str
    faults: tuple
    decoys: tuple
    ambient: float
    air: float
    food: float
    warm: float
    said: str

    @property
    def digest(self):
        """Fingerprint of the whole case (str)."""
        return fingerprint(asdict(self))


def fingerprint(data):
    """Take the SHA-256 of plain data.

    Parameters
    ----------
    data : dict
        Of what JSON can hold.

    Returns
    -------
    str
    """
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def deal(seed, level, places, place=None):
    """Deal a case.

    Parameters
    ----------
    seed : int or str
        Up to 40 characters.
    level : str
        One of `LEVELS`.
    places : sequence of Place
        Boxes there are.
    place : str, optional
        Key of the box, where it is to be a certain one.

    Returns
    -------
    Case

    Raises
    ------
    UnknownName
        If there is no such level or box.
    LowsideError
        If the seed is empty or too long.
    """
    seed = str(seed).strip()
    if not 0 < len(seed) <= 40:
        raise LowsideError("A case needs a seed of 1 to 40 characters.")
    if level not in LEVELS:
        raise UnknownName("level", level, LEVELS)
    draw = Draw(f"{level}/{place or ''}/{seed}")
    chosen = draw.one(places) if place is None else find(place, places)
    cabinet = chosen.build()
    decoys = () if level == "first" else _decoys(draw, level)
    ambient = cabinet.ambient_temperature - draw.between(0.0, 8.0)
    if "hot_day" in decoys:
        ambient = cabinet.ambient_temperature + draw.between(1.0, 4.0)
    warmer = draw.between(3.0, 6.0) if "warm_product" in decoys else draw.between(0.5, 2.0)
    ambient = _tidy(ambient)
    food = _tidy(highest(cabinet.box_temperature) + warmer)
    air = food
    wrong = _wrong(draw, level, faults.sound(cabinet, air, ambient), bool(decoys))
    told = draw.share()
    if not wrong and "warm_product" not in decoys:
        food = air = _tidy(cabinet.box_temperature + 1.0)
    warm = 60.0 * round(draw.between(0.0, 45.0)) if wrong else 0.0
    said = complaint(wrong, decoys, chosen, told)
    return Case(seed, level, chosen.key, wrong, decoys, ambient, air, food, warm, said)


def find(key, places):
    """Find a box by its key.

    Parameters
    ----------
    key : str
    places : sequence of Place

    Returns
    -------
    Place

    Raises
    ------
    UnknownName
        If there is no such box.
    """
    for place in places:
        if place.key == key:
            return place
    raise UnknownName("box to be called to", key, [place.key for place in places])


def _tidy(kelvin):
    return round(kelvin / _HALF) * _HALF


def _decoys(draw, level):
    rate = 0.35 if level == "usual" else 0.5
    return tuple(key for key in ("hot_day", "warm_product") if draw.share() < rate)


def _wrong(draw, level, situation, excused):
    """Draw faults that this box can have, each bad enough to be called for."""
    kinds = draw.share()
    none = {"first": 0.0, "usual": 0.12, "hard": 0.12}[level]
    if kinds < none:
        return ()
    two = level == "hard" and kinds < 0.6
    possible = [
        fault.key
        for fault in faults.fitting(situation)
        if fault.is_fault
        and fault.key not in NOT_DEALT
        and (level != "first" or fault.key in PLAIN)
    ]
    sound = situation.solve()
    found = {}
    while possible and len(found) < 1 + two:
        key = draw.one(possible)
        possible.remove(key)
        for severity in _severities(key, situation, draw, level):
            if _shows(situation, found | {key: severity}, found, sound):
                found[key] = severity
                break
    return tuple(found.items())


def _severities(key, situation, draw, level):
    fault = faults.get(key)
    if key in ("port_small", "port_big"):
        return _other_ports(key, situation.box.metering.port.diameter)
    if not fault.stepless:
        return (1.0,)
    scale = draw.between(0.9, 1.1) * (0.9 if level == "hard" else 1.0)
    return tuple(
        min(fault.high, float(f"{scale * times * fault.usual:.3g}")) for times in SEVERITIES
    )


def _other_ports(key, diameter):
    """Severities that are sizes of the kit."""
    steps = (-3, -2, -1) if key == "port_small" else (3, 2, 4)
    at = KIT.index(next_size(diameter, 0))
    ports = [KIT[at + step] for step in steps if 0 <= at + step < len(KIT)]
    high = faults.get(key).high
    return tuple(abs(port / diameter - 1.0) for port in ports if abs(port / diameter - 1.0) <= high)


def _shows(situation, wrong, before, sound):
    """Whether the box runs so, and the last fault moves cooling or a reading clearly."""
    point = faults.apply(situation, wrong).solve(start=sound)
    if not point.accepted:
        return False
    for key, drop in (("strainer", point.strainer_drop), ("drier", point.drier_drop)):
        if key in wrong and key not in before and float(drop) < DROP:
            return False  # no clamp could prove it
    if float(point.capacity) < (1.0 - LEAST_LOSS) * float(sound.capacity):
        return True
    fluid = situation.box.refrigerant
    without = faults.apply(situation, before).solve(start=sound) if before else sound
    old, new = faults.read(fluid, without), faults.read(fluid, point)
    off = faults.errors(fluid, old)
    seen = ("suction_pressure", "superheat", "head_pressure", "subcooling")
    return any(abs(new[key] - old[key]) > faults.CLEAR * off[key] for key in seen)
