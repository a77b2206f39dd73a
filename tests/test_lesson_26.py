"""Lesson 26: a valve without a tag, two suspects, three plans, and the tag that prints."""

import math
import re

import ipywidgets as widgets
import pytest
from lowside import lesson, readout
from lowside.identify import decision, looks, route
from lowside.lesson import hall, l26_numbers
from lowside.plots import belief, plans, suspectmap, tagworth
from lowside.screens import open_lesson
from lowside.screens.lessons import l26 as shown
from lowside.screens.panel import Panel
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("26")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")
PANELS = [name for name in shown.PANELS if name != "tag"]


def believed(show=METRIC, **changed):
    return shown._belief(show, **{**shown.as_called(), **changed})


def suspected(show=METRIC, **changed):
    return shown._suspects(show, **{**shown.as_on_friday(), **changed})


def planned(show=METRIC, **changed):
    return shown._plans(show, **{**shown.as_weighed(), **changed})


def on_route(show=METRIC, **changed):
    return shown._route(show, **{**shown.as_on_the_route(), **changed})


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


@every_reader
def test_every_text_can_be_worded(show):
    texts = [LESSON.call, *LESSON.goals, *LESSON.cautions, *LESSON.try_this, *LESSON.leaves_out]
    texts += [text for _, text in LESSON.readings]
    texts += LESSON.notes.values()
    for prediction in LESSON.predictions:
        texts += [prediction.question, prediction.because, *prediction.options.values()]
    for text in texts:
        said = LESSON.say(text, show)
        assert "{" not in said
        assert not NOT_A_NUMBER.search(said)
        if show is METRIC:
            assert not re.search(r"°F|psig|\blb\b|\boz\b", said)


def test_a_word_that_nobody_knows_is_no_quantity():
    with pytest.raises(KeyError, match="grue"):
        LESSON.say("{grue}", US)


def test_cautions_stand_first_and_where_the_hand_acts():
    page = open_lesson("26")
    start = page.start().plain
    assert start.index("Caution") < start.index("floods the compressor")
    assert "a minute or two" in page.explore().lead
    card = LESSON.card.html(US)
    assert card.index("Cautions") < card.index("Steps")
    assert "Propane" in card
    for test in ("bulb", "head", "pull-down"):
        assert looks.TESTS[test].caution


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"test": "bulb", "clamps": "nothing", "tagged": "strainer"}


def test_the_story_holds():
    """First day: the box holds and hides its port; Friday: short, and the tag turns the plan."""
    box = hall.box(l26_numbers.BOX)
    first = l26_numbers.read("running")
    assert not first.wide_open
    clear = l26_numbers.read("running", mild=False)
    friday = l26_numbers.read("running", hole=l26_numbers.PLUGGED, mild=False)
    assert clear.capacity > box.design_load
    assert friday.capacity < decision.HOLDS * box.design_load
    assert friday.wide_open
    assert float(friday.strainer_drop) > l26_numbers.hidden_drop()
    assert friday.readings[-1] < 2.0
    untagged = l26_numbers.suspicion()
    assert untagged.port.best < l26_numbers.INSIDE
    tagged = l26_numbers.suspicion(l26_numbers.INSIDE)
    assert tagged.port.best == l26_numbers.INSIDE
    assert tagged.clear < 0.2
    numbers = planned().numbers
    without, with_tag = numbers["chosen"].values()
    assert (without, with_tag) == (decision.OPEN, decision.STRAINER)


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("26", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    tag = LESSON.task("tag").deal("26", 4, METRIC)
    r, times = tag.values["reliability"], float(tag.values["times"])
    assert tag.answer == pytest.approx(r / (r + (1.0 - r) / 6.0 * times))
    first = LESSON.task("first").deal("26", 4, METRIC)
    v = first.values
    chance = first.answer
    assert v["strainer"] + chance * v["opening"] == pytest.approx(v["opening"])
    year = LESSON.task("route").deal("26", 4, METRIC)
    v = year.values
    by_hand = float(v["boxes"]) * float(v["calls"]) * (v["saved"] - v["writing"])
    assert year.answer == pytest.approx(by_hand)


# ---------------------------------------------------------------- figures


@every_reader
@pytest.mark.parametrize("draw", [believed, suspected, planned, on_route])
def test_pictures_say_what_they_show(show, draw):
    drawn = draw(show)
    assert len(drawn.words) > 80
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")
    if show is METRIC:
        assert not re.search(r"°F|psi|\blb\b|\boz\b", drawn.words + str(drawn.readings))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "In a pull-down the load drives it to its stop"),
        ({"port": 0.4e-3}, "Even as it runs the pin stands at its stop"),
        ({"port": 0.8e-3}, "Only a bulb in a warm hand"),
        ({"port": 0.8e-3, "tag": 0.4e-3, "reliability": 0.9}, "alone refute it"),
        ({"hole": 0.5e-3}, "smaller port"),
    ],
)
def test_why_a_valve_tells_or_hides(changed, words):
    drawn = believed(**changed)
    assert words in belief.why(believed().numbers, drawn.numbers, METRIC)


