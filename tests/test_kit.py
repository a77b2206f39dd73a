"""The kit: sieves against the standard, families against their dew lines, and every choice."""

from dataclasses import replace

import numpy as np
import pytest
from fluids.particle_size_distribution import ASTM_E11_sieves
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import kit, readout, refrigerants, store, units, valve
from lowside.errors import DataDamaged, LowsideError, OutOfRange, UnknownName
from lowside.kit import parts, reasons, shelf

KELVIN = 273.15
COOLER = {"box_temperature": 2.0 + KELVIN, "hot": 45.0 + KELVIN, "cold": 25.0 + KELVIN}
WALK_IN = kit.Job("R404A", 4200.0, 1.0 + KELVIN, 47.0 + KELVIN, 25.0 + KELVIN)
FREEZER = kit.Job(
    "R448A",
    3600.0,
    -20.0 + KELVIN,
    42.0 + KELVIN,
    25.0 + KELVIN,
    highest_evaporating=-15.0 + KELVIN,
    distributor_drop=1e5,
    connection="braze",
    static_superheat=3.0,
)
SIEVES = {sieve.old_designation: sieve for sieve in ASTM_E11_sieves.values()}


# ---------------------------------------------------------------- the parts


@pytest.mark.parametrize("strainer", shelf.the_kit().strainers, ids=lambda s: f"No. {s.mesh}")
def test_sieves_are_those_of_astm_e11(strainer):
    # ASTM E11 as carried by `fluids` 1.x. Its wire diameters are stored a thousand times too small
    # (No. 100: 1e-7 m beside an opening of 1.5e-4 m) and rounded; the range of wire goes with it.
    sieve = SIEVES[f"No. {strainer.mesh}"]
    assert strainer.opening == pytest.approx(sieve.opening, rel=1e-9)
    assert 1e3 * sieve.d_wire_min <= strainer.wire <= 1e3 * sieve.d_wire_max
    assert 0.0 < strainer.open_share < 0.5


def test_port_sizes_are_ten_to_a_factor_of_ten():
    # ISO 3, series R10, from memory: steps of 10^(1/10), rounded to at most 1.3 %.
    sizes = np.array(shelf.the_kit().sizes)
    assert np.allclose(np.diff(np.log10(sizes)), 0.1, atol=0.011)


@pytest.mark.parametrize("cartridge", shelf.the_kit().cartridges, ids=lambda c: c.key)
def test_no_travel_is_wasted(cartridge):
    # The pin reaches the limit of the bore at its stop or not at all.
    port = cartridge.hardware
    assert port.area(0.98 * port.max_lift) < port.largest_area
    assert port.largest_area <= valve.BORE_LIMIT * port.bore_area * (1.0 + 1e-9)


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_every_refrigerant_has_an_element_for_coolers_and_for_freezers(name):
    for evaporating in (268.15, 248.15):
        found = kit.elements(name, evaporating)
        assert found[0].charge == "liquid"
        assert {element.charge for element in found} >= {"liquid", "gas"}


def _drift(charged_with, other, evaporating):
    """Largest shift of static superheat over ±10 K, against a bulb with the box's own fluid [K]."""
    fluid, dew = refrigerants.get(other), evaporating + np.array([-10.0, 0.0, 10.0])
    lines = []
    for name in (other, charged_with):
        bulb = valve.PowerElement("liquid", refrigerants.get(name))
        spring = bulb.pressure(evaporating + 4.0) - fluid.dew_pressure(evaporating)
        lines.append(bulb.temperature(fluid.dew_pressure(dew) + spring) - dew)
    return np.abs(lines[1] - lines[0]).max()


def test_one_bulb_serves_a_family_and_not_its_neighbours():
    for element in shelf.the_kit().elements:
        for name in element.serves:
            assert _drift(element.charged_with, name, 267.15) < 0.5
            assert _drift(element.charged_with, name, 248.15) < 0.5
    # Half a kelvin is no empty claim: the bulb of R404A drifts by more in R448A.
    assert _drift("R404A", "R448A", 267.15) > 0.9
    assert _drift("R404A", "R448A", 248.15) > 0.9


