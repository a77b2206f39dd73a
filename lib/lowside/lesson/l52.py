"""Lesson 52: a strange symptom."""

from __future__ import annotations

from lowside import diagnosis

from . import l52_boxes, l52_cases, l52_numbers, l52_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

_FEW, _SOME = 2.0, 8.0  # equal suspects
_HARDLY, _HALF = 0.15, 0.6  # of the doubt, and of certainty
MORE = ("discharge_temperature", "current", "power", "box_air_drop", "condenser_air_rise")


def _which_step_first():
    asked = ("drier_drop", "stem_answer", "discharge_temperature", "charge")
    return max(asked, key=l52_numbers.rate)


def _how_many_are_left():
    left = 2.0 ** float(diagnosis.doubt(list(l52_numbers.after(2).values())))
    return "few" if left < _FEW else "some" if left < _SOME else "many"


def _what_more_of_the_same_is_worth():
    ranking = l52_numbers.stages()[2].ranking
    doubt = float(diagnosis.doubt(list(ranking.probability.values())))
    gains = {step.key: step.gain for step in diagnosis.next_steps(ranking)}
    share = sum(gains[key] for key in MORE) / doubt
    return "hardly" if share < _HARDLY else "part" if share < _HALF else "most"


def standing_yes():
    """Give the probability of gas inside after nothing but a standing test that says yes.

    Returns
    -------
    float
        [-]
    """
    case = l52_cases.CALL
    suspects = l52_boxes.known(case.box, *l52_cases.air(case)).suspects
    return diagnosis.rank(suspects, {}, {"standing": True}).probability["foreign_gas"]


def _what_one_yes_proves():
    chance = standing_yes()
    return "little" if chance < 0.25 else "half" if chance < 0.7 else "nearly"


def _quantities():
    return l52_numbers.quantities() | {"standing_yes": (standing_yes(), "ratio")}


CALL = (
    "{where}: the {what} for fruit and vegetables, {refrigerant}, {nameplate} on the nameplate, "
    "receiver and thermostatic valve. {notice}\n\n"
    "It cools for a while, then it does not, then it does again. Yesterday somebody changed "
    "nothing but the fuse. The room is held at {box_air} with ice bags; the air at the condenser "
    "is {ambient}. You are on the way with two gauges and two clamps, and the stall holder asks "
    "for one word: what is it?\n\n"
    "The colleague before you wrote: “Drier plugged, order one.” He may be right."
)

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction line at the bulb", "{suction_line}"),
    ("Superheat", "{superheat}"),
    ("Head gauge", "{head}"),
    ("Liquid line", "{liquid_line}"),
    ("Subcooling", "{subcooling}"),
    ("Air in the room", "{box_air}"),
    ("Air at the condenser", "{ambient}"),
)

PREDICTIONS = (
    Prediction(
        key="next",
        question=(
            "You have the four readings of the call. Which of these teaches most for each minute "
            "it takes?"
        ),
        options={
            "drier_drop": "two clamps, one on each side of the drier",
            "stem_answer": "one turn of the stem, and waiting for the superheat",
            "discharge_temperature": "the discharge line",
            "charge": "recovering the charge and weighing it",
        },
        outcome=_which_step_first,
        because=(
            "It takes {drier_minutes} minutes and opens nothing. The drier stood at "
            "{first_chance}; {drier_drop} across it all but rules it out. Weighing takes "
            "{weigh_minutes} minutes and asks about a suspect that is hardly left."
        ),
    ),
    Prediction(
        key="left",
        question=(
            "The page knows {suspects} suspects for such a box. After two gauges and two clamps, "
            "its doubt is as large as that between how many equal suspects?"
        ),
        options={
            "few": "one or two: low suction and high superheat say it",
            "some": "a handful",
            "many": "ten or more",
        },
        outcome=_how_many_are_left,
        because=(
            "All that starves a coil looks alike on gauges and clamps. Two lead, {first} with "
            "{first_chance} and {second} with {second_chance}; what it really was stands at "
            "{clamps_chance}."
        ),
    ),
    Prediction(
        key="more",
        question=(
            "Now you add five readings: discharge line, amperes, watts, air through both coils. "
            "How much of the doubt do they take away?"
        ),
        options={
            "hardly": "hardly any",
            "part": "about a third",
            "most": "most of it: more is better",
        },
        outcome=_what_more_of_the_same_is_worth,
        because=(
            "More is not better where it says the same again. All suspects that are left pass too "
            "little refrigerant, and move these five alike."
        ),
    ),
    Prediction(
        key="yes",
        question=(
            "Another box, nothing read. A standing test says yes to air inside in {standing_hit} "
            "of the boxes that have it, and in {standing_false} of those that do not. Yours says "
            "yes. How likely is air inside?"
        ),
        options={
            "little": "less than a quarter",
            "half": "about half",
            "nearly": "{standing_hit}",
        },
        outcome=_what_one_yes_proves,
        because=(
            "Air is one of {suspects} suspects to begin with, so among many boxes the few false "
            "alarms weigh as much as the true ones: {standing_yes}."
        ),
    ),
)

