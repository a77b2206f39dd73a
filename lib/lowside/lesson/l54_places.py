"""The boxes that lesson 54 is called to: all of the hall."""

from __future__ import annotations

from functools import cache, partial

from lowside import cases

from . import hall, l52_boxes


@cache
def places():
    """Give every box of the hall as a place to be called to.

    Returns
    -------
    tuple of cases.Place
    """
    return tuple(
        cases.Place(box.key, l52_boxes.label(box.key), box.holds, partial(l52_boxes.find, box.key))
        for box in hall.boxes()
    )
