"""Which port is inside: readings to belief, port against strainer, plans, tags."""

import math
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from lowside import identify, readout, refrigerants, system
from lowside.errors import LowsideError, OutOfRange, UnknownName, Unreadable
from lowside.identify import calibration, decision, looks, posterior, route, strainer, suspects, tag
from lowside.identify.hardware import Site, Unknowns, deviations
from lowside.system import ports
from scipy import stats

US, METRIC = readout.choose("us"), readout.choose("metric")
UNKNOWNS = Unknowns()
EXACT = np.zeros(UNKNOWNS.count)


def site_of(name="R134a", load=1100.0, subcooling=5.0):
    fluid = refrigerants.get(name)
    box = system.size_low_side(fluid, load, 276.15, 317.15, static_superheat=4.0)
    return Site(box, 276.15, 317.15, subcooling)


@pytest.fixture(scope="module")
def site():
    return site_of()


@pytest.fixture(scope="module")
def library(site):
    return posterior.simulate(site)


@pytest.fixture(scope="module")
def lineup(site):
    return suspects.line_up(site, ("running",), draws=32)


def exactly(site, size, tests=tuple(looks.TESTS)):
    return looks.look(site, np.array(size), EXACT, UNKNOWNS, tests)


# ---------------------------------------------------------------- arithmetic of belief


def test_bayes_rule_against_the_cookie_problem():
    """Two bowls, 30 of 40 and 20 of 40 vanilla: 3/5 after one vanilla cookie.

    Downey, Think Bayes (2nd ed., ch. 2), from memory.
    """
    found = posterior.weigh(np.array([0.5, 0.5]), np.log([30 / 40, 20 / 40]))
    assert found == pytest.approx([0.6, 0.4])


def test_likelihood_against_scipy_where_everything_is_linear(library):
    """With readings linear in the hardware the marginal is one Gaussian: scipy has it exactly."""
    random = np.random.default_rng(3)
    slopes = random.normal(size=(5, UNKNOWNS.count))
    level = np.array([265.0, 270.0, 340.0, 272.0, 0.0])
    drawn = math.sqrt(1.0 - posterior.CLOUD) * deviations(6000, UNKNOWNS)
    readings = level + drawn @ slopes.T
    flags = np.zeros((1, len(drawn)), bool)
    seen = looks.Seen(readings[None], flags, ~flags, *(flags.astype(float),) * 5)
    wide = posterior.Instruments((1.0,) * 5, (1.5,) * 5)
    made = posterior.Library(
        library.site, library.sizes[:1], UNKNOWNS, wide, drawn, {"running": seen}
    )
    exact = stats.multivariate_normal(level, slopes @ slopes.T + wide.covariance(("running",)))
    read = level + random.normal(size=(20, 5)) @ np.diag([1.0, 2.0, 2.0, 1.0, 1.0])
    ours, effective, explained = made.log_likelihood({"running": read})
    assert ours[:, 0] == pytest.approx(exact.logpdf(read), abs=0.08)
    assert (effective > 50).all()
    assert explained.all()


def test_draws_are_standard_normal_and_fill_space():
    """Kolmogorov-Smirnov of scipy on every margin; means far closer than chance has them."""
    drawn = deviations(2000, UNKNOWNS)
    for margin in drawn.T:
        assert stats.kstest(margin, "norm").pvalue > 0.2
    assert np.abs(drawn.mean(axis=0)).max() < 0.5 / math.sqrt(2000)
    assert np.abs(np.corrcoef(drawn.T) - np.eye(UNKNOWNS.count)).max() < 0.05


def test_errors_shared_between_tests_are_in_the_covariance():
    instruments = posterior.Instruments()
    tests = ("running", "bulb")
    covariance = instruments.covariance(tests)
    errors = instruments.errors(tests, np.random.default_rng(1), 200_000)
    drawn = np.concatenate([errors[test] for test in tests], axis=-1)
    assert np.cov(drawn.T) == pytest.approx(covariance, abs=0.02 * covariance.max())


