"""What a suspect expects of each reading, the others being as they are; what speaks against it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import evidence
from .ranking import Ranking, counted

DOUBTFUL, AGAINST = 1.5, 2.5  # standard deviations; our choice


@dataclass(frozen=True)
class Expectation:
    """One reading held against one suspect.

    Attributes
    ----------
    key : str
        Of the measurement.
    read, expected : float
        [SI of its kind]
    off : float
        How far the reading lies above what is expected, in standard deviations. [-]
    """

    key: str
    read: float
    expected: float
    off: float

    @property
    def verdict(self):
        """``"fits"``, ``"doubtful"`` or ``"against"`` (str)."""
        far = abs(self.off)
        return "fits" if far < DOUBTFUL else "doubtful" if far < AGAINST else "against"


def expectations(ranking: Ranking, key):
    """Hold every reading against a suspect at the severity at which it explains them best.

    What is unsure about a box moves all its readings together, so that each is expected from the
    others: a coil that is better than assumed is no contradiction.

    Parameters
    ----------
    ranking : Ranking
    key : str
        Of the suspect.

    Returns
    -------
    list of Expectation
        In the order in which the readings were taken; empty where nothing was read.
    """
    suspects = ranking.suspects
    if not ranking.taken:
        return []
    columns = [evidence.KEYS.index(name) for name in ranking.taken]
    entry = ranking.likeliest(key)
    read = np.array([counted(suspects, name, value) for name, value in ranking.taken.items()])
    inverse = np.linalg.inv(suspects.covariance(columns)[entry])
    own = np.diag(inverse)
    residual = inverse @ (read - suspects.mean[entry, columns])
    fluid = suspects.situation.box.refrigerant
    return [
        Expectation(
            name,
            value,
            float(evidence.plain(fluid, name, read[place] - residual[place] / own[place])),
            float(residual[place] / np.sqrt(own[place])),
        )
        for place, (name, value) in enumerate(ranking.taken.items())
    ]
