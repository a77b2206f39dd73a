"""A valve on the recorder: superheat, suction and lift in time, the margin, the bulb's place."""

from __future__ import annotations

import math

import numpy as np

from lowside.plots import bulbplace, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.huntingwords import CALM, Case
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Bar, Brace, Line, Span, Text

WIDTH, HEIGHT = 700, 560
LEFT, RIGHT = 52, 456
ROWS = {"superheat": (34, 262), "suction": (306, 396), "lift": (440, 512)}
SIDE = (482, 692)

LOWEST, HIGHEST = -1.0, 12.0  # [K] of superheat shown
_DEW_BELOW, _DEW_ABOVE, _DEW_STEP = 5.0, 5.0, 2.0  # [K] around a design evaporating temperature
_WET, _HUNTS, _SLOW = "#DCEAF4", "#D9C7EE", "#EFE8F7"
_SUPERHEAT_STEP = {"us": 5.0, "metric": 2.0}
_PRESSURE_STEPS = {"us": (5, 10, 20, 40), "metric": (0.2, 0.5, 1, 2)}

GAUGE = (0.45, 5.0)  # margins that the gauge shows
_GAUGE_TICKS = (0.5, 1.0, 2.0, 4.0)
_GAUGE_TOP, _GAUGE_BOTTOM = 84, 112
_CUT_TOP, _CUT_SIZE = 200, 200
_LINE_TOP = 450


