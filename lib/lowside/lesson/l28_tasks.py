"""The tasks of lesson 28: beat, lowest superheat, the stem on the panel, how long to wait."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np

from lowside import hunting, refrigerants
from lowside.system import with_port

from . import hall, plant, slips
from .tasks import Slip, Task
from .tolerance import Tolerance

PANEL = "One valve on the recorder"  # its title on the page

_FLUIDS = ("R404A", "R448A", "R449A", "R134a")
_ROOMS = {"walk-in cooler": "butcher-walk-in", "cold room": "produce-room"}
_PORTS = {"walk-in cooler": (3.15e-3, 4e-3), "cold room": (4e-3, 5e-3, 6.3e-3)}
_SETTINGS = np.linspace(0.5, 5.0, 16)  # [K] of the stem

KINDS = {
    "minutes": "time",
    "seconds": "time",
    "span": "time",
    "high": "gauge_pressure",
    "low": "gauge_pressure",
    "cold": "temperature",
    "warm": "temperature",
    "dew_high": "temperature",
    "dew_low": "temperature",
    "bubble_high": "temperature",
    "port": "port",
    "wanted": "number",
    "rest": "temperature_difference",
    "now": "temperature_difference",
    "told": "temperature_difference",
    "share": "ratio",
    "beat": "time",
    "beats": "number",
}


# ---------------------------------------------------------------- 1 beat


def _draw_beat(random):
    count = random.randint(5, 9)
    span = random.uniform(46.0, 95.0) * (count - 1)
    minutes = math.floor(span / 60.0)
    return {"count": str(count), "minutes": 60.0 * minutes, "seconds": span - 60.0 * minutes}


def _beat(values):
    between = int(values.count) - 1
    span = values.minutes + values.seconds
    return {"between": str(between), "span": span, "answer": span / between}


BEAT = Task(
    key="beat",
    question=(
        "You watch the clamp beside a bulb. From its first low point to its last you count "
        "{count} low points, both of these included, in {minutes} and {seconds}. How long is one "
        "beat?"
    ),
    draw=_draw_beat,
    kinds=KINDS,
    solve=_beat,
    kind="time",
    slips=(
        Slip(
            "one beat too many",
            lambda values, show: values.span / int(values.count),
            "Between {count} low points lie fewer beats than that: count the gaps, not the posts.",
        ),
        Slip(
            "half beats",
            lambda values, show: 0.5 * values.answer,
            "That is from a low point to the next high one. A beat runs from low to low.",
        ),
        Slip(
            "one beat too few",
            lambda values, show: values.span / (int(values.count) - 2),
            "That counts one beat too few: only the first low point opens no new gap.",
        ),
    ),
    hints=(
        "How many beats lie between the first low point and the last?",
        "{count} low points have {between} gaps between them. Divide the time by that.",
    ),
    steps=(
        "{count} low points have {between} beats between them.",
        "{minutes} and {seconds}, divided by {between}, are {answer}.",
    ),
    tolerance=Tolerance(us=2.0, metric=2.0, because="a watch in the hand is no better"),
)


# ---------------------------------------------------------------- 2 lowest superheat


def _draw_lowest(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    dew = random.uniform(258.0, 268.0)
    return {
        "refrigerant": fluid.name,
        "low": fluid.dew_pressure(dew),
        "high": fluid.dew_pressure(dew + random.uniform(2.6, 3.4)),
        "cold": dew + random.uniform(4.2, 5.4),
        "warm": dew + random.uniform(9.0, 10.5),
    }


def _lowest(values):
    fluid = refrigerants.get(values.refrigerant)
    dew = float(fluid.dew_temperature(values.high))
    return {
        "dew_high": dew,
        "dew_low": float(fluid.dew_temperature(values.low)),
        "bubble_high": float(fluid.bubble_temperature(values.high)),
        "answer": values.cold - dew,
    }


def _from_bubble(values, show):
    if not refrigerants.get(values.refrigerant).has_glide:
        return None
    return values.cold - values.bubble_high


LOWEST = Task(
    key="lowest",
    question=(
        "{refrigerant}, a valve that hunts. The suction gauge swings between {low} and {high}, "
        "the clamp beside the bulb between {cold} and {warm}; when the clamp is coldest, the gauge "
        "is at its highest. Your card: dew {dew_low} at {low}; bubble {bubble_high} and dew "
        "{dew_high} at {high}. How low does the superheat fall?"
    ),
    draw=_draw_lowest,
    kinds=KINDS,
    solve=_lowest,
    kind="temperature_difference",
    slips=(
        Slip(
            "other end of the gauge",
            lambda values, show: values.cold - values.dew_low,
            "That pairs the coldest pipe with the lowest pressure. They do not come together: read "
            "both at one moment.",
        ),
        Slip(
            "highest superheat",
            lambda values, show: values.warm - values.dew_low,
            "That is how high it rises. The compressor cares for the other end.",
        ),
        Slip(
            "bubble for dew",
            _from_bubble,
            "That counts from the bubble column. Superheat starts where the last drop boils away, "
            "at dew.",
        ),
        slips.sign_swapped(),
        slips.difference_as_temperature(),
    ),
    hints=(
        "Take both readings of the same moment.",
        "When the clamp says {cold}, the gauge says {high}, and dew there is {dew_high}.",
    ),
    steps=(
        "At the low point the clamp says {cold}, the gauge {high}: dew {dew_high}.",
        "{cold} less {dew_high} leaves {answer}.",
    ),
    tolerance=Tolerance(us=1.0, metric=0.5, because="a clamp thermometer is good to about that"),
)


# ---------------------------------------------------------------- 3 the stem


def _draw_stem(random):
    room = random.choice(sorted(_ROOMS))
    return {
        "room": room,
        "port": random.choice(_PORTS[room]),
        "wanted": random.uniform(1.3, 2.5),
    }


@lru_cache(maxsize=16)
def _turned(room, port):
    """Margins and superheats at rest over settings of the stem, ndarrays [-], [K]."""
    box = hall.box(_ROOMS[room])
    built = with_port(plant.low_side(box), port)
    found = []
    for setting in _SETTINGS:
        spring = replace(built.valve.spring, static_superheat=setting)
        turned = replace(built, valve=replace(built.valve, spring=spring))
        found.append(hunting.at_rest(turned, box.box_temperature, box.summer_condensing))
    return np.array([(one.margin, one.superheat) for one in found]).T


def _setting(values, margin):
    """Find the setting of the stem for a margin, and the superheat at rest with it [K]."""
    port = min(_PORTS[values.room], key=lambda size: abs(size - values.port))
    margins, superheats = _turned(values.room, port)
    setting = np.interp(math.log(margin), np.log(margins), _SETTINGS)
    return float(setting), float(np.interp(setting, _SETTINGS, superheats))


def _stem(values):
    setting, rest = _setting(values, values.wanted)
    return {"rest": rest, "answer": setting}


STEM = Task(
    key="stem",
    question=(
        f"Go back to the panel “{PANEL}” and press Reset. Choose the "
        "{room} and a port of {port}; leave the load full and the bulb as it comes. Turn the stem: "
        "to which static superheat must it be set for a margin of {wanted}?"
    ),
    draw=_draw_stem,
    kinds=KINDS,
    solve=_stem,
    kind="temperature_difference",
    slips=(
        Slip(
            "edge of hunting",
            lambda values, show: _setting(values, 1.0)[0],
            "There it stops hunting, and no more: the margin is 1 and a swing takes for ever to "
            "die out. Go on to {wanted}.",
        ),
        Slip(
            "superheat at rest",
            lambda values, show: values.rest,
            "That is the superheat the clamp would read. Asked is the setting of the stem, the "
            "static superheat.",
        ),
    ),
    hints=(
        "Move the static superheat and watch the margin.",
        "Start where it hunts and go up slowly, until the margin on the right says {wanted}.",
    ),
    steps=(
        "With this port the margin is {wanted} where the clamp would read {rest} at rest.",
        "The stem is then set to {answer}.",
    ),
    tolerance=Tolerance(us=0.6, metric=0.3, because="a slider is set no finer"),
)


# ---------------------------------------------------------------- 4 how long to wait


def _draw_wait(random):
    return {
        "now": random.uniform(2.2, 4.0),
        "told": 0.5,
        "share": random.uniform(0.6, 0.8),
        "beat": random.uniform(50.0, 95.0),
    }


def _wait(values):
    beats = math.log(values.told / values.now) / math.log(values.share)
    return {"beats": beats, "answer": beats * values.beat}


WAIT = Task(
    key="wait",
    question=(
        "You have turned the stem in. The superheat still swings by {now} to either side, but "
        "each beat, of {beat}, has only {share} of the swing of the one before. Your clamp can "
        "tell {told}. After how long will you see no swing any more?"
    ),
    draw=_draw_wait,
    kinds=KINDS,
    solve=_wait,
    kind="time",
    slips=(
        Slip(
            "the same loss each time",
            lambda values, show: (
                values.beat * (values.now - values.told) / (values.now * (1.0 - values.share))
            ),
            "That takes the same number of degrees off each time. It is the same share: the last "
            "degrees go more slowly than the first.",
        ),
        Slip(
            "one beat",
            lambda values, show: values.beat,
            "That is one beat; it takes away only a part of the swing.",
        ),
    ),
    hints=(
        "Write the swings down, beat after beat, each {share} of the last.",
        "Start with {now}, multiply by {share} again and again and count until you are below "
        "{told}. Then times {beat}.",
    ),
    steps=(
        "{now} times {share}, about {beats} times over, comes to {told}.",
        "So many beats of {beat} make {answer}.",
    ),
    tolerance=Tolerance(share=0.15, because="beats are counted in whole ones"),
)

ALL = (BEAT, LOWEST, STEM, WAIT)
