"""What stands still on a pressure-enthalpy diagram: dome, thin lines, ticks in user units."""

from __future__ import annotations

import math

import numpy as np

from lowside.errors import LowsideError
from lowside.plots import style
from lowside.plots.layout import Spot
from lowside.plots.marks import Text

EDGES = (0.112, 0.118, 0.872, 0.812)
LINES = ("isotherms", "quality", "isentropes")

_COLDEST = 233.15  # [K] dew point at the lower edge of the usual view
_WARM = 318.15  # [K] condensing temperature that, with ...
_HOT = 52.0  # [K] ... this superheat, fixes its right edge
_LOOKS = {
    "isotherms": (
        "same temperature",
        {"color": "#5F8A80", "linewidth": 1.0 * style.POINTS, "zorder": 1.5},
    ),
    "quality": (
        "same vapour share",
        {
            "color": "#7C8894",
            "linewidth": 1.2 * style.POINTS,
            "linestyle": (0, (1, 3)),
            "zorder": 1.2,
        },
    ),
    "isentropes": (
        "same entropy",
        {
            "color": "#A07F3C",
            "linewidth": 1.0 * style.POINTS,
            "linestyle": (0, (7, 2, 1, 2)),
            "zorder": 1.3,
        },
    ),
}
_TEMPERATURE_LABEL = "#3F6A60"
_TINY = style.SMALL - 1

# Gauge values that make good ticks, most wanted first; inches of mercury below the barometer.
_TICKS = {
    "us": (0, 100, 10, 50, 200, 20, 300, 400, 30, 150, 70, 5, 500, 600),
    "metric": (0, 10, 1, 5, 2, 20, 3, 30, 15, 7, 0.5, 40, -0.5, -0.8),
}
_VACUUM = ("10 inHg vac", "20 inHg vac")
_TICK_SPACING = 23.0
_STEP = {"us": 20.0, "metric": 10.0}


def usual_pressures(fluid):
    """Return the pressures shown unless others are asked for [Pa]."""
    low, high = fluid.pressure_range
    return max(low, float(fluid.dew_pressure(_COLDEST))), high


def usual_enthalpies(fluid, pressures):
    """Return the enthalpies shown unless others are asked for [J/kg]."""
    left = float(fluid.saturation(pressures[0]).liquid_enthalpy)
    right = float(fluid.vapour_enthalpy(fluid.dew_pressure(_WARM), _WARM + _HOT))
    return left - 0.06 * (right - left), right + 0.02 * (right - left)


def draw(figure, fluid, show, lines, pressures, enthalpies):
    """Draw axes, dome and thin lines.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        An empty figure.
    fluid : Refrigerant
        From ``refrigerants.get``.
    show : Readout
        The reader's units.
    lines : sequence of {"isotherms", "quality", "isentropes"}
        Families of thin lines.
    pressures, enthalpies : tuple of float
        Edges of the view. [Pa], [J/kg]

    Returns
    -------
    tuple
        The axes, and the labels as primitives.
    """
    axes = figure.add_axes(EDGES)
    axes.set_yscale("log")
    axes.set_xlim(*enthalpies)
    axes.set_ylim(*pressures)
    _ticks(axes, fluid, show, lines)
    labels = _dome(axes, fluid)
    for family in lines:
        labels += _FAMILIES[family](axes, fluid, show)
    return axes, labels


def isotherm(fluid, temperature, pressures):
    """Yield the branches of one temperature: liquid, dome and vapour, as far as they exist.

    Parameters
    ----------
    fluid : Refrigerant
        From ``refrigerants.get``.
    temperature : float
        [K]
    pressures : tuple of float
        Lowest and highest. [Pa]

    Yields
    ------
    tuple of numpy.ndarray
        Enthalpies [J/kg] and pressures [Pa].
    """
    low, high = pressures
    dew = bubble = math.inf
    if temperature <= float(fluid.dew_temperature(high)):
        dew = float(fluid.dew_pressure(temperature, check=False))
    if temperature <= float(fluid.bubble_temperature(high)):
        bubble = float(fluid.bubble_pressure(temperature, check=False))
    if low < bubble < high:
        yield _while_valid(fluid.liquid_enthalpy, np.geomspace(bubble, high, 24), temperature)
    if low < bubble and dew < high:
        count = 17 if fluid.has_glide else 2
        p = np.geomspace(max(dew, low), min(bubble, high), count)
        yield _across_dome(fluid, p, temperature), p
    top = min(dew, high)
    if top > low:
        yield _while_valid(fluid.vapour_enthalpy, np.geomspace(top, low, 90), temperature)


