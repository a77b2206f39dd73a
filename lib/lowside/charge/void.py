"""Void fraction: which share of a tube's cross-section the vapour takes.

The expressions are those of the papers as ``fluids.two_phase_voidage`` prints them, written for
arrays (the library's own functions take one point at a time); the tests hold each against it.
Premoli, which it lacks, is written here.

Which to believe: measured charges favoured Baroczy in three unitary air conditioners (Harms, Groll
and Braun 2003) and Premoli ("CISE") in a small evaporator (Samoteeva et al.; abstracts read); the
choice moves an evaporator's grams by a third and more (Rice 1987). Two of them are fits that rise
above the homogeneous value where they were not fitted: Baroczy below 2 % quality, Graham also at a
condenser's high pressure and mass flux (up to 28 % quality).
"""

from __future__ import annotations

from functools import cache

import numpy as np

from ..errors import UnknownName, require

GRAVITY = 9.80665  # [m/s2]
DEFAULT = "Steiner"
#: Two models to show beside the default: they bracket it in an evaporator, in a condenser all
#: three lie close together.
BAND = ("Zivi", "Premoli")

_LEAST_FLUX = 1e-3  # [kg/(m2 s)] so that a tube without flow still has an answer
_NODES = 8


def _slip(x, sat, slip):
    return x / (x + (1.0 - x) * sat.vapour_density / sat.liquid_density * slip)


def _homogeneous(x, sat, flux, bore):
    """Vapour as slow as liquid: too little liquid for charge."""
    return _slip(x, sat, 1.0)


def _zivi(x, sat, flux, bore):
    """Zivi (1964), J. Heat Transfer 86, 247-252: least kinetic energy."""
    return _slip(x, sat, (sat.liquid_density / sat.vapour_density) ** (1.0 / 3.0))


def _smith(x, sat, flux, bore):
    """Smith (1969), Proc. IMechE 184, 647-664: a mixed core in a liquid wall layer."""
    ratio = sat.liquid_density / sat.vapour_density
    core = np.sqrt((ratio * x + 0.4 * (1.0 - x)) / (x + 0.4 * (1.0 - x)))
    return _slip(x, sat, 0.4 + 0.6 * core)


def _steiner(x, sat, flux, bore):
    """Rouhani and Axelsson (1970) drift flux, Steiner's form for horizontal tubes (VDI)."""
    liquid, vapour = sat.liquid_density, sat.vapour_density
    spread = 1.0 + 0.12 * (1.0 - x)
    buoyancy = np.maximum(GRAVITY * sat.surface_tension * (liquid - vapour), 0.0) ** 0.25
    drift = 1.18 * (1.0 - x) * buoyancy / np.sqrt(liquid)
    return x / (vapour * (spread * (x / vapour + (1.0 - x) / liquid) + drift / flux))


def _baroczy(x, sat, flux, bore):
    """Baroczy (1965), NAA-SR-8171."""
    lag = (
        (1.0 - x) ** 0.74
        * (sat.vapour_density / sat.liquid_density) ** 0.65
        * (sat.liquid_viscosity / sat.vapour_viscosity) ** 0.13
    )
    return x**0.74 / (x**0.74 + lag)


def _premoli(x, sat, flux, bore):
    """Premoli, Di Francesco and Prina (1971), "CISE".

    Slip from Reynolds and Weber numbers of the whole flow as liquid; as printed in open code of
    refrigeration models (read), the paper from memory.
    """
    liquid, vapour = sat.liquid_density, sat.vapour_density
    reynolds = flux * bore / sat.liquid_viscosity
    weber = flux * flux * bore / (np.maximum(sat.surface_tension, 1e-6) * liquid)
    first = 1.578 * reynolds**-0.19 * (liquid / vapour) ** 0.22
    second = 0.0273 * weber * reynolds**-0.51 * (liquid / vapour) ** -0.08
    volumes = x / np.maximum(1.0 - x, 1e-12) * liquid / vapour
    excess = volumes / (1.0 + volumes * second) - volumes * second
    return _slip(x, sat, 1.0 + first * np.sqrt(np.maximum(excess, 0.0)))


