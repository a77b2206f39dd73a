"""Lesson 40: a box filled by its grams, the knee of undercharge, a box at rest; its questions."""

import itertools
import math
import re

import numpy as np
import pytest
from lowside import charge, flammability, lesson, readout, system
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange, UnknownName
from lowside.lesson import l40
from lowside.plots import gramsquares, knee, standing
from lowside.screens import open_lesson
from lowside.screens.lessons import l40 as shown
from lowside.screens.reader import Units
from lowside.system.closed.recount import recount

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
US, METRIC, _ = READERS
LESSON = lesson.get("40")
BOX = l40.cabinet()
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf|unknown)\b")


def running(show=METRIC, **changed):
    return knee.knee_figure(show, **{**shown.as_built(), **changed})


def resting(show=METRIC, **changed):
    return standing.standing_figure(show, **{**shown.as_standing(), **changed})


# ---------------------------------------------------------------- a box along its charge


@pytest.mark.parametrize("model", ["Zivi", "Steiner", "Premoli"])
def test_between_its_points_the_curve_says_what_the_solver_says(model):
    curve = system.refitted_curve(l40.CABINET)
    for mass in (0.0471, 0.0702, 0.0913, 0.1049, 0.1333):
        state, parts = curve.at(mass, model)
        direct = system.solve_box(BOX.box, *BOX.air, mass, model=model)
        assert sum(parts.values()) == pytest.approx(mass, rel=1e-9)
        for name, grams in direct.inventory.parts().items():
            assert parts[name] == pytest.approx(float(grams), abs=8e-5), name
        for name, near in (("suction_pressure", 500.0), ("superheat", 0.05), ("subcooling", 0.1)):
            assert state[name] == pytest.approx(float(getattr(direct, name)), abs=near), name
        assert state["capacity"] == pytest.approx(float(direct.capacity), rel=2e-3)


@pytest.mark.parametrize("model", ["Zivi", "Steiner", "Premoli"])
def test_knee_is_the_charge_that_belongs_to_no_subcooling(model):
    asked = system.solve_box(BOX.box, *BOX.air, subcooling=0.0, model=model)
    assert system.refitted_curve(l40.CABINET).knee(model) == pytest.approx(asked.charge, abs=2e-4)


def test_counting_again_is_solving_again():
    """The same states by another model: solving for the charge counted leads back to them."""
    solved = system.solve_box(BOX.box, *BOX.air, np.linspace(0.06, 0.13, 5))
    again = recount(BOX.box, solved, "Zivi")
    direct = system.solve_box(BOX.box, *BOX.air, again.total, model="Zivi")
    assert np.allclose(direct.subcooling, solved.subcooling, atol=1e-6)
    assert np.allclose(direct.inventory.condenser, again.condenser, atol=1e-8)
    assert np.allclose(recount(BOX.box, solved, "Steiner").total, solved.charge, atol=1e-9)
    one = recount(BOX.box, solved.at(2), "Zivi")
    assert one.condenser == pytest.approx(again.condenser[2])
    with pytest.raises(UnknownName, match="Zivi"):
        recount(BOX.box, solved, "Zivy")


def test_directions_along_the_charge():
    curve = system.refitted_curve(l40.CABINET)
    assert np.all(np.diff(curve.points.subcooling) > -1e-9)
    assert np.all(np.diff(curve.points.condensing_temperature) > 0.0)
    assert np.all(np.diff(curve.points.inventory.condenser) > 0.0)
    hot = system.refitted_curve(l40.CABINET, BOX.ambient_temperature + 5.0)
    assert np.all(hot.points.condensing_temperature > curve.points.condensing_temperature)
    assert curve.wide_open() < curve.knee() < BOX.charge


def test_a_bigger_drier_and_a_longer_line_move_the_knee_by_their_grams():
    """25 mL at the density of the liquid that fills them: arithmetic."""
    curve = system.refitted_curve(l40.CABINET)
    state, _ = curve.at(curve.knee())
    fluid = BOX.box.refrigerant
    density = float(fluid.state_pt(state["head_pressure"], state["inlet_temperature"]).density)
    drier = system.refitted_curve(l40.CABINET, drier=BOX.box.drier + 25e-6)
    assert drier.knee() - curve.knee() == pytest.approx(25e-6 * density, abs=3e-4)
    length = BOX.box.liquid_line.length
    longer = system.refitted_curve(l40.CABINET, liquid_length=length + 1.0)
    grams = 0.25 * math.pi * BOX.box.liquid_line.inner_diameter**2 * density
    assert longer.knee() - curve.knee() == pytest.approx(grams, abs=5e-4)


def test_the_condenser_holds_the_most():
    """So it does in bottle coolers (Purdue IRACC 1503, abstract read)."""
    _, parts = l40.as_built()
    assert max(parts, key=parts.get) == "condenser"


