"""The tube itself, and how it rubs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import OutOfRange

# Bore of drawn capillaries, 0.2 to 0.8 µm in capillary tube papers (from memory). The chart value
# of drawn tubing, 1.5 µm, gives some 4 % less flow; a perfectly smooth bore some 3 % more.
ROUGHNESS = 0.5e-6  # [m]


@dataclass(frozen=True)
class CapTube:
    """One capillary tube.

    Parameters
    ----------
    inner_diameter : float or ndarray
        Bore. [m]
    length : float or ndarray
        Length. [m]
    roughness : float or ndarray
        Absolute roughness of the bore. [m]

    Raises
    ------
    OutOfRange
        If bore or length is not positive, or the roughness is negative or not small against the
        bore.
    """

    inner_diameter: float
    length: float
    roughness: float = ROUGHNESS

    def __post_init__(self):
        _positive("capillary tube bore", self.inner_diameter, "port")
        _positive("capillary tube length", self.length, "length")
        rough, bore = np.broadcast_arrays(self.roughness, self.inner_diameter)
        bad = ~((rough >= 0.0) & (rough <= 0.05 * bore))
        if np.any(bad):
            raise OutOfRange(
                "capillary tube roughness", rough[bad][0], 0.0, 0.05 * bore[bad][0], "port"
            )

    @property
    def area(self):
        """Cross-section of the bore [m2]."""
        return 0.25 * np.pi * np.square(self.inner_diameter)

    @property
    def volume(self):
        """Inner volume [m3]."""
        return self.area * self.length


def _positive(quantity, value, kind):
    value = np.asarray(value, dtype=float)
    bad = ~((value > 0.0) & np.isfinite(value))
    if np.any(bad):
        raise OutOfRange(quantity, value[bad].flat[0], 0.0, None, kind)


def friction_factor(reynolds, relative_roughness):
    """Darcy friction factor, laminar to rough turbulent in one expression.

    Churchill (1977), Chem. Eng. 84(24), 91-92.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number. [1]
    relative_roughness : array_like
        Roughness over bore. [1]

    Returns
    -------
    ndarray
        Darcy friction factor. [1]
    """
    re = np.asarray(reynolds, dtype=float)
    a = -2.457 * np.log((7.0 / re) ** 0.9 + 0.27 * np.asarray(relative_roughness))
    a = a * a
    a = a * a
    a = a * a
    a = a * a
    b = (37530.0 / re) ** 16
    return 8.0 * ((8.0 / re) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)


def homogeneous_viscosity(quality, liquid_viscosity, vapour_viscosity):
    """Viscosity of the mixture, the reciprocals weighted by quality.

    McAdams, Woods and Heroman (1942), Trans. ASME 64, 193-200.

    Parameters
    ----------
    quality : array_like
        Mass quality. [1]
    liquid_viscosity, vapour_viscosity : array_like
        [Pa s]

    Returns
    -------
    ndarray
        [Pa s]
    """
    return 1.0 / (quality / vapour_viscosity + (1.0 - quality) / liquid_viscosity)
