"""A logger's table, read: times in seconds, every column in SI, and what was found on the way."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace

import numpy as np

from lowside import units
from lowside.errors import LowsideError, UnknownName

from . import clock

#: What a column can be.
ROLES = {
    "suction_pressure": "suction pressure",
    "suction_temperature": "suction line temperature",
    "head_pressure": "head pressure",
    "liquid_temperature": "liquid line temperature",
    "box_temperature": "box air temperature",
    "coil_temperature": "coil (defrost) temperature",
    "running": "compressor current, or on and off",
}
PRESSURES = {
    "psig": ("psi", True),
    "psia": ("psi", False),
    "barg": ("bar", True),
    "bara": ("bar", False),
    "kPa gauge": ("kPa", True),
    "kPa absolute": ("kPa", False),
    "MPa gauge": ("MPa", True),
    "MPa absolute": ("MPa", False),
}
TEMPERATURES = {"°F": "degF", "°C": "degC", "K": "K"}
AS_IT_IS = "as it is"

_LOWEST_TEMPERATURE, _HIGHEST_TEMPERATURE = 150.0, 500.0  # [K] that a clamp could have seen
_ON = {"on": 1.0, "true": 1.0, "yes": 1.0, "run": 1.0, "off": 0.0, "false": 0.0, "no": 0.0}
_MISSING = ["---", "--", "n/a", "N/A", "NaN", "nan", "NULL", "null", "#N/A", "#DIV/0!"]
_GAP = 3.0  # usual steps, from which on readings are missing


def units_of(role):
    """List the units that a column of a role can have.

    Parameters
    ----------
    role : str
        A key of ``ROLES``.

    Returns
    -------
    tuple of str
    """
    if role.endswith("pressure"):
        return tuple(PRESSURES)
    return tuple(TEMPERATURES) if role.endswith("temperature") else (AS_IT_IS,)


@dataclass(frozen=True, eq=False)
class Log:
    """A record, in order.

    Parameters
    ----------
    time : ndarray, shape (n,)
        Since 1970 in UTC or, where no zone is known, in the logger's own time; rising. [s]
    local : ndarray, shape (n,)
        What the clock on the wall shows less that. [s]
    values : dict of str to ndarray, shape (n,)
        By role, SI; NaN where there is no reading. [Pa], [K], or as it is
    notes : tuple of str
        What was left out or put right, in words.
    """

    time: np.ndarray
    local: np.ndarray
    values: dict
    notes: tuple[str, ...] = ()

    @property
    def step(self):
        """The usual time from one reading to the next [s]."""
        return float(np.median(np.diff(self.time)))

    @property
    def span(self):
        """From the first reading to the last [s]."""
        return float(self.time[-1] - self.time[0])

    def has(self, *roles):
        """Whether all of these were recorded."""
        return all(role in self.values for role in roles)

    def gaps(self):
        """Find where readings are missing.

        Returns
        -------
        ndarray, shape (k, 2)
            Last time before and first time after. [s]
        """
        steps = np.diff(self.time)
        at = np.flatnonzero(steps > _GAP * np.median(steps))
        return np.column_stack([self.time[at], self.time[at + 1]])

    def between(self, start, end):
        """Cut a part out.

        Parameters
        ----------
        start, end : float
            As in ``time``. [s]

        Returns
        -------
        Log
        """
        kept = slice(*np.searchsorted(self.time, [start, end]))
        values = {role: column[kept] for role, column in self.values.items()}
        return replace(self, time=self.time[kept], local=self.local[kept], values=values)

    def superheat(self, refrigerant):
        """Superheat over time.

        Parameters
        ----------
        refrigerant : Refrigerant

        Returns
        -------
        ndarray, shape (n,)
            NaN where a reading is missing or the pressure lies outside the refrigerant's range,
            or below zero. [K]

        Raises
        ------
        LowsideError
            If pressure or temperature was not recorded.
        """
        return self._against("suction", refrigerant.superheat, refrigerant, "superheat")

    def subcooling(self, refrigerant):
        """Subcooling over time, as `superheat`.

        Parameters
        ----------
        refrigerant : Refrigerant

        Returns
        -------
        ndarray, shape (n,)
            [K]
        """
        return self._against("liquid", refrigerant.subcooling, refrigerant, "subcooling")

    def _against(self, side, function, refrigerant, name):
        gauge = "suction_pressure" if side == "suction" else "head_pressure"
        clamp = f"{side}_temperature"
        if not self.has(gauge, clamp):
            raise LowsideError(
                f"For {name} the record needs {ROLES[gauge]} and {ROLES[clamp]}: say which columns "
                "they are."
            )
        pressure, temperature = self.values[gauge], self.values[clamp]
        low, high = refrigerant.pressure_range
        good = (pressure >= low) & (pressure <= high) & np.isfinite(temperature)
        found = np.full(self.time.size, np.nan)
        found[good] = function(pressure[good], temperature[good], check=False)
        return found


def read(content, dialect, meanings, *, zone=clock.AS_WRITTEN, atmosphere=None):
    """Read a logger's file.

    Parameters
    ----------
    content : bytes
        The whole file.
    dialect : Dialect
        As proposed, or as somebody who knows the logger says.
    meanings : dict of str to (str, str)
        Column to role, a key of ``ROLES``, and unit, one of `units_of`.
    zone : str
        In which times without a distance from UTC are meant, see ``clock.read``.
    atmosphere : float, optional
        Barometer from which gauge pressures count; at sea level if not given. [Pa]

    Returns
    -------
    Log

    Raises
    ------
    LowsideError
        In one sentence, if the file cannot be read so.
    UnknownName
        If there is no such column, role, unit or zone.
    """
    atmosphere = units.STANDARD_ATMOSPHERE if atmosphere is None else atmosphere
    _check(dialect, meanings)
    table, lost = _table(content, dialect, meanings)
    notes = [f"{lost} lines have too many cells and were left out."] if lost else []
    stamps = table[dialect.time[0]]
    if len(dialect.time) == 2:
        stamps = stamps.astype(str) + " " + table[dialect.time[1]].astype(str)
    elif dialect.form.kind != clock.WRITTEN:
        stamps = _numbers(stamps, dialect)[0]
    rows, times = clock.in_order(clock.read(stamps, dialect.form, zone))
    values = {}
    for name, (role, unit) in meanings.items():
        column, texts = _numbers(table[name], dialect)
        values[role] = _in_si(column.to_numpy(float)[rows], role, unit, atmosphere)
        notes += _said(name, values[role], texts)
    if times.seconds.size < 2:
        raise LowsideError("This record has fewer than two readings at different times.")
    return Log(times.seconds, times.local, values, (*times.notes, *notes))


def _check(dialect, meanings):
    for name, (role, unit) in meanings.items():
        for what, came, known in (
            ("column", name, dialect.columns),
            ("meaning of a column", role, ROLES),
            ("unit", unit, units_of(role) if role in ROLES else ()),
        ):
            if came not in known:
                raise UnknownName(what, came, known)
    roles = [role for role, _ in meanings.values()]
    twice = next((role for role in roles if roles.count(role) > 1), None)
    if twice:
        raise LowsideError(f"Two columns cannot both be the {ROLES[twice]}: choose one of them.")
    if not meanings:
        raise LowsideError("Say of at least one column what it is.")


def _table(content, dialect, meanings):
    import pandas as pd

    broken = []
    wanted = [*dialect.time, *(name for name in meanings if name not in dialect.time)]
    skipped = dialect.skipped + dialect.header
    try:
        table = pd.read_csv(
            io.BytesIO(content),
            encoding=dialect.encoding,
            encoding_errors="replace",
            sep=dialect.delimiter,
            decimal=dialect.decimal,
            thousands=dialect.thousands,
            header=None,
            names=range(len(dialect.columns)),
            usecols=sorted(dialect.columns.index(name) for name in wanted),
            skiprows=skipped,
            skipinitialspace=True,
            index_col=False,
            na_values=_MISSING,
            dtype=_texts(dialect),
            on_bad_lines="skip",
            low_memory=False,
        )
    except (ValueError, LookupError, pd.errors.ParserError) as problem:
        raise LowsideError(f"This file cannot be read so: {str(problem).rstrip('.')}.") from None
    table.columns = [dialect.columns[place] for place in table.columns]
    lines = content.count(_newline(dialect.encoding))
    if lines - skipped - len(table) > 1:
        broken = _too_wide(content, dialect, skipped)
    return table, broken or 0


def _texts(dialect):
    written = dialect.form.kind == clock.WRITTEN
    return {dialect.columns.index(name): str for name in dialect.time} if written else None


def _newline(encoding):
    return "\n".encode(encoding.replace("utf-16-le", "utf-16-be"))[-1:]


def _too_wide(content, dialect, skipped):
    """Count the lines that have more cells than columns."""
    most = len(dialect.columns) - 1
    lines = content.decode(dialect.encoding, errors="replace").splitlines()[skipped:]
    return sum(line.count(dialect.delimiter) > most and '"' not in line for line in lines)


def _numbers(column, dialect):
    """Make numbers of a column, and list the texts that are none."""
    import pandas as pd

    if pd.api.types.is_bool_dtype(column.dtype):
        return column.astype(float), []
    if pd.api.types.is_numeric_dtype(column.dtype):
        return column, []
    texts = column.astype("string").str.strip()
    plain = texts.str.replace("−", "-")
    if dialect.thousands:
        plain = plain.str.replace(dialect.thousands, "", regex=False)
    if dialect.decimal == ",":
        plain = plain.str.replace(",", ".", regex=False)
    numbers = pd.to_numeric(plain, errors="coerce").astype(float)
    words = plain.str.lower().map(_ON)
    numbers = numbers.fillna(words.astype(float))
    odd = texts[numbers.isna() & texts.notna() & (texts != "")]
    return numbers, [str(text) for text in odd]


def _in_si(column, role, unit, atmosphere):
    column = np.where(np.isfinite(column), column, np.nan)
    if unit in PRESSURES:
        name, gauge = PRESSURES[unit]
        si = units.to_si(column, name) + (atmosphere if gauge else 0.0)
        return np.where(si > 0.0, si, np.nan)
    if unit in TEMPERATURES:
        si = units.to_si(column, TEMPERATURES[unit])
        return np.where((si > _LOWEST_TEMPERATURE) & (si < _HIGHEST_TEMPERATURE), si, np.nan)
    return column


def _said(name, column, texts):
    notes = []
    if texts:
        kinds = ", ".join(f"“{text}”" for text in sorted(set(texts))[:3])
        cells = "1 cell" if len(texts) == 1 else f"{len(texts)} cells"
        notes.append(f"Column “{name}”: {cells} with text such as {kinds} left out.")
    missing = int(np.sum(~np.isfinite(column))) - len(texts)
    if missing > 0:
        cells = "1 reading is" if missing == 1 else f"{missing} readings are"
        notes.append(f"Column “{name}”: {cells} missing, or cannot be in this unit.")
    return notes
