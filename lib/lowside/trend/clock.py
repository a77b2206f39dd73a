"""Times as loggers write them, turned into seconds that never jump.

A written time is local, UTC, or carries its distance from UTC (ISO 8601). Where clocks are put
forward and back the zone's own rules are followed; without a zone a clock that jumps back by one
hour is taken for one put back, and said. Pandas does the reading.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np

from lowside.errors import LowsideError, UnknownName

HOUR = 3600.0
AS_WRITTEN = "as written"

#: What a time can be, besides a date with a time of day.
COUNTS = {
    "seconds since 1970": (1.0, 0.0),
    "milliseconds since 1970": (1e-3, 0.0),
    "days as a spreadsheet counts them": (86400.0, -25569.0 * 86400.0),
    "seconds since the start": (1.0, 0.0),
    "minutes since the start": (60.0, 0.0),
    "hours since the start": (3600.0, 0.0),
}
WRITTEN = "date and time"
YEAR_FIRST, DAY_FIRST, MONTH_FIRST = "year first", "day first", "month first"
ORDERS = (YEAR_FIRST, DAY_FIRST, MONTH_FIRST)

_DATE = r"(?P<a>\d{1,4})(?P<sign>[-/.])(?P<b>\d{1,2})(?P=sign)(?P<c>\d{1,4})"
_SECONDS = r"(?:(?P=colon)(?P<second>\d{2})(?P<tenths>[.,]\d+)?)?(?P<half>\s*[AaPp][Mm])?"
_ZONE = r"(?P<zone>\s*(?:Z|[-+]\d{2}:?\d{2}))?"
_STAMP = re.compile(
    rf"{_DATE}(?:(?P<gap>T|,?\s+)(?P<hour>\d{{1,2}})(?P<colon>[:.])(?P<minute>\d{{2}}){_SECONDS}{_ZONE})?"
)
_OF_DAY = re.compile(rf"(?P<hour>\d{{1,2}})(?P<colon>:)(?P<minute>\d{{2}}){_SECONDS}")
_SINCE_1900 = 25567.0 * 86400.0  # [s] from there to 1970: 70 years with 17 leap days
_ENOUGH = 0.6  # share of the cells that must look like a time
_JUMP = (0.5 * HOUR, 1.0 * HOUR)  # backward, that is a clock put back by an hour
_SPREAD = 0.3  # share of equal times from which on they are spread over their step


@dataclass(frozen=True)
class Form:
    """How a time is written.

    Parameters
    ----------
    kind : str
        ``WRITTEN`` or one of ``COUNTS``.
    order : str
        One of ``ORDERS``, for a written date.
    pattern : str
        As ``strptime`` takes it, or "ISO8601".
    sure : bool
        Whether the order of day and month follows from the file.
    """

    kind: str
    order: str = YEAR_FIRST
    pattern: str = "ISO8601"
    sure: bool = True


@dataclass(frozen=True, eq=False)
class Times:
    """Times of a record.

    Parameters
    ----------
    seconds : ndarray, shape (n,)
        Since 1970 in UTC, or in the logger's own time where no zone is known; NaN where the
        cell could not be read. [s]
    local : ndarray, shape (n,)
        What the clock on the wall shows less that. [s]
    notes : tuple of str
        What was found on the way.
    """

    seconds: np.ndarray
    local: np.ndarray
    notes: tuple[str, ...]


def looks_like_time(cell):
    """Whether a cell could be a date, with or without a time of day.

    Parameters
    ----------
    cell : str

    Returns
    -------
    bool
    """
    return bool(_STAMP.fullmatch(cell) or _OF_DAY.fullmatch(cell))


def find(cells, decimal, order=None):
    """Find the time among the columns.

    Parameters
    ----------
    cells : dict of str to list of str
        Some cells of every column.
    decimal : str
        The file's decimal sign.
    order : str, optional
        Of day and month, one of ``ORDERS``, if it is known.

    Returns
    -------
    tuple of (tuple of str, Form)
        Column or columns, and how a time is written.

    Raises
    ------
    LowsideError
        If no column looks like a time.
    """
    dates = {n: hits for n, column in cells.items() if (hits := _matches(_STAMP, column))}
    for name, hits in dates.items():
        if hits[0]["hour"]:
            return (name,), _form([hit[0] for hit in hits], decimal, order)
    hours = [n for n, column in cells.items() if n not in dates and _matches(_OF_DAY, column)]
    for name in dates:
        if hours:
            both = [f"{a} {b}" for a, b in zip(cells[name], cells[hours[0]], strict=True)]
            return (name, hours[0]), _form(both, decimal, order)
        return (name,), _form(cells[name], decimal, order)
    for name, column in cells.items():
        if kind := _count(name, column, decimal):
            return (name,), Form(kind)
    raise LowsideError(
        "No column looks like a time. A time is a date with a time of day, or a count of seconds, "
        "minutes, hours or days."
    )


def form_of(cells, order, decimal="."):
    """Describe how written times look, with the order of day and month given.

    Parameters
    ----------
    cells : list of str
        Some times.
    order : str
        One of ``ORDERS``.
    decimal : str
        The file's decimal sign.

    Returns
    -------
    Form
    """
    return _form(cells, decimal, order)


def read(cells, form, zone=AS_WRITTEN):
    """Read a whole column of times.

    Parameters
    ----------
    cells : pandas.Series
        Texts, or numbers for a count.
    form : Form
    zone : str
        ``AS_WRITTEN``, "UTC", or a name of the time zone database such as "Europe/Paris", in
        which times without a distance from UTC are meant.

    Returns
    -------
    Times

    Raises
    ------
    LowsideError
        If not one of them can be read.
    UnknownName
        If there is no such zone.
    """
    import pandas as pd

    if form.kind != WRITTEN:
        numbers = pd.to_numeric(cells, errors="coerce").to_numpy(float)
        factor, start = COUNTS[form.kind]
        seconds, notes = numbers * factor + start, []
        local = np.zeros_like(seconds)
    else:
        texts = cells.astype(str).str.strip()
        first = _STAMP.fullmatch(_first_time(texts))
        with_zone = bool(first and first["zone"])
        if with_zone or form.pattern == "ISO8601" or " " not in form.pattern:
            seconds = _parsed(texts, form.pattern, with_zone)
        else:
            seconds = _by_day(texts, form.pattern)
        if with_zone:
            local, notes = _written_distance(texts, seconds), []
        else:
            seconds, local, notes = _from_wall(seconds, zone)
    if not np.isfinite(seconds).any():
        raise LowsideError(
            "Not one time could be read. Choose another column for the time, or another order of "
            "day and month."
        )
    return Times(seconds, local, tuple(notes))


def in_order(times):
    """Sort out times that repeat or run backward.

    Parameters
    ----------
    times : Times

    Returns
    -------
    tuple of (ndarray of int, Times)
        Rows that are kept, in order, and their times.
    """
    seconds, notes = times.seconds.copy(), list(times.notes)
    unread = int(np.sum(~np.isfinite(seconds)))
    if unread:
        notes.append(f"{_lines(unread)} left out: no time that could be read.")
    backward = int(np.sum(np.diff(seconds) < 0.0))
    if backward:
        notes.append(f"The time runs backward {_times(backward)}; the readings were put in order.")
    rows = np.flatnonzero(np.isfinite(seconds))
    rows = rows[np.argsort(seconds[rows], kind="stable")]
    kept = seconds[rows]
    again = np.r_[False, np.diff(kept) == 0.0]
    if again.mean() > _SPREAD:
        kept = _spread(kept, again)
        notes.append(
            "The clock is written more coarsely than the readings come; they were spread evenly."
        )
    elif again.any():
        notes.append(f"{_lines(int(again.sum()))} repeat a time; the first of each counts.")
        rows, kept = rows[~again], kept[~again]
    return rows, Times(kept, times.local[rows], tuple(notes))


def zone_called(name):
    """Get a zone of the time zone database.

    Parameters
    ----------
    name : str
        Such as "America/Denver".

    Returns
    -------
    zoneinfo.ZoneInfo

    Raises
    ------
    UnknownName
        If there is no such zone.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise UnknownName(
            "time zone", name, (AS_WRITTEN, "UTC", "America/Denver", "Europe/Paris")
        ) from None


