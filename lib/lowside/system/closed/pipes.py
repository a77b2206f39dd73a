"""What happens between the parts: pressure lost in the lines, heat gained, lost and exchanged."""

from __future__ import annotations

import numpy as np

from lowside import coils
from lowside.coils import tubes
from lowside.units import STANDARD_GRAVITY


def suction_drop(box, flow, suction, saturation):
    """Pressure lost between evaporator and compressor [Pa].

    Parameters
    ----------
    box : Box
    flow : ndarray
        [kg/s]
    suction : State
        At the compressor.
    saturation : Saturation
        There.

    Returns
    -------
    ndarray
    """
    line = box.suction_line
    gradient = tubes.gradient(
        flow / line.area, line.inner_diameter, suction.density, saturation.vapour_viscosity
    )
    return gradient * line.length


def liquid_drop(box, flow, liquid, saturation):
    """Pressure lost in the line and its rise [Pa]; where gas comes along, by its mixture.

    Parameters
    ----------
    box : Box
    flow : ndarray
        [kg/s]
    liquid : State
        In the line.
    saturation : Saturation
        For viscosities and densities of both phases.

    Returns
    -------
    ndarray
    """
    line = box.liquid_line
    flux = flow / line.area
    quality = np.clip(liquid.quality, 0.0, 1.0)
    as_liquid = tubes.gradient(
        flux, line.inner_diameter, saturation.liquid_density, saturation.liquid_viscosity
    )
    as_vapour = tubes.gradient(
        flux, line.inner_diameter, saturation.vapour_density, saturation.vapour_viscosity
    )
    rubbing = tubes.mueller_steinhagen_heck(quality, as_liquid, as_vapour) * line.length
    return rubbing + liquid.density * STANDARD_GRAVITY * box.rise


def throttled(restriction, flow, arriving):
    """Pressure lost in a strainer or a drier [Pa].

    Parameters
    ----------
    restriction : float or ndarray
        [1/m4]
    flow : ndarray
        [kg/s]
    arriving : State
        In front of it.

    Returns
    -------
    ndarray
    """
    return restriction * np.square(flow) / arriving.density


def cooled(box, flow, liquid, saturation, ambient_temperature):
    """Follow the liquid along a line that loses heat to the air around it.

    Parameters
    ----------
    box : Box
    flow : ndarray
        [kg/s]
    liquid : State
        Entering.
    saturation : Saturation
        For its heat capacity.
    ambient_temperature : ndarray
        [K]

    Returns
    -------
    State
        Leaving.
    """
    if not np.any(box.liquid_loss):
        return liquid
    heat_capacity = saturation.liquid_heat_capacity
    share = -np.expm1(-box.liquid_loss / (flow * heat_capacity))
    lost = heat_capacity * share * (liquid.temperature - ambient_temperature)
    return box.refrigerant.state_ph(liquid.pressure, liquid.enthalpy - lost, check=False)


def exchanged_heat(box, saturation, liquid, gas_enthalpy):
    """Heat from the liquid to the suction gas where the lines are soldered together [J/kg].

    Parameters
    ----------
    box : Box
    saturation : Saturation
        At the evaporator outlet.
    liquid : State
        Entering the exchange.
    gas_enthalpy : ndarray
        Of the suction gas leaving it. [J/kg]

    Returns
    -------
    ndarray
    """
    if not np.any(box.exchange):
        return np.zeros_like(gas_enthalpy)
    fluid = box.refrigerant
    return coils.exchange_given_outlet(
        box.exchange,
        liquid.enthalpy,
        fluid.liquid_enthalpy(liquid.pressure, saturation.dew_temperature, check=False),
        fluid.vapour_enthalpy(saturation.pressure, liquid.temperature, check=False),
        gas_enthalpy,
    )
