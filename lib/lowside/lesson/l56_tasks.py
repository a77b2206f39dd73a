"""The tasks of lesson 56: defrosts a day, run share, how fast to log, heat through a door."""

from __future__ import annotations

from .tasks import Slip, Task
from .tolerance import Tolerance

KINDS = {
    "span": "hours",
    "run": "minutes",
    "stop": "minutes",
    "beat": "time",
    "warming": "temperature_difference",
    "cooling": "temperature_difference",
    "door": "temperature_difference",
    "alone": "temperature_difference",
}
_MINUTE, _HOUR, _DAY = 60.0, 3600.0, 86400.0


def _draw_defrosts(random):
    return {"count": str(random.randint(5, 13)), "span": random.uniform(29.0, 66.0) * _HOUR}


DEFROSTS = Task(
    key="defrosts",
    question=(
        "A record of {span} without gaps shows {count} defrosts. How many is that for a whole day?"
    ),
    draw=_draw_defrosts,
    kinds=KINDS,
    solve=lambda values: {"answer": int(values.count) * _DAY / values.span},
    kind="number",
    slips=(
        Slip(
            "not per day",
            lambda values, show: float(values.count),
            "That is the count of the whole record, and the record is longer than a day.",
        ),
        Slip(
            "upside down",
            lambda values, show: values.span / _HOUR / int(values.count),
            "That is how many hours lie between two defrosts.",
        ),
        Slip(
            "per twelve hours",
            lambda values, show: 0.5 * int(values.count) * _DAY / values.span,
            "That is for half a day.",
        ),
    ),
    hints=("How many days is {span}?", "Divide {count} by {span}, and take 24 hours of it."),
    steps=(
        "{count} defrosts in {span}.",
        "For 24 hours: {count} times 24 divided by the hours, {answer}.",
    ),
)


def _draw_share(random):
    return {
        "run": random.uniform(6.0, 25.0) * _MINUTE,
        "stop": random.uniform(3.0, 14.0) * _MINUTE,
    }


SHARE = Task(
    key="share",
    question=(
        "All through a record the compressor runs {run}, stands still {stop}, and starts again. "
        "What share of the time does it run?"
    ),
    draw=_draw_share,
    kinds=KINDS,
    solve=lambda values: {"answer": values.run / (values.run + values.stop)},
    kind="ratio",
    slips=(
        Slip(
            "the share it stands",
            lambda values, show: values.stop / (values.run + values.stop),
            "That is the share in which it stands still.",
        ),
        Slip(
            "stop over run",
            lambda values, show: values.stop / values.run,
            "That compares stop and run. A share is of the whole cycle.",
        ),
    ),
    hints=("How long is a whole cycle?", "{run} out of {run} and {stop} together."),
    steps=(
        "A whole cycle is {run} and {stop}.",
        "{run} divided by the whole cycle is {answer}.",
    ),
)


def _draw_step(random):
    return {"beat": random.uniform(44.0, 110.0)}


STEP = Task(
    key="step",
    question=(
        "You want to see a beat of {beat}, and to see it you want four readings in every beat. "
        "How long may the logger wait from one reading to the next?"
    ),
    draw=_draw_step,
    kinds=KINDS,
    solve=lambda values: {"answer": values.beat / 4.0},
    kind="time",
    slips=(
        Slip(
            "one a beat",
            lambda values, show: values.beat,
            "One reading a beat always meets the same place of the swing: you see a flat line.",
        ),
        Slip(
            "two a beat",
            lambda values, show: values.beat / 2.0,
            "Two readings a beat may both fall where the swing crosses its middle.",
        ),
        Slip(
            "times four",
            lambda values, show: values.beat * 4.0,
            "That is longer than the beat itself.",
        ),
    ),
    hints=("Four readings share one beat.", "Divide {beat} by four."),
    steps=("Four readings in {beat}.", "{beat} divided by four is {answer}."),
    tolerance=Tolerance(us=1.0, metric=1.0, because="a logger is set in whole seconds"),
)


def _draw_door(random):
    return {
        "warming": random.uniform(2.0, 3.0),
        "cooling": random.uniform(2.0, 3.5),
        "door": random.uniform(1.0, 4.5),
    }


def _door(values):
    return {
        "alone": values.warming + values.cooling,
        "answer": (values.door + values.cooling) / (values.warming + values.cooling),
    }


DOOR = Task(
    key="door",
    question=(
        "In ten minutes the box air of a record rises {warming} while the compressor stands still, "
        "and falls {cooling} while it runs. Later, while it runs, it rises {door} in ten minutes. "
        "How much heat comes in on top, as a share of what the machine takes out?"
    ),
    draw=_draw_door,
    kinds=KINDS,
    solve=_door,
    kind="ratio",
    limits=(0.0, None),
    slips=(
        Slip(
            "rise alone",
            lambda values, show: values.door / values.alone,
            "The heat on top also makes up for the {cooling} by which the air would have fallen.",
        ),
        Slip(
            "over cooling alone",
            lambda values, show: (values.door + values.cooling) / values.cooling,
            "While it runs, the machine also takes what comes through the walls: that is the "
            "{warming} of the stop.",
        ),
    ),
    hints=(
        "Stop and run differ by the machine: what does that make of it in ten minutes?",
        "The machine moves the air by {alone}; the heat on top by {door} and {cooling} together.",
    ),
    steps=(
        "From standing to running the air's pace changes by {warming} and {cooling}: {alone}. That "
        "is the machine.",
        "From running to running with the door open it changes by {door} and {cooling}.",
        "The one divided by the other is {answer}.",
    ),
    tolerance=Tolerance(share=0.06, because="slopes are read no finer from a record"),
)

ALL = (DEFROSTS, SHARE, STEP, DOOR)
