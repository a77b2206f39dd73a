"""Valve, evaporator and compressor together: design point, balances, directions, robustness."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import coils, compressor, refrigerants, system, valve
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange
from lowside.system import Status
from lowside.units import ICE_POINT
from scipy.optimize import brentq

AIR, CONDENSING = 2.0 + ICE_POINT, 40.0 + ICE_POINT
GAINS = ("valve_gain", "capacity_gain", "relative_gain", "pressure_feedback", "coil_response")
GAINS += ("loop_gain",)
MIDDLE = ("R290", "R600a", "R404A", "R448A", "R454C", "R134a", "R455A")


def sized(name="R404A", load=2500.0, **changes):
    fluid = refrigerants.get(name)
    return system.size_low_side(fluid, load, AIR, CONDENSING, **changes)


def solve(box, air=AIR, condensing=CONDENSING, subcooling=5.0, **changes):
    return system.solve_low_side(box, air, condensing, subcooling, **changes)


@pytest.fixture(scope="module")
def sweep():
    """R404A, 2.5 kW: the port from a third to three times the right one."""
    box = sized()
    ports = np.linspace(0.3, 3.0, 80) * box.valve.port.diameter
    return ports, solve(system.with_port(box, ports))


# Design -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_sized_box_carries_its_load_at_its_design_point(name):
    load = np.array([900.0, 2500.0, 17000.0])
    box = sized(name, load)
    point = solve(box)
    assert np.all(point.status == Status.SOLVED)
    # The tables there and back: a few mK in superheat, that much in capacity.
    assert point.capacity == pytest.approx(load, rel=2e-4)
    assert point.evaporating_temperature == pytest.approx(AIR - 8.0, abs=5e-3)
    assert point.lift_share == pytest.approx(0.6, rel=2e-3)
    assert point.static_superheat == pytest.approx(4.0, abs=5e-3)


@pytest.mark.parametrize("air", [-20.0, -5.0, 2.0, 12.0])
def test_sizing_for_freezers_and_coolers(air):
    fluid = refrigerants.get("R448A")
    box = system.size_low_side(
        fluid, 3000.0, air + ICE_POINT, CONDENSING, temperature_difference=9.0
    )
    point = solve(box, air + ICE_POINT)
    assert point.status_name == "solved"
    assert point.capacity == pytest.approx(3000.0, rel=2e-4)


def test_box_scales_with_its_load():
    """Nothing in the sizing knows an absolute size but the travel and the diaphragm."""
    load = np.array([1000.0, 2000.0, 4000.0])
    box = sized(load=load)
    for part in (box.evaporator.wet_conductance, box.compressor.swept_volume_flow):
        assert part / part[0] == pytest.approx(load / load[0])
    assert np.all(np.diff(box.valve.port.diameter) > 0.0)


# Balances ---------------------------------------------------------------------------------------


def assert_point_is_consistent(box, point, fluid, subcooling):
    """Every balance again, from the refrigerant's properties and the hardware alone."""
    flow, low = point.mass_flow, point.evaporating_pressure
    leaving = point.capacity / flow
    liquid_temperature = fluid.bubble_temperature(point.condensing_pressure) - subcooling
    entering = fluid.liquid_enthalpy(point.condensing_pressure, liquid_temperature)
    outlet = fluid.state_ph(low, entering + leaving)
    pumped = box.compressor.mass_flow(fluid, low, outlet.density, point.condensing_pressure)
    assert pumped == pytest.approx(flow, rel=1e-7)
    assert outlet.temperature == pytest.approx(point.suction_temperature, abs=1e-6)
    arriving = valve.inlet(fluid, point.condensing_pressure, entering)
    fed = valve.mass_flow(box.valve, fluid, point.lift, arriving, point.evaporator_inlet_pressure)
    assert fed == pytest.approx(flow, rel=1e-6)
    coil = coils.evaporate(box.evaporator, fluid, flow, entering, low, point.air_temperature)
    assert coil.duty == pytest.approx(point.capacity, rel=1e-6)
    assert coil.air_outlet_temperature == pytest.approx(point.air_outlet_temperature, abs=1e-6)
    drop = point.evaporator_inlet_pressure - low
    balanced = valve.lift(
        box.valve, fluid, point.suction_temperature, low, point.condensing_pressure, drop
    )
    assert balanced == pytest.approx(point.lift, abs=2e-3 * valve.STANDARD_LIFT)


