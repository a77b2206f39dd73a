"""What gauges and clamps say: superheat from dew, subcooling from bubble, and mistakes named."""

from dataclasses import replace

import pytest
from CoolProp.CoolProp import PropsSI
from lowside import readings, readout, refrigerants
from lowside.errors import OutOfRange
from lowside.readings import Readings, interpret

SHOW = readout.choose("us")


def read(name="R290", **typed):
    """Interpret readings typed in US units."""
    values = {
        key: SHOW.parse(str(text), readings.KIND[key], readings.LABEL[key])
        for key, text in typed.items()
    }
    return interpret(refrigerants.get(name), Readings(**values), SHOW.atmosphere)


def codes(answer):
    return {finding.code for finding in answer.findings}


HEALTHY = {
    "suction_pressure": 35,
    "suction_temperature": 24,
    "head_pressure": 195,
    "liquid_temperature": 95,
    "discharge_temperature": 165,
    "ambient_temperature": 88,
    "box_temperature": 38,
}


def test_a_healthy_propane_box_raises_nothing():
    answer = read(**HEALTHY)
    assert answer.findings == ()
    assert 3 < answer.superheat < 8
    assert 5 < answer.subcooling < 12


@pytest.mark.parametrize(
    ("name", "psig", "dew", "bubble"),
    [
        # CHECKS C237, C238, C239: computed with CoolProp 8.0.0 (regression, 0.05 K)
        ("R448A", 30, -13.98, -20.24),
        ("R448A", 250, 43.73, 38.70),
        ("R449A", 30, -14.05, -19.87),
    ],
)
def test_superheat_counts_from_dew_and_subcooling_from_bubble(name, psig, dew, bubble):
    answer = read(name, suction_pressure=psig, suction_temperature="0 °C")
    assert answer.superheat == pytest.approx(-dew, abs=0.05)
    answer = read(name, head_pressure=psig, liquid_temperature="0 °C")
    assert answer.subcooling == pytest.approx(bubble, abs=0.05)


def test_instrument_error_of_superheat():
    """CHECKS C461: ±1 °F clamp with ±1 % of a 350 psi gauge at 30 psig R404A gives ±3.9 °F.

    Arithmetic of the check sheet, common practice for the instruments; ours is a 1 MPa gauge and a
    1 K clamp, so the sheet's numbers are put in.
    """
    fluid = refrigerants.get("R404A")
    pressure = SHOW.parse("30", "gauge_pressure", "suction")
    off = 3.5 * 6894.757
    half = float(fluid.dew_temperature(pressure + off) - fluid.dew_temperature(pressure - off)) / 2
    assert half * 1.8 == pytest.approx(3.77, rel=0.1)
    error = read("R404A", suction_pressure=30, suction_temperature=10).superheat_error
    smaller = half * readings.GAUGE_ERROR * readings.FULL_SCALE["suction_pressure"] / off
    assert error == pytest.approx((smaller**2 + readings.CLAMP_ERROR**2) ** 0.5, rel=0.02)


def test_swapped_hoses_silence_what_follows_from_them():
    swapped = HEALTHY | {"suction_pressure": 195, "head_pressure": 35}
    assert codes(read(**swapped)) == {"suction above head"}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"suction_temperature": 5}, "colder than dew"),
        ({"suction_temperature": 13.7}, "superheat inside the error"),
        ({"suction_temperature": 40.5}, "high superheat"),
        ({"suction_temperature": 95}, "very high superheat"),
        ({"suction_pressure": "4 inHg", "suction_temperature": -40}, "suction in a vacuum"),
        ({"box_temperature": 5}, "evaporating above the box"),
        ({"liquid_temperature": 120}, "liquid line above bubble"),
        ({"liquid_temperature": 108.5}, "subcooling inside the error"),
        ({"liquid_temperature": 60}, "very high subcooling"),
        ({"liquid_temperature": 80}, "liquid line below ambient"),
        ({"ambient_temperature": 115}, "condensing below ambient"),
        ({"discharge_temperature": 230}, "hot discharge"),
        ({"discharge_temperature": 90}, "discharge below condensing"),
        ({"discharge_temperature": 20}, "discharge below suction line"),
        ({"discharge_temperature": 112}, "cool discharge"),
        ({"box_temperature": 62}, "evaporating far below the box"),
        ({"ambient_temperature": 50}, "condensing far above ambient"),
        ({"ambient_temperature": 34}, "box warmer than ambient"),
        ({"suction_temperature": 42}, "suction line warmer than the box"),
    ],
)
def test_each_finding_comes_when_it_should_and_words_itself(change, code):
    answer = read(**(HEALTHY | change))
    assert code in codes(answer)
    for system in ("us", "metric"):
        show = readout.choose(system)
        for finding in answer.findings:
            sentence = finding.sentence(show)
            assert "{" not in sentence
            shown = [show.unit(k) for k in ("temperature", "temperature_difference")]
            assert any(unit in sentence for unit in [*shown, "psig", "bar", "inHg"])


