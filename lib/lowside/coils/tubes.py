"""Inside the tube: coefficients of heat transfer and pressure gradients, for arrays.

The expressions are those that ``ht`` and ``fluids`` print with their sources, written for arrays;
the tests hold each against its library. Coefficients are averaged over a zone in which quality
changes evenly, resistance by resistance (harmonic), as plates in a row would be.
"""

from __future__ import annotations

from functools import cache

import numpy as np

LAMINAR_NUSSELT = 3.66  # round tube, even wall temperature
DRY_OUT = 0.9  # quality from which the wall begins to dry (common practice in coil models)
HIGHEST_REDUCED = 0.98
_NODES = 5
_WALL_ROUNDS = 4


def friction(reynolds):
    """Darcy friction factor of a smooth tube: 64/Re or Blasius, the greater.

    Parameters
    ----------
    reynolds : array_like

    Returns
    -------
    ndarray
    """
    re = np.maximum(reynolds, 1e-3)
    return np.maximum(64.0 / re, 0.3164 * re**-0.25)


def gnielinski(reynolds, prandtl):
    """Nusselt number of a single phase: Gnielinski (1976), never below the laminar 3.66.

    Friction factor by Petukhov, (0.79 ln Re - 1.64)^-2, as Gnielinski uses it.

    Parameters
    ----------
    reynolds, prandtl : array_like

    Returns
    -------
    ndarray
    """
    re = np.maximum(reynolds, 1000.0)
    eighth = 0.125 * (0.79 * np.log(re) - 1.64) ** -2
    turbulent = (
        eighth
        * (re - 1000.0)
        * prandtl
        / (1.0 + 12.7 * np.sqrt(eighth) * (np.cbrt(prandtl) ** 2 - 1.0))
    )
    return np.maximum(turbulent, LAMINAR_NUSSELT)


def single_phase(mass_flux, diameter, viscosity, conductivity, heat_capacity):
    """Coefficient of gas or of liquid alone.

    Parameters
    ----------
    mass_flux, diameter, viscosity, conductivity, heat_capacity : array_like
        [kg/(m2 s)], [m], [Pa s], [W/(m K)], [J/(kg K)]

    Returns
    -------
    ndarray
        [W/(m2 K)]
    """
    reynolds = mass_flux * diameter / viscosity
    prandtl = heat_capacity * viscosity / conductivity
    return gnielinski(reynolds, prandtl) * conductivity / diameter


def liquid_only(saturation, mass_flux, diameter):
    """Dittus and Boelter (1930) for the whole flow as liquid, and its Reynolds and Prandtl numbers.

    Parameters
    ----------
    saturation : Saturation
    mass_flux, diameter : array_like
        [kg/(m2 s)], [m]

    Returns
    -------
    coefficient, reynolds, prandtl : ndarray
        [W/(m2 K)], [-], [-]
    """
    reynolds = mass_flux * diameter / saturation.liquid_viscosity
    prandtl = (
        saturation.liquid_heat_capacity
        * saturation.liquid_viscosity
        / saturation.liquid_conductivity
    )
    nusselt = 0.023 * reynolds**0.8 * prandtl**0.4
    return nusselt * saturation.liquid_conductivity / diameter, reynolds, prandtl


def shah(quality, saturation, mass_flux, diameter, reduced_pressure):
    """Condensing coefficient: Shah (1979), Int. J. Heat Mass Transfer 22, 547-556.

    Parameters
    ----------
    quality : array_like
    saturation : Saturation
    mass_flux, diameter : array_like
        [kg/(m2 s)], [m]
    reduced_pressure : array_like
        Over the critical pressure. [-]

    Returns
    -------
    ndarray
        [W/(m2 K)]
    """
    liquid, _, _ = liquid_only(saturation, mass_flux, diameter)
    return liquid * _shah_factor(quality, reduced_pressure)


def _shah_factor(x, reduced_pressure):
    return (1.0 - x) ** 0.8 + 3.8 * x**0.76 * (1.0 - x) ** 0.04 * reduced_pressure**-0.38


def condensing(saturation, mass_flux, diameter, reduced_pressure):
    """Mean of `shah` from gas to liquid.

    Parameters
    ----------
    saturation, mass_flux, diameter, reduced_pressure
        As for `shah`.

    Returns
    -------
    ndarray
        [W/(m2 K)]
    """
    liquid, _, _ = liquid_only(saturation, mass_flux, diameter)
    share, weights = _nodes()
    factor = _shah_factor(share, np.asarray(reduced_pressure)[..., None])
    return liquid / ((1.0 / factor) @ weights)


def liu_winterton(
    quality, saturation, mass_flux, diameter, reduced_pressure, molar_mass, wall_excess
):
    """Boiling coefficient: Liu and Winterton (1991), Int. J. Heat Mass Transfer 34, 2759-2766.

    Convection and bubbles, the latter by Cooper (1984) at the wall's excess temperature.

    Parameters
    ----------
    quality : array_like
    saturation : Saturation
    mass_flux, diameter : array_like
        [kg/(m2 s)], [m]
    reduced_pressure : array_like
        [-]
    molar_mass : float
        [kg/mol]
    wall_excess : array_like
        Wall minus boiling temperature. [K]

    Returns
    -------
    ndarray
        [W/(m2 K)]
    """
    liquid, reynolds, prandtl = liquid_only(saturation, mass_flux, diameter)
    expansion = prandtl * (saturation.liquid_density / saturation.vapour_density - 1.0)
    bubbles = _cooper(reduced_pressure, molar_mass, wall_excess)
    return _both(quality, liquid, reynolds, expansion, bubbles)


