"""Lesson 52: a strange symptom; its page, what it saves, and how long it takes to use."""

import base64
import csv
import io
import math
import re
from html.parser import HTMLParser

import ipywidgets as widgets
import numpy as np
import pytest
from lowside import diagnosis, faults, lesson, readout, refrigerants
from lowside.diagnosis import evidence, looks, sense, words
from lowside.errors import OutOfRange, UnknownName
from lowside.lesson import hall, l52, l52_boxes, l52_cases, l52_numbers, l52_trust
from lowside.plots import suspects
from lowside.screens import open_lesson
from lowside.screens.lessons import l52 as shown
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("52")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
every_case = pytest.mark.parametrize("case", l52_cases.EXAMPLES, ids=lambda case: case.title)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown|None)\b")
SHORT_OF = l52_cases.EXAMPLES[1]


def page(units="us"):
    return shown.explore(Units(units))


def ranked(case, seen=None):
    known = l52_boxes.known(case.box, *l52_cases.air(case))
    return diagnosis.rank(known.suspects, l52_cases.taken(case), seen)


# The lesson ----------------------------------------------------------------------------------


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_cautions_stand_first_and_where_the_hand_acts():
    assert any("flame" in caution for caution in LESSON.cautions)
    card = LESSON.card.html(US)
    assert card.index("Cautions") < card.index("Steps")
    form = page()
    asked = {key: form.views[key].caution.value for key in looks.KEYS}
    assert "never a flame" in asked["warmed"]
    assert "locked out" in asked["condenser_fan"]
    form.fill(shown.as_read(SHORT_OF))
    assert "R290 burns" in form.answer.body


def test_predictions_come_true_as_the_numbers_say():
    assert {p.key: p.outcome() for p in LESSON.predictions} == {
        "next": "drier_drop",
        "left": "some",
        "more": "hardly",
        "yes": "half",
    }


