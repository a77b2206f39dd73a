"""The tasks of lesson 30: heat along a stub, time to the limit, water in a rag, a filler."""

from __future__ import annotations

from lowside import joint, units

from .tasks import Slip, Task
from .tolerance import Tolerance

_LIMIT_C = joint.data()["practice"]["body_limit_C"]
_INCHES_PER_FOOT, _MILLIMETRES_PER_METRE = 12.0, 1000.0
_OUNCES_PER_POUND, _GRAMS_PER_KILOGRAM = 16.0, 1000.0
_PHOSPHORUS = "BCuP-4"
_PAIRS = (
    ("copper", "stainless steel"),
    ("brass", "stainless steel"),
    ("copper", "steel"),
    ("copper", "brass"),
    ("copper", "copper"),
)

KINDS = {
    "length": "length",
    "section": "area",
    "hot": "temperature",
    "cold": "temperature",
    "conducts": "conductivity",
    "difference": "temperature_difference",
    "mass": "mass",
    "start": "temperature",
    "limit": "temperature",
    "heat": "heat_flow",
    "takes": "specific_heat",
    "rise": "temperature_difference",
    "water": "mass",
    "boils": "temperature",
    "water_takes": "specific_heat",
    "steam": "enthalpy",
    "warming": "time",
    "solidus": "temperature",
    "liquidus": "temperature",
    "margin": "temperature_difference",
}

_BECAUSE = "rounding along the way makes about that"


# ---------------------------------------------------------------- 1 heat along a stub


def _draw_along(random):
    metal, tube = joint.metal("copper"), random.choice(joint.sizes()[:4])
    return {
        "length": random.uniform(0.020, 0.060),
        "section": tube.section,
        "hot": units.to_si(random.uniform(620.0, 780.0), "degC"),
        "cold": units.to_si(random.uniform(40.0, 110.0), "degC"),
        "conducts": metal.conductivity,
    }


def _along(values):
    difference = values.hot - values.cold
    flows = values.conducts * values.section * difference / values.length
    return {"difference": difference, "answer": flows}


def _lengths_mixed(values, show):
    return values.answer * (_INCHES_PER_FOOT if show.system == "us" else _MILLIMETRES_PER_METRE)


def _as_hot_as_the_joint(values, show):
    number = show.si(show.value(values.hot, "temperature"), "temperature_difference")
    return values.conducts * values.section * number / values.length


ALONG = Task(
    key="along",
    question=(
        "A copper stub is {length} long; cut across, it has {section} of metal. Its end at the "
        "joint is at {hot}, its end at the valve at {cold}. Copper conducts {conducts}. How much "
        "heat flows into the valve, if it stays like that?"
    ),
    draw=_draw_along,
    kinds=KINDS,
    solve=_along,
    kind="heat_flow",
    slips=(
        Slip(
            "stainless for copper",
            lambda values, show: (
                values.answer
                * joint.metal("stainless steel").conductivity
                / joint.metal("copper").conductivity
            ),
            "That would be stainless. Copper lets far more through.",
        ),
        Slip(
            "lengths mixed",
            _lengths_mixed,
            "That mixes units of length: the conductivity is for a whole foot or metre, length and "
            "section are in smaller ones.",
        ),
        Slip(
            "no difference taken",
            _as_hot_as_the_joint,
            "That takes the temperature of the joint. Heat is driven by the difference between "
            "the two ends.",
        ),
    ),
    hints=(
        "Conductivity, times section, times difference, over length.",
        "The difference is {difference}. Mind the units of length: all of them alike.",
    ),
    steps=(
        "{hot} less {cold} is {difference}.",
        "{conducts} times {section} times {difference} over {length} is {answer}.",
    ),
    tolerance=Tolerance(us=4.0, metric=1.0, share=0.06, because=_BECAUSE),
)


# ---------------------------------------------------------------- 2 time to the limit


def _draw_lumped(random):
    return {
        "mass": random.uniform(0.08, 0.28),
        "start": units.to_si(random.uniform(15.0, 30.0), "degC"),
        "limit": units.to_si(_LIMIT_C, "degC"),
        "heat": random.uniform(130.0, 250.0),
        "takes": joint.data()["body"]["heat_capacity_J_kgK"],
    }


def _lumped(values):
    rise = values.limit - values.start
    return {"rise": rise, "answer": values.mass * values.takes * rise / values.heat}


def _counted_from_zero(values, show):
    number = show.si(show.value(values.limit, "temperature"), "temperature_difference")
    return values.answer * number / values.rise


def _masses_mixed(values, show):
    return values.answer * (_OUNCES_PER_POUND if show.system == "us" else _GRAMS_PER_KILOGRAM)


