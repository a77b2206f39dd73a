"""One person's choice of units, and everything that follows from it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from lowside import units
from lowside.errors import NoOperatingPoint, OutOfRange, Unreadable

from .kinds import INCHES_OF_VACUUM, KINDS, kind_of_quantity, spec
from .typed import NotReadable, read_typed, without_unit


@dataclass(frozen=True)
class Readout:
    """One person's choice of units; use ``choose`` to make it.

    Attributes
    ----------
    system : str
        ``"us"`` or ``"metric"``.
    altitude : float
        Height of the job above sea level. [m]
    """

    system: str
    altitude: float = 0.0

    @cached_property
    def atmosphere(self):
        """Barometer from which gauges count here [Pa]."""
        return units.atmosphere(self.altitude)

    def unit(self, kind):
        """Symbol of the unit in which a kind of quantity is shown.

        Parameters
        ----------
        kind : str
            A key of ``units.KINDS``.

        Returns
        -------
        str
            Such as ``"psig"``; empty for a plain number.

        Raises
        ------
        UnknownName
            If there is no such kind.
        """
        return self._shown(kind).symbol

    def value(self, si, kind):
        """Convert from SI to the unit of ``unit(kind)``.

        Parameters
        ----------
        si : float or array
            Value in SI; gauge pressures as *absolute* pressure. [SI]
        kind : str
            A key of ``units.KINDS``.

        Returns
        -------
        float or array
            Value in the person's unit, same shape.

        Raises
        ------
        UnknownName
            If there is no such kind.

        Examples
        --------
        >>> from lowside import readout
        >>> round(readout.choose("us").value(101325.0 + 68 * 6894.757, "gauge_pressure"), 2)
        68.0
        """
        return self._from_si(si, self._shown(kind))

    def si(self, value, kind):
        """Convert from the unit of ``unit(kind)`` to SI; the inverse of ``value``.

        Parameters
        ----------
        value : float or array
            Value in the person's unit.
        kind : str
            A key of ``units.KINDS``.

        Returns
        -------
        float or array
            Value in SI; gauge pressures as *absolute* pressure. [SI]

        Raises
        ------
        UnknownName
            If there is no such kind.
        """
        shown = self._shown(kind)
        return self._zeroed(units.to_si(value, shown.unit), shown.reference)

    def step(self, kind, digits=None):
        """SI size of the last digit that ``text`` writes in the unit of ``unit(kind)``.

        Parameters
        ----------
        kind : str
            A key of ``units.KINDS``.
        digits : int, optional
            Decimals, if not the usual ones.

        Returns
        -------
        float
            Size of one step. [SI]
        """
        shown = self._shown(kind)
        decimals = shown.decimals if digits is None else digits
        return units.unit(shown.unit).factor * 10.0**-decimals

    def text(self, si, kind, digits=None):
        """Write a quantity with its unit.

        Parameters
        ----------
        si : float
            Value in SI; gauge pressures as *absolute* pressure. [SI]
        kind : str
            A key of ``units.KINDS``.
        digits : int, optional
            Decimals, if not the usual ones.

        Returns
        -------
        str
            Such as ``"68.0 psig"`` or ``"12.0 inHg vac"``; ``"unknown"`` for no number.

        Raises
        ------
        UnknownName
            If there is no such kind.

        Examples
        --------
        >>> from lowside import readout
        >>> readout.choose("us").text(61000.0, "gauge_pressure")
        '11.9 inHg vac'
        >>> readout.choose("metric").text(3.2, "mass")
        '3.20 kg'
        """
        si = float(si)
        if not math.isfinite(si):
            return "unknown"
        shown = self._shown_for(si, kind)
        number = _written(self._from_si(si, shown), shown.decimals if digits is None else digits)
        space = "" if shown.symbol in ("", "°") else " "
        return f"{number}{space}{shown.symbol}"

    def rounded(self, si, kind, digits=None):
        """Round a quantity to what ``text`` writes.

        Parameters
        ----------
        si : float
            Value in SI; gauge pressures as *absolute* pressure. [SI]
        kind : str
            A key of ``units.KINDS``.
        digits : int, optional
            Decimals, if not the usual ones.

        Returns
        -------
        float
            The value a person has who reads the text. [SI]

        Raises
        ------
        UnknownName
            If there is no such kind.
        """
        shown = self._shown_for(si, kind)
        decimals = shown.decimals if digits is None else digits
        number = round(self._from_si(si, shown), decimals)
        return self._zeroed(units.to_si(number, shown.unit), shown.reference)

    def axis(self, name, kind):
        """Write the label of an axis.

        Parameters
        ----------
        name : str
            What is drawn along it, such as ``"suction pressure"``.
        kind : str
            A key of ``units.KINDS``.

        Returns
        -------
        str
            Such as ``"suction pressure [psig]"``.

        Raises
        ------
        UnknownName
            If there is no such kind.
        """
        symbol = self.unit(kind)
        return f"{name} [{symbol}]" if symbol else name

    def parse(self, text, kind, field, low=None, high=None):
        """Read what a person typed.

        Parameters
        ----------
        text : str
            A number with or without a unit; without one it is in the unit of ``unit(kind)``.
            ``typed`` lists the spellings and the rule for commas.
        kind : str
            A key of ``units.KINDS``.
        field : str
            What was asked for, in words; named when the text is refused.
        low, high : float, optional
            Valid range. [SI]

        Returns
        -------
        float
            Value in SI; gauge pressures as *absolute* pressure. [SI]

        Raises
        ------
        Unreadable
            If the text cannot be read as this kind of quantity.
        OutOfRange
            If it is outside the range, below a perfect vacuum or below absolute zero.
        UnknownName
            If there is no such kind.

        Examples
        --------
        >>> from lowside import readout
        >>> round(readout.choose("us").parse("−4 °F", "temperature", "box temperature"), 2)
        253.15
        """
        family = spec(kind).family
        text = " ".join(str(text).split())
        try:
            value, unit, reference = read_typed(
                text, family, self._shown(kind), self.system == "us"
            )
            if family == "pressure":
                reference = _reference(kind, unit, reference)
        except NotReadable as refusal:
            expected = refusal.expected or self._expected(kind, low, high, refusal.not_a)
            raise Unreadable(field, text, expected) from None
        si = self._zeroed(value, reference)
        if kind in _NEVER_NEGATIVE:
            low = max(low or 0.0, 0.0)
        if (low is not None and si < low) or (high is not None and si > high):
            raise OutOfRange(field, si, low, high, kind)
        return si

    def spelled_out(self, text, kind):
        """Write the unit behind a typed number that has none, so that it stays what it was.

        Parameters
        ----------
        text : str
            What was typed here, in these units.
        kind : str
            A key of ``units.KINDS``.

        Returns
        -------
        str
            Such as ``"100 ton"`` for ``"100"``; anything but a bare number comes back as it is.
        """
        bare = without_unit(text, spec(kind).family)
        return text if bare is None else f"{bare} {self.unit(kind)}".rstrip()

    def explain(self, error):
        """Word an error in the person's units.

        Parameters
        ----------
        error : LowsideError
            Anything lowside raised.

        Returns
        -------
        str
            One sentence.
        """
        if isinstance(error, OutOfRange) and error.kind in KINDS:
            came = self.text(error.value, error.kind)
            quantity = error.quantity
            subject = quantity if quantity.startswith("‘") else f"The {quantity}"
            return f"{subject} is {came}; it must be {self._range_of(error)}."
        if isinstance(error, NoOperatingPoint) and error.numbers:
            numbers = ", ".join(
                f"{name.replace('_', ' ')} {self.text(value, kind_of_quantity(name))}"
                for name, value in error.numbers.items()
            )
            return f"{error.reason.rstrip('.')} ({numbers})."
        return str(error)

    def _range_of(self, error):
        """Name the valid range of an OutOfRange, physical limits as such."""
        if error.kind in _NEVER_NEGATIVE and error.low == 0.0 and error.value < 0.0:
            limit = self.text(0.0, error.kind)
            if spec(error.kind).family == "pressure":
                return f"above a perfect vacuum, {limit}"
            return f"above absolute zero, {limit}"
        low, high = (
            None if limit is None else self.text(limit, error.kind)
            for limit in (error.low, error.high)
        )
        if low is None:
            return f"at most {high}"
        if high is None:
            return f"at least {low}"
        return f"between {low} and {high}"

    def _expected(self, kind, low, high, not_a):
        """Say what would be read, for the end of "please give …"."""
        wanted = spec(kind)
        us, metric = wanted.examples
        examples = dict.fromkeys((us, metric) if self.system == "us" else (metric, us))
        contrast = f" (not {not_a})" if not_a else ""
        expected = f"{wanted.noun}{contrast} such as {' or '.join(examples)}"
        if low is not None and high is not None:
            expected += f", between {self.text(low, kind)} and {self.text(high, kind)}"
        return expected

    def _shown(self, kind):
        return spec(kind).shown(self.system)[0]

    def _shown_for(self, si, kind):
        """Pick the unit that suits the size of one value."""
        choices = spec(kind).shown(self.system)
        shown = next((c for c in choices if c.up_to is None or abs(si) < c.up_to), choices[-1])
        if shown.symbol == "psig" and si < self.atmosphere:
            vacuum = INCHES_OF_VACUUM
            if float(_written(self._from_si(si, vacuum), vacuum.decimals)) > 0.0:
                return vacuum
        return shown

    def _from_si(self, si, shown):
        si = units.as_numbers(si)
        if shown.reference == "gauge":
            si = si - self.atmosphere
        elif shown.reference == "vacuum":
            si = self.atmosphere - si
        return units.from_si(si, shown.unit)

    def _zeroed(self, value, reference):
        """Count a pressure from nothing, whatever its own zero is."""
        if reference == "gauge":
            return self.atmosphere + value
        if reference == "vacuum":
            return self.atmosphere - np.abs(value)
        return value


_LARGE = 1e9  # in a person's unit; longer numbers are written with an exponent
_NEVER_NEGATIVE = ("gauge_pressure", "pressure", "vacuum", "temperature")


def _reference(kind, unit, typed):
    """Find the zero of a typed pressure: as typed, otherwise as the kind implies."""
    if kind == "pressure_difference":
        if typed not in (None, "difference"):
            raise NotReadable(not_a=f"{'an' if typed == 'absolute' else 'a'} {typed} pressure")
        return "difference"
    if typed is not None:
        return typed
    if unit == "inHg" and kind in ("gauge_pressure", "vacuum"):
        return "vacuum"
    return "gauge" if kind == "gauge_pressure" else "absolute"


def _written(number, decimals):
    """Write with fixed decimals, short however large it is, and never a negative zero."""
    if abs(number) >= _LARGE:
        return f"{number:.3g}".replace("e+", "e")
    text = f"{number:.{decimals}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text