@settings(max_examples=60, deadline=None)
@given(
    some.lists(some.floats(1e-6, 1.0), min_size=2, max_size=9),
    some.floats(0.05, 0.99),
)
def test_credible_sets_are_likely_enough_and_no_larger(weights, level):
    probability = np.array(weights) / np.sum(weights)
    belief = posterior.Belief(np.array(ports.KIT[: len(weights)]), probability)
    kept = belief.credible(level)
    inside = sorted((belief.of(size) for size in kept), reverse=True)
    assert sum(inside) >= level - 1e-9
    distinct = [p for p in inside if p > inside[-1] * (1.0 + 1e-9)]
    assert sum(distinct) < level + 1e-9
    assert 0.0 <= belief.bits <= math.log2(len(weights)) + 1e-9
    assert belief.best in kept


def test_seven_sizes_alike_are_2_81_bit(site):
    """log2(7) = 2.807, arithmetic."""
    assert posterior.prior(site.sizes()).bits == pytest.approx(2.807, abs=1e-3)
    told = posterior.prior(site.sizes(), site.right, 0.9)
    assert told.of(site.right) == pytest.approx(0.9)
    assert told.probability.sum() == pytest.approx(1.0)


# ---------------------------------------------------------------- what tests show


def test_a_warm_bulb_opens_the_valve_and_the_port_alone_sets_the_flow(site):
    """Flow through an open port: m = Cd A sqrt(2 rho dp), any fluid-mechanics textbook."""
    for size in site.sizes()[1:5]:
        seen = exactly(site, size, ("bulb",))["bulb"]
        assert seen.wide_open
        box = looks.low_side(site, size, EXACT, UNKNOWNS)
        dew = float(seen.readings[0])
        behind = box.refrigerant.dew_pressure(dew) + box.evaporator.pressure_drop(seen.mass_flow)
        drop = site.arriving.pressure - behind
        by_hand = box.valve.port.largest_area * site.coefficient
        by_hand *= math.sqrt(2.0 * site.arriving.density * drop)
        assert seen.mass_flow == pytest.approx(by_hand, rel=1e-6)


def test_a_warm_bulb_floods_and_more_so_with_a_larger_port(site):
    back = [float(exactly(site, s, ("bulb",))["bulb"].liquid_back) for s in site.sizes()[2:6]]
    assert back == sorted(back)
    assert back[-1] > 0.0


def test_the_constant_coefficient_reproduces_the_box_as_believed(site):
    seen = exactly(site, float(site.box.valve.port.diameter), ("running",))["running"]
    assert seen.readings[0] == pytest.approx(float(site.normal.evaporating_temperature), abs=0.01)
    assert seen.superheat == pytest.approx(float(site.normal.superheat), abs=0.01)


def test_tests_in_one_batch_are_the_tests_one_by_one(site):
    together = exactly(site, site.right)
    for test, seen in together.items():
        alone = exactly(site, site.right, (test,))[test]
        assert seen.readings == pytest.approx(alone.readings, abs=1e-5)


# ---------------------------------------------------------------- what can be told


def test_a_modulating_valve_hides_its_size_and_an_open_one_tells_it(site, library):
    right = site.right
    seen = exactly(site, right)
    assert not seen["running"].wide_open
    running = library.belief({"running": seen["running"].readings})
    both = library.belief({t: seen[t].readings for t in ("running", "bulb")})
    head = library.belief({t: seen[t].readings for t in ("running", "head")})
    assert len(running.credible()) >= 3
    assert head.bits > 0.8 * running.bits
    assert both.bits < 0.6 * running.bits
    small = exactly(site, site.sizes()[1])
    assert small["running"].wide_open
    alone = library.belief({"running": small["running"].readings})
    assert alone.best == site.sizes()[1]
    assert alone.bits < 0.8


def test_a_tag_counts_until_readings_refute_it(site, library):
    small, right = float(site.sizes()[0]), site.right
    seen = exactly(site, right)["running"].readings
    false = posterior.prior(library.sizes, small, 0.95)
    assert library.belief({"running": seen}, false).of(small) < 0.05
    true = posterior.prior(library.sizes, right, 0.95)
    assert library.belief({"running": seen}, true).of(right) > 0.9


