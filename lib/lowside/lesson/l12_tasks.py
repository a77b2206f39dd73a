"""Tasks of lesson 12: the right column, what the wrong one costs, the mean of a coil."""

from __future__ import annotations

from lowside import refrigerants

from . import slips
from .tasks import Slip, Task

PANEL = "One set of readings, two columns"  # their titles on the page
GLIDES_PANEL = "Who glides, and how far"

BLENDS = ("R448A", "R449A", "R452A", "R454C", "R455A")

_HALVINGS = 60


def pressure_of_mean(fluid, mean):
    """Find the pressure at which bubble and dew have a given mean.

    Parameters
    ----------
    fluid : Refrigerant
        From ``refrigerants.get``.
    mean : float
        Halfway between bubble and dew. [K]

    Returns
    -------
    float
        Absolute. [Pa]
    """
    low, high = float(fluid.dew_pressure(mean)), float(fluid.bubble_pressure(mean))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if fluid.dew_temperature(middle) + fluid.bubble_temperature(middle) < 2 * mean:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _draw_suction(random):
    name = random.choice(BLENDS)
    dew = random.uniform(246.0, 268.0)
    return {
        "refrigerant": name,
        "suction_pressure": refrigerants.get(name).dew_pressure(dew),
        "line_temperature": dew + random.uniform(3.0, 11.0),
    }


def _superheat(values):
    dew = refrigerants.get(values.refrigerant).dew_temperature(values.suction_pressure)
    return {"dew": dew, "answer": values.line_temperature - dew}


