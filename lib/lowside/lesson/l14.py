"""Lesson 14: how much cold does this box need."""

from __future__ import annotations

from functools import cache

from lowside import load

from . import hall, l14_room, l14_tasks, plant
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

BOX = l14_room.BOX

CURTAIN = load.PROTECTION["strip curtain"]
THICK = 2.0 * l14_room.THICKNESS  # [m]
PRECOOLED = 283.15  # [K]


@cache
def gains():
    """Add up the room's heat, today and with the newcomer.

    Returns
    -------
    today, then : load.HeatGains
    """
    return tuple(load.heat_gains(room) for room in (l14_room.today(), l14_room.with_newcomer()))


@cache
def needed():
    """Capacity that the room wants, today and with the newcomer.

    Returns
    -------
    today, then : float
        [W]
    """
    return tuple(
        float(load.required_capacity(room)) for room in (l14_room.today(), l14_room.with_newcomer())
    )


def running(gained):
    """How long the room's own machine runs on an average day.

    Parameters
    ----------
    gained : load.HeatGains

    Returns
    -------
    float
        [s]
    """
    return float(gained.per_day) / l14_room.machine()


@cache
def savings():
    """Compute what three measures take off the newcomer's room.

    Returns
    -------
    dict of str to float
        Daily mean. [W]
    """
    brought = l14_room.BROUGHT + l14_room.NEWCOMER
    then = gains()[1]
    measures = {
        "walls": l14_room.room(brought=brought, thickness=THICK),
        "curtain": l14_room.room(brought=brought, protection=CURTAIN),
        "cool": l14_room.room(brought=brought, entering=PRECOOLED),
    }
    saved = {
        name: float(then.total - load.heat_gains(room).total) for name, room in measures.items()
    }
    return {**saved, "fans": float(then.fans) / 2.0}


def door_while_open():
    """Heat that comes in while the room's door stands open [W].

    Returns
    -------
    float
    """
    room = l14_room.today()
    return float(gains()[0].door) * load.DAY / room.door.open_time


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box = hall.box(BOX)
    (today, then), (wants, would) = gains(), needed()
    saved = savings()
    readings = plant.run(box).readings(box.summer_ambient)
    length, width, height = l14_room.SIZE
    shell = float(today.walls + today.floor)
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "length": (length, "distance"),
        "width": (width, "distance"),
        "height": (height, "distance"),
        "thickness": (l14_room.THICKNESS, "thickness"),
        "inside": (box.box_temperature, "temperature"),
        "outside": (l14_room.OUTSIDE[0], "temperature"),
        "open_time": (l14_room.OPEN_TIME, "minutes"),
        "brought": (l14_room.BROUGHT, "goods"),
        "more": (l14_room.NEWCOMER, "goods"),
        "entering": (l14_room.ENTERING, "temperature"),
        "precooled": (PRECOOLED, "temperature"),
        "suction": (readings.suction_pressure, "gauge_pressure"),
        "machine": (l14_room.machine(), "capacity"),
        "shell": (shell, "heat_flow"),
        "shell_share": (shell / float(today.total), "ratio"),
        "floor": (float(today.floor), "heat_flow"),
        "door": (float(today.door), "heat_flow"),
        "goods_heat": (float(today.goods), "heat_flow"),
        "insiders": (
            float(today.total - today.door - today.goods) - shell,
            "heat_flow",
        ),
        "door_open": (door_while_open(), "capacity"),
        "door_machines": (door_while_open() / l14_room.machine(), "number", 1),
        "water": (float(today.water) * load.DAY, "goods"),
        "wants": (wants, "capacity"),
        "would": (would, "capacity"),
        "run_time": (load.RUN_TIMES["air"], "hours"),
        "run_heater": (load.RUN_TIMES["heater"], "hours"),
        "runs_today": (running(today), "hours"),
        "runs_then": (running(then), "hours"),
        "margin": (load.MARGIN, "ratio"),
        "saves_curtain": (saved["curtain"], "heat_flow"),
        "saves_walls": (saved["walls"], "heat_flow"),
        "saves_fans": (saved["fans"], "heat_flow"),
        "saves_cool": (saved["cool"], "heat_flow"),
        "jump": (load.LARGE_DIFFERENCE, "temperature_difference"),
        "spread": (load.SPREAD, "temperature_difference"),
    }


def _largest():
    today = gains()[0]
    parts = {
        "shell": today.walls + today.floor,
        "door": today.door,
        "goods": today.goods,
    }
    parts["inside"] = today.total - sum(parts.values())
    return max(parts, key=lambda name: float(parts[name]))


