"""Driers, moisture and vacuum against IAPWS check values, published tables and arithmetic."""

import numpy as np
import pytest
from lowside import drier, refrigerants, units
from lowside.drier import DROP, Drier, water
from lowside.errors import OutOfRange, UnknownName


def kelvin(fahrenheit):
    return (np.asarray(fahrenheit, dtype=float) + 459.67) / 1.8


@pytest.fixture(scope="module")
def propane():
    return refrigerants.get("R290")


# water --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("temperature", "pressure"),
    [
        # Check values printed in IAPWS SR1-86 (1992) and R14-08 (2011), from memory.
        (273.16, 611.657),
        (373.1243, 0.101325e6),
        (230.0, 8.94735),
    ],
)
def test_iapws_check_values(temperature, pressure):
    assert drier.saturation_pressure(temperature) == pytest.approx(pressure, rel=1e-6)


@pytest.mark.parametrize(
    ("celsius", "pressure"),
    [
        # psychrolib (ASHRAE Fundamentals, Hyland and Wexler), run apart from this library.
        (0.0, 611.15),
        (20.0, 2338.8),
        (25.0, 3169.0),
        (50.0, 12350.0),
        (-20.0, 103.26),
        (-40.0, 12.84),
    ],
)
def test_another_formulation_agrees(celsius, pressure):
    assert drier.saturation_pressure(celsius + 273.15) == pytest.approx(pressure, rel=1e-3)


def test_vacuum_and_boiling_water():
    """500 micron is 66.66 Pa, where ice at -24.5 °C is in balance (psychrolib, run apart)."""
    pressure = 500 * units.MICRON
    assert pressure == pytest.approx(66.66, abs=0.01)
    assert drier.boiling_temperature(pressure) - 273.15 == pytest.approx(-24.5, abs=0.2)
    assert drier.vacuum_margin(pressure, 293.15) == pytest.approx(44.5, abs=0.3)
    assert drier.vacuum_margin(pressure, 243.15) < 0.0  # a freezer coil left cold keeps its ice
    assert drier.boiling_temperature(101325.0) == pytest.approx(373.124, abs=0.01)


def test_boiling_and_saturation_are_inverse():
    temperature = np.linspace(180.0, 630.0, 400)
    back = drier.boiling_temperature(drier.saturation_pressure(temperature))
    assert np.allclose(back, temperature, rtol=1e-9)
    assert np.all(np.diff(drier.saturation_pressure(temperature)) > 0.0)


def test_vapour_in_an_evacuated_box_is_next_to_nothing():
    """2.5 L at 500 micron: m = p V M / (R T) = 1.2 mg, a fortieth of a drop (arithmetic)."""
    left = drier.vapour_left(66.66, 2.5e-3, 298.15)
    assert left == pytest.approx(66.66 * 2.5e-3 * 0.01801528 / (8.314463 * 298.15))
    assert DROP / left == pytest.approx(41.0, rel=0.02)


# solubility ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "fahrenheit", "ppm"),
    [
        # ASHRAE Handbook, Refrigeration, solubility of water (scraped copy, read). Points not among
        # the neighbours used: each is left out by reading the table halfway between its neighbours.
        ("R134a", (100, 80, 60, 40, 20, 0, -20, -40), (1800, 1300, 880, 600, 390, 250, 150, 89)),
        ("R22", (100, 80, 60, 40, 20, 0, -20, -40), (1800, 1350, 970, 690, 472, 308, 195, 120)),
        ("R12", (100, 80, 40, 0, -40), (165, 98, 32, 8.3, 1.7)),
        ("R502", (100, 40, 0, -40), (810, 278, 115, 40)),
    ],
)
def test_solubility_table(name, fahrenheit, ppm):
    ours = drier.solubility(name, kelvin(fahrenheit)) * 1e6
    assert ours == pytest.approx(ppm, rel=0.05)
    # van 't Hoff between every second point must meet the printed one in between.
    x, y = 1.0 / kelvin(fahrenheit), np.log(ppm)
    between = y[:-2] + (x[1:-1] - x[:-2]) / (x[2:] - x[:-2]) * (y[2:] - y[:-2])
    assert np.exp(between) == pytest.approx(np.array(ppm[1:-1]), rel=0.06)