def test_one_yes_is_weighed_as_bayes_says():
    """Bayes' rule by hand: one of so many suspects, a yes from it, and from all the others."""
    look = next(look for look in looks.ALL if look.key == "standing")
    known = l52_boxes.known(l52_cases.CALL.box, *l52_cases.air(l52_cases.CALL))
    prior = diagnosis.rank(known.suspects, {}).probability["foreign_gas"]
    expected = prior * look.hit / (prior * look.hit + (1.0 - prior) * look.false)
    assert l52.standing_yes() == pytest.approx(expected)


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(12):
        dealt = task.deal("52", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    v = LESSON.task("look").deal("52", 4, METRIC).values
    with_ice, without = 1000 * v["before"], 1000 * (1 - v["before"])
    jumps = with_ice * v["hit"] + without * v["false"]
    assert v["answer"] == pytest.approx(with_ice * v["hit"] / jumps)
    v = LESSON.task("order").deal("52", 4, METRIC).values
    ends_early = v["before"] * v["first"]
    assert v["answer"] == pytest.approx(ends_early + (1 - v["before"]) * (v["first"] + v["second"]))
    v = LESSON.task("scale").deal("52", 4, US).values
    figure = (v["typed"] - 273.15) * 1.8 + 32.0
    dew = refrigerants.get(v["refrigerant"]).dew_temperature(v["suction"])
    assert v["answer"] == pytest.approx(figure + 273.15 - float(dew))


@every_reader
def test_texts_have_their_numbers(show):
    for text in (LESSON.call, *LESSON.notes.values(), *(r for _, r in LESSON.readings)):
        assert not NOT_A_NUMBER.search(LESSON.say(text, show))


# Boxes and cases -----------------------------------------------------------------------------


def test_every_box_of_the_hall_and_every_cabinet_is_offered():
    assert set(hall.hall().boxes) < set(l52_boxes.names())
    for name in l52_boxes.names():
        assert l52_boxes.find(name).charge > 0.0
        assert l52_boxes.label(name)
    with pytest.raises(UnknownName):
        l52_boxes.find("the one behind the stairs")


def test_air_that_nobody_read_makes_everything_less_sure():
    case = l52_cases.CALL
    read = l52_boxes.known(case.box, *l52_cases.air(case)).suspects
    guessed = l52_boxes.known(case.box).suspects
    head = evidence.KEYS.index("head_pressure")
    wide, narrow = (s.covariance([head])[0, 0, 0] for s in (guessed, read))
    assert wide > 2.0 * narrow


@every_case
def test_instruments_of_a_case_are_off_but_not_far(case):
    read, point = l52_cases.staged(case)
    fluid = l52_boxes.find(case.box).box.refrigerant
    true = faults.read(fluid, point)
    half = faults.errors(fluid, true)
    off = np.array([(value - true[key]) / half[key] for key, value in read.items()])
    assert np.abs(off).max() <= 1.0 + 1e-9
    assert np.abs(off).max() > 0.1


@every_case
def test_readings_of_a_sick_box_are_no_reading_mistakes(case):
    fluid = l52_boxes.find(case.box).box.refrigerant
    checked = sense.screened(fluid, l52_cases.taken(case), *l52_cases.air(case))
    assert not checked.mistaken, [finding.code for finding in checked.impossible]


def test_the_call_ends_with_its_fault_and_the_drier_was_innocent():
    stages = l52_cases.followed(l52_cases.CALL)
    assert next(iter(stages[2].ranking.probability)) == "drier"
    assert next(iter(stages[-1].ranking.probability)) == l52_numbers.INSIDE
    assert stages[-1].ranking.probability["drier"] < 0.01


def test_following_the_page_finds_a_strainer_and_then_stops():
    stages = l52_cases.followed(l52_cases.STRAINER)
    assert stages[-1].ranking.probability["strainer"] > 0.95
    assert words.settled(stages[-1].ranking)
    assert not words.settled(stages[-2].ranking)


# Words and readings against suspects ---------------------------------------------------------


def test_a_reading_is_expected_from_the_others():
    """Against the definition: the mean of one reading of a bell-shaped set, given the rest."""
    ranking = ranked(l52_cases.CALL)
    keys = list(ranking.taken)
    columns = [evidence.KEYS.index(key) for key in keys]
    entry = ranking.likeliest("strainer")
    whole = ranking.suspects.covariance(columns)[entry]
    mean = ranking.suspects.mean[entry, columns]
    fluid = ranking.suspects.situation.box.refrigerant
    read = np.array([evidence.counted(fluid, key, ranking.taken[key]) for key in keys])
    for place, found in enumerate(diagnosis.expectations(ranking, "strainer")):
        rest = [n for n in range(len(keys)) if n != place]
        slope = np.linalg.solve(whole[np.ix_(rest, rest)], whole[rest, place])
        middle = mean[place] + slope @ (read[rest] - mean[rest])
        width = math.sqrt(whole[place, place] - slope @ whole[rest, place])
        assert found.off == pytest.approx((read[place] - middle) / width, rel=1e-6, abs=1e-9)
        plain = float(evidence.plain(fluid, found.key, middle))
        assert found.expected == pytest.approx(plain, rel=1e-6)


def test_what_contradicts_is_marked():
    ranking = ranked(l52_cases.CALL)
    cold = dict(ranking.taken) | {"strainer_drop": 15.0}
    against = diagnosis.expectations(diagnosis.rank(ranking.suspects, cold), "drier")
    worst = max(against, key=lambda each: abs(each.off))
    assert (worst.key, worst.verdict) == ("strainer_drop", "against")
    assert diagnosis.expectations(diagnosis.rank(ranking.suspects, {}), "strainer") == []


@every_reader
@every_case
def test_the_order_note_says_all_and_only_what_is_known(case, show):
    ranking = ranked(case, {"condenser_face": False})
    steps = diagnosis.next_steps(ranking)
    note = "\n".join(words.order_note(ranking, steps, "Box 1", show, "=note"))
    assert not NOT_A_NUMBER.search(note)
    assert note.startswith("Box: Box 1.")
    assert note.endswith(words.ESTIMATE)
    for key, value in ranking.taken.items():
        assert f"{evidence.get(key).label} {show.text(value, evidence.get(key).kind)}" in note
    if ranking.strange:
        assert "Two at once would fit" in note
    else:
        assert words.name(next(iter(ranking.probability))) in note.lower()


def test_chances_are_never_quite_sure():
    assert words.chance(US, 0.9999) == "> 99 %"
    assert words.chance(US, 0.0) == "< 1 %"


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"suction_pressure": 3.2e6}, "suction above head"),
        ({"suction_temperature": 245.0}, "colder than dew"),
        ({"liquid_temperature": 335.0}, "liquid line above bubble"),
    ],
)
def test_readings_that_cannot_be_are_named(changed, code):
    case = l52_cases.STRAINER
    fluid = l52_boxes.find(case.box).box.refrigerant
    checked = sense.screened(fluid, l52_cases.taken(case) | changed, *l52_cases.air(case))
    assert code in {finding.code for finding in checked.impossible}


