"""Lesson 90: every check on the page, its pictures, its questions."""

import re

import numpy as np
import pytest
from lowside import checks, lesson, readout, units
from lowside.errors import UnknownName
from lowside.lesson import l90_numbers
from lowside.plots import trust
from lowside.plots.marks import Markers
from lowside.screens import open_lesson
from lowside.screens.lessons import l90 as shown

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
METRIC = READERS[1]
LESSON = lesson.get("90")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_topic = pytest.mark.parametrize("topic", checks.topics())
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown|None)\b")


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_predictions_come_true_as_counted():
    every = checks.everything()
    tenth = sum(abs(check.difference) <= 0.1 * check.allowed for check in every)
    assert l90_numbers.within(0.1) == tenth
    assert {p.key: p.outcome() for p in LESSON.predictions} == {
        "tenth": "some",
        "outside": "some",
    }


@every_reader
@pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(12):
        dealt = task.deal("90", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.tells_apart() or dealt.without_twins().slips


@every_reader
def test_overview_shows_every_check_once(show):
    figure = trust.overview_figure(show)
    drawn = [item for item in figure.items if isinstance(item, Markers)]
    assert sum(len(item.x) for item in drawn) == len(checks.everything())
    assert figure.numbers["passing"] == figure.numbers["shown"] == len(checks.everything())
    assert not NOT_A_NUMBER.search(figure.words)


def test_a_narrower_band_passes_fewer():
    shares = [trust.overview_figure(METRIC, tightened=t).numbers["passing"] for t in (1, 0.5, 0.1)]
    assert shares[0] > shares[1] > shares[2]
    now = trust.overview_figure(METRIC, tightened=0.1).numbers
    assert str(now["shown"] - now["passing"]) in trust.why_overview(now, now, METRIC)


@pytest.mark.parametrize("status", checks.STATUSES)
def test_filter_shows_one_kind_of_source(status):
    figure = trust.overview_figure(METRIC, status)
    assert figure.numbers["shown"] == len(checks.chosen(status=status))
    assert status in figure.words


@every_reader
@every_topic
def test_every_topic_has_a_parity_plot_and_rows(topic, show):
    parity = trust.parity_figure(show, topic)
    assert 0.0 <= parity.numbers["most_used"] <= 1.0
    assert trust.why_parity(parity.numbers, parity.numbers, show)
    table = trust.table_figure(show, topic)
    for figure in (parity, table):
        assert "nan" not in figure.overlay()
        assert not NOT_A_NUMBER.search(figure.words)
    for check in checks.chosen(topic)[: trust.ROWS]:
        assert check.printed in table.words
        assert check.source in table.words


@every_topic
def test_sliding_down_reaches_the_last_row(topic):
    every = checks.chosen(topic)
    last = trust.table_figure(METRIC, topic, 1.0)
    assert last.numbers["first"] + last.numbers["rows"] == len(every)
    assert every[-1].printed in last.words


def test_a_lean_is_called_one():
    ratio = trust.parity_figure(METRIC, "flow through a valve").numbers
    leaning = {**ratio, "copied": False, "mean_used": 0.6, "spread": 0.1, "drawn": 8}
    assert "high" in trust.why_parity(leaning, leaning, METRIC)
    even = {**leaning, "mean_used": 0.0}
    assert "No clear lean" in trust.why_parity(even, even, METRIC)


def test_parity_dots_stand_at_published_and_ours():
    topic = "boiling points of blends"
    figure = trust.parity_figure(METRIC, topic)
    dots = [i for i in figure.items if isinstance(i, Markers) and i.axes == "main"]
    assert len(dots) == len(checks.chosen(topic))
    for check in checks.chosen(topic):
        assert any(
            np.isclose(dot.x[0], check.published) and np.isclose(dot.y[0], check.ours)
            for dot in dots
        )


def test_unknown_topic_is_refused():
    with pytest.raises(UnknownName):
        trust.table_figure(METRIC, "weather")


@every_reader
def test_notes_say_what_is_open_and_where_sources_disagree(show):
    assert set(l90_numbers.OURS) == {dispute["key"] for dispute in checks.disputes()}
    said = LESSON.say(LESSON.notes["disputes"], show)
    assert len(said.split("\n\n")) == len(checks.disputes())
    never = LESSON.say(LESSON.notes["never"], show)
    assert all(row["what"] in never for row in checks.never())


def test_where_propane_begins_to_burn_is_one_of_the_printed_shares():
    """2.1 % (NFPA 497, read in `chemicals`); IEC 60079-20-1 prints 1.7 % (from memory)."""
    assert l90_numbers.OURS["burning"]() == pytest.approx(0.021, rel=0.02)
    (burning,) = (d for d in checks.disputes() if d["key"] == "burning")
    assert l90_numbers.OURS["burning"]() > min(burning["values"])  # as the page says


def test_the_printed_melting_points_of_the_disputed_filler():
    """1335 °F: AWS A5.8-1981 in Machinery's Handbook 31 (read); 1325: later prints (memory)."""
    (filler,) = (d for d in checks.disputes() if d["key"] == "filler")
    assert [units.from_si(v, "degF") for v in filler["values"]] == pytest.approx([1335, 1325])


def test_the_page_has_its_panels():
    page = open_lesson("90")
    for name in shown.PANELS:
        assert page.explore(name).figure is not None
