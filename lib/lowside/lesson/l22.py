"""Lesson 22: port size moves superheat."""

from __future__ import annotations

from functools import cache

import numpy as np

from lowside.system import ports, solve_low_side, with_port

from . import hall, l22_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

BOX = "butcher-walk-in"
SMALL_BOX = "drinks-merchandiser"
LARGE_BOX = "produce-room"
PROPANE_BOX = "ice-cream-freezer"
FITTED = 1.25e-3  # [m] the port that somebody left in the butcher's valve

_WARMEST = 15.0  # [K] above design, as far as a warm box is looked for
_HALF_DEGREE, _TWO_DEGREES = 0.5, 2.0  # [K]
_HARDLY, _NEARLY_DOUBLE = 1.05, 1.7


@cache
def sweep():
    """Solve the box of the call with every port.

    Returns
    -------
    system.ports.PortSweep
    """
    return _sweep_of(hall.box(BOX))


@cache
def as_found():
    """Solve the box of the call as the tech finds it on the first hot day.

    With too little cooling the box warms until what leaks in has become as little as what is taken
    out; the heat that leaks in goes with the difference to the air outside.

    Returns
    -------
    system.LowSideResult
        One point; its air temperature is that of the warm box.
    """
    box, now = hall.box(BOX), sweep()
    hardware = with_port(now.box, FITTED)
    air = box.box_temperature + np.linspace(0.0, _WARMEST, 61)
    cooling = solve_low_side(hardware, air, box.summer_condensing).capacity
    outside = box.summer_ambient
    load = box.design_load * (outside - air) / (outside - box.box_temperature)
    settled = np.interp(0.0, cooling - load, air)
    point = solve_low_side(hardware, settled, box.summer_condensing)
    point.refuse()
    return point


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, now, found = hall.box(BOX), sweep(), as_found()
    next_up = ports.next_size(FITTED)
    before, after = _hot(FITTED), _hot(next_up)
    right, double = _hot(box.metering.port), _hot(_double())
    small, large = hall.box(SMALL_BOX), hall.box(LARGE_BOX)
    difference, gauge = "temperature_difference", "gauge_pressure"
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "load": (box.design_load, "capacity"),
        "set_point": (box.box_temperature, "temperature"),
        "outside": (box.summer_ambient, "temperature"),
        "fitted": (FITTED, "port"),
        "planned": (box.metering.port, "port"),
        "next_up": (next_up, "port"),
        "double": (_double(), "port"),
        "box_air": (float(found.air_temperature), "temperature"),
        "suction": (float(found.evaporating_pressure), gauge),
        "suction_line": (float(found.suction_temperature), "temperature"),
        "found_dew": (float(found.evaporating_temperature), "temperature"),
        "found_superheat": (float(found.superheat), difference),
        "head": (float(found.condensing_pressure), gauge),
        "liquid_line": (float(found.liquid_temperature), "temperature"),
        "subcooling": (float(found.subcooling), difference),
        "superheat_before": (float(before.superheat), difference),
        "superheat_after": (float(after.superheat), difference),
        "suction_before": (float(before.evaporating_pressure), gauge),
        "suction_after": (float(after.evaporating_pressure), gauge),
        "cooling_before": (float(before.capacity), "capacity"),
        "cooling_after": (float(after.capacity), "capacity"),
        "right_cooling": (float(right.capacity), "capacity"),
        "double_cooling": (float(double.capacity), "capacity"),
        "right_superheat": (float(right.superheat), difference),
        "double_superheat": (float(double.superheat), difference),
        "double_lift": (float(double.lift_share), "ratio"),
        "half_degree": (_HALF_DEGREE, difference),
        "two_degrees": (_TWO_DEGREES, difference),
        "small_stall": small.stall,
        "small_what": small.what,
        "small_refrigerant": small.refrigerant,
        "small_port": (small.metering.port, "port"),
        "small_shift": (_price(SMALL_BOX, small.metering.port), difference),
        "planned_shift": (_price(BOX, box.metering.port), difference),
        "large_what": large.what,
        "large_load": (large.design_load, "capacity"),
        "large_port": (large.metering.port, "port"),
        "large_shift": (_price(LARGE_BOX, large.metering.port), difference),
        "right": (now.right, "port"),
        "spread_here": (_spread(BOX), "ratio"),
        "spread_propane": (_spread(PROPANE_BOX), "ratio"),
        "least_load": (hall.QUARTER_TON, "capacity"),
        "most_load": (hall.FIVE_TONS, "capacity"),
    }


def _sweep_of(box):
    return ports.port_sweep(
        box.refrigerant,
        box.design_load,
        box.box_temperature,
        box.summer_condensing,
        box.winter_condensing,
    )


def _double():
    return 2.0 * hall.box(BOX).metering.port


