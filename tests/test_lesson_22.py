"""Lesson 22: its call, its questions, its figure and its panel."""

import math
import re

import ipywidgets as widgets
import numpy as np
import pytest
from lowside import lesson, readout, refrigerants, units, valve
from lowside.errors import OutOfRange
from lowside.lesson import hall, l22_numbers
from lowside.plots import portwords, swing
from lowside.plots.cutaway import GAP, cutaway
from lowside.plots.marks import Line
from lowside.plots.port import port_figure
from lowside.screens import open_lesson
from lowside.screens.lessons import l22 as shown
from lowside.screens.reader import Units
from lowside.system import Status, ports, solve_low_side, with_port

US, METRIC = readout.choose("us"), readout.choose("metric")
LESSON = lesson.get("22")
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)


def figure(show=US, **changed):
    return port_figure(show, **{**shown.as_found(), **changed})


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_the_box_of_the_call_is_in_balance():
    box, found = hall.box(l22_numbers.BOX), l22_numbers.as_found()
    outside, air = box.summer_ambient, float(found.air_temperature)
    leaking_in = box.design_load * (outside - air) / (outside - box.box_temperature)
    assert found.capacity == pytest.approx(leaking_in, rel=1e-3)
    assert found.status == Status.WIDE_OPEN


def test_the_call_is_worth_a_call():
    # FDA Food Code 3-501.16: cold holding at 5 °C (41 °F) or below (read in state codes).
    found = l22_numbers.as_found()
    assert found.air_temperature > units.to_si(41.0, "degF")
    # More than 12 °F of superheat is more than anyone sets: common practice, no published source.
    assert units.from_si(float(found.superheat), "degF_difference") > 15.0


def test_the_box_of_the_call_held_all_winter_and_every_mild_day():
    # Cooling of the port that was found against the heat that gets in, day by day.
    box = hall.box(l22_numbers.BOX)
    limit = l22_numbers.holds_up_to()
    days = np.linspace(box.winter_ambient, box.summer_ambient, 25)
    hardware = with_port(l22_numbers.sweep().box, l22_numbers.FITTED)
    condensing = np.array([box.condensing_temperature(day) for day in days])
    cooling = solve_low_side(hardware, box.box_temperature, condensing).capacity
    gain = box.design_load * (days - box.box_temperature)
    gain /= box.summer_ambient - box.box_temperature
    np.testing.assert_array_equal(cooling > gain, days < limit)
    assert box.winter_ambient < limit < box.summer_ambient


def test_the_valve_was_starved_in_winter_all_the_same():
    point = l22_numbers.sweep().points(l22_numbers.FITTED).at((ports.COLD, ports.CONVENTIONAL))
    hot = l22_numbers.sweep().points(l22_numbers.FITTED).at((ports.HOT, ports.CONVENTIONAL))
    assert point.status == hot.status == Status.WIDE_OPEN
    assert point.superheat > hot.superheat


def test_a_wide_open_port_passes_no_more_for_a_warm_box():
    held = l22_numbers.sweep().points(l22_numbers.FITTED).at((ports.HOT, ports.CONVENTIONAL))
    found = l22_numbers.as_found()
    assert 0.98 < found.mass_flow / held.mass_flow < 1.0
    assert found.superheat > held.superheat


@both_units
def test_call_notes_and_picture_give_the_same_superheat(show):
    drawn = figure(show)
    hot, cold = re.findall(r"superheat (-?[\d.]+ \S+),", drawn.words)
    for note in LESSON.notes.values():
        assert hot in LESSON.say(note, show)
    assert cold in LESSON.say(LESSON.notes["winter"], show)


def test_trade_words_are_explained_before_the_predictions_use_them():
    question = LESSON.prediction("balance").question
    assert question.index("conventional port") < question.index("balanced port")
    assert "swing" not in question


def test_unit_of_the_other_system_is_told():
    dealt = LESSON.task("superheat").deal("22", 1, US)
    number = dealt.answer_text.split()[0]
    assert dealt.check(f"{number} C").slip == "unit of the other system"
    assert dealt.check(dealt.show.text(dealt.values["dew"], "temperature")).kind != "right"


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"next-size": "superheat", "double": "hardly", "balance": "little"}


