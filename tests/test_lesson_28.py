"""Lesson 28: the call's swing, what comes true, tasks, the recorder, the edge, and the panel."""

import math
import re
from dataclasses import asdict, replace

import numpy as np
import pytest
from lowside import hunting, lesson, readout
from lowside.hunting import Bulb, at_rest, swing
from lowside.lesson import hall, l28_numbers, plant
from lowside.plots import bulbplace
from lowside.plots.huntingwords import CALM, why
from lowside.plots.marks import Line
from lowside.screens import open_lesson
from lowside.screens.lessons import l28 as shown
from lowside.screens.reader import Units

LESSON = lesson.get("28")
US, METRIC = readout.choose("us"), readout.choose("metric")
VALVES = [box.key for box in hall.boxes() if isinstance(box.metering, hall.ExpansionValve)]
WIDE, BULB = 62e-3, 13e-3  # [m] across the cut, and a bulb
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=[task.key for task in LESSON.tasks])


def figure(show=US, **changed):
    return shown.recorder_figure(show, **{**asdict(l28_numbers.found()), **changed})


def test_lesson_lacks_nothing():
    assert lesson.gaps(LESSON) == []


@both_units
def test_every_text_can_be_said(show):
    texts = [LESSON.call, *LESSON.notes.values(), *LESSON.try_this, *LESSON.leaves_out]
    texts += [text for _, text in LESSON.readings]
    for prediction in LESSON.predictions:
        texts += [prediction.question, prediction.because, *prediction.options.values()]
    for text in texts:
        said = LESSON.say(text, show)
        assert "{" not in said
        assert not re.search(r"\b(nan|inf)\b", said)
        assert "°F" not in said or show is US


# The call ----------------------------------------------------------------------------------------


def test_the_box_of_the_call_hunts_as_its_margin_says():
    found = l28_numbers.at_rest(l28_numbers.found())
    seen, tail = l28_numbers.swinging(l28_numbers.found())
    assert found.margin < 1.0
    assert seen.steady_beat
    assert seen.period == pytest.approx(found.loop.period, rel=0.05)
    # What the note says of the record: the pin is free, and the coil wet to the end.
    assert 0.0 < tail.lift_share.min() < tail.lift_share.max() < 1.0
    assert tail.wet_share.max() == pytest.approx(1.0)
    assert l28_numbers.at_rest(l28_numbers.planned(l28_numbers.BOX)).margin > CALM


@both_units
def test_what_the_call_says_subtracts(show):
    said = LESSON.quantities()
    names = "line_low", "dew_low", "lowest"
    line, dew, left = (float(LESSON.say(f"{{{name}}}", show).split()[0]) for name in names)
    assert line - dew == pytest.approx(left, abs=1e-9)
    assert said["suction_low"][0] < said["suction_high"][0]


def test_when_the_clamp_is_coldest_the_gauge_is_near_its_highest():
    # As the task on the lowest superheat has it.
    _, tail = l28_numbers.swinging(l28_numbers.found())
    pressure = tail.suction_pressure
    share = (pressure - pressure.min()) / np.ptp(pressure)
    assert share[tail.superheat.argmin()] > 0.6
    assert share[tail.superheat.argmax()] < 0.4


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"cure": "stem", "half": "slower", "bare": "hunts"}


def test_cures_by_time_alone():
    # Not by the margin: the record itself dies out, or does not.
    plan = hall.box(l28_numbers.BOX).metering
    for changed, hunts in (
        ({}, True),
        ({"port": plan.port}, True),
        ({"static_superheat": plan.static_superheat}, False),
    ):
        trace = swing(l28_numbers.at_rest(l28_numbers.found(**changed)), 3600.0).after(2700.0)
        assert bool(np.ptp(trace.superheat) > 1.0) is hunts


@pytest.mark.parametrize("key", ["butcher-walk-in", "produce-room"])
def test_calm_means_each_beat_is_less_than_half_of_the_one_before(key):
    box = hall.box(key)
    found = hunting.least_stable_superheat(
        plant.low_side(box), box.box_temperature, box.summer_condensing, margin=CALM
    )
    setting = l28_numbers.planned(key, static_superheat=found.static_superheat)
    circuit = l28_numbers.at_rest(setting)
    trace = swing(circuit, 600.0, hand=0.05)
    off = trace.superheat - circuit.superheat
    peaks = off[1:-1][(off[1:-1] > off[:-2]) & (off[1:-1] >= off[2:]) & (off[1:-1] > 1e-4)]
    assert peaks.size > 2
    assert peaks[2] < 0.55 * peaks[1]


@pytest.mark.parametrize("key", VALVES)
def test_every_valve_of_the_hall_is_calm_as_planned(key):
    circuit = l28_numbers.at_rest(l28_numbers.planned(key))
    assert circuit.state == hunting.ACTING
    assert circuit.margin > CALM


# Tasks -------------------------------------------------------------------------------------------


@both_units
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(20):
        dealt = task.deal("28", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right"
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, digits=6))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_the_stem_task_is_what_the_panel_shows():
    dealt = LESSON.task("stem").deal("28", 3, METRIC)
    values = dealt.values
    key = next(box.key for box in hall.boxes() if box.what == values["room"])
    drawn = figure(METRIC, box=key, port=values["port"], static_superheat=dealt.answer)
    assert drawn.numbers["margin"] == pytest.approx(values["wanted"], rel=0.03)
    assert values["room"] in drawn.words


def test_waiting_by_counting_beats():
    dealt = LESSON.task("wait").deal("28", 4, METRIC)
    values, now, beats = dealt.values, dealt.values["now"], 0
    while now > values["told"]:
        now, beats = now * values["share"], beats + 1
    assert (beats - 1) * values["beat"] < dealt.answer <= beats * values["beat"]


