"""What the property layer answers: saturation and states, as arrays with names."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class State:
    """States of a refrigerant; every field is an array of one shape, or a number.

    Attributes
    ----------
    pressure : numpy.ndarray
        Absolute [Pa].
    temperature : numpy.ndarray
        [K]
    enthalpy : numpy.ndarray
        [J/kg], 200 kJ/kg for saturated liquid at 0 °C.
    entropy : numpy.ndarray
        [J/(kg K)], 1 kJ/(kg K) for saturated liquid at 0 °C.
    density : numpy.ndarray
        [kg/m3]; in the dome that of the mixture without slip.
    quality : numpy.ndarray
        Vapour mass fraction (h - h_bubble) / (h_dew - h_bubble), deliberately not clipped: below
        0 it is subcooled liquid, above 1 superheated vapour.
    """

    pressure: np.ndarray
    temperature: np.ndarray
    enthalpy: np.ndarray
    entropy: np.ndarray
    density: np.ndarray
    quality: np.ndarray

    @property
    def vapour_fraction(self):
        """Quality held between 0 and 1."""
        return np.clip(self.quality, 0, 1)

    @property
    def phase(self):
        """-1 subcooled liquid, 0 two-phase (saturation lines included), 1 superheated vapour."""
        return (np.asarray(self.quality) > 1) - (np.asarray(self.quality) < 0).astype(int)


@dataclass(frozen=True)
class Saturation:
    """Bubble and dew states at a pressure; every field is an array of one shape, or a number.

    Liquid properties are at the bubble point, vapour properties at the dew point. Transport
    properties of blends are mixed from their components (see `transport`).

    Attributes
    ----------
    pressure : numpy.ndarray
        Absolute [Pa].
    bubble_temperature, dew_temperature : numpy.ndarray
        [K]
    liquid_enthalpy, vapour_enthalpy : numpy.ndarray
        [J/kg]
    liquid_entropy, vapour_entropy : numpy.ndarray
        [J/(kg K)]
    liquid_density, vapour_density : numpy.ndarray
        [kg/m3]
    liquid_heat_capacity, vapour_heat_capacity : numpy.ndarray
        At constant pressure [J/(kg K)].
    liquid_viscosity, vapour_viscosity : numpy.ndarray
        [Pa s]
    liquid_conductivity, vapour_conductivity : numpy.ndarray
        [W/(m K)]
    surface_tension : numpy.ndarray
        [N/m]
    """

    pressure: np.ndarray
    bubble_temperature: np.ndarray
    dew_temperature: np.ndarray
    liquid_enthalpy: np.ndarray
    vapour_enthalpy: np.ndarray
    liquid_entropy: np.ndarray
    vapour_entropy: np.ndarray
    liquid_density: np.ndarray
    vapour_density: np.ndarray
    liquid_heat_capacity: np.ndarray
    vapour_heat_capacity: np.ndarray
    liquid_viscosity: np.ndarray
    vapour_viscosity: np.ndarray
    liquid_conductivity: np.ndarray
    vapour_conductivity: np.ndarray
    surface_tension: np.ndarray

    @property
    def latent_heat(self):
        """Enthalpy from bubble to dew at constant pressure [J/kg]."""
        return self.vapour_enthalpy - self.liquid_enthalpy

    @property
    def glide(self):
        """Dew minus bubble temperature [K]."""
        return self.dew_temperature - self.bubble_temperature