def _cooper(reduced_pressure, molar_mass, wall_excess):
    """Pool boiling on a surface of 1 µm roughness, Cooper (1984); trials near critical tamed."""
    reduced = np.minimum(reduced_pressure, HIGHEST_REDUCED)
    by_flux = 55.0 * reduced**0.12 * (-np.log10(reduced)) ** -0.55 / np.sqrt(1e3 * molar_mass)
    return (by_flux * np.maximum(wall_excess, 0.0) ** 0.67) ** (1.0 / 0.33)


def _both(x, liquid, reynolds, expansion, bubbles):
    force = (1.0 + x * expansion) ** 0.35
    held_back = 1.0 / (1.0 + 0.055 * force**0.1 * reynolds**0.16)
    return np.hypot(force * liquid, held_back * bubbles)


def boiling(
    inlet_quality,
    saturation,
    mass_flux,
    diameter,
    reduced_pressure,
    molar_mass,
    flux_at,
):
    """Mean of `liu_winterton` from an inlet quality to dew, drying towards its end.

    Above a quality of `DRY_OUT` the coefficient falls in a straight line to that of the vapour.

    Parameters
    ----------
    inlet_quality, saturation, mass_flux, diameter, reduced_pressure, molar_mass
        As for `liu_winterton`.
    flux_at : callable
        Heat flux that the air side brings [W/m2] at a coefficient [W/(m2 K)].

    Returns
    -------
    ndarray
        [W/(m2 K)]
    """
    liquid, reynolds, prandtl = liquid_only(saturation, mass_flux, diameter)
    expansion = prandtl * (saturation.liquid_density / saturation.vapour_density - 1.0)
    begin = np.clip(inlet_quality, 0.0, DRY_OUT)
    excess = np.asarray(1.0)
    for _ in range(_WALL_ROUNDS):  # wall excess times coefficient is the flux; halfway in the log
        bubbles = _cooper(reduced_pressure, molar_mass, excess)
        middle = _both(0.5 * (begin + 1.0), liquid, reynolds, expansion, bubbles)
        excess = np.sqrt(excess * flux_at(middle) / middle)
    bubbles = _cooper(reduced_pressure, molar_mass, excess)
    share, weights = _nodes()

    def column(value):
        return np.asarray(value)[..., None]

    quality = column(begin) + column(1.0 - begin) * share
    wet = _both(quality, column(liquid), column(reynolds), column(expansion), column(bubbles))
    gas = single_phase(
        mass_flux,
        diameter,
        saturation.vapour_viscosity,
        saturation.vapour_conductivity,
        saturation.vapour_heat_capacity,
    )
    drying = np.clip((quality - DRY_OUT) / (1.0 - DRY_OUT), 0.0, 1.0)
    local = wet + drying * np.minimum(column(gas) - wet, 0.0)
    return 1.0 / ((1.0 / local) @ weights)


def gradient(mass_flux, diameter, density, viscosity):
    """Pressure gradient of a single phase by friction.

    Parameters
    ----------
    mass_flux, diameter, density, viscosity : array_like
        [kg/(m2 s)], [m], [kg/m3], [Pa s]

    Returns
    -------
    ndarray
        [Pa/m]
    """
    rub = friction(mass_flux * diameter / viscosity)
    return rub * np.square(mass_flux) / (2.0 * density * diameter)


def mueller_steinhagen_heck(quality, liquid, vapour):
    """Two-phase pressure gradient by friction from those of the whole flow as liquid and as vapour.

    Müller-Steinhagen and Heck (1986), Chem. Eng. Process. 20, 297-308.

    Parameters
    ----------
    quality : array_like
    liquid, vapour : array_like
        `gradient` of the whole flow as one phase. [Pa/m]

    Returns
    -------
    ndarray
        [Pa/m]
    """
    return (liquid + 2.0 * (vapour - liquid) * quality) * np.cbrt(1.0 - quality) + (
        vapour * quality**3
    )


def mean_gradient(low, high, liquid, vapour):
    """Mean of `mueller_steinhagen_heck` over qualities that change evenly: exact.

    Parameters
    ----------
    low, high : array_like
        Qualities at the ends, low below high.
    liquid, vapour : array_like
        [Pa/m]

    Returns
    -------
    ndarray
        [Pa/m]
    """

    def integral(x):
        dry = np.maximum(1.0 - x, 0.0)
        first = dry ** (4.0 / 3.0)
        straight = -0.75 * first
        sloped = -0.75 * first + (3.0 / 7.0) * first * dry
        return liquid * straight + 2.0 * (vapour - liquid) * sloped + vapour * x**4 / 4.0

    span = np.maximum(high - low, 1e-6)
    return (integral(low + span) - integral(low)) / span


@cache
def _nodes():
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    return 0.5 * (nodes + 1.0), 0.5 * weights
