"""Lesson 20: how the valve decides."""

from __future__ import annotations

from lowside import units

from . import hall, l20_numbers, l20_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. Its expansion valve was leaking, and "
    "somebody fitted a new one last week: same port, same bulb charge, spring set as planned. "
    "Since then the compressor never stops, the room stands at {box_air} instead of {set_point}, "
    "and the strawberries suffer.\n\n"
    "The liquid arrives {subcooling} under its bubble point, without bubbles. Dew at your suction "
    "pressure is {found_dew}, and the clamp beside the bulb says {suction_line}, nearly as warm as "
    "the room: {found_superheat} of superheat. The day before somebody let the stem out by half a "
    "turn, saw no difference, and turned it back.\n\n"
    "Behind the valve sits a distributor, a small cone that shares the liquid out to the circuits "
    "of the coil. There is a service port between the two, and you put a third gauge on it: "
    "{behind_valve}. That is {drop} more than your suction gauge says. You look at the new valve: "
    "the old one had a thin tube to the suction line. This one has none, and the old tube is "
    "pinched off and brazed shut."
)

NOTES = {
    "found": (
        "The valve of the call does what it was built to do. It hears the pressure behind itself, "
        "{drop} too high, and takes that for a full coil. With its line to the suction pipe the "
        "room would run at {right_superheat} of superheat and {right_cooling} of its design "
        "cooling, suction {right_suction}. Without, and at the same {set_point} of room air, it "
        "needs {wrong_superheat}, which leaves {wrong_cooling} of the cooling at a suction of "
        "{wrong_suction}. So the room warms up, until {outside} outside push in no more heat than "
        "that.\n\n"
        "And the stem? The whole spring stands for {spring} of pressure. The distributor takes "
        "{drop}. Half a turn out brought {wrong_superheat} down to {out_superheat} and the cooling "
        "from {wrong_cooling} to {out_cooling}: no wonder nobody saw a difference."
    ),
    "turn": (
        "On the valve of the call one turn is worth {turn} at {design_dew}, and {cold_turn} at "
        "{cold_dew}: the same turn, the same force, more degrees. So a stem is never turned by "
        "counting alone. Turn, wait, read."
    ),
    "pull-down": (
        "The {freezer} of the hall, empty after a repair, starts at {warm}. With a limit at "
        "{highest} evaporating it is cold after {limited_time}, without one after "
        "{plain_time}."
    ),
}

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Gauge behind the valve", "{behind_valve}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
    ("Room air", "{box_air}"),
)

PREDICTIONS = (
    Prediction(
        key="stem",
        question=(
            "A valve works as it should, the load stays as it is. You turn its stem one turn "
            "clockwise. Which of these changes most?"
        ),
        options={
            "static": "the superheat at which the pin leaves its seat",
            "opening": "the superheat that the lift takes on top",
            "most": "the most that the port can pass",
        },
        outcome=l20_numbers.what_the_stem_moves,
        because=(
            "The turn moves the start by {stem_static}. What the lift takes on top changes by "
            "{stem_opening}, since a warmer bulb answers a little more strongly, and the port "
            "passes what it passed before."
        ),
    ),
    Prediction(
        key="colder",
        question=(
            "A valve with the usual liquid charge is set to open at {set_static} of superheat with "
            "the coil at {design_dew}. Somebody moves it, spring untouched, to a freezer whose "
            "coil boils at {cold_dew}. There it opens at …"
        ),
        options={
            "less": "less superheat",
            "same": "about the same, within {tenth}",
            "some": "more, by up to {half_more}",
            "double": "more than {half_more} more",
        },
        outcome=l20_numbers.what_cold_does,
        because=(
            "It takes {cold_static} instead of {set_static}. The spring is the same pressure, but "
            "in the cold the bulb's pressure rises less per degree."
        ),
    ),
    Prediction(
        key="cost",
        question=(
            "The room of the call at its set temperature. By how much does the missing equaliser "
            "line raise the superheat?"
        ),
        options={
            "little": "less than {little}",
            "some": "between {little} and {some}",
            "much": "more than {some}",
        },
        outcome=l20_numbers.what_the_drop_costs,
        because=(
            "From {right_superheat} to {wrong_superheat}. It would be more still, but the bulb can "
            "get no warmer than the room, so the coil starves instead."
        ),
    ),
)

