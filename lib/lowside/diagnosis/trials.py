"""How often the diagnosis is right on boxes that differ from what it assumes.

The boxes of a trial have coils, compressors, springs and lines that the diagnosis is not told,
their grams are counted by void-fraction models it does not use, and every instrument is off by as
much as such instruments are. Only faults that cost a good part of the cooling are counted: a fault
that costs nothing shows nowhere.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import faults
from lowside.system import solve_box

from . import evidence, looks
from .ranking import CERTAIN, counted, rank
from .rules import by_rules
from .suspects import NOTHING_WRONG, Suspects
from .uncertainty import disturbed

#: Half-widths of what the diagnosis is not told, evenly spread; logarithms or differences as in
#: `Uncertainty`. The first five are the issue of every strange box, the rest what comes with it.
UNTOLD = {
    "evaporator": 0.15,
    "condenser": 0.15,
    "swept": 0.10,
    "evaporator_air": 0.15,
    "condenser_air": 0.15,
    "efficiency": 0.10,
    "charge": 0.04,
    "metering": 0.04,
    "static_superheat": 1.5,
    "shell_loss": 0.08,
    "line": 0.5,
    "box_temperature": 1.0,
    "ambient_temperature": 1.0,
}
#: Void-fraction models of the boxes; the diagnosis assumes another one.
UNTOLD_VOID = ("Zivi", "Premoli", "Baroczy")
COSTS = 0.10  # of the cooling, from which a fault counts
KITS = {
    "gauges only": ("suction_pressure", "head_pressure"),
    "clamps only": (
        "suction_temperature",
        "liquid_temperature",
        "discharge_temperature",
        "drier_drop",
        "strainer_drop",
        "box_air_drop",
        "condenser_air_rise",
    ),
    "every instrument": tuple(
        key for key in evidence.KEYS if key not in ("stem_answer", "charge", "power")
    ),
}
KITS["and a look round"] = KITS["every instrument"]
KITS["and what takes longer"] = (*KITS["every instrument"], "stem_answer")
LOOKED = {
    "and a look round": (
        "condenser_face",
        "condenser_fan",
        "evaporator_face",
        "bulb",
        "equaliser",
        "bubbles",
    ),
    "and what takes longer": looks.KEYS,
}
_CHARGE = evidence.KEYS.index("charge")
_BOXES_A_CASE = 6  # solved for each case that is wanted, for many cost too little


@dataclass(frozen=True)
class Trial:
    """Boxes with a fault, and what instruments on them show.

    Attributes
    ----------
    suspects : Suspects
        What the diagnosis assumes.
    keys : list of str
        The true fault of each case.
    readings : ndarray, shape (n, m)
        Plain readings in the order of ``evidence.KEYS``, errors and all; NaN where there is none.
        [SI of each kind]
    seen : list of dict of str to bool
        What a look round showed.
    lost : ndarray, shape (n,)
        Share of the cooling that the fault costs. [-]
    """

    suspects: Suspects
    keys: list
    readings: np.ndarray
    seen: list
    lost: np.ndarray


@dataclass(frozen=True)
class Score:
    """What a diagnosis made of a trial.

    Attributes
    ----------
    truth : list of str
    probability : ndarray, shape (n, number of suspects)
        In the order of `Suspects.keys`. [-]
    keys : tuple of str
    alike : dict of str to frozenset of str
        Suspects that no instrument tells from each one, itself included.
    """

    truth: list
    probability: np.ndarray
    keys: tuple
    alike: dict

    def _place(self):
        return np.array([self.keys.index(key) for key in self.truth])

    def top(self, count):
        """Share of the cases in which the true cause is among the first few [-]."""
        order = np.argsort(-self.probability, axis=1)[:, :count]
        return float(np.mean([p in row for p, row in zip(self._place(), order, strict=True)]))

    @property
    def top_alike(self):
        """Share in which the first cause, or one that nothing tells from it, is true [-]."""
        first = [self.keys[place] for place in self.probability.argmax(axis=1)]
        return float(
            np.mean([key in self.alike[best] for key, best in zip(self.truth, first, strict=True)])
        )

    @property
    def confidently_wrong(self):
        """Share in which a false cause was given more than `CERTAIN` [-]."""
        best = self.probability.argmax(axis=1)
        sure = self.probability.max(axis=1) > CERTAIN
        return float(np.mean(sure & (best != self._place())))

    @property
    def brier(self):
        """Brier score: mean squared distance from the truth, 0 perfect, 2 worst [-]."""
        truth = np.eye(len(self.keys))[self._place()]
        return float(np.square(self.probability - truth).sum(axis=1).mean())

    def reliability(self, edges):
        """How often what is given a probability is true.

        Parameters
        ----------
        edges : ndarray, shape (b + 1,)
            Of the bins of probability.

        Returns
        -------
        given, true : ndarray, shape (b,)
            Means of the bins; NaN where empty. [-]
        count : ndarray of int, shape (b,)
        """
        flat = self.probability.ravel()
        hit = np.eye(len(self.keys))[self._place()].ravel()
        bins = np.clip(np.digitize(flat, edges) - 1, 0, len(edges) - 2)
        count = np.bincount(bins, minlength=len(edges) - 1)
        with np.errstate(invalid="ignore"):
            given = np.bincount(bins, weights=flat, minlength=len(edges) - 1) / count
            true = np.bincount(bins, weights=hit, minlength=len(edges) - 1) / count
        return given, true, count


def stage(suspects, cases, seed):
    """Stage boxes with faults, and read them.

    Parameters
    ----------
    suspects : Suspects
        What the diagnosis assumes.
    cases : int
        Wanted for each fault; fewer where few boxes with it run and suffer.
    seed : int

    Returns
    -------
    Trial
    """
    rng = np.random.default_rng(seed)
    situation, fluid = suspects.situation, suspects.situation.box.refrigerant
    keys, readings, seen, lost = [], [], [], []
    for key in suspects.keys:
        count = cases * (1 if key == NOTHING_WRONG else _BOXES_A_CASE)
        points, turned, cost, plate = _staged(suspects, key, count, rng)
        enough = points.accepted & (turned.accepted if turned is not None else True)
        if key != NOTHING_WRONG:
            enough &= cost >= COSTS
        chosen = np.flatnonzero(enough)[:cases]
        if not chosen.size:
            continue
        shown = evidence.predicted(fluid, points, turned)[chosen]
        # Grams are weighed against the box's own nameplate.
        shown[:, _CHARGE] += np.log(situation.charge / plate[chosen])
        shown = shown + suspects.instruments * np.sqrt(3.0) * rng.uniform(-1, 1, shown.shape)
        plain = [evidence.plain(fluid, name, shown[:, i]) for i, name in enumerate(evidence.KEYS)]
        readings.append(np.stack(plain, axis=-1))
        keys += [key] * chosen.size
        lost.append(cost[chosen])
        bubbles = points.inlet_quality[chosen] > 0.0
        seen += [_look_round(situation.family, key, wet, rng) for wet in bubbles]
    return Trial(suspects, keys, np.concatenate(readings), seen, np.concatenate(lost))


def _staged(suspects, key, count, rng):
    """Boxes nobody was told of, with one fault; what it costs, and the charge without."""
    situation = suspects.situation
    off = {name: rng.uniform(-half, half, count) for name, half in UNTOLD.items()}
    fault = None if key == NOTHING_WRONG else faults.get(key)
    severity = np.zeros(count)
    if fault is not None:
        severity = rng.uniform(0.05, 1.0, count) * fault.high
        if not fault.stepless:
            severity = np.full(count, fault.high)
    model = UNTOLD_VOID[int(rng.integers(len(UNTOLD_VOID)))]
    strange = _charged(suspects, disturbed(situation, off), model, off["charge"])
    with_fault = strange if fault is None else faults.apply(strange, {key: severity})
    sound = _solve(strange, model)
    point = _solve(with_fault, model)
    turned = None
    if situation.box.has_valve:
        softer = disturbed(strange, {"static_superheat": -evidence.ONE_TURN})
        turned = _solve(softer if fault is None else faults.apply(softer, {key: severity}), model)
    return point, turned, 1.0 - point.capacity / sound.capacity, strange.charge


def _charged(suspects, strange, model, off):
    """Weigh in what gives a strange box its subcooling: its own nameplate, however one counts."""
    filled = solve_box(
        strange.box,
        suspects.situation.box_temperature,
        suspects.situation.ambient_temperature,
        subcooling=float(suspects.sound.subcooling),
        receiver_level=float(suspects.sound.receiver_level),
        model=model,
    )
    plate = np.where(filled.accepted, filled.charge, suspects.situation.charge)
    return replace(strange, charge=plate * np.exp(off))


def _solve(situation, model):
    return solve_box(
        situation.box,
        situation.box_temperature,
        situation.ambient_temperature,
        situation.charge,
        foreign_gas=situation.foreign_gas,
        model=model,
    )


def _look_round(family, key, bubbles, rng):
    answers = {}
    for look in looks.fitting(family):
        true = bubbles if look is looks.BUBBLES else key in look.shows
        answers[look.key] = bool(rng.uniform() < (look.hit if true else look.false))
    return answers


def judge(trial, kit, rules=False):
    """Diagnose every case of a trial with one kit of instruments.

    Parameters
    ----------
    trial : Trial
    kit : str
        One of `KITS`.
    rules : bool
        Let the plain table of signs do it, which knows no looks.

    Returns
    -------
    Score
    """
    keys = trial.suspects.keys
    has_valve = trial.suspects.situation.box.has_valve
    names = [name for name in KITS[kit] if has_valve or name != "stem_answer"]
    looked = LOOKED.get(kit, ())
    probability = np.empty((len(trial.keys), len(keys)))
    for row, (values, seen) in enumerate(zip(trial.readings, trial.seen, strict=True)):
        taken = dict(zip(evidence.KEYS, values, strict=True))
        taken = {name: float(taken[name]) for name in names}
        if rules:
            probability[row] = by_rules(trial.suspects, _numbers(trial.suspects, taken))
            continue
        seen = {key: answer for key, answer in seen.items() if key in looked}
        ranking = rank(trial.suspects, taken, seen)
        probability[row] = [ranking.probability[key] for key in keys]
    return Score(trial.keys, probability, keys, alike(trial.suspects, names, looked))


def _numbers(suspects, taken):
    """Everything as counted, NaN where nothing was read."""
    numbers = np.full(len(evidence.KEYS), np.nan)
    for key, value in taken.items():
        numbers[evidence.KEYS.index(key)] = counted(suspects, key, value)
    return numbers


def alike(suspects, names=KITS["every instrument"], looked=(), clear=2.0):
    """Suspects that a kit of instruments cannot tell apart.

    Two count as alike when the one, at the severities that cost as much as `COSTS`, is mostly less
    than `clear` standard deviations away from some severity of the other.

    Parameters
    ----------
    suspects : Suspects
    names : sequence of str
        Measurements taken.
    looked : sequence of str
        Looks taken too; what one of them shows is like nothing else.
    clear : float
        [-]

    Returns
    -------
    dict of str to frozenset of str
    """
    columns = [evidence.KEYS.index(name) for name in names]
    covariance = suspects.covariance(columns)
    mean, which = suspects.mean[:, columns], suspects.which
    shown = {name for look in looks.ALL if look.key in looked for name in look.shows}
    groups = {key: {key} for key in suspects.keys}
    for a, first in enumerate(suspects.keys):
        mine = np.flatnonzero((which == a) & (suspects.capacity_lost >= COSTS))
        for b, second in enumerate(suspects.keys):
            if a in (0, b) or not mine.size or {first, second} & shown:
                continue
            other = np.flatnonzero(which == b)
            off = mean[mine][:, None] - mean[other]
            both = 0.5 * (covariance[mine][:, None] + covariance[other])
            standard = np.linalg.solve(both, off[..., None])[..., 0]
            distance = np.sqrt((off * standard).sum(axis=-1)).min(axis=1)
            if np.median(distance) < clear:
                groups[first].add(second)
                groups[second].add(first)
    return {key: frozenset(group) for key, group in groups.items()}


def with_cost(trial):
    """Keep the cases that have a fault.

    Parameters
    ----------
    trial : Trial

    Returns
    -------
    Trial
    """
    keep = [place for place, key in enumerate(trial.keys) if key != NOTHING_WRONG]
    return replace(
        trial,
        keys=[trial.keys[place] for place in keep],
        readings=trial.readings[keep],
        seen=[trial.seen[place] for place in keep],
        lost=trial.lost[keep],
    )
