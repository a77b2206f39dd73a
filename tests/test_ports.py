"""One box with every port: identities of the sweep, and what the trade expects of a right port."""

from dataclasses import replace

import numpy as np
import pytest
from lowside import refrigerants, units, valve
from lowside.errors import NoOperatingPoint, OutOfRange
from lowside.system import Status, ports, solve_low_side, with_port
from lowside.system.swing import superheat_swing

KELVIN = 273.15
BOXES = {
    "walk-in": ("R404A", 4200.0, 1.0 + KELVIN, 47.0 + KELVIN, 25.0 + KELVIN),
    "propane freezer": ("R290", 900.0, -20.0 + KELVIN, 42.0 + KELVIN, 30.0 + KELVIN),
    "gliding room": ("R449A", 10500.0, 4.0 + KELVIN, 47.0 + KELVIN, 25.0 + KELVIN),
    "isobutane bench": ("R600a", 900.0, 5.0 + KELVIN, 42.0 + KELVIN, 30.0 + KELVIN),
    "five tons": ("R134a", 5 * units.TON, 2.0 + KELVIN, 50.0 + KELVIN, 25.0 + KELVIN),
}
every_box = pytest.mark.parametrize("name", BOXES)
HOT = np.s_[:, ports.HOT, ports.CONVENTIONAL]


def sweep_of(name):
    return ports.port_sweep(*BOXES[name])


@every_box
def test_every_port_is_an_answer_on_the_hot_day(name):
    assert np.all(sweep_of(name).result.accepted[:, ports.HOT])


@every_box
def test_a_bigger_port_never_starves_more(name):
    # Superheat rises as the port shrinks; lift, cooling and suction follow.
    hot = sweep_of(name).result.at(HOT)
    assert np.all(np.diff(hot.superheat) < 0.0)
    assert np.all(np.diff(hot.lift_share) <= 1e-9)
    assert np.all(np.diff(hot.capacity) > 0.0)
    assert np.all(np.diff(hot.evaporating_pressure) > 0.0)


@every_box
def test_the_right_port_carries_exactly_the_load(name):
    sweep = sweep_of(name)
    point = sweep.points(sweep.right).at((ports.HOT, ports.CONVENTIONAL))
    assert point.capacity == pytest.approx(sweep.load, rel=1e-6)
    assert point.lift_share == pytest.approx(ports.LIFT_SHARE, rel=1e-6)
    operating = ports.STATIC_SUPERHEAT + ports.OPENING_SUPERHEAT
    assert point.superheat == pytest.approx(operating, abs=1e-6)


@every_box
def test_the_right_port_shows_a_usual_superheat(name):
    # Operating superheat of medium-temperature boxes 6-12 °F, of freezers 4-8 °F: common practice,
    # no published source (values quoted differ). One valve for both: 8.1 °F.
    sweep = sweep_of(name)
    point = sweep.points(sweep.right).at((ports.HOT, ports.CONVENTIONAL))
    assert 4.0 < units.from_si(float(point.superheat), "degF_difference") < 12.0


@every_box
def test_starving_begins_where_the_sweep_says(name):
    sweep = sweep_of(name)
    edge = sweep.starves_below
    below = sweep.points(0.985 * edge).at((ports.HOT, ports.CONVENTIONAL))
    above = sweep.points(1.015 * edge).at((ports.HOT, ports.CONVENTIONAL))
    assert below.status == Status.WIDE_OPEN
    assert below.capacity < sweep.load
    assert above.status == Status.SOLVED


@every_box
def test_above_its_mark_every_port_holds_the_load_on_both_days(name):
    sweep = sweep_of(name)
    lowest, highest = 1.01 * sweep.holds_above, 0.99 * sweep.nervous_above
    point = sweep.points(np.geomspace(lowest, highest, 9))
    days = point.at(np.s_[:, :, ports.CONVENTIONAL])
    in_charge = days.status == Status.SOLVED
    assert np.all(in_charge | (days.capacity >= sweep.load))
    assert np.all(in_charge[:, ports.HOT])


