"""Lesson 20: its call, its questions, its four figures and their panels."""

import math
import re

import numpy as np
import pytest
from lowside import lesson, readout, refrigerants, units, valve
from lowside.errors import LowsideError, NoOperatingPoint
from lowside.lesson import hall, l20_numbers
from lowside.plots import charges, equaliser, pulling, valvebody, valvewords
from lowside.plots.marks import Arrow
from lowside.plots.valveforces import MOST, forces_figure
from lowside.screens.lessons import l20 as shown
from lowside.screens.reader import Units
from lowside.system import Status

US, METRIC = readout.choose("us"), readout.choose("metric")
LESSON = lesson.get("20")
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
every_task = pytest.mark.parametrize("task", LESSON.tasks, ids=lambda task: task.key)
NOT_A_NUMBER = re.compile(r"\b(nan|inf)\b")


def forces(show=US, **changed):
    return forces_figure(show, **{**shown.as_planned(), **changed})


def bulbs(show=US, **changed):
    return charges.charges_figure(show, **{**shown.as_bulb(), **changed})


def drop(show=US, **changed):
    return equaliser.equaliser_figure(show, **{**shown.as_fitted(), **changed})


def pull(show=US, share=0.2, **changed):
    return pulling.pulling_figure(show, share, **{**l20_numbers.freezer(), **changed})


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_the_room_of_the_call_is_in_balance():
    box, found = hall.box(l20_numbers.BOX), l20_numbers.as_found()
    outside, air = box.summer_ambient, float(found.air_temperature)
    gain = box.design_load * (outside - air) / (outside - box.box_temperature)
    assert found.capacity == pytest.approx(gain, rel=2e-3)
    assert found.status == Status.SOLVED


def test_the_call_is_worth_a_call():
    # FDA Food Code 3-501.16: cold holding at 5 °C (41 °F) or below (read in state codes).
    found = l20_numbers.as_found()
    assert found.air_temperature > units.to_si(41.0, "degF")
    # More than 12 °F of superheat is more than anyone sets: common practice, no published source.
    assert units.from_si(float(found.superheat), "degF_difference") > 15.0


def test_the_distributor_takes_what_distributors_take():
    # Hundy, Trott and Welch, Refrigeration and Air-Conditioning (text copy read): 1 to 2 bar.
    assert 1.0e5 <= l20_numbers.DISTRIBUTOR <= 2.0e5
    point = l20_numbers.run(l20_numbers.planned())
    lost = l20_numbers.planned().evaporator.distributor_coefficient * point.mass_flow**2
    assert lost == pytest.approx(l20_numbers.DISTRIBUTOR, rel=0.02)


def test_a_coil_with_a_distributor_wants_its_line():
    """Common practice, no published source: external equaliser on a coil with a distributor."""
    right, wrong = (
        l20_numbers.run(built) for built in (l20_numbers.planned(), l20_numbers.fitted())
    )
    box = hall.box(l20_numbers.BOX)
    assert right.capacity == pytest.approx(box.design_load, rel=0.01)
    # Usual operating superheat of coolers, 6 to 10 °F (common practice, no published source).
    assert 6.0 < units.from_si(float(right.superheat), "degF_difference") < 10.0
    assert wrong.capacity < 0.9 * right.capacity
    assert wrong.superheat > 2.0 * right.superheat


def test_the_stem_cannot_mend_it():
    turned, wrong = l20_numbers.turned_out(), l20_numbers.run(l20_numbers.fitted())
    assert wrong.capacity < turned.capacity < 1.03 * wrong.capacity
    built = l20_numbers.planned().valve
    fluid = l20_numbers.planned().refrigerant
    assert valve.spring_pressure(built, fluid) < 0.5 * l20_numbers.DISTRIBUTOR


def test_predictions_come_true_as_the_physics_says():
    outcomes = {p.key: p.outcome() for p in LESSON.predictions}
    assert outcomes == {"stem": "static", "colder": "double", "cost": "much"}


@both_units
def test_texts_are_filled(show):
    for text in (LESSON.call, *LESSON.notes.values(), *(t for _, t in LESSON.readings)):
        said = LESSON.say(text, show)
        assert "{" not in said
        assert not NOT_A_NUMBER.search(said)
        assert ("°F" in said or "psi" in said) == (show is US)