def _from_wall(wall, zone):
    """Turn what a clock on the wall showed into seconds that run evenly."""
    if zone == AS_WRITTEN:
        return _put_back(wall)
    import pandas as pd

    named = zone_called(zone)
    known = np.isfinite(wall)
    stamps = pd.DatetimeIndex((wall[known] * 1e9).astype("int64"))
    # Twice a year an hour comes twice: its first pass ends where the clock jumps back.
    passed = np.zeros(stamps.size, dtype=bool)
    jumps = np.flatnonzero(np.diff(wall[known]) < -_JUMP[0])
    for jump in jumps:
        passed[jump + 1 :] = True
    if jumps.size:
        passed &= wall[known] >= wall[known][jumps[0] + 1]
    aware = stamps.tz_localize(named, ambiguous=~passed, nonexistent="shift_forward")
    utc = aware.tz_convert("UTC").tz_localize(None).asi8 / 1e9
    seconds, local = np.full(wall.size, np.nan), np.zeros(wall.size)
    seconds[known], local[known] = utc, wall[known] - utc
    changes = int(np.sum(np.abs(np.diff(local[known])) > 1.0))
    notes = [f"The clock was changed {_times(changes)} in this record."] if changes else []
    return seconds, local, notes


def _parsed(texts, pattern, utc=False):
    """Seconds since 1970; NaN where a text does not fit the pattern."""
    import pandas as pd

    stamps = pd.to_datetime(texts, format=pattern, errors="coerce", utc=utc)
    whole = stamps.astype("datetime64[ns, UTC]" if utc else "datetime64[ns]")
    seconds = np.asarray(whole.astype("int64")) / 1e9
    return np.where(np.asarray(stamps.isna()), np.nan, seconds)


