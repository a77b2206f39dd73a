"""Logger files: dialects, clocks, events. Checked against pandas, scipy, zoneinfo and ISO 8601."""

import datetime
import re
from dataclasses import replace
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from lowside import readout, refrigerants, trend, units
from lowside.errors import LowsideError, UnknownName
from scipy import signal

FLUID = refrigerants.get("R404A")
START = 1792864800.0  # 2026-10-24 18:00 UTC
COLUMNS_METRIC = {
    "Suction [barg]": ("suction_pressure", "barg"),
    "Suction line [°C]": ("suction_temperature", "°C"),
    "Box air [°C]": ("box_temperature", "°C"),
    "Compressor [A]": ("running", "as it is"),
}
COLUMNS_US = {
    "Suction psig": ("suction_pressure", "psig"),
    "Suction line deg F": ("suction_temperature", "°F"),
    "Box air deg F": ("box_temperature", "°F"),
    "Compressor amps": ("running", "as it is"),
}


def record(hours=4.0, step=10.0, on=1200.0, off=600.0, swing=2.0, period=65.0):
    """Make a box of one lump that switches by the clock: every answer is known beforehand."""
    time = START + np.arange(0.0, hours * 3600.0, step)
    phase = (time - START) % (on + off)
    running = phase < on
    dew = np.where(running, 264.0, 272.0)
    superheat = 6.0 + swing * np.sin(2.0 * np.pi * time / period)
    air = np.where(running, 276.0 - 2.0 * phase / on, 274.0 + 2.0 * (phase - on) / off)
    values = {
        "suction_pressure": FLUID.dew_pressure(dew),
        "suction_temperature": np.where(running, dew + superheat, 275.0),
        "box_temperature": air,
        "running": np.where(running, 6.0, 0.0),
    }
    return trend.Log(time, np.zeros(time.size), values)


def read_back(content, **how):
    dialect = trend.propose(content)
    return trend.read(content, dialect, trend.meanings(dialect), **how)


# Dialects ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("columns", "how"),
    [
        (COLUMNS_METRIC, {}),
        (COLUMNS_METRIC, {"delimiter": ";", "decimal": ",", "stamp": "dotted"}),
        (COLUMNS_METRIC, {"delimiter": "\t", "encoding": "utf-16"}),
        (COLUMNS_METRIC, {"encoding": "utf-8-sig", "delimiter": "|"}),
        (COLUMNS_METRIC, {"encoding": "cp1252", "delimiter": ";", "decimal": ","}),
        (COLUMNS_US, {"stamp": "us", "encoding": "utf-16-le"}),
        (COLUMNS_US, {"offset": True, "zone": "America/Denver"}),
    ],
)
def test_what_was_written_is_read_whatever_the_dialect(columns, how):
    log = record()
    seen = read_back(trend.write(log, columns, places=4, **how))
    np.testing.assert_allclose(seen.time, log.time, atol=0.01)
    for role in log.values:
        np.testing.assert_allclose(seen.values[role], log.values[role], rtol=2e-4)


def test_gauge_pressure_counts_from_the_barometer_of_the_place():
    log, here = record(), units.atmosphere(1600.0)
    content = trend.write(log, COLUMNS_METRIC, atmosphere=here, places=5)
    seen = read_back(content, atmosphere=here)
    assert seen.values["suction_pressure"] == pytest.approx(
        log.values["suction_pressure"], rel=1e-5
    )
    wrong = read_back(content)
    off = wrong.values["suction_pressure"] - seen.values["suction_pressure"]
    np.testing.assert_allclose(off, units.STANDARD_ATMOSPHERE - here)


def test_superheat_counts_from_dew_as_everywhere():
    log = record()
    expected = FLUID.superheat(log.values["suction_pressure"], log.values["suction_temperature"])
    np.testing.assert_allclose(log.superheat(FLUID), expected)


