"""Flammable charges against printed limits, open library data, textbook formulas and arithmetic."""

import chemicals
import numpy as np
import pytest
from lowside import flammability, refrigerants
from lowside.errors import OutOfRange, UnknownName
from lowside.flammability import Room

LFL = 0.038  # [kg/m3] propane, ASHRAE 34 / ISO 817, from memory


@pytest.fixture(scope="module")
def propane():
    return refrigerants.get("R290")


# limits -------------------------------------------------------------------------------------------


def test_multiples_of_lfl_are_the_printed_charges():
    """4, 8, 13, 26, 130 x 0.038 kg/m3 (IEC/UL 60335-2-89, EN 378 / ISO 5149; arithmetic).

    Printed as 150 g (common practice for propane cabinets before 2019, read on the pages of a
    national institute of refrigeration), 300 g and 500 g (trade press on UL 60335-2-89, read).
    """
    limits = flammability.multiple_of_lfl(np.array([4, 8, 13, 26, 130]), LFL)
    assert limits == pytest.approx([0.152, 0.304, 0.494, 0.988, 4.940])
    assert np.round(limits[:2], 2) == pytest.approx([0.15, 0.30])
    assert round(limits[2], 1) == 0.5


def test_table_carries_editions_sources_and_the_rule(propane):
    limits = flammability.charge_limits(propane)
    for limit in limits:
        assert limit.source
        assert "read" in limit.status or "memory" in limit.status
        assert limit.edition
        if limit.multiple and limit.printed:
            assert limit.mass == pytest.approx(limit.printed, rel=0.02)
    printed = {limit.printed for limit in limits}
    assert {0.150, 0.300, 0.500} <= printed
    assert "nameplate" in flammability.rule()
    household = flammability.charge_limits(refrigerants.get("isobutane"))
    assert 0.057 in {limit.printed for limit in household}  # SNAP 2011, trade press (read)


def test_lower_limits_disagree_and_both_are_shown(propane):
    """1.7 % by IEC 60079-20-1, 2.1 % by NFPA 497, as the open library `chemicals` ships them."""
    first, second = flammability.lower_limits(propane)
    assert first.used_for_limits
    assert first.concentration == pytest.approx(propane.facts.lfl)
    assert {first.volume_share, second.volume_share} == {0.017, 0.021}
    for limit, method in ((first, "NFPA 497 (2008)"), (second, "IEC 60079-20-1 (2010)")):
        library = chemicals.LFL(CASRN="74-98-6", method=method)
        assert limit.volume_share == pytest.approx(library)
        exact = flammability.mass_concentration(limit.volume_share, propane.facts.molar_mass)
        assert limit.concentration == pytest.approx(exact, rel=0.01)
    assert second.concentration == pytest.approx(0.0306, abs=1e-4)


def test_room_formula():
    """2.5 LFL^1.25 h0 sqrt(A): 0.080 kg for 0.6 m / 10 m2, 0.338 kg for 1.8 m / 20 m2 (memory)."""
    heights = flammability.RELEASE_HEIGHTS
    charges = flammability.largest_charge(
        LFL, np.array([10.0, 20.0]), np.array([heights["floor"], heights["wall"]])
    )
    assert charges == pytest.approx([0.080, 0.338], rel=0.01)
    area = flammability.smallest_floor(charges, LFL, np.array([0.6, 1.8]))
    assert area == pytest.approx([10.0, 20.0])


def test_practical_limit_rooms(propane):
    """150, 300, 494 g at 0.008 kg/m3 (EN 378-1, from memory): 18.75, 37.5, 61.75 m3."""
    rooms = flammability.smallest_room(np.array([0.150, 0.300, 0.494]), 0.008)
    assert rooms == pytest.approx([18.75, 37.5, 61.75])
    assert propane.facts.practical_limit == pytest.approx(0.008)


def test_stoichiometric_arithmetic():
    """C3H8 + 5 O2, 20.95 % oxygen: 4.02 % by volume, well above either lower limit."""
    share = 1.0 / (1.0 + 5.0 / 0.2095)
    assert share == pytest.approx(0.0402, abs=2e-4)
    assert flammability.mass_concentration(share, 0.0440956) > 1.9 * LFL


