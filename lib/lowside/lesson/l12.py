"""Lesson 12: blends that glide."""

from __future__ import annotations

from functools import cache

from lowside import readings, refrigerants
from lowside.refrigerants.lines import WORTH_KNOWING

from . import hall, plant
from .card import JobCard
from .l12_tasks import MEAN, MISTAKE, SUBCOOLING, SUPERHEAT
from .model import MEMORY, OURS, PRACTICE, Lesson, Prediction, Source

BOX = "fish-freezer"
STEM_OUT = 0.5  # [K] of static superheat that is left when the stem is turned out to its end


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
        "Clamp beside the bulb, the valve's feeler on the suction line: clean metal, insulated "
        "over. Let it run steadily.",
        "Suction gauge, dew column, clamp: superheat. Less than gauge and clamp can err is no "
        "proof of any.",
        "Head gauge, bubble column, clamp: subcooling.",
        "Stem (adjusting screw): a quarter turn, then a quarter of an hour, then read again.",
        "Box air against the coil: use the mean, halfway from the pipe behind the valve to dew. No "
        "clamp there? Halfway from bubble to dew; that is a little colder.",
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
        "compressor. It cannot squeeze liquid: it can break.",
        "Some blends that glide burn (R454C, R455A: class A2L). Ventilate, no flame, no spark, "
        "and only tools made for them.",
        "Liquid refrigerant freezes skin and eyes: gloves and glasses.",
        "Nameplate, local code and the licence the work needs come before this page.",
    ),
    call=(
        "{stall}: {what} with {holds}, on {refrigerant}. {notice}\n\n"
        "A note hangs at the condensing unit: “Superheat {noted_before}. Far too high! Turned the "
        "stem out as far as it goes. Still {noted}. Ordered a bigger port.” No name. (The stem is "
        "the adjusting screw of the expansion valve: turned out, its spring presses less and the "
        "valve opens further. The port is the hole that all liquid must pass.)\n\n"
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
            "ASHRAE Standard 34 and AHRI 700 tables: data/checks/refrigerants.toml",
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
