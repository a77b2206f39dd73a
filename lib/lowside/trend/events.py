"""Defrosts, heat through a door, and the way back to cold, found in a record.

The limits below are our own choices and stand here to be seen; none of them is a standard.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.units import ICE_POINT

from .running import stretches

THAWED = ICE_POINT + 1.0  # [K] above which the coil has no frost left
HEATER = 3.0  # [K] coil above box air: only a heater or hot gas does that
LEAST_DEFROST = 300.0  # [s]
LONG = 2.0  # usual stops, from which on a warm coil is a defrost
LEAST_RISE = 0.5  # [K] of box air while the compressor runs
RISING = 0.1 / 60.0  # [K/s]
SETTLING = 180.0  # [s] after a start in which nothing is judged
_SMOOTH = 120.0  # [s] over which box air is averaged
_STEADY = 3.0  # [K] that the dew point may move while heat comes through a door
_AFTER_DEFROST = 600.0  # [s] in which the coil still gives its own warmth to the air

COIL, DEW = "coil clamp", "dew point of the suction"


@dataclass(frozen=True)
class Defrost:
    """The compressor stands still and the coil thaws.

    Parameters
    ----------
    start, end : float
        The compressor stops, and starts again. [s]
    peak : float
        Warmest coil. [K]
    recovery : float
        From the end until the box air is back where it usually is; NaN if that is not seen. [s]
    whole : bool
        Whether both ends were seen.
    """

    start: float
    end: float
    peak: float
    recovery: float
    whole: bool


@dataclass(frozen=True)
class DoorHeat:
    """The box air rises although the compressor runs and the evaporator does what it did.

    Parameters
    ----------
    start, end : float
        [s]
    rise : float
        Of the box air. [K]
    share : float
        Heat that comes in on top, as a share of what the machine takes out; NaN if the record
        does not show how fast the box warms and cools without it. [-]
    """

    start: float
    end: float
    rise: float
    share: float


def defrosts(log, on, refrigerant=None):
    """Find the defrosts.

    Parameters
    ----------
    log : Log
    on : ndarray of bool, shape (n,)
        Whether the compressor runs.
    refrigerant : Refrigerant, optional
        For the dew point, where no clamp sits on the coil.

    Returns
    -------
    found : tuple of Defrost
    how : str
        ``COIL``, ``DEW``, or "" where neither can be known.
    """
    if log.has("coil_temperature"):
        coil, how = log.values["coil_temperature"], COIL
    elif refrigerant is not None and log.has("suction_pressure"):
        coil, how = _dew(log, refrigerant), DEW
    else:
        return (), ""
    stops = stretches(log, ~on)
    air = log.values.get("box_temperature", np.full(log.time.size, np.nan))
    usual = float(np.median(stops.length[stops.whole])) if stops.whole.any() else np.inf
    found = []
    for start, end, whole in zip(stops.start, stops.end, stops.whole, strict=True):
        part = slice(*np.searchsorted(log.time, [start, end]))
        if end - start < LEAST_DEFROST or not np.isfinite(coil[part]).any():
            continue
        peak, over = np.nanmax(coil[part]), coil[part] - air[part]
        heated = np.isfinite(over).any() and np.nanmax(over) > HEATER
        if peak > THAWED and (heated or end - start > LONG * usual):
            found.append((float(start), float(end), float(peak), bool(whole)))
    level = _usual_air(log, air, found)
    return tuple(
        Defrost(start, end, peak, _recovery(log, air, end, level), whole)
        for start, end, peak, whole in found
    ), how


def door_heat(log, on, thaws, refrigerant=None):
    """Find heat that comes in while the machine runs as before: a door, or warm goods.

    Parameters
    ----------
    log : Log
    on : ndarray of bool, shape (n,)
        Whether the compressor runs.
    thaws : sequence of Defrost
    refrigerant : Refrigerant, optional
        To see that the evaporator is unchanged.

    Returns
    -------
    tuple of DoorHeat
    """
    if not log.has("box_temperature"):
        return ()
    air = _averaged(log, log.values["box_temperature"])
    slope = np.gradient(air, log.time)
    quiet = np.ones(log.time.size, dtype=bool)
    for thaw in thaws:
        quiet &= (log.time < thaw.start) | (log.time > thaw.end + _AFTER_DEFROST)
    settled = on & quiet & (since_start(log, on) > SETTLING)
    rises = stretches(log, settled & (slope > RISING))
    cooling, warming = _slopes(slope, settled, ~on & quiet)
    dew = None
    if refrigerant is not None and log.has("suction_pressure"):
        dew = _averaged(log, _dew(log, refrigerant))
    found = []
    for start, end in zip(rises.start, rises.end, strict=True):
        first, last = np.searchsorted(log.time, [start, end])
        last = min(last, log.time.size - 1)
        rise = air[last] - air[first]
        if not rise >= LEAST_RISE:
            continue
        if dew is not None and abs(dew[last] - dew[first]) > _STEADY:
            continue
        pace = rise / (log.time[last] - log.time[first])
        share = (pace - cooling) / (warming - cooling) if warming > cooling else np.nan
        found.append(DoorHeat(float(start), float(end), float(rise), float(share)))
    return tuple(found)


def _slopes(slope, running, standing):
    """How fast the box air falls while the machine runs and rises while it stands still [K/s]."""
    falling = running & (slope < 0.0) & np.isfinite(slope)
    rising = standing & (slope > 0.0) & np.isfinite(slope)
    if not falling.any() or not rising.any():
        return np.nan, np.nan
    return float(np.median(slope[falling])), float(np.median(slope[rising]))


def since_start(log, on):
    """Count the time since the compressor started.

    Parameters
    ----------
    log : Log
    on : ndarray of bool, shape (n,)
        Whether it runs.

    Returns
    -------
    ndarray, shape (n,)
        Zero while it stands still. [s]
    """
    starts = on & np.r_[True, ~on[:-1]]
    at = np.maximum.accumulate(np.where(starts, np.arange(on.size), 0))
    return np.where(on, log.time - log.time[at], 0.0)


def _averaged(log, values):
    """Average over a short while, so that the last digit of a logger is no slope."""
    width = max(1, int(_SMOOTH / log.step) // 2)
    known = np.isfinite(values)
    total = np.concatenate([[0.0], np.cumsum(np.where(known, values, 0.0))])
    count = np.concatenate([[0], np.cumsum(known)])
    place = np.arange(values.size)
    low, high = np.maximum(place - width, 0), np.minimum(place + width + 1, values.size)
    with np.errstate(invalid="ignore", divide="ignore"):
        return (total[high] - total[low]) / (count[high] - count[low])


def _dew(log, refrigerant):
    pressure = log.values["suction_pressure"]
    low, high = refrigerant.pressure_range
    good = (pressure >= low) & (pressure <= high)
    dew = np.full(pressure.size, np.nan)
    dew[good] = refrigerant.dew_temperature(pressure[good], check=False)
    return dew


def _usual_air(log, air, found):
    """Find the usual box air, defrosts and a while after them left out [K]."""
    usual = np.isfinite(air)
    for start, end, _, _ in found:
        usual &= (log.time < start) | (log.time > end + 2.0 * (end - start))
    return float(np.percentile(air[usual], 75.0)) if usual.any() else np.nan


def _recovery(log, air, end, level):
    after = log.time >= end
    back = after & (_averaged(log, air) <= level)
    if not back.any():
        return np.nan
    return float(log.time[np.argmax(back)] - end)
