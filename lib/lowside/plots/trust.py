"""Published values beside ours: how far apart in tolerances, one against the other, row by row."""

from __future__ import annotations

from collections import Counter

import numpy as np

from lowside import checks
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Markers, Span, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 760, 640
ROWS = 17
EVERY = "every status"

_SHAPES = {
    checks.READ: ("circle", style.GOOD),
    checks.COMPUTED: ("square", style.LOW),
    checks.MEMORY: ("diamond", style.HIGH),
    checks.PRACTICE: ("triangle", style.OWN),
}
_LEAN = 2.0  # standard errors of the mean, beyond which a lean is called one
_SPREAD = 0.24  # of a row, so that neighbours do not hide each other
_TOP, _BOTTOM, _LEFT, _RIGHT = 84, 584, 210, 640
_TABLE_TOP, _DOWN = 106, 30
_WHAT, _PRINTED, _OURS, _APART, _ROOM, _HOW = 14, 436, 524, 602, 664, 702


def overview_figure(show, status=EVERY, tightened=1.0):
    """Draw every check by topic, as a share of its tolerance.

    Parameters
    ----------
    show : Readout
        The reader's units.
    status : str
        One of ``checks.STATUSES``, or ``EVERY``.
    tightened : float
        What every tolerance is multiplied by. [1]

    Returns
    -------
    LiveFigure
        With words and numbers.
    """
    shown = checks.chosen(status=None if status == EVERY else status)
    topics = checks.topics()
    background = Background.once(
        lambda figure: _draw_overview(figure, topics), WIDTH, HEIGHT, ("trust",)
    )
    items = [
        Span("x", -tightened, tightened, style.HAZE, 1.0),
        Line([0.0, 0.0], [-0.5, len(topics) - 0.5], style.MUTED, 1.2),
    ]
    passing, per_topic = 0, {}
    for row, topic in enumerate(topics):
        mine = [check for check in shown if check.topic == topic]
        good = sum(_within(check, tightened) for check in mine)
        passing += good
        per_topic[topic] = good, len(mine)
        items += _dots(mine, row)
        text = f"{good} of {len(mine)}" if mine else "none"
        items.append(Text(1.0, row, text, (Spot(14, 5),), style.SMALL, bold=good < len(mine)))
    numbers = {"passing": passing, "shown": len(shown), "tightened": tightened, "status": status}
    return LiveFigure(
        background, items, _overview_words(show, numbers, per_topic, shown), (), numbers
    )


def why_overview(start, now, show):
    """Say what a tighter tolerance costs.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    lost = now["shown"] - now["passing"]
    if not lost:
        return "All of them pass. A tolerance that nothing can break says nothing: narrow it."
    return (
        f"{lost} of {now['shown']} would fail at {show.text(now['tightened'], 'ratio')} of their "
        "tolerance. A source that prints three digits cannot ask for four."
    )


def parity_figure(show, topic):
    """Draw ours against the published values of one topic, and what the line hides.

    Parameters
    ----------
    show : Readout
        The reader's units.
    topic : str
        One of ``checks.topics()``.

    Returns
    -------
    LiveFigure
        With words and numbers.

    Raises
    ------
    UnknownName
        If there is no such topic.
    """
    every = checks.chosen(topic)
    (kind, unit), _ = Counter((check.kind, check.unit) for check in every).most_common(1)[0]
    mine = sorted(
        (check for check in every if (check.kind, check.unit) == (kind, unit)),
        key=lambda check: check.published,
    )
    published, ours = (np.array([getattr(c, k) for c in mine]) for k in ("published", "ours"))
    edges = _edges(np.r_[published, ours])
    background = Background.once(
        lambda figure: _draw_parity(figure, show, kind, unit, edges, len(mine)),
        WIDTH,
        460,
        ("parity", show, topic),
    )
    items = [Line(edges, edges, style.MUTED, 1.4, "dashed"), Span("x", -1, 1, axes="apart")]
    items.append(Line([0, 0], [-0.5, len(mine) - 0.5], style.MUTED, 1.2, axes="apart"))
    for row, check in enumerate(mine):
        shape, colour = _SHAPES[check.status]
        items.append(Markers([check.published], [check.ours], shape, 11.0, colour))
        used = [np.clip(check.used, -1.15, 1.15)]
        items.append(Markers(used, [row], shape, 11.0, colour, axes="apart"))
    used = np.array([check.used for check in mine])
    numbers = {
        "topic": topic,
        "drawn": len(mine),
        "all": len(every),
        "mean_used": float(used.mean()),
        "spread": float(used.std(ddof=1) / np.sqrt(len(used))) if len(used) > 1 else np.inf,
        "most_used": float(np.abs(used).max()),
        "copied": topic in checks.copied(),
    }
    return LiveFigure(background, items, _parity_words(show, numbers, mine), (), numbers)


def why_parity(start, now, show):
    """Say what the right-hand picture adds.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    if now["copied"]:
        return (
            "These numbers were taken over from the source. That they agree shows only that they "
            "were copied right."
        )
    if now["drawn"] < 3:
        return "Too few points to tell chance from a lean."
    if abs(now["mean_used"]) > _LEAN * now["spread"]:
        side = "high" if now["mean_used"] > 0 else "low"
        return (
            f"The dots lean to one side: ours is a little {side} as a rule. Their mean lies more "
            "than twice as far from the line as chance would put it."
        )
    return "No clear lean: the mean of the dots is no farther from the line than chance puts it."


