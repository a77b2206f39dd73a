"""What a record says, in words and figures that fit a work order."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass

import numpy as np

from .report import SHORT_RUN

KINDS = {
    "D": "defrost",
    "H": "hunting",
    "O": "heat, as through an open door",
    "S": "short run",
    "G": "no readings",
}


@dataclass(frozen=True)
class Event:
    """One line of the table of events.

    Parameters
    ----------
    letter : str
        A key of ``KINDS``.
    start, end : float
        [s]
    said : str
        In the reader's units.
    """

    letter: str
    start: float
    end: float
    said: str


def clock_text(log, time, *, date=False):
    """Write a time as the clock on the wall showed it.

    Parameters
    ----------
    log : Log
    time : float
        [s]
    date : bool
        Whether the day is written too, as ISO 8601 has it.

    Returns
    -------
    str
    """
    place = min(int(np.searchsorted(log.time, time)), log.time.size - 1)
    wall = round(time + float(log.local[place]))
    moment = datetime.datetime(1970, 1, 1) + datetime.timedelta(seconds=wall)
    return moment.strftime("%Y-%m-%d %H:%M" if date else "%H:%M")


def events_of(report, show):
    """List all events of a record in order.

    Parameters
    ----------
    report : Report
    show : Readout
        The reader's units.

    Returns
    -------
    tuple of Event
    """
    found = [Event("D", thaw.start, thaw.end, _defrost(thaw, show)) for thaw in report.defrosts]
    found += [Event("O", door.start, door.end, _door(door, show)) for door in report.doors]
    found += [
        Event(
            "H",
            beat.start,
            beat.end,
            f"beat {show.text(beat.period, 'time')}, superheat "
            f"±{show.text(beat.amplitude, 'temperature_difference')}, lowest "
            f"{show.text(beat.lowest, 'temperature_difference')}",
        )
        for beat in report.hunting
    ]
    short = report.short_runs
    found += [
        Event("S", start, end, f"runs {show.text(end - start, 'time')} only")
        for start, end in zip(short.start, short.end, strict=True)
    ]
    found += [
        Event("G", start, end, f"nothing for {show.text(end - start, 'time')}")
        for start, end in report.log.gaps()
    ]
    return tuple(sorted(found, key=lambda event: event.start))


def work_order(report, show):
    """Say what a record shows, as a few lines for a work order.

    Parameters
    ----------
    report : Report
    show : Readout
        The reader's units.

    Returns
    -------
    tuple of str
        Sentences.
    """
    log = report.log
    lines = [
        f"Logged {clock_text(log, log.time[0], date=True)} to "
        f"{clock_text(log, log.time[-1], date=True)}, a reading every "
        f"{show.text(log.step, 'time')}" + _gaps(report, show)
    ]
    lines.append(_runs(report, show))
    if log.has("box_temperature"):
        air = log.values["box_temperature"]
        lines.append(
            f"Box air {show.text(np.nanmin(air), 'temperature')} to "
            f"{show.text(np.nanmax(air), 'temperature')}, mostly near "
            f"{show.text(np.nanmedian(air), 'temperature')}."
        )
        if math.isfinite(report.pull_down):
            lines.append(f"Pull-down took {show.text(report.pull_down, 'time')}.")
    if report.superheat is not None:
        lines += _superheat(report, show)
    if report.subcooling is not None and np.isfinite(report.subcooling[report.on]).any():
        usual = float(np.nanmedian(report.subcooling[report.on]))
        lines.append(f"Subcooling mostly {show.text(usual, 'temperature_difference')}.")
    if report.thawed_how:
        lines.append(_defrosts(report, show))
    for door in report.doors:
        lines.append(f"{clock_text(log, door.start)}: {_door(door, show)}.")
    return tuple(lines)


def remarks(report):
    """Say what deserves a second look before anybody trusts a record.

    Parameters
    ----------
    report : Report

    Returns
    -------
    tuple of (str, str)
        How sure, and a sentence.
    """
    found = [("Worth knowing", note) for note in report.log.notes]
    if report.superheat is not None and report.too_slow:
        found.insert(
            0,
            (
                "Look again",
                "This logger is too slow to show hunting: a beat of a minute needs a reading "
                "every 15 seconds or faster. A slow wave in the superheat may be a false one.",
            ),
        )
    if report.superheat is not None and report.settled().size:
        wet = float(np.mean(report.settled() < 0.0))
        if wet > 0.05:
            found.insert(
                0,
                (
                    "Look again",
                    "The superheat is often below zero while the compressor runs. Either liquid "
                    "comes back, or refrigerant, unit, gauge or clamp is not what was said here.",
                ),
            )
    if report.how != "its current":
        found.append(
            ("Worth knowing", f"When the compressor runs is told from {report.how} alone.")
        )
    return tuple(found)


def _gaps(report, show):
    gaps = len(report.log.gaps())
    if not gaps:
        return ", without gaps."
    count = "one gap" if gaps == 1 else f"{gaps} gaps"
    longest = "" if gaps == 1 else "the longest "
    return f"; {count}, {longest}{show.text(report.longest_gap, 'time')}."


def _runs(report, show):
    runs, whole = report.runs, report.runs.whole
    said = f"The compressor runs {show.text(report.run_share, 'ratio')} of the time"
    if not report.runs.begins.any():
        return f"{said}; no start was seen."
    rate = report.starts_per_hour * 3600.0
    said += f", {rate:.1f} starts an hour"
    if whole.any():
        usual = float(np.median(runs.length[whole]))
        said += f", a run mostly {show.text(usual, 'time')}"
    short = len(report.short_runs)
    if short:
        runs_ = "1 run is" if short == 1 else f"{short} runs are"
        said += f"; {runs_} shorter than {show.text(SHORT_RUN, 'time')}"
    return f"{said}."


def _superheat(report, show):
    settled, kind = report.settled(), "temperature_difference"
    if settled.size == 0:
        return ["No superheat while running."]
    low, usual, high = np.percentile(settled, [5.0, 50.0, 95.0])
    lines = [
        f"Superheat while running mostly {show.text(usual, kind)}; nine tenths of it between "
        f"{show.text(low, kind)} and {show.text(high, kind)}."
    ]
    if report.too_slow:
        return lines
    hunts = report.hunting
    if not report.beats:
        lines.append("No run is long enough to tell whether the valve hunts.")
    elif not hunts:
        lines.append("No hunting seen.")
    else:
        period = float(np.median([beat.period for beat in hunts]))
        swing = float(np.median([beat.amplitude for beat in hunts]))
        lowest = min(beat.lowest for beat in hunts)
        lines.append(
            f"Hunting in {len(hunts)} of {len(report.beats)} windows of steady running: one beat "
            f"{show.text(period, 'time')}, superheat ±{show.text(swing, kind)}, lowest "
            f"{show.text(lowest, kind)}."
        )
    return lines


def _defrosts(report, show):
    thaws = report.defrosts
    if not thaws:
        return "No defrost seen."
    lengths = [thaw.end - thaw.start for thaw in thaws if thaw.whole]
    count = "1 defrost" if len(thaws) == 1 else f"{len(thaws)} defrosts"
    said = f"{count}"
    if lengths:
        low, high = (show.text(end, "time") for end in (min(lengths), max(lengths)))
        said += f", {low} long" if low == high else f", {low} to {high} long"
    back = [thaw.recovery for thaw in thaws if math.isfinite(thaw.recovery)]
    if back:
        said += f"; box air back after {show.text(max(back), 'time')} at most"
    return f"{said} (told from the {report.thawed_how})."


def _defrost(thaw, show):
    said = f"{show.text(thaw.end - thaw.start, 'time')}, coil up to "
    said += show.text(thaw.peak, "temperature")
    if math.isfinite(thaw.recovery):
        said += f", box air back {show.text(thaw.recovery, 'time')} later"
    return said


def _door(door, show):
    said = (
        f"box air rises {show.text(door.rise, 'temperature_difference')} in "
        f"{show.text(door.end - door.start, 'time')} while the compressor runs"
    )
    if math.isfinite(door.share):
        said += f"; heat on top about {show.text(door.share, 'ratio')} of what the machine takes"
    return said