def _graham(x, sat, flux, bore):
    """Graham et al. (1997), ACRC TR-135, from condensing refrigerants; 0 below Ft 0.01032."""
    number = flux * np.sqrt(x**3 / (np.maximum(1.0 - x, 1e-12) * GRAVITY * bore))
    number = number / sat.vapour_density
    log = np.log(np.maximum(number, 0.01032))
    return np.where(number < 0.01032, 0.0, 1.0 - np.exp(-1.0 - 0.3 * log - 0.0328 * log * log))


#: Name to function of (quality, saturation, mass flux, bore).
MODELS = {
    "homogeneous": _homogeneous,
    "Zivi": _zivi,
    "Smith": _smith,
    "Steiner": _steiner,
    "Baroczy": _baroczy,
    "Premoli": _premoli,
    "Graham": _graham,
}


def model_named(name):
    """Look a void-fraction model up by its name.

    Parameters
    ----------
    name : str
        A key of `MODELS`.

    Returns
    -------
    callable

    Raises
    ------
    UnknownName
        With the names that exist.
    """
    if name not in MODELS:
        raise UnknownName("void-fraction model", name, MODELS)
    return MODELS[name]


def void_fraction(quality, saturation, mass_flux, diameter, model=DEFAULT):
    """Share of the cross-section taken by vapour.

    Parameters
    ----------
    quality : array_like
        Mass quality, 0 to 1.
    saturation : Saturation
        From ``Refrigerant.saturation``, of a shape that broadcasts with the rest.
    mass_flux : array_like
        Mass flow over the tube's cross-section. [kg/(m2 s)]
    diameter : array_like
        Inner diameter of the tube. [m]
    model : str
        A key of `MODELS`.

    Returns
    -------
    ndarray
        0 for liquid to 1 for vapour.

    Raises
    ------
    OutOfRange
        For a quality outside 0 to 1, a negative mass flux or a diameter not above zero.
    UnknownName
        For a model that is not here.
    """
    require("quality", quality, 0.0, 1.0, "ratio")
    require("mass flux", mass_flux, 0.0, None)
    require("tube's inner diameter", diameter, 0.0, None, "length", open_low=True)
    flux = np.maximum(mass_flux, _LEAST_FLUX)
    return model_named(model)(np.asarray(quality, dtype=float), saturation, flux, diameter)


@cache
def _nodes():
    """Gauss-Legendre nodes on [0, 1] bunched towards 0, where void fraction rises steeply."""
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    nodes = 0.5 * (nodes + 1.0)
    return nodes**3, 1.5 * weights * nodes**2


class _Column:
    """A saturation with one more axis, so that it broadcasts with the quality nodes."""

    def __init__(self, saturation):
        for name in (
            "liquid_density",
            "vapour_density",
            "liquid_viscosity",
            "vapour_viscosity",
            "surface_tension",
        ):
            setattr(self, name, np.asarray(getattr(saturation, name))[..., None])


def mean_density(quality_in, quality_out, saturation, mass_flux, diameter, model=DEFAULT):
    """Density averaged along a tube in which quality changes evenly (uniform heat flux).

    Parameters
    ----------
    quality_in, quality_out : array_like
        At the two ends, in either order; values outside 0 to 1 count as the nearer end, because a
        two-phase zone ends there.
    saturation : Saturation
        From ``Refrigerant.saturation``.
    mass_flux : array_like
        [kg/(m2 s)]
    diameter : array_like
        [m]
    model : str
        A key of `MODELS`.

    Returns
    -------
    ndarray
        [kg/m3]

    Raises
    ------
    UnknownName
        For a model that is not here.
    """
    share, weights = _nodes()
    first, last = np.clip(quality_in, 0.0, 1.0), np.clip(quality_out, 0.0, 1.0)
    low, high = np.minimum(first, last)[..., None], np.maximum(first, last)[..., None]
    sat = _Column(saturation)
    flux = np.maximum(np.asarray(mass_flux, dtype=float), _LEAST_FLUX)[..., None]
    bore = np.asarray(diameter, dtype=float)[..., None]
    void = model_named(model)(low + (high - low) * share, sat, flux, bore)
    return ((1.0 - void) * sat.liquid_density + void * sat.vapour_density) @ weights
