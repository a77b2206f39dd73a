"""The invented market hall: does every box make sense, and is a mistake in the file named?"""

import copy
import tomllib
from pathlib import Path

import pytest
from lowside import readings, readout, refrigerants, store, system, units, valve
from lowside.errors import DataDamaged, UnknownName
from lowside.lesson import hall, plant
from scipy.optimize import brentq

BOXES = hall.boxes()
VALVE_BOXES = [b for b in BOXES if isinstance(b.metering, hall.ExpansionValve)]
ids = {"ids": lambda box: box.key}


@pytest.fixture
def document():
    text = (Path(__file__).parents[1] / "data" / hall.FILE).read_text(encoding="utf-8")
    return tomllib.loads(text)


def test_the_hall_says_that_it_is_invented():
    place = hall.hall()
    assert "invented" in place.notice
    assert place.name in place.notice
    assert "Invented" in store.read_toml(hall.FILE)["source"]


def test_the_hall_is_varied_enough_to_teach_with():
    assert len(BOXES) >= 8
    assert {b.refrigerant for b in BOXES} >= {"R290", "R600a", "R134a", "R404A", "R448A", "R454C"}
    assert any(b.box_temperature < 255.0 for b in BOXES)
    assert {b.metering.equaliser for b in VALVE_BOXES} == {"internal", "external"}
    assert {b.metering.balance > 0.5 for b in VALVE_BOXES} == {True, False}
    assert len(VALVE_BOXES) < len(BOXES)


@pytest.mark.parametrize("box", BOXES, **ids)
def test_boxes_are_the_size_of_the_trade(box):
    # Scope of the project: restaurant boxes from a quarter ton to five tons.
    assert 0.25 <= units.from_si(box.design_load, "ton") <= 5.0
    assert box.winter_ambient <= box.summer_ambient
    assert box.winter_condensing <= box.summer_condensing
    assert box.evaporating_temperature < box.box_temperature < box.winter_condensing


@pytest.mark.parametrize("box", BOXES, **ids)
def test_food_is_kept_cold(box):
    # FDA Food Code 3-501.16: cold holding at 5 °C (41 °F) or below (read in state codes).
    # Frozen food at 0 °F or below: common practice, no published source.
    limit = units.to_si(41.0, "degF") if box.box_temperature > 263.0 else units.to_si(0.0, "degF")
    assert box.box_temperature <= limit + 1e-9


@pytest.mark.parametrize("box", BOXES, **ids)
def test_temperature_differences_are_common(box):
    # Common practice, no published source: reach-in 15-20 °F, walk-in 7-12 °F, air-cooled
    # condenser 20-30 °F, of freezers from 10 °F on, since they compress further.
    room = "walk-in" in box.what or "room" in box.what
    low, high = (7.0, 12.0) if room else (15.0, 20.0)
    assert low <= units.from_si(box.evaporator_difference, "degF_difference") <= high
    least = 10.0 if box.box_temperature < 263.0 else 20.0
    assert least <= units.from_si(box.condenser_difference, "degF_difference") <= 30.0


@pytest.mark.parametrize("box", BOXES, **ids)
def test_flammable_charges_stay_small(box):
    # US EPA SNAP rule of 2011/12 for stand-alone retail food refrigeration: 150 g of R290 or R600a
    # (read in trade reports; later rules allow more).
    if refrigerants.get(box.refrigerant).facts.safety_class == "A3":
        assert box.charge <= 0.150


@pytest.mark.parametrize("box", VALVE_BOXES, **ids)
@pytest.mark.parametrize("season", ["summer", "winter"])
def test_every_valve_can_feed_its_box_the_whole_year(box, season):
    fluid = refrigerants.get(box.refrigerant)
    condensing = fluid.dew_pressure(getattr(box, f"{season}_condensing"))
    liquid = fluid.bubble_temperature(condensing) - 4.0
    arriving = valve.inlet(fluid, condensing, fluid.liquid_enthalpy(condensing, liquid))
    evaporating = fluid.dew_pressure(box.evaporating_temperature)
    wide_open = valve.capacity(
        valve.Valve(
            port=valve.standard_port(box.metering.port),
            element=valve.PowerElement("liquid", fluid),
            spring=valve.Spring(),
        ),
        fluid,
        arriving,
        evaporating,
        superheat=6.0,
    )
    assert 1.2 <= wide_open / box.design_load <= 2.8


