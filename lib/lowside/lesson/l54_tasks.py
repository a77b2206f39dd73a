"""The tasks of lesson 54: food on the clock, grams in hoses, and looking before opening."""

from __future__ import annotations

import math

from lowside import refrigerants, units

from .tasks import Slip, Task
from .tolerance import Tolerance

KINDS = {
    "begun": "minutes",
    "spent": "minutes",
    "repair": "minutes",
    "limit": "minutes",
    "bore": "length",
    "length": "length",
    "head": "gauge_pressure",
    "liquid": "charge",
    "full": "charge",
    "look": "minutes",
    "opening": "minutes",
    "chance": "ratio",
    "saved": "minutes",
}
MINUTE = Tolerance(us=1.0, metric=1.0, because="nobody plans closer than a minute")
LIMIT = units.to_si(240.0, "min")


def _draw_clock(random):
    return {
        "begun": units.to_si(random.randint(4, 12) * 5, "min"),
        "spent": units.to_si(random.randint(3, 9) * 5, "min"),
        "repair": units.to_si(random.randint(10, 14) * 5, "min"),
    }


def _clock(values):
    return {"limit": LIMIT, "answer": LIMIT - values.begun - values.spent - values.repair}


CLOCK = Task(
    key="clock",
    question=(
        "The food was already too warm for {begun} when you came. You have been there for "
        "{spent}, and it still is. The repair, from switching off to leaving, takes {repair}. How "
        "many minutes are left to find the fault, if the food may be too warm for four hours?"
    ),
    draw=_draw_clock,
    kinds=KINDS,
    solve=_clock,
    kind="minutes",
    slips=(
        Slip(
            "arrival as zero",
            lambda values, show: values.answer + values.begun,
            "That starts the clock when you came. The food was too warm before.",
        ),
        Slip(
            "repair forgotten",
            lambda values, show: values.answer + values.repair,
            "That leaves no time for the repair itself: the food warms while the box is open.",
        ),
        Slip(
            "spent forgotten",
            lambda values, show: values.answer + values.spent,
            "That forgets the time that you have been there already.",
        ),
    ),
    hints=(
        "Add up all the time in which the food is too warm: before, so far, and during the repair.",
        "Four hours are {limit}. Take {begun}, {spent} and {repair} off.",
    ),
    steps=(
        "Four hours are {limit}.",
        "Before you came {begun}, since then {spent}, the repair {repair}.",
        "What is left: {answer}.",
    ),
    tolerance=MINUTE,
)


def _draw_hose(random):
    return {
        "bore": random.choice((4.0e-3, 4.8e-3, 6.0e-3)),
        "length": random.choice((0.9, 1.2, 1.5, 1.8)),
        "head": units.STANDARD_ATMOSPHERE + random.uniform(8e5, 13e5),
    }


def _volume(values):
    return 0.25 * math.pi * values.bore**2 * values.length


def _hose(values):
    there = refrigerants.get("R290").saturation(values.head)
    volume = _volume(values)
    full = 2.0 * volume * float(there.liquid_density)
    return {
        "full": full,
        "answer": volume * float(there.liquid_density),
        "liquid": 4.0 * volume * float(there.liquid_density),
        "gas": volume * float(there.vapour_density),
    }


HOSE = Task(
    key="hose",
    question=(
        "A hose of {length}, {bore} wide inside, hangs on the liquid line of a propane box and "
        "fills with liquid at a head gauge of {head}. How much of the charge does it hold?"
    ),
    draw=_draw_hose,
    kinds=KINDS | {"gas": "charge"},
    solve=_hose,
    kind="charge",
    slips=(
        Slip(
            "vapour",
            lambda values, show: values.gas,
            "That is a hose full of vapour. On the liquid line it fills with liquid.",
        ),
        Slip(
            "bore as radius",
            lambda values, show: values.liquid,
            "That takes the bore for the radius. Half of it is the radius.",
        ),
        Slip("two hoses", lambda values, show: values.full, "That is two such hoses."),
    ),
    hints=(
        "Volume of the hose times the density of the liquid at this pressure.",
        "The cross-section is a quarter of pi times the bore squared. Full of vapour "
        "the hose would hold only {gas}.",
    ),
    steps=(
        "The volume is a quarter of pi, times {bore} squared, times {length}.",
        "Times the density of the vapour it would be {gas}.",
        "Times the density of the liquid it is {answer}.",
    ),
    tolerance=Tolerance(share=0.04, because="a bore is known to a tenth"),
)


def _draw_look(random):
    return {
        "look": units.to_si(random.randint(3, 8), "min"),
        "opening": units.to_si(random.randint(16, 26) * 5, "min"),
        "chance": random.choice((0.25, 0.3, 0.4, 0.5, 0.6)),
    }


def _look(values):
    saved = (1.0 - values.chance) * values.opening
    return {"saved": saved, "answer": saved - values.look}


LOOK = Task(
    key="look",
    question=(
        "The drier is your first suspect, with a chance of {chance}. Changing it takes {opening}. "
        "Two clamps settle it for sure and take {look}. How many minutes do the clamps save on "
        "average, against changing the drier straight away?"
    ),
    draw=_draw_look,
    kinds=KINDS,
    solve=_look,
    kind="minutes",
    slips=(
        Slip(
            "wrong branch",
            lambda values, show: values.chance * values.opening - values.look,
            "That saves the opening where the drier is guilty. There it has to be opened anyway.",
        ),
        Slip(
            "clamps for nothing",
            lambda values, show: values.saved,
            "The clamps take {look} too, whatever they say.",
        ),
        Slip(
            "always saved",
            lambda values, show: values.opening - values.look,
            "That saves the opening every time. With a chance of {chance} it is needed.",
        ),
    ),
    hints=(
        "When do the clamps save you the whole opening? How often is that?",
        "On average they save {saved} of opening. They cost {look}.",
    ),
    steps=(
        "The drier is innocent in the rest, one less {chance}, of such calls.",
        "Then {opening} are saved: {saved} on average.",
        "Less {look} for the clamps: {answer}.",
    ),
    tolerance=MINUTE,
    limits=(None, None),
)

ALL = (CLOCK, HOSE, LOOK)
