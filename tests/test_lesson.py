"""The lesson engine: numbers from a seed, checking with slips, cards, progress, completeness."""

import json
import math
import os
import re
import string
import subprocess
import sys
from contextlib import suppress
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from types import SimpleNamespace

import example_lesson
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lowside import lesson, readout, refrigerants
from lowside.errors import LowsideError, UnknownName
from lowside.lesson import slips
from lowside.lesson.tolerance import USUAL

US = readout.choose("us")
METRIC = readout.choose("metric")
HIGH_UP = readout.choose("us", altitude=2000.0)
SHOWS = {"us": US, "metric": METRIC, "us at 2000 m": HIGH_UP}
SEEDS = range(200)
ONE_SYSTEM_ONLY = {
    "difference as temperature",
    "sea-level barometer",
    "kilojoules as kilowatt-hours",
}
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")
OTHER_UNITS = {
    "us": re.compile(r"\d °C|\d bar\b|\d kW\b"),
    "metric": re.compile(r"°F|\bpsig?\b|\boz\b|\bton\b|\d microns?\b"),
}

LESSONS = {"example": example_lesson.LESSON} | {n: lesson.get(n) for n in lesson.numbers()}
TASKS = [
    pytest.param(number, task, id=f"{number}-{task.key}")
    for number, one in LESSONS.items()
    for task in one.tasks
]


def dealt(task=example_lesson.SUPERHEAT, seed=7, show=US, number="12"):
    return task.deal(number, seed, show)


def slips_that_lead_somewhere(mine):
    """Keys of the slips that give a number for these values, whether or not it was kept."""
    keys = set()
    for slip in mine.task.slips:
        with suppress(LowsideError):
            if slip.wrong(SimpleNamespace(**mine.values), mine.show) is not None:
                keys.add(slip.key)
    return keys


# ---------------------------------------------------------------- every lesson there is


@pytest.mark.parametrize("number", LESSONS)
def test_no_lesson_lacks_anything(number):
    assert lesson.gaps(LESSONS[number]) == []


@pytest.mark.parametrize("number", LESSONS)
@pytest.mark.parametrize("show", SHOWS.values(), ids=SHOWS)
def test_every_text_of_every_lesson_can_be_worded(number, show):
    one = LESSONS[number]
    texts = [one.call, *one.goals, *one.cautions, *one.try_this, *one.leaves_out]
    texts += [*one.notes.values(), *(text for _, text in one.readings)]
    for prediction in one.predictions:
        texts += [prediction.question, prediction.because, *prediction.options.values()]
        assert prediction.outcome() in prediction.options
    said = [one.say(text, show) for text in texts]
    assert not NOT_A_NUMBER.search("\n".join(said))
    for text in [*said, one.card.text(show)]:
        assert "{" not in text
        assert not OTHER_UNITS[show.system].search(text), text


@pytest.mark.parametrize("number", LESSONS)
def test_texts_of_lessons_leave_units_to_the_reader(number):
    one = LESSONS[number]
    texts = [one.call, *one.goals, *one.try_this, *one.card.steps]
    for task in one.tasks:
        texts += [task.question, *task.hints, *task.steps]
    for text in texts:
        assert not re.search(r"°[FC]|\bpsi|\bbar\b", text), text


@pytest.mark.parametrize(("number", "task"), TASKS)
@pytest.mark.parametrize("show", SHOWS.values(), ids=SHOWS)
def test_slips_are_told_apart_for_200_seeds(number, task, show):
    questions = set()
    seen = set()
    for seed in SEEDS:
        mine = task.deal(number, seed, show)
        questions.add(mine.question)
        assert math.isfinite(mine.answer)
        right = mine.check(mine.answer_text)
        assert (right.kind, right.slip) == ("right", None)
        for key, wrong in mine.slips.items():
            verdict = mine.check(show.text(wrong, task.kind, digits=6))
            assert (verdict.kind, verdict.slip) == ("slip", key)
            seen.add(key)
        for text in (*mine.solution, mine.hint(1), mine.hint(2)):
            assert "{" not in text
        assert mine.answer_text in mine.solution[-1]
        if show.altitude == 0.0:
            assert mine.tells_apart()
            assert set(mine.slips) == slips_that_lead_somewhere(mine)
    # A task that sends the learner back to a panel can only ask for steps that the panel has.
    assert len(questions) > (8 if task.key == "panel" else len(SEEDS) / 4)
    missing = {slip.key for slip in task.slips} - seen
    assert missing <= ONE_SYSTEM_ONLY, missing


