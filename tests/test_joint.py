"""Heat at the joint against textbook solutions, balances and limits; fillers against the standard.

Sources: Incropera, Fundamentals of Heat and Mass Transfer, for the semi-infinite solid (section
5.7), the fin with a convective tip (Table 3.4, case A) and lumped capacitance (section 5.1), all
from memory; filler ranges and metals as in data/checks/brazing.toml.
"""

import copy
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lowside import joint, store, units
from lowside.errors import OutOfRange, UnknownName
from lowside.joint import heat

PUBLISHED = store.read_toml("checks/brazing.toml")
COPPER, BRASS = joint.metal("copper"), joint.metal("brass")
STAINLESS, STEEL, ALUMINIUM = (joint.metal(n) for n in ("stainless steel", "steel", "aluminium"))
LIMIT = 393.15
WORKING = joint.filler("BAg-5").liquidus
SETUP = joint.Setup(COPPER, STAINLESS, joint.tube(0.375 * 0.0254), 0.0254, 0.100, 450.0)


def brazed(stay=15.0, working=WORKING, step=heat.STEP, **changed):
    return joint.braze(replace(SETUP, **changed), working, stay, LIMIT, step)


@pytest.fixture
def surroundings(monkeypatch):
    """Let a test say how much heat goes into the air."""

    def choose(convection=0.0, emissivity=0.0):
        changed = copy.deepcopy(joint.data())
        changed["surroundings"]["convection_W_m2K"] = convection
        changed["surroundings"]["emissivity"] = emissivity
        monkeypatch.setattr(heat, "data", lambda: changed)

    return choose


# ---------------------------------------------------------------- textbook solutions


def test_semi_infinite_solid_with_a_surface_held_hot(surroundings):
    """T - T0 = (Ts - T0) erfc(x / sqrt(4 a t)), counted from the middle of the joint."""
    surroundings()
    hot = brazed(stay=60.0, flame=5000.0, stub_length=0.30, step=0.1)
    both = COPPER.conductivity + STAINLESS.conductivity
    along = hot.position[hot.joint + 1 : -1]
    along = along + 0.5 * joint.overlap(SETUP.tube) * COPPER.conductivity / both
    for seconds in (10.0, 20.0, 40.0):
        since = seconds - hot.flows_at / 2.0
        exact = [math.erfc(x / math.sqrt(4.0 * COPPER.diffusivity * since)) for x in along]
        share = (hot.at(seconds)[hot.joint + 1 : -1] - 293.15) / (WORKING - 293.15)
        assert np.max(np.abs(share - exact)) < 0.015


def test_fin_with_a_convective_tip(surroundings):
    """Incropera Table 3.4, case A; the body is the tip, with its own surface."""
    convection = 300.0
    surroundings(convection)
    hot = brazed(stay=120.0, flame=5000.0, stub_length=0.060, body_mass=0.020, working=600.0)
    tube = SETUP.tube
    conducts = COPPER.conductivity * tube.section
    m = math.sqrt(convection * tube.surface(1.0) / conducts)
    body = 9.0 * (0.020 / BRASS.density) ** (2.0 / 3.0)
    tip = convection * body / (m * conducts)

    def along(x):
        rest = m * (0.060 - x)
        return (math.cosh(rest) + tip * math.sinh(rest)) / (
            math.cosh(m * 0.060) + tip * math.sinh(m * 0.060)
        )

    cells = slice(hot.joint + 1, None)
    base = hot.at(hot.leaves_at - 1.0)
    share = (base[cells] - 293.15) / (base[hot.joint + 1] - 293.15)
    exact = np.array([along(x) for x in hot.position[cells]])
    assert np.max(np.abs(share - exact / exact[0])) < 0.01


def test_lumped_body_behind_a_thin_stub(surroundings):
    """1 - exp(-t / tau) with tau = m c L / (k A): all the heat capacity sits in the body."""
    surroundings()
    hot = brazed(stay=110.0, flame=5000.0, stub_length=0.020, body_mass=0.600, step=0.1)
    conducts = COPPER.conductivity * SETUP.tube.section / 0.020
    deep = joint.overlap(SETUP.tube)
    both = (COPPER.conductivity + STAINLESS.conductivity) * SETUP.tube.section
    conducts = 1.0 / (1.0 / conducts + 0.5 * deep / both)
    tau = 0.600 * 380.0 / conducts
    for seconds in (40.0, 80.0, 110.0):
        exact = (WORKING - 293.15) * (1.0 - math.exp(-(seconds - hot.flows_at) / tau))
        assert hot.at(seconds)[-1] - 293.15 == pytest.approx(exact, rel=0.03)


