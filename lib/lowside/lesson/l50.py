"""Lesson 50: what each fault does."""

from __future__ import annotations

from lowside import faults, flammability

from . import l50_numbers, l50_tasks
from .card import JobCard
from .l50_numbers import CABINET, WALK_IN
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

_MOSTLY, _HALF = 0.9, 0.7  # of the published signs
_NOTHING, _LITTLE = 1.0, 5.0  # [K] that a clamp sees, and that nobody doubts


def _what_missing_charge_moves():
    sizes = faults.cabinet_table(CABINET).row("undercharge")
    asked = ("superheat", "suction_pressure", "subcooling", "head_pressure")
    return max(asked, key=lambda key: abs(sizes[key]))


def _what_tells_air_from_dirt():
    _, dirty, foreign = l50_numbers.same_head()
    off = l50_numbers.sweep("foreign_gas").errors
    asked = ("head_pressure", "superheat", "condenser_air_rise", "suction_pressure")
    return max(asked, key=lambda key: abs(dirty[key] - foreign[key]) / float(off[key]))


def _what_a_strainer_shows():
    """Drop across a strainer that loses so much, fed as the sound cabinet feeds it."""
    fluid, well = l50_numbers.cabinet().box.refrigerant, faults.cabinet_table(CABINET).read()
    enthalpy = fluid.liquid_enthalpy(well["head_pressure"], well["liquid_temperature"])
    behind = fluid.state_ph(well["head_pressure"] - l50_numbers.LOST, enthalpy).temperature
    drop = well["liquid_temperature"] - float(behind)
    if drop < _NOTHING:
        return "nothing"
    return "little" if drop < _LITTLE else "much"


def _how_many_signs_hold():
    held = l50_numbers.agreement(WALK_IN) / len(faults.cabinet_table(WALK_IN).against_published())
    if held > _MOSTLY:
        return "all"
    return "most" if held > _HALF else "half"


CALL = (
    "Stall 12, cakes, once more: the {what} with cream cakes, R290, {nameplate} on the nameplate. "
    "{notice}\n\n"
    "It was repaired a month ago and ran well: {well_superheat} of superheat, "
    "{well_subcooling} of subcooling. Now it runs all day and the cream gets soft. Three people "
    "have looked at it. The first says: low suction, it is short of gas. The second says: somebody "
    "put a port in that is too small. The third says: the strainer, for there was brazing last "
    "month, and scale ends up there.\n\n"
    "All three read the same gauges. One of them is about to add propane to a full box. Meter to "
    "the floor, and nobody opens anything yet."
)

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
    ("Discharge-line clamp", "{discharge}"),
    ("Box air", "{box_air}"),
    ("Air at condenser", "{ambient}"),
)

PREDICTIONS = (
    Prediction(
        key="missing_charge",
        question=(
            "This cabinet, with its thermostatic valve and no receiver, loses {missing} of its "
            "charge. Which of these moves furthest, counted in what its instruments may be off?"
        ),
        options={
            "superheat": "the superheat",
            "suction_pressure": "the suction gauge",
            "subcooling": "the subcooling",
            "head_pressure": "the head gauge",
        },
        outcome=_what_missing_charge_moves,
        because=(
            "Subcooling goes from {well_subcooling} to {short_subcooling}, {short_seen} errors of "
            "its instruments; superheat from {well_superheat} to {short_superheat}, "
            "{short_hidden} of them. The valve opened further and hid it. {short_cooling} of the "
            "cooling is gone all the same."
        ),
    ),
    Prediction(
        key="dirt_or_air",
        question=(
            "Two such cabinets stand at the same head, {same_head} instead of {well_head}. One has "
            "a condenser blocked by {blocked}, the other has air in it. Which of these tells them "
            "apart best?"
        ),
        options={
            "head_pressure": "the head gauge",
            "superheat": "the superheat",
            "condenser_air_rise": "how much the condenser warms its air",
            "suction_pressure": "the suction gauge",
        },
        outcome=_what_tells_air_from_dirt,
        because=(
            "The dirty one warms what little air it gets by {dirty_rise}, the other by {gas_rise}, "
            "as ever ({well_rise}). Subcooling tells too: {dirty_subcooling} against "
            "{gas_subcooling}, since the gauge counts the air as refrigerant."
        ),
    ),
    Prediction(
        key="strainer_drop",
        question=(
            "A strainer begins to plug and loses {lost}. The liquid in front of it has "
            "{well_subcooling} of subcooling. How much colder is the line behind it?"
        ),
        options={
            "nothing": "not so that a clamp would notice",
            "little": "a few degrees",
            "much": "so much that it sweats",
        },
        outcome=_what_a_strainer_shows,
        because=(
            "Liquid that does not boil keeps its temperature, whatever pressure it loses. Here "
            "{silent} are lost and the line is still only {silent_drop} colder. A strainer without "
            "a cold outlet is not cleared."
        ),
    ),
    Prediction(
        key="signs",
        question=(
            "A well-known table says how seven readings move under five faults. It was made on "
            "machines with a fixed orifice. How much of it holds for a walk-in with a valve and a "
            "receiver?"
        ),
        options={
            "all": "nearly all of it: physics is physics",
            "most": "some eight in ten",
            "half": "less than that",
        },
        outcome=_how_many_signs_hold,
        because=(
            "Of {published} signs {agree_receiver} hold for the walk-in, {agree_valve} for this "
            "cabinet with a valve and no receiver, and {agree_orifice} for a box of the kind the "
            "table was made on."
        ),
    ),
)

