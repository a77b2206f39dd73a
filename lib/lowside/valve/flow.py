"""Liquid through an opening: discharge coefficient, mass flow, capacity."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .hardware import DISCHARGE_MODELS

# Wile 1935 as quoted in valve-model papers: Cd = 0.02005 sqrt(rho_in) + 0.634 v_out. From memory.
WILE_DENSITY = 0.02005  # [m1.5/kg0.5]
WILE_VOLUME = 0.634  # [kg/m3]


@dataclass(frozen=True)
class Inlet:
    """Liquid, or flashing liquid, arriving at the valve.

    Parameters
    ----------
    pressure, enthalpy : float or ndarray
        [Pa], [J/kg]
    density : float or ndarray
        Of the liquid, or of the homogeneous mixture where it flashes. [kg/m3]
    liquid_density : float or ndarray
        Of the liquid part. [kg/m3]
    quality : float or ndarray
        Mass share of vapour, 0 for solid liquid. [-]
    temperature : float or ndarray
        [K]
    """

    pressure: float | np.ndarray
    enthalpy: float | np.ndarray
    density: float | np.ndarray
    liquid_density: float | np.ndarray
    quality: float | np.ndarray
    temperature: float | np.ndarray


def inlet(refrigerant, pressure, enthalpy, check=True):
    """State of what arrives at the valve.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure : float or ndarray
        At the valve inlet. [Pa]
    enthalpy : float or ndarray
        [J/kg]
    check : bool
        Refuse states outside the refrigerant's range.

    Returns
    -------
    Inlet

    Raises
    ------
    OutOfRange
        If the pressure lies outside the refrigerant's range.
    """
    state = refrigerant.state_ph(pressure, enthalpy, check=check)
    saturation = refrigerant.saturation(pressure, check=check)
    flashing = state.enthalpy > saturation.liquid_enthalpy
    return Inlet(
        pressure=state.pressure,
        enthalpy=state.enthalpy,
        density=state.density,
        liquid_density=np.where(flashing, saturation.liquid_density, state.density)[()],
        quality=np.clip(state.quality, 0.0, 1.0)[()],
        temperature=state.temperature,
    )


def wile_coefficient(liquid_density, outlet_volume=0.0):
    """Discharge coefficient after Wile 1935, from memory.

    The fit knows no upper limit, an opening does: above 1 it would pass more than a loss-free jet.

    Parameters
    ----------
    liquid_density : float or ndarray
        Of the liquid at the inlet. [kg/m3]
    outlet_volume : float or ndarray
        Specific volume of the mixture at the valve outlet. [m3/kg]

    Returns
    -------
    float or ndarray
        At most 1. [-]
    """
    coefficient = WILE_DENSITY * np.sqrt(liquid_density) + WILE_VOLUME * np.asarray(outlet_volume)
    return np.minimum(coefficient, 1.0)


def mass_flux(refrigerant, inlet, outlet_pressure, discharge="wile", discharge_coefficient=0.7):
    """Mass flow per flow area, coefficient included.

    A flashing inlet counts with the density of its homogeneous mixture under the root and with its
    liquid in the coefficient. Choking is not modelled.

    Parameters
    ----------
    refrigerant : Refrigerant
        Flowing.
    inlet : Inlet
        From the function of that name.
    outlet_pressure : float or ndarray
        [Pa]
    discharge : {"wile", "constant"}
        Model of the discharge coefficient, see `Valve`.
    discharge_coefficient : float or ndarray
        Of the "constant" model. [-]

    Returns
    -------
    float or ndarray
        Zero where the outlet pressure is not below the inlet pressure. [kg/(s m2)]
    """
    drop = np.maximum(inlet.pressure - np.asarray(outlet_pressure), 0.0)
    if discharge == "constant":
        coefficient = discharge_coefficient
    else:
        behind = refrigerant.saturation(outlet_pressure, check=False)
        quality = (inlet.enthalpy - behind.liquid_enthalpy) / (
            behind.vapour_enthalpy - behind.liquid_enthalpy
        )
        quality = np.clip(quality, 0.0, 1.0)
        volume = quality / behind.vapour_density + (1.0 - quality) / behind.liquid_density
        coefficient = wile_coefficient(inlet.liquid_density, volume)
    return coefficient * np.sqrt(2.0 * inlet.density * drop)


def mass_flow(valve, refrigerant, lift, inlet, outlet_pressure):
    """Mass flow at a lift.

    Parameters
    ----------
    valve : Valve
        Port and discharge model.
    refrigerant : Refrigerant
        Flowing.
    lift : float or ndarray
        [m]
    inlet : Inlet
        From the function of that name.
    outlet_pressure : float or ndarray
        [Pa]

    Returns
    -------
    float or ndarray
        [kg/s]
    """
    return valve.port.area(lift) * valve_flux(valve, refrigerant, inlet, outlet_pressure)


def valve_flux(valve, refrigerant, inlet, outlet_pressure):
    """Mass flux through a valve's port: `mass_flux` with the valve's own discharge model and ice.

    Parameters
    ----------
    valve : Valve
        Its discharge model counts, and the share of the port that is open.
    refrigerant : Refrigerant
        Flowing.
    inlet : Inlet
        From the function of that name.
    outlet_pressure : float or ndarray
        Behind the port. [Pa]

    Returns
    -------
    float or ndarray
        Per area that the pin leaves open. [kg/(s m2)]
    """
    return valve.open_share * mass_flux(
        refrigerant, inlet, outlet_pressure, valve.discharge, valve.discharge_coefficient
    )


def capacity(valve, refrigerant, inlet, evaporating_pressure, superheat=0.0, lift_share=1.0):
    """Cooling that the valve can feed: flow times enthalpy rise to the evaporator outlet.

    Parameters
    ----------
    valve : Valve
        Port and discharge model.
    refrigerant : Refrigerant
        Flowing.
    inlet : Inlet
        From the function of that name.
    evaporating_pressure : float or ndarray
        In the evaporator, drop neglected. [Pa]
    superheat : float or ndarray
        At the evaporator outlet. [K]
    lift_share : float or ndarray
        Lift over full travel. [-]

    Returns
    -------
    float or ndarray
        [W]

    Raises
    ------
    OutOfRange
        If the evaporating pressure lies outside the refrigerant's range.
    """
    flow = mass_flow(
        valve,
        refrigerant,
        lift_share * np.asarray(valve.port.max_lift),
        inlet,
        evaporating_pressure,
    )
    outlet = refrigerant.dew_temperature(evaporating_pressure) + superheat
    return flow * (refrigerant.vapour_enthalpy(evaporating_pressure, outlet) - inlet.enthalpy)


def capacity_ratio_band(
    refrigerant, reference, evaporating_temperature, condensing_temperature, subcooling=5.0
):
    """How much more one refrigerant cools than another through the same opening.

    Both work between the same dew points with the same subcooling. The ratio depends on the model
    of the discharge coefficient; where the liquid densities differ much, as between propane and a
    fluorinated blend, that spread is large and an honest answer is a band.

    Parameters
    ----------
    refrigerant, reference : Refrigerant
        The one asked about, and the one it is compared with.
    evaporating_temperature, condensing_temperature : float or ndarray
        Dew points. [K]
    subcooling : float or ndarray
        Of the liquid, below bubble. [K]

    Returns
    -------
    tuple of float or ndarray
        Lowest and highest capacity ratio of the discharge models. [-]

    Raises
    ------
    OutOfRange
        If a temperature lies outside the range of either refrigerant.
    """
    ratios = []
    for model in DISCHARGE_MODELS:
        cooling = []
        for fluid in (refrigerant, reference):
            evaporating = fluid.dew_pressure(evaporating_temperature)
            condensing = fluid.dew_pressure(condensing_temperature)
            liquid = fluid.bubble_temperature(condensing) - subcooling
            arriving = inlet(fluid, condensing, fluid.liquid_enthalpy(condensing, liquid))
            effect = fluid.saturation(evaporating).vapour_enthalpy - arriving.enthalpy
            cooling.append(effect * mass_flux(fluid, arriving, evaporating, model))
        ratios.append(cooling[0] / cooling[1])
    return np.minimum(*ratios), np.maximum(*ratios)