def test_a_gauge_beyond_the_tables_is_left_out_and_named():
    fluid = refrigerants.get("R290")
    checked = sense.screened(fluid, {"head_pressure": 5.9e6, "liquid_temperature": 300.0})
    assert list(checked.taken) == ["liquid_temperature"]
    assert isinstance(checked.refused[0], OutOfRange)


# The picture ---------------------------------------------------------------------------------


@every_reader
def test_the_picture_says_what_it_draws(show):
    for draw in (shown.picture, shown.other):
        figure = draw(show)
        assert not NOT_A_NUMBER.search(figure.words + figure.overlay())
        assert figure.png().startswith(b"\x89PNG")
        minutes = f"{figure.numbers['minutes']:.0f} minutes"
        assert minutes in figure.words


def test_doubt_as_equal_suspects():
    ranking = ranked(l52_cases.CALL)
    keys = len(ranking.suspects.keys)
    empty = diagnosis.rank(ranking.suspects, {})
    assert 1.0 < suspects.equal_suspects(ranking) < suspects.equal_suspects(empty) <= keys


def test_every_step_has_a_short_name():
    trials = {"stem_answer", "charge"}
    assert set(suspects.SHORT) | trials == {*evidence.KEYS, *looks.KEYS}


# The page ------------------------------------------------------------------------------------


def test_the_answer_is_that_of_the_library():
    ranking = ranked(l52_cases.CALL)
    first, chance = next(iter(ranking.probability.items()))
    assert f"{words.name(first)}: {words.chance(US, chance)}" in page().words


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_example_is_answered_in_words(units):
    form = page(units)
    for fill in form.examples.values():
        assert form.fill(fill()) == []
        assert form.role == "status"
        assert not NOT_A_NUMBER.search(form.words + form.answer.body + form.answer.against)
    assert "°F" not in form.words or units == "us"


def test_units_change_the_words_and_not_the_readings():
    units = Units("us")
    form = shown.explore(units)
    before, in_us = form.values(), form.words
    units.choose("metric")
    assert form.values() == before
    assert "psig" not in form.answer.against
    units.choose("us")
    assert form.words == in_us


def test_what_cannot_be_used_is_told_beside_its_field_and_nothing_is_lost():
    form = page()
    others = form.values()
    entry = form.views["liquid_temperature"].entry
    entry.value = "luke warm"
    assert entry.value == "luke warm"
    assert "luke warm" in form.views["liquid_temperature"].problem.value
    assert form.role == "alert"
    assert "Left out until mended" in form._headline.value
    assert {k: v for k, v in form.values().items() if k != "liquid_temperature"} == {
        k: v for k, v in others.items() if k != "liquid_temperature"
    }
    entry.value = "37 C"
    assert form.role == "status"


def test_swapped_hoses_come_before_all_suspects():
    form = page()
    low, high = (form.values()[key] for key in l52_cases.GAUGES)
    form.set(suction_pressure=high, head_pressure=low)
    assert form.answer.mistaken
    assert form.words.startswith("Read again before anything else")
    assert "hoses may be swapped" in form.words


def test_a_wrong_scale_is_the_likeliest_slip():
    form = page()
    celsius = form.values()["suction_temperature"] - 273.15
    form.views["suction_temperature"].entry.value = f"{celsius - 12:.1f}"
    assert form.answer.mistaken
    assert "°C, not °F" in form.words


def test_empty_keeps_the_box_and_clears_the_rest():
    form = page()
    form.set(bulb=True)
    form.note.value = "hissing"
    form.empty()
    held = form.saved()
    assert held.box == {"name": l52_cases.CALL.box}
    assert (held.readings, held.seen, held.air, held.note) == ({}, {}, {}, "")
    assert "Nothing read yet" in form.words


def test_a_box_can_be_described_and_a_bad_description_is_refused():
    form = page()
    form.empty()
    form.set(name=l52_boxes.DESCRIBED, refrigerant="R134a", receiver=True)
    assert form.role == "status"
    assert "R134a" in form.answer.note[0]
    form.set(metering="capillary tube")
    assert form.role == "alert"
    assert "no receiver" in form.words
    form.set(receiver=False)
    assert form.role == "status"
    assert form.views["bulb"].box.layout.display == "none"
    assert form.views["stem_answer"].box.layout.display == "none"
    form.views["capacity"].entry.value = "plenty"
    assert form.role == "alert"
    assert "plenty" in form.words


def test_looks_that_do_not_fit_the_box_do_not_count():
    form = page()
    form.set(bulb=True)
    form.fill(shown.as_read(SHORT_OF))
    before = form.words
    form.set(bulb=True)
    assert form.words == before


