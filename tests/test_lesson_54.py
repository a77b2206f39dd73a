"""Lesson 54: a service call; its texts, its tasks, its page, and how a call is kept."""

import base64
import math
import re

import ipywidgets as widgets
import pytest
from lowside import cases, lesson, readout
from lowside.lesson import l54_numbers, l54_tasks, l54_words
from lowside.screens import open_lesson
from lowside.screens.lessons import l54 as shown
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("54")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown|None)\b")


def page(units="us"):
    return shown.explore(Units(units))


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_cautions_stand_first_and_where_the_hand_acts():
    assert any("proven dead" in caution for caution in LESSON.cautions)
    card = LESSON.card.html(US)
    assert card.index("Cautions") < card.index("Steps")
    form = page()
    form.kind.value = "mend"
    form.act.value = "clean_condenser"
    assert "locked out" in form._caution.value


def test_predictions_come_true_as_the_numbers_say():
    good, bad = l54_numbers.sensible(), l54_numbers.guessed()
    assert good.won
    assert not bad.won
    assert 1.75 < bad.seconds / good.seconds < 2.25
    assert {p.key: p.outcome() for p in LESSON.predictions} == {"guess": "double", "food": "lost"}


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(12):
        dealt = task.deal("54", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_answers_by_hand():
    v = LESSON.task("clock").deal("54", 2, US).values
    assert v["answer"] == pytest.approx(4 * 3600 - v["begun"] - v["spent"] - v["repair"])
    v = LESSON.task("hose").deal("54", 2, METRIC).values
    # Liquid propane weighs 470 to 510 kg/m3 at these pressures (from memory, any handbook).
    density = v["answer"] / (math.pi / 4 * v["bore"] ** 2 * v["length"])
    assert 430 < density < 510
    v = LESSON.task("look").deal("54", 2, US).values
    straight = v["opening"]
    clamps = v["look"] + v["chance"] * v["opening"]
    assert v["answer"] == pytest.approx(straight - clamps)
    assert l54_tasks.LIMIT == cases.LIMIT


@every_reader
def test_texts_have_their_numbers(show):
    for text in (LESSON.call, *LESSON.notes.values()):
        assert not NOT_A_NUMBER.search(LESSON.say(text, show))


@every_reader
def test_the_pictures_say_what_they_draw(show):
    for draw in (shown.picture, shown.guessed):
        figure = draw(show)
        assert figure.png().startswith(b"\x89PNG")
        assert f"{figure.numbers['minutes']:.0f} min" in figure.words
        assert not NOT_A_NUMBER.search(figure.words + figure.overlay())


# The page ------------------------------------------------------------------------------------


def gone(form):
    """Go the sensible way on the page."""
    for entry in cases.shortest(form.call.case, (form.call.place,)).entries:
        form.do(entry.act.key, entry.value)
    return form


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_call_is_won_on_the_page(units):
    form = gone(page(units))
    assert form.call.won
    assert "Won" in form._headline.value
    assert "It was:" in form.words
    assert form.button.disabled
    assert not NOT_A_NUMBER.search(form.words)
    assert units == "us" or "°F" not in form.words


def test_a_call_is_lost_by_an_unsafe_act():
    form = page()
    form.do("pull_strainer")
    assert form.call.stopped
    assert "Stopped" in form._headline.value
    assert "Recover first" in form._headline.value


def test_what_makes_no_sense_is_told_and_nothing_is_lost():
    form = page()
    before = cases.written(form.call)
    form.do("evacuate")
    assert 'role="alert"' in form._told.value
    form.kind.value = "refrigerant"
    form.act.value = "charge"
    form.number.value = "plenty"
    form.button.click()
    assert "plenty" in form._told.value
    assert cases.written(form.call) == before


def test_the_button_does_what_is_chosen():
    form = page()
    form.kind.value = "and else"
    form.act.value = "wait"
    form.button.click()
    assert [entry.act.key for entry in form.call.entries] == ["wait"]


def test_units_change_the_words_and_not_the_call():
    units = Units("us")
    form = shown.explore(units)
    form.do("liquid_temperature")
    before, in_us = cases.written(form.call), form.words
    units.choose("metric")
    assert "°F" not in form.words
    units.choose("us")
    assert form.words == in_us
    assert cases.written(form.call) == before


def saved(form):
    pattern = r'download="([^"]+)" href="data:[^;]+;base64,([^"]+)"'
    return {
        name: base64.b64decode(data).decode()
        for name, data in re.findall(pattern, form._save.value)
    }


def test_a_saved_call_opens_again_and_a_damaged_one_changes_nothing():
    form = page()
    form.do("liquid_temperature")
    data = saved(form)["call.json"]
    other = page()
    other.seed.value = "99"
    other.begin()
    other.open_file(data.encode())
    assert other.words == form.words
    for bad in (b"", b"{", data.replace("liquid", "gas").encode(), b"\xff"):
        other.open_file(bad)
        assert 'role="alert"' in other._told.value
        assert cases.written(other.call) == data


def test_the_debrief_stands_alone():
    whole = saved(gone(page()))["debrief.html"]
    assert "<script" not in whole
    assert "src=" not in whole.replace("data:", "")
    assert "Debrief" in whole


@pytest.mark.parametrize("level", list(cases.LEVELS))
@every_reader
def test_every_debrief_is_in_words(level, show):
    case = cases.deal(5, level, l54_numbers.places())
    best = cases.shortest(case, l54_numbers.places())
    lines = l54_words.debrief(best, show)
    assert lines[0].startswith("Won")
    assert not NOT_A_NUMBER.search(" ".join(lines + l54_words.log(best, show)))


def test_buttons_and_lists_are_all_labelled():
    seen = [page().box]
    while seen:
        widget = seen.pop()
        seen += list(getattr(widget, "children", ()))
        if isinstance(widget, widgets.Text | widgets.Button | widgets.Dropdown):
            assert widget.description or widget.layout.display == "none"


def test_the_page_opens_in_the_readers_units():
    opened = open_lesson("54", units="metric", seed=3)
    assert not re.search(r"°F|psig|\boz\b", opened.call().plain)
    assert opened.explore().words == page("metric").words