@pytest.mark.parametrize("name", MIDDLE)
@pytest.mark.parametrize("scale", [0.5, 1.0, 2.5])
def test_every_balance_holds(name, scale):
    """Undersized, right and oversized port."""
    box = sized(name)
    box = system.with_port(box, scale * box.valve.port.diameter)
    point = solve(box)
    assert point.accepted
    assert_point_is_consistent(box, point, refrigerants.get(name), 5.0)


def test_energy_in_is_energy_out():
    box = sized()
    point = solve(box)
    fluid = box.refrigerant
    discharge = fluid.state_pt(point.condensing_pressure, point.discharge_temperature).enthalpy
    suction = fluid.vapour_enthalpy(point.evaporating_pressure, point.suction_temperature)
    gas = point.mass_flow * (discharge - suction)
    assert gas == pytest.approx(point.power * (1.0 - box.compressor.shell_loss), rel=1e-3)
    evaporating, air = point.evaporating_temperature, point.air_temperature
    assert 0.0 < point.cop < evaporating / (CONDENSING - evaporating)
    assert evaporating < point.air_outlet_temperature < air


# The lesson: port size --------------------------------------------------------------------------


def test_superheat_rises_as_the_port_shrinks(sweep):
    _, points = sweep
    assert np.all(points.accepted)
    assert np.all(np.diff(points.superheat) < 0.0)
    assert np.all(np.diff(points.lift_share) <= 1e-9)


def test_undersized_port_starves(sweep):
    """Wide open, superheat climbs, suction falls, capacity is short."""
    _, points = sweep
    wide_open = points.status == Status.WIDE_OPEN
    assert wide_open.any()
    assert not wide_open[-1]
    assert points.lift_share[wide_open] == pytest.approx(1.0, abs=1e-6)
    assert np.all(
        points.superheat[wide_open]
        >= (points.static_superheat + points.opening_superheat)[wide_open]
    )
    assert np.all(np.diff(points.evaporating_pressure[wide_open]) > 0.0)
    assert np.all(np.diff(points.capacity[wide_open]) > 0.0)
    assert points.capacity[0] < 0.5 * points.capacity[-1]
    assert points.superheat[0] > 3.0 * points.superheat[-1]


def test_oversized_port_is_nervous_and_hardly_colder(sweep):
    """Tiny lift, a little less superheat, hardly more capacity, much more gain."""
    ports, points = sweep
    right = np.argmin(np.abs(ports / ports[0] * 0.3 - 1.0))
    assert points.lift_share[-1] < 0.5 * points.lift_share[right]
    assert points.capacity[-1] == pytest.approx(points.capacity[right], rel=0.03)
    modulating = points.status == Status.SOLVED
    assert np.all(np.diff(points.relative_gain[modulating]) > 0.0)
    assert np.all(np.diff(points.loop_gain[modulating]) > 0.0)
    assert points.relative_gain[points.status == Status.WIDE_OPEN] == pytest.approx(0.0)


def test_operating_is_static_plus_opening_while_the_valve_modulates(sweep):
    _, points = sweep
    modulating = points.status == Status.SOLVED
    parts = (points.static_superheat + points.opening_superheat)[modulating]
    assert parts == pytest.approx(points.superheat[modulating], abs=1e-6)


def test_winter_head_starves_an_undersized_port_only():
    """Lower head: less pressure over the port. The right port still has travel left."""
    box = sized()
    small = system.with_port(box, 0.68 * box.valve.port.diameter)
    heads = np.linspace(20.0, 50.0, 13) + ICE_POINT
    of_small, of_right = solve(small, condensing=heads), solve(box, condensing=heads)
    assert of_small.status[0] == Status.WIDE_OPEN
    assert of_right.status[0] == Status.SOLVED
    assert of_small.superheat[0] > of_right.superheat[0] + 2.0


def test_balanced_port_calms_the_head_swing():
    """Conventional superheat falls as head rises; the larger the port the more."""
    box = sized(load=8000.0)
    summer_and_winter = np.array([50.0, 25.0]) + ICE_POINT
    swing = []
    for balance in (0.0, 1.0):
        points = solve(
            system.with_port(box, box.valve.port.diameter, balance), condensing=summer_and_winter
        )
        assert points.accepted.all()
        swing.append(np.diff(points.static_superheat)[0])
    assert swing[0] > 1.0
    # What remains comes from the evaporating pressure, which also moves.
    assert abs(swing[1]) < 0.25 * swing[0]


