"""What a tag is worth on a route: every box a row, every way to answer a call a mark."""

from __future__ import annotations

from lowside.identify.decision import MINUTE
from lowside.identify.route import ALWAYS_OPEN, NO_TAG, TAG, WAYS
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Line, Markers
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

WIDTH = 740
LEFT, RIGHT = 196, 540
FIRST, PITCH = 96, 34  # [px]
COLUMNS = 640, 732  # [px] right ends
MARKS = {
    ALWAYS_OPEN: ("square", style.MUTED),
    NO_TAG: ("circle", style.LOW),
    TAG: ("diamond", style.GOOD),
}
_ENDS = tuple(MINUTE * n for n in (120, 240, 360, 600, 1200, 2400, 4800, 9600))  # [s] of axis


def route_figure(show, worths, habits):
    """Draw what calls take on every box of a route, and what a tag saves in a year.

    Parameters
    ----------
    show : Readout
        The reader's units.
    worths : dict of str to Worth
        By the name of the box.
    habits : Habits
        How things stand on the route.

    Returns
    -------
    LiveFigure
    """
    most = max(worth.taken[way].worth for worth in worths.values() for way in WAYS)
    end = next((step for step in _ENDS if step >= most), most)
    names = tuple(worths)
    size = WIDTH, FIRST + PITCH * (len(names) + 1) + 74
    background = Background.once(_backdrop(show, names, end, size), *size, ("tags", names, end))
    items = []
    for row, worth in enumerate(worths.values()):
        y = FIRST + PITCH * row
        places = [_across(worth.taken[way].worth, end) for way in WAYS]
        items.append(Line([min(places), max(places)], [y, y], style.RULE, 2.0, axes="page"))
        for way, x in zip(WAYS, places, strict=True):
            shape, colour = MARKS[way]
            items.append(Markers([x], [y], shape, 13, colour, axes="page"))
        items.append(word(COLUMNS[0], y + 5, _signed(show, a_call(worth)), "end"))
        saved = worth.saved(habits)
        items.append(word(COLUMNS[1], y + 5, _signed(show, saved), "end", bold=True))
    total = sum(worth.saved(habits) for worth in worths.values())
    read = sum(
        habits.calls * (worth.taken[ALWAYS_OPEN].worth - worth.taken[NO_TAG].worth)
        for worth in worths.values()
    )
    y = FIRST + PITCH * len(names)
    items.append(word(COLUMNS[1], y + 5, _signed(show, total), "end", bold=True))
    best = max(worths, key=lambda name: worths[name].saved(habits))
    handled = [
        sum(habits.calls * worth.taken[way].refrigerant for worth in worths.values())
        for way in (ALWAYS_OPEN, TAG)
    ]
    opening, tagged = (show.text(mass, "mass") for mass in handled)
    words = (
        f"{len(names)} boxes, {show.text(habits.calls, 'number')} calls a year on each. Reading "
        f"first instead of opening at once saves {show.text(read, 'minutes')} a year, all counted "
        f"as work. Tags save {_signed(show, total)} on top, "
        f"{show.text(habits.tagging_time, 'minutes')} for the writing taken off at each call; most "
        f"on the {best}, {_signed(show, worths[best].saved(habits))}. Refrigerant handled in a "
        f"year: {opening} if every valve in doubt is opened, {tagged} with readings and tags."
    )
    numbers = {"total": total, "read": read, "best": best, "worths": worths}
    return LiveFigure(background, items, words, (), numbers)


def why(start, now, show):
    """Say where a tag pays.

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
    worths, best = now["worths"], now["best"]
    paying = sum(a_call(worth) > 0.02 * worth.taken[NO_TAG].worth for worth in worths.values())
    return (
        f"A tag pays where it changes what you do: here on {paying} of {len(worths)} boxes, most "
        f"on the {best}, where one wrong opening handles most refrigerant or risks most food. Most "
        "of the gain comes from reading before opening."
    )


def a_call(worth):
    """Time that a tag saves on a call, the writing not counted [s]."""
    return worth.taken[NO_TAG].worth - worth.taken[TAG].worth


def _signed(show, time):
    return show.text(time, "minutes") if time > -30.0 else f"−{show.text(-time, 'minutes')}"


def _across(time, end):
    return LEFT + (RIGHT - LEFT) * time / end


def _backdrop(show, names, end, size):
    def draw(figure):
        bottom = FIRST + PITCH * (len(names) - 0.4)
        chart = add_axes(figure, size, LEFT, FIRST - 22, RIGHT, bottom)
        chart.set_xlim(0.0, end)
        chart.set_yticks([])
        chart.spines["left"].set_visible(False)
        places, labels = user_ticks(show, "number", 0.0, end / MINUTE, 6)
        chart.set_xticks([place * MINUTE for place in places], labels)
        chart.grid(axis="x")
        page = add_page(figure, size)
        fixed = [
            word(12, 24, "a call on each box, answered in three ways", bold=True, size=style.TEXT),
            word(COLUMNS[1], 24, "a tag saves", "end", bold=True),
            word(COLUMNS[0], 46, "a call", "end"),
            word(COLUMNS[1], 46, "a year", "end"),
            word(RIGHT, bottom + 40, "expected, all in minutes of work", "end"),
            word(COLUMNS[0], FIRST + PITCH * len(names) + 5, "all", "end"),
        ]
        for row, name in enumerate(names):
            fixed.append(word(12, FIRST + PITCH * row + 5, name))
        x, y = 12, size[1] - 14
        for way, (shape, colour) in MARKS.items():
            fixed.append(Markers([x + 7], [y - 5], shape, 13, colour, axes="page"))
            fixed.append(word(x + 20, y, way))
            x += 52 + 7.6 * len(way)
        return {"chart": chart, "page": page}, fixed

    return draw