def _ticks(axes, fluid, show, lines):
    from matplotlib.ticker import FixedFormatter, FixedLocator, MaxNLocator, NullLocator

    marks = _pressure_ticks(axes, show)
    axes.yaxis.set_major_locator(FixedLocator([p for p, _ in marks]))
    axes.yaxis.set_major_formatter(FixedFormatter([label for _, label in marks]))
    axes.yaxis.set_minor_locator(NullLocator())
    low, high = show.value(np.array(axes.get_xlim()), "enthalpy")
    values = MaxNLocator(8, steps=[1, 2, 2.5, 5, 10]).tick_values(low, high)
    values = values[(values >= low) & (values <= high)]
    axes.xaxis.set_major_locator(FixedLocator(show.si(values, "enthalpy")))
    axes.xaxis.set_major_formatter(FixedFormatter([f"{v:g}" for v in values]))
    axes.set_xlabel(show.axis("enthalpy", "enthalpy"), loc="left")
    axes.set_title(
        f"{fluid.name} · {show.axis('pressure at the gauge', 'gauge_pressure')}",
        loc="left",
        x=-0.115,
        fontsize=style.TEXT * style.POINTS,
        pad=7,
    )
    axes.grid(True, linewidth=0.8 * style.POINTS)
    _key(axes, lines)


def _key(axes, lines):
    """Say below the axes, on the right, which thin line is what."""
    from matplotlib.lines import Line2D

    axes.figure.legend(
        [Line2D([], [], **_LOOKS[line][1]) for line in lines],
        [_LOOKS[line][0] for line in lines],
        loc="lower right",
        bbox_to_anchor=(EDGES[0] + EDGES[2] + 0.012, -0.002),
        ncols=max(1, len(lines)),
        frameon=False,
        fontsize=_TINY * style.POINTS,
        handlelength=2.2,
        handletextpad=0.5,
        columnspacing=1.1,
        labelcolor=style.MUTED,
    )


def _pressure_ticks(axes, show):
    low, high = np.log(axes.get_ylim())
    candidates = [(float(show.si(v, "gauge_pressure")), f"{v:g}") for v in _TICKS[show.system]]
    if show.system == "us":
        for text in _VACUUM:
            p = show.parse(text, "gauge_pressure", "tick")
            candidates.append((p, text.replace(" vac", "\nvac")))
    tall = axes.get_position().height * axes.figure.get_figheight() * 100
    chosen = []
    for p, label in candidates:
        if p <= 0 or not low <= math.log(p) <= high:
            continue
        at = (math.log(p) - low) / (high - low) * tall
        need = _TICK_SPACING * (1.5 if "\n" in label else 1.0)
        if all(abs(at - other) >= need for other, _, _ in chosen):
            chosen.append((at, p, label))
    return [(p, label) for _, p, label in sorted(chosen)]


def _dome(axes, fluid):
    low, high = axes.get_ylim()
    p = np.geomspace(low, high, 160)
    saturation = fluid.saturation(p)
    left, right = saturation.liquid_enthalpy, saturation.vapour_enthalpy
    axes.fill_betweenx(p, left, right, color="#F1F5F9", zorder=0.4, linewidth=0)
    for side in (left, right):
        axes.plot(side, p, color=style.INK, linewidth=2.4 * style.POINTS, zorder=3)
    at = high**0.955 * low**0.045
    edge = fluid.saturation(at)
    middle = (float(edge.liquid_enthalpy) + float(edge.vapour_enthalpy)) / 2
    first, last = axes.get_xlim()
    look = {"size": style.SMALL, "colour": style.MUTED}
    return [
        Text(first, at, "subcooled liquid", (Spot(9, 4),), **look),
        Text(middle, at, "boiling", (Spot(0, 4, "middle"),), **look),
        Text(last, at, "vapour", (Spot(-3, 4, "end"),), **look),
    ]


