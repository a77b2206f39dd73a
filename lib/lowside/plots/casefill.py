"""Calls covered against the parts in the case, the parts themselves, and every box of the route."""

from __future__ import annotations

import math

from lowside import carry
from lowside.plots import casewords, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Bar, Line, Markers, Text
from lowside.plots.pagework import add_axes, add_page, word

SIZE = WIDTH, HEIGHT = 760, 634
CHART = 58, 44, 742, 200  # [px] left, top, right, bottom
CASE, BOXES, UNDER = 10, 420, 262  # [px] left edges of what stands below, and their top
ACROSS, TALL, COLUMNS = 132, 33, 3  # [px] of a part; parts side by side
ROWS = {"body": 2, "cartridge": 3, "element": 4}
ROW, MOST_ROWS = 15.0, 24  # [px] of a box, and how many stand on the picture
FEWEST = 10  # places that the axis shows at least
GREEDY = "build by build, nothing taken back"
BEST = style.LOW, style.LINE, "solid"
SLOW = style.HIGH, 1.6, "dotted"


def case_figure(show, stops, places, money=None, food=0.0):
    """Draw what the best case of so many places covers.

    Parameters
    ----------
    show : Readout
        The reader's units.
    stops : tuple of carry.Stop
        The route.
    places : float
        In the case; a part of a place is none.
    money : float, optional
        That all parts together may cost. [-]
    food : float
        Share of a call's weight that goes by the food at risk. [-]

    Returns
    -------
    LiveFigure
        With words, what the case is good for, and numbers.

    Raises
    ------
    OutOfRange
        For less than no places or no money.
    LowsideError
        If nobody on this route ever calls.
    """
    filled = casewords.Filled(stops, math.floor(places + 1e-9), money, food)
    end = max(FEWEST, len(filled.curve), filled.places + 1)
    key = "case", filled.weighing, end
    background = Background.once(_backdrop(filled.weighing, end), *SIZE, key)
    return LiveFigure(
        background,
        [*_curves(filled, end), *_case(filled), *_boxes(filled)],
        casewords.words(filled, show),
        casewords.readings(filled, show),
        casewords.numbers(filled),
        casewords.remarks(filled, show),
    )


def _backdrop(weighing, end):
    def draw(figure):
        chart = add_axes(figure, SIZE, *CHART)
        chart.set_xlim(0, end)
        chart.set_ylim(0, 1.06)
        chart.set_xticks(range(0, end + 1, 2 if end <= 30 else 5))
        chart.set_yticks([0.0, 0.25, 0.5, 0.75, 1.0], ["0 %", "25 %", "50 %", "75 %", "100 %"])
        chart.grid(axis="y")
        fixed = [
            *_key(),
            word(12, 22, f"{weighing}, covered by the best case", size=style.TEXT, bold=True),
            word(CHART[2], CHART[3] + 34, "places in the case, one for each part", "end"),
        ]
        return {"chart": chart, "page": add_page(figure, SIZE)}, fixed

    return draw


def _key():
    left, right = 452, 482
    for row, (name, look) in enumerate((("the best case", BEST), (GREEDY, SLOW))):
        y = 14 + 17 * row
        yield Line([left, right], [y, y], *look, axes="page")
        yield word(right + 8, y + 4, name)


# ---------------------------------------------------------------- the curves


def _curves(filled, end):
    slow = [
        max(share for parts, share in filled.one_by_one if parts <= places)
        for places in range(end + 1)
    ]
    items = [_steps(filled.shares, end, BEST), _steps(slow, end, SLOW)]
    ceiling = filled.shares[-1]
    items.append(Line([0, end], [ceiling] * 2, style.MUTED, 1.2, "dashed", axes="chart"))
    below = (Spot(8, 16),)
    said = "all that parts of this kit can cover"
    items.append(
        Text(0, ceiling, said, below, style.SMALL, style.MUTED, optional=True, axes="chart")
    )
    x, y = filled.places, filled.share
    items += [
        Line([x, x], [0, y], style.INK, 1.2, axes="chart"),
        Markers([x], [y], "circle", 14, style.INK, axes="chart"),
    ]
    return items


def _steps(shares, end, look):
    """Draw a staircase: as much as `places` buy, until the next one."""
    x, y = [], []
    for places in range(end + 1):
        share = shares[min(places, len(shares) - 1)]
        x += [places, min(places + 1, end)]
        y += [share, share]
    return Line(x, y, *look, axes="chart")


