"""Lesson 26 shows beliefs about a port, two suspects, three plans, a route, and a tag."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

from lowside.identify import decision, looks, posterior, route
from lowside.identify.tag import Tag
from lowside.lesson import hall
from lowside.lesson import l26_numbers as numbers
from lowside.plots import belief, plans, suspectmap, tagworth
from lowside.screens.controls import Choice, Slider, Switch
from lowside.screens.panel import Panel
from lowside.screens.tagmaker import TagMaker

CLEAR, UNTAGGED = math.inf, 0.0
SUBCOOLINGS = (("little", 2.0), ("usual", 5.0), ("much", numbers.SUBCOOLING))  # [K]
STEP = 0.05
_MINUTE = decision.MINUTE


def as_called():
    """Give the valve of the call as figure and controls take it.

    Returns
    -------
    dict
        Arguments of the belief figure besides the units.
    """
    return {
        "port": numbers.INSIDE,
        "hole": CLEAR,
        "tag": UNTAGGED,
        "reliability": numbers.RELIABILITY,
        "test": "running",
        "flow": 0.0,
        "coil": 0.0,
    }


def as_on_friday():
    """Give the suspects of the second day as figure and controls take them.

    Returns
    -------
    dict
        Arguments of the suspects figure besides the units.
    """
    return {
        "port": numbers.INSIDE,
        "hole": numbers.PLUGGED,
        "subcooling": numbers.SUBCOOLING,
        "clamps": True,
        "tag": UNTAGGED,
        "reliability": numbers.RELIABILITY,
        "clear": numbers.CLEAR,
    }


def as_weighed():
    """Give the decision of the second day as figure and controls take it.

    Returns
    -------
    dict
        Arguments of the plans figure besides the units.
    """
    costs, habits = numbers.costs(), route.Habits()
    return {
        "tag": numbers.INSIDE,
        "reliability": numbers.RELIABILITY,
        "clear": numbers.CLEAR,
        "parts": habits.parts_known,
        "open_time": costs.open_time,
        "strainer_time": costs.strainer_time,
        "return_time": costs.return_time,
        "food": costs.food,
    }


def as_on_the_route():
    """Give the habits of the route as figure and controls take them.

    Returns
    -------
    dict
        Arguments of the route figure besides the units.
    """
    names = ("calls", "right_share", "clear_share", "reliability", "parts_known", "tagging_time")
    return {name: getattr(route.Habits(), name) for name in names}


def _belief(show, port, hole, tag, reliability, test, flow, coil):
    library = numbers.library()
    first = posterior.prior(library.sizes, tag or None, reliability)
    seen = numbers.read_all(port, hole, flow=flow, coil=coil)
    return belief.belief_figure(show, library, seen, first, port, test)


def _suspects(show, port, hole, subcooling, clamps, tag, reliability, clear):
    found = numbers.suspicion(tag or None, reliability, clear, port, hole, subcooling, clamps)
    seen = numbers.read("running", port, hole, mild=False, subcooling=subcooling)
    holds, site = numbers.holds(subcooling), numbers.second_site(subcooling)
    return suspectmap.suspects_figure(show, found, holds, site, seen, port, hole, tag or None)


def _plans(show, tag, reliability, clear, parts, food, **times):
    costs = replace(numbers.costs(), food=food, **times)
    ways = {
        "no tag": decision.expect(
            numbers.suspicion(None, reliability, clear), numbers.holds(), costs, parts
        ),
        f"tag says {show.text(tag, 'port')}": decision.expect(
            numbers.suspicion(tag, reliability, clear), numbers.holds(), costs, reliability
        ),
    }
    return plans.plans_figure(show, ways, costs, "Friday: what is each plan expected to take?")


def _route(show, **habits):
    habits = route.Habits(**habits)
    worths = {
        hall.box(key).what.split(" with ")[0]: numbers.rehearsal(key).worth(
            numbers.costs(key), habits
        )
        for key in (box.key for box in numbers.route_boxes())
    }
    return tagworth.route_figure(show, worths, habits)


def picture(show):
    """Draw what each test tells of the valve of the call."""
    return _belief(show, **as_called())


def friday(show):
    """Draw the suspects of the second day."""
    return _suspects(show, **as_on_friday())


def explore(reader):
    """Move what is inside, the tag, and how far the hardware is off."""
    start = as_called()
    slider = partial(_slider, start)
    return Panel(
        _belief,
        [
            Choice("port", "Really inside", _ports(), start["port"]),
            Choice("hole", "Its strainer (this page believes it clear)", _holes(), CLEAR),
            Choice("tag", "The tag says", [("no tag", UNTAGGED), *_ports()], UNTAGGED),
            slider("reliability", "Tags that are right", "ratio", 0.5, 0.99, 0.01),
            Choice("test", "Show the readings of", _tests(), start["test"]),
            slider("flow", "Port passes more than believed", "ratio", -0.15, 0.15, STEP),
            slider("coil", "Coil takes more than believed", "ratio", -0.15, 0.15, STEP),
        ],
        reader,
        "What can be told from outside",
        belief.why,
        {
            "Wrong tag": {**start, "port": _planned(), "tag": _smallest(), "reliability": 0.9},
            "Far too small": {**start, "port": _smallest()},
            "Plugged strainer": {**start, "hole": 0.5e-3},
        },
        "What gauges and clamps would say in that test; a warm bulb floods: a minute or two",
    )


def suspects(reader):
    """Move port, strainer and subcooling of the second day."""
    start = as_on_friday()
    slider = partial(_slider, start)
    return Panel(
        _suspects,
        [
            Choice("port", "Really inside", _ports(), start["port"]),
            Choice("hole", "Strainer really passes", _holes(), start["hole"]),
            Choice("subcooling", "Subcooling before it", SUBCOOLINGS, start["subcooling"]),
            Switch("clamps", "Clamps around the strainer", True),
            Choice("tag", "The tag says", [("no tag", UNTAGGED), *_ports()], UNTAGGED),
            slider("reliability", "Tags that are right", "ratio", 0.5, 0.99, 0.01),
            slider("clear", "Strainer clear, beforehand", "ratio", 0.05, 0.95, 0.05),
        ],
        reader,
        "Port or strainer?",
        suspectmap.why,
        {
            "With a tag": {**start, "tag": numbers.INSIDE},
            "Small port, clear strainer": {**start, "port": 0.5e-3, "hole": CLEAR},
            "Less subcooling": {**start, "subcooling": SUBCOOLINGS[0][1]},
        },
    )


def weigh(reader):
    """Move what the work takes."""
    start = as_weighed()
    slider = partial(_slider, start)
    return Panel(
        _plans,
        [
            Choice("tag", "The tag says", _ports(), start["tag"]),
            slider("reliability", "Tags that are right", "ratio", 0.5, 0.99, 0.01),
            slider("clear", "Strainer clear, beforehand", "ratio", 0.05, 0.95, 0.05),
            slider("open_time", "To open the valve", "minutes", 45 * _MINUTE, 360 * _MINUTE),
            slider("strainer_time", "To pull the strainer", "minutes", 0.0, 240 * _MINUTE),
            slider("return_time", "A second call", "minutes", 0.0, 240 * _MINUTE),
            slider("food", "Food in the box", "goods", 0.0, 400.0),
            slider("parts", "Right parts in the van, untagged", "ratio", 0.05, 1.0, 0.05),
        ],
        reader,
        "Trust it, strainer, or valve?",
        plans.why,
        {"Strainer only from inside": {**start, "strainer_time": 150 * _MINUTE}},
    )


def on_the_route(reader):
    """Move how things stand on the route."""
    slider = partial(_slider, as_on_the_route())
    return Panel(
        _route,
        [
            slider("calls", "Calls a year and box", "number", 0.0, 6.0, 0.25),
            slider("right_share", "Right port inside", "ratio", 0.3, 0.95, 0.05),
            slider("clear_share", "Strainers that are clear", "ratio", 0.05, 0.95, 0.05),
            slider("reliability", "Tags that are right", "ratio", 0.5, 0.99, 0.01),
            slider("parts_known", "Right parts in the van, untagged", "ratio", 0.05, 0.95, 0.05),
            slider("tagging_time", "To write a tag", "minutes", 0.0, 20 * _MINUTE, _MINUTE),
        ],
        reader,
        "What is a tag worth in a year?",
        tagworth.why,
    )


def tag(reader):
    """Fill in a tag."""
    box = hall.box(numbers.BOX)
    return TagMaker(
        reader,
        Tag(
            place=box.stall,
            refrigerant=box.refrigerant,
            port=numbers.INSIDE,
            balanced=False,
            charge=box.metering.bulb_charge,
            equaliser=box.metering.equaliser,
            superheat=box.metering.static_superheat,
        ),
    )


def _ports():
    return [(f"{1e3 * size:g} mm", float(size)) for size in numbers.library().sizes]


def _holes():
    plugged = [(f"plugged to {1e3 * hole:g} mm", hole) for hole in numbers.holes()[1:]]
    return [("clear", CLEAR), *plugged]


def _tests():
    return [(test.words, test.key) for test in looks.TESTS.values()]


def _planned():
    return hall.box(numbers.BOX).metering.port


def _smallest():
    return float(numbers.library().sizes[0])


def _slider(start, name, label, kind, low, high, step=None):
    return Slider(name, label, kind, start[name], low, high, step)


PICTURES = {"belief": picture, "friday": friday}
PANELS = {
    "belief": explore,
    "suspects": suspects,
    "plans": weigh,
    "route": on_the_route,
    "tag": tag,
}