# ---------------------------------------------------------------- numbers from a seed


def test_the_same_seed_gives_the_same_numbers_in_another_process():
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]);"
        "import example_lesson as e; from lowside import readout;"
        "print(e.SUPERHEAT.deal('12', 7, readout.choose('us')).question)"
    )
    here = str(Path(__file__).parent)
    run = subprocess.run(
        [sys.executable, "-c", code, here],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONHASHSEED": "99", "PYTHONIOENCODING": "utf-8"},
        check=True,
    )
    assert run.stdout.strip() == dealt().question


def test_lessons_tasks_and_seeds_differ():
    questions = {dealt(seed=seed).question for seed in (1, 2, 3)}
    questions |= {dealt(number="13").question}
    assert len(questions) == 4


@pytest.mark.parametrize("show", SHOWS.values(), ids=SHOWS)
def test_the_printed_numbers_lead_to_the_answer(show):
    # What a learner reads, typed back in, gives the very numbers the answer was computed from.
    for seed in range(20):
        mine = dealt(seed=seed, show=show)
        words = mine.question
        for name in ("suction_pressure", "line_temperature"):
            kind = example_lesson.KINDS[name]
            printed = show.text(mine.values[name], kind)
            assert printed in words
            assert show.parse(printed, kind, name) == pytest.approx(mine.values[name], rel=1e-12)


def test_the_answer_is_the_librarys():
    mine = dealt()
    fluid = refrigerants.get("R448A")
    superheat = fluid.superheat(mine.values["suction_pressure"], mine.values["line_temperature"])
    assert mine.answer == pytest.approx(superheat)


def test_numbers_are_drawn_again_until_slips_are_told_apart():
    # Superheat of 3 to 12 K: the slip "twice as much" is too near to be seen at first for many.
    twice = lesson.Slip("twice", lambda values, show: values.answer * 1.4, "Too much.")
    task = replace(example_lesson.SUPERHEAT, slips=(twice,))
    for seed in range(50):
        mine = dealt(task, seed)
        assert 0.4 * mine.answer > 2.0 * mine.tolerance
        assert set(mine.slips) == {"twice"}


def test_a_slip_that_does_no_harm_is_left_out():
    same = lesson.Slip("same", lambda values, show: values.answer + 0.1, "Same.")
    far = lesson.Slip("far", lambda values, show: values.answer + 9.0, "Far.")
    again = lesson.Slip("again", lambda values, show: values.answer + 9.1, "Again.")
    mine = dealt(replace(example_lesson.SUPERHEAT, slips=(same, far, again)))
    assert set(mine.slips) == {"far"}
    assert mine.check(mine.answer_text).kind == "right"


# ---------------------------------------------------------------- checking


def a_share(answer=0.42, **changed):
    task = lesson.Task(
        key="share",
        question="{a} of {b}: what share?",
        draw=lambda random: {"a": random.uniform(0.1, 0.2), "b": 0.4},
        kinds={"a": "mass", "b": "mass"},
        solve=lambda values: {"answer": answer},
        kind="ratio",
        slips=(lesson.Slip("upside down", lambda values, show: 1 / values.answer, "Turn it."),),
        hints=("A part of a whole.", "Part over whole."),
        steps=("{answer}",),
        **changed,
    )
    return task.deal("99", 1, US)


@pytest.mark.parametrize(
    ("text", "kind", "slip", "phrase"),
    [
        ("42", "right", None, "42 %"),
        ("42 %", "right", None, "42 %"),
        ("0.42", "slip", "fraction for percent", "that is 42 %"),
        ("0,41", "slip", "fraction for percent", "that is 41 %"),
        ("1/4", "slip", "fraction for percent", "not yet"),
        ("0.42 %", "wrong", None, "too low"),
        ("-40%", "wrong", None, "between 0 % and 100 %"),
        ("200", "wrong", None, "between 0 % and 100 %"),
        ("238", "slip", "upside down", "Turn it."),
        ("", "unreadable", None, "left empty"),
    ],
)
def test_a_share_is_a_percentage_of_a_whole(text, kind, slip, phrase):
    verdict = a_share().check(text)
    assert (verdict.kind, verdict.slip) == (kind, slip)
    assert phrase in verdict.sentence