# ---------------------------------------------------------------- the case


def _case(filled):
    count = len(filled.case.parts)
    said = f"In the case: {count} {'part' if count == 1 else 'parts'}"
    items = [word(CASE, UNDER - 8, said, size=style.TEXT, bold=True)]
    if not count:
        items.append(word(CASE, UNDER + 18, "nothing: one build takes three places"))
    top = UNDER + 6
    for kind in carry.KINDS:
        held = [part for part in filled.case.parts if part.kind == kind]
        if not held:
            continue
        items.append(word(CASE, top + 12, casewords.PLURAL[kind], bold=True))
        top += 18
        room = COLUMNS * ROWS[kind]
        left_out = len(held) - room + 1 if len(held) > room else 0
        for place, part in enumerate(held[: room - bool(left_out)]):
            items += _part(part, *_spot(place, top))
        if left_out:
            x, y = _spot(room - 1, top)
            items.append(word(x + 28, y + 20, f"and {left_out} more"))
        top += TALL * math.ceil(min(len(held), room) / COLUMNS) + 7
    return items


def _spot(place, top):
    return CASE + ACROSS * (place % COLUMNS), top + TALL * (place // COLUMNS)


def _part(part, x, y):
    first, second = casewords.label(part)
    items = [Bar(x, y, x + ACROSS - 6, y + TALL - 4, style.PAPER, style.RULE, axes="page")]
    items += _ICONS[part.kind](x + 13, y + TALL / 2 - 2)
    items += [word(x + 28, y + 12, first, bold=True), word(x + 28, y + 25, second)]
    return items


def _body(x, y):
    """Draw a block with two pipes at right angles."""
    return [
        Line([x - 10, x], [y + 3, y + 3], style.INK, 3.0, axes="page"),
        Line([x, x], [y, y + 11], style.INK, 3.0, axes="page"),
        Bar(x - 5, y - 8, x + 5, y + 6, style.RULE, style.INK, axes="page"),
    ]


def _cartridge(x, y):
    """Draw a pin over its seat."""
    pin = [x - 4, x + 4, x + 4, x, x - 4], [y - 10, y - 10, y, y + 8, y]
    return [
        Area(*pin, colour=style.INK, opacity=1.0, axes="page"),
        Line([x - 9, x - 3], [y + 4, y + 4], style.INK, 2.6, axes="page"),
        Line([x + 3, x + 9], [y + 4, y + 4], style.INK, 2.6, axes="page"),
    ]


def _element(x, y):
    """Draw a dome, and the bulb on its thin pipe."""
    turn = [math.pi * step / 12 for step in range(13)]
    dome = [x - 3 - 8 * math.cos(a) for a in turn], [y - 1 - 7 * math.sin(a) for a in turn]
    return [
        Area(*dome, colour=style.RULE, opacity=1.0, axes="page"),
        Line(*dome, style.INK, 1.4, closed=True, axes="page"),
        Line([x + 5, x + 9, x + 9], [y - 3, y - 3, y + 7], style.INK, 1.2, axes="page"),
        Bar(x + 1, y + 5, x + 11, y + 9, style.INK, axes="page"),
    ]


_ICONS = {"body": _body, "cartridge": _cartridge, "element": _element}


# ---------------------------------------------------------------- the boxes


def _boxes(filled):
    right = WIDTH - 8
    heading = "Boxes of the route, and their calls a year"
    items = [word(BOXES, UNDER - 8, heading, size=style.TEXT, bold=True)]
    shown = len(filled.stops)
    if shown > MOST_ROWS:
        shown = MOST_ROWS - 1
    for row, stop in enumerate(filled.stops[:shown]):
        y = UNDER + 14 + ROW * row
        covered = filled.case.covered[row]
        fill = style.INK if covered else style.PAPER
        edge = style.PAPER if covered else style.HIGH
        items.append(Markers([BOXES + 6], [y - 4], "circle", 10, fill, edge, axes="page"))
        name = stop.box if len(stop.box) <= 23 else stop.box[:22] + "…"
        items.append(word(BOXES + 18, y, f"{name}, {stop.calls:g}", bold=covered))
        if not covered:
            items.append(word(right, y, filled.lacks(row), "end", colour=style.HIGH))
    if shown < len(filled.stops):
        y = UNDER + 14 + ROW * shown
        items.append(word(BOXES + 18, y, f"and {len(filled.stops) - shown} more"))
    return items
