"""Lesson 30 shows the heat on its way to the valve, and which filler suits which metals."""

from __future__ import annotations

from functools import partial

from lowside import joint
from lowside.lesson import l30_numbers as numbers
from lowside.plots import heating, rods
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

GRAM = 0.001  # [kg]
TUBES = ["copper", "brass", "steel", "stainless steel"]
SIZES = [
    (f"{label} in", joint.sizes()[n].diameter)
    for n, label in enumerate(("1/4", "3/8", "1/2", "5/8", "3/4", "7/8"))
]


def as_called(wrap=numbers.WRAP):
    """Give the joint of the call as figure and controls take it.

    Parameters
    ----------
    wrap : str
        What is round the valve.

    Returns
    -------
    dict
        Arguments of `heating_figure` besides the units.
    """
    return {
        "stub": numbers.STUB,
        "line": numbers.LINE,
        "diameter": joint.tube(numbers.DIAMETER).diameter,
        "stub_length": numbers.STUB_LENGTH,
        "body_mass": numbers.BODY_MASS,
        "wrap": wrap,
        "water": joint.wraps()[numbers.WRAP].water,
        "flame": numbers.FLAME,
        "filler": numbers.FILLER,
        "stay": numbers.STAY,
        "limit": numbers.limit(),
    }


def braze(show, **values):
    """Draw a joint that is brazed in the hall.

    Parameters
    ----------
    show : Readout
        The reader's units.
    **values
        Arguments of `heating_figure` besides the surroundings.

    Returns
    -------
    LiveFigure
    """
    return heating.heating_figure(show, ambient=numbers.SHOP, boiling=numbers.boiling(), **values)


def picture(show):
    """Draw the joint of the call without anything round the valve."""
    drawn = braze(show, **as_called("nothing"))
    drawn.readings = ()  # nothing here is read off a gauge
    return drawn


def picture_of_fillers(show):
    """Draw the fillers for the joint of the call."""
    return rods.rods_figure(show, numbers.STUB, numbers.LINE)


def explore(reader):
    """Move metal, size, wrap, flame, filler and time."""
    start = as_called("nothing")
    slider = partial(_slider, start)
    return Panel(
        braze,
        [
            Choice("wrap", "Round the valve", ["nothing", *joint.wraps()], start["wrap"]),
            slider("stay", "Torch stays", "time", 0.0, 60.0, 1.0),
            slider("flame", "Heat into the cold joint", "heat_flow", 150.0, 1500.0, 10.0),
            Choice("filler", "Filler", list(joint.fillers()), start["filler"]),
            Choice("stub", "Stub of the valve", TUBES, start["stub"]),
            Choice("line", "Line it goes into", TUBES, start["line"]),
            Choice("diameter", "Outer diameter", SIZES, start["diameter"]),
            slider("stub_length", "Stub, joint to body", "length", 0.010, 0.060, 0.001),
            slider("body_mass", "Valve body", "mass", 0.050, 0.300, 0.005),
            slider("water", "Water in the wrap", "mass", 0.0, 0.150, 0.005),
            slider("limit", "Limit of the body", "temperature", 363.15, 453.15, 1.0),
        ],
        reader,
        "How hot does the valve get?",
        heating.why,
        {
            "Wet rag": {**start, "wrap": "wet rag"},
            "As it was botched": {**start, "filler": numbers.OLD_FILLER},
            "Small torch, wet rag": {
                **start,
                "wrap": "wet rag",
                "flame": 300.0,
            },
            "Stainless stub": {**start, "stub": "stainless steel"},
        },
        "What happens. Only on a system that is recovered, purged and open, nitrogen flowing",
    )


def choose(reader):
    """Choose the two base metals."""
    metals = list(joint.metals())
    return Panel(
        rods.rods_figure,
        [
            Choice("one", "This metal", metals, numbers.STUB),
            Choice("other", "Onto this one", metals, numbers.LINE),
        ],
        reader,
        "Which filler?",
        examples={
            "Copper on copper": {"one": "copper", "other": "copper"},
            "Copper on brass": {"one": "copper", "other": "brass"},
        },
    )


def _slider(start, name, label, kind, low, high, step=None):
    return Slider(name, label, kind, start[name], low, high, step)


PICTURES = {"heat": picture, "fillers": picture_of_fillers}
PANELS = {"heat": explore, "fillers": choose}
