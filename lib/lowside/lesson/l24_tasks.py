"""The tasks of lesson 24: which equaliser, ring against mesh, a gas charge's limit, the range."""

from __future__ import annotations

import math
from functools import cache

from lowside import kit, refrigerants

from . import l24_numbers, slips
from .tasks import Slip, Task
from .tolerance import Tolerance

PANEL = "One case of parts, one year"  # its title on the page

_COILS = ("R448A", "R449A", "R454C", "R404A", "R134a")
_FREEZERS = ("R404A", "R448A", "R449A")
_LOADS = tuple(1500.0 + 200.0 * step for step in range(24))  # [W] few, for each is solved
_BOX_AIR = 253.15, 255.15  # [K]
_HOT = 313.15  # [K]

KINDS = {
    "entering": "gauge_pressure",
    "leaving": "gauge_pressure",
    "dew_entering": "temperature",
    "dew_leaving": "temperature",
    "bubble_entering": "temperature",
    "drop": "pressure_difference",
    "lift": "opening",
    "angle": "angle",
    "opening": "opening",
    "ring": "opening",
    "sine": "number",
    "dry": "gauge_pressure",
    "spring": "pressure_difference",
    "load": "capacity",
    "box_temperature": "temperature",
    "hot": "temperature",
    "chosen": "port",
    "beyond": "port",
}


# ---------------------------------------------------------------- 1 which equaliser


def _draw_drop(random):
    fluid = refrigerants.get(random.choice(_COILS))
    leaving = random.uniform(248.0, 268.0)
    return {
        "refrigerant": fluid.name,
        "leaving": fluid.dew_pressure(leaving),
        "entering": fluid.dew_pressure(leaving + random.uniform(2.0, 5.0)),
    }


def _worth(values):
    fluid = refrigerants.get(values.refrigerant)
    entering, leaving = (
        float(fluid.dew_temperature(pressure)) for pressure in (values.entering, values.leaving)
    )
    return {
        "dew_entering": entering,
        "dew_leaving": leaving,
        "bubble_entering": float(fluid.bubble_temperature(values.entering)),
        "drop": values.entering - values.leaving,
        "answer": entering - leaving,
    }


def _mixed_columns(values, show):
    if not refrigerants.get(values.refrigerant).has_glide:
        return None
    return values.bubble_entering - values.dew_leaving


EQUALISER = Task(
    key="equaliser",
    question=(
        "{refrigerant}: a gauge where the coil begins says {entering}, one where it ends says "
        "{leaving}. Your pressure-temperature card has dew {dew_entering} and {dew_leaving} for "
        "them. How many degrees of boiling temperature does the coil lose? (That decides the "
        "equaliser.)"
    ),
    draw=_draw_drop,
    kinds=KINDS,
    solve=_worth,
    kind="temperature_difference",
    slips=(
        Slip(
            "pressure for degrees",
            lambda values, show: show.si(
                show.value(values.drop, "pressure_difference"), "temperature_difference"
            ),
            "That is the drop in pressure. What counts at the bulb is what it is worth in degrees: "
            "look both pressures up.",
        ),
        Slip(
            "two columns mixed",
            _mixed_columns,
            "That mixes the bubble column with the dew column. Take both from the same one.",
        ),
        slips.sign_swapped(),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
    ),
    hints=(
        "The refrigerant boils a little colder at the end of the coil than at its beginning.",
        "Both gauges have their dew temperature on the card. Subtract the one at the end from the "
        "one at the beginning.",
    ),
    steps=(
        "Where the coil begins dew is {dew_entering}, where it ends {dew_leaving}.",
        "The coil loses {answer}. An internal equaliser would add about that to the superheat.",
    ),
)


# ---------------------------------------------------------------- 2 ring against mesh


def _draw_ring(random):
    strainer = random.choice(kit.the_kit().strainers[1:])
    return {
        "lift": random.uniform(0.05e-3, 0.2e-3),
        "angle": math.radians(random.choice((20.0, 25.0, 30.0))),
        "mesh": str(strainer.mesh),
        "opening": strainer.opening,
    }


def _ring(values):
    ring = values.lift * math.sin(values.angle)
    return {"ring": ring, "sine": math.sin(values.angle), "answer": values.opening / ring}


MESH = Task(
    key="mesh",
    question=(
        "At its least load a valve holds its pin {lift} off the seat. The pin tapers {angle} from "
        "its axis, so the ring between pin and seat is as wide as the lift times the sine of "
        "{angle}, {sine}. The strainer is mesh No. {mesh}: its openings measure {opening}. How "
        "many times as wide as the ring is an opening of the strainer?"
    ),
    draw=_draw_ring,
    kinds=KINDS,
    solve=_ring,
    kind="number",
    slips=(
        Slip(
            "lift for ring",
            lambda values, show: values.opening / values.lift,
            "That compares the opening with the lift. The pin is a cone: the ring is narrower than "
            "the lift, by {sine}.",
        ),
        Slip(
            "upside down",
            lambda values, show: values.ring / values.opening,
            "That is the ring over the opening. The question asks for the opening over the ring.",
        ),
        Slip(
            "times for divided",
            lambda values, show: values.opening * values.sine / values.lift,
            "The sine makes the ring narrower, and so the ratio larger, not smaller.",
        ),
    ),
    hints=(
        "First the ring, then how often it fits into an opening.",
        "The ring measures {ring}. Divide {opening} by that.",
    ),
    steps=(
        "The ring is {lift} times {sine}, which makes {ring}.",
        "{opening} is {answer} times as wide: a grain that passes the strainer can hang in the "
        "ring.",
    ),
    tolerance=Tolerance(share=0.04, because="openings are woven no more exactly than that"),
    limits=(0.0, None),
)


