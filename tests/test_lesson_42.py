"""Lesson 42: charging by weight, limits by edition, a leak in a room; its questions and panels."""

import math
import re

import numpy as np
import pytest
from lowside import flammability, lesson, readout
from lowside.errors import OutOfRange, UnknownName
from lowside.flammability import Room
from lowside.lesson import hall, l42, l42_tasks
from lowside.plots import leaking, limits, weighing
from lowside.screens import open_lesson
from lowside.screens.lessons import l42 as shown
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("42")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")


def charged(show=METRIC, **changed):
    return weighing.weighing_figure(show, **{**shown.as_charged(), **changed})


def leaked(show=METRIC, **changed):
    return leaking.leak_figure(show, **{**shown.as_leaked(), **changed})


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_cautions_stand_first_and_where_the_hand_acts():
    assert set(flammability.CAUTIONS) <= set(LESSON.cautions)
    page = open_lesson("42")
    start = page.start().plain
    assert start.index("Caution") < start.index("no flame, no switch")
    assert "never above the nameplate" in page.explore().lead
    card = LESSON.card.html(US)
    assert card.index("Cautions") < card.index("Steps")


def test_the_call_is_short_by_the_hose():
    """27.1 mL of liquid at 492 kg/m3, 13.4 g of 145: arithmetic with a density from memory."""
    done = l42.weighed()
    assert hall.box(l42.BOX).charge - done.total == pytest.approx(27.14e-6 * 492.0, rel=0.01)
    assert done.band()[1] < hall.box(l42.BOX).charge


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"short": "tenth", "safe": "floor", "slow": "third"}


def test_the_passage_against_arithmetic():
    """145 g in 20 m3 are 7.25 g/m3, 0.191 of 38 g/m3; in a tenth of the height ten times that."""
    numbers = leaked(hole=3e-3, air_changes=0.0).numbers
    assert numbers["mixed"] == pytest.approx(0.145 / 20.0 / 0.038, rel=1e-9)
    assert numbers["floor"] == pytest.approx(10.0 * numbers["mixed"], rel=1e-9)
    # Two published limits, 1.7 % and 2.1 % by volume; 38 g/m3 is 2.1 % rounded.
    assert numbers["lower"] == pytest.approx(1.7 / 2.1, rel=0.01)


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("42", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    share = LESSON.task("share").deal("42", 4, METRIC)
    v = share.values
    assert share.answer == pytest.approx(v["charge"] / (v["floor"] * v["height"]) / 0.038)
    minutes = LESSON.task("minutes").deal("42", 4, METRIC)
    v = minutes.values
    assert minutes.answer == pytest.approx(math.log(v["peak"] / 0.25) / v["air_changes"])
    weigh = LESSON.task("weigh").deal("42", 4, METRIC)
    v = weigh.values
    assert weigh.answer == pytest.approx(v["nameplate"] + v["hose_mass"] - v["left"])
    hose = LESSON.task("hose").deal("42", 4, METRIC)
    v = hose.values
    by_hand = 0.25 * math.pi * v["bore"] ** 2 * v["length"] * v["density"]
    assert hose.answer == pytest.approx(by_hand)


# ---------------------------------------------------------------- charging by weight


@every_reader
def test_picture_words_and_strip_say_the_same(show):
    drawn = charged(show)
    for place, text in drawn.readings:
        assert place
        if place != "Known to within":
            assert text in drawn.words, place
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "never reached the box"),
        ({"before": "liquid"}, "Nothing is lost on the way"),
        ({"before": "liquid", "after": "vapour"}, "never saw leave"),
        ({"after": "empty", "left": 0.010}, "on top of"),
        ({"after": "unknown", "step": 0.0005, "scale_error": 0.0}, "hose content"),
        ({"scale_drop": 0.0}, "nothing reached the box"),
    ],
)
def test_what_became_of_the_grams(changed, words):
    drawn = charged(**changed)
    assert words in weighing.why(charged().numbers, drawn.numbers, METRIC)


def test_hose_full_before_and_after_cancels_and_care_hits_the_nameplate():
    assert charged(before="liquid").numbers["miss"] == pytest.approx(0.0, abs=1e-12)
    careful = charged(after="vapour", step=0.001, scale_error=0.001).numbers
    assert abs(careful["miss"]) < 0.001
    assert careful["low"] < careful["nameplate"] < careful["high"]
    start = charged().numbers
    assert careful["high"] - careful["low"] < 0.5 * (start["high"] - start["low"])