def test_the_other_bodies_and_builds():
    assert kit.bodies("flare", False, 1e-3)[0].connection == "flare"
    assert kit.bodies("flare", False, 4e-3) == ()
    every = kit.builds("R290")
    assert len({build.key for build in every}) == len(every)
    assert all("R290" in build.element.serves for build in every)
    assert all(build.cartridge.port <= build.body.largest_port for build in every)
    assert {build.body.connection for build in kit.builds("R290", "braze")} == {"braze"}


def test_a_build_opens_just_at_its_setting():
    setting = kit.Setting(3.0, 265.0, 1.0e6)
    fluid = refrigerants.get("R134a")
    for build in kit.builds("R134a", "flare")[::7]:
        hardware = build.valve(setting)
        evaporating = float(fluid.dew_pressure(265.0))
        at_seat = valve.bulb_temperature(
            hardware,
            valve.preload(hardware, fluid, check=False),
            0.0,
            evaporating,
            evaporating,
            evaporating + 1.0e6,
        )
        assert at_seat - 265.0 == pytest.approx(3.0, abs=1e-6)


# ---------------------------------------------------------------- the choice


def test_one_kit_covers_a_quarter_ton_to_three_tons_of_r404a_or_four_of_r448a():
    # Common practice, no published source.
    for name, most in (("R404A", 3.0), ("R448A", 4.0)):
        for tons in (0.25, 1.0, most):
            assert kit.choose(kit.Job(name, tons * units.TON, **COOLER)).met, (name, tons)
        beyond = kit.choose(kit.Job(name, 1.5 * most * units.TON, **COOLER))
        assert not beyond.met
        assert beyond.unmet


def test_a_walk_in_with_a_distributor_gets_an_external_equaliser():
    # Common practice, no published source.
    assert kit.choose(replace(WALK_IN, distributor_drop=1e5)).build.body.external
    small = kit.Job("R134a", 900.0, coil_drop=2e3, temperature_difference=9.0, **COOLER)
    assert not kit.choose(small).build.body.external


def test_the_limit_for_an_internal_equaliser_is_the_ladder_of_the_trade():
    # Drop worth 2 °F for R404A at 40, 20, 0, -20 °F: 3.38, 2.58, 1.91, 1.37 psi, computed with
    # CoolProp; it matches the 3-2-1 psi ladder of practice (common practice, no published source).
    for fahrenheit, psi in ((40, 3.38), (20, 2.58), (0, 1.91), (-20, 1.37)):
        dew = units.to_si(fahrenheit, "degF")
        for factor, external in ((0.93, False), (1.07, True)):
            job = kit.Job(
                "R404A", 3000.0, dew + 6.0, 313.15, 298.15, coil_drop=factor * psi * units.PSI
            )
            assert kit.needs_external(job) == external


def test_a_pull_down_that_overloads_gets_a_gas_charge_that_holds_it():
    choice = kit.choose(FREEZER)
    assert choice.build.element.charge == "gas"
    liquid = choice.attempts[0]
    assert liquid.element.charge == "liquid"
    assert liquid.mop[choice.index] > FREEZER.highest_evaporating
    assert choice.best.mop[choice.index] <= FREEZER.highest_evaporating
    free = kit.choose(replace(FREEZER, highest_evaporating=None))
    assert free.build.element.charge == "liquid"
    assert free.cartridge.port == choice.cartridge.port


def test_what_was_tried_agrees_with_the_valve_built_alone():
    choice = kit.choose(WALK_IN)
    alone = WALK_IN.solve(choice.build.valve(WALK_IN.setting))
    assert np.allclose(alone.capacity, choice.best.points.capacity[choice.index], rtol=1e-8)
    assert np.allclose(alone.superheat, choice.best.points.superheat[choice.index], atol=1e-6)


