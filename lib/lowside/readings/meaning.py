"""Superheat, subcooling and findings from a set of readings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from . import high_side, low_side, slips
from .taken import CLAMP_ERROR, FULL_SCALE, GAUGE_ERROR, below_tables, refuse_unusable


@dataclass(frozen=True)
class Interpretation:
    """What the readings amount to; a value that cannot be computed is None.

    Parameters
    ----------
    evaporating_dew, condensing_dew, condensing_bubble : float or None
        Saturation temperatures at the two gauges. [K]
    superheat, subcooling : float or None
        From dew and from bubble; negative values are kept. [K]
    superheat_error, subcooling_error : float or None
        Combined (root of squares) instrument error. [K]
    findings : tuple of Finding
    """

    evaporating_dew: float | None
    condensing_dew: float | None
    condensing_bubble: float | None
    superheat: float | None
    subcooling: float | None
    superheat_error: float | None
    subcooling_error: float | None
    findings: tuple


def interpret(refrigerant, readings, atmosphere=101325.0):
    """Turn readings into superheat, subcooling and findings.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    readings : Readings
    atmosphere : float
        Barometer at the site, to tell a vacuum. [Pa]

    Returns
    -------
    Interpretation
        In a vacuum too deep for the refrigerant's tables nothing is counted from the suction
        gauge, and a finding says so.

    Raises
    ------
    OutOfRange
        If another pressure lies outside the range of the refrigerant's tables, or a clamp shows
        no temperature.
    """
    refuse_unusable(refrigerant, readings, atmosphere)

    def sensible(changed):
        """Whether readings raise nothing but notes; slips among them are not looked for."""
        found = _meaning(refrigerant, changed, atmosphere, slips.nothing).findings
        return all(finding.weight == "note" for finding in found)

    explain = partial(slips.explain, refrigerant, readings, sensible)
    return _meaning(refrigerant, readings, atmosphere, explain)


def _meaning(refrigerant, r, atmosphere, explain):
    dew = bubble = evaporating = superheat = subcooling = None
    superheat_error = subcooling_error = None
    if r.has("suction_pressure") and not below_tables(refrigerant, r, atmosphere):
        evaporating = float(refrigerant.dew_temperature(r.suction_pressure))
        if r.has("suction_temperature"):
            superheat = r.suction_temperature - evaporating
            superheat_error = _saturation_error(
                refrigerant.dew_temperature, "suction_pressure", r.suction_pressure, refrigerant
            )
    if r.has("head_pressure"):
        dew = float(refrigerant.dew_temperature(r.head_pressure))
        bubble = float(refrigerant.bubble_temperature(r.head_pressure))
        if r.has("liquid_temperature"):
            subcooling = bubble - r.liquid_temperature
            subcooling_error = _saturation_error(
                refrigerant.bubble_temperature, "head_pressure", r.head_pressure, refrigerant
            )
    answer = Interpretation(
        evaporating, dew, bubble, superheat, subcooling, superheat_error, subcooling_error, ()
    )
    swapped = low_side.suction_above_head(r)
    if swapped:
        return replace(answer, findings=(swapped,))
    found = (
        *low_side.findings(refrigerant, r, answer, atmosphere, explain),
        *high_side.findings(refrigerant, r, answer, explain),
    )
    return replace(answer, findings=found)


def _saturation_error(saturation, port, pressure, refrigerant):
    """Combine gauge error, through the saturation curve, with clamp error, in kelvin."""
    low, high = refrigerant.pressure_range
    off = GAUGE_ERROR * FULL_SCALE[port]
    above, below = min(pressure + off, high), max(pressure - off, low)
    slope = (float(saturation(above)) - float(saturation(below))) / (above - below)
    return ((slope * off) ** 2 + CLAMP_ERROR**2) ** 0.5
