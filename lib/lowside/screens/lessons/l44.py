"""Lesson 44 shows what a drier keeps, what water does at the port, and what a vacuum means."""

from __future__ import annotations

from functools import partial

from lowside import units
from lowside.lesson import hall, l44
from lowside.plots import drying, icing, vacuum
from lowside.screens.controls import Slider
from lowside.screens.panel import Panel

GRAM = 0.001  # [kg]
SHELL = 10e-6, 200e-6  # [m3]
BEADS = 0.0, 0.080  # [kg]
CONDENSING = 303.15, 328.15  # [K]
EVAPORATING = 235.15, 281.15  # [K]


def as_found():
    """Give the drier of the call as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `drier_figure` besides the units.
    """
    now = l44.running()
    return {
        "nameplate": hall.box(l44.BOX).charge,
        "topped_up": l44.ADDED,
        "inner_volume": l44.FITTED[0],
        "beads": l44.FITTED[1],
        "condensing": float(now.liquid_temperature + now.subcooling),
        "subcooling": float(now.subcooling),
        "dryness": l44.DRYNESS,
    }


def as_wet():
    """Give the water of the lesson as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `icing_figure` besides the units.
    """
    now = l44.running()
    return {
        "drops": l44.DROPS,
        "beads": l44.ORIGINAL[1],
        "charge": hall.box(l44.BOX).charge,
        "evaporating": float(now.evaporating_temperature),
        "quality": l44.quality(),
        "liquid": float(now.liquid_temperature),
    }


def as_evacuated():
    """Give the vacuum of the call as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `vacuum_figure` besides the units.
    """
    return {"vacuum": l44.VACUUM, "shop": l44.SHOP, "coldest": l44.COLD_COIL}


def _drier(show, **values):
    return drying.drier_figure(show, original=l44.ORIGINAL, **values)


def picture(show):
    """Draw both driers of the call and where the grams are."""
    drawn = _drier(show, **as_found())
    drawn.readings = ()  # an account, and no gauge readings
    return drawn


def explore(reader):
    """Move shell, beads and what was added."""
    start = as_found()
    slider = partial(_slider, start)
    right = {
        **start,
        "topped_up": 0.0,
        "inner_volume": l44.ORIGINAL[0],
        "beads": l44.ORIGINAL[1],
    }
    return Panel(
        _drier,
        [
            slider("inner_volume", "Drier, inner volume", "volume", *SHELL),
            slider("beads", "Beads in it", "charge", *BEADS, GRAM),
            slider("topped_up", "Added on top", "charge", 0.0, 0.060, GRAM),
            slider("nameplate", "Nameplate", "charge", 0.050, 0.500, GRAM),
            slider("condensing", "Condensing", "temperature", *CONDENSING),
            slider("subcooling", "Subcooling", "temperature_difference", 0.0, 15.0),
            slider("dryness", "Dry means below", "water_content", 1e-6, 50e-6, 1e-6),
        ],
        reader,
        "What the drier keeps",
        drying.why,
        {"As it was built": right, "Big drier, nothing added": {**start, "topped_up": 0.0}},
        "What is where. Recover, purge, cut; no torch on propane, never above the nameplate",
    )


def ice(reader):
    """Move water, beads and the temperature behind the port."""
    start = as_wet()
    slider = partial(_slider, start)
    cooler = {**start, "evaporating": units.ICE_POINT - 6.0, "quality": 0.28}
    return Panel(
        icing.icing_figure,
        [
            slider("drops", "Water got in [drops]", "number", 0.0, 60.0, 0.25),
            slider("beads", "Beads (0: no drier)", "charge", *BEADS, GRAM),
            slider("evaporating", "Behind the port", "temperature", *EVAPORATING),
            slider("charge", "Propane in the box", "charge", 0.050, 0.500, GRAM),
            slider("quality", "Of it vapour", "ratio", 0.0, 0.6, 0.01),
            slider("liquid", "Drier at", "temperature", 288.15, 323.15),
        ],
        reader,
        "Does water freeze at the port?",
        icing.why,
        {"No drier": {**start, "beads": 0.0}, "A cooler": cooler},
        "What the water does",
    )


def pump(reader):
    """Move the vacuum and the temperatures of the box."""
    start = as_evacuated()
    slider = partial(_slider, start)
    return Panel(
        vacuum.vacuum_figure,
        [
            slider("vacuum", "Vacuum gauge", "vacuum", 50 * units.MICRON, 5000 * units.MICRON),
            slider("coldest", "Coldest part", "temperature", vacuum.COLDEST, vacuum.WARMEST),
            slider("shop", "Warm parts", "temperature", 263.15, vacuum.WARMEST),
        ],
        reader,
        "What the vacuum says about water",
        vacuum.why,
        {"Coil warmed first": {**start, "coldest": 288.15}},
        "What your gauges would say; the manifold gauge cannot tell these vacuums apart",
    )


def _slider(start, name, label, kind, low, high, step=None):
    return Slider(name, label, kind, start[name], low, high, step)


PICTURES = {"two driers": picture}
PANELS = {"drier": explore, "ice": ice, "vacuum": pump}
