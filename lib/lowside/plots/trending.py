"""A logger's record over the clock: superheat, suction and box air, with what happened marked."""

from __future__ import annotations

import math

import numpy as np

from lowside import trend
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Span, Text

WIDTH, HEIGHT = 700, 560
LEFT, RIGHT = 60, 690
ROWS = {"superheat": (116, 270), "suction": (310, 394), "air": (434, 514)}
LANES = {"run": (34, 46), "D": (50, 62), "H": (66, 78), "O": (82, 94)}
_NAMES = {"run": "runs", "D": "D", "H": "H", "O": "O"}
_LEGEND = "D defrost · H hunting · O heat from outside · S short run · G no readings"
_SUPERHEAT = -2.0, 14.0  # [K] shown
_MOST_POINTS = 600  # columns of one line; the lowest and highest reading of each are kept
_STEPS = (60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400, 172800, 604800)  # [s]
_STEPS_OF = {
    "temperature_difference": {"us": (5, 10), "metric": (2, 5)},
    "gauge_pressure": {"us": (5, 10, 20, 40, 80), "metric": (0.2, 0.5, 1, 2, 5)},
    "temperature": {"us": (2, 5, 10, 20, 40), "metric": (1, 2, 5, 10, 20)},
}
_KINDS = {
    "superheat": "temperature_difference",
    "suction": "gauge_pressure",
    "air": "temperature",
}


