"""What lesson 60 computes: the case of the call, better ones, and what its texts speak of."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from lowside import carry, kit
from lowside.kit.reasons import together

from . import hall

PLACES = 12
PROPANE = "Drinks merchandiser"
_ROW = (
    "small brass flare body, external equaliser",
    "R404A liquid charge for coolers",
)
_QUARTER, _HALF = 0.25, 0.5


def route():
    """Give the route of the call.

    Returns
    -------
    tuple of carry.Stop
    """
    return carry.demo()


@cache
def inherited():
    """Give what lies in the case at the call: every conventional cartridge, one body, one element.

    Returns
    -------
    carry.Case
    """
    row = [each.key for each in kit.the_kit().cartridges if each.construction == kit.CONVENTIONAL]
    wanted = {*_ROW, *row}
    return carry.Case(route(), tuple(each for each in carry.all_parts() if each.key in wanted))


def best(places=PLACES, food=0.0):
    """Give the best case of so many places, whatever it costs.

    Parameters
    ----------
    places : int
    food : float
        Share of a call's weight that goes by the food at risk. [-]

    Returns
    -------
    carry.Case
    """
    cases = carry.curve(route(), food=food)
    return cases[min(places, len(cases) - 1)]


@cache
def first_swap():
    """Find the first place that is not just one part more.

    Returns
    -------
    tuple of carry.Case
        The best case before it and with it; empty if every case holds the one before.
    """
    return next(
        (
            (before, after)
            for before, after in pairwise(carry.curve(route()))
            if not set(before.parts) <= set(after.parts)
        ),
        (),
    )


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    stops, held, filled = route(), inherited(), best()
    food, after = best(food=1.0), best(PLACES + 1)
    before, then = first_swap()
    new = [each for each in then.parts if each not in before.parts]
    out = [each for each in before.parts if each not in then.parts]
    full = carry.curve(stops)[-1]
    slow = carry.one_by_one(stops)[-1]
    nothing = [stop for stop in stops if not all(stop.needs)]
    propane = carry.named(stops, PROPANE)
    first, second = ({p.key for _, p, _ in group} for group in propane.needs)
    by_kind = {kind: [p for p in filled.parts if p.kind == kind] for kind in carry.KINDS}
    largest = {body.key: body.largest_port for body in kit.the_kit().bodies}
    ports = {each.key: each.port for each in kit.the_kit().cartridges}
    tops = sum(
        ports[cartridge.key] <= largest[body.key]
        for body in by_kind["body"]
        for cartridge in by_kind["cartridge"]
    )
    ratio = "ratio"
    return {
        "hall": hall.hall().name,
        "places": str(PLACES),
        "boxes": str(len(stops)),
        "calls": f"{sum(stop.calls for stop in stops):g}",
        "food": (sum(stop.calls * stop.food for stop in stops), "goods"),
        "row": str(sum(p.kind == "cartridge" for p in held.parts)),
        "row_share": (held.calls_share, ratio),
        "row_calls": f"{held.calls:g}",
        "best_share": (filled.calls_share, ratio),
        "best_calls": f"{filled.calls:g}",
        "best_price": f"{filled.price:g}",
        "row_price": f"{held.price:g}",
        "bodies": str(len(by_kind["body"])),
        "cartridges": str(len(by_kind["cartridge"])),
        "elements": str(len(by_kind["element"])),
        "ports": together(p.key for p in by_kind["cartridge"]),
        "valves": str(tops * len(by_kind["element"])),
        "next": str(PLACES + 1),
        "next_part": together(p.key for p in after.parts if p not in filled.parts),
        "next_gain": (after.calls_share - filled.calls_share, ratio, 1),
        "swap_before": str(len(before.parts)),
        "swap_after": str(len(then.parts)),
        "swap_in": together(p.key for p in new),
        "swap_out": together(p.key for p in out),
        "swap_gain": (then.calls_share - before.calls_share, ratio, 1),
        "food_calls": (food.calls_share, ratio),
        "food_food": (food.food_share, ratio),
        "calls_food": (filled.food_share, ratio),
        "full": str(len(full.parts)),
        "full_share": (full.calls_share, ratio),
        "full_ports": str(sum(p.kind == "cartridge" for p in full.parts)),
        "slow": str(len(slow.parts)),
        "nothing": together(stop.box for stop in nothing),
        "nothing_load": (nothing[0].load, "capacity"),
        "propane": propane.box,
        "propane_first": together(sorted(first)),
        "propane_second": together(sorted(second)),
        "propane_both": together(sorted(first & second)),
    }


# ---------------------------------------------------------------- what comes true


def row_covers():
    """Say how much the inherited case covers, as a key of the prediction."""
    share = inherited().calls_share
    if share < _QUARTER:
        return "little"
    return "some" if share <= _HALF else "most"


def most_places():
    """Say which kind of part takes most places in the best case."""
    kinds = [part.kind for part in best().parts]
    return max(carry.KINDS, key=kinds.count)


def next_place():
    """Say whether one more place always just adds a part."""
    return "swaps" if first_swap() else "adds"
