"""A symptom page saved and opened again: plain JSON or CSV, every value with its SI unit.

Both hold the same lines, one for each thing that was said or read::

    item,value,unit
    box: refrigerant,R290,
    air: ambient_temperature,305.15,K
    reading: suction_pressure,351000,Pa
    look: bulb,no,

What cannot be understood is named, and everything else is kept.
"""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import dataclass, field

from lowside import textfile
from lowside.errors import LowsideError

from . import evidence, looks

KIND, VERSION = "lowside symptom", 1
LARGEST = 200_000  # characters; a page of symptoms has about two thousand
LONGEST = 2_000  # characters of one value
BOX = {
    "name": "",
    "refrigerant": "",
    "metering": "",
    "receiver": "",
    "box_temperature": "K",
    "capacity": "W",
    "charge": "kg",
    "ambient_temperature": "K",
}
AIR = {"box_temperature": "K", "ambient_temperature": "K"}
_UNIT = {
    "gauge_pressure": "Pa",
    "temperature": "K",
    "temperature_difference": "K",
    "current": "A",
    "power": "W",
    "charge": "kg",
}
READINGS = {each.key: _UNIT[each.kind] for each in evidence.MEASUREMENTS}
LOOKS = dict.fromkeys(looks.KEYS, "")
_SECTIONS = {"box": BOX, "air": AIR, "reading": READINGS, "look": LOOKS, "note": {"text": ""}}


@dataclass
class Record:
    """What a symptom page holds.

    Attributes
    ----------
    box : dict of str to str or float
        By `BOX`: the name of a known box, or its description. [SI]
    air : dict of str to float
        By `AIR`; what was not read is left out. [K]
    readings : dict of str to float
        By ``evidence.KEYS``; pressures absolute. [SI]
    seen : dict of str to bool
        Looks answered.
    note : str
        The technician's own words.
    """

    box: dict = field(default_factory=dict)
    air: dict = field(default_factory=dict)
    readings: dict = field(default_factory=dict)
    seen: dict = field(default_factory=dict)
    note: str = ""

    def lines(self):
        """Everything as lines of item, value and unit.

        Returns
        -------
        list of tuple of str
        """
        held = {
            "box": self.box,
            "air": self.air,
            "reading": self.readings,
            "look": {key: "yes" if answer else "no" for key, answer in self.seen.items()},
            "note": {"text": self.note} if self.note else {},
        }
        return [
            (f"{section}: {name}", _written(value), _SECTIONS[section][name])
            for section, values in held.items()
            for name, value in values.items()
        ]

    def as_json(self):
        """Write as JSON.

        Returns
        -------
        str
        """
        rows = [dict(zip(("item", "value", "unit"), line, strict=True)) for line in self.lines()]
        whole = {"kind": KIND, "version": VERSION, "lines": rows}
        return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"

    def as_csv(self):
        """Write as CSV; a value that a spreadsheet would take for a formula gets an apostrophe.

        Returns
        -------
        str
        """
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(("item", "value", "unit"))
        for item, value, unit in self.lines():
            writer.writerow((item, textfile.harmless(value), unit))
        return text.getvalue()


def opened(data):
    """Open a saved page.

    Parameters
    ----------
    data : bytes or str
        A file of JSON or CSV, as `Record` writes them.

    Returns
    -------
    record : Record
        All that could be understood.
    problems : list of str
        One sentence for each line that could not.

    Raises
    ------
    LowsideError
        If it is no such file at all: empty, too large, not text, something else.
    """
    text = textfile.plain(data, "a page of symptoms", LARGEST)
    rows = _json_rows(text) if text.lstrip()[:1] in "{[" else _csv_rows(text)
    record, problems = Record(), []
    targets = {"box": record.box, "air": record.air, "reading": record.readings}
    for number, (item, value, unit) in enumerate(rows, start=1):
        try:
            section, name = _named(item)
            understood = _understood(section, name, value, unit)
        except LowsideError as problem:
            problems.append(f"Line {number}: {problem}")
            continue
        if section == "note":
            record.note = understood
        elif section == "look":
            record.seen[name] = understood
        else:
            targets[section][name] = understood
    return record, problems


def _json_rows(text):
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError):
        raise LowsideError("This JSON file is damaged or cut short: nothing was opened.") from None
    if not isinstance(whole, dict) or whole.get("kind") != KIND:
        raise LowsideError("This JSON file is not a page of symptoms.")
    if whole.get("version") != VERSION:
        raise LowsideError(
            f"This page was saved by another version ({str(whole.get('version'))[:20]}); this one "
            f"reads version {VERSION}."
        )
    rows = whole.get("lines")
    if not isinstance(rows, list):
        raise LowsideError("This JSON file has no lines.")
    return [
        tuple(str(row.get(key, ""))[: LONGEST + 1] for key in ("item", "value", "unit"))
        if isinstance(row, dict)
        else ("", "", "")
        for row in rows
    ]


def _csv_rows(text):
    first = text.lstrip().splitlines()[0]
    comma = ";" if first.count(";") > first.count(",") else ","
    try:
        rows = [row for row in csv.reader(io.StringIO(text), delimiter=comma) if row]
    except csv.Error:
        raise LowsideError("This CSV file is damaged.") from None
    if [cell.strip().lower() for cell in rows[0]][:2] != ["item", "value"]:
        raise LowsideError(
            "This is not a saved page of symptoms: its first line should be “item,value,unit”."
        )
    return [tuple((*row, "", "")[:3]) for row in rows[1:]]


def _named(item):
    section, _, name = item.partition(":")
    section, name = section.strip().lower(), name.strip()
    if name not in _SECTIONS.get(section, {}):
        raise LowsideError(f"“{item[:60]}” is nothing that a page of symptoms holds.")
    return section, name


def _understood(section, name, value, unit):
    if len(value) > LONGEST:
        raise LowsideError(f"“{name}” is longer than {LONGEST} characters.")
    value = value.strip()
    value = textfile.unmarked(value)
    if section == "look":
        if value.lower() not in ("yes", "no"):
            raise LowsideError(f"“{name}” is answered by yes or no, not by “{value[:40]}”.")
        return value.lower() == "yes"
    wanted = _SECTIONS[section][name]
    if not wanted:
        return value
    if unit.strip() != wanted:
        raise LowsideError(f"“{name}” should be in {wanted}, not in “{unit.strip()[:20]}”.")
    try:
        number = float(value)
    except ValueError:
        raise LowsideError(f"“{name}” should be a number, not “{value[:40]}”.") from None
    if not math.isfinite(number):
        raise LowsideError(f"“{name}” should be a number, not “{value[:40]}”.")
    return number


def _written(value):
    return repr(float(value)) if isinstance(value, int | float) else str(value)
