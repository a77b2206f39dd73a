"""lowside: see why a valve hunts, a box starves, or a charge is short.

Rooms are loaded when first used: ``import lowside`` costs next to nothing.
"""

from importlib import import_module

__version__ = "0.1.0"

ROOMS = (
    "captube",
    "charge",
    "coils",
    "compressor",
    "cycle",
    "drier",
    "errors",
    "flammability",
    "lesson",
    "load",
    "plots",
    "readings",
    "readout",
    "refrigerants",
    "screens",
    "store",
    "system",
    "units",
    "valve",
    "water",
)

__all__ = [*ROOMS, "__version__"]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.{name}")
    raise AttributeError(f"module 'lowside' has no attribute {name!r}")


def __dir__():
    return sorted(__all__)