def test_models_move_the_evaporator_by_a_third_and_more():
    """Rice 1987, as quoted in later papers."""
    curve = system.refitted_curve(l40.CABINET)
    held = [curve.at(BOX.charge, model)[1]["evaporator"] for model in charge.void.BAND]
    assert max(held) / min(held) > 4.0 / 3.0


def test_what_a_curve_refuses():
    curve = system.refitted_curve(l40.CABINET)
    with pytest.raises(OutOfRange, match=r"(?i)charge"):
        curve.at(0.010)
    with pytest.raises(LowsideError, match="rising"):
        system.charge_curve(BOX.box, *BOX.air, [0.1, 0.09])
    short = system.refitted_curve(l40.CABINET, 316.15, 0.0, 0.5)
    with pytest.raises(NoOperatingPoint, match="critical"):
        short.at(0.150)
    with pytest.raises(UnknownName, match="cabinet"):
        system.refitted_curve("propane-reach-out")


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_cautions_stand_first_and_where_the_hand_acts():
    assert set(flammability.CAUTIONS) <= set(LESSON.cautions)
    page = open_lesson("40")
    assert "never above the nameplate" in page.explore().lead
    card = LESSON.card.html(US)
    assert card.index("Cautions") < card.index("Steps")


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {
        "most": "condenser",
        "suction": "hardly",
        "drier_grams": "gone",
        "standing": "under",
    }


def test_the_call_hides_its_shortage_from_the_suction_gauge():
    state, _ = l40.as_found()
    well, _ = l40.as_built()
    assert state["subcooling"] == pytest.approx(0.0, abs=1e-9)
    assert state["suction_pressure"] == pytest.approx(well["suction_pressure"], rel=0.05)
    assert BOX.charge > l40.FOUND


@every_reader
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(20):
        dealt = task.deal("40", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution) + dealt.hint(1) + dealt.hint(2)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right", (seed, dealt.answer_text)
        assert dealt.slips
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind, 4))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_tasks_against_arithmetic():
    v = LESSON.task("line").deal("40", 4, METRIC).values
    by_hand = 0.25 * math.pi * v["bore"] ** 2 * v["extra"] * v["density"]
    assert v["answer"] == pytest.approx(by_hand)
    v = LESSON.task("drier").deal("40", 4, METRIC).values
    assert v["answer"] == pytest.approx((v["new"] - v["old"]) * v["density"])
    # Liquid propane at 25 to 40 °C weighs 492 to 467 kg/m3 (handbook tables, from memory).
    assert 465.0 < v["density"] < 494.0
    v = LESSON.task("condenser").deal("40", 4, METRIC).values
    assert v["condenser"] + v["rest"] == pytest.approx(v["charge"])
    v = LESSON.task("silent").deal("40", 4, METRIC).values
    assert v["wide_open"] < v["knee"] < v["weighed"]


# ---------------------------------------------------------------- the drawing


def drawn_squares(items):
    """Area of what is filled, in squares."""
    total = 0.0
    for item in items:
        if type(item).__name__ == "Area":
            x, y = (np.asarray(each).reshape(-1, 6)[:, :4] for each in (item.x, item.low))
            total += float(((x.max(axis=1) - x.min(axis=1)) * gramsquares.SIDE).sum())
            assert np.allclose(y.max(axis=1) - y.min(axis=1), gramsquares.SIDE)
    return total / gramsquares.SIDE**2


@every_reader
def test_squares_weigh_what_the_box_holds(show):
    _, parts = l40.as_built()
    items = gramsquares.fill(parts, show)
    held = sum(parts[name] for name in gramsquares.PARTS)
    assert drawn_squares(items) * gramsquares.square(show) == pytest.approx(held, rel=2e-3)
    assert held == pytest.approx(BOX.charge, abs=1e-9)


def test_what_is_missing_is_hollow_and_what_is_more_is_light():
    _, before = l40.as_built()
    now = {**before, "drier": before["drier"] + 0.005, "condenser": before["condenser"] - 0.005}
    items = gramsquares.fill(now, METRIC, before)
    kinds = [type(item).__name__ for item in items]
    assert kinds.count("Line") == 1
    light = [item for item in items if getattr(item, "opacity", 1.0) < 1.0]
    assert len(light) == 1
    assert drawn_squares(light) == pytest.approx(5.0, abs=1e-6)


def test_no_frame_ever_overflows():
    """At every corner of both panels: what does not fit would be left out of the drawing."""
    corners = itertools.product(shown.AMBIENT, shown.DRIER, shown.LENGTH, charge.void.BAND)
    for ambient, drier, length, model in corners:
        curve = system.refitted_curve(l40.CABINET, ambient, drier, length)
        along = curve.charges(model)
        for mass in np.clip(shown.CHARGE, along[0], along[-1]):
            _, parts = curve.at(float(mass), model)
            assert fits(parts), (ambient, drier, length, model, mass)
    corners = itertools.product(shown.STANDING, shown.COLDER, shown.ROOM, shown.OIL)
    for mass, colder, ambient, oil in corners:
        drawn = resting(charge=mass, colder=colder, ambient=ambient, oil_mass=oil)
        assert fits(drawn.numbers["parts"]), (mass, colder, ambient, oil)