def _hot(port):
    return sweep().points(port).at((ports.HOT, ports.CONVENTIONAL))


def _price(key, port):
    """Shift of superheat from hot to cold day that a conventional port adds to a balanced one."""
    superheat = _sweep_of(hall.box(key)).points(port).superheat
    shift = superheat[ports.COLD] - superheat[ports.HOT]
    return float(shift[ports.CONVENTIONAL] - shift[ports.BALANCED])


def _spread(key):
    """Difference of the two flow models at a port half as wide as planned, wide open."""
    now, port = _sweep_of(hall.box(key)), 0.5 * hall.box(key).metering.port
    one, other = (
        float(now.points(port, model).mass_flow[ports.HOT, ports.CONVENTIONAL])
        for model in (False, True)
    )
    return other / one - 1.0


def _moves_most():
    before, after = _hot(FITTED), _hot(ports.next_size(FITTED))
    moved = {
        "superheat": after.superheat / before.superheat,
        "suction": after.evaporating_pressure / before.evaporating_pressure,
        "cooling": after.capacity / before.capacity,
        "head": after.condensing_pressure / before.condensing_pressure,
    }
    return max(moved, key=lambda name: abs(moved[name] - 1.0))


def _twice_as_wide():
    gain = _hot(_double()).capacity / _hot(hall.box(BOX).metering.port).capacity
    if gain > _NEARLY_DOUBLE:
        return "double"
    return "quarter" if gain > _HARDLY else "hardly"


def _what_balance_saves():
    shift = abs(_price(SMALL_BOX, hall.box(SMALL_BOX).metering.port))
    if shift < _HALF_DEGREE:
        return "little"
    return "some" if shift < _TWO_DEGREES else "much"


CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. Somebody rebuilt its expansion valve in "
    "winter and it ran well for months. Today it is {outside} outside, the first hot day. The "
    "compressor never stops, the box stands at {box_air} instead of {set_point}, and the butcher "
    "has already moved the meat out.\n\n"
    "Gauges and clamps read as below. The liquid arrives {subcooling} under its bubble point, so "
    "the valve gets liquid without bubbles. Dew at your suction pressure is {found_dew}, and the "
    "clamp beside the bulb says {suction_line}, as warm as the box itself: {found_superheat} of "
    "superheat. The coil is starved.\n\n"
    "The log of the rebuild says: port {fitted}. The plan of the hall says: port {planned}."
)

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
    ("Box air", "{box_air}"),
)

PREDICTIONS = (
    Prediction(
        key="next-size",
        question=(
            "You fit the next size up, {next_up} instead of {fitted}; the box air is back at "
            "{set_point}, all else stays. Which of these changes by the largest share of what it "
            "was?"
        ),
        options={
            "superheat": "the superheat",
            "suction": "the suction pressure (absolute)",
            "cooling": "the cooling",
            "head": "the head pressure",
        },
        outcome=_moves_most,
        because=(
            "From {fitted} to {next_up} superheat goes from {superheat_before} to "
            "{superheat_after}, suction from {suction_before} to {suction_after}, cooling from "
            "{cooling_before} to {cooling_after}. The head is the condenser's business."
        ),
    ),
    Prediction(
        key="double",
        question=(
            "And if somebody means well and fits a port twice as wide as planned, {double} "
            "instead of {planned}? The cooling on the hot day …"
        ),
        options={
            "double": "about doubles",
            "quarter": "grows by a quarter or so",
            "hardly": "hardly changes",
        },
        outcome=_twice_as_wide,
        because=(
            "Cooling goes from {right_cooling} to {double_cooling}, superheat from "
            "{right_superheat} to {double_superheat}. The pin closes the extra hole again: it "
            "stands at {double_lift} of its travel. What grows is how hard the bulb pulls."
        ),
    ),
    Prediction(
        key="balance",
        question=(
            "A balanced port does not feel the head. How much swing of superheat between hot and "
            "cold day does it save on the {small_what} at {small_stall} ({small_refrigerant}, port "
            "{small_port})?"
        ),
        options={
            "little": "less than {half_degree}",
            "some": "between {half_degree} and {two_degrees}",
            "much": "more than {two_degrees}",
        },
        outcome=_what_balance_saves,
        because=(
            "On that small port it saves {small_shift}: no clamp can tell. On the walk-in with "
            "{planned} it saves {planned_shift}, on the {large_what} with {large_port} and "
            "{large_load} it saves {large_shift}."
        ),
    ),
)

