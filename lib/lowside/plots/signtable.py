"""Every fault of a box by what it does to its readings, beside the signs that were published."""

from __future__ import annotations

import numpy as np

from lowside import faults, system
from lowside.faults import Family
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Arrow, Bar, Line
from lowside.plots.pagework import add_page, word

SIZE = WIDTH, HEIGHT = 760, 610
LEFT, TOP = 244, 112  # [px] of the first cell
ACROSS, DOWN = 64, 24  # [px] of a cell
_PLAIN = "box of the published kind: fixed orifice, no receiver"

COLUMNS = (
    ("evaporating_temperature", "evapo-\nrating"),
    ("superheat", "super-\nheat"),
    ("condensing_temperature", "con-\ndensing"),
    ("subcooling", "sub-\ncooling"),
    ("discharge_temperature", "dis-\ncharge"),
    ("condenser_air_rise", "condenser\nair rise"),
    ("box_air_drop", "box\nair drop"),
    ("capacity", "cooling"),
)

# Why a sign differs from the published one, by what is behind it.
_VALVE_HOLDS = (
    "Superheat: a thermostatic valve holds it until it is wide open. The published machine has a "
    "fixed orifice, which holds nothing."
)
_RECEIVER_HOLDS = (
    "Subcooling: liquid leaves a receiver boiling, whatever the fault. It can neither be lost nor "
    "gained."
)
_RECEIVER_GIVES = (
    "Too little refrigerant: the receiver gives what is missing, and every reading stays, until it "
    "is empty."
)
_VALVE_MAKES_UP = (
    "A restriction, or missing charge: the valve opens further and makes up for it. Suction, "
    "cooling and the air hardly move until it is wide open."
)
_HOT_LEAK = (
    "Leaking compressor valve, discharge: the hot gas that slips back outweighs a colder suction "
    "here. The published rules have it the other way."
)
_DRY_DISCHARGE = (
    "Evaporator without air, discharge: an orifice floods the coil and cools the compressor. A "
    "valve keeps the superheat, and a lower suction means a higher ratio and a hotter discharge."
)
_WARMER_LIQUID = (
    "Dirty condenser, subcooling: with a warmer condenser the same liquid in it is cooled further "
    "towards the air, and a valve keeps it there. An orifice lets it through."
)
_FLOODED = (
    "Dirty condenser, discharge: higher head floods this coil, and wet gas cools the compressor."
)


def sign_figure(show, box, ambient):
    """Draw what every fault that fits a box does to its readings.

    Parameters
    ----------
    show : Readout
        The reader's units.
    box : str
        One of ``system.cabinets.names()``, or ``faults.PUBLISHED_KIND``.
    ambient : float
        Air entering the condenser. [K]

    Returns
    -------
    LiveFigure
        With words and numbers.

    Raises
    ------
    NoOperatingPoint
        If the sound box does not run so.
    """
    table = faults.cabinet_table(box, float(ambient))
    agrees = table.against_published()
    plain = box == faults.PUBLISHED_KIND
    numbers = {
        "what": _PLAIN if plain else system.cabinets.get(box).what,
        "family": table.situation.family,
        "ambient": ambient,
        "agree": sum(agrees.values()),
        "published": len(agrees),
        "different": tuple(each for each, same in agrees.items() if not same),
    }
    background = Background.once(_draw_background, WIDTH, HEIGHT, ("signs",))
    remarks = [("why it differs", said) for said in explained(numbers)]
    items = _items(table, numbers, show)
    return LiveFigure(background, items, _words(table, numbers, show), (), numbers, remarks)


def why(start, now, show):
    """Say how much of the published table holds for this box.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two sentences.
    """
    return (
        f"Of {now['published']} published signs {now['agree']} hold for this box with "
        f"{now['family'].words}. A table of signs is right for the kind of machine it was made on."
    )


def explained(numbers):
    """Give the reasons behind the signs that differ from the published ones.

    Parameters
    ----------
    numbers : dict
        Of the figure.

    Returns
    -------
    list of str
        Each reason once.
    """
    reasons = (_reason(*each, numbers["family"]) for each in numbers["different"])
    return list(dict.fromkeys(reasons))