def test_preamble_thousands_texts_and_missing_cells():
    lines = ["Logger 7", "made up", "Date;Time;Suction kPa;Box air °C"]
    lines += [f"24.10.2026;20:{m:02d};1.20{m % 10},5;{m % 3},5" for m in range(40)]
    lines[9] = "24.10.2026;20:06;OPEN;2,5"
    lines[10] = "24.10.2026;20:07;;2,5"
    content = "\r\n".join(lines).encode("cp1252")
    dialect = trend.propose(content)
    assert (dialect.skipped, dialect.thousands, dialect.time) == (2, ".", ("Date", "Time"))
    log = trend.read(content, dialect, trend.meanings(dialect))
    pressure = log.values["suction_pressure"]
    assert pressure[0] == pytest.approx(1200.5e3 + units.STANDARD_ATMOSPHERE)
    assert np.isnan(pressure[6:8]).all()
    assert np.isfinite(pressure).sum() == 38
    assert any("OPEN" in note for note in log.notes)


@pytest.mark.parametrize(
    ("first", "kind", "factor"),
    [
        (START, "seconds since 1970", 1.0),
        (START * 1e3, "milliseconds since 1970", 1e-3),
        (START / 86400.0 + 25569.0, "days as a spreadsheet counts them", 86400.0),
    ],
)
def test_counted_times(first, kind, factor):
    # A spreadsheet's day 25569 is 1970-01-01, as pandas has it too: origin 1899-12-30.
    rows = "\n".join(f"{first + 60.0 * n / factor!r},{n % 5}.5" for n in range(30))
    dialect = trend.propose(f"stamp,Box air C\n{rows}".encode())
    assert dialect.form.kind == kind
    log = trend.read(f"stamp,Box air C\n{rows}".encode(), dialect, trend.meanings(dialect))
    np.testing.assert_allclose(log.time, START + 60.0 * np.arange(30), atol=0.01)


def test_order_of_day_and_month_is_a_proposal_where_the_file_does_not_say():
    content = b"time,Box air F\n" + b"".join(b"03/04/2026 10:%02d:00,36.5\n" % m for m in range(30))
    dialect = trend.propose(content)
    assert not dialect.form.sure
    assert dialect.form.order == "month first"
    other = replace(dialect, form=trend.form_of(["03/04/2026 10:00:00"], "day first"))
    meanings = trend.meanings(dialect)
    march, april = (trend.read(content, how, meanings).time[0] for how in (dialect, other))
    assert april - march == 30 * 86400.0  # 4 March and 3 April
    sure = trend.propose(content.replace(b"03/04", b"25/04"))
    assert (sure.form.order, sure.form.sure) == ("day first", True)


# Clocks ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("zone", "offset"), [("Europe/Berlin", 1), ("America/New_York", -5)])
def test_a_clock_put_back_loses_no_hour(zone, offset):
    # Berlin put its clocks back on 2026-10-25 and New York on 2026-11-01 (zoneinfo has both).
    start = START if zone.startswith("E") else START + 7 * 86400.0 + 6 * 3600.0
    log = record(hours=16.0)
    log = replace(log, time=log.time - START + start)
    content = trend.write(log, COLUMNS_US, zone=zone, stamp="us")
    assert content != trend.write(log, COLUMNS_US, zone="UTC", stamp="us")
    seen = read_back(content, zone=zone)
    np.testing.assert_allclose(seen.time, log.time)
    for place in (0, -1):
        wall = datetime.datetime.fromtimestamp(log.time[place], ZoneInfo(zone)).strftime("%H:%M")
        assert trend.clock_text(seen, seen.time[place]) == wall
    assert seen.local[-1] == offset * 3600.0
    unnamed = read_back(content)
    np.testing.assert_allclose(np.diff(unnamed.time), np.diff(log.time))
    assert any("one hour" in note for note in unnamed.notes)


def test_a_clock_put_forward_is_a_gap_only_where_no_zone_is_known():
    log = record(hours=12.0)
    log = replace(log, time=log.time - START + 1774724400.0)  # 2026-03-28 19:00 UTC
    content = trend.write(log, COLUMNS_US, zone="Europe/Berlin", stamp="us")
    assert len(read_back(content, zone="Europe/Berlin").gaps()) == 0
    assert len(read_back(content).gaps()) == 1


