"""The low side as hardware: put together, sized for a duty, given another port."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import coils, valve
from lowside.compressor import Compressor
from lowside.errors import NoOperatingPoint, require

LEAST_APPROACH = 0.2  # [K] air to bulb at the design point


@dataclass(frozen=True)
class LowSide:
    """Everything between the liquid line and the compressor discharge.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    compressor : Compressor or RatedCompressor
        Numbers of a `Compressor` may be arrays.
    evaporator : coils.Evaporator
        Numbers may be arrays.
    valve : valve.Valve
        Numbers may be arrays.
    """

    refrigerant: object
    compressor: object
    evaporator: coils.Evaporator
    valve: valve.Valve


def with_port(box, diameter, balance=None):
    """Give a box another port, its spring set again to the same static superheat.

    Parameters
    ----------
    box : LowSide
        As it is.
    diameter : float or ndarray
        Bore of the new port, with the usual pin. [m]
    balance : float or ndarray, optional
        0 conventional, 1 balanced; by default as before. [-]

    Returns
    -------
    LowSide

    Raises
    ------
    OutOfRange
        For a bore or a balance that no port can have.
    """
    old = box.valve.port
    port = valve.standard_port(diameter, old.balance if balance is None else balance, old.max_lift)
    return replace(box, valve=replace(box.valve, port=port))


def size_low_side(
    refrigerant,
    load,
    box_temperature,
    condensing_temperature,
    *,
    temperature_difference=8.0,
    subcooling=5.0,
    static_superheat=4.0,
    opening_superheat=1.5,
    lift_share=0.6,
    travel=valve.STANDARD_LIFT,
    air_drop_share=0.5,
    drop_worth=1.0,
    dry_to_wet=0.3,
    balance=0.0,
    element=None,
    external_equaliser=True,
    discharge="wile",
    compressor=None,
):
    """Hardware that carries a load exactly, with the right port, at its design point.

    Spring and port are set at the design point, so that the port force of the design pressures
    cancels there and shows only when they move. Every number may be an array.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    load : float or ndarray
        Cooling at the design point, compressor running. [W]
    box_temperature : float or ndarray
        Air entering the evaporator. [K]
    condensing_temperature : float or ndarray
        Dew point of the discharge pressure. [K]
    temperature_difference : float or ndarray
        Box temperature minus evaporating dew point. [K]
    subcooling : float or ndarray
        At the valve inlet, below bubble. [K]
    static_superheat : float or ndarray
        To which the spring is set. [K]
    opening_superheat : float or ndarray or None
        That the lift at the design point takes on top, given a spring to suit charge and
        temperature. None: the usual spring, and what comes of it. [K]
    lift_share : float or ndarray
        Share of its travel at which the right port carries the load. [-]
    travel : float or ndarray
        Of the pin; larger valves travel further. [m]
    air_drop_share : float or ndarray
        Cooling of the air in the coil over the temperature difference. [-]
    drop_worth : float or ndarray
        Pressure drop of the evaporator, as the fall in dew point that it causes. [K]
    dry_to_wet : float or ndarray
        Conductance of the coil all dry over all wet. [-]
    balance : float or ndarray
        0 conventional, 1 balanced port. [-]
    element : valve.PowerElement, optional
        By default a liquid charge of the same refrigerant.
    external_equaliser : bool or ndarray of bool
        As in `valve.Valve`.
    discharge : {"wile", "constant"}
        As in `valve.Valve`.
    compressor : Compressor, optional
        Template for the efficiencies; its swept volume is replaced.

    Returns
    -------
    LowSide

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range, or shares that make no sense.
    NoOperatingPoint
        If the superheat leaves no temperature difference to the air, the air is too little for
        the load, or no spring can set this superheat.
    """
    require("load", load, 0.0, None, "capacity", open_low=True)
    require("temperature difference", temperature_difference, 0.5, 40.0, "temperature_difference")
    require("design lift share", lift_share, 0.02, 1.0, "ratio")
    require("air cooling share", air_drop_share, 0.05, 0.95, "ratio")
    require("subcooling", subcooling, 0.0, None, "temperature_difference")
    element = element or valve.PowerElement("liquid", refrigerant)
    dew = np.asarray(box_temperature, dtype=float) - temperature_difference
    pressure = refrigerant.dew_pressure(dew)
    drop = refrigerant.dew_pressure(dew + drop_worth) - pressure
    condensing_pressure = refrigerant.dew_pressure(condensing_temperature)
    liquid = refrigerant.bubble_temperature(condensing_pressure) - subcooling
    warmer = "liquid temperature above the evaporating temperature"
    require(warmer, liquid - dew, 0.0, None, "temperature_difference")
    arriving = valve.inlet(
        refrigerant,
        condensing_pressure,
        refrigerant.liquid_enthalpy(condensing_pressure, liquid),
    )
    outlet_pressure = pressure + drop

    spring = valve.Spring(
        static_superheat=static_superheat,
        evaporating_temperature=dew,
        pressure_difference=condensing_pressure - outlet_pressure,
    )
    lift = np.asarray(lift_share) * travel
    closed = element.pressure(dew + static_superheat)
    if opening_superheat is None:
        rise = spring.rate * lift / element.diaphragm_area
    else:
        require("opening superheat", opening_superheat, 0.1, None, "temperature_difference")
        rise = element.pressure(dew + static_superheat + opening_superheat) - closed
        spring = replace(spring, rate=element.diaphragm_area * rise / lift)
    # An internal equaliser makes the bulb pay for the drop as well.
    bulb = element.temperature(closed + rise + np.where(external_equaliser, 0.0, drop))
    if np.any(box_temperature - bulb < LEAST_APPROACH):
        raise NoOperatingPoint(
            "the bulb would have to be as warm as the air: it takes more temperature difference or "
            "less superheat",
            superheat=float(np.max(bulb - dew)),
            temperature_difference=float(np.min(temperature_difference)),
        )
    outlet_enthalpy = refrigerant.vapour_enthalpy(pressure, bulb)
    mass_flow = load / (outlet_enthalpy - arriving.enthalpy)
    flux = valve.mass_flux(refrigerant, arriving, outlet_pressure, discharge)
    port = valve.port_for_area(mass_flow / flux, lift_share, balance, travel)

    evaporator = coils.size_evaporator(
        refrigerant,
        mass_flow=mass_flow,
        inlet_enthalpy=arriving.enthalpy,
        outlet_enthalpy=outlet_enthalpy,
        outlet_pressure=pressure,
        pressure_drop=drop,
        air_temperature=box_temperature,
        air_capacity_rate=load / (air_drop_share * np.asarray(temperature_difference)),
        dry_to_wet=dry_to_wet,
    )
    template = compressor or Compressor(1.0)
    filled = template.volumetric_efficiency(condensing_pressure / pressure)
    density = refrigerant.state_ph(pressure, outlet_enthalpy).density
    box = LowSide(
        refrigerant=refrigerant,
        compressor=replace(template, swept_volume_flow=mass_flow / (filled * density)),
        evaporator=evaporator,
        valve=valve.Valve(port, element, spring, external_equaliser, discharge),
    )
    valve.preload(box.valve, refrigerant)
    return box