def _reason(fault, reading, family):
    if fault == "undercharge" and family is Family.RECEIVER:
        return _RECEIVER_GIVES
    if fault == "valve_leak" and reading == "discharge_temperature":
        return _HOT_LEAK
    if family is Family.TUBE:
        return _FLOODED
    if reading == "subcooling" and family is Family.RECEIVER:
        return _RECEIVER_HOLDS
    if reading == "superheat":
        return _VALVE_HOLDS
    if fault in ("strainer", "undercharge"):
        return _VALVE_MAKES_UP
    if fault == "condenser_dirty" or reading == "subcooling":
        return _WARMER_LIQUID
    return _DRY_DISCHARGE


def _draw_background(figure):
    items = [
        word(12, 26, "what every fault does to every reading", size=style.LARGE, bold=True),
        *_legend(),
    ]
    for place, (_, name) in enumerate(COLUMNS):
        x = LEFT + ACROSS * (place + 0.5)
        lines = name.split("\n")
        for number, line in enumerate(lines):
            y = TOP - 10 - 15 * (len(lines) - 1 - number)
            items.append(word(x, y, line, "middle", bold=True))
    return {"page": add_page(figure, SIZE)}, items


def _legend():
    y, items = 50, []
    for x, size, text in (
        (18, 10.0, "far beyond the instrument's error"),
        (256, 2.0, "beyond it"),
        (344, 0.5, "hidden by it"),
        (446, 0.0, "same"),
    ):
        items += _mark(x, y, size)
        items.append(word(x + 14, y + 5, text))
    items += [
        word(508, y + 5, "+ −", bold=True),
        word(536, y + 5, "published, boxed where it differs"),
    ]
    return items


def _mark(x, y, size):
    """Draw an arrow up or down, the larger the clearer, or a dash for no change."""
    if np.isnan(size):
        return [word(x, y + 5, "stops", "middle")]
    if abs(size) < faults.NOTHING:
        return [Bar(x - 3, y - 1.5, x + 3, y + 1.5, style.MUTED, axes="page")]
    if abs(size) < faults.SEEN:
        reach, width, head, colour = 5.0, 1.6, 6.0, style.MUTED
    elif abs(size) <= faults.CLEAR:
        reach, width, head, colour = 8.0, 3.0, 9.0, style.INK
    else:
        reach, width, head, colour = 8.5, 6.0, 12.0, style.INK
    tail = reach if size > 0.0 else -reach
    return [Arrow(x, y + tail, x, y - tail, colour, width, head, "page")]


def _items(table, numbers, show):
    right = LEFT + ACROSS * len(COLUMNS)
    items = [
        word(
            12,
            TOP - 10,
            f"air {show.text(numbers['ambient'], 'temperature')}, "
            f"{numbers['agree']} of {numbers['published']} agree",
        )
    ]
    signs = faults.published()
    rows = zip(table.faults, table.severities, strict=True)
    for place, (fault, severity) in enumerate(rows):
        y = TOP + DOWN * (place + 0.5)
        if place % 2 == 0:
            band = 12, y - DOWN / 2, right, y + DOWN / 2
            items.append(Bar(*band, style.HAZE, None, 0.8, "page"))
        row = table.row(fault.key)
        items.append(word(16, y + 5, fault.name.split(" where ")[0]))
        if fault.stepless:
            how_bad = show.text(severity, fault.kind)
            items.append(word(LEFT - 4, y + 5, how_bad, "end", colour=style.MUTED))
        for column, (key, _) in enumerate(COLUMNS):
            x = LEFT + ACROSS * (column + 0.5)
            items += _mark(x, y, row[key])
            sign = signs.get(fault.key, {}).get(key)
            if sign is not None:
                differs = (fault.key, key) in numbers["different"]
                items += _published(x + 21, y, sign, differs)
    return items


def _published(x, y, sign, differs):
    items = [word(x, y + 5, "+" if sign > 0 else "−", "middle", style.TEXT, bold=True)]
    if differs:
        xs, ys = [x - 8, x + 8, x + 8, x - 8], [y - 9, y - 9, y + 9, y + 9]
        items.append(Line(xs, ys, style.HIGH, 1.8, closed=True, axes="page"))
    return items


def _words(table, numbers, show):
    rows = []
    for fault in table.faults:
        row = table.row(fault.key)
        said = ", ".join(
            f"{name.replace('-' + chr(10), '').replace(chr(10), ' ')} {faults.word(row[key])}"
            for key, name in COLUMNS
        )
        rows.append(f"{fault.name}: {said}")
    return (
        f"Faults of a {numbers['what']} one at a time, air at the condenser "
        f"{show.text(numbers['ambient'], 'temperature')}. {'. '.join(rows)}. Of "
        f"{numbers['published']} published signs {numbers['agree']} hold here."
    )