def _by_day(texts, pattern):
    """Parse every day and every time of day only once: logs repeat both."""
    import pandas as pd

    parts = [text.partition(" ") for text in texts]
    seconds = 0.0
    for place, half in zip((0, 2), pattern.partition(" ")[::2], strict=True):
        codes, known = pd.factorize(np.array([part[place].strip() for part in parts], object))
        found = _parsed(pd.Series(known), half)
        # A time without a date is parsed as one of the first day of 1900.
        seconds = seconds + (found if place == 0 else found + _SINCE_1900)[codes]
    return seconds


def _put_back(wall):
    known = np.flatnonzero(np.isfinite(wall))
    steps = np.diff(wall[known])
    usual = float(np.median(steps[steps > 0.0])) if (steps > 0.0).any() else 0.0
    local = np.zeros(wall.size)
    back = np.flatnonzero((steps <= -_JUMP[0]) & (steps >= -_JUMP[1]))
    if back.size != 1 or abs(steps[back[0]] + HOUR - usual) > 0.5 * usual + 1.0:
        return wall, local, []
    local[known[back[0] + 1] :] = -HOUR
    note = "The clock jumps back by one hour, once: taken for a clock put back to winter time."
    return wall - local, local, [note]


def _spread(seconds, again):
    """Spread readings with one time evenly up to the next time."""
    group = np.cumsum(~again) - 1
    first = np.flatnonzero(~again)
    counts = np.bincount(group)
    starts = seconds[first]
    widths = np.append(np.diff(starts), np.median(np.diff(starts)) if first.size > 1 else 1.0)
    widths = np.minimum(widths, np.median(widths) * 1.5)
    place = np.arange(seconds.size) - first[group]
    return seconds + widths[group] * place / counts[group]


