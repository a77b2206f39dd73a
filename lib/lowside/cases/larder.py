"""What warms while a box stands still: air that follows at once, food that follows slowly.

One lump of food takes heat from the air of the box, and the air is where cooling, heat gain and
food balance. Assumed for every box: on the day of a call three quarters of the design load get in;
shut and without cooling the food warms by 4 K in four hours (twice that time in a freezer).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

#: Cold food 41 °F or below (FDA Food Code 3-501.16, read as WAC 246-215-03525), four hours without
#: it at most (3-501.19, read as ATCP 75-3-501.19).
COLD, HOURS = 278.15, 4.0  # [K], [h]
LIMIT = HOURS * 3600.0  # [s]
ABOVE_SET = 2.0  # [K] allowed where a box is held warmer than that, or is a freezer: ours
AIR_MINUTES = 10.0  # time constant of the air, assumed
_GAIN = 0.75  # of the design load
_EXCHANGE = 6.0  # [K] between air and food that moves the design load
_WARMING, _IN = 4.0, 4.0 * 3600.0  # [K], [s]
_FREEZER, _FREEZER_BELOW = 2.0, 263.15


def highest(set_point):
    """Say how warm the food of a box may be.

    Parameters
    ----------
    set_point : float
        Air that the thermostat holds. [K]

    Returns
    -------
    float
        [K]
    """
    if set_point < _FREEZER_BELOW:
        return set_point + 4.0 * ABOVE_SET
    return max(COLD, set_point + ABOVE_SET)


@dataclass
class Larder:
    """Air and food of one box.

    Parameters
    ----------
    load : float
        At the design point. [W]
    set_point : float
        Air that the thermostat holds. [K]
    air, food : float
        Now. [K]
    warm : float
        That the food has been too warm. [s]
    away : bool
        Whether the food was carried elsewhere.
    """

    load: float
    set_point: float
    air: float
    food: float
    warm: float
    away: bool = False

    @property
    def highest(self):
        """Warmest that the food may be [K]."""
        return highest(self.set_point)

    @property
    def lost(self):
        """Whether the food has been too warm for too long (bool)."""
        return self.warm > LIMIT

    def run(self, seconds, cooling):
        """Let time pass.

        Parameters
        ----------
        seconds : float
        cooling : float
            Of the evaporator, held over this time; zero while it stands. [W]
        """
        exchange = self.load / _EXCHANGE
        slow = _FREEZER if self.set_point < _FREEZER_BELOW else 1.0
        heat = slow * _GAIN * self.load * _IN / _WARMING
        for _ in range(math.ceil(seconds / 60.0)):
            step = min(60.0, seconds)
            seconds -= step
            aim = self.food + (_GAIN * self.load - cooling) / exchange
            self.air += (aim - self.air) * (1.0 - math.exp(-step / (60.0 * AIR_MINUTES)))
            if cooling > 0.0:
                self.air = max(self.air, min(self.set_point, self.food))
            self.food += exchange * (self.air - self.food) * step / heat
            if self.food > self.highest and not self.away:
                self.warm += step
