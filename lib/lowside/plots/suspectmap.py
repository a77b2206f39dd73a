"""Two suspects on one map: the port across, what the strainer still passes upwards.

The larger a square, the likelier that pair. Pairs that would leave the box short stand on a grey
ground. Beside the map: what a thermometer on either side of the strainer would see.
"""

from __future__ import annotations

import math

import numpy as np

from lowside.identify.strainer import strainer_temperature_drop
from lowside.plots import style
from lowside.plots.belief import chance_text
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Area, Bar, Line, Markers
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 740, 522
LEFT, TOP, CELL = 78, 74, 46  # [px]
FELT = (500, 100, 722, 330)  # [px] left, top, right, bottom
LEAST_DRAWN, LEAST_SAID = 0.002, 0.015
LITTLE = 2.0  # [K] of subcooling, for comparison
_MOST_DROP = 0.62  # of the head
_MOST_FELT = 22.0  # [K]
_CURVE = 80


def suspects_figure(show, suspicion, holds, site, seen, port, hole, tag):
    """Draw what is believed of port and strainer together.

    Parameters
    ----------
    show : Readout
        The reader's units.
    suspicion : Suspicion
        What is believed.
    holds : ndarray of bool, shape (j, s)
        Which pairs hold the load.
    site : Site
        The box as believed.
    seen : Seen
        What the box shows as it runs, one point.
    port, hole : float
        What is really there; an infinite hole is a clear strainer. [m]
    tag : float or None
        What the tag says. [m]

    Returns
    -------
    LiveFigure
    """
    fluid = site.box.refrigerant
    head = float(fluid.dew_pressure(site.condensing_temperature))
    sizes, holes = tuple(suspicion.sizes.tolist()), tuple(suspicion.holes.tolist())
    background = Background.once(
        _backdrop(show, sizes, holes, head), *SIZE, ("suspects", show, sizes, holes, head)
    )
    items = [
        *_ground(holds),
        *_squares(show, suspicion),
        *_truth(sizes, holes, port, hole),
        *_curves(show, site, head, seen),
    ]
    return LiveFigure(
        background,
        items,
        _words(show, suspicion, site, seen, port, hole, tag),
        _strip(show, site, seen),
        {
            "suspicion": suspicion,
            "port": port,
            "hole": hole,
            "felt": float(seen.readings[-1]),
            "drop": float(seen.strainer_drop),
            "subcooling": site.subcooling,
            "wide": bool(seen.wide_open),
            "tag": tag,
        },
    )