NOTES = {
    "call": (
        "Back at the call. The drier was no colder behind than before: {drier_drop}. The strainer "
        "neither: {strainer_drop}. Now {led_before_rag} led, and {inside} stood at {before_rag}. "
        "Then the rag: the suction jumped, and {inside} stands at {inside_chance}. All this took "
        "{minutes} minutes and no refrigerant. The colleague's drier, {drier_cure} minutes with "
        "vacuum and charge, belongs to the cure after all, but not for his reason: it is not "
        "plugged, the box is wet. Fitted in a hurry it takes up some water and helps for a while. "
        "With a deep vacuum that holds, and the way shut by which the water came in, it lasts."
    ),
    "alike": (
        "Ice in a valve, a bulb that has lost its charge, a spring turned in: each holds the pin "
        "too far closed. Nothing that gauges and clamps can reach is different. In the call the "
        "box had lost {lost} of its cooling; its superheat was {superheat} instead of "
        "{well_superheat}, and no reading said which of the three. Only a trial does."
    ),
}

CARD = JobCard(
    title="A strange symptom: from the call to the proof",
    tools=(
        "Four clamps, two air thermometers, current clamp, torch, mirror",
        "A warm wet rag; gauges with short hoses",
        "With a flammable refrigerant: meter tested today, fan rated for it, extinguisher",
        "A phone or paper with this page",
    ),
    cautions=(
        "Flammable: meter to the floor first. Alarm: no switch, no plug, people out, doors open.",
        "Power off, locked out and proven dead before a hand goes near a fan or a terminal.",
        "Discharge line and shell burn; liquid freezes; glasses and gloves.",
        "Warm a valve with a wet rag, never with a flame.",
        "What the page says is an estimate. Prove it before you open or charge.",
    ),
    steps=(
        "Ask: since when, always or now and then, what was done last?",
        "Write down refrigerant, valve or tube, receiver or none, both airs.",
        "Look round first: faces of both coils, fans, ice, bulb, oil. It costs nothing.",
        "Read suction line, liquid line, discharge; gauges where the charge can bear the hose.",
        "A reading that cannot be: read it again before you think.",
        "List all that would explain it, not the first that would.",
        "Choose the step that parts the first two, takes few minutes, and opens nothing.",
        "Do it, write down the answer, also if it is no.",
        "Repeat until one suspect is left, or only proof by repair.",
        "If nothing fits: check the readings, then think of two faults.",
        "Repair one thing, wait, read again, and leave the numbers on a tag.",
    ),
    notice="Order of this round: common practice, no published source.",
)

LESSON = Lesson(
    number="52",
    title="A strange symptom",
    goals=(
        "rank what could be wrong with a strange box, and say how sure you are",
        "choose the next measurement by what it settles, what it takes and what it opens",
        "tell a reading that cannot be from a box that is sick",
        "say which suspects no instrument parts, and which trial does",
    ),
    minutes=50,
    before=("10", "40", "50"),
    cautions=(
        "What this page says is an estimate from a model. It replaces neither proof nor licence.",
        "Flammable refrigerants: meter to the floor first, no ignition source, air moving; start "
        "no fan or switch that is not made for it.",
        "Fans and terminals: power off, locked out, proven dead.",
        "Never warm a valve, a bulb or a cylinder with a flame.",
        "Cures that open the system want recovery, nitrogen, vacuum, a scale, and the licence for "
        "it.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Do what the page puts first, and let it clear the suspect each time: no degree colder, or "
        "“no”. Who is left?",
        "Type the suction line as the other scale would show it, without a unit. What does the "
        "page say about it?",
        "Choose “nothing fits”, open “Reading by reading”, and find what speaks against the first "
        "suspect. Then type there what it expects.",
    ),
    tasks=l52_tasks.ALL,
    card=CARD,
    sources=(
        Source("Properties of the refrigerants", "CoolProp, tables in data/properties", READ),
        Source(
            "Low charge, overcharge, restriction, overfeeding: how the trade reads them",
            "held against the diagnosis in tests/test_diagnosis.py",
            PRACTICE,
        ),
        Source("Gauges good to a hundredth of their range, clamps to a degree", "habit", PRACTICE),
        Source("Warm wet rag, standing test, pump-down: what they show", "habit", PRACTICE),
        Source("How often a look or a trial is right", "assumed", OURS),
        Source("Weighing chances by an answer", "Bayes 1763, any textbook of statistics", MEMORY),
        Source("Doubt in bits", "Shannon 1948", MEMORY),
        Source("Every suspect is a solved box", "lowside.faults and lowside.diagnosis", OURS),
        Source("Minutes, severities, boxes and calls", "invented or assumed", OURS),
    ),
    leaves_out=(
        "Each suspect is one fault. Two at once are only looked for when none fits, and their "
        "effects are simply added.",
        "Before anything is read, every fault counts alike, and every severity too. Your own "
        "experience of a box may know better.",
        "Everything is steady. A box that cools now and then is read here while it does not.",
        "A described box gets usual proportions; coil, compressor and air are taken as known to "
        "some 15 %, charge to 6 % (12 % with a capillary tube).",
        "What is not in the list of suspects cannot be found: oil logging, a sticking relay, a "
        "door that is left open.",
    ),
    next="54",
    quantities=_quantities,
)
