"""The tasks of lesson 26: a tag against a reading, a hidden drop, which job first, a route."""

from __future__ import annotations

from lowside import refrigerants, units

from . import slips
from .tasks import Slip, Task
from .tolerance import Tolerance

MINUTE = units.HOUR / 60.0  # [s]
SIZES = 7

_FLUIDS = ("R134a", "R513A", "R404A", "R448A", "R449A", "R290")

KINDS = {
    "reliability": "ratio",
    "other": "ratio",
    "head": "gauge_pressure",
    "liquid": "temperature",
    "bubble": "gauge_pressure",
    "dew": "gauge_pressure",
    "strainer": "minutes",
    "opening": "minutes",
    "share": "ratio",
    "saved": "minutes",
    "writing": "minutes",
    "gain": "minutes",
}


# ---------------------------------------------------------------- 1 a tag against a reading


def _draw_tag(random):
    return {
        "reliability": random.randint(80, 96) / 100.0,
        "times": str(random.randint(20, 90)),
    }


def _weighed(values):
    other = (1.0 - values.reliability) / (SIZES - 1)
    one, two = 100.0 * values.reliability, 100.0 * other * float(values.times)
    return {
        "other": other,
        "one": f"{one:.0f}",
        "two": f"{two:.0f}",
        "answer": one / (one + two),
    }


TAG = Task(
    key="tag",
    question=(
        "In this hall {reliability} of the tags are right, and where one is wrong each of the six "
        "other sizes is as likely as the next. A tag says 0.8. What you read is {times} times as "
        "likely with 0.63 inside as with 0.8; every other size is out of the question. How likely "
        "is it now that the tag is right?"
    ),
    draw=_draw_tag,
    kinds=KINDS,
    solve=_weighed,
    kind="ratio",
    slips=(
        Slip(
            "reading alone",
            lambda values, show: 1.0 / (1.0 + float(values.times)),
            "That trusts the reading alone, as if there were no tag. The tag counts too: weigh "
            "each size by how likely it was before.",
        ),
        Slip(
            "tag alone",
            lambda values, show: values.reliability,
            "That is what you knew before the reading. It moved something.",
        ),
        Slip(
            "six wrong sizes as one",
            lambda values, show: (
                values.reliability
                / (values.reliability + (1.0 - values.reliability) * float(values.times))
            ),
            "That gives all the wrong tags to 0.63. They are shared among six sizes; 0.63 gets a "
            "sixth of them.",
        ),
        Slip(
            "the other one",
            lambda values, show: 1.0 - values.answer,
            "That is how likely 0.63 is. Asked is the size on the tag.",
        ),
    ),
    hints=(
        "Think of many such valves with such tags. How many have 0.8 inside, and how many 0.63?",
        "Give 0.8 its share of the tags and 0.63 a sixth of the wrong ones; multiply the second by "
        "what the reading favours it; then see what share of the two the first one is.",
    ),
    steps=(
        "Before the reading: 0.8 has {reliability}, 0.63 a sixth of the rest, {other}.",
        "The reading multiplies the second by {times}: {one} parts stand against {two}.",
        "The share of 0.8 is {answer}.",
    ),
    tolerance=Tolerance(us=2.0, metric=2.0, because="that is within two points"),
)


# ---------------------------------------------------------------- 2 a hidden drop


