"""Lesson 30: heat on its way to the valve, the choice of a filler; its questions and panels."""

import math
import re

import numpy as np
import pytest
from lowside import joint, lesson, readout, refrigerants, units
from lowside.lesson import hall
from lowside.lesson import l30_numbers as numbers
from lowside.plots import brazed, heating, rods
from lowside.plots.marks import Bar, Line, Span
from lowside.screens import open_lesson
from lowside.screens.lessons import l30 as shown
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("30")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")


def heated(show=METRIC, wrap="nothing", **changed):
    values = {**shown.as_called(wrap), **changed}
    return heating.heating_figure(show, ambient=numbers.SHOP, boiling=numbers.boiling(), **values)


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


@every_reader
def test_every_text_is_worded(show):
    for text in (
        LESSON.call,
        *LESSON.notes.values(),
        *LESSON.leaves_out,
        *LESSON.try_this,
        *(text for p in LESSON.predictions for text in (p.question, p.because)),
    ):
        said = LESSON.say(text, show)
        assert "{" not in said
        assert not NOT_A_NUMBER.search(said)
    card = LESSON.card.text(show)
    assert "{" not in card


def test_readings_of_the_call_are_those_of_the_solved_box():
    box, now = hall.box(numbers.BOX), numbers.readings()
    fluid = refrigerants.get(box.refrigerant)
    dew = fluid.dew_temperature(now.suction_pressure)
    assert dew == pytest.approx(box.evaporating_temperature, abs=0.5)
    assert numbers.superheat() == pytest.approx(now.suction_temperature - dew)
    page = open_lesson("30", units="metric")
    assert METRIC.text(now.head_pressure, "gauge_pressure") in page.call().plain


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"hottest": "later", "flame": "cooler", "rod": "silver"}


def test_the_call_makes_its_point():
    bare, wet = numbers.heated(wrap="nothing"), numbers.heated()
    assert wet.peak < numbers.limit() < bare.peak
    assert bare.longest_stay < numbers.STAY < wet.longest_stay
    assert numbers.heated(numbers.OLD_FILLER, "nothing").peak > bare.peak


def test_card_says_what_may_not_be_missing():
    card = LESSON.card.text(US).lower()
    for word in (
        "do not braze",
        "recover",
        "purge",
        "oxygen-free nitrogen",
        "never oxygen or air",
        "nameplate",
        "extinguisher",
        "meter",
        "never forced",
        "hex flat",
        "flux",
        "vacuum holds",
        "common practice, no published source",
        "from memory",
    ):
        assert word in card, word


# ---------------------------------------------------------------- the tasks


@every_task
@every_reader
def test_every_answer_is_right_and_every_slip_is_known(task, show):
    for seed in range(1, 15):
        dealt = task.deal("30", seed, show)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    v = LESSON.task("along").deal("30", 3, METRIC).values
    by_hand = 379.0 * v["section"] * (v["hot"] - v["cold"]) / v["length"]
    assert v["answer"] == pytest.approx(by_hand)
    v = LESSON.task("lumped").deal("30", 3, METRIC).values
    assert v["answer"] == pytest.approx(v["mass"] * 380.0 * (393.15 - v["start"]) / v["heat"])
    v = LESSON.task("water").deal("30", 3, METRIC).values
    lasts = joint.water_lasts(v["water"], v["heat"], v["start"], v["boils"])
    assert v["answer"] == pytest.approx(lasts)


def test_the_filler_task_knows_the_standard():
    """652 °C for 56 % silver, 724 °C for the coolest phosphorus filler (AWS A5.8-1981)."""
    solve = LESSON.task("filler").solve
    for one, other, celsius in (
        ("copper", "stainless steel", 651.7),
        ("copper", "brass", 651.7),
        ("copper", "copper", 723.9),
    ):
        drawn = type("Drawn", (), {"one": one, "other": other, "margin": 0.0})
        answer = solve(drawn)["answer"]
        assert answer - units.ICE_POINT == pytest.approx(celsius, abs=0.1)


# ---------------------------------------------------------------- heat along the pipe


@every_reader
@pytest.mark.parametrize("wrap", ["nothing", "wet rag", "heat paste"])
def test_heat_is_drawn_and_said(show, wrap):
    drawn = heated(show, wrap)
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    n = drawn.numbers
    assert show.text(n["peak"], "temperature", 0) in drawn.words
    assert show.text(n["liquidus"], "temperature", 0) in drawn.words
    assert drawn.png().startswith(b"\x89PNG")