def _superheat_from_bubble(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.line_temperature - fluid.bubble_temperature(values.suction_pressure)


SUPERHEAT = Task(
    key="superheat",
    question=(
        "{refrigerant}: the suction gauge says {suction_pressure}, the clamp on the suction line "
        "{line_temperature}. How much superheat is that?"
    ),
    draw=_draw_suction,
    kinds={
        "suction_pressure": "gauge_pressure",
        "line_temperature": "temperature",
        "dew": "temperature",
    },
    solve=_superheat,
    kind="temperature_difference",
    slips=(
        Slip(
            "bubble for dew",
            _superheat_from_bubble,
            "That counts from the bubble column. Superheat begins where the last drop boils away, "
            "and that is the dew point.",
        ),
        slips.reading_itself(
            "dew",
            "dew itself",
            "That is the dew point, where superheat starts. How far above it is the line?",
        ),
        slips.gauge_as_absolute(_superheat, "suction_pressure"),
        slips.barometer_twice(_superheat, "suction_pressure"),
        slips.sea_level_barometer(_superheat, "suction_pressure"),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last drop?",
        f"In the panel “{PANEL}” "
        "choose {refrigerant} and set the suction gauge: it shows both "
        "columns. Subtract the one of the last drop from what the clamp says; below zero, mind the "
        "signs.",
    ),
    steps=(
        "The suction line should hold vapour, so it is the dew column: {dew} at "
        "{suction_pressure}.",
        "{line_temperature} less {dew} leaves {answer} of superheat.",
    ),
)


def _draw_liquid(random):
    name = random.choice(BLENDS)
    bubble = random.uniform(301.0, 318.0)
    return {
        "refrigerant": name,
        "head_pressure": refrigerants.get(name).bubble_pressure(bubble),
        "liquid_temperature": bubble - random.uniform(2.0, 8.0),
    }


def _subcooling(values):
    bubble = refrigerants.get(values.refrigerant).bubble_temperature(values.head_pressure)
    return {"bubble": bubble, "answer": bubble - values.liquid_temperature}


def _subcooling_from_dew(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return fluid.dew_temperature(values.head_pressure) - values.liquid_temperature


SUBCOOLING = Task(
    key="subcooling",
    question=(
        "{refrigerant}: the head gauge says {head_pressure}, the clamp on the liquid line "
        "{liquid_temperature}. How much subcooling is that?"
    ),
    draw=_draw_liquid,
    kinds={
        "head_pressure": "gauge_pressure",
        "liquid_temperature": "temperature",
        "bubble": "temperature",
    },
    solve=_subcooling,
    kind="temperature_difference",
    slips=(
        Slip(
            "dew for bubble",
            _subcooling_from_dew,
            "That counts from the dew column. Subcooling begins where the last bubble is gone, "
            "and that is the bubble point.",
        ),
        slips.reading_itself(
            "bubble",
            "bubble itself",
            "That is the bubble point, from which subcooling counts. How far below it is the line?",
        ),
        slips.gauge_as_absolute(_subcooling, "head_pressure"),
        slips.barometer_twice(_subcooling, "head_pressure"),
        slips.sea_level_barometer(_subcooling, "head_pressure"),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last bubble?",
        f"In the panel “{PANEL}” "
        "choose {refrigerant} and set the head gauge: it shows both "
        "columns. Subtract what the clamp says from the one of the last bubble.",
    ),
    steps=(
        "The liquid line should hold liquid, so it is the bubble column: {bubble} at "
        "{head_pressure}.",
        "{bubble} less {liquid_temperature} leaves {answer} of subcooling.",
    ),
)


def _draw_mistake(random):
    name = random.choice(BLENDS)
    fluid = refrigerants.get(name)
    pressure = fluid.dew_pressure(random.uniform(247.0, 269.0))
    return {
        "refrigerant": name,
        "suction_pressure": pressure,
        "noted": fluid.glide(pressure) + random.uniform(-3.0, 4.0),
    }


def _mistake(values):
    fluid = refrigerants.get(values.refrigerant)
    dew = fluid.dew_temperature(values.suction_pressure)
    bubble = fluid.bubble_temperature(values.suction_pressure)
    return {
        "dew": dew,
        "bubble": bubble,
        "glide": dew - bubble,
        "line_temperature": bubble + values.noted,
        "answer": values.noted - (dew - bubble),
    }


MISTAKE = Task(
    key="mistake",
    question=(
        "A tag says “{refrigerant}, suction {suction_pressure}, superheat set to {noted}”. It was "
        "read from the bubble column. How much superheat is there really? (Less than none is "
        "possible: write it with a minus.)"
    ),
    draw=_draw_mistake,
    kinds={
        "suction_pressure": "gauge_pressure",
        "noted": "temperature_difference",
        "dew": "temperature",
        "bubble": "temperature",
        "glide": "temperature_difference",
        "line_temperature": "temperature",
    },
    solve=_mistake,
    kind="temperature_difference",
    slips=(
        Slip(
            "the tag believed",
            lambda values, show: values.noted,
            "That is what the tag says. It counts from bubble, and superheat counts from dew: how "
            "far apart are the two at this pressure?",
        ),
        Slip(
            "glide added",
            lambda values, show: values.noted + values.glide,
            "The other way. Bubble lies below dew, so a superheat counted from bubble looks too "
            "big: the glide has to come off.",
        ),
        Slip(
            "glide alone",
            lambda values, show: values.glide,
            "That is the glide, the size of the mistake. What is left of the noted superheat?",
        ),
        Slip(
            "half the glide",
            lambda values, show: values.noted - values.glide / 2,
            "That takes off half the glide, as for the middle of the coil. Superheat counts from "
            "its end, the dew point: all of the glide comes off.",
        ),
        slips.sign_swapped(),
    ),
    hints=(
        "How far apart are the two columns at this pressure?",
        "What the clamp read has not changed: it is the bubble temperature and {noted} more. Count "
        f"the same clamp again from dew. The panel “{PANEL}” shows both columns.",
    ),
    steps=(
        "At {suction_pressure} bubble is {bubble} and dew is {dew}: a glide of {glide}.",
        "The clamp read {bubble} and {noted} more, which is {line_temperature}.",
        "Counted from dew that is {answer} of superheat. Around zero or below, liquid leaves the "
        "coil.",
    ),
)


def _draw_mean(random):
    return {
        "refrigerant": random.choice(("R448A", "R449A", "R454C", "R455A")),
        "mean": random.uniform(247.0, 268.0),
    }


def _mean(values):
    fluid = refrigerants.get(values.refrigerant)
    pressure = pressure_of_mean(fluid, values.mean)
    return {
        "dew": fluid.dew_temperature(pressure),
        "bubble": fluid.bubble_temperature(pressure),
        "answer": pressure,
    }


MEAN = Task(
    key="mean",
    question=(
        "A coil for {refrigerant} is meant to work at {mean} on average. All you have is a chart, "
        "so take halfway between bubble and dew. (A chart cannot know how much flashes at the "
        "valve; the mean of the coil itself, from behind the valve to dew, lies a little higher.) "
        "What must the suction gauge say?"
    ),
    draw=_draw_mean,
    kinds={"mean": "temperature", "dew": "temperature", "bubble": "temperature"},
    solve=_mean,
    kind="gauge_pressure",
    slips=(
        Slip(
            "dew alone",
            lambda values, show: refrigerants.get(values.refrigerant).dew_pressure(values.mean),
            "That puts the dew point at {mean}. Only the end of the coil would be so warm, all "
            "the rest colder.",
        ),
        Slip(
            "bubble alone",
            lambda values, show: refrigerants.get(values.refrigerant).bubble_pressure(values.mean),
            "That puts the bubble point at {mean}. Nowhere in the coil would it be so cold.",
        ),
        Slip(
            "absolute for gauge",
            lambda values, show: values.answer + values.atmosphere,
            "That is the absolute pressure. The gauge starts at the barometer, {atmosphere}, and "
            "shows that much less.",
        ),
    ),
    hints=(
        "Every pressure has two temperatures. For which pressure does {mean} lie halfway between "
        "its two?",
        f"In the panel “{GLIDES_PANEL}” "
        "choose {refrigerant} and slide the pressure: bubble and "
        "dew stand in its row. Add them and halve the sum. Too cold: more pressure; too warm: "
        "less.",
    ),
    steps=(
        "Wanted: bubble and dew at one pressure, with {mean} halfway between them.",
        "{bubble} and {dew} do that: at {answer}.",
    ),
)
