"""Every published value of data/checks/ beside ours: sources and tolerances stand there."""

import math
from dataclasses import replace

import pytest
from lowside import checks, readout, store
from lowside.errors import UnknownName

READERS = [readout.choose("us"), readout.choose("metric"), readout.choose("us", altitude=1600.0)]


@pytest.mark.parametrize("topic", checks.topics())
def test_ours_is_within_the_tolerance_of_what_is_published(topic):
    off = {c.name(READERS[1]): c.used for c in checks.chosen(topic) if not c.passes}
    assert not off, f"share of the tolerance: {off}"


def test_nothing_printed_is_left_aside():
    """Printed numbers, counted in the files themselves."""
    books = store.read_toml("checks/cycles.toml")
    rating = books.pop("ahri_710")
    examples = [example for example in books.values() if isinstance(example, dict)]
    pairs = sum(isinstance(value, list) for each in examples for value in each.values())
    discharges = sum("discharge_tolerance_K" in each for each in examples)
    suction_gas = 1
    ours = ("textbook cycles", "textbook states", "mass flow for a ton")
    assert sum(len(checks.chosen(topic)) for topic in ours) == (
        pairs + discharges + suction_gas + len(rating["mass_flow_lb_min_ton"])
    )
    table = store.read_toml("checks/refrigerants.toml")
    assert len(checks.chosen("saturation")) == len(
        table["saturation_pressure"] + table["saturation_temperature"]
    )
    assert len(checks.chosen("what a gauge means")) == 2 * len(table["gauge"]["row"]) + len(
        table["propane_gauge"]["psig"]
    )
    assert len(checks.chosen("molar mass")) == 13


def test_a_damaged_value_is_noticed():
    for check in checks.everything():
        room = max(check.allowed, 1e-6 * abs(check.published))
        for sign in (-1.0, 1.0):
            damaged = replace(check, published=check.ours + sign * 1.01 * room)
            assert not damaged.passes, check.what


@pytest.mark.parametrize("show", READERS, ids=["us", "metric", "us up high"])
def test_every_check_can_be_read(show):
    for check in checks.everything():
        words = [
            check.name(show),
            check.text(check.published, show),
            check.text(check.ours, show),
            check.apart(show),
            check.room(show),
        ]
        assert all(words)
        assert not any("{" in word or "unknown" in word for word in words)
        assert check.source
        assert check.printed
        assert math.isfinite(check.ours)


def test_only_known_topics_and_statuses():
    with pytest.raises(UnknownName):
        checks.chosen("weather")
    with pytest.raises(UnknownName):
        checks.chosen(status="hearsay")
    with pytest.raises(UnknownName):
        replace(checks.everything()[0], status="hearsay")
    by_topic = [check for topic in checks.topics() for check in checks.chosen(topic)]
    by_status = [check for status in checks.STATUSES for check in checks.chosen(status=status)]
    assert len(by_topic) == len(by_status) == len(checks.everything())


def test_disputes_really_differ():
    for dispute in checks.disputes():
        assert len(dispute["values"]) == len(dispute["sources"]) == 2
        assert dispute["values"][0] != dispute["values"][1]