@both_units
def test_what_is_written_in_the_call_subtracts(show):
    said = dict(LESSON.readings)
    number = {
        name: float(LESSON.say(said[name], show).split()[0])
        for name in ("Suction gauge", "Gauge behind the valve", "Suction-line clamp")
    }
    call = LESSON.say(LESSON.call, show)
    superheat = float(re.search(r": (-?[\d.]+) \S+ of superheat", call)[1])
    dew = float(re.search(r"pressure is (-?[\d.]+)", call)[1])
    assert number["Suction-line clamp"] - dew == pytest.approx(superheat, abs=1e-6)
    lost = float(re.search(r"That is ([\d.]+)", call)[1])
    between = number["Gauge behind the valve"] - number["Suction gauge"]
    assert between == pytest.approx(lost, abs=0.051 if show is METRIC else 0.11)


@both_units
@every_task
def test_every_learner_gets_a_task_that_can_be_judged(task, show):
    for seed in range(25):
        dealt = task.deal("20", seed, show)
        assert "{" not in dealt.question + "".join(dealt.solution)
        assert math.isfinite(dealt.answer)
        assert dealt.check(dealt.answer_text).kind == "right"
        for slip, wrong in dealt.slips.items():
            verdict = dealt.check(show.text(wrong, task.kind))
            assert (verdict.kind, verdict.slip) == ("slip", slip), (seed, verdict)


def test_the_panel_answers_the_task_about_the_cold():
    for seed in range(6):
        dealt = LESSON.task("cold").deal("20", seed, US)
        value = dealt.values
        drawn = bulbs(
            refrigerant=value["refrigerant"],
            set_at=value["set_at"],
            static=value["as_set"],
            evaporating=value["cold"],
        )
        assert drawn.numbers["of_liquid"] == pytest.approx(dealt.answer, abs=1e-6)
        # Both lie within the sliders of the panel.
        controls = shown.compare_bulbs(Units("us")).controls
        for name, given in (("set_at", "set_at"), ("static", "as_set"), ("evaporating", "cold")):
            controls[name].check(value[given])


def test_the_card_waits_as_long_as_the_manual():
    # US Army TM 5-4120-356-14 (read): at least 20 minutes between adjustments.
    assert LESSON.card.quantities["wait"][0] >= 20 * 60.0


# ---------------------------------------------------------------- the forces


@both_units
@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_every_refrigerant_has_its_picture(name, show):
    drawn = forces(show, refrigerant=name)
    assert name in drawn.words
    assert not NOT_A_NUMBER.search(drawn.overlay() + drawn.words)
    assert drawn.numbers["static"] == pytest.approx(3.0, abs=0.01)


@pytest.mark.parametrize(
    "changed",
    [
        {},
        {"turns": 2.0},
        {"load_share": 0.2},
        {"evaporating": 248.15},
        {"condensing": 300.0},
        {"balanced": True, "condensing": 300.0},
    ],
)
def test_what_opens_equals_what_shuts_where_the_valve_settles(changed):
    n = forces(**changed).numbers
    assert n["lift_share"] == pytest.approx(n["need"], rel=1e-3)
    opening = n["bulb_force"] + n["port_force"]
    assert opening == pytest.approx(n["evaporator_force"] + n["spring_force"], abs=0.02)
    assert n["fed"] == pytest.approx(1.0, abs=2e-3)


def test_seat_and_stop_carry_the_rest():
    shut, wide = (forces(held=True, superheat=s).numbers for s in (1.0, 15.0))
    for n, sign in ((shut, -1.0), (wide, 1.0)):
        net = n["bulb_force"] + n["port_force"] - n["evaporator_force"] - n["spring_force"]
        assert sign * net == pytest.approx(n["seat"] + n["stop"])
        assert sign * net > 0.0
    assert shut["lift_share"] == 0.0
    assert wide["lift_share"] == 1.0


def test_arrows_are_as_long_as_their_forces():
    balance = valve.Forces(250.0, 12.0, 200.0, 40.0, 22.0, 1e-4)
    lengths = [
        abs(mark.y1 - mark.y0)
        for mark in valvebody.force_arrows(balance, METRIC)
        if isinstance(mark, Arrow)
    ]
    expected = [force * valvebody.PIXELS_PER_NEWTON for force in (250.0, 200.0, 12.0, 62.0)]
    assert lengths == pytest.approx(expected, abs=1.01)  # a pixel short of the line they push on