def test_solubility_signs():
    """Falls with temperature; an HFC takes ten times what R12 took (same table)."""
    temperature = np.linspace(230.0, 325.0, 50)
    for name in drier.known():
        assert np.all(np.diff(drier.solubility(name, temperature)) > 0.0), name
    assert drier.solubility("R134a", 277.6) > 10 * drier.solubility("R12", 277.6)


def test_propane_solubility_against_a_general_formula():
    """Hibbard and Schalla 1952 (NACA RM E52D24, from memory) for water in any hydrocarbon.

    log10 x = -(4200 H/C + 1050) (1/T - 0.0016), H/C by mass. Two memories, hence a factor of two.
    """
    for temperature in (263.15, 273.15, 288.15, 303.15, 318.15):
        ratio = 8 * 1.008 / (3 * 12.011)
        moles = 10.0 ** (-(4200.0 * ratio + 1050.0) * (1.0 / temperature - 0.0016))
        mass = moles * 18.015 / 44.096
        assert 0.5 < drier.solubility("R290", temperature) / mass < 2.5


def test_water_in_vapour_is_daltons_law(propane):
    """0 °C: 611 Pa of water in 474.5 kPa (C003 of any propane table): 0.129 % by moles, 527 ppm."""
    ours = drier.in_vapour(propane, 273.16)
    assert ours == pytest.approx(611.657 / (474.5e3 - 611.7) * 18.015 / 44.096, rel=2e-3)
    # In cold propane the vapour can carry more water than the liquid.
    assert drier.in_vapour(propane, 258.15) > drier.solubility("R290", 258.15)


def test_ice_at_the_port(propane):
    """Wet propane freezes at a freezer's port before it does at a cooler's; dry never does."""
    wet = np.array([5e-6, 60e-6, 300e-6])
    cooler = drier.falls_out(propane, wet, 268.15, 0.30)
    freezer = drier.falls_out(propane, wet, 243.15, 0.40)
    assert np.all(freezer.free >= cooler.free)
    assert not freezer.freezes[0]
    assert freezer.freezes[2]
    assert np.all(cooler.free <= np.maximum(wet - cooler.carried, 0.0) + 1e-15)
    warm = drier.falls_out(propane, 1.0, 283.15, 0.2)
    assert warm.free > 0.0
    assert not warm.freezes
    more_vapour = drier.falls_out(propane, 1e-4, 258.15, np.linspace(0.0, 1.0, 5))
    assert np.all(np.diff(more_vapour.carried) > 0.0)


# drier --------------------------------------------------------------------------------------------


def test_a_drop_is_a_lot_of_water():
    """0.05 mL is 50 mg: 333 ppm of 150 g, 50 ppm of 1 kg (arithmetic; drop size a convention)."""
    assert drier.drops(0.05e-6 * 998.2) == pytest.approx(1.0, rel=0.005)
    ppm = 1e6 * DROP / np.array([0.150, 1.0])
    assert ppm == pytest.approx([333.0, 50.0], rel=0.01)


@pytest.mark.parametrize(
    ("sieve", "low", "high"),
    [
        # Wang and LeVan 2009, J. Chem. Eng. Data 54, 2839: range of loadings measured between 0 and
        # 100 °C at these partial pressures, as listed in SorpPropLib (read).
        ("5A", (14.7, 0.0472), (1660.0, 0.2486)),
        ("13X", (10.5, 0.0483), (1830.0, 0.2576)),
    ],
)
def test_loading_spans_what_was_measured(sieve, low, high):
    temperature = np.linspace(273.15, 373.15, 30)
    least = drier.water_loading(low[0], temperature, sieve)
    most = drier.water_loading(high[0], temperature, sieve)
    assert least.min() < low[1] < least.max()
    possible = drier.saturation_pressure(temperature) > high[0]  # colder, water would condense
    assert most[possible].max() == pytest.approx(high[1], rel=0.08)
    assert np.all(np.diff(least) < 0.0)
    assert np.all(drier.water_loading(np.geomspace(1.0, 2000.0, 20), 300.0, sieve) < 0.3)
    assert np.all(np.diff(drier.water_loading(np.geomspace(1.0, 2000.0, 20), 300.0, sieve)) > 0.0)