def test_times_that_repeat_or_run_backward():
    log = record(hours=1.0)
    lines = trend.write(log, COLUMNS_METRIC).decode().splitlines()
    lines[50], lines[80] = lines[80], lines[50]
    lines.insert(100, lines[99])
    seen = read_back("\n".join(lines).encode())
    np.testing.assert_allclose(seen.time, log.time)
    said = " ".join(seen.notes)
    assert "backward" in said
    assert "repeat" in said


def test_a_clock_coarser_than_the_readings_is_spread():
    log = record(hours=1.0)
    content = re.sub(rb"(\d\d:\d\d):\d\d", rb"\1:00", trend.write(log, COLUMNS_METRIC))
    np.testing.assert_allclose(np.diff(read_back(content).time), 10.0)


# Refusals ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\r\n\r\n", "empty"),
        (b"PK\x03\x04abcdefgh", "save it as CSV"),
        (bytes(range(256)) * 50, "no text file"),
        (b"just some words\nand more of them\n", "No table"),
        (b"a,b\n1,2\n3,4\n", "time"),
        (b"time,Box air C\n", "nothing under it"),
    ],
)
def test_what_cannot_be_read_gets_one_sentence(content, words):
    with pytest.raises(LowsideError, match=words):
        trend.propose(content)


def test_wrong_meanings_are_named():
    content = trend.write(record(hours=1.0), COLUMNS_METRIC)
    dialect = trend.propose(content)
    for meanings, words in (
        ({"nobody": ("running", "as it is")}, "column"),
        ({"Box air [°C]": ("weather", "°C")}, "meaning"),
        ({"Box air [°C]": ("box_temperature", "psig")}, "unit"),
    ):
        with pytest.raises(UnknownName, match=words):
            trend.read(content, dialect, meanings)
    twice = dict.fromkeys(("Box air [°C]", "Suction line [°C]"), ("box_temperature", "°C"))
    with pytest.raises(LowsideError, match="Two columns"):
        trend.read(content, dialect, twice)
    with pytest.raises(UnknownName, match="zone"):
        trend.read(content, dialect, trend.meanings(dialect), zone="Nowhere/Atall")


# Events ------------------------------------------------------------------------------------------


def test_cycles_and_run_share():
    report = trend.analyse(record(hours=6.0), FLUID)
    assert report.how == trend.CURRENT
    assert report.run_share == pytest.approx(2.0 / 3.0, abs=0.005)
    assert report.starts_per_hour * 3600.0 == pytest.approx(2.0, abs=0.2)
    assert len(report.short_runs) == 0
    short = trend.analyse(record(on=120.0, off=120.0), FLUID)
    assert len(short.short_runs) == int(short.runs.whole.sum()) > 50


def test_suction_tells_the_same_cycles_as_the_current():
    log = record()
    values = {name: column for name, column in log.values.items() if name != "running"}
    report = trend.analyse(replace(log, values=values), FLUID)
    assert report.how == trend.SUCTION
    np.testing.assert_array_equal(report.on, trend.analyse(log, FLUID).on)


@pytest.mark.parametrize("period", [50.0, 65.0, 110.0])
def test_beat_agrees_with_scipys_periodogram(period):
    log = record(period=period)
    report = trend.analyse(log, FLUID)
    assert report.hunting
    beat = report.hunting[0]
    part = (log.time >= beat.start) & (log.time < beat.end)
    trials = np.linspace(30.0, 200.0, 3000)
    power = signal.lombscargle(
        log.time[part] - beat.start,
        log.superheat(FLUID)[part] - 6.0,
        2.0 * np.pi / trials,
    )
    assert beat.period == pytest.approx(trials[power.argmax()], rel=0.01)
    assert beat.amplitude == pytest.approx(2.0, rel=0.05)


def test_steady_superheat_is_no_hunting():
    random = np.random.default_rng(1)
    log = record(swing=0.0)
    line = log.values["suction_temperature"] + random.normal(0.0, 0.3, log.time.size)
    report = trend.analyse(replace(log, values={**log.values, "suction_temperature": line}), FLUID)
    assert len(report.beats) > 3
    assert not report.hunting


