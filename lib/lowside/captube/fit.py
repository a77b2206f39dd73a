"""A dimensionless fit to measured capillary tubes."""

from __future__ import annotations

import numpy as np

from ..errors import OutOfRange

# Where the fit holds (from memory).
SUBCOOLING = (1.0, 17.0)  # [K]
QUALITY = (0.03, 0.25)


def correlated_flow(tube, refrigerant, inlet_pressure, inlet_enthalpy):
    """Mass flow by the dimensionless fit of Wolf, Bittle and Pate (1995, ASHRAE RP-762).

    Coefficients from memory, as the ASHRAE Refrigeration Handbook prints them; they reproduce a
    published worked example (see the test) and lie within 5 to 20 % of `flow`. Properties of the
    saturated liquid at the inlet *temperature*. Made for choked tubes: the outlet does not enter.

    Parameters
    ----------
    tube : CapTube
        Its roughness is not used.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    inlet_pressure : array_like
        [Pa]
    inlet_enthalpy : array_like
        [J/kg]

    Returns
    -------
    ndarray
        Mass flow. [kg/s]

    Raises
    ------
    OutOfRange
        If the inlet is neither 1 to 17 K subcooled nor of quality 0.03 to 0.25.
    """
    state = refrigerant.state_ph(inlet_pressure, inlet_enthalpy)
    subcooling = refrigerant.subcooling(state.pressure, state.temperature)
    flashing = np.asarray(state.quality > 0.0)
    for wrong_side, value, (low, high), what, kind in (
        (flashing, subcooling, SUBCOOLING, "subcooling", "temperature_difference"),
        (~flashing, state.quality, QUALITY, "quality", "ratio"),
    ):
        bad = ~wrong_side & ~((value >= low) & (value <= high))
        if np.any(bad):
            raise OutOfRange(
                f"{what} of {refrigerant.name} in front of the capillary tube",
                np.asarray(value)[bad].flat[0],
                low,
                high,
                kind,
            )
    saturated = refrigerant.bubble_pressure(
        np.where(flashing, refrigerant.bubble_temperature(state.pressure), state.temperature)
    )
    sat = refrigerant.saturation(saturated)
    bore, viscosity = tube.inner_diameter, sat.liquid_viscosity
    scale = np.square(bore * sat.liquid_density / viscosity)
    slenderness = tube.length / bore
    latent = scale * sat.latent_heat
    pressure = scale * state.pressure / sat.liquid_density
    cooling = scale * sat.liquid_heat_capacity * np.where(flashing, 1.0, subcooling)
    quality = np.where(flashing, state.quality, 1.0)
    volumes = sat.liquid_density / sat.vapour_density
    viscosities = (viscosity - sat.vapour_viscosity) / sat.vapour_viscosity
    subcooled = (
        1.8925 * slenderness**-0.484 * latent**-0.824 * pressure**1.369
        * cooling**0.0187 * volumes**0.773 * viscosities**0.265
    )  # fmt: skip
    two_phase = (
        187.27 * slenderness**-0.635 * latent**-0.189 * pressure**0.645
        * quality**-0.163 * volumes**-0.213 * viscosities**-0.483
    )  # fmt: skip
    return np.where(flashing, two_phase, subcooled) * bore * viscosity