def test_the_band_is_the_fillers_melting_range():
    bands = [item for item in heated().items if isinstance(item, Span)]
    filler = joint.filler(numbers.FILLER)
    assert {(band.low, band.high) for band in bands} == {(filler.solidus, filler.liquidus)}
    assert {band.axes for band in bands} == {"pipe", "joint"}


def test_the_curve_of_the_body_is_what_the_joint_room_says():
    drawn = heated()
    lines = [item for item in drawn.items if isinstance(item, Line) and item.axes == "body"]
    curve = max(lines, key=lambda line: line.width)
    room = numbers.heated(wrap="nothing")
    assert np.allclose(curve.y, room.body[: len(curve.y)])
    assert drawn.numbers["peak"] == room.peak


def test_parts_are_drawn_to_the_scale_of_the_chart():
    drawn = heated(stub_length=0.050)
    scale = (heating.PIPE[2] - heating.PIPE[0]) / (brazed.RIGHT - brazed.LEFT)
    bars = [item for item in drawn.items if isinstance(item, Bar)]
    stub, deep = bars[1], joint.overlap(joint.tube(numbers.DIAMETER))
    assert stub.x1 - stub.x0 == pytest.approx((0.050 + deep) * scale)
    assert stub.y1 - stub.y0 == pytest.approx(0.375 * 0.0254 * scale)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "after the torch has left"),
        ({"wrap": "wet rag"}, "cooler than at the start"),
        ({"stay": 40.0}, "hotter than at the start"),
        ({"wrap": "wet rag", "flame": 250.0}, "never flows"),
    ],
)
def test_what_decides(changed, words):
    assert words in heating.why(heated().numbers, heated(**changed).numbers, METRIC)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "Too hot"),
        ({"filler": "BCuP-5"}, "Never: BCuP-5 between stainless steel and copper: phosphorus"),
        ({"filler": "BAg-1"}, "cadmium"),
        ({"flame": 250.0, "wrap": "wet rag"}, "given up"),
        ({"stub": "stainless steel"}, "over 2 min"),
        ({"stub_length": 0.010, "filler": "BCuP-3"}, "not at all"),
    ],
)
def test_what_is_said(changed, words):
    assert words in heated(**changed).words


def test_copper_on_copper_needs_no_flux():
    words = heated(line="copper", filler="BCuP-4", flame=900.0, wrap="wet rag").words
    assert "flux" not in words
    assert "Never" not in words


# ---------------------------------------------------------------- fillers


@every_reader
def test_fillers_are_drawn_and_said(show):
    for one in joint.metals():
        for other in joint.metals():
            drawn = rods.rods_figure(show, one, other)
            assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    words = rods.rods_figure(show, "copper", "stainless steel").words
    assert show.text(joint.filler("BAg-7").liquidus, "temperature", 0) in words


def test_bars_go_from_solidus_to_liquidus():
    drawn = rods.rods_figure(METRIC, "copper", "copper")
    bars = [item for item in drawn.items if isinstance(item, Bar) and item.axes == "melting"]
    ranges = {(f.solidus, f.liquidus) for f in joint.fillers().values()}
    assert {(bar.x0, bar.x1) for bar in bars} == ranges


def test_aluminium_is_sent_elsewhere():
    assert "mechanical connection" in rods.rods_figure(US, "aluminium", "copper").words


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("name", list(shown.PANELS))
@pytest.mark.parametrize("system", ["us", "metric"])
def test_panels_answer_in_words(name, system):
    panel = shown.PANELS[name](Units(system))
    assert panel.role == "status"
    for control in panel.controls.values():
        ends = (
            [value for _, value in control.pairs]
            if hasattr(control, "pairs")
            else (control.low, control.high)
        )
        for value in ends:
            panel.set(**{control.name: value})
            assert panel.role == "status", panel.words
            assert not NOT_A_NUMBER.search(panel.words + panel.figure.overlay())
        panel.reset()


def test_a_silly_entry_is_answered():
    panel = shown.explore(Units("us"))
    panel.views["stay"].entry.value = "plenty"
    assert panel.role == "alert"
    assert "plenty" in panel.views["stay"].problem.value
    panel.reset()
    assert panel.role == "status"


def test_every_example_button_works():
    for make in shown.PANELS.values():
        panel = make(Units("us"))
        for button in panel.box.children[2].children[0].children[1].children[1:]:
            button.click()
            assert panel.role == "status", panel.words


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("30", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\boz\b|\bin\b\.", page.call().plain)