# rooms --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("air_changes", [0.0, 0.5, 6.0])
@pytest.mark.parametrize("release", [60.0, 1800.0])
def test_closed_form_against_small_steps(air_changes, release):
    """dC/dt = m/V - n C marched with 100 000 steps of the midpoint rule."""
    room = Room(2.0, 2.5, air_changes / 3600.0)
    end, steps = 4000.0, 100_000
    dt = end / steps
    level, marched, above = 0.0, [], 0.0
    for k in range(steps):
        time = (k + 0.5) * dt
        source = 0.15 / release / room.volume if time < release else 0.0
        middle = level + 0.5 * dt * (source - room.air_change_rate * level)
        level += dt * (source - room.air_change_rate * middle)
        above += dt * (level > 0.5 * LFL)
        marched.append(level)
    times = np.arange(1, steps + 1) * dt
    ours = flammability.concentration(room, 0.15, release, times)
    assert np.allclose(ours, marched, rtol=2e-3, atol=1e-6)
    peak = flammability.peak_concentration(room, 0.15, release)
    assert peak == pytest.approx(max(marched), rel=2e-3)
    lasting = flammability.time_above(room, 0.15, release, 0.5 * LFL)
    begins = times[ours > 0.5 * LFL][0] if above else end
    assert min(lasting, end - begins) == pytest.approx(above, abs=1.0)


def test_leak_arithmetic():
    """150 g: 0.19 LFL in 20 m3, 0.97 in 4 m3 at 0.5 air changes (4 min), 3.3 in 1.2 m3."""
    big = flammability.peak_concentration(Room(8.0, 2.5), 0.15, 0.0)
    assert big / LFL == pytest.approx(0.15 / 20.0 / LFL)
    assert big / LFL == pytest.approx(0.197, abs=0.005)
    small = flammability.peak_concentration(Room(1.6, 2.5, 0.5 / 3600.0), 0.15, 240.0)
    assert small / LFL == pytest.approx(0.97, abs=0.01)
    cabinet = flammability.peak_concentration(Room(0.6, 2.0), 0.15, 0.0)
    assert cabinet / LFL == pytest.approx(3.3, abs=0.05)


def test_floor_layer_and_ventilation_directions():
    room, airy = Room(8.0, 2.5, 1.0 / 3600.0), Room(8.0, 2.5, 6.0 / 3600.0)
    shares = np.array([1.0, 0.5, 0.1])
    layers = flammability.peak_concentration(room, 0.15, 300.0, shares)
    assert layers * shares == pytest.approx(layers[0])
    assert flammability.peak_concentration(airy, 0.15, 300.0) < layers[0]
    slow = flammability.peak_concentration(room, 0.15, np.array([60.0, 600.0, 6000.0]))
    assert np.all(np.diff(slow) < 0.0)
    closed = flammability.time_above(Room(0.5, 2.0), 0.15, 60.0, LFL)
    assert np.isinf(closed)
    assert flammability.time_above(room, 0.15, 60.0, 10 * LFL) == 0.0
    assert flammability.CAUTIONS


def test_propane_gas_is_heavier_than_air_and_takes_room(propane):
    """1.832 kg/m3 at 25 °C and 1 atm, 1.55 times as heavy as air (1.184 kg/m3, any handbook)."""
    density = propane.state_pt(101325.0, 298.15).density
    assert density == pytest.approx(1.832, rel=0.003)
    assert density / 1.184 == pytest.approx(1.547, rel=0.005)
    assert 0.150 / density == pytest.approx(0.0819, rel=0.003)


# holes --------------------------------------------------------------------------------------------


def test_choked_vapour_is_the_textbook_formula(propane):
    """m/A = p sqrt(g/(R T)) (2/(g+1))^((g+1)/(2(g-1))) for an ideal gas; real gas within 6 %."""
    for pressure in (2e5, 1e6):
        temperature = float(propane.dew_temperature(pressure)) + 15.0
        gamma, gas = 1.13, 8.314463 / 0.0440956
        ideal = (
            pressure
            * np.sqrt(gamma / (gas * temperature))
            * (2.0 / (gamma + 1.0)) ** ((gamma + 1.0) / (2.0 * (gamma - 1.0)))
        )
        ours = flammability.vapour_leak(
            propane, pressure, temperature, 1e-3, discharge_coefficient=1.0
        )
        assert ours / (0.25e-6 * np.pi) == pytest.approx(ideal, rel=0.06)


