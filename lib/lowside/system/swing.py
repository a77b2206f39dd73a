"""What a balanced port is worth: the swing of superheat from hot to cold day, by size of box."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lowside import refrigerants, units

from .box import with_port
from .ports import BALANCED, BALANCES, COLD, CONVENTIONAL, HOT, usual_low_side
from .result import LowSideResult
from .solve import solve_low_side

LEAST, MOST = 0.25 * units.TON, 5.0 * units.TON  # [W]
COUNT = 41


@dataclass(frozen=True)
class Swing:
    """Boxes of all sizes, each with its right port, on two days.

    Parameters
    ----------
    loads : ndarray, shape (n,)
        Design loads. [W]
    ports : ndarray, shape (n,)
        Right port of each. [m]
    result : LowSideResult, shape (n, 2, 2)
        By box, by day and by construction, as in `ports.PortSweep`.
    """

    loads: np.ndarray
    ports: np.ndarray
    result: LowSideResult

    @property
    def swings(self):
        """Superheat on the cold day less that on the hot day, shape (n, 2) [K].

        Not a number where the box does not run on both days.
        """
        swing = self.result.superheat[:, COLD] - self.result.superheat[:, HOT]
        return np.where(self.result.accepted.all(axis=1), swing, np.nan)

    @property
    def saved(self):
        """Swing that the balanced port spares, shape (n,) [K]."""
        return self.swings[:, CONVENTIONAL] - self.swings[:, BALANCED]


@lru_cache(maxsize=64)
def superheat_swing(refrigerant, box_temperature, hot, cold, load=None):
    """Solve boxes of all sizes, or of one, on a hot and on a cold day.

    Parameters
    ----------
    refrigerant : str
        Name.
    box_temperature : float
        Air entering the evaporator. [K]
    hot, cold : float
        Condensing temperatures; every box is sized on the hot day. [K]
    load : float, optional
        Of a single box; by default `COUNT` boxes from a quarter ton to five tons. [W]

    Returns
    -------
    Swing

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    UnknownName
        If there is no such refrigerant.
    """
    loads = np.geomspace(LEAST, MOST, COUNT) if load is None else np.array([load])
    fluid = refrigerants.get(refrigerant)
    box = usual_low_side(fluid, loads[:, None, None], box_temperature, hot)
    right = box.valve.port.diameter
    result = solve_low_side(
        with_port(box, right, np.array(BALANCES)), box_temperature, np.array([[hot], [cold]])
    )
    return Swing(loads, right[:, 0, 0], result)