def hunting_figure(show, circuit, trace, name):
    """Draw what recorder, margin and bulb say of one valve.

    Parameters
    ----------
    show : Readout
        The reader's units.
    circuit : hunting.Circuit
        At rest.
    trace : hunting.Trace
        The same after a hand has warmed its bulb.
    name : str
        Of the box, such as "walk-in cooler, R404A".

    Returns
    -------
    LiveFigure
        With words, readings and numbers.
    """
    case = Case(show, circuit, trace, name)
    scene = _Scene(case)
    background = Background.once(
        scene.draw_background,
        WIDTH,
        HEIGHT,
        ("hunting", show, scene.pressures, scene.minutes),
    )
    return LiveFigure(
        background, scene.items(), case.words(), case.readings(), case.numbers(), case.remarks()
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, case):
        self.case, self.show = case, case.show
        self.circuit, self.trace = case.circuit, case.trace
        self.minutes = round(float(self.trace.time[-1]) / 60.0)
        fluid = self.circuit.plant.box.refrigerant
        reference = self.circuit.plant.box.valve.spring.evaporating_temperature
        nearest = _DEW_STEP * round(float(reference) / _DEW_STEP)
        ends = nearest - _DEW_BELOW, nearest + _DEW_ABOVE
        self.pressures = tuple(float(fluid.dew_pressure(end)) for end in ends)

    # ---------------------------------------------------------------- what stands still

    def draw_background(self, figure):
        axes = {}
        limits = {"superheat": (LOWEST, HIGHEST), "suction": self.pressures, "lift": (0.0, 1.04)}
        for name, (top, bottom) in ROWS.items():
            ax = axes[name] = figure.add_axes(
                (
                    LEFT / WIDTH,
                    1 - bottom / HEIGHT,
                    (RIGHT - LEFT) / WIDTH,
                    (bottom - top) / HEIGHT,
                )
            )
            ax.set_xlim(0.0, 60.0 * self.minutes)
            ax.set_ylim(*limits[name])
            ax.grid(axis="y")
            ax.set_xticks(60.0 * np.arange(0, self.minutes + 1, 3))
            labels = range(0, self.minutes + 1, 3) if name == "lift" else []
            ax.set_xticklabels([str(minute) for minute in labels] if name == "lift" else [])
            ax.tick_params(axis="x", length=5 * style.POINTS)
        self._ticks(axes)
        page = axes["page"] = figure.add_axes((0, 0, 1, 1))
        page.set_axis_off()
        page.set_xlim(0, WIDTH)
        page.set_ylim(HEIGHT, 0)
        return axes, self._titles()

    def _ticks(self, axes):
        show = self.show
        step = _SUPERHEAT_STEP[show.system]
        most = float(show.value(HIGHEST, "temperature_difference"))
        values = {"superheat": np.arange(0.0, most + 0.1, step), "lift": (0, 50, 100)}
        low, high = (float(show.value(p, "gauge_pressure")) for p in self.pressures)
        steps = _PRESSURE_STEPS[show.system]
        step = next((s for s in steps if (high - low) / s < 5.0), steps[-1])
        values["suction"] = np.arange(math.ceil(low / step) * step, high, step)
        kinds = {
            "superheat": "temperature_difference",
            "suction": "gauge_pressure",
            "lift": "ratio",
        }
        for name, kind in kinds.items():
            axes[name].set_yticks([float(show.si(value, kind)) for value in values[name]])
            axes[name].set_yticklabels([f"{value:g}" for value in values[name]])

    def _titles(self):
        show = self.show
        bold = {"bold": True, "axes": "page", "halo": False}
        start = (Spot(0, 0),)
        titles = {
            "superheat": show.axis("superheat", "temperature_difference"),
            "suction": show.axis("suction", "gauge_pressure"),
            "lift": "lift of the pin [% of travel]",
        }
        fixed = [
            Text(LEFT, ROWS[name][0] - 10, title, start, **bold) for name, title in titles.items()
        ]
        fixed.append(
            Text(
                RIGHT,
                HEIGHT - 8,
                "minutes since a hand warmed the bulb",
                (Spot(0, 0, "end"),),
                style.SMALL,
                halo=False,
                axes="page",
            )
        )
        fixed.append(Text(SIDE[0], 24, "margin to hunting", start, **bold))
        fixed.append(Text(SIDE[0], _CUT_TOP - 6, "line and bulb, to scale", start, **bold))
        return fixed + self._gauge()

    def _gauge(self):
        """Draw a scale of how much stronger the loop may get: doublings are equal steps."""
        zones = (
            (GAUGE[0], 1.0, _HUNTS, "hunts"),
            (1.0, CALM, _SLOW, ""),
            (CALM, GAUGE[1], style.PAPER, "calm"),
        )
        items = []
        for low, high, colour, name in zones:
            a, b = _along(low), _along(high)
            items.append(Bar(a, _GAUGE_TOP, b, _GAUGE_BOTTOM, colour, style.INK, axes="page"))
            middle = 0.5 * (a + b), _GAUGE_BOTTOM - 9
            items.append(self._small(*middle, name, "middle", bold=True))
        for stroke in np.arange(_along(GAUGE[0]) + 5, _along(1.0) - 4, 9.0):
            ends = [_GAUGE_BOTTOM - 1, _GAUGE_BOTTOM - 5]
            items.append(Line([stroke, stroke], ends, style.INK, 1.2, axes="page"))
        for tick in _GAUGE_TICKS:
            x = _along(tick)
            ends = [_GAUGE_BOTTOM, _GAUGE_BOTTOM + 5]
            items.append(Line([x, x], ends, style.INK, 1.4, axes="page"))
            items.append(self._small(x, _GAUGE_BOTTOM + 19, f"{tick:g}", "middle"))
        return items

    # ---------------------------------------------------------------- what moves

    def items(self):
        trace = self.trace
        items = [Span("y", LOWEST, 0.0, _WET, 1.0, "superheat")]
        time = trace.time
        rest = self.case.circuit.superheat
        items.append(
            Line([0.0, time[-1]], [rest, rest], style.MUTED, 1.4, "dashed", axes="superheat")
        )
        shown = np.where(trace.superheat <= HIGHEST, trace.superheat, np.nan)
        items.append(Line(time, shown, style.INK, 2.4, axes="superheat"))
        low, high = self.pressures
        inside = (trace.suction_pressure >= low) & (trace.suction_pressure <= high)
        pressure = np.where(inside, trace.suction_pressure, np.nan)
        items.append(Line(time, pressure, style.LOW, 2.4, axes="suction"))
        items.append(Line(time, trace.lift_share, style.OWN, 2.4, axes="lift"))
        items += self._beat()
        items.append(
            self._small(LEFT + 8, ROWS["superheat"][1] - 5, "zero and below: liquid at the bulb")
        )
        return items + self._margin() + self._bulb()

    def _beat(self):
        """Mark one beat between two low points, and how far it swings."""
        if not self.case.hunts:
            return []
        seen, trace = self.case.seen, self.trace
        last = trace.time[-1] - 1.15 * seen.period
        window = (trace.time > last - seen.period) & (trace.time <= last)
        start = float(trace.time[window][trace.superheat[window].argmin()])
        lows = start, start + seen.period
        top = min(float(trace.superheat[trace.time > 0.5 * trace.time[-1]].max()), HIGHEST)
        return [
            Brace(
                lows[0],
                top,
                lows[1],
                top,
                self.show.text(seen.period, "time"),
                "above",
                gap=6,
                leans=(0.0, -20.0),
                axes="superheat",
            )
        ]

    def _margin(self):
        case, circuit = self.case, self.circuit
        items, start = [], (Spot(0, 0),)
        look = {"bold": True, "halo": False, "axes": "page"}
        items.append(Text(SIDE[0], 56, case.verdict, start, style.LARGE, **look))
        if math.isfinite(circuit.margin):
            x = _along(min(max(circuit.margin, GAUGE[0]), GAUGE[1]))
            tip = _GAUGE_TOP + 8
            xs, ys = [x, x - 8, x + 8], [tip, tip - 17, tip - 17]
            items.append(Area(xs, ys, colour=style.INK, opacity=1, axes="page"))
        for number, line in enumerate(case.beat):
            items.append(self._small(SIDE[0], _GAUGE_BOTTOM + 40 + 17 * number, line))
        return items

    def _bulb(self):
        left, width = SIDE[0], SIDE[1] - SIDE[0]
        return [
            *bulbplace.cut(self.circuit, left, _CUT_TOP, _CUT_SIZE),
            self._small(left, _CUT_TOP + _CUT_SIZE + 12, self.case.strapped),
            *bulbplace.along(self.circuit, left, _LINE_TOP, width),
        ]

    def _small(self, x, y, text, anchor="start", bold=False):
        look = (Spot(0, 0, anchor),), style.SMALL, style.INK, bold
        return Text(x, y, text, *look, halo=False, axes="page")


def _along(margin):
    """Place on the gauge [px]."""
    low, high = (math.log(end) for end in GAUGE)
    share = (math.log(margin) - low) / (high - low)
    return SIDE[0] + share * (SIDE[1] - 10 - SIDE[0])