def trend_figure(show, report, begin, length, name):
    """Draw a part of a record.

    Parameters
    ----------
    show : Readout
        The reader's units.
    report : trend.Report
        Of the whole record.
    begin, length : float
        From the first reading, and how much is shown. [s]
    name : str
        Of the record.

    Returns
    -------
    LiveFigure
        With words, readings, numbers and remarks; all of them of the whole record.
    """
    scene = _Scene(show, report, begin, length)
    background = Background.once(
        scene.draw_background, WIDTH, HEIGHT, ("trend", show, tuple(scene.limits.items()))
    )
    said = trend.work_order(report, show)
    first, last = (
        trend.clock_text(report.log, time, date=True) for time in (scene.start, scene.end)
    )
    words = f"{name}, drawn from {first} to {last}. The whole record: {' '.join(said)}"
    return LiveFigure(
        background,
        scene.items(),
        words,
        _readings(report, show),
        {"run_share": report.run_share, "defrosts": len(report.defrosts)},
        trend.remarks(report),
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, report, begin, length):
        self.show, self.report, self.log = show, report, report.log
        self.start = self.log.time[0] + min(begin, max(self.log.span - 60.0, 0.0))
        self.end = min(self.start + length, self.log.time[-1])
        values = self.log.values
        self.rows = {"superheat": _shown_superheat(report)}
        self.rows["suction"] = values.get("suction_pressure")
        self.rows["air"] = values.get("box_temperature")
        self.limits = {
            row: _SUPERHEAT if row == "superheat" else _limits(column)
            for row, column in self.rows.items()
        }

    # ---------------------------------------------------------------- what stands still

    def draw_background(self, figure):
        axes = {}
        for name, (top, bottom) in ROWS.items():
            place = LEFT / WIDTH, 1 - bottom / HEIGHT
            size = (RIGHT - LEFT) / WIDTH, (bottom - top) / HEIGHT
            ax = axes[name] = figure.add_axes((*place, *size))
            ax.set_xlim(0.0, 1.0)
            ax.set_ylim(*self.limits[name])
            ax.set_xticks([])
            ax.grid(axis="y")
            ticks = self._ticks(name)
            ax.set_yticks([float(self.show.si(tick, _KINDS[name])) for tick in ticks])
            ax.set_yticklabels([f"{tick:g}" for tick in ticks])
        page = axes["page"] = figure.add_axes((0, 0, 1, 1))
        page.set_axis_off()
        page.set_xlim(0, WIDTH)
        page.set_ylim(HEIGHT, 0)
        titles = {
            "superheat": "superheat while running",
            "suction": "suction",
            "air": "box air",
        }
        fixed = [
            self._text(LEFT, ROWS[row][0] - 8, self.show.axis(title, _KINDS[row]), bold=True)
            for row, title in titles.items()
        ]
        fixed.append(self._text(LEFT, 20, _LEGEND))
        fixed += [
            self._text(LEFT - 8, bottom, _NAMES[lane], "end", bold=True)
            for lane, (_, bottom) in LANES.items()
        ]
        return axes, fixed

    def _ticks(self, row):
        kind = _KINDS[row]
        low, high = (float(self.show.value(end, kind)) for end in self.limits[row])
        steps = _STEPS_OF[kind][self.show.system]
        step = next((size for size in steps if (high - low) / size < 5.5), steps[-1])
        return np.arange(math.ceil(low / step) * step, high + 1e-9, step)

    # ---------------------------------------------------------------- what moves

    def items(self):
        items = [Span("y", _SUPERHEAT[0], 0.0, "#DCEAF4", 1.0, "superheat")]
        looks = {"superheat": style.INK, "suction": style.LOW, "air": style.OWN}
        for row, column in self.rows.items():
            if column is None:
                top, bottom = ROWS[row]
                items.append(self._text(LEFT + 10, 0.5 * (top + bottom), "not recorded"))
            else:
                items.append(Line(*self._thinned(column), looks[row], 1.6, axes=row))
        items.append(self._text(LEFT + 8, ROWS["superheat"][1] - 5, "below zero: liquid"))
        return items + self._lanes() + self._clock()

    def _thinned(self, column):
        """Keep the lowest and the highest reading of every strip of the picture."""
        part = slice(*np.searchsorted(self.log.time, [self.start, self.end], side="left"))
        time, values = self.log.time[part], column[part]
        if time.size > 2 * _MOST_POINTS:
            strip = time.size // _MOST_POINTS
            count = time.size // strip
            table = values[: count * strip].reshape(count, strip)
            filled = np.isfinite(table)
            low = np.where(filled, table, np.inf).argmin(axis=1)
            high = np.where(filled, table, -np.inf).argmax(axis=1)
            kept = np.sort(np.stack([low, high], axis=1), axis=1)
            kept = (kept + strip * np.arange(count)[:, None]).ravel()
            time, values = time[kept], values[kept]
        for before, _ in self.log.gaps():
            place = int(np.searchsorted(time, before, side="right"))
            if 0 < place < time.size:
                time, values = np.insert(time, place, before), np.insert(values, place, np.nan)
        return (time - self.start) / (self.end - self.start), values

    def _lanes(self):
        runs = self.report.runs
        items = [
            self._bar(*self._across(*ends), "run", style.OWN)
            for ends in zip(runs.start, runs.end, strict=True)
            if self._seen(*ends)
        ]
        for event in trend.events_of(self.report, self.show):
            if not self._seen(event.start, event.end):
                continue
            left, right = self._across(event.start, event.end)
            middle = 0.5 * (left + right)
            if event.letter in LANES:
                items.append(self._bar(left, right, event.letter, style.HAZE, style.INK))
            else:
                y = LANES["run"][1] if event.letter == "G" else LANES["run"][0]
                items.append(self._text(middle, y, event.letter, "middle", 11.0))
        return items

    def _clock(self):
        span = self.end - self.start
        step = next((size for size in _STEPS if span / size <= 8.0), _STEPS[-1])
        local = self.start + float(self.log.local[0])
        items, bottom = [], ROWS["air"][1]
        for tick in np.arange(math.ceil(local / step) * step, local + span, step):
            at = self.start + tick - local
            x = self._across(at, at)[0]
            items.append(Line([x, x], [bottom, bottom + 5], style.MUTED, 1.2, axes="page"))
            items.append(self._text(x, bottom + 20, trend.clock_text(self.log, at), "middle"))
        date = trend.clock_text(self.log, self.start, date=True)
        items.append(self._text(RIGHT, HEIGHT - 8, f"clock on the wall, from {date}", "end"))
        return items

    def _bar(self, left, right, lane, colour, edge=None):
        top, bottom = LANES[lane]
        return Bar(left, top, max(right, left + 2.0), bottom, colour, edge, axes="page")

    def _seen(self, start, end):
        return end > self.start and start < self.end

    def _across(self, start, end):
        width = (RIGHT - LEFT) / (self.end - self.start)
        return tuple(
            float(min(max(LEFT + (time - self.start) * width, LEFT), RIGHT))
            for time in (start, end)
        )

    def _text(self, x, y, text, anchor="start", size=style.SMALL, bold=False):
        look = (Spot(0, 0, anchor),), size, style.INK, bold
        return Text(x, y, text, *look, halo=False, axes="page")


def _shown_superheat(report):
    """Superheat while the compressor runs, within what is drawn; NaN elsewhere [K]."""
    if report.superheat is None:
        return None
    low, high = _SUPERHEAT
    known = report.on & (report.superheat >= low) & (report.superheat <= high)
    return np.where(known, report.superheat, np.nan)


def _limits(column):
    if column is None or not np.isfinite(column).any():
        return 273.15, 283.15
    low, high = float(np.nanmin(column)), float(np.nanmax(column))
    room = 0.08 * (high - low) + 0.002 * abs(high)
    return low - room, high + room


def _readings(report, show):
    found = [
        ("Runs", show.text(report.run_share, "ratio")),
        ("Starts an hour", f"{report.starts_per_hour * 3600.0:.1f}"),
        ("Short runs", str(len(report.short_runs))),
        ("Defrosts", str(len(report.defrosts)) if report.thawed_how else "unknown"),
        ("Longest gap", show.text(report.longest_gap, "time")),
    ]
    if report.superheat is not None and report.settled().size:
        kind = "temperature_difference"
        found.append(("Superheat, lowest", show.text(float(report.settled().min()), kind)))
    if report.hunting:
        period = float(np.median([beat.period for beat in report.hunting]))
        found.append(("One beat", show.text(period, "time")))
    return found
