"""Smooth look-up of a few quantities at once, fast for one number at a time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

STEP = 0.5  # [K]


@dataclass(frozen=True)
class Table:
    """Quantities over temperature, by cubics that join without a kink (Catmull and Rom).

    Parameters
    ----------
    first, last : float
        Temperatures between which it holds; beyond them it stays at its ends. [K]
    cubics : list
        For each step, for each quantity, the four coefficients, constant first.
    """

    first: float
    last: float
    cubics: list

    @classmethod
    def over(cls, low, high, function):
        """Tabulate a function.

        Parameters
        ----------
        low, high : float
            Temperatures that the table has to reach. [K]
        function : callable
            ``function(temperature)`` takes an ndarray and returns a sequence of ndarrays.

        Returns
        -------
        Table
        """
        count = int((high - low) / STEP) + 1
        values = np.stack(function(low + STEP * np.arange(-1, count + 2)), axis=1)
        a, b, c, d = (values[first : first + count] for first in range(4))
        cubics = np.stack(
            [b, 0.5 * (c - a), a - 2.5 * b + 2.0 * c - 0.5 * d, 0.5 * (d - a) + 1.5 * (b - c)],
            axis=2,
        )
        return cls(low, low + STEP * count, cubics.tolist())

    def at(self, temperature):
        """All quantities at one temperature.

        Parameters
        ----------
        temperature : float
            [K]

        Returns
        -------
        list of float
        """
        place = (min(max(temperature, self.first), self.last) - self.first) / STEP
        index = min(int(place), len(self.cubics) - 1)
        t = place - index
        return [((d * t + c) * t + b) * t + a for a, b, c, d in self.cubics[index]]
