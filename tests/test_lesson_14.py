"""Lesson 14: a room's heat against arithmetic, its streams to scale, the humidity of its coil."""

import math
import re
from itertools import pairwise

import numpy as np
import pytest
from lowside import lesson, load, readout, units
from lowside.errors import OutOfRange
from lowside.lesson import hall, l14, l14_room
from lowside.plots import heatin, moist, streams
from lowside.plots.marks import Area, Bar, Line
from lowside.screens import open_lesson
from lowside.screens.lessons import l14 as shown
from lowside.screens.reader import Units

US, METRIC = readout.choose("us"), readout.choose("metric")
LESSON = lesson.get("14")
NOT_A_NUMBER = re.compile(r"\b(nan|inf)\b|\bNone\b")

every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda t: t.key)
every_reader = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])


def drawn(show=US, **changed):
    return shown.room_figure(show, **{**shown.as_found(), **changed})


def moistened(show=US, **changed):
    values = {"temperature": 277.15, "difference": 6.0, "refrigerant": "R449A", **changed}
    return moist.moist_figure(show, **values)


# ---------------------------------------------------------------- the lesson


def test_lesson_is_complete():
    assert lesson.gaps(LESSON) == []


def test_what_the_predictions_say_is_computed():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"largest": "shell", "newcomer": "just", "measure": "curtain"}
    saved = l14.savings()
    assert saved["curtain"] > saved["walls"] > saved["fans"]
    assert saved["cool"] > saved["curtain"], "the text says so"


def test_the_verdict_holds():
    """Either measure brings the newcomer's room back under the machine."""
    brought = l14_room.BROUGHT + l14_room.NEWCOMER
    wants, would = l14.needed()
    assert wants < l14_room.machine() < would
    for measure in ({"protection": l14.CURTAIN}, {"entering": l14.PRECOOLED}):
        room = l14_room.room(brought=brought, **measure)
        assert load.required_capacity(room) < l14_room.machine()


def test_the_call_by_hand():
    """Goods and walls from the numbers in the call: 3.93 kJ/(kg K), 0.036 W/(m K), arithmetic."""
    gains = load.heat_gains(l14_room.today())
    assert gains.goods == pytest.approx(1800.0 * 3930.0 * 18.0 / 86400.0)
    resistance = 0.08 / 0.036 + 2.0 / 9.37
    inner = 2.0 * (9.0 + 7.0) * 2.8 + 63.0
    assert gains.walls == pytest.approx(inner * 22.0 / resistance, rel=0.03)
    assert l14_room.today().temperature == hall.box(l14_room.BOX).box_temperature