def test_steady_heat_is_fouriers_law():
    """379 W/(m K), a ring of 9.525 mm and 0.762 mm, 600 K over 25.4 mm, by hand: 187.8 W."""
    assert joint.steady_heat(COPPER, SETUP.tube, 0.0254, 600.0) == pytest.approx(187.8, rel=1e-3)


def test_a_ring_evens_out_as_fast_as_said():
    """Heat equation round a ring, marched explicitly: 1/e of the first pattern after r²/a."""
    tube = joint.tube(0.5 * 0.0254)
    after = joint.evening_time(STAINLESS, tube)
    count, radius = 90, 0.5 * (tube.diameter - tube.wall)
    width = 2.0 * math.pi * radius / count
    angle = 2.0 * math.pi * np.arange(count) / count
    hot = np.cos(angle)
    steps = math.ceil(after / (0.4 * width**2 / STAINLESS.diffusivity))
    number = STAINLESS.diffusivity * after / steps / width**2
    for _ in range(steps):
        hot = hot + number * (np.roll(hot, 1) - 2.0 * hot + np.roll(hot, -1))
    assert hot[0] == pytest.approx(1.0 / math.e, rel=0.01)


# ---------------------------------------------------------------- balances and limits

any_setup = st.builds(
    lambda stub, line, size, length, mass, flame, wrap: joint.Setup(
        stub, line, joint.sizes()[size], length, mass, flame, joint.wrap(wrap)
    ),
    st.sampled_from((COPPER, BRASS, STAINLESS, STEEL)),
    st.sampled_from((COPPER, STAINLESS)),
    st.integers(0, 4),
    st.floats(0.012, 0.10),
    st.floats(0.05, 0.6),
    st.floats(150.0, 2000.0),
    st.sampled_from(("nothing", "wet rag", "heat paste")),
)


@settings(max_examples=12, deadline=None)
@given(any_setup, st.floats(0.0, 40.0))
def test_no_heat_is_lost_or_made(setup, stay):
    hot = joint.braze(setup, WORKING, stay, LIMIT)
    spent = hot.air_heat + hot.wrap_heat + hot.stored_heat
    assert hot.flame_heat == pytest.approx(spent, rel=1e-9)
    assert hot.temperature.min() > 293.15 - 1e-6
    assert hot.temperature[:, hot.joint].max() <= WORKING + 1e-6
    water = 0.0 if setup.wrap is None else setup.wrap.water
    assert 0.0 <= hot.boiled <= water * (1 + 1e-9)
    warmed = joint.HEAT_OF_WATER * water * (setup.boiling - setup.ambient)
    assert hot.wrap_heat <= warmed + joint.HEAT_OF_BOILING * hot.boiled + 1e-6
    if hot.flows:
        assert hot.leaves_at == pytest.approx(hot.flows_at + stay)


@settings(max_examples=6, deadline=None)
@given(any_setup)
def test_what_makes_the_body_hotter(setup):
    bare = replace(setup, wrap=None)
    start = joint.braze(bare, WORKING, 10.0, LIMIT)
    assert joint.braze(bare, WORKING, 30.0, LIMIT).peak > start.peak or not start.flows
    heavier = replace(bare, body_mass=2.0 * bare.body_mass)
    assert joint.braze(heavier, WORKING, 10.0, LIMIT).peak < start.peak
    if start.flows:
        cooler = joint.braze(bare, joint.filler("BAg-7").liquidus, 10.0, LIMIT)
        assert cooler.peak < start.peak
        assert cooler.flows_at < start.flows_at
    weaker = joint.braze(replace(bare, flame=0.8 * bare.flame), WORKING, 10.0, LIMIT)
    if weaker.flows:
        assert weaker.flows_at > start.flows_at
        assert weaker.peak > start.peak


@pytest.mark.parametrize("wrap", ["nothing", "wet rag", "heat paste"])
def test_finer_steps_change_little(wrap):
    coarse = brazed(wrap=joint.wrap(wrap))
    fine = brazed(wrap=joint.wrap(wrap), step=0.1)
    assert coarse.peak == pytest.approx(fine.peak, abs=1.5)
    assert coarse.flows_at == pytest.approx(fine.flows_at, abs=0.5)