LUMPED = Task(
    key="lumped",
    question=(
        "A bare valve body of {mass} of brass starts at {start}. Brass takes {takes}. Through its "
        "stub flows a steady {heat}. After how many seconds is the body at {limit}?"
    ),
    draw=_draw_lumped,
    kinds=KINDS,
    solve=_lumped,
    kind="time",
    slips=(
        Slip(
            "counted from zero",
            _counted_from_zero,
            "That warms the body from zero. It starts at {start}: count the rise.",
        ),
        Slip(
            "masses mixed",
            _masses_mixed,
            "That mixes units of mass: the specific heat is for a whole pound or kilogram, the "
            "body is given in smaller ones.",
        ),
    ),
    hints=(
        "Heat needed is mass times specific heat times rise; divide it by the heat that flows.",
        "The rise is {rise}. An hour has 3600 seconds.",
    ),
    steps=(
        "From {start} to {limit} it is {rise}.",
        "{mass} times {takes} times {rise}, over {heat}, is {answer}.",
    ),
    tolerance=Tolerance(us=1.0, metric=1.0, share=0.06, because=_BECAUSE),
)


# ---------------------------------------------------------------- 3 water in a rag


def _draw_water(random):
    return {
        "water": random.uniform(0.03, 0.12),
        "start": units.to_si(random.uniform(10.0, 25.0), "degC"),
        "boils": units.to_si(100.0, "degC"),
        "water_takes": joint.HEAT_OF_WATER,
        "steam": joint.HEAT_OF_BOILING,
        "heat": random.uniform(60.0, 180.0),
    }


def _water(values):
    rise = values.boils - values.start
    lasts = values.water * (values.water_takes * rise + values.steam) / values.heat
    warming = values.water * values.water_takes * rise / values.heat
    return {"rise": rise, "warming": warming, "answer": lasts}


WATER = Task(
    key="water",
    question=(
        "A rag round a valve holds {water} of water at {start}. Water takes {water_takes} to warm, "
        "boils at {boils}, and takes {steam} to go off as steam. The rag has to swallow {heat}, "
        "all the time. After how long is it dry?"
    ),
    draw=_draw_water,
    kinds=KINDS,
    solve=_water,
    kind="time",
    slips=(
        Slip(
            "warming alone",
            lambda values, show: values.warming,
            "That is when the water begins to boil. By far most of the heat goes into steam.",
        ),
        Slip(
            "boiling alone",
            lambda values, show: values.answer - values.warming,
            "That forgets that the water is warmed to {boils} first.",
        ),
    ),
    hints=(
        "Two parts: warming the water, then boiling it away.",
        "Warming takes {warming} of it. Add the steam.",
    ),
    steps=(
        "Warming {water} by {rise} takes {warming} at {heat}.",
        "With {steam} for the steam on top it is {answer}.",
    ),
    tolerance=Tolerance(us=40.0, metric=40.0, share=0.05, because="a rag is wrung no more exactly"),
)


# ---------------------------------------------------------------- 4 the right filler


def _draw_filler(random):
    one, other = random.choice(_PAIRS)
    return {"one": one, "other": other, "margin": random.uniform(12.0, 60.0)}


def _coolest(values):
    return joint.coolest(joint.metal(values.one), joint.metal(values.other)).filler


def _filler(values):
    chosen = _coolest(values)
    return {
        "filler": chosen.name,
        "solidus": chosen.solidus,
        "liquidus": chosen.liquidus,
        "answer": chosen.liquidus + values.margin,
    }


def _phosphorus(values, show):
    if _coolest(values).has("P"):
        return None
    return joint.filler(_PHOSPHORUS).liquidus + values.margin


FILLER = Task(
    key="filler",
    question=(
        "Base metals: {one} onto {other}. Set them in the panel above. You take the filler to "
        "begin with, and make the joint {margin} hotter than where the last of it is liquid, so "
        "that it runs well. How hot is that?"
    ),
    draw=_draw_filler,
    kinds=KINDS,
    solve=_filler,
    kind="temperature",
    slips=(
        Slip(
            "begins to melt",
            lambda values, show: values.solidus + values.margin,
            "You began where the filler begins to melt. Asked is where the last of it is liquid: "
            "the right end.",
        ),
        Slip(
            "phosphorus",
            _phosphorus,
            "That is a copper-phosphorus filler. It is at home on copper alone; on steel and "
            "stainless it cracks, on brass it needs flux and more heat.",
        ),
        Slip(
            "margin forgotten",
            lambda values, show: values.liquidus,
            "There the last of it is just liquid. You wanted it {margin} hotter.",
        ),
    ),
    hints=(
        "Look for the framed row, and there for the right end of what is drawn.",
        "It is {filler}, and its last drop melts at {liquidus}.",
    ),
    steps=(
        "For {one} on {other} begin with {filler}: all liquid at {liquidus}.",
        "With {margin} on top that is {answer}.",
    ),
    tolerance=Tolerance(us=8.0, metric=4.0, because="a chart is read no finer"),
)

ALL = (ALONG, LUMPED, WATER, FILLER)
