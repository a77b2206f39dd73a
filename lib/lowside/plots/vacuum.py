"""What a vacuum gauge says about water: where water boils and ice goes straight to vapour."""

from __future__ import annotations

import numpy as np

from lowside import drier, units
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Arrow, Line, Markers, Text
from lowside.plots.pagework import add_axes, add_page, word

SIZE = WIDTH, HEIGHT = 760, 450
CHART = (92, 62, 734, 388)  # [px] left, top, right, bottom

COLDEST, WARMEST = 233.15, 313.15  # [K]
DEEPEST, HIGHEST = 5.0, 2e4  # [Pa]
_TICKS = {
    "us": (50, 100, 200, 500, 1000, 5000, 20000, 100000),
    "metric": (0.1, 0.2, 0.5, 1, 2, 5, 10, 50, 200),
}
_MIDDLE = 0.5 * (COLDEST + WARMEST)
_GOES, _STAYS = "#E3F1EC", "#F6E3DA"


def vacuum_figure(show, vacuum, shop, coldest):
    """Draw where water boils under a vacuum, and whether it can leave this box.

    Parameters
    ----------
    show : Readout
        The reader's units; at altitude its barometer counts.
    vacuum : float
        What the vacuum gauge says, absolute. [Pa]
    shop : float
        Temperature of the box's warm parts. [K]
    coldest : float
        Temperature of its coldest part. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a vacuum or a temperature outside the tables of water.
    """
    numbers = {
        "vacuum": vacuum,
        "shop": shop,
        "coldest": coldest,
        "boils": float(drier.boiling_temperature(vacuum)),
        "needed_shop": float(drier.saturation_pressure(shop)),
        "needed_coldest": float(drier.saturation_pressure(coldest)),
        "margin_shop": float(drier.vacuum_margin(vacuum, shop)),
        "margin_coldest": float(drier.vacuum_margin(vacuum, coldest)),
        "atmosphere": show.atmosphere,
    }
    background = Background.once(
        lambda figure: _draw(figure, show), WIDTH, HEIGHT, ("vacuum", show)
    )
    return LiveFigure(
        background, _items(show, numbers), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say whether water leaves, and what the reading can hide.

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
    if now["margin_coldest"] <= 0.0:
        return (
            f"Ice or water in the coldest part stays: there it would need "
            f"{_needed(show, now['needed_coldest'])} or less. Warm that part before you "
            "trust the gauge."
        )
    if now["coldest"] < units.ICE_POINT:
        return (
            "Ice in the coldest part turns to vapour, but slowly: it needs heat, and it makes its "
            "own cold. Warm the part, and pull slowly at first."
        )
    if now["margin_coldest"] < 10.0:
        return (
            "Water boils, but hardly: it cools itself as it boils, and soon it will not. Pull "
            "deeper, or warm the box."
        )
    return (
        "Water boils everywhere in this box and leaves as vapour, if you give it time. Whether "
        "all is gone the pump cannot tell: shut it off and watch the gauge rise or stand."
    )


def _draw(figure, show):
    chart = add_axes(figure, SIZE, *CHART)
    chart.set_yscale("log")
    chart.set_ylim(DEEPEST, HIGHEST)
    chart.set_xlim(COLDEST, WARMEST)
    places = [float(show.si(value, "vacuum")) for value in _TICKS[show.system]]
    labels = [f"{value:g}" for value in _TICKS[show.system]]
    shown = [(p, label) for p, label in zip(places, labels, strict=True) if DEEPEST <= p <= HIGHEST]
    chart.set_yticks([p for p, _ in shown], [label for _, label in shown])
    chart.set_yticks([], minor=True)
    step = 20 if show.system == "us" else 10
    edges = [float(show.value(edge, "temperature")) for edge in (COLDEST, WARMEST)]
    values = np.arange(np.ceil(edges[0] / step - 1e-9) * step, edges[1] + 1e-9, step)
    chart.set_xticks([float(show.si(v, "temperature")) for v in values], [f"{v:g}" for v in values])
    chart.grid(True)
    temperature = np.linspace(COLDEST, WARMEST, 161)
    boils = drier.saturation_pressure(temperature)
    low, high = np.full_like(boils, DEEPEST), np.full_like(boils, HIGHEST)
    across = show.axis("temperature of the part", "temperature")
    freezing = float(drier.saturation_pressure(units.ICE_POINT))
    return {"main": chart, "page": add_page(figure, SIZE)}, [
        Area(temperature, low, np.clip(boils, DEEPEST, HIGHEST), _GOES, 1.0),
        Area(temperature, np.clip(boils, DEEPEST, HIGHEST), high, _STAYS, 1.0),
        Line(temperature, boils, style.INK, 3.0),
        Line([units.ICE_POINT] * 2, [DEEPEST, HIGHEST], style.MUTED, 1.2, "dotted"),
        word(
            14,
            24,
            show.axis("what the vacuum gauge says, absolute", "vacuum"),
            size=style.LARGE,
            bold=True,
        ),
        word((CHART[0] + CHART[2]) / 2, HEIGHT - 18, across, "middle", style.TEXT),
        Text(
            278.0,
            11.0,
            "water and ice go off as vapour",
            (Spot(0, 0, "middle"),),
            style.LARGE,
            style.GOOD,
            True,
        ),
        Text(
            250.0,
            9000.0,
            "water and ice stay",
            (Spot(0, 0, "middle"),),
            style.LARGE,
            style.HIGH,
            True,
        ),
        Text(units.ICE_POINT, freezing, "freezing", (Spot(8, 18),), style.SMALL),
    ]


def _items(show, n):
    y = min(max(n["vacuum"], DEEPEST), HIGHEST)
    boils = min(max(n["boils"], COLDEST), WARMEST)
    items = [Line([COLDEST, WARMEST], [y, y], style.OWN, 2.4, "dashed")]
    text = f"your gauge {show.text(n['vacuum'], 'vacuum')}"
    items.append(Line([CHART[0], CHART[0] + 30], [43, 43], style.OWN, 2.4, "dashed", axes="page"))
    items.append(word(CHART[0] + 38, 48, text, size=style.TEXT, colour=style.OWN, bold=True))
    for name, shape, said in (
        ("shop", "circle", "warm parts"),
        ("coldest", "square", "coldest part"),
    ):
        at = n[name]
        goes = n[f"margin_{name}"] > 0.0
        colour = style.GOOD if goes else style.HIGH
        if abs(at - boils) > 1.0:
            items.append(Arrow(boils, y, at, y, colour, 3.0))
        items.append(Markers([at], [y], shape, 15, colour))
        verdict = "leaves" if goes else "stays"
        label = f"{said} {show.text(at, 'temperature')}: {verdict}"
        down = (28, 46) if name == "shop" else (-18, -36)
        anchor, shift = ("start", -8) if at < _MIDDLE else ("end", 8)
        side = tuple(Spot(shift, dy, anchor) for dy in down)
        items.append(Text(at, y, label, side, style.TEXT, colour, True))
    return items


def _needed(show, pressure):
    """Write a vacuum with three digits that count."""
    value = float(f"{float(show.value(pressure, 'vacuum')):.3g}")
    return show.text(show.si(value, "vacuum"), "vacuum")


def _strip(show, n):
    return [
        ("Vacuum gauge", show.text(n["vacuum"], "vacuum")),
        ("Manifold gauge", show.text(n["vacuum"], "gauge_pressure")),
        ("Water boils at", show.text(n["boils"], "temperature")),
        ("Needed, warm parts", f"under {_needed(show, n['needed_shop'])}"),
        ("Needed, coldest", f"under {_needed(show, n['needed_coldest'])}"),
    ]


def _words(show, n):
    def fate(name):
        return "leaves" if n[f"margin_{name}"] > 0.0 else "stays"

    return (
        f"At {show.text(n['vacuum'], 'vacuum')} absolute water boils, or ice turns to vapour, at "
        f"{show.text(n['boils'], 'temperature')}. Water in the warm parts at "
        f"{show.text(n['shop'], 'temperature')} {fate('shop')}: it boils under "
        f"{_needed(show, n['needed_shop'])}. Water or ice in the coldest part at "
        f"{show.text(n['coldest'], 'temperature')} {fate('coldest')}: there it takes "
        f"{_needed(show, n['needed_coldest'])} or less. With the barometer at "
        f"{show.text(n['atmosphere'], 'pressure')} a manifold gauge says "
        f"{show.text(n['vacuum'], 'gauge_pressure')}; the vacuum gauge does not mind altitude."
    )
