"""Lesson 10: the box of the call, the cycle that moves, a person's own readings, the tasks."""

import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import lesson, readings, readout, refrigerants, units
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange
from lowside.lesson import hall, l10, l10_tasks, plant
from lowside.plots import own
from lowside.readings.finding import HOT_DISCHARGE
from lowside.screens.lessons import l10 as screen

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]
VALVE_BOXES = [box for box in hall.boxes() if isinstance(box.metering, hall.ExpansionValve)]

every_reader = pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])


def celsius(number):
    return float(units.to_si(number, "degC"))


# ------------------------------------------------------------------ the hall, running


@pytest.mark.parametrize("box", VALVE_BOXES, ids=lambda box: box.key)
def test_every_valve_box_carries_its_load_with_its_own_port(box):
    built, point = plant.low_side(box), plant.run(box)
    assert built.valve.port.diameter == pytest.approx(box.metering.port, rel=1e-6)
    assert point.capacity == pytest.approx(box.design_load, rel=1e-6)
    assert point.evaporating_temperature == pytest.approx(box.evaporating_temperature, abs=1e-3)
    assert 0.3 < point.lift_share < 0.8


def test_a_capillary_box_has_no_valve():
    with pytest.raises(LowsideError, match="no thermostatic valve"):
        plant.low_side(hall.box("dairy-reach-in"))


def test_a_looser_spring_lowers_superheat():
    box = hall.box("fish-freezer")
    assert plant.run(box, 0.5).superheat < plant.run(box).superheat


def test_cycle_of_the_call_balances_and_meets_the_readings():
    result, taken = plant.cycle_of(hall.box(l10.BOX)), l10.taken()
    assert result.rejection == pytest.approx(result.cooling + result.work, rel=1e-9)
    assert result.suction.temperature == pytest.approx(taken.suction_temperature, abs=1e-6)
    assert result.discharge.temperature == pytest.approx(taken.discharge_temperature, abs=1e-3)


def test_readings_of_the_call_against_coolprop():
    # CoolProp, asked directly and not through the shipped tables.
    from CoolProp.CoolProp import PropsSI

    taken = l10.taken()
    meaning = readings.interpret(refrigerants.get("R290"), taken)
    dew = PropsSI("T", "P", taken.suction_pressure, "Q", 1, "R290")
    bubble = PropsSI("T", "P", taken.head_pressure, "Q", 0, "R290")
    assert meaning.superheat == pytest.approx(taken.suction_temperature - dew, abs=0.02)
    assert meaning.subcooling == pytest.approx(bubble - taken.liquid_temperature, abs=0.02)
    before = PropsSI("H", "T", taken.liquid_temperature, "P", taken.head_pressure, "R290")
    edge = [PropsSI("H", "P", taken.suction_pressure, "Q", q, "R290") for q in (0, 1)]
    share = (before - edge[0]) / (edge[1] - edge[0])
    assert plant.cycle_of(hall.box(l10.BOX)).flash_gas == pytest.approx(share, abs=1e-3)


# ------------------------------------------------------------------ the lesson as data


def test_the_call_says_that_it_is_invented():
    one = lesson.get("10")
    assert "invented" in one.say(one.call, READERS[0])


def test_predictions_come_true_as_the_cycle_says():
    now, hot = plant.cycle_of(hall.box(l10.BOX)), l10.hot_day()
    assert hot.flash_gas > now.flash_gas
    assert l10.cooling_on_a_hot_day() == "less"
    assert hot.cooling < 0.98 * now.cooling
    assert l10.vapour_behind_the_valve() == "part"
    assert 0.02 < now.flash_gas < 0.5


def test_flash_against_a_textbook_cycle():
    # Cengel & Boles, example 11-1 (R134a, 0.14 to 0.80 MPa); the tables of the book, from memory:
    # saturated at 31.31 and -18.77 °C, hf(0.80 MPa) 95.47, hf(0.14 MPa) 27.08, hg 239.16 kJ/kg,
    # hence a share of (95.47 - 27.08) / (239.16 - 27.08) = 0.322 behind the valve.
    values = SimpleNamespace(
        refrigerant="R134a", liquid_temperature=celsius(31.31), evaporating=celsius(-18.77)
    )
    assert l10_tasks.FLASH.solve(values)["answer"] == pytest.approx(0.322, abs=0.003)