@both_units
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("22", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right"
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_which_port_is_the_smallest_that_does():
    dealt = LESSON.task("which").deal("22", 5, METRIC)
    values = dealt.values
    box = {name: values[name] for name in ("refrigerant", "load", "box_temperature", "hot")}
    for size in ports.KIT[4:16]:
        lift = port_figure(METRIC, **box, cold=295.0, port=size).numbers["lift_share"]
        assert (lift <= values["most"]) == (size >= dealt.answer)


def test_next_port_keeps_the_opening():
    dealt = LESSON.task("next").deal("22", 3, METRIC)
    values = dealt.values
    before, after = (
        valve.standard_port(values[port]).area(share * valve.STANDARD_LIFT)
        for port, share in (("port", values["lift"]), ("bigger", dealt.answer))
    )
    assert before == pytest.approx(after, rel=1e-9)


# ---------------------------------------------------------------- the figure


@both_units
@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_every_refrigerant_has_its_picture(name, show):
    drawn = figure(show, refrigerant=name)
    assert name in drawn.words
    assert "°F" not in drawn.words or show is US
    assert not re.search(r"\b(nan|inf)\b", drawn.overlay() + drawn.words)


def test_words_and_strip_say_the_same():
    drawn = figure()
    for place, text in drawn.readings:
        if place in ("Suction gauge", "Superheat", "Head gauge"):
            assert text in drawn.words


def test_moving_the_port_leaves_the_background_alone():
    here = figure()
    for changed in ({"port": 2.5e-3}, {"day": "cold"}, {"balanced": True}, {"cold": 300.0}):
        there = figure(**changed)
        assert there.background is here.background
        assert there.words != here.words


def test_strip_follows_the_day():
    hot, cold = (dict(figure(day=day).readings)["Head gauge"] for day in ("hot", "cold"))
    assert float(hot.split()[0]) > float(cold.split()[0])


def test_a_port_off_the_chart_is_named_all_the_same():
    for port, arrow in ((0.5e-3, "◀"), (12.0e-3, "▶")):
        drawn = figure(port=port)
        assert arrow in drawn.overlay()
        assert US.text(port, "port") in drawn.words


def test_a_port_that_is_short_only_when_cold_has_its_zone():
    room = {"refrigerant": "R449A", "load": 10500.0, "box_temperature": 277.15}
    assert "short when cold" in figure(**room, port=4.0e-3).overlay()
    assert "short when cold" not in figure().overlay()


def test_propane_is_shown_as_a_band():
    port = 0.5e-3
    assert "two flow models" in figure(refrigerant="R290", load=900.0, port=port).words
    assert "two flow models" not in figure().words


def test_a_valve_held_shut_is_said_and_not_drawn():
    drawn = figure(
        refrigerant="R600a",
        load=5 * units.TON,
        box_temperature=248.15,
        hot=323.15,
        cold=288.15,
        port=12.0e-3,
        day="cold",
    )
    assert drawn.numbers["status"] == Status.VALVE_SHUT
    assert "valve shut" in drawn.words
    assert ("Valve", "valve shut") in drawn.readings
    assert "cannot open the valve" in portwords.why(figure().numbers, drawn.numbers, US)


def test_cutaway_is_to_scale():
    port = valve.standard_port(2.5e-3)
    half, lift = 3e-3, 0.2e-3
    marks = cutaway(port, lift, METRIC, half)
    gaps = [mark for mark in marks if isinstance(mark, Line) and mark.colour == GAP]
    assert len(gaps) == 2
    for gap in gaps:
        length = math.hypot(gap.x[1] - gap.x[0], gap.y[1] - gap.y[0]) * half
        assert length == pytest.approx(lift * math.sin(port.half_angle), rel=1e-9)
        assert abs(gap.x[0]) * half == pytest.approx(port.diameter / 2)
    # Rim times gap, at the middle of the gap, is the flow area of the valve room.
    across = abs(gaps[0].x[0]) + abs(gaps[0].x[1])
    area = math.pi * across * half * lift * math.sin(port.half_angle)
    assert area == pytest.approx(float(port.area(lift)), rel=1e-9)


def test_cutaway_has_one_scale_across_and_up():
    frame = figure().background.frames["cut"]
    across = (frame.right - frame.left) / (frame.x_limits[1] - frame.x_limits[0])
    up = (frame.bottom - frame.top) / (frame.y_limits[1] - frame.y_limits[0])
    assert across == pytest.approx(up, rel=1e-3)


def test_picture_prints():
    assert figure().png().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "stop"),
        ({"port": 1.0e-3}, "fixed hole"),
        ({"port": 2.5e-3}, "leaves its stop"),
        ({"port": 8.0e-3}, "hunts easily"),
        ({"day": "cold"}, "square root"),
        ({"balanced": True}, "Balanced or conventional"),
        ({"static_superheat": 4.0}, "turning the stem changes nothing"),
        ({"static_superheat": 4.0, "port": 2.5e-3}, "superheat follows the stem"),
        ({"cold": 300.0}, "Only the cold day has moved"),
        ({"refrigerant": "R290"}, "right port for this box"),
        ({"load": 9000.0}, "right port for this box"),
        ({"load": 9000.0, "port": 4.0e-3}, "bulb is in charge"),
        ({"load": 2000.0, "port": 8.0e-3}, "hunts easily"),
    ],
)
def test_what_changed_and_why(changed, words):
    start, now = figure().numbers, figure(**changed).numbers
    assert words in portwords.why(start, now, US)


