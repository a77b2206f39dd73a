"""What a blend does along a coil: the temperature climbs while it boils, falls while it condenses.

Both coils are unrolled from left to right. Within each zone the way along is the heat taken up or
given off; the zones themselves are not drawn to scale, since superheat takes a few percent of the
heat and would vanish.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Brace, Line, Markers, Text

WIDTH, HEIGHT = 660, 560
EDGES = {"condenser": (0.085, 0.585, 0.505, 0.345), "evaporator": (0.085, 0.095, 0.505, 0.345)}

_ZONE = 0.72  # where boiling or condensing ends
_HOT = 0.16  # where condensing begins
_ROUND = 5.0  # [K] to which the edges of the view are rounded, so that it rarely moves
_LEAST = 15.0  # [K] shown at least
_CUT = 6.0  # [K] above dew at which the hot vapour is cut off
_FAR, _NEAR = 146, 8  # [px] from the coil to the two braces


class _Side(NamedTuple):
    """One coil at its pressure: the clamp at its end, and the line of the refrigerant."""

    axes: str
    pressure: float
    bubble: float
    dew: float
    clamp: float
    along: np.ndarray
    temperature: np.ndarray

    @property
    def limits(self):
        low = min(self.bubble, self.clamp, float(self.temperature.min()))
        high = max(self.dew, self.clamp, float(self.temperature.max()))
        low, high = (low - 2.0) / _ROUND, (high + 2.0) / _ROUND
        low, high = math.floor(low) * _ROUND, math.ceil(high) * _ROUND
        return low, max(high, low + _LEAST)


def coil_figure(refrigerant, show, suction_pressure, line_temperature, head_pressure, liquid):
    """Draw the temperature along both coils, with superheat and subcooling from both columns.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    show : Readout
        The reader's units.
    suction_pressure, head_pressure : float
        Absolute, taken as the same all along each coil. [Pa]
    line_temperature, liquid : float
        Clamps on suction line and liquid line. [K]

    Returns
    -------
    LiveFigure
        Words, strip and numbers say what each column makes of the same readings.

    Raises
    ------
    OutOfRange
        If a reading lies outside the refrigerant's range.
    """
    fluid = refrigerant
    inlet = fluid.state_ph(suction_pressure, fluid.liquid_enthalpy(head_pressure, liquid))
    cold = _evaporator(fluid, suction_pressure, line_temperature, inlet)
    warm = _condenser(fluid, head_pressure, liquid)
    numbers = {
        "glide": cold.dew - cold.bubble,
        "superheat": float(fluid.superheat(suction_pressure, line_temperature)),
        "superheat_from_bubble": line_temperature - cold.bubble,
        "subcooling": float(fluid.subcooling(head_pressure, liquid)),
        "subcooling_from_dew": warm.dew - liquid,
        "inlet": float(inlet.temperature),
        "mean": (float(inlet.temperature) + cold.dew) / 2,
        "flash_gas": float(inlet.vapour_fraction),
        "suction_pressure": float(suction_pressure),
        "head_pressure": float(head_pressure),
    }
    limits = {side.axes: side.limits for side in (warm, cold)}
    background = Background.once(
        lambda figure: _draw(figure, show, limits),
        WIDTH,
        HEIGHT,
        ("coil", show, tuple(limits.values())),
    )
    items = [
        *_lines(warm, fluid, show, "condenser"),
        *_lines(cold, fluid, show, "evaporator"),
        *_ends(cold, numbers, show),
        *_braces(cold, fluid, show, numbers["superheat"], numbers["superheat_from_bubble"]),
        *_braces(warm, fluid, show, numbers["subcooling"], numbers["subcooling_from_dew"]),
    ]
    return LiveFigure(
        background,
        items,
        _words(fluid, show, cold, warm, numbers),
        _strip(fluid, show, cold, warm, numbers),
        numbers,
    )


def _evaporator(fluid, pressure, clamp, inlet):
    bubble, dew = float(fluid.bubble_temperature(pressure)), float(fluid.dew_temperature(pressure))
    share = np.linspace(float(inlet.vapour_fraction), 1.0, 25)
    boiling = fluid.state_px(pressure, share).temperature
    if clamp > dew:
        along = np.r_[np.linspace(0.0, _ZONE, 25), 1.0]
        temperature = np.r_[boiling, clamp]
    else:
        left = boiling <= clamp if boiling[0] < clamp < dew else np.ones(25, bool)
        along = np.linspace(0.0, 1.0, int(left.sum()))
        temperature = boiling[left]
    return _Side("evaporator", pressure, bubble, dew, clamp, along, temperature)


def _condenser(fluid, pressure, clamp):
    bubble, dew = float(fluid.bubble_temperature(pressure)), float(fluid.dew_temperature(pressure))
    condensing = fluid.state_px(pressure, np.linspace(1.0, 0.0, 25)).temperature
    if clamp < bubble:
        along = np.r_[0.0, np.linspace(_HOT, _ZONE, 25), 1.0]
        temperature = np.r_[dew + _CUT, condensing, clamp]
    else:
        along = np.r_[0.0, np.linspace(_HOT, 1.0, 25)]
        temperature = np.r_[dew + _CUT, condensing]
    return _Side("condenser", pressure, bubble, dew, clamp, along, temperature)


def _draw(figure, show, limits):
    from matplotlib.ticker import FixedFormatter, FixedLocator, MaxNLocator, NullLocator

    drawn = {}
    for name, edges in EDGES.items():
        axes = figure.add_axes(edges)
        axes.set_xlim(0.0, 1.0)
        axes.set_ylim(*limits[name])
        axes.xaxis.set_major_locator(NullLocator())
        low, high = show.value(np.array(limits[name]), "temperature")
        values = MaxNLocator(6, steps=[1, 2, 2.5, 5, 10]).tick_values(low, high)
        values = values[(values >= low - 1e-6) & (values <= high + 1e-6)]
        axes.yaxis.set_major_locator(FixedLocator(show.si(values, "temperature")))
        axes.yaxis.set_major_formatter(FixedFormatter([f"{v:g}" for v in values]))
        axes.grid(True, axis="y", linewidth=0.8 * style.POINTS)
        axes.set_title(
            show.axis("temperature", "temperature"),
            loc="left",
            x=-0.13,
            pad=7,
            fontsize=style.SMALL * style.POINTS,
            color=style.MUTED,
        )
        axes.set_xlabel(
            "along the condenser: cooling, condensing, subcooling →"
            if name == "condenser"
            else "along the evaporator: boiling, superheating →",
            loc="left",
            fontsize=style.SMALL * style.POINTS,
            color=style.MUTED,
        )
        drawn[name] = axes
    return drawn


def _lines(side, fluid, show, name):
    """Dew and bubble level of one coil with their labels, and the refrigerant's own line."""
    top = side.limits[1]
    colour = style.LOW if name == "evaporator" else style.HIGH
    head = f"{fluid.name} {name} at {show.text(side.pressure, 'gauge_pressure')}"
    items = [
        Text(1.0, top, head, (Spot(0, -9, "end"),), colour=colour, bold=True, axes=name),
        Line([0.0, 1.0], [side.dew] * 2, style.INK, 1.6, "dashed", axes=name),
    ]
    labels = [(side.dew, "dew", (Spot(4, -6), Spot(4, 16)))]
    if fluid.has_glide:
        items.append(Line([0.0, 1.0], [side.bubble] * 2, style.INK, 1.6, "dotted", axes=name))
        labels.append((side.bubble, "bubble", (Spot(4, 16), Spot(4, -6))))
    else:
        labels = [(side.dew, "dew and bubble", (Spot(4, -6), Spot(4, 16)))]
    start = 0.0 if name == "evaporator" else _HOT + 0.02
    for level, label, spots in labels:
        if name == "evaporator" and label == "bubble":
            spots = spots[:1]
        text = f"{label} {show.text(level, 'temperature')}"
        at = start if name == "evaporator" else _where(label, start)
        items.append(Text(at, level, text, spots, style.SMALL, axes=name))
    items.append(Line(side.along, side.temperature, colour, 4.5, axes=name))
    items.append(Markers([1.0], [side.clamp], "diamond", 15, style.OWN, axes=name))
    clamp = show.text(side.clamp, "temperature")
    spots = (Spot(-12, -8, "end"), Spot(-12, 20, "end"))
    spots = spots if name == "evaporator" else spots[::-1]
    items.append(
        Text(1.0, side.clamp, f"clamp {clamp}", spots, style.SMALL, style.OWN, True, axes=name)
    )
    return items


