"""What stands still on a pressure-enthalpy diagram: dome, thin lines, ticks in user units."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from lowside import units
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
_VACUUM = (10, 20)
_TICK_SPACING = 23.0
_STEP = {"us": 20.0, "metric": 10.0}
_SHARES = (0.2, 0.4, 0.6, 0.8)  # of vapour, along the dotted lines


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
    matplotlib.axes.Axes
        Without labels: those give way to what moves, see ``labels``.
    """
    axes = figure.add_axes(EDGES)
    axes.set_yscale("log")
    axes.set_xlim(*enthalpies)
    axes.set_ylim(*pressures)
    _ticks(axes, fluid, show, lines)
    draw_dome(axes, fluid)
    for family in lines:
        _FAMILIES[family](axes, fluid, show)
    return axes


@lru_cache(maxsize=64)
def labels(fluid, show, lines, pressures, enthalpies):
    """Return names of regions and values of thin lines, as labels that give way to what moves.

    Parameters
    ----------
    fluid : Refrigerant
        From ``refrigerants.get``.
    show : Readout
        The reader's units.
    lines : tuple of {"isotherms", "quality", "isentropes"}
        Families of thin lines.
    pressures, enthalpies : tuple of float
        Edges of the view. [Pa], [J/kg]

    Returns
    -------
    tuple of Text
        To be placed after everything else.
    """
    found = list(_regions(fluid, pressures, enthalpies))
    if "isotherms" in lines:
        found += _temperatures(fluid, show, pressures, enthalpies)
    if "quality" in lines:
        found += _shares(fluid, show, pressures)
    return tuple(found)


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
    dew, bubble = _ends(fluid, temperature, high)
    if low < bubble < high:
        yield _while_valid(fluid.liquid_enthalpy, np.geomspace(bubble, high, 24), temperature)
    yield from boiling(fluid, temperature, pressures)
    top = min(dew, high)
    if top > low:
        yield _while_valid(fluid.vapour_enthalpy, np.geomspace(top, low, 90), temperature)


