"""The tasks of lesson 40: grams in line, drier and condenser; grams gone before suction falls."""

from __future__ import annotations

from lowside import charge, refrigerants, system

from .tasks import Slip, Task
from .tolerance import Tolerance

CABINET = "propane-reach-in"
_SCALE = "a good charging scale reads to about that"
_WATER = 1000.0  # [kg/m3]
_AMBIENTS = (293.15, 298.15, 303.15, 308.15, 313.15)  # [K]

KINDS = {
    "bore": "port",
    "extra": "distance",
    "liquid": "temperature",
    "density": "density",
    "volume": "volume",
    "old": "volume",
    "new": "volume",
    "ambient": "temperature",
    "charge": "charge",
    "condenser": "charge",
    "rest": "charge",
    "weighed": "charge",
    "knee": "charge",
    "wide_open": "charge",
    "lost": "charge",
}


def propane():
    """Give the refrigerant of this lesson.

    Returns
    -------
    Refrigerant
    """
    return refrigerants.get("R290")


def _liquid_density(temperature):
    fluid = propane()
    pressure = fluid.bubble_pressure(temperature)
    return float(fluid.saturation(pressure).liquid_density)


# ---------------------------------------------------------------- 1 a longer liquid line


def _draw_line(random):
    return {
        "bore": random.choice((3.6e-3, 4.8e-3, 6.0e-3)),
        "extra": random.uniform(1.0, 4.0),
        "liquid": random.uniform(298.0, 313.0),
    }


def _line(values):
    tube = charge.Tube(values.bore, values.extra)
    density = _liquid_density(values.liquid)
    return {"volume": tube.volume, "density": density, "answer": tube.volume * density}


def _as_vapour(values, show):
    fluid = propane()
    dense = fluid.saturation(fluid.dew_pressure(values.liquid)).vapour_density
    return values.volume * float(dense)


LINE = Task(
    key="line",
    question=(
        "A liquid line is made {extra} longer. Its bore measures {bore}, and it runs full of "
        "liquid propane at {liquid}, which weighs {density}. How much propane does the extra "
        "line hold?"
    ),
    draw=_draw_line,
    kinds=KINDS,
    solve=_line,
    kind="charge",
    slips=(
        Slip(
            "diameter for radius",
            lambda values, show: 4.0 * values.answer,
            "That takes the bore as a radius: four times too much. The round hole is bore times "
            "bore times 0.785 (a quarter of pi).",
        ),
        Slip(
            "water for propane",
            lambda values, show: values.volume * _WATER,
            "That would be water. Liquid propane weighs only about half as much.",
        ),
        Slip(
            "vapour for liquid",
            _as_vapour,
            "So little would be in a line full of vapour. A liquid line is full of liquid.",
        ),
    ),
    hints=(
        "Volume first, then times the density.",
        "The extra line holds {volume}; that volume times {density} is a mass.",
    ),
    steps=(
        "The round hole, bore times bore times 0.785, times the length is {volume}.",
        "{volume} at {density} makes {answer}.",
    ),
    tolerance=Tolerance(us=0.02, metric=0.5, share=0.04, because=_SCALE),
)


# ---------------------------------------------------------------- 2 a bigger drier


def _draw_drier(random):
    return {
        "old": random.uniform(10e-6, 18e-6),
        "new": random.uniform(34e-6, 60e-6),
        "liquid": random.uniform(298.0, 313.0),
    }


def _drier(values):
    density = _liquid_density(values.liquid)
    volume = values.new - values.old
    return {"density": density, "volume": volume, "answer": volume * density}


