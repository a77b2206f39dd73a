"""A coil of copper and fins: geometry and air side in, an `Evaporator` or a `Condenser` out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require

from . import tubes
from .condenser import Condenser
from .evaporator import Evaporator
from .exchange import LEAST_DIFFERENCE, effectiveness

AIR_HEAT_CAPACITY = 1206.0  # [J/(m3 K)] of standard air, 1.2 kg/m3 times 1005 J/(kg K)
# Colburn factors of plate fins fall about as Re^-0.4 (from memory), so coefficients grow as V^0.6.
AIR_EXPONENT = 0.6


@dataclass(frozen=True)
class FinCoil:
    """Tubes with fins in a stream of air. Every parameter may be an array, one value a coil.

    Parameters
    ----------
    inner_diameter : float or ndarray
        Of the tubes. [m]
    length : float or ndarray
        Of one circuit. [m]
    circuits : float or ndarray
        How many share the flow.
    air_conductance : float or ndarray
        UA of the clean air side, fins and all, at the design air flow. [W/K]
    air_flow : float or ndarray
        Design flow of standard air. [m3/s]
    air_share : float or ndarray
        Share of the design air flow that still comes through: fan, frost, dirt, boxes in front.
    surface_share : float or ndarray
        Share of the air-side conductance left by frost or dirt on the fins, besides what the air
        flow does.

    Raises
    ------
    OutOfRange
        For a size or a flow not above zero, fewer than one circuit, a share outside 0.01 to 2.
    """

    inner_diameter: float | np.ndarray
    length: float | np.ndarray
    air_conductance: float | np.ndarray
    air_flow: float | np.ndarray
    circuits: float | np.ndarray = 1.0
    air_share: float | np.ndarray = 1.0
    surface_share: float | np.ndarray = 1.0

    def __post_init__(self):
        sizes = ("inner_diameter", "length", "air_conductance", "air_flow")
        kinds = ("length", "length", "number", "number")
        for name, kind in zip(sizes, kinds, strict=True):
            words = f"{name.replace('_', ' ')} of the coil"
            require(words, getattr(self, name), 0.0, None, kind, open_low=True)
        require("number of circuits of the coil", self.circuits, 1.0, None)
        require("share of the air flow of the coil", self.air_share, 0.01, 2.0, "ratio")
        require("share of the surface of the coil", self.surface_share, 0.01, 2.0, "ratio")

    @property
    def flow_area(self):
        """Cross-section of all circuits [m2]."""
        return 0.25 * np.pi * np.square(self.inner_diameter) * self.circuits

    @property
    def inner_area(self):
        """Wall that the refrigerant touches [m2]."""
        return np.pi * self.inner_diameter * self.length * self.circuits

    @property
    def air_capacity_rate(self):
        """Of the air that comes through [W/K]."""
        return AIR_HEAT_CAPACITY * self.air_flow * self.air_share

    @property
    def air_side(self):
        """Air-side conductance as it is now [W/K]."""
        return (
            self.air_conductance * self.surface_share * np.asarray(self.air_share) ** (AIR_EXPONENT)
        )

    def _through(self, coefficient):
        """Conductance from air to refrigerant at a coefficient inside [W/K]."""
        return 1.0 / (1.0 / self.air_side + 1.0 / (coefficient * self.inner_area))

    def evaporator(self, refrigerant, mass_flow, inlet_enthalpy, saturation, air_temperature):
        """Describe the coil as an evaporator at one flow.

        The pressure drop counts friction as if the flow boiled evenly over the whole length.

        Parameters
        ----------
        refrigerant : Refrigerant
        mass_flow, inlet_enthalpy : float or ndarray
            [kg/s], [J/kg]
        saturation : Saturation
            At the outlet pressure.
        air_temperature : float or ndarray
            Entering. [K]

        Returns
        -------
        Evaporator
        """
        flux, bore = mass_flow / self.flow_area, self.inner_diameter
        quality = (inlet_enthalpy - saturation.liquid_enthalpy) / saturation.latent_heat
        rate = self.air_capacity_rate
        difference = np.maximum(air_temperature - saturation.dew_temperature, LEAST_DIFFERENCE)

        def flux_at(coefficient):
            reached = effectiveness(self._through(coefficient), rate)
            return rate * reached * difference / self.inner_area

        wet = tubes.boiling(
            quality,
            saturation,
            flux,
            bore,
            saturation.pressure / refrigerant.critical_pressure,
            refrigerant.facts.molar_mass,
            flux_at,
        )
        dry = _gas_coefficient(flux, bore, saturation)
        liquid, vapour = _gradients(flux, bore, saturation)
        gradient = tubes.mean_gradient(np.clip(quality, 0.0, 1.0), 1.0, liquid, vapour)
        # Gradients go about as the square of the flow; at this flow the drop is exactly this.
        return _made(
            Evaporator,
            wet_conductance=self._through(wet),
            dry_conductance=self._through(dry),
            air_capacity_rate=rate,
            drop_coefficient=gradient * self.length / np.square(mass_flow),
        )

    def condenser(self, refrigerant, mass_flow, saturation):
        """Describe the coil as a condenser at one flow.

        The pressure drop counts friction as if the flow condensed evenly over the whole length.

        Parameters
        ----------
        refrigerant : Refrigerant
        mass_flow : float or ndarray
            [kg/s]
        saturation : Saturation
            At the inlet pressure.

        Returns
        -------
        Condenser
        """
        flux, bore = mass_flow / self.flow_area, self.inner_diameter
        liquid, vapour = _gradients(flux, bore, saturation)
        reduced = saturation.pressure / refrigerant.critical_pressure
        subcooled = tubes.single_phase(
            flux,
            bore,
            saturation.liquid_viscosity,
            saturation.liquid_conductivity,
            saturation.liquid_heat_capacity,
        )
        return _made(
            Condenser,
            vapour_conductance=self._through(_gas_coefficient(flux, bore, saturation)),
            two_phase_conductance=self._through(tubes.condensing(saturation, flux, bore, reduced)),
            liquid_conductance=self._through(subcooled),
            air_capacity_rate=self.air_capacity_rate,
            pressure_drop=tubes.mean_gradient(0.0, 1.0, liquid, vapour) * self.length,
        )


def _gas_coefficient(flux, bore, saturation):
    return tubes.single_phase(
        flux,
        bore,
        saturation.vapour_viscosity,
        saturation.vapour_conductivity,
        saturation.vapour_heat_capacity,
    )


def _gradients(flux, bore, saturation):
    return (
        tubes.gradient(flux, bore, saturation.liquid_density, saturation.liquid_viscosity),
        tubes.gradient(flux, bore, saturation.vapour_density, saturation.vapour_viscosity),
    )


def _made(kind, **numbers):
    """Instance without the checks of its hardware: every number here was computed."""
    made = object.__new__(kind)
    made.__dict__.update(numbers)
    return made
