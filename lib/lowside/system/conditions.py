"""What is asked of a low side: refused where it is no question, sorted out where it has no answer.

Numbers that nobody can mean (a negative subcooling, no number at all) are refused before anything
is solved. Points that one can ask for and that cannot run (air colder than the refrigerant's
tables, a spring that would have to pull) stay in the batch and get a `Status` of their own.
"""

from __future__ import annotations

from dataclasses import is_dataclass

import numpy as np

from lowside import valve
from lowside.errors import LowsideError, require

from .case import Case
from .result import Status

PLAUSIBLE = (50.0, 1000.0)  # [K] outside these a number is a mistake, not a temperature
MOST_SUBCOOLING = 300.0  # [K]
MOST_SHARE = 10.0  # of the swept volume
LEAST_RATIO = 1.01  # of the highest over the lowest evaporating pressure between which to look


def refuse_nonsense(
    box, air_temperature, condensing_temperature, subcooling, liquid_line_drop, compressor_share
):
    """Refuse conditions and hardware that are no numbers or that nobody can mean.

    Parameters
    ----------
    box : LowSide
        Hardware.
    air_temperature, condensing_temperature, subcooling : ndarray
        As in `solve_low_side`. [K]
    liquid_line_drop, compressor_share : ndarray
        As in `solve_low_side`. [Pa], [-]

    Raises
    ------
    OutOfRange
        For the first condition refused.
    LowsideError
        If a number of the hardware is none.
    """
    require("air temperature", air_temperature, *PLAUSIBLE, "temperature")
    require("condensing temperature", condensing_temperature, *PLAUSIBLE, "temperature")
    require("subcooling", subcooling, 0.0, MOST_SUBCOOLING, "temperature_difference")
    require("pressure lost in the liquid line", liquid_line_drop, 0.0, None, "pressure_difference")
    require("share of the compressor", compressor_share, 0.0, MOST_SHARE, "ratio", open_low=True)
    for name in _not_numbers(box):
        raise LowsideError(f"The {name.replace('_', ' ')} of this box is not a number.")


def _not_numbers(thing):
    for name, value in vars(thing).items():
        if is_dataclass(value):
            yield from _not_numbers(value)
        elif isinstance(value, float | np.ndarray) and not np.isfinite(value).all():
            yield name


def prepare(
    box, air_temperature, condensing_temperature, subcooling, liquid_line_drop, compressor_share
):
    """Compute what does not change during the search, and which points can run at all.

    Parameters
    ----------
    box, air_temperature, condensing_temperature, subcooling, liquid_line_drop, compressor_share
        As in `refuse_nonsense`, flattened.

    Returns
    -------
    tuple
        A `Case`, and an int ndarray of `Status`: ``SOLVED`` where the search may begin, otherwise
        why it may not.
    """
    fluid = box.refrigerant
    low, high = fluid.pressure_range
    condensing_pressure = fluid.dew_pressure(condensing_temperature, check=False)
    inlet_pressure = condensing_pressure - liquid_line_drop
    liquid = fluid.bubble_temperature(condensing_pressure, check=False) - subcooling
    enthalpy = fluid.liquid_enthalpy(condensing_pressure, liquid, check=False)
    spring_force = valve.preload(box.valve, fluid, check=False)
    below_air = fluid.bubble_pressure(air_temperature, check=False)
    below_inlet = 0.999 * np.minimum(inlet_pressure, condensing_pressure)
    status = np.select(
        [
            (condensing_pressure < low) | (condensing_pressure > high),
            (fluid.dew_temperature(low) >= air_temperature) | (below_air <= LEAST_RATIO * low),
            below_inlet <= LEAST_RATIO * low,
            liquid < fluid.temperature_range[0],
            spring_force < 0.0,
        ],
        [
            Status.CONDENSING_OUTSIDE,
            Status.AIR_TOO_COLD,
            Status.NOTHING_DRIVES,
            Status.LIQUID_TOO_COLD,
            Status.SPRING_PULLS,
        ],
        Status.SOLVED,
    )
    tame = np.where(status == Status.SOLVED, inlet_pressure, condensing_pressure).clip(low, high)
    case = Case(
        box=box,
        air_temperature=air_temperature,
        condensing_pressure=condensing_pressure,
        compressor_share=compressor_share,
        inlet=valve.inlet(fluid, tame, enthalpy, check=False),
        spring_force=spring_force,
        largest_area=box.valve.port.largest_area,
        lowest=np.full_like(air_temperature, np.log(low)),
        highest=np.log(np.clip(np.minimum(below_air, below_inlet), LEAST_RATIO * low, high)),
    )
    return case, status