def test_internal_equaliser_starves_a_coil_with_pressure_drop():
    box = sized(drop_worth=3.0)
    both = replace(box, valve=replace(box.valve, external_equaliser=np.array([True, False])))
    points = solve(both)
    assert points.accepted.all()
    assert points.superheat[1] > points.superheat[0] + 1.5
    assert points.capacity[1] < points.capacity[0]


def test_turndown_keeps_superheat_between_static_and_full_load():
    box = sized()
    share = np.linspace(0.25, 1.0, 16)
    points = solve(box, compressor_share=share)
    assert points.accepted.all()
    assert np.all(np.diff(points.lift_share) > 0.0)
    assert np.all(points.superheat > points.static_superheat)
    assert np.all(np.diff(points.opening_superheat) > 0.0)


def test_flash_gas_opens_the_valve_further():
    box = sized()
    points = solve(box, liquid_line_drop=np.array([0.0, 1.0e5, 3.0e5]), subcooling=3.0)
    assert points.accepted.all()
    assert points.inlet_quality[0] == 0.0
    assert points.inlet_quality[2] > points.inlet_quality[1]
    assert points.lift_share[2] > points.lift_share[0]


def flooded():
    box = sized("R404A")
    spring = replace(box.valve.spring, static_superheat=0.0)
    wet = replace(box, valve=replace(box.valve, spring=spring))
    return system.with_port(wet, 3.0 * box.valve.port.diameter)


def test_liquid_leaves_where_the_spring_was_backed_off():
    """Spring at 0 K, a far too large port, high head: it floods. A valid answer, no exception."""
    point = solve(flooded(), condensing=50.0 + ICE_POINT)
    assert point.status == Status.LIQUID_LEAVING
    assert point.outlet_quality < 1.0
    assert point.superheat < 0.05
    assert point.wet_share == pytest.approx(1.0)
    assert point.residual < 1e-8


def test_gas_charge_holds_the_suction_down_in_a_warm_box():
    fluid = refrigerants.get("R404A")
    limit = fluid.dew_pressure(AIR - 1.0)
    element = valve.PowerElement("gas", fluid, limit_pressure=limit)
    gas, plain = sized(element=element), sized()
    warm = AIR + np.array([0.0, 18.0])
    of_gas, of_plain = solve(gas, warm), solve(plain, warm)
    assert of_gas.accepted.all()
    assert of_plain.accepted.all()
    assert of_gas.capacity[0] == pytest.approx(of_plain.capacity[0], rel=1e-3)
    assert of_gas.evaporating_pressure[1] < of_plain.evaporating_pressure[1] - 2e4
    assert of_gas.superheat[1] > of_plain.superheat[1] + 3.0


# Loop gains -------------------------------------------------------------------------------------


def test_loop_gain_by_warming_the_bulb():
    """The static loop gain from a second solve with the spring turned by a little.

    With gain L the outlet settles at L/(1 + L) of what the bulb was told: a lazy loop forgives a
    wrong setting, an eager one follows it.
    """
    box = sized(balance=1.0)
    step = 0.01
    turned = replace(box.valve.spring, static_superheat=4.0 + np.array([-step, step]))
    point = solve(box)
    moved = solve(replace(box, valve=replace(box.valve, spring=turned)))
    # At the bulb the turned spring is worth this much, the force being made up by bulb pressure.
    force = np.diff(valve.preload(replace(box.valve, spring=turned), box.refrigerant))[0]
    element = box.valve.element
    worth = force / element.diaphragm_area / element.slope(point.suction_temperature)
    settled = np.diff(moved.suction_temperature)[0]
    gain = point.loop_gain
    assert settled == pytest.approx(worth * gain / (1.0 + gain), rel=0.01)


