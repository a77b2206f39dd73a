"""What the suction gas picks up on its way: from warm air, and from the liquid line soldered to it.

Both are written backwards, from the state at the compressor to the evaporator outlet. A solver
that knows the compressor's suction state then knows everything in one pass.
"""

from __future__ import annotations

import numpy as np


def exchange_given_outlet(
    effectiveness, liquid_enthalpy, coldest_liquid_enthalpy, warmest_gas_enthalpy, outlet_enthalpy
):
    """Heat from the liquid to the suction gas, the gas leaving being known.

    The gas has the smaller heat capacity: q = e (h_gas(T_liquid) - h_gas,in). Where liquid comes
    back the liquid line limits: it cannot get colder than the suction.

    Parameters
    ----------
    effectiveness : float or ndarray
        e, from 0 to below 1. [-]
    liquid_enthalpy : float or ndarray
        Entering the exchange. [J/kg]
    coldest_liquid_enthalpy : float or ndarray
        Of liquid as cold as the refrigerant evaporates. [J/kg]
    warmest_gas_enthalpy : float or ndarray
        Of gas at suction pressure, as warm as the liquid entering. [J/kg]
    outlet_enthalpy : float or ndarray
        Of the gas leaving. [J/kg]

    Returns
    -------
    float or ndarray
        Per kilogram of refrigerant, both sides having the same flow. [J/kg]
    """
    heat = effectiveness / (1.0 - effectiveness) * (warmest_gas_enthalpy - outlet_enthalpy)
    return np.minimum(heat, effectiveness * (liquid_enthalpy - coldest_liquid_enthalpy))


def before_line(conductance, mass_flow, saturation, enthalpy, temperature, ambient_temperature):
    """Enthalpy entering a suction line, from the state that leaves it.

    The line takes up heat from air of one temperature: gas warms up exponentially, liquid and gas
    together keep their temperature until the liquid is gone.

    Parameters
    ----------
    conductance : float or ndarray
        UA of the line. [W/K]
    mass_flow : float or ndarray
        [kg/s]
    saturation : Saturation
        In the line.
    enthalpy, temperature : float or ndarray
        Leaving. [J/kg], [K]
    ambient_temperature : float or ndarray
        [K]

    Returns
    -------
    float or ndarray
        [J/kg]
    """
    dew, dew_temperature = saturation.vapour_enthalpy, saturation.dew_temperature
    units = conductance / mass_flow
    at_dew = ambient_temperature - dew_temperature
    superheat = np.maximum(temperature - dew_temperature, 0.0)
    dry = enthalpy > dew
    heat_capacity = np.where(
        dry & (superheat > 1e-9),
        np.maximum(enthalpy - dew, 0.0) / np.maximum(superheat, 1e-9),
        saturation.vapour_heat_capacity,
    )
    at_outlet = ambient_temperature - np.where(dry, temperature, dew_temperature)
    # Share of the line, counted from its end, in which there is gas alone.
    meets_dew = (at_dew > 1e-9) & (at_outlet > 1e-9) & dry
    ratio = np.where(meets_dew, at_dew, 1.0) / np.where(meets_dew, at_outlet, 1.0)
    reach = heat_capacity / np.maximum(units, 1e-12) * np.log(ratio)
    share = np.where(dry, np.where(meets_dew, np.minimum(reach, 1.0), 1.0), 0.0)
    stretch = np.minimum(units * share / heat_capacity, 50.0)
    in_gas = heat_capacity * at_outlet * np.expm1(stretch)
    return enthalpy - np.where(dry, in_gas, 0.0) - units * (1.0 - share) * at_dew
