"""Lesson 26: the tag and the teardown."""

from __future__ import annotations

from . import hall, l26_numbers, l26_quantities, l26_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what}, holding {holds}; {refrigerant}, {charge} on the nameplate. {notice}\n\n"
    "Somebody changed its expansion valve in spring and left no tag. The plan of the hall says: "
    "port {planned}. Today it is {outside} outside, and the box holds its temperature. On Friday "
    "the heat is coming.\n\n"
    "The owner asks: is the right port in there, or will I throw my food away on Friday? To look "
    "inside you would have to recover the charge, open the valve, evacuate and weigh in again. "
    "What can be told from outside?"
)

READINGS = (
    ("Suction gauge", "{first_suction}"),
    ("Suction-line clamp", "{first_line}"),
    ("Superheat", "{first_superheat}"),
    ("Head gauge", "{first_head}"),
    ("Liquid-line clamp", "{first_liquid}"),
    ("Discharge-line clamp", "{first_discharge}"),
    ("Air off the coil", "{first_air}"),
)

PREDICTIONS = (
    Prediction(
        key="test",
        question=(
            "You may try one thing before you decide. Which tells most about the size of the port?"
        ),
        options={
            "head": "cover part of the condenser and raise the head",
            "stem": "turn the stem out by one turn and read again",
            "bulb": "take the bulb off the line and warm it in your hand",
        },
        outcome=l26_numbers.tells_most,
        because=(
            "With more head, or with a softer spring, the pin finds another opening for the same "
            "flow, and the sizes still read alike. A warm bulb drives the pin to its stop: then "
            "the port alone sets the flow. It also sends liquid to the compressor."
        ),
    ),
    Prediction(
        key="clamps",
        question=(
            "On Friday the box is short. You put a clamp on either side of the valve's strainer: "
            "behind it the liquid is {felt} colder. The liquid arrives {subcooling} below its "
            "bubble point. What do the clamps prove?"
        ),
        options={
            "clear": "that the strainer is about clear",
            "plugged": "that the strainer is plugged",
            "nothing": "next to nothing",
        },
        outcome=l26_numbers.equal_clamps,
        because=(
            "The strainer takes {drop}. Up to {hidden} of that cannot be felt at all: so far the "
            "pressure can fall before liquid with {subcooling} of subcooling begins to boil. With "
            "{little} of subcooling the same drop would show as {felt_little}."
        ),
    ),
    Prediction(
        key="tagged",
        question=(
            "The same Friday, but this time a tag hangs on the valve: {inside}, a size smaller "
            "than the plan. Such tags are right in {reliability} of cases. Counting work, "
            "refrigerant and food, what is the best plan?"
        ),
        options={
            "open": "open the valve: the tag itself says that the port is too small",
            "strainer": "pull the strainer first",
            "leave": "leave both and look elsewhere",
            "same": "the same as without a tag",
        },
        outcome=l26_numbers.what_a_tag_changes,
        because=(
            "A port of {inside} with a clear strainer still feeds {clear_cooling} of the design "
            "load: it is small, but it is not what starves this box. Knowing it makes a plugged "
            "strainer {chance_plugged} likely. Without the tag: {plan_without}, {worth_without} "
            "expected. With it: {plan_tagged}, {worth_tagged}."
        ),
    ),
)

NOTES = {
    "belief": (
        "As it runs, the belief is spread over {kept} of {sizes} sizes, from {smallest} to "
        "{largest}. That is no failure of the arithmetic. It is what these readings are worth."
    ),
    "trial": (
        "Is the page as sure as it should be? It was tried on {valves} simulated valves of all "
        "seven sizes, with coils, compressors and ports up to 15 % off what it believes. Sets "
        "trimmed to claim just {level} held the true size {held} of the time after the running "
        "reading, and {held_bulb} with the bulb warmed as well.\n\n"
        "On average the true size had {sure_running} after the running reading. Raising the head "
        "made it {sure_head}, turning the stem {sure_stem}, a pull-down {sure_pull_down}, a warm "
        "bulb {sure_bulb}."
    ),
    "flood": (
        "What does the warm bulb risk? With the planned {planned} inside, a valve held wide open "
        "would pass so much that {flood_share} of it, {flood_flow}, would reach the compressor as "
        "liquid. Liquid washes the oil from the bearings and can break valve plates. A pull-down "
        "opens the valve too, and boils what it passes."
    ),
    "friday": (
        "Friday, {hot} outside. The box is short: {second_cooling} of its design load. Suction "
        "{second_suction}, line at the bulb {second_line}: {second_superheat} of superheat, where "
        "a healthy valve would show {healthy_superheat}. Behind the strainer the liquid is {felt} "
        "colder than in front.\n\n"
        "Nobody has touched that strainer for years; call it {untouched} that it is clear. The map "
        "says: most likely a {suspected} port ({chance_suspected}). It is wrong. Really there is a "
        "{inside} port behind a half-plugged strainer, and from outside the two read nearly alike."
    ),
    "decision": (
        "Without a tag the least is expected of this plan: {plan_without} ({worth_without}, all "
        "counted as work). With a tag that says {inside}: {plan_tagged} ({worth_tagged}). On this "
        "call the tag would have saved {tag_saves}, or its worth."
    ),
    "route": (
        "And in a year? On the {boxes} valves of this hall, with {calls} calls a year on each, "
        "reading before opening saves {reading_saves} over opening whenever in doubt. Tags save "
        "about {saved_year} on top, {writing} of writing at each call taken off. Most of it, "
        "{most_saved}, comes from one box: the {most_what} ({most_stall}) with its {most_charge}. "
        "So the tag is worth little on a usual call, and a great deal on the one call where it "
        "changes what you do. You cannot know beforehand which call that will be."
    ),
}

