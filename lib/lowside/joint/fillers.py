"""Filler metals, and which of them suits which base metals."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from .. import units
from ..errors import UnknownName
from .metals import data

NO_FLUX, FLUX, NEVER = "no flux", "with flux", "never"

_CLEARANCE = 50.0  # [K] that the base metal must stand above the filler's liquidus, our own choice


@dataclass(frozen=True)
class Filler:
    """A filler metal by its classification in AWS A5.8.

    Attributes
    ----------
    name : str
        A key of `fillers`.
    solidus, liquidus : float
        Where it begins to melt, and where it is all liquid. [K]
    brazing_from : float
        Lower end of its brazing range. [K]
    content : dict of str to float
        Nominal composition, mass shares by element.
    """

    name: str
    solidus: float
    liquidus: float
    brazing_from: float
    content: dict[str, float]

    def has(self, element):
        """Whether the filler contains an element, by its symbol."""
        return element in self.content

    @property
    def silver(self):
        """Mass share of silver."""
        return self.content.get("Ag", 0.0)

    @property
    def family(self):
        """What it is, in two or three words."""
        if self.has("P"):
            return "copper-phosphorus"
        return "silver, with cadmium" if self.has("Cd") else "silver"


@dataclass(frozen=True)
class Judgement:
    """Whether a filler suits a pair of base metals.

    Attributes
    ----------
    filler : Filler
    verdict : str
        ``"no flux"``, ``"with flux"`` or ``"never"``.
    reason : str
        Why, in a few words.
    """

    filler: Filler
    verdict: str
    reason: str


@cache
def fillers():
    """List the fillers.

    Returns
    -------
    dict of str to Filler
    """
    return {
        name: Filler(
            name,
            *(units.to_si(row[key], "degF") for key in ("solidus_F", "liquidus_F")),
            units.to_si(row["brazing_from_F"], "degF"),
            {element: percent / 100.0 for element, percent in row["percent"].items()},
        )
        for name, row in data()["fillers"].items()
    }


def filler(name):
    """Get a filler.

    Parameters
    ----------
    name : str
        Such as ``"BAg-7"``.

    Returns
    -------
    Filler

    Raises
    ------
    UnknownName
        If there is none of that name.
    """
    if name not in fillers():
        raise UnknownName("filler", name, fillers())
    return fillers()[name]


def judge(filler, one, other):
    """Judge a filler for a pair of base metals.

    Rules of the welding trade (common practice, no published source): phosphorus takes the oxide
    off copper and spares the flux, but makes a brittle seam on iron; silver needs flux; cadmium is
    left alone, since its fume kills. Melting ranges as in `fillers`.

    Parameters
    ----------
    filler : Filler
    one, other : Metal

    Returns
    -------
    Judgement
    """
    pair = (one, other)
    soft = min(pair, key=lambda metal: metal.melts)
    if filler.has("Cd"):
        return Judgement(filler, NEVER, "cadmium: its fume kills")
    if filler.liquidus > soft.melts - _CLEARANCE:
        return Judgement(filler, NEVER, f"the {soft.name} would melt first")
    if filler.has("P") and any(metal.iron for metal in pair):
        return Judgement(filler, NEVER, "phosphorus on iron cracks")
    if filler.has("P") and all(metal.name == "copper" for metal in pair):
        return Judgement(filler, NO_FLUX, "phosphorus takes the oxide")
    if filler.has("P"):
        return Judgement(filler, FLUX, "brass needs flux")
    if filler.has("Ni") and any(metal.iron for metal in pair):
        return Judgement(filler, FLUX, "nickel: for wet stainless")
    return Judgement(filler, FLUX, "silver needs flux")


def judge_all(one, other):
    """Judge every filler for a pair of base metals.

    Parameters
    ----------
    one, other : Metal

    Returns
    -------
    tuple of Judgement
        Those without flux first, then with flux, then never; the lowest liquidus first in each.
    """
    order = (NO_FLUX, FLUX, NEVER)
    judged = [judge(each, one, other) for each in fillers().values()]
    return tuple(sorted(judged, key=lambda j: (order.index(j.verdict), j.filler.liquidus)))


def coolest(one, other):
    """Find the filler to begin with: without flux if there is one, and of those the coolest.

    Parameters
    ----------
    one, other : Metal

    Returns
    -------
    Judgement or None
        ``None`` if every filler is ruled out.
    """
    first = judge_all(one, other)[0]
    return None if first.verdict == NEVER else first