def test_a_slow_logger_is_told_that_it_cannot_see_hunting():
    report = trend.analyse(record(hours=12.0, step=60.0), FLUID)
    assert report.too_slow
    assert "too slow" in trend.remarks(report)[0][1]


def test_heat_through_a_door_is_recovered_from_the_slopes():
    log = record(hours=4.0, on=3000.0, off=600.0)
    cooling, warming = -2.0 / 3000.0, 2.0 / 600.0  # [K/s], as `record` has them
    share = 1.5  # heat on top, over what the machine takes
    begin = START + 4500.0
    during = (log.time >= begin) & (log.time < begin + 900.0)
    extra = np.cumsum(np.where(during, share * (warming - cooling), 0.0)) * 10.0
    air = log.values["box_temperature"] + extra
    report = trend.analyse(replace(log, values={**log.values, "box_temperature": air}), FLUID)
    (door,) = report.doors
    assert door.share == pytest.approx(share, rel=0.1)
    assert door.start == pytest.approx(begin, abs=120.0)
    assert not trend.analyse(log, FLUID).doors


def with_defrosts(log, starts, length):
    coil = np.where(log.values["running"] > 0.0, 264.0, 270.0)
    running, pressure = log.values["running"].copy(), log.values["suction_pressure"].copy()
    for start in starts:
        part = (log.time >= START + start) & (log.time < START + start + length)
        coil[part] = np.linspace(264.0, 283.0, part.sum())
        running[part], pressure[part] = 0.0, FLUID.dew_pressure(coil[part])
    values = {**log.values, "running": running, "coil_temperature": coil}
    return replace(log, values={**values, "suction_pressure": pressure})


def test_defrosts_are_counted_and_timed():
    log = with_defrosts(
        record(hours=24.0), [3600.0 * h + 600.0 for h in (2.0, 8.0, 14.0, 20.0)], 1150.0
    )
    report = trend.analyse(log, FLUID)
    assert len(report.defrosts) == 4
    assert report.defrosts_per_day * 86400.0 == pytest.approx(4.0, rel=0.01)
    assert report.defrosts[0].peak == pytest.approx(283.0)
    assert report.defrosts[0].start - START == pytest.approx(7800.0, abs=20.0)
    without = {name: column for name, column in log.values.items() if name != "coil_temperature"}
    by_dew = trend.analyse(replace(log, values=without), FLUID)
    assert [d.start for d in by_dew.defrosts] == [d.start for d in report.defrosts]


def test_gaps_cut_runs_and_count_for_nothing():
    log = record(hours=8.0)
    kept = (log.time < START + 4000.0) | (log.time > START + 9000.0)
    cut = replace(
        log,
        time=log.time[kept],
        local=log.local[kept],
        values={role: column[kept] for role, column in log.values.items()},
    )
    report = trend.analyse(cut, FLUID)
    assert report.longest_gap == pytest.approx(5010.0, abs=11.0)
    assert report.runs.length.max() < 1300.0
    assert report.run_share == pytest.approx(2.0 / 3.0, abs=0.03)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_a_work_order_in_the_readers_units(system):
    report = trend.analyse(with_defrosts(record(hours=24.0), [7200.0], 1150.0), FLUID)
    show = readout.choose(system)
    said = " ".join(trend.work_order(report, show))
    events = trend.events_of(report, show)
    said += " ".join(event.said for event in events)
    assert "1 defrost" in said
    assert "Hunting in" in said
    assert not re.search(r"\b(nan|inf)\b", said)
    assert ("°F" in said) == (system == "us")
    assert list(events) == sorted(events, key=lambda event: event.start)


def test_a_hundred_thousand_rows_say_the_same_as_their_parts():
    log = record(hours=280.0)
    report = trend.analyse(log, FLUID)
    assert log.time.size > 100_000
    assert report.run_share == pytest.approx(2.0 / 3.0, abs=0.001)
    assert all(beat.period == pytest.approx(65.0, rel=0.01) for beat in report.hunting)
    part = log.between(START, START + 7200.0)
    assert trend.analyse(part, FLUID).run_share == pytest.approx(2.0 / 3.0, abs=0.02)