def test_calibration_of_simulated_valves(library):
    """Issue 4: 80 % sets hold the true size 75-90 % of the time, hardware drawn ±15 % off.

    A set ends with a whole size and so claims more than 80 %; cut to claim just that, it must hold
    it so often. tests/bench/identify.py has 2000 valves on every box of the hall.
    """
    judged = calibration.calibrate(
        library, [("running",), ("running", "head"), ("running", "bulb")], valves=700
    )
    for combination, found in judged.items():
        assert 0.75 <= found.trimmed <= 0.90, combination
        assert found.held >= 0.75
        assert abs(found.held - found.claimed) < 0.08
        assert found.explained > 0.99
    order = [found.certainty for found in judged.values()]
    assert order[0] <= order[1] + 0.02 < order[2]


def test_readings_that_no_port_explains_are_refused(site, library):
    with pytest.raises(LowsideError, match="another fault"):
        library.belief({"running": np.array([150.0, 400.0, 150.0, 400.0, 0.0])})
    with pytest.raises(OutOfRange, match="port"):
        posterior.prior(site.sizes(), 9e-3)
    with pytest.raises(OutOfRange, match="reliability"):
        posterior.prior(site.sizes(), site.right, 1.5)


# ---------------------------------------------------------------- port or strainer


def test_two_holes_in_a_row_pass_what_one_narrower_hole_passes():
    """Resistances of orifices in series add: 1/A² = 1/A1² + 1/A2² (any textbook), no flashing."""
    site = site_of(subcooling=30.0)
    port, hole = site.sizes()[2], site.sizes()[3]
    both = suspects.see(site, np.array(port), np.array(hole), EXACT, UNKNOWNS, ("bulb",))["bulb"]
    areas = [
        looks.low_side(site, size, EXACT, UNKNOWNS).valve.port.largest_area for size in (port, hole)
    ]
    area = np.sum(np.power(areas, -2.0)) ** -0.5
    box = looks.low_side(site, port, EXACT, UNKNOWNS)
    behind = box.refrigerant.dew_pressure(float(both.readings[0]))
    behind += box.evaporator.pressure_drop(both.mass_flow)
    flow = area * site.coefficient
    flow *= math.sqrt(2.0 * site.arriving.density * (site.arriving.pressure - behind))
    assert both.mass_flow == pytest.approx(flow, rel=0.01)


def test_small_port_and_plugged_strainer_read_the_same_from_outside():
    """A port behind a strainer against a clear smaller port of the same combined area."""
    site = site_of(subcooling=30.0)
    lowest, highest = site.sizes()[0], site.sizes()[1]
    plugged = suspects.see(
        site, np.array(highest), np.array(1.3 * highest), EXACT, UNKNOWNS, ("running", "head")
    )

    def flow_of(size):
        return exactly(site, size, ("running",))["running"].mass_flow

    for _ in range(40):
        middle = math.sqrt(lowest * highest)
        wide = flow_of(middle) > plugged["running"].mass_flow
        lowest, highest = (lowest, middle) if wide else (middle, highest)
    clear = exactly(site, middle, ("running", "head"))
    for test in ("running", "head"):
        assert plugged[test].wide_open
        assert plugged[test].readings == pytest.approx(clear[test].readings, abs=0.25)
    assert plugged["running"].strainer_drop > 1e5


@pytest.mark.parametrize("name", ["R134a", "R290", "R448A"])
def test_temperature_drop_of_a_strainer_against_coolprop(name):
    """Constant enthalpy, temperature from CoolProp's own equation of state."""
    from CoolProp.CoolProp import PropsSI

    fluid = refrigerants.get(name)
    pressure, subcooling = float(fluid.dew_pressure(315.0)), 8.0
    drop = 0.5 * pressure
    ours = float(strainer.strainer_temperature_drop(fluid, pressure, subcooling, drop))
    before = float(fluid.bubble_temperature(pressure)) - subcooling
    if fluid.is_blend:  # mixtures are slow and fragile there: behind it, between bubble and dew
        after = before - ours
        low, high = (
            fluid.bubble_temperature(pressure - drop),
            fluid.dew_temperature(pressure - drop),
        )
        assert low < after < high
        return
    enthalpy = PropsSI("H", "P", pressure, "T", before, name)
    theirs = before - PropsSI("T", "P", pressure - drop, "H", enthalpy, name)
    assert ours == pytest.approx(theirs, abs=0.05)