def test_a_plugged_strainer_is_taken_for_a_smaller_port():
    beliefs = believed(hole=0.5e-3).numbers["beliefs"]
    assert beliefs["bulb"].best < l26_numbers.INSIDE
    assert believed().numbers["beliefs"]["bulb"].best == l26_numbers.INSIDE


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "a thermometer feels nothing"),
        ({"subcooling": 2.0}, "That much can be felt"),
        ({"port": 0.8e-3, "hole": 1.25e-3}, "The pin still has travel left"),
        ({"port": 0.5e-3, "hole": math.inf}, "no reading moves along it"),
        ({"port": 0.5e-3, "hole": math.inf, "clear": 0.95}, "the port it is"),
    ],
)
def test_why_the_suspects_can_or_cannot_be_told_apart(changed, words):
    drawn = suspected(**changed)
    assert words in suspectmap.why(suspected().numbers, drawn.numbers, METRIC)


def test_plans_answer_to_the_work_they_take():
    assert "pull the strainer first" in plans.why({}, planned().numbers, METRIC)
    dear = planned(strainer_time=240 * 60.0)
    assert set(dear.numbers["chosen"].values()) == {decision.OPEN}
    assert "nothing that you do" in plans.why({}, dear.numbers, METRIC)
    clear = planned(clear=0.95, reliability=0.5).numbers["ways"]["no tag"]
    plugged = planned(clear=0.05, reliability=0.5).numbers["ways"]["no tag"]
    assert plugged[decision.STRAINER].worth < clear[decision.STRAINER].worth


def test_more_calls_are_worth_more_and_no_calls_nothing():
    few, many = (on_route(calls=calls).numbers for calls in (0.5, 3.0))
    assert many["total"] == pytest.approx(6.0 * few["total"])
    assert on_route(calls=0.0).numbers["total"] == 0.0
    assert "reading before opening" in tagworth.why(few, many, METRIC)
    assert few["read"] > 10.0 * few["total"]
    assert route.Habits().tagging_time == 180.0


# ---------------------------------------------------------------- panels


@pytest.mark.parametrize("name", PANELS)
@pytest.mark.parametrize("system", ["us", "metric"])
def test_panels_answer_in_words(name, system):
    panel = shown.PANELS[name](Units(system))
    assert isinstance(panel, Panel)
    assert panel.role == "status"
    for control in panel.controls.values():
        for value in (getattr(control, "low", None), getattr(control, "high", None)):
            if value is not None:
                panel.set(**{control.name: value})
                assert panel.role == "status", panel.words
                assert not NOT_A_NUMBER.search(panel.words + panel.figure.overlay())
    first = next(view for view in panel.views.values() if hasattr(view, "slider"))
    first.entry.value = "plenty"
    assert panel.role == "alert"
    assert "plenty" in panel.words
    panel.reset()
    assert panel.role == "status"


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("26", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\blb\b", page.call().plain)


def descendants(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from descendants(child)


def test_the_tag_maker_follows_what_is_typed_and_chosen():
    units = Units("us")
    maker = shown.tag(units)
    assert maker.role == "status"
    assert "7.2 °F" in maker.words
    units.choose("metric")
    assert "4.0 K" in maker.words
    maker.initials.value = "<b>68</b>"
    assert maker.role == "alert"
    assert "<b>" not in maker._alert.value
    maker.initials.value = "<b>"
    assert maker.role == "status"
    assert "<b>" not in maker.html.replace("<br>", "").replace("<body>", "")
    maker.date.value = "tomorrow"
    assert "such as 2026-11-25" in maker.words
    assert maker._save.value == ""
    maker.date.value = "2026-11-25"
    assert 'download="valve-tags.html"' in maker._save.value
    entry = next(
        w
        for w in descendants(maker.box)
        if isinstance(w, widgets.Text) and w.description.startswith("Static superheat")
    )
    entry.value = "plenty"
    assert maker.role == "alert"
    entry.value = "5 K"
    assert "5.0 K" in maker.words
    data = maker._repr_mimebundle_()
    assert "<svg" in data["text/html"]
    assert "Initials: <b>" in data["text/plain"]
