"""One service call along its clock: air and food of the box above, what was done when below."""

from __future__ import annotations

import math

import numpy as np

from lowside import cases
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Markers, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

WIDTH, HEIGHT = 640, 452
LEFT, RIGHT, TOP, BOTTOM = 104, 624, 40, 232
ROWS, PITCH, TALL = 282, 30, 20  # [px]
LEAST_TIME = 7200.0  # [s] that the picture covers at least
STEP = 3600.0  # [s] by which it grows
ROOM = 3.0  # [K] above and below
DIGIT = 10.0  # [px] that a bar needs for each digit of its number


def call_figure(show, call):
    """Draw a call as far as it went.

    Parameters
    ----------
    show : Readout
        The reader's units.
    call : cases.Call

    Returns
    -------
    LiveFigure
    """
    end = max(LEAST_TIME, STEP * math.ceil(max(call.seconds, 1.0) / STEP))
    store, begun = call.larder, call.case
    times = np.array([0.0, *(entry.clock for entry in call.entries)])
    air = np.array([begun.air, *(entry.air for entry in call.entries)])
    food = np.array([begun.food, *(entry.food for entry in call.entries)])
    low = min(store.set_point, air.min()) - ROOM
    high = max(store.highest, air.max(), food.max()) + ROOM
    low, high = ROOM * math.floor(low / ROOM), ROOM * math.ceil(high / ROOM)
    background = Background.once(
        _backdrop(show, end, low, high), WIDTH, HEIGHT, ("call", show, end, low, high)
    )
    limit, right = store.highest, end
    items = [
        Line([0.0, right], [limit, limit], style.HIGH, 1.6, "dotted"),
        Text(
            right,
            limit,
            "food at most",
            (Spot(-4, 16, "end"), Spot(-4, -5, "end")),
            style.SMALL,
            style.HIGH,
        ),
        Line(times, air, style.LOW, 2.0, "dashed"),
        Line(times, food, style.INK, 3.0),
        Markers([times[-1]], [air[-1]], "diamond", colour=style.LOW),
        Markers([times[-1]], [food[-1]]),
        Text(times[-1], food[-1], "food", _BESIDE, style.SMALL, style.INK, True),
        Text(times[-1], air[-1], "air", _BESIDE, style.SMALL, style.LOW, True),
    ]
    items += _bars(call, end)
    numbers = {"minutes": call.seconds / 60.0, "food": store.food, "air": store.air}
    return LiveFigure(background, items, _words(show, call), (), numbers)


_BESIDE = (Spot(9, 4), Spot(9, 18), Spot(9, -10), Spot(-6, -8, "end"), Spot(-6, 16, "end"))


def _bars(call, end):
    scale = (RIGHT - LEFT) / end
    before = 0.0
    for number, entry in enumerate(call.entries, 1):
        row = cases.KINDS.index(entry.act.kind)
        top = ROWS + PITCH * row
        x0, x1 = LEFT + scale * before, LEFT + scale * entry.clock
        x1 = max(x1, x0 + 2.0)
        yield Bar(x0, top, x1, top + TALL, style.HAZE, style.INK, axes="page")
        if x1 - x0 > DIGIT * len(str(number)):
            middle = 0.5 * (x0 + x1)
            yield word(middle, top + TALL - 5, str(number), "middle", bold=True)
        before = entry.clock


def _backdrop(show, end, low, high):
    def draw(figure):
        size = WIDTH, HEIGHT
        axes = add_axes(figure, size, LEFT, TOP, RIGHT, BOTTOM)
        axes.set_xlim(0.0, end)
        axes.set_ylim(low, high)
        places, labels = user_ticks(show, "temperature", low, high, 6)
        axes.set_yticks(places, labels)
        ticks = np.arange(0.0, end + 1.0, 1800.0 if end <= 4 * STEP else 3600.0)
        axes.set_xticks(ticks, [f"{tick / 60.0:.0f}" for tick in ticks])
        axes.grid(color=style.RULE, linewidth=style.POINTS)
        axes.spines[["top", "right"]].set_visible(False)
        page = add_page(figure, size)
        fixed = [
            word(12, 22, f"in the box [{show.unit('temperature')}]", bold=True),
            word(RIGHT, BOTTOM + 34, "minutes on site", "end"),
        ]
        for row, kind in enumerate(cases.KINDS):
            top = ROWS + PITCH * row
            fixed.append(word(12, top + TALL - 5, kind))
            page.plot([LEFT, RIGHT], [top + TALL] * 2, color=style.RULE, linewidth=style.POINTS)
        return {"main": axes, "page": page}, fixed

    return draw


def _words(show, call):
    store = call.larder
    done = "; ".join(f"{number} {entry.act.label}" for number, entry in enumerate(call.entries, 1))
    return (
        f"A service call along its clock, {show.text(call.seconds, 'minutes')} long. Food began at "
        f"{show.text(call.case.food, 'temperature')} and stands at "
        f"{show.text(store.food, 'temperature')}, at most "
        f"{show.text(store.highest, 'temperature')} is allowed; air in the box "
        f"{show.text(store.air, 'temperature')}. Done: {done or 'nothing yet'}."
    )