def test_no_temperature_drop_until_the_liquid_boils():
    """A strainer is felt only beyond head less boiling pressure of the liquid."""
    fluid = refrigerants.get("R134a")
    pressure, subcooling = float(fluid.dew_pressure(317.15)), 11.0
    liquid = fluid.bubble_temperature(pressure) - subcooling
    hidden = pressure - fluid.bubble_pressure(liquid)
    felt = strainer.strainer_temperature_drop(
        fluid, pressure, subcooling, hidden * np.array([0.5, 0.98, 1.5])
    )
    assert np.abs(felt[:2]).max() < 0.15
    assert felt[2] > 3.0
    little = strainer.strainer_temperature_drop(fluid, pressure, 2.0, 0.98 * hidden)
    assert little > 5.0


def test_strainer_and_flow_agree(site, lineup):
    seen = lineup.library.seen["running"]
    holes = np.repeat(lineup.holes, len(lineup.sizes))
    spread = np.exp(UNKNOWNS.strainer_hole * lineup.library.drawn[:, -1])
    plugged = ~np.isinf(holes)
    resistance = strainer.strainer_resistance(site, holes[plugged, None] * spread)
    wanted = resistance * seen.mass_flow[plugged] ** 2
    off = np.abs(np.log(seen.strainer_drop[plugged] / wanted))
    assert np.quantile(off, 0.95) < 0.1


def test_belief_cannot_tell_the_two_apart_but_a_felt_drop_convicts(site, lineup):
    first = suspects.before(lineup.sizes, lineup.holes, clear=0.5)
    small = lineup.sizes[1]
    seen = suspects.see(
        site, np.array(lineup.sizes[3]), np.array(small), EXACT, UNKNOWNS, ("running",)
    )["running"]
    assert seen.readings[-1] > 3.0
    read = lineup.suspicion({"running": seen.readings}, first)
    assert read.clear < 0.05
    instruments = posterior.Instruments(unread=("strainer",))
    blind = posterior.Library(
        site,
        lineup.library.sizes,
        UNKNOWNS,
        instruments,
        lineup.library.drawn,
        lineup.library.seen,
    )
    unread = suspects.Lineup(blind, lineup.sizes, lineup.holes).suspicion(
        {"running": seen.readings}, first
    )
    assert unread.clear > 0.25
    assert unread.port.bits > 0.7


# ---------------------------------------------------------------- plans


def certain(sizes, holes, row, column):
    probability = np.zeros((len(holes), len(sizes)))
    probability[row, column] = 1.0
    return suspects.Suspicion(sizes, holes, probability)


def test_plans_where_the_truth_is_known(lineup):
    costs = decision.Costs()
    holds = np.zeros((len(lineup.holes), len(lineup.sizes)), bool)
    holds[0, 3:] = True
    sound = decision.expect(certain(lineup.sizes, lineup.holes, 0, 4), holds, costs)
    assert decision.best(sound) == decision.LEAVE
    assert sound[decision.LEAVE].worth == 0.0
    plugged = decision.expect(certain(lineup.sizes, lineup.holes, 5, 4), holds, costs)
    assert decision.best(plugged) == decision.STRAINER
    assert plugged[decision.STRAINER].time == costs.strainer_time
    small = decision.expect(certain(lineup.sizes, lineup.holes, 0, 0), holds, costs)
    assert decision.best(small) == decision.OPEN
    assert small[decision.STRAINER].time == costs.strainer_time + costs.open_time
    assert small[decision.LEAVE].time == costs.return_time + costs.open_time


@settings(max_examples=40, deadline=None)
@given(some.floats(0.02, 0.98), some.floats(10.0, 100.0), some.floats(101.0, 400.0))
def test_minutes_alone_flip_where_arithmetic_says(chance, pulling, opening):
    """Strainer first pays while P(port) < 1 - strainer/open: arithmetic, as in task 3."""
    sizes, holes = np.array([1e-3, 1.25e-3]), np.array([math.inf, 1e-3])
    holds = np.array([[False, True], [False, False]])
    costs = decision.Costs(
        strainer_time=pulling, open_time=opening, food_worth=0.0, refrigerant_worth=0.0
    )
    suspicion = suspects.Suspicion(sizes, holes, np.array([[chance, 0.0], [0.0, 1.0 - chance]]))
    expected = decision.expect(suspicion, holds, costs)
    limit = 1.0 - pulling / opening
    if abs(chance - limit) > 1e-6:
        assert (expected["strainer"].worth < expected["open"].worth) == (chance < limit)


