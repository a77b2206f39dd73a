"""Lesson 22: port size moves superheat."""

from __future__ import annotations

import numpy as np

from . import hall, l22_numbers, l22_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. Somebody rebuilt its expansion valve in "
    "winter, and the box kept its temperature for months. Today it is {outside} outside, the "
    "first hot day. The compressor never stops, the box stands at {box_air} instead of "
    "{set_point}, and the butcher has already moved the meat out.\n\n"
    "Gauges and clamps read as below. The liquid arrives {subcooling} under its bubble point, so "
    "the valve gets liquid without bubbles. Dew at your suction pressure is {found_dew}, and the "
    "clamp beside the bulb, the valve's feeler on the suction line, says {suction_line}, as warm "
    "as the box itself: {found_superheat} of superheat. The coil is starved.\n\n"
    "The log of the rebuild says: port {fitted}. The plan of the hall says: port {planned}."
)

NOTES = {
    "held": (
        "In the picture the box is held at {set_point}, as it will be once it is repaired. In the "
        "call it has warmed to {box_air}. The port passes no more liquid for that, so the warmer "
        "air only heats the gas further: there the superheat is {found_superheat} instead of "
        "{superheat_before}, and the suction {suction} instead of {suction_before}."
    ),
    "winter": (
        "The dashed line lies even higher. Was the coil not starved in winter, too? It was, and "
        "worse: with less head to push the liquid, the same port leaves {winter_superheat} of "
        "superheat, against {superheat_before} on the hot day.\n\n"
        "But the box needed less. Its design load, the 100 % of the cooling chart, is the heat "
        "that gets in at {outside} outside. Up to {mild} outside the controls hold the head of the "
        "cold day. No more than {mild_need} of that heat gets in then, and the port feeds "
        "{winter_fed}: the compressor runs at most {mild_run} of the time, and the box stays cold. "
        "The warmer the day, the longer it runs; at {holds_up_to} outside it never stops. Today "
        "the full heat gets in and the port feeds {hot_fed}.\n\n"
        "So the thermometer in the box had nothing to report for months. A clamp beside the bulb "
        "would have told on the first day."
    ),
}

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
    ("Box air", "{box_air}"),
)

PREDICTIONS = (
    Prediction(
        key="next-size",
        question=(
            "You fit the next size up, {next_up} instead of {fitted}; the box air is back at "
            "{set_point}, all else stays. Which of these changes by the largest share of what it "
            "was?"
        ),
        options={
            "superheat": "the superheat",
            "suction": "the suction pressure (absolute)",
            "cooling": "the cooling",
            "head": "the head pressure",
        },
        outcome=l22_numbers.moves_most,
        because=(
            "From {fitted} to {next_up} superheat goes from {superheat_before} to "
            "{superheat_after}, suction from {suction_before} to {suction_after}, cooling from "
            "{cooling_before} to {cooling_after}. The head is the condenser's business."
        ),
    ),
    Prediction(
        key="double",
        question=(
            "And if somebody means well and fits a port twice as wide as planned, {double} "
            "instead of {planned}? The cooling on the hot day …"
        ),
        options={
            "double": "about doubles",
            "quarter": "grows by a quarter or so",
            "hardly": "hardly changes",
        },
        outcome=l22_numbers.twice_as_wide,
        because=(
            "Cooling goes from {right_cooling} to {double_cooling}, superheat from "
            "{right_superheat} to {double_superheat}. The pin closes the extra hole again: it "
            "stands at {double_lift} of its travel. What grows is how hard the bulb pulls."
        ),
    ),
    Prediction(
        key="balance",
        question=(
            "In a conventional port the pressure of the liquid pushes on the pin and helps it "
            "open. On a cold day that push is weaker, so it takes more superheat than on a hot "
            "day. A balanced port takes the push off the pin. How much of the change of superheat "
            "does that save on the {small_what} at {small_stall} ({small_refrigerant}, port "
            "{small_port})?"
        ),
        options={
            "little": "less than {half_degree}",
            "some": "between {half_degree} and {two_degrees}",
            "much": "more than {two_degrees}",
        },
        outcome=l22_numbers.what_balance_saves,
        because=(
            "On that small port it saves {small_shift}: no clamp can tell. On the walk-in with "
            "{planned} it saves {planned_shift}, on the {large_what} with {large_port} and "
            "{large_load} it saves {large_shift}."
        ),
    ),
)

