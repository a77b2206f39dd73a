"""Lesson 12: blends that glide."""

from __future__ import annotations

from functools import cache

from lowside import readings, refrigerants
from lowside.refrigerants.lines import WORTH_KNOWING

from . import hall, plant, slips
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, Lesson, Prediction, Source
from .tasks import Slip, Task

BOX = "fish-freezer"
STEM_OUT = 0.5  # [K] of static superheat that is left when the stem is turned out to its end
BLENDS = ("R448A", "R449A", "R452A", "R454C", "R455A")

_HALVINGS = 60


@cache
def taken():
    """Read gauges and clamps on the box of the call, with the stem turned out.

    Returns
    -------
    readings.Readings
    """
    box = hall.box(BOX)
    return plant.run(box, STEM_OUT).readings(box.summer_ambient)


@cache
def as_built():
    """Read the same box as it was before anybody touched the stem.

    Returns
    -------
    readings.Readings
    """
    box = hall.box(BOX)
    return plant.run(box).readings(box.summer_ambient)


def fluid_of_the_call():
    """Give the refrigerant of the call.

    Returns
    -------
    Refrigerant
    """
    return refrigerants.get(hall.box(BOX).refrigerant)


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


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, fluid, now, before = hall.box(BOX), fluid_of_the_call(), taken(), as_built()
    meaning = readings.interpret(fluid, now)
    difference = "temperature_difference"
    found = {name: (getattr(now, name), kind) for name, kind in readings.KIND.items()}
    return found | {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": fluid.name,
        "notice": hall.hall().notice,
        "noted_before": (_from_bubble(before), difference),
        "noted": (_from_bubble(now), difference),
        "before": (
            fluid.superheat(before.suction_pressure, before.suction_temperature),
            difference,
        ),
        "superheat": (meaning.superheat, difference),
        "superheat_error": (meaning.superheat_error, difference),
        "subcooling": (meaning.subcooling, difference),
        "subcooling_from_dew": (meaning.condensing_dew - now.liquid_temperature, difference),
        "glide": (float(fluid.glide(now.suction_pressure)), difference),
        "head_glide": (float(fluid.glide(now.head_pressure)), difference),
        "dew": (meaning.evaporating_dew, "temperature"),
        "bubble": (float(fluid.bubble_temperature(now.suction_pressure)), "temperature"),
        "worth_knowing": (WORTH_KNOWING, difference),
        "model_low": (0.1, difference),
        "model_high": (0.6, difference),
    }


def _from_bubble(read):
    bubble = fluid_of_the_call().bubble_temperature(read.suction_pressure)
    return float(read.suction_temperature - bubble)


def real_superheat():
    """Tell what is left of the noted superheat when it is counted from dew.

    Returns
    -------
    str
        Key of the option that comes true.
    """
    now = taken()
    real = fluid_of_the_call().superheat(now.suction_pressure, now.suction_temperature)
    share = real / _from_bubble(now)
    if share > 1.1:
        return "more"
    if share > 0.9:
        return "same"
    return "two thirds" if share > 0.5 else "a third"


def subcooling_from_the_wrong_column():
    """Tell how subcooling looks in the dew column.

    Returns
    -------
    str
        Key of the option that comes true.
    """
    glide = fluid_of_the_call().glide(taken().head_pressure)
    if abs(glide) < WORTH_KNOWING:
        return "same"
    return "more" if glide > 0.0 else "less"


# ------------------------------------------------------------------ tasks


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
        slips.gauge_as_absolute(_superheat, "suction_pressure"),
        slips.barometer_twice(_superheat, "suction_pressure"),
        slips.sea_level_barometer(_superheat, "suction_pressure"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last drop?",
        "The dew point at {suction_pressure} is {dew}. How far above it is the line?",
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
        slips.gauge_as_absolute(_subcooling, "head_pressure"),
        slips.barometer_twice(_subcooling, "head_pressure"),
        slips.sea_level_barometer(_subcooling, "head_pressure"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last bubble?",
        "The bubble point at {head_pressure} is {bubble}. How far below it is the line?",
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
        "Bubble is {bubble}, dew is {dew}. The clamp must have read {line_temperature}.",
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
        "A coil for {refrigerant} is meant to work at {mean} on average, taken halfway between "
        "bubble and dew. What must the suction gauge say?"
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
        "Bubble and dew must lie to the left and right of {mean}, equally far. Slide the pressure "
        "until they do.",
        "They come out at {bubble} and {dew}. At which pressure?",
    ),
    steps=(
        "Wanted: bubble and dew at one pressure, with {mean} halfway between them.",
        "{bubble} and {dew} do that: at {answer}.",
    ),
)

# ------------------------------------------------------------------ card

CARD = JobCard(
    title="Set and check superheat on a blend that glides",
    tools=(
        "Gauges, clamp thermometers",
        "Chart or app with two columns for this blend",
        "Insulation, pen, tag",
        "Leak detector made for this refrigerant",
    ),
    cautions=(
        "R454C and R455A burn (class A2L): ventilate, no flame, no spark, tools made for it.",
        "Liquid freezes skin and eyes: gloves and glasses. Lock the power out before hands go in.",
        "No superheat left means liquid on its way to the compressor: act at once.",
    ),
    steps=(
        "Read the nameplate. Does this blend glide?",
        "Mark your chart: DEW for superheat, BUBBLE for subcooling. “Vapour” and “liquid” mean "
        "the same.",
        "Clamp beside the bulb: clean metal, insulated over. Let it run steadily.",
        "Suction gauge, dew column, clamp: superheat. Less than gauge and clamp can err is no "
        "proof of any.",
        "Head gauge, bubble column, clamp: subcooling.",
        "Stem: a quarter turn, then a quarter of an hour, then read again.",
        "Box air against the coil: use the mean, halfway from the pipe behind the valve to dew.",
        "Charge from the liquid side of the cylinder, throttled slowly, by weight.",
        "After a big leak do not top up: recover and weigh in fresh. The rest may have another "
        "composition.",
        "Tag: refrigerant, pressure, superheat “from dew”, date.",
    ),
    notice=("Turns, waiting time, charging and topping up: common practice, no published source."),
)