def test_able_is_what_the_open_port_feeds_at_the_pressures_found():
    choice = kit.choose(WALK_IN)
    at, point = kit.HOT_FULL, choice.best.points.at((choice.index, kit.HOT_FULL))
    hardware = choice.build.valve(WALK_IN.setting)
    fluid = WALK_IN.fluid
    arriving = valve.inlet(
        fluid,
        point.condensing_pressure,
        fluid.liquid_enthalpy(point.condensing_pressure, point.liquid_temperature),
    )
    outlet = point.evaporator_inlet_pressure
    open_flow = valve.mass_flow(hardware, fluid, hardware.port.max_lift, arriving, outlet)
    able = open_flow * (point.capacity / point.mass_flow)
    assert choice.best.able[choice.index, at] == pytest.approx(able, rel=1e-6)
    assert choice.best.turndown[choice.index, at] == pytest.approx(
        hardware.port.largest_area / hardware.port.area(0.1 * hardware.port.max_lift), rel=1e-9
    )


def test_the_swing_by_the_head_is_the_force_on_the_port():
    # Superheat of conventional less that of balanced port, from hot to cold day, solved in full.
    choice = kit.choose(WALK_IN)
    tried, full = choice.best, [kit.HOT_FULL, kit.COLD_FULL]
    for port in (2.5e-3, 3.15e-3):
        rows = {
            part.construction: index
            for index, part in enumerate(tried.cartridges)
            if part.port == pytest.approx(port)
        }
        shifts = {
            name: np.diff(tried.points.static_superheat[row, full])[0] for name, row in rows.items()
        }
        swings = tried.swing[rows["conventional"]] - tried.swing[rows["balanced"]]
        assert shifts["conventional"] - shifts["balanced"] == pytest.approx(swings, rel=0.25)


@settings(max_examples=25, deadline=None)
@given(
    name=st.sampled_from(("R404A", "R448A", "R290", "R134a", "R454C")),
    tons=st.floats(0.2, 5.0),
    box=st.floats(-22.0, 8.0),
    hot=st.floats(35.0, 52.0),
    swing=st.floats(5.0, 20.0),
    least=st.floats(0.15, 1.0),
    drop=st.floats(0.0, 30e3),
    distributor=st.sampled_from((0.0, 1e5)),
    connection=st.sampled_from(parts.CONNECTIONS),
    limit=st.sampled_from((None, -3.0, 6.0)),
)
def test_the_build_meets_every_corner_or_a_corner_is_named(
    name, tons, box, hot, swing, least, drop, distributor, connection, limit
):
    job = kit.Job(
        name,
        tons * units.TON,
        box + KELVIN,
        hot + KELVIN,
        hot - swing + KELVIN,
        least_share=least,
        pull_down_temperature=max(box + 5.0, 20.0) + KELVIN,
        highest_evaporating=None if limit is None else box + limit + KELVIN,
        coil_drop=drop,
        distributor_drop=distributor,
        connection=connection,
    )
    choice = kit.choose(job)
    words = reasons.verdict(choice, readout.choose("metric"))
    if choice.build is None:
        assert choice.unmet
        assert all(corner.words in words for corner, _ in choice.unmet)
        return
    limits, build = choice.limits, choice.build
    assert build.body.largest_port >= build.cartridge.port
    assert build.body.connection == connection
    assert name in build.element.serves
    assert build.body.external or not (distributor or kit.needs_external(job))
    # The build alone, solved again, against every limit.
    points = job.solve(build.valve(job.setting))
    assert np.all(points.accepted)
    assert np.all(points.superheat >= limits.least_superheat)
    assert np.all(points.capacity[[kit.HOT_FULL, kit.COLD_FULL]] >= limits.carries * job.load)
    assert points.lift_share[kit.HOT_FULL] <= limits.most_lift
    assert np.all(np.delete(points.lift_share, kit.PULL_DOWN) >= limits.least_lift)
    if job.highest_evaporating is not None:
        assert points.evaporating_temperature[kit.PULL_DOWN] <= job.highest_evaporating
    # And it is the smallest of its construction that does.
    below = choice.neighbour(-1)
    assert below is None or choice.failings(below)
    assert words.endswith("meets every corner of the year.")


def test_every_build_that_fits_meets_every_corner_and_the_chosen_one_is_among_them():
    for job in (WALK_IN, FREEZER, kit.Job("R134a", 900.0, coil_drop=2e3, **COOLER)):
        every, chosen = kit.fitting(job), kit.choose(job).build
        assert chosen in every
        assert len({build.key for build in every}) == len(every)
        assert chosen.cartridge.port == min(build.cartridge.port for build in every)
        for build in every[::5]:
            points = job.solve(build.valve(job.setting))
            assert np.all(points.accepted)
            assert points.lift_share[kit.HOT_FULL] <= kit.LIMITS.most_lift
    assert kit.fitting(replace(WALK_IN, load=60e3)) == ()


