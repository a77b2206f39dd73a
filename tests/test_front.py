"""The front page, and what every page shares: links, the learner's number, how to wake it up."""

import re

import example_lesson
import ipywidgets as widgets
import pytest
from lowside import lesson
from lowside.screens.front import PRACTICE, front_page
from lowside.screens.links import NOTEBOOKS, linked
from lowside.screens.page import Page
from lowside.screens.reader import OwnNumber, Units

EXAMPLE = next(v for v in vars(example_lesson).values() if isinstance(v, lesson.Lesson))


@pytest.fixture
def page():
    return Page(EXAMPLE, Units("us"), lesson.Progress(7))


def descendants(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from descendants(child)


# How typed readings are read ----------------------------------------------------------------------


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("68 psig", "a gauge pressure"),
        ("12 inHg", "a gauge pressure"),
        ("-4F", "a temperature"),
        ("3,5 °C", "a temperature"),
        ("1 1/2 oz", "a charge"),
        ("1/2 ton", "a load"),
        ("3/8 in", "a length"),
        ("500 micron", "a vacuum"),
    ],
)
def test_a_unit_says_what_it_is(units, text, what):
    practice = front_page(units).practice()
    assert practice.kind.value == "a gauge pressure"
    practice.entry.value = text
    assert practice.plain.startswith(f"“{text}” is read as {what} of ")


def test_without_a_unit_the_choice_decides_and_where_a_unit_fits_both():
    practice = front_page("us").practice()
    practice.entry.value = "12"
    assert "a gauge pressure of 12.0 psig" in practice.plain
    practice.kind.value = "a charge"
    assert "a charge of 12.0 oz" in practice.plain
    practice.kind.value = "a temperature difference"
    practice.entry.value = "-4F"
    assert "a temperature difference of -4.0 °F" in practice.plain


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("what", PRACTICE)
@pytest.mark.parametrize("text", ["1e99", "-1e99", "1e99 psig", "", "abc", "5 parsec"])
def test_what_cannot_be_is_answered_shortly(units, what, text):
    practice = front_page(units).practice()
    practice.kind.value = what
    practice.entry.value = text
    assert 'role="alert"' in practice._answer.html
    assert len(practice.plain) < 160
    assert practice.plain.endswith(".")


def test_every_example_on_the_page_is_read():
    notebook = next(NOTEBOOKS.glob("00-*")).read_text(encoding="utf-8")
    source = notebook[notebook.index("## Type it as you read it") :]
    examples = re.findall(r"`([^`]+)`", source[: source.index("page.practice()")])
    assert len(examples) >= 5
    practice = front_page("us").practice()
    for example in examples:
        practice.entry.value = example
        assert "is read as" in practice.plain, example


# Links --------------------------------------------------------------------------------------------


def test_a_lesson_that_is_there_is_linked_and_one_to_come_says_so():
    rich, plain = linked("10")
    assert plain == f"10 · {lesson.get('10').title}"
    file = re.search(r'href="([^"]+)"', rich).group(1)
    assert (NOTEBOOKS / file).exists()
    assert linked("99") == ("lesson 99 (to come)",) * 2


def test_every_lesson_leads_on_and_back():
    for number in lesson.numbers():
        page = Page(lesson.get(number), Units("us"), lesson.Progress(1))
        sources, start = page.sources(), page.start()
        after = sources.plain.split("\n")[-1]
        assert after.startswith(("Next: ", "This is the last lesson"))
        assert 'href="00-start-here.ipynb"' in sources.html
        for before in page.lesson.before:
            assert linked(before)[0] in start.html
            assert linked(before)[1] in start.plain
        for file in re.findall(r'href="([^"]+)"', sources.html + start.html):
            assert (NOTEBOOKS / file).exists()


# A page that stands still -------------------------------------------------------------------------


def test_a_page_without_a_kernel_says_how_to_wake_it(page):
    start = page.start()
    still = start._repr_mimebundle_()["text/html"]
    assert still.index("▶▶") < still.index(EXAMPLE.goals[0])
    assert "▶▶" not in start.html, "live, the line has gone"
    assert "▶▶" not in page.call()._repr_mimebundle_()["text/html"], "once is enough"


# The learner's number -----------------------------------------------------------------------------


def number_box(page):
    texts = [w for w in descendants(page.start().box) if isinstance(w, widgets.Text)]
    return next(w for w in texts if w.description.startswith("Your number"))


def test_another_number_deals_other_questions(page):
    question = page.task(1)
    before = question._words.plain
    entry = number_box(page)
    entry.value = "8"
    assert question._words.plain != before
    entry.value = " 07 "
    assert entry.value == "7"
    assert question._words.plain == before


@pytest.mark.parametrize("text", ["", "  ", "abc", "1.5", "-3", "1e9", "1234567890", "<b>"])
def test_a_number_that_cannot_be_used_is_answered_and_the_last_one_stays(text):
    dealt = []
    number = OwnNumber(7, dealt.append)
    number.entry.value = text
    assert number.entry.value == "7"
    assert 'role="alert"' in number.problem.value
    assert "stay with number 7" in number.problem.value
    assert "<b>" not in number.problem.value
    assert not dealt
    number.entry.value = "8"
    assert dealt == ["8"]
    assert number.problem.value == ""
