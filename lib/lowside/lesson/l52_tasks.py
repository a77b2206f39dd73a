"""The tasks of lesson 52: a look weighed, the order of two checks, a slip found out."""

from __future__ import annotations

from lowside import refrigerants, units

from . import l52_boxes, l52_cases
from .tasks import Slip, Task
from .tolerance import Tolerance

KINDS = {
    "before": "ratio",
    "hit": "ratio",
    "false": "ratio",
    "both": "ratio",
    "alarm": "ratio",
    "other": "ratio",
    "first": "minutes",
    "second": "minutes",
    "further": "minutes",
    "suction": "gauge_pressure",
    "typed": "temperature",
    "figure": "number",
    "true": "temperature",
    "dew": "temperature",
}


# ---------------------------------------------------------------- 1 what a look is worth


def _draw_look(random):
    return {
        "before": random.uniform(0.08, 0.30),
        "hit": random.choice((0.80, 0.85, 0.90)),
        "false": random.choice((0.05, 0.08, 0.10)),
    }


def _look(values):
    both, alarm = values.before * values.hit, (1.0 - values.before) * values.false
    return {"both": both, "alarm": alarm, "answer": both / (both + alarm)}


LOOK = Task(
    key="look",
    question=(
        "After gauges and clamps, ice in the valve stands at {before}. A warm wet rag on the valve "
        "makes the suction jump in {hit} of the boxes that have ice, and in {false} of those that "
        "have something else. You warm it, and the suction jumps. How likely is ice now, in "
        "percent?"
    ),
    draw=_draw_look,
    kinds=KINDS,
    solve=_look,
    kind="ratio",
    slips=(
        Slip(
            "the test itself",
            lambda values, show: values.hit,
            "That is how often the rag answers yes where there is ice. Asked is the other way "
            "round: how often there is ice where it answers yes.",
        ),
        Slip(
            "before forgotten",
            lambda values, show: values.hit / (values.hit + values.false),
            "That treats ice as one of two equal chances. It stood at {before} before you warmed "
            "anything.",
        ),
        Slip(
            "not shared out",
            lambda values, show: values.both,
            "That is the share of all boxes that have ice and jump. Divide it by the share of all "
            "that jump.",
        ),
    ),
    hints=(
        "Think of a hundred such boxes. How many have ice and jump? How many jump without ice?",
        "Ice and a jump: {both} of all. A jump without ice: {alarm} of all.",
    ),
    steps=(
        "Ice and a jump: {before} times {hit} is {both}.",
        "No ice, but a jump: the rest times {false} is {alarm}.",
        "Of all that jump, the share with ice is {both} out of both together: {answer}.",
    ),
)


# ---------------------------------------------------------------- 2 which check first


def _draw_order(random):
    return {
        "before": random.uniform(0.35, 0.75),
        "first": units.to_si(random.randint(3, 12), "min"),
        "second": units.to_si(random.randint(20, 60), "min"),
    }


def _order(values):
    other = 1.0 - values.before
    further = other * values.second
    return {"other": other, "further": further, "answer": values.first + further}


ORDER = Task(
    key="order",
    question=(
        "Two suspects are left. One stands at {before}; a clamp settles it in {first}. If it is "
        "not that one, you stand the box and prove the other, which takes {second} more. You begin "
        "with the clamp. How many minutes does that take on average?"
    ),
    draw=_draw_order,
    kinds=KINDS,
    solve=_order,
    kind="minutes",
    slips=(
        Slip(
            "both always",
            lambda values, show: values.first + values.second,
            "That takes both checks every time. Often the first one ends it.",
        ),
        Slip(
            "wrong share",
            lambda values, show: values.first + values.before * values.second,
            "The second check is needed when it is *not* the first suspect.",
        ),
        Slip(
            "first not always",
            lambda values, show: values.before * values.first + values.other * values.second,
            "The clamp is taken every time, whatever it finds.",
        ),
    ),
    hints=(
        "The first check is always done. How often is the second one needed?",
        "The second one is needed in {other} of the cases.",
    ),
    steps=(
        "Always: {first}.",
        "In {other} of the cases {second} more, on average {further}.",
        "Together {answer}.",
    ),
    tolerance=Tolerance(us=1.0, metric=1.0, because="nobody plans closer than a minute"),
    limits=(0.0, None),
)


# ---------------------------------------------------------------- 3 the likeliest slip


def _blend():
    return l52_boxes.find(l52_cases.CALL.box).box.refrigerant


def _draw_scale(random):
    dew = random.uniform(259.0, 268.0)
    true = dew + random.uniform(3.0, 9.0)
    return {
        "refrigerant": _blend().name,
        "suction": float(_blend().dew_pressure(dew)),
        "typed": units.to_si(units.from_si(true, "degC"), "degF"),
        "celsius": "°C",
        "fahrenheit": "°F",
    }


def _scale(values):
    figure = units.from_si(values.typed, "degF")
    true = units.to_si(figure, "degC")
    dew = float(refrigerants.get(values.refrigerant).dew_temperature(values.suction))
    return {"figure": figure, "true": true, "dew": dew, "answer": true - dew}


def _from_bubble(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.true - float(fluid.bubble_temperature(values.suction))


SCALE = Task(
    key="scale",
    question=(
        "{refrigerant}: the suction gauge says {suction}. Somebody read the clamp on the suction "
        "line, which was set to {celsius}, and typed the figure as {fahrenheit}. So the "
        "page has {typed} there, and says that cannot be. How much superheat is it really?"
    ),
    draw=_draw_scale,
    kinds=KINDS,
    solve=_scale,
    kind="temperature_difference",
    slips=(
        Slip(
            "as typed",
            lambda values, show: values.typed - values.dew,
            "That is the superheat of what was typed, below zero: liquid colder than it can be. "
            "Put the reading right first.",
        ),
        Slip(
            "sign dropped",
            lambda values, show: values.dew - values.typed,
            "That drops the sign of an impossible superheat. The reading itself is wrong; put it "
            "right first.",
        ),
        Slip(
            "bubble for dew",
            _from_bubble,
            "That is the bubble column. Superheat counts from dew.",
        ),
    ),
    hints=(
        "Which figure did the clamp show? Then take it for what it was.",
        "The clamp showed {figure} {celsius}, which is {true}. Dew at {suction} is {dew}.",
    ),
    steps=(
        "{typed} is the figure {figure} on a scale of {fahrenheit}. The clamp showed {figure} "
        "{celsius}, that is {true}.",
        "Dew at {suction}: {dew}.",
        "From there to {true}: {answer} of superheat.",
    ),
)

ALL = (LOOK, ORDER, SCALE)
