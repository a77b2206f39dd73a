"""A strainer in front of the port: what it takes, and how little of that a thermometer sees."""

from __future__ import annotations

import numpy as np

from lowside import valve
from lowside.errors import require
from lowside.system import solve_low_side

FULLEST = 0.98  # of the driving pressure that a strainer can take
_STEPS = 4  # of the secant that makes strainer and flow agree
_STEEPEST = 20.0


def strainer_resistance(site, hole):
    """Find the resistance of a strainer that passes as much as a wide-open port of some size.

    Parameters
    ----------
    site : Site
        As believed.
    hole : float or ndarray
        Kit size that passes as much. [m]

    Returns
    -------
    float or ndarray
        Drop over the square of the flow. [Pa s2/kg2]

    Raises
    ------
    OutOfRange
        For a size that no hole can have.
    """
    require("hole left in the strainer", hole, 0.0, None, "port", open_low=True)
    port = valve.standard_port(hole, max_lift=site.box.valve.port.max_lift)
    passing = site.coefficient * port.largest_area
    return 0.5 / (site.arriving.density * passing**2)


def strainer_temperature_drop(refrigerant, pressure, subcooling, drop):
    """How much colder the liquid is behind a strainer than in front of it.

    The enthalpy stays. Nothing is felt until the pressure has fallen to the bubble point; from
    there the liquid boils and cools itself.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure : float or ndarray
        In front. [Pa]
    subcooling : float or ndarray
        In front, below bubble. [K]
    drop : float or ndarray
        Pressure that the strainer takes. [Pa]

    Returns
    -------
    float or ndarray
        [K]

    Raises
    ------
    OutOfRange
        For pressures outside the refrigerant's range.
    """
    require("pressure that the strainer takes", drop, 0.0, None, "pressure_difference")
    before = refrigerant.bubble_temperature(pressure) - subcooling
    enthalpy = refrigerant.liquid_enthalpy(pressure, before)
    return before - refrigerant.state_ph(pressure - drop, enthalpy).temperature


def through_strainer(box, conditions, strainer, first):
    """Solve strainer and valve in series: the drop follows the flow, the flow the drop.

    In logarithms what the flow wants of the drop falls with the drop, at least as steeply as liquid
    through an open port has it and steeper once it flashes: a secant within those limits.

    Parameters
    ----------
    box : LowSide
        Its numbers may be arrays.
    conditions : tuple of float
        Box air and condensing temperature, and subcooling. [K]
    strainer : float or ndarray
        From `strainer_resistance`. [Pa s2/kg2]
    first : float or ndarray
        A guess of the drop. [Pa]

    Returns
    -------
    tuple
        A LowSideResult, and the drop. [Pa]
    """
    fluid = box.refrigerant
    head = fluid.dew_pressure(conditions[1])
    drop = np.minimum(first, 0.3 * head)
    before = off = None
    for _ in range(_STEPS):
        point = solve_low_side(box, *conditions, liquid_line_drop=drop)
        driving = head - point.evaporating_pressure
        last, off = off, np.log(np.maximum(strainer * point.mass_flow**2, 1.0) / drop)
        slope = 1.0 / np.maximum(1.0 - drop / driving, 1.0 - FULLEST)
        if before is not None:
            moved = np.log(drop / before)
            seen = np.where(moved == 0.0, slope, (last - off) / np.where(moved, moved, 1.0))
            slope = np.clip(seen, 1.0, _STEEPEST)
        before, drop = drop, np.minimum(drop * np.exp(off / slope), FULLEST * driving)
    return solve_low_side(box, *conditions, liquid_line_drop=drop), drop
