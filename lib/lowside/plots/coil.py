"""What a blend does along a coil: the temperature climbs while it boils, falls while it condenses.

Both coils are unrolled from left to right. Within each zone the way along is the heat taken up or
given off; the zones themselves are not drawn to scale, since superheat takes a few percent of the
heat and would vanish.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from lowside import readings
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
_BEHIND = (Spot(14, 16), Spot(14, -8), Spot(14, 34))
_FAR, _NEAR = 146, 8  # [px] from the coil to the two braces


class _Side(NamedTuple):
    """One coil at its pressure: the clamp at its end, the line of the refrigerant."""

    axes: str
    pressure: float
    bubble: float
    dew: float
    clamp: float
    along: np.ndarray
    temperature: np.ndarray
    on_line: bool  # whether the refrigerant can have the temperature of the clamp there
    dry: bool = False  # whether nothing is known, or left, to boil

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
    warm = _condenser(fluid, head_pressure, liquid)
    inlet = _behind_the_valve(fluid, warm, suction_pressure)
    cold = _evaporator(fluid, suction_pressure, line_temperature, inlet)
    meaning = readings.interpret(
        fluid, readings.Readings(suction_pressure, line_temperature, head_pressure, liquid)
    )
    numbers = {
        "glide": cold.dew - cold.bubble,
        "superheat": float(fluid.superheat(suction_pressure, line_temperature)),
        "superheat_from_bubble": line_temperature - cold.bubble,
        "subcooling": float(fluid.subcooling(head_pressure, liquid)),
        "subcooling_from_dew": warm.dew - liquid,
        "superheat_error": meaning.superheat_error,
        "subcooling_error": meaning.subcooling_error,
        "inlet": None if inlet is None else float(inlet.temperature),
        "mean": None if cold.dry else (float(inlet.temperature) + cold.dew) / 2,
        "flash_gas": None if inlet is None else float(inlet.vapour_fraction),
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
        *_braces(cold, fluid, show, numbers, "superheat", "bubble"),
        *_braces(warm, fluid, show, numbers, "subcooling", "dew"),
    ]
    return LiveFigure(
        background,
        items,
        _words(fluid, show, cold, warm, numbers),
        _strip(fluid, show, cold, warm, numbers),
        numbers,
    )


def _behind_the_valve(fluid, warm, pressure):
    """State behind the valve; None where the clamp leaves open how much is liquid before it.

    Between bubble and dew the clamp of a blend that glides tells the share of vapour. Without a
    glide all shares have one temperature; and above dew there would be no liquid at all.
    """
    if warm.clamp <= warm.bubble:
        arriving = fluid.liquid_enthalpy(warm.pressure, warm.clamp)
    elif fluid.has_glide and warm.clamp < warm.dew:
        arriving = fluid.state_pt(warm.pressure, warm.clamp).enthalpy
    else:
        return None
    return fluid.state_ph(pressure, arriving)


def _evaporator(fluid, pressure, clamp, inlet):
    bubble, dew = float(fluid.bubble_temperature(pressure)), float(fluid.dew_temperature(pressure))
    first = 0.0 if inlet is None else float(inlet.vapour_fraction)
    start = bubble if inlet is None else float(inlet.temperature)
    if first >= 1.0:
        along, temperature = np.array([0.0, 1.0]), np.array([start, clamp])
        return _Side("evaporator", pressure, bubble, dew, clamp, along, temperature, True, True)
    if clamp > dew:
        along = np.r_[np.linspace(0.0, _ZONE, 25), 1.0]
        temperature = np.r_[_between(fluid, pressure, first, 1.0), clamp]
    else:
        reached = start < clamp < dew
        last = float(fluid.state_pt(pressure, clamp).vapour_fraction) if reached else 1.0
        along, temperature = np.linspace(0.0, 1.0, 25), _between(fluid, pressure, first, last)
    if inlet is None and fluid.has_glide:
        along, temperature = along[-2:], temperature[-2:]
    on_line = clamp > dew or start < clamp < dew
    dry = inlet is None
    return _Side("evaporator", pressure, bubble, dew, clamp, along, temperature, on_line, dry)


def _condenser(fluid, pressure, clamp):
    bubble, dew = float(fluid.bubble_temperature(pressure)), float(fluid.dew_temperature(pressure))
    if clamp < bubble:
        along = np.r_[0.0, np.linspace(_HOT, _ZONE, 25), 1.0]
        temperature = np.r_[dew + _CUT, _between(fluid, pressure, 1.0, 0.0), clamp]
    else:
        partly = fluid.has_glide and clamp < dew
        last = float(fluid.state_pt(pressure, clamp).vapour_fraction) if partly else 0.0
        along = np.r_[0.0, np.linspace(_HOT, 1.0, 25)]
        temperature = np.r_[dew + _CUT, _between(fluid, pressure, 1.0, last)]
    on_line = clamp <= bubble or (fluid.has_glide and clamp < dew)
    return _Side("condenser", pressure, bubble, dew, clamp, along, temperature, on_line)


def _between(fluid, pressure, first, last):
    """Temperatures from one share of vapour to another [K]."""
    return fluid.state_px(pressure, np.linspace(first, last, 25)).temperature


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
    clamp = show.text(side.clamp, "temperature") + ("" if side.on_line else "?")
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
    if numbers["inlet"] is None:
        said = "behind the valve: not to be told from these readings"
        return [Text(0.0, side.dew, said, _BEHIND, style.SMALL, style.LOW, axes=side.axes)]
    inlet = show.text(numbers["inlet"], "temperature")
    flash = show.text(numbers["flash_gas"], "ratio")
    said = f"behind the valve {inlet}, {flash} vapour"
    return [
        Markers([0.0], [numbers["inlet"]], "circle", 11, style.LOW, axes=side.axes),
        Text(0.0, numbers["inlet"], said, _BEHIND, style.SMALL, style.LOW, axes=side.axes),
    ]


def _braces(side, fluid, show, numbers, name, wrong_word):
    """Brace the same clamp from the right column and, for a blend that glides, from the wrong."""
    right, wrong = numbers[name], numbers[f"{name}_from_{wrong_word}"]
    word = "dew" if wrong_word == "bubble" else "bubble"
    column, other = (side.dew, side.bubble) if word == "dew" else (side.bubble, side.dew)

    def difference(value):
        return show.text(value, "temperature_difference")

    colour, text = style.GOOD, f"{name}\n{difference(right)}\nfrom {word} ✓"
    if right <= 0:
        colour, text = style.INK, f"⚠ none:\n{difference(-right)} short\nof {word}"
    elif right < numbers[f"{name}_error"]:
        colour, text = style.INK, f"{difference(right)} from\n{word}: less\nthan the error"
    items = [Brace(1.0, column, 1.0, side.clamp, text, "right", colour, gap=_NEAR, axes=side.axes)]
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
    if fluid.has_glide and numbers["mean"] is not None:
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
            f"one column. The suction line has {_amount(show, numbers, 'superheat', 'dew')}, the "
            f"liquid line {_amount(show, numbers, 'subcooling', 'bubble')}."
        )
    enters = "what enters cannot be told from these readings"
    if numbers["inlet"] is not None:
        enters = f"it enters at {temperature(numbers['inlet'])}"
    return (
        f"{fluid.name} along both coils. In the evaporator at {gauges[0]} {enters}, the last drop "
        f"is gone at {temperature(cold.dew)} (dew), while the bubble column says "
        f"{temperature(cold.bubble)}. The suction line at {temperature(cold.clamp)} has "
        f"{_amount(show, numbers, 'superheat', 'dew')}; from the bubble column it would look like "
        f"{difference('superheat_from_bubble')}. In the condenser at {gauges[1]} the first drop "
        f"appears at {temperature(warm.dew)} (dew) and the last bubble is gone at "
        f"{temperature(warm.bubble)} (bubble). The liquid line at {temperature(warm.clamp)} has "
        f"{_amount(show, numbers, 'subcooling', 'bubble')}; from the dew column it would look like "
        f"{difference('subcooling_from_dew')}."
    )


def _amount(show, numbers, name, column):
    degrees = numbers[name]
    text = show.text(abs(degrees), "temperature_difference")
    if degrees <= 0:
        return f"no {name}, {text} short of {column}"
    unproven = degrees < numbers[f"{name}_error"]
    return f"{text} of {name}" + (", less than gauge and clamp may err" if unproven else "")
