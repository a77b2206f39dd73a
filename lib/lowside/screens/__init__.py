"""Controls beside figures: the only room that knows widgets.

``open_lesson`` opens a lesson's page. Rooms within: ``page`` (a lesson's cells), ``lessons`` (what
each lesson shows), ``panel`` (controls beside a live figure), ``controls`` (one control each),
``questions`` (predictions and tasks), ``reader`` (the choice of units), ``text``, ``sheet`` (the
style sheet).
"""

from importlib import import_module

ROOMS = ("controls", "lessons", "page", "panel", "questions", "reader", "sheet", "text")

__all__ = [*ROOMS, "open_lesson"]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.screens.{name}")
    if name == "open_lesson":
        return import_module("lowside.screens.page").open_lesson
    raise AttributeError(f"module 'lowside.screens' has no attribute {name!r}")
