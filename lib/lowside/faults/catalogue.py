"""Every fault by name: what its severity means, which boxes it fits, what cures it.

Minutes are assumptions of ours for comparing actions with each other, not labour rates.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from lowside.errors import UnknownName

from . import changes
from .situation import Family

EVERY = frozenset(Family)
VALVES = frozenset({Family.RECEIVER, Family.VALVE})
REMOTE = frozenset({Family.RECEIVER})


@dataclass(frozen=True)
class Fault:
    """One fault: a change of the box with a severity.

    Attributes
    ----------
    key : str
        Name in programs.
    name : str
        In trade words.
    severity : str
        What the severity measures, as the end of the sentence "how bad: …".
    kind : str
        Kind of quantity of the severity, a name in ``readout.kinds.KINDS``.
    high, usual : float
        Largest severity, and one that a service call finds. [SI of `kind`]
    cure : str
        What puts it right, as an order.
    opens : bool
        Whether the cure recovers, adds or lets out refrigerant.
    minutes : float
        That the cure takes on site. Assumed.
    change : callable
        Situation and severity in, situation out.
    fits : frozenset of Family
    is_fault : bool
        False for what only looks like one: a hot day, warm product.
    stepless : bool
        False where it is there or not, severity 0 or 1.
    """

    key: str
    name: str
    severity: str
    kind: str
    high: float
    usual: float
    cure: str
    opens: bool
    minutes: float
    change: Callable
    fits: frozenset = EVERY
    is_fault: bool = True
    stepless: bool = True


ALL = (
    Fault(
        key="undercharge",
        name="too little refrigerant",
        severity="share of the charge that is missing",
        kind="ratio",
        high=0.7,
        usual=0.3,
        cure="Find the leak and repair it, evacuate, weigh in the nameplate charge.",
        opens=True,
        minutes=150,
        change=changes.less_charge,
    ),
    Fault(
        key="overcharge",
        name="too much refrigerant",
        severity="share of the charge that is in it on top",
        kind="ratio",
        high=0.6,
        usual=0.25,
        cure="Recover all of it and weigh in the nameplate charge.",
        opens=True,
        minutes=60,
        change=changes.more_charge,
    ),
    Fault(
        key="port_small",
        name="port too small",
        severity="share by which the port's bore is smaller than it was built with",
        kind="ratio",
        high=0.6,
        usual=0.4,
        cure="Recover, open the valve, fit the port that the load needs; evacuate and weigh in.",
        opens=True,
        minutes=120,
        change=changes.smaller_port,
        fits=VALVES,
    ),
    Fault(
        key="port_big",
        name="port too big",
        severity="share by which the port's bore is larger than it was built with",
        kind="ratio",
        high=1.5,
        usual=0.6,
        cure="Recover, open the valve, fit the port that the load needs; evacuate and weigh in.",
        opens=True,
        minutes=120,
        change=changes.larger_port,
        fits=VALVES,
    ),
    Fault(
        key="strainer",
        name="plugged inlet strainer",
        severity="pressure that the normal flow would lose in it, as a share of head over suction",
        kind="ratio",
        high=1.5,
        usual=1.05,
        cure="Recover, take the strainer out and clean or replace it; evacuate and weigh in.",
        opens=True,
        minutes=90,
        change=changes.plugged_strainer,
    ),
    Fault(
        key="drier",
        name="plugged filter-drier",
        severity="pressure that the normal flow would lose in it, as a share of head over suction",
        kind="ratio",
        high=1.5,
        usual=1.05,
        cure="Recover, replace the drier with one of the same size; evacuate and weigh in.",
        opens=True,
        minutes=100,
        change=changes.plugged_drier,
    ),
    Fault(
        key="foreign_gas",
        name="air or nitrogen inside",
        severity="its partial pressure in the condenser",
        kind="pressure_difference",
        high=4e5,
        usual=1.5e5,
        cure="Recover all of it, evacuate deep, weigh in clean refrigerant.",
        opens=True,
        minutes=120,
        change=changes.foreign_gas,
    ),
    Fault(
        key="condenser_dirty",
        name="dirty condenser",
        severity="share of its face that is blocked",
        kind="ratio",
        high=0.8,
        usual=0.5,
        cure="Power off and locked out, clean the fins and straighten them.",
        opens=False,
        minutes=20,
        change=changes.blocked_condenser,
    ),
    Fault(
        key="condenser_fan",
        name="failed condenser fan",
        severity="share of its air that is missing",
        kind="ratio",
        high=0.9,
        usual=0.7,
        cure="Power off and locked out, replace the fan motor or its blade.",
        opens=False,
        minutes=40,
        change=changes.still_condenser,
    ),
    Fault(
        key="evaporator_air",
        name="iced or starved evaporator",
        severity="share of its face that passes no air",
        kind="ratio",
        high=0.85,
        usual=0.5,
        cure="Power off and locked out, defrost it fully, find why: fan, heater, timer, drain, "
        "door, boxes in front.",
        opens=False,
        minutes=45,
        change=changes.blocked_evaporator,
    ),
    Fault(
        key="bulb_lost",
        name="bulb has lost charge",
        severity="share of its pressure at box temperature that it no longer reaches",
        kind="ratio",
        high=0.6,
        usual=0.3,
        cure="Replace the power element, or the valve where it cannot be changed.",
        opens=True,
        minutes=90,
        change=changes.leaking_bulb,
        fits=VALVES,
    ),
    Fault(
        key="bulb_loose",
        name="bulb loose or bare",
        severity="how far its temperature lies between suction line and box air",
        kind="ratio",
        high=0.6,
        usual=0.3,
        cure="Clean the line, strap the bulb flat to it, insulate it.",
        opens=False,
        minutes=15,
        change=changes.bare_bulb,
        fits=VALVES,
    ),
    Fault(
        key="spring_tight",
        name="superheat set too high",
        severity="by how much the static superheat is higher than it was set",
        kind="temperature_difference",
        high=10.0,
        usual=5.0,
        cure="Turn the stem out in small steps, wait for the box between them.",
        opens=False,
        minutes=40,
        change=changes.tighter_spring,
        fits=VALVES,
    ),
    Fault(
        key="spring_loose",
        name="superheat set too low",
        severity="share of the static superheat that was turned out",
        kind="ratio",
        high=0.95,
        usual=0.7,
        cure="Turn the stem in in small steps, wait for the box between them.",
        opens=False,
        minutes=40,
        change=changes.looser_spring,
        fits=VALVES,
    ),
    Fault(
        key="equaliser",
        name="internal equaliser where external is needed",
        severity="fitted or not",
        kind="ratio",
        high=1.0,
        usual=1.0,
        cure="Recover, fit a valve with external equaliser, pipe it behind the bulb.",
        opens=True,
        minutes=150,
        change=changes.internal_equaliser,
        fits=VALVES,
        stepless=False,
    ),
    Fault(
        key="valve_leak",
        name="leaking compressor valve",
        severity="share of the compressed gas that slips back",
        kind="ratio",
        high=0.5,
        usual=0.25,
        cure="Prove it, then replace the valve plate or the compressor.",
        opens=True,
        minutes=240,
        change=changes.leaking_compressor,
    ),
    Fault(
        key="moisture",
        name="moisture freezing",
        severity="share of its area that ice closes",
        kind="ratio",
        high=0.9,
        usual=0.7,
        cure="Warm the valve to prove it; then recover, new drier, deep vacuum, weigh in.",
        opens=True,
        minutes=150,
        change=changes.frozen_port,
    ),
    Fault(
        key="lift",
        name="flash gas from lift",
        severity="by how much the valve sits higher, the line longer, than designed",
        kind="distance",
        high=20.0,
        usual=10.0,
        cure="More subcooling: exchanger or subcooler; larger liquid line; not more charge.",
        opens=True,
        minutes=240,
        change=changes.lifted_valve,
        fits=REMOTE,
    ),
    Fault(
        key="warm_product",
        name="warm product in the box",
        severity="by how much the box air is warmer",
        kind="temperature_difference",
        high=20.0,
        usual=8.0,
        cure="Wait and come back: nothing is broken.",
        opens=False,
        minutes=10,
        change=changes.warmer_box,
        is_fault=False,
    ),
    Fault(
        key="hot_day",
        name="hot day",
        severity="by how much the air at the condenser is warmer",
        kind="temperature_difference",
        high=15.0,
        usual=8.0,
        cure="Nothing is broken: air for the condenser, shade, time.",
        opens=False,
        minutes=10,
        change=changes.warmer_day,
        is_fault=False,
    ),
)

_BY_KEY = {fault.key: fault for fault in ALL}
KEYS = tuple(_BY_KEY)


def get(key):
    """One of the faults.

    Parameters
    ----------
    key : str
        One of `KEYS`.

    Returns
    -------
    Fault

    Raises
    ------
    UnknownName
        If there is no such fault.
    """
    try:
        return _BY_KEY[key]
    except KeyError:
        raise UnknownName("fault", key, KEYS) from None


def fitting(situation):
    """Faults that a box can have.

    Parameters
    ----------
    situation : Situation

    Returns
    -------
    tuple of Fault
    """
    here = [fault for fault in ALL if situation.family in fault.fits]
    box = situation.box
    if box.has_valve and not box.metering.external_equaliser:
        here.remove(get("equaliser"))
    return tuple(here)
