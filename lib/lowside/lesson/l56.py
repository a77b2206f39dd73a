"""Lesson 56: read a trend."""

from __future__ import annotations

from . import hall, l56_numbers, l56_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. By day it is cold, and whoever comes to look "
    "finds nothing wrong. In the morning there is frost on the compressor, and the meat near the "
    "door was warm once. Somebody has had the valve apart since your last visit.\n\n"
    "You cannot stand there all night. A logger can: gauge, clamp, box air, coil and compressor "
    "current, a reading every {step} for {span}. This is what it brought home."
)

READINGS = (
    ("Runs", "{run_share}"),
    ("Starts an hour", "{starts}"),
    ("Defrosts", "{defrosts}"),
    ("Superheat, usual low", "{low}"),
    ("Superheat, usual high", "{high}"),
    ("Superheat, lowest", "{lowest}"),
)

NOTES = {
    "night": (
        "In every run the superheat swings with one beat of {period}, {amplitude} to either side, "
        "down to {lowest}: the valve hunts, and at the low end of each beat almost no "
        "superheat is left: drops may reach the compressor. The {defrosts} defrosts "
        "end on the coil's temperature after "
        "{longest_defrost} at most, and the box is back {recovery} later. They are in order.\n\n"
        "At {door_clock} something else: the compressor runs, the suction is that of a running "
        "machine, and the box air still rises by {door_rise} in {door_time}. Somebody took in "
        "goods with the door open."
    ),
    "slow": (
        "The same night read every {slow_step} still draws a wave, but its beat seems to be "
        "{slow_beat} instead of {period}. It is not there: the logger meets every beat a little "
        "later than the last and draws a slow wave from single points of many fast ones."
    ),
    "door": (
        "Here the heat on top was about {door_share} of what the machine takes out. The machine "
        "itself did nothing wrong."
    ),
    "tight": (
        "With the thermostat's differential at {tight_differential} instead of {differential} the "
        "same box starts {tight_starts} times an hour instead of {starts}. After the cure the "
        "valve keeps {plan_superheat} and does not swing."
    ),
}

PREDICTIONS = (
    Prediction(
        key="slow",
        question=(
            "To save memory the logger is set to one reading every {slow_step}. The valve swings "
            "once every {period}. Which beat does the record show?"
        ),
        options={
            "same": "the same beat, a little rougher",
            "other": "another beat, or none",
        },
        outcome=l56_numbers.slow_logger,
        because="The record seems to show {slow_beat} where the valve has {period}.",
    ),
    Prediction(
        key="delivery",
        question=(
            "The door stands open for a delivery and the box air rises although the compressor "
            "runs. How much heat comes in on top, against what the machine takes out?"
        ),
        options={
            "little": "a tenth or two of it",
            "half": "about half of it",
            "more": "more than all of it",
        },
        outcome=l56_numbers.what_the_door_brings,
        because=(
            "About {door_share}: enough to undo all of the cooling, and more, or the air could "
            "not have risen by {door_rise}."
        ),
    ),
)

CARD = JobCard(
    title="A logger for a night",
    tools=(
        "Logger with enough memory; its clock set and checked against your watch",
        "Pressure probe, clamps with insulation, current clamp, tape, tag and pen",
    ),
    cautions=(
        "Current clamp: around one insulated conductor only. Open the electrical box only if you "
        "are licensed to; lock out and tag out first.",
        "Glasses and gloves where a probe joins the circuit. Flammable refrigerant: detector on, "
        "fresh air; a logger and its battery are ignition sources unless they are made for it.",
        "Keep leads clear of fans, hot lines and door gaskets.",
    ),
    steps=(
        "Suction probe and clamp at the same place, beside the bulb. Insulate the clamp.",
        "Box air where it returns to the coil, out of the defrost's warm breath. Coil clamp where "
        "the defrost ends.",
        "Reading every {often} or faster if hunting is the question.",
        "Write down: clock, summer or winter time, column by column what it is and in which unit, "
        "gauge or absolute, refrigerant, altitude.",
        "At least {long}, so that every defrost is in it. Note deliveries and door times.",
        "At home check first: gaps, clock, impossible readings. Superheat below zero for long: "
        "liquid, or a wrong column?",
        "Then in this order: runs and stops, defrosts, door, hunting.",
        "Work order: what was logged, when, how often; what you saw; what you propose.",
        "Keep the file as it came. Remove probes, cap the ports, leak check.",
    ),
    quantities={"often": (10.0, "time"), "long": (24.0 * 3600.0, "hours")},
    notice=hall.hall().notice,
)

LESSON = Lesson(
    number="56",
    title="Read a trend",
    goals=(
        "open any logger's file, and say which column is what and in which unit",
        "tell runs, stops, defrosts, an open door and a hunting valve apart over a night",
        "choose how often a logger must read, and know a false beat when you see one",
        "write down what a record shows in a few lines for the work order",
    ),
    minutes=40,
    before=("14", "28"),
    cautions=(
        "On this page nothing can hurt you. At the box: electricity, turning fans, liquid under "
        "pressure, cold and hot pipes.",
        "A current clamp goes into the electrical box only by those who may open it.",
        "Propane and other flammable refrigerants: detector on, no ignition source, and a logger "
        "is one unless it is made for such a place. Nameplate, local code and licence come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Show half an hour of the night and count the beats in one run. Does {period} fit?",
        "Choose the logger with one reading a minute and the same half hour. What became of the "
        "beat?",
        "Choose the tight thermostat. Which numbers of the strip give it away?",
    ),
    tasks=l56_tasks.ALL,
    card=CARD,
    sources=(
        Source("Period and height of a swing", "lowside.hunting.measure, as in lesson 28", OURS),
        Source(
            "Times written with their distance from UTC",
            "ISO 8601; read by pandas, zones from the time zone database",
            MEMORY,
        ),
        Source(
            "A wave sampled too slowly looks like a slower one",
            "Nyquist 1928, Shannon 1949",
            MEMORY,
        ),
        Source(
            "What makes a defrost, a short run, heat through a door; four readings a beat",
            "limits of our own, named in lowside.trend",
            OURS,
        ),
        Source("Probe places, and what to write down", "what is taught and done", PRACTICE),
        Source(
            "The nights of this page: invented, simulated from the solved box, its hunting valve, "
            "walls, door, frost and a heater",
            "lowside.lesson.l56_night",
            OURS,
        ),
    ),
    leaves_out=(
        "Heat on top is told from the pace of the box air alone, as if walls, goods and air were "
        "one lump. Air runs ahead of the goods, and a warmer box makes the machine stronger: take "
        "it for good to a third.",
        "Without a coil clamp a defrost is told from the dew point of the suction, without a "
        "current from the suction pressure. Valves in the suction line upset both.",
        "Simulated: one lump each for air, goods and coil; no oil, no humidity in the air; the "
        "swing is that of the box at its usual air temperature.",
        "Drawn superheat ends at the edge of the picture; the table counts all of it.",
    ),
    next="60",
    quantities=l56_numbers.quantities,
)
