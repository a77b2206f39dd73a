"""What is about to be brazed: stub, line, valve body, flame, and what is round the valve."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from ..errors import UnknownName, require
from .metals import Metal, Tube, data


@dataclass(frozen=True)
class Wrap:
    """Something wet round the valve body and the part of the stub next to it.

    Attributes
    ----------
    water : float
        In it. [kg]
    contact : float
        How well it takes heat from the metal, while wet. [W/(m2 K)]
    cover : float
        Share of the stub that it covers, counted from the body.

    Raises
    ------
    OutOfRange
        For negative water, a contact that no cloth has, or a share outside 0 to 1.
    """

    water: float
    contact: float
    cover: float = 0.5

    def __post_init__(self):
        require("water in the wrap", self.water, 0.0, 1.0, "mass")
        require("contact of the wrap", self.contact, 0.0, 4000.0)
        require("share of the stub covered", self.cover, 0.0, 1.0, "ratio")


@cache
def wraps():
    """List what is put round a valve, as assumed in data/.

    Returns
    -------
    dict of str to Wrap
    """
    return {
        name: Wrap(row["water_kg"], row["contact_W_m2K"]) for name, row in data()["wraps"].items()
    }


def wrap(name, water=None):
    """Get what is put round a valve.

    Parameters
    ----------
    name : str
        ``"nothing"``, ``"wet rag"`` or ``"heat paste"``.
    water : float, optional
        In it, if not as in data/. [kg]

    Returns
    -------
    Wrap or None

    Raises
    ------
    UnknownName
        For anything else.
    OutOfRange
        For an amount of water that no rag holds.
    """
    if name == "nothing":
        return None
    if name not in wraps():
        raise UnknownName("wrap", name, ("nothing", *wraps()))
    usual = wraps()[name]
    return usual if water is None else Wrap(water, usual.contact, usual.cover)


@dataclass(frozen=True)
class Setup:
    """A valve stub about to be brazed into a line.

    Attributes
    ----------
    stub, line : Metal
        Of the valve's stub, and of the line it goes into.
    tube : Tube
        Both have its size.
    stub_length : float
        From the joint to the body. [m]
    body_mass : float
        Of the valve body, brass. [kg]
    flame : float
        Heat that the joint takes up from the torch while cold; it takes less as it gets hot. [W]
    wrap : Wrap or None
    ambient : float
        Everything at the start. [K]
    boiling : float
        Where water boils here. [K]

    Raises
    ------
    OutOfRange
        For what cannot be a valve, a stub or a torch.
    """

    stub: Metal
    line: Metal
    tube: Tube
    stub_length: float
    body_mass: float
    flame: float
    wrap: Wrap | None = None
    ambient: float = 293.15
    boiling: float = 373.15

    def __post_init__(self):
        require("length of the stub", self.stub_length, 0.01, 0.30, "length")
        require("mass of the valve body", self.body_mass, 0.02, 5.0, "mass")
        require("heat of the flame", self.flame, 20.0, 5000.0, "heat_flow")
        require("temperature of the surroundings", self.ambient, 250.0, 330.0, "temperature")
        require("boiling point of water", self.boiling, self.ambient + 10.0, 400.0, "temperature")
