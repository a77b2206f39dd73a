"""A valve at a cooling load: how far it must open, and which superheat opens it so far."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require

from .balance import superheats

FIRST_SUPERHEAT = 5.0  # [K] with which the flow is first counted
_ROUNDS = 4  # a kelvin of superheat is less than a per cent of flow: each round gains two digits


@dataclass(frozen=True)
class Duty:
    """What a valve needs to carry a load.

    Parameters
    ----------
    superheats : Superheats
        Static and opening, with the lift.
    mass_flow : float or ndarray
        [kg/s]
    drop : float or ndarray
        From the valve outlet to the evaporator outlet at this flow. [Pa]
    """

    superheats: object
    mass_flow: float | np.ndarray
    drop: float | np.ndarray


def at_load(valve, refrigerant, load, inlet, evaporating_pressure, drop_coefficient=0.0):
    """Find flow, lift and superheat of a valve that carries a load.

    The flow is the load over the enthalpy that the refrigerant takes up to the evaporator outlet,
    and that outlet is as warm as the valve needs it.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        In the evaporator.
    load : float or ndarray
        Cooling. [W]
    inlet : Inlet
        From the function of that name.
    evaporating_pressure : float or ndarray
        At the evaporator outlet. [Pa]
    drop_coefficient : float or ndarray
        Pressure drop from valve outlet to evaporator outlet over the square of the mass flow.
        [Pa s2/kg2]

    Returns
    -------
    Duty

    Raises
    ------
    OutOfRange
        If the load is not above zero, or no bulb temperature gives the pressure that is needed.
    NoOperatingPoint
        As `superheats`.
    """
    require("cooling load", load, 0.0, None, "capacity", open_low=True)
    dew = refrigerant.dew_temperature(evaporating_pressure)
    superheat = FIRST_SUPERHEAT
    for _ in range(_ROUNDS):
        leaving = refrigerant.vapour_enthalpy(evaporating_pressure, dew + superheat, check=False)
        mass_flow = load / (leaving - inlet.enthalpy)
        drop = drop_coefficient * np.square(mass_flow)
        found = superheats(valve, refrigerant, mass_flow, inlet, evaporating_pressure, drop)
        superheat = np.maximum(found.operating, 0.0)
    return Duty(found, mass_flow, drop)