def test_costs_that_no_work_has_are_refused():
    with pytest.raises(OutOfRange, match="open time"):
        decision.Costs(open_time=-1.0)
    with pytest.raises(OutOfRange, match="open loss"):
        decision.Costs(open_loss=1.2)
    with pytest.raises(OutOfRange, match="reliability"):
        route.Habits(reliability=1.5)


def test_a_tag_never_misleads_on_average(site):
    """With equal knowledge of parts, more information cannot cost: true up to chance."""
    calls = route.rehearse(site, 1100.0)
    costs = decision.Costs()
    for reliability in (0.3, 0.6, 0.9, 0.99):
        habits = route.Habits(reliability=reliability, parts_known=reliability)
        worth = calls.worth(costs, habits)
        without, with_tag = (worth.taken[way].worth for way in (route.NO_TAG, route.TAG))
        assert with_tag < 1.03 * without
        assert without < 1.03 * worth.taken[route.ALWAYS_OPEN].worth
        assert sum(worth.chosen[route.TAG].values()) == pytest.approx(1.0)
    quarter = 1.0 / len(calls.sizes)  # a tag as good as a die says nothing
    habits = route.Habits(reliability=quarter, parts_known=quarter)
    worth = calls.worth(costs, habits)
    assert worth.taken[route.TAG].worth == pytest.approx(worth.taken[route.NO_TAG].worth)


# ---------------------------------------------------------------- the tag


def example(**changed):
    values = {
        "place": "Stall 5",
        "refrigerant": "R134a",
        "port": 0.63e-3,
        "balanced": False,
        "charge": "liquid",
        "equaliser": "internal",
        "superheat": 4.0,
        "date": "2026-11-25",
        "initials": "AB",
    }
    return tag.Tag(**{**values, **changed})


@pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
def test_the_code_says_the_same_words_to_another_reader(show):
    """Read back by zxing-cpp, an independent reader of ISO/IEC 18004."""
    zxingcpp = pytest.importorskip("zxingcpp")
    import segno

    made = example(place="Küche <3 & Söhne")
    cells = segno.make(made.text(show), error="m", micro=False).matrix_iter(scale=4, border=4)
    picture = np.array([[0 if dark else 255 for dark in row] for row in cells], dtype=np.uint8)
    assert zxingcpp.read_barcode(picture).text == made.text(show)
    drawn = made.code(show)
    assert ElementTree.fromstring(drawn).get("role") == "img"
    assert 'class="qrline"' in drawn


def test_what_is_typed_is_escaped_and_blanks_are_for_the_pen():
    made = example(place="<b>68</b>", initials='"><i')
    page = tag.sheet(made, US, 3)
    assert "<b>68</b>" not in page
    assert '"><i' not in page
    assert page.count("&lt;b&gt;68&lt;/b&gt;") == 3
    assert page.count("<svg") == 3
    for line in ("Port", "Refrigerant", "Bulb charge", "Equaliser", "Static superheat", "Date"):
        assert line in page
    assert tag.BLANK in example(date="", initials="").text(US)
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.parametrize(
    ("changed", "error"),
    [
        ({"date": "yesterday"}, Unreadable),
        ({"date": "2026-02-30"}, Unreadable),
        ({"initials": "ABCDEFGH"}, LowsideError),
        ({"place": "x" * 100}, LowsideError),
        ({"place": "two\nlines"}, LowsideError),
        ({"refrigerant": "water"}, UnknownName),
        ({"charge": "hope"}, UnknownName),
        ({"port": 0.5}, OutOfRange),
        ({"superheat": -3.0}, OutOfRange),
    ],
)
def test_a_tag_that_cannot_be_is_refused_in_a_sentence(changed, error):
    with pytest.raises(error) as raised:
        example(**changed)
    assert len(US.explain(raised.value)) > 20


def test_the_room_says_what_it_leaves_out():
    assert "Not modelled" in identify.__doc__
    with pytest.raises(OutOfRange):
        tag.sheet(example(), US, 0)
