"""When no single suspect fits: two at once, as far as two effects simply add."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import evidence
from .ranking import FREEDOM, Ranking, counted
from .suspects import NOTHING_WRONG

_EVERY_OTHER = 3  # severities of the suspects that are combined


@dataclass(frozen=True)
class Pair:
    """Two faults that would explain the readings together.

    Attributes
    ----------
    keys : tuple of str
    severities : tuple of float
        [SI of each fault's kind]
    better : float
        By what factor the pair explains the readings better than the best single suspect. [-]
    """

    keys: tuple
    severities: tuple
    better: float


def pairs(ranking: Ranking, count=3):
    """Look for two faults that explain the readings better than any one.

    The effects of two faults, and of what is uncertain, are added: good enough to point at a pair,
    not to weigh it.

    Parameters
    ----------
    ranking : Ranking
        Of at least three readings.
    count : int
        Pairs wanted.

    Returns
    -------
    list of Pair
        The best first; empty where too little was read.
    """
    suspects, taken = ranking.suspects, ranking.taken
    if len(taken) < 3:
        return []
    columns = [evidence.KEYS.index(key) for key in taken]
    read = np.array([counted(suspects, key, value) for key, value in taken.items()])
    mean, spread = suspects.mean[:, columns], suspects.spread[:, columns]
    own = suspects.own_variance(columns)
    best = _score(read - mean, spread, own).max()
    nothing = suspects.keys.index(NOTHING_WRONG)
    found = []
    faulty = [
        np.flatnonzero(suspects.which == place)[::_EVERY_OTHER]
        for place in range(len(suspects.keys))
        if place != nothing
    ]
    for first, mine in enumerate(faulty):
        for other in faulty[first + 1 :]:
            if not mine.size or not other.size:
                continue
            both = mean[mine][:, None] + mean[other] - mean[0]
            unsure = spread[mine][:, None] + spread[other] - spread[0]
            score = _score(read - both, unsure, own)
            at = np.unravel_index(np.argmax(score), score.shape)
            one, two = mine[at[0]], other[at[1]]
            found.append(
                Pair(
                    (suspects.keys[suspects.which[one]], suspects.keys[suspects.which[two]]),
                    (float(suspects.severity[one]), float(suspects.severity[two])),
                    float(np.exp(min(score[at] - best, 50.0))),
                )
            )
    return sorted(found, key=lambda pair: -pair.better)[:count]


def _score(off, spread, own):
    """Logarithm of Student's density, but for what all share."""
    count = off.shape[-1]
    covariance = spread @ np.swapaxes(spread, -1, -2) + np.diag(own)
    standard = np.linalg.solve(covariance, off[..., None])[..., 0]
    distance = (off * standard).sum(axis=-1)
    volume = np.linalg.slogdet(covariance)[1]
    return -0.5 * volume - 0.5 * (FREEDOM + count) * np.log1p(distance / FREEDOM)
