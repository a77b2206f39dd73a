"""How fast a hole lets refrigerant out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import UnknownName, require

# Sharp-edged holes, fluid mechanics texts (from memory).
GAS_HOLE = 0.85  # discharge coefficient of choked gas
LIQUID_HOLE = 0.61  # discharge coefficient of liquid

_RATIOS = np.linspace(0.999, 0.02, 120)


@dataclass(frozen=True)
class LiquidLeak:
    """Liquid leaving through a hole lies between two limits.

    Attributes
    ----------
    most : ndarray
        It does not flash before it is out: a clean hole in a thin wall. [kg/s]
    least : ndarray
        It flashes in equilibrium inside: a long fine crack. [kg/s]
    flashed : ndarray
        Share that is vapour at once outside, expanding at constant enthalpy.
    """

    most: np.ndarray
    least: np.ndarray
    flashed: np.ndarray


def critical_mass_flux(refrigerant, pressure, enthalpy, outside_pressure):
    """Largest isentropic mass flux from rest, real gas, wet or dry, in equilibrium.

    G = max over p of rho(p, s) sqrt(2 (h0 - h(p, s))), the choked flux where that maximum lies
    above the outside pressure.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure, enthalpy : array_like
        Inside, at rest. [Pa], [J/kg]
    outside_pressure : array_like
        [Pa]

    Returns
    -------
    ndarray
        [kg/(m2 s)]
    """
    p, h, outside = np.broadcast_arrays(
        *(
            np.asarray(each, dtype=float)[..., None]
            for each in (pressure, enthalpy, outside_pressure)
        )
    )
    throat = np.maximum(p * _RATIOS, np.minimum(outside, p * _RATIOS[0]))
    entropy = refrigerant.state_ph(p, h, check=False).entropy
    state = refrigerant.state_ps(throat, np.broadcast_to(entropy, throat.shape), check=False)
    flux = state.density * np.sqrt(np.maximum(2.0 * (h - state.enthalpy), 0.0))
    return flux.max(axis=-1)


def _hole(diameter, discharge_coefficient):
    require("diameter of the hole", diameter, 0.0, None, "port")
    require("discharge coefficient", discharge_coefficient, 0.0, 1.0, open_low=True)
    return 0.25 * np.pi * np.square(diameter) * discharge_coefficient


def vapour_leak(
    refrigerant,
    pressure,
    temperature,
    diameter,
    outside_pressure=101325.0,
    discharge_coefficient=GAS_HOLE,
):
    """Vapour leaving through a hole, choked in nearly every case.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure, temperature : array_like
        Inside. [Pa], [K]
    diameter : array_like
        Of the hole. [m]
    outside_pressure : array_like
        [Pa]
    discharge_coefficient : array_like
        1 for the most that can pass.

    Returns
    -------
    ndarray
        [kg/s]

    Raises
    ------
    OutOfRange
        For a negative diameter, a coefficient outside 0 to 1, or a state outside the tables.
    """
    area = _hole(diameter, discharge_coefficient)
    enthalpy = refrigerant.vapour_enthalpy(pressure, temperature)
    flux = critical_mass_flux(refrigerant, pressure, enthalpy, outside_pressure)
    return area * np.where(np.asarray(pressure) > outside_pressure, flux, 0.0)


def liquid_leak(
    refrigerant,
    pressure,
    temperature,
    diameter,
    outside_pressure=101325.0,
    discharge_coefficient=LIQUID_HOLE,
):
    """Liquid leaving through a hole: between Bernoulli and flashing in equilibrium.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure, temperature : array_like
        Inside. [Pa], [K]
    diameter : array_like
        Of the hole. [m]
    outside_pressure : array_like
        [Pa]
    discharge_coefficient : array_like
        Of the hole for liquid.

    Returns
    -------
    LiquidLeak

    Raises
    ------
    OutOfRange
        For a negative diameter, a coefficient outside 0 to 1, or a state outside the tables.
    """
    area = _hole(diameter, discharge_coefficient)
    enthalpy = refrigerant.liquid_enthalpy(pressure, temperature)
    density = refrigerant.state_ph(pressure, enthalpy, check=False).density
    drop = np.maximum(np.asarray(pressure, dtype=float) - outside_pressure, 0.0)
    flux = critical_mass_flux(refrigerant, pressure, enthalpy, outside_pressure)
    outside = refrigerant.state_ph(outside_pressure, enthalpy, check=False)
    most = area * np.sqrt(2.0 * density * drop)
    return LiquidLeak(
        most=most,
        least=np.minimum(np.where(drop > 0.0, area * flux, 0.0), most),
        flashed=np.clip(outside.quality, 0.0, 1.0),
    )


def emptying_time(refrigerant, mass, diameter, temperature, phase="vapour"):
    """Shortest and longest time in which a charge is out, at the rate with which the leak begins.

    The pressure inside is that of saturation. A real leak slows down as the pressure falls.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    mass : array_like
        Refrigerant that leaks in all. [kg]
    diameter : array_like
        Of the hole. [m]
    temperature : array_like
        Of the refrigerant at the hole. [K]
    phase : {"vapour", "liquid"}
        What is at the hole. Vapour: between a rounded and a sharp-edged hole. Liquid: between no
        flashing in the hole and all of it, see `LiquidLeak`.

    Returns
    -------
    shortest, longest : ndarray
        [s]

    Raises
    ------
    UnknownName
        For another phase.
    OutOfRange
        For a negative mass, a diameter not above zero or a temperature outside the tables.
    """
    if phase not in ("vapour", "liquid"):
        raise UnknownName("phase at the hole", phase, ("vapour", "liquid"))
    require("refrigerant leaked", mass, 0.0, None, "mass")
    require("diameter of the hole", diameter, 0.0, None, "port", open_low=True)
    if phase == "vapour":
        pressure = refrigerant.dew_pressure(temperature)
        most = vapour_leak(refrigerant, pressure, temperature, diameter, discharge_coefficient=1.0)
        least = GAS_HOLE * most
    else:
        pressure = refrigerant.bubble_pressure(temperature)
        leak = liquid_leak(refrigerant, pressure, temperature, diameter)
        most, least = leak.most, leak.least
    return mass / most, mass / least
