"""Period and amplitude of a swing, from a clamp's readings as they come.

Samples may be uneven and noisy, as a logger or a pencil gives them. A slow drift is taken out
first. Then sines of every period that the record can hold are fitted by least squares (for uneven
samples the periodogram of Lomb 1976 and Scargle 1982, from memory); the best one is refined, and
its harmonics are fitted with it, since a swing that meets the valve's stop is not a sine.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import LowsideError, NoOperatingPoint

CYCLES = 2.0  # fewer of them prove no period
EXPLAINED = 0.5  # share of the variance that a swing must explain
HARMONICS = 3
LEAST_SAMPLES = 12
_SAMPLES_A_CYCLE = 4.0  # fewer of them do not show a swing
_TRIALS = 5  # trial periods to one cycle more in the record
_REFINEMENTS = 16


@dataclass(frozen=True)
class Measured:
    """A swing as measured.

    Parameters
    ----------
    period : float
        [s]
    amplitude : float
        Half of the way from the lowest to the highest point. [K]
    mean : float
        Around which it swings. [K]
    explained : float
        Share of the variance, drift apart, that the swing explains: 1 for a pure one, near 0 for
        noise. [-]
    cycles : float
        How many of them the record holds.
    """

    period: float
    amplitude: float
    mean: float
    explained: float
    cycles: float

    @property
    def steady_beat(self):
        """Whether the record shows one period clearly (bool)."""
        return self.explained >= EXPLAINED and self.cycles >= CYCLES


def measure(time, superheat):
    """Measure period and amplitude of a swing.

    Parameters
    ----------
    time : array_like, shape (n,)
        In any order, not necessarily even. [s]
    superheat : array_like, shape (n,)
        Or any other quantity that swings; what is not a number is left out. [K]

    Returns
    -------
    Measured

    Raises
    ------
    LowsideError
        If the two do not belong together.
    NoOperatingPoint
        If there are too few samples to say anything, or nothing moves.
    """
    time, value = np.asarray(time, dtype=float), np.asarray(superheat, dtype=float)
    if time.ndim != 1 or time.shape != value.shape:
        raise LowsideError("A swing is measured from one row of times and as many readings.")
    known = np.isfinite(time) & np.isfinite(value)
    time, value = time[known], value[known]
    if time.size < LEAST_SAMPLES or np.ptp(time) <= 0.0:
        raise NoOperatingPoint(
            f"a swing needs at least {LEAST_SAMPLES} readings at different times",
            samples=float(time.size),
        )
    order = np.argsort(time)
    time, value = time[order] - time.min(), value[order]
    span, spacing = time[-1], float(np.median(np.diff(time)))
    if np.ptp(value) <= 0.0:
        raise NoOperatingPoint("nothing moves in these readings", superheat=float(value[0]))
    period = _best_period(time, value, span, spacing)
    count = min(HARMONICS, max(1, int(period / (3.0 * spacing))))
    coefficients, fitted = _fit(time, value, period, span, count)
    drift = _columns(time, period, span, 0)
    flat = value - drift @ np.linalg.lstsq(drift, value, rcond=None)[0]
    phase = np.linspace(0.0, period, 361)
    wave = _columns(phase, period, span, count)[:, drift.shape[1] :]
    wave = wave @ coefficients[drift.shape[1] :]
    return Measured(
        period=float(period),
        amplitude=float(0.5 * min(np.ptp(wave), np.ptp(flat))),
        mean=float(np.mean(drift @ coefficients[: drift.shape[1]])),
        explained=float(1.0 - np.sum((value - fitted) ** 2) / np.sum(flat**2)),
        cycles=float(span / period),
    )


def _best_period(time, value, span, spacing):
    """Period of the sine that leaves least over: a row of trials, then golden section."""
    columns = _columns(time, span, span, 0)
    flat = value - columns @ np.linalg.lstsq(columns, value, rcond=None)[0]
    most = max(span / spacing / _SAMPLES_A_CYCLE, 2.0)
    cycles = np.arange(1.0, most, 1.0 / _TRIALS)
    turn = np.exp(2j * np.pi * time / span)
    wave, faster = turn.copy(), np.exp(2j * np.pi * time / (span * _TRIALS))
    explained = np.empty(cycles.size)
    for number in range(cycles.size):
        twice, projected = np.sum(wave * wave), np.sum(flat * wave)
        cosines, sines = 0.5 * (time.size + twice.real), 0.5 * (time.size - twice.real)
        both, along, across = 0.5 * twice.imag, projected.real, projected.imag
        size = max(cosines * sines - both**2, 1e-9)
        explained[number] = (
            sines * along**2 - 2.0 * both * along * across + cosines * across**2
        ) / size
        wave *= faster
    best = int(np.argmax(explained))
    low, high = cycles[max(best - 1, 0)], cycles[min(best + 1, cycles.size - 1)]
    golden = 0.5 * (np.sqrt(5.0) - 1.0)
    for _ in range(_REFINEMENTS):
        one, two = high - golden * (high - low), low + golden * (high - low)
        if _left_over(time, value, span / one, span) < _left_over(time, value, span / two, span):
            high = two
        else:
            low = one
    return span / (0.5 * (low + high))


def _left_over(time, value, period, span):
    return float(np.sum((value - _fit(time, value, period, span, 1)[1]) ** 2))


def _fit(time, value, period, span, harmonics):
    columns = _columns(time, period, span, harmonics)
    coefficients = np.linalg.lstsq(columns, value, rcond=None)[0]
    return coefficients, columns @ coefficients


def _columns(time, period, span, harmonics):
    """Level and straight drift, then a cosine and a sine for each harmonic."""
    turn = 2.0 * np.pi * time / period
    waves = [wave(n * turn) for n in range(1, harmonics + 1) for wave in (np.cos, np.sin)]
    return np.stack([np.ones_like(time), time / span - 0.5, *waves], axis=1)
