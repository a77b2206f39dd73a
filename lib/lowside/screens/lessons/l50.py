"""Lesson 50 shows one fault at a time, and the table of all of them."""

from __future__ import annotations

from lowside import faults, system
from lowside.lesson import l50_numbers
from lowside.plots import faultpage, faultwords, signtable
from lowside.screens.controls import Choice, Slider
from lowside.screens.panel import Panel

AMBIENT = 293.15, 315.15  # [K]
STEP = 1.0 / faults.shifts.STEPS
HALF = 0.5


def boxes():
    """Name the boxes to choose from.

    Returns
    -------
    list of (str, str)
        Words and key.
    """
    return [
        (f"{system.cabinets.get(name).box.refrigerant.name} {system.cabinets.get(name).what}", name)
        for name in system.cabinets.names()
    ]


def as_found():
    """Give the box of the call as figure and controls take it.

    Returns
    -------
    dict
        Arguments of `fault_figure` besides the units.
    """
    fault = faults.get("strainer")
    return {
        "cabinet": l50_numbers.CABINET,
        "fault": fault.key,
        "share": fault.usual / fault.high,
        "ambient": l50_numbers.cabinet().ambient_temperature,
    }


def picture(show):
    """Draw the box of the call with its fault."""
    return faultpage.fault_figure(show, **as_found())


def signs(show):
    """Draw the table of the cabinet of the call."""
    return signtable.sign_figure(
        show, l50_numbers.CABINET, l50_numbers.cabinet().ambient_temperature
    )


def explore(reader):
    """Choose box, fault, severity and weather."""
    start = as_found()
    return Panel(
        faultpage.fault_figure,
        [
            Choice("cabinet", "Box", boxes(), start["cabinet"]),
            Choice("fault", "Fault", [(f.name, f.key) for f in faults.ALL], start["fault"]),
            Slider("share", "How bad, of the worst here", "ratio", start["share"], 0.0, 1.0, STEP),
            Slider("ambient", "Air at the condenser", "temperature", start["ambient"], *AMBIENT),
        ],
        reader,
        "One fault at a time",
        faultwords.why,
        {
            "Short of charge": {**start, "fault": "undercharge", "share": HALF},
            "The same, with a tube": {
                **start,
                "cabinet": l50_numbers.TUBE,
                "fault": "undercharge",
                "share": HALF,
            },
            "The same, with a receiver": {
                **start,
                "cabinet": l50_numbers.WALK_IN,
                "fault": "undercharge",
                "share": HALF,
            },
            "Dirty condenser": {**start, "fault": "condenser_dirty", "share": HALF},
            "Air in the system": {**start, "fault": "foreign_gas", "share": HALF},
        },
        "What gauges and clamps would say. A model to break things in; never do it to a real box",
    )


def compare(reader):
    """Choose box and weather for the table of all faults."""
    cabinet = l50_numbers.cabinet()
    kinds = [*boxes(), ("the published kind: fixed orifice", faults.PUBLISHED_KIND)]
    return Panel(
        signtable.sign_figure,
        [
            Choice("box", "Box", kinds, cabinet.key),
            Slider(
                "ambient",
                "Air at the condenser",
                "temperature",
                cabinet.ambient_temperature,
                *AMBIENT,
            ),
        ],
        reader,
        "All faults of one box, beside a published table",
        signtable.why,
    )


PICTURES = {"fault": picture, "signs": signs}
PANELS = {"fault": explore, "signs": compare}
