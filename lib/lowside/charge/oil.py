"""Refrigerant dissolved in the compressor's oil.

Flory and Huggins for a solvent in a much longer molecule, with the oil's vapour pressure left out:

    ln(p / p_sat) = ln phi + (1 - phi) + chi (1 - phi)^2

phi is the volume fraction of refrigerant, p_sat its vapour pressure at the oil's temperature. The
single number chi is an *assumption*: no measured table of propane in compressor oil was reached.
Isobutane in polyol ester, measured, asks for 0.0 to 0.5 (oil of 0.40 kg/mol, see the test); an
estimate for propane in mineral oil by a cubic equation of state asks for 0.5 and less. Poor
solvents, such as an HFC in mineral oil, go above 1.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import require

#: What is left open for hydrocarbons; show the grams at both ends, not one number.
CHI_BAND = (0.0, 1.0)

# Beyond this share of the saturation pressure the oil swells without limit (chi <= 0.5).
_FULL = 0.999
_ROUNDS = 40


@dataclass(frozen=True)
class Oil:
    """The oil in a compressor.

    Parameters
    ----------
    mass : float or ndarray
        Of pure oil. [kg]
    density : float or ndarray
        Of pure oil. [kg/m3]
    chi : float or ndarray
        Interaction parameter of refrigerant and oil; assumed, see `CHI_BAND`. Lower dissolves more.

    Raises
    ------
    OutOfRange
        For a negative mass, a density not above zero or chi outside -1 to 3.
    """

    mass: float
    density: float = 920.0
    chi: float = 0.5

    def __post_init__(self):
        require("mass of oil", self.mass, 0.0, None, "mass")
        require("density of oil", self.density, 0.0, None, "density", open_low=True)
        require("interaction parameter chi", self.chi, -1.0, 3.0)


def oil_fraction(relative_pressure, chi):
    """Volume fraction of refrigerant in oil, by Flory and Huggins.

    For chi above 0.5 the branch that starts at pure oil; it ends where oil and refrigerant would
    part into two layers.

    Parameters
    ----------
    relative_pressure : array_like
        Pressure over the refrigerant's saturation pressure at the oil temperature; above 0.999 it
        counts as 0.999, where a willing oil is already swollen many times over.
    chi : array_like
        Interaction parameter.

    Returns
    -------
    ndarray
        0 to 1.
    """
    log_activity = np.log(np.clip(relative_pressure, 1e-12, _FULL))
    log_activity, chi = np.broadcast_arrays(log_activity, np.asarray(chi, dtype=float))
    # Henry's law lies below the root and the function is concave there: Newton climbs to it.
    log_phi = log_activity - 1.0 - np.maximum(chi, 0.0)
    for _ in range(_ROUNDS):
        phi = np.exp(log_phi)
        free = 1.0 - phi
        miss = log_activity - log_phi - free - chi * free * free
        step = miss / np.maximum(free * (1.0 - 2.0 * chi * phi), 1e-3)
        log_phi = np.minimum(log_phi + step, 0.0)
        if np.all(np.abs(step) < 1e-13):
            break
    return np.exp(log_phi)


def dissolved(oil, refrigerant, pressure, oil_temperature):
    """Mass of refrigerant dissolved in the oil.

    Parameters
    ----------
    oil : Oil
        Its fields may be arrays.
    refrigerant : Refrigerant
        From ``refrigerants.get``. A blend counts as one substance with its dew pressure.
    pressure : array_like
        Over the oil. [Pa]
    oil_temperature : array_like
        [K]

    Returns
    -------
    ndarray
        [kg]
    """
    saturated = refrigerant.dew_pressure(oil_temperature, check=False)
    liquid = refrigerant.saturation(saturated, check=False).liquid_density
    phi = oil_fraction(np.asarray(pressure, dtype=float) / saturated, oil.chi)
    return oil.mass / oil.density * liquid * phi / np.maximum(1.0 - phi, 1e-6)