def why(start, now, show):
    """Say what can be told of the two suspects, and what cannot.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one.
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    drop = show.text(now["drop"], "pressure_difference")
    felt = show.text(now["felt"], "temperature_difference")
    if not now["wide"]:
        return (
            "The pin still has travel left: it opens a little further and hides whatever the "
            "strainer takes. The readings say next to nothing of either suspect."
        )
    if math.isinf(now["hole"]):
        if now["suspicion"].clear > 0.8:
            return "The pin stands at its stop and nothing is lost before it: the port it is."
        return (
            "The strainer is clear, but from outside a larger port behind a plugged strainer would "
            "read alike: the squares lie along an edge, and no reading moves along it."
        )
    if now["felt"] < 2.0:
        return (
            f"The strainer takes {drop}, and the liquid leaves it only {felt} colder: until its "
            "subcooling is used up nothing boils, and a thermometer feels nothing."
        )
    return (
        f"The strainer takes {drop}, all of the subcooling and more: the liquid boils in it and "
        f"leaves {felt} colder. That much can be felt."
    )


def _backdrop(show, sizes, holes, head):
    def draw(figure):
        axes = {"page": add_page(figure, SIZE), "felt": add_axes(figure, SIZE, *FELT)}
        foot = TOP + CELL * len(holes)
        fixed = [
            word(12, 24, "port and strainer: how likely is each pair?", bold=True, size=style.TEXT),
            word(12, 60, show.axis("strainer passes", "port")),
            word(LEFT, foot + 60, show.axis("port", "port")),
            word(FELT[0] - 42, 24, "felt across the strainer", bold=True, size=style.TEXT),
            word(FELT[0] - 42, 44, "with a clamp on either side", size=style.SMALL),
            word(FELT[0] - 42, 84, show.axis("colder by", "temperature_difference")),
            word(FELT[2], FELT[3] + 42, show.axis("it takes", "pressure_difference"), "end"),
        ]
        for row, hole in enumerate(holes):
            text = "clear" if math.isinf(hole) else f"{float(show.value(hole, 'port')):.3g}"
            fixed.append(word(LEFT - 8, TOP + CELL * (row + 0.5) + 5, text, "end"))
        for column, size in enumerate(sizes):
            text = f"{float(show.value(size, 'port')):.3g}"
            fixed.append(word(LEFT + CELL * (column + 0.5), foot + 17, text, "middle"))
        lower = FELT[0] - 42
        fixed += _legend(lower, FELT[3] + 112)
        chart = axes["felt"]
        chart.set_xlim(0.0, _MOST_DROP * head)
        chart.set_ylim(-0.4, _MOST_FELT)
        for setter, label, kind, most in (
            (chart.set_xticks, chart.set_xticklabels, "pressure_difference", _MOST_DROP * head),
            (chart.set_yticks, chart.set_yticklabels, "temperature_difference", _MOST_FELT),
        ):
            places, labels = user_ticks(show, kind, 0.0, most, 5)
            setter(places)
            label(labels)
        chart.grid()
        return axes, fixed

    return draw


def _legend(x, y):
    side = 14.0
    return [
        Bar(x, y, x + side, y + side, style.LOW, axes="page"),
        word(x + 22, y + 12, "the larger, the likelier"),
        Bar(x, y + 24, x + side, y + 24 + side, _SHORT, style.RULE, axes="page"),
        word(x + 22, y + 36, "this pair leaves the box short"),
        Line(
            [x, x + side, x + side, x],
            [y + 48, y + 48, y + 48 + side, y + 48 + side],
            style.HIGH,
            2.6,
            closed=True,
            axes="page",
        ),
        word(x + 22, y + 60, "what is really there"),
    ]


_SHORT = "#E4E7EA"


def _ground(holds):
    rows, columns = holds.shape
    for row in range(rows):
        for column in range(columns):
            x, y = LEFT + CELL * column, TOP + CELL * row
            colour = style.PAPER if holds[row, column] else _SHORT
            yield Bar(x, y, x + CELL, y + CELL, colour, style.RULE, axes="page")


def _squares(show, suspicion):
    for (row, column), chance in np.ndenumerate(suspicion.probability):
        if chance < LEAST_DRAWN:
            continue
        x, y = LEFT + CELL * (column + 0.5), TOP + CELL * (row + 0.5)
        half = 0.5 * (CELL - 6) * math.sqrt(chance)
        yield Bar(x - half, y - half, x + half, y + half, style.LOW, axes="page")
    foot = TOP + CELL * len(suspicion.holes)
    for column, chance in enumerate(suspicion.port.probability):
        if chance > LEAST_SAID:
            x = LEFT + CELL * (column + 0.5)
            yield word(x, foot + 37, chance_text(show, chance), "middle", bold=True)
    right = LEFT + CELL * len(suspicion.sizes)
    for row, chance in enumerate(suspicion.probability.sum(axis=1)):
        if chance > LEAST_SAID:
            y = TOP + CELL * (row + 0.5) + 5
            yield word(right + 6, y, chance_text(show, chance), bold=True)


def _truth(sizes, holes, port, hole):
    column = min(range(len(sizes)), key=lambda n: abs(math.log(sizes[n] / port)))
    if math.isinf(hole):
        row = 0
    else:
        row = min(range(1, len(holes)), key=lambda n: abs(math.log(holes[n] / hole)))
    x, y = LEFT + CELL * column + 2, TOP + CELL * row + 2
    side = CELL - 4
    yield Line(
        [x, x + side, x + side, x],
        [y, y, y + side, y + side],
        style.HIGH,
        2.6,
        closed=True,
        axes="page",
    )


def _curves(show, site, head, seen):
    fluid = site.box.refrigerant
    drops = np.linspace(0.0, _MOST_DROP * head, _CURVE)
    here = strainer_temperature_drop(fluid, head, site.subcooling, drops)
    little = strainer_temperature_drop(fluid, head, LITTLE, drops)
    yield Line(drops, little, style.MUTED, 2.0, "dashed", axes="felt")
    yield Line(drops, here, style.LOW, axes="felt")
    x, y = FELT[0] - 42, FELT[3] + 68
    for subcooling, dash, colour, below in (
        (site.subcooling, "solid", style.LOW, 0),
        (LITTLE, "dashed", style.MUTED, 22),
    ):
        yield Line([x, x + 34], [y + below] * 2, colour, style.LINE, dash, axes="page")
        text = f"{show.text(subcooling, 'temperature_difference')} subcooled"
        yield word(x + 42, y + below + 5, text)
    drop = float(seen.strainer_drop)
    felt = float(strainer_temperature_drop(fluid, head, site.subcooling, drop))
    yield Markers([drop], [felt], "circle", 13, style.HIGH, axes="felt")
    yield Area([0, drop, drop, 0], [-0.4, -0.4, -0.1, -0.1], None, style.HIGH, 1.0, "felt")


def _strip(show, site, seen):
    dew, line, _, air, felt = seen.readings.tolist()
    fluid = site.box.refrigerant
    return (
        ("Suction gauge", show.text(float(fluid.dew_pressure(dew)), "gauge_pressure")),
        ("Suction line", show.text(line, "temperature")),
        ("Superheat", show.text(max(line - dew, 0.0), "temperature_difference")),
        ("Subcooling", show.text(site.subcooling, "temperature_difference")),
        ("Colder behind strainer", show.text(max(felt, 0.0), "temperature_difference")),
        ("Air off the coil", show.text(air, "temperature")),
    )


def _words(show, suspicion, site, seen, port, hole, tag):
    port_belief = suspicion.port
    best = port_belief.best
    strainer = "clear" if math.isinf(hole) else f"plugged to {show.text(hole, 'port')}"
    said = "No tag." if tag is None else f"The tag says {show.text(tag, 'port')}."
    return (
        f"Really there: port {show.text(port, 'port')}, strainer {strainer}. {said} The "
        f"most likely port is {show.text(best, 'port')} with "
        f"{chance_text(show, port_belief.of(best))}; the strainer is clear with "
        f"{chance_text(show, suspicion.clear)}. It takes "
        f"{show.text(float(seen.strainer_drop), 'pressure_difference')}, and behind it the liquid "
        f"is {show.text(max(float(seen.readings[-1]), 0.0), 'temperature_difference')} colder, "
        f"with {show.text(site.subcooling, 'temperature_difference')} of subcooling in front."
    )
