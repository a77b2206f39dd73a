"""The tasks of lesson 50: a standing test, a strainer's pressure, lost cooling, what counts."""

from __future__ import annotations

import math

import numpy as np

from lowside import faults, refrigerants, system

from .slips import gauge_as_absolute
from .tasks import Slip, Task
from .tolerance import Tolerance

WALK_IN = "walk-in-cooler"
REACH_IN = "propane-reach-in"
_AMBIENTS = (295.15, 299.15, 303.15, 307.15)  # [K]

KINDS = {
    "refrigerant": "number",
    "air": "temperature",
    "gauge": "gauge_pressure",
    "chart": "gauge_pressure",
    "head": "gauge_pressure",
    "behind": "temperature",
    "pressure": "gauge_pressure",
    "sound": "temperature_difference",
    "now": "temperature_difference",
    "moved": "temperature_difference",
    "clamp": "temperature_difference",
    "through_gauge": "temperature_difference",
    "together": "temperature_difference",
    "left": "ratio",
}


def _blend():
    return system.cabinets.get(WALK_IN).box.refrigerant


# ---------------------------------------------------------------- 1 standing test for air


def _draw_standing(random):
    air = random.uniform(288.15, 305.15)
    gas = random.uniform(0.6e5, 2.5e5)
    return {
        "refrigerant": _blend().name,
        "air": air,
        "gauge": float(_blend().bubble_pressure(air)) + gas,
    }


def _standing(values):
    chart = float(refrigerants.get(values.refrigerant).bubble_pressure(values.air))
    return {"chart": chart, "answer": values.gauge - chart}


