"""Lesson 10 shows a cycle on the pressure-enthalpy diagram, and a person's readings on it."""

from __future__ import annotations

from dataclasses import asdict, replace

from lowside import cycle, readings, refrigerants, units
from lowside.errors import NoOperatingPoint, OutOfRange
from lowside.lesson import hall, l10, plant
from lowside.plots import own, ph
from lowside.readings.finding import HOT_DISCHARGE
from lowside.screens.controls import Choice, Slider, Typed
from lowside.screens.panel import Panel

# How far each input must move to count as much as the others, and what it does (up, down).
_CAUSES = {
    "evaporating_temperature": (
        5.0,
        "With a warmer coil the compressor has less far to lift the vapour: less work, a cooler "
        "discharge, and every stroke carries more.",
        "With a colder coil the compressor must lift thinner vapour further: more work, a hotter "
        "discharge, and a little more flashes behind the valve.",
    ),
    "condensing_temperature": (
        5.0,
        "Hotter condensing sends hotter liquid to the valve, so more of it flashes, and the "
        "compressor must lift further.",
        "Cooler condensing sends cooler liquid to the valve, so less of it flashes, and the "
        "compressor has less far to lift.",
    ),
    "superheat": (
        5.0,
        "More superheat moves point 1 to the right: the coil gives a little more, but with dry "
        "pipe, and everything after it gets hotter.",
        "Less superheat moves point 1 to the left, towards the dome: cooler all the way, until "
        "liquid reaches the compressor.",
    ),
    "subcooling": (
        5.0,
        "More subcooling moves point 3 to the left: less flashes behind the valve, for the same "
        "work of the compressor.",
        "Less subcooling moves point 3 to the right: more flashes behind the valve, for the same "
        "work of the compressor.",
    ),
    "efficiency": (
        0.1,
        "A better compressor wastes less work as heat: only point 2 moves to the left.",
        "A poorer compressor turns more work into heat: only point 2 moves to the right.",
    ),
}
_STILL = 1e-6


def picture(show):
    """Draw the cycle of the call."""
    return ph.cycle_figure(plant.cycle_of(hall.box(l10.BOX)), show)


def explore(reader):
    """Move the cycle of the call."""
    box, now = hall.box(l10.BOX), plant.cycle_of(hall.box(l10.BOX))
    point = plant.run(box)
    difference = "temperature_difference"
    controls = [
        Choice("refrigerant", "Refrigerant", refrigerants.NAMES, box.refrigerant),
        _slider("evaporating", "Evaporating temperature", point.evaporating_temperature, -35, 10),
        _slider("condensing", "Condensing temperature", box.summer_condensing, 20, 60),
        Slider("superheat", "Superheat", difference, float(point.superheat), 0.0, 30.0, 0.5),
        Slider("subcooling", "Subcooling", difference, float(point.subcooling), 0.0, 15.0, 0.5),
        Slider(
            "efficiency",
            "Compressor efficiency",
            "ratio",
            float(now.isentropic_efficiency),
            0.5,
            1.0,
            0.01,
        ),
    ]
    return Panel(move, controls, reader, "The cycle on the diagram", what_changed)


def move(show, refrigerant, evaporating, condensing, superheat, subcooling, efficiency):
    """Draw one cycle.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Its name.
    evaporating, condensing : float
        Dew points of the two gauges. [K]
    superheat, subcooling : float
        [K]
    efficiency : float
        Isentropic. [-]

    Returns
    -------
    LiveFigure
        Its numbers hold what was set as well; a remark warns of a discharge too hot for oil.

    Raises
    ------
    NoOperatingPoint
        If the compressor would heat the vapour beyond what the tables hold.
    """
    fluid = refrigerants.get(refrigerant)
    try:
        result = cycle.between_temperatures(
            fluid, evaporating, condensing, superheat, subcooling, efficiency
        )
    except OutOfRange as error:
        raise NoOperatingPoint(
            f"the compressor would heat {refrigerant} beyond the end of our tables: take less "
            "superheat, a warmer coil or cooler condensing",
            evaporating_temperature=evaporating,
            condensing_temperature=condensing,
        ) from error
    figure = ph.cycle_figure(result, show, remarks=_too_hot(result, show))
    figure.numbers |= {"refrigerant": refrigerant, "efficiency": efficiency}
    return figure