def table_figure(show, topic, down=0.0):
    """Write the checks of one topic row by row.

    Parameters
    ----------
    show : Readout
        The reader's units.
    topic : str
        One of ``checks.topics()``.
    down : float
        How far down a list that is longer than the page. [1]

    Returns
    -------
    LiveFigure
        With words and numbers.

    Raises
    ------
    UnknownName
        If there is no such topic.
    """
    every = checks.chosen(topic)
    first = round(down * max(0, len(every) - ROWS))
    rows = every[first : first + ROWS]
    background = Background.once(_draw_table, WIDTH, HEIGHT, ("checks",))
    items = [word(14, 26, topic, size=style.LARGE, bold=True)]
    items.append(word(WIDTH - 14, 26, _where(first, rows, every), "end"))
    for place, check in enumerate(rows):
        items += _row(check, _TABLE_TOP + _DOWN * place, show)
    sources = dict.fromkeys(f"{check.source} ({check.status})" for check in rows)
    remarks = [("source", source) for source in sources]
    if topic in checks.copied():
        remarks.append(("mind", "taken over from the source: agreement shows only right copying"))
    numbers = {"topic": topic, "first": first, "rows": len(rows), "all": len(every)}
    return LiveFigure(background, items, _table_words(show, topic, rows), (), numbers, remarks)


def _within(check, tightened):
    return check.passes and abs(check.used) <= tightened


def _dots(mine, row):
    items = []
    for status, (shape, colour) in _SHAPES.items():
        used = [check.used for check in mine if check.status == status]
        if used:
            spread = row + _SPREAD * (np.arange(len(used)) % 3 - 1)
            items.append(Markers(np.clip(used, -1.0, 1.0), spread, shape, 8.0, colour))
    return items


def _legend(y):
    items, x = [], 14
    for status, (shape, colour) in _SHAPES.items():
        items.append(Markers([x + 6], [y - 4], shape, 10.0, colour, axes="page"))
        items.append(word(x + 17, y, status))
        x += 40 + 7.3 * len(status)
    return items


def _draw_overview(figure, topics):
    page = add_page(figure, SIZE)
    axes = add_axes(figure, SIZE, _LEFT, _TOP, _RIGHT, _BOTTOM)
    axes.set_xlim(-1.05, 1.05)
    axes.set_ylim(len(topics) - 0.5, -0.5)
    axes.set_yticks(range(len(topics)), topics)
    axes.set_xticks([-1, -0.5, 0, 0.5, 1], ["−1", "−½", "0", "½", "1"])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("ours less published, in tolerances", loc="left")
    axes.patch.set_visible(False)
    items = [
        word(14, 26, "every published value beside ours", size=style.LARGE, bold=True),
        *_legend(52),
        word(_LEFT, 76, "ours is lower"),
        word(_RIGHT, 76, "ours is higher", "end"),
        word(_RIGHT + 8, 76, "in the band", bold=True),
    ]
    return {"main": axes, "page": page}, items


def _edges(values):
    low, high = values.min(), values.max()
    room = 0.06 * (high - low) or 0.1 * abs(high) or 1.0
    return np.array([low - room, high + room])