def test_gains_from_the_parts_moved_by_hand():
    """Each gain as its definition says, by central differences on coil, compressor and valve.

    The flow that the valve passes is moved by the bulb, then by the evaporator; the evaporating
    pressure at which the compressor pumps a little more is found by bisection.
    """
    box = sized()
    point, fluid, share = solve(box), box.refrigerant, 1e-3
    high, flow = point.condensing_pressure, point.mass_flow
    entering = fluid.liquid_enthalpy(high, point.liquid_temperature)
    arriving = valve.inlet(fluid, high, entering)

    def passed(bulb, pressure):
        behind = pressure + point.evaporator_inlet_pressure - point.evaporating_pressure
        drop = behind - pressure
        lift = valve.lift(box.valve, fluid, bulb, pressure, high, drop)
        return valve.mass_flow(box.valve, fluid, lift, arriving, behind)

    def outlet(flow, pressure):
        coil = coils.evaporate(box.evaporator, fluid, flow, entering, pressure, AIR)
        return fluid.state_ph(pressure, entering + coil.duty / flow)

    def pumping(pressure, flow):
        density = outlet(flow, pressure).density
        return box.compressor.mass_flow(fluid, pressure, density, high) - flow

    bulb, low = point.suction_temperature, point.evaporating_pressure
    warmer, colder = (passed(bulb + step, low) for step in (0.01, -0.01))
    assert point.valve_gain == pytest.approx((warmer - colder) / 0.02, rel=5e-3)
    assert point.relative_gain == pytest.approx((warmer - colder) / 0.02 / flow, rel=5e-3)

    more, less = flow * (1.0 + share), flow * (1.0 - share)
    up, down = (brentq(pumping, 0.9 * low, 1.1 * low, args=(each,)) for each in (more, less))
    taken_back = (passed(bulb, down) - passed(bulb, up)) / flow / (2.0 * share)
    assert point.pressure_feedback == pytest.approx(taken_back, rel=0.02)
    cooled = outlet(less, down).temperature - outlet(more, up).temperature
    assert point.coil_response == pytest.approx(cooled / (2.0 * share), rel=0.02)


def test_no_gain_is_told_where_liquid_leaves():
    """The outlet of a flooded coil boils at the evaporating temperature whatever the flow."""
    point = solve(flooded(), condensing=50.0 + ICE_POINT)
    assert point.status == Status.LIQUID_LEAVING
    for name in GAINS:
        assert np.isnan(getattr(point, name)), name


# Batches, readings, refusals --------------------------------------------------------------------


def test_a_batch_is_the_same_as_one_by_one():
    box = sized("R448A")
    ports = np.array([0.5, 1.0, 2.0])[:, None] * box.valve.port.diameter
    heads = np.array([25.0, 40.0, 50.0, 55.0]) + ICE_POINT
    together = solve(system.with_port(box, ports), condensing=heads)
    assert together.capacity.shape == (3, 4)
    for i in range(3):
        for j in range(4):
            alone = solve(system.with_port(box, ports[i, 0]), condensing=heads[j])
            one = together.at((i, j))
            assert alone.status == one.status
            assert alone.capacity == pytest.approx(one.capacity, rel=1e-7)
            assert alone.superheat == pytest.approx(one.superheat, abs=1e-5)


def test_any_parameter_may_be_an_array():
    box = system.size_low_side(
        refrigerants.get("R290"),
        load=np.array([500.0, 1000.0]),
        box_temperature=AIR,
        condensing_temperature=CONDENSING,
        balance=np.array([0.0, 1.0]),
    )
    points = solve(box, air=np.array([AIR, AIR + 3.0]), subcooling=np.array([3.0, 8.0]))
    assert points.capacity.shape == (2,)
    assert points.accepted.all()


def test_rated_compressor_takes_the_place_of_the_other():
    box = sized()
    rated = compressor.rate(
        box.compressor,
        box.refrigerant,
        np.linspace(253.15, 278.15, 6),
        np.linspace(298.15, 328.15, 6),
        return_superheat=6.0,
    )
    ours, theirs = solve(box), solve(replace(box, compressor=rated))
    assert theirs.accepted
    assert theirs.capacity == pytest.approx(ours.capacity, rel=0.01)
    assert theirs.power == pytest.approx(ours.power, rel=0.02)


def test_readings_say_what_the_point_says():
    box = sized("R448A")
    point = solve(box)
    read = point.readings(ambient_temperature=305.0)
    fluid = box.refrigerant
    superheat = fluid.superheat(read.suction_pressure, read.suction_temperature)
    subcooling = fluid.subcooling(read.head_pressure, read.liquid_temperature)
    assert superheat == pytest.approx(point.superheat, abs=1e-6)
    assert subcooling == pytest.approx(5.0, abs=5e-3)
    assert read.ambient_temperature == 305.0
    assert read.discharge_temperature > CONDENSING