def test_moving_the_hose_leaves_the_background_alone():
    here = charged()
    for changed in ({"hose_length": 1.0}, {"after": "vapour"}, {"step": 0.001}):
        there = charged(**changed)
        assert there.background is here.background
        assert there.words != here.words


def test_a_charge_off_the_closer_look_is_pointed_at():
    assert "◀" in charged(scale_drop=0.05).overlay()
    assert "▶" in charged(scale_drop=0.45, nameplate=0.08).overlay()


# ---------------------------------------------------------------- limits


@every_reader
@pytest.mark.parametrize("refrigerant", ["R290", "R600a"])
def test_limits_are_those_of_the_table_and_the_rule_is_on_top(show, refrigerant):
    drawn = limits.limits_figure(show, refrigerant, 0.145)
    assert drawn.words.startswith(flammability.rule())
    assert "It permits nothing" in " ".join(
        getattr(item, "text", "") for item in drawn.background._fixed
    )
    assert drawn.numbers["limits"] == sorted(drawn.numbers["limits"])
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


def test_limits_carry_the_printed_grams_in_both_systems():
    """150, 300 and 500 g as printed (sources beside each row of data/charge_limits.toml)."""
    for show in (US, METRIC):
        words = limits.limits_figure(show).words
        for grams in ("150 g", "300 g", "500 g", "152 g", "988 g", "4.94 kg"):
            assert grams in words
        assert "2.1 % of the air" in words
        assert "1.7 % of the air" in words


def test_no_limits_for_what_does_not_burn():
    with pytest.raises(UnknownName, match="R290"):
        limits.limits_figure(US, "R404A")


# ---------------------------------------------------------------- a leak


@every_reader
def test_leak_is_drawn_and_said(show):
    drawn = leaked(show)
    for place, text in drawn.readings:
        assert not NOT_A_NUMBER.search(f"{place} {text}")
    assert "illustration" in drawn.words
    assert "not the worst case" in drawn.words
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


def test_between_the_two_published_limits_the_room_counts_as_burning():
    near = leaked(floor_area=2.0, height=2.05)
    assert near.numbers["lower"] < near.numbers["mixed"] < 1.0
    assert "can burn" in leaking.why(leaked().numbers, near.numbers, METRIC)


def test_curves_are_those_of_the_room():
    drawn = leaked()
    curve = next(item for item in drawn.items if getattr(item, "dash", "") == "solid")
    n = drawn.numbers
    room = Room(n["floor_area"], n["height"], n["air_changes"])
    expected = flammability.concentration(room, n["charge"], n["fast"], curve.x) / n["lfl"]
    seen = expected > leaking.LOWEST
    assert np.allclose(np.asarray(curve.y)[seen], expected[seen])


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "as a layer on the floor it can"),
        ({"floor_area": 2.0, "height": 2.0}, "even the evenly mixed room can burn"),
        ({"hole": 1e-4, "where": "vapour", "air_changes": 6 / 3600}, "fresh air carries gas out"),
        ({"floor_area": 60.0, "height": 4.0}, "thinner than the one drawn"),
    ],
)
def test_what_rules_the_air(changed, words):
    assert words in leaking.why(leaked().numbers, leaked(**changed).numbers, METRIC)


def test_directions_of_a_leak():
    start = leaked().numbers
    assert leaked(charge=0.07).numbers["mixed"] < start["mixed"]
    assert leaked(floor_area=16.0).numbers["mixed"] < start["mixed"]
    assert leaked(air_changes=10 / 3600).numbers["floor_limit"] < start["floor_limit"]
    assert leaked(layer=0.5).numbers["floor"] < start["floor"]
    assert start["fast"] < start["slow"]
    closed = leaked(air_changes=0.0)
    assert dict(closed.readings)["Layer above LFL"] == "until aired"
    assert "until somebody airs the room" in closed.words


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("name", list(shown.PANELS))
@pytest.mark.parametrize("system", ["us", "metric"])
def test_panels_answer_in_words(name, system):
    panel = shown.PANELS[name](Units(system))
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


def test_a_negative_charge_is_refused_in_one_sentence():
    panel = shown.room(Units("metric"))
    panel.views["charge"].entry.value = "-20 g"
    assert panel.role == "alert"
    assert ". " not in panel.words
    with pytest.raises(OutOfRange, match="Charge that leaks"):
        panel.set(charge=-0.02)


def test_every_example_button_works():
    for make in shown.PANELS.values():
        panel = make(Units("us"))
        for button in panel.box.children[2].children[0].children[1].children[1:]:
            button.click()
            assert panel.role == "status", panel.words


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("42", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\boz\b", page.call().plain)
    assert l42_tasks.lfl() == pytest.approx(0.038)