def test_a_starved_valve_on_the_cold_day_says_why_nobody_notices():
    start, now = figure().numbers, figure(day="cold").numbers
    said = portwords.why(start, now, US)
    assert "at its stop" in said
    assert "further open" not in said
    assert "may keep cold" in said


@pytest.mark.parametrize("changed", [{"refrigerant": "R290"}, {"load": 9000.0}, {"hot": 318.15}])
def test_boxes_are_not_compared_with_one_another(changed):
    assert "→" not in portwords.why(figure().numbers, figure(**changed).numbers, US)


def test_moves_in_another_box_are_compared_within_it(panel):
    panel.set(load=9000.0, port=2.5e-3)
    assert "→" not in panel.reason
    before = panel.figure.numbers["evaporating_pressure"]
    panel.set(port=4.0e-3)
    assert f"suction {US.text(before, 'gauge_pressure')} → " in panel.reason


@both_units
@pytest.mark.parametrize("port", [1.25e-3, 1.6e-3, 2.0e-3, 3.15e-3, 8.0e-3])
def test_what_is_written_subtracts(port, show):
    # A reader who takes dew from the clamp, or one day from the other, gets what is printed.
    drawn = figure(show, port=port)
    number = {place: float(text.split()[0]) for place, text in drawn.readings}
    read = number["Suction-line clamp"] - number["Dew at that pressure"]
    assert read == pytest.approx(number["Superheat"], abs=1e-9)
    hot, cold = map(float, re.findall(r"superheat (-?[\d.]+) ", drawn.words))
    moved = float(re.search(r"superheat moves (-?[\d.]+) ", drawn.words)[1])
    assert cold - hot == pytest.approx(moved, abs=1e-9)
    solved = float(show.value(drawn.numbers["superheat"], "temperature_difference"))
    assert number["Superheat"] == pytest.approx(solved, abs=0.11)


@both_units
def test_swings_that_are_written_subtract(show):
    for load in (1000.0, 1300.0, 4200.0, 15e3):
        drawn = swing.swing_figure(show, "R404A", load, 274.15, 320.15, 298.15)
        texts = dict(drawn.readings)
        one, two, saved = (float(texts[name].split()[0]) for name in list(texts)[1:])
        assert one - two == pytest.approx(saved, abs=1e-9)


