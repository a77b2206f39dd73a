"""Lesson 60: its call, its questions, its figure, its panel and the routes people bring."""

import base64
import io
from dataclasses import replace
from datetime import UTC, datetime

import ipywidgets as widgets
import pytest
from lowside import carry, kit, lesson, readout
from lowside.lesson import l60_numbers
from lowside.plots import casewords
from lowside.plots.casefill import MOST_ROWS, case_figure
from lowside.plots.marks import Text
from lowside.screens.lessons import l60 as shown
from lowside.screens.reader import Units
from lowside.screens.routepanel import RoutePanel

US, METRIC = readout.choose("us"), readout.choose("metric")
LESSON = lesson.get("60")
ROUTE = carry.demo()
both_units = pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])


@pytest.fixture
def panel():
    return shown.explore(Units("us"))


def texts(drawn):
    return [item.text for item in drawn.items if isinstance(item, Text)]


def bring(panel, text, name="my route.csv"):
    content = text if isinstance(text, bytes) else text.encode()
    file = {"name": name, "type": "text/csv", "size": len(content), "content": memoryview(content)}
    panel.upload.value = ({**file, "last_modified": datetime.now(UTC)},)


# ---------------------------------------------------------------- the lesson


def test_nothing_is_missing():
    assert lesson.gaps(LESSON) == []


def test_the_tidy_case_has_as_many_parts_as_the_best_and_covers_less():
    held, best = l60_numbers.inherited(), l60_numbers.best()
    assert len(held.parts) == len(best.parts) == l60_numbers.PLACES
    assert sum(part.kind == "cartridge" for part in held.parts) == l60_numbers.PLACES - 2
    assert held.calls < best.calls


def test_predictions_come_true_as_computed():
    assert l60_numbers.row_covers() == "little"
    assert l60_numbers.inherited().calls_share < 0.25
    kinds = [part.kind for part in l60_numbers.best().parts]
    assert l60_numbers.most_places() == "element"
    assert kinds.count("element") > max(kinds.count("body"), kinds.count("cartridge"))
    assert l60_numbers.next_place() == "swaps"


def test_each_part_of_the_swap_alone_opens_no_box():
    before, after = l60_numbers.first_swap()
    new = [part for part in after.parts if part not in before.parts]
    assert len(new) > 1
    for part in new:
        assert carry.Case(ROUTE, (*before.parts, part)).covered == before.covered
    assert carry.Case(ROUTE, (*before.parts, *new)).calls > before.calls


def test_the_best_for_food_is_worse_for_calls_and_the_other_way_round():
    calls, food = l60_numbers.best(), l60_numbers.best(food=1.0)
    assert food.food_share > calls.food_share
    assert food.calls_share < calls.calls_share


def test_the_valves_of_the_case_are_those_that_can_be_put_together():
    # Counted once more, over every build of the kit for every refrigerant on the shelf.
    held = set(l60_numbers.best().parts)
    refrigerants = {name for each in kit.the_kit().elements for name in each.serves}
    made = {
        build.key
        for name in refrigerants
        for build in kit.builds(name)
        if held.issuperset(carry.parts_of(build))
    }
    assert LESSON.quantities()["valves"] == str(len(made))


def test_task_4_is_what_the_panel_says(panel):
    for seed in range(3):
        dealt = LESSON.task("panel").deal("60", seed, US)
        panel.set(places=float(dealt.values["places"]), food=1.0)
        assert dict(panel.figure.readings)["Calls covered"] == dealt.answer_text


# ---------------------------------------------------------------- the figure


@both_units
def test_the_words_name_every_part_and_every_box(show):
    drawn = case_figure(show, ROUTE, 12)
    case = drawn.numbers["filled"].case
    for part in case.parts:
        assert part.key in drawn.words
    for stop in ROUTE:
        assert stop.box in drawn.words
    assert sum(text in {p.kind for p in case.parts} for text in texts(drawn)) == 0
    assert show.unit("goods") in drawn.words


def test_every_box_left_says_what_it_lacks():
    for places in (0, 5, 12, 30):
        drawn = case_figure(METRIC, ROUTE, places)
        filled = drawn.numbers["filled"]
        lacking = [filled.lacks(row) for row, yes in enumerate(filled.case.covered) if not yes]
        assert lacking
        for words in lacking:
            assert words in texts(drawn)
        assert any("Community freezer store" in said for _, said in drawn.remarks)