def test_isobutane_at_the_barometer_boils_at_its_normal_boiling_point():
    # Isobutane: -11.7 °C at 101.325 kPa (ASHRAE 34, from memory). Standard atmosphere at 2000 m:
    # 79 495 Pa (ISO 2533, from memory).
    at_sea = l10_tasks.MOUNTAIN.solve(SimpleNamespace(altitude=0.0, reading=0.0))
    assert at_sea["answer"] == pytest.approx(celsius(-11.7), abs=0.2)
    up_high = l10_tasks.MOUNTAIN.solve(SimpleNamespace(altitude=2000.0, reading=21830.0))
    assert up_high["barometer"] == pytest.approx(79495.0, abs=10.0)
    assert up_high["answer"] == pytest.approx(celsius(-11.7), abs=0.2)


@every_reader
@pytest.mark.parametrize(
    ("key", "found", "slip"),
    [("superheat", "dew", "dew itself"), ("subcooling", "bubble", "bubble itself")],
)
def test_the_number_that_was_looked_up_is_not_the_answer(key, found, slip, show):
    for seed in range(5):
        dealt = lesson.get("10").task(key).deal("10", seed, show)
        typed = f"{show.value(dealt.values[found], 'temperature'):.1f}"
        assert dealt.check(typed).slip == slip


def test_a_share_typed_as_a_fraction_is_recognised():
    dealt = lesson.get("10").task("flash").deal("10", 1, READERS[0])
    assert dealt.check(f"{dealt.answer:.2f}").slip == "fraction for percent"
    assert dealt.check(f"{100 * dealt.answer:.0f}").kind == "right"


@every_reader
@pytest.mark.parametrize("number", ["10", "12"])
def test_no_hint_does_the_looking_up_or_the_sum(number, show):
    for task in lesson.get(number).tasks:
        dealt = task.deal(number, 1, show)
        asked = dealt.question
        for level in (1, 2):
            for number_said in re.findall(
                r"-?\d+(?:\.\d+)? ?(?:°[FC]|psi[ag]?|bar[ag]?|K|%)", dealt.hint(level)
            ):
                assert number_said in asked


# ------------------------------------------------------------------ the cycle that moves

START = {
    "evaporating": celsius(-8),
    "condensing": celsius(42),
    "superheat": 6.0,
    "subcooling": 5.0,
    "efficiency": 0.7,
}


def moved(refrigerant, **changes):
    return screen.move(READERS[1], refrigerant, **{**START, **changes}).numbers


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_the_sentences_on_causes_are_true_for_every_refrigerant(name):
    start = moved(name)
    warm, cold = moved(name, evaporating=celsius(-3)), moved(name, evaporating=celsius(-18))
    assert warm["work"] < start["work"] < cold["work"]
    assert warm["discharge_temperature"] < start["discharge_temperature"]
    assert start["discharge_temperature"] < cold["discharge_temperature"]
    assert cold["flash_gas"] > start["flash_gas"]
    hot = moved(name, condensing=celsius(50))
    assert hot["flash_gas"] > start["flash_gas"]
    assert hot["work"] > start["work"]
    dry = moved(name, superheat=12.0)
    assert dry["cooling"] > start["cooling"]
    assert dry["discharge_temperature"] > start["discharge_temperature"]
    cool = moved(name, subcooling=10.0)
    assert cool["flash_gas"] < start["flash_gas"]
    assert cool["work"] == pytest.approx(start["work"], rel=1e-9)
    poor = moved(name, efficiency=0.6)
    assert poor["cooling"] == pytest.approx(start["cooling"], rel=1e-9)
    assert poor["discharge_temperature"] > start["discharge_temperature"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({}, "Nothing has moved"),
        ({"condensing": celsius(50)}, "Hotter condensing"),
        ({"evaporating": celsius(-20)}, "colder coil"),
        ({"superheat": 0.0}, "Less superheat"),
        ({"subcooling": 12.0}, "More subcooling"),
        ({"efficiency": 0.9}, "better compressor"),
    ],
)
def test_what_changed_names_what_moved(change, words):
    said = screen.what_changed(moved("R290"), moved("R290", **change), READERS[0])
    assert words in said


