"""Evaporators: where the liquid boils, where the vapour warms up, what comes out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import NoOperatingPoint, require

from .exchange import (
    LEAST_DIFFERENCE,
    PIECES,
    along_pieces,
    effectiveness,
    log_mean_difference,
    through_pieces,
)


@dataclass(frozen=True)
class Evaporator:
    """An air-heated evaporator. Every parameter may be an array, one value a coil.

    Parameters
    ----------
    wet_conductance : float or ndarray
        UA of the whole coil if liquid boiled everywhere. [W/K]
    dry_conductance : float or ndarray
        UA of the whole coil if there were vapour everywhere. [W/K]
    air_capacity_rate : float or ndarray
        Mass flow of air times its heat capacity. [W/K]
    drop_coefficient : float or ndarray
        Pressure drop in the coil over the square of the mass flow. [Pa s2/kg2]
    distributor_coefficient : float or ndarray
        The same of a distributor before the coil: the coil boils behind it. [Pa s2/kg2]

    Raises
    ------
    OutOfRange
        For a conductance or an air flow not above zero, or a negative pressure drop.
    """

    wet_conductance: float | np.ndarray
    dry_conductance: float | np.ndarray
    air_capacity_rate: float | np.ndarray
    drop_coefficient: float | np.ndarray = 0.0
    distributor_coefficient: float | np.ndarray = 0.0

    def __post_init__(self):
        for name in ("wet_conductance", "dry_conductance", "air_capacity_rate"):
            words = f"{name.replace('_', ' ')} of the evaporator"
            require(words, getattr(self, name), 0.0, None, open_low=True)
        for name in ("drop_coefficient", "distributor_coefficient"):
            where = "evaporator" if name == "drop_coefficient" else "distributor"
            require(f"pressure drop coefficient of the {where}", getattr(self, name), 0.0, None)

    def pressure_drop(self, mass_flow):
        """Pressure lost between valve outlet and evaporator outlet, distributor included.

        Parameters
        ----------
        mass_flow : float or ndarray
            [kg/s]

        Returns
        -------
        float or ndarray
            [Pa]
        """
        return (self.drop_coefficient + self.distributor_coefficient) * np.square(mass_flow)

    def coil_drop(self, mass_flow):
        """Pressure lost in the coil itself, where the refrigerant boils.

        Parameters
        ----------
        mass_flow : float or ndarray
            [kg/s]

        Returns
        -------
        float or ndarray
            [Pa]
        """
        return self.drop_coefficient * np.square(mass_flow)


@dataclass(frozen=True)
class EvaporatorResult:
    """What comes out of an evaporator; arrays of the broadcast shape of what went in.

    Parameters
    ----------
    outlet : State
        Refrigerant leaving.
    inlet_pressure : float or ndarray
        Behind the valve, before any distributor. [Pa]
    wet_share : float or ndarray
        Share of the coil in which liquid boils; 1 where liquid leaves. [-]
    duty : float or ndarray
        Heat taken from the air. [W]
    air_outlet_temperature : float or ndarray
        Mixed air leaving, dry. [K]
    """

    outlet: object
    inlet_pressure: float | np.ndarray
    wet_share: float | np.ndarray
    duty: float | np.ndarray
    air_outlet_temperature: float | np.ndarray


def evaporate(
    coil, refrigerant, mass_flow, inlet_enthalpy, outlet_pressure, air_temperature, check=True
):
    """Refrigerant and air leaving an evaporator.

    Parameters
    ----------
    coil : Evaporator
        The hardware.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    mass_flow : float or ndarray
        Of refrigerant. [kg/s]
    inlet_enthalpy : float or ndarray
        Behind the valve. [J/kg]
    outlet_pressure : float or ndarray
        Of the refrigerant leaving. [Pa]
    air_temperature : float or ndarray
        Entering. [K]
    check : bool
        Refuse pressures outside the refrigerant's range.

    Returns
    -------
    EvaporatorResult

    Raises
    ------
    OutOfRange
        If the pressure lies outside the refrigerant's range, or air is not warmer than the
        refrigerant entering.
    """
    inlet_pressure = np.asarray(outlet_pressure, dtype=float) + coil.pressure_drop(mass_flow)
    if check:
        into_coil = np.asarray(outlet_pressure, dtype=float) + coil.coil_drop(mass_flow)
        entering = refrigerant.state_ph(into_coil, inlet_enthalpy).temperature
        air, entering = np.broadcast_arrays(air_temperature, entering)
        cold = air <= entering
        limit = entering[cold][0] if cold.any() else None
        require("air entering the evaporator", air[cold], limit, None, "temperature", open_low=True)
    enthalpy, wet_share = outlet_enthalpy(
        coil, refrigerant, mass_flow, inlet_enthalpy, outlet_pressure, air_temperature
    )
    duty = mass_flow * (enthalpy - inlet_enthalpy)
    air_outlet = air_temperature - duty / coil.air_capacity_rate
    shape = np.shape(air_outlet)
    return EvaporatorResult(
        outlet=refrigerant.state_ph(
            np.broadcast_to(outlet_pressure, shape), np.broadcast_to(enthalpy, shape), check=check
        ),
        inlet_pressure=np.broadcast_to(inlet_pressure, shape)[()],
        wet_share=np.broadcast_to(wet_share, shape)[()],
        duty=np.broadcast_to(duty, shape)[()],
        air_outlet_temperature=air_outlet,
    )


def outlet_enthalpy(
    coil, refrigerant, mass_flow, inlet_enthalpy, outlet_pressure, air_temperature, saturation=None
):
    """Enthalpy leaving and share of the coil wet: `evaporate` for a solver, nothing refused.

    The pressure drop is spread evenly over the enthalpy from inlet to dew.

    Parameters
    ----------
    coil, refrigerant, mass_flow, inlet_enthalpy, outlet_pressure, air_temperature
        As in `evaporate`.
    saturation : Saturation, optional
        Of the outlet pressure, if already known.

    Returns
    -------
    enthalpy : float or ndarray
        [J/kg]
    wet_share : float or ndarray
        [-]
    """
    if saturation is None:
        saturation = refrigerant.saturation(outlet_pressure, check=False)
    dew_enthalpy, dew_temperature = saturation.vapour_enthalpy, saturation.dew_temperature
    rate = coil.air_capacity_rate / mass_flow
    wet_rate = rate * effectiveness(coil.wet_conductance, coil.air_capacity_rate)
    dry_rate = rate * effectiveness(coil.dry_conductance, coil.air_capacity_rate)

    boiled_at_most = _warmest(refrigerant, outlet_pressure, air_temperature, saturation)
    span = np.maximum(boiled_at_most - inlet_enthalpy, 1.0)
    difference = _differences(
        refrigerant,
        inlet_enthalpy,
        span,
        outlet_pressure,
        coil.coil_drop(mass_flow),
        air_temperature,
    )
    boiling, wet_share = through_pieces(wet_rate, difference, span / PIECES)

    above = air_temperature > dew_temperature
    warm = np.maximum(air_temperature - dew_temperature, LEAST_DIFFERENCE)
    at_air = refrigerant.vapour_enthalpy(outlet_pressure, dew_temperature + warm, check=False)
    reach = np.maximum(at_air - dew_enthalpy, 1.0)
    dry_share = np.where(above, np.maximum(1.0 - wet_share, 0.0), 0.0)
    warming = -reach * np.expm1(-dry_rate * dry_share * warm / reach)
    return inlet_enthalpy + boiling + warming, wet_share


def size_evaporator(
    refrigerant,
    mass_flow,
    inlet_enthalpy,
    outlet_enthalpy,
    outlet_pressure,
    air_temperature,
    air_capacity_rate,
    pressure_drop=0.0,
    dry_to_wet=0.3,
):
    """Evaporator that turns one given inlet state into one given vapour outlet.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    mass_flow : float or ndarray
        Of refrigerant. [kg/s]
    inlet_enthalpy, outlet_enthalpy : float or ndarray
        Behind the valve, and leaving as vapour. [J/kg]
    outlet_pressure : float or ndarray
        [Pa]
    air_temperature : float or ndarray
        Entering. [K]
    air_capacity_rate : float or ndarray
        [W/K]
    pressure_drop : float or ndarray
        At this flow. [Pa]
    dry_to_wet : float or ndarray
        Conductance of the coil all dry over all wet. [-]

    Returns
    -------
    Evaporator

    Raises
    ------
    NoOperatingPoint
        If no coil of any size could do it with this much air.
    """
    require("dry over wet conductance", dry_to_wet, 0.0, 1.0, "ratio", open_low=True)
    mass_flow, inlet_enthalpy, outlet_enthalpy, outlet_pressure, air_temperature = (
        np.broadcast_arrays(
            mass_flow, inlet_enthalpy, outlet_enthalpy, outlet_pressure, air_temperature
        )
    )
    saturation = refrigerant.saturation(outlet_pressure)
    dew = saturation.vapour_enthalpy
    span = dew - inlet_enthalpy
    difference = _differences(
        refrigerant, inlet_enthalpy, span, outlet_pressure, pressure_drop, air_temperature
    )
    rate = air_capacity_rate / mass_flow
    means = log_mean_difference(difference[:-1], difference[1:])
    wet = (span / PIECES / (rate * means)).sum(axis=0)
    warm = air_temperature - saturation.dew_temperature
    reach = refrigerant.vapour_enthalpy(outlet_pressure, air_temperature) - dew
    approach = 1.0 - (outlet_enthalpy - dew) / reach
    if np.any(approach <= 0.0) or np.any(warm <= 0.0):
        raise NoOperatingPoint("the refrigerant would have to leave as warm as the air, or warmer")
    dry = -np.log(approach) * reach / (rate * warm)
    if np.any(wet + dry >= 1.0):
        raise NoOperatingPoint(
            "this much air cannot carry the load at this temperature difference, however large the "
            "coil",
            air_temperature=float(np.max(air_temperature)),
        )
    # wet / eps_wet + dry / eps_dry = 1, and each eps grows with the size of the coil: halve.
    low, high = np.full_like(wet + dry, -12.0), np.full_like(wet + dry, 8.0)
    for _ in range(60):
        middle = 0.5 * (low + high)
        units = np.exp(middle)
        wanted = wet / effectiveness(units, 1.0) + dry / effectiveness(dry_to_wet * units, 1.0)
        low, high = np.where(wanted > 1.0, middle, low), np.where(wanted > 1.0, high, middle)
    conductance = np.exp(0.5 * (low + high)) * air_capacity_rate
    return Evaporator(
        wet_conductance=conductance,
        dry_conductance=dry_to_wet * conductance,
        air_capacity_rate=air_capacity_rate,
        drop_coefficient=pressure_drop / np.square(mass_flow),
    )


def _warmest(refrigerant, pressure, air_temperature, saturation):
    """Enthalpy to which air can boil: dew, or less where a gliding blend's dew is above the air."""
    dew = saturation.vapour_enthalpy
    short = air_temperature <= saturation.dew_temperature
    if not np.any(short):
        return dew
    at_air = refrigerant.state_pt(pressure, air_temperature, check=False).enthalpy
    return np.where(short, np.minimum(at_air, dew), dew)


def _differences(refrigerant, enthalpy, span, outlet_pressure, drop, air_temperature):
    """Air minus refrigerant temperature at the ends of the pieces, shape (PIECES + 1, ...)."""
    numbers = (span, outlet_pressure, drop, air_temperature)
    shape = np.broadcast_shapes(*(np.shape(number) for number in numbers))
    along = along_pieces(shape)
    pressure = outlet_pressure + (1.0 - along) * drop
    if refrigerant.has_glide:
        state = refrigerant.state_ph(pressure, enthalpy + along * span, check=False)
        boiling = state.temperature
    else:
        boiling = refrigerant.dew_temperature(pressure, check=False)
    return np.maximum(air_temperature - boiling, LEAST_DIFFERENCE)
