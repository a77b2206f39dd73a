"""Which port is inside a valve that nobody can look into, and what to do about it.

A tag may be missing, wrong, or name a size that is too small. Readings of the running box, and a
few tests, say something of the port: every size of the kit is simulated with hardware drawn
around what is believed, and the readings weigh the sizes. A valve that modulates tells little,
since spring and lift make up for the port; only one that stands wide open tells its size, and a
plugged strainer in front of it tells the same story.

Rooms within: ``hardware`` (what is believed of a box), ``looks`` (the tests and what they show),
``strainer``, ``posterior`` (from readings to a belief), ``calibration`` (is it as sure as it should
be), ``suspects`` (port and strainer together), ``decision`` (trust, strainer or valve), ``route``
(what a tag is worth in a year), ``tag`` (the tag that prints).

>>> from lowside import refrigerants, system
>>> fluid = refrigerants.get("R134a")
>>> box = system.size_low_side(fluid, 1100.0, box_temperature=276.15, condensing_temperature=317.15)
>>> site = Site(box, air_temperature=276.15, condensing_temperature=317.15)
>>> library = simulate(site, tests=("running",))
>>> belief = library.belief({"running": (266.0, 280.0, 345.0, 272.0, 0.0)})
>>> [round(1e3 * size, 2) for size in belief.credible(0.8)]
[0.5]


Not modelled: time (every test is read as if the box stood still in it), the charge (liquid enough
for every opening), wear, frost, a bulb that lost its charge.
"""

from .calibration import Calibration, calibrate
from .decision import PLANS, Costs, Outcome, best, expect, holding, outcomes
from .hardware import Site, Unknowns
from .looks import READINGS, TESTS, Seen, Test, look
from .posterior import Belief, Instruments, Library, prior, simulate
from .route import Habits, Rehearsal, Worth, rehearse
from .strainer import strainer_resistance, strainer_temperature_drop
from .suspects import Lineup, Suspicion, before, line_up
from .tag import Tag, sheet

__all__ = [
    "PLANS",
    "READINGS",
    "TESTS",
    "Belief",
    "Calibration",
    "Costs",
    "Habits",
    "Instruments",
    "Library",
    "Lineup",
    "Outcome",
    "Rehearsal",
    "Seen",
    "Site",
    "Suspicion",
    "Tag",
    "Test",
    "Unknowns",
    "Worth",
    "before",
    "best",
    "calibrate",
    "expect",
    "holding",
    "line_up",
    "look",
    "outcomes",
    "prior",
    "rehearse",
    "sheet",
    "simulate",
    "strainer_resistance",
    "strainer_temperature_drop",
]