def test_a_vacuum_on_propane_carries_the_caution():
    vacuum = {"suction_pressure": "4 inHg"}
    sentence = read("R290", **vacuum).findings[0].sentence(SHOW)
    assert "flammable refrigerant" in sentence
    assert "stop the box" in sentence
    assert "flammable" not in read("R404A", **vacuum).findings[0].sentence(SHOW)


def test_isobutane_may_run_in_a_vacuum():
    """R600a boils at -11.7 °C under open air (CHECKS; ASHRAE 34, from memory)."""
    sentence = read("R600a", suction_pressure="10 inHg").findings[0].sentence(SHOW)
    assert "by design" in sentence
    assert "danger" in sentence
    assert "stop the box" not in sentence


def between_bubble_and_dew(fluid, pressure):
    """Halfway in temperature: there a blend is liquid and vapour together, by definition."""
    return float(fluid.bubble_temperature(pressure) + fluid.dew_temperature(pressure)) / 2


@pytest.mark.parametrize("name", ["R448A", "R449A", "R454C", "R455A"])
def test_liquid_and_vapour_together_are_possible_in_a_blend(name):
    fluid = refrigerants.get(name)
    low, high = 300e3, 1.8e6
    wet = Readings(
        suction_pressure=low,
        suction_temperature=between_bubble_and_dew(fluid, low),
        head_pressure=high,
        liquid_temperature=between_bubble_and_dew(fluid, high),
    )
    found = {f.code: f for f in interpret(fluid, wet).findings}
    assert set(found) == {"liquid at the clamp", "bubbles at the clamp"}
    for finding in found.values():
        assert finding.weight == "look again"
        assert "would make sense if" not in finding.sentence(SHOW)


def test_a_line_colder_than_bubble_cannot_be_even_in_a_blend():
    fluid = refrigerants.get("R455A")
    cold = float(fluid.bubble_temperature(300e3)) - 3.0
    answer = interpret(fluid, Readings(suction_pressure=300e3, suction_temperature=cold))
    (finding,) = answer.findings
    assert (finding.code, finding.weight) == ("colder than dew", "impossible")


def test_instrument_error_does_not_shrink_where_the_tables_end():
    fluid = refrigerants.get("R134a")
    low = fluid.pressure_range[0]
    errors = [
        interpret(
            fluid, Readings(suction_pressure=pressure, suction_temperature=250.0)
        ).superheat_error
        for pressure in (low, 2 * low, 4 * low)
    ]
    assert errors == sorted(errors, reverse=True)


@pytest.mark.parametrize(
    ("written", "meant"),
    [("-4 °F", "-4 °C"), ("30 °C", "30 °F")],
    ids=["celsius written as fahrenheit", "fahrenheit written as celsius"],
)
def test_the_unit_slip_is_named(written, meant):
    finding = next(
        f
        for f in read(**(HEALTHY | {"suction_temperature": written})).findings
        if f.code in ("colder than dew", "very high superheat")
    )
    typed = SHOW.text(SHOW.parse(written, "temperature", "clamp"), "temperature")
    said = f"the clamp on the suction line, given as {typed}, showed {meant}, not"
    assert said in finding.sentence(SHOW)


def test_a_unit_slip_is_offered_only_where_a_sensible_superheat_would_come_of_it():
    """140 °F is 60 °C; 60 °F would be 26 K above dew, more than a coil outlet shows."""
    (finding,) = (
        f
        for f in read(suction_pressure=35, suction_temperature=140).findings
        if f.code == "very high superheat"
    )
    assert "would make sense" not in finding.sentence(SHOW)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("suction_temperature", "liquid_temperature"),
        ("suction_temperature", "discharge_temperature"),
        ("liquid_temperature", "discharge_temperature"),
        ("box_temperature", "ambient_temperature"),
    ],
)
def test_two_clamps_swapped_are_named_before_any_other_slip(one, other):
    answer = read(**HEALTHY | {one: HEALTHY[other], other: HEALTHY[one]})
    assert any(finding.weight != "note" for finding in answer.findings)
    said = " ".join(finding.sentence(SHOW) for finding in answer.findings)
    assert "were swapped" in said
    for name in (one, other):
        assert SHOW.text(SHOW.si(HEALTHY[name], "temperature"), "temperature") in said
    assert "showed" not in said
    assert "the box holds" not in said