def _written_distance(texts, seconds):
    """Distance from UTC as written behind every time [s]."""
    ends = texts.str[-6:]
    seen = {end: _distance(end) for end in ends.unique()}
    local = ends.map(seen).to_numpy(float)
    return np.where(np.isfinite(seconds), local, 0.0)


def _distance(text):
    match = re.search(r"([-+])(\d{2}):?(\d{2})$", text)
    if not match:
        return 0.0
    return float(f"{match[1]}1") * (int(match[2]) * HOUR + int(match[3]) * 60.0)


def _first_time(texts):
    return next((text for text in texts if _STAMP.fullmatch(text)), "")


def _matches(pattern, column):
    filled = [cell for cell in column if cell]
    hits = [match for cell in filled if (match := pattern.fullmatch(cell))]
    return hits if filled and len(hits) >= _ENOUGH * len(filled) else []


def _count(name, column, decimal):
    """Tell what a column of rising numbers counts, or None."""
    try:
        numbers = [float(cell.replace(decimal, ".")) for cell in column if cell]
    except ValueError:
        return None
    if len(numbers) < 2 or any(b < a for a, b in pairwise(numbers)):
        return None
    if 1e12 <= numbers[0] < 1e13:
        return "milliseconds since 1970"
    if 1e8 <= numbers[0] < 1e10:
        return "seconds since 1970"
    said = name.lower()
    if 2e4 <= numbers[0] < 8e4 and numbers[-1] - numbers[0] < 4000.0:
        return "days as a spreadsheet counts them"
    if re.search(r"time|zeit|temps|elapsed|hora|^t\b|column 1\b", said):
        for unit in ("min", "hour"):
            if re.search(rf"\b{unit}|\[{unit[0]}\]|\({unit[0]}\)", said):
                return "minutes since the start" if unit == "min" else "hours since the start"
        return "seconds since the start"
    return None


def _form(cells, decimal, order=None):
    hits = [hit for cell in cells if (hit := _STAMP.fullmatch(cell))]
    first, second = (max(int(hit[place]) for hit in hits) for place in ("a", "b"))
    sure = True
    if order is None:
        if len(hits[0]["a"]) == 4:
            order = YEAR_FIRST
        elif max(first, second) > 12:
            order = DAY_FIRST if first > 12 else MONTH_FIRST
        else:
            order = DAY_FIRST if hits[0]["sign"] == "." or decimal == "," else MONTH_FIRST
            sure = False
    return Form(WRITTEN, order, _pattern(hits[0], order), sure)


def _pattern(hit, order):
    """Write how one time looks, for ``strptime``."""
    comma = bool(hit["tenths"]) and hit["tenths"][0] == ","
    plain = hit["sign"] == "-" and hit["colon"] in (None, ":") and len(hit["b"]) == 2
    if order == YEAR_FIRST and plain and len(hit["a"]) == 4 and not hit["half"] and not comma:
        return "ISO8601"
    year = "%Y" if max(len(hit["a"]), len(hit["c"])) == 4 else "%y"
    parts = {
        YEAR_FIRST: (year, "%m", "%d"),
        DAY_FIRST: ("%d", "%m", year),
        MONTH_FIRST: ("%m", "%d", year),
    }[order]
    text = hit["sign"].join(parts)
    if hit["hour"] is None:
        return text
    text += f"{hit['gap']}{'%I' if hit['half'] else '%H'}{hit['colon']}%M"
    if hit["second"]:
        text += f"{hit['colon']}%S"
    if hit["tenths"]:
        text += f"{hit['tenths'][0]}%f"
    if hit["half"]:
        text += f"{hit['half'][:-2]}%p"
    if hit["zone"]:
        text += f"{hit['zone'][: -len(hit['zone'].strip())]}%z"
    return text


def _lines(count):
    return "1 line" if count == 1 else f"{count} lines"


def _times(count):
    return "once" if count == 1 else f"{count} times"
