"""Lesson 28: hunting."""

from __future__ import annotations

from . import hall, l28_numbers, l28_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. The box is cold, and nobody would have "
    "called, but the compressor has begun to knock now and then. After last year's trouble with a "
    "port too small, somebody wanted to be safe and fitted {fitted} instead of the {planned} of "
    "the plan. Somebody else found the superheat high and turned the stem out.\n\n"
    "You put clamp and gauge on and wait. Nothing stands still: the clamp beside the bulb goes "
    "from {line_low} to {line_high} and back, the gauge from {suction_low} to {suction_high}. You "
    "look at your watch: the same again every {period}, one beat. When the clamp is coldest, "
    "dew at the gauge is {dew_low}, which leaves {lowest} of superheat. Nearly liquid, once every "
    "beat.\n\n"
    "Whoever took one reading, at the wrong moment, read {highest} and turned the stem further out."
)

READINGS = (
    ("Suction, low", "{suction_low}"),
    ("Suction, high", "{suction_high}"),
    ("Clamp, low", "{line_low}"),
    ("Clamp, high", "{line_high}"),
    ("Superheat, low", "{lowest}"),
    ("Superheat, high", "{highest}"),
    ("One beat", "{period}"),
    ("Box air", "{set_point}"),
)

NOTES = {
    "record": (
        "The record starts where a hand has warmed the bulb a little. The first swing is the "
        "hand's doing. All others are the valve's own: it does not come to rest, and after a few "
        "beats every swing is as high as the last, {amplitude} to either side of {mean}. It grows "
        "no further, because at its low end the coil is wet to the end and cannot get wetter.\n\n"
        "The pin moves between {lift_low} and {lift_high} of its travel. It never meets its stop: "
        "this is no valve that bangs open and shut, and still it hunts."
    ),
    "late": (
        "Here liquid takes {dead_time} from the valve to the bulb. Pipe and bulb then need another "
        "{bulb_lag} to follow about two thirds of the way; with a loose bulb it would be "
        "{loose_lag}."
    ),
    "place": (
        "On this line the place on the pipe moves the superheat by {top_to_bottom} between top "
        "and bottom, dry gas and a thin cold stream assumed: copper carries the heat around. So "
        "the rule for the place is not about dry gas. It is about oil and drops on the bottom, "
        "which come and go, and about a bulb whose own liquid must lie where it touches the "
        "pipe.\n\n"
        "The equaliser matters in another way. Let {leak} of the flow leak past a worn packing "
        "into the equaliser line. Joined after the bulb, nothing happens. Joined before it, the "
        "clamp still reads {leak_clamp}, and the gas leaves the coil with {leak_coil}: the coil "
        "starves and your clamp cannot know."
    ),
    "cure": (
        "Found: margin {margin}. The planned port alone, stem left as it was: {port_margin}, so it "
        "would still hunt. The stem alone, {plan_static} again, big port left: {stem_margin}, it "
        "settles, slowly. Both as planned: {plan_margin}, superheat {plan_superheat} at rest."
    ),
}

PREDICTIONS = (
    Prediction(
        key="cure",
        question=(
            "You may undo one thing only: the port ({fitted} back to {planned}), or the stem "
            "(static superheat {turned} back to {plan_static}). What stops the swing?"
        ),
        options={
            "port": "the planned port; the stem may stay",
            "stem": "the stem; the big port may stay",
            "either": "either of them",
            "both": "neither alone; it takes both",
        },
        outcome=l28_numbers.what_cures,
        because=(
            "Margin {margin} as found, {port_margin} with the planned port, {stem_margin} with the "
            "stem turned back, {plan_margin} with both. Below 1 it hunts."
        ),
    ),
    Prediction(
        key="half",
        question=(
            "On a mild day the box needs half, and the compressor turns down to match. Port and "
            "stem stay as found. What does the swing do?"
        ),
        options={
            "stops": "it stops",
            "slower": "it goes on, slower",
            "faster": "it goes on, faster",
        },
        outcome=l28_numbers.half_load,
        because=(
            "With half the flow everything takes longer: one beat {half_period} instead of "
            "{period}, and {half_amplitude} instead of {amplitude} to either side. The margin is "
            "{half_margin} instead of {margin}."
        ),
    ),
    Prediction(
        key="bare",
        question=(
            "Port and stem are put right. A year later the insulation of the bulb has fallen off, "
            "and the bulb sits in the {warm_room} air of a plant room, still strapped tight. "
            "What does the valve do?"
        ),
        options={
            "nothing": "nothing that one could see",
            "starves": "it closes: the superheat rises",
            "hunts": "it hunts again",
        },
        outcome=l28_numbers.bare_bulb,
        because=(
            "The warm air has a say in what the bulb feels. The valve opens further, the superheat "
            "at rest falls from {plan_superheat} to {warm_superheat}, and so little is not stable: "
            "margin {warm_margin}, {warm_amplitude} to either side."
        ),
    ),
)