def test_card_says_what_may_not_be_missing():
    text = LESSON.card.text(US)
    for must in ("Lock out", "open from inside", "10 %", "16.0 h", "18.0 h", "humidity"):
        assert must in text


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("14", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic_in_the_readers_own_units():
    """As a learner does it with a calculator: ft2 and °F give Btu/h, kg and K give kJ."""
    v = LESSON.task("wall").deal("14", 3, US).values
    area, resistance = US.value(v["area"], "floor"), US.value(v["resistance"], "insulation")
    difference = US.value(v["outside"], "temperature") - US.value(v["inside"], "temperature")
    assert US.value(v["answer"], "heat_flow") == pytest.approx(area * difference / resistance)
    v = LESSON.task("delivery").deal("14", 3, METRIC).values
    kilojoules = v["mass"] * v["specific_heat"] / 1e3 * (v["entering"] - v["kept"])
    assert METRIC.value(v["answer"], "heat") == pytest.approx(kilojoules / 3600.0)
    v = LESSON.task("capacity").deal("14", 3, US).values
    by_hand = US.value(v["day_heat"], "heat") * (1 + v["margin"]) / (v["run_time"] / 3600.0)
    assert US.value(v["answer"], "heat_flow") == pytest.approx(by_hand)
    v = LESSON.task("coil").deal("14", 3, US).values
    assert v["answer"] == pytest.approx(v["kept"] - v["difference"])


def test_freezing_as_a_textbook_adds_it_up():
    """Earle, Unit Operations (read): meat from 10 °C through -2 to -18 °C, 3.23e5 J/kg."""
    solve = LESSON.task("freeze").solve
    beef = load.food("beef")
    values = l14_tasks_values(beef, 283.15, 255.15)
    assert solve(values)["answer"] == pytest.approx(3.23e5, rel=0.01)
    assert solve(values)["answer"] == pytest.approx(beef.heat_to_cool(283.15, 255.15))


def l14_tasks_values(food, entering, kept):
    names = {
        "specific_heat": food.above,
        "below_heat": food.below,
        "latent": food.latent,
        "freezing": food.freezing,
        "entering": entering,
        "kept": kept,
    }
    return type("Drawn", (), names)


# ---------------------------------------------------------------- the heat


@every_reader
def test_heat_is_drawn_and_said(show):
    figure = drawn(show)
    assert not NOT_A_NUMBER.search(figure.words + figure.overlay())
    n = figure.numbers
    assert show.text(n["needed"], "capacity") in figure.words
    assert show.text(n["per_day"], "heat") in figure.words
    for _, heat, _ in streams.streams(n["gains"]):
        assert show.text(heat, "heat_flow") in figure.words
    assert figure.png().startswith(b"\x89PNG")


def bands(figure):
    """The streams that are wide enough to have an outline."""
    areas = [i for i in figure.items if isinstance(i, Area) and i.axes == "page"]
    return [area for area in areas if area.colour != streams.style.INK]


def test_streams_are_as_wide_as_their_heat():
    """Width of each band where it begins, against its watts; and all of them in the trunk."""
    figure = drawn()
    found = streams.streams(figure.numbers["gains"])
    scale = streams.watts_to_the_pixel(figure.numbers["total"])
    heats = [stream.heat for stream in found if stream.heat / scale >= 1.5]
    widths = [
        np.hypot(band.x[-1] - band.x[0], band.low[-1] - band.low[0]) for band in bands(figure)
    ]
    assert np.array(widths) * scale == pytest.approx(np.array(heats))
    total = sum(stream.heat for stream in found)
    assert total == pytest.approx(figure.numbers["total"])


def test_streams_join_without_gap_or_overlap():
    """At the coil each band begins where the one above it ends."""
    ends = []
    for band in bands(drawn()):
        half = len(band.x) // 2
        ends.append(sorted((band.low[half - 1], band.low[half])))
    gaps = [below[0] - above[1] for above, below in pairwise(ends)]
    thin = 1.5  # [px] what is thinner has no outline and leaves its place free
    assert all(-1e-9 < gap < 3.0 * thin for gap in gaps)


def test_streams_begin_where_they_come_from():
    for band in bands(drawn()):
        start = float(band.x[0])
        if band.colour == streams.style.HIGH:
            assert start > streams._LEFT
        else:
            assert start < streams._LEFT or band.low[0] > streams.BOTTOM


def test_insulation_is_drawn_as_thick_as_it_is():
    thin, thick = (
        next(i for i in drawn(thickness=t).items if isinstance(i, Bar)) for t in (0.05, 0.2)
    )
    assert (thick.x1 - thick.x0) / (thin.x1 - thin.x0) == pytest.approx(4.0)


def test_layers_of_the_day_hold_the_days_heat():
    figure = drawn()
    layers = [i for i in figure.items if isinstance(i, Area) and i.axes == "day"]
    held = sum(np.trapezoid(layer.high - layer.low, layer.x) for layer in layers) * 3600.0
    assert held == pytest.approx(figure.numbers["per_day"], rel=1e-9)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "is what it was"),
        ({"brought": 3300.0}, "nothing is left for a worse one"),
        ({"brought": 4200.0}, "longer than the 16.0 h"),
        ({"protection": 0.9}, "the open door"),
        ({"thickness": 0.16}, "walls and ceiling"),
        ({"temperature": 253.15, "entering": 268.15, "food": "fish"}, "never catches up"),
    ],
)
def test_what_the_machine_makes_of_it(changed, words):
    said = heatin.why(drawn().numbers, drawn(**changed).numbers, METRIC)
    assert words in said, said


def test_a_room_that_never_catches_up_shows_no_number_for_it():
    figure = drawn(temperature=253.15, entering=268.15, food="fish")
    assert dict(figure.readings)["Goods warmer by"] == "more every day"
    assert not any(isinstance(i, Line) and i.axes == "warm" for i in figure.items)


def test_goods_colder_than_the_room_are_answered():
    panel = shown.explore(Units("us"))
    panel.set(entering=270.0)
    assert panel.role == "alert"
    assert "°F" in panel.words
    panel.reset()
    assert panel.role == "status"
    with pytest.raises(OutOfRange, match="goods as they come"):
        l14_room.room(entering=270.0)
    with pytest.raises(OutOfRange, match="air outside"):
        l14_room.room(outside=270.0)


# ---------------------------------------------------------------- the coil


@every_reader
def test_humidity_is_drawn_and_said(show):
    figure = moistened(show)
    assert not NOT_A_NUMBER.search(figure.words + figure.overlay())
    n = figure.numbers
    assert n["floor"] < n["humidity"]
    assert show.text(n["evaporating"], "temperature") in figure.words
    assert figure.png().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "leaves about 85 %"),
        ({"difference": 10.0}, "compressor must pull lower"),
        ({"difference": 4.0}, "1.5 times as large"),
    ],
)
def test_what_another_difference_does(changed, words):
    said = moist.why(moistened().numbers, moistened(**changed).numbers, METRIC)
    assert words in said, said


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("name", list(shown.PANELS))
@pytest.mark.parametrize("system", ["us", "metric"])
def test_panels_answer_in_words(name, system):
    panel = shown.PANELS[name](Units(system))
    assert panel.role == "status"
    for control in panel.controls.values():
        values = (control.low, control.high) if hasattr(control, "low") else ()
        for value in values:
            panel.set(**{control.name: value})
            assert not NOT_A_NUMBER.search(panel.words + panel.figure.overlay())
        panel.reset()
        assert panel.role == "status", panel.words
    view = next(iter(panel.views.values()))
    view.entry.value = "plenty"
    assert panel.role == "alert"
    assert "plenty" in panel.words


def test_every_example_button_works():
    for make in shown.PANELS.values():
        panel = make(Units("us"))
        for button in panel.box.children[2].children[0].children[1].children[1:]:
            button.click()
            assert panel.role == "status", panel.words
    assert shown._FREEZER["temperature"] < units.ICE_POINT


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("14", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\blb\b|Btu", page.call().plain)