def test_finer_cells_change_little(monkeypatch):
    coarse = brazed()
    monkeypatch.setattr(heat, "_STUB_CELL", 5e-4)
    monkeypatch.setattr(heat, "_LINE_CELLS", 60)
    monkeypatch.setattr(heat, "_LINE_GROWTH", 1.08)
    fine = brazed()
    assert coarse.peak == pytest.approx(fine.peak, abs=1.0)
    assert coarse.flows_at == pytest.approx(fine.flows_at, abs=0.5)


@pytest.mark.parametrize("filler", ["BAg-7", "BAg-5"])
def test_longest_stay_ends_at_the_limit(filler):
    working = joint.filler(filler).liquidus
    longest = brazed(working=working).longest_stay
    assert 0.0 < longest < joint.LONGEST_STAY
    assert brazed(longest, working).peak == pytest.approx(LIMIT, abs=2.0)


def test_stays_without_an_end_and_without_a_beginning():
    assert math.isinf(brazed(stub=STAINLESS).longest_stay)
    hopeless = brazed(working=joint.filler("BCuP-3").liquidus, flame=380.0)
    assert hopeless.flows
    assert math.isnan(hopeless.longest_stay)


def test_a_flame_too_small_never_gets_there_and_heats_the_body_all_the_same():
    weak = brazed(flame=250.0, line=COPPER)
    assert not weak.flows
    assert math.isnan(weak.longest_stay)
    assert weak.passes(LIMIT) < joint.GIVE_UP
    assert weak.peak > brazed(line=COPPER, flame=1000.0).peak


def test_the_body_is_hottest_after_the_torch_has_left():
    bare = brazed()
    assert bare.peak_at > bare.leaves_at + 5.0
    assert bare.body.max() == bare.peak


def test_water_holds_the_body_and_a_dry_rag_does_not():
    weak = {"flame": 330.0, "working": joint.filler("BCuP-3").liquidus}
    wet = brazed(wrap=joint.wrap("wet rag"), **weak)
    dry = brazed(wrap=joint.wrap("wet rag", 0.002), **weak)
    none = brazed(wrap=joint.wrap("wet rag", 0.0), **weak)
    assert wet.peak < dry.peak < none.peak
    assert dry.boiled == pytest.approx(0.002)
    assert none.boiled == 0.0


def test_water_boils_earlier_up_high():
    """At 90 °C instead of 100 °C the body stays cooler where the rag boils."""
    weak = {"flame": 330.0, "working": joint.filler("BCuP-3").liquidus}
    low = brazed(wrap=joint.wrap("wet rag"), **weak)
    high = brazed(wrap=joint.wrap("wet rag"), boiling=363.15, **weak)
    assert high.peak < low.peak
    assert high.boiled > low.boiled


# ---------------------------------------------------------------- metals, water, nitrogen, flares


def test_metals_against_the_ht_library():
    """ht's table of solids is at room temperature: within 25 %."""
    from ht.insulation import k_material, rho_material

    for metal, name in (
        (COPPER, "Metals, copper"),
        (BRASS, "Metals, brass"),
        (STAINLESS, "Metals, stainless steel"),
    ):
        assert metal.conductivity == pytest.approx(k_material(name), rel=0.25)
        assert metal.density == pytest.approx(rho_material(name), rel=0.03)


def test_water_against_coolprop():
    """Liquid at 20 °C to vapour at 100 °C, 1 atm."""
    from CoolProp.CoolProp import PropsSI

    cold = PropsSI("H", "T", 293.15, "P", 101325.0, "Water")
    steam = PropsSI("H", "Q", 1, "P", 101325.0, "Water")
    lasts = joint.water_lasts(0.050, 100.0, 293.15, 373.15)
    assert lasts == pytest.approx(0.050 * (steam - cold) / 100.0, rel=2e-3)


def test_nitrogen_thins_the_air_as_a_stirred_tank_does():
    volume, flow = 0.35e-3, units.to_si(5.0, "ft3/h")
    time = joint.purge_time(volume, flow, 0.01)
    share, steps = joint.OXYGEN_IN_AIR, 20000
    for _ in range(steps):
        share -= flow * time / steps / volume * share
    assert share == pytest.approx(0.01, rel=1e-3)
    assert joint.purge_time(volume, flow, joint.OXYGEN_IN_AIR) == 0.0


