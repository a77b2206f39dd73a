"""Base metals and tubes: what carries the heat from the joint to the valve."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from .. import store, units
from ..errors import UnknownName, require

_SAME_SIZE = 1e-4  # [m]


@cache
def data():
    """Read ``data/brazing.toml``.

    Returns
    -------
    dict
        Its content, in document units.
    """
    return store.read_toml("brazing.toml")


@dataclass(frozen=True)
class Metal:
    """A base metal; conductivity and heat capacity at 600 K.

    Attributes
    ----------
    name : str
        A key of `metals`.
    conductivity : float
        [W/(m K)]
    heat_capacity : float
        [J/(kg K)]
    density : float
        [kg/m3]
    melts : float
        Where it begins to melt. [K]
    iron : bool
        Whether phosphorus makes it brittle: steel and stainless.
    """

    name: str
    conductivity: float
    heat_capacity: float
    density: float
    melts: float
    iron: bool

    @property
    def diffusivity(self):
        """How fast heat spreads in it [m2/s]."""
        return self.conductivity / (self.density * self.heat_capacity)


@cache
def metals():
    """List the base metals.

    Returns
    -------
    dict of str to Metal
    """
    return {
        name: Metal(
            name,
            row["conductivity_W_mK"],
            row["heat_capacity_J_kgK"],
            row["density_kg_m3"],
            units.to_si(row["melts_C"], "degC"),
            row["iron"],
        )
        for name, row in data()["metals"].items()
    }


def metal(name):
    """Get a base metal.

    Parameters
    ----------
    name : str
        Such as ``"copper"``.

    Returns
    -------
    Metal

    Raises
    ------
    UnknownName
        If there is none of that name.
    """
    if name not in metals():
        raise UnknownName("base metal", name, metals())
    return metals()[name]


@dataclass(frozen=True)
class Tube:
    """A round tube.

    Attributes
    ----------
    diameter : float
        Outer. [m]
    wall : float
        [m]

    Raises
    ------
    OutOfRange
        For a tube no valve of ours is brazed to, or a wall that leaves no bore.
    """

    diameter: float
    wall: float

    def __post_init__(self):
        require("diameter of the tube", self.diameter, 3e-3, 60e-3, "length")
        require("wall of the tube", self.wall, 2e-4, 0.45 * self.diameter, "length")

    @property
    def section(self):
        """Area of the metal, cut across [m2]."""
        return math.pi * self.wall * (self.diameter - self.wall)

    def surface(self, length):
        """Outer surface of a length of it.

        Parameters
        ----------
        length : float or ndarray
            [m]

        Returns
        -------
        float or ndarray
            [m2]
        """
        return math.pi * self.diameter * length


@cache
def sizes():
    """List the tubes of the trade by outer diameter.

    Returns
    -------
    tuple of Tube
        Walls as of straight lengths; data/brazing.toml says from where.
    """
    rows = data()["tubes"]
    return tuple(
        Tube(units.to_si(outer, "in"), units.to_si(wall, "in"))
        for outer, wall in zip(rows["outer_in"], rows["wall_in"], strict=True)
    )


def tube(diameter):
    """Get the tube of the trade with an outer diameter.

    Parameters
    ----------
    diameter : float
        [m]

    Returns
    -------
    Tube

    Raises
    ------
    UnknownName
        If it is no size of the trade.
    """
    for size in sizes():
        if abs(size.diameter - diameter) < _SAME_SIZE:
            return size
    known = [f"{size.diameter * 1e3:.2f} mm" for size in sizes()]
    raise UnknownName("size of tube", f"{diameter * 1e3:.2f} mm", known)


def overlap(tube):
    """How far one tube goes into the other.

    Parameters
    ----------
    tube : Tube

    Returns
    -------
    float
        [m]
    """
    return data()["tubes"]["overlap_share"] * tube.diameter


def steady_heat(metal, tube, length, difference):
    """Heat that flows along a stub once nothing changes any more.

    Parameters
    ----------
    metal : Metal
    tube : Tube
    length : float
        Of the stub. [m]
    difference : float
        Between its ends. [K]

    Returns
    -------
    float
        Fourier's law for a straight wall: conductivity times section times difference over length;
        nothing lost on the way. [W]

    Raises
    ------
    OutOfRange
        For a length not above zero.
    """
    require("length of the stub", length, 0.0, None, "length", open_low=True)
    return metal.conductivity * tube.section * difference / length


def evening_time(metal, tube):
    """Time in which a hot side and a cold side of a tube come to a third of their difference.

    Around a thin ring the slowest pattern, hot on one side and cold on the other, dies away as
    ``exp(-a t / r²)`` with the diffusivity ``a`` and the mean radius ``r``.

    Parameters
    ----------
    metal : Metal
    tube : Tube

    Returns
    -------
    float
        ``r² / a``, after which 1/e of the difference is left. [s]
    """
    radius = 0.5 * (tube.diameter - tube.wall)
    return radius**2 / metal.diffusivity
