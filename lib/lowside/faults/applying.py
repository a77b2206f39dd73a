"""Faults put into a box, one or several, one severity or ten thousand at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lowside.errors import LowsideError, require

from .catalogue import fitting, get


def apply(situation, severities):
    """Put faults into a box.

    Parameters
    ----------
    situation : Situation
        Before; its numbers may be arrays.
    severities : mapping of str to float or ndarray
        Severity of each fault by its key, zero where it is absent; all broadcast against each
        other and against the situation. [SI of the fault's kind]

    Returns
    -------
    Situation
        Solve it with its `solve`: one call whatever the number of points.

    Raises
    ------
    UnknownName
        If there is no such fault.
    OutOfRange
        For a severity below zero or above the largest of the fault.
    LowsideError
        If a fault does not fit this kind of box.

    Examples
    --------
    >>> from lowside import faults, system
    >>> reach_in = faults.sound(system.cabinets.get("propane-reach-in"))
    >>> low = faults.apply(reach_in, {"undercharge": np.array([0.0, 0.1, 0.2])})
    >>> low.solve().status_name.tolist()
    ['solved', 'solved', 'flash gas at the valve']
    """
    possible = {fault.key for fault in fitting(situation)}
    for key, severity in severities.items():
        fault, severity = get(key), np.asarray(severity, dtype=float)[()]
        require(f"severity of “{fault.name}”", severity, 0.0, fault.high, fault.kind)
        if not np.any(severity):
            continue
        if key not in possible:
            raise LowsideError(_misfit(fault, situation))
        if not fault.stepless and not np.all(np.isin(severity, (0.0, fault.high))):
            raise LowsideError(f"“{fault.name}” is there or it is not: severity 0 or 1.")
        situation = fault.change(situation, severity)
    return situation


def batch(situation, cases):
    """Put a list of different faults, or pairs of them, into copies of one box.

    Parameters
    ----------
    situation : Situation
        Of plain numbers.
    cases : sequence of mapping of str to float
        Severities of each copy; an empty mapping leaves it sound.

    Returns
    -------
    Situation
        One dimension, in the order of the cases.

    Raises
    ------
    UnknownName, OutOfRange, LowsideError
        As `apply`.
    """
    keys = dict.fromkeys(key for case in cases for key in case)
    severities = {key: np.array([case.get(key, 0.0) for case in cases]) for key in keys}
    copies = np.full(len(cases), situation.charge)
    return apply(replace(situation, charge=copies), severities)


def _misfit(fault, situation):
    if situation.family in fault.fits:
        return f"“{fault.name}” needs a valve with external equaliser; this box does without."
    return f"“{fault.name}” does not happen in a box with {situation.family.words}."
