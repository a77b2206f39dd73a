"""A record written as loggers write it, for examples and tests: the inverse of reading."""

from __future__ import annotations

import io

import numpy as np

from lowside import units

from .clock import AS_WRITTEN, zone_called
from .log import PRESSURES, TEMPERATURES

#: How a time is written, by name: pattern, and whether its distance from UTC follows.
STAMPS = {
    "iso": "%Y-%m-%dT%H:%M:%S",
    "us": "%m/%d/%Y %I:%M:%S %p",
    "dotted": "%d.%m.%Y %H:%M:%S",
}


def write(
    log,
    columns,
    *,
    stamp="iso",
    zone=AS_WRITTEN,
    offset=False,
    delimiter=",",
    decimal=".",
    encoding="utf-8",
    places=2,
    first="time",
    atmosphere=units.STANDARD_ATMOSPHERE,
):
    """Write a record as a logger would.

    Parameters
    ----------
    log : Log
    columns : dict of str to (str, str)
        Column name to role and unit, in order.
    stamp : str
        A key of ``STAMPS``.
    zone : str
        In which times are written; "as written" and "UTC" write them as they are.
    offset : bool
        Whether the distance from UTC stands behind every time.
    delimiter, decimal, encoding : str
        As `Dialect`.
    places : int
        Decimals.
    first : str
        Name of the time column.
    atmosphere : float
        Barometer, for gauge pressures. [Pa]

    Returns
    -------
    bytes
    """
    import pandas as pd

    stamps = pd.DatetimeIndex((log.time * 1e9).round().astype("int64"), tz="UTC")
    if zone not in (AS_WRITTEN, "UTC"):
        stamps = stamps.tz_convert(zone_called(zone))
    texts = stamps.strftime(STAMPS[stamp] + ("%z" if offset else ""))
    table = {first: texts}
    for name, (role, unit) in columns.items():
        table[name] = np.round(_out_of_si(log.values[role], unit, atmosphere), places)
    out = io.StringIO()
    pd.DataFrame(table).to_csv(out, sep=delimiter, decimal=decimal, index=False)
    return out.getvalue().encode(encoding)


def _out_of_si(column, unit, atmosphere):
    if unit in PRESSURES:
        name, gauge = PRESSURES[unit]
        return units.from_si(column - (atmosphere if gauge else 0.0), name)
    return units.from_si(column, TEMPERATURES[unit]) if unit in TEMPERATURES else column
