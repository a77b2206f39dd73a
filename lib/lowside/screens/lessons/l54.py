"""Lesson 54 shows one call along its clock, and the call itself."""

from __future__ import annotations

from lowside.lesson import l54_numbers
from lowside.plots import callline
from lowside.screens.callpage import CallPage


def picture(show):
    """Draw the call of the lesson, gone the short sensible way."""
    return callline.call_figure(show, l54_numbers.sensible())


def guessed(show):
    """Draw the same call, with a part changed on suspicion first."""
    return callline.call_figure(show, l54_numbers.guessed())


def explore(reader):
    """Go to a call."""
    return CallPage(reader)


PICTURES = {"sensible": picture, "guessed": guessed}
PANELS = {"call": explore}
