"""Read what a person types: "68psi", "−4 °F", "1½ oz", "3,5 °C", "2 lb 3 oz", "12 inHg".

The comma rule, in this order:

1. With a comma and a point, the one that comes last is the decimal mark and the other groups
   thousands: "1,234.5" and "1.234,5" are the same number.
2. Several equal marks group thousands: "1,234,567". So do spaces and apostrophes before groups of
   three digits: "12 000".
3. A single comma is a decimal comma: "3,5" is three and a half, "0,125" is an eighth.
4. Except where it stands before exactly three digits and after 1 to 999, as in "1,234". There US
   readers group thousands and most others write decimals. Someone who reads US units is taken to
   mean 1234; someone who reads metric units is asked which is meant.
5. A single point is a decimal point.
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

from lowside import units

from .kinds import FAMILY_NOUNS

# Typed spelling -> (unit name, reference). A reference of None follows the kind asked for: "psi"
# is psig when a gauge pressure is asked for, psia when an absolute one is.
_SPELLINGS = {
    "pressure": {
        "psi": ("psi", None),
        "psig": ("psi", "gauge"),
        "psia": ("psi", "absolute"),
        "#": ("psi", None),
        "lb/in2": ("psi", None),
        "bar": ("bar", None),
        "bars": ("bar", None),
        "barg": ("bar", "gauge"),
        "bargauge": ("bar", "gauge"),
        "bara": ("bar", "absolute"),
        "barabs": ("bar", "absolute"),
        "mbar": ("mbar", None),
        "hpa": ("mbar", None),
        "pa": ("Pa", None),
        "kpa": ("kPa", None),
        "kpag": ("kPa", "gauge"),
        "kpaa": ("kPa", "absolute"),
        "mpa": ("MPa", None),
        "inhg": ("inHg", None),
        '"hg': ("inHg", None),
        "inhgvac": ("inHg", "vacuum"),
        "inhgvacuum": ("inHg", "vacuum"),
        '"hgvac': ("inHg", "vacuum"),
        "invac": ("inHg", "vacuum"),
        '"vac': ("inHg", "vacuum"),
        "inhga": ("inHg", "absolute"),
        "inhgabs": ("inHg", "absolute"),
        "micron": ("micron", "absolute"),
        "microns": ("micron", "absolute"),
        "μmhg": ("micron", "absolute"),
        "mtorr": ("micron", "absolute"),
        "torr": ("mmHg", "absolute"),
        "mmhg": ("mmHg", "absolute"),
    },
    "temperature": {
        "f": ("degF", None),
        "fahrenheit": ("degF", None),
        "c": ("degC", None),
        "celsius": ("degC", None),
        "k": ("K", None),
        "kelvin": ("K", None),
        "r": ("degR", None),
    },
    "temperature_difference": {
        "f": ("degF_difference", None),
        "fahrenheit": ("degF_difference", None),
        "r": ("degF_difference", None),
        "c": ("K_difference", None),
        "celsius": ("K_difference", None),
        "k": ("K_difference", None),
        "kelvin": ("K_difference", None),
    },
    "mass": {
        "kg": ("kg", None),
        "g": ("g", None),
        "gram": ("g", None),
        "grams": ("g", None),
        "gramme": ("g", None),
        "grammes": ("g", None),
        "lb": ("lb", None),
        "lbs": ("lb", None),
        "pound": ("lb", None),
        "pounds": ("lb", None),
        "oz": ("oz", None),
        "ounce": ("oz", None),
        "ounces": ("oz", None),
    },
    "mass_flow": {
        "kg/s": ("kg/s", None),
        "g/s": ("g/s", None),
        "kg/h": ("kg/h", None),
        "lb/h": ("lb/h", None),
        "lb/hr": ("lb/h", None),
        "lbs/h": ("lb/h", None),
        "lbs/hr": ("lb/h", None),
        "lb/min": ("lb/min", None),
    },
    "power": {
        "w": ("W", None),
        "watt": ("W", None),
        "watts": ("W", None),
        "kw": ("kW", None),
        "btu/h": ("Btu/h", None),
        "btu/hr": ("Btu/h", None),
        "btuh": ("Btu/h", None),
        "btu": ("Btu/h", None),
        "ton": ("ton", None),
        "tons": ("ton", None),
        "tr": ("ton", None),
        "hp": ("hp", None),
    },
    "energy": {
        "j": ("J", None),
        "kj": ("kJ", None),
        "mj": ("MJ", None),
        "kwh": ("kWh", None),
        "btu": ("Btu", None),
    },
    "resistance": {
        "m2k/w": ("m2 K/W", None),
        "hft2f/btu": ("h ft2 degF/Btu", None),
        "ft2hf/btu": ("h ft2 degF/Btu", None),
    },
    "enthalpy": {
        "j/kg": ("J/kg", None),
        "kj/kg": ("kJ/kg", None),
        "btu/lb": ("Btu/lb", None),
    },
    "entropy": {
        "j/kgk": ("J/(kg K)", None),
        "kj/kgk": ("kJ/(kg K)", None),
        "btu/lbr": ("Btu/(lb degR)", None),
        "btu/lbf": ("Btu/(lb degR)", None),
    },
    "density": {
        "kg/m3": ("kg/m3", None),
        "lb/ft3": ("lb/ft3", None),
        "lbs/ft3": ("lb/ft3", None),
        "g/m3": ("g/m3", None),
        "oz/ft3": ("oz/ft3", None),
    },
    "length": {
        "m": ("m", None),
        "cm": ("cm", None),
        "mm": ("mm", None),
        "in": ("in", None),
        "inch": ("in", None),
        "inches": ("in", None),
        '"': ("in", None),
        "ft": ("ft", None),
        "foot": ("ft", None),
        "feet": ("ft", None),
        "'": ("ft", None),
    },
    "area": {
        "m2": ("m2", None),
        "sqm": ("m2", None),
        "cm2": ("cm2", None),
        "mm2": ("mm2", None),
        "in2": ("in2", None),
        "sqin": ("in2", None),
        "ft2": ("ft2", None),
        "sqft": ("ft2", None),
    },
    "volume": {
        "m3": ("m3", None),
        "l": ("L", None),
        "litre": ("L", None),
        "litres": ("L", None),
        "liter": ("L", None),
        "liters": ("L", None),
        "ml": ("mL", None),
        "cm3": ("mL", None),
        "cc": ("mL", None),
        "in3": ("in3", None),
        "cuin": ("in3", None),
        "ft3": ("ft3", None),
        "cuft": ("ft3", None),
    },
    "time": {
        "s": ("s", None),
        "sec": ("s", None),
        "second": ("s", None),
        "seconds": ("s", None),
        "min": ("min", None),
        "mins": ("min", None),
        "minute": ("min", None),
        "minutes": ("min", None),
        "h": ("h", None),
        "hr": ("h", None),
        "hrs": ("h", None),
        "hour": ("h", None),
        "hours": ("h", None),
        "d": ("d", None),
        "day": ("d", None),
        "days": ("d", None),
    },
    "frequency": {
        "/h": ("1/h", None),
        "/hr": ("1/h", None),
        "perhour": ("1/h", None),
        "anhour": ("1/h", None),
    },
    "ratio": {
        "%": ("%", None),
        "percent": ("%", None),
        "pct": ("%", None),
        "ppm": ("ppm", None),
        "x": ("1", None),
        "times": ("1", None),
        "turn": ("1", None),
        "turns": ("1", None),
        "errors": ("1", None),
    },
    "angle": {"°": ("deg", None), "rad": ("rad", None)},
    "force": {"n": ("N", None), "lbf": ("lbf", None)},
    "current": {"a": ("A", None), "amp": ("A", None), "amps": ("A", None)},
    "torque": {"nm": ("N m", None), "lbfft": ("lbf ft", None), "ftlb": ("lbf ft", None)},
    "conductivity": {"w/mk": ("W/(m K)", None), "btu/hftf": ("Btu/(h ft degF)", None)},
    "volume_flow": {"l/min": ("L/min", None), "ft3/h": ("ft3/h", None), "cfh": ("ft3/h", None)},
}

# Units that may follow one another in one quantity, larger first: "2 lb 3 oz", "1 h 20 min".
_COMPOUNDS = {("lb", "oz"), ("ft", "in"), ("h", "min"), ("min", "s")}


LONGEST = 40  # characters; no quantity needs more

# A bare degree is the person's own degree when a temperature is asked for.
_BARE_DEGREE_FAMILIES = ("temperature", "temperature_difference")

_NUMBER = r"(?:\d+\ \d+/\d+|\d+/\d+|[.,]?\d+(?:[.,]\d+|['\ ]\d{3}(?!\d))*(?:e[+-]?\d+)?)"
# Anything but a number; the exponent of "ft3" belongs to the unit, the point of ".5" does not.
_UNIT = r"(?:[^\d.,]|[.,](?!\d)|(?<=[a-z])[23](?![\w.,]))*"
_PART = re.compile(rf"\s*({_NUMBER})({_UNIT})")

_SAME_SIGN = str.maketrans(
    {"−": "-", "–": "-", "—": "-", "‐": "-", "º": "°", "˚": "°"}
    | dict.fromkeys("″“”", '"')
    | dict.fromkeys("′‘’", "'")
)


class NotReadable(Exception):
    """Why typed text cannot be read.

    Attributes
    ----------
    expected : str or None
        What to type instead, where that is more precise than an example of the kind.
    not_a : str or None
        What the typed unit measures, where it is a known unit of something else.
    """

    def __init__(self, *, expected=None, not_a=None):
        self.expected = expected
        self.not_a = not_a
        super().__init__(expected, not_a)


def read_typed(text, family, default, comma_groups_thousands):
    """Read one typed quantity.

    Parameters
    ----------
    text : str
        What was typed.
    family : str
        Family of units that is wanted.
    default : Shown
        Unit of a number typed without one.
    comma_groups_thousands : bool
        How to take "1,234" (rule 4 above); where false it is refused.

    Returns
    -------
    value : float
        Value in SI, for pressures before their zero is looked at. [SI]
    unit : str
        Plain name of the last unit, a key of ``units.UNITS``.
    reference : str or None
        Zero that was typed: ``"gauge"``, ``"absolute"``, ``"vacuum"``; ``None`` if left open.

    Raises
    ------
    NotReadable
        If the text is no number with a unit of that family.
    """
    if len(text) > LONGEST:
        raise NotReadable
    sign, parts = _split(_tidy(text))
    values, names, references = [], [], []
    for number, spelling in parts:
        value = _number(number, comma_groups_thousands)
        bare = not spelling or _is_bare_degree(spelling, family)
        if bare and len(parts) == 1:
            name, reference = default.unit, default.reference
        else:
            name, reference = _unit(spelling, family)
        values.append(value)
        names.append(name)
        references.append(reference)
    if len(parts) == 1:
        si, reference = units.to_si(sign * values[0], names[0]), references[0]
    elif tuple(names) in _COMPOUNDS:
        si = sign * sum(units.to_si(v, name) for v, name in zip(values, names, strict=True))
        reference = None
    else:
        raise NotReadable
    if not math.isfinite(si):
        raise NotReadable
    return si, names[-1], reference


def without_unit(text, family):
    """Return a typed number that has no unit, without a bare degree; None for anything else.

    Parameters
    ----------
    text : str
        What was typed.
    family : str
        Family of units that is wanted.

    Returns
    -------
    str or None
    """
    try:
        _, parts = _split(_tidy(text))
    except NotReadable:
        return None
    spelling = parts[0][1]
    if len(parts) > 1 or not (spelling == "" or _is_bare_degree(spelling, family)):
        return None
    return text.strip().rstrip("°º˚ ")


def _tidy(text):
    """Bring the many spellings of the same sign to one, in lower case."""
    text = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", text.strip().translate(_SAME_SIGN))
    text = unicodedata.normalize("NFKC", text).lower().replace("⁄", "/")
    text = re.sub(r"(?<=\d)-(?=\d+/\d)", " ", text)
    text = re.sub(r"\s*/\s*(?=\d)", "/", text)
    return re.sub(r"\s+", " ", text)


def _split(text):
    """Sign and list of (number, unit) texts; everything must be used up."""
    sign = -1.0 if text.startswith("-") else 1.0
    rest = text[1:] if text[:1] in ("-", "+") else text
    parts, end = [], 0
    while end < len(rest):
        match = _PART.match(rest, end)
        if match is None:
            raise NotReadable
        parts.append((match.group(1), _plain_unit(match.group(2))))
        end = match.end()
    if not parts:
        raise NotReadable
    return sign, parts


def _plain_unit(text):
    """Strip a unit of everything that does not tell it from another."""
    text = re.sub(r"[\s.,^·*()]", "", text)
    text = re.sub(r"degrees?|deg", "°", text)
    return text if text == "°" else text.replace("°", "")


def _is_bare_degree(spelling, family):
    return spelling == "°" and family in _BARE_DEGREE_FAMILIES


def _unit(spelling, family):
    known = _SPELLINGS[family].get(spelling)
    if known is not None:
        return known
    for other, spellings in _SPELLINGS.items():
        if spelling in spellings:
            raise NotReadable(not_a=FAMILY_NOUNS[other])
    raise NotReadable


def _number(text, comma_groups_thousands):
    """Value of a typed number by the comma rule above."""
    if "/" in text:
        try:
            return float(sum(Fraction(part) for part in text.split()))
        except ZeroDivisionError:
            raise NotReadable from None
    mantissa, _, exponent = re.sub(r"['\ ]", "", text).partition("e")
    marks = re.sub(r"[^.,]", "", mantissa)
    if len(set(marks)) == 2:
        decimal = marks[-1]
        groups = "," if decimal == "." else "."
    elif len(marks) > 1:
        decimal, groups = None, marks[0]
    elif marks == "," and re.fullmatch(r"[1-9]\d{0,2},\d{3}", mantissa):
        if not comma_groups_thousands:
            plain = mantissa.replace(",", "")
            expected = f"{plain} or {mantissa.replace(',', '.')}, so that the comma is clear"
            raise NotReadable(expected=expected)
        decimal, groups = None, ","
    else:
        decimal, groups = marks, None
    whole, _, fraction = mantissa.partition(decimal) if decimal else (mantissa, "", "")
    if groups:
        if not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(groups)}\d{{3}})+", whole):
            raise NotReadable
        whole = whole.replace(groups, "")
    if not re.fullmatch(r"\d*", fraction):
        raise NotReadable
    return float(f"{whole or 0}.{fraction or 0}e{exponent or 0}")
