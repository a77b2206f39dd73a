"""What every suspect predicts: each fault at every severity, and how unsure each prediction is.

One batch solves the box with every fault at a few severities, a second one disturbs the box by all
that cannot be known of it, at three severities of every fault. Between solved severities numbers
are interpolated. What comes out is a table; a diagnosis after that only compares.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside import faults

from .evidence import KEYS, MEASUREMENTS, ONE_TURN, instrument_error, predicted
from .uncertainty import Uncertainty, disturbed

NOTHING_WRONG = "nothing"
SOLVED = (0.0, 0.12, 0.3, 0.5, 0.7, 0.85, 1.0)  # shares of the largest severity
ANCHORED = (0.0, 0.5, 1.0)
COMPARED = np.linspace(0.06, 1.0, 16)
_BUBBLES = 2e-3  # vapour by mass arriving at the metering
_STEP = 0.5  # standard deviations by which a box is disturbed


@dataclass(frozen=True)
class Suspects:
    """Every fault at a row of severities, "nothing wrong" first.

    Attributes
    ----------
    situation : faults.Situation
        The box without faults.
    keys : tuple of str
        `NOTHING_WRONG` and the keys of the faults; one row of severities each.
    which : ndarray of int, shape (n,)
        Index into `keys` of every entry below.
    severity : ndarray, shape (n,)
        [SI of the fault's kind]
    mean : ndarray, shape (n, m)
        Predictions, as counted, in the order of ``evidence.KEYS``.
    spread : ndarray, shape (n, m, k)
        Change of the predictions with one standard deviation of each uncertain number.
    capacity : ndarray, shape (n,)
        Cooling. [W]
    bubbles : ndarray of bool, shape (n,)
        Whether vapour arrives at the metering.
    instruments : ndarray, shape (m,)
        Standard deviation of each instrument, as counted.
    stops : dict of str to str
        Faults whose worst severities stop the box, and how.
    sound : system.BoxResult
        The box without faults.
    """

    situation: object
    keys: tuple
    which: np.ndarray
    severity: np.ndarray
    mean: np.ndarray
    spread: np.ndarray
    capacity: np.ndarray
    bubbles: np.ndarray
    instruments: np.ndarray
    stops: dict
    sound: object

    @property
    def capacity_lost(self):
        """Share of the sound box's cooling that is missing (ndarray, shape (n,)) [-]."""
        return 1.0 - self.capacity / float(self.sound.capacity)

    def covariance(self, columns):
        """Covariance of what would be counted, instruments and all.

        Parameters
        ----------
        columns : sequence of int
            Places in ``evidence.KEYS``.

        Returns
        -------
        ndarray, shape (n, len(columns), len(columns))
        """
        part = self.spread[:, columns]
        return part @ part.transpose(0, 2, 1) + np.diag(self.own_variance(columns))

    def own_variance(self, columns):
        """Variance that instruments and model add to each reading by itself.

        Parameters
        ----------
        columns : sequence of int
            Places in ``evidence.KEYS``.

        Returns
        -------
        ndarray, shape (len(columns),)
        """
        model = np.array([MEASUREMENTS[column].model_error for column in columns])
        return np.square(self.instruments[list(columns)]) + np.square(model)


def suspects(situation, uncertainty=None):
    """Let every fault that fits a box predict what would be measured.

    Parameters
    ----------
    situation : faults.Situation
        The box without faults, of plain numbers, at the air temperatures of the day.
    uncertainty : Uncertainty, optional

    Returns
    -------
    Suspects

    Raises
    ------
    NoOperatingPoint
        If the box does not even run without faults.
    """
    uncertainty = uncertainty or Uncertainty.usual(situation.family)
    fitting = [fault for fault in faults.fitting(situation) if fault.is_fault]
    fluid = situation.box.refrigerant

    cases = [{}]
    for fault in fitting:
        shares = SOLVED[1:] if fault.stepless else (1.0,)
        cases += [{fault.key: share * fault.high} for share in shares]
    points = faults.batch(situation, cases).solve()
    points.at(0).refuse()
    turned = None
    if situation.box.has_valve:
        softer = disturbed(situation, {"static_superheat": -ONE_TURN})
        turned = faults.batch(softer, cases).solve(start=points)
    means = predicted(fluid, points, turned)
    usable = points.accepted if turned is None else points.accepted & turned.accepted

    anchors = [{}]
    for fault in fitting:
        shares = ANCHORED[1:] if fault.stepless else (1.0,)
        anchors += [{fault.key: share * fault.high} for share in shares]
    spreads, steady = _spreads(situation, anchors, uncertainty, points, cases)

    rows = [(0, 0.0, means[0], spreads[0], float(points.capacity[0]), False)]
    stops = {}
    at, anchor = 1, 1
    for number, fault in enumerate(fitting, start=1):
        solved = np.array(SOLVED[1:]) if fault.stepless else np.array([1.0])
        held = np.array(ANCHORED[1:]) if fault.stepless else np.array([1.0])
        mine = slice(at, at + solved.size)
        near = slice(anchor, anchor + held.size)
        at, anchor = mine.stop, near.stop
        runs = np.concatenate([[True], usable[mine]])
        if not runs.all():
            first = int(np.argmin(runs))
            stops[fault.key] = str(points.status_name[mine.start + first - 1])
            runs[first:] = False
        if runs.sum() == 1:
            continue
        shares = np.concatenate([[0.0], solved])[runs]
        firm = np.concatenate([[True], steady[near]])
        compared = COMPARED[shares[-1] >= COMPARED] if fault.stepless else np.array([1.0])
        if not compared.size:
            continue
        mean = _between(compared, shares, np.vstack([means[:1], means[mine]])[runs])
        spread = _between(
            compared,
            np.concatenate([[0.0], held])[firm],
            np.concatenate([spreads[:1], spreads[near]])[firm],
        )
        capacity = np.interp(
            compared, shares, np.concatenate([points.capacity[:1], points.capacity[mine]])[runs]
        )
        vapour = np.interp(
            compared,
            shares,
            np.concatenate([points.inlet_quality[:1], points.inlet_quality[mine]])[runs],
        )
        rows += [
            (number, share * fault.high, *entry)
            for share, *entry in zip(
                compared, mean, spread, capacity, vapour > _BUBBLES, strict=True
            )
        ]
    which, severity, mean, spread, capacity, bubbles = zip(*rows, strict=True)
    return Suspects(
        situation=situation,
        keys=(NOTHING_WRONG, *(fault.key for fault in fitting)),
        which=np.array(which),
        severity=np.array(severity, dtype=float),
        mean=np.array(mean),
        spread=np.array(spread),
        capacity=np.array(capacity),
        bubbles=np.array(bubbles),
        instruments=instrument_error(fluid, points.at(0)),
        stops=stops,
        sound=points.at(0),
    )


def _between(wanted, places, values):
    """Interpolate rows of any shape along their first axis; flat beyond the last."""
    if len(places) == 1:
        return np.repeat(values, len(wanted), axis=0)
    right = np.clip(np.searchsorted(places, wanted), 1, len(places) - 1)
    left = right - 1
    share = np.clip((wanted - places[left]) / (places[right] - places[left]), 0.0, 1.0)
    share = share.reshape(-1, *(1,) * (values.ndim - 1))
    return values[left] * (1.0 - share) + values[right] * share


def _spreads(situation, anchors, uncertainty, points, cases):
    """Change of what is counted with each uncertain number, at every anchor that runs."""
    names = uncertainty.names
    place = [cases.index(anchor) for anchor in anchors]
    first = points.at(np.array(place))
    disturb = {
        name: np.repeat(
            np.where(np.arange(len(names)) == number, _STEP * getattr(uncertainty, name), 0.0),
            len(anchors),
        )
        for number, name in enumerate(names)
    }
    severities = {
        key: np.tile([anchor.get(key, 0.0) for anchor in anchors], len(names))
        for key in dict.fromkeys(key for anchor in anchors for key in anchor)
    }
    tiled = np.tile(np.arange(len(anchors)), len(names))
    off = faults.apply(disturbed(situation, disturb), severities).solve(start=first.at(tiled))
    fluid = situation.box.refrigerant
    counted = predicted(fluid, off).reshape(len(names), len(anchors), len(KEYS))
    change = (counted - predicted(fluid, first)) / _STEP
    runs = off.accepted.reshape(len(names), len(anchors)) & first.accepted
    change = np.where(runs[..., None], change, 0.0)
    # The stem is asked only once; a spring that is already off answers much the same.
    change[..., KEYS.index("stem_answer")] = 0.0
    # What the scale says does not depend on how the grams are counted.
    change[..., KEYS.index("charge")] = 0.0
    return change.transpose(1, 2, 0), runs.mean(axis=0) > 0.7