def test_below_its_mark_a_port_is_short_on_the_cold_day_only():
    sweep = sweep_of("gliding room")
    assert sweep.starves_below < sweep.holds_above < sweep.stands_open_below
    between = 0.5 * (sweep.starves_below + sweep.holds_above)
    point = sweep.points(between)
    assert point.status[ports.HOT, ports.CONVENTIONAL] == Status.SOLVED
    assert point.status[ports.COLD, ports.CONVENTIONAL] == Status.WIDE_OPEN
    assert point.capacity[ports.COLD, ports.CONVENTIONAL] < sweep.load


@every_box
def test_nervous_begins_at_twice_the_answer_of_the_right_port(name):
    sweep = sweep_of(name)
    edge = sweep.points(sweep.nervous_above).at((ports.HOT, ports.CONVENTIONAL))
    assert edge.relative_gain == pytest.approx(ports.NERVOUS * sweep.right_gain, rel=0.01)
    assert sweep.starves_below < sweep.right < sweep.nervous_above


def test_where_no_port_answers_so_strongly_it_is_said():
    """Swept up to the right port only, none is twice as nervous: no end of the range stands in."""
    sweep = sweep_of("walk-in")
    few = int(np.searchsorted(sweep.diameters, sweep.right))
    short = replace(sweep, diameters=sweep.diameters[:few], result=sweep.result.at(np.s_[:few]))
    with pytest.raises(NoOperatingPoint, match="no port of this range"):
        _ = short.nervous_above


def test_where_every_port_stands_open_or_none_the_sweep_ends_the_zone():
    sweep = sweep_of("walk-in")
    hot = sweep.result.status[:, ports.HOT, ports.CONVENTIONAL]
    acting = np.flatnonzero(hot == Status.SOLVED)
    for part, edge in ((np.s_[: acting[0]], -1), (np.s_[acting[0] :], 0)):
        some = replace(sweep, diameters=sweep.diameters[part], result=sweep.result.at(part))
        assert some.starves_below == some.diameters[edge]


@every_box
def test_a_sweep_is_the_same_as_one_port_at_a_time(name):
    sweep = sweep_of(name)
    for index in (0, 17, 30, 59):
        alone = sweep.points(sweep.diameters[index])
        together = sweep.result.at(index)
        np.testing.assert_allclose(alone.superheat, together.superheat, atol=1e-5)
        np.testing.assert_allclose(alone.capacity, together.capacity, rtol=1e-6)


def test_wide_open_flow_is_area_times_flux():
    # The orifice equation, read backwards from the solved box: flow = Cd A sqrt(2 rho dp).
    sweep = sweep_of("walk-in")
    port = 0.6 * sweep.starves_below
    point = sweep.points(port).at((ports.COLD, ports.CONVENTIONAL))
    fluid = sweep.box.refrigerant
    enthalpy = fluid.liquid_enthalpy(point.condensing_pressure, point.liquid_temperature)
    arriving = valve.inlet(fluid, point.condensing_pressure, enthalpy)
    flux = valve.mass_flux(fluid, arriving, point.evaporator_inlet_pressure)
    area = with_port(sweep.box, port).valve.port.largest_area
    assert point.mass_flow == pytest.approx(area * flux, rel=1e-6)


def test_wide_open_the_stem_changes_nothing():
    starved = []
    for static in (1.0, 5.0):
        sweep = ports.port_sweep(*BOXES["walk-in"], static)
        starved.append(float(sweep.points(1.0e-3).superheat[ports.HOT, ports.CONVENTIONAL]))
    assert starved[0] == pytest.approx(starved[1], abs=1e-6)


def test_in_charge_superheat_follows_the_stem():
    read = []
    for static in (1.5, 3.0):
        sweep = ports.port_sweep(*BOXES["walk-in"], static)
        read.append(float(sweep.points(sweep.right).superheat[ports.HOT, ports.CONVENTIONAL]))
    assert 1.0 < read[1] - read[0] < 1.6


