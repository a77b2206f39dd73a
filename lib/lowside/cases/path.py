"""The shortest sensible path through a case, and what a call is worth against it.

Sensible: prove a fault before you mend it, open the box once, leave it running. The path is done
on a real `Call`, so what it takes is what it took.
"""

from __future__ import annotations

from dataclasses import dataclass

from lowside import faults
from lowside.valve.stem import turned

from . import acts
from .call import Call

PROOF = {
    "undercharge": ("look_leak",),
    "overcharge": (),
    "port_small": ("look_valve",),
    "port_big": ("look_valve",),
    "strainer": ("strainer_drop",),
    "drier": ("drier_drop",),
    "foreign_gas": ("standing",),
    "condenser_dirty": ("look_condenser",),
    "condenser_fan": ("look_condenser",),
    "evaporator_air": ("look_evaporator",),
    "bulb_lost": ("look_valve", "suction_pressure", "suction_temperature"),
    "bulb_loose": ("look_valve",),
    "spring_tight": ("look_valve",),
    "spring_loose": ("look_valve",),
    "equaliser": ("look_valve",),
    "valve_leak": ("pump_test",),
    "moisture": ("warm_valve",),
}
NOTHING = ("look_condenser", "look_evaporator", "suction_temperature", "liquid_temperature")
_GAUGES = ("head_pressure", "liquid_temperature")  # too much refrigerant shows in subcooling
MENDS = {act.mends: act.key for act in acts.ALL if act.mends} | {
    "undercharge": "mend_leak",
    "moisture": "new_drier",
    "port_small": "new_port",
    "port_big": "new_port",
}
IN_GAS = frozenset({"overcharge", "foreign_gas", "undercharge", "moisture"})
_TRIES = 6


@dataclass(frozen=True)
class Debrief:
    """What a call came to.

    Attributes
    ----------
    call, best : Call
        As it went, and the shortest sensible one.
    """

    call: Call
    best: Call

    @property
    def needless(self):
        """Acts that used parts or opened the box although nothing was wrong there (tuple)."""
        needed = {entry.act.key for entry in self.best.entries}
        return tuple(
            entry.act
            for entry in self.call.entries
            if (entry.act.part or entry.act.opens) and entry.act.key not in needed
        )


def debrief(call):
    """Hold a call against the shortest sensible one.

    Parameters
    ----------
    call : Call

    Returns
    -------
    Debrief
    """
    return Debrief(call, shortest(call.case, (call.place,)))


def shortest(case, places):
    """Go the shortest sensible path.

    Parameters
    ----------
    case : case.Case
    places : sequence of Place

    Returns
    -------
    Call
        Over; the food is carried away first where it would be lost otherwise.
    """
    plain = _path(case, places, ())
    return _path(case, places, ("move_food",)) if plain.larder.lost else plain


def _path(case, places, first):
    call = Call(case, places)
    for step in first:
        call.do(step)
    wrong = [key for key, _ in case.faults]
    proofs = [step for key in wrong for step in PROOF[key]] if wrong else list(NOTHING)
    if "overcharge" in wrong:
        proofs += _GAUGES
    for step in dict.fromkeys(proofs):
        call.do(step)
    mends = list(dict.fromkeys(MENDS[key] for key in wrong if key in MENDS))
    plain = [key for key in mends if not acts.get(key).opens]
    opening = [key for key in mends if acts.get(key).opens]
    if any(acts.get(key).hand for key in plain) or opening or IN_GAS & set(wrong):
        call.do("power_off")
    for key in plain:
        call.do(key)
    if opening or IN_GAS & set(wrong):
        _through_the_circuit(call, opening)
    if not call.rig.power:
        call.do("power_on")
    _set_stem(call)
    call.do("leave")
    return call


def _through_the_circuit(call, opening):
    rig = call.rig
    call.do("recover")
    if any(acts.get(key).torch for key in opening):
        call.do("purge")
    for key in opening:
        port = float(rig.sound.box.metering.port.diameter) if key == "new_port" else None
        call.do(key, port)
    call.do("evacuate")
    while rig.wet:
        call.do("evacuate")
    call.do("watch_vacuum")
    call.do("charge", float(rig.nameplate))


def _set_stem(call):
    """Turn towards the planned setting, as a slope from the last turn says."""
    rig = call.rig
    for _ in range(_TRIES):
        if not {"spring_tight", "spring_loose"} & set(rig.left()):
            return
        wanted = float(rig.sound.box.metering.spring.static_superheat)
        before = rig.static
        slope = _slope(rig)
        call.do("turn_stem", max(-2.0, min(2.0, (before - wanted) / slope)))


def _slope(rig):
    """Give the static superheat of a small turn [K a turn]."""
    nudge = 0.05
    there = float(turned(rig.metering, rig.fluid, nudge).spring.static_superheat)
    return (there - rig.static) / nudge


def name(key):
    """Say what is wrong.

    Parameters
    ----------
    key : str
        Of a fault, or "off".

    Returns
    -------
    str
    """
    return "left switched off or empty" if key == "off" else faults.get(key).name
