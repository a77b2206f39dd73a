"""Which measurement or look to take next: what it is expected to teach, a minute."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import evidence, looks
from .ranking import FREEDOM, Ranking, chance, counted

DRAWS = 300
_LEAST = 1e-300


@dataclass(frozen=True)
class Step:
    """Something that could be done next.

    Attributes
    ----------
    key, label : str
        Of a measurement or a look.
    gain : float
        Bits of doubt that it is expected to take away.
    minutes : float
        That it takes. Assumed.
    opens : bool
        Whether it costs refrigerant.
    caution : str
        To be said beside it; may be empty.
    is_look : bool
        Answered by yes or no.
    """

    key: str
    label: str
    gain: float
    minutes: float
    opens: bool
    caution: str
    is_look: bool

    @property
    def rate(self):
        """Bits a minute [1/s, in minutes]."""
        return self.gain / self.minutes


def doubt(probabilities):
    """Entropy of probabilities along the last axis.

    Parameters
    ----------
    probabilities : ndarray

    Returns
    -------
    ndarray
        [bit]
    """
    probabilities = np.asarray(probabilities)
    return -(probabilities * np.log2(np.maximum(probabilities, _LEAST))).sum(axis=-1)


def next_steps(ranking, seed=0):
    """Order what has not been done yet by what it would teach a minute.

    A measurement is imagined many times: a suspect is drawn by its probability, the reading it
    would give with all that is unsure about it, and everything is ranked again.

    Parameters
    ----------
    ranking : Ranking
    seed : int
        Of the draws; the same seed, the same order.

    Returns
    -------
    list of Step
        The best first.
    """
    rng = np.random.default_rng(seed)
    suspects = ranking.suspects
    groups = np.eye(len(suspects.keys))[suspects.which]
    before = doubt(ranking.weights @ groups)
    drawn = rng.choice(ranking.weights.size, size=DRAWS, p=ranking.weights)
    bells = rng.standard_normal(DRAWS)
    family = suspects.situation.family
    steps = []
    for measurement in evidence.MEASUREMENTS:
        has_valve = suspects.situation.box.has_valve
        if measurement.key in ranking.taken or (measurement.key == "stem_answer" and not has_valve):
            continue
        middle, width = _conditional(ranking, measurement.key)
        reading = middle[drawn] + width[drawn] * bells
        distance = (reading[:, None] - middle) / width
        score = -np.log(width) - 0.5 * (FREEDOM + 1.0) * np.log1p(np.square(distance) / FREEDOM)
        after = _ranked(ranking.weights, score) @ groups
        steps.append(_step(measurement, measurement.label, before - doubt(after).mean(), False))
    for look in looks.fitting(family):
        if look.key in ranking.seen:
            continue
        gain = before
        for answer in (True, False):
            likely = chance(suspects, look.key, answer)
            share = ranking.weights @ likely
            gain -= share * doubt((ranking.weights * likely / share) @ groups)
        steps.append(_step(look, look.question, gain, True))
    return sorted(steps, key=lambda step: -step.rate)


def _step(thing, label, gain, is_look):
    gain = max(float(gain), 0.0)
    return Step(thing.key, label, gain, thing.minutes, thing.opens, thing.caution, is_look)


def _ranked(weights, score):
    score = score + np.log(np.maximum(weights, _LEAST))
    likely = np.exp(score - score.max(axis=-1, keepdims=True))
    return likely / likely.sum(axis=-1, keepdims=True)


def _conditional(ranking: Ranking, key):
    """Predict what one more measurement would count, given those taken, at every entry."""
    suspects = ranking.suspects
    place = evidence.KEYS.index(key)
    columns = [evidence.KEYS.index(taken) for taken in ranking.taken]
    whole = suspects.covariance([*columns, place])
    middle, variance = suspects.mean[:, place], whole[:, -1, -1]
    if columns:
        read = np.array([counted(suspects, name, ranking.taken[name]) for name in ranking.taken])
        slopes = np.linalg.solve(whole[:, :-1, :-1], whole[:, :-1, -1:])[..., 0]
        middle = middle + ((read - suspects.mean[:, columns]) * slopes).sum(axis=-1)
        variance = variance - (slopes * whole[:, :-1, -1]).sum(axis=-1)
    return middle, np.sqrt(np.maximum(variance, 1e-12))