def _where(label, start):
    return start if label != "bubble" else 0.02


def _ends(side, numbers, show):
    """Where the refrigerant enters the evaporator, and the mean of its boiling part."""
    inlet = show.text(numbers["inlet"], "temperature")
    flash = show.text(numbers["flash_gas"], "ratio")
    return [
        Markers([0.0], [numbers["inlet"]], "circle", 11, style.LOW, axes=side.axes),
        Text(
            0.0,
            numbers["inlet"],
            f"behind the valve {inlet}, {flash} vapour",
            (Spot(14, 16), Spot(14, -8)),
            style.SMALL,
            style.LOW,
            axes=side.axes,
        ),
    ]


def _braces(side, fluid, show, right, wrong):
    """Brace the same clamp from the right column and, for a blend that glides, from the wrong."""
    cold = side.axes == "evaporator"
    name = "superheat" if cold else "subcooling"
    column, other = (side.dew, side.bubble) if cold else (side.bubble, side.dew)
    word, wrong_word = ("dew", "bubble") if cold else ("bubble", "dew")

    def difference(value):
        return show.text(value, "temperature_difference")

    text = f"{name}\n{difference(right)}\nfrom {word} ✓"
    if right <= 0:
        text = f"none:\n{difference(-right)} short\nof {word} ✓"
    items = [
        Brace(1.0, column, 1.0, side.clamp, text, "right", style.GOOD, gap=_NEAR, axes=side.axes)
    ]
    if fluid.has_glide:
        text = f"{difference(wrong)}\nfrom {wrong_word}:\nwrong ✗"
        items.append(
            Brace(
                1.0,
                other,
                1.0,
                side.clamp,
                text,
                "right",
                style.HIGH,
                gap=_FAR,
                size=style.SMALL,
                axes=side.axes,
            )
        )
    return items


