"""The tasks of lesson 42: grams in a hose, grams in a room, minutes, grams to weigh in."""

from __future__ import annotations

import math

from lowside import charge, flammability, refrigerants
from lowside.flammability import Room

from .tasks import Slip, Task
from .tolerance import Tolerance

ALARM = 0.25  # of the LFL
_INSTANT = 0.0  # [s] a leak so fast that it counts as sudden
_SCALE = "a good charging scale reads to about that"

KINDS = {
    "bore": "port",
    "length": "distance",
    "temperature": "temperature",
    "density": "density",
    "volume": "volume",
    "charge": "charge",
    "floor": "floor",
    "height": "distance",
    "room": "volume",
    "lfl": "concentration",
    "concentration": "concentration",
    "share": "ratio",
    "quarter": "ratio",
    "air_changes": "air_changes",
    "ratio": "number",
    "logarithm": "number",
    "peak": "ratio",
    "nameplate": "charge",
    "hose": "charge",
    "left": "charge",
    "hose_mass": "charge",
}


def propane():
    """Give the refrigerant of this lesson.

    Returns
    -------
    Refrigerant
    """
    return refrigerants.get("R290")


def lfl():
    """Give the lower flammability limit that charge limits stand on.

    Returns
    -------
    float
        [kg/m3]
    """
    return flammability.lower_limits(propane())[0].concentration


# ---------------------------------------------------------------- 1 grams in a hose


def _draw_hose(random):
    return {
        "bore": random.choice((3.6e-3, 4.8e-3, 6.0e-3)),
        "length": random.choice((0.9, 1.2, 1.5, 1.8)),
        "temperature": random.uniform(285.0, 308.0),
    }


def _hose(values):
    fluid = propane()
    tube = charge.Tube(values.bore, values.length)
    pressure = fluid.bubble_pressure(values.temperature)
    mass = float(charge.hose_mass(fluid, tube, pressure, values.temperature))
    return {"volume": tube.volume, "density": mass / tube.volume, "answer": mass}


def _hose_of_vapour(values, show):
    fluid = propane()
    pressure = fluid.bubble_pressure(values.temperature)
    tube = charge.Tube(values.bore, values.length)
    return charge.hose_mass(fluid, tube, pressure, values.temperature, "vapour")


HOSE = Task(
    key="hose",
    question=(
        "A charging hose is {length} long, its bore measures {bore}. It stands full of liquid "
        "propane at {temperature}, which weighs {density}. How much propane is in the hose?"
    ),
    draw=_draw_hose,
    kinds=KINDS,
    solve=_hose,
    kind="charge",
    slips=(
        Slip(
            "diameter for radius",
            lambda values, show: 4.0 * values.answer,
            "That takes the bore as a radius: four times too much. The round is bore times bore "
            "times 0.785 (a quarter of pi).",
        ),
        Slip(
            "square for round",
            lambda values, show: 4.0 / math.pi * values.answer,
            "That takes a square hole. A round one has 0.785 of it.",
        ),
        Slip(
            "vapour for liquid",
            _hose_of_vapour,
            "So little would be in a hose full of vapour. Liquid is what makes the difference.",
        ),
    ),
    hints=(
        "Volume first, then times the density.",
        "The hose holds {volume}; a volume times {density} is a mass.",
    ),
    steps=(
        "The round hole, bore times bore times 0.785, times the length is {volume}.",
        "{volume} at {density} makes {answer}.",
    ),
    tolerance=Tolerance(us=0.03, metric=0.5, share=0.04, because=_SCALE),
)


# ---------------------------------------------------------------- 2 grams in a room


def _draw_room(random):
    return {
        "charge": random.uniform(0.080, 0.150),
        "floor": random.uniform(4.0, 14.0),
        "height": random.uniform(2.2, 3.2),
    }


def _share(values):
    room = Room(values.floor, values.height)
    concentration = float(flammability.peak_concentration(room, values.charge, _INSTANT))
    return {
        "room": room.volume,
        "lfl": lfl(),
        "concentration": concentration,
        "answer": concentration / lfl(),
    }


def _over_floor(values, show):
    """Take the number of the floor area for the number of the volume."""
    floor, room = (
        float(show.text(values_, kind).split()[0])
        for values_, kind in ((values.floor, "floor"), (values.room, "volume"))
    )
    return values.answer * room / floor


SHARE = Task(
    key="share",
    question=(
        "All {charge} of a cabinet leak at once into a closed room: floor {floor}, height "
        "{height}. Propane's lower flammability limit is {lfl}. If it mixed evenly, how near the "
        "limit would the air be, in percent of it?"
    ),
    draw=_draw_room,
    kinds=KINDS,
    solve=_share,
    kind="ratio",
    limits=(0.0, None),
    slips=(
        Slip(
            "over the floor alone",
            _over_floor,
            "That spreads the gas over the floor and forgets the height. Volume is floor times "
            "height.",
        ),
        Slip(
            "of a quarter",
            lambda values, show: values.answer / ALARM,
            "That is the share of a quarter of the limit, the alarm. Asked is the limit itself.",
        ),
        Slip(
            "upside down",
            lambda values, show: 1.0 / values.answer,
            "Turn the fraction over: what is in the air comes on top, the limit below.",
        ),
    ),
    hints=(
        "How much propane is in each unit of air, and how much would burn?",
        "The room holds {room} of air, so there are {concentration}.",
    ),
    steps=(
        "The room measures {room}.",
        "{charge} in it make {concentration}.",
        "Against {lfl} that is {answer} of the limit. On the floor it can be many times as much.",
    ),
    tolerance=Tolerance(us=1.0, metric=1.0, share=0.03, because="that is rounding"),
)


