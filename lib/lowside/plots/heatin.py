"""Where a cold room's heat comes from, when in the day, and whether the machine catches up."""

from __future__ import annotations

import numpy as np

from lowside import load, units
from lowside.plots import streams, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 720, 632
DAY_AXES = (58, 394, 706, 522)  # [px] left, top, right, bottom
WARM_AXES = (58, 550, 706, 594)
VALUES = 600  # [px] left edge of the words right of the box

#: Layers of the day, from below: name, fields of `load.HeatGains`, opacity.
LAYERS = (
    ("always", ("walls", "floor", "breathing", "fans", "defrost"), 0.3),
    ("goods", ("goods",), 0.55),
    ("door, lights, people", ("door", "lights", "people"), 0.8),
)
_STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)
_LEAST_WARM = 1.0  # [K] the axis of the goods reaches at least this far
_LABEL = 14.0  # [px] least height of a layer that is named
_END = (Spot(0, 0, "end"),)
_LABEL_HOURS = (3.0, 10.0)  # [h] where the lower layers are named
_RIGHT_OF_PEAK = (Spot(6, 5),)


def heat_figure(show, room, capacity, run_time, timetable=None):
    """Draw a room's heat as streams, and its day against a machine.

    Parameters
    ----------
    show : Readout
        The reader's units.
    room : load.ColdRoom
        Of plain numbers.
    capacity : float
        Of the machine while it runs. [W]
    run_time : float
        How long it is meant to run in a day. [s]
    timetable : load.Timetable, optional
        When people work there.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a room, a capacity or a running time that cannot be.
    """
    timetable = timetable or load.Timetable()
    day = load.through_the_day(room, timetable, capacity)
    gains = load.heat_gains(room)
    numbers = {
        "gains": {name: float(value) for name, value in gains.parts.items()},
        "total": float(gains.total),
        "per_day": float(gains.per_day),
        "water": float(gains.water) * load.DAY,
        "needed": float(load.required_capacity(room, run_time)),
        "capacity": float(capacity),
        "run_time": float(run_time),
        "running": float(day.running),
        "behind": float(day.furthest_behind),
        "warming": float(day.warming(room)),
        "peak": float(day.total.max()),
        "peak_time": float(day.hours[int(np.argmax(day.total))]),
        "catches_up": bool(day.catches_up),
        "thickness": float(room.wall.thickness),
        "temperature": float(room.temperature),
        "heater": room.defrost == "heater",
        "delivered": timetable.delivery + units.HOUR,
    }
    scene = _Scene(show, numbers, day, room)
    key = ("heat", show, scene.top, scene.warmest)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    return LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say which stream changed most, and what the machine makes of it.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two sentences.
    """
    change = {name: now["gains"][name] - start["gains"][name] for name in now["gains"]}
    name = max(change, key=lambda key: abs(change[key]))
    more = change[name]
    if abs(more) < 1.0:
        said = "The heat is what it was at the start."
    else:
        side = "more" if more > 0.0 else "less"
        said = (
            f"Most has changed at: {_NAMES[name]}, {show.text(abs(more), 'heat_flow')} {side} "
            "than at the start."
        )
    return f"{said} {_verdict(show, now)}"


_NAMES = {
    "walls": "walls and ceiling",
    "floor": "the floor",
    "door": "the open door",
    "goods": "cooling the goods",
    "breathing": "the goods' breath",
    "fans": "the fans",
    "lights": "the lights",
    "people": "the people",
    "defrost": "heaters and defrost",
}


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers, day, room):
        self.show, self.numbers, self.day = show, numbers, day
        self.top = self._round_axis("capacity", 1.06 * max(numbers["peak"], numbers["capacity"]))
        self.warming = np.zeros_like(day.behind)
        if numbers["catches_up"] and numbers["behind"] > 0.0:
            self.warming = day.behind / numbers["behind"] * numbers["warming"]
        warmest = max(1.1 * self.warming.max(), _LEAST_WARM)
        self.warmest = self._round_axis("temperature_difference", warmest)

    def _round_axis(self, kind, value):
        """Round an axis up to a round number of the reader's units [SI]."""
        return float(
            self.show.si(streams.round_up(float(self.show.value(value, kind)), _STEPS), kind)
        )

    def draw_background(self, figure):
        axes = {
            "day": add_axes(figure, SIZE, *DAY_AXES),
            "warm": add_axes(figure, SIZE, *WARM_AXES),
        }
        for name, kind, top, most in (
            ("day", "capacity", self.top, 5),
            ("warm", "temperature_difference", self.warmest, 3),
        ):
            axes[name].set_xlim(0.0, 24.0)
            axes[name].set_ylim(0.0, top)
            axes[name].set_xticks(range(0, 25, 3))
            axes[name].set_yticks(*user_ticks(self.show, kind, 0.0, top, most))
            axes[name].grid(axis="both")
        axes["day"].tick_params(labelbottom=False)
        axes["page"] = add_page(figure, SIZE)
        unit, kelvin = self.show.unit("capacity"), self.show.unit("temperature_difference")
        return axes, [
            *streams.backdrop(),
            word(12, 382, f"when it comes [{unit}]", size=style.LARGE, bold=True),
            word(12, 542, f"goods warmer by [{kelvin}]", bold=True),
            word(WARM_AXES[2], HEIGHT - 6, "hour of the day", "end"),
        ]

    def items(self):
        show, n = self.show, self.numbers
        items = streams.draw(show, n["gains"], n["thickness"])
        total, needed = (show.text(n[name], "capacity") for name in ("total", "needed"))
        machine, hours = show.text(n["capacity"], "capacity"), show.text(n["run_time"], "hours")
        wants = f"{needed}\nis needed, if it\nmay run {hours},\n{_margin(show)} on top"
        items += [
            word(VALUES, 66, f"{total}\non average,\nday and night"),
            word(VALUES, 132, wants, bold=True),
            word(VALUES, 240, f"this machine:\n{machine}", colour=style.HIGH, bold=True),
        ]
        return [*items, *self._layers(), *self._machine(), *self._warming()]

    def _layers(self):
        items, base = [], np.zeros(load.day.STEPS)
        edges = np.repeat(np.linspace(0.0, 24.0, load.day.STEPS + 1), 2)[1:-1]
        pixel = self.top / (DAY_AXES[3] - DAY_AXES[1])
        for number, (name, fields, opacity) in enumerate(LAYERS):
            high = base + sum(self.day.parts[field] for field in fields)
            items.append(
                Area(edges, np.repeat(base, 2), np.repeat(high, 2), style.LOW, opacity, "day")
            )
            items.append(Line(edges, np.repeat(high, 2), style.INK, 1.2, axes="day"))
            label = {"size": style.SMALL, "bold": True, "axes": "day"}
            if number < len(_LABEL_HOURS):
                hour = _LABEL_HOURS[number]
                place = int(hour / 24.0 * load.day.STEPS)
                thick = (high[place] - base[place]) / pixel
                if thick > _LABEL:
                    middle = 0.5 * (base[place] + high[place]) - 4.5 * pixel
                    items.append(Text(hour, middle, name, **label))
                elif number == 0:
                    items.append(Text(hour, high[place] + 6.0 * pixel, name, **label))
            else:
                place = int(np.argmax(high - base))
                if high[place] - base[place] > _LABEL * pixel:
                    top = high[place] - 8.0 * pixel
                    hour = self.numbers["delivered"] / units.HOUR
                    items.append(Text(hour, top, name, _RIGHT_OF_PEAK, **label))
            base = high
        return items

    def _machine(self):
        edges = np.repeat(np.linspace(0.0, 24.0, load.day.STEPS + 1), 2)[1:-1]
        runs = np.where(self.day.available > 0.0, self.numbers["capacity"], np.nan)
        pixel = self.top / (DAY_AXES[3] - DAY_AXES[1])
        label = "what the machine takes out while it runs"
        y = self.numbers["capacity"] + 6.0 * pixel
        return [
            Line(edges, np.repeat(runs, 2), style.HIGH, 2.6, "dashed", axes="day"),
            Text(23.8, y, label, _END, style.SMALL, style.HIGH, True, axes="day"),
        ]

    def _warming(self):
        hours = np.r_[0.0, self.day.hours / units.HOUR + 12.0 / load.day.STEPS]
        if not self.numbers["catches_up"]:
            words = "further behind every day: the machine never catches up"
            return [
                Text(12.0, 0.4 * self.warmest, words, colour=style.HIGH, bold=True, axes="warm")
            ]
        warming = np.r_[self.warming[-1], self.warming]
        zero = np.zeros_like(warming)
        return [
            Area(hours, zero, warming, style.HIGH, 0.35, "warm"),
            Line(hours, warming, style.HIGH, 2.4, axes="warm"),
        ]


