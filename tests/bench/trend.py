"""Time a logger's file of a million rows: proposed, read, and all its events found.

Run: python tests/bench/trend.py [rows]. Prints medians; nothing here passes or fails.
"""

import statistics
import sys
import time

import numpy as np
from lowside import refrigerants, trend

REPEATS = 3
DIALECTS = {
    "ISO 8601, comma": {},
    "semicolon, decimal comma, dotted dates": {
        "stamp": "dotted",
        "delimiter": ";",
        "decimal": ",",
    },
    "US dates with AM and PM": {"stamp": "us"},
    "UTF-16, tab": {"encoding": "utf-16", "delimiter": "\t"},
}
COLUMNS = {
    "Suction [barg]": ("suction_pressure", "barg"),
    "Suction line [°C]": ("suction_temperature", "°C"),
    "Box air [°C]": ("box_temperature", "°C"),
    "Coil [°C]": ("coil_temperature", "°C"),
    "Compressor [A]": ("running", "as it is"),
}


def record(fluid, rows):
    random = np.random.default_rng(1)
    time_ = 1792864800.0 + np.arange(rows)
    on = time_ % 1800.0 < 1200.0
    dew = np.where(on, 264.0, 272.0) + random.normal(0.0, 0.1, rows)
    superheat = 6.0 + 2.0 * np.sin(2.0 * np.pi * time_ / 65.0)
    values = {
        "suction_pressure": fluid.dew_pressure(dew),
        "suction_temperature": dew + superheat,
        "box_temperature": 275.0 + random.normal(0.0, 0.1, rows),
        "coil_temperature": dew + 1.0,
        "running": np.where(on, 6.0, 0.0),
    }
    return trend.Log(time_, np.zeros(rows), values)


def main(rows):
    fluid = refrigerants.get("R404A")
    log = record(fluid, rows)
    print(f"{rows} rows, {len(COLUMNS)} columns; medians of {REPEATS} [s]")
    print(f"{'dialect':42}{'MB':>7}{'propose':>9}{'read':>8}{'analyse':>9}{'all':>8}")
    for name, how in DIALECTS.items():
        content = trend.write(log, COLUMNS, **how)
        times = []
        for _ in range(REPEATS):
            clock = [time.perf_counter()]
            dialect = trend.propose(content)
            clock.append(time.perf_counter())
            seen = trend.read(content, dialect, trend.meanings(dialect))
            clock.append(time.perf_counter())
            trend.analyse(seen, fluid)
            clock.append(time.perf_counter())
            times.append([*np.diff(clock), clock[-1] - clock[0]])
        parts = [statistics.median(column) for column in zip(*times, strict=True)]
        print(
            f"{name:42}{len(content) / 1e6:7.0f}{parts[0]:9.2f}{parts[1]:8.2f}{parts[2]:9.2f}"
            f"{parts[3]:8.2f}"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
