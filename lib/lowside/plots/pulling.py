"""A freezer pulled down from warm, with and without a pressure limit in its valve."""

from __future__ import annotations

import numpy as np

from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Line, Markers, Still
from lowside.plots.pagework import add_axes, add_page, user_ticks, word
from lowside.system.pulldown import LIMITED, PLAIN, limits_compared

SIZE = WIDTH, HEIGHT = 760, 500
LEFT, RIGHT = 62, 560  # [px]
ROWS = {"air": (62, 168), "suction": (206, 304), "power": (342, 440)}  # [px] top, bottom
SIDE = 580  # [px] left of the list

_LOOKS = ((style.GOOD, "solid", "with the limit"), (style.HIGH, "dashed", "without it"))
_SPANS = (2.0, 4.0, 6.0, 12.0, 24.0, 48.0)  # [h] that the charts may show
_HOUR = 3600.0  # [s]
_POWER = 0.8, 2.0  # of the power at the design point


def pulling_figure(show, share, **box):
    """Draw box air, suction and compressor power over a pull-down.

    Parameters
    ----------
    show : Readout
        The reader's units.
    share : float
        Of the longer pull-down: the time that is looked at. [-]
    **box
        As for `system.limits_compared`.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        If the freezer does not come down.
    UnknownName
        If there is no such refrigerant.
    """
    down, design = limits_compared(**box)
    after = share * float(down.time[:, -1].max())
    numbers = _numbers(down, design, after, box)
    scene = _Scene(show, down, design, numbers)
    key = "pulling", show, scene.span, scene.limits["air"], scene.limits["suction"]
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    items = [Still(("curves", *box.values()), scene.curves), *scene.marker()]
    return LiveFigure(background, items, _words(show, numbers), _readings(show, numbers), numbers)


def _numbers(down, design, after, box):
    result, power = down.result, down.result.power / design.power
    numbers = {**box, "after": after}
    for which, name in ((LIMITED, "limited"), (PLAIN, "plain")):
        time = down.time[which]

        def then(values, time=time, which=which):
            return float(np.interp(after, time, np.broadcast_to(values, down.time.shape)[which]))

        numbers |= {
            f"{name}_time": float(time[-1]),
            f"{name}_air": then(down.air_temperature),
            f"{name}_suction": then(result.evaporating_pressure),
            f"{name}_dew": then(result.evaporating_temperature),
            f"{name}_clamp": then(result.suction_temperature),
            f"{name}_power": then(power),
            f"{name}_discharge": then(result.discharge_temperature),
            f"{name}_most_power": float(power[which].max()),
            f"{name}_hottest": float(result.discharge_temperature[which].max()),
            f"{name}_first_suction": float(result.evaporating_pressure[which, 0]),
        }
    return numbers


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, down, design, numbers):
        self.show, self.down, self.design, self.n = show, down, design, numbers
        longest = float(down.time[:, -1].max()) / _HOUR
        self.span = next((s for s in _SPANS if s >= longest), longest)
        suction = down.result.evaporating_pressure
        self.limits = {
            "air": (numbers["set_point"] - 2.0, numbers["warm"] + 2.0),
            "suction": _around(suction),
            "power": _POWER,
        }
        self.values = {
            "air": np.broadcast_to(down.air_temperature, down.time.shape),
            "suction": suction,
            "power": down.result.power / design.power,
        }

    def draw_background(self, figure):
        show, axes = self.show, {}
        kinds = {"air": "temperature", "suction": "gauge_pressure", "power": "ratio"}
        for name, (top, bottom) in ROWS.items():
            ax = axes[name] = add_axes(figure, SIZE, LEFT, top, RIGHT, bottom)
            ax.set_xlim(0.0, self.span)
            ax.set_ylim(*self.limits[name])
            ax.set_yticks(*user_ticks(show, kinds[name], *self.limits[name], 4))
            ax.grid()
            if name != "power":
                ax.set_xticklabels([])
        axes["power"].axhline(1.0, color=style.INK, linewidth=1.4 * style.POINTS)
        axes["page"] = add_page(figure, SIZE)
        titles = {
            "air": show.axis("box air", "temperature"),
            "suction": show.axis("suction", "gauge_pressure"),
            "power": "compressor power [% of design]",
        }
        fixed = [
            word(12, ROWS[name][0] - 10, title, size=style.TEXT, bold=True)
            for name, title in titles.items()
        ]
        fixed.append(word(12, 22, "a warm freezer pulled down", size=style.LARGE, bold=True))
        fixed.append(word(RIGHT, HEIGHT - 18, "hours after the start", "end", style.TEXT))
        return axes, fixed

    def curves(self):
        """Draw all six lines, and the list of what they come to."""
        items, show, n = [], self.show, self.n
        for which, (colour, dash, _) in enumerate(_LOOKS):
            hours = self.down.time[which] / _HOUR
            for name in ROWS:
                items.append(Line(hours, self.values[name][which], colour, 3.2, dash, axes=name))
        top = ROWS["air"][0] + 4
        for (colour, dash, text), name in zip(_LOOKS, ("limited", "plain"), strict=True):
            items.append(Line([SIDE, SIDE + 36], [top - 5] * 2, colour, 3.4, dash, axes="page"))
            items.append(word(SIDE + 44, top, text, size=style.TEXT, colour=colour, bold=True))
            for number, line in enumerate(
                (
                    f"cold after {show.text(n[f'{name}_time'], 'hours')}",
                    f"power at most {show.text(n[f'{name}_most_power'], 'ratio')}",
                    "hottest discharge",
                    show.text(n[f"{name}_hottest"], "temperature"),
                )
            ):
                items.append(word(SIDE, top + 22 + 19 * number, line))
            top += 136
        return items

    def marker(self):
        """Draw the time that is looked at, and the values there."""
        n, items = self.n, []
        at = n["after"] / _HOUR
        for name in ROWS:
            low, high = self.limits[name]
            items.append(Line([at, at], [low, high], style.INK, 1.6, axes=name))
            for which, short in ((PLAIN, "plain"), (LIMITED, "limited")):
                shape = "square" if which == PLAIN else "circle"
                value = n[f"{short}_{name}"]
                look = shape, 11, _LOOKS[which][0]
                here = min(at, n[f"{short}_time"] / _HOUR)
                items.append(Markers([here], [min(max(value, low), high)], *look, axes=name))
        items.append(
            word(SIDE, HEIGHT - 92, f"at {self.show.text(n['after'], 'hours')}", bold=True)
        )
        for number, (which, short) in enumerate(((LIMITED, "limited"), (PLAIN, "plain"))):
            power = self.show.text(n[f"{short}_power"], "ratio")
            if n["after"] > n[f"{short}_time"]:
                power = "cold"
            look = {"colour": _LOOKS[which][0], "bold": True}
            text = f"{power} {_LOOKS[which][2]}"
            items.append(word(SIDE, HEIGHT - 70 + 20 * number, text, **look))
        return items


