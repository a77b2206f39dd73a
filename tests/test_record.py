"""A page of symptoms saved and opened again, whole or hurt."""

import csv
import io
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lowside.diagnosis import evidence, looks, record
from lowside.errors import LowsideError

NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
PRINTED = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=60)

FULL = record.Record(
    box={"refrigerant": "R290", "metering": "valve", "capacity": 900.0},
    air={"ambient_temperature": 305.15},
    readings={"suction_pressure": 351e3, "liquid_temperature": 309.2},
    seen={"bulb": True, "condenser_face": False},
    note="=HYPERLINK(1) kitchen, 35 outside",
)


@given(
    st.dictionaries(st.sampled_from(evidence.KEYS), NUMBERS),
    st.dictionaries(st.sampled_from(looks.KEYS), st.booleans()),
    PRINTED,
)
def test_whatever_is_saved_comes_back(readings, seen, note):
    page = record.Record(readings=readings, seen=seen, note=note.strip())
    for text in (page.as_json(), page.as_csv()):
        back, problems = record.opened(text.encode())
        assert problems == []
        assert back == page or (note.startswith("'") and back.note == page.note[1:])


def test_a_full_page_comes_back_from_both():
    for text in (FULL.as_json(), FULL.as_csv()):
        back, problems = record.opened(text)
        assert (back, problems) == (FULL, [])


def test_no_cell_is_a_formula():
    # OWASP, "CSV Injection": cells that begin with = + - @, tab or return (from memory).
    page = record.Record(box={"name": "@SUM(A1)"}, note="=1+1")
    for row in csv.reader(io.StringIO(page.as_csv())):
        assert not any(cell.startswith(("=", "+", "@")) for cell in row)


def test_one_bad_line_costs_no_other():
    lines = FULL.as_csv().splitlines()
    lines[4] = lines[4].replace("305.15", "warm")
    lines += ["reading: head_pressure,12,psig", "wish: rain,yes,", "look: bulb,maybe,"]
    back, problems = record.opened("\n".join(lines))
    assert back.readings == FULL.readings
    assert back.box == FULL.box
    assert "ambient_temperature" not in back.air
    assert len(problems) == 4
    assert "Line 4" in problems[0]
    assert "“warm”" in problems[0]
    assert "Pa" in problems[1]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"   \n ", "empty"),
        (b"\xff\xfe\x00\xd8", "not plain text"),
        (b"x" * (record.LARGEST + 1), "far larger"),
        (b'{"kind": "lowside sympt', "cut short"),
        (b"[" * 100_000, "cut short"),
        (b'{"kind": "recipe"}', "not a page"),
        (b"[1, 2]", "not a page"),
        (json.dumps({"kind": record.KIND, "version": 99}).encode(), "another version"),
        (json.dumps({"kind": record.KIND, "version": 1}).encode(), "no lines"),
        (b"time,temperature\n1,2\n", "first line"),
    ],
)
def test_what_is_no_such_file_is_named(data, words):
    with pytest.raises(LowsideError, match=words):
        record.opened(data)


def test_a_spreadsheet_in_another_country_may_have_saved_it():
    text = "\ufeff" + FULL.as_csv().replace(",", ";").replace("kitchen;", "kitchen,")
    back, problems = record.opened(text.encode())
    assert problems == []
    assert back.readings == FULL.readings


@pytest.mark.parametrize("value", ["nan", "inf", "1e999", "12,5", "x" * 3000])
def test_numbers_that_are_none_are_refused(value):
    rows = [{"item": "reading: suction_pressure", "value": value, "unit": "Pa"}]
    whole = {"kind": record.KIND, "version": 1, "lines": rows}
    back, problems = record.opened(json.dumps(whole))
    assert back.readings == {}
    assert len(problems) == 1
