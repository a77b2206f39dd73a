"""A service call as a machine with states: one act after another, each answered by the solved box.

A call knows nothing of screens. Its log of acts and the seed of its case say everything: done
again they lead to the same state.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lowside import faults
from lowside.errors import LowsideError, OutOfRange

from . import acts, case, larder, safety
from .rig import Rig

_CHUNK = 900.0  # [s] for which the cooling is held


@dataclass(frozen=True)
class Entry:
    """What one act did.

    Attributes
    ----------
    act : acts.Act
    value : float or None
        Turns out of the stem, port [m] or charge [kg], where it asks for one.
    words : str
        Answer without numbers.
    readings : tuple of (str, float, str)
        Label, SI value, kind.
    grams : float
        Released. [kg]
    clock, food, air : float
        Afterwards. [s], [K], [K]
    """

    act: acts.Act
    value: float | None
    words: str
    readings: tuple
    grams: float
    clock: float
    food: float
    air: float


class Call:
    """A service call.

    Parameters
    ----------
    sealed : case.Case
    places : sequence of case.Place
        Boxes there are.
    """

    def __init__(self, sealed, places):
        self.case = sealed
        self.place = case.find(sealed.place, places)
        cabinet = self.place.build()
        self.rig = Rig(sealed, cabinet)
        design = faults.sound(cabinet).solve()
        self.larder = larder.Larder(
            float(design.capacity), cabinet.box_temperature, sealed.air, sealed.food, sealed.warm
        )
        self.entries, self.seconds, self.stopped, self.over = [], 0.0, "", False

    @property
    def parts(self):
        """Parts used, in order (tuple of str)."""
        return tuple(entry.act.part for entry in self.entries if entry.act.part)

    @property
    def released(self):
        """Refrigerant let out [kg]."""
        return sum(entry.grams for entry in self.entries)

    @property
    def left(self):
        """What is still wrong, by keys of faults; "off" where it does not run (tuple of str)."""
        still = self.rig.left()
        return still if self.rig.power and not self.rig.recovered else (*still, "off")

    @property
    def won(self):
        """Whether the call ended with the box in order and the food saved (bool)."""
        return self.over and not self.stopped and not self.left and not self.larder.lost

    def offered(self):
        """Name what there is to do at such a box.

        Returns
        -------
        tuple of acts.Act
        """
        return acts.fitting(self.rig.family)

    def refusal(self, act):
        """Say why an act makes no sense now.

        Parameters
        ----------
        act : acts.Act

        Returns
        -------
        str
            Empty where it does.
        """
        rig = self.rig
        if self.over:
            return "The call is over."
        if act not in self.offered():
            return f"There is nothing at this box to “{act.label}”."
        if act.runs and not rig.power:
            return "The box is switched off: that wants it running."
        sealed_off = act.key in ("purge", "evacuate") and not rig.recovered
        reasons = {
            "power_off": not rig.power and "It is switched off already.",
            "power_on": rig.power and "It is running already.",
            "recover": (rig.recovered and "It is empty already.")
            or (rig.power and "Switch it off first."),
            "purge": sealed_off and "There is refrigerant in it: recover first.",
            "evacuate": sealed_off and "There is refrigerant in it: recover first.",
            "watch_vacuum": not rig.vacuum and "There is no vacuum to watch.",
            "move_food": self.larder.away and "The food is gone already.",
        }
        return reasons.get(act.key) or ""

    def do(self, key, value=None):
        """Do something.

        Parameters
        ----------
        key : str
            Of one of `offered`.
        value : float, optional
            Turns out of the stem, port [m] or charge [kg], where the act asks for one.

        Returns
        -------
        Entry

        Raises
        ------
        UnknownName
            If there is no such act.
        OutOfRange
            If the number cannot be.
        LowsideError
            If it makes no sense now; nothing has happened then.
        """
        act = acts.get(key)
        refusal = self.refusal(act)
        if refusal:
            raise LowsideError(refusal)
        value = _checked(act, value)
        words, readings, grams = safety.danger(self.rig, act, value), (), 0.0
        if words:
            self.stopped, self.over = words, True
        else:
            words, readings, grams = self._act(act, value)
        entry = Entry(
            act, value, words, readings, grams, self.seconds, self.larder.food, self.larder.air
        )
        self.entries.append(entry)
        return entry

    def _act(self, act, value):
        if act.kind == acts.MEASURE:
            answer = self._measure(act)
        else:
            answer = getattr(self, f"_{act.key}", self._mend)(act, value)
        grams = answer[2]
        if act.key not in ("standing", "turn_stem"):
            self._pass(60.0 * act.minutes)
        if act.key == "move_food":
            self.larder.away = True
        return answer[0], answer[1], grams

    def _pass(self, seconds, running=True):
        rig, ambient = self.rig, self.case.ambient
        self.seconds += seconds
        while seconds > 0.0:
            step, cooling = min(_CHUNK, seconds), 0.0
            if running and rig.power and not rig.recovered:
                point = rig.solve(self.larder.air, ambient)
                cooling = float(point.capacity) if point.accepted else 0.0
            self.larder.run(step, cooling)
            seconds -= step

    def _measure(self, act):
        rig = self.rig
        point = rig.solve(self.larder.air, self.case.ambient)
        grams = rig.hose(float(getattr(point, act.hose))) if act.hose and point.accepted else 0.0
        if not point.accepted:
            return f"It does not stay on: {point.status_name}.", (), grams
        true = faults.read(rig.fluid, point)
        half = float(faults.errors(rig.fluid, true)[act.key])
        off = case.Draw(f"{self.case.seed}/{act.key}").between(-1.0, 1.0)
        reading = faults.reading(act.key)
        return "", ((reading.label, float(true[act.key]) + off * half, reading.kind),), grams

    def _look_condenser(self, act, value):
        seen = [
            words
            for key, words in (
                ("condenser_dirty", "Its face is felted with dust."),
                ("condenser_fan", "The fan hardly turns."),
            )
            if key in self.rig.wrong
        ]
        return " ".join(seen) or "Fins clean, fan turns well.", (), 0.0

    def _look_evaporator(self, act, value):
        iced = "evaporator_air" in self.rig.wrong
        return ("Half of it is a block of ice." if iced else "Free, and the fan blows."), (), 0.0

    def _look_valve(self, act, value):
        rig = self.rig
        bulb = "The bulb hangs loose." if "bulb_loose" in rig.wrong else "The bulb sits well."
        line = "has" if rig.metering.external_equaliser else "has no"
        if "equaliser" in rig.wrong:
            line = "has no"
        built = rig.sound.box.metering
        tag = (
            ("port stamped on the cartridge", float(rig.metering.port.diameter), "port"),
            ("port on the plan of the box", float(built.port.diameter), "port"),
            ("static superheat, stem as it stands", rig.static, "temperature_difference"),
            (
                "static superheat on the plan",
                float(built.spring.static_superheat),
                "temperature_difference",
            ),
        )
        asked = " The coil has a distributor." if built.external_equaliser else ""
        return f"{bulb} The valve {line} equaliser line.{asked}", tag, 0.0

    def _look_leak(self, act, value):
        return ("Oil at a joint, and it bubbles." if self.rig.leaks else "No leak found."), (), 0.0

    def _warm_valve(self, act, value):
        jumps = bool(self.rig.ice)
        return ("The suction jumps up." if jumps else "Nothing changes."), (), 0.0

    def _standing(self, act, value):
        grams = self._hose_at_rest()
        self._pass(60.0 * act.minutes, running=False)
        above = bool(self.rig.gas)
        return ("Head above saturation." if above else "Head at saturation."), (), grams

    def _pump_test(self, act, value):
        leaking = "valve_leak" in self.rig.wrong
        creeps = "It never pumps low, and creeps up at once."
        return (creeps if leaking else "It pumps down and holds."), (), self._hose_at_rest()

    def _hose_at_rest(self):
        rig = self.rig
        return rig.hose(float(rig.fluid.dew_pressure(self.case.ambient)))

    def _turn_stem(self, act, value):
        self.rig.turn(-value)
        self._pass(60.0 * act.minutes)
        point = self.rig.solve(self.larder.air, self.case.ambient)
        if not point.accepted:
            return f"It does not stay on: {point.status_name}.", (), 0.0
        superheat = float(faults.read(self.rig.fluid, point)["superheat"])
        return "", (("superheat, settled", superheat, "temperature_difference"),), 0.0

    def _new_port(self, act, value):
        self.rig.open()
        self.rig.fit_port(value)
        return "Fitted.", (), 0.0

    def _mend(self, act, value):
        rig = self.rig
        if act.opens:
            rig.open()
        if act.mends == "leak":
            words = "Brazed tight." if rig.leaks else "There was no leak to mend."
            rig.leaks = False
            return words, (), 0.0
        if act.key == "new_drier":
            rig.new_drier = True
        found = rig.wrong.pop(act.mends, None) is not None if act.mends else None
        return (
            {True: "That needed doing.", False: "Done. It looked sound before."}.get(
                found, "Done."
            ),
            (),
            0.0,
        )

    def _power_off(self, act, value):
        self.rig.power = False
        return "Locked and dead.", (), 0.0

    def _power_on(self, act, value):
        self.rig.power = True
        return "It runs.", (), 0.0

    def _recover(self, act, value):
        weighed, lost = self.rig.empty()
        return "Empty.", (("charge, weighed", weighed, "charge"),), lost

    def _purge(self, act, value):
        self.rig.purged = True
        return "Nitrogen flows.", (), 0.0

    def _evacuate(self, act, value):
        self.rig.evacuate(60.0 * act.minutes)
        return "The pump runs.", (), 0.0

    def _watch_vacuum(self, act, value):
        if self.rig.leaks:
            return "It climbs and does not stop: there is a leak.", (), 0.0
        rests = (("vacuum at rest", self.rig.standing_vacuum(self.case.ambient), "vacuum"),)
        climbs = "It climbs and then rests: there is water." if self.rig.wet else "It holds."
        return climbs, rests, 0.0

    def _charge(self, act, value):
        self.rig.fill(value)
        return "Weighed in.", (), 0.0

    def _leave(self, act, value):
        self.over = True
        return "Left.", (), 0.0


def _checked(act, value):
    limits = {"turns": (-2.0, 2.0), "port": (1e-4, 1e-2), "charge": (1e-3, 50.0)}
    kinds = {"turns": "number", "port": "port", "charge": "charge"}
    if not act.asks:
        if value is not None:
            raise LowsideError(f"“{act.label}” takes no number.")
        return None
    low, high = limits[act.asks]
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if not number:
        raise LowsideError(f"“{act.label}” needs a number.")
    if not math.isfinite(value) or not low <= value <= high:
        raise OutOfRange(act.asks, value, low, high, kinds[act.asks])
    return float(value)
