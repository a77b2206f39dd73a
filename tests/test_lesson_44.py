"""Lesson 44: what a drier keeps and takes, ice at the port, vacuum; its questions and panels."""

import math
import re

import numpy as np
import pytest
from lowside import drier, lesson, readout, refrigerants, units
from lowside.errors import OutOfRange
from lowside.lesson import hall, l44
from lowside.plots import drying, icing, vacuum
from lowside.plots.marks import Line
from lowside.screens import open_lesson
from lowside.screens.lessons import l44 as shown
from lowside.screens.reader import Units

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, HIGH_UP = READERS
LESSON = lesson.get("44")
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")


def dried(show=METRIC, **changed):
    return drying.drier_figure(show, original=l44.ORIGINAL, **{**shown.as_found(), **changed})


def iced(show=METRIC, **changed):
    return icing.icing_figure(show, **{**shown.as_wet(), **changed})


def pumped(show=METRIC, **changed):
    return vacuum.vacuum_figure(show, **{**shown.as_evacuated(), **changed})


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_readings_of_the_call_are_those_of_the_solved_box():
    fluid, now = refrigerants.get("R290"), l44.readings()
    box = hall.box(l44.BOX)
    dew = fluid.dew_temperature(now.suction_pressure)
    assert dew == pytest.approx(box.evaporating_temperature, abs=0.5)
    assert fluid.subcooling(now.head_pressure, now.liquid_temperature) > 0.0
    page = open_lesson("44", units="metric")
    assert METRIC.text(now.head_pressure, "gauge_pressure") in page.call().plain


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"more": "some", "drop": "ice", "coil": "stays"}


def test_card_says_what_may_not_be_missing():
    text = LESSON.card.text(US)
    for must in (
        "Recover",
        "nitrogen",
        "CUT",
        "purged",
        "Weigh in the nameplate",
        "does not allow",
    ):
        assert must in text
    assert text.index("Recover.") < text.index("CUT")


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("44", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    v = LESSON.task("swallow").deal("44", 3, METRIC)
    by_hand = v.values["inner"] * (1.0 - v.values["share"]) * v.values["density"]
    assert v.answer == pytest.approx(by_hand)
    # Saturated liquid propane, 492 kg/m3 at 25 °C and 467 at 40 °C (tables, from memory).
    assert 467.0 < v.values["density"] < 493.0
    v = LESSON.task("drops").deal("44", 3, METRIC)
    assert v.answer * 50e-6 == pytest.approx(v.values["loading"] * v.values["beads"])
    v = LESSON.task("too-many").deal("44", 3, METRIC)
    assert v.answer == pytest.approx(v.values["left"] + v.values["added"])


def test_the_vacuum_task_meets_published_values():
    """611 Pa at 0 °C, 2.34 kPa at 20 °C, 103 Pa over ice at -20 °C (ASHRAE, by psychrolib)."""
    solve = LESSON.task("vacuum").solve
    for celsius, pascal in ((0.01, 611.7), (20.0, 2338.8), (-20.0, 103.26)):
        answer = solve(type("Drawn", (), {"temperature": celsius + 273.15}))["answer"]
        assert answer == pytest.approx(pascal, rel=1e-3)


# ---------------------------------------------------------------- the drier


@every_reader
def test_drier_is_drawn_and_said(show):
    drawn = dried(show)
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    n = drawn.numbers
    for name in ("nameplate", "held_small", "held_large", "rest", "topped_up", "total"):
        assert show.text(n[name], "charge") in drawn.words
    assert drawn.png().startswith(b"\x89PNG")


def test_the_account_closes():
    n = dried().numbers
    assert n["rest"] + n["held_large"] == pytest.approx(n["nameplate"])
    assert n["total"] - n["nameplate"] == pytest.approx(n["topped_up"])
    # Free volume: shell less beads at 1100 kg/m3 (assumed in data/desiccants.toml).
    assert n["free_large"] == pytest.approx(95e-6 - 0.040 / 1100.0)
    assert n["held_large"] == pytest.approx(n["free_large"] * n["density"])


def test_driers_are_drawn_to_one_scale():
    """Shells alike in shape: volumes go with the cube of the drawn lengths."""
    from lowside.plots.marks import Bar

    drawn = dried()
    shells = [i for i in drawn.items if isinstance(i, Bar) and i.colour == drying._LIQUID]
    small, large = (shell.x1 - shell.x0 for shell in shells)
    assert (large / small) ** 3 == pytest.approx(95.0 / 25.0, rel=1e-9)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "over the nameplate"),
        ({"topped_up": 0.0}, "is missing from coils and lines"),
        ({"inner_volume": 25e-6, "beads": 0.015, "topped_up": 0.0}, "about as much"),
        ({"inner_volume": 15e-6, "beads": 0.014, "topped_up": 0.0}, "the condenser fills up"),
    ],
)
def test_what_the_drier_costs(changed, words):
    assert words in drying.why(dried().numbers, dried(**changed).numbers, METRIC)


