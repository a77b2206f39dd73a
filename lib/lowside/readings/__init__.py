"""What gauges and clamps say, and what cannot be right about it.

A set of readings from one box, any of them missing; superheat, subcooling and saturation
temperatures from it; and findings: combinations that a running, air-cooled box cannot show, with
the slip that would explain them (two clamps swapped, °C written as °F, another refrigerant).
Findings judge readings, never causes: what is wrong with the *box* is for ``diagnosis``.

The windows of the findings are common practice, no published source. They are wide on purpose: a
reading inside them may still belong to a sick box, a reading outside them is worth a second look.
"""

from .finding import HOT_DISCHARGE, SUBCOOLING, SUPERHEAT_ANYWHERE, SUPERHEAT_AT_COIL, Finding
from .meaning import Interpretation, interpret
from .taken import CLAMP_ERROR, FULL_SCALE, GAUGE_ERROR, KIND, LABEL, Readings

__all__ = [
    "CLAMP_ERROR",
    "FULL_SCALE",
    "GAUGE_ERROR",
    "HOT_DISCHARGE",
    "KIND",
    "LABEL",
    "SUBCOOLING",
    "SUPERHEAT_ANYWHERE",
    "SUPERHEAT_AT_COIL",
    "Finding",
    "Interpretation",
    "Readings",
    "interpret",
]