NOTES = {
    "call": (
        "Back at the call: superheat {found_superheat} instead of {well_superheat}, "
        "{found_sizes} errors of its instruments, so something is in the way. Subcooling "
        "{found_subcooling}: the box is not short, a short one has none. Strainer or port? "
        "Neither gauge nor clamp at the usual places can say. A clamp behind the strainer can: "
        "{found_drop} colder there. With a small port it would be {small_drop}."
    ),
    "kinds": (
        "The same share gone, {missing}: with the valve the superheat goes from {well_superheat} "
        "to {short_superheat}; with a capillary tube from {tube_superheat} to "
        "{tube_short_superheat}, {tube_seen} times what the instruments may be off. A receiver "
        "hides even more: the walk-in may lose {receiver_hides} of its charge before any reading "
        "leaves its error."
    ),
    "leak": (
        "A leak of {leak} through the compressor's valves costs {leak_cooling} of the cooling, "
        "saves {leak_power} of the power and heats the discharge by {leak_discharge}."
    ),
}

CARD = JobCard(
    title="A box does not hold its temperature: the first round",
    tools=(
        "Four clamps, two air thermometers, current clamp, torch, mirror",
        "Gauges with short hoses, only if the round asks for them",
        "With a flammable refrigerant: meter tested today, fan rated for it, extinguisher",
    ),
    cautions=(
        "Flammable: meter to the floor first. Alarm: no switch, no plug, people out, doors open.",
        "Power off, locked out and proven dead before a hand goes near a fan or a terminal.",
        "Discharge line and shell burn; liquid freezes; glasses and gloves.",
        "Add nothing until you know why. Never above the nameplate.",
    ),
    steps=(
        "Ask: since when, what was done last, what was loaded warm?",
        "Look: ice on the coil, fans, dirt, doors, boxes before the coil, oil at joints.",
        "Write down box air and air at the condenser. Hot day or warm product? Then wait.",
        "Kind of box: valve or tube, receiver or none. It decides what a sign means.",
        "Clamps: suction at the bulb, liquid, discharge, both sides of drier and strainer.",
        "Air in and out of both coils. Amperes.",
        "Is the bulb strapped and insulated?",
        "Only now gauges, where the charge can bear the hose.",
        "Compare with what the box did when it was well, in errors of your instruments.",
        "What cannot be told apart, write down as both. Choose the test that separates them and "
        "opens nothing.",
        "Then decide, repair, and leave the numbers on a tag.",
    ),
    notice="Order of this round: common practice, no published source.",
)

LESSON = Lesson(
    number="50",
    title="What each fault does",
    goals=(
        "say for each common fault which readings move, which way, and which stay hidden",
        "say why the same fault looks different with a valve, with a receiver, with a tube",
        "name the pairs that gauges cannot tell apart, and what does",
        "judge a table of symptoms by the machine it was made on",
    ),
    minutes=50,
    before=("10", "22", "40"),
    cautions=(
        *flammability.CAUTIONS,
        "Do not make faults on a real box to see what happens: no blocked condenser, no shut "
        "valve, no extra charge. Heads here climb to where cut-outs and relief devices act.",
        "Fans and terminals: power off, locked out, proven dead.",
        "Cures that open the system want recovery, nitrogen, vacuum, a scale, and the licence for "
        "it.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Walk the severity of the strainer up slowly. Which reading leaves the grey band first, "
        "and how much pressure had gone by then?",
        "Take too little refrigerant and change the box: valve, tube, receiver. How much may be "
        "missing before the superheat leaves the band?",
        "Put the dirty condenser and the air in the system at the same head. Find a row that "
        "differs.",
    ),
    tasks=l50_tasks.ALL,
    card=CARD,
    sources=(
        Source("Properties of the refrigerants", "CoolProp, tables in data/properties", READ),
        Source(
            "The table of signs",
            "Rossi and Braun 1997 as printed in a Purdue report by Li and Braun, Table 1-1",
            READ,
        ),
        Source(
            "Low charge, overcharge, restriction, overfeeding: how the trade reads them",
            "held against the solved boxes in tests/test_faults.py",
            PRACTICE,
        ),
        Source(
            "Overcharge raises discharge, subcooling, head and split",
            "ACHR News 143822",
            READ,
        ),
        Source(
            "Two fifths of a display cabinet's condenser blocked: energy up by a sixth",
            "Australian tests (DCCEEW), as the IIR reports them",
            READ,
        ),
        Source(
            "A third of the charge missing: COP down by a tenth",
            "ComStock, after NIST and IEA Annex 36 (2015)",
            READ,
        ),
        Source("Gauges good to a hundredth of their range, clamps to a degree", "habit", PRACTICE),
        Source("Discharge coefficient of the valve", "Wile 1935", MEMORY),
        Source(
            "Every fault as a change of the solved box",
            "lowside.faults, checked in tests/test_faults.py",
            OURS,
        ),
        Source("Severities, minutes, the cabinets and the call", "invented or assumed", OURS),
    ),
    leaves_out=(
        "Everything here is steady. Hunting, moisture that freezes and thaws, frost that grows and "
        "a box that warms up while you look are not in these numbers.",
        "The air in the box is held where it was; a box that loses cooling gets warmer and moves "
        "its readings again.",
        "A leaking compressor valve is a share of the gas, the same at every pressure. The "
        "published rules have its discharge colder, these boxes have it hotter.",
        "Air in the condenser counts by its pressure only; it also hinders condensing, by an "
        "amount nobody can tell from outside.",
        "Dirt is taken as a blocked share of the face; how bad a fault is called “usual” is our "
        "own choice.",
        "Grams in the coils depend on the void model; lesson 40 shows by how much.",
    ),
    next="52",
    quantities=l50_numbers.quantities,
)
