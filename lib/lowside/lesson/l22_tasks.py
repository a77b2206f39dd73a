"""The tasks of lesson 22: superheat, flow and head, which port, what the next port does."""

from __future__ import annotations

import math

from lowside import refrigerants, valve
from lowside.system import ports

from . import slips
from .tasks import Slip, Task
from .tolerance import Tolerance

PANEL = "One box, every port"  # its title on the page

_FLUIDS = ("R404A", "R448A", "R449A", "R290", "R454C")
_SIZING = ("R404A", "R448A", "R134a", "R513A")
_COLD_DAY = 293.15  # [K] condensing; the question is about the hot one
_NEAR = 0.35, 2.5  # times the right port
_POINT = 0.01  # a share is read to the percent

KINDS = {
    "suction_pressure": "gauge_pressure",
    "line_temperature": "temperature",
    "dew": "temperature",
    "bubble": "temperature",
    "head_hot": "gauge_pressure",
    "head_cold": "gauge_pressure",
    "drop_hot": "pressure_difference",
    "drop_cold": "pressure_difference",
    "share": "ratio",
    "root": "ratio",
    "cooling": "capacity",
    "load": "capacity",
    "box_temperature": "temperature",
    "hot": "temperature",
    "most": "ratio",
    "lift_here": "ratio",
    "lift_below": "ratio",
    "below": "port",
    "port": "port",
    "bigger": "port",
    "lift": "ratio",
    "area": "area",
    "travel": "length",
}


# ---------------------------------------------------------------- 1 superheat


