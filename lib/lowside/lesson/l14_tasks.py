"""The tasks of lesson 14: a wall, a delivery, running time, freezing, the coil."""

from __future__ import annotations

from lowside import load, units

from .tasks import Slip, Task
from .tolerance import Tolerance

_DAY_HOURS = 24.0 * units.HOUR
_ROUGH = Tolerance(share=0.05, because="the numbers that go in are no better")

KINDS = {
    "area": "floor",
    "resistance": "insulation",
    "inside": "temperature",
    "outside": "temperature",
    "difference": "temperature_difference",
    "mass": "goods",
    "specific_heat": "specific_heat",
    "below_heat": "specific_heat",
    "latent": "enthalpy",
    "entering": "temperature",
    "kept": "temperature",
    "freezing": "temperature",
    "first_part": "enthalpy",
    "last_part": "enthalpy",
    "day_heat": "heat",
    "with_margin": "heat",
    "run_time": "hours",
    "day": "hours",
    "margin": "ratio",
    "humidity": "ratio",
    "other_difference": "temperature_difference",
}


# ---------------------------------------------------------------- 1 a wall


def _draw_wall(random):
    return {
        "area": random.uniform(60.0, 180.0),
        "resistance": random.uniform(2.0, 5.0),
        "inside": random.uniform(273.5, 279.0),
        "outside": random.uniform(295.0, 309.0),
    }


def _wall(values):
    difference = values.outside - values.inside
    return {"difference": difference, "answer": values.area * difference / values.resistance}


WALL = Task(
    key="wall",
    question=(
        "Walls and ceiling of a box measure {area} together; they insulate with {resistance}. "
        "Inside {inside}, outside {outside}. How much heat comes through?"
    ),
    draw=_draw_wall,
    kinds=KINDS,
    solve=_wall,
    kind="heat_flow",
    slips=(
        Slip(
            "outside for difference",
            lambda values, show: (
                values.area
                * show.si(show.value(values.outside, "temperature"), "temperature_difference")
                / values.resistance
            ),
            "That takes the temperature outside itself. Heat is driven by the difference to "
            "inside: {difference}.",
        ),
        Slip(
            "area forgotten",
            lambda values, show: values.answer / show.value(values.area, "floor"),
            "That is what comes through one square of the unit. There are {area} of it.",
        ),
    ),
    hints=(
        "Area times difference, divided by the insulation value: the more insulation, the less.",
        "The difference is {difference}.",
    ),
    steps=(
        "Outside less inside is {difference}.",
        "{area} times {difference}, divided by {resistance}, is {answer}.",
    ),
    tolerance=_ROUGH,
)


# ---------------------------------------------------------------- 2 a delivery


def _draw_delivery(random):
    food = load.food(random.choice(("beef", "milk", "cabbage", "apples", "beer")))
    kept = random.uniform(274.5, 279.0)
    return {
        "food": food.name,
        "mass": random.uniform(300.0, 2500.0),
        "specific_heat": food.above,
        "entering": kept + random.uniform(6.0, 20.0),
        "kept": kept,
    }


def _delivery(values):
    difference = values.entering - values.kept
    return {
        "difference": difference,
        "answer": values.mass * values.specific_heat * difference,
    }


DELIVERY = Task(
    key="delivery",
    question=(
        "Every day {mass} of {food} come in at {entering} and are kept at {kept}. Their specific "
        "heat is {specific_heat}. How much heat must come out of them in a day?"
    ),
    draw=_draw_delivery,
    kinds=KINDS,
    solve=_delivery,
    kind="heat",
    slips=(
        Slip(
            "as if it were water",
            lambda values, show: values.mass * 4186.8 * values.difference,
            "That is for as much water. Food needs a little less: {specific_heat}.",
        ),
        Slip(
            "kilojoules as kilowatt-hours",
            lambda values, show: values.answer * units.HOUR if show.system == "metric" else None,
            "That number is in kJ. A kWh is 3600 kJ.",
        ),
        Slip(
            "entering for difference",
            lambda values, show: (
                values.mass
                * values.specific_heat
                * show.si(show.value(values.entering, "temperature"), "temperature_difference")
            ),
            "That cools them by the whole number on the thermometer. They stay at {kept}, so they "
            "cool by {difference}.",
        ),
    ),
    hints=(
        "Weight times specific heat times how far it is cooled.",
        "They are cooled by {difference}.",
    ),
    steps=(
        "{entering} less {kept} is {difference}.",
        "{mass} times {specific_heat} times {difference} is {answer}.",
    ),
    tolerance=_ROUGH,
)


# ---------------------------------------------------------------- 3 running time


def _draw_capacity(random):
    return {
        "day_heat": random.uniform(60.0, 320.0) * 3.6e6,
        "run_time": random.choice((15.0, 16.0, 18.0, 20.0)) * units.HOUR,
        "margin": random.choice((0.05, 0.10, 0.15)),
        "day": _DAY_HOURS,
    }


def _capacity(values):
    with_margin = values.day_heat * (1.0 + values.margin)
    return {"with_margin": with_margin, "answer": with_margin / values.run_time}


