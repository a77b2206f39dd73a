"""Every figure of lowside, in one style; a figure function returns the figure and its words.

Rooms within: ``canvas`` (the live figure), ``marks`` (the primitives of the moving layer),
``layout`` (keeping labels apart), ``svg`` and ``png`` (what is sent), ``tidy`` (memory given back),
``style`` (colours and sizes), ``ph`` and ``dome`` (the pressure-enthalpy diagram), ``own`` (a
person's readings on it), ``coil`` and ``glides`` (what a blend does in a coil, and how far each
refrigerant glides), ``port`` with its ``portwords`` and ``cutaway`` (one box with every port),
``swing`` (what a balanced port is worth).
"""

from importlib import import_module

ROOMS = (
    "canvas",
    "coil",
    "cutaway",
    "dome",
    "glides",
    "layout",
    "marks",
    "own",
    "ph",
    "png",
    "port",
    "portwords",
    "style",
    "svg",
    "swing",
    "tidy",
)

__all__ = [*ROOMS]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.plots.{name}")
    raise AttributeError(f"module 'lowside.plots' has no attribute {name!r}")
