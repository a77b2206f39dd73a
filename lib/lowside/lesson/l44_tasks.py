"""The tasks of lesson 44: grams a drier swallows, drops it takes, vacuum, grams too many."""

from __future__ import annotations

from lowside import drier, refrigerants, units
from lowside.drier import Drier

from . import slips
from .tasks import Slip, Task
from .tolerance import Tolerance

_TOP_UP = 0.012, 0.030  # [kg]
_WATER_DENSITY = 1000.0  # [kg/m3]
_HUNDRED = 100

KINDS = {
    "inner": "volume",
    "beads": "charge",
    "beads_volume": "volume",
    "free": "volume",
    "liquid": "temperature",
    "density": "density",
    "dryness": "water_content",
    "share": "ratio",
    "loading": "ratio",
    "water": "charge",
    "hundred": "charge",
    "temperature": "temperature",
    "nameplate": "charge",
    "swallows": "charge",
    "swallowed": "charge",
    "added": "charge",
    "left": "charge",
    "holds": "charge",
    "ice_point": "temperature",
}


def propane():
    """Give the refrigerant of this lesson.

    Returns
    -------
    Refrigerant
    """
    return refrigerants.get("R290")


def liquid_density(temperature):
    """Density of liquid propane at its bubble point.

    Parameters
    ----------
    temperature : float
        [K]

    Returns
    -------
    float
        [kg/m3]
    """
    fluid = propane()
    return float(fluid.saturation(fluid.bubble_pressure(temperature)).liquid_density)


# ---------------------------------------------------------------- 1 grams a drier swallows


def _draw_swallow(random):
    return {
        "inner": random.uniform(30e-6, 110e-6),
        "share": random.uniform(0.35, 0.5),
        "liquid": random.uniform(298.0, 315.0),
    }


def _swallow(values):
    beads_volume = values.share * values.inner
    free = values.inner - beads_volume
    density = liquid_density(values.liquid)
    return {
        "beads_volume": beads_volume,
        "free": free,
        "density": density,
        "answer": free * density,
    }


SWALLOW = Task(
    key="swallow",
    question=(
        "A drier measures {inner} inside; its beads fill {share} of that. "
        "It hangs in the liquid line of a propane box, at {liquid}, where liquid propane weighs "
        "{density}. How much propane does it keep?"
    ),
    draw=_draw_swallow,
    kinds=KINDS,
    solve=_swallow,
    kind="charge",
    slips=(
        Slip(
            "forgot the beads",
            lambda values, show: values.inner * values.density,
            "That fills the whole shell with liquid. Where beads are, no liquid is.",
        ),
        Slip(
            "beads for gaps",
            lambda values, show: values.beads_volume * values.density,
            "That is liquid in the place of the beads. It is in what the beads leave free.",
        ),
        Slip(
            "propane as heavy as water",
            lambda values, show: values.free * _WATER_DENSITY,
            "That would be water. Liquid propane weighs about half as much.",
        ),
    ),
    hints=(
        "First the free volume, then times the density.",
        "The beads take {beads_volume}, so {free} are free.",
    ),
    steps=(
        "Beads take {beads_volume} of {inner}; {free} stay free.",
        "{free} at {density} make {answer}.",
    ),
    tolerance=Tolerance(us=0.02, metric=0.3, share=0.03, because="that is rounding"),
)


# ---------------------------------------------------------------- 2 drops it takes


def _draw_drops(random):
    return {
        "beads": random.choice((0.010, 0.015, 0.020, 0.030)),
        "liquid": random.uniform(298.0, 315.0),
        "dryness": random.choice((5e-6, 10e-6, 20e-6)),
        "hundred": _HUNDRED * drier.DROP,
    }


def _drops(values):
    water = float(Drier(0.0, values.beads).water_capacity("R290", values.liquid, values.dryness))
    return {"water": water, "loading": water / values.beads, "answer": drier.drops(water)}


