"""Every figure of lowside, in one style; a figure function returns the figure and its words.

Rooms within: ``canvas`` (the live figure), ``marks`` (the primitives of the moving layer),
``layout`` (keeping labels apart), ``style`` (colours and sizes), ``ph`` (the pressure-enthalpy
diagram).
"""

from importlib import import_module

ROOMS = ("canvas", "dome", "layout", "marks", "ph", "style")

__all__ = [*ROOMS]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.plots.{name}")
    raise AttributeError(f"module 'lowside.plots' has no attribute {name!r}")
