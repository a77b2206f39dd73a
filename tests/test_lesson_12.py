"""Lesson 12: the glide in the coils, the wrong column, the tasks."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import lesson, readout, refrigerants, units
from lowside.errors import LowsideError
from lowside.lesson import hall, l12, l12_tasks
from lowside.plots import coil, glides
from lowside.screens.lessons import l12 as screen

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])

# Bubble and dew point at 101.325 kPa [°C], ASHRAE 34 / AHRI 700, from memory (CHECKS C058-C110).
BOILING_RANGES = {
    "R448A": (-45.9, -39.8),
    "R449A": (-46.0, -39.9),
    "R454C": (-46.0, -37.8),
    "R455A": (-51.6, -39.1),
    "R452A": (-47.0, -43.2),
    "R404A": (-46.6, -45.8),
}


def celsius(number):
    return float(units.to_si(number, "degC"))


def as_it_is():
    return screen.examples()["As it is now"]


def numbers(name="R448A", **changes):
    values = {**as_it_is(), "refrigerant": name, "view": "coils", **changes}
    return screen.move(READERS[1], **values).numbers


# ------------------------------------------------------------------ the lesson as data


def test_the_call_says_that_it_is_invented():
    one = lesson.get("12")
    assert "invented" in one.say(one.call, READERS[0])


def test_the_note_flatters_by_the_glide_and_what_the_lesson_says_of_it_is_true():
    fluid, now, before = l12.fluid_of_the_call(), l12.taken(), l12.as_built()
    real = fluid.superheat(now.suction_pressure, now.suction_temperature)
    noted = now.suction_temperature - fluid.bubble_temperature(now.suction_pressure)
    assert noted - real == pytest.approx(fluid.glide(now.suction_pressure), abs=1e-9)
    assert l12.real_superheat() == "a third"
    assert 0.0 < real < noted / 2
    # "Had the bubble column been brought down to that healthy figure, liquid would be leaving."
    healthy = fluid.superheat(before.suction_pressure, before.suction_temperature)
    assert healthy < fluid.glide(before.suction_pressure)
    assert l12.subcooling_from_the_wrong_column() == "more"


def test_blends_of_the_lesson_glide_and_two_of_them_burn():
    assert all(refrigerants.get(name).has_glide for name in l12_tasks.BLENDS)
    burning = [n for n in l12_tasks.BLENDS if refrigerants.get(n).facts.safety_class == "A2L"]
    assert burning == ["R454C", "R455A"]


def test_the_wrong_column_is_recognised_in_nearly_every_deal():
    for key, slip in (("superheat", "bubble for dew"), ("subcooling", "dew for bubble")):
        task = lesson.get("12").task(key)
        assert all(slip in task.deal("12", seed, READERS[0]).slips for seed in range(40))


@every_reader
def test_looked_up_numbers_the_tag_and_the_absolute_pressure_are_recognised(show):
    def dealt(key, seed):
        return lesson.get("12").task(key).deal("12", seed, show)

    for seed in range(5):
        for key, found in (("superheat", "dew"), ("subcooling", "bubble")):
            one = dealt(key, seed)
            typed = f"{show.value(one.values[found], 'temperature'):.1f}"
            assert one.check(typed).slip == f"{found} itself"
        one = dealt("mistake", seed)
        typed = show.text(one.values["noted"], "temperature_difference")
        assert one.check(typed).slip == "the tag believed"
        one = dealt("mean", seed)
        typed = show.text(one.answer, "gauge_pressure").replace("g", "a")
        assert one.check(typed).slip == "zero of the pressure"


def test_the_two_means_stand_as_the_task_says():
    # From behind the valve to dew is warmer than from bubble to dew: what enters has flashed.
    n = numbers()
    fluid, pressure = l12.fluid_of_the_call(), n["suction_pressure"]
    chart = (fluid.bubble_temperature(pressure) + fluid.dew_temperature(pressure)) / 2
    assert chart < n["mean"] < fluid.dew_temperature(pressure)


@pytest.mark.parametrize("name", l12_tasks.BLENDS)
def test_pressure_of_a_mean_lies_between_and_hits_it(name):
    fluid, mean = refrigerants.get(name), celsius(-12)
    pressure = l12_tasks.pressure_of_mean(fluid, mean)
    assert fluid.dew_pressure(mean) < pressure < fluid.bubble_pressure(mean)
    middle = (fluid.dew_temperature(pressure) + fluid.bubble_temperature(pressure)) / 2
    assert middle == pytest.approx(mean, abs=1e-6)


# ------------------------------------------------------------------ figures


def test_glides_against_published_boiling_ranges():
    # Bubble and dew may each be 0.6 K off (the uncertainty that the lesson states), so the glide
    # may be 1.2 K off.
    figure = glides.glides_figure(READERS[1], 101325.0)
    for name, (bubble, dew) in BOILING_RANGES.items():
        assert figure.numbers[name] == pytest.approx(dew - bubble, abs=1.2)
        fluid = refrigerants.get(name)
        assert fluid.bubble_temperature(101325.0) == pytest.approx(celsius(bubble), abs=0.7)
        assert fluid.dew_temperature(101325.0) == pytest.approx(celsius(dew), abs=0.7)


def test_pure_refrigerants_do_not_glide():
    figure = glides.glides_figure(READERS[0], 3e5, "R290")
    pure = [n for n in refrigerants.NAMES if not refrigerants.get(n).is_blend]
    assert len(pure) >= 5
    assert all(abs(figure.numbers[name]) < 1e-6 for name in pure)
    assert list(figure.numbers.values()) == sorted(figure.numbers.values(), reverse=True)


@pytest.mark.parametrize("name", l12_tasks.BLENDS)
@pytest.mark.parametrize("pressure", [1.5e5, 3e5, 6e5])
def test_the_line_of_the_evaporator_climbs_from_the_valve_to_dew(name, pressure):
    fluid = refrigerants.get(name)
    head = float(fluid.bubble_pressure(celsius(40)))
    dew = float(fluid.dew_temperature(pressure))
    figure = coil.coil_figure(fluid, READERS[1], pressure, dew + 6.0, head, celsius(35))
    n = figure.numbers
    assert fluid.bubble_temperature(pressure) < n["inlet"] < n["mean"] < dew
    line = next(i for i in figure.items if getattr(i, "width", 0) == 4.5 and i.axes == "evaporator")
    assert np.all(np.diff(line.y) > 0)
    warm = next(i for i in figure.items if getattr(i, "width", 0) == 4.5 and i.axes == "condenser")
    assert np.all(np.diff(warm.y) < 0)


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_the_two_columns_differ_by_the_glide(name):
    n = numbers(name)
    fluid = refrigerants.get(name)
    taken = l12.taken()
    assert n["superheat_from_bubble"] - n["superheat"] == pytest.approx(n["glide"], abs=1e-9)
    at_head = float(fluid.glide(taken.head_pressure))
    assert n["subcooling_from_dew"] - n["subcooling"] == pytest.approx(at_head, abs=1e-9)


def test_what_the_columns_say():
    show = READERS[0]
    dew = float(l12.fluid_of_the_call().dew_temperature(l12.taken().suction_pressure))
    for changes, words in (
        ({}, "there are"),
        ({"line_temperature": dew - 2.0}, "liquid is leaving the coil"),
        ({"line_temperature": dew - 20.0}, "a reading is wrong"),
        ({"name": "R290"}, "one column is enough"),
    ):
        now = numbers(**changes)
        assert words in screen.what_the_columns_say(now, now, show)
    bubble = float(l12.fluid_of_the_call().bubble_temperature(l12.taken().head_pressure))
    now = numbers(liquid=bubble + 1.0)
    assert "hides the bubbles" in screen.what_the_columns_say(now, now, show)


@pytest.mark.parametrize("name", l12_tasks.BLENDS)
@pytest.mark.parametrize("share", [0.1, 0.3])
def test_bubbles_before_the_valve_come_out_behind_it(name, share):
    # CoolProp, asked directly: temperature and enthalpy of the wet blend before the valve.
    fluid, taken = refrigerants.get(name), l12.taken()
    temperature, enthalpy, *_ = refrigerants.direct(name).saturated(taken.head_pressure, share)
    wet = numbers(name, liquid=float(temperature))
    dry = numbers(name, liquid=float(fluid.bubble_temperature(taken.head_pressure)))
    assert wet["flash_gas"] > dry["flash_gas"] + 0.3 * share
    behind = float(fluid.state_px(taken.suction_pressure, wet["flash_gas"]).enthalpy)
    assert behind == pytest.approx(float(enthalpy), abs=500.0)


def test_without_glide_nobody_can_tell_what_comes_behind_the_valve():
    fluid, taken = refrigerants.get("R290"), l12.taken()
    bubble = float(fluid.bubble_temperature(taken.head_pressure))
    wet = numbers("R290", liquid=bubble + 0.5)
    assert wet["inlet"] is wet["flash_gas"] is wet["mean"] is None
    figure = screen.move(
        READERS[1], **{**as_it_is(), "refrigerant": "R290", "liquid": bubble + 0.5, "view": "coils"}
    )
    assert "not to be told" in " ".join(getattr(item, "text", "") for item in figure.items)
    assert "no subcooling" in figure.words


@pytest.mark.parametrize("name", l12_tasks.BLENDS)
def test_a_clamp_that_can_be_stands_on_the_line(name):
    fluid, taken = refrigerants.get(name), l12.taken()
    dew = float(fluid.dew_temperature(taken.suction_pressure))
    for share in (-0.5, 0.1, 0.4):
        liquid = float(fluid.bubble_temperature(taken.head_pressure)) - 4.0
        if share > 0:
            liquid = float(fluid.state_px(taken.head_pressure, share).temperature)
        for line in (dew + 5.0, dew - 0.5):
            values = {"refrigerant": name, "liquid": liquid, "line_temperature": line}
            figure = screen.move(READERS[1], **{**as_it_is(), **values, "view": "coils"})
            for axes, clamp in (("condenser", liquid), ("evaporator", line)):
                (path,) = (
                    i for i in figure.items if getattr(i, "width", 0) == 4.5 and i.axes == axes
                )
                assert path.y[-1] == pytest.approx(clamp, abs=0.02)


def test_no_tick_praises_liquid_that_leaves_the_coil():
    taken = l12.taken()
    dew = float(l12.fluid_of_the_call().dew_temperature(taken.suction_pressure))

    def label(line_temperature):
        values = {"line_temperature": line_temperature, "view": "coils"}
        figure = screen.move(READERS[1], **{**as_it_is(), **values})
        (said,) = (
            i.text
            for i in figure.items
            if type(i).__name__ == "Brace" and i.axes == "evaporator" and "wrong" not in i.text
        )
        return said

    assert "✓" in label(dew + 6.0)
    assert "✓" not in label(dew + 0.5)
    assert label(dew - 1.0).startswith("⚠ none")


def test_both_views_tell_the_same_numbers():
    coils, diagram = numbers(), numbers(view="diagram")
    assert coils == diagram


def test_examples_come_from_boxes_of_the_hall():
    names = {values["refrigerant"] for values in screen.examples().values()}
    assert names == {hall.box(key).refrigerant for key in (l12.BOX, "soup-reach-in")} | {"R290"}


@settings(max_examples=60, deadline=None)
@given(
    name=st.sampled_from(refrigerants.NAMES),
    view=st.sampled_from(["coils", "diagram"]),
    suction=st.floats(*screen._SUCTION),
    head=st.floats(*screen._HEAD),
    line=st.floats(celsius(-45), celsius(25)),
    liquid=st.floats(celsius(5), celsius(60)),
    show=st.sampled_from(READERS),
)
def test_wherever_the_sliders_stand_there_is_a_picture_or_a_sentence(
    name, view, suction, head, line, liquid, show
):
    refused = []
    try:
        figure = screen.move(show, name, view, suction, line, head, liquid)
    except LowsideError as error:
        refused.append(show.explain(error))
    if refused:
        assert "must be" in refused[0]
        return
    assert "nan" not in figure.overlay()
    assert "nan" not in screen.what_the_columns_say(figure.numbers, figure.numbers, show)