CAPACITY = Task(
    key="capacity",
    question=(
        "In a day {day_heat} come into a box. Its machine shall run {run_time} of {day}, and "
        "{margin} shall be on top for what nobody foresaw. What capacity must it have?"
    ),
    draw=_draw_capacity,
    kinds=KINDS,
    solve=_capacity,
    kind="heat_flow",
    slips=(
        Slip(
            "all day long",
            lambda values, show: values.with_margin / values.day,
            "That spreads it over {day}. The machine has only {run_time}; the rest is for defrost "
            "and for worse days.",
        ),
        Slip(
            "margin forgotten",
            lambda values, show: values.day_heat / values.run_time,
            "That has nothing on top. {margin} were asked for.",
        ),
        Slip(
            "margin taken off",
            lambda values, show: values.day_heat * (1.0 - values.margin) / values.run_time,
            "That takes {margin} off. It is meant on top.",
        ),
    ),
    hints=(
        "First add the margin to the day's heat. Then spread it over the hours it runs.",
        "With its margin it is {with_margin}, in {run_time}.",
    ),
    steps=(
        "{day_heat} and {margin} on top make {with_margin}.",
        "In {run_time} that takes {answer}.",
    ),
    tolerance=_ROUGH,
)


# ---------------------------------------------------------------- 4 through freezing


def _draw_freeze(random):
    food = load.food(random.choice(("beef", "pork", "fish")))
    return {
        "food": food.name,
        "specific_heat": food.above,
        "below_heat": food.below,
        "latent": food.latent,
        "freezing": food.freezing,
        "entering": food.freezing + random.uniform(4.0, 12.0),
        "kept": food.freezing - random.uniform(12.0, 22.0),
    }


def _freeze(values):
    first = values.specific_heat * (values.entering - values.freezing)
    last = values.below_heat * (values.freezing - values.kept)
    return {
        "first_part": first,
        "last_part": last,
        "difference": values.entering - values.kept,
        "answer": first + values.latent + last,
    }


FREEZE = Task(
    key="freeze",
    question=(
        "Somebody loads a freezer with fresh {food}, at {entering}; it is kept at {kept}. It "
        "begins to freeze at {freezing}, which takes {latent}. Its specific heat is "
        "{specific_heat} above and {below_heat} below. How much heat is that for each unit of "
        "weight?"
    ),
    draw=_draw_freeze,
    kinds=KINDS,
    solve=_freeze,
    kind="enthalpy",
    slips=(
        Slip(
            "freezing forgotten",
            lambda values, show: values.first_part + values.last_part,
            "That only cools it. To freeze it takes {latent} more: most of it all.",
        ),
        Slip(
            "freezing only",
            lambda values, show: values.latent,
            "That only freezes it. It is cooled first, and further afterwards.",
        ),
        Slip(
            "one specific heat for all",
            lambda values, show: values.latent + values.specific_heat * values.difference,
            "That takes the specific heat of the fresh food all the way. Frozen, it needs only "
            "{below_heat}.",
        ),
    ),
    hints=(
        "Three pieces: down to freezing, freezing itself, and on from there.",
        "The first piece is {first_part}, the last one {last_part}.",
    ),
    steps=(
        "Down to {freezing}: {first_part}. Freezing: {latent}. On to {kept}: {last_part}.",
        "Together {answer}. A freezer is built to keep frozen food, not to freeze it.",
    ),
    tolerance=Tolerance(us=1.0, metric=3.0, because="the specific heats are rounded"),
)


# ---------------------------------------------------------------- 5 the coil


def _draw_coil(random):
    rows = load.table()
    place = random.randrange(len(rows))
    other = place + 1 if place + 1 < len(rows) else place - 1
    return {
        "kept": random.uniform(274.0, 280.0),
        "goods": rows[place][2],
        "humidity": rows[place][1],
        "difference": rows[place][0],
        "other_difference": rows[other][0],
    }


def _coil(values):
    return {"answer": values.kept - values.difference}


COIL = Task(
    key="coil",
    question=(
        "A room at {kept} shall hold {humidity} for its goods ({goods}). By the picture above that "
        "wants a temperature difference of {difference} between air and evaporating. At which "
        "temperature must the coil evaporate?"
    ),
    draw=_draw_coil,
    kinds=KINDS,
    solve=_coil,
    kind="temperature",
    slips=(
        Slip(
            "coil warmer than the air",
            lambda values, show: values.kept + values.difference,
            "That makes the coil warmer than the air. Then no heat would flow into it.",
        ),
        Slip(
            "another row",
            lambda values, show: values.kept - values.other_difference,
            "That is {other_difference} below the air, which belongs to another humidity.",
        ),
        Slip(
            "the difference itself",
            lambda values, show: show.si(
                show.value(values.difference, "temperature_difference"), "temperature"
            ),
            "That is the difference. Asked is the temperature of the coil.",
        ),
    ),
    hints=("Which is colder, the coil or the air?", "Take {difference} from {kept}."),
    steps=("{kept} less {difference} is {answer}.",),
)

ALL = (WALL, DELIVERY, CAPACITY, FREEZE, COIL)
