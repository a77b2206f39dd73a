"""Lesson 54: a service call."""

from __future__ import annotations

from . import l54_numbers, l54_tasks
from .card import JobCard
from .model import OURS, PRACTICE, READ, Lesson, Prediction, Source


def _what_a_guess_costs():
    share = l54_numbers.costlier() / l54_numbers.sensible().seconds
    return "little" if share < 0.3 else "half" if share < 0.75 else "double"


def _how_the_food_ends():
    return l54_numbers.fate(l54_numbers.guessed())


CALL = (
    "{where}: the {what}, {refrigerant}, {nameplate} on the nameplate. {notice}\n\n"
    "“{said}” The thermostat is set to {set_point}, the food is at {food} and should be at most "
    "{highest}. It has been too warm for {warm}; four hours are the most. The air at the "
    "condenser is {ambient}.\n\n"
    "Your van holds a new drier. The customer looks at you, and at the clock."
)

PREDICTIONS = (
    Prediction(
        key="guess",
        question=(
            "One goes to this call and changes the drier first, since the pipe was mended. Another "
            "puts clamps on first. How much longer does the first one take?"
        ),
        options={
            "little": "a few minutes",
            "half": "half as long again",
            "double": "about twice as long",
        },
        outcome=_what_a_guess_costs,
        because=(
            "Who looked first was done after {good_minutes}, who guessed after {bad_minutes}: the "
            "circuit was opened, dried and filled twice. Four clamps take a few minutes."
        ),
    ),
    Prediction(
        key="food",
        question="And the food of the one who changed the drier first?",
        options={"saved": "is saved all the same", "lost": "is lost"},
        outcome=_how_the_food_ends,
        because=(
            "It was too warm for {bad_warm} by then, of {limit} allowed; with the clamps first for "
            "{good_warm}."
        ),
    ),
)

NOTES = {
    "ways": (
        "Back at the call. The strainer was {strainer_drop} colder behind than before, the drier "
        "{drier_drop}: two clamps had the answer. The box had lost {lost} of its cooling. Looking "
        "first took {good_minutes} and let out {good_out}; guessing took {bad_minutes} and let out "
        "{bad_out}."
    ),
    "hose": (
        "A short hose full of vapour at the head of this box holds {head_hose}. That is little; "
        "full of liquid it is many times as much. With {nameplate} in the whole box, every hose "
        "should have a reason."
    ),
}

CARD = JobCard(
    title="A service call, from the door to the tag",
    tools=(
        "Clamps, thermometers, torch, mirror; gauges with short hoses",
        "Scale, recovery machine and cylinder, nitrogen with regulator, vacuum pump and gauge",
        "Lock and tag; with a flammable refrigerant a meter tested today, extinguisher",
    ),
    cautions=(
        "Flammable: meter to the floor first. Alarm: no switch, people out, doors open.",
        "Lock out and prove dead before a hand goes near a fan or a terminal.",
        "Recover before you open. Purge with nitrogen before a torch is lit.",
        "Never above the nameplate. Never into wet lines.",
        "Local code, nameplate and licence come before this card.",
    ),
    steps=(
        "Ask: since when, always or now and then, what was done last?",
        "Take the temperature of the food; ask since when. Can it go elsewhere?",
        "Look round: both coils, both fans, ice, bulb, oil.",
        "Clamps before gauges, gauges before spanners.",
        "Say what you suspect, and what would prove you wrong. Measure that.",
        "Mend all that needs the circuit open in one opening.",
        "Nitrogen in steps to the nameplate's test pressure, bubbles at every joint. Then a "
        "vacuum; close off the pump, watch: it must hold.",
        "Weigh in the nameplate charge. Leak check every joint; flammable: meter too.",
        "Switch on, wait, read again.",
        "Write the tag. Tell the customer what it was, and what about the food.",
    ),
    notice="Order of this round: common practice, no published source.",
)

LESSON = Lesson(
    number="54",
    title="A service call",
    goals=(
        "take a call from the door to the tag without hurting anybody",
        "spend minutes, grams and parts where they settle something",
        "keep the food in mind while you think about the box",
        "read a debrief, and say what you would do another way",
    ),
    minutes=45,
    before=("42", "50", "52"),
    cautions=(
        "This is practice on a model. It replaces neither licence nor a person who shows you.",
        "Flammable refrigerants: meter to the floor first, no ignition source, air moving.",
        "Fans and terminals: power off, locked out, proven dead.",
        "Brazing: recover, purge, nitrogen flowing; fire watch.",
        "Food: the customer's food rules and local code decide, not this page.",
    ),
    call=CALL,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Take the call that stands on the page. Look and clamp until you are sure; only then open "
        "it.",
        "Do something forbidden on purpose: reach into the fan, or charge too much. What does the "
        "page say?",
        "Take the same seed again. Can you beat the short sensible path of the debrief?",
    ),
    tasks=l54_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Cold food at most 41 °F (5 °C)",
            "FDA Food Code 3-501.16, as in Washington WAC 246-215-03525",
            READ,
        ),
        Source(
            "Four hours without it at most",
            "FDA Food Code 3-501.19, as in Wisconsin ATCP 75-3-501.19",
            READ,
        ),
        Source("Properties of the refrigerants", "CoolProp, tables in data/properties", READ),
        Source("What stops a call", "safe working as it is taught", PRACTICE),
        Source("Readings and cooling after every act", "lowside.faults, lowside.system", OURS),
        Source("Minutes of every act", "assumed, to compare paths; no labour rates", OURS),
        Source("Boxes, customers and faults", "invented", OURS),
    ),
    leaves_out=(
        "Food is one lump: shut and without cooling it warms by 4 K in four hours, twice that time "
        "in a freezer, whatever it is. A real box may be twice as fast or as slow. Four hours are "
        "a rule for food handed out without cooling; what to throw away, local code says.",
        "Every answer is steady: the page waits until the box has settled, and takes 10 minutes "
        "for the air.",
        "Looks and trials are always right here; instruments are not. In life both err.",
        "A vacuum dries by a fixed share every quarter of an hour, whatever the box.",
        "The page has no pressure test, no leak check after charging and no new drier for every "
        "opening, to keep the acts few. On the job all three belong to every opening, and take "
        "their minutes.",
        "Nobody is in your way, and every part is in the van.",
    ),
    next="56",
    quantities=l54_numbers.quantities,
)
