"""Lesson 40 shows a box filled by its grams, running along its charge, and standing."""

from __future__ import annotations

from functools import partial

from lowside import charge
from lowside.lesson import l40
from lowside.plots import knee, standing
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

GRAM = 0.001  # [kg]
CHARGE = 0.040, 0.140  # [kg]
AMBIENT = 288.15, 316.15  # [K]
DRIER = 0.0, 60e-6  # [m3]
LENGTH = 0.5, 6.0  # [m]
STANDING = 0.030, 0.125  # [kg]
ROOM = 288.15, 308.15  # [K]
COLDER = 0.0, 25.0  # [K]
OIL = 0.100, 0.350  # [kg]


def as_built():
    """Give the box as it was built, as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `knee_figure` besides the units.
    """
    box = l40.cabinet()
    return {
        "charge": box.charge,
        "ambient": box.ambient_temperature,
        "drier": box.box.drier,
        "liquid_length": box.box.liquid_line.length,
        "model": charge.void.DEFAULT,
    }


def as_found():
    """Give the box as the call has it.

    Returns
    -------
    dict
        Arguments of `knee_figure` besides the units.
    """
    return {**as_built(), "charge": l40.FOUND, "drier": l40.FITTED}


def as_standing():
    """Give the box switched off overnight, its door shut.

    Returns
    -------
    dict
        Arguments of `standing_figure` besides the units.
    """
    box = l40.cabinet()
    return {
        "charge": box.charge,
        "colder": l40.ROOM_AIR - box.box_temperature,
        "ambient": l40.ROOM_AIR,
        "oil_mass": box.box.oil.mass,
    }


def picture(show):
    """Draw the box as it was built."""
    return knee.knee_figure(show, **as_built())


def found(show):
    """Draw the box as the call has it."""
    return knee.knee_figure(show, **as_found())


def explore(reader):
    """Move charge, ambient, drier and line."""
    start = as_built()
    slider = partial(_slider, start)
    return Panel(
        knee.knee_figure,
        [
            slider("charge", "Charge", "charge", *CHARGE, GRAM),
            slider("ambient", "Air at the condenser", "temperature", *AMBIENT),
            slider("drier", "Drier, free inside", "volume", *DRIER),
            slider("liquid_length", "Liquid line", "distance", *LENGTH),
            Choice("model", "Grams counted by", list(charge.void.MODELS), start["model"]),
        ],
        reader,
        "Where the grams sit",
        knee.why,
        {
            "As the call has it": as_found(),
            "Big drier, full charge": {**start, "drier": l40.FITTED},
            "A third gone": {**start, "charge": (1.0 - l40.OUT) * start["charge"]},
        },
        "What instruments would show. A model to play with: on the job never above the nameplate",
    )


def at_rest(reader):
    """Move charge, temperatures and oil of a box that stands."""
    start = as_standing()
    slider = partial(_slider, start)
    return Panel(
        standing.standing_figure,
        [
            slider("charge", "Charge", "charge", *STANDING, GRAM),
            slider("colder", "Evaporator colder by", "temperature_difference", *COLDER),
            slider("ambient", "Everything else at", "temperature", *ROOM),
            slider("oil_mass", "Oil in the compressor", "charge", *OIL),
        ],
        reader,
        "Switched off, until nothing moves any more",
        standing.why,
        {
            "Door open": {**start, "colder": l40.COLDER},
            "Door open, half the charge": {
                **start,
                "colder": l40.COLDER,
                "charge": 0.5 * start["charge"],
            },
        },
        "What the gauge would show after standing; gauges on a small box only if needed",
    )


def _slider(start, name, label, kind, low, high, step=None):
    return Slider(name, label, kind, start[name], low, high, step)


PICTURES = {"as built": picture, "as found": found}
PANELS = {"charge": explore, "standing": at_rest}
