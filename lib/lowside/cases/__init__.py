"""Sealed training cases from a seed, and the service call that opens them.

`deal` gives a case: a box, a hidden fault or two or none, weather, what the customer says. `Call`
goes to it: measure, look, mend, handle refrigerant; the solved box answers each time, the food
warms meanwhile, and an act that hurts somebody stops the call. `debrief` holds it against the
shortest sensible path, `written` and `replayed` keep it as plain JSON.
"""

from .acts import KINDS
from .acts import get as act
from .call import Call, Entry
from .case import LEVELS, Case, Draw, Place, deal
from .larder import HOURS, LIMIT
from .log import replayed, written
from .path import Debrief, debrief, shortest
from .path import name as fault_name
from .rig import HOSE

__all__ = [
    "HOSE",
    "HOURS",
    "KINDS",
    "LEVELS",
    "LIMIT",
    "Call",
    "Case",
    "Debrief",
    "Draw",
    "Entry",
    "Place",
    "act",
    "deal",
    "debrief",
    "fault_name",
    "replayed",
    "shortest",
    "written",
]