CARD = JobCard(
    title="A valve that hunts",
    tools=(
        "Gauges with low-loss fittings, a quick clamp for the suction line, watch, paper",
        "Metal straps, foam sleeve, cloth, wrench for the stem, tag and pen",
    ),
    cautions=(
        "Glasses and gloves. Keep clear of fan and belts; lock out the fan before you reach in.",
        "Frozen or hot pipes; sharp fins.",
        "Flammable refrigerant: detector on, fresh air, no ignition source.",
        "Opening the circuit is another job: recovery, licence, code and nameplate first.",
    ),
    steps=(
        "Let the box come down; no defrost, no open door. Touch nothing yet.",
        "Write clamp and gauge every {often} for {watch}. Note beat, lowest and highest superheat.",
        "Lowest near zero: liquid comes back. Act today.",
        "First what costs nothing. Fan turning, coil clean, no frost? Liquid without bubbles at "
        "the valve? Head steady?",
        "Bulb: on a straight horizontal piece near the coil, before any trap; clean pipe, two "
        "straps, tight. Never at 6 o'clock: on top or at 2 or 10 on lines below {line}, at 4 or 8 "
        "from there on (common practice, no published source).",
        "Insulate the bulb.",
        "Equaliser joins after the bulb. Line frosted or cold all along: packing leaks.",
        "Is the setting below the plan? Stem in, half a turn at most. Wait {wait} or more and at "
        "least ten beats; read low and high again (common practice, no published source).",
        "Still hunting: compare port and tag with the plan. A port too big is changed, lesson 22.",
        "Tag: port, turns, low, high, beat, date, your name.",
    ),
    quantities={
        "often": (10.0, "time"),
        "watch": (300.0, "time"),
        "wait": (900.0, "time"),
        "line": (22.2e-3, "length"),
    },
    notice=hall.hall().notice,
)

LESSON = Lesson(
    number="28",
    title="Hunting",
    goals=(
        "tell hunting from a load that changes, and measure its beat and its lowest superheat",
        "say which three things make a valve hunt: too strong, too late, too little superheat",
        "place, strap and cover a bulb, and say what a wrong place does and what it does not",
        "choose what to try first, and know how long to wait after it",
    ),
    minutes=45,
    before=("20", "22"),
    cautions=(
        "On this page nothing can hurt you. At the box: turning fans, cold and hot pipes, liquid "
        "under pressure.",
        "A valve that hunts can send liquid to the compressor on every beat. Do not leave it so "
        "because the box is cold.",
        "Propane and other flammable refrigerants: ventilation, no ignition source, detector on. "
        "The nameplate, local code and the licence that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Turn the stem in, little by little (static superheat up). Where does the swing die out, "
        "and how fast? Do the same with the planned port of {planned}.",
        "Press “As planned” and hang the bulb loose. Calm? Now let it hang bare in a warm room.",
        "Take the large cold room and move the bulb from 12 to 6 o'clock; then join the equaliser "
        "before the bulb. Which of the two would you find with a clamp?",
    ),
    tasks=l28_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Valve, evaporator and compressor at rest",
            "lowside.system, the steady box of lesson 22",
            OURS,
        ),
        Source(
            "The boiling zone as a store of liquid with a time of its own",
            "Wedekind and Stoecker 1968",
            MEMORY,
        ),
        Source(
            "Hunting of an evaporator and its valve as a loop, one open-loop response made of "
            "physical parameters",
            "Broersen and van der Jagt 1980, J. Dyn. Sys. Meas. Control 102, abstract",
            READ,
        ),
        Source(
            "Oversized valves and wrongly placed bulbs hunt; a heavier bulb damps",
            "Hundy, Trott and Welch, Refrigeration and Air-Conditioning, chapter on expansion "
            "valves, text copy",
            READ,
        ),
        Source(
            "The least stable superheat rises with the load",
            "Huelle 1967 and 1972",
            MEMORY,
        ),
        Source(
            "Gain margin, and its closed forms that the tests compare with",
            "textbooks of process control; Ziegler and Nichols 1942",
            MEMORY,
        ),
        Source("The bulb never on the bottom of the line", "ACHR News, 21 August 2000", READ),
        Source(
            "Other places of bulb and equaliser, a trap after the bulb and not before, waiting "
            "between turns of the stem",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "Heat capacities and contacts of bulb and coil, liquid and metal of a coil from its "
            "conductance, the stream on the bottom of the line",
            "estimates of our own, named in lowside.hunting",
            OURS,
        ),
    ),
    leaves_out=(
        "How much copper, fin and liquid a coil has is estimated. With a fifth more or less "
        "inside, or a third less to a half more metal, the margin of the planned valve lies "
        "between {margin_low} and {margin_high}, not at {plan_margin} exactly. Trust directions "
        "and differences more than the second digit.",
        "Friction of pin and pushrods: a sticky pin can hunt with a margin above 1.",
        "A pin right at its seat: there real ports pass more or less than a clean cone would. Some "
        "valves hunt at very low load for that reason, and this page does not show it.",
        "Uneven circuits: one that gets too much sends drops to the bulb while the others starve. "
        "Slugs of oil, and traps.",
        "The head, the charge and the air in the box stand still during a swing. If fans or "
        "head-pressure valves cycle, the valve only follows: look there first.",
    ),
    next="30",
    quantities=l28_numbers.quantities,
)