CARD = JobCard(
    title="Set the superheat of an expansion valve",
    tools=(
        "Gauges with low-loss fittings, a pressure-temperature card of this refrigerant",
        "Clamp thermometer, insulation and strap for the bulb, leak detector",
        "Stem wrench, two wrenches for cap and packing nut, note pad, tag",
    ),
    cautions=(
        "Glasses and gloves: liquid freezes eyes and skin. Mind fan blades and live terminals.",
        "Flammable refrigerant: detector running, air moving, no ignition source near.",
        "The stem can leak when its cap is off; never unscrew it past its stop; some "
        "have none, so count turns.",
        "Too little superheat sends liquid into the compressor. When in doubt, clockwise.",
    ),
    steps=(
        "First rule out the rest: coil clean, fans run, no bubbles before the valve, strainer "
        "free, bulb clean, strapped tight, insulated, not under the pipe; equaliser line open, "
        "tapped downstream of the bulb.",
        "Distributor, or more drop than {worth} of dew: it must have an external equaliser (common "
        "practice, no published source).",
        "Box at temperature, doors shut, no defrost near. Head as usual.",
        "Clamp beside the bulb, gauge at the coil outlet. Read both together, {again} apart, three "
        "times: steady or hunting?",
        "Dew from the gauge; clamp less dew is superheat.",
        "Aim: nameplate or maker; otherwise {medium_low} to {medium_high} for coolers, {low_low} "
        "to {low_high} for freezers (common practice).",
        "Cap off, half a turn at most: clockwise for more superheat. Write it down.",
        "Wait {wait} or more. Read again.",
        "No answer after a full turn: stop. Put it back and look for the cause.",
        "Watch for frost or sweat at the compressor.",
        "Cap on, leak check, tag: superheat, turns, date, your name.",
    ),
    quantities={
        "worth": (2.0 * units.RANKINE, "temperature_difference", 0),
        "again": (120.0, "time"),
        "wait": (1200.0, "time"),
        "medium_low": (6.0 * units.RANKINE, "temperature_difference", 0),
        "medium_high": (10.0 * units.RANKINE, "temperature_difference", 0),
        "low_low": (4.0 * units.RANKINE, "temperature_difference", 0),
        "low_high": (8.0 * units.RANKINE, "temperature_difference", 0),
    },
    notice=hall.hall().notice,
)

LESSON = Lesson(
    number="20",
    title="How the valve decides",
    goals=(
        "name the forces on the pin, and say from two gauges and a clamp which one is off",
        "tell static, opening and operating superheat apart, and know which of them the stem sets",
        "choose between liquid, cross and gas charge, and say what a pressure limit does when a "
        "warm freezer is pulled down",
        "tell what a missing equaliser line costs, and why the stem cannot mend it",
        "set superheat step by step, with waiting times",
    ),
    minutes=45,
    before=("10", "12"),
    cautions=(
        "On this page nothing can hurt you; at the valve it can. The card at the end says what to "
        "mind before you take a stem's cap off.",
        "Propane and other flammable refrigerants: ventilation, no ignition source, the right "
        "detector. Never braze an equaliser line on a charged or unpurged system.",
        "The nameplate, local code and the licence that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Turn the stem two turns clockwise. Which of the two braces grows, and what happens to the "
        "slope of the line?",
        "Turn it back and take the load down to a quarter. Which brace shrinks now? What does the "
        "spring feel of it?",
        "Hold the bulb by hand at a superheat of your own. Where does the valve feed too much, "
        "where too little, and what would the coil outlet do then?",
    ),
    tasks=l20_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Properties of the refrigerants",
            "CoolProp's equations of state, tabulated in data/properties",
            READ,
        ),
        Source("Static, opening and operating superheat", "wording as in AHRI 750", MEMORY),
        Source(
            "Pressure lost in a distributor: one to two bar are common",
            "Hundy, Trott and Welch, Refrigeration and Air-Conditioning (text copy)",
            READ,
        ),
        Source(
            "A stiffer spring gives more superheat",
            "US Army TM 5-4120-375-14, page 5-53",
            READ,
        ),
        Source(
            "At least 20 minutes between two turns of the stem",
            "US Army TM 5-4120-356-14, adjustment of the expansion valve",
            READ,
        ),
        Source(
            "A pressure limit starves the coil at start and spares the motor",
            "ACHR News, “TEVs: fine points of maximum operating pressure”",
            READ,
        ),
        Source(
            "A coil with a distributor gets an external equaliser, and so does a drop worth more "
            "than about two degrees Fahrenheit; usual superheats; half a turn at a time",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "Discharge coefficient growing with liquid density",
            "Wile 1935, both terms, as quoted in later papers",
            MEMORY,
        ),
        Source(
            "Size of diaphragm, spring and thread; flatness of the cross charge; the freezer's "
            "steel and the heat that gets in",
            "our own choices, physical and of no maker",
            OURS,
        ),
        Source(
            "Everything drawn",
            "lowside.valve and lowside.system, checked in tests/test_valve.py, "
            "tests/test_valve_stem.py, tests/test_pulldown.py and tests/test_lesson_20.py",
            OURS,
        ),
    ),
    leaves_out=(
        "Time: bulb, coil and pressure follow each other late. Whether the valve hunts is lesson "
        "28.",
        "Friction and play of pin and stem, which make a real valve answer differently on the way "
        "up and on the way down.",
        "In the main panel evaporating temperature and load are given; in a real box they answer "
        "to the valve. The call and the pull-down are solved with coil and compressor.",
        "What a turn is worth depends on spring and thread; real valves may take half or twice as "
        "many degrees a turn as the one drawn.",
        "Real cross and gas charges are mixtures of their makers; the ones here are a flatter line "
        "and a dry bulb, right in kind and not in every degree. A gas charge also needs its bulb "
        "to stay the coldest part of it.",
        "The pull-down takes every moment as steady and the condenser as a plain difference to the "
        "air outside; racks and walls are as cold as the air between them. Real ones lag behind, "
        "and goods that freeze take many times longer.",
    ),
    next="22",
    quantities=l20_numbers.quantities,
)
