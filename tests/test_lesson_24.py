"""Lesson 24: its call, its questions, its figure and its panel."""

import math

import numpy as np
import pytest
from lowside import kit, lesson, readout, refrigerants, units, valve
from lowside.errors import OutOfRange
from lowside.kit import reasons
from lowside.lesson import hall, l24_numbers
from lowside.plots import cornerwords
from lowside.plots.corners import SIZES, corner_figure
from lowside.plots.marks import Text
from lowside.screens.lessons import l24 as shown
from lowside.screens.reader import Units

US, METRIC = readout.choose("us"), readout.choose("metric")
LESSON = lesson.get("24")
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])


def figure(show=US, **changed):
    return corner_figure(show, **{**l24_numbers.conditions(), **changed})


def texts(drawn):
    return [item.text for item in drawn.items if isinstance(item, Text)]


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_the_build_of_the_call_is_what_the_trade_would_build():
    # A freezer whose compressor must not see a warm coil gets a valve with a pressure limit; a coil
    # with a distributor an external equaliser: common practice, no published source.
    build = l24_numbers.choice().build
    assert build.element.charge == "gas"
    assert build.body.external
    assert build.body.connection == "braze"


def test_the_gauges_of_the_call_are_those_of_the_solved_box():
    said = LESSON.quantities()
    leaving, entering, behind = (
        said[name][0] for name in ("coil_end", "coil_start", "behind_valve")
    )
    assert entering - leaving == pytest.approx(l24_numbers.COIL_DROP, rel=0.1)
    # Hundy, Trott, Welch: a distributor loses 1 to 2 bar.
    assert 1e5 <= behind - entering <= 2e5
    box = hall.box(l24_numbers.BOX)
    dew = refrigerants.get(box.refrigerant).dew_temperature(leaving)
    assert dew == pytest.approx(box.evaporating_temperature, abs=0.3)


def test_the_port_of_the_halls_plan_meets_every_corner_too():
    assert l24_numbers.choice().best.meets[l24_numbers.planned_index()]


@pytest.mark.parametrize(
    ("key", "name"), [("butcher-walk-in", "Butcher's walk-in"), ("produce-room", "Large cold room")]
)
def test_the_kit_finds_the_ports_of_the_halls_plan(key, name):
    # The hall's ports were chosen by hand before there was a kit.
    box, panel = hall.box(key), shown.explore(Units("us"))
    panel.set(**shown.examples()[name])
    cartridge = panel.figure.numbers["choice"].build.cartridge
    assert cartridge.port == pytest.approx(box.metering.port)
    assert cartridge.balance == pytest.approx(box.metering.balance)


def test_predictions_come_true_as_solved():
    chosen = l24_numbers.choice()
    job, setting = chosen.job, chosen.job.setting
    below = kit.Build(
        chosen.build.body, chosen.best.cartridges[chosen.neighbour(-1)], chosen.build.element
    )
    points = job.solve(below.valve(setting))
    assert l24_numbers.decides() == "hot, full load"
    assert points.lift_share[kit.HOT_FULL] > chosen.limits.most_lift
    assert points.capacity[kit.COLD_FULL] > job.load
    liquid = kit.elements(job.refrigerant, job.evaporating_temperature)[0]
    planned = chosen.best.cartridges[l24_numbers.planned_index()]
    warm = job.solve(kit.Build(chosen.build.body, planned, liquid).valve(setting)).at(kit.PULL_DOWN)
    assert l24_numbers.pulls_down() == "above"
    assert warm.evaporating_temperature > job.highest_evaporating + 2.0
    assert l24_numbers.ring_against_mesh() == "narrower"


def test_the_ring_is_the_shortest_way_from_seat_to_pin():
    # The seat's edge is a point, the pin a line; the nearest of many points on it.
    for corner in (kit.HOT_FULL, kit.HOT_LEAST):
        chosen = l24_numbers.choice()
        lift = float(chosen.best.points.lift[chosen.index, corner])
        angle, radius = chosen.cartridge.half_angle, 0.5 * chosen.cartridge.port
        depth = np.linspace(-2e-3, 2e-3, 400_001)
        pin = radius + (depth - lift) * math.tan(angle)
        distance = np.hypot(depth, pin - radius).min()
        assert l24_numbers.ring(corner) == pytest.approx(distance, rel=1e-4)


def test_propane_is_a_band_and_the_kits_sizes_cover_it():
    low, high = l24_numbers.propane_band()
    first, last = l24_numbers.between(low, high)
    assert first <= low < high <= last
    assert high / low > 1.2