CARD = JobCard(
    title="A valve without a tag: read, decide, tag",
    tools=(
        "Gauges, clamps for suction, discharge, liquid on both sides of the strainer, air",
        "Plan of the box; watch; cardboard for the condenser; pen and tags",
        "For opening: recovery machine, nitrogen, pump, scale, detector, seals, strainer",
    ),
    cautions=(
        "Warm bulb: the valve floods. Hand on the suction line, a minute or two; bulb back before "
        "the line at the compressor turns cold or the compressor noisy.",
        "Raised head: an eye on the gauge, well below the cut-out.",
        "Pull-down only with the food moved out.",
        "Before anything is opened: power locked out, charge recovered, zero pressure checked "
        "twice. Glasses and gloves.",
        "Propane: recover with equipment made for it, purge with nitrogen, air the place, detector "
        "on the floor, no ignition source, no torch while charged or unpurged.",
    ),
    steps=(
        "Look for a tag. Does it name port, refrigerant, charge kind, equaliser, setting, date?",
        "Read as it runs. At normal superheat: sizes near the planned one read alike; say so.",
        "High superheat, load normal: port, strainer, short charge, or bulb that lost its own. "
        "Check the charge first.",
        "Clamps across the strainer. Colder behind: plugged. No colder: compare head with the "
        "boiling pressure of the liquid; so much may hide.",
        "Size needed? Read in a pull-down; the warm bulb comes last.",
        "Weigh: trust, strainer, valve. In doubt the cheaper job first.",
        "Open only with the right parts in the van and the food moved.",
        "Bulb back, clamped, insulated. Stem back where it stood.",
        "Write the tag before you leave: what you saw, not what you suppose.",
    ),
    notice="Steps of this card: common practice, no published source. " + hall.hall().notice,
)

LESSON = Lesson(
    number="26",
    title="The tag and the teardown",
    goals=(
        "say what readings from outside tell about the port in a valve, and what they cannot",
        "choose a test that makes the valve tell its size, and know what the test risks",
        "see why a small port and a plugged strainer read alike, and when clamps prove nothing",
        "decide between trusting, pulling the strainer and opening the valve, and leave a tag",
    ),
    minutes=45,
    before=("22",),
    cautions=(
        "Warming the bulb floods the compressor: a minute or two at most, a hand on the suction "
        "line, and never on a compressor that runs cold or noisy.",
        "A raised head can trip or burst what is weak: stay well below the cut-out, never leave "
        "the cardboard.",
        "Opening a system: charge recovered, pressure at zero and checked twice, power locked out.",
        "Propane and other flammable refrigerants: recover with the right equipment, purge with "
        "nitrogen, air the place, no ignition source, never a torch on a charged system.",
        "The nameplate, local code and the licence that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    notes=NOTES,
    try_this=(
        "Put other sizes inside. From which size on does the running box give itself away, and "
        "why just there?",
        "Hang a wrong tag on the valve, and make tags as reliable as you like. Which tests still "
        "find the truth?",
        "Plug the strainer. What does the page now take it for, and how sure is it?",
    ),
    tasks=l26_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Belief from readings: Bayes' rule over simulated sizes, hardware averaged out",
            "lowside.identify, calibrated in tests/test_identify.py and tests/bench/identify.py",
            OURS,
        ),
        Source(
            "Readings of every size in every test: valve, coil and compressor solved together",
            "lowside.system, checked in tests/test_system.py",
            OURS,
        ),
        Source("Sizes of the kit", "preferred numbers, ISO 3, series R10", MEMORY),
        Source(
            "Hardware within 15 % of what is believed; errors of gauges, clamps and model",
            "assumed, in lowside.identify",
            PRACTICE,
        ),
        Source(
            "Minutes, shares of food lost, calls a year, tags that are right",
            "assumed; change them on the panels",
            PRACTICE,
        ),
        Source("Tests on the valve, waiting times, order of the jobs", "what is done", PRACTICE),
        Source("QR code", "ISO/IEC 18004, drawn by the library segno", MEMORY),
    ),
    leaves_out=(
        "Time. Every test is read as if the box stood still in it; a warm bulb is held only for a "
        "minute or two, and the reading is rougher than it looks (twice the scatter is assumed).",
        "The charge. The page gives the valve liquid enough for every opening. A small box without "
        "a receiver runs out of liquid before it floods so far, and its head answers to the port.",
        "Other faults: a short charge, a bulb that lost its charge, ice at the port, a dirty coil. "
        "Lesson 52 weighs them as well.",
        "A strainer counts as a hole. The model puts liquid and vapour in it as one mixture, which "
        "makes flow fall steeply once it boils; real strainers may be kinder.",
        "Where clamps read wrong or touch badly, the belief ought to be spread wider than here.",
        "What a tag is worth rests on assumed minutes and shares. The order of the plans is "
        "sturdier than their minutes. The sum over the route is an average over simulated calls; "
        "other draws move it by a minute or so.",
    ),
    next="28",
    quantities=l26_quantities.quantities,
)
