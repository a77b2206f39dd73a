"""The baseline: a plain table of signs, as it hangs on the wall of many workshops.

Each fault moves superheat, subcooling, the two saturation temperatures and the rest up, down or not
at all; the fault whose row agrees with most readings wins. The rows are computed from the sound box
and each fault at the severity that a service call finds. What such a table cannot do is the measure
of what the diagnosis is worth.
"""

from __future__ import annotations

import numpy as np

from lowside import faults

from . import evidence
from .suspects import NOTHING_WRONG, Suspects

#: From what change a table says "up" or "down", as counted: kelvins, and shares for the logarithms.
NOTICED = {"current": 0.08, "power": 0.08, "charge": 0.08, "stem_answer": 1.0}
NOTICED_KELVINS = 2.5


def rule_table(suspects: Suspects):
    """Write down the sign of every reading under every fault.

    Parameters
    ----------
    suspects : Suspects

    Returns
    -------
    ndarray of int, shape (number of suspects, number of measurements)
        1 up, 0 the same, -1 down; "nothing wrong" is a row of zeros.
    """
    rows = np.zeros((len(suspects.keys), len(evidence.KEYS)), dtype=int)
    for place, key in enumerate(suspects.keys):
        mine = np.flatnonzero(suspects.which == place)
        if key == NOTHING_WRONG or not mine.size:
            continue
        usual = faults.get(key).usual
        row = mine[np.argmin(np.abs(suspects.severity[mine] - usual))]
        rows[place] = _signs(suspects.mean[row] - suspects.mean[0])
    return rows


def by_rules(suspects: Suspects, numbers):
    """Share out belief among the suspects whose row agrees with most readings.

    Parameters
    ----------
    suspects : Suspects
    numbers : ndarray, shape (number of measurements,)
        As counted; NaN where nothing was read.

    Returns
    -------
    ndarray, shape (number of suspects,)
        Equal among the best, a little less for those that agree less, so that there is an order.
    """
    taken = np.isfinite(numbers)
    seen = _signs(np.where(taken, numbers, 0.0) - suspects.mean[0])
    agree = ((rule_table(suspects) == seen) & taken).sum(axis=1)
    weights = np.where(agree == agree.max(), 1.0, 1e-3 * np.exp(agree - agree.max()))
    return weights / weights.sum()


def _signs(off):
    noticed = np.array([NOTICED.get(key, NOTICED_KELVINS) for key in evidence.KEYS])
    return np.sign(off).astype(int) * (np.abs(off) > noticed)
