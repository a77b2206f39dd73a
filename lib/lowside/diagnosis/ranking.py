"""Suspects ranked by what was read: probabilities, and how well even the best one fits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import evidence, looks
from .suspects import NOTHING_WRONG, Suspects

FREEDOM = 5.0  # of Student's distribution: readings stray further than a bell curve says
NOTHING_PRIOR = 2.0  # weight of "nothing wrong" over that of one fault. Assumed.
STRANGE = 0.01  # a fit worse than that of this share of honest boxes
CERTAIN = 0.9


@dataclass(frozen=True)
class Ranking:
    """What is left standing.

    Attributes
    ----------
    suspects : Suspects
    taken : dict of str to float
        What was measured. [SI of each kind]
    seen : dict of str to bool
        Looks answered.
    weights : ndarray, shape (n,)
        Probability of every entry of the suspects. [-]
    fit : float
        Share of honest boxes that would fit the best suspect worse than this one does. [-]
    """

    suspects: Suspects
    taken: dict
    seen: dict
    weights: np.ndarray
    fit: float

    @property
    def probability(self):
        """Of every suspect by its key, the likeliest first (dict of str to float) [-]."""
        whole = np.bincount(
            self.suspects.which, weights=self.weights, minlength=len(self.suspects.keys)
        )
        order = np.argsort(-whole, kind="stable")
        return {self.suspects.keys[place]: float(whole[place]) for place in order}

    @property
    def strange(self):
        """Whether none of the suspects fits: a wrong reading, or more than one fault (bool)."""
        return self.fit < STRANGE

    def severity(self, key):
        """Give the expected severity of a suspect, should it be the one.

        Parameters
        ----------
        key : str
            Of the suspect.

        Returns
        -------
        float
            [SI of the fault's kind]
        """
        mine = self.suspects.which == self.suspects.keys.index(key)
        weights = self.weights[mine]
        if not weights.sum() > 0.0:
            return float(self.suspects.severity[mine].mean())
        return float(np.average(self.suspects.severity[mine], weights=weights))

    def likeliest(self, key):
        """Entry of the suspects at which a suspect explains the readings best.

        Parameters
        ----------
        key : str
            Of the suspect.

        Returns
        -------
        int
        """
        mine = np.flatnonzero(self.suspects.which == self.suspects.keys.index(key))
        return int(mine[np.argmax(self.weights[mine])])


def rank(suspects, taken, seen=None):
    """Rank the suspects by what was read.

    Parameters
    ----------
    suspects : Suspects
    taken : mapping of str to float
        What was measured, by ``evidence.KEYS``; leave out the rest. [SI of each kind]
    seen : mapping of str to bool, optional
        Looks answered, by ``looks.KEYS``.

    Returns
    -------
    Ranking
    """
    seen = dict(seen or {})
    columns = [evidence.KEYS.index(key) for key in taken]
    score = np.log(prior(suspects))
    fit = 1.0
    if columns:
        read = np.array([counted(suspects, key, value) for key, value in taken.items()])
        off = read - suspects.mean[:, columns]
        distance, volume = _distance(suspects.covariance(columns), off)
        score = score - 0.5 * volume - _tail(distance, len(columns))
        fit = _share_farther(distance.min(), len(columns))
    for key, answer in seen.items():
        score = score + np.log(chance(suspects, key, answer))
    return Ranking(suspects, dict(taken), seen, _normalised(score), fit)


def counted(suspects, key, value):
    """Turn a reading into what is counted at this box [as ``evidence.counted``]."""
    return float(evidence.counted(suspects.situation.box.refrigerant, key, value))


def prior(suspects):
    """Probability of every entry before anything is read: every fault alike, every severity alike.

    Parameters
    ----------
    suspects : Suspects

    Returns
    -------
    ndarray, shape (n,)
        [-]
    """
    share = np.where(np.array(suspects.keys) == NOTHING_WRONG, NOTHING_PRIOR, 1.0)
    rows = np.bincount(suspects.which, minlength=len(suspects.keys))
    weights = (share / np.maximum(rows, 1))[suspects.which]
    return weights / weights.sum()


def chance(suspects, key, answer):
    """Chance of an answer to a look at every entry.

    Parameters
    ----------
    suspects : Suspects
    key : str
        One of ``looks.KEYS``.
    answer : bool

    Returns
    -------
    ndarray, shape (n,)
        [-]
    """
    look = next(look for look in (*looks.ALL, looks.BUBBLES) if look.key == key)
    if look is looks.BUBBLES:
        shown = suspects.bubbles
    else:
        shown = np.array([name in look.shows for name in suspects.keys])[suspects.which]
    yes = np.where(shown, look.hit, look.false)
    return yes if answer else 1.0 - yes


def _distance(covariance, off):
    """Squared distance in standard deviations, and the logarithm of the determinant."""
    lower = np.linalg.cholesky(covariance)
    standard = np.linalg.solve(lower, off[..., None])[..., 0]
    volume = 2.0 * np.log(np.diagonal(lower, axis1=-2, axis2=-1)).sum(axis=-1)
    return np.square(standard).sum(axis=-1), volume


def _share_farther(distance, count):
    """Share of bell-shaped readings farther out: the upper tail of chi-square."""
    from scipy.special import gammaincc

    return float(gammaincc(0.5 * count, 0.5 * distance))


def _tail(distance, count):
    """Minus the logarithm of Student's density, but for what all entries share."""
    return 0.5 * (FREEDOM + count) * np.log1p(distance / FREEDOM)


def _normalised(score):
    weights = np.exp(score - score.max())
    return weights / weights.sum()