def test_one_millimetre_hole_at_ten_bar(propane):
    """About 2.1 g/s of vapour at most, up to about 14 g/s of liquid (hand calculation)."""
    vapour = flammability.vapour_leak(propane, 1e6, 305.0, 1e-3, discharge_coefficient=1.0)
    assert vapour == pytest.approx(2.1e-3, rel=0.08)
    liquid = flammability.liquid_leak(propane, 1e6, 298.0, 1e-3)
    by_hand = 0.61 * 0.25e-6 * np.pi * np.sqrt(2.0 * 492.0 * (1e6 - 101325.0))
    assert liquid.most == pytest.approx(by_hand, rel=0.01)
    assert liquid.most == pytest.approx(14e-3, rel=0.05)
    assert vapour < liquid.least < liquid.most
    assert 0.3 < liquid.flashed < 0.5  # cp dT / h_fg = 2.6 x 67 / 426 = 0.41


def test_a_choked_leak_does_not_feel_the_outside(propane):
    outside = np.array([2e4, 1e5, 3e5, 8e5, 9.9e5, 1e6, 2e6])
    leak = flammability.vapour_leak(propane, 1e6, 310.0, 1e-3, outside)
    assert leak[1] == pytest.approx(leak[0], rel=1e-6)
    assert leak[2] == pytest.approx(leak[0], rel=1e-6)
    assert np.all(np.diff(leak[3:6]) < 0.0)
    assert np.all(leak[5:] == 0.0)
    area = flammability.vapour_leak(propane, 1e6, 310.0, np.array([1e-3, 2e-3]))
    assert area[1] == pytest.approx(4.0 * area[0])


def test_emptying_time_is_mass_over_rate(propane):
    """150 g through 1 mm at 10 bar: 14 g/s of liquid, 2.1 g/s of vapour at most (by hand)."""
    at_ten_bar = float(propane.dew_temperature(1e6))
    shortest, longest = flammability.emptying_time(propane, 0.150, 1e-3, at_ten_bar, "liquid")
    assert shortest == pytest.approx(0.150 / 14e-3, rel=0.06)
    assert longest > 1.5 * shortest
    shortest, longest = flammability.emptying_time(propane, 0.150, 1e-3, at_ten_bar)
    assert shortest == pytest.approx(0.150 / 2.1e-3, rel=0.10)
    assert longest == pytest.approx(shortest / flammability.GAS_HOLE)
    pinhole, _ = flammability.emptying_time(propane, 0.150, 1e-4, at_ten_bar)
    assert pinhole == pytest.approx(100.0 * shortest)
    with pytest.raises(UnknownName, match="vapour"):
        flammability.emptying_time(propane, 0.15, 1e-3, 300.0, "foam")
    with pytest.raises(OutOfRange, match="hole"):
        flammability.emptying_time(propane, 0.15, 0.0, 300.0)


# refusals -----------------------------------------------------------------------------------------


def test_refusals_carry_numbers(propane):
    with pytest.raises(OutOfRange, match="leaked") as refused:
        flammability.concentration(Room(8.0, 2.5), -0.1, 60.0, 60.0)
    assert refused.value.value == -0.1
    with pytest.raises(OutOfRange, match="area"):
        Room(0.0, 2.5)
    with pytest.raises(OutOfRange, match="air change"):
        Room(8.0, 2.5, -1.0)
    with pytest.raises(OutOfRange, match="share"):
        flammability.peak_concentration(Room(8.0, 2.5), 0.1, 60.0, 0.0)
    with pytest.raises(OutOfRange, match="hole"):
        flammability.vapour_leak(propane, 1e6, 305.0, -1e-3)
    with pytest.raises(OutOfRange, match="threshold"):
        flammability.time_above(Room(8.0, 2.5), 0.1, 60.0, 0.0)
    with pytest.raises(OutOfRange, match="charge"):
        flammability.smallest_room(-0.1, 0.008)
    with pytest.raises(UnknownName, match="R290"):
        flammability.lower_limits(refrigerants.get("R404A"))
