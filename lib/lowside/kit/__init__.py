"""A kit of our own for building a valve: bodies, cartridges, power elements; and how to choose.

Everything in it is described by physics (``data/kit.toml``, invented): ports in millimetres, pins
by their angle, charges by what is in the bulb. A `Job` says what a box asks of its valve at the
corners of its year; `choose` finds the smallest port that meets them all.

>>> from lowside import kit
>>> job = kit.Job("R404A", load=4200.0, box_temperature=274.15, hot=320.15, cold=298.15)
>>> kit.choose(job).build.cartridge.key
'2.5 mm conventional'

Not modelled: moving in time (whether a valve hunts, room ``hunting``), wear, a pull-down's
falling temperature (it is taken as it starts), and a compressor that slows under its motor's load.
"""

from . import reasons
from .attempt import LIMITS, Attempt, Fault, Limits, attempt
from .build import Build, Setting, assembled, builds, port_band, side_by_side
from .choosing import EXTERNAL_ABOVE, Choice, choose, fitting, needs_external
from .job import (
    COLD_FULL,
    COLD_LEAST,
    CORNERS,
    HOT_FULL,
    HOT_LEAST,
    PULL_DOWN,
    Corner,
    Job,
)
from .parts import (
    BALANCED,
    CONNECTIONS,
    CONSTRUCTIONS,
    CONVENTIONAL,
    EITHER,
    Body,
    Cartridge,
    Element,
    Kit,
    Strainer,
)
from .shelf import bodies, cartridge, elements, the_kit

__all__ = [
    "BALANCED",
    "COLD_FULL",
    "COLD_LEAST",
    "CONNECTIONS",
    "CONSTRUCTIONS",
    "CONVENTIONAL",
    "CORNERS",
    "EITHER",
    "EXTERNAL_ABOVE",
    "HOT_FULL",
    "HOT_LEAST",
    "LIMITS",
    "PULL_DOWN",
    "Attempt",
    "Body",
    "Build",
    "Cartridge",
    "Choice",
    "Corner",
    "Element",
    "Fault",
    "Job",
    "Kit",
    "Limits",
    "Setting",
    "Strainer",
    "assembled",
    "attempt",
    "bodies",
    "builds",
    "cartridge",
    "choose",
    "elements",
    "fitting",
    "needs_external",
    "port_band",
    "reasons",
    "side_by_side",
    "the_kit",
]