@pytest.mark.parametrize("box", [36, 45])
@pytest.mark.parametrize("ambient", [65, 88])
def test_swapped_box_and_condenser_air_are_never_in_order(box, ambient):
    """A cool room's mild ambient keeps every difference usual; the order of the two does not."""
    usual = {"head_pressure": 120, "liquid_temperature": 66, "discharge_temperature": 120}
    healthy = HEALTHY | {"box_temperature": box, "ambient_temperature": ambient}
    if ambient == 65:
        healthy |= usual
    assert read(**healthy).findings == ()
    assert read(**healthy | {"box_temperature": ambient, "ambient_temperature": box}).findings


def test_on_a_cold_day_head_pressure_control_is_no_mistake():
    """Condensing held at 25 °C with the unit at -10 °C outdoors: common practice."""
    fluid = refrigerants.get("R404A")
    cold = Readings(head_pressure=float(fluid.dew_pressure(298.15)), ambient_temperature=263.15)
    (finding,) = interpret(fluid, cold).findings
    assert (finding.code, finding.weight) == ("condensing far above ambient", "note")


def test_a_loss_free_compression_is_the_coolest_discharge():
    """CoolProp called directly for the entropy at the suction and the temperature at the head."""
    fluid = refrigerants.get("R290")
    low, high, suction = 340e3, 1.45e6, 269.0
    entropy = PropsSI("S", "P", low, "T", suction, "Propane")
    ideal = PropsSI("T", "P", high, "S", entropy, "Propane")

    def found(discharge):
        taken = Readings(low, suction, high, discharge_temperature=discharge)
        return codes(interpret(fluid, taken))

    assert "cool discharge" in found(ideal - 5.5)
    assert "cool discharge" not in found(ideal - 4.5)


@pytest.mark.parametrize("name", ["R290", "R455A", "R404A"])
def test_a_vacuum_below_the_tables_still_says_its_caution(name):
    """10 psi below the barometer: none of the tables (from -60 °C) reaches there."""
    answer = read(name, suction_pressure="-10 psig", suction_temperature=-40, head_pressure=150)
    first, second = answer.findings[:2]
    assert first.code == "suction in a vacuum"
    flammable = refrigerants.get(name).facts.safety_class != "A1"
    assert ("stop the box" in first.sentence(SHOW)) == flammable
    assert (second.code, second.weight) == ("suction below the tables", "look again")
    assert answer.superheat is None
    assert answer.condensing_dew is not None


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ({"head_pressure": 1e7}, "head pressure of a box with R290"),
        ({"head_pressure": float("nan")}, "head pressure of a box with R290"),
        ({"suction_pressure": 1e7}, "suction pressure of a box with R290"),
        ({"suction_pressure": -1.0}, "suction pressure of a box with R290"),
        ({"liquid_temperature": float("nan")}, "liquid-line temperature"),
    ],
)
def test_a_refusal_names_its_gauge(typed, named):
    with pytest.raises(OutOfRange) as caught:
        interpret(refrigerants.get("R290"), Readings(**typed))
    assert caught.value.quantity == named
    gauge = "pressure" in named
    assert caught.value.kind == ("gauge_pressure" if gauge else "temperature")


def right_for(name, suction, head):
    """What gauges and clamps would show on a healthy box with a refrigerant."""
    fluid = refrigerants.get(name)
    return Readings(
        suction_pressure=suction,
        suction_temperature=float(fluid.dew_temperature(suction)) + 5.0,
        head_pressure=head,
        liquid_temperature=float(fluid.bubble_temperature(head)) - 4.0,
    )


def test_another_refrigerant_is_suggested_where_both_sides_agree():
    typed = right_for("R134a", 250e3, 1.1e6)
    assert interpret(refrigerants.get("R134a"), typed).findings == ()
    mistaken = interpret(refrigerants.get("R290"), typed)
    said = " ".join(finding.sentence(SHOW) for finding in mistaken.findings)
    offered = said.split("the box holds ")[1].split(".")[0].split(" or ")
    assert "R134a" in offered
    assert "R404A" not in offered


def test_no_other_refrigerant_is_suggested_where_one_side_contradicts():
    typed = replace(right_for("R134a", 250e3, 1.1e6), liquid_temperature=340.0)
    mistaken = interpret(refrigerants.get("R290"), typed)
    assert any(finding.weight != "note" for finding in mistaken.findings)
    assert not any("the box holds" in finding.sentence(SHOW) for finding in mistaken.findings)


def test_missing_readings_are_no_mistake():
    empty = interpret(refrigerants.get("R290"), Readings())
    assert empty.findings == ()
    assert empty.superheat is None
    assert empty.subcooling is None
    only_head = read(head_pressure=195)
    assert only_head.condensing_dew is not None
    assert only_head.subcooling is None


def test_a_pressure_beyond_the_tables_is_refused_with_its_range():
    with pytest.raises(OutOfRange) as caught:
        read("R600a", head_pressure=900)
    assert caught.value.high < 900 * 6894.757 + 101325
    assert "must be" in SHOW.explain(caught.value)
