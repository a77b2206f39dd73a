"""What a column may be, guessed from its name: a proposal that a person confirms or changes."""

from __future__ import annotations

import re

from .log import AS_IT_IS, units_of

# Words of a name, the first line that fits counts. Common words of the trade.
_WORDS = (
    ("running", r"amp|current|\b[ma]?a\b|comp.*(on|run|state|status)|\brun|relay"),
    ("coil_temperature", r"coil|defrost|evap.*(temp|probe|sensor)"),
    (
        "suction_pressure",
        r"(suction|\blow|\blp\b|\bps\b).*(pres|psi|bar|pa\b)|low side",
    ),
    (
        "head_pressure",
        r"(head|discharge|liquid|high|\bhp\b).*(pres|psi|bar|pa\b)|high side",
    ),
    ("suction_temperature", r"suction|bulb|vapou?r line|gas line"),
    ("liquid_temperature", r"liquid"),
    ("box_temperature", r"box|air|room|space|cabinet|case|product|return"),
)
_UNITS = (
    ("psia", r"psia|psi abs"),
    ("psig", r"psi"),
    ("bara", r"bar ?a\b|bar abs"),
    ("barg", r"bar"),
    ("kPa absolute", r"kpa ?a\b|kpa abs"),
    ("kPa gauge", r"kpa"),
    ("MPa absolute", r"mpa ?a\b|mpa abs"),
    ("MPa gauge", r"mpa"),
    ("°F", r"°\s?f\b|deg\s?f\b|\bf\b|fahrenheit"),
    ("°C", r"°\s?c\b|deg\s?c\b|\bc\b|celsius"),
    ("K", r"\bk\b|kelvin"),
)


def meaning(name):
    """Guess what a column is.

    Parameters
    ----------
    name : str
        From the header.

    Returns
    -------
    tuple of (str, str) or None
        Role and unit; None where the name says nothing.
    """
    said = re.sub(r"[_\[\](){},;/]+", " ", name.lower())
    unit = next((unit for unit, words in _UNITS if re.search(words, said)), None)
    for role, words in _WORDS:
        if re.search(words, said) and (unit or AS_IT_IS) in units_of(role):
            return role, unit or AS_IT_IS
    return None


def meanings(dialect):
    """Guess what every column of a file is, each meaning once.

    Parameters
    ----------
    dialect : Dialect

    Returns
    -------
    dict of str to (str, str)
        Column to role and unit; columns that say nothing are left out.
    """
    found, taken = {}, set()
    for name in dialect.columns:
        guess = None if name in dialect.time else meaning(name)
        if guess and guess[0] not in taken:
            found[name] = guess
            taken.add(guess[0])
    return found