def test_one_hex_flat_is_a_sixth_of_a_turn():
    """Common practice, no published source; a hexagon has six flats."""
    assert joint.data()["practice"]["power_element_deg"] == 360 / 6


# ---------------------------------------------------------------- fillers


@pytest.mark.parametrize("name", joint.fillers())
def test_fillers_against_the_standard(name):
    filler = joint.filler(name)
    assert filler.solidus <= filler.brazing_from
    assert sum(filler.content.values()) == pytest.approx(1.0, abs=0.005)
    ranges = PUBLISHED["ranges"]
    low, high = (units.to_si(edge, "degF") for edge in ranges["most_brazing_F"])
    assert low <= filler.liquidus <= high
    assert filler.solidus > units.to_si(ranges["brazing_above_F"], "degF")


@pytest.mark.parametrize("iron", [STAINLESS, STEEL])
@pytest.mark.parametrize("other", [COPPER, BRASS, STAINLESS, STEEL])
def test_steel_and_stainless_take_silver_with_flux_and_never_phosphorus(iron, other):
    """Common practice, no published source."""
    judged = {each.filler.name: each for each in joint.judge_all(iron, other)}
    assert judged["BAg-5"].verdict == judged["BAg-7"].verdict == joint.FLUX
    assert joint.coolest(iron, other).filler.silver in (0.45, 0.56)
    for each in judged.values():
        if each.filler.has("P"):
            assert each.verdict == joint.NEVER
            assert "phosphorus" in each.reason


def test_copper_and_brass():
    """Common practice, no published source."""
    bare = joint.coolest(COPPER, COPPER)
    assert bare.filler.has("P")
    assert bare.verdict == joint.NO_FLUX
    for each in joint.judge_all(COPPER, BRASS):
        assert each.verdict == (joint.NEVER if each.filler.has("Cd") else joint.FLUX)


@pytest.mark.parametrize("one", joint.metals().values(), ids=str)
@pytest.mark.parametrize("other", joint.metals().values(), ids=str)
def test_a_filler_melts_before_its_base_metals_and_holds_no_cadmium(one, other):
    judged = joint.judge_all(one, other)
    assert judged == joint.judge_all(other, one) or {j.verdict for j in judged} == {joint.NEVER}
    for each in judged:
        if each.verdict != joint.NEVER:
            assert each.filler.liquidus < min(one.melts, other.melts)
            assert not each.filler.has("Cd")
    if ALUMINIUM in (one, other):
        assert joint.coolest(one, other) is None


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    "changed",
    [
        {"stub_length": 0.0},
        {"stub_length": float("nan")},
        {"body_mass": -0.1},
        {"flame": 1.0},
        {"ambient": 20.0},
        {"boiling": 290.0},
    ],
)
def test_setups_that_cannot_be(changed):
    with pytest.raises(OutOfRange):
        replace(SETUP, **changed)


@pytest.mark.parametrize(
    ("call", "error"),
    [
        (lambda: joint.metal("tin"), UnknownName),
        (lambda: joint.filler("BCuP-9"), UnknownName),
        (lambda: joint.wrap("snow"), UnknownName),
        (lambda: joint.tube(0.010), UnknownName),
        (lambda: joint.wrap("wet rag", -0.1), OutOfRange),
        (lambda: joint.Wrap(0.05, 1e5), OutOfRange),
        (lambda: joint.Tube(0.01, 0.006), OutOfRange),
        (lambda: brazed(stay=-1.0), OutOfRange),
        (lambda: brazed(stay=1e4), OutOfRange),
        (lambda: brazed(working=280.0), OutOfRange),
        (lambda: brazed(working=2200.0), OutOfRange),
        (lambda: joint.purge_time(1e-3, 0.0, 0.01), OutOfRange),
        (lambda: joint.purge_time(1e-3, 1e-5, 0.5), OutOfRange),
        (lambda: joint.water_lasts(0.05, 0.0, 293.0, 373.0), OutOfRange),
        (lambda: joint.water_lasts(0.05, 50.0, 380.0, 373.0), OutOfRange),
        (lambda: joint.flare_torque(0.875 * 0.0254), OutOfRange),
        (lambda: joint.steady_heat(COPPER, SETUP.tube, 0.0, 100.0), OutOfRange),
    ],
)
def test_bad_input_is_answered_in_one_sentence(call, error):
    with pytest.raises(error) as refused:
        call()
    assert str(refused.value).count(".") >= 1
    assert "nan" not in str(refused.value)