def test_a_task_may_say_what_its_answers_can_be():
    open_above = a_share(limits=(0.0, None))
    assert "too high" in open_above.check("200").sentence
    assert "at least 0 %" in open_above.check("-40%").sentence


@pytest.mark.parametrize("show", SHOWS.values(), ids=SHOWS)
@pytest.mark.parametrize("kind", ["gauge_pressure", "pressure"])
def test_the_right_number_from_the_wrong_zero_is_recognised(show, kind):
    other = {"gauge_pressure": "pressure", "pressure": "gauge_pressure"}[kind]
    task = replace(
        example_lesson.SUPERHEAT,
        kind=kind,
        slips=(),
        solve=lambda values: {"answer": values.suction_pressure},
    )
    mine = dealt(task, show=show)
    number = show.text(mine.answer, kind).split()[0]
    assert mine.check(number).kind == "right"
    verdict = mine.check(f"{number} {show.unit(other)}")
    assert (verdict.kind, verdict.slip) == ("slip", "zero of the pressure")
    assert show.text(show.atmosphere, "pressure") in verdict.sentence
    assert ("too low" in verdict.sentence) == (kind == "gauge_pressure")
    said = show.text(mine.answer, other)
    assert mine.check(said).kind == "right", "the same pressure in the other column is right"


def test_bubble_for_dew_is_recognised_with_published_numbers():
    # R448A at 30 psig: dew -13.98 °C, bubble -20.24 °C; taking the bubble column adds 6.26 K of
    # superheat (11.3 °F). Values computed with CoolProp, definition common practice (CHECKS C237,
    # C246).
    pressure = US.parse("30 psig", "gauge_pressure", "suction")
    line = -13.98 + 273.15 + 5.0
    task = replace(
        example_lesson.SUPERHEAT,
        draw=lambda random: {
            "refrigerant": "R448A",
            "suction_pressure": pressure,
            "line_temperature": line,
        },
    )
    mine = dealt(task)
    assert mine.check("9.0 °F").kind == "right"
    assert mine.check("5 K").kind == "right"
    verdict = mine.check("20.3 °F")
    assert (verdict.kind, verdict.slip) == ("slip", "bubble for dew")
    assert "last drop" in verdict.sentence


@pytest.mark.parametrize("show", SHOWS.values(), ids=SHOWS)
def test_verdicts_by_distance(show):
    mine = dealt(show=show)
    kind = mine.task.kind

    def verdict(times):
        text = show.text(mine.answer + times * mine.tolerance, kind, digits=6)
        return mine.check(text).kind

    assert [verdict(t) for t in (-0.99, 0.0, 0.99)] == ["right"] * 3
    assert verdict(1.01) == verdict(2.49) == "close"
    assert verdict(50.0) == "wrong"


def test_sentences_say_which_side_and_never_the_answer():
    mine = dealt()
    for times, side in ((1.5, "high"), (60.0, "high"), (-60.0, "low")):
        verdict = mine.check(US.text(mine.answer + times * mine.tolerance, mine.task.kind))
        assert side in verdict.sentence
        assert mine.answer_text not in verdict.sentence
    assert mine.answer_text in mine.check(mine.answer_text).sentence


@pytest.mark.parametrize("text", ["", "warm", "9 psig", "1 2"])
def test_unreadable_answers_get_a_sentence(text):
    verdict = dealt().check(text)
    assert verdict.kind == "unreadable"
    assert verdict.sentence.startswith("Your answer: ")


@given(st.text(max_size=10), st.sampled_from(sorted(SHOWS)))
def test_any_answer_gets_a_verdict(text, show):
    verdict = dealt(show=SHOWS[show]).check(text)
    assert verdict.sentence
    assert (verdict.slip is not None) == (verdict.kind == "slip")