DROPS = Task(
    key="drops",
    question=(
        "A drier has {beads} of beads. At {liquid}, and as long as the propane is to stay below "
        "{dryness} of water, they take {loading} of their own mass in water. A hundred drops weigh "
        "{hundred}. How many drops is that?"
    ),
    draw=_draw_drops,
    kinds=KINDS,
    solve=_drops,
    kind="number",
    slips=(
        Slip(
            "all the beads",
            lambda values, show: drier.drops(values.beads),
            "That takes as much water as there are beads. They hold only a share of their mass.",
        ),
        Slip(
            "hundred forgotten",
            lambda values, show: values.answer / _HUNDRED,
            "{hundred} is the weight of a hundred drops, not of one.",
        ),
    ),
    hints=(
        "How much water do the beads take, by weight?",
        "It is {loading} of {beads}, that is {water}. How many drops weigh as much?",
    ),
    steps=(
        "{loading} of {beads} is {water} of water.",
        "At {hundred} for a hundred drops that makes {answer} drops. Good evacuation leaves far "
        "less.",
    ),
    tolerance=Tolerance(share=0.08, because="weights and shares are rounded that coarsely"),
)


# ---------------------------------------------------------------- 3 vacuum that water boils under


def _draw_vacuum(random):
    return {"temperature": random.uniform(254.0, 303.0), "ice_point": units.ICE_POINT}


def _vacuum(values):
    return {"answer": float(drier.saturation_pressure(values.temperature))}


VACUUM = Task(
    key="vacuum",
    question=(
        "The coldest part of a box stands at {temperature}. Below which reading of the vacuum "
        "gauge does water (or ice) in it turn to vapour? Set the coldest part in the panel above "
        "and read it off."
    ),
    draw=_draw_vacuum,
    kinds=KINDS,
    solve=_vacuum,
    kind="vacuum",
    slips=(
        slips.number_in_other_unit(_vacuum, "temperature", "temperature"),
        Slip(
            "always as at freezing",
            lambda values, show: float(drier.saturation_pressure(units.ICE_POINT)),
            "That is the reading for {ice_point}. The colder the part, the deeper you have to "
            "pull.",
        ),
        Slip(
            "ten times",
            lambda values, show: 10.0 * values.answer,
            "Ten times too much: look again where the decimal mark stands.",
        ),
    ),
    hints=(
        "The black curve: find the temperature along the bottom, go up to the curve, read across.",
        "The strip under the figure says what is needed in the coldest part.",
    ),
    steps=("At {temperature} the vapour pressure of water or ice is {answer}.",),
    tolerance=Tolerance(share=0.06, because="a curve is read no finer"),
)


# ---------------------------------------------------------------- 4 grams too many


def _draw_too_many(random):
    return {
        "nameplate": random.uniform(0.090, 0.150),
        "swallows": random.uniform(0.016, 0.030),
        "swallowed": random.uniform(0.004, 0.007),
        "added": random.uniform(*_TOP_UP),
        "left": random.uniform(0.003, 0.009),
    }


def _too_many(values):
    holds = values.left + values.nameplate + values.added
    return {"holds": holds, "answer": holds - values.nameplate}


TOO_MANY = Task(
    key="too-many",
    question=(
        "Nameplate {nameplate}. The old drier kept {swallowed}, the new one keeps {swallows}. "
        "Somebody left {left} in the box when he recovered, weighed in the whole nameplate, and "
        "then added {added} because the box ran short. By how much is it over its nameplate?"
    ),
    draw=_draw_too_many,
    kinds=KINDS,
    solve=_too_many,
    kind="charge",
    slips=(
        Slip(
            "the drier excused",
            lambda values, show: values.answer - (values.swallows - values.swallowed),
            "That excuses what the bigger drier keeps. The nameplate counts every gram in the box, "
            "in the drier too: it leaks out like the rest.",
        ),
        Slip(
            "forgot what was left",
            lambda values, show: values.added,
            "That forgets the {left} which were still in the box.",
        ),
        Slip(
            "whole charge",
            lambda values, show: values.holds,
            "That is all that is in the box. Asked is how much of it is too much.",
        ),
    ),
    hints=(
        "Which grams does the nameplate count?",
        "In the whole box are {holds} now.",
    ),
    steps=(
        "In the box are {left}, {nameplate} and {added}, together {holds}.",
        "The nameplate allows {nameplate}, wherever it sits: {answer} too many.",
    ),
    tolerance=Tolerance(us=0.02, metric=0.5, because="a good charging scale reads to about that"),
)

ALL = (SWALLOW, DROPS, VACUUM, TOO_MANY)