def test_a_discharge_too_hot_for_oil_is_remarked():
    cool = screen.move(READERS[1], "R290", **START)
    assert cool.remarks == ()
    hot = screen.move(READERS[1], "R290", **{**START, "efficiency": 0.5, "condensing": celsius(60)})
    assert hot.numbers["discharge_temperature"] > HOT_DISCHARGE
    assert "oil suffers" in hot.remarks[0][1]
    assert "105.0 °C" in hot.words


def test_beyond_the_tables_it_says_so():
    with pytest.raises(NoOperatingPoint, match="end of our tables"):
        screen.move(READERS[1], "R22", celsius(-35), celsius(60), 30.0, 0.0, 0.5)


def test_another_refrigerant_is_named():
    said = screen.what_changed(moved("R290"), moved("R600a"), READERS[0])
    assert "R600a boils at other pressures than R290" in said


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_a_cycle_reaching_far_right_stays_in_the_picture(name):
    figure = screen.move(
        READERS[1], name, celsius(-25), celsius(50), superheat=15.0, subcooling=0.0, efficiency=0.65
    )
    frame = figure.background.frames["main"]
    for item in figure.items:
        if hasattr(item, "number"):
            assert frame.left <= frame.x(item.x)[0] <= frame.right


# ------------------------------------------------------------------ a person's own readings


def placed(refrigerant="R290", show=READERS[0], **changes):
    taken = replace(l10.taken(), **changes)
    return own.readings_figure(refrigerants.get(refrigerant), taken, show)


@every_reader
def test_a_healthy_box_is_in_order(show):
    figure = placed(show=show)
    assert figure.remarks == (own.IN_ORDER,)
    shown = dict(figure.readings)
    degrees = l10.taken().suction_temperature - 273.15 + 5.0
    assert shown["Superheat"] == show.text(degrees, "temperature_difference")
    assert figure.words.startswith(figure.caption)
    assert own.IN_ORDER[1] in figure.words


def test_what_was_not_read_is_not_judged():
    blank = dict.fromkeys(readings.KIND)
    taken = {**blank, "suction_pressure": 4e5, "suction_temperature": celsius(4)}
    figure = screen.place(READERS[0], "R290", **taken)
    (so_far, judged), (not_judged, missing) = figure.remarks
    assert (so_far, not_judged) == ("So far", "Not judged")
    assert judged.startswith("superheat can be right")
    for side in ("subcooling", "condenser against its air", "coil against box air"):
        assert side in missing
    figure = screen.place(READERS[0], "R290", **{**blank, "suction_pressure": 4e5})
    assert [weight for weight, _ in figure.remarks] == ["Not judged"]


def test_a_deep_vacuum_is_answered_and_not_refused():
    # 21 inHg below the barometer: the tables of propane end above it.
    figure = placed(suction_pressure=0.3e5)
    assert "below the barometer" in figure.words
    assert "Superheat" not in dict(figure.readings)
    assert "Subcooling" in dict(figure.readings)
    labels = [getattr(item, "text", "") for item in figure.items]
    assert "head gauge" in labels
    assert "suction gauge" not in labels


def test_several_doubts_may_be_one_mistake():
    taken = l10.taken()
    swapped = placed(
        suction_temperature=taken.liquid_temperature, liquid_temperature=taken.suction_temperature
    )
    doubts = [said for weight, said in swapped.remarks if weight in ("Cannot be", "Look again")]
    assert len(doubts) > 1
    assert "may be one mistake" in doubts[0]
    assert not any("may be one mistake" in said for said in doubts[1:])