def test_an_impossible_answer_is_wrong_and_says_why():
    def solve(values):
        return {"answer": refrigerants.get("R448A").dew_temperature(values.suction_pressure)}

    task = replace(
        example_lesson.GLIDE, kind="temperature", solve=solve, slips=(), steps=("{answer}",)
    )
    verdict = dealt(task).check("-600 F")
    assert verdict.kind == "wrong"
    assert "absolute zero" in verdict.sentence


# ---------------------------------------------------------------- shared slips


def test_gauge_as_absolute_forgets_the_barometer():
    mine = dealt()
    fluid = refrigerants.get("R448A")
    gauge = mine.values["suction_pressure"] - 101325.0
    wrong = mine.values["line_temperature"] - fluid.dew_temperature(gauge)
    assert mine.slips["gauge as absolute"] == pytest.approx(wrong)


def test_difference_as_temperature_adds_32_in_us_units_only():
    in_us = dealt(example_lesson.GLIDE)
    too_much = in_us.slips["difference as temperature"] - in_us.answer
    assert US.value(too_much, "temperature_difference") == pytest.approx(32.0)
    assert "difference as temperature" not in dealt(example_lesson.GLIDE, show=METRIC).slips


def test_sea_level_barometer_needs_an_altitude():
    assert "sea-level barometer" not in dealt().slips
    high = dealt(show=HIGH_UP)
    # Standard atmosphere at 2000 m: 79.495 kPa (ISO 2533, from memory).
    pressure = high.values["suction_pressure"] + 101325.0 - 79495.0
    dew = refrigerants.get("R448A").dew_temperature(pressure)
    wrong = high.values["line_temperature"] - dew
    assert high.slips["sea-level barometer"] == pytest.approx(wrong, abs=1e-3)


def test_other_unit_reads_the_number_on_the_wrong_scale():
    slip = slips.number_in_other_unit(example_lesson.superheat, "line_temperature", "temperature")
    mine = dealt(replace(example_lesson.SUPERHEAT, slips=(slip,)))
    number = US.value(mine.values["line_temperature"], "temperature")
    shifted = number + 273.15 - mine.values["line_temperature"]
    assert mine.slips["other unit"] == pytest.approx(mine.answer + shifted)


def test_a_slip_that_leaves_the_range_leads_nowhere():
    def refused(values, show):
        return refrigerants.get("R448A").dew_temperature(1e9)

    far = lesson.Slip("far", refused, "Far.")
    assert dealt(replace(example_lesson.SUPERHEAT, slips=(far,))).slips == {}


# ---------------------------------------------------------------- tolerances


def test_room_is_tied_to_the_instrument():
    # Clamp thermocouple ±1 °F: common practice, no published source (CHECKS C473).
    clamp = USUAL["temperature"]
    assert clamp.text(283.15, "temperature", US) == "±1.0 °F"
    assert clamp.text(283.15, "temperature", METRIC) == "±0.5 K"
    assert USUAL["gauge_pressure"].text(5e5, "gauge_pressure", US) == "±1.0 psi"
    assert USUAL["capacity"].si(2000.0, "capacity", US) == pytest.approx(100.0)


# ---------------------------------------------------------------- predictions and progress


def test_a_prediction_is_revealed_against_the_computed_outcome():
    prediction = example_lesson.LESSON.predictions[0]
    assert prediction.outcome() == "more"
    assert prediction.reveal("more") == "You predicted: more than it really is; and so it is."
    assert "it turns out: more" in prediction.reveal("less")
    assert "made no prediction" in prediction.reveal(None)
    with pytest.raises(UnknownName):
        prediction.reveal("perhaps")


def test_progress_is_json_and_comes_back():
    progress = lesson.Progress(seed=7)
    mine = dealt()
    progress.predict("12", "column", "less")
    progress.predict("12", "column", "more")
    for text in ("warm", "20.3 °F", mine.answer_text):
        progress.answer("12", "superheat", text, mine.check(text))
    progress.hint("12", "superheat", 2)
    progress.hint("12", "superheat", 1)
    back = lesson.Progress.from_dict(json.loads(json.dumps(progress.as_dict())))
    assert back == progress
    assert back.predicted("12", "column") == "less"
    assert back.predicted("22", "column") is None
    assert back.solved("12") == {"superheat"}
    assert back.solved("22") == set()
    assert back.hints["12"]["superheat"] == 2
    with pytest.raises(LowsideError):
        lesson.Progress.from_dict({"seed": 1})