def test_a_long_route_says_how_many_are_not_drawn():
    many = tuple(
        replace(stop, box=f"{stop.box} {turn}") for turn in range(2) for stop in ROUTE[:20]
    )
    drawn = case_figure(US, many, 40)
    assert f"and {len(many) - MOST_ROWS + 1} more" in texts(drawn)


def test_a_part_of_a_place_is_none():
    assert case_figure(US, ROUTE, 9.7).words == case_figure(US, ROUTE, 9).words


@pytest.mark.parametrize(
    ("places", "money", "said"),
    [
        (0, None, "nothing yet; 3 more buy"),
        (9, None, "in place of"),
        (12, None, "One more place buys 0.63 mm conventional"),
        (20, None, "buys nothing: all"),
        (30, None, "stay empty"),
        (20, 300.0, "the money decides"),
    ],
)
@both_units
def test_it_says_what_the_next_place_buys(show, places, money, said):
    numbers = case_figure(show, ROUTE, places, money).numbers
    assert said in casewords.why(numbers, numbers, show)


def test_a_gain_that_is_named_is_there():
    for places in range(len(carry.curve(ROUTE)) - 1):
        filled = casewords.Filled(ROUTE, places, None, 0.0)
        more, after = filled.next_gain
        won, _ = casewords.won_and_lost(filled.case, after)
        assert won
        assert after.sum(filled.weights) > filled.share
        assert carry.best(ROUTE, places + more - 1).sum(filled.weights) <= filled.share + 1e-12


# ---------------------------------------------------------------- the panel


def test_every_example_is_drawn(panel):
    for button in (b for b in walk(panel.box) if isinstance(b, widgets.Button)):
        button.click()
        assert panel.role == "status"


def test_a_route_goes_out_and_comes_back(panel):
    text = carry.as_csv(ROUTE[5:9], US)
    bring(panel, "\ufeff" + text)
    assert [stop.box for stop in panel.stops] == [stop.box for stop in ROUTE[5:9]]
    assert "Butcher's walk-in" in panel.words
    assert "Drinks merchandiser" not in panel.words
    assert panel._said.value == ""
    panel.reset()
    assert len(panel.stops) == 4
    panel.take(ROUTE)
    assert "Drinks merchandiser" in panel.words


def test_bad_rows_are_named_and_shown_as_text(panel):
    lines = carry.as_csv(ROUTE[:4], METRIC).splitlines()
    lines[2] = lines[2].replace("R134a", "<b>R999</b>")
    bring(panel, "\n".join(lines))
    assert len(panel.stops) == 3
    assert "&lt;b&gt;R999" in panel._said.value
    assert "<b>R999" not in panel._said.value


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe\x00\x01\x02", b"PK\x03\x04 zip", b"a,b\n1,2\n"]
)
def test_a_file_that_is_none_leaves_the_route_as_it_was(panel, content):
    before = panel.words
    bring(panel, content)
    assert "The route stays as it was." in panel._said.value
    assert panel.stops == ROUTE
    assert panel.words == before


def test_a_route_on_which_nobody_calls_is_refused(panel):
    bring(panel, carry.as_csv([replace(stop, calls=0.0) for stop in ROUTE[:3]], US))
    assert "nobody ever calls" in panel._said.value
    assert panel.stops == ROUTE


def test_a_route_that_no_part_helps_is_answered():
    giants = tuple(replace(stop, load=9e4, box=f"Giant {at}") for at, stop in enumerate(ROUTE[:3]))
    panel = RoutePanel(
        shown._figure,
        list(shown.explore(Units("us")).controls.values()),
        Units("us"),
        giants,
        why=casewords.why,
    )
    assert panel.role == "status"
    assert "Giant 0" in panel.words
    assert "all that the kit can cover" in panel.reason


def test_the_file_to_save_is_in_the_readers_units(panel):
    for system, column in (("us", "load_ton"), ("metric", "load_kW")):
        panel.units.choose(system=system)
        data = panel._save.value.split("base64,")[1].split('"')[0]
        text = base64.b64decode(data).decode("utf-8-sig")
        assert column in io.StringIO(text).readline()
        assert carry.opened(text, US)[1] == []


def walk(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from walk(child)