def _strip(fluid, show, cold, warm, numbers):
    def temperature(value):
        return show.text(value, "temperature")

    def difference(name):
        return show.text(numbers[name], "temperature_difference")

    strip = [
        ("Suction gauge", show.text(cold.pressure, "gauge_pressure")),
        ("Suction-line clamp", temperature(cold.clamp)),
        ("Superheat, from dew", difference("superheat")),
        ("Head gauge", show.text(warm.pressure, "gauge_pressure")),
        ("Liquid-line clamp", temperature(warm.clamp)),
        ("Subcooling, from bubble", difference("subcooling")),
    ]
    if fluid.has_glide:
        strip.append(("Mean of the boiling part", temperature(numbers["mean"])))
    return strip


def _words(fluid, show, cold, warm, numbers):
    def temperature(value):
        return show.text(value, "temperature")

    def difference(name):
        return show.text(numbers[name], "temperature_difference")

    gauges = [show.text(side.pressure, "gauge_pressure") for side in (cold, warm)]
    if not fluid.has_glide:
        return (
            f"{fluid.name} along both coils. It boils at {temperature(cold.dew)} all the way at "
            f"{gauges[0]} and condenses at {temperature(warm.bubble)} at {gauges[1]}: no glide, "
            f"one column. Superheat {difference('superheat')}, subcooling "
            f"{difference('subcooling')}."
        )
    return (
        f"{fluid.name} along both coils. In the evaporator at {gauges[0]} it enters at "
        f"{temperature(numbers['inlet'])}, the last drop is gone at {temperature(cold.dew)} (dew), "
        f"while the bubble column says {temperature(cold.bubble)}. The suction line at "
        f"{temperature(cold.clamp)} has {difference('superheat')} of superheat; from the bubble "
        f"column it would look like {difference('superheat_from_bubble')}. In the condenser at "
        f"{gauges[1]} the first drop appears at {temperature(warm.dew)} (dew) and the last bubble "
        f"is gone at {temperature(warm.bubble)} (bubble). The liquid line at "
        f"{temperature(warm.clamp)} has {difference('subcooling')} of subcooling; from the dew "
        f"column it would look like {difference('subcooling_from_dew')}."
    )
