"""All that a record says of a box, in numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import beats, events
from .running import Stretches, running, stretches

SHORT_RUN = 180.0  # [s] under which a run is short; our own choice, no standard
PULLED = 5.0  # [K] warmer than usual at the beginning: a pull-down
SEEN = 15.0  # [s] between readings that still show a beat of a minute, as lesson 28 has it


@dataclass(frozen=True, eq=False)
class Report:
    """What was found in a record.

    Parameters
    ----------
    log : Log
    refrigerant : Refrigerant or None
    on : ndarray of bool, shape (n,)
        Whether the compressor runs.
    runs, stops : Stretches
        In which it does, and does not.
    how : str
        From what that was told.
    superheat, subcooling : ndarray, shape (n,) or None
        [K]
    defrosts : tuple of events.Defrost
    thawed_how : str
        From what defrosts were told; "" if they could not be.
    doors : tuple of events.DoorHeat
    beats : tuple of beats.Beat
    windows : int
        Windows of steady running, of which ``beats`` may hold some only.
    """

    log: object
    refrigerant: object
    on: np.ndarray
    runs: Stretches
    stops: Stretches
    how: str
    superheat: np.ndarray | None
    subcooling: np.ndarray | None
    defrosts: tuple
    thawed_how: str
    doors: tuple
    beats: tuple
    windows: int

    @property
    def known(self):
        """Time covered by readings, gaps left out [s]."""
        return self.log.span - float(np.sum(np.diff(self.log.gaps(), axis=1)))

    @property
    def run_share(self):
        """Share of the known time in which the compressor runs [-]."""
        ran, stood = float(self.runs.length.sum()), float(self.stops.length.sum())
        return ran / (ran + stood)

    @property
    def starts_per_hour(self):
        """Starts seen, for every hour known [1/s]."""
        return float(self.runs.begins.sum()) / self.known

    @property
    def short_runs(self):
        """Runs seen whole that are short, other than those that a defrost ended."""
        ended = np.isin(self.runs.end, [thaw.start for thaw in self.defrosts])
        return self.runs.where(self.runs.whole & (self.runs.length < SHORT_RUN) & ~ended)

    @property
    def defrosts_per_day(self):
        """Defrosts, for every day known [1/s]."""
        return len(self.defrosts) / self.known

    @property
    def hunting(self):
        """Windows that hunt, a tuple of Beat."""
        return tuple(beat for beat in self.beats if beat.hunts)

    @property
    def longest_gap(self):
        """The longest time without a reading; 0 without gaps [s]."""
        gaps = self.log.gaps()
        return float(np.max(gaps[:, 1] - gaps[:, 0])) if len(gaps) else 0.0

    @property
    def pull_down(self):
        """From a warm start until the box air is first where it usually is; NaN if none [s]."""
        if not self.log.has("box_temperature"):
            return np.nan
        air = self.log.values["box_temperature"]
        known = np.flatnonzero(np.isfinite(air))
        late = air[known[known > 0.5 * air.size]]
        if late.size == 0 or air[known[0]] < np.percentile(late, 95.0) + PULLED:
            return np.nan
        below = known[air[known] <= np.percentile(late, 75.0)]
        return float(self.log.time[below[0]] - self.log.time[0]) if below.size else np.nan

    @property
    def too_slow(self):
        """Whether the logger is too slow to show a valve that hunts."""
        return self.log.step > SEEN

    def settled(self):
        """Superheat while the compressor runs and has settled, ndarray [K]."""
        since = events.since_start(self.log, self.on)
        return self.superheat[self.on & (since > events.SETTLING) & np.isfinite(self.superheat)]


def analyse(log, refrigerant=None):
    """Find all that a record says of a box.

    Parameters
    ----------
    log : Log
    refrigerant : Refrigerant, optional
        Without it there is no superheat.

    Returns
    -------
    Report

    Raises
    ------
    LowsideError
        If the record does not show when the compressor runs.
    """
    on, how = running(log)
    runs, stops = stretches(log, on), stretches(log, ~on)
    superheat = subcooling = None
    found, count = (), 0
    if refrigerant is not None and log.has("suction_pressure", "suction_temperature"):
        superheat = log.superheat(refrigerant)
        found, count = beats.measure(log, superheat, runs)
    if refrigerant is not None and log.has("head_pressure", "liquid_temperature"):
        subcooling = log.subcooling(refrigerant)
    thaws, thawed_how = events.defrosts(log, on, refrigerant)
    doors = events.door_heat(log, on, thaws, refrigerant)
    return Report(
        log,
        refrigerant,
        on,
        runs,
        stops,
        how,
        superheat,
        subcooling,
        thaws,
        thawed_how,
        doors,
        found,
        count,
    )
