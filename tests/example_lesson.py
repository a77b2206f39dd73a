"""A small complete lesson, as the docstring of lowside.lesson describes it; used by tests only."""

from functools import cache

from lowside import lesson, refrigerants
from lowside.lesson import hall, slips

KINDS = {
    "suction_pressure": "gauge_pressure",
    "line_temperature": "temperature",
    "head_pressure": "gauge_pressure",
    "liquid_temperature": "temperature",
    "dew": "temperature",
    "bubble": "temperature",
    "difference": "temperature_difference",
    "box_temperature": "temperature",
}


def draw_suction(random):
    fluid = refrigerants.get("R448A")
    dew = random.uniform(245.0, 268.0)
    return {
        "refrigerant": "R448A",
        "suction_pressure": fluid.dew_pressure(dew),
        "line_temperature": dew + random.uniform(3.0, 12.0),
    }


def superheat(values):
    dew = refrigerants.get(values.refrigerant).dew_temperature(values.suction_pressure)
    return {"dew": dew, "answer": values.line_temperature - dew}


def superheat_from_bubble(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.line_temperature - fluid.bubble_temperature(values.suction_pressure)


SUPERHEAT = lesson.Task(
    key="superheat",
    question=(
        "{refrigerant}: the suction gauge says {suction_pressure}, the clamp on the suction line "
        "{line_temperature}. How much superheat is that?"
    ),
    draw=draw_suction,
    kinds=KINDS,
    solve=superheat,
    kind="temperature_difference",
    slips=(
        lesson.Slip(
            "bubble for dew",
            superheat_from_bubble,
            "That counts from the bubble column. Superheat starts where the last drop boils away, "
            "at the dew point.",
        ),
        slips.gauge_as_absolute(superheat, "suction_pressure"),
        slips.barometer_twice(superheat, "suction_pressure"),
        slips.sea_level_barometer(superheat, "suction_pressure"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last drop?",
        "Look up the dew point at {suction_pressure} and take it from the line temperature.",
    ),
    steps=(
        "The dew point of {refrigerant} at {suction_pressure} is {dew}.",
        "{line_temperature} less {dew} leaves {answer} of superheat.",
    ),
)


def draw_liquid(random):
    fluid = refrigerants.get("R448A")
    bubble = random.uniform(300.0, 318.0)
    return {
        "refrigerant": "R448A",
        "head_pressure": fluid.bubble_pressure(bubble),
        "liquid_temperature": bubble - random.uniform(2.0, 9.0),
    }


def subcooling(values):
    bubble = refrigerants.get(values.refrigerant).bubble_temperature(values.head_pressure)
    return {"bubble": bubble, "answer": bubble - values.liquid_temperature}


def subcooling_from_dew(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return fluid.dew_temperature(values.head_pressure) - values.liquid_temperature


SUBCOOLING = lesson.Task(
    key="subcooling",
    question=(
        "{refrigerant}: the head gauge says {head_pressure}, the clamp on the liquid line "
        "{liquid_temperature}. How much subcooling is that?"
    ),
    draw=draw_liquid,
    kinds=KINDS,
    solve=subcooling,
    kind="temperature_difference",
    slips=(
        lesson.Slip(
            "dew for bubble",
            subcooling_from_dew,
            "That counts from the dew column. Subcooling starts where the last bubble is gone.",
        ),
        slips.gauge_as_absolute(subcooling, "head_pressure"),
        slips.sign_swapped(),
    ),
    hints=(
        "Which column of the chart has to do with the last bubble?",
        "Look up the bubble point at {head_pressure} and take the line temperature from it.",
    ),
    steps=(
        "The bubble point of {refrigerant} at {head_pressure} is {bubble}.",
        "{bubble} less {liquid_temperature} leaves {answer} of subcooling.",
    ),
)


def draw_dew(random):
    fluid = refrigerants.get("R448A")
    return {
        "refrigerant": "R448A",
        "suction_pressure": fluid.dew_pressure(random.uniform(245.0, 275.0)),
    }


def glide(values):
    fluid = refrigerants.get(values.refrigerant)
    dew = fluid.dew_temperature(values.suction_pressure)
    bubble = fluid.bubble_temperature(values.suction_pressure)
    return {"dew": dew, "bubble": bubble, "answer": dew - bubble}


GLIDE = lesson.Task(
    key="glide",
    question="How wide is the glide of {refrigerant} at {suction_pressure}?",
    draw=draw_dew,
    kinds=KINDS,
    solve=glide,
    kind="temperature_difference",
    slips=(slips.difference_as_temperature(), slips.sign_swapped()),
    hints=("It is the distance between two columns.", "Dew point less bubble point."),
    steps=("The columns read {dew} and {bubble}.", "That is {answer} of glide."),
)


@cache
def quantities():
    box = hall.box("fish-freezer")
    return {
        "stall": box.stall,
        "box_temperature": (box.box_temperature, "temperature"),
        "glide": (
            refrigerants.get(box.refrigerant).glide(
                refrigerants.get(box.refrigerant).dew_pressure(box.evaporating_temperature)
            ),
            "temperature_difference",
        ),
    }


def which_column():
    fluid = refrigerants.get("R448A")
    return "more" if fluid.bubble_temperature(3e5) < fluid.dew_temperature(3e5) else "less"


LESSON = lesson.Lesson(
    number="12",
    title="Blends that glide",
    goals=("count superheat from the right column",),
    minutes=10,
    before=("10",),
    cautions=("Wear gloves and glasses where refrigerant can escape: it freezes skin and eyes.",),
    call="{stall}: the freezer stands at {box_temperature} and drips at the door.",
    predictions=(
        lesson.Prediction(
            key="column",
            question="You read superheat from the bubble column by mistake. Is it …",
            options={"more": "more than it really is", "less": "less than it really is"},
            outcome=which_column,
            because="The glide at this pressure is {glide}; all of it is added.",
        ),
    ),
    try_this=("Raise the suction pressure.", "Pick R404A.", "Halve the superheat."),
    tasks=(SUPERHEAT, SUBCOOLING, GLIDE),
    card=lesson.JobCard(
        title="Read superheat on a blend",
        tools=("Manifold or wireless gauges", "Clamp thermometer"),
        cautions=("Purge hoses so that nothing escapes.",),
        steps=("Let the box settle.", "Clamp to clean pipe near the bulb; {glide} is at stake."),
        quantities={"glide": (6.0, "temperature_difference")},
        notice="An invented hall.",
    ),
    sources=(
        lesson.Source("dew for superheat", "taught in every workshop we know", lesson.PRACTICE),
    ),
    leaves_out=("Pressure drop between gauge and clamp.",),
    next="14",
    quantities=quantities,
)
