"""Viscosity, conductivity and surface tension on the saturation lines, for building tables.

Pure fluids and pseudo-pure blends: CoolProp's own correlations. Blends with a mixture model are
mixed from their components, because CoolProp's liquid viscosity of a mixture is wrong (R448A at
-5 °C: four times too high) and it has no surface tension for mixtures:

- liquid viscosity: ln mu = sum of x ln mu of the saturated components at the same temperature
  (log-mole rule; Grunberg and Nissan without interaction term)
- vapour viscosity: Herning and Zipperer, weights y sqrt(M)
- liquid conductivity: by mass fraction
- vapour conductivity: weights y M^(1/3) (Friend and Adler)
- surface tension: by mole fraction

The rules are quoted from memory of Poling, Prausnitz and O'Connell, The Properties of Gases and
Liquids, 5th ed., ch. 9, 10 and 12. Against CoolProp's dedicated correlations for R404A, R507A,
R410A and R407C between -20 and 40 °C they give viscosities within 15 %, conductivities within 13 %
and surface tension within 20 %. Components above 0.9 of their critical temperature are
extrapolated, and so is the vapour conductivity of R32 below -37 °C, which CoolProp does not have.
"""

from __future__ import annotations

from contextlib import suppress

import numpy as np

SOURCES = (
    (0, "viscosity"),
    (1, "viscosity"),
    (0, "conductivity"),
    (1, "conductivity"),
    (0, "surface_tension"),
)
WARMEST = 0.9  # of the critical temperature, for a component's own saturated properties
SAMPLES = 60


def of_pure(fluid, pressures):
    """Transport properties of a pure or pseudo-pure fluid.

    Parameters
    ----------
    fluid : str
        CoolProp's name.
    pressures : array_like, shape (n,)
        [Pa]

    Returns
    -------
    numpy.ndarray, shape (n, 5)
        `tables.TRANSPORT` in SI units.
    """
    import CoolProp

    state = CoolProp.AbstractState("HEOS", fluid)
    u = np.log(pressures)
    columns = []
    for source in SOURCES:
        known, values = _sample(state, CoolProp.PQ_INPUTS, pressures, *source)
        columns.append(_line(u, u[known], values) if known.sum() > 1 else np.full(len(u), np.nan))
    return np.array(columns).T


def _sample(state, inputs, at, quality, wanted):
    """Values of one property at pressures or temperatures, and where CoolProp has them."""
    import CoolProp

    values = np.full(len(at), np.nan)
    for k, x in enumerate(at):
        first, second = (x, quality) if inputs == CoolProp.PQ_INPUTS else (quality, x)
        state.update(inputs, first, second)
        with suppress(ValueError):
            values[k] = getattr(state, wanted)()
    known = np.isfinite(values)
    return known, values[known]


def _component(fluid, coldest):
    """Make the function of temperature for one component, continued beyond its samples.

    Logarithms of viscosities against 1/T, the rest against T; outside the samples the end slope
    goes on. Surface tension falls to zero at the critical point and stays there.
    """
    import CoolProp

    state = CoolProp.AbstractState("HEOS", fluid)
    lowest = max(coldest, state.Tmin() + 1, state.Ttriple() + 1)
    temperature = np.linspace(lowest, WARMEST * state.T_critical(), SAMPLES)
    samples = []
    for source in SOURCES:
        known, values = _sample(state, CoolProp.QT_INPUTS, temperature, *source)
        samples.append((temperature[known], values))

    def evaluate(t):
        (grid, liquid_viscosity), *others = samples
        result = [np.exp(_line(-1 / t, -1 / grid, np.log(liquid_viscosity)))]
        result += [_line(t, grid, values) for grid, values in others]
        result[-1] = max(result[-1], 0.0)
        return np.array(result)

    return evaluate


def _line(x, grid, values):
    """Piecewise straight line that goes on with its end slopes."""
    low = (values[1] - values[0]) / (grid[1] - grid[0])
    high = (values[-1] - values[-2]) / (grid[-1] - grid[-2])
    beyond = np.minimum(x - grid[0], 0) * low + np.maximum(x - grid[-1], 0) * high
    return np.interp(x, grid, values) + beyond


def of_mixture(components, dew, bubble):
    """Transport properties of a blend mixed from its components.

    Parameters
    ----------
    components : list of (str, float, float)
        CoolProp name, mass fraction, mole fraction.
    dew, bubble : array_like, shape (n,)
        Temperatures [K]; vapour properties are taken at dew, liquid ones at bubble.

    Returns
    -------
    numpy.ndarray, shape (n, 5)
        `tables.TRANSPORT` in SI units.
    """
    import CoolProp

    names, mass, mole = zip(*components, strict=True)
    mass, mole = np.array(mass), np.array(mole)
    molar_mass = np.array([CoolProp.AbstractState("HEOS", n).molar_mass() for n in names])
    coldest = min(bubble) - 1
    functions = [_component(name, coldest) for name in names]
    herning = mole * np.sqrt(molar_mass)
    friend = mole * np.cbrt(molar_mass)
    rows = []
    for hot, cold in zip(dew, bubble, strict=True):
        at_dew = np.array([f(hot) for f in functions])
        at_bubble = np.array([f(cold) for f in functions])
        rows.append(
            [
                np.exp(mole @ np.log(at_bubble[:, 0])),
                herning @ at_dew[:, 1] / herning.sum(),
                mass @ at_bubble[:, 2],
                friend @ at_dew[:, 3] / friend.sum(),
                mole @ at_bubble[:, 4],
            ]
        )
    return np.array(rows)