CARD = JobCard(
    title="Change the port (cartridge) of an expansion valve",
    tools=(
        "Gauges with low-loss fittings, two clamps, leak detector for this refrigerant",
        "Recovery machine and cylinder, vacuum pump, micron gauge, nitrogen, scale",
        "Two wrenches, new seals, new strainer, cartridge of the planned size, tag and pen",
    ),
    cautions=(
        "Lock out and tag out the power. Glasses and gloves: liquid freezes eyes and skin.",
        "Zero gauge pressure before you loosen anything. Liquid trapped between two closed valves "
        "can burst a pipe.",
        "Flammable refrigerant: detector running, doors open, fan on, no ignition source near. "
        "Recover with equipment made for it; purge with nitrogen.",
        "Never braze on a charged or unpurged system.",
        "Nitrogen only through a regulator, in steps, never above the nameplate's test pressure; "
        "never oxygen or air. Stand clear.",
        "Never start a compressor, nor test its insulation, under vacuum. Flammable: pump and "
        "switch stand outside the zone.",
    ),
    steps=(
        "Write down suction, head, both clamps, box air.",
        "Look at the strainer (the sieve before the port) and the charge first: they read like a "
        "small port.",
        "Recover, never vent; pump down only where code and nameplate allow. Zero pressure, "
        "checked twice.",
        "Second wrench on the body. Cartridge out; look at seat and strainer.",
        "Clean; new seals; planned cartridge in until it sits flush. Never force it.",
        "Power element (the head with diaphragm and bulb): hand-tight, then one hex flat, a sixth "
        "of a turn or {flat} (common practice, no published source).",
        "Pressure test with nitrogen, evacuate, watch the vacuum hold, leak check again.",
        "Charge by weight as on the nameplate. Power on.",
        "Box down to temperature: read superheat.",
        "Turn the stem (it sets the spring) a half turn at most; wait {wait} or more; read again "
        "(common practice, no published source).",
        "Tag: port, refrigerant, date, superheat, your name.",
    ),
    quantities={"flat": (np.pi / 3.0, "angle"), "wait": (900.0, "time")},
    notice=hall.hall().notice,
)

LESSON = Lesson(
    number="22",
    title="Port size moves superheat",
    goals=(
        "tell a port that is too small, right or too big from what gauges and clamps say",
        "say why a port that is too big does not cool more, and why it hunts more easily",
        "judge what head pressure does to a valve in winter, and when a balanced port is worth it",
        "change a port and leave a tag that the next person can trust",
    ),
    minutes=40,
    before=("10",),
    cautions=(
        "On this page nothing can hurt you; at the valve it can. The card at the end says what to "
        "mind before you open one.",
        "Propane and other flammable refrigerants: ventilation, no ignition source, recovery with "
        "the right equipment, never a torch on a charged or unpurged system.",
        "The nameplate, local code and the licence that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Move the port from the left end to the right. Watch the pin: where does it leave its "
        "stop, and what happens to the superheat there?",
        "Set the port to the green diamond, read the cold day, then change conventional to "
        "balanced. Do it again with a design load of {least_load}, and of {most_load}.",
        "Starve the valve (port far left) and move the static superheat, that is, turn the stem "
        "that sets the spring. Why does nothing "
        "happen?",
    ),
    tasks=l22_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Properties of the refrigerants",
            "CoolProp's equations of state, tabulated in data/properties",
            READ,
        ),
        Source(
            "Static, opening and operating superheat",
            "wording as in AHRI 750",
            MEMORY,
        ),
        Source(
            "Discharge coefficient growing with liquid density",
            "Wile 1935, both terms, as quoted in later papers",
            MEMORY,
        ),
        Source("Port sizes of the kit", "preferred numbers, ISO 3, series R10", MEMORY),
        Source(
            "Six tenths of the travel at design, box air minus evaporating, superheats of the "
            "usual size",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "One hex flat on the power element; waiting between turns of the stem",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "Everything drawn: valve, coil and compressor solved together at every port",
            "lowside.system, checked in tests/test_system.py and tests/test_lesson_22.py",
            OURS,
        ),
        Source(
            "The mark for “hunts easily”: twice the answer of the right port",
            "our own choice; a mark and not a law",
            OURS,
        ),
    ),
    leaves_out=(
        "The swing itself. This page has a gain (how strongly the flow answers the bulb at once), "
        "not how coil, bulb and pressure move in time. Whether, and how far, a valve hunts: "
        "lesson 28.",
        "A high superheat alone does not prove a small port: a plugged strainer, a short charge or "
        "a bulb that lost its charge read alike. Lessons 26 and 52 tell them apart.",
        "The condensing temperature is given here and does not answer to the port; nor does the "
        "charge. In a real box both do.",
        "How much a port passes: two models of the jet behind it differ by {spread_here} for the "
        "wide-open port of the call and by {spread_propane} for a propane freezer of the hall. For "
        "propane and isobutane the page shows both, as a band.",
        "Frost, oil, wear, friction of the pin, choking of a flashing inlet.",
        "The box of the call warms until its heat gain has fallen to the cooling left; gain in "
        "proportion to the difference to the air outside is a simple picture of a real box. Heat "
        "from meat, people and lamps does not follow the weather; at {mild} outside the box would "
        "have held with up to {not_weather} of its design load from them.",
    ),
    next="24",
    quantities=l22_numbers.quantities,
)
