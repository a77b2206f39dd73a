"""What lesson 54 computes: one call gone two ways, and what its texts speak of."""

from __future__ import annotations

from functools import cache

from lowside import cases, faults

from . import hall
from .l54_places import places

BOX, FAULT, SEED = "soup-reach-in", ("strainer", 1.0), "the call of lesson 54"
FIRST = ("suction_temperature", "liquid_temperature", "drier_drop", "strainer_drop")


@cache
def sealed():
    """Give the call of the lesson: weather and food as dealt, the fault set.

    Returns
    -------
    cases.Case
    """
    dealt = cases.deal(SEED, "first", places(), BOX)
    said = (
        "It is warm in there, and it never stops running. It got worse bit by bit since the pipe "
        "was mended."
    )
    return cases.Case(**(vars(dealt) | {"faults": (FAULT,), "said": said, "decoys": ()}))


@cache
def sensible():
    """Go to the call and look before mending.

    Returns
    -------
    cases.Call
        Over.
    """
    call = cases.Call(sealed(), places())
    for key in FIRST:
        call.do(key)
    _mend(call, "pull_strainer")
    call.do("leave")
    return call


@cache
def guessed():
    """Go to the call, and change the drier before anything is measured.

    Returns
    -------
    cases.Call
        Over.
    """
    call = cases.Call(sealed(), places())
    _mend(call, "new_drier")
    for key in FIRST:
        call.do(key)
    _mend(call, "pull_strainer")
    call.do("leave")
    return call


def _mend(call, key):
    call.do("power_off")
    call.do("recover")
    if cases.act(key).torch:
        call.do("purge")
    call.do(key)
    while call.rig.wet:
        call.do("evacuate")
    call.do("watch_vacuum")
    call.do("charge", call.rig.nameplate)
    call.do("power_on")


def costlier():
    """Say what a needless opening cost.

    Returns
    -------
    float
        [s]
    """
    return guessed().seconds - sensible().seconds


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    good, bad, box = sensible(), guessed(), hall.box(BOX)
    situation = faults.apply(faults.sound(good.place.build()), dict((FAULT,)))
    point = situation.solve()
    well = faults.sound(good.place.build()).solve()
    read = {label: value for entry in good.entries for label, value, _ in entry.readings}
    return {
        "where": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "nameplate": (good.rig.nameplate, "charge"),
        "said": good.case.said,
        "set_point": (good.larder.set_point, "temperature"),
        "ambient": (good.case.ambient, "temperature"),
        "food": (good.case.food, "temperature"),
        "highest": (good.larder.highest, "temperature"),
        "warm": (good.case.warm, "minutes"),
        "limit": (cases.LIMIT, "minutes"),
        "strainer_drop": (read["colder behind the strainer"], "temperature_difference"),
        "drier_drop": (read["colder behind the drier"], "temperature_difference"),
        "lost": (1.0 - float(point.capacity) / float(well.capacity), "ratio"),
        "good_minutes": (good.seconds, "minutes"),
        "bad_minutes": (bad.seconds, "minutes"),
        "costlier": (costlier(), "minutes"),
        "good_warm": (good.larder.warm, "minutes"),
        "bad_warm": (bad.larder.warm, "minutes"),
        "good_out": (good.released, "charge"),
        "bad_out": (bad.released, "charge"),
        "head_hose": (_hose(good, float(well.head_pressure)), "charge"),
    }


def _hose(call, pressure):
    density = float(call.rig.fluid.saturation(pressure).vapour_density)
    return cases.HOSE * density


def fate(call):
    """Say how the food of a call ended.

    Parameters
    ----------
    call : cases.Call

    Returns
    -------
    str
        "lost" or "saved".
    """
    return "lost" if call.larder.lost else "saved"