def test_a_gas_charge_shuts_where_bulb_and_spring_balance():
    # Task 3 against the forces on the pin themselves.
    dealt = LESSON.task("limit").deal("24", 5, METRIC)
    values = dealt.values
    fluid = refrigerants.get(values["refrigerant"])
    bulb = float(fluid.dew_temperature(values["dry"]))
    reference = float(fluid.dew_temperature(values["dry"] - values["spring"]))
    hardware = valve.Valve(
        port=valve.standard_port(1e-3, 1.0),
        element=valve.PowerElement("gas", fluid, limit_pressure=values["dry"]),
        spring=valve.Spring(
            static_superheat=bulb - reference,
            evaporating_temperature=reference,
        ),
    )
    for off, opens in ((-2e3, True), (2e3, False)):
        forces = valve.forces(hardware, fluid, bulb, dealt.answer + off, 1.5e6)
        assert (forces.lift > 0.0) == opens


def test_the_largest_port_of_task_4_is_the_last_row_without_a_cross():
    for seed in range(3):
        values = LESSON.task("range").deal("24", seed, US).values
        job = {name: values[name] for name in ("refrigerant", "load", "box_temperature", "hot")}
        choice = figure(**job).numbers["choice"]
        rows = {
            part.port: met
            for part, met in zip(choice.best.cartridges, choice.best.meets, strict=True)
            if part.construction == choice.cartridge.construction
        }
        assert rows[values["answer"]]
        assert not any(met for port, met in rows.items() if port > values["answer"])


# ---------------------------------------------------------------- the figure


@both_units
def test_the_words_name_the_build_and_every_corner(show):
    drawn = figure(show)
    choice = drawn.numbers["choice"]
    assert choice.build.sentence() in drawn.words
    for corner in kit.CORNERS:
        assert f"{corner.words}: lift" in drawn.words.lower()
    assert "take this one" in texts(drawn)


@both_units
def test_the_gauges_are_those_of_the_build_alone(show):
    for corner in range(5):
        drawn = figure(show, corner=corner)
        choice = drawn.numbers["choice"]
        point = choice.job.solve(choice.build.valve(choice.job.setting)).at(corner)
        said = dict(drawn.readings)
        assert said["Suction gauge"] == show.text(point.evaporating_pressure, "gauge_pressure")
        assert said["Lift"] == show.text(point.lift_share, "ratio")
        assert said["Corner"] == kit.CORNERS[corner].key


def test_every_fault_of_a_row_has_a_cross_and_a_word():
    drawn = figure()
    choice = drawn.numbers["choice"]
    rows = [
        index
        for index, part in enumerate(choice.best.cartridges)
        if part.construction == choice.cartridge.construction
    ]
    faults = choice.best.faults[rows] != kit.Fault.NONE
    said = texts(drawn)
    assert said.count("×") == faults.sum() > 0
    named = sum(said.count(word) for fault, word in reasons.SHORT.items() if fault)
    assert named == faults.any(axis=1).sum()
    assert sum(said.count(word) for word in ("too small", "too large")) == len(SIZES) - len(rows)


def test_a_year_that_no_valve_can_follow_is_said():
    drawn = figure(load=4.9 * units.TON, box_temperature=278.15, highest_evaporating=293.15)
    choice = drawn.numbers["choice"]
    assert choice.build is None
    assert "No build of the kit meets every corner" in drawn.words
    for corner, _ in choice.unmet:
        assert corner.words in drawn.words
    assert "nearest" in texts(drawn)


@both_units
def test_propane_shows_what_both_models_choose(show):
    box = hall.box("drinks-merchandiser")
    drawn = figure(
        show,
        refrigerant="R290",
        load=box.design_load,
        box_temperature=box.box_temperature,
        highest_evaporating=288.15,
        distributor_drop=0.0,
        connection="flare",
    )
    choice = drawn.numbers["choice"]
    assert choice.other_model.cartridge.port < choice.cartridge.port
    low, high = (show.text(port, "port") for port in choice.band)
    assert f"choose {low} and {high}" in drawn.words
    said = texts(drawn)
    assert {"one model", "other model"} < set(said)
    assert "take this one" not in said
    assert any(text.startswith(f"{low} to {high}") for text in said)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({}, "no reserve"),
        ({"connection": "flare"}, "Body:"),
        ({"highest_evaporating": 280.15}, "Power element:"),
        ({"cold": 303.15}, "same build"),
        ({"construction": kit.BALANCED}, "Cartridge:"),
        ({"load": 2000.0}, "starves"),
        ({"least_share": 0.2, "hot": 322.15, "cold": 288.15, "load": 900.0}, ""),
    ],
)
def test_it_says_what_changed_and_why(changed, said):
    start, now = figure(METRIC).numbers, figure(METRIC, **changed).numbers
    sentence = cornerwords.why(start, now, METRIC)
    assert sentence.endswith(".")
    assert said in sentence or "No build" in sentence


# ---------------------------------------------------------------- the panel


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_example_is_drawn(system):
    panel = shown.explore(Units(system))
    for values in shown.examples().values():
        panel.set(**values)
        assert panel.role == "status"
        assert panel.figure.numbers["choice"].met
    panel.reset()
    assert panel.figure.numbers["choice"].cartridge == l24_numbers.choice().cartridge


def test_heads_the_wrong_way_round_are_refused():
    with pytest.raises(OutOfRange, match="lowest condensing"):
        figure(hot=300.0, cold=310.0)