def test_shut_valve_is_a_status_with_numbers():
    """A spring set far beyond what the box's air can open."""
    box = sized()
    spring = replace(box.valve.spring, static_superheat=60.0)
    point = solve(replace(box, valve=replace(box.valve, spring=spring)))
    assert point.status == Status.VALVE_SHUT
    assert point.status_name == "valve shut"
    assert point.capacity == 0.0
    assert not point.accepted
    with pytest.raises(NoOperatingPoint, match="cannot open") as caught:
        point.readings()
    assert "evaporating_temperature" in caught.value.numbers


def finite(points):
    """Whether every number is, but for the gains where liquid leaves."""
    wet = points.outlet_quality < 1.0
    return all(
        (np.isfinite(value) | (wet & (name in GAINS))).all() for name, value in vars(points).items()
    )


def test_senseless_points_spoil_only_themselves():
    box = sized()
    condensing = np.array([40.0, 200.0, -80.0, 45.0]) + ICE_POINT
    points = solve(box, condensing=condensing, air=np.array([AIR, AIR, AIR, 200.0]))
    outside = Status.CONDENSING_OUTSIDE
    assert list(points.status) == [Status.SOLVED, outside, outside, Status.AIR_TOO_COLD]
    assert finite(points)


def pulled():
    """A gas charge so small that the valve would need a spring that pulls."""
    box = sized(balance=1.0)
    limit = 0.5 * box.refrigerant.dew_pressure(AIR - 8.0)
    element = valve.PowerElement("gas", box.refrigerant, limit_pressure=limit)
    return replace(box, valve=replace(box.valve, element=element))


def beyond_its_rating():
    """A rating whose power polynomial says that the machine makes power."""
    box = sized()
    grid = np.linspace(253.15, 278.15, 6), np.linspace(298.15, 328.15, 6)
    rated = compressor.rate(box.compressor, box.refrigerant, *grid, return_superheat=6.0)
    backwards = tuple(-term for term in rated.power_coefficients)
    return replace(box, compressor=replace(rated, power_coefficients=backwards))


@pytest.mark.parametrize(
    ("box", "asked", "status", "words"),
    [
        (sized, {"condensing": 200.0 + ICE_POINT}, Status.CONDENSING_OUTSIDE, "condensing"),
        (sized, {"air": 210.0}, Status.AIR_TOO_COLD, "the air is colder"),
        (sized, {"liquid_line_drop": 3e6}, Status.NOTHING_DRIVES, "liquid line"),
        (sized, {"subcooling": 60.0}, Status.LIQUID_TOO_COLD, "subcooling"),
        (sized, {"subcooling": 120.0}, Status.LIQUID_TOO_COLD, "subcooling"),
        (pulled, {}, Status.SPRING_PULLS, "have to pull"),
        (beyond_its_rating, {}, Status.RATING_OUTSIDE, "rating"),
    ],
)
def test_a_point_that_cannot_run_says_why(box, asked, status, words):
    point = solve(box(), **asked)
    assert point.status == status
    assert finite(point)
    with pytest.raises(NoOperatingPoint, match=words):
        point.refuse()


def test_liquid_may_be_as_cold_as_the_evaporator_and_no_colder():
    box = sized("R290")
    most = CONDENSING - (AIR - 8.0)
    assert solve(box, subcooling=0.9 * most).accepted
    assert solve(box, subcooling=1.2 * most).status == Status.LIQUID_TOO_COLD


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"air": np.array([AIR, np.nan])}, "air temperature"),
        ({"condensing": np.nan}, "condensing temperature"),
        ({"condensing": np.inf}, "condensing temperature"),
        ({"subcooling": np.nan}, "subcooling"),
        ({"subcooling": -1.0}, "subcooling"),
        ({"liquid_line_drop": -1e4}, "liquid line"),
        ({"compressor_share": 0.0}, "share of the compressor"),
    ],
)
def test_conditions_that_nobody_can_mean_are_refused_before_the_batch(asked, words):
    with pytest.raises(OutOfRange, match=words):
        solve(sized(), **asked)


def test_hardware_that_is_no_number_is_refused():
    box = sized()
    element = replace(box.valve.element, reference_temperature=np.nan)
    with pytest.raises(LowsideError, match="reference temperature of this box"):
        solve(replace(box, valve=replace(box.valve, element=element)))


def test_every_status_that_is_no_answer_has_its_reason():
    for status in Status:
        assert bool(status.reason) != status.accepted, status


def test_empty_batch():
    points = solve(sized(), condensing=np.empty(0))
    assert points.capacity.shape == (0,)
    assert points.status_name.shape == (0,)