DRIER = Task(
    key="drier",
    question=(
        "The drier a cabinet was built with leaves {old} free between its beads. The new one "
        "leaves {new}. Both stand full of liquid propane at {liquid}, which weighs {density}. How "
        "much more propane does the new one keep from the rest of the box?"
    ),
    draw=_draw_drier,
    kinds=KINDS,
    solve=_drier,
    kind="charge",
    slips=(
        Slip(
            "whole drier",
            lambda values, show: values.new * values.density,
            "That is all that the new drier holds. The old one held some too: asked is how much "
            "more.",
        ),
        Slip(
            "added",
            lambda values, show: (values.new + values.old) * values.density,
            "That adds both driers. One came out, one went in.",
        ),
        Slip(
            "water for propane",
            lambda values, show: values.volume * _WATER,
            "That would be water. Liquid propane weighs only about half as much.",
        ),
    ),
    hints=(
        "How much more room does the new one have?",
        "It has {volume} more room, and each unit of it holds liquid at {density}.",
    ),
    steps=(
        "The difference in room is {volume}.",
        "{volume} at {density} makes {answer}. By so much the box acts undercharged, although its "
        "scale ticket is right.",
    ),
    tolerance=Tolerance(us=0.02, metric=0.5, share=0.04, because=_SCALE),
)


# ---------------------------------------------------------------- 3 share in the condenser


def _draw_condenser(random):
    return {
        "ambient": random.choice(_AMBIENTS),
        "charge": random.uniform(0.085, 0.120),
    }


def _condenser(values):
    curve = system.refitted_curve(CABINET, values.ambient)
    _, parts = curve.at(values.charge)
    held = parts["condenser"]
    return {
        "condenser": held,
        "rest": values.charge - held,
        "answer": held / values.charge,
    }


CONDENSER = Task(
    key="condenser",
    question=(
        "The box of this lesson runs with {charge} in air of {ambient}. Its condenser holds "
        "{condenser}, everything else together {rest}. Which share of the charge is in the "
        "condenser, in percent?"
    ),
    draw=_draw_condenser,
    kinds=KINDS,
    solve=_condenser,
    kind="ratio",
    slips=(
        Slip(
            "against the rest",
            lambda values, show: values.condenser / values.rest,
            "That compares the condenser with the rest. A share is a part of the whole.",
        ),
        Slip(
            "the rest",
            lambda values, show: values.rest / values.charge,
            "That is the share of everything else.",
        ),
    ),
    hints=(
        "Part over whole.",
        "The part is {condenser}, the whole is {charge}.",
    ),
    steps=("{condenser} out of {charge} is {answer}: more than any other part.",),
)


# ---------------------------------------------------------------- 4 lost before the suction falls


def _draw_silent(random):
    nameplate = system.cabinets.get(CABINET).charge
    return {
        "ambient": random.choice(_AMBIENTS),
        "weighed": nameplate * random.uniform(0.96, 1.0),
    }


def _silent(values):
    curve = system.refitted_curve(CABINET, values.ambient)
    knee, wide_open = curve.knee(), curve.wide_open()
    lost = values.weighed - wide_open
    return {
        "knee": knee,
        "wide_open": wide_open,
        "lost": lost,
        "answer": lost / values.weighed,
    }


SILENT = Task(
    key="silent",
    question=(
        "The box of this lesson was filled with {weighed}. In air of {ambient} it loses its last "
        "subcooling at {knee}. Its valve stands wide open, and suction begins to fall, at "
        "{wide_open}. Which share of the filling is gone before the suction gauge begins to fall, "
        "in percent?"
    ),
    draw=_draw_silent,
    kinds=KINDS,
    solve=_silent,
    kind="ratio",
    slips=(
        Slip(
            "to the knee",
            lambda values, show: 1.0 - values.knee / values.weighed,
            "So much is gone when the subcooling is. The suction gauge falls later.",
        ),
        Slip(
            "from the knee",
            lambda values, show: (values.knee - values.wide_open) / values.weighed,
            "That counts from where the subcooling went. Count from the filling.",
        ),
        Slip(
            "what is left",
            lambda values, show: values.wide_open / values.weighed,
            "That is what is left. Asked is what is gone.",
        ),
    ),
    hints=(
        "From the filling down to where the suction begins to fall.",
        "Take what is left when suction begins to fall from the filling; then ask what share of "
        "the filling that is.",
    ),
    steps=(
        "From {weighed} down to {wide_open} are {lost}.",
        "{lost} out of {weighed} is {answer}, and the suction gauge has not fallen yet.",
    ),
)

ALL = (LINE, DRIER, CONDENSER, SILENT)
