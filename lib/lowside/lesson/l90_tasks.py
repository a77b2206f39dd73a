"""The tasks of lesson 90: tolerance used, evidence, a parity plot, what a pressure is worth."""

from __future__ import annotations

from lowside import checks, refrigerants

from .tasks import Slip, Task
from .tolerance import Tolerance

KINDS = {
    "printed": "enthalpy",
    "ours": "enthalpy",
    "room": "ratio",
    "off": "ratio",
    "room_is": "enthalpy",
    "apart": "enthalpy",
    "read": "number",
    "memory": "number",
    "computed": "number",
    "all": "number",
    "first": "enthalpy",
    "first_ours": "enthalpy",
    "second": "enthalpy",
    "second_ours": "enthalpy",
    "asked": "enthalpy",
    "lean": "ratio",
    "evaporating": "temperature",
    "pressure": "pressure",
    "higher": "pressure",
}

# ---------------------------------------------------------------- 1 how much of the tolerance


def _draw_used(random):
    printed = random.uniform(150e3, 260e3)
    room = random.choice((0.02, 0.03, 0.04, 0.05))
    return {
        "printed": printed,
        "room": room,
        "ours": printed * (1 + room * random.uniform(0.3, 0.8)),
    }


def _used(values):
    apart, room_is = values.ours - values.printed, values.printed * values.room
    return {"apart": apart, "room_is": room_is, "answer": apart / room_is}


USED = Task(
    key="used",
    question=(
        "A book prints a cooling effect of {printed}. We compute {ours}. Three digits and an older "
        "table: we allow {room} of the printed value. Which share of this tolerance is used up?"
    ),
    draw=_draw_used,
    kinds=KINDS,
    solve=_used,
    kind="ratio",
    slips=(
        Slip(
            "not over the tolerance",
            lambda values, show: (values.ours - values.printed) / values.printed,
            "That is the difference as a share of the printed value. Divide once more, by the "
            "tolerance.",
        ),
        Slip(
            "what is left",
            lambda values, show: 1.0 - values.answer,
            "That is the share that is left. Asked is what is used.",
        ),
        Slip(
            "upside down",
            lambda values, show: 1.0 / values.answer,
            "That is the tolerance over the difference. Turn it round.",
        ),
    ),
    hints=(
        "First how far apart, then how far apart is allowed.",
        "Apart: {apart}. Allowed: {room_is}.",
    ),
    steps=(
        "Ours less printed: {apart}.",
        "{room} of {printed} is {room_is}.",
        "The one over the other: {answer} is used up. Below a hundred per cent it passes.",
    ),
    tolerance=Tolerance(2.0, 2.0, share=0.05, because="that is rounding"),
    limits=(0.0, None),
)


# ---------------------------------------------------------------- 2 what counts as proof


def _draw_proof(random):
    sizes = {s: [] for s in (checks.READ, checks.MEMORY, checks.COMPUTED)}
    for status, found in sizes.items():
        topics = [t for t in checks.topics() if t not in checks.copied()]
        found += [n for t in topics if (n := sum(c.status == status for c in checks.chosen(t)))]
    drawn = {name: random.choice(sizes[status]) for name, status in _PROOF.items()}
    return drawn | {f"{name}_said": str(count) for name, count in drawn.items()}


_PROOF = {"read": checks.READ, "memory": checks.MEMORY, "computed": checks.COMPUTED}


def _proof(values):
    every = values.read + values.memory + values.computed
    return {"all": every, "answer": values.read / every}


PROOF = Task(
    key="proof",
    question=(
        "Somebody shows you a list of checks that all pass. Read in the document named: "
        "{read_said}. Quoted from memory: {memory_said}. Computed with the very library that the "
        "program uses: {computed_said}. Which share of them can you look up and rely on as "
        "evidence from outside?"
    ),
    draw=_draw_proof,
    kinds=KINDS,
    solve=_proof,
    kind="ratio",
    slips=(
        Slip(
            "memory counted",
            lambda values, show: (values.read + values.memory) / values.all,
            "That counts what is quoted from memory. It may well be right, but nobody has looked.",
        ),
        Slip(
            "same library counted",
            lambda values, show: (values.read + values.computed) / values.all,
            "That counts what was computed with the same library. If the library is wrong, both "
            "are wrong together, and agree.",
        ),
        Slip(
            "all that pass",
            lambda values, show: 1.0,
            "All of them pass, but not all are evidence.",
        ),
    ),
    hints=(
        "Who could have found out that the number is wrong?",
        "Only those that were read, out of all three together.",
    ),
    steps=(
        "Add up: {read_said}, {memory_said} and {computed_said}.",
        "Only the {read_said} that were read count. That is {answer} of them.",
    ),
    tolerance=Tolerance(1.0, 1.0, because="that is rounding"),
    limits=(0.0, 1.0),
)


