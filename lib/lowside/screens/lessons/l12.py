"""Lesson 12 shows the glide: along the coils, on the diagram, and for every refrigerant."""

from __future__ import annotations

from lowside import readings, refrigerants, units
from lowside.lesson import hall, l12, plant
from lowside.plots import coil, glides, ph
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

_VIEWS = [("the coils, unrolled", "coils"), ("the pressure-enthalpy diagram", "diagram")]
_SUCTION = (1.0e5, 7.0e5)  # [Pa]
_HEAD = (6.0e5, 28.0e5)  # [Pa]
_ANY = (1.0e5, 20.0e5)  # [Pa]


def picture(show):
    """Draw the coils of the call."""
    return coil.coil_figure(l12.fluid_of_the_call(), show, **_values(l12.taken()))


def diagram(show):
    """Draw the glide of the call on the pressure-enthalpy diagram."""
    now = l12.taken()
    fluid = l12.fluid_of_the_call()
    return ph.glide_figure(fluid, now.suction_pressure, show, now.suction_temperature)


def explore(reader):
    """Move the readings of the call and see what each column makes of them."""
    start = _values(l12.taken())
    return Panel(
        move,
        [
            Choice("refrigerant", "Refrigerant", refrigerants.NAMES, l12.fluid_of_the_call().name),
            Choice("view", "Look at", _VIEWS),
            _gauge("suction_pressure", "Suction gauge", start, _SUCTION, 2e3),
            _clamp("line_temperature", "Suction-line clamp", start, (-45.0, 25.0)),
            _gauge("head_pressure", "Head gauge", start, _HEAD, 5e3),
            _clamp("liquid", "Liquid-line clamp", start, (5.0, 60.0)),
        ],
        reader,
        "One set of readings, two columns",
        what_the_columns_say,
        examples(),
    )


def move(show, refrigerant, view, suction_pressure, line_temperature, head_pressure, liquid):
    """Draw one set of readings, along the coils or on the diagram.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Its name.
    view : {"coils", "diagram"}
        Where to look at it.
    suction_pressure, head_pressure : float
        Absolute. [Pa]
    line_temperature, liquid : float
        Clamps on suction line and liquid line. [K]

    Returns
    -------
    LiveFigure
        Its numbers are those of the coils in both views.
    """
    fluid = refrigerants.get(refrigerant)
    along = coil.coil_figure(fluid, show, suction_pressure, line_temperature, head_pressure, liquid)
    along.numbers |= {"refrigerant": refrigerant, "has_glide": fluid.has_glide}
    if view == "coils":
        return along
    figure = ph.glide_figure(fluid, suction_pressure, show, line_temperature)
    figure.numbers = along.numbers
    return figure


def what_the_columns_say(start, now, show):
    """Say what the wrong column does to whoever believes it.

    Parameters
    ----------
    start, now : dict
        Numbers of two figures of `move`; only the present ones count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A sentence or two.
    """

    def difference(name):
        return show.text(now[name], "temperature_difference")

    if not now["has_glide"]:
        said = f"{now['refrigerant']} boils and condenses at one temperature: one column is enough."
        if now["subcooling"] < 0:
            said += (
                " No liquid line is warmer than that: a reading is wrong, or there are bubbles in "
                "it; how many, no clamp can tell."
            )
        return said
    said = (
        f"{now['refrigerant']} glides {difference('glide')} at the suction gauge. The bubble "
        f"column promises {difference('superheat_from_bubble')} of superheat"
    )
    if now["superheat"] > now["superheat_error"]:
        said += f"; there are {difference('superheat')}."
    elif now["superheat"] > 0:
        said += (
            f"; there are {difference('superheat')}, no more than gauge and clamp may err "
            f"({difference('superheat_error')}): no proof that the last drop is gone."
        )
    elif now["superheat_from_bubble"] > 0:
        said += "; there is none: liquid is leaving the coil."
    else:
        return "Colder than this pressure allows: a reading is wrong, or it is another refrigerant."
    if now["subcooling"] <= 0 < now["subcooling_from_dew"]:
        said += (
            " In the liquid line the dew column hides the bubbles; what is vapour there already "
            "takes no heat out of the box."
        )
    elif now["subcooling_from_dew"] <= 0:
        said += " No liquid line is so warm at this head: a reading is wrong, or it is empty."
    return said


def every_refrigerant(reader):
    """Compare the glide of all refrigerants at one pressure."""
    start = _values(l12.taken())
    return Panel(
        all_glides,
        [
            Choice("refrigerant", "Highlight", refrigerants.NAMES, l12.fluid_of_the_call().name),
            _gauge("pressure", "Pressure", {"pressure": start["suction_pressure"]}, _ANY, 5e3),
        ],
        reader,
        "Who glides, and how far",
    )


def all_glides(show, refrigerant, pressure):
    """Draw the glide of all refrigerants.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        The one that stands out.
    pressure : float
        Absolute. [Pa]

    Returns
    -------
    LiveFigure
    """
    return glides.glides_figure(show, pressure, refrigerant)


def examples():
    """Collect readings worth seeing, from solved boxes of the hall.

    Returns
    -------
    dict
        Name of a button to the SI values that it sets.
    """
    soup = hall.box("soup-reach-in")
    propane = hall.box("drinks-merchandiser")
    name = l12.fluid_of_the_call().name
    sets = {
        "As it is now": (name, l12.taken()),
        "Before the stem was turned": (name, l12.as_built()),
        "The soup reach-in": (soup.refrigerant, plant.run(soup).readings()),
        "The drinks merchandiser": (propane.refrigerant, plant.run(propane).readings()),
    }
    return {label: {"refrigerant": fluid, **_values(read)} for label, (fluid, read) in sets.items()}


def _values(read: readings.Readings):
    return {
        "suction_pressure": read.suction_pressure,
        "line_temperature": read.suction_temperature,
        "head_pressure": read.head_pressure,
        "liquid": read.liquid_temperature,
    }


def _gauge(name, label, start, limits, step):
    return Slider(name, label, "gauge_pressure", start[name], *limits, step)


def _clamp(name, label, start, limits):
    low, high = (float(units.to_si(limit, "degC")) for limit in limits)
    return Slider(name, label, "temperature", start[name], low, high, 0.25)


PICTURES = {"along the coils": picture, "on the diagram": diagram}
PANELS = {"the columns": explore, "every refrigerant": every_refrigerant}