# The recorder ------------------------------------------------------------------------------------


@both_units
def test_words_and_strip_say_the_same(show):
    drawn = figure(show)
    texts = dict(drawn.readings)
    low, high = re.search(r"superheat from (\S+) \S+ to (\S+) ", drawn.words).groups()
    assert texts["Superheat, low"].split()[0] == low
    assert texts["Superheat, high"].split()[0] == high
    assert "°F" not in drawn.words or show is US
    assert drawn.png().startswith(b"\x89PNG")


def test_moving_leaves_the_background_alone():
    here = figure()
    for changed in ({"port": 2.5e-3}, {"static_superheat": 3.0}, {"clock": 6.0}, {"load": 0.6}):
        there = figure(**changed)
        assert there.background is here.background
        assert there.words != here.words


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"port": 2.5e-3}, "smaller port"),
        ({"port": 5e-3}, "bigger port"),
        ({"static_superheat": 2.5}, "tighter spring"),
        ({"static_superheat": 1.0}, "softer spring"),
        ({"load": 0.6}, "Less load"),
        ({"contact": "loose"}, "loose bulb"),
        ({"cover": "bare"}, "air has a say"),
        ({"clock": 6.0}, "Copper carries heat"),
        ({"equaliser": "before"}, "chills the pipe"),
        ({"equaliser": "internal"}, "internal equaliser"),
        ({"cover": "bare, warm room", "contact": "loose"}, "runs to the compressor"),
        ({"port": 1.25e-3}, "cannot hunt"),
    ],
)
@both_units
def test_what_changed_and_why(show, changed, words):
    start, now = figure(show).numbers, figure(show, **changed).numbers
    assert words in why(start, now, show)


def test_nothing_changed_nothing_said():
    assert why(figure().numbers, figure().numbers, US) == ""


def test_a_leak_that_the_clamp_cannot_see_is_pointed_out():
    drawn = figure(equaliser="before")
    assert "cannot see" in drawn.words
    assert "cannot see" not in figure().words


def outlines(circuit, size):
    marks = bulbplace.cut(circuit, 0.0, 0.0, size)
    return [
        mark for mark in marks if isinstance(mark, Line) and mark.closed and mark.dash == "solid"
    ]


def of_width(marks, width):
    return [mark for mark in marks if np.ptp(mark.x) == pytest.approx(width, rel=0.01)]


def test_line_and_bulb_are_to_scale():
    circuit = l28_numbers.at_rest(l28_numbers.planned("produce-room"))
    marks, pipe = outlines(circuit, 200.0), circuit.plant.pipe
    for width in (pipe.bore, pipe.bore + 2.0 * pipe.wall, BULB):
        assert len(of_width(marks, width * 200.0 / WIDE)) == 1


@pytest.mark.parametrize("clock", [12.0, 2.0, 4.0, 6.0, 8.0, 10.0])
def test_the_bulb_is_drawn_where_the_clock_says(clock):
    circuit = l28_numbers.at_rest(l28_numbers.planned("produce-room", clock=clock, cover="bare"))
    (bulb,) = of_width(outlines(circuit, 200.0), BULB * 200.0 / WIDE)
    x, y = (0.5 * (np.min(side) + np.max(side)) - 100.0 for side in (bulb.x, bulb.y))
    hour = math.degrees(math.atan2(x, -y)) / 30.0
    assert abs((hour - clock + 6.0) % 12.0 - 6.0) < 0.05


# The edge ----------------------------------------------------------------------------------------


@both_units
def test_edge_rises_with_the_load_and_parts_what_settles_from_what_hunts(show):
    drawn = shown.edge(show)
    edge = drawn.numbers["edge"]
    assert np.all(np.diff(edge[:, 0]) > 0.0)
    assert np.all(np.diff(edge[:, 1]) > 0.0)
    for line in drawn.numbers["settings"].values():
        least = np.interp(line[:, 0], edge[:, 0], edge[:, 1])
        np.testing.assert_array_equal(line[:, 1] > least, line[:, 2] > 1.0)
    assert drawn.png().startswith(b"\x89PNG")


# The panel ---------------------------------------------------------------------------------------


@pytest.fixture
def panel():
    return shown.explore(Units("us"))


def test_the_panel_starts_with_the_call(panel):
    assert panel.words == shown.picture(US).words


def test_corners_of_the_panel_are_answers_or_words(panel):
    limits = {"port": shown.PORT, "static_superheat": shown.STATIC, "load": shown.LOAD}
    for number, key in enumerate(VALVES):
        for place in range(2 ** len(limits)):
            corner = {
                name: ends[(place >> bit) & 1] for bit, (name, ends) in enumerate(limits.items())
            }
            cover = l28_numbers.COVERS[(number + place) % 3]
            contact = ("tight", "loose")[place % 2]
            panel.set(box=key, cover=cover, contact=contact, **corner)
            assert panel.words
            assert not re.search(r"\b(nan|inf)\b", panel.figure.overlay() + panel.words)


def test_examples_are_calm(panel):
    for button in panel.box.children[2].children[0].children[1].children[1:]:
        button.click()
        assert panel.role == "status", panel.words
        assert panel.figure.numbers["margin"] > CALM


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("28", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert "°F" not in page.call().plain


def test_a_bulb_that_is_heavier_answers_the_same_at_rest():
    box = hall.box(l28_numbers.BOX)
    light, heavy = (
        at_rest(
            plant.low_side(box),
            box.box_temperature,
            box.summer_condensing,
            bulb=replace(Bulb(), heat_capacity=heat),
        )
        for heat in (20.0, 60.0)
    )
    assert light.superheat == pytest.approx(heavy.superheat, abs=1e-9)