def test_beads_that_do_not_fit_are_answered():
    with pytest.raises(OutOfRange, match="inner volume"):
        dried(inner_volume=20e-6, beads=0.060)
    panel = shown.explore(Units("us"))
    panel.set(inner_volume=20e-6, beads=0.060)
    assert panel.role == "alert"
    assert "in³" in panel.words
    panel.reset()
    assert panel.role == "status"


def test_more_beads_take_more_drops_and_keep_less_propane():
    few, many = dried(beads=0.020).numbers, dried(beads=0.040).numbers
    assert many["takes_large"][1] == pytest.approx(2.0 * few["takes_large"][1])
    assert many["held_large"] < few["held_large"]
    low, middle, high = many["takes_large"]
    assert low < middle < high
    warm = dried(condensing=326.0).numbers
    assert warm["takes_large"][1] < many["takes_large"][1]


# ---------------------------------------------------------------- ice


@every_reader
def test_ice_is_drawn_and_said(show):
    drawn = iced(show)
    assert "freezes at the port" in drawn.words
    assert "all the water stays dissolved" in drawn.words
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


def test_one_drop_is_arithmetic():
    """50 mg in 148 g: 338 ppm."""
    n = iced().numbers
    assert n["bare"] == pytest.approx(50e-6 / 0.148)
    assert n["dried"] < 1e-6
    assert n["least"] < n["carried"] < n["most"]


def test_curve_is_what_liquid_and_vapour_carry():
    drawn = iced()
    curve = next(i for i in drawn.items if isinstance(i, Line) and i.width == 3.2)
    fluid, quality = refrigerants.get("R290"), drawn.numbers["quality"]
    expected = (1 - quality) * drier.solubility("R290", curve.x) + quality * drier.in_vapour(
        fluid, curve.x
    )
    assert np.allclose(curve.y, expected)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "Without the drier water freezes at the port; with it all the water stays"),
        ({"beads": 0.0}, "No drier"),
        ({"drops": 0.0}, "With the beads or without them"),
        ({"evaporating": 278.15, "drops": 3.0}, "liquid water"),
        ({"drops": 0.15, "beads": 0.0}, "nobody can say"),
    ],
)
def test_what_becomes_of_the_water(changed, words):
    said = icing.why(iced().numbers, iced(**changed).numbers, METRIC)
    assert words in said, said


# ---------------------------------------------------------------- vacuum


@every_reader
def test_vacuum_is_drawn_and_said(show):
    drawn = pumped(show)
    assert "stays" in drawn.words
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


def test_altitude_moves_the_manifold_gauge_and_not_the_vacuum_gauge():
    """1600 m: 83.5 kPa (ISO 2533), 24.66 inHg of vacuum at most; 500 micron stay 500."""
    low, high = dict(pumped(US).readings), dict(pumped(HIGH_UP).readings)
    assert low["Vacuum gauge"] == high["Vacuum gauge"] == "500 micron"
    assert low["Manifold gauge"] == "29.9 inHg vac"
    assert float(high["Manifold gauge"].split()[0]) == pytest.approx(24.66, abs=0.1)
    assert low["Water boils at"] == high["Water boils at"]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "stays"),
        ({"coldest": 260.0}, "slowly"),
        ({"coldest": 293.15}, "leaves as vapour"),
        ({"coldest": 274.15, "vacuum": 4500 * units.MICRON}, "hardly"),
    ],
)
def test_what_the_gauge_hides(changed, words):
    assert words in vacuum.why(pumped().numbers, pumped(**changed).numbers, METRIC)


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("name", list(shown.PANELS))
@pytest.mark.parametrize("system", ["us", "metric"])
def test_panels_answer_in_words(name, system):
    panel = shown.PANELS[name](Units(system))
    assert panel.role == "status"
    for control in panel.controls.values():
        for value in (control.low, control.high):
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


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("44", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\boz\b|micron", page.call().plain)
