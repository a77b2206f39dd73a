"""The tasks of lesson 60: calls and not boxes, valves from parts, worth of a place, the panel."""

from __future__ import annotations

from lowside import carry

from .l60_numbers import route
from .tasks import Slip, Task
from .tolerance import Tolerance

PANEL = "Which parts to carry"  # its title on the page

_EXACT = Tolerance(0.5, 0.5, because="it is counted")
_FEW = range(6, 19)  # places that a task may ask for

KINDS = {"answer": "ratio"}


# ---------------------------------------------------------------- 1 calls and not boxes


def _draw_calls(random):
    kinds = {
        "bench": random.randint(1, 3),
        "room": random.randint(1, 3),
        "freezer": random.randint(7, 12),
        "counter": random.randint(4, 9),
        "cellar": random.randint(1, 5),
    }
    return {name: str(number) for name, number in kinds.items()}


def _share(values):
    calls = {
        name: float(getattr(values, name))
        for name in ("bench", "room", "freezer", "counter", "cellar")
    }
    every = sum(calls.values())
    covered = calls["bench"] + calls["room"] + calls["freezer"]
    return {"every": f"{every:g}", "covered": f"{covered:g}", "answer": covered / every}


SHARE = Task(
    key="share",
    question=(
        "Five boxes call for parts of a valve, so often a year: bottle bench {bench}, cold room "
        "{room}, freezer {freezer}, counter {counter}, cellar {cellar}. The case can build what "
        "the bench, the room and the freezer need. Which share of the calls does it cover?"
    ),
    draw=_draw_calls,
    kinds=KINDS,
    solve=_share,
    kind="ratio",
    slips=(
        Slip(
            "boxes for calls",
            lambda values, show: 3.0 / 5.0,
            "That counts boxes. A box that calls often counts often: add up calls.",
        ),
        Slip(
            "the share left",
            lambda values, show: 1.0 - _share(values)["answer"],
            "That is the share that the case does not cover.",
        ),
        Slip(
            "covered over not covered",
            lambda values, show: 1.0 / (1.0 / _share(values)["answer"] - 1.0),
            "That is covered over not covered. A share is covered over all calls.",
        ),
    ),
    hints=(
        "Add up the calls of the boxes that are covered, and the calls of all boxes.",
        "Covered are {covered} calls a year, of {every}.",
    ),
    steps=(
        "Covered: {bench} + {room} + {freezer} = {covered} calls a year.",
        "All five boxes call {every} times. {covered} over {every} makes {answer}.",
    ),
    limits=(0.0, None),
)


# ---------------------------------------------------------------- 2 valves from parts


def _draw_parts(random):
    while True:
        drawn = random.randint(2, 5), random.randint(3, 9), random.randint(5, 12)
        if len(set(drawn)) == 3:
            return dict(zip(("bodies", "cartridges", "elements"), map(str, drawn), strict=True))


def _valves(values):
    bodies, cartridges, elements = (
        float(getattr(values, name)) for name in ("bodies", "cartridges", "elements")
    )
    return {
        "places": f"{bodies + cartridges + elements:g}",
        "tops": f"{bodies * cartridges:g}",
        "answer": bodies * cartridges * elements,
    }


VALVES = Task(
    key="valves",
    question=(
        "In a case lie {bodies} bodies, {cartridges} cartridges and {elements} power elements, all "
        "different, and each goes with each. How many different valves can be put together from "
        "them, one at a time?"
    ),
    draw=_draw_parts,
    kinds=KINDS,
    solve=_valves,
    kind="number",
    slips=(
        Slip(
            "added",
            lambda values, show: float(values.places),
            "That is the number of places they take. Every body goes with every cartridge, and "
            "that pair with every power element: multiply.",
        ),
        Slip(
            "element forgotten",
            lambda values, show: float(values.tops),
            "That is bodies with cartridges. A valve takes a power element as well.",
        ),
        Slip(
            "the scarcest part",
            lambda values, show: float(values.bodies),
            "That is how many valves you could build at the same time. The question is how many "
            "different ones, one at a time.",
        ),
    ),
    hints=(
        "Take one body: with how many cartridges does it go?",
        "There are {tops} ways to choose a body and a cartridge. Each of them takes any element.",
    ),
    steps=(
        "{bodies} bodies times {cartridges} cartridges makes {tops}.",
        "Each goes with any of {elements} elements, which makes {answer} valves; the parts take "
        "{places} places.",
    ),
    tolerance=_EXACT,
)


