"""One box with every port: superheat, lift, cooling and suction from starved to nervous.

Four small charts share the port diameter across; the chosen port is a line through all of them,
and beside them the port itself, cut open and to scale.
"""

from __future__ import annotations

import math

import numpy as np

from lowside import valve
from lowside.plots import portwords, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.cutaway import cutaway
from lowside.plots.layout import Spot, text_width
from lowside.plots.marks import Area, Bar, Line, Markers, Span, Still, Text
from lowside.system import ports

WIDTH, HEIGHT = 700, 544
LEFT, RIGHT = 50, 476
ROWS = {"superheat": (66, 204), "lift": (240, 304), "cooling": (340, 404), "suction": (440, 498)}
SIDE = (496, 694)
CUT = (SIDE[0], 30, SIDE[1], 214)

LOOKS = {"hot": (style.HIGH, "solid"), "cold": (style.LOW, "dashed")}
SHAPES = {"hot": "circle", "cold": "square"}
_COLUMNS = {"hot": 142, "cold": 0}  # [px] from the right end of the charts
OTHER = "dotted"
_BOLD = 1.12  # how much wider bold text runs, with a little air
_STARVED, _SHORT, _NERVOUS = "#F7E6DD", "#DCEAF4", "#E9E0F3"

MOST_SUPERHEAT = 20.0  # [K]
COOLING = (0.4, 1.6)
_DEW_BELOW, _DEW_ABOVE, _DEW_STEP = 26.0, 2.0, 5.0  # [K] around the box temperature
_PRESSURE_TICKS = {"us": (5, 10, 20, 40, 50, 100), "metric": (0.2, 0.5, 1, 2, 5)}
_SUPERHEAT_STEP = {"us": 10.0, "metric": 5.0}


