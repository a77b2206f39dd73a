"""A route as a table: CSV with plain column names, each with its unit, in and out.

Metric and US columns may be mixed: ``load_kW`` or ``load_ton``, ``box_air_C`` or ``box_air_F``.
Commas or semicolons or tabs between cells; where it is not commas, a decimal comma is understood.
A row that cannot be used is named in one sentence and left out, and the rest is kept.
"""

from __future__ import annotations

import csv
import io
import math
from dataclasses import dataclass
from functools import lru_cache

from lowside import readout, store, units
from lowside.errors import DataDamaged, LowsideError
from lowside.textfile import harmless, plain, unmarked

from .stop import Stop

FILE = "route.csv"
LARGEST = 200_000  # bytes; a route has two or three thousand
MOST_BOXES = 60  # each is solved for its whole year
LONGEST = 60  # characters of a name
_YES, _NO = {"yes", "y", "true", "1", "x"}, {"no", "n", "false", "0", ""}

_TEMPERATURE = {"C": "degC", "F": "degF"}
_DIFFERENCE = {"K": "K_difference", "F": "degF_difference"}


@dataclass(frozen=True)
class _Column:
    """One column: its plain name, the field of a `Stop` that it fills, and its units by ending."""

    name: str
    field: str
    units: dict | None = None  # the metric one first, the US one second; None for words
    needed: bool = False

    def title(self, show):
        if not self.units:
            return self.name
        endings = list(self.units)
        ending = endings[-1 if show.system == "us" and len(endings) > 1 else 0]
        return f"{self.name}_{ending}" if ending else self.name


_COLUMNS = (
    _Column("box", "box", needed=True),
    _Column("refrigerant", "refrigerant", needed=True),
    _Column("connection", "connection", needed=True),
    _Column("load", "load", {"kW": "kW", "W": "W", "Btu_h": "Btu/h", "ton": "ton"}, True),
    _Column("box_air", "box_temperature", _TEMPERATURE, True),
    _Column("coil_difference", "temperature_difference", _DIFFERENCE, True),
    _Column("condensing_hot", "hot", _TEMPERATURE, True),
    _Column("condensing_cold", "cold", _TEMPERATURE, True),
    _Column("lowest_speed", "least_share", {"percent": "%"}),
    _Column("compressor_limit", "highest_evaporating", _TEMPERATURE),
    _Column("distributor", "distributor"),
    _Column("liquid_line", "liquid_line", {"mm": "mm", "in": "in"}),
    _Column("calls_per_year", "calls", {"": "1"}),
    _Column("food", "food", {"kg": "kg", "lb": "lb"}),
)
_TITLES = {
    (f"{column.name}_{ending}" if ending else column.name).lower(): (column, ending)
    for column in _COLUMNS
    for ending in (column.units or {"": None})
}


@lru_cache(maxsize=1)
def demo():
    """Read the invented route of data/.

    Returns
    -------
    tuple of Stop

    Raises
    ------
    DataDamaged
        If it cannot be used as it is.
    """
    stops, problems = opened(store.path(FILE).read_bytes(), readout.choose("metric"))
    if problems:
        raise DataDamaged(f"{FILE}: {problems[0]}")
    return stops