def test_the_stem_moves_the_static_superheat_and_the_load_the_opening_one():
    start = forces().numbers
    turned, light = forces(turns=1.0).numbers, forces(load_share=0.5).numbers
    assert turned["static"] > start["static"] + 1.0
    assert turned["opening"] == pytest.approx(start["opening"], rel=0.1)
    assert turned["need"] == pytest.approx(start["need"], rel=0.02)
    assert light["static"] == pytest.approx(start["static"], abs=0.15)
    assert light["opening"] < 0.6 * start["opening"]


@both_units
@pytest.mark.parametrize("turns", [-1.0, 0.0, 0.25, 1.5])
def test_static_and_opening_add_up_as_written(turns, show):
    n = forces(show, turns=turns).numbers
    static, opening, operating = (float(text.split()[0]) for text in valvewords.superheats(show, n))
    assert static + opening == pytest.approx(operating, abs=1e-6)
    said = dict(valvewords.readings(show, n))
    assert float(said["Superheat"].split()[0]) == pytest.approx(operating, abs=1e-6)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({}, "nearly cancel"),
        ({"turns": 1.0}, "only moves sideways"),
        ({"turns": -1.0}, "less superheat to leave"),
        ({"load_share": 0.3}, "Nobody touched"),
        ({"evaporating": 250.0}, "worth more degrees"),
        ({"evaporating": 279.0}, "worth fewer degrees"),
        ({"condensing": 300.0}, "head pushes on the pin"),
        ({"balanced": True}, "nearly cancel"),
        ({"load_share": 2.0}, "bigger port"),
        ({"held": True, "superheat": 1.0}, "too cold to lift"),
        ({"held": True, "superheat": 4.0}, "less than boils"),
        ({"held": True, "superheat": 8.0}, "more than boils"),
    ],
)
def test_what_changed_and_why(changed, words):
    start, now = forces().numbers, forces(**changed).numbers
    assert words in valvewords.why(start, now, US)


def test_a_spring_let_out_too_far_is_answered_in_words():
    with pytest.raises(NoOperatingPoint, match="slack"):
        forces(turns=-3.0, balanced=True)
    with pytest.raises(LowsideError, match="static superheat"):
        forces(turns=-3.0)


def test_moving_leaves_the_background_alone():
    here = forces()
    for changed in ({"turns": 1.0}, {"load_share": 0.4}, {"held": True}, {"evaporating": 250.0}):
        there = forces(**changed)
        assert there.background is here.background
        assert there.words != here.words


def test_pictures_print():
    for drawn in (forces(), bulbs(), drop(), pull()):
        assert drawn.png().startswith(b"\x89PNG")


# ---------------------------------------------------------------- three bulbs


@both_units
def test_liquid_rises_in_the_cold_cross_stays_gas_shuts(show):
    cold, warm = (bulbs(show, evaporating=t).numbers for t in (240.0, 256.0))
    assert cold["of_liquid"] > 1.3 * warm["of_liquid"]
    assert abs(cold["of_cross"] - warm["of_cross"]) < 0.5
    assert cold["of_gas"] == pytest.approx(cold["of_liquid"])
    above = bulbs(show, evaporating=263.15, charge="gas")
    assert above.numbers["superheat"] > charges.SHUT
    assert "shut" in above.words
    assert "spares the compressor" in charges.why({}, above.numbers, show)


def test_all_bulbs_are_set_alike():
    setting = shown.as_bulb()
    n = bulbs(evaporating=setting["set_at"]).numbers
    for name in charges.NAMES:
        assert n[f"of_{name}"] == pytest.approx(setting["static"], abs=5e-3)


# ---------------------------------------------------------------- the equaliser


def test_what_the_drop_is_worth_grows_as_it_gets_colder():
    """Fall of the dew line over the drop, counted at the bulb: properties alone."""
    fluid = refrigerants.get(hall.box(l20_numbers.BOX).refrigerant)
    worth = []
    for evaporating in (278.15, 268.15, 258.15, 248.15):
        n = drop(evaporating=evaporating, drop=3e4).numbers
        worth.append(n["of_internal"] - n["of_external"])
        bulb = fluid.dew_pressure(evaporating + n["of_external"])
        expected = fluid.dew_temperature(bulb + n["drop"]) - (evaporating + n["of_external"])
        assert worth[-1] == pytest.approx(expected, rel=0.06)
    assert np.all(np.diff(worth) > 0.0)