@pytest.mark.parametrize("box", VALVE_BOXES, **ids)
@pytest.mark.parametrize("season", ["summer", "winter"])
def test_a_healthy_box_raises_no_finding(box, season):
    """Readings computed from the box: nothing above a note, or the alarms cry wolf."""
    ambient = getattr(box, f"{season}_ambient")
    point = system.solve_low_side(
        plant.low_side(box), box.box_temperature, box.condensing_temperature(ambient)
    )
    fluid = refrigerants.get(box.refrigerant)
    found = readings.interpret(fluid, point.readings(ambient)).findings
    assert [finding.code for finding in found if finding.weight != "note"] == []


@pytest.mark.parametrize("box", [b for b in VALVE_BOXES if b.metering.mop_temperature], **ids)
def test_a_gas_charge_closes_at_the_mop_of_its_nameplate(box):
    """The built valve, not the formula: all forces balance on the seat with the bulb just dry."""
    built, fluid = plant.low_side(box).valve, refrigerants.get(box.refrigerant)
    dry = float(fluid.dew_temperature(built.element.limit_pressure))
    head = float(fluid.dew_pressure(box.summer_condensing))

    def net(evaporating):
        pressure = float(fluid.dew_pressure(evaporating))
        return float(valve.forces(built, fluid, dry, pressure, head, lift=0.0).net)

    closes = brentq(net, box.evaporating_temperature, box.box_temperature + 10.0)
    assert closes == pytest.approx(box.metering.mop_temperature, abs=0.05)


def test_head_pressure_control_holds_condensing_in_winter():
    butcher = hall.box("butcher-walk-in")
    assert butcher.winter_condensing == butcher.lowest_condensing
    assert butcher.summer_condensing == butcher.summer_ambient + butcher.condenser_difference


def test_description_speaks_the_readers_units():
    fish = hall.box("fish-freezer")
    us = fish.describe(readout.choose("us"))
    metric = fish.describe(readout.choose("metric"))
    assert "R448A, 11.46 lb on the nameplate" in us
    assert "2.00 mm balanced port" in us
    assert "-4.0 °F" in us
    assert "-20.0 °C" in metric
    assert "capillary" in hall.box("dairy-reach-in").describe(readout.choose("us"))


def test_unknown_box_is_named():
    with pytest.raises(UnknownName, match="fish-freezer"):
        hall.box("fish-frezer")


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("box_temperature_C", 60, ["box_temperature_C is 60", "between -30 and 15"]),
        ("box_temperature_C", "cold", ["box_temperature_C is 'cold'"]),
        ("design_load_W", 400, ["design_load_W is 400", "between 879.2", "17584"]),
        ("design_load_W", float("nan"), ["design_load_W is nan"]),
        ("refrigerant", "R12", ["refrigerant is 'R12'", "one of R290"]),
        ("receiver", "yes", ["receiver is 'yes'", "true or false"]),
        ("stall", "", ["stall is ''", "text"]),
        ("charge_kg", None, ["charge_kg is missing"]),
        ("colour", "red", ["no field called colour"]),
        ("winter_ambient_C", 30, ["winter_ambient_C is above summer_ambient_C"]),
    ],
)
def test_a_mistake_in_a_box_is_named(document, key, value, words):
    entries = document["boxes"]["dairy-reach-in"]
    if key == "winter_ambient_C":
        entries["summer_ambient_C"] = 25
    if value is None:
        del entries[key]
    else:
        entries[key] = value
    with pytest.raises(DataDamaged) as refusal:
        hall.read(document)
    for part in ["market_hall.toml, box dairy-reach-in", *words]:
        assert part in str(refusal.value)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"port_mm": 20}, "port_mm is 20; it must be between 0.3 and 8"),
        ({"bulb_charge": "air"}, "bulb_charge is 'air'; it must be one of liquid, cross, gas"),
        ({"bulb_charge": "gas"}, "mop_temperature_C goes with a gas charge"),
    ],
)
def test_a_mistake_in_a_valve_is_named(document, change, words):
    document["boxes"]["prep-table"]["valve"].update(change)
    with pytest.raises(DataDamaged, match="box prep-table, valve") as refusal:
        hall.read(document)
    assert words in str(refusal.value)


def test_a_box_has_one_way_of_feeding(document):
    both = copy.deepcopy(document)
    both["boxes"]["prep-table"]["capillary"] = {"bore_mm": 1.0, "length_m": 2.0}
    with pytest.raises(DataDamaged, match="either a valve or a capillary"):
        hall.read(both)