def _will_it_do():
    if needed()[1] <= l14_room.machine():
        return "holds"
    return "just" if running(gains()[1]) <= load.RUN_TIMES["air"] else "never"


def _best_measure():
    saved = savings()
    return max(("walls", "curtain", "fans"), key=saved.get)


CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. {notice}\n\n"
    "A new stall moves in upstairs. It wants to put {more} of leaves and cabbage into this room "
    "every morning, on top of the {brought} that come today, all of it at {entering} from the van. "
    "“Will the room take it?” the hall's manager asks.\n\n"
    "Nobody can say. When the room was built, its machine was chosen by the size of the one "
    "before. On your plan stands what the machine can do, and you have measured the rest with "
    "tape, thermometer and an hour beside the door."
)

READINGS = (
    ("Inside", "{length} × {width} × {height}"),
    ("Walls and ceiling", "{thickness} of foam"),
    ("Floor", "bare concrete"),
    ("Box air", "{inside}"),
    ("Corridor", "{outside}"),
    ("Door open in a day", "{open_time}"),
    ("Suction gauge", "{suction}"),
    ("Machine, in summer", "{machine}"),
)

PREDICTIONS = (
    Prediction(
        key="largest",
        question=(
            "Before any newcomer: which brings the most heat into this room, counted over a whole "
            "day?"
        ),
        options={
            "shell": "walls, ceiling and floor",
            "door": "the open door",
            "goods": "cooling what is brought in",
            "inside": "fans, lights, people, and the goods' own breath",
        },
        outcome=_largest,
        because=(
            "Over the day {shell} come through walls and floor, {goods_heat} out of the goods, "
            "{door} through the door, and {insiders} are made inside. The shell never rests."
        ),
    ),
    Prediction(
        key="newcomer",
        question=(
            "The machine takes out {machine} while it runs, and is meant to run {run_time} a day "
            "at most. With {more} more every morning, what happens?"
        ),
        options={
            "holds": "it still gets by, with something to spare",
            "just": "it gets by on an average day, with too little to spare",
            "never": "even on an average day it does not get by in that time",
        },
        outcome=_will_it_do,
        because=(
            "Today the room wants {wants}, {margin} on top included, and the machine runs "
            "{runs_today} on an average day. With the newcomer it wants {would}. The machine would "
            "run {runs_then} on an average day; on a worse one it falls behind."
        ),
    ),
    Prediction(
        key="measure",
        question="Which of these takes the most off the machine?",
        options={
            "walls": "walls twice as thick",
            "curtain": "a strip curtain in the doorway",
            "fans": "fans that need half the power",
        },
        outcome=_best_measure,
        because=(
            "On average the curtain saves {saves_curtain}, the walls {saves_walls}, the fans "
            "{saves_fans}. More than any of them: goods that come in at {precooled} save "
            "{saves_cool}."
        ),
    ),
)

NOTES = {
    "shell": (
        "Walls and floor are {shell_share} of it. The bare floor alone lets {floor} through: "
        "concrete hardly insulates, and the ground is warm day and night."
    ),
    "door": (
        "While the door stands open, {door_open} come in: as much as {door_machines} of this "
        "room's machines can take out. Only because it is shut most of the day is it {door} on "
        "average. With that air come {water} of water a day; all of it ends as water or frost on "
        "the coil."
    ),
    "verdict": (
        "Your answer to the manager: today the room wants {wants} from a machine of {machine}. "
        "With the newcomer it would want {would}. Hang a strip curtain, or have the goods come "
        "cooled, and it does. Then choose the valve for that capacity: lesson 22 shows what the "
        "port does, lesson 24 builds it."
    ),
}