def as_csv(stops, show):
    """Write a route in the reader's units.

    Parameters
    ----------
    stops : sequence of Stop
    show : Readout
        The reader's units.

    Returns
    -------
    str
        With commas, decimal points and Unix line ends.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    titles = [column.title(show) for column in _COLUMNS]
    writer.writerow(titles)
    for stop in stops:
        writer.writerow([_cell(stop, title) for title in titles])
    return text.getvalue()


def opened(data, show):
    """Read a route.

    Parameters
    ----------
    data : bytes or str
        Content of a CSV file.
    show : Readout
        The reader's units, for what is said of it.

    Returns
    -------
    stops : tuple of Stop
        Every row that can be used.
    problems : list of str
        One sentence for each row or column that cannot.

    Raises
    ------
    LowsideError
        If it is no such table at all, or holds no row that can be used.
    """
    first, rows, decimal_comma = _rows(plain(data, "a list of boxes", LARGEST))
    columns, problems = _columns(first)
    stops, names = [], set()
    for line, row in rows:
        try:
            if len(stops) == MOST_BOXES:
                problems.append(
                    f"Line {line} and what follows: only the first {MOST_BOXES} boxes are taken."
                )
                break
            stop = _stop(row, columns, decimal_comma)
            if stop.box in names:
                raise LowsideError(f"there is already a box called “{stop.box}”.")
        except LowsideError as problem:
            problems.append(f"Line {line}: {show.explain(problem)}")
            continue
        stops.append(stop)
        names.add(stop.box)
    if not stops:
        raise LowsideError(
            f"No row of this file can be used. {problems[-1]}"
            if problems
            else "This file has column names, and no box below them."
        )
    return tuple(stops), problems


def _rows(text):
    """First row, the others with their line numbers, and whether decimals have commas."""
    head = text.lstrip().splitlines()[0]
    delimiter = max(",;\t", key=head.count)
    try:
        reader = csv.reader(io.StringIO(text), delimiter=delimiter)
        rows = [(reader.line_num, row) for row in reader if any(cell.strip() for cell in row)]
    except csv.Error:
        raise LowsideError("This CSV file is damaged.") from None
    if not rows:
        raise LowsideError("This file has no words in its cells: it is empty.")
    return rows[0][1], rows[1:], delimiter != ","


def _columns(titles):
    """Column of each cell, None for one that is left aside; and what is to be said of them."""
    columns, problems, seen = [], [], set()
    for title in titles:
        known = _TITLES.get(title.strip().lower())
        if known is None:
            if title.strip():
                problems.append(f"The column “{title.strip()[:40]}” is not known: left aside.")
        elif known[0].name in seen:
            raise LowsideError(f"This file gives {known[0].name.replace('_', ' ')} twice.")
        else:
            seen.add(known[0].name)
        columns.append(known)
    lacking = [column for column in _COLUMNS if column.needed and column.name not in seen]
    if lacking:
        wanted = (
            " or ".join(
                f"{column.name}_{ending}" if ending else column.name
                for ending in (column.units or [""])
            )
            for column in lacking
        )
        raise LowsideError(f"This file lacks columns: {', '.join(wanted)}.")
    return columns, problems


def _stop(row, columns, decimal_comma):
    if len(row) > len(columns) and any(cell.strip() for cell in row[len(columns) :]):
        raise LowsideError(f"it has {len(row)} cells under {len(columns)} column names.")
    values = {}
    for cell, known in zip(row, columns, strict=False):
        if known is not None and cell.strip():
            column, ending = known
            values[column.field] = _value(column, ending, cell.strip(), decimal_comma)
    for column in _COLUMNS:
        if column.needed and column.field not in values:
            raise LowsideError(f"{column.name.replace('_', ' ')} is empty.")
    return Stop(**values)


def _value(column, ending, cell, decimal_comma):
    name = column.name.replace("_", " ")
    if column.units:
        written = cell.replace("−", "-")
        if decimal_comma:
            written = written.replace(",", ".")
        try:
            number = float(written)
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise LowsideError(f"{name} should be a number, not “{cell[:40]}”.")
        return float(units.to_si(number, column.units[ending]))
    cell = unmarked(cell)
    if len(cell) > LONGEST:
        raise LowsideError(f"{name} is longer than {LONGEST} characters.")
    if column.field != "distributor":
        return cell.lower() if column.field == "connection" else cell
    if cell.lower() not in _YES | _NO:
        raise LowsideError(f"{name} is answered by yes or no, not by “{cell[:40]}”.")
    return cell.lower() in _YES


def _cell(stop, title):
    column, ending = _TITLES[title.lower()]
    value = getattr(stop, column.field)
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not column.units:
        return harmless(value)
    return f"{float(units.from_si(value, column.units[ending])):.6g}"