def test_a_perfectly_balanced_port_does_not_feel_the_head():
    # With flow and evaporating pressure held, the force balance has no head in it.
    sweep = sweep_of("gliding room")
    hardware = with_port(sweep.box, 4.0e-3, 1.0).valve
    fluid, evaporating = sweep.box.refrigerant, float(sweep.box.refrigerant.dew_pressure(268.0))
    force = valve.preload(hardware, fluid)
    bulbs = [
        valve.bulb_temperature(hardware, force, 2e-4, evaporating, evaporating, head)
        for head in (12e5, 20e5)
    ]
    assert bulbs[0] == pytest.approx(bulbs[1], abs=1e-9)


def test_balance_hardly_matters_on_small_ports_and_does_on_large_ones():
    # Common practice, no published source: conventional ports up to about a ton, balanced above.
    def saved(name, port):
        shift = np.diff(sweep_of(name).points(port).superheat, axis=0)[0]
        return float(shift[ports.CONVENTIONAL] - shift[ports.BALANCED])

    assert 0.0 < saved("propane freezer", 0.8e-3) < 0.25
    assert saved("gliding room", 4.0e-3) > 3.0 * saved("walk-in", 1.6e-3 * 1.4) > 0.0
    assert saved("gliding room", 4.0e-3) > 0.5


def test_the_models_disagree_where_liquid_is_light():
    for name, low, high in (("propane freezer", 1.2, 1.8), ("isobutane bench", 1.1, 1.8)):
        sweep = sweep_of(name)
        starved = 0.6 * sweep.starves_below
        one, other = (
            float(sweep.points(starved, model).mass_flow[ports.HOT, ports.CONVENTIONAL])
            for model in (False, True)
        )
        assert low < other / one < high
    assert sweep_of("walk-in").other_model is None


def test_kit_sizes_are_preferred_numbers():
    # ISO 3, series R10: 10^(n/10), printed values rounded by at most 1.3 % (from memory).
    steps = np.arange(len(ports.KIT)) - 6
    np.testing.assert_allclose(np.array(ports.KIT) * 1e3, 10.0 ** (steps / 10.0), rtol=0.013)


def test_next_size_goes_up_and_down_and_ends():
    assert ports.next_size(1.25e-3) == 1.6e-3
    assert ports.next_size(1.27e-3, -1) == 1.0e-3
    with pytest.raises(OutOfRange) as refusal:
        ports.next_size(ports.KIT[-1])
    assert refusal.value.high == ports.KIT[-1]


def test_what_no_box_can_be_is_refused():
    name, _, air, _, cold = BOXES["walk-in"]
    with pytest.raises(OutOfRange):
        ports.port_sweep(name, 4200.0, air, 500.0, cold)
    with pytest.raises(OutOfRange):
        ports.port_sweep(name, -1.0, air, 320.0, cold)


def test_travel_grows_with_large_ports_only():
    small = ports.usual_low_side(refrigerants.get("R290"), 900.0, 276.0, 315.0)
    large = ports.usual_low_side(refrigerants.get("R404A"), 5 * units.TON, 276.0, 315.0)
    assert small.valve.port.max_lift == valve.STANDARD_LIFT
    assert large.valve.port.max_lift > 1.5 * valve.STANDARD_LIFT
    point = solve_low_side(large, 276.0, 315.0)
    assert point.lift_share == pytest.approx(ports.LIFT_SHARE, rel=1e-6)


def test_a_balanced_port_saves_more_the_larger_the_box():
    swing = superheat_swing("R404A", *BOXES["walk-in"][2:])
    assert np.all(np.diff(swing.saved) > 0.0)
    assert np.all(np.diff(swing.ports) > 0.0)
    assert 0.0 < swing.saved[0] < 0.1
    assert swing.saved[-1] > 1.0


def test_boxes_of_all_sizes_are_the_same_as_one_at_a_time():
    name, load, air, hot, cold = BOXES["gliding room"]
    one = superheat_swing(name, air, hot, cold, load)
    sweep = sweep_of("gliding room")
    assert one.ports[0] == pytest.approx(sweep.right, rel=1e-9)
    shift = np.diff(sweep.points(sweep.right).superheat, axis=0)[0]
    np.testing.assert_allclose(one.swings[0], shift, atol=1e-6)
