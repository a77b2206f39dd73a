"""Controls beside figures: the only room that knows widgets.

``open_lesson`` opens a lesson's page. Rooms within: ``controls`` (one control each), ``panel``
(controls beside a live figure), ``questions`` (predictions and tasks), ``page`` (a lesson's cells),
``sheet`` (the style sheet).
"""

from importlib import import_module

ROOMS = ("controls", "page", "panel", "questions", "sheet")

__all__ = [*ROOMS, "open_lesson"]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.screens.{name}")
    if name == "open_lesson":
        return import_module("lowside.screens.page").open_lesson
    raise AttributeError(f"module 'lowside.screens' has no attribute {name!r}")
