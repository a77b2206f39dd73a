"""Round the brazing: nitrogen in the pipe, water in the rag, torque on the flare."""

from __future__ import annotations

import math

from .. import units
from ..errors import require
from .metals import data, tube

OXYGEN_IN_AIR = 0.2095
HEAT_OF_WATER = 4190.0  # [J/(kg K)]
HEAT_OF_BOILING = 2.257e6  # [J/kg] at 100 °C


def purge_time(volume, flow, oxygen_left):
    """Time until nitrogen has thinned the air in a pipe, taken as well mixed.

    Parameters
    ----------
    volume : float
        Inside the pipe. [m3]
    flow : float
        Nitrogen. [m3/s]
    oxygen_left : float
        Share of oxygen to come down to.

    Returns
    -------
    float
        ``volume / flow`` times the logarithm of how much thinner; a long pipe purged from one end
        is faster. [s]

    Raises
    ------
    OutOfRange
        For a negative volume, no flow, or a share that is not below that of air.
    """
    require("volume of the pipe", volume, 0.0, None, "volume")
    require("flow of nitrogen", flow, 0.0, None, "gas_flow", open_low=True)
    require("oxygen left", oxygen_left, 0.0, OXYGEN_IN_AIR, "ratio", open_low=True)
    return volume / flow * math.log(OXYGEN_IN_AIR / oxygen_left)


def water_lasts(water, heat, start, boiling):
    """Time for which water takes up a steady heat before it has boiled away.

    Parameters
    ----------
    water : float
        In the rag. [kg]
    heat : float
        That it has to take. [W]
    start, boiling : float
        How cold it is put on, and where it boils. [K]

    Returns
    -------
    float
        [s]

    Raises
    ------
    OutOfRange
        For negative water, no heat, or water that is put on boiling.
    """
    require("water in the rag", water, 0.0, None, "mass")
    require("heat into the rag", heat, 0.0, None, "heat_flow", open_low=True)
    require("temperature of the water", start, units.ICE_POINT, boiling, "temperature")
    return water * (HEAT_OF_WATER * (boiling - start) + HEAT_OF_BOILING) / heat


def flare_torque(diameter):
    """Torque for a flare nut on a copper tube.

    Parameters
    ----------
    diameter : float
        Outer, a size of the trade. [m]

    Returns
    -------
    low, high : float
        [N m]

    Raises
    ------
    UnknownName
        If it is no size of the trade.
    OutOfRange
        If the table has no torque for it.
    """
    rows, size = data()["flares"], tube(diameter).diameter
    sizes = [units.to_si(outer, "in") for outer in rows["outer_in"]]
    require("tube of a flare", size, sizes[0] - 1e-4, sizes[-1] + 1e-4, "length")
    place = min(range(len(sizes)), key=lambda n: abs(sizes[n] - size))
    return float(rows["torque_low_Nm"][place]), float(rows["torque_high_Nm"][place])