def boiling(fluid, temperature, pressures):
    """Yield the branch of one temperature inside the dome, if it has one.

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
    dew, bubble = _ends(fluid, temperature, high)
    if low < bubble and dew < high:
        count = 17 if fluid.has_glide else 2
        p = np.geomspace(max(dew, low), min(bubble, high), count)
        yield _across_dome(fluid, p, temperature), p


def _ends(fluid, temperature, high):
    """Dew and bubble pressure of a temperature, infinite where they lie above a pressure [Pa]."""
    dew = bubble = math.inf
    if temperature <= float(fluid.dew_temperature(high)):
        dew = float(fluid.dew_pressure(temperature, check=False))
    if temperature <= float(fluid.bubble_temperature(high)):
        bubble = float(fluid.bubble_pressure(temperature, check=False))
    return dew, bubble


def _ticks(axes, fluid, show, lines):
    from matplotlib.ticker import FixedFormatter, FixedLocator, MaxNLocator, NullLocator

    marks = pressure_ticks(axes, show)
    vacuum = ", below zero [inHg]" if any("inHg" in label for _, label in marks) else ""
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
        f"{fluid.name} · {show.axis('pressure at the gauge', 'gauge_pressure')}{vacuum}",
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


def pressure_ticks(axes, show):
    """Round gauge pressures that do not crowd a logarithmic axis.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        With its limits set. [Pa]
    show : Readout
        The reader's units.

    Returns
    -------
    list of (float, str)
        Places and labels. [Pa]
    """
    low, high = np.log(axes.get_ylim())
    candidates = [(float(show.si(v, "gauge_pressure")), f"{v:g}") for v in _TICKS[show.system]]
    if show.system == "us":
        for inches in _VACUUM:
            p = show.atmosphere - units.to_si(inches, "inHg")
            candidates.append((p, f"{inches} inHg"))
    tall = axes.get_position().height * axes.figure.get_figheight() * 100
    chosen = []
    for p, label in candidates:
        if p <= 0 or not low <= math.log(p) <= high:
            continue
        at = (math.log(p) - low) / (high - low) * tall
        if all(abs(at - other) >= _TICK_SPACING for other, _, _ in chosen):
            chosen.append((at, p, label))
    return [(p, label) for _, p, label in sorted(chosen)]


def draw_dome(axes, fluid):
    """Draw the dome of a refrigerant over the pressures that axes show.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        With its limits set. [J/kg], [Pa]
    fluid : Refrigerant
        From ``refrigerants.get``.
    """
    low, high = axes.get_ylim()
    p = np.geomspace(low, high, 160)
    saturation = fluid.saturation(p)
    left, right = saturation.liquid_enthalpy, saturation.vapour_enthalpy
    axes.fill_betweenx(p, left, right, color="#F1F5F9", zorder=0.4, linewidth=0)
    for side in (left, right):
        axes.plot(side, p, color=style.INK, linewidth=2.4 * style.POINTS, zorder=3)


def _regions(fluid, pressures, enthalpies):
    (low, high), (first, last) = pressures, enthalpies
    at = high**0.955 * low**0.045
    edge = fluid.saturation(at)
    middle = (float(edge.liquid_enthalpy) + float(edge.vapour_enthalpy)) / 2
    look = {"size": style.SMALL, "colour": style.MUTED, "optional": True}
    yield Text(first, at, "subcooled liquid", (Spot(9, 4), Spot(9, 34)), **look)
    yield Text(middle, at, "boiling", (Spot(0, 4, "middle"), Spot(0, 34, "middle")), **look)
    yield Text(last, at, "vapour", (Spot(-3, 4, "end"), Spot(-3, 34, "end")), **look)


@lru_cache(maxsize=64)
def _isotherms(fluid, show, pressures, enthalpies):
    """Round temperatures in the reader's units, each with its branches."""
    coldest = float(fluid.dew_temperature(pressures[0]))
    edge = fluid.state_ph(fluid.dew_pressure(_WARM), enthalpies[1], check=False)
    step = _STEP[show.system]
    first, last = show.value(np.array([coldest, float(edge.temperature)]), "temperature") / step
    rounds = show.si(np.arange(math.ceil(first), math.floor(last) + 1) * step, "temperature")
    return [(float(t), list(isotherm(fluid, t, pressures))) for t in rounds]


def _draw_isotherms(axes, fluid, show):
    for _, branches in _isotherms(fluid, show, axes.get_ylim(), axes.get_xlim()):
        for h, p in branches:
            axes.plot(h, p, **_LOOKS["isotherms"][1])


def _temperatures(fluid, show, pressures, enthalpies):
    (low, high), (left, right) = pressures, enthalpies
    look = {"size": _TINY, "colour": _TEMPERATURE_LABEL, "optional": True}
    for temperature, branches in _isotherms(fluid, show, pressures, enthalpies):
        text = show.text(temperature, "temperature", 0)
        bubble = float(fluid.bubble_pressure(temperature, check=False))
        if low * 1.04 < bubble < high * 0.8:
            h = float(fluid.saturation(bubble).liquid_enthalpy)
            yield Text(h, bubble, text, (Spot(-5, 1, "end"),), **look)
        h, p = branches[-1]
        if left < h[-1] < right and p[-1] < 1.001 * low:
            yield Text(float(h[-1]), float(p[-1]), text, (Spot(3, -5),), **look)


def _draw_quality(axes, fluid, show):
    for _, h, p in _qualities(fluid, axes.get_ylim()):
        axes.plot(h, p, **_LOOKS["quality"][1])


def _shares(fluid, show, pressures):
    look = {"size": _TINY, "colour": style.MUTED, "optional": True}
    for share, h, p in _qualities(fluid, pressures):
        text = show.text(share, "ratio", 0) + (" vapour" if share == _SHARES[0] else "")
        yield Text(float(h[2]), float(p[2]), text, (Spot(3, -2),), **look)


def _qualities(fluid, pressures):
    p = np.geomspace(*pressures, 80)
    saturation = fluid.saturation(p)
    left, right = saturation.liquid_enthalpy, saturation.vapour_enthalpy
    return [(share, left + share * (right - left), p) for share in _SHARES]


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