def test_a_difference_within_the_error_is_not_doubted_on_the_figure():
    taken = l10.taken()
    dew = float(refrigerants.get("R290").dew_temperature(taken.suction_pressure))
    figure = placed(suction_temperature=dew - 0.3)
    labels = " ".join(getattr(item, "text", "") for item in figure.items)
    assert "suction line" in labels
    assert "below dew" not in labels


def test_swapped_hoses_stop_everything_else():
    taken = l10.taken()
    figure = placed(suction_pressure=taken.head_pressure, head_pressure=taken.suction_pressure)
    assert [weight for weight, _ in figure.remarks] == ["Cannot be"]
    assert "hoses may be swapped" in figure.words
    assert figure.readings == ()
    assert not [item for item in figure.items if type(item).__name__ in ("Markers", "Brace")]


def test_celsius_written_as_fahrenheit_is_found():
    values = screen.examples()["°C written as °F"]
    figure = screen.place(READERS[0], **values)
    assert figure.remarks[0][0] == "Cannot be"
    assert "°C, not °F" in figure.remarks[0][1]
    assert "below dew?" in " ".join(getattr(item, "text", "") for item in figure.items)


def test_another_refrigerant_is_guessed():
    figure = screen.place(READERS[0], **screen.examples()["Wrong refrigerant"])
    assert "R290" in figure.remarks[0][1]


def test_remarks_stand_worst_first():
    figure = placed(
        discharge_temperature=celsius(120), liquid_temperature=celsius(50), suction_pressure=0.8e5
    )
    weights = [weight for weight, _ in figure.remarks]
    assert len(set(weights)) > 1
    assert weights == sorted(weights, key=list(own.WEIGHTS.values()).index)


def test_nothing_measured_is_said_and_not_judged():
    figure = screen.place(READERS[0], **screen.examples()["All blank"])
    assert "no gauge reading yet" in figure.words
    assert figure.remarks == figure.readings == ()


def test_a_gauge_beyond_the_refrigerant_is_refused_by_its_name():
    with pytest.raises(OutOfRange) as refusal:
        placed(head_pressure=6.0e6)
    sentence = READERS[0].explain(refusal.value)
    assert sentence.startswith("The head pressure of a box with R290 is")
    assert "psig" in sentence


def test_a_clamp_beyond_the_tables_still_gets_its_superheat():
    figure = placed(suction_temperature=celsius(120))
    assert dict(figure.readings)["Superheat"] == READERS[0].text(125.0, "temperature_difference")
    assert "Look again" in [weight for weight, _ in figure.remarks]


PRESSURES = st.one_of(st.none(), st.floats(5e4, 25e5))
CLAMPS = st.one_of(st.none(), st.floats(celsius(-60), celsius(160)))


@settings(max_examples=40, deadline=None)
@given(
    name=st.sampled_from(refrigerants.NAMES),
    taken=st.builds(
        readings.Readings,
        suction_pressure=PRESSURES,
        head_pressure=PRESSURES,
        **{key: CLAMPS for key, kind in readings.KIND.items() if kind == "temperature"},
    ),
    show=st.sampled_from(READERS),
)
def test_whatever_is_typed_is_answered_in_words(name, taken, show):
    refused = []
    try:
        figure = own.readings_figure(refrigerants.get(name), taken, show)
    except OutOfRange as error:
        refused.append(error.quantity)
    if refused:
        assert refused[0].endswith(name)
        return
    assert "nan" not in figure.words
    svg = figure.overlay()
    assert "nan" not in svg
    frame = figure.background.frames["main"]
    for item in figure.items:
        if type(item).__name__ == "Markers":
            x = float(np.ravel(frame.x(item.x))[0])
            y = float(np.ravel(frame.y(item.y))[0])
            assert frame.left - 1 <= x <= frame.right + 1
            assert frame.top - 1 <= y <= frame.bottom + 1
