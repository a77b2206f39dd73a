"""Controls beside figures: the only room that knows widgets.

``open_lesson`` opens a lesson's page, ``front_page`` the map. Rooms within: ``page`` (a lesson's
cells), ``front`` (those of the front page), ``lessons`` (what each lesson shows), ``panel``
(controls beside a live figure), ``controls`` (one control each), ``questions`` (predictions and
tasks), ``reader`` (the choice of units), ``text``, ``sheet`` (the style sheet).
"""

from importlib import import_module

ROOMS = ("controls", "front", "lessons", "page", "panel", "questions", "reader", "sheet", "text")

OPENERS = {"front_page": "front", "open_lesson": "page"}

__all__ = [*ROOMS, *OPENERS]


def __getattr__(name):
    if name in ROOMS:
        return import_module(f"lowside.screens.{name}")
    if name in OPENERS:
        return getattr(import_module(f"lowside.screens.{OPENERS[name]}"), name)
    raise AttributeError(f"module 'lowside.screens' has no attribute {name!r}")