CARD = JobCard(
    title="Find out how much cold a box needs",
    tools=(
        "Tape; two thermometers; humidity meter",
        "Watch and pencil: an hour beside the door",
        "Nameplates of fans, lights, heaters, machine",
        "Delivery notes of a usual and of a bad day",
    ),
    cautions=(
        "Lock out and tag out before you open a fan, a heater or a light. Heaters in door frames "
        "and drains are live while the machine rests.",
        "Not alone in a freezer: the door must open from inside, somebody knows you are there.",
        "Wet or icy floors; ladders; low coils with sharp fins and fans that start by themselves.",
        "Flammable refrigerant on the nameplate: no flame, no drill into a wall before you know "
        "what runs in it.",
    ),
    steps=(
        "Measure length, width, height, door. What are walls and floor made of, how thick?",
        "Read the air inside, outside, and humidity. Ask for the hottest week.",
        "Watch the door for an hour at its worst: minutes open. Is there a curtain, a closer?",
        "Goods: how much a day, how warm, how much lies there? Through freezing?",
        "Fans, lights, heaters, people: watts and hours. How does it defrost?",
        "Add up a day. Add {margin}. Divide by {run_time}, with heater defrost by {run_heater}.",
        "What humidity do the goods want? From it the difference, and the coil's temperature.",
        "Compare with the machine at that temperature on the hottest day. Too small? First door, "
        "warm goods and walls; then a bigger machine.",
        "Write it down: load, temperatures, date, name. Next to the valve's tag.",
    ),
    quantities={
        "margin": (load.MARGIN, "ratio"),
        "run_time": (load.RUN_TIMES["air"], "hours"),
        "run_heater": (load.RUN_TIMES["heater"], "hours"),
    },
    notice="Running hours and margin: common practice, no published source.",
)

LESSON = Lesson(
    number="14",
    title="How much cold does this box need",
    goals=(
        "say where a box's heat comes from, and how much from each",
        "turn a day's heat into the capacity that a machine must have",
        "see when in the day the heat comes, and whether the machine catches up",
        "choose the coil's temperature by the humidity that the goods want",
    ),
    minutes=45,
    before=("10",),
    cautions=(
        "You measure in a box that works: fans start by themselves, floors are wet, heaters are "
        "live. Lock out and tag out before you reach in.",
        "Never be shut in a freezer: check that the door opens from inside, and tell somebody.",
        "A load on paper is no permission. Nameplate, maker's instructions, local code and the "
        "licence the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    try_this=(
        "Let the newcomer in (button). Then bring the machine back to its hours without touching "
        "the machine. How many ways do you find?",
        "Make the walls thicker, step by step. Why does every further step save less?",
        "Turn the room into a freezer (button). Which streams grow, and which new one appears?",
    ),
    tasks=l14_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Conductivity of insulation, film of still air",
            "Dossat, Principles of Refrigeration, SI edition, Table 10-1",
            READ,
        ),
        Source("Heat from the ground under a slab", "ISO 13370", MEMORY),
        Source(
            "Air through an open door; factors for real doorways and curtains",
            "Gosney and Olama 1975, in the EnergyPlus Engineering Reference",
            READ,
        ),
        Source("Moist air", "ASHRAE Fundamentals, chapter 1", MEMORY),
        Source("Vapour pressure of water and ice", "IAPWS SR1-86 (1992), R14-08 (2011)", MEMORY),
        Source(
            "Specific and latent heats of foods",
            "Earle, Unit Operations in Food Processing, Appendix 7",
            READ,
        ),
        Source("Breath of produce", "Becker and Fricke 1996", MEMORY),
        Source("Heat of people", "ASHRAE Handbook, Refrigeration", MEMORY),
        Source(
            "Temperature difference by humidity",
            "Hundy, Trott and Welch, 4th ed., p. 135",
            READ,
        ),
        Source("The humidity at both ends of that table", "what is taught", PRACTICE),
        Source("Running hours, margin, share of the defrost heat", "what is taught", PRACTICE),
        Source(
            "Loads, the day, the humidity",
            "lowside.load, checked in tests/test_load.py and tests/test_lesson_14.py",
            OURS,
        ),
        Source("The room, its use and the newcomer", "invented for this lesson", OURS),
    ),
    leaves_out=(
        "The door is the roughest number: real doorways differ from the equation by a third. It "
        "takes the flow of a room that stays cold; a small room warms up while the door is open "
        "and then takes in less, so long openings are overstated. The published factor for real "
        "doorways jumps where the difference between outside and inside passes {jump}.",
        "Breath of produce differs by a factor of two between sorts, and is taken at the room's "
        "temperature: warm goods breathe harder while they cool.",
        "Sun on walls and roof, heat that walls store, gaps in tired gaskets, fork-lift trucks.",
        "Goods give off their heat as one lump that cools evenly. Inside a full crate it takes "
        "longer.",
        "“Warmer goods” spreads what waits over all that lies there. The warmest crate, by the "
        "door, is worse off.",
        "Foods freeze over several degrees; here all at one. The sum is right, the moment is not.",
        "Sources differ by about {spread} on the temperature difference for a humidity; air "
        "speed and how full the room is count as well.",
        "The machine's capacity is taken as the same all day; on a hot afternoon it is less. It "
        "belongs to one evaporating temperature: at a freezer's the same machine moves far less.",
    ),
    next="20",
    quantities=quantities,
    notes=NOTES,
)