# ---------------------------------------------------------------- 3 a parity plot


def _draw_parity(random):
    lean = random.uniform(0.03, 0.08) * random.choice((-1.0, 1.0))
    low, high = random.uniform(100e3, 140e3), random.uniform(220e3, 260e3)
    return {
        "first": low,
        "first_ours": low * (1.0 + lean),
        "second": high,
        "second_ours": high * (1.0 + lean),
        "asked": random.uniform(330e3, 400e3),
    }


def _parity(values):
    lean = (values.first_ours + values.second_ours) / (values.first + values.second) - 1.0
    return {"lean": lean, "answer": values.asked * (1.0 + lean)}


PARITY = Task(
    key="parity",
    question=(
        "On a parity plot one dot stands at {first} published, {first_ours} ours; another at "
        "{second} published, {second_ours} ours. Both miss the line by the same share. If that "
        "goes on, where will the dot of a published {asked} stand on our axis?"
    ),
    draw=_draw_parity,
    kinds=KINDS,
    solve=_parity,
    kind="enthalpy",
    slips=(
        Slip(
            "on the line",
            lambda values, show: values.asked,
            "That is on the line. Both dots miss it on the same side: that is a lean, not chance.",
        ),
        Slip(
            "same distance",
            lambda values, show: values.asked + values.first_ours - values.first,
            "That keeps the distance of the first dot. It is the share that stays.",
        ),
        Slip(
            "other side",
            lambda values, show: values.asked * (1.0 - values.lean),
            "That leans to the other side of the line.",
        ),
    ),
    hints=(
        "On which side of the line are the dots, and by which share?",
        "They miss it by {lean}. Take {asked} and change it by that share.",
    ),
    steps=(
        "Ours over published, less one: {lean}.",
        "{asked}, changed by that share: {answer}.",
    ),
    tolerance=Tolerance(0.5, 1.0, because="that is rounding"),
)


# ---------------------------------------------------------------- 4 what a tolerance is worth


def _draw_worth(random):
    return {"evaporating": random.uniform(245.0, 275.0), "room": random.choice((0.02, 0.04, 0.06))}


def _worth(values):
    propane = refrigerants.get("R290")
    pressure = float(propane.dew_pressure(values.evaporating))
    higher = pressure * (1.0 + values.room)
    rise = float(propane.dew_temperature(higher)) - values.evaporating
    return {"pressure": pressure, "higher": higher, "answer": rise}


def _share_of_reading(values, show):
    number = abs(show.value(values.evaporating, "temperature")) * values.room
    return show.si(number, "temperature_difference")


WORTH = Task(
    key="worth",
    question=(
        "Propane boils at {evaporating}. Suppose a table's pressure (absolute) is {room} too high. "
        "How much warmer will you believe the coil to be?"
    ),
    draw=_draw_worth,
    kinds=KINDS,
    solve=_worth,
    kind="temperature_difference",
    slips=(
        Slip(
            "share of the reading",
            _share_of_reading,
            "A share of a reading in degrees means nothing: its zero is not where nothing begins.",
        ),
        Slip(
            "share of the absolute",
            lambda values, show: values.evaporating * values.room,
            "That takes the same share of the absolute temperature. Pressure climbs far faster "
            "than temperature: go through the chart.",
        ),
    ),
    hints=(
        "Pressure at {evaporating}, a little more of it, and back through the chart.",
        "The chart says {pressure}. With the error it is {higher}. Look that up.",
    ),
    steps=(
        "At {evaporating} the pressure is {pressure}; {room} more is {higher}.",
        "Back through the dew column: {answer} warmer.",
    ),
    tolerance=Tolerance(0.3, 0.15, because="the steps of a chart are no finer"),
)

ALL = (USED, PROOF, PARITY, WORTH)
