"""The tasks of lesson 20: spring, drop, stem, and a bulb in the cold."""

from __future__ import annotations

from lowside import refrigerants, valve

from . import l20_numbers, slips
from .tasks import Slip, Task
from .tolerance import Tolerance

PANEL = "Three bulbs, one spring"  # its title on the page

_FLUIDS = ("R404A", "R448A", "R449A", "R290", "R134a", "R513A")
_GAUGE = "a gauge or a printed chart is read no finer"

KINDS = {
    "suction_pressure": "gauge_pressure",
    "bulb_pressure": "gauge_pressure",
    "behind_pressure": "gauge_pressure",
    "opens_pressure": "gauge_pressure",
    "dew": "temperature",
    "bulb_dew": "temperature",
    "behind_dew": "temperature",
    "external_dew": "temperature",
    "opens_dew": "temperature",
    "static": "temperature_difference",
    "spring": "pressure_difference",
    "drop": "pressure_difference",
    "read": "temperature_difference",
    "wanted": "temperature_difference",
    "turn": "temperature_difference",
    "off": "temperature_difference",
    "set_at": "temperature",
    "cold": "temperature",
    "as_set": "temperature_difference",
    "gap": "temperature_difference",
}


# ---------------------------------------------------------------- 1 the spring


def _draw_spring(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    dew = random.uniform(246.0, 272.0)
    static = random.uniform(3.0, 5.5)
    return {
        "refrigerant": fluid.name,
        "dew": dew,
        "static": static,
        "suction_pressure": fluid.dew_pressure(dew),
        "bulb_pressure": fluid.dew_pressure(dew + static),
    }


def _spring(values):
    return {
        "bulb_dew": values.dew + values.static,
        "answer": values.bulb_pressure - values.suction_pressure,
    }


SPRING = Task(
    key="spring",
    question=(
        "{refrigerant}, liquid charge, balanced port, external equaliser. The valve just leaves "
        "its seat at {static} of superheat while the coil evaporates at {dew}. Your chart has "
        "{suction_pressure} for {dew}, and {bulb_pressure} for the bulb at {bulb_dew}. Which "
        "pressure does the spring stand for?"
    ),
    draw=_draw_spring,
    kinds=KINDS,
    solve=_spring,
    kind="pressure_difference",
    slips=(
        Slip(
            "bulb alone",
            lambda values, show: values.bulb_pressure - show.atmosphere,
            "That is all that the bulb pushes with. Part of it only holds against the evaporator; "
            "the spring has to hold the rest.",
        ),
        Slip(
            "evaporator alone",
            lambda values, show: values.suction_pressure - show.atmosphere,
            "That is what the evaporator pushes with. The spring is what it leaves of the bulb's "
            "push.",
        ),
        Slip(
            "sum",
            lambda values, show: (
                values.bulb_pressure + values.suction_pressure - 2.0 * show.atmosphere
            ),
            "The two push against each other: take one from the other.",
        ),
        slips.sign_swapped(),
    ),
    hints=(
        "On its seat and just about to leave it, what pushes down equals what pushes up.",
        "Bulb equals evaporator plus spring. Both pressures stand in the question.",
    ),
    steps=(
        "The bulb at {bulb_dew} pushes with {bulb_pressure}, the evaporator with "
        "{suction_pressure}.",
        "The spring holds the difference: {answer}.",
    ),
    tolerance=Tolerance(us=0.5, metric=0.03, because=_GAUGE),
)


# ---------------------------------------------------------------- 2 what a drop costs


def _draw_drop(random):
    fluid = refrigerants.get(random.choice(_FLUIDS))
    dew = random.uniform(248.0, 270.0)
    suction = fluid.dew_pressure(dew)
    spring = fluid.dew_pressure(dew + random.uniform(3.0, 5.0)) - suction
    drop = fluid.dew_pressure(dew + random.uniform(4.0, 9.0)) - suction
    return {
        "refrigerant": fluid.name,
        "suction_pressure": suction,
        "behind_pressure": suction + drop,
        "spring": spring,
    }


def _drop(values):
    fluid = refrigerants.get(values.refrigerant)
    opens = values.behind_pressure + values.spring
    dew, behind, external, at = (
        float(fluid.dew_temperature(pressure))
        for pressure in (
            values.suction_pressure,
            values.behind_pressure,
            values.suction_pressure + values.spring,
            opens,
        )
    )
    return {
        "drop": values.behind_pressure - values.suction_pressure,
        "opens_pressure": opens,
        "dew": dew,
        "behind_dew": behind,
        "external_dew": external,
        "opens_dew": at,
        "answer": at - dew,
    }


DROP = Task(
    key="drop",
    question=(
        "{refrigerant}, liquid charge, balanced port, and an internal equaliser on a coil with a "
        "distributor. A gauge behind the valve says {behind_pressure}, the suction gauge at the "
        "coil outlet {suction_pressure}. The spring stands for {spring}. Your chart, dew column: "
        "{suction_pressure} is {dew}; {behind_pressure} is {behind_dew}; {opens_pressure} is "
        "{opens_dew}. How much superheat, read at the coil outlet, does it take to open this valve?"
    ),
    draw=_draw_drop,
    kinds=KINDS,
    solve=_drop,
    kind="temperature_difference",
    slips=(
        Slip(
            "as if external",
            lambda values, show: values.external_dew - values.dew,
            "So it would be with an external equaliser. This one hears the pressure behind the "
            "valve, and the bulb must make good for the drop as well.",
        ),
        Slip(
            "without the spring",
            lambda values, show: values.behind_dew - values.dew,
            "That is the drop alone. The bulb must make good for the spring, too.",
        ),
        slips.sign_swapped(),
        slips.unit_of_the_other_system("temperature_difference"),
    ),
    hints=(
        "Which pressure pushes up under the diaphragm of this valve, and what comes on top of it?",
        "Pressure behind the valve plus spring is what the bulb must reach. How warm is it then, "
        "and how far is that above dew at the suction gauge?",
    ),
    steps=(
        "Under the diaphragm {behind_pressure}, and the spring {spring} on top: the bulb must "
        "reach {opens_pressure}, at {opens_dew}.",
        "The coil outlet has its dew at {dew}: {answer} of superheat.",
    ),
)


# ---------------------------------------------------------------- 3 the stem


def _draw_turns(random):
    wanted = random.uniform(3.5, 5.0)
    off = random.choice((-1.0, 1.0)) * random.uniform(1.5, 3.5)
    return {
        "read": wanted + off,
        "wanted": wanted,
        "turn": random.uniform(1.2, 2.4),
    }


def _turns(values):
    off = values.wanted - values.read
    return {"off": off, "answer": off / values.turn}


def _inverted(values, show):
    return values.turn / values.off


TURNS = Task(
    key="turns",
    question=(
        "The box is at temperature and steady. You read {read} of superheat and want {wanted}. On "
        "this valve, at this evaporating temperature, one turn of the stem is worth {turn}. How "
        "many turns? Count clockwise as plus and counterclockwise as minus."
    ),
    draw=_draw_turns,
    kinds=KINDS,
    solve=_turns,
    kind="number",
    slips=(
        slips.sign_swapped(),
        Slip(
            "upside down",
            _inverted,
            "That divides the turn by the change. How often does one turn fit into the change that "
            "you want?",
        ),
        Slip(
            "degrees for turns",
            lambda values, show: show.value(values.off, "temperature_difference"),
            "That is the change in degrees. Divide it by what one turn is worth.",
        ),
    ),
    hints=(
        "More spring, more superheat: which way is that?",
        "Wanted less read is the change; divide by what one turn is worth, and keep the sign.",
    ),
    steps=(
        "From {read} to {wanted} is a change of {off}.",
        "Divided by {turn} a turn: {answer} turns, plus is clockwise. On the job half a turn at a "
        "time, and wait.",
    ),
    tolerance=Tolerance(us=0.15, metric=0.15, because="a stem is turned no finer"),
)


# ---------------------------------------------------------------- 4 the same spring in the cold


def _draw_cold(random):
    set_at = random.uniform(266.0, 274.0)
    return {
        "refrigerant": random.choice(_FLUIDS),
        "set_at": set_at,
        "as_set": random.uniform(2.5, 4.0),
        "cold": set_at - random.uniform(24.0, 31.0),
    }


def _cold(values):
    fluid = refrigerants.get(values.refrigerant)
    elements, spring = valve.bulbs(
        fluid, values.set_at, values.as_set, l20_numbers.FLATNESS, l20_numbers.HIGHEST
    )
    answer = float(valve.opens_at(elements["liquid"], fluid, spring, values.cold))
    return {"answer": answer, "gap": answer - values.as_set}


COLD = Task(
    key="cold",
    question=(
        f"Go to the panel “{PANEL}” and press Reset. Set it to "
        "{refrigerant}, liquid charge, set at {set_at} evaporating to {as_set}. Now let it "
        "evaporate at {cold}, as in a freezer, and leave the spring alone. How much superheat "
        "opens the valve?"
    ),
    draw=_draw_cold,
    kinds=KINDS,
    solve=_cold,
    kind="temperature_difference",
    slips=(
        Slip(
            "as it was set",
            lambda values, show: values.as_set,
            "That is what it was set to. The spring pushes as before, but in the cold the bulb's "
            "pressure rises less per degree.",
        ),
        Slip(
            "the change alone",
            lambda values, show: values.gap,
            "That is by how much it grew. What opens the valve is all of it.",
        ),
    ),
    hints=(
        "Set the four values first, then read the large number in the chart on the right.",
        "The spring is the same pressure everywhere; look how much flatter the line on the left "
        "runs in the cold.",
    ),
    steps=(
        "Set to {as_set} at {set_at}, the spring stands for a fixed pressure.",
        "At {cold} that pressure is worth {gap} more: {answer}.",
    ),
    tolerance=Tolerance(us=0.5, metric=0.3, because="the sliders are set no finer"),
)

ALL = (SPRING, DROP, TURNS, COLD)
