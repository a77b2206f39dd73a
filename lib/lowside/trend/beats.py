"""Hunting in a record: windows of steady running, each measured for period and amplitude."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from lowside import hunting
from lowside.errors import NoOperatingPoint

from .events import SETTLING

WINDOW = 1200.0  # [s] at most
LEAST = 480.0  # [s] of steady running, to say anything
MOST_WINDOWS = 60  # measured; more of them are drawn from evenly
MOST_SAMPLES = 300  # of one window; denser ones are thinned
SWINGS = 0.5  # [K] of amplitude, from which on it counts: our own choice
CYCLES = 4.0
SAMPLES_A_BEAT = 4.0  # fewer do not show a beat


@dataclass(frozen=True)
class Beat:
    """One window of steady running.

    Parameters
    ----------
    start, end : float
        [s]
    period, amplitude : float
        Of the superheat, amplitude to either side. [s], [K]
    lowest : float
        Superheat in it. [K]
    mean : float
        [K]
    hunts : bool
        Whether one beat is clear, long enough and high enough.
    """

    start: float
    end: float
    period: float
    amplitude: float
    lowest: float
    mean: float
    hunts: bool


def windows(runs):
    """Cut runs into windows of steady running.

    Parameters
    ----------
    runs : Stretches
        In which the compressor runs.

    Returns
    -------
    ndarray, shape (k, 2)
        Start and end. [s]
    """
    found = []
    for start, end in zip(runs.start + SETTLING * runs.begins, runs.end, strict=True):
        count = int((end - start) // WINDOW)
        if count == 0 and end - start >= LEAST:
            found.append((start, end))
        edges = start + WINDOW * np.arange(count + 1)
        found += list(pairwise(edges))
    return np.array(found).reshape(-1, 2)


def measure(log, superheat, runs):
    """Measure every window of a record, or some of them evenly spread if there are many.

    Parameters
    ----------
    log : Log
    superheat : ndarray, shape (n,)
        [K]
    runs : Stretches
        In which the compressor runs.

    Returns
    -------
    beats : tuple of Beat
    windows : int
        How many there are to measure.
    """
    every = windows(runs)
    picked = every
    if len(every) > MOST_WINDOWS:
        picked = every[np.linspace(0, len(every) - 1, MOST_WINDOWS).round().astype(int)]
    beats = []
    for start, end in picked:
        part = slice(*np.searchsorted(log.time, [start, end]))
        stride = max(1, (part.stop - part.start) // MOST_SAMPLES)
        time, value = log.time[part][::stride], superheat[part]
        try:
            seen = hunting.measure(time, value[::stride])
        except NoOperatingPoint:
            continue
        step = float(np.median(np.diff(time)))
        clear = (
            seen.steady_beat
            and seen.cycles >= CYCLES
            and seen.amplitude >= SWINGS
            and seen.period >= SAMPLES_A_BEAT * step
        )
        beats.append(
            Beat(
                float(start),
                float(end),
                seen.period,
                seen.amplitude,
                float(np.nanmin(value)),
                seen.mean,
                bool(clear),
            )
        )
    return tuple(beats), len(every)
