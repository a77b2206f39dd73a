"""How belief moves between suspects as readings come in: one column a stage, one row a suspect.

Bars say how likely, and carry their number; the row of what was really wrong has a bold name and a
dotted frame. Below stand the minutes so far, and how many equal suspects would be as much doubt.
"""

from __future__ import annotations

from textwrap import wrap

from lowside.diagnosis import doubt, evidence, words
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Text
from lowside.plots.pagework import add_page, word

WIDTH = 700
LEFT, RIGHT, TOP = 190, 688, 104
PITCH, TALL = 50, 30  # [px] row to row; a bar of 100 %
FOOT = 66
SHOWN, MOST_ROWS = 0.10, 7
LEAST_DRAWN, LEAST_SAID = 0.006, 0.045
OTHERS = "all others"
_LETTERS = 25  # of a name on one line

#: A measurement or a look as a column's heading.
SHORT = {
    "suction_pressure": "suction\ngauge",
    "suction_temperature": "suction\nline",
    "head_pressure": "head\ngauge",
    "liquid_temperature": "liquid\nline",
    "discharge_temperature": "discharge\nline",
    "drier_drop": "clamps at\nthe drier",
    "strainer_drop": "clamps at\nstrainer",
    "box_air_drop": "air of\nevaporator",
    "condenser_air_rise": "air of\ncondenser",
    "current": "compressor\namperes",
    "power": "compressor\nwatts",
    "condenser_face": "condenser's\nface",
    "condenser_fan": "condenser\nfan",
    "evaporator_face": "evaporator's\nface",
    "bulb": "bulb",
    "equaliser": "equaliser\nline",
    "warmed": "warm rag\non valve",
    "pumped_down": "pumped\ndown",
    "standing": "standing\npressure",
    "tag": "tag: too\nsmall?",
    "tag_large": "tag: too\nlarge?",
    "bubbles": "sight\nglass",
}


def stages_figure(show, stages, truth):
    """Draw how belief moved while a box was read.

    Parameters
    ----------
    show : Readout
        The reader's units.
    stages : sequence of lesson.l52_cases.Stage
        From nothing read to the end.
    truth : sequence of str
        Faults that were really there.

    Returns
    -------
    LiveFigure
    """
    rows = _rows(stages, truth)
    height = TOP + PITCH * len(rows) + FOOT
    heads = tuple(_heading(stage) for stage in stages)
    background = Background.once(
        _backdrop(rows, heads, truth), WIDTH, height, ("stages", rows, heads, tuple(truth))
    )
    items, minutes = [], 0.0
    for place, stage in enumerate(stages):
        minutes += stage.minutes
        items += _column(show, place, len(stages), stage, rows, minutes)
    last = stages[-1].ranking
    numbers = {
        "probability": [stage.ranking.probability for stage in stages],
        "minutes": minutes,
        "equal": [equal_suspects(stage.ranking) for stage in stages],
    }
    strip = [
        (evidence.get(key).label, show.text(value, evidence.get(key).kind))
        for key, value in last.taken.items()
    ]
    return LiveFigure(background, items, _words(show, stages, truth, minutes), strip, numbers)


def equal_suspects(ranking):
    """How many equally likely suspects would be as much doubt as there is.

    Parameters
    ----------
    ranking : diagnosis.Ranking

    Returns
    -------
    float
        From 1, where all is settled. [-]
    """
    return float(2.0 ** doubt(list(ranking.probability.values())))


def _rows(stages, truth):
    best = {}
    for stage in stages[1:]:
        for key, chance in stage.ranking.probability.items():
            best[key] = max(best.get(key, 0.0), chance)
    kept = sorted((key for key in best if best[key] >= SHOWN), key=lambda key: -best[key])
    kept = list(dict.fromkeys([*truth, *kept]))[:MOST_ROWS]
    order = list(stages[-1].ranking.probability)
    return (*sorted(kept, key=order.index), OTHERS)


def _heading(stage):
    if stage.step is None:
        return stage.did.replace(" ", "\n", 1)
    return SHORT[stage.step.key]


