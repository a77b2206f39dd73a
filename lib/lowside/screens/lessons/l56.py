"""Lesson 56 shows a night of a box, any part of it, and a file of one's own."""

from __future__ import annotations

from lowside.lesson import hall, l56_numbers
from lowside.plots.trending import trend_figure
from lowside.screens.controls import Choice, Slider
from lowside.screens.logreader import LogReader
from lowside.screens.panel import Panel
from lowside.units import HOUR

SPAN = 12.0 * HOUR  # [s]
LEAST = 0.25 * HOUR


def record_figure(show, record, begin, length):
    """Draw a part of one of the lesson's records.

    Parameters
    ----------
    show : Readout
        The reader's units.
    record : str
        Key of ``l56_numbers.RECORDS``.
    begin, length : float
        [s]

    Returns
    -------
    LiveFigure
    """
    name = l56_numbers.RECORDS[record]
    return trend_figure(show, l56_numbers.report(record), begin, length, name[0].upper() + name[1:])


def picture(show):
    """Draw the night of the call."""
    drawn = record_figure(show, "found", 0.0, SPAN)
    drawn.readings = ()
    return drawn


def explore(reader):
    """Choose a record and a part of it."""
    return Panel(
        record_figure,
        [
            Choice("record", "Record", [(n, key) for key, n in l56_numbers.RECORDS.items()]),
            Slider("begin", "From", "hours", 0.0, 0.0, SPAN - LEAST, LEAST),
            Slider("length", "Shown", "hours", SPAN, LEAST, SPAN, LEAST),
        ],
        reader,
        "One box, five records",
        examples={
            "One run": {"begin": 3.5 * HOUR, "length": 0.5 * HOUR},
            "A defrost": {"begin": 2.5 * HOUR, "length": HOUR},
            "The door": {"begin": 10.5 * HOUR, "length": 1.5 * HOUR},
        },
        lead="What the whole record says",
    )


def own(reader):
    """Read a file of one's own."""
    examples = {
        "US logger: psig, °F, AM and PM": ("found", "America/Chicago"),
        "metric logger: decimal comma, once a minute, clock put back": ("slow", "Europe/Paris"),
    }
    files = {name: (lambda key=key: l56_numbers.file(key)) for name, (key, _) in examples.items()}
    box = hall.box(l56_numbers.BOX)
    return LogReader(reader, files, box.refrigerant)


PICTURES = {"night": picture}
PANELS = {"records": explore, "your own file": own}