def test_external_hears_nothing_of_the_drop():
    superheats = [drop(external=True, drop=d).numbers["superheat"] for d in (0.0, 0.5e5, 1.5e5)]
    assert np.ptp(superheats) < 0.3  # the pin only stands a little further open
    internal = [drop(drop=d).numbers["superheat"] for d in (0.0, 0.5e5, 1.5e5)]
    assert internal[2] - internal[0] > 5.0


def test_the_drop_goes_with_the_square_of_the_flow_and_the_spring_does_not():
    full, light = (drop(drop=5e4, turns=-1.5, load_share=s).numbers for s in (1.0, 0.3))
    assert light["drop"] / full["drop"] == pytest.approx(0.09, rel=0.1)
    assert full["superheat"] > 3.5
    assert light["superheat"] < 2.0
    assert "near the compressor" in equaliser.why(full, light, US)


@both_units
@pytest.mark.parametrize("changed", [{}, {"external": True}, {"drop": 2e4, "turns": 1.0}])
def test_the_worth_of_the_drop_subtracts_as_written(changed, show):
    drawn = drop(show, **changed)
    external, internal, worth = (
        float(re.search(pattern, drawn.words)[1])
        for pattern in (r"takes ([\d.]+)", r"and ([\d.]+) \S+ with an internal", r"worth ([\d.]+)")
    )
    assert internal - external == pytest.approx(worth, abs=0.11)


# ---------------------------------------------------------------- the pull-down


def test_the_limit_spares_the_motor_and_costs_time_and_hotter_gas():
    n = pull().numbers
    assert n["limited_most_power"] < n["plain_most_power"] - 0.1
    assert n["limited_time"] > n["plain_time"]
    assert n["limited_hottest"] > n["plain_hottest"]
    said = pulling.why(n, n, US)
    assert "hotter gas" in said
    assert US.text(n["plain_most_power"], "ratio") in said


def test_a_start_below_the_limit_makes_no_difference():
    n = pull(warm=258.15, highest=273.15).numbers
    assert n["limited_most_power"] == pytest.approx(n["plain_most_power"], abs=1e-6)
    assert "the two valves" in pulling.why(n, n, US)


def test_moving_the_time_solves_nothing_anew():
    here, there = pull(share=0.1), pull(share=0.9)
    assert here.background is there.background
    assert here.numbers["plain_time"] == there.numbers["plain_time"]
    assert here.numbers["plain_air"] > there.numbers["plain_air"]


# ---------------------------------------------------------------- the panels


@pytest.mark.parametrize("make", shown.PANELS.values(), ids=shown.PANELS)
def test_corners_of_the_panels_are_answers_or_words(make):
    panel = make(Units("us"))
    ranged = {name: c for name, c in panel.controls.items() if hasattr(c, "step")}
    names = list(ranged)
    for number in range(24):
        corner = {
            name: (ranged[name].low, ranged[name].high)[(number * 7 + 3 * place) // (place + 1) % 2]
            for place, name in enumerate(names)
        }
        if "refrigerant" in panel.controls:
            corner["refrigerant"] = refrigerants.NAMES[number % len(refrigerants.NAMES)]
        panel.set(**corner)
        assert panel.words
        assert not NOT_A_NUMBER.search(panel.figure.overlay() + panel.words)
        if panel.role == "status" and "superheat" in panel.figure.numbers:
            assert math.isfinite(panel.figure.numbers["superheat"])
    panel.reset()
    assert panel.role == "status"


@pytest.mark.parametrize("make", shown.PANELS.values(), ids=shown.PANELS)
def test_examples_are_answers(make):
    panel = make(Units("metric"))
    for button in panel.box.children[2].children[0].children[1].children:
        button.click()
        assert panel.role == "status", panel.words
        assert "°F" not in panel.words + panel.reason


def test_the_main_panel_starts_with_the_picture():
    assert shown.explore(Units("us")).words == shown.picture(US).words
    assert shown.as_planned()["superheat"] < MOST


@pytest.mark.parametrize("bad", [{"evaporating": math.nan}, {"load_share": 0.0}])
def test_nonsense_is_refused(bad):
    with pytest.raises(LowsideError):
        forces(**bad)
