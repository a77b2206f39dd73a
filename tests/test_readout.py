"""What a person reads and types: wording and sense (factors are checked in test_units)."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lowside import readout, units
from lowside.errors import (
    DataDamaged,
    NoOperatingPoint,
    OutOfRange,
    UnknownName,
    Unreadable,
)
from lowside.readout.kinds import INCHES_OF_VACUUM, KINDS

US = readout.choose("us")
METRIC = readout.choose("metric")
DENVER = readout.choose("us", altitude=1609.344)
SEA_LEVEL = 101325.0
PSI = 6894.757

FACES = {s for kind in KINDS.values() for s in (*kind.us, *kind.metric)} | {INCHES_OF_VACUUM}

# Widest sensible values of each kind, SI.
SPANS = {
    "gauge_pressure": (1e3, 5e6),
    "pressure": (1e3, 5e6),
    "pressure_difference": (-1e6, 1e6),
    "vacuum": (1.0, 1e5),
    "temperature": (150.0, 500.0),
    "temperature_difference": (-100.0, 100.0),
    "mass": (0.0, 50.0),
    "charge": (0.0, 50.0),
    "goods": (0.0, 1e5),
    "mass_flow": (0.0, 1.0),
    "capacity": (0.0, 1e5),
    "power": (0.0, 1e5),
    "current": (0.0, 100.0),
    "heat_flow": (-1e5, 1e5),
    "heat": (-1e6, 1e10),
    "enthalpy": (-1e5, 1e6),
    "entropy": (-1e3, 3e3),
    "insulation": (0.0, 20.0),
    "density": (0.01, 2e3),
    "concentration": (0.0, 2.0),
    "length": (0.0, 1e4),
    "altitude": (-500.0, 5500.0),
    "distance": (0.0, 1e3),
    "thickness": (0.0, 1.0),
    "port": (1e-4, 1e-2),
    "opening": (1e-5, 1e-3),
    "area": (1e-8, 1e3),
    "floor": (0.1, 1e3),
    "volume": (1e-7, 1e3),
    "time": (0.0, 1e6),
    "minutes": (0.0, 1e6),
    "hours": (0.0, 1e6),
    "air_changes": (0.0, 0.1),
    "ratio": (-2.0, 2.0),
    "water_content": (0.0, 1e-2),
    "number": (-1e6, 1e6),
    "angle": (-7.0, 7.0),
    "force": (-1e4, 1e4),
    "torque": (0.0, 1e3),
    "conductivity": (0.01, 500.0),
    "specific_heat": (100.0, 1e4),
    "gas_flow": (0.0, 0.01),
}


def test_every_kind_has_a_face():
    assert set(KINDS) == set(units.KINDS) == set(SPANS)


# ---------------------------------------------------------------- writing


def test_ten_kelvin_of_superheat_is_18_degrees_fahrenheit_not_50():
    assert US.text(10.0, "temperature_difference") == "18.0 °F"
    assert US.text(283.15, "temperature") == "50.0 °F"
    assert METRIC.text(10.0, "temperature_difference") == "10.0 K"


@pytest.mark.parametrize(
    ("show", "si", "kind", "text"),
    [
        (US, SEA_LEVEL + 68 * PSI, "gauge_pressure", "68.0 psig"),
        (US, SEA_LEVEL, "gauge_pressure", "0.0 psig"),
        (US, SEA_LEVEL - 12 * 3386.389, "gauge_pressure", "12.0 inHg vac"),
        (US, 0.0, "gauge_pressure", "29.9 inHg vac"),
        (METRIC, SEA_LEVEL - 0.5e5, "gauge_pressure", "-0.50 barg"),
        (US, SEA_LEVEL, "pressure", "14.7 psia"),
        (METRIC, SEA_LEVEL, "pressure", "1.01 bara"),
        (US, 500 * 0.1333224, "vacuum", "500 micron"),
        (US, 253.15, "temperature", "-4.0 °F"),
        (METRIC, 253.15, "temperature", "-20.0 °C"),
        (US, 0.150, "mass", "5.3 oz"),
        (US, 3.2, "mass", "7.05 lb"),
        (METRIC, 0.150, "mass", "150.0 g"),
        (METRIC, 3.2, "mass", "3.20 kg"),
        (US, 0.145, "charge", "5.11 oz"),
        (METRIC, 20.0, "volume", "20.0 m³"),
        (US, 0.038, "concentration", "0.0380 oz/ft³"),
        (METRIC, 0.038, "concentration", "38.0 g/m³"),
        (US, 6 / 3600, "air_changes", "6.0 an hour"),
        (METRIC, 5.5e-5, "water_content", "55 ppm"),
        (US, 3516.853, "capacity", "1.00 ton"),
        (US, 3516.853, "heat_flow", "12000 Btu/h"),
        (US, 0.0016, "port", "1.60 mm"),
        (US, 0.009525, "length", "0.375 in"),
        (US, 1609.344, "length", "5280.0 ft"),
        (US, 0.43, "ratio", "43 %"),
        (US, math.radians(30.0), "angle", "30°"),
        (US, 3.14159, "number", "3.14"),
        (US, math.nan, "temperature", "unknown"),
    ],
)
def test_text(show, si, kind, text):
    assert show.text(si, kind) == text


def test_digits_can_be_asked_for():
    assert US.text(SEA_LEVEL + 68.4 * PSI, "gauge_pressure", digits=0) == "68 psig"
    assert US.step("gauge_pressure") == pytest.approx(0.1 * PSI)
    assert METRIC.step("mass", digits=0) == pytest.approx(1e-3)


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
def test_never_a_negative_zero(show, kind):
    zero = show.si(0.0, kind)
    for nudge in (-1e-9, 1e-9):
        assert not show.text(zero + nudge * show.step(kind), kind).startswith("-")


def test_gauge_zero_moves_with_altitude():
    # The same absolute pressure reads more on a gauge in thin air.
    pressure = 570168.5
    assert US.text(pressure, "gauge_pressure") == "68.0 psig"
    assert DENVER.text(pressure, "gauge_pressure") == "70.6 psig"
    # ISO 2533 at 1609 m: 83.43 kPa (from memory), that is 12.10 psia.
    assert DENVER.text(DENVER.atmosphere, "pressure") == "12.1 psia"
    assert DENVER.text(0.0, "gauge_pressure") == "24.6 inHg vac"


def test_axis_and_units():
    assert US.axis("suction pressure", "gauge_pressure") == "suction pressure [psig]"
    assert METRIC.axis("superheat", "temperature_difference") == "superheat [K]"
    assert US.axis("pressure ratio", "number") == "pressure ratio"


# ---------------------------------------------------------------- reading


@pytest.mark.parametrize(
    ("show", "text", "kind", "si"),
    [
        (US, "68 psig", "gauge_pressure", SEA_LEVEL + 68 * PSI),
        (US, "68psi", "gauge_pressure", SEA_LEVEL + 68 * PSI),
        (US, "68", "gauge_pressure", SEA_LEVEL + 68 * PSI),
        (US, " 68 PSIG. ", "gauge_pressure", SEA_LEVEL + 68 * PSI),
        (US, "14.69595 psia", "gauge_pressure", SEA_LEVEL),
        (METRIC, "3.5 bar", "gauge_pressure", SEA_LEVEL + 3.5e5),
        (METRIC, "3.5 bar", "pressure", 3.5e5),
        (METRIC, "3.5 barg", "pressure", SEA_LEVEL + 3.5e5),
        (METRIC, "350 kPa", "gauge_pressure", SEA_LEVEL + 3.5e5),
        (US, "12 inHg", "gauge_pressure", SEA_LEVEL - 12 * 3386.389),
        (US, "-12 inHg", "gauge_pressure", SEA_LEVEL - 12 * 3386.389),
        (US, '12" Hg vac', "gauge_pressure", SEA_LEVEL - 12 * 3386.389),
        (US, "29.92 inHg", "pressure", 29.92 * 3386.389),
        (US, "500 micron", "vacuum", 66.6612),
        (US, "500 microns", "gauge_pressure", 66.6612),
        (METRIC, "0.67 mbar", "vacuum", 67.0),
        (US, "-4F", "temperature", 253.15),
        (US, "−4 °F", "temperature", 253.15),
        (US, "- 4 deg F", "temperature", 253.15),
        (US, "-20 ℃", "temperature", 253.15),
        (METRIC, "3,5 °C", "temperature", 276.65),
        (METRIC, "-4", "temperature", 269.15),
        (US, "10 F", "temperature_difference", 10 / 1.8),
        (US, "10 degrees", "temperature_difference", 10 / 1.8),
        (METRIC, "10°", "temperature_difference", 10.0),
        (US, "10 K", "temperature_difference", 10.0),
        (US, "1 1/2 oz", "mass", 0.0425243),
        (US, "1-1/2 oz", "mass", 0.0425243),
        (US, "1½ oz", "mass", 0.0425243),
        (US, "½ oz", "mass", 0.0141748),
        (US, "2 lb 3 oz", "mass", 0.992233),
        (US, "2lb .5oz", "mass", 0.921360),
        (METRIC, "105", "mass", 0.105),
        (US, "3/8 in", "length", 0.009525),
        (US, "5'3\"", "length", 1.6002),
        (US, "1/16 in", "port", 0.0015875),
        (US, "1,234.5 Btu/h", "heat_flow", 361.796),
        (METRIC, "1.234,5 W", "heat_flow", 1234.5),
        (US, "12 000 Btu/h", "heat_flow", 3516.853),
        (US, "1,234,567 W", "heat_flow", 1234567.0),
        (US, "1.234 W", "heat_flow", 1.234),
        (US, "0,125 in", "length", 0.003175),
        (US, "1/2 ton", "capacity", 1758.4264),
        (US, "6000 BTU", "capacity", 1758.4264),
        (US, "40 ft²", "area", 3.7161216),
        (US, "30 lb/ft3", "density", 480.5539),
        (US, "0.42 Btu/(lb·°R)", "entropy", 1758.456),
        (US, "1 h 20 min", "time", 4800.0),
        (US, "40 %", "ratio", 0.4),
        (US, "40", "ratio", 0.4),
        (US, "1.7 turns", "number", 1.7),
        (US, "0.81 x", "number", 0.81),
        (US, "30°", "angle", math.pi / 6),
        (US, "1e5 Pa", "pressure", 1e5),
    ],
)
def test_what_a_person_types(show, text, kind, si):
    assert show.parse(text, kind, "reading") == pytest.approx(si, rel=5e-6)


def test_the_comma_rule():
    assert US.parse("1,234 W", "power", "power") == 1234.0
    with pytest.raises(Unreadable, match=r"1234 or 1\.234"):
        METRIC.parse("1,234 W", "power", "power")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "  ",
        "abc",
        "psig",
        "68 furlongs",
        "68 - 70",
        "1/0",
        "1 2 psig",
        "nan",
        "inf",
        "--4",
        "1e999",
        "9" * 41,
        "1,23,4",
    ],
)
def test_what_cannot_be_read_is_refused_in_one_sentence(text):
    with pytest.raises(Unreadable) as refusal:
        US.parse(text, "gauge_pressure", "suction pressure", low=SEA_LEVEL, high=3e6)
    sentence = US.explain(refusal.value)
    assert sentence.startswith("Suction pressure: ")
    assert text.strip() in sentence
    assert "68 psig" in sentence
    assert "between 0.0 psig and 420.4 psig" in sentence
    assert sentence.endswith(".")


@pytest.mark.parametrize(
    ("text", "kind", "phrase"),
    [
        ("68 °F", "gauge_pressure", "a gauge pressure (not a temperature)"),
        ("68 psig", "temperature", "a temperature (not a pressure)"),
        ("68 psig", "temperature_difference", "a temperature difference (not a pressure)"),
        ("3 oz", "capacity", "a cooling capacity (not a mass)"),
        ("2.5 psig", "pressure_difference", "a pressure difference (not a gauge pressure)"),
        ("2.5 psia", "pressure_difference", "a pressure difference (not an absolute pressure)"),
    ],
)
def test_the_wrong_kind_of_unit_is_named(text, kind, phrase):
    with pytest.raises(Unreadable) as refusal:
        US.parse(text, kind, "reading")
    assert phrase in US.explain(refusal.value)


@pytest.mark.parametrize(
    ("show", "text", "sentence"),
    [
        (
            US,
            "900 psig",
            "The head pressure is 900.0 psig; it must be between 0.0 psig and 420.4 psig.",
        ),
        (
            METRIC,
            "62",
            "The head pressure is 62.00 barg; it must be between 0.00 barg and 28.99 barg.",
        ),
        (
            US,
            "12 inHg",
            "The head pressure is 12.0 inHg vac; it must be between 0.0 psig and 420.4 psig.",
        ),
    ],
)
def test_out_of_range_is_worded_in_the_users_units(show, text, sentence):
    with pytest.raises(OutOfRange) as refusal:
        show.parse(text, "gauge_pressure", "head pressure", low=SEA_LEVEL, high=3e6)
    assert show.explain(refusal.value) == sentence


def test_a_label_is_quoted_and_needs_no_article():
    with pytest.raises(OutOfRange) as refusal:
        METRIC.parse("60", "temperature", "‘Condensing, hot day’", low=308.15, high=328.15)
    assert METRIC.explain(refusal.value) == (
        "‘Condensing, hot day’ is 60.0 °C; it must be between 35.0 °C and 55.0 °C."
    )


@pytest.mark.parametrize(
    ("text", "kind", "spelled"),
    [
        ("100", "capacity", "100 ton"),
        (" -4° ", "temperature", "-4 °F"),
        ("1,234", "power", "1,234 W"),
        ("1 1/2", "mass", "1 1/2 oz"),
        ("3.2", "number", "3.2"),
        ("68 psig", "gauge_pressure", "68 psig"),
        ("2 lb 3 oz", "mass", "2 lb 3 oz"),
        ("banana", "mass", "banana"),
        ("", "mass", ""),
    ],
)
def test_a_typed_number_keeps_its_unit_when_the_units_change(text, kind, spelled):
    assert US.spelled_out(text, kind) == spelled


def test_a_number_with_its_unit_spelled_out_means_the_same_in_other_units():
    for kind in sorted(KINDS):
        for show, other in ((US, METRIC), (METRIC, US)):
            spelled = show.spelled_out("3", kind)
            same = pytest.approx(show.parse("3", kind, "reading"), rel=1e-9)
            assert other.parse(spelled, kind, "reading") == same


def test_an_absurd_number_stays_short():
    for text in ("1e99 psig", "-1e30 °F"):
        kind = "gauge_pressure" if "psig" in text else "temperature_difference"
        assert len(US.text(US.parse(text, kind, "reading"), kind)) <= 15
    assert US.text(units.to_si(99999999, "W"), "power") == "99999999 W"


def test_nothing_is_emptier_than_a_vacuum_or_colder_than_absolute_zero():
    with pytest.raises(OutOfRange) as refusal:
        US.parse("35 inHg", "gauge_pressure", "suction pressure")
    assert US.explain(refusal.value) == (
        "The suction pressure is 35.0 inHg vac; it must be above a perfect vacuum, 29.9 inHg vac."
    )
    with pytest.raises(OutOfRange) as refusal:
        US.parse("-500 F", "temperature", "box temperature")
    assert US.explain(refusal.value).endswith("above absolute zero, -459.7 °F.")


# ---------------------------------------------------------------- errors of other rooms


def test_explain_words_every_error():
    assert METRIC.explain(
        OutOfRange("evaporating temperature", 203.15, 223.15, None, "temperature")
    ) == ("The evaporating temperature is -70.0 °C; it must be at least -50.0 °C.")
    assert US.explain(OutOfRange("load", 1e5, None, 17584.0, "capacity")) == (
        "The load is 28.43 ton; it must be at most 5.00 ton."
    )
    assert "Did you mean R290?" in US.explain(UnknownName("refrigerant", "R29", ["R290", "R134a"]))
    assert US.explain(DataDamaged("data/x.toml is missing")) == "data/x.toml is missing"
    no_point = NoOperatingPoint(
        "The valve cannot feed this coil.", evaporating_pressure=SEA_LEVEL, superheat=10.0
    )
    assert US.explain(no_point) == (
        "The valve cannot feed this coil (evaporating pressure 0.0 psig, superheat 18.0 °F)."
    )


def test_choices_are_checked():
    with pytest.raises(UnknownName, match="metric"):
        readout.choose("imperial")
    with pytest.raises(OutOfRange):
        readout.choose("us", altitude=9000.0)
    with pytest.raises(UnknownName):
        US.text(1.0, "colour")
    assert readout.choose(" US ") == US


# ---------------------------------------------------------------- identities

SHOWS = st.builds(
    readout.choose, st.sampled_from(readout.SYSTEMS), st.sampled_from([0.0, 1609.344, 3000.0])
)
QUANTITIES = st.sampled_from(sorted(SPANS)).flatmap(
    lambda kind: st.tuples(st.just(kind), st.floats(*SPANS[kind]))
)


@given(SHOWS, QUANTITIES)
def test_value_and_si_are_inverse(show, quantity):
    kind, si = quantity
    assert show.si(show.value(si, kind), kind) == pytest.approx(si, rel=1e-9, abs=1e-9)


@given(SHOWS, QUANTITIES)
def test_what_is_written_can_be_typed_back(show, quantity):
    kind, si = quantity
    text = show.text(si, kind)
    typed = show.parse(text, kind, "reading")
    # Within half of the last digit written, and the same words again.
    decimals = len(text.split()[0].rstrip("°").partition(".")[2])
    symbol = text.removeprefix("-").lstrip("0123456789.").strip()
    shown = next(s for s in FACES if s.symbol == symbol and s.decimals == decimals)
    half_step = 0.5 * units.unit(shown.unit).factor * 10.0**-decimals
    assert abs(typed - si) <= half_step * (1 + 1e-6) + 1e-12 * abs(si)


@given(SHOWS, st.text(max_size=12), st.sampled_from(sorted(KINDS)))
def test_any_text_gives_a_finite_number_or_one_sentence(show, text, kind):
    try:
        value = show.parse(text, kind, "reading")
    except (Unreadable, OutOfRange) as error:
        sentence = show.explain(error)
    else:
        sentence = f"{show.text(value, kind)}."
        assert math.isfinite(value)
    assert sentence.endswith(".")
    assert "\n" not in sentence


@given(SHOWS, QUANTITIES)
def test_arrays_are_scalars_side_by_side(show, quantity):
    kind, si = quantity
    pair = show.value(np.array([si, si + 1.0]), kind)
    assert pair.shape == (2,)
    assert pair[0] == show.value(si, kind)
    assert type(show.value(si, kind)) is float
