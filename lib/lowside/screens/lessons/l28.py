"""Lesson 28 puts one valve on the recorder, and shows from which superheat on it settles."""

from __future__ import annotations

from dataclasses import asdict

from lowside.lesson import hall, l28_numbers, l28_tasks
from lowside.plots.edge import edge_figure
from lowside.plots.hunting import hunting_figure
from lowside.plots.huntingwords import BOX, why
from lowside.screens.controls import Choice, Slider
from lowside.screens.ladder import Ladder
from lowside.screens.panel import Panel
from lowside.system import ports

PORT = 0.63e-3, 6.3e-3  # [m]
STATIC = 0.5, 6.0  # [K]
LOAD = 0.4, 1.0
CLOCK = tuple((f"{hour} o'clock", float(hour)) for hour in (12, 2, 4, 6, 8, 10))
LOADS = (0.4, 0.55, 0.7, 0.85, 1.0)  # of the second picture


def recorder_figure(show, **values):
    """Draw a valve of the hall on the recorder.

    Parameters
    ----------
    show : Readout
        The reader's units.
    **values
        As in `l28_numbers.Setting`.

    Returns
    -------
    LiveFigure

    Raises
    ------
    LowsideError
        If the box does not run so.
    """
    setting = l28_numbers.Setting(**values)
    box = hall.box(setting.box)
    return hunting_figure(
        show,
        l28_numbers.at_rest(setting),
        l28_numbers.recorded(setting),
        f"{box.what}, {box.refrigerant}",
    )


def picture(show):
    """Draw the valve of the call."""
    return recorder_figure(show, **asdict(l28_numbers.found()))


def edge(show):
    """Draw from which superheat on the valve of the call settles, at every load."""
    settings = (
        ("stem as found", l28_numbers.found()),
        ("stem as planned", l28_numbers.found(static_superheat=_planned().static_superheat)),
    )
    box = hall.box(l28_numbers.BOX)
    port = show.text(l28_numbers.FITTED, "port")
    return edge_figure(
        show,
        f"{box.what}, {box.refrigerant}, port {port}",
        [l28_numbers.edge(load) for load in LOADS],
        [
            (said, [l28_numbers.at_rest(_loaded(setting, load)) for load in LOADS])
            for said, setting in settings
        ],
    )


def explore(reader):
    """Move port, stem, load and everything about the bulb."""
    start = asdict(l28_numbers.found())
    sizes = tuple(size for size in ports.KIT if PORT[0] <= size <= PORT[1])
    rooms = [
        (f"{box.what}, {box.refrigerant}", box.key)
        for box in hall.boxes()
        if isinstance(box.metering, hall.ExpansionValve)
    ]

    def choice(name, label, options):
        return Choice(name, label, options, start[name])

    controls = [
        Ladder("port", "Port", "port", start["port"], *PORT, None, sizes),
        Slider(
            "static_superheat",
            "Static superheat (stem)",
            "temperature_difference",
            start["static_superheat"],
            *STATIC,
        ),
        Slider("load", "Load now, compressor follows", "ratio", start["load"], *LOAD, 0.05),
        choice("contact", "Bulb is strapped", [("tight", "tight"), ("loose", "loose")]),
        choice(
            "cover",
            "Bulb is",
            [
                ("insulated", "covered"),
                ("bare, in the box's air", "bare"),
                ("bare, in a warm room", "bare, warm room"),
            ],
        ),
        choice("clock", "Bulb on the line at", CLOCK),
        choice(
            "equaliser",
            "Equaliser",
            [
                ("joins after the bulb", "after"),
                ("joins before it, leaking", "before"),
                ("internal", "internal"),
            ],
        ),
        choice("box", "Box", rooms),
    ]
    examples = {
        "As planned": asdict(_planned()),
        "Large cold room": asdict(l28_numbers.planned("produce-room")),
        "Propane merchandiser": asdict(l28_numbers.planned("drinks-merchandiser")),
    }
    return Panel(
        recorder_figure,
        controls,
        reader,
        title=l28_tasks.PANEL,
        why=why,
        anew=BOX,
        examples=examples,
        lead="What gauge and clamp would say over the last minutes",
    )


def _planned():
    return l28_numbers.planned(l28_numbers.BOX)


def _loaded(setting, load):
    return l28_numbers.Setting(**{**asdict(setting), "load": load})


PICTURES = {"recorder": picture, "edge": edge}
PANELS = {"valve": explore}