def _margin(show):
    return show.text(load.MARGIN, "ratio")


def _verdict(show, n):
    """Whether the machine copes, in a sentence."""
    if not n["catches_up"]:
        return "The machine never catches up: the room gets warmer from day to day."
    running = f"The machine runs {show.text(n['running'], 'hours')} a day"
    if n["capacity"] >= n["needed"]:
        return f"{running}; it has what the room wants, with something on top."
    if n["running"] <= n["run_time"]:
        return f"{running}; on an average day that will do, and nothing is left for a worse one."
    return f"{running}, longer than the {show.text(n['run_time'], 'hours')} it is meant to."


def _strip(show, n):
    return [
        ("Heat in a day", show.text(n["per_day"], "heat")),
        ("The room wants", show.text(n["needed"], "capacity")),
        ("Machine runs", "all day" if not n["catches_up"] else show.text(n["running"], "hours")),
        (
            "Goods warmer by",
            "more every day"
            if not n["catches_up"]
            else show.text(n["warming"], "temperature_difference"),
        ),
        ("Water onto the coil", f"{show.text(n['water'], 'goods')} a day"),
    ]


def _words(show, n):
    total = n["total"]
    found = sorted(streams.streams(n["gains"]), key=lambda row: -row[1])
    listed = ", ".join(
        f"{name} {show.text(heat, 'heat_flow')} ({show.text(heat / total, 'ratio')})"
        for name, heat, _ in found
    )
    hour, minute = divmod(round(n["peak_time"] / 60.0), 60)
    behind = (
        "The machine never catches up."
        if not n["catches_up"]
        else "Nothing has to wait."
        if n["behind"] < 1.0
        else (
            f"At worst {show.text(n['behind'], 'heat')} wait in the goods, which get about "
            f"{show.text(n['warming'], 'temperature_difference')} warmer if all share it alike."
        )
    )
    return (
        f"Heat of a cold room at {show.text(n['temperature'], 'temperature')}, over the day: "
        f"{listed}; together {show.text(total, 'heat_flow')}, {show.text(n['per_day'], 'heat')} a "
        f"day. With {_margin(show)} on top, in {show.text(n['run_time'], 'hours')} of running, the "
        f"room wants {show.text(n['needed'], 'capacity')}; the machine has "
        f"{show.text(n['capacity'], 'capacity')}. Most comes around {hour:02d}:{minute:02d}, "
        f"{show.text(n['peak'], 'capacity')}. {behind}"
    )