@both_units
def test_swing_of_superheat_is_drawn_and_said(show):
    box = {"refrigerant": "R404A", "box_temperature": 274.15, "hot": 320.15, "cold": 298.15}
    small, large = (swing.swing_figure(show, load=load, **box) for load in (1000.0, 15e3))
    assert small.background is large.background
    assert 0.0 < small.numbers["saved"] < swing.TELLABLE < large.numbers["saved"]
    assert "no clamp can tell" in swing.why(small.numbers, small.numbers, show)
    assert "has to replace" in swing.why(small.numbers, large.numbers, show)
    assert large.png().startswith(b"\x89PNG")


def test_swing_does_not_credit_balance_where_the_port_is_wide_open():
    drawn = swing.swing_figure(US, "R404A", 5 * units.TON, 283.15, 328.15, 288.15)
    assert drawn.numbers["saved"] == pytest.approx(0.0, abs=1e-6)
    assert "at its stop" in swing.why(drawn.numbers, drawn.numbers, US)


# ---------------------------------------------------------------- the panel


@pytest.fixture
def panel():
    return shown.explore(Units("us"))


def ladder(panel):
    return panel.views["port"].slider


def test_the_panel_starts_with_the_box_of_the_call(panel):
    assert panel.words == shown.picture(US).words
    assert panel.values()["port"] == l22_numbers.FITTED


def test_every_step_of_the_port_slider_moves_picture_and_words(panel):
    slider = ladder(panel)
    assert isinstance(slider, widgets.SelectionSlider)
    seen = set()
    for _, size in slider._options_full:
        slider.value = size
        assert panel.role == "status"
        assert US.text(size, "port") in panel.words
        seen.add(panel.words)
    assert len(seen) == len(slider.options)
    assert set(l22_numbers.sweep().diameters[[0, -1]]) <= {size for _, size in slider._options_full}


def test_port_slider_runs_as_far_as_the_chart(panel):
    for load in (1000.0, 4200.0, 15e3):
        panel.set(load=load)
        slider = ladder(panel)
        low, high = panel.figure.numbers["window"]
        sizes = [size for _, size in slider._options_full]
        assert sizes[0] == pytest.approx(low)
        assert sizes[-1] == pytest.approx(high)
        # Thumb and chart agree to a hundredth of the way across.
        shares = np.log(np.divide(sizes, low)) / math.log(high / low)
        np.testing.assert_allclose(shares, np.linspace(0.0, 1.0, len(sizes)), atol=0.012)
        assert panel.values()["port"] == l22_numbers.FITTED
        assert slider.value == min(sizes, key=lambda size: abs(size - l22_numbers.FITTED))


def test_a_port_can_be_typed_in_inches(panel):
    entry = panel.views["port"].entry
    entry.value = "1/16 in"
    assert panel.values()["port"] == pytest.approx(1.5875e-3)
    assert panel.role == "status"


def test_letters_for_a_port_are_answered(panel):
    panel.views["port"].entry.value = "abc"
    assert panel.role == "alert"
    panel.reset()
    assert panel.role == "status"


def test_out_of_range_is_refused(panel):
    with pytest.raises(OutOfRange):
        panel.set(port=0.1)


def test_corners_of_the_panel_are_answers_or_words(panel):
    limits = {"load": shown.LOAD, "box_temperature": shown.BOX_AIR, "hot": shown.HOT,
              "cold": shown.COLD, "static_superheat": shown.STATIC}  # fmt: skip
    for number in range(2 ** len(limits)):
        corner = {
            name: ends[(number >> place) & 1] for place, (name, ends) in enumerate(limits.items())
        }
        panel.set(refrigerant=("R290", "R448A", "R1234yf")[number % 3], port=2.0e-3, **corner)
        assert panel.words
        assert not re.search(r"\b(nan|inf)\b", panel.figure.overlay() + panel.words)


def test_examples_are_boxes_of_the_hall(panel):
    for button in panel.box.children[2].children[0].children[1].children[1:]:
        button.click()
        assert panel.role == "status", panel.words


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("22", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert "°F" not in page.call().plain
