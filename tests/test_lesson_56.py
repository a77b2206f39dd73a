"""Lesson 56: the nights, what comes true, tasks, the picture, the panel, and one's own file."""

import math
import re

import ipywidgets as widgets
import numpy as np
import pytest
from lowside import lesson, readout, trend
from lowside.lesson import l56_numbers
from lowside.screens import open_lesson
from lowside.screens.lessons import l56 as shown
from lowside.screens.reader import Units

LESSON = lesson.get("56")
US, METRIC = readout.choose("us"), readout.choose("metric")
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=[task.key for task in LESSON.tasks])
every_record = pytest.mark.parametrize("key", l56_numbers.RECORDS)


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


def test_predictions_come_true_as_the_records_say():
    assert {p.key: p.outcome() for p in LESSON.predictions} == {"slow": "other", "delivery": "more"}


@both_units
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(20):
        dealt = task.deal("56", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right"
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, digits=6))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


# The nights --------------------------------------------------------------------------------------


def test_what_was_put_into_the_night_is_found_in_its_record():
    seen = l56_numbers.report("found")
    assert len(seen.defrosts) == 2
    for thaw, hour in zip(seen.defrosts, (3.0, 9.0), strict=True):
        # The heater's clock; the compressor may have stood still a little before it.
        assert -700.0 < thaw.start - seen.log.time[0] - 3600.0 * hour < 20.0
    (door,) = seen.doors
    assert door.start - seen.log.time[0] == pytest.approx(11.0 * 3600.0, abs=400.0)
    assert len(seen.hunting) == len(seen.beats) > 10


def test_the_cure_stops_the_swing_and_the_tight_thermostat_starts_more_often():
    found, planned = l56_numbers.report("found"), l56_numbers.report("planned")
    assert not planned.hunting
    assert planned.settled().min() > found.settled().min() + 2.0
    assert l56_numbers.report("tight").starts_per_hour > 2.0 * found.starts_per_hour


def test_one_reading_a_minute_folds_the_beat_as_sampling_says():
    # Textbook aliasing: |1/true - n/step| with the nearest whole n.
    true = np.median([beat.period for beat in l56_numbers.report("found").hunting])
    folded = 1.0 / abs(1.0 / true - round(l56_numbers.SLOW / true) / l56_numbers.SLOW)
    seen = [beat.period for beat in l56_numbers.report("slow").beats]
    assert min(abs(period / folded - 1.0) for period in seen) < 0.3
    assert not l56_numbers.report("slow").hunting


@pytest.mark.parametrize("key", l56_numbers.DIALECTS)
def test_example_files_read_back_as_their_records(key):
    content = l56_numbers.file(key)
    dialect = trend.propose(content)
    log = trend.read(content, dialect, trend.meanings(dialect))
    record = l56_numbers.record(key)
    np.testing.assert_allclose(np.diff(log.time), np.diff(record.time))
    for role, column in log.values.items():
        np.testing.assert_allclose(column, record.values[role], rtol=2e-3, atol=0.006)


# The picture and the panels ----------------------------------------------------------------------


@both_units
@every_record
def test_every_record_can_be_drawn_anywhere(show, key):
    for begin, length in ((0.0, shown.SPAN), (shown.SPAN - shown.LEAST, shown.SPAN), (9e3, 900.0)):
        drawn = shown.record_figure(show, key, begin, length)
        assert not re.search(r"\b(nan|inf)\b", drawn.overlay() + drawn.words)
        assert "°F" not in drawn.words or show is US
    assert drawn.png().startswith(b"\x89PNG")


def test_moving_leaves_the_background_alone():
    first = shown.record_figure(US, "found", 0.0, 3600.0)
    other = shown.record_figure(US, "found", 7200.0, 1800.0)
    assert other.background is first.background
    assert other.words != first.words


def test_own_file_is_read_corrected_and_refused_in_words():
    reader = shown.own(Units("metric"))
    assert reader.role == "status"
    reader.example.value = list(reader.examples)[1]
    assert reader.role == "status"
    reader.open(b"")
    assert (reader.role, "empty" in reader.words) == ("alert", True)
    reader.open(l56_numbers.file("found"))
    role, unit = reader._meant["Suction psig"]
    before = reader.words
    unit.value = "barg"
    assert reader.words != before
    for what, _ in reader._meant.values():
        what.value = "not used"
    assert (reader.role, "at least one column" in reader.words) == ("alert", True)
    role.value = "suction_pressure"
    assert reader.role == "status"


def test_an_upload_is_opened():
    reader = shown.own(Units("us"))
    assert isinstance(reader.upload, widgets.FileUpload)
    content = memoryview(l56_numbers.file("slow"))
    reader._uploaded({"new": ({"name": "night.csv", "content": content},)})
    assert reader.role == "status"
    assert "every 60 s" in reader.words


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("56", units="metric", seed=3)
    assert "°F" not in page.call().plain
    assert "°F" not in page.explore().words
