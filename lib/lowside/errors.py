"""The few things that can go wrong, each carrying its numbers.

No message here uses a user's units: an error carries SI numbers and a *kind* (one of the names in
``units.KINDS``), and ``readout`` words it in °F and psig or in °C and bar.
"""

from __future__ import annotations

import difflib

import numpy as np


class LowsideError(Exception):
    """Anything lowside refuses, with a sentence that says what is wrong."""


class OutOfRange(LowsideError, ValueError):
    """A physical value lies outside the range in which the library answers.

    Parameters
    ----------
    quantity : str
        What it is, in words, such as ``"evaporating pressure of R290"``.
    value : float
        What came, in SI units of ``kind``.
    low, high : float or None
        The valid range in SI units; ``None`` where that side is open.
    kind : str
        Kind of quantity, a name in ``units.KINDS``.
    """

    def __init__(self, quantity, value, low, high, kind):
        self.quantity = quantity
        self.value = float(value)
        self.low = None if low is None else float(low)
        self.high = None if high is None else float(high)
        self.kind = kind
        super().__init__(quantity, self.value, self.low, self.high, kind)

    def __str__(self):
        if self.low is None:
            valid = f"at most {self.high:g}"
        elif self.high is None:
            valid = f"at least {self.low:g}"
        else:
            valid = f"between {self.low:g} and {self.high:g}"
        return f"The {self.quantity} is {self.value:g}; it must be {valid} (SI units)."


class Unreadable(LowsideError, ValueError):
    """Typed text that cannot be read as the quantity asked for.

    Parameters
    ----------
    field : str
        What was asked for, in words, such as ``"suction pressure"``.
    text : str
        What was typed.
    expected : str
        What would be read, such as ``"a pressure such as 68 psig or 4.7 bar"``.
    """

    def __init__(self, field, text, expected):
        self.field = field
        self.text = str(text)
        self.expected = expected
        super().__init__(field, self.text, expected)

    def __str__(self):
        came = "it was left empty" if not self.text.strip() else f"“{self.text.strip()}” came"
        return f"{self.field[:1].upper()}{self.field[1:]}: {came}; please give {self.expected}."


class UnknownName(LowsideError, KeyError):
    """A name that is not on the list, with the names that are.

    Parameters
    ----------
    what : str
        The kind of thing, such as ``"refrigerant"``.
    name : str
        What came.
    choices : iterable of str
        The names that exist.
    """

    def __init__(self, what, name, choices):
        self.what = what
        self.name = str(name)
        self.choices = tuple(choices)
        super().__init__(what, self.name, self.choices)

    def __str__(self):
        near = difflib.get_close_matches(self.name.upper(), [c.upper() for c in self.choices], 1)
        guess = ""
        if near:
            match = next(c for c in self.choices if c.upper() == near[0])
            guess = f" Did you mean {match}?"
        return (
            f"There is no {self.what} “{self.name}” here.{guess} Known: {', '.join(self.choices)}."
        )


class DataDamaged(LowsideError):
    """A file of data/ is missing or is not the file the manifest describes."""


class NoOperatingPoint(LowsideError):
    """The parts, as described, have no steady operating point.

    Parameters
    ----------
    reason : str
        The physical limit met, in words.
    numbers : dict
        SI values that show it; keys name the quantity.
    """

    def __init__(self, reason, **numbers):
        self.reason = reason
        self.numbers = numbers
        super().__init__(reason)


def require(quantity, value, low, high, kind="number", *, open_low=False):
    """Refuse a value, or the first of an array, that lies outside its valid range.

    Parameters
    ----------
    quantity : str
        What it is, in words.
    value : array_like
        In SI units of `kind`; NaN is refused.
    low, high : float or None
        Valid range; ``None`` leaves that side open.
    kind : str
        Kind of quantity, a name in ``units.KINDS``.
    open_low : bool
        Whether the lower limit itself is refused too.

    Raises
    ------
    OutOfRange
        Carrying the first value refused.
    """
    values = np.asarray(value, dtype=float)
    bad = np.isnan(values)
    if low is not None:
        bad |= values <= low if open_low else values < low
    if high is not None:
        bad |= values > high
    if bad.any():
        raise OutOfRange(quantity, values[bad].ravel()[0], low, high, kind)
