"""What lesson 52 computes: the call, and what its texts and predictions speak of."""

from __future__ import annotations

from functools import cache

from lowside import diagnosis, faults
from lowside.diagnosis import evidence, looks, words

from . import hall, l52_boxes, l52_cases

INSIDE = l52_cases.CALL.faults[0][0]


def stages():
    """Follow the call from nothing read to the end.

    Returns
    -------
    tuple of l52_cases.Stage
    """
    return l52_cases.followed(l52_cases.CALL)


def after(stage):
    """Give the probabilities after a stage of the call.

    Parameters
    ----------
    stage : int
        0 is nothing read, 1 two gauges, 2 two clamps, then the steps.

    Returns
    -------
    dict of str to float
        The likeliest first.
    """
    return stages()[stage].ranking.probability


def rate(key):
    """Give what a step teaches a minute after gauges and clamps.

    Parameters
    ----------
    key : str
        Of a measurement or a look.

    Returns
    -------
    float
        Bits a minute.
    """
    steps = diagnosis.next_steps(stages()[2].ranking)
    return next(step.rate for step in steps if step.key == key)


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    case = l52_cases.CALL
    box = hall.box(case.box)
    shown, point = l52_cases.staged(case)
    fluid = l52_boxes.find(case.box).box.refrigerant
    well = faults.read(fluid, stages()[0].ranking.suspects.sound)
    air, ambient = l52_cases.air(case)
    gauges, clamps, last = after(1), after(2), after(-1)
    first, second = list(clamps)[:2]
    drier, strainer = stages()[3], stages()[4]
    standing = next(look for look in looks.ALL if look.key == "standing")
    dew = float(fluid.dew_temperature(shown["suction_pressure"]))
    bubble = float(fluid.bubble_temperature(shown["head_pressure"]))
    return {
        "where": box.stall,
        "what": box.what,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "box_air": (air, "temperature"),
        "ambient": (ambient, "temperature"),
        "suction": (shown["suction_pressure"], "gauge_pressure"),
        "suction_line": (shown["suction_temperature"], "temperature"),
        "head": (shown["head_pressure"], "gauge_pressure"),
        "liquid_line": (shown["liquid_temperature"], "temperature"),
        "superheat": (shown["suction_temperature"] - dew, "temperature_difference"),
        "subcooling": (bubble - shown["liquid_temperature"], "temperature_difference"),
        "well_suction": (float(well["suction_pressure"]), "gauge_pressure"),
        "well_superheat": (float(well["superheat"]), "temperature_difference"),
        "lost": (1.0 - float(point.capacity) / float(well["capacity"]), "ratio"),
        "suspects": (len(gauges), "number", 0),
        "first": words.name(first),
        "second": words.name(second),
        "first_chance": (clamps[first], "ratio"),
        "second_chance": (clamps[second], "ratio"),
        "gauges_chance": (gauges[INSIDE], "ratio"),
        "clamps_chance": (clamps[INSIDE], "ratio"),
        "inside": words.name(INSIDE),
        "inside_chance": (last[INSIDE], "ratio"),
        "before_rag": (after(-2)[INSIDE], "ratio"),
        "led_before_rag": words.name(next(iter(after(-2)))),
        "drier_drop": (drier.ranking.taken["drier_drop"], "temperature_difference"),
        "strainer_drop": (strainer.ranking.taken["strainer_drop"], "temperature_difference"),
        "minutes": (sum(stage.minutes for stage in stages()), "number", 0),
        "drier_minutes": (evidence.get("drier_drop").minutes, "number", 0),
        "weigh_minutes": (evidence.get("charge").minutes, "number", 0),
        "drier_cure": (faults.get("drier").minutes, "number", 0),
        "standing_hit": (standing.hit, "ratio"),
        "standing_false": (standing.false, "ratio"),
    }