def random_boxes(seed, count=8):
    """Hardware and conditions, right and wrong together, within what one can build."""
    rng = np.random.default_rng(seed)

    def numbers(low, high):
        return rng.uniform(low, high, count)

    def sizes(low, high):
        return np.exp(numbers(np.log(low), np.log(high)))

    fluid = refrigerants.get(rng.choice(refrigerants.NAMES))
    wet, volume = sizes(20.0, 3000.0), sizes(5e-5, 5e-3)
    flow = 10.0 * volume
    box = system.LowSide(
        fluid,
        compressor.Compressor(volume),
        coils.Evaporator(
            wet, wet * numbers(0.1, 0.6), wet * sizes(0.5, 4.0), numbers(0.0, 1e4) / flow**2
        ),
        valve.Valve(
            valve.standard_port(sizes(0.3e-3, 5e-3), numbers(0.0, 1.0)),
            valve.PowerElement(
                rng.choice(["liquid", "gas"]), fluid, limit_pressure=fluid.dew_pressure(275.0)
            ),
            valve.Spring(
                static_superheat=numbers(0.5, 9.0),
                evaporating_temperature=268.15,
                pressure_difference=numbers(2e5, 1.2e6),
            ),
            external_equaliser=rng.random(count) < 0.5,
        ),
    )
    conditions = {
        "air_temperature": numbers(248.0, 300.0),
        "condensing_temperature": numbers(288.0, 330.0),
        "subcooling": numbers(0.0, 15.0),
        "liquid_line_drop": numbers(0.0, 5e4),
    }
    return box, conditions


@given(seed=st.integers(0, 2**32 - 1))
@settings(max_examples=63, deadline=None)
def test_random_boxes_end_in_a_status(seed):
    """About 500 boxes a run."""
    box, conditions = random_boxes(seed)
    points = system.solve_low_side(box, **conditions)
    assert finite(points)
    assert set(np.unique(points.status)) <= {int(status) for status in Status}
    good = points.accepted
    assert np.all(points.residual[good] < 1e-8)
    assert np.all(points.capacity[good] > 0.0)
    assert np.all(points.power[good] >= 0.0)
    assert np.all(points.suction_temperature[good] < points.air_temperature[good] + 5e-3)
    assert np.all(points.lift_share[good] <= 1.0 + 1e-9)
    assert np.all(points.outlet_quality[points.status == Status.LIQUID_LEAVING] < 1.0)
    assert np.all(points.superheat[points.status == Status.SOLVED] > -5e-3)


def test_every_balanced_box_has_an_answer():
    """5 000 boxes sized for some day and run on another: no search may give up."""
    rng = np.random.default_rng(7)
    count = 1000
    for name in ("R290", "R404A", "R448A", "R134a", "R600a"):
        fluid = refrigerants.get(name)
        air, difference = rng.uniform(253.0, 283.0, count), rng.uniform(5.0, 12.0, count)
        box = system.size_low_side(
            fluid,
            rng.uniform(800.0, 18000.0, count),
            air,
            rng.uniform(298.0, 323.0, count),
            temperature_difference=difference,
            static_superheat=2.0,
            opening_superheat=1.0,
            balance=1.0,
            drop_worth=rng.uniform(0.0, 1.5, count),
        )
        box = system.with_port(box, box.valve.port.diameter * rng.uniform(0.4, 4.0, count))
        points = system.solve_low_side(
            box,
            air + rng.uniform(-3.0, 10.0, count),
            rng.uniform(293.0, 328.0, count),
            rng.uniform(0.0, 12.0, count),
            compressor_share=rng.uniform(0.3, 1.2, count),
        )
        # A warm box on a cold day can ask for liquid colder than it evaporates: said, not solved.
        ended = points.accepted | (points.status == Status.LIQUID_TOO_COLD)
        assert ended.all(), (name, np.unique(points.status_name, return_counts=True))
        assert points.accepted.mean() > 0.99


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"load": 0.0}, "load"),
        ({"temperature_difference": 0.0}, "temperature difference"),
        ({"static_superheat": 9.0}, "as warm as the air"),
        ({"air_drop_share": 0.95}, "this much air"),
        ({"lift_share": 1.4}, "lift share"),
        ({"subcooling": -1.0}, "subcooling"),
        ({"subcooling": 60.0}, "above the evaporating temperature"),
    ],
)
def test_what_cannot_be_sized_is_said(changed, words):
    with pytest.raises(LowsideError, match=words):
        sized(**changed)