def fits(parts):
    return all(
        parts[name] / gramsquares.square(METRIC) <= part.squares
        for name, part in gramsquares.PARTS.items()
    )


# ---------------------------------------------------------------- running


@every_reader
def test_picture_words_and_strip_say_the_same(show):
    drawn = running(show)
    for place, text in drawn.readings:
        if place != "Head gauge":
            assert text in drawn.words, place
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("changed", "place", "words"),
    [
        ({}, "full", "backs up in the condenser"),
        ({"charge": 0.07}, "thin", "opens further"),
        ({"charge": 0.045}, "starved", "wide open"),
        ({"drier": 60e-6}, "thin", "keep"),
        ({"charge": 0.130}, "full", "more than the nameplate allows"),
    ],
)
def test_where_the_box_stands_on_its_curves(changed, place, words):
    drawn = running(**changed)
    assert drawn.numbers["place"] == place
    assert words in knee.why(running().numbers, drawn.numbers, METRIC)


def test_moving_the_charge_redraws_no_curve_and_no_background():
    here, there = running(), running(charge=0.08)
    assert here.background is there.background
    assert here.items[0].key == there.items[0].key
    assert here.words != there.words


# ---------------------------------------------------------------- standing


@every_reader
def test_standing_is_drawn_and_said(show):
    drawn = resting(show)
    assert "as the chart says" in drawn.words
    assert not NOT_A_NUMBER.search(drawn.words + drawn.overlay())
    assert drawn.png().startswith(b"\x89PNG")
    parts = drawn.numbers["parts"]
    assert sum(parts.values()) == pytest.approx(BOX.charge, abs=1e-9)


def test_oil_pulls_the_standing_pressure_under_the_chart():
    drawn = resting(colder=1.0)
    assert drawn.numbers["under"]
    assert drawn.numbers["liquid"] == pytest.approx(0.0, abs=1e-9)
    assert "not by itself proof" in standing.why(drawn.numbers, drawn.numbers, METRIC)
    # Without oil the same grams leave liquid, and the gauge shows the chart: gas in 2.5 L weighs
    # about 18 kg/m3, 46 g (handbook density from memory).
    dry = resting(colder=1.0, oil_mass=1e-6)
    assert not dry.numbers["under"]
    assert dry.numbers["pressure"] == pytest.approx(dry.numbers["chart"], rel=1e-9)
    gas = BOX.charge - dry.numbers["liquid"]
    assert gas == pytest.approx(18.0 * BOX.box.volume, rel=0.1)


def test_while_liquid_is_left_the_gauge_cannot_tell_how_much():
    pressures = {resting(charge=mass).numbers["pressure"] for mass in (0.09, 0.105, 0.12)}
    assert len({round(p) for p in pressures}) == 1


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("name", list(shown.PANELS))
@pytest.mark.parametrize("system_of_units", ["us", "metric"])
def test_panels_answer_in_words(name, system_of_units):
    panel = shown.PANELS[name](Units(system_of_units))
    assert panel.role == "status"
    for control in panel.controls.values():
        for value in (getattr(control, "low", None), getattr(control, "high", None)):
            if value is not None:
                panel.set(**{control.name: value})
                assert panel.role == "status", panel.words
                assert not NOT_A_NUMBER.search(panel.words + panel.figure.overlay())
    panel.views["charge"].entry.value = "plenty"
    assert panel.role == "alert"
    assert "plenty" in panel.words
    panel.reset()
    assert panel.role == "status"


def test_every_model_can_be_chosen():
    panel = shown.explore(Units("metric"))
    for model in charge.void.MODELS:
        panel.set(model=model)
        assert panel.role == "status", panel.words
        assert f"the {model} model" in panel.words


def test_a_negative_charge_is_refused_in_one_sentence():
    panel = shown.explore(Units("metric"))
    panel.views["charge"].entry.value = "-20 g"
    assert panel.role == "alert"
    with pytest.raises(OutOfRange, match=r"(?i)charge"):
        panel.set(charge=-0.02)


def test_every_example_button_works():
    for make in shown.PANELS.values():
        panel = make(Units("us"))
        for button in panel.box.children[2].children[0].children[1].children[1:]:
            button.click()
            assert panel.role == "status", panel.words


def test_the_page_opens_in_the_readers_units():
    page = open_lesson("40", units="metric", seed=3)
    assert page.explore().words == page.picture()._repr_mimebundle_()[0]["text/plain"]
    assert not re.search(r"°F|\boz\b", page.call().plain)