def _draw_parity(figure, show, kind, unit, edges, count):
    size = WIDTH, 460
    page = add_page(figure, size)
    main = add_axes(figure, size, 84, 84, 404, 404)
    apart = add_axes(figure, size, 470, 84, 730, 404)
    places, labels = user_ticks(show, kind, *edges, 4)
    for axis in (main.xaxis, main.yaxis):
        axis.set_ticks(places, labels)
    main.set_xlim(*edges)
    main.set_ylim(*edges)
    main.grid(True, linewidth=0.8 * style.POINTS)
    said = f"[{unit}]" if unit else show.axis("", kind).strip()
    main.set_xlabel(f"published {said}", loc="left")
    main.set_ylabel(f"ours {said}")
    apart.set_xlim(-1.2, 1.2)
    apart.set_ylim(count - 0.5, -0.5)
    apart.set_yticks([])
    apart.set_xticks([-1, 0, 1], ["−1", "0", "1"])
    apart.set_xlabel("difference, in tolerances", loc="left")
    items = [
        word(84, 26, "one against the other", size=style.LARGE, bold=True),
        word(470, 26, "the same points, magnified", size=style.LARGE, bold=True),
        *_legend(56),
    ]
    return {"main": main, "apart": apart, "page": page}, items


def _draw_table(figure):
    page = add_page(figure, SIZE)
    y, items = _TABLE_TOP - 26, [*_legend(52)]
    for x, text, anchor in (
        (_WHAT, "what", "start"),
        (_PRINTED, "published", "end"),
        (_OURS, "ours", "end"),
        (_APART, "apart", "end"),
        (_ROOM, "room", "end"),
        (_HOW, "ok", "middle"),
    ):
        items.append(word(x, y, text, anchor, bold=True))
    items.append(Bar(14, y + 7, WIDTH - 14, y + 8, style.RULE, axes="page"))
    return {"page": page}, items


def _row(check, y, show):
    shape, colour = _SHAPES[check.status]
    name = check.name(show)
    cut = name if len(name) <= 44 else f"{name[:43]}…"

    def bare(text):
        return text.split(" ")[0]

    published, ours = (check.text(v, show) for v in (check.published, check.ours))
    return [
        word(_WHAT, y, cut),
        word(_PRINTED, y, published, "end"),
        word(_OURS, y, bare(ours), "end", bold=True),
        word(_APART, y, bare(check.apart(show)), "end"),
        word(_ROOM, y, check.room(show).removesuffix(" °F").removesuffix(" K"), "end"),
        word(_HOW, y, "✓" if check.passes else "✗ off", "middle", bold=True),
        Markers([_HOW + 34], [y - 4], shape, 10.0, colour, axes="page"),
    ]


def _where(first, rows, every):
    return f"{first + 1} to {first + len(rows)} of {len(every)}"


def _overview_words(show, numbers, per_topic, shown):
    said = ", ".join(
        f"{topic} {good} of {count}" for topic, (good, count) in per_topic.items() if count
    )
    which = "" if numbers["status"] == EVERY else f" whose source is “{numbers['status']}”"
    return (
        f"{numbers['shown']} published values{which}. At "
        f"{show.text(numbers['tightened'], 'ratio')} of their tolerance {numbers['passing']} lie "
        f"within it. {_nearest(shown, show)} By topic: {said}."
    )


def _parity_words(show, numbers, mine):
    n = numbers
    rest = n["all"] - n["drawn"]
    other = f" {rest} more have another unit and are not drawn." if rest else ""
    return (
        f"{n['topic'].capitalize()}: {n['drawn']} values, ours against published. On the left all "
        f"lie on the line for the eye. On the right the farthest takes up "
        f"{show.text(n['most_used'], 'ratio')} of its tolerance; the mean, with its sign, is "
        f"{show.text(n['mean_used'], 'ratio')}. {_nearest(mine, show)}{other}"
    )


def _nearest(some, show):
    """Word the check that comes nearest to its limit."""
    check = max(some, key=lambda each: abs(each.used))
    return (
        f"Nearest to its limit: {check.name(show)}, published {check.text(check.published, show)}, "
        f"ours {check.text(check.ours, show)}."
    )


def _table_words(show, topic, rows):
    said = "; ".join(
        f"{check.name(show)}: published {check.text(check.published, show)} (printed "
        f"{check.printed}), ours {check.text(check.ours, show)}, apart {check.apart(show)}, "
        f"room {check.room(show)}, {'passes' if check.passes else 'does not pass'}, {check.status}"
        for check in rows
    )
    return f"{topic.capitalize()}. {said}."
