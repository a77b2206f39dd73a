"""Lesson 90 shows every published value beside ours."""

from __future__ import annotations

from lowside import checks
from lowside.plots import trust
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

FIRST = "textbook cycles"
PARITY = "boiling points of blends"
NARROWEST = 0.05


def picture(show):
    """Draw every check by topic."""
    return trust.overview_figure(show)


def parity(show):
    """Draw ours against the published boiling points of blends."""
    return trust.parity_figure(show, PARITY)


def explore(reader):
    """Choose how the values were come by, and narrow the tolerances."""
    return Panel(
        trust.overview_figure,
        [
            Choice("status", "How the value was come by", (trust.EVERY, *checks.STATUSES)),
            Slider("tightened", "Share of each tolerance", "ratio", 1.0, NARROWEST, 1.0, 0.05),
        ],
        reader,
        "Every published value beside ours",
        trust.why_overview,
        {
            "A tenth of the room": {"status": trust.EVERY, "tightened": 0.1},
            "Only what was read": {"status": checks.READ, "tightened": 1.0},
        },
    )


def one_by_one(reader):
    """Choose a topic and read its rows."""
    return Panel(
        trust.table_figure,
        [
            Choice("topic", "Topic", checks.topics(), FIRST),
            Slider("down", "How far down the list", "ratio", 0.0, 0.0, 1.0, 0.05),
        ],
        reader,
        "Row by row, with the source",
    )


def against(reader):
    """Choose a topic for the parity plot."""
    return Panel(
        trust.parity_figure,
        [Choice("topic", "Topic", checks.topics(), PARITY)],
        reader,
        "One against the other",
        trust.why_parity,
    )


PICTURES = {"everything": picture, "parity": parity}
PANELS = {"everything": explore, "rows": one_by_one, "parity": against}
