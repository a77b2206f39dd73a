"""Trust it, strainer, or valve: what each plan is expected to take, without a tag and with one."""

from __future__ import annotations

from lowside.identify.decision import MINUTE, PLANS, best
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Bar
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 740, 430
LEFT, RIGHT = 236, 520
FIRST, PITCH, GAP, TALL = 86, 40, 38, 22  # [px] first bar, bar to bar, between blocks, a bar
COLUMNS = {"time": 588, "refrigerant": 662, "food": 732}  # [px] right ends
_STEPS = tuple(MINUTE * n for n in (60, 120, 240, 480, 960, 1920, 3840))  # [s] ends of the axis
_LOOKS = (
    ("work", style.LOW, None),
    ("refrigerant handled", style.RULE, style.INK),
    ("food lost", style.PAPER, style.HIGH),
)


def plans_figure(show, ways, costs, title):
    """Draw what each plan is expected to take.

    Parameters
    ----------
    show : Readout
        The reader's units.
    ways : dict of str to dict of str to Outcome
        By what is known ("no tag"), by plan, from `decision.expect`.
    costs : Costs
        What the work takes.
    title : str
        What is decided.

    Returns
    -------
    LiveFigure
    """
    most = max(outcome.worth for plans in ways.values() for outcome in plans.values())
    end = next((step for step in _STEPS if step >= most), most)
    names = tuple(ways)
    background = Background.once(
        _backdrop(show, names, end, title), *SIZE, ("plans", show, names, end, title)
    )
    items, said, chosen = [], [], {}
    for block, (way, plans) in enumerate(ways.items()):
        chosen[way] = best(plans)
        for row, plan in enumerate(PLANS):
            items += _bar(show, plans[plan], costs, _top(block, row), end, plan == chosen[way])
        taken = plans[chosen[way]]
        said.append(
            f"{way[0].upper()}{way[1:]}: least is expected of “{PLANS[chosen[way]]}”, "
            f"{_time(show, taken.time)} of work, "
            f"{show.text(taken.refrigerant, 'mass')} of refrigerant handled, "
            f"{show.text(taken.food, 'goods')} of food lost; all of it worth "
            f"{_time(show, taken.worth)} of work."
        )
    return LiveFigure(
        background, items, " ".join(said), (), {"ways": ways, "chosen": chosen, "costs": costs}
    )


def why(start, now, show):
    """Say what the tag changes.

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
    (without, plans), *others = now["ways"].items()
    if not others:
        return f"Least is expected of “{PLANS[now['chosen'][without]]}”."
    tagged, other = others[0]
    before, after = now["chosen"][without], now["chosen"][tagged]
    saved = plans[before].worth - other[after].worth
    if before == after:
        return (
            f"With and without the tag the same plan comes first: {PLANS[before]}. The tag changes "
            f"the expectation by {_time(show, abs(saved))}, and nothing that you do."
        )
    word = "saves" if saved > 0 else "costs"
    return (
        f"Without the tag: {PLANS[before]}. With it: {PLANS[after]}. On this call the tag {word} "
        f"{_time(show, abs(saved))} of work or its worth."
    )


def _time(show, time):
    return show.text(time, "minutes")


def _top(block, row):
    return FIRST + block * (GAP + PITCH * len(PLANS)) + PITCH * row


def _across(time, end):
    return LEFT + (RIGHT - LEFT) * time / end


def _backdrop(show, names, end, title):
    def draw(figure):
        bottom = _top(len(names) - 1, len(PLANS) - 1) + TALL + 8
        chart = add_axes(figure, SIZE, LEFT, FIRST - 26, RIGHT, bottom)
        chart.set_xlim(0.0, end)
        chart.set_yticks([])
        chart.spines["left"].set_visible(False)
        places, labels = user_ticks(show, "number", 0.0, end / MINUTE, 5)
        chart.set_xticks([place * MINUTE for place in places], labels)
        chart.grid(axis="x")
        page = add_page(figure, SIZE)
        fixed = [word(12, 24, title, bold=True, size=style.TEXT)]
        for name, x in COLUMNS.items():
            head = {"time": "work", "refrigerant": "handled", "food": "food lost"}[name]
            fixed.append(word(x, FIRST - 32, head, "end"))
        for block, name in enumerate(names):
            fixed.append(word(12, _top(block, 0) - 10, name, bold=True))
            for row, words in enumerate(PLANS.values()):
                fixed.append(word(24, _top(block, row) + 16, words))
        fixed.append(word(RIGHT, bottom + 42, "expected, in minutes of work", "end"))
        x = 12
        for name, colour, edge in _LOOKS:
            fixed.append(Bar(x, bottom + 52, x + 16, bottom + 68, colour, edge, axes="page"))
            fixed.append(word(x + 24, bottom + 65, name))
            x += 48 + 8.2 * len(name)
        return {"chart": chart, "page": page}, fixed

    return draw


def _bar(show, outcome, costs, top, end, least):
    parts = (
        outcome.time,
        costs.refrigerant_worth * outcome.refrigerant,
        costs.food_worth * outcome.food,
    )
    start = 0.0
    for part, (_, colour, edge) in zip(parts, _LOOKS, strict=True):
        if part > 0.0:
            left, right = _across(start, end), _across(start + part, end)
            yield Bar(left, top, right, top + TALL, colour, edge, axes="page")
        start += part
    colour = style.GOOD if least else style.INK
    for name, text in (
        ("time", _time(show, outcome.time)),
        ("refrigerant", show.text(outcome.refrigerant, "mass")),
        ("food", show.text(outcome.food, "goods")),
    ):
        yield word(COLUMNS[name], top + 16, text, "end", style.SMALL, colour, bold=least)
    if least:
        yield word(14, top + 16, "▶", "middle", style.SMALL, style.GOOD, bold=True)
