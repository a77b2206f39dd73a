"""Heat through walls and floor: layers, films of still air, and the ground under a slab."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import store
from ..errors import UnknownName, require

FILE = "load.toml"

# ISO 13370, slab on ground (from memory): soil of sand or gravel, still air below a roof.
_SOIL_CONDUCTIVITY = 2.0  # [W/(m K)]
_EDGE_WIDTH = 0.1  # [m] of the walls that stand around the floor
_OUTER_FILM = 0.04  # [m2 K/W]


@cache
def _data():
    return store.read_toml(FILE)


def still_air():
    """Film coefficient of still air on a wall [W/(m2 K)].

    Returns
    -------
    float
    """
    return _data()["film"]["still_air_W_m2K"]


def materials():
    """List the materials that `conductivity` knows.

    Returns
    -------
    dict of str to str
        Their names in words.
    """
    return {key: row["name"] for key, row in _data()["materials"].items()}


def conductivity(material):
    """Look up the thermal conductivity of a wall's material.

    Parameters
    ----------
    material : str
        One of `materials`.

    Returns
    -------
    float
        [W/(m K)]

    Raises
    ------
    UnknownName
        If it is not one of them.
    """
    rows = _data()["materials"]
    if material not in rows:
        raise UnknownName("material", material, rows)
    return rows[material]["conductivity_W_mK"]


@dataclass(frozen=True)
class Wall:
    """A wall of flat layers.

    Parameters
    ----------
    layers : tuple of (float or ndarray, float)
        Thickness [m] and conductivity [W/(m K)] of each.
    films : float
        Film resistances of both sides together; of one side only for a floor. [m2 K/W]

    Raises
    ------
    OutOfRange
        For a negative thickness or film, a conductivity not above zero, or no resistance at all.
    """

    layers: tuple
    films: float

    def __post_init__(self):
        for thickness, conducts in self.layers:
            require("thickness of a wall", thickness, 0.0, 2.0, "length")
            require("conductivity of a wall", conducts, 0.0, None, open_low=True)
        require("film resistance", self.films, 0.0, None, "insulation")
        require("resistance of a wall", self.resistance, 0.0, None, "insulation", open_low=True)

    @classmethod
    def panel(cls, material, thickness):
        """Make an insulated panel between still air and still air.

        Parameters
        ----------
        material : str
            One of `materials`.
        thickness : float or ndarray
            [m]

        Returns
        -------
        Wall
        """
        return cls(((thickness, conductivity(material)),), 2.0 / still_air())

    @classmethod
    def slab(cls, concrete=0.15, material="polystyrene", thickness=0.0):
        """Make a concrete floor on the ground, insulated or not.

        Parameters
        ----------
        concrete, thickness : float or ndarray
            Of the slab and of its insulation. [m]
        material : str
            Of the insulation.

        Returns
        -------
        Wall
        """
        layers = (concrete, conductivity("concrete")), (thickness, conductivity(material))
        return cls(layers, 1.0 / still_air())

    @property
    def thickness(self):
        """All layers together [m]."""
        return sum(thickness for thickness, _ in self.layers)

    @property
    def resistance(self):
        """Temperature difference for a watt through a square metre [m2 K/W]."""
        return self.films + sum(thickness / conducts for thickness, conducts in self.layers)

    def heat(self, area, difference):
        """Heat through it.

        Parameters
        ----------
        area : float or ndarray
            [m2]
        difference : float or ndarray
            Outside less inside. [K]

        Returns
        -------
        float or ndarray
            [W]
        """
        return area * difference / self.resistance

    def heat_from_ground(self, length, width, difference):
        """Heat through it where it is a floor that lies on the ground.

        The heat comes down around the edges and up through the soil, so a wide floor takes less
        for each square metre than a small one. ISO 13370, slab on ground, from memory.

        Parameters
        ----------
        length, width : float or ndarray
            Of the floor. [m]
        difference : float or ndarray
            Ground around, averaged over the year, less inside. [K]

        Returns
        -------
        float or ndarray
            [W]
        """
        soil = _SOIL_CONDUCTIVITY
        size = length * width / (length + width)
        thick = _EDGE_WIDTH + soil * (self.resistance + _OUTER_FILM)
        poor = 2.0 * soil / (np.pi * size + thick) * np.log(np.pi * size / thick + 1.0)
        good = soil / (0.457 * size + thick)
        return length * width * difference * np.where(thick < size, poor, good)