# ---------------------------------------------------------------- job card


class _Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.seen = [], []

    def handle_starttag(self, tag, attrs):
        self.seen.append(tag)
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_the_card_is_whole_in_text_and_in_html():
    card = example_lesson.LESSON.card
    text, html = card.text(US), card.html(US)
    for line in ("Clamp thermometer", "10.8 °F is at stake", "local code", "An invented hall."):
        assert line in text
        assert line in html
    assert "6.0 K" in card.text(METRIC)
    tags = _Tags()
    tags.feed(html)
    assert tags.open == []
    assert tags.seen.count("li") == 5
    assert "break-inside: avoid" in html


def test_the_card_escapes_what_is_put_into_it():
    card = lesson.JobCard("<b>&", ("<i>",), ("a",), ("b",))
    assert "&lt;b&gt;&amp;" in card.html(US)
    assert "<i>" not in card.html(US)


# ---------------------------------------------------------------- completeness and look-up

GOOD = example_lesson.LESSON


@pytest.mark.parametrize(
    ("broken", "gap"),
    [
        (replace(GOOD, tasks=GOOD.tasks[:2]), "fewer than 3 tasks"),
        (replace(GOOD, cautions=()), "no cautions"),
        (replace(GOOD, sources=()), "no sources"),
        (replace(GOOD, predictions=()), "no predictions"),
        (replace(GOOD, number="7"), "two digits"),
        (replace(GOOD, try_this=("one",)), "3 things to try"),
        (replace(GOOD, tasks=GOOD.tasks * 2), "superheat is used twice"),
        (replace(GOOD, card=replace(GOOD.card, cautions=())), "card has no cautions"),
        (replace(GOOD, card=replace(GOOD.card, steps=("word " * 400,))), "words"),
        (replace(GOOD, sources=(lesson.Source("a", "b", "rumour"),)), "rumour"),
    ],
)
def test_a_gap_is_found(broken, gap):
    assert any(gap in sentence for sentence in lesson.gaps(broken))


@pytest.mark.parametrize(
    ("change", "gap"),
    [
        ({"slips": ()}, "knows no slip"),
        ({"hints": ("one",)}, "two hints"),
        ({"steps": ("Done.",)}, "end its solution with the answer"),
        ({"question": "Is it {answer}?"}, "gives its answer away"),
        ({"kind": "angle"}, "needs a tolerance"),
        ({"slips": (slips.sign_swapped(),) * 2}, "two slips alike"),
    ],
)
def test_a_gap_in_a_task_is_found(change, gap):
    broken = replace(GOOD, tasks=(replace(GOOD.tasks[0], **change), *GOOD.tasks[1:]))
    assert any(gap in sentence for sentence in lesson.gaps(broken))


def test_tasks_and_predictions_are_found_by_key_and_by_place():
    assert GOOD.task("glide") is GOOD.task(3) is GOOD.tasks[2]
    assert GOOD.prediction("column") is GOOD.prediction(1)
    with pytest.raises(UnknownName, match="superheat"):
        GOOD.task("superheet")
    with pytest.raises(UnknownName):
        GOOD.prediction(2)


def test_lessons_are_found_by_number(tmp_path):
    for number in lesson.numbers():
        assert lesson.get(number).number == number
        assert lesson.get(int(number)) is lesson.get(number)
    with pytest.raises(UnknownName, match="lesson"):
        lesson.get("98")


def test_templates_name_only_what_is_there():
    # Every {name} of the example's tasks is a drawn or solved quantity.
    for task in GOOD.tasks:
        mine = task.deal("12", 1, US)
        for text in (task.question, *task.hints, *task.steps):
            names = {name for _, name, _, _ in string.Formatter().parse(text) if name}
            assert names <= set(mine.values)