def _draw_hidden(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    condensing = random.uniform(309.0, 321.0)
    head = fluid.dew_pressure(condensing)
    subcooling = random.uniform(6.0, 14.0)
    return {
        "refrigerant": fluid.name,
        "head": head,
        "liquid": fluid.bubble_temperature(head) - subcooling,
    }


def _hidden(values):
    fluid = refrigerants.get(values.refrigerant)
    bubble = float(fluid.bubble_pressure(values.liquid))
    return {
        "bubble": bubble,
        "dew": float(fluid.dew_pressure(values.liquid)),
        "answer": values.head - bubble,
    }


def _by_dew(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.head - values.dew if fluid.has_glide else None


HIDDEN = Task(
    key="hidden",
    question=(
        "{refrigerant}: the head gauge says {head}, and the clamp before the strainer {liquid}. "
        "Your pressure-temperature card has bubble {bubble} and dew {dew} for that clamp. Behind "
        "the strainer the second clamp reads the same. How much pressure may the strainer take "
        "without the clamps telling you?"
    ),
    draw=_draw_hidden,
    kinds=KINDS,
    solve=_hidden,
    kind="pressure_difference",
    slips=(
        Slip(
            "dew for bubble",
            _by_dew,
            "That takes the dew column. Liquid begins to boil at its bubble point.",
        ),
        Slip(
            "nothing",
            lambda values, show: 0.0,
            "Equal clamps do not mean equal pressure. Until the liquid boils, its temperature "
            "hardly answers to pressure.",
        ),
        Slip(
            "bubble itself",
            lambda values, show: values.bubble - show.atmosphere,
            "That is the pressure at which the liquid would boil. How far is the head above it?",
        ),
        slips.sign_swapped(),
    ),
    hints=(
        "How far can the pressure fall before this liquid begins to boil?",
        "Look up at which pressure liquid of the clamp's temperature boils, and take that from the "
        "head.",
    ),
    steps=(
        "Liquid at {liquid} boils at {bubble}.",
        "From {head} down to there are {answer}: so much can be lost and nothing felt.",
    ),
)


# ---------------------------------------------------------------- 3 which job first


def _draw_first(random):
    opening = random.randrange(120, 245, 5)
    strainer = random.randrange(25, 65, 5)
    return {"opening": opening * MINUTE, "strainer": strainer * MINUTE}


def _even(values):
    share = values.strainer / values.opening
    return {"share": share, "answer": 1.0 - share}


FIRST = Task(
    key="first",
    question=(
        "A box is short of liquid: either the port is too small, or the strainer is plugged. To "
        "open the valve takes {opening}, and then the strainer is cleaned along the way. To pull "
        "the strainer alone takes {strainer}; if it was the port after all, you open the valve on "
        "top of that. Counting minutes only: how likely must the port be, before opening at once "
        "is the better bet?"
    ),
    draw=_draw_first,
    kinds=KINDS,
    solve=_even,
    kind="ratio",
    slips=(
        Slip(
            "upside down",
            lambda values, show: values.share,
            "That is how likely the strainer must be for its job to pay. Asked is the port.",
        ),
        Slip(
            "a coin",
            lambda values, show: 0.5,
            "Even odds would be right if both jobs took the same time. They do not.",
        ),
        Slip(
            "strainer comes free",
            lambda values, show: values.opening / (values.opening + values.strainer),
            "That compares one job with the other. But whoever pulls the strainer first may have "
            "to do both.",
        ),
    ),
    hints=(
        "Write down what each bet takes if the port is the cause, and if it is not.",
        "Strainer first takes its own time always, and the opening on top whenever it was the "
        "port. Opening at once takes its time always. Set the two equal.",
    ),
    steps=(
        "Strainer first: {strainer}, and {opening} more in the share of cases when it was the "
        "port. Opening at once: {opening}.",
        "They are even when what is saved, {opening} in the other cases, is worth {strainer}: "
        "that share is {share}.",
        "The port must be likelier than {answer}.",
    ),
    tolerance=Tolerance(us=1.5, metric=1.5, because="that is a point and a half"),
)


# ---------------------------------------------------------------- 4 a route


def _draw_route(random):
    return {
        "boxes": str(random.randint(12, 60)),
        "calls": random.choice(("0.25", "0.5", "0.75", "1.5")),
        "saved": random.choice((15, 20, 25, 30, 40)) * MINUTE,
        "writing": random.choice((2, 3, 4, 5)) * MINUTE,
    }


def _in_a_year(values):
    calls = float(values.boxes) * float(values.calls)
    gain = values.saved - values.writing
    return {"all": f"{calls:g}", "gain": gain, "answer": calls * gain}


ROUTE = Task(
    key="route",
    question=(
        "A route has {boxes} valves. On each one the feed is in doubt {calls} times a year. A tag "
        "that can be trusted saves {saved} on such a call, and after every call you write a new "
        "one, which takes {writing}. What do tags save in a year?"
    ),
    draw=_draw_route,
    kinds=KINDS,
    solve=_in_a_year,
    kind="hours",
    slips=(
        Slip(
            "writing left out",
            lambda values, show: float(values.all) * values.saved,
            "That leaves out the time for the writing.",
        ),
        Slip(
            "every box every year",
            lambda values, show: float(values.boxes) * values.gain,
            "That has one call on every box. How many are there in a year?",
        ),
        Slip(
            "minutes for hours",
            lambda values, show: 60.0 * values.answer,
            "That number is right in minutes; written as hours it is sixty times too many.",
        ),
    ),
    hints=(
        "How many calls a year, and what is left of each saving?",
        "Valves times calls a year; saving less writing; multiply, and write it in hours.",
    ),
    steps=(
        "{boxes} valves with {calls} calls make {all} calls a year.",
        "Each saves {saved} less {writing}: {gain}.",
        "Together {answer}.",
    ),
    tolerance=Tolerance(us=0.1, metric=0.1, share=0.01, because="that is rounding"),
)

ALL = (TAG, HIDDEN, FIRST, ROUTE)
