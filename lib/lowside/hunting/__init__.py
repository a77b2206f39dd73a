"""Valve, coil and bulb in time: whether a valve hunts, how far it swings, how to measure that.

>>> from lowside import hunting, refrigerants, system
>>> fluid = refrigerants.get("R404A")
>>> box = system.ports.usual_low_side(fluid, 4200.0, 274.15, 320.15)
>>> circuit = hunting.at_rest(box, 274.15, 320.15)
>>> circuit.state
'acting'
>>> circuit.loop.margin > 1.0
True
>>> trace = hunting.swing(circuit)
>>> seen = hunting.measure(trace.time, trace.superheat)

Rooms: `plant` (coil and compressor), `bulb` (what a bulb feels), `circuit` (at rest), `linear`
(small swings: gain margin and period), `least` (the least superheat that is stable), `swing` (the
full swing in time), `measure` (period and amplitude of any record).

Not modelled: friction of the pin, uneven circuits of a coil, slugs of oil or liquid, the charge
(the liquid arrives as given), the box's air, which keeps its temperature during a swing.
"""

from .bulb import BARE, INSULATED, LOOSE, STRAPPED, STREAM_HALF_ANGLE, Bulb, Feeling, Pipe, feel
from .circuit import ACTING, FLOODED, SHUT, WIDE_OPEN, Circuit, at_rest
from .least import LeastSuperheat, least_stable_superheat
from .linear import Loop, gain_margin
from .measure import Measured, measure
from .plant import Flows, Plant, Sizes
from .swing import Trace, swing

__all__ = [
    "ACTING",
    "BARE",
    "FLOODED",
    "INSULATED",
    "LOOSE",
    "SHUT",
    "STRAPPED",
    "STREAM_HALF_ANGLE",
    "WIDE_OPEN",
    "Bulb",
    "Circuit",
    "Feeling",
    "Flows",
    "LeastSuperheat",
    "Loop",
    "Measured",
    "Pipe",
    "Plant",
    "Sizes",
    "Trace",
    "at_rest",
    "feel",
    "gain_margin",
    "least_stable_superheat",
    "measure",
    "swing",
]