# ---------------------------------------------------------------- 3 worth of a place


def _draw_worth(random):
    calls = random.randint(5, 9)
    return {
        "alone": f"{random.randint(12, 19) / 10:g}",
        "three": str(calls),
        "missing": str(random.choice((2, 3))),
    }


def _worth(values):
    return {
        "rate": (rate := f"{float(values.three) / float(values.missing):.2f}"),
        "answer": float(rate) - float(values.alone),
    }


PLACE = Task(
    key="place",
    question=(
        "Your case can grow. A power element alone would cover {alone} calls a year more. For "
        "another group of boxes {missing} parts are missing, and with all of them {three} calls a "
        "year more would be covered. How many calls a year does a place given to the group bring "
        "more than the place of the element alone?"
    ),
    draw=_draw_worth,
    kinds=KINDS,
    solve=_worth,
    kind="number",
    slips=(
        Slip(
            "places forgotten",
            lambda values, show: float(values.three) - float(values.alone),
            "That takes the {three} calls whole. They need {missing} places; share them out first.",
        ),
        Slip(
            "the group alone",
            lambda values, show: float(values.rate),
            "That is what a place brings with the group. How much more is it than the {alone} of "
            "the element alone?",
        ),
        Slip(
            "element shared out too",
            lambda values, show: (
                (float(values.three) - float(values.alone)) / float(values.missing)
            ),
            "That shares out the calls of the element too. It takes one place for itself.",
        ),
    ),
    hints=(
        "How many calls does each of the {missing} places bring?",
        "{three} over {missing} makes {rate} a place. Take away what the element brings.",
    ),
    steps=(
        "The group brings {three} over {missing}, which makes {rate} calls a year and place.",
        "Less {alone} for the element alone leaves {answer}. But without the last of its "
        "{missing} parts the group brings nothing at all.",
    ),
)


# ---------------------------------------------------------------- 4 the panel


def _draw_panel(random):
    return {"places": str(random.choice(_FEW))}


def _panel(values):
    cases, places = carry.curve(route(), food=1.0), int(values.places)
    return {"answer": cases[places].calls_share, "curve": cases[places].food_share}


def _neighbour(steps):
    def share(values, show):
        return carry.curve(route(), food=1.0)[int(values.places) + steps].calls_share

    return share


READ = Task(
    key="panel",
    question=(
        f"Go back to the panel “{PANEL}” and press Reset, with the route that came with it. Set "
        "{places} places, and let a call count by the food at risk. Which share of the calls does "
        "this case cover?"
    ),
    draw=_draw_panel,
    kinds={"curve": "ratio", **KINDS},
    solve=_panel,
    kind="ratio",
    slips=(
        Slip(
            "food for calls",
            lambda values, show: values.curve,
            "That is the height of the curve, which now counts food. The share of the calls stands "
            "among the readings.",
        ),
        Slip(
            "calls alike",
            lambda values, show: carry.curve(route())[int(values.places)].calls_share,
            "That is what comes out while every call counts alike. Let it count by the food.",
        ),
        Slip(
            "one place less",
            _neighbour(-1),
            "That belongs to one place less.",
        ),
        Slip(
            "one place more",
            _neighbour(1),
            "That belongs to one place more.",
        ),
    ),
    hints=(
        "Set “A call counts” first, then the places; read below the picture.",
        "The curve says {curve}, which is food. The share of the calls stands below it.",
    ),
    steps=(
        "With {places} places the best case for the food covers {curve} of the food.",
        "Of the calls it covers {answer}.",
    ),
    tolerance=Tolerance(0.5, 0.5, because="the panel says whole percent"),
)

ALL = (SHARE, VALVES, PLACE, READ)
