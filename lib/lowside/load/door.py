"""Air through an open door: warm air flows in over the cold air that flows out below.

The established flow is that of Gosney and Olama 1975 (Proc. Inst. Refrigeration 72, 31-41), in the
form and with the factors for real doorways that EnergyPlus publishes (Engineering Reference,
"Density Difference Controlled Air Exchange").
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .. import units
from ..errors import require

DAY = 24.0 * units.HOUR  # [s]

#: Share of the flow that a doorway's protection keeps out.
PROTECTION = {"nothing": 0.0, "air curtain": 0.5, "strip curtain": 0.9}

_COEFFICIENT = 0.221
LARGE_DIFFERENCE = 11.0  # [K] outside less inside, where the flow factor jumps
_FLOW_FACTORS = 1.1, 0.8  # real over established flow: up to that difference, and above it


@dataclass(frozen=True)
class Door:
    """A doorway and how it is used; every field may be an array.

    Parameters
    ----------
    width, height : float or ndarray
        [m]
    open_time : float or ndarray
        In a day. [s]
    protection : float or ndarray
        Share of the flow kept out, as in ``PROTECTION``.

    Raises
    ------
    OutOfRange
        For a door without size, open longer than a day, or a share that is none.
    """

    width: float
    height: float
    open_time: float
    protection: float = 0.0

    def __post_init__(self):
        require("width of the door", self.width, 0.0, None, "distance", open_low=True)
        require("height of the door", self.height, 0.0, None, "distance", open_low=True)
        require("time the door stands open in a day", self.open_time, 0.0, DAY, "hours")
        require("share the doorway keeps out", self.protection, 0.0, 1.0, "ratio")

    def air_flow(self, inside, outside):
        """Dry air exchanged while it stands open.

        Parameters
        ----------
        inside, outside : MoistAir
            The outside one no colder.

        Returns
        -------
        ndarray
            [kg/s]

        Raises
        ------
        OutOfRange
            If the air outside is colder than inside.
        """
        difference = np.subtract(outside.temperature, inside.temperature)
        require("air outside less inside", difference, 0.0, None, "temperature_difference")
        ratio = np.minimum(outside.density / inside.density, 1.0)
        squeeze = (2.0 / (1.0 + ratio ** (-1.0 / 3.0))) ** 1.5
        fall = np.sqrt((1.0 - ratio) * units.STANDARD_GRAVITY * self.height)
        established = _COEFFICIENT * self.width * self.height * inside.dry_density * fall * squeeze
        small, large = _FLOW_FACTORS
        factor = np.where(difference > LARGE_DIFFERENCE, large, small)
        return established * factor * (1.0 - self.protection)

    def gain(self, inside, outside):
        """Heat and water that come in, averaged over the day.

        Parameters
        ----------
        inside, outside : MoistAir

        Returns
        -------
        heat : ndarray
            What the air brings, its water vapour condensed. [W]
        water : ndarray
            [kg/s]

        Raises
        ------
        OutOfRange
            As `air_flow`.
        """
        flow = self.air_flow(inside, outside) * (self.open_time / DAY)
        heat = flow * (outside.enthalpy - inside.enthalpy)
        return heat, flow * (outside.humidity_ratio - inside.humidity_ratio)
