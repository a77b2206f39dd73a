"""What lesson 56 computes: the nights of the box, and what their records show."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from lowside import refrigerants, trend
from lowside.units import HOUR

from . import hall
from .l56_night import BOX, Night, simulate

FITTED, TURNED = 3.15e-3, 1.5  # [m], [K] as somebody left the valve
SLOW = 60.0  # [s] between readings of the slow logger
TIGHT = 0.6  # [K] of the thermostat that somebody narrowed
HOLE = 7.0 * HOUR, 2.5 * HOUR  # [s] when the logger of the third record stood still, how long

RECORDS = {
    "found": "the night of the call",
    "planned": "after the cure: port and stem as planned",
    "tight": "thermostat set too tight",
    "slow": "the night of the call, one reading a minute",
    "warm": "first start, box warm, logger stopped for a while",
}
DIALECTS = {
    "found": {
        "columns": {
            "Suction psig": ("suction_pressure", "psig"),
            "Suction line °F": ("suction_temperature", "°F"),
            "Box air °F": ("box_temperature", "°F"),
            "Coil °F": ("coil_temperature", "°F"),
            "Compressor A": ("running", "as it is"),
        },
        "stamp": "us",
    },
    "slow": {
        "columns": {
            "Suction [barg]": ("suction_pressure", "barg"),
            "Suction line [°C]": ("suction_temperature", "°C"),
            "Head [barg]": ("head_pressure", "barg"),
            "Liquid line [°C]": ("liquid_temperature", "°C"),
            "Box air [°C]": ("box_temperature", "°C"),
        },
        "delimiter": ";",
        "decimal": ",",
        "stamp": "dotted",
        "encoding": "utf-16",
        "zone": "Europe/Paris",
    },
}


@cache
def record(key):
    """Get one of the records of the lesson.

    Parameters
    ----------
    key : str
        Of ``RECORDS``.

    Returns
    -------
    trend.Log
    """
    metering = hall.box(BOX).metering
    found = Night(FITTED, TURNED)
    if key == "planned":
        return simulate(Night(metering.port, metering.static_superheat))
    if key == "tight":
        return simulate(replace(found, differential=TIGHT))
    if key == "slow":
        log = simulate(found)
        return _rows(log, np.arange(log.time.size) % round(SLOW / log.step) == 0)
    if key == "warm":
        log = simulate(replace(found, warm=12.0))
        since = log.time - log.time[0]
        return _rows(log, (since < HOLE[0]) | (since > sum(HOLE)))
    return simulate(found)


@cache
def report(key):
    """Find what one of the records shows.

    Parameters
    ----------
    key : str
        Of ``RECORDS``.

    Returns
    -------
    trend.Report
    """
    return trend.analyse(record(key), refrigerants.get(hall.box(BOX).refrigerant))


@cache
def file(key):
    """Write a record as its logger would.

    Parameters
    ----------
    key : str
        Of ``DIALECTS``.

    Returns
    -------
    bytes
    """
    how = dict(DIALECTS[key])
    return trend.write(record(key), how.pop("columns"), **how)


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, seen = hall.box(BOX), report("found")
    difference = "temperature_difference"
    low, high = np.percentile(seen.settled(), [5.0, 95.0])
    door = seen.doors[0]
    tight = report("tight")
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "fitted": (FITTED, "port"),
        "planned": (box.metering.port, "port"),
        "step": (seen.log.step, "time"),
        "slow_step": (SLOW, "time"),
        "span": (seen.log.span, "hours"),
        "run_share": (seen.run_share, "ratio"),
        "starts": f"{seen.starts_per_hour * HOUR:.1f}",
        "tight_starts": f"{tight.starts_per_hour * HOUR:.1f}",
        "tight_differential": (TIGHT, difference),
        "differential": (Night(FITTED, TURNED).differential, difference),
        "period": (_beat(seen), "time"),
        "amplitude": (float(np.median([b.amplitude for b in seen.hunting])), difference),
        "lowest": (float(seen.settled().min()), difference),
        "low": (float(low), difference),
        "high": (float(high), difference),
        "defrosts": str(len(seen.defrosts)),
        "longest_defrost": (max(d.end - d.start for d in seen.defrosts), "time"),
        "recovery": (max(d.recovery for d in seen.defrosts), "time"),
        "door_rise": (door.rise, difference),
        "door_time": (door.end - door.start, "time"),
        "door_share": (door.share, "ratio"),
        "door_clock": trend.clock_text(seen.log, door.start),
        "plan_superheat": (float(np.median(report("planned").settled())), difference),
        "slow_beat": (_slow_beat(), "time"),
        "short": (trend.SHORT_RUN, "time"),
    }


def slow_logger():
    """Find what one reading a minute makes of the beat, as a key of the prediction."""
    true = _beat(report("found"))
    return "same" if abs(_slow_beat() / true - 1.0) < 0.2 else "other"


def what_the_door_brings():
    """Compare the heat through the door with the machine, as a key of the prediction."""
    share = report("found").doors[0].share
    return "more" if share > 1.0 else "half" if share > 0.4 else "little"


def _beat(seen):
    return float(np.median([beat.period for beat in seen.hunting]))


def _slow_beat():
    return float(np.median([beat.period for beat in report("slow").beats]))


def _rows(log, kept):
    values = {role: column[kept] for role, column in log.values.items()}
    return replace(log, time=log.time[kept], local=log.local[kept], values=values)