def answered(show, stage):
    """Give what came of a stage's step.

    Parameters
    ----------
    show : Readout
        The reader's units.
    stage : lesson.l52_cases.Stage

    Returns
    -------
    str
        Yes, no, or the reading; empty where the step was several readings.
    """
    if stage.step is None:
        return ""
    key = stage.step.key
    if stage.step.is_look:
        return "yes" if stage.ranking.seen[key] else "no"
    return show.text(stage.ranking.taken[key], evidence.get(key).kind)


def _middle(place, count):
    return LEFT + (place + 0.5) * (RIGHT - LEFT) / count


def _foot(row):
    return TOP + PITCH * (row + 1) - 8


def _backdrop(rows, heads, truth):
    def draw(figure):
        height = TOP + PITCH * len(rows) + FOOT
        page = add_page(figure, (WIDTH, height))
        fixed = [word(12, 22, "how likely is each suspect?", bold=True, size=style.TEXT)]
        for place, head in enumerate(heads):
            middle = _middle(place, len(heads))
            if place:
                fixed.append(word(middle, 44, f"step {place}", "middle", colour=style.MUTED))
            for line, text in enumerate(head.split("\n")):
                fixed.append(word(middle, 60 + 15 * line, text, "middle", bold=True))
        for row, key in enumerate(rows):
            foot, really = _foot(row), key in truth
            page.plot([LEFT, RIGHT], [foot, foot], color=style.RULE, linewidth=style.POINTS)
            label = [OTHERS] if key == OTHERS else _wrapped(words.name(key), really)
            for line, text in enumerate(label):
                height_up = 9 + 15 * (len(label) - 1 - line)
                fixed.append(word(12, foot - height_up, text, bold=really and not line))
            if really:
                fixed.append(
                    Line(
                        [6, RIGHT, RIGHT, 6],
                        [foot + 5, foot + 5, foot - PITCH + 9, foot - PITCH + 9],
                        style.HIGH,
                        1.6,
                        "dotted",
                        closed=True,
                        axes="page",
                    )
                )
        low = _foot(len(rows) - 1)
        fixed += [
            word(12, low + 30, "minutes so far"),
            word(12, low + 54, "doubt, as if of so many"),
            word(12, low + 68, "equal suspects"),
        ]
        return {"page": page}, fixed

    return draw


def _wrapped(text, really):
    lines = wrap(text, _LETTERS)
    return [lines[0], "(really there)"] if really else lines[:2]


def _column(show, place, count, stage, rows, minutes):
    middle, half = _middle(place, count), 0.3 * (RIGHT - LEFT) / count
    answer = answered(show, stage)
    if answer:
        yield word(middle, 94, answer, "middle", colour=style.LOW, bold=True)
    chances = stage.ranking.probability
    rest = 1.0 - sum(chances[key] for key in rows[:-1])
    for row, key in enumerate(rows):
        chance, foot = max(chances.get(key, rest), 0.0), _foot(row)
        if chance < LEAST_DRAWN:
            yield word(middle, foot - 4, "–", "middle", colour=style.MUTED)
            continue
        yield Bar(
            middle - half,
            foot,
            middle + half,
            foot - TALL * chance,
            style.RULE if key == OTHERS else style.LOW,
            style.MUTED,
            axes="page",
        )
        if chance > LEAST_SAID:
            text, spot = words.chance(show, chance), (Spot(0, -4, "middle"),)
            yield Text(middle, foot - TALL * chance, text, spot, style.SMALL, axes="page")
    low = _foot(len(rows) - 1)
    yield word(middle, low + 30, f"{minutes:.0f}", "middle", bold=True)
    yield word(middle, low + 61, f"{equal_suspects(stage.ranking):.1f}", "middle", bold=True)


def _words(show, stages, truth, minutes):
    said = []
    for stage in stages[1:]:
        first = list(stage.ranking.probability.items())[:3]
        led = ", ".join(f"{words.name(key)} {words.chance(show, p)}" for key, p in first)
        answer = answered(show, stage)
        did = f"“{stage.did}” answered {answer}" if answer else stage.did
        said.append(f"After {did}: {led}.")
    inside = " and ".join(words.name(key) for key in truth)
    said.append(f"Really there: {inside}. All this took {minutes:.0f} minutes.")
    return " ".join(said)