def _by_dew(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.gauge - float(fluid.dew_pressure(values.air))


STANDING = Task(
    key="standing",
    question=(
        "A walk-in with {refrigerant} and a receiver half full of liquid has stood switched off, "
        "condenser fan running, until everything outside the box is at {air}. Its valve to the box "
        "is shut. The head gauge stands at {gauge}. How much of that is air or nitrogen?"
    ),
    draw=_draw_standing,
    kinds=KINDS,
    solve=_standing,
    kind="pressure_difference",
    slips=(
        Slip(
            "dew for bubble",
            _by_dew,
            "That is the dew column. There is a pool of liquid in the receiver: its bubbles set "
            "the pressure, so look up bubble.",
        ),
        Slip(
            "chart as absolute",
            lambda values, show: values.gauge - values.atmosphere - values.chart,
            "That takes the barometer off once more. Gauge column and gauge reading both start at "
            "the barometer.",
        ),
    ),
    hints=(
        "What would the gauge say with nothing but refrigerant in there?",
        "Liquid at {air}: the bubble column says {chart}. What stands above that is not "
        "refrigerant.",
    ),
    steps=(
        "Bubble pressure at {air}: {chart}.",
        "The gauge shows {gauge}. The difference, {answer}, is gas that does not condense.",
    ),
)


# ---------------------------------------------------------------- 2 pressure lost in a strainer


def _draw_strainer(random):
    swept = faults.cabinet_sweep(WALK_IN, "strainer", random.choice(_AMBIENTS))
    place = random.randint(4, 16)
    return {
        "refrigerant": _blend().name,
        "head": float(swept.points.condensing_pressure[place]),
        "behind": float(swept.points.inlet_temperature[place]),
    }


def _strainer(values):
    pressure = float(refrigerants.get(values.refrigerant).bubble_pressure(values.behind))
    return {"pressure": pressure, "answer": values.head - pressure}


def _strainer_by_dew(values, show):
    fluid = refrigerants.get(values.refrigerant)
    return values.head - float(fluid.dew_pressure(values.behind))


STRAINER = Task(
    key="strainer",
    question=(
        "{refrigerant}: the head gauge says {head}. The clamp right behind the inlet strainer "
        "says {behind}, and there the liquid has just begun to flash. Lines are short. How much "
        "pressure is lost in the strainer?"
    ),
    draw=_draw_strainer,
    kinds=KINDS,
    solve=_strainer,
    kind="pressure_difference",
    slips=(
        Slip(
            "dew for bubble",
            _strainer_by_dew,
            "That is the dew column. Liquid that begins to flash is at its bubble point.",
        ),
        Slip(
            "pressure behind",
            lambda values, show: values.pressure - values.atmosphere,
            "That is what a gauge behind the strainer would show. Asked is how much less it is "
            "than at the head gauge.",
        ),
        gauge_as_absolute(_strainer, "head"),
    ),
    hints=(
        "Liquid that flashes tells its pressure by its temperature.",
        "At {behind} the bubble column says {pressure}. How far is that below the head gauge?",
    ),
    steps=(
        "Bubble pressure at {behind}: {pressure}.",
        "From {head} down to {pressure} are {answer}. Without flashing the clamp could not have "
        "told.",
    ),
    tolerance=Tolerance(us=4.0, metric=0.25, because="that is what a clamp is good for there"),
)


# ---------------------------------------------------------------- 3 cooling that is gone


def _draw_cooling(random):
    name = random.choice((REACH_IN, WALK_IN, "prep-table", "propane-merchandiser"))
    key, low, high = random.choice((("valve_leak", 0.3, 0.9), ("bulb_lost", 0.65, 0.9)))
    swept = faults.cabinet_sweep(name, key, random.choice(_AMBIENTS))
    drops, severity = swept.readings["box_air_drop"], random.uniform(low, high) * swept.fault.high
    return {
        "sound": float(drops[0]),
        "now": float(np.interp(severity, swept.severities, drops)),
    }


def _cooling(values):
    left = values.now / values.sound
    return {"left": left, "answer": 1.0 - left}


COOLING = Task(
    key="cooling",
    question=(
        "The evaporator fan of a cabinet runs as ever and the coil is free of ice. When the "
        "cabinet was well its air lost {sound} in the coil; today it loses {now}. What share of "
        "the cooling is gone, in percent? Take the air as dry."
    ),
    draw=_draw_cooling,
    kinds=KINDS,
    solve=_cooling,
    kind="ratio",
    slips=(
        Slip(
            "what is left",
            lambda values, show: values.left,
            "That is the share that is left. Asked is what is gone.",
        ),
        Slip(
            "against today",
            lambda values, show: values.sound / values.now - 1.0,
            "That compares with today. A loss counts from what was there before.",
        ),
    ),
    hints=(
        "With the same air flow, cooling goes with the degrees that the air loses.",
        "{now} out of {sound} are left.",
    ),
    steps=(
        "The same air, so the cooling is in proportion: {now} out of {sound} is {left}.",
        "Gone is the rest: {answer}. Ice or a weak fan would change the air, and this sum with it.",
    ),
    limits=(0.0, 1.0),
)


# ---------------------------------------------------------------- 4 does it count


def _draw_counts(random):
    swept = faults.cabinet_sweep(REACH_IN, "strainer", random.choice(_AMBIENTS))
    superheat = swept.readings["superheat"]
    severity = random.uniform(0.55, 0.95) * swept.fault.high
    clamp = float(swept.errors["suction_temperature"])
    return {
        "sound": float(superheat[0]),
        "now": float(np.interp(severity, swept.severities, superheat)),
        "clamp": clamp,
        "through_gauge": math.sqrt(float(swept.errors["superheat"]) ** 2 - clamp**2),
    }


def _counts(values):
    together = math.hypot(values.clamp, values.through_gauge)
    moved = values.now - values.sound
    return {"moved": moved, "together": together, "answer": moved / together}


COUNTS = Task(
    key="counts",
    question=(
        "The superheat of a cabinet was {sound} on the day it was set. Today it is {now}. The "
        "clamp may be off by {clamp}, the suction gauge by as much as {through_gauge} of "
        "evaporating temperature. Combine the two as the root of the sum of their squares. How "
        "many such errors has the superheat moved?"
    ),
    draw=_draw_counts,
    kinds=KINDS,
    solve=_counts,
    kind="number",
    slips=(
        Slip(
            "added straight",
            lambda values, show: values.moved / (values.clamp + values.through_gauge),
            "That adds the two errors. They hardly ever point the same way: square, add, take the "
            "root.",
        ),
        Slip(
            "not the change",
            lambda values, show: values.now / values.together,
            "That is today's superheat over the error. Asked is how far it has moved.",
        ),
        Slip(
            "clamp alone",
            lambda values, show: values.moved / values.clamp,
            "That leaves the gauge out. It is off too, and superheat needs both.",
        ),
    ),
    hints=(
        "First the error of a superheat, then how often it fits into the change.",
        "The two errors together make {together}. The superheat has moved by {moved}.",
    ),
    steps=(
        "Root of the sum of squares: {together}.",
        "Moved: {moved}. That is {answer} errors. Below one you may have read nothing but your own "
        "instruments.",
    ),
    tolerance=Tolerance(us=0.0, metric=0.0, share=0.06, because="that is rounding"),
)

ALL = (STANDING, STRAINER, COOLING, COUNTS)