def _draw_superheat(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    dew = random.uniform(248.0, 268.0)
    return {
        "refrigerant": fluid.name,
        "suction_pressure": fluid.dew_pressure(dew),
        "line_temperature": dew + random.uniform(9.0, 16.0),
    }


def _superheat(values):
    fluid = refrigerants.get(values.refrigerant)
    bubble = float(fluid.bubble_temperature(values.suction_pressure))
    dew = float(fluid.dew_temperature(values.suction_pressure))
    return {"bubble": bubble, "dew": dew, "answer": values.line_temperature - dew}


def _from_bubble(values, show):
    if not refrigerants.get(values.refrigerant).has_glide:
        return None
    return values.line_temperature - values.bubble


def _said_as_a_difference(name):
    def wrong(values, show):
        number = show.value(getattr(values, name), "temperature")
        return show.si(number, "temperature_difference")

    return wrong


SUPERHEAT = Task(
    key="superheat",
    question=(
        "{refrigerant}, a box that does not hold: the suction gauge says {suction_pressure}. Your "
        "pressure-temperature card has bubble {bubble} and dew {dew} for that. The clamp beside "
        "the bulb says {line_temperature}. How much superheat leaves the coil?"
    ),
    draw=_draw_superheat,
    kinds=KINDS,
    solve=_superheat,
    kind="temperature_difference",
    slips=(
        Slip(
            "bubble for dew",
            _from_bubble,
            "That counts from the bubble column. Superheat starts where the last drop boils away, "
            "at dew.",
        ),
        Slip(
            "dew itself",
            _said_as_a_difference("dew"),
            "That is dew, where the superheat starts. How far above it is the pipe?",
        ),
        Slip(
            "clamp itself",
            _said_as_a_difference("line_temperature"),
            "That is what the clamp says. Superheat is how far that lies above dew.",
        ),
        slips.sign_swapped(),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
    ),
    hints=(
        "How far is the pipe above the temperature at which the last drop boils?",
        "Of the two columns take the one in which the last drop boils away, and subtract it from "
        "what the clamp says. Mind the sign of temperatures below zero.",
    ),
    steps=(
        "Dew of {refrigerant} at {suction_pressure} is {dew}.",
        "{line_temperature} less {dew} leaves {answer} of superheat.",
    ),
)


# ---------------------------------------------------------------- 2 flow and head


def _draw_head(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    return {
        "refrigerant": fluid.name,
        "cooling": random.uniform(1500.0, 9000.0),
        "suction_pressure": fluid.dew_pressure(random.uniform(250.0, 266.0)),
        "head_hot": fluid.dew_pressure(random.uniform(316.0, 322.0)),
        "head_cold": fluid.dew_pressure(random.uniform(290.0, 297.0)),
    }


def _in_the_cold(values):
    drop_hot = values.head_hot - values.suction_pressure
    drop_cold = values.head_cold - values.suction_pressure
    share = drop_cold / drop_hot
    root = math.sqrt(share)
    return {
        "drop_hot": drop_hot,
        "drop_cold": drop_cold,
        "share": share,
        "root": root,
        "answer": values.cooling * root,
    }


def _without_suction(values, show):
    ratio = (values.head_cold - show.atmosphere) / (values.head_hot - show.atmosphere)
    return values.cooling * math.sqrt(ratio)


HEAD = Task(
    key="head",
    question=(
        "{refrigerant}: with its pin at the stop a port feeds {cooling} of cooling at a head of "
        "{head_hot}. A cold night brings the head down to {head_cold}; the suction stays at "
        "{suction_pressure}. Look at the pressure drop alone: in a real box the liquid also comes "
        "colder, which gives some of it back. How much cooling can the port feed now?"
    ),
    draw=_draw_head,
    kinds=KINDS,
    solve=_in_the_cold,
    kind="capacity",
    slips=(
        Slip(
            "no square root",
            lambda values, show: values.cooling * values.share,
            "That takes flow in step with the pressure drop. Flow through an opening goes with "
            "the square root of the drop: it loses less.",
        ),
        Slip(
            "head instead of drop",
            _without_suction,
            "That uses the head alone. What drives the liquid is head less suction, the pressure "
            "drop over the port.",
        ),
        Slip(
            "upside down",
            lambda values, show: values.cooling / values.root,
            "That would be more flow from less pressure: turn the fraction over.",
        ),
        Slip(
            "unchanged",
            lambda values, show: values.cooling,
            "That is the cooling of the hot day. Less head pushes less liquid through.",
        ),
    ),
    hints=(
        "What pushes liquid through the port, and how does flow follow it?",
        "For both days take the suction from the head: that is the pressure drop over the port. "
        "Divide the cold drop by the hot one; flow follows the square root of that.",
    ),
    steps=(
        "Pressure drop on the hot day {drop_hot}, in the cold {drop_cold}: {share} of it.",
        "The square root of that is {root}.",
        "{cooling} times {root} makes about {answer}.",
    ),
    tolerance=Tolerance(share=0.03, because="gauges and rounding leave about that much"),
)


# ---------------------------------------------------------------- 3 which port


def _draw_port(random):
    while True:
        drawn = {
            "refrigerant": random.choice(_SIZING),
            "load": random.uniform(1200.0, 9000.0),
            "box_temperature": random.uniform(262.0, 278.0),
            "hot": random.uniform(314.0, 324.0),
        }
        lifts = _lifts(**drawn)
        fitting = [size for size, lift in lifts.items() if lift < 1.0]
        pick = random.choice(fitting[1:3])
        here, below = lifts[pick], lifts[ports.next_size(pick, -1)]
        if below - here > 8 * _POINT:
            return drawn | {"most": round((here + below) / 2, 2)}


def _lifts(refrigerant, load, box_temperature, hot):
    """Lift of every kit size near the right port, on the hot day."""
    sweep = ports.port_sweep(
        refrigerant, float(load), float(box_temperature), float(hot), _COLD_DAY
    )
    sizes = [size for size in ports.KIT if _NEAR[0] < size / sweep.right < _NEAR[1]]
    lifts = sweep.points(sizes).lift_share[:, ports.HOT, ports.CONVENTIONAL]
    return dict(zip(sizes, lifts.tolist(), strict=True))


def _smallest(values):
    lifts = _lifts(values.refrigerant, values.load, values.box_temperature, values.hot)
    answer = next(size for size, lift in lifts.items() if lift <= values.most)
    below = ports.next_size(answer, -1)
    return {
        "below": below,
        "lift_here": lifts[answer],
        "lift_below": lifts[below],
        "answer": answer,
    }


WHICH = Task(
    key="which",
    question=(
        f"Go back to the panel “{PANEL}”, press Reset, and set it to "
        "{refrigerant}, design load {load}, box air {box_temperature}, condensing on the hot day "
        "{hot}; leave the port conventional and the spring as it comes. Which is the smallest size "
        "of the kit (the numbers along the bottom of the chart) that opens no further than {most} "
        "on the hot day?"
    ),
    draw=_draw_port,
    kinds=KINDS,
    solve=_smallest,
    kind="port",
    slips=(
        Slip(
            "one size too small",
            lambda values, show: ports.next_size(values.answer, -1),
            "Close, but that size must open further than {most}. Read the lift chart again.",
        ),
        Slip(
            "one size too big",
            lambda values, show: ports.next_size(values.answer),
            "That one would do, but it is not the smallest that does: the next size down still "
            "opens no further than {most}.",
        ),
        Slip(
            "far too big",
            lambda values, show: ports.next_size(values.answer, 3),
            "That is twice the size you need. It carries the load and nothing more, and the bulb "
            "has far too strong a hand on it.",
        ),
    ),
    hints=(
        "Move the port along the sizes and watch the lift on the hot day.",
        "Start with a port that is surely too small: its lift lies above {most}. Go up from number "
        "to number along the bottom; the first whose lift is {most} or less is yours.",
    ),
    steps=(
        "At {below} the pin stands at {lift_below}: more than {most}.",
        "One size up it stands at {lift_here}: the smallest size that does is {answer}.",
    ),
    tolerance=Tolerance(share=0.05, because="the sizes of the kit lie further apart than that"),
)


# ---------------------------------------------------------------- 4 the next port up


def _draw_next(random):
    port = random.choice([size for size in ports.KIT if 1.2e-3 < size < 4.5e-3])
    return {"port": port, "lift": random.uniform(0.5, 0.9)}


def _next_lift(values):
    bigger = ports.next_size(values.port)
    area = valve.standard_port(values.port).area(values.lift * valve.STANDARD_LIFT)
    answer = valve.standard_port(bigger).lift_for(area) / valve.STANDARD_LIFT
    return {
        "bigger": bigger,
        "area": float(area),
        "travel": valve.STANDARD_LIFT,
        "share": values.port / bigger,
        "answer": float(answer),
    }


NEXT = Task(
    key="next",
    question=(
        "A valve with a {port} port holds its box with the pin at {lift} of its travel. You fit "
        "the next size of the kit. Load and pressures stay as they are, the travel of the pin "
        "too. Where will the pin stand, as a share of its travel?"
    ),
    draw=_draw_next,
    kinds=KINDS,
    solve=_next_lift,
    kind="ratio",
    slips=(
        Slip(
            "by the square",
            lambda values, show: values.lift * values.share**2,
            "That takes the whole hole, which goes with the square of the diameter. While the pin "
            "is in it, only the ring between pin and seat is open: diameter times lift.",
        ),
        Slip(
            "same lift",
            lambda values, show: values.lift,
            "The same lift in a bigger port would be more opening than the load asks for.",
        ),
        Slip(
            "wrong way",
            lambda values, show: values.lift / values.share,
            "A bigger port opens less far for the same flow, not further.",
        ),
    ),
    hints=(
        "The same flow needs the same opening: a ring, about as long as the port is round and as "
        "wide as the lift allows.",
        "Diameter times lift stays nearly the same, so the lift shrinks by as much as the port "
        "grows. The next size of the kit is the next number along the bottom of the charts.",
    ),
    steps=(
        "The ring now open measures {area}, and the same flow needs the same ring.",
        "The next size is {bigger}; the old diameter is {share} of it, and lift shrinks about as "
        "much.",
        "Computed with the shape of the pin: {answer}.",
    ),
    tolerance=Tolerance(us=3.0, metric=3.0, because="the ring is a little less than simple"),
)

ALL = (SUPERHEAT, HEAD, WHICH, NEXT)
