r"""Logger files: read any of them, and find in it how a box has run.

>>> from lowside import refrigerants, trend
>>> content = b"time;suction [barg];bulb [\xc2\xb0C];amps\n" + b"".join(
...     f"2026-10-24 20:{m:02d}:{s:02d};3,{m % 7}1;{-2 - m % 3},5;6,2\n".encode()
...     for m in range(30) for s in (0, 20, 40)
... )
>>> dialect = trend.propose(content)
>>> dialect.delimiter, dialect.decimal, dialect.time
(';', ',', ('time',))
>>> meanings = trend.meanings(dialect)
>>> meanings["suction [barg]"]
('suction_pressure', 'barg')
>>> log = trend.read(content, dialect, meanings)
>>> report = trend.analyse(log, refrigerants.get("R404A"))
>>> report.run_share
1.0

Rooms: `dialect` (how a file is written), `clock` (times, zones, clocks put back), `guess` (what a
column may be), `log` (the record, in SI), `running` (compressor on and off), `events` (defrosts,
heat through a door), `beats` (hunting), `report` (all of it), `words` (for a work order),
`writing` (a record as a file).
"""

from .beats import Beat
from .clock import AS_WRITTEN, COUNTS, ORDERS, WRITTEN, form_of
from .dialect import DECIMALS, DELIMITERS, Dialect, propose
from .events import Defrost, DoorHeat
from .guess import meaning, meanings
from .log import AS_IT_IS, ROLES, Log, read, units_of
from .report import SHORT_RUN, Report, analyse
from .running import CURRENT, SUCTION, Stretches, running, stretches
from .words import Event, clock_text, events_of, remarks, work_order
from .writing import write

__all__ = [
    "AS_IT_IS",
    "AS_WRITTEN",
    "COUNTS",
    "CURRENT",
    "DECIMALS",
    "DELIMITERS",
    "ORDERS",
    "ROLES",
    "SHORT_RUN",
    "SUCTION",
    "WRITTEN",
    "Beat",
    "Defrost",
    "Dialect",
    "DoorHeat",
    "Event",
    "Log",
    "Report",
    "Stretches",
    "analyse",
    "clock_text",
    "events_of",
    "form_of",
    "meaning",
    "meanings",
    "propose",
    "read",
    "remarks",
    "running",
    "stretches",
    "units_of",
    "work_order",
    "write",
]
