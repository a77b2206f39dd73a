"""When the compressor runs, told from its current or, failing that, from the suction pressure."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import LowsideError

from .log import ROLES

CURRENT, SUCTION = "its current", "the suction pressure"

_APART = {CURRENT: 0.2, SUCTION: 0.1}  # of the higher level: closer ones are no switching
_ROUNDS = 30
_HELD = 3.0  # usual steps that a reading stands for at most


@dataclass(frozen=True, eq=False)
class Stretches:
    """Times in which something holds, cut where readings are missing.

    Parameters
    ----------
    start, end : ndarray, shape (k,)
        [s]
    whole : ndarray of bool, shape (k,)
        Whether beginning and end were both seen.
    begins : ndarray of bool, shape (k,)
        Whether the beginning was seen.
    """

    start: np.ndarray
    end: np.ndarray
    whole: np.ndarray
    begins: np.ndarray

    @property
    def length(self):
        """How long each lasts, as far as seen [s]."""
        return self.end - self.start

    def __len__(self):
        return self.start.size

    def where(self, kept):
        """Keep some of them.

        Parameters
        ----------
        kept : ndarray of bool, shape (k,)

        Returns
        -------
        Stretches
        """
        return Stretches(*(values[kept] for values in vars(self).values()))


def running(log):
    """Tell when the compressor runs.

    Parameters
    ----------
    log : Log

    Returns
    -------
    on : ndarray of bool, shape (n,)
    how : str
        ``CURRENT`` or ``SUCTION``.

    Raises
    ------
    LowsideError
        If neither was recorded.
    """
    if log.has("running"):
        values = log.values["running"]
        low, high = _levels(values)
        if high - low <= _APART[CURRENT] * abs(high):
            return np.full(values.size, high > 0.0), CURRENT
        return _held(values > 0.5 * (low + high), values), CURRENT
    if log.has("suction_pressure"):
        values = log.values["suction_pressure"]
        low, high = _levels(values)
        if high - low <= _APART[SUCTION] * high:
            return np.ones(values.size, dtype=bool), SUCTION
        return _held(values < 0.5 * (low + high), values), SUCTION
    raise LowsideError(
        f"To see the compressor start and stop the record needs {ROLES['running']}, or "
        f"{ROLES['suction_pressure']}."
    )


def stretches(log, holds):
    """List the stretches of time in which something holds.

    Parameters
    ----------
    log : Log
    holds : ndarray of bool, shape (n,)

    Returns
    -------
    Stretches
    """
    steps = np.diff(log.time)
    gap = steps > _HELD * np.median(steps)
    first = np.flatnonzero(holds & np.r_[True, ~holds[:-1] | gap])
    last = np.flatnonzero(holds & np.r_[~holds[1:] | gap, True])
    inner = np.minimum(last + 1, log.time.size - 1)
    ends_seen = (last + 1 < log.time.size) & ~np.r_[gap, True][last]
    begins_seen = (first > 0) & ~np.r_[True, gap][first]
    end = np.where(ends_seen, log.time[inner], log.time[last])
    return Stretches(log.time[first], end, begins_seen & ends_seen, begins_seen)


def _levels(values):
    """Find the two levels between which readings switch: two means, each of what is nearer it."""
    values = values[np.isfinite(values)]
    if values.size == 0:
        raise LowsideError("There is not one reading from which to see the compressor run.")
    low, high = np.percentile(values, [2.0, 98.0])
    for _ in range(_ROUNDS):
        upper = values > 0.5 * (low + high)
        if upper.all() or not upper.any():
            break
        before = low, high
        low, high = values[~upper].mean(), values[upper].mean()
        if before == (low, high):
            break
    return float(low), float(high)


def _held(on, values):
    """Where a reading is missing, what held before still holds."""
    known = np.isfinite(values)
    place = np.maximum.accumulate(np.where(known, np.arange(values.size), 0))
    return on[place]