LESSON = Lesson(
    number="12",
    title="Blends that glide",
    goals=(
        "say why one pressure has two temperatures in a blend, and which is which",
        "count superheat from dew and subcooling from bubble, whatever the chart calls them",
        "tell how much a reading from the wrong column is off, and what that does to a box",
        "choose the suction pressure that gives a coil the mean temperature it was meant for",
    ),
    minutes=40,
    before=("10",),
    cautions=(
        "Superheat read too big leads to a valve opened too far, and that sends liquid to the "
        "compressor. It cannot squeeze liquid: it breaks.",
        "Some blends that glide burn (R454C, R455A: class A2L). Ventilate, no flame, no spark, "
        "and only tools made for them.",
        "Liquid refrigerant freezes skin and eyes: gloves and glasses.",
        "Nameplate, local code and the licence the work needs come before this page.",
    ),
    call=(
        "{stall}: {what} with {holds}, on {refrigerant}. {notice}\n\n"
        "A note hangs at the condensing unit: “Superheat {noted_before}. Far too high! Turned the "
        "stem out as far as it goes. Still {noted}. Ordered a bigger port.” No name.\n\n"
        "The freezer holds its temperature. You put gauges and clamps on before anybody fits "
        "anything.\n\n“Read it yourself,” says the senior tech. “And mind which column.”"
    ),
    readings=(
        ("Suction gauge", "{suction_pressure}"),
        ("Suction-line clamp", "{suction_temperature}"),
        ("Head gauge", "{head_pressure}"),
        ("Liquid-line clamp", "{liquid_temperature}"),
        ("Air in the box", "{box_temperature}"),
        ("Air at condenser", "{ambient_temperature}"),
    ),
    predictions=(
        Prediction(
            key="what is left",
            question=(
                "The note says the superheat is still {noted}. How much is there really, with the "
                "readings above?"
            ),
            options={
                "more": "more than the note says",
                "same": "just what the note says",
                "two thirds": "less: something between half and all of it",
                "a third": "less than half of it",
            },
            outcome=real_superheat,
            because=(
                "At {suction_pressure} the chart has two entries: bubble {bubble} and dew {dew}, "
                "{glide} apart. The note was read from bubble. Counted from dew it is {superheat}, "
                "and gauge and clamp together may err by {superheat_error}. Before the stem was "
                "turned it was {before}: the valve was never too small. Had the bubble column been "
                "brought down to that healthy figure, liquid would be leaving the coil."
            ),
        ),
        Prediction(
            key="the other side",
            question=(
                "Now somebody reads the subcooling of this box from the dew column by mistake. "
                "Compared with what is there, will it look like more, like the same, or like less?"
            ),
            options={"more": "like more", "same": "like the same", "less": "like less"},
            outcome=subcooling_from_the_wrong_column,
            because=(
                "Dew lies above bubble, {head_glide} at this head. So {subcooling} looks like "
                "{subcooling_from_dew}, and a liquid line full of bubbles can pass for a full one."
            ),
        ),
    ),
    try_this=(
        "Lower the clamp on the suction line until the superheat from dew is gone. What does the "
        "wrong column still promise?",
        "Choose R290, then R455A. Who needs one column, who needs two?",
        "Raise the liquid-line clamp to the bubble point, then a little further: is that still a "
        "full liquid line? What would the dew column say?",
    ),
    tasks=(SUPERHEAT, SUBCOOLING, MISTAKE, MEAN),
    card=CARD,
    sources=(
        Source(
            "Properties of the blends",
            "CoolProp's mixture models, tabulated in data/properties; tests/bench/properties.py "
            "prints how far the tables stray from them",
            OURS,
        ),
        Source(
            "Published boiling ranges to compare with",
            "ASHRAE Standard 34 and AHRI 700 tables: tests/reference/refrigerants.toml",
            MEMORY,
        ),
        Source(
            "Superheat counts from dew, subcooling from bubble; mean temperature halfway; charging "
            "as liquid; not topping up after a big leak; turning the stem by quarters",
            "workshop habit",
            PRACTICE,
        ),
        Source("Class A2L of R454C and R455A", "ASHRAE Standard 34", MEMORY),
        Source(
            "Readings of the call",
            "solved from valve, coil and compressor of an invented box (lowside.system), with its "
            "spring at the end of the stem",
            OURS,
        ),
    ),
    leaves_out=(
        "The mixture models stand {model_low} to {model_high} from published boiling points. Two "
        "good charts of one blend may differ by as much.",
        "Pressure lost along the coil. It lowers the temperature on the way and hides part of the "
        "glide.",
        "How far along the pipe a zone reaches: the figure shows heat, and its zones are not to "
        "scale.",
        "A charge whose composition has shifted after a leak. Then no printed column is right.",
        "A valve with so little superheat may hunt. That is for lesson 28; here it stands still.",
    ),
    next="14",
    quantities=quantities,
)
