"""What lies in a case: parts of the kit, each in a place of its own, and what they cost."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from lowside import kit, store
from lowside.errors import UnknownName

KINDS = ("body", "cartridge", "element")
FILE = "carry.toml"


@dataclass(frozen=True)
class Part:
    """One part of the kit, as it lies in the case.

    Attributes
    ----------
    kind : {"body", "cartridge", "element"}
    key : str
        Plain name that no other part has.
    """

    kind: str
    key: str


def parts_of(build):
    """Give the three parts of a build.

    Parameters
    ----------
    build : kit.Build

    Returns
    -------
    tuple of Part
    """
    return tuple(Part(kind, key) for kind, key in zip(KINDS, build.key, strict=True))


@lru_cache(maxsize=1)
def all_parts():
    """Every part of the kit in its order, with its invented price.

    Returns
    -------
    dict of Part to float
        Price in whole units of any currency. [-]

    Raises
    ------
    DataDamaged
        If the file of prices is damaged.
    """
    prices, known = store.read_toml(FILE), kit.the_kit()
    return {
        **{Part("body", body.key): prices["bodies"][body.name] for body in known.bodies},
        **{
            Part("cartridge", each.key): prices["cartridges"][each.construction]
            for each in known.cartridges
        },
        **{Part("element", each.key): prices["elements"][each.charge] for each in known.elements},
    }


def notice():
    """Give the sentence that says what is invented.

    Returns
    -------
    str
    """
    return store.read_toml(FILE)["notice"]


def part(key):
    """Find a part by its plain name.

    Parameters
    ----------
    key : str

    Returns
    -------
    Part

    Raises
    ------
    UnknownName
        If the kit has none.
    """
    for each in all_parts():
        if each.key == key:
            return each
    raise UnknownName("part in the kit", key, [each.key for each in all_parts()])
