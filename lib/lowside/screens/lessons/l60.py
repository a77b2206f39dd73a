"""Lesson 60 shows calls covered against places in the case, and the case itself."""

from __future__ import annotations

from lowside import carry
from lowside.lesson import l60_numbers, l60_tasks
from lowside.plots import casewords
from lowside.plots.casefill import case_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.routepanel import RoutePanel

PLACES = 0.0, 40.0
MONEY = 100.0, 1500.0  # the upper end stands for as much as it takes
WEIGHING = (("as a call, all alike", 0.0), ("half by the food", 0.5), ("by the food at risk", 1.0))


def as_called():
    """Give the case of the call as controls take it.

    Returns
    -------
    dict
    """
    return {"places": float(l60_numbers.PLACES), "food": 0.0, "money": MONEY[1]}


def picture(show):
    """Draw the best case for the places of the call."""
    return case_figure(show, l60_numbers.route(), l60_numbers.PLACES)


def explore(reader):
    """Move places, money and what counts; open another route."""
    start = as_called()
    places = float(l60_numbers.PLACES)
    return RoutePanel(
        _figure,
        [
            Slider("places", "Places in the case", "number", places, *PLACES, 1.0),
            Choice("food", "A call counts", WEIGHING, start["food"]),
            Slider("money", "Parts may cost at most (top: any)", "number", MONEY[1], *MONEY, 20.0),
        ],
        reader,
        l60_numbers.route(),
        title=l60_tasks.PANEL,
        why=casewords.why,
        examples={
            "A small case": {**start, "places": 6.0},
            "Food first": {**start, "food": 1.0},
            "Little money": {**start, "places": 20.0, "money": 400.0},
            "All that helps": {**start, "places": float(len(carry.curve(l60_numbers.route())) - 1)},
        },
        lead="What this case is good for",
    )


def _figure(show, stops, places, food, money):
    return case_figure(show, stops, places, money if money < MONEY[1] else None, food)


PICTURES = {"case": picture}
PANELS = {"case": explore}