def _too_hot(result, show):
    hot, limit = float(result.discharge.temperature), HOT_DISCHARGE
    if hot <= limit:
        return ()
    hot, limit = (show.text(value, "temperature") for value in (hot, limit))
    return (
        (
            "Look again",
            f"The vapour leaves the compressor at {hot}. On a discharge line above about {limit} "
            "oil suffers (common practice).",
        ),
    )


def what_changed(start, now, show):
    """Say what moved most since the start, and why the rest followed.

    Parameters
    ----------
    start, now : dict
        Numbers of two figures of `move`.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A sentence or two.
    """
    moved = {name: (now[name] - start[name]) / size for name, (size, _, _) in _CAUSES.items()}
    most = max(moved, key=lambda name: abs(moved[name]))
    other = now["refrigerant"] != start["refrigerant"]
    if abs(moved[most]) < _STILL and not other:
        return "Nothing has moved yet. Move one thing at a time and watch what follows."
    why = ""
    if other:
        why += (
            f"{now['refrigerant']} boils at other pressures than {start['refrigerant']}: the same "
            "temperatures, other gauges. "
        )
    if abs(moved[most]) >= _STILL:
        why += _CAUSES[most][1 if moved[most] > 0 else 2] + " "
    texts = {
        name: (show.text(start[name], kind), show.text(now[name], kind))
        for name, kind in (("cooling", "enthalpy"), ("discharge_temperature", "temperature"))
    }
    texts["cop"] = f"{start['cop']:.2f}", f"{now['cop']:.2f}"
    return why + "Since the start: cooling {} → {}, discharge {} → {}, COP {} → {}.".format(
        *texts["cooling"], *texts["discharge_temperature"], *texts["cop"]
    )


def own_readings(reader):
    """Put a person's own readings on the diagram."""
    healthy = l10.taken()
    low, high = _celsius(-60), _celsius(160)
    fluid = hall.box(l10.BOX).refrigerant
    controls = [Choice("refrigerant", "Refrigerant", refrigerants.NAMES, fluid)]
    for name, kind in readings.KIND.items():
        label = _LABELS[name]
        value = getattr(healthy, name)
        if kind == "temperature":
            controls.append(Typed(name, label, kind, value, low, high))
        else:
            controls.append(Typed(name, label, kind, value))
    return Panel(
        place,
        controls,
        reader,
        "Put your own readings on the diagram",
        examples=examples(),
        lead="What your readings amount to",
    )


_LABELS = {
    "suction_pressure": "Suction gauge",
    "suction_temperature": "Suction-line clamp",
    "head_pressure": "Head gauge",
    "liquid_temperature": "Liquid-line clamp",
    "discharge_temperature": "Discharge clamp",
    "ambient_temperature": "Air at condenser",
    "box_temperature": "Air in the box",
}


def place(show, refrigerant, **taken):
    """Draw a person's readings.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Its name.
    **taken : float or None
        Fields of ``readings.Readings``. [SI]

    Returns
    -------
    LiveFigure
    """
    return own.readings_figure(refrigerants.get(refrigerant), readings.Readings(**taken), show)


def examples():
    """Collect readings worth seeing, from solved boxes of the hall and known slips.

    Returns
    -------
    dict
        Name of a button to the SI values that it sets.
    """
    healthy = l10.taken()
    fish = hall.box("fish-freezer")
    freezer = plant.run(fish).readings(fish.summer_ambient)
    celsius = units.from_si(healthy.suction_temperature, "degC")
    sets = {
        "The propane box of the call": ("R290", healthy),
        "Hoses swapped": (
            "R290",
            replace(
                healthy,
                suction_pressure=healthy.head_pressure,
                head_pressure=healthy.suction_pressure,
            ),
        ),
        "°C written as °F": (
            "R290",
            replace(healthy, suction_temperature=float(units.to_si(round(celsius), "degF"))),
        ),
        "Wrong refrigerant": ("R404A", healthy),
        "Freezer with a blend": (fish.refrigerant, freezer),
        "All blank": ("R290", readings.Readings()),
    }
    return {name: {"refrigerant": fluid, **asdict(taken)} for name, (fluid, taken) in sets.items()}


def _slider(name, label, value, low, high):
    return Slider(name, label, "temperature", float(value), _celsius(low), _celsius(high), 0.5)


def _celsius(number):
    return float(units.to_si(number, "degC"))


PICTURES = {"the cycle of the call": picture}
PANELS = {"the cycle": explore, "your own readings": own_readings}