def port_figure(
    show,
    refrigerant,
    load,
    box_temperature,
    hot,
    cold,
    port,
    day="hot",
    balanced=False,
    static_superheat=ports.STATIC_SUPERHEAT,
):
    """Draw what every port would do in one box, and the chosen one with its readings.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name.
    load : float
        Design load. [W]
    box_temperature : float
        Air entering the evaporator. [K]
    hot, cold : float
        Condensing temperatures of the two days; the box is sized on the hot one. [K]
    port : float
        Chosen port. [m]
    day : {"hot", "cold"}
        On which the readings are taken.
    balanced : bool
        Balanced port instead of a conventional one.
    static_superheat : float
        To which the spring is set. [K]

    Returns
    -------
    LiveFigure
        With words, what gauges and clamps would say, and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    UnknownName
        If there is no such refrigerant.
    NoOperatingPoint
        If the box cannot be sized for these conditions.
    """
    sweep = ports.port_sweep(refrigerant, load, box_temperature, hot, cold, static_superheat)
    case = portwords.Case(show, sweep, float(port), day, int(balanced))
    scene = _Scene(case)
    background = Background.once(
        scene.draw_background,
        WIDTH,
        HEIGHT,
        ("port", show, scene.pressures, sweep.window),
    )
    return LiveFigure(background, scene.items(), case.words(), case.readings(), case.numbers())


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, case):
        self.case, self.show, self.sweep = case, case.show, case.sweep
        self.port, self.day, self.construction = case.port, case.day, case.construction
        self.now = case.now
        self.pressures = _pressures(case.sweep.box.refrigerant, case.sweep.box_temperature)

    # ---------------------------------------------------------------- what stands still

    def draw_background(self, figure):
        axes = {}
        for name, (top, bottom) in ROWS.items():
            ax = axes[name] = _axes(figure, LEFT, top, RIGHT, bottom)
            ax.set_xscale("log")
            ax.set_xlim(*self.sweep.window)
            ax.set_ylim(*self._limits(name))
            ax.grid(axis="y")
            self._ports_below(ax, name == "suction")
        self._ticks_up(axes)
        left, top, right, bottom = CUT
        axes["cut"] = _blank(figure, left, top, right, bottom)
        tall = (bottom - top) / (right - left)
        axes["cut"].set_xlim(-1, 1)
        axes["cut"].set_ylim(1.0 - 2.0 * tall, 1.0)
        axes["page"] = _blank(figure, 0, 0, WIDTH, HEIGHT)
        axes["page"].set_xlim(0, WIDTH)
        axes["page"].set_ylim(HEIGHT, 0)
        show, bold = self.show, {"bold": True, "axes": "page", "halo": False}
        titles = {
            "superheat": show.axis("superheat", "temperature_difference"),
            "lift": "lift [% of travel]",
            "cooling": "cooling [% of design]",
            "suction": show.axis("suction", "gauge_pressure"),
        }
        start = (Spot(0, 0),)
        fixed = [
            Text(LEFT, ROWS[name][0] - 8, title, start, **bold) for name, title in titles.items()
        ]
        fixed.append(Text(SIDE[0], 22, "port and pin, to scale", start, **bold))
        below = RIGHT + 20, ROWS["suction"][1] + 18
        fixed.append(Text(*below, show.axis("port", "port"), start, **bold))
        return axes, fixed

    def _ports_below(self, ax, labelled):
        low, high = self.sweep.window
        sizes = [size for size in ports.KIT if low <= size * 1.001 and size <= high * 1.001]
        ax.set_xticks(sizes)
        ax.set_xticks([], minor=True)
        unit = [float(self.show.value(size, "port")) for size in sizes]
        ax.set_xticklabels([f"{value:.3g}" for value in unit] if labelled else [])
        ax.tick_params(axis="x", length=5 * style.POINTS)

    def _ticks_up(self, axes):
        show = self.show
        step = _SUPERHEAT_STEP[show.system]
        most = float(show.value(MOST_SUPERHEAT, "temperature_difference"))
        _ticks(axes["superheat"], show, "temperature_difference", np.arange(0, most + 0.1, step))
        _ticks(axes["lift"], show, "ratio", (0, 50, 100))
        _ticks(axes["cooling"], show, "ratio", (50, 100, 150))
        axes["cooling"].axhline(1.0, color=style.INK, linewidth=1.4 * style.POINTS)
        low, high = (float(show.value(p, "gauge_pressure")) for p in self.pressures)
        steps = _PRESSURE_TICKS[show.system]
        step = next((s for s in steps if (high - low) / s < 4.6), steps[-1])
        first = max(0.0, math.ceil(low / step) * step)
        _ticks(axes["suction"], show, "gauge_pressure", np.arange(first, high, step))

    # ---------------------------------------------------------------- what moves

    def items(self):
        box = self.sweep, self.day, self.construction
        return [
            Still(("charts", *box), lambda: [*self._regions(), *self._curves()]),
            *self._marker(),
            *self._cut(),
            Still(("legend", *box), self._legend),
        ]

    def _regions(self):
        low, high = self.sweep.window
        starved, holds = self.sweep.starves_below, self.sweep.holds_above
        nervous = min(self.sweep.nervous_above, high)
        items = []
        for name in ROWS:
            items.append(Span("x", low, starved, _STARVED, 1.0, name))
            items.append(Span("x", starved, holds, _SHORT, 1.0, name))
            items.append(Span("x", nervous, high, _NERVOUS, 1.0, name))
        strip = 8, 40
        names = (
            (low, starved, ("starves",), _STARVED),
            (starved, holds, ("short when cold",), _SHORT),
            (holds, nervous, ("holds the load", "holds"), style.PAPER),
            (nervous, high, ("hunts easily", "hunts"), _NERVOUS),
        )
        for start, end, texts, colour in names:
            a, b = self._across(start), self._across(end)
            if b - a < 2:
                continue
            items.append(Bar(a, strip[0], b, strip[1] - 4, colour, style.RULE, axes="page"))
            spot = (Spot(0, 0, "middle"),)
            looks = ((text, size) for text in texts for size in (style.TEXT, style.SMALL))
            fitting = (look for look in looks if _BOLD * text_width(*look) < b - a)
            text, size = next(fitting, ("", style.SMALL))
            at = (a + b) / 2, strip[0] + 19
            items.append(Text(*at, text, spot, size, bold=True, halo=False, axes="page"))
        return items

    def _curves(self):
        sweep, result = self.sweep, self.sweep.result
        items = []
        if sweep.other_model is not None:
            which = np.s_[:, portwords.DAYS[self.day], self.construction]
            colour = LOOKS[self.day][0]
            for name in ROWS:
                one = self._values(name, result, which)
                two = self._values(name, sweep.other_model, which)
                known = np.isfinite(one) & np.isfinite(two)
                x = sweep.diameters[known]
                items.append(Area(x, one[known], two[known], colour, 0.16, name))
        for construction in (1 - self.construction, self.construction):
            for day, (colour, dash) in LOOKS.items():
                which = np.s_[:, portwords.DAYS[day], construction]
                chosen = construction == self.construction
                look = (colour, 3.0, dash) if chosen else (style.MUTED, 1.6, OTHER)
                for name in ROWS:
                    y = self._values(name, result, which)
                    items.append(Line(sweep.diameters, y, *look, axes=name))
        return items

    def _values(self, name, result, which):
        """One chart's values [SI], not a number where there is no answer."""
        values = {
            "superheat": result.superheat,
            "lift": result.lift_share,
            "cooling": result.capacity / self.sweep.load,
            "suction": result.evaporating_pressure,
        }[name]
        return np.where(result.accepted, values, np.nan)[which]

    def _marker(self):
        low, high = self.sweep.window
        port = min(max(self.port, low), high)
        x = self._across(port)
        items = [Line([x, x], ends, style.INK, 1.6, axes="page") for ends in ROWS.values()]
        for day in sorted(LOOKS, key=lambda name: name == self.day):
            point = self.case.points.at((portwords.DAYS[day], self.construction))
            items += self._values_of(day, point)
            if not point.accepted:
                continue
            for name in ROWS:
                bottom, top = self._limits(name)
                y = min(max(float(self._values(name, point, ())), bottom), top)
                size = 14 if day == self.day else 10
                items.append(Markers([port], [y], SHAPES[day], size, LOOKS[day][0], axes=name))
        return items + self._tag(x)

    def _values_of(self, day, point):
        """Values of one day, always in the same place, above the right end of each chart."""
        show, now = self.show, day == self.day
        texts = dict.fromkeys(ROWS, "no run")
        if point.accepted:
            texts = {
                "superheat": portwords.superheat(show, point),
                "lift": show.text(point.lift_share, "ratio"),
                "cooling": show.text(point.capacity / self.sweep.load, "ratio"),
                "suction": show.text(point.evaporating_pressure, "gauge_pressure"),
            }
        size = style.LARGE if now else style.SMALL
        x, look = RIGHT - _COLUMNS[day], ((Spot(0, 0, "end"),), size, LOOKS[day][0], now, False)
        return [
            Text(x, ROWS[name][0] - 8, f"{day} {text}", *look, axes="page")
            for name, text in texts.items()
        ]

    def _tag(self, x):
        """Name the chosen port under its line."""
        low, high = self.sweep.window
        text = self.show.text(self.port, "port")
        if self.port < low:
            text = f"◀ {text}"
        if self.port > high:
            text = f"{text} ▶"
        half, top = 40, ROWS["suction"][1] + 22
        middle = min(max(x, LEFT + half - 24), RIGHT - half + 14)
        spot = (Spot(0, 0, "middle"),)
        look = (style.TEXT, style.PAPER, True, False)
        return [
            Bar(middle - half, top, middle + half, top + 22, style.INK, axes="page"),
            Text(middle, top + 16, text, spot, *look, axes="page"),
        ]

    def _cut(self):
        right = self.sweep.right
        hardware = valve.standard_port(self.port, 0.0, self.sweep.box.valve.port.max_lift)
        half = 1.2 * max(self.port, right)
        lift = float(self.now.lift)
        items = cutaway(hardware, lift, self.show, half)
        show = self.show
        lines = [
            f"lift {show.text(lift, 'port')} of {show.text(hardware.max_lift, 'port')}",
            *self.case.answer(),
        ]
        return items + self._side(lines, CUT[3] + 19)

    def _legend(self):
        show, top = self.show, 296
        head = {
            day: show.text(self.case.points.condensing_pressure[which, 0], "gauge_pressure")
            for day, which in portwords.DAYS.items()
        }
        other = "balanced" if self.construction == ports.CONVENTIONAL else "conventional"
        rows = [
            (*LOOKS["hot"], 3.0, "hot day", f"head {head['hot']}"),
            (*LOOKS["cold"], 3.0, "cold day", f"head {head['cold']}"),
            (style.MUTED, OTHER, 1.8, f"{other} port", "the same two days"),
        ]
        items = []
        x0, x1, text = SIDE[0], SIDE[0] + 34, SIDE[0] + 42
        for number, (colour, dash, width, name, more) in enumerate(rows):
            y = top + 40 * number
            today = name.startswith(self.day)
            if today:
                name = f"{name} (read now)"
            items.append(Line([x0, x1], [y - 5, y - 5], colour, width, dash, axes="page"))
            items += self._text(text, y, name, today)
            items += self._text(text, y + 17, more)
        y = top + 40 * len(rows)
        items.append(Markers([(x0 + x1) / 2], [y - 5], "diamond", 13, style.GOOD, axes="page"))
        items += self._text(text, y, "the right port")
        items += self._text(text, y + 17, show.text(self.sweep.right, "port"))
        foot = [self.sweep.right], [self.pressures[0]]
        items.append(Markers(*foot, "diamond", 13, style.GOOD, axes="suction"))
        if self.case.other is not None:
            y += 40
            items.append(Bar(x0, y - 14, x1, y + 4, LOOKS[self.day][0], None, 0.16, axes="page"))
            items += self._text(text, y, "two flow models")
            items += self._text(text, y + 17, "disagree: a band")
        if self._across(self.sweep.holds_above) - self._across(self.sweep.starves_below) > 2:
            y += 40
            items.append(Bar(x0, y - 14, x1, y + 4, _SHORT, style.RULE, axes="page"))
            items += self._text(text, y, "short when cold")
        return items

    def _text(self, x, y, text, bold=False):
        spot = (Spot(0, 0),)
        return [Text(x, y, text, spot, style.SMALL, style.INK, bold, False, axes="page")]

    def _side(self, lines, top):
        items = []
        for number, line in enumerate(lines):
            items += self._text(SIDE[0], top + 18 * number, line, number == 0)
        return items

    def _across(self, port):
        low, high = (math.log(edge) for edge in self.sweep.window)
        return LEFT + (math.log(port) - low) / (high - low) * (RIGHT - LEFT)

    def _limits(self, name):
        return {
            "superheat": (0.0, MOST_SUPERHEAT),
            "lift": (0.0, 1.06),
            "cooling": COOLING,
            "suction": self.pressures,
        }[name]


def _pressures(fluid, box_temperature):
    """Suction pressures shown; the same for nearby boxes, so that the axes keep still [Pa]."""
    low, high = fluid.temperature_range
    nearest = _DEW_STEP * round(box_temperature / _DEW_STEP)
    coldest = max(low, nearest - _DEW_BELOW)
    return (
        float(fluid.dew_pressure(coldest)),
        float(fluid.dew_pressure(min(high, nearest - _DEW_ABOVE))),
    )


def _axes(figure, left, top, right, bottom):
    return figure.add_axes(
        (left / WIDTH, 1 - bottom / HEIGHT, (right - left) / WIDTH, (bottom - top) / HEIGHT)
    )


def _blank(figure, left, top, right, bottom):
    axes = _axes(figure, left, top, right, bottom)
    axes.set_axis_off()
    return axes


def _ticks(axes, show, kind, values):
    axes.set_yticks([float(show.si(value, kind)) for value in values])
    axes.set_yticklabels([f"{value:g}" for value in values])
    axes.set_yticks([], minor=True)