def _draw_isotherms(axes, fluid, show):
    pressures, (left, right) = axes.get_ylim(), axes.get_xlim()
    coldest = float(fluid.dew_temperature(pressures[0]))
    hottest = float(fluid.state_ph(fluid.dew_pressure(_WARM), right, check=False).temperature)
    step = _STEP[show.system]
    first, last = show.value(np.array([coldest, hottest]), "temperature") / step
    rounds = show.si(np.arange(math.ceil(first), math.floor(last) + 1) * step, "temperature")
    look = {"size": _TINY, "colour": _TEMPERATURE_LABEL, "optional": True}
    labels = []
    for temperature in rounds:
        branches = list(isotherm(fluid, temperature, pressures))
        for h, p in branches:
            axes.plot(h, p, **_LOOKS["isotherms"][1])
        text = show.text(temperature, "temperature", 0)
        bubble = float(fluid.bubble_pressure(temperature, check=False))
        if pressures[0] * 1.04 < bubble < pressures[1] * 0.8:
            h = float(fluid.saturation(bubble).liquid_enthalpy)
            labels.append(Text(h, bubble, text, (Spot(-5, 1, "end"),), **look))
        h, p = branches[-1]
        if left < h[-1] < right and p[-1] < 1.001 * pressures[0]:
            labels.append(Text(float(h[-1]), float(p[-1]), text, (Spot(0, -5, "middle"),), **look))
    return labels


def _draw_quality(axes, fluid, show):
    p = np.geomspace(*axes.get_ylim(), 80)
    saturation = fluid.saturation(p)
    left, right = saturation.liquid_enthalpy, saturation.vapour_enthalpy
    labels = []
    for share in (0.2, 0.4, 0.6, 0.8):
        h = left + share * (right - left)
        axes.plot(h, p, **_LOOKS["quality"][1])
        text = show.text(share, "ratio", 0) + (" vapour" if share == 0.2 else "")
        look = {"size": _TINY, "colour": style.MUTED, "optional": True}
        labels.append(Text(float(h[2]), float(p[2]), text, (Spot(3, -2),), **look))
    return labels


def _draw_isentropes(axes, fluid, show):
    low, high = axes.get_ylim()
    p = np.geomspace(low, high, 120)
    dew = fluid.dew_temperature(p)
    lowest = float(fluid.saturation(fluid.dew_pressure(278.15)).vapour_entropy)
    highest = float(fluid.state_pt(low, dew[0] + 90.0).entropy)
    for entropy in np.linspace(lowest, highest, 5):
        states = fluid.state_ps(p, entropy, check=False)
        inside = (states.quality >= 1.0) & (states.temperature - dew < 118.0)
        axes.plot(np.where(inside, states.enthalpy, np.nan), p, **_LOOKS["isentropes"][1])
    return []


_FAMILIES = {
    "isotherms": _draw_isotherms,
    "quality": _draw_quality,
    "isentropes": _draw_isentropes,
}


def _across_dome(fluid, p, temperature):
    """Enthalpy in the dome at pressures and one temperature: there the quality fits."""
    saturation = fluid.saturation(p, check=False)
    left, right = saturation.liquid_enthalpy, saturation.vapour_enthalpy
    if not fluid.has_glide:
        return np.array([left[0], right[0]])
    share = np.linspace(0, 1, 41)
    along = fluid.state_px(p[:, None], share, check=False).temperature
    quality = np.array([np.interp(temperature, row, share) for row in along])
    return left + quality * (right - left)


def _while_valid(enthalpy, pressures, temperature):
    """Follow one temperature along pressures as far as the tables are valid."""
    good, bad = 0, len(pressures)
    while bad - good > 1:
        middle = (good + bad) // 2
        try:
            enthalpy(pressures[middle], temperature)
        except LowsideError:
            bad = middle
        else:
            good = middle
    kept = pressures[: good + 1]
    return enthalpy(kept, temperature, check=False), kept
