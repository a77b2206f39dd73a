"""Slips that would make readings sensible again: clamps swapped, a wrong unit, another refrigerant.

A slip is text to be added to a finding, and the numbers in it. Two readings swapped are tried
first, and offered only if nothing about all the readings looks wrong any more.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from lowside import refrigerants, units

from .finding import SUBCOOLING, SUPERHEAT_AT_COIL, temperatures

PLACES = {
    "suction_temperature": "the suction line",
    "liquid_temperature": "the liquid line",
    "discharge_temperature": "the discharge line",
    "ambient_temperature": "the air at the condenser",
    "box_temperature": "the air in the box",
}
_SYMBOLS = {"degC": "°C", "degF": "°F"}
MOST_OTHERS = 3  # more refrigerants than this that would fit say nothing


def nothing(side):
    """Offer no slip; stands in for `explain` where slips themselves are being tried.

    Parameters
    ----------
    side : str
        As in `explain`.

    Returns
    -------
    tuple
        As `explain`.
    """
    return "", {}


def explain(refrigerant, readings, sensible, side):
    """Name the slips that would make the readings of one side sensible again.

    Parameters
    ----------
    refrigerant : Refrigerant
        As chosen.
    readings : Readings
        As typed.
    sensible : callable
        Whether nothing looks wrong about some readings.
    side : {"suction", "liquid", "air"}
        The suction or the liquid clamp; "air" for anything else, where only swaps are tried.

    Returns
    -------
    tuple
        Text for the template of a finding, empty if no slip explains it, and its numbers.
    """
    guesses, numbers = _swaps(readings, sensible)
    if not guesses and side != "air":
        guesses, numbers = _units(refrigerant, readings, side)
        guesses += _others(refrigerant, readings)
    if not guesses:
        return "", {}
    return f" It would make sense if {', or if '.join(guesses)}.", numbers


def _swaps(readings, sensible):
    guesses, numbers = [], {}
    taken = [name for name in PLACES if readings.has(name)]
    for one, other in combinations(taken, 2):
        first, second = getattr(readings, one), getattr(readings, other)
        if sensible(replace(readings, **{one: second, other: first})):
            guesses.append(
                f"the readings of {PLACES[one]}, {{{one}}}, and of {PLACES[other]}, {{{other}}}, "
                "were swapped"
            )
            numbers |= temperatures(**{one: first, other: second})
    return guesses, numbers


def _units(refrigerant, readings, side):
    name = f"{side}_temperature"
    typed = getattr(readings, name)
    celsius, fahrenheit = units.from_si(typed, "degC"), units.from_si(typed, "degF")
    guesses = []
    for number, shown, other in ((fahrenheit, "degC", "°F"), (celsius, "degF", "°C")):
        meant = replace(readings, **{name: units.to_si(number, shown)})
        if _sensible(refrigerant, meant, side):
            written = f"{number:.1f}".removesuffix(".0")
            guesses.append(
                f"the clamp on {PLACES[name]}, given as {{{name}}}, showed "
                f"{written} {_SYMBOLS[shown]}, not {other}"
            )
    return guesses, temperatures(**{name: typed}) if guesses else {}


def _others(refrigerant, readings):
    if not readings.has(
        "suction_pressure", "suction_temperature", "head_pressure", "liquid_temperature"
    ):
        return []
    others = [
        name
        for name in refrigerants.NAMES
        if name != refrigerant.name
        and all(_sensible(refrigerants.get(name), readings, side) for side in ("suction", "liquid"))
    ]
    return [f"the box holds {' or '.join(others)}"] if 0 < len(others) <= MOST_OTHERS else []


def _sensible(refrigerant, readings, side):
    """Whether the readings of one side make sense for a refrigerant."""
    pressure = readings.suction_pressure if side == "suction" else readings.head_pressure
    low, high = refrigerant.pressure_range
    if not low <= pressure <= high:
        return False
    if side == "suction":
        degrees = refrigerant.superheat(pressure, readings.suction_temperature)
        window = SUPERHEAT_AT_COIL
    else:
        degrees = refrigerant.subcooling(pressure, readings.liquid_temperature)
        window = SUBCOOLING
    return window[0] <= float(degrees) <= window[1]