# ---------------------------------------------------------------- 3 a gas charge's limit


def _draw_limit(random):
    fluid = refrigerants.get(random.choice(("R404A", "R448A", "R449A", "R290")))
    dry = random.uniform(254.0, 262.0)
    setting = random.uniform(2.5, 4.5)
    return {
        "refrigerant": fluid.name,
        "dry": fluid.dew_pressure(dry),
        "spring": fluid.dew_pressure(dry) - fluid.dew_pressure(dry - setting),
    }


LIMIT = Task(
    key="limit",
    question=(
        "{refrigerant}, a balanced port, a gas charge: in its bulb the last liquid is gone at "
        "{dry}, and above that the bulb hardly pushes any harder. The spring alone closes the "
        "valve against {spring}. At which suction pressure does the valve shut, however warm the "
        "bulb gets? (Leave aside how little the dry gas still rises.)"
    ),
    draw=_draw_limit,
    kinds=KINDS,
    solve=lambda values: {"answer": values.dry - values.spring},
    kind="gauge_pressure",
    slips=(
        Slip(
            "spring forgotten",
            lambda values, show: values.dry,
            "That is the bulb alone. The spring helps the evaporator to close the valve.",
        ),
        Slip(
            "spring on the wrong side",
            lambda values, show: values.dry + values.spring,
            "That puts the spring on the side of the bulb. It stands under the diaphragm, with the "
            "evaporator.",
        ),
        Slip(
            "spring alone",
            lambda values, show: values.spring + show.atmosphere,
            "That is the spring alone. The evaporator makes up what the bulb has on top of it.",
        ),
    ),
    hints=(
        "Above the diaphragm pushes the bulb; below it two things push back.",
        "Just at the point of shutting, suction and spring together are {dry} on the gauge. Take "
        "the spring away.",
    ),
    steps=(
        "Bulb {dry} against suction and spring {spring}.",
        "At a suction of {answer} they balance: above it the valve stays shut.",
    ),
)


# ---------------------------------------------------------------- 4 the range


def _draw_range(random):
    while True:
        drawn = {
            "refrigerant": random.choice(_FREEZERS),
            "load": random.choice(_LOADS),
            "box_temperature": random.choice(_BOX_AIR),
            "hot": _HOT,
        }
        smallest, largest, _ = _sizes(**drawn)
        if smallest < largest:
            return drawn


@cache
def _sizes(refrigerant, load, box_temperature, hot):
    """Smallest and largest port that meet every corner, and the next one beyond [m]."""
    job = {
        "refrigerant": refrigerant,
        "load": load,
        "box_temperature": box_temperature,
        "hot": hot,
    }
    choice = kit.choose(kit.Job(**l24_numbers.conditions() | job))
    chosen = choice.cartridge
    meeting = [
        part.port
        for part, met in zip(choice.best.cartridges, choice.best.meets, strict=True)
        if met and part.construction == chosen.construction
    ]
    largest = max(meeting, default=chosen.port)
    larger = [size for size in kit.the_kit().sizes if size > largest]
    return chosen.port, largest, min(larger, default=largest)


def _largest(values):
    job = (values.refrigerant, values.load, values.box_temperature, values.hot)
    chosen, answer, beyond = _sizes(*job)
    return {"chosen": chosen, "beyond": beyond, "answer": answer}


RANGE = Task(
    key="range",
    question=(
        f"Go back to the panel “{PANEL}”, press Reset, and set it to "
        "{refrigerant}, design load {load}, box air {box_temperature}, condensing on the hottest "
        "day {hot}; leave the rest as it comes. The kit takes the smallest port that meets every "
        "corner. Which is the largest port that meets them all?"
    ),
    draw=_draw_range,
    kinds=KINDS,
    solve=_largest,
    kind="port",
    slips=(
        Slip(
            "the smallest",
            lambda values, show: values.chosen,
            "That is the one the kit takes, the smallest that will do. Look further down the "
            "column of verdicts.",
        ),
        Slip(
            "one too far",
            lambda values, show: None if values.beyond == values.answer else values.beyond,
            "One row too far: that size has a cross in one of its columns.",
        ),
    ),
    hints=(
        "Read down the verdicts, past the row in the frame.",
        "Rows that “would do” have no cross in any column. The last of them is yours.",
    ),
    steps=(
        "The kit takes {chosen}. Below it in the picture come the rows that would do as well.",
        "The last of them is {answer}; the next has a cross.",
    ),
    tolerance=Tolerance(share=0.05, because="the sizes of the kit lie further apart than that"),
)

ALL = (EQUALISER, MESH, LIMIT, RANGE)
