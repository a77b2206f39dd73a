"""Charging by weight: what the scale says, and what is really in the box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import UnknownName, require
from .parts import vapour_density


def hose_mass(refrigerant, tube, pressure, temperature, holds="liquid"):
    """Refrigerant in a service hose.

    Parameters
    ----------
    refrigerant : Refrigerant
    tube : Tube
        Inner diameter and length of the hose.
    pressure, temperature : array_like
        In the hose. [Pa], [K]
    holds : {"liquid", "vapour"}
        What fills it.

    Returns
    -------
    ndarray
        [kg]
    """
    if holds == "vapour":
        return tube.volume * vapour_density(refrigerant, pressure, temperature)
    enthalpy = refrigerant.liquid_enthalpy(pressure, temperature, check=False)
    return tube.volume * refrigerant.state_ph(pressure, enthalpy, check=False).density


#: What may be in a service hose: ``hose_content`` says how much, and how sure that is.
HOSE_HOLDS = ("empty", "vapour", "liquid", "unknown")

_BUBBLES = 0.1  # share of a hose "full of liquid" that may be bubbles; our own estimate


def hose_content(refrigerant, tube, temperature, holds):
    """Refrigerant in a service hose at saturation, and the half-width of the doubt about it.

    Parameters
    ----------
    refrigerant : Refrigerant
    tube : Tube
        Inner diameter and length of the hose.
    temperature : array_like
        Of cylinder and hose. [K]
    holds : {"empty", "vapour", "liquid", "unknown"}
        What fills it. Unknown is anything from vapour to liquid.

    Returns
    -------
    mass, doubt : ndarray
        [kg]

    Raises
    ------
    UnknownName
        For anything else in the hose.
    """
    if holds not in HOSE_HOLDS:
        raise UnknownName("hose content", holds, HOSE_HOLDS)
    if holds == "empty":
        return np.zeros(np.shape(temperature)), np.zeros(np.shape(temperature))
    pressure = refrigerant.bubble_pressure(temperature)
    liquid = hose_mass(refrigerant, tube, pressure, temperature)
    vapour = hose_mass(refrigerant, tube, pressure, temperature, "vapour")
    if holds == "unknown":
        return 0.5 * (liquid + vapour), 0.5 * (liquid - vapour)
    return (liquid, _BUBBLES * liquid) if holds == "liquid" else (vapour, 0.5 * vapour)


@dataclass(frozen=True)
class Weighing:
    """What a charge by weight put into the box, and how well that is known.

    Attributes
    ----------
    charged : ndarray
        Best estimate of what went in. [kg]
    total : ndarray
        With what was left in the box before. [kg]
    standard_uncertainty : ndarray
        Of both. [kg]
    shares : dict of str to ndarray
        Standard uncertainty by cause: ``"resolution"``, ``"scale"``, ``"hose"``, ``"remaining"``.
        [kg]
    """

    charged: np.ndarray
    total: np.ndarray
    standard_uncertainty: np.ndarray
    shares: dict

    def band(self, coverage=2.0):
        """Low and high end of what the box holds now.

        Parameters
        ----------
        coverage : float
            Standard uncertainties to each side; 2 covers about 95 %.

        Returns
        -------
        tuple of ndarray
            [kg]
        """
        reach = coverage * self.standard_uncertainty
        return self.total - reach, self.total + reach

    def spread(self, points=401):
        """How likely each mass is, for one weighing: all causes evenly spread and added up.

        Parameters
        ----------
        points : int
            How many masses.

        Returns
        -------
        mass, density : ndarray
            What the box may hold [kg] and its probability density [1/kg].
        """
        even = [np.sqrt(3.0) * float(share) for share in self.shares.values()]
        step = np.sqrt(1.5) * float(self.shares["resolution"])
        widths = sorted([*even[1:], step, step], reverse=True)
        offset = np.linspace(-1.05, 1.05, points) * sum(widths)
        below = np.clip((offset + widths[0]) / (2.0 * widths[0]), 0.0, 1.0)
        density = np.where(np.abs(offset) <= widths[0], 0.5 / widths[0], 0.0)
        for width in widths[1:]:
            if width > 0.0:
                high, low = (np.interp(offset + s * width, offset, below) for s in (1.0, -1.0))
                density = (high - low) / (2.0 * width)
                below = np.concatenate(
                    ([0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(offset)))
                )
                below /= below[-1]
        return float(self.total) + offset, density


def weigh(
    scale_drop,
    *,
    resolution,
    scale_error=0.0,
    hose_before=0.0,
    hose_after=0.0,
    hose_doubt=0.0,
    released=0.0,
    remaining=0.0,
    remaining_doubt=0.0,
):
    """Refrigerant in the box after charging from a cylinder on a scale.

    charged = drop of the scale + in the hose before - in the hose after - released to the air.
    Uncertainties are combined as in the guide JCGM 100 (GUM): each half-width counts as evenly
    spread (half-width over root 3), resolution enters twice, at zero and at the final reading.

    Parameters
    ----------
    scale_drop : array_like
        What the display says left the cylinder. [kg]
    resolution : array_like
        Smallest step of the display. [kg]
    scale_error : array_like
        Half-width of the scale's error over this drop. [kg]
    hose_before, hose_after : array_like
        In the hose when the scale was zeroed, and when the valve at the box was closed. [kg]
    hose_doubt : array_like
        Half-width of the doubt about the hose, such as half of liquid minus vapour. [kg]
    released : array_like
        Purged or lost at the fittings. [kg]
    remaining : array_like
        What the last call left in the box. [kg]
    remaining_doubt : array_like
        Half-width of the doubt about it. [kg]

    Returns
    -------
    Weighing

    Raises
    ------
    OutOfRange
        For a negative mass or a resolution not above zero.
    """
    require("resolution of the scale", resolution, 0.0, None, "mass", open_low=True)
    for name, value in (
        ("drop of the scale", scale_drop),
        ("error of the scale", scale_error),
        ("refrigerant in the hose before", hose_before),
        ("refrigerant in the hose after", hose_after),
        ("doubt about the hose", hose_doubt),
        ("refrigerant released", released),
        ("refrigerant left in the box", remaining),
        ("doubt about what was left", remaining_doubt),
    ):
        require(name, value, 0.0, None, "mass")
    even = 1.0 / np.sqrt(3.0)
    shares = {
        "resolution": np.sqrt(2.0) * 0.5 * np.asarray(resolution, dtype=float) * even,
        "scale": np.asarray(scale_error, dtype=float) * even,
        "hose": np.asarray(hose_doubt, dtype=float) * even,
        "remaining": np.asarray(remaining_doubt, dtype=float) * even,
    }
    charged = np.asarray(scale_drop, dtype=float) + hose_before - hose_after - released
    return Weighing(
        charged=charged,
        total=charged + remaining,
        standard_uncertainty=np.sqrt(sum(np.square(each) for each in shares.values())),
        shares=shares,
    )
