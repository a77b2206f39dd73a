"""Lesson 40: where the grams sit."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from lowside import charge, flammability, system

from . import hall, l40_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CABINET = l40_tasks.CABINET

# Of the call, all invented: free volume of the drier that was fitted [m3], and what somebody let
# in [kg].
FITTED = 40e-6
FOUND = 0.088

OUT = 1.0 / 3.0  # of the charge, taken out in a question
ROOM_AIR = 295.15  # [K] a box that stands with its door open takes this temperature
COLDER = 1.0  # [K] evaporator below that, not yet quite warm

_HARDLY = 0.1  # of the absolute suction pressure
_QUARTER, _MOST = 0.25, 0.75  # of the subcooling
_SAME = 0.02  # of the standing pressure


def cabinet():
    """Give the cabinet of the call as it was built.

    Returns
    -------
    system.cabinets.Cabinet
    """
    return system.cabinets.get(CABINET)


@cache
def as_built():
    """Solve the cabinet as it was built, with its nameplate charge on the design day.

    Returns
    -------
    state, parts : dict of str to float
        As ``ChargeCurve.at``.
    """
    return system.refitted_curve(CABINET).at(cabinet().charge)


@cache
def as_found():
    """Solve the cabinet as it was found: bigger drier, unknown charge.

    Returns
    -------
    state, parts : dict of str to float
        As ``ChargeCurve.at``.
    """
    return system.refitted_curve(CABINET, drier=FITTED).at(FOUND)


@cache
def bigger_drier():
    """Solve the cabinet with the bigger drier and the nameplate charge.

    Returns
    -------
    state, parts : dict of str to float
        As ``ChargeCurve.at``.
    """
    return system.refitted_curve(CABINET, drier=FITTED).at(cabinet().charge)


@cache
def a_third_out():
    """Solve the cabinet as it was built with a third of its charge gone.

    Returns
    -------
    state, parts : dict of str to float
        As ``ChargeCurve.at``.
    """
    return system.refitted_curve(CABINET).at((1.0 - OUT) * cabinet().charge)


@cache
def at_rest():
    """Let the cabinet stand with its nameplate charge and its door open.

    Returns
    -------
    charge.Standing
    """
    return _at_rest(cabinet().box.oil)


def _at_rest(oil):
    box = cabinet()
    filled = replace(box.box, oil=oil)
    return system.standing_box(filled, ROOM_AIR - COLDER, ROOM_AIR, box.charge)


def in_the_compressor(parts):
    """Grams in shell and oil.

    Parameters
    ----------
    parts : dict of str to float
        By the names of ``charge.Inventory``. [kg]

    Returns
    -------
    float
        [kg]
    """
    return parts["shell"] + parts["oil"]


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, curve = cabinet(), system.refitted_curve(CABINET)
    (well, parts), (found, _), (third, _) = as_built(), as_found(), a_third_out()
    (large, large_parts), rest = bigger_drier(), at_rest()
    knees = sorted(curve.knee(model) for model in charge.void.BAND)
    oils = (replace(box.box.oil, chi=chi) for chi in charge.CHI_BAND)
    standing = sorted(float(_at_rest(oil).pressure) for oil in oils)
    evaporators = sorted(curve.at(box.charge, model)[1]["evaporator"] for model in charge.void.BAND)
    return {
        "what": box.what,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "found": (FOUND, "charge"),
        "short": (box.charge - FOUND, "charge"),
        "original": (box.box.drier, "volume"),
        "fitted": (FITTED, "volume"),
        "box_air": (box.box_temperature, "temperature"),
        "ambient": (box.ambient_temperature, "temperature"),
        "suction": (found["suction_pressure"], "gauge_pressure"),
        "suction_line": (found["outlet_temperature"], "temperature"),
        "head": (found["head_pressure"], "gauge_pressure"),
        "liquid_line": (found["liquid_temperature"], "temperature"),
        "well_suction": (well["suction_pressure"], "gauge_pressure"),
        "well_subcooling": (well["subcooling"], "temperature_difference"),
        "condenser": (parts["condenser"], "charge"),
        "condenser_share": (parts["condenser"] / box.charge, "ratio"),
        "evaporator": (parts["evaporator"], "charge"),
        "liquid_held": (parts["liquid_line"] + parts["drier"], "charge"),
        "compressor": (in_the_compressor(parts), "charge"),
        "third": (OUT, "ratio"),
        "third_suction": (third["suction_pressure"], "gauge_pressure"),
        "third_superheat": (third["superheat"], "temperature_difference"),
        "well_superheat": (well["superheat"], "temperature_difference"),
        "third_vapour": (third["inlet_quality"], "ratio"),
        "third_cooling": (1.0 - third["capacity"] / well["capacity"], "ratio"),
        "large_subcooling": (large["subcooling"], "temperature_difference"),
        "swallowed": (large_parts["drier"] - parts["drier"], "charge"),
        "knee": (curve.knee(), "charge"),
        "knee_low": (knees[0], "charge"),
        "knee_high": (knees[1], "charge"),
        "evaporator_low": (evaporators[0], "charge"),
        "evaporator_high": (evaporators[1], "charge"),
        "room_air": (ROOM_AIR, "temperature"),
        "standing": (float(rest.pressure), "gauge_pressure"),
        "standing_low": (standing[0], "gauge_pressure"),
        "standing_high": (standing[1], "gauge_pressure"),
        "chart": (float(rest.saturation_pressure), "gauge_pressure"),
        "in_oil": (float(rest.inventory.oil), "charge"),
    }


def _which_holds_most():
    _, parts = as_built()
    held = {
        "condenser": parts["condenser"],
        "evaporator": parts["evaporator"],
        "liquid": parts["liquid_line"] + parts["drier"],
        "compressor": in_the_compressor(parts),
    }
    return max(held, key=held.get)


def _what_suction_does():
    now, before = (state["suction_pressure"] for state, _ in (a_third_out(), as_built()))
    moved = now / before - 1.0
    if abs(moved) < _HARDLY:
        return "hardly"
    return "rises" if moved > 0.0 else "falls"


def _what_the_drier_does():
    left = bigger_drier()[0]["subcooling"] / as_built()[0]["subcooling"]
    if left > _MOST:
        return "stays"
    return "some" if left > _QUARTER else "gone"


def _where_it_stands():
    rest = at_rest()
    ratio = float(rest.pressure / rest.saturation_pressure)
    if ratio < 1.0 - _SAME:
        return "under"
    return "chart" if ratio < 1.0 + _SAME else "over"


CALL = (
    "Stall 12, cakes: the {what} with cream cakes, R290. {notice}\n\n"
    "Last week somebody found a leak at its filter-drier, recovered the propane, and fitted a "
    "bigger drier: {fitted} free inside instead of {original}. Then the battery of his scale gave "
    "out. So he let propane in “until the suction looked right” and left.\n\n"
    "The suction does look right. But on a warm afternoon, with {ambient} at the condenser, the "
    "box runs without a pause and the cream gets soft. The nameplate says {nameplate}. Nobody "
    "knows what is in there.\n\n"
    "Meter to the floor first: it is propane, and it leaked before. Then the question is which of "
    "these readings knows about grams."
)

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
    ("Box air", "{box_air}"),
    ("Air at condenser", "{ambient}"),
)

PREDICTIONS = (
    Prediction(
        key="most",
        question=(
            "The box runs, as it was built, with its {nameplate}. Where does most of it sit?"
        ),
        options={
            "condenser": "in the condenser",
            "evaporator": "in the evaporator, the largest coil",
            "liquid": "in liquid line and drier",
            "compressor": "in the compressor, gas and oil",
        },
        outcome=_which_holds_most,
        because=(
            "Condenser {condenser}, liquid line with drier {liquid_held}, evaporator "
            "{evaporator}, compressor {compressor}. The evaporator is large, but most of its room "
            "is vapour."
        ),
    ),
    Prediction(
        key="suction",
        question=(
            "As built, the suction gauge shows {well_suction}. Now {third} of the charge is gone. "
            "What does the suction gauge do?"
        ),
        options={
            "falls": "it falls by more than a tenth",
            "hardly": "it hardly moves",
            "rises": "it rises by more than a tenth",
        },
        outcome=_what_suction_does,
        because=(
            "It shows {third_suction}, and superheat goes from {well_superheat} to "
            "{third_superheat}: the valve just opens further. But {third_vapour} of what reaches "
            "it is vapour, the subcooling is gone, and {third_cooling} of the cooling with it."
        ),
    ),
    Prediction(
        key="drier_grams",
        question=(
            "With the bigger drier the full {nameplate} are weighed in. As built, the same charge "
            "gave {well_subcooling} of subcooling. How much is left?"
        ),
        options={
            "stays": "nearly all of it",
            "some": "about half",
            "gone": "less than a quarter",
        },
        outcome=_what_the_drier_does,
        because=(
            "The bigger drier keeps {swallowed} more. They come out of the condenser's liquid, "
            "and {large_subcooling} of subcooling is left."
        ),
    ),
    Prediction(
        key="standing",
        question=(
            "Healthy box, full nameplate charge, switched off with its door open until everything "
            "has about {room_air}. Against the pressure-temperature chart its gauge stands …"
        ),
        options={
            "under": "under the chart",
            "chart": "where the chart says",
            "over": "over the chart",
        },
        outcome=_where_it_stands,
        because=(
            "Oil loves propane: it has taken {in_oil}, and no liquid is left to hold the pressure "
            "up. The gauge shows {standing}, the chart says {chart}, and nothing is missing. Oils "
            "differ: from {standing_low} to {standing_high} all is possible."
        ),
    ),
)

CARD = JobCard(
    title="Is this small propane cabinet short of charge?",
    tools=(
        "Meter for propane, tested today; fan rated for it; extinguisher",
        "Clamps for three pipes; scale in fine steps",
        "Only if you open it: recovery gear for A3, nitrogen, pump, vacuum gauge, short hoses",
    ),
    cautions=(
        "Meter near the floor, running. Alarm: no switch, no plug, no flame, people out, doors "
        "open, then local rules.",
        "Place aired, no ignition source, power locked out from outside the area before you open "
        "anything.",
        "Never braze and never open an electrical box on a charged or unpurged system.",
        "Glasses and gloves: liquid freezes. Never more than the nameplate.",
    ),
    steps=(
        "Nameplate: refrigerant, grams. Is drier or liquid line another one than it was built "
        "with?",
        "Let it run steady, door shut. Is air getting through the condenser?",
        "Clamps before gauges: every hose takes grams out of a small box.",
        "Liquid line as warm as the middle of the condenser: no subcooling. Now the low side may "
        "still look healthy.",
        "No subcooling: short of charge, or a drier or line that keeps too much.",
        "Never top up by suction, by feel, by a standing pressure.",
        "Recover and weigh what comes out. Oil keeps some; give it time.",
        "Find the leak. Repair. Drier of the size it was built with.",
        "Nitrogen test, evacuate, weigh in the nameplate, hose counted.",
        "Run, clamp again, meter to every joint. Tag: grams, drier, date, name.",
    ),
    notice="Order of steps, clamps before gauges: common practice, no published source.",
)

LESSON = Lesson(
    number="40",
    title="Where the grams sit",
    goals=(
        "say which part of a small box holds how many grams, running and switched off",
        "recognise the knee of undercharge: subcooling gone, suction not yet",
        "say what a bigger drier or a longer liquid line does to a charge that was weighed right",
        "say why a standing pressure under the chart does not prove undercharge",
    ),
    minutes=45,
    before=("10",),
    cautions=(
        "Propane burns and explodes, and lies on the floor and inside the cabinet. No flame, no "
        "switch, no plug near it.",
        *flammability.CAUTIONS,
        "Recover with equipment made for flammable refrigerants. Liquid freezes skin and eyes.",
        "The sliders move grams beyond the nameplate to show what happens. On the job never.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    try_this=(
        "Take charge out slowly. When does the subcooling go, and when does the suction fall? "
        "What happens in between?",
        "Set the nameplate charge and make the drier bigger. Which squares turn hollow?",
        "Switch the model from one end of the band to the other. Which parts change, and by how "
        "much does the knee move?",
    ),
    tasks=l40_tasks.ALL,
    card=CARD,
    sources=(
        Source("Properties of propane", "CoolProp, tables in data/properties", READ),
        Source(
            "Void fraction: Zivi, Steiner and others",
            "as printed in the open library fluids, held against it in tests/test_charge.py",
            READ,
        ),
        Source("Void fraction: Premoli and others 1971", "the paper", MEMORY),
        Source(
            "The condenser holds the most, in bottle coolers",
            "Purdue conference paper 1503, abstract",
            READ,
        ),
        Source(
            "The choice of model moves an evaporator's grams by a third and more",
            "Rice 1987, as quoted in later papers",
            READ,
        ),
        Source(
            "Propane in oil: law of Flory and Huggins with an assumed number",
            "see lowside.charge.oil; both ends of what is open are drawn",
            OURS,
        ),
        Source(
            "The whole box closed on its charge, standing and running",
            "lowside.system, checked in tests/test_system_box.py and tests/test_lesson_40.py",
            OURS,
        ),
        Source("Steps of the card; clamps before gauges", "what is taught", PRACTICE),
        Source("The cabinet, the drier and the call", "invented for this lesson", OURS),
    ),
    leaves_out=(
        "Nobody knows grams in a coil well. Between two usual models the evaporator of this box "
        "holds {evaporator_low} or {evaporator_high}, and the knee lies at {knee_low} or "
        "{knee_high}. The shape of the story stays, the grams move.",
        "What the oil holds rests on one assumed number; no measured table of propane in "
        "compressor oil was reached.",
        "Time: the box is steady, or has stood until nothing moves any more. Frost, a door that "
        "opens, a valve that hunts are not here.",
        "Gauges take grams: hoses are not part of this box. Lesson 42 weighs them.",
        "Bubbles may be seen a little before or after the knee, since no coil is even.",
    ),
    next="42",
    quantities=quantities,
)