def why(start, now, show):
    """Say what the limit does to motor, gas and time.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Three sentences.
    """
    plain, limited = (
        show.text(now[f"{name}_most_power"], "ratio") for name in ("plain", "limited")
    )
    later = show.text(now["limited_time"] - now["plain_time"], "hours")
    one, other = (show.text(now[f"{name}_hottest"], "temperature") for name in ("plain", "limited"))
    if now["plain_most_power"] - now["limited_most_power"] < 0.01:
        return (
            "The evaporator starts below the limit: the bulb never runs dry, and the two valves "
            "are one."
        )
    said = (
        f"Warm air boils a lot, dense gas loads the motor: {plain} of its design power. The limit "
        f"starves the coil until the evaporator is cold enough, and the motor sees {limited}. The "
        f"price: {later} more, and hotter gas"
    )
    if now["limited_hottest"] > now["plain_hottest"]:
        return f"{said}, since little liquid means much superheat: discharge {other}, not {one}."
    return f"{said} at first: discharge at most {other}."


def _around(pressures):
    """Limits of the chart of suction pressures, the same for nearby boxes [Pa]."""
    low, high = float(pressures.min()), float(pressures.max())
    return 0.5e5 * np.floor(low / 0.5e5 - 0.2), 0.5e5 * np.ceil(high / 0.5e5 + 0.2)


def _readings(show, n):
    found = []
    for name, text in (("limited", "with"), ("plain", "without")):
        found += [
            (f"Suction, {text}", show.text(n[f"{name}_suction"], "gauge_pressure")),
            (f"Suction line, {text}", show.text(n[f"{name}_clamp"], "temperature")),
        ]
    return tuple(found)


def _words(show, n):
    def of(name):
        return (
            f"cold after {show.text(n[f'{name}_time'], 'hours')}, suction "
            f"{show.text(n[f'{name}_first_suction'], 'gauge_pressure')} at the start, compressor "
            f"power up to {show.text(n[f'{name}_most_power'], 'ratio')} of the design point, "
            f"discharge up to {show.text(n[f'{name}_hottest'], 'temperature')}"
        )

    return (
        f"{n['refrigerant']} freezer, {show.text(n['load'], 'capacity')}, from "
        f"{show.text(n['warm'], 'temperature')} to {show.text(n['set_point'], 'temperature')}. "
        f"With a limit at {show.text(n['highest'], 'temperature')} evaporating: {of('limited')}. "
        f"Without it: {of('plain')}. At {show.text(n['after'], 'hours')} the motor takes "
        f"{show.text(n['limited_power'], 'ratio')} with and "
        f"{show.text(n['plain_power'], 'ratio')} without."
    )