def test_nothing_below_what_is_tried_can_carry_the_load():
    # Cartridges further from the ideal port than NEAR are not solved: wide open they starve.
    choice = kit.choose(WALK_IN)
    smallest = choice.best.cartridges[0]
    below = [part for part in shelf.the_kit().cartridges if part.port < smallest.port]
    assert below
    for part in below:
        hardware = kit.assembled(part.hardware, choice.best.element, WALK_IN.setting, True)
        assert WALK_IN.solve(hardware).capacity[kit.HOT_FULL] < 0.97 * WALK_IN.load


def test_propane_is_given_as_a_band():
    # One opening cools 1.0-1.2 times as much with propane as with R404A if the coefficient of the
    # jet grows with the density of the liquid, 1.5-1.7 times if it is constant: two models of it.
    fluids = refrigerants.get("R290"), refrigerants.get("R404A")
    low, high = kit.port_band(1.25e-3, *fluids, 263.15, 313.15)
    assert low < high < 1.25e-3
    old, small, large = (valve.standard_port(d).area(0.3e-3) for d in (1.25e-3, low, high))
    assert 1.0 < old / large < 1.2
    assert 1.45 < old / small < 1.75
    same = kit.port_band(1.25e-3, fluids[1], fluids[1], 263.15, 313.15)
    assert same == pytest.approx((1.25e-3, 1.25e-3), rel=1e-6)
    job = kit.Job("R290", 1300.0, temperature_difference=9.0, static_superheat=4.0, **COOLER)
    assert kit.choose(job).other_model.cartridge.port <= kit.choose(job).cartridge.port
    assert kit.choose(WALK_IN).other_model is None


# ---------------------------------------------------------------- words and refusals


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("job", [WALK_IN, FREEZER, replace(WALK_IN, load=60e3)])
def test_every_reason_is_words(system, job):
    show, choice = readout.choose(system), kit.choose(job)
    for reason in (
        reasons.verdict,
        reasons.smaller,
        reasons.larger,
        reasons.equaliser,
        reasons.charge,
        reasons.construction,
    ):
        said = reason(choice, show)
        assert said.endswith(".")
        assert "None" not in said
        assert "nan" not in said
    listed = reasons.parts_list(choice, show)
    assert bool(listed) == choice.met


@pytest.mark.parametrize(
    ("change", "error"),
    [
        ({"load": -1.0}, OutOfRange),
        ({"cold": 330.0}, OutOfRange),
        ({"least_share": 0.0}, OutOfRange),
        ({"coil_drop": -5.0}, OutOfRange),
        ({"pull_down_temperature": 250.0}, OutOfRange),
        ({"refrigerant": "R999"}, UnknownName),
        ({"connection": "glue"}, UnknownName),
        ({"construction": "magic"}, UnknownName),
        ({"static_superheat": 9.0}, LowsideError),
    ],
)
def test_bad_input_is_refused_in_words(change, error):
    with pytest.raises(error) as refused:
        kit.choose(replace(WALK_IN, **change))
    assert str(refused.value)


def test_an_unknown_part_is_refused():
    with pytest.raises(UnknownName, match="cartridge"):
        kit.cartridge(1.1e-3)
    with pytest.raises(UnknownName, match="connection"):
        kit.bodies("glue", True, 1e-3)
    with pytest.raises(UnknownName, match="refrigerant"):
        kit.elements("R999")


@pytest.mark.parametrize(
    ("part", "key", "value"),
    [
        ("bodies", "connection", "glue"),
        ("bodies", "strainer_mesh", 7),
        ("bodies", "largest_port_mm", -1),
    ],
)
def test_a_damaged_kit_says_so(part, key, value):
    document = store.read_toml(shelf.FILE)
    document[part][0] = {**document[part][0], key: value}
    with pytest.raises(DataDamaged, match=r"kit\.toml"):
        shelf.read(document)
