"""Cases of lesson 52: a box with a fault that is known to us, read with instruments that are off.

Each is solved from its fault on a box that differs from what the diagnosis assumes, and read with
errors drawn from its seed. What the page asks for next, the box answers.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from lowside import diagnosis, faults
from lowside.diagnosis import evidence, looks, trials, words

from . import l52_boxes

GAUGES = ("suction_pressure", "head_pressure")
CLAMPS = ("suction_temperature", "liquid_temperature")
FIRST = (*GAUGES, *CLAMPS)


@dataclass(frozen=True)
class Case:
    """A staged box.

    Attributes
    ----------
    title : str
        What the caller says.
    box : str
        One of ``l52_boxes.names()``.
    faults : tuple of (str, float)
        What is wrong, and how badly. [SI of each fault's kind]
    seed : int
        Of the box's own deviations and of the instruments' errors.
    read : tuple of str
        Measurements already taken, keys of ``evidence.KEYS``.
    """

    title: str
    box: str
    faults: tuple
    seed: int
    read: tuple = FIRST


CALL = Case("the call", "produce-room", (("moisture", 0.7),), 1)
STRAINER = Case("soft meat", "butcher-walk-in", (("strainer", 1.0),), 2)
EXAMPLES = (
    CALL,
    Case("short cycling, warm milk", "dairy-reach-in", (("undercharge", 0.3),), 3),
    Case("hot and loud", "drinks-merchandiser", (("condenser_fan", 0.6),), 2),
    STRAINER,
    Case("runs all day", "back-bar", (("valve_leak", 0.3),), 4),
    Case(
        "nothing fits",
        "butcher-walk-in",
        (("strainer", 1.0), ("condenser_dirty", 0.5)),
        5,
        (*FIRST, "strainer_drop", "condenser_air_rise", "discharge_temperature"),
    ),
)


@cache
def staged(case):
    """Solve a case.

    Parameters
    ----------
    case : Case

    Returns
    -------
    shown : dict of str to float
        What the instruments show, errors and all, by ``evidence.KEYS``; without what takes a trial.
        [SI of each kind]
    point : system.BoxResult
        The truth.

    Raises
    ------
    NoOperatingPoint
        If the box does not run so.
    """
    rng = np.random.default_rng(case.seed)
    situation = faults.sound(l52_boxes.find(case.box))
    off = {name: float(rng.uniform(-half, half)) for name, half in trials.UNTOLD.items()}
    # The air was read, so it is what it is.
    off["box_temperature"] = off["ambient_temperature"] = 0.0
    point = faults.apply(diagnosis.disturbed(situation, off), dict(case.faults)).solve()
    point.refuse()
    fluid = situation.box.refrigerant
    true = faults.read(fluid, point)
    half = faults.errors(fluid, true)
    draws = rng.uniform(-1.0, 1.0, len(evidence.KEYS))
    shown = {
        key: float(true[key] + draw * half[key])
        for key, draw in zip(evidence.KEYS, draws, strict=True)
        if key in half
    }
    return shown, point


def taken(case):
    """Give what a case has been read to begin with.

    Parameters
    ----------
    case : Case

    Returns
    -------
    dict of str to float
        [SI of each kind]
    """
    shown, _ = staged(case)
    return {key: shown[key] for key in case.read}


def air(case):
    """Give the air that was read.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of float
        In the box and at the condenser. [K]
    """
    cabinet = l52_boxes.find(case.box)
    return cabinet.air


def answer(case, key):
    """Answer a look honestly.

    Parameters
    ----------
    case : Case
    key : str
        One of ``looks.KEYS``.

    Returns
    -------
    bool
    """
    if key == looks.BUBBLES.key:
        return bool(staged(case)[1].inlet_quality > 0.0)
    wrong = {name for name, _ in case.faults}
    return bool(wrong & next(look for look in looks.ALL if look.key == key).shows)


@dataclass(frozen=True)
class Stage:
    """One stage of a diagnosis.

    Attributes
    ----------
    did : str
        What was added: a label.
    minutes : float
        That this took.
    step : diagnosis.Step or None
        If the page asked for it.
    ranking : diagnosis.Ranking
        Afterwards.
    """

    did: str
    minutes: float
    step: object
    ranking: diagnosis.Ranking


@cache
def followed(case, steps=3):
    """Follow the page: gauges, clamps, and then each time the step that it puts first.

    Parameters
    ----------
    case : Case
    steps : int
        After gauges and clamps.

    Returns
    -------
    tuple of Stage
        From nothing read to where all is settled, or all steps are used up.
    """
    suspects = l52_boxes.known(case.box, *air(case)).suspects
    shown, _ = staged(case)
    read, seen = {}, {}
    ranking = diagnosis.rank(suspects, read)
    stages = [Stage("nothing read", 0.0, None, ranking)]
    for did, keys in (("two gauges", GAUGES), ("two clamps", CLAMPS)):
        read |= {key: shown[key] for key in keys}
        ranking = diagnosis.rank(suspects, read)
        minutes = sum(evidence.get(key).minutes for key in keys)
        stages.append(Stage(did, minutes, None, ranking))
    for _ in range(steps):
        if words.settled(ranking):
            break
        step = next(s for s in diagnosis.next_steps(ranking) if s.is_look or s.key in shown)
        if step.is_look:
            seen[step.key] = answer(case, step.key)
        else:
            read[step.key] = shown[step.key]
        ranking = diagnosis.rank(suspects, read, seen)
        stages.append(Stage(step.label, step.minutes, step, ranking))
    return tuple(stages)
