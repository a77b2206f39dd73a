"""Lesson 20 shows the forces in a valve, what its bulb is filled with, its equaliser, its limit."""

from __future__ import annotations

from lowside import refrigerants
from lowside.lesson import hall, l20_numbers, l20_tasks
from lowside.plots import charges, equaliser, pulling, valvewords
from lowside.plots.equaliser import equaliser_figure
from lowside.plots.valveforces import forces_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

EVAPORATING = 238.15, 280.15  # [K]
CONDENSING = 293.15, 328.15  # [K]
TURNS = -1.5, 3.0  # of the stem: further out the spring is slack
QUARTER_TURN = 0.25
DROP = 0.0, 2.0e5  # [Pa]
DROP_STEP = 5.0e3  # [Pa]
LIMITS = 251.15, 273.15  # [K]


def as_planned():
    """Give the valve of the cold room as the main figure takes it.

    Returns
    -------
    dict
        Arguments of `forces_figure` besides the units.
    """
    box = hall.box(l20_numbers.BOX)
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "set_at": box.evaporating_temperature,
        "set_condensing": box.summer_condensing,
        "evaporating": box.evaporating_temperature,
        "condensing": box.summer_condensing,
        "load_share": 1.0,
        "turns": 0.0,
        "balanced": False,
        "held": False,
        "superheat": 5.0,
    }


def as_fitted():
    """Give the valve of the call as the figure of the equaliser takes it.

    Returns
    -------
    dict
        Arguments of `equaliser_figure` besides the units.
    """
    box = hall.box(l20_numbers.BOX)
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "set_at": box.evaporating_temperature,
        "condensing": box.summer_condensing,
        "difference": l20_numbers.COIL_DIFFERENCE,
        "evaporating": box.evaporating_temperature,
        "drop": l20_numbers.DISTRIBUTOR,
        "external": False,
        "load_share": 1.0,
        "turns": 0.0,
    }


def as_bulb():
    """Give the three bulbs as their figure takes them.

    Returns
    -------
    dict
        Arguments of `charges_figure` besides the units.
    """
    box = hall.box(l20_numbers.FREEZER)
    return {
        "refrigerant": box.refrigerant,
        "charge": "liquid",
        "set_at": box.evaporating_temperature,
        "static": l20_numbers.STATIC,
        "evaporating": 263.15,
        "flatness": l20_numbers.FLATNESS,
        "highest": l20_numbers.HIGHEST,
    }


def picture(show):
    """Draw the valve of the cold room as planned."""
    return forces_figure(show, **as_planned())


def explore(reader):
    """Move stem, load, temperatures and, by hand, the bulb."""
    start = as_planned()
    fixed = {name: start.pop(name) for name in ("load", "set_at", "set_condensing")}

    def slider(name, label, kind, limits, step=None):
        return Slider(name, label, kind, start[name], *limits, step)

    controls = [
        slider("turns", "Stem, turns clockwise", "number", TURNS, QUARTER_TURN),
        slider("load_share", "Load, of design", "ratio", (0.1, 2.0), 0.05),
        slider("evaporating", "Evaporating", "temperature", EVAPORATING),
        slider("condensing", "Condensing", "temperature", CONDENSING),
        Choice("balanced", "Port is", [("conventional", False), ("balanced", True)]),
        Choice("held", "The bulb", [("settles by itself", False), ("is held by hand", True)]),
        slider("superheat", "Superheat, if held", "temperature_difference", (0.0, 16.0)),
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
    ]

    def step(show, **values):
        return forces_figure(show, **fixed, **values)

    return Panel(
        step,
        controls,
        reader,
        title="Four forces and a pin",
        why=valvewords.why,
        anew=valvewords.ANEW,
        examples={
            "A turn in": {**start, "turns": 1.0},
            "Light load": {**start, "load_share": 0.25},
            "Freezer": {**start, "evaporating": 248.15},
        },
    )


def compare_bulbs(reader):
    """Move the filling of the bulb and the evaporating temperature."""
    start = as_bulb()

    def slider(name, label, kind, limits, step=None):
        return Slider(name, label, kind, start[name], *limits, step)

    fillings = [(words, name) for name, words in charges.NAMES.items()]
    difference = "temperature_difference"
    cold = charges.COLDEST, charges.WARMEST
    return Panel(
        charges.charges_figure,
        [
            Choice("charge", "Bulb has a", fillings),
            slider("evaporating", "Evaporating", "temperature", cold),
            Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
            slider("set_at", "Set at (evaporating)", "temperature", (243.15, 278.15)),
            slider("static", "Set to (static superheat)", difference, (1.0, 6.0)),
            slider("flatness", "Cross charge, slope", "ratio", (0.8, 1.0), 0.01),
            slider("highest", "Gas charge closes at", "temperature", (253.15, 283.15)),
        ],
        reader,
        title=l20_tasks.PANEL,
        why=charges.why,
        examples={
            "Cross charge": {**start, "charge": "cross"},
            "Above the limit": {**start, "charge": "gas"},
        },
        lead="Superheat that opens the valve",
    )


def equalise(reader):
    """Move drop, temperature, load and stem for both kinds of equaliser."""
    start = as_fitted()
    fixed = {name: start.pop(name) for name in ("load", "set_at", "condensing")}

    def slider(name, label, kind, limits, step=None):
        return Slider(name, label, kind, start[name], *limits, step)

    kinds = [("internal", False), ("external", True)]
    controls = [
        Choice("external", "Equaliser", kinds, start["external"]),
        slider("drop", "Drop at design flow", "pressure_difference", DROP, DROP_STEP),
        slider("evaporating", "Evaporating", "temperature", EVAPORATING),
        slider("load_share", "Load, of design", "ratio", (0.1, 1.2), 0.05),
        slider("turns", "Stem, turns clockwise", "number", TURNS, QUARTER_TURN),
        slider("difference", "Box air less evaporating", "temperature_difference", (4.0, 15.0)),
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start["refrigerant"]),
    ]

    def step(show, **values):
        return equaliser_figure(show, **fixed, **values)

    return Panel(
        step,
        controls,
        reader,
        title="Internal or external equaliser",
        why=equaliser.why,
        examples={
            "With its line": {**start, "external": True},
            "A plain coil": {**start, "drop": 2.0e4},
            "Stem let out": {**start, "drop": 5.0e4, "turns": -1.5, "load_share": 0.3},
        },
        lead="What gauges would say, and the superheat it takes",
    )


def pull(reader):
    """Move the limit, the start and the time."""
    start = l20_numbers.freezer()
    moved = "warm", "highest", "steel"
    fixed = {name: start[name] for name in start if name not in moved}

    def step(show, **values):
        return pulling.pulling_figure(show, **fixed, **values)

    return Panel(
        step,
        [
            Slider("share", "How far into it", "ratio", 0.2, 0.0, 1.0, 0.01),
            Slider("highest", "Limit (evaporating)", "temperature", start["highest"], *LIMITS),
            Slider("warm", "Box air at the start", "temperature", start["warm"], 258.15, 298.15),
            Slider("steel", "Racks and walls, as steel", "goods", start["steel"], 500.0, 6000.0),
        ],
        reader,
        title="Pull-down with and without a limit",
        why=pulling.why,
        lead="What your gauges and clamps would say then",
    )


PICTURES = {"forces": picture}
PANELS = {"forces": explore, "charges": compare_bulbs, "equaliser": equalise, "pull-down": pull}