def test_capacity_is_about_a_fifth_of_the_beads(propane):
    """Zeolites near room temperature take some 20 % of their mass (textbooks), warm ones less."""
    unit = Drier(20e-6, 0.010)
    cool = unit.water_capacity("R134a", 297.0, 50e-6)  # 75 °F, the usual rating temperatures
    warm = unit.water_capacity("R134a", 324.8, 50e-6)  # 125 °F
    assert 0.12 < cool / unit.desiccant_mass < 0.22
    assert warm < cool
    assert drier.drops(cool) == pytest.approx(cool / 50e-6)
    assert unit.water_capacity("R290", 297.0, 0.0) == 0.0
    saturated = unit.water_capacity("R290", 297.0, 1.0)
    assert saturated == unit.water_capacity("R290", 297.0, drier.solubility("R290", 297.0))


def test_drier_fills_with_liquid(propane):
    """25 mL more free volume takes 25 mL x 475 kg/m3, about 12 g of propane."""
    pressure = propane.bubble_pressure(320.0)
    small, large = (
        Drier(v, 0.01).refrigerant_held(propane, pressure, 308.0) for v in (15e-6, 4e-5)
    )
    assert large - small == pytest.approx(25e-6 * 475.0, rel=0.02)
    built = Drier.of_shell(30e-6, 0.011)
    assert built.free_volume == pytest.approx(20e-6)


def test_water_account_closes_and_beads_win(propane):
    unit = Drier(15e-6, 0.010)
    wet = np.array([1, 5, 20, 30]) * DROP
    left = drier.remaining_water(unit, "R290", 0.1, wet, 300.0)
    held = unit.water_capacity("R290", 300.0, left)
    assert left * 0.1 + held == pytest.approx(wet, rel=1e-6)
    assert np.all(np.diff(left) > 0.0)
    assert left[0] < 1e-6 < 500e-6  # one drop in 100 g is 500 ppm without a drier
    assert drier.remaining_water(unit, "R290", 0.1, 0.0, 300.0) == 0.0
    full = drier.remaining_water(Drier(15e-6, 0.0), "R290", 0.1, DROP, 300.0)
    assert full == pytest.approx(float(drier.solubility("R290", 300.0)))


# refusals -----------------------------------------------------------------------------------------


def test_refusals_carry_numbers(propane):
    with pytest.raises(UnknownName, match="R134a"):
        drier.solubility("R1234yf", 280.0)
    with pytest.raises(UnknownName, match="5A"):
        drier.water_loading(100.0, 300.0, "9Z")
    with pytest.raises(OutOfRange, match="liquid R290") as refused:
        drier.solubility("R290", 200.0)
    assert refused.value.kind == "temperature"
    with pytest.raises(OutOfRange, match="free volume"):
        Drier(-1e-6, 0.01)
    with pytest.raises(OutOfRange, match="inner volume"):
        Drier.of_shell(5e-6, 0.01)
    with pytest.raises(OutOfRange, match="pressure over water"):
        drier.boiling_temperature(0.0)
    with pytest.raises(OutOfRange, match="water in the refrigerant"):
        drier.falls_out(propane, -1e-6, 260.0)
    with pytest.raises(OutOfRange, match="charge"):
        drier.remaining_water(Drier(1e-5, 0.01), "R290", -0.1, 0.0, 300.0)
    assert water.RANGE[0] < 273.15
