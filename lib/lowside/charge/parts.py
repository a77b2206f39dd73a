"""Mass in one part: a coil by zones, a line, a vessel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import require
from .void import DEFAULT, mean_density, model_named


@dataclass(frozen=True)
class Tube:
    """A round tube, or several in parallel.

    Parameters
    ----------
    inner_diameter : float or ndarray
        [m]
    length : float or ndarray
        Of one of them. [m]
    parallel : float or ndarray
        How many share the flow.

    Raises
    ------
    OutOfRange
        For a diameter not above zero, a negative length or fewer than one tube.
    """

    inner_diameter: float
    length: float
    parallel: float = 1.0

    def __post_init__(self):
        require("tube's inner diameter", self.inner_diameter, 0.0, None, "length", open_low=True)
        require("tube length", self.length, 0.0, None, "length")
        require("number of parallel tubes", self.parallel, 1.0, None)

    @property
    def area(self):
        """Cross-section that the whole flow passes [m2]."""
        return 0.25 * np.pi * np.square(self.inner_diameter) * self.parallel

    @property
    def volume(self):
        """Inner volume of all [m3]."""
        return self.area * self.length


@dataclass(frozen=True)
class CoilMass:
    """Refrigerant in a coil, zone by zone.

    Attributes
    ----------
    vapour, two_phase, liquid : ndarray
        [kg]
    """

    vapour: np.ndarray
    two_phase: np.ndarray
    liquid: np.ndarray

    @property
    def total(self):
        """Refrigerant in the coil [kg]."""
        return self.vapour + self.two_phase + self.liquid


def vapour_density(refrigerant, pressure, temperature):
    """Density of vapour; below its dew temperature that of saturated vapour.

    Parameters
    ----------
    refrigerant : Refrigerant
    pressure, temperature : array_like
        [Pa], [K]

    Returns
    -------
    ndarray
        [kg/m3]
    """
    enthalpy = refrigerant.vapour_enthalpy(pressure, temperature, check=False)
    return refrigerant.state_ph(pressure, enthalpy, check=False).density


def stream_density(
    refrigerant, pressure, enthalpy, mass_flux, diameter, model=DEFAULT, saturation=None
):
    """Density of what fills a line: liquid, vapour, or both side by side.

    Parameters
    ----------
    refrigerant : Refrigerant
    pressure, enthalpy : array_like
        [Pa], [J/kg]
    mass_flux : array_like
        [kg/(m2 s)]
    diameter : array_like
        Inner diameter of the line. [m]
    model : str
        Void-fraction model, a key of ``void.MODELS``.
    saturation : Saturation, optional
        At this pressure, if already known.

    Returns
    -------
    ndarray
        [kg/m3]
    """
    sat = saturation or refrigerant.saturation(pressure, check=False)
    quality = (enthalpy - sat.liquid_enthalpy) / sat.latent_heat
    inside = np.clip(quality, 0.0, 1.0)
    void = model_named(model)(inside, sat, np.maximum(mass_flux, 1e-3), diameter)
    both = void * sat.vapour_density + (1.0 - void) * sat.liquid_density
    single = refrigerant.state_ph(pressure, enthalpy, check=False).density
    return np.where(quality == inside, both, single)


def coil_mass(
    refrigerant,
    tube,
    pressure,
    mass_flow,
    inlet_enthalpy,
    outlet_enthalpy,
    vapour_share,
    liquid_share,
    model=DEFAULT,
    saturation=None,
):
    """Refrigerant in an evaporator or a condenser, given which share of its length each zone takes.

    In the two-phase zone quality changes evenly along the tube. A single-phase zone has the density
    at the enthalpy halfway between saturation and the end of the coil.

    Parameters
    ----------
    refrigerant : Refrigerant
    tube : Tube
        The coil's tubing.
    pressure : array_like
        Mean pressure in the coil. [Pa]
    mass_flow : array_like
        [kg/s]
    inlet_enthalpy, outlet_enthalpy : array_like
        [J/kg]
    vapour_share, liquid_share : array_like
        Shares of the length taken by superheated vapour and by subcooled liquid; the rest is
        two-phase.
    model : str
        Void-fraction model, a key of ``void.MODELS``.
    saturation : Saturation, optional
        At this pressure, if already known.

    Returns
    -------
    CoilMass

    Raises
    ------
    UnknownName
        For a model that is not here.
    """
    sat = saturation or refrigerant.saturation(pressure, check=False)
    richest = np.maximum(inlet_enthalpy, outlet_enthalpy)
    poorest = np.minimum(inlet_enthalpy, outlet_enthalpy)

    def middle(edge, end):
        return refrigerant.state_ph(pressure, 0.5 * (edge + end), check=False).density

    vapour = middle(sat.vapour_enthalpy, np.maximum(richest, sat.vapour_enthalpy))
    liquid = middle(sat.liquid_enthalpy, np.minimum(poorest, sat.liquid_enthalpy))
    both = mean_density(
        (poorest - sat.liquid_enthalpy) / sat.latent_heat,
        (richest - sat.liquid_enthalpy) / sat.latent_heat,
        sat,
        mass_flow / tube.area,
        tube.inner_diameter,
        model,
    )
    volume = tube.volume
    return CoilMass(
        vapour=volume * vapour_share * vapour,
        two_phase=volume * (1.0 - vapour_share - liquid_share) * both,
        liquid=volume * liquid_share * liquid,
    )


def vessel_mass(refrigerant, volume, pressure, level):
    """Refrigerant in a receiver or an accumulator, saturated, with a liquid level.

    Parameters
    ----------
    refrigerant : Refrigerant
    volume : array_like
        Inner volume. [m3]
    pressure : array_like
        [Pa]
    level : array_like
        Share of the volume filled with liquid, 0 to 1.

    Returns
    -------
    ndarray
        [kg]

    Raises
    ------
    OutOfRange
        For a negative volume or a level outside 0 to 1.
    """
    require("volume of the vessel", volume, 0.0, None, "volume")
    require("liquid level in the vessel", level, 0.0, 1.0, "ratio")
    if not np.any(volume):
        return np.zeros(np.broadcast_shapes(np.shape(volume), np.shape(pressure), np.shape(level)))
    sat = refrigerant.saturation(pressure, check=False)
    return volume * (level * sat.liquid_density + (1.0 - level) * sat.vapour_density)