CARD = JobCard(
    title="Change the port (cartridge) of an expansion valve",
    tools=(
        "Gauges with low-loss fittings, two clamps, leak detector for this refrigerant",
        "Recovery machine and cylinder, vacuum pump, micron gauge, nitrogen, scale",
        "Two wrenches, new seals, new strainer, cartridge of the planned size, tag and pen",
    ),
    cautions=(
        "Lock out and tag out the power. Glasses and gloves: liquid freezes eyes and skin.",
        "Zero gauge pressure before you loosen anything. Liquid trapped between two closed valves "
        "can burst a pipe.",
        "Flammable refrigerant: detector running, doors open, fan on, no ignition source near. "
        "Recover with equipment made for it; purge with nitrogen.",
        "Never braze on a charged or unpurged system.",
        "Nitrogen only through a regulator; never oxygen or air.",
    ),
    steps=(
        "Read and write down suction, suction clamp, head, liquid clamp, box air.",
        "Look at the strainer and the charge first: they read like a small port.",
        "Recover, or pump down where code and nameplate allow. Check for zero pressure twice.",
        "Hold the body with a second wrench. Take the cartridge out, look at seat and strainer.",
        "Clean; new seals. Screw the planned cartridge in until it sits flush. Never force it.",
        "Power element: hand-tight, then one hex flat, {flat} (common practice, no published "
        "source).",
        "Pressure test with nitrogen, evacuate, watch the vacuum hold, leak check again.",
        "Charge by weight as on the nameplate. Power on.",
        "Let the box come down to temperature. Read superheat at design load.",
        "Turn the stem a half turn at most; wait {wait} or more; read again (common practice, no "
        "published source).",
        "Tag the valve: port, refrigerant, date, superheat, your name.",
    ),
    quantities={"flat": (np.pi / 3.0, "angle"), "wait": (900.0, "time")},
    notice=hall.hall().notice,
)

LESSON = Lesson(
    number="22",
    title="Port size moves superheat",
    goals=(
        "tell a port that is too small, right or too big from what gauges and clamps say",
        "say why a port that is too big does not cool more, and why it hunts more easily",
        "judge what head pressure does to a valve in winter, and when a balanced port is worth it",
        "change a port and leave a tag that the next person can trust",
    ),
    minutes=40,
    before=("10",),
    cautions=(
        "On this page nothing can hurt you; at the valve it can. The card at the end says what to "
        "mind before you open one.",
        "Propane and other flammable refrigerants: ventilation, no ignition source, recovery with "
        "the right equipment, never a torch on a charged or unpurged system.",
        "The nameplate, local code and the licence that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    try_this=(
        "Move the port from the left end to the right. Watch the pin: where does it leave its "
        "stop, and what happens to the superheat there?",
        "Set the port to the green diamond, read the cold day, then change conventional to "
        "balanced. Do it again with a design load of {least_load}, and of {most_load}.",
        "Starve the valve (port far left) and turn the spring up and down. Why does nothing "
        "happen?",
    ),
    tasks=l22_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Properties of the refrigerants",
            "CoolProp's equations of state, tabulated in data/properties",
            READ,
        ),
        Source(
            "Static, opening and operating superheat",
            "wording as in AHRI 750",
            MEMORY,
        ),
        Source(
            "Discharge coefficient growing with liquid density",
            "Wile 1935, first term, as quoted in later papers",
            MEMORY,
        ),
        Source("Port sizes of the kit", "preferred numbers, ISO 3, series R10", MEMORY),
        Source(
            "Six tenths of the travel at design, box air minus evaporating, superheats of the "
            "usual size",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "One hex flat on the power element; waiting between turns of the stem",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "Everything drawn: valve, coil and compressor solved together at every port",
            "lowside.system, checked in tests/test_system.py and tests/test_lesson_22.py",
            OURS,
        ),
        Source(
            "The mark for “hunts easily”: twice the answer of the right port",
            "our own choice; a mark and not a law",
            OURS,
        ),
    ),
    leaves_out=(
        "The swing itself. This page has a gain (how strongly the flow answers the bulb at once), "
        "not how coil, bulb and pressure move in time. Whether, and how far, a valve hunts: "
        "lesson 28 (to come).",
        "A high superheat alone does not prove a small port: a plugged strainer, a short charge or "
        "a bulb that lost its charge read alike. Lessons 26 and 52 (to come) tell them apart.",
        "The condensing temperature is given here and does not answer to the port; nor does the "
        "charge. In a real box both do.",
        "How much a port passes: two models of the jet behind it differ by {spread_here} for the "
        "wide-open port of the call and by {spread_propane} for a propane freezer of the hall. For "
        "propane and isobutane the page shows both, as a band.",
        "Frost, oil, wear, friction of the pin, choking of a flashing inlet.",
        "The box of the call warms until its heat gain has fallen to the cooling left; gain in "
        "proportion to the difference to the air outside is a simple picture of a real box.",
    ),
    next="24",
    quantities=quantities,
)