@pytest.mark.parametrize("kind", ["as_json", "as_csv"])
def test_what_is_saved_opens_again(kind):
    form = page()
    form.set(bulb=False, warmed=True, current=7.0)
    form.note.value = "=1+1 hissing"
    held, said = form.saved(), form.words
    text = getattr(held, kind)()
    form.empty()
    form.open_file(text.encode())
    assert form.saved() == held
    assert form.words == said
    described = page("metric")
    described.set(name=l52_boxes.DESCRIBED, nameplate=0.12, ambient_air=303.15)
    held = described.saved()
    described.open_file(page().saved().as_csv().encode())
    described.open_file(getattr(held, kind)().encode())
    assert described.saved() == held


def test_a_damaged_file_is_named_and_changes_nothing():
    form = page()
    held = form.saved()
    for data in (b"", b"{", b"\xff\xfe", b"time,T\n1,2\n", b'{"kind": "x"}'):
        form.open_file(data)
        assert 'role="alert"' in form._told.value
        assert form.saved() == held


def test_an_edited_file_loses_only_what_is_wrong_in_it():
    form = page()
    lines = form.saved().as_csv().splitlines()
    lines += ["reading: discharge_temperature,9000,K", "look: bulb,perhaps,", "box: name,attic,"]
    form.open_file("\n".join(lines).encode())
    assert form._told.value.count("<li>") == 3
    assert "attic" in form._told.value
    assert form.values()["discharge_temperature"] is None
    assert form.saved().readings == l52_cases.taken(l52_cases.CALL)


class _Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.tags, self.outside = [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.outside += [v for k, v in attrs if k in ("src", "href", "onclick", "onload")]


def saved_files(form):
    pattern = r'download="([^"]+)" href="data:[^;]+;base64,([^"]+)"'
    return {
        name: base64.b64decode(data).decode()
        for name, data in re.findall(pattern, form._save.value)
    }


def test_the_saved_page_stands_alone_and_runs_nothing():
    form = page()
    form.note.value = "<script>alert(1)</script>"
    whole = saved_files(form)["symptom.html"]
    parser = _Tags()
    parser.feed(whole)
    assert "script" not in parser.tags
    assert parser.outside == []
    assert words.ESTIMATE in whole
    assert l52_boxes.label(l52_cases.CALL.box) in whole
    assert US.text(form.values()["suction_pressure"], "gauge_pressure") in whole


def test_no_cell_of_the_saved_csv_is_a_formula():
    # OWASP, "CSV Injection": cells that begin with = + - @, tab or return (from memory).
    form = page()
    form.note.value = "=HYPERLINK(0)"
    form.set(drier_drop=-0.4)
    for row in csv.reader(io.StringIO(saved_files(form)["symptom.csv"])):
        for cell in row:
            assert not cell.startswith(("=", "+", "@")), row
            assert not cell.startswith("-") or float(cell) < 0.0


def test_buttons_and_links_are_all_labelled():
    form = page()
    seen = [form.box]
    while seen:
        widget = seen.pop()
        seen += list(getattr(widget, "children", ()))
        if isinstance(widget, widgets.Text | widgets.Button | widgets.ToggleButtons):
            assert widget.description or "lowside-header" in widget._dom_classes


# How far to trust it -------------------------------------------------------------------------


@every_reader
def test_trust_is_a_table_of_the_trial_or_says_that_there_was_none(show, monkeypatch):
    row = {"first": 0.61, "alike": 0.8, "three": 0.9, "wrong": 0.01, "brier": 0.5}
    row |= {"rules_first": 0.3, "rules_three": 0.5, "cases": 10, "box": "walk-in-cooler"}
    saved = {"cost": 0.1, "results": [row | {"kit": kit} for kit in diagnosis.trials.KITS]}
    monkeypatch.setattr(l52_trust, "results", lambda: saved)
    heads, rows, said = l52_trust.table(show)
    assert all(len(line) == len(heads) for line in rows)
    assert "61 %" in rows[0]
    assert "10 %" in said
    monkeypatch.setattr(l52_trust, "results", lambda: None)
    assert l52_trust.table(show)[1:] == ([], l52_trust.MISSING)


def test_the_page_opens_in_the_readers_units():
    opened = open_lesson("52", units="metric", seed=3)
    assert opened.explore().words == page("metric").words
    assert not re.search(r"°F|psig|\boz\b", opened.call().plain)
    assert opened.explore("trust").plain
