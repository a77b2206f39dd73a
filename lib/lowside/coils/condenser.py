"""Condensers: where the gas cools, where it condenses, where the liquid cools on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import OutOfRange, require

from .exchange import (
    LEAST_DIFFERENCE,
    PIECES,
    along_pieces,
    effectiveness,
    through_pieces,
)

_ROUNDS = 3  # for gas that does not reach dew
_STRAIGHT = 0.6  # of the rise of heat capacity at dew, which is steeper than a straight line


@dataclass(frozen=True)
class Condenser:
    """An air-cooled condenser. Every parameter may be an array, one value a coil.

    Parameters
    ----------
    vapour_conductance, two_phase_conductance, liquid_conductance : float or ndarray
        UA of the whole coil if it held nothing but gas, condensing refrigerant, or liquid. [W/K]
    air_capacity_rate : float or ndarray
        Mass flow of air times its heat capacity. [W/K]
    pressure_drop : float or ndarray
        From inlet to outlet. [Pa]

    Raises
    ------
    OutOfRange
        For a conductance or an air flow not above zero, or a negative pressure drop.
    """

    vapour_conductance: float | np.ndarray
    two_phase_conductance: float | np.ndarray
    liquid_conductance: float | np.ndarray
    air_capacity_rate: float | np.ndarray
    pressure_drop: float | np.ndarray = 0.0

    def __post_init__(self):
        for name in (
            "vapour_conductance",
            "two_phase_conductance",
            "liquid_conductance",
            "air_capacity_rate",
        ):
            words = f"{name.replace('_', ' ')} of the condenser"
            require(words, getattr(self, name), 0.0, None, open_low=True)
        require("pressure drop of the condenser", self.pressure_drop, 0.0, None)


@dataclass(frozen=True)
class CondenserOutlet:
    """What leaves a condenser; arrays of the broadcast shape of what went in.

    Parameters
    ----------
    enthalpy, pressure : float or ndarray
        [J/kg], [Pa]
    vapour_share, liquid_share : float or ndarray
        Shares of the coil that cool gas and that cool liquid; the rest condenses. [-]
    bubble_enthalpy, bubble_temperature : float or ndarray
        Of boiling liquid at the outlet pressure. [J/kg], [K]
    """

    enthalpy: float | np.ndarray
    pressure: float | np.ndarray
    vapour_share: float | np.ndarray
    liquid_share: float | np.ndarray
    bubble_enthalpy: float | np.ndarray
    bubble_temperature: float | np.ndarray


def condense(
    coil,
    refrigerant,
    mass_flow,
    inlet_enthalpy,
    inlet_pressure,
    air_temperature,
    *,
    inlet_temperature=None,
    saturation=None,
    check=True,
):
    """Follow refrigerant through a condenser: what leaves, and how the length is shared.

    The pressure drop is spread evenly over the enthalpy from dew to bubble. Wet gas entering begins
    to condense at once; gas too warm for the whole coil leaves as gas.

    Parameters
    ----------
    coil : Condenser
        The hardware.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    mass_flow : float or ndarray
        [kg/s]
    inlet_enthalpy, inlet_pressure : float or ndarray
        Of the gas entering. [J/kg], [Pa]
    air_temperature : float or ndarray
        Entering. [K]
    inlet_temperature : float or ndarray, optional
        Of the gas entering, if already known. [K]
    saturation : Saturation, optional
        At the inlet pressure, if already known.
    check : bool
        Refuse pressures outside the refrigerant's range and air not colder than the refrigerant
        condensing.

    Returns
    -------
    CondenserOutlet

    Raises
    ------
    OutOfRange
        With ``check``, see there.
    """
    inlet_pressure = np.asarray(inlet_pressure, dtype=float)
    if saturation is None:
        saturation = refrigerant.saturation(inlet_pressure, check=check)
    if inlet_temperature is None:
        inlet_temperature = refrigerant.state_ph(
            inlet_pressure, inlet_enthalpy, check=check
        ).temperature
    dew, dew_temperature = saturation.vapour_enthalpy, saturation.dew_temperature
    if check:
        air, warm = np.broadcast_arrays(air_temperature, dew_temperature)
        if np.any(air >= warm):
            first = np.argmax(air >= warm)
            raise OutOfRange(
                "air entering the condenser", air.flat[first], None, warm.flat[first], "temperature"
            )
    outlet_pressure = np.maximum(inlet_pressure - coil.pressure_drop, 0.3 * inlet_pressure)
    leaving = refrigerant.saturation(outlet_pressure, check=False)
    bubble = leaving.liquid_enthalpy

    rate = coil.air_capacity_rate / mass_flow
    gas_rate, wet_rate, liquid_rate = (
        rate * effectiveness(conductance, coil.air_capacity_rate)
        for conductance in (
            coil.vapour_conductance,
            coil.two_phase_conductance,
            coil.liquid_conductance,
        )
    )

    above = np.maximum(inlet_enthalpy - dew, 0.0)
    at_dew = np.maximum(dew_temperature - air_temperature, LEAST_DIFFERENCE)
    entering = np.maximum(inlet_temperature - air_temperature, at_dew * (1.0 + 1e-9))
    vapour_share, gas_cooled = _desuperheated(
        gas_rate, above, entering, at_dew, saturation.vapour_heat_capacity
    )

    start = np.minimum(inlet_enthalpy, dew)
    span = np.maximum(start - bubble, 1.0)
    difference = _differences(
        refrigerant, start, span, inlet_pressure, outlet_pressure, air_temperature
    )
    room = 1.0 - vapour_share
    condensed, share = through_pieces(wet_rate, difference, span / PIECES, room)

    liquid_share = np.maximum(room - share, 0.0)
    warm = np.maximum(leaving.bubble_temperature - air_temperature, LEAST_DIFFERENCE)
    at_air = refrigerant.liquid_enthalpy(
        outlet_pressure, leaving.bubble_temperature - warm, check=False
    )
    reach = np.maximum(bubble - at_air, 1.0)
    cooled = -reach * np.expm1(-liquid_rate * liquid_share * warm / reach)
    return CondenserOutlet(
        enthalpy=inlet_enthalpy - gas_cooled - condensed - cooled,
        pressure=outlet_pressure[()],
        vapour_share=vapour_share[()],
        liquid_share=liquid_share[()],
        bubble_enthalpy=bubble,
        bubble_temperature=leaving.bubble_temperature,
    )


def _desuperheated(rate, above, entering, at_dew, heat_capacity_at_dew):
    """Share of the coil in which gas cools to dew, at most all, and the heat it gives there.

    Heat capacity changes in a straight line from dew to the gas entering, so that the share is a
    closed integral over temperature. Gas that never reaches dew: the same, its end by iteration.
    """
    span = entering - at_dew
    mean = np.maximum(above, 1e-6) / span
    steeper = np.clip(heat_capacity_at_dew - mean, 0.0, mean)
    at_dew_capacity = mean + _STRAIGHT * steeper
    slope = 2.0 * (mean - at_dew_capacity) / span
    base = at_dew_capacity - slope * at_dew

    def effective(end):
        """Constant heat capacity that would need the same share."""
        return base + slope * (entering - end) / np.log(entering / end)

    wanted = np.where(above > 0.0, effective(at_dew) / rate * np.log(entering / at_dew), 0.0)
    share = np.minimum(wanted, 1.0)
    end = at_dew
    if np.any(wanted > 1.0):
        for _ in range(_ROUNDS):
            end = np.clip(entering * np.exp(-rate * share / effective(end)), at_dew, entering)
            end = np.minimum(end, entering * (1.0 - 1e-9))
    partly = (base + 0.5 * slope * (entering + end)) * (entering - end)
    return share, np.where(wanted > 1.0, partly, above)


def _differences(refrigerant, enthalpy, span, inlet_pressure, outlet_pressure, air_temperature):
    """Refrigerant minus air temperature at the ends of the pieces, shape (PIECES + 1, ...)."""
    numbers = (enthalpy, span, inlet_pressure, outlet_pressure, air_temperature)
    along = along_pieces(np.broadcast_shapes(*(np.shape(number) for number in numbers)))
    pressure = inlet_pressure + along * (outlet_pressure - inlet_pressure)
    if refrigerant.has_glide:
        state = refrigerant.state_ph(pressure, enthalpy - along * span, check=False)
        condensing = state.temperature
    else:
        condensing = refrigerant.dew_temperature(pressure, check=False)
    return np.maximum(condensing - air_temperature, LEAST_DIFFERENCE)