# ---------------------------------------------------------------- 3 minutes above a quarter


def _draw_minutes(random):
    return {
        "peak": random.uniform(0.5, 1.6),
        "air_changes": random.uniform(0.6, 3.0) / 3600.0,
    }


def _minutes(values):
    # A room of one cubic metre with a sudden leak of just the mass that gives the peak.
    room = Room(1.0, 1.0, values.air_changes)
    mass = values.peak * lfl()
    lasting = float(flammability.time_above(room, mass, _INSTANT, ALARM * lfl()))
    ratio = values.peak / ALARM
    return {
        "quarter": ALARM,
        "ratio": ratio,
        "logarithm": math.log(ratio),
        "answer": lasting,
    }


MINUTES = Task(
    key="minutes",
    question=(
        "A sudden leak has brought a room to {peak} of the lower flammability limit, evenly "
        "mixed. The air changes at {air_changes}. How long until the air is down to "
        "{quarter} of the limit? (Answer with a unit, such as 15 min.)"
    ),
    draw=_draw_minutes,
    kinds=KINDS,
    solve=_minutes,
    kind="time",
    slips=(
        Slip(
            "one air change",
            lambda values, show: 1.0 / values.air_changes,
            "That is the time of one air change. Fresh air mixes with the old: after one change "
            "37 % of the gas is still there, after two 14 %.",
        ),
        Slip(
            "straight line",
            lambda values, show: (1.0 - ALARM / values.peak) / values.air_changes,
            "That lets the gas fall on a straight line. Each change takes a share of what is left, "
            "so it falls ever more slowly.",
        ),
        Slip(
            "wrong logarithm",
            lambda values, show: math.log10(values.peak / ALARM) / values.air_changes,
            "That is the logarithm to the base ten. Use the natural one, ln.",
        ),
    ),
    hints=(
        "Gas falls by the same share in every minute: time is ln(start / end) over air changes.",
        "From {peak} to {quarter} is a factor of {ratio}; its natural logarithm is {logarithm}.",
    ),
    steps=(
        "{peak} over {quarter} is {ratio}, and ln of that is {logarithm}.",
        "{logarithm} divided by {air_changes} is {answer}. A layer on the floor takes longer.",
    ),
    tolerance=Tolerance(share=0.06, because="air changes are never known better"),
)


# ---------------------------------------------------------------- 4 grams to weigh in


def _draw_weigh(random):
    return {
        "nameplate": random.uniform(0.085, 0.150),
        "hose_mass": random.uniform(0.008, 0.020),
        "left": random.uniform(0.003, 0.007),
    }


def _weigh_in(values):
    """Solve the weighing for the drop of the scale that meets the nameplate."""
    nothing = charge.weigh(
        0.0, resolution=0.001, hose_after=values.hose_mass, remaining=values.left
    )
    return {"answer": values.nameplate - float(nothing.total)}


WEIGH = Task(
    key="weigh",
    question=(
        "Nameplate {nameplate}. Your hose was empty when you zeroed the scale and will stand full "
        "of liquid at the end: {hose_mass}. The last call left {left} in the box. At what drop of "
        "the scale do you close the valve?"
    ),
    draw=_draw_weigh,
    kinds=KINDS,
    solve=_weigh_in,
    kind="charge",
    slips=(
        Slip(
            "hose subtracted",
            lambda values, show: values.nameplate - values.hose_mass - values.left,
            "The scale also counts what stays in the hose. More has to leave the cylinder than "
            "reaches the box, not less.",
        ),
        Slip(
            "forgot what was left",
            lambda values, show: values.nameplate + values.hose_mass,
            "Some propane is still in the box. It counts towards the nameplate.",
        ),
        Slip(
            "left added",
            lambda values, show: values.nameplate + values.hose_mass + values.left,
            "What is already in the box need not be weighed in again.",
        ),
        Slip(
            "forgot the hose",
            lambda values, show: values.nameplate - values.left,
            "Then the hose keeps its share and the box stays short by it.",
        ),
    ),
    hints=(
        "What leaves the cylinder goes to two places.",
        "{left} is there already, and {hose_mass} will stay behind in the hose.",
    ),
    steps=(
        "The box needs {nameplate} less the {left} that is in it.",
        "On top come {hose_mass} for the hose: close at {answer}. Better still: empty the hose "
        "into the running box, and nothing need be guessed.",
    ),
    tolerance=Tolerance(us=0.03, metric=1.0, because=_SCALE),
)

ALL = (HOSE, SHARE, MINUTES, WEIGH)
