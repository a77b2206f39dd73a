"""Lesson 42: grams, limits and rooms."""

from __future__ import annotations

from functools import cache

from lowside import charge, flammability, units
from lowside.flammability import Room

from . import hall, l42_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

BOX = "drinks-merchandiser"

# What the other technician used, and the passage the merchandiser stands in: invented.
HOSE = charge.Tube(4.8e-3, 1.5)
STEP = 0.005  # [kg]
SCALE_ERROR = 0.003  # [kg]
SHOP = 298.15  # [K]
ROOM = Room(8.0, 2.5, 0.5 / units.HOUR)
LAYER = 0.1  # of the height, an illustration
LEAK = 60.0  # [s] of a fast leak
SLOW_LEAK = 3600.0  # [s]
FAN = 6.0 / units.HOUR  # [1/s]

_TENTH, _THIRD = 0.03, 0.2  # shares short that separate the options
_HARDLY = 0.9


@cache
def weighed():
    """Find out what the other technician's charge put into the box.

    Returns
    -------
    charge.Weighing
    """
    held, doubt = hose()
    return charge.weigh(
        hall.box(BOX).charge,
        resolution=STEP,
        scale_error=SCALE_ERROR,
        hose_after=held,
        hose_doubt=doubt,
    )


@cache
def hose():
    """Weigh what stands in the hose.

    Returns
    -------
    mass, doubt : float
        [kg]
    """
    content = charge.hose_content(l42_tasks.propane(), HOSE, SHOP, "liquid")
    return tuple(float(part) for part in content)


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, fluid = hall.box(BOX), l42_tasks.propane()
    done, (held, _) = weighed(), hose()
    low, high = done.band()
    first, second = flammability.lower_limits(fluid)
    lfl = first.concentration
    slow = _slow_share()
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "said": (box.charge, "charge"),
        "step": (STEP, "charge"),
        "scale_error": (SCALE_ERROR, "charge"),
        "hose_length": (HOSE.length, "distance"),
        "hose_bore": (HOSE.inner_diameter, "port"),
        "shop": (SHOP, "temperature"),
        "cylinder": (float(fluid.bubble_pressure(SHOP)), "gauge_pressure"),
        "held": (held, "charge"),
        "in_box": (float(done.total), "charge"),
        "low": (float(low), "charge"),
        "high": (float(high), "charge"),
        "short": (box.charge - float(done.total), "charge"),
        "short_share": (1.0 - float(done.total) / box.charge, "ratio"),
        "room": (ROOM.volume, "volume"),
        "mixed": (_peak(1.0) / lfl, "ratio"),
        "layer": (LAYER, "ratio"),
        "layered": (_peak(LAYER) / lfl, "ratio"),
        "layer_time": (_layer_time(), "time"),
        "leak": (LEAK, "time"),
        "slow_leak": (SLOW_LEAK, "time"),
        "fan": (FAN * units.HOUR, "number", 0),
        "slow_share": (slow, "ratio"),
        "lfl": (lfl, "concentration"),
        "other_lfl": (second.concentration, "concentration"),
        "lfl_share": (first.volume_share, "ratio", 1),
        "other_share": (second.volume_share, "ratio", 1),
        "alarm": (l42_tasks.ALARM, "ratio"),
    }


def _peak(share):
    return float(flammability.peak_concentration(ROOM, hall.box(BOX).charge, LEAK, share))


def _layer_time():
    return float(flammability.time_above(ROOM, hall.box(BOX).charge, LEAK, l42_tasks.lfl(), LAYER))


def _slow_share():
    """Peak of the slow leak over that of the fast one, with the fan running."""
    aired = Room(ROOM.floor_area, ROOM.height, FAN)
    fast, slow = (
        flammability.peak_concentration(aired, hall.box(BOX).charge, time)
        for time in (LEAK, SLOW_LEAK)
    )
    return float(slow / fast)


def _how_short():
    short = 1.0 - float(weighed().total) / hall.box(BOX).charge
    if short < -_TENTH:
        return "over"
    if short < _TENTH:
        return "right"
    return "tenth" if short < _THIRD else "third"


def _is_it_safe():
    mixed, layered = (_peak(share) / l42_tasks.lfl() for share in (1.0, LAYER))
    if mixed >= 1.0:
        return "all"
    return "floor" if layered >= 1.0 else "nowhere"


def _slow_or_fast():
    share = _slow_share()
    if share > _HARDLY:
        return "same"
    return "less" if share > 1.0 / 3.0 else "third"


CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. {notice}\n\n"
    "Yesterday somebody replaced its start relay, found the charge suspect, recovered it, "
    "evacuated the box, and charged it again. His note: “Weighed in {said} exactly, as on the "
    "nameplate.” Today the box is slow to pull down.\n\n"
    "His scale reads in steps of {step}. The hose, {hose_length} long with a bore of {hose_bore}, "
    "was empty when he zeroed the scale. When he closed the valve it stood full of liquid, at the "
    "cylinder's pressure.\n\n"
    "Before you touch anything: it is propane. Your meter goes to the floor first. Then the "
    "question is how many grams are in there really, and what would happen if they got out."
)

READINGS = (
    ("Nameplate", "{nameplate}"),
    ("The scale said", "{said}"),
    ("Step of the scale", "{step}"),
    ("Hose", "{hose_length}, {hose_bore}"),
    ("Hose and cylinder", "{shop}"),
    ("Cylinder gauge", "{cylinder}"),
)

PREDICTIONS = (
    Prediction(
        key="short",
        question=(
            "The note says {said}, the nameplate says {nameplate}. What is really in the box?"
        ),
        options={
            "right": "the nameplate, within a few hundredths",
            "tenth": "about a tenth less",
            "third": "about a third less",
            "over": "more than the nameplate",
        },
        outcome=_how_short,
        because=(
            "The scale counted {held} that never left the hose. In the box are about {in_box}, "
            "somewhere between {low} and {high}: short by {short_share}."
        ),
    ),
    Prediction(
        key="safe",
        question=(
            "All of {nameplate} leak within {leak} into the closed passage of {room} behind the "
            "stall. Where can the air burn?"
        ),
        options={
            "nowhere": "nowhere: the room is big enough",
            "floor": "evenly mixed nowhere, but on the floor it can",
            "all": "everywhere in the room",
        },
        outcome=_is_it_safe,
        because=(
            "Evenly mixed it reaches {mixed} of the lower flammability limit. Heavy gas does not "
            "mix by itself: on the lowest {layer} of the height, as an illustration, it makes "
            "{layered} of the limit and stays above it for {layer_time} or so, with so little "
            "fresh air."
        ),
    ),
    Prediction(
        key="slow",
        question=(
            "Now a fan changes the air of the passage {fan} times an hour. The same charge leaks "
            "once within {leak}, once within {slow_leak}. The slow leak's peak, evenly mixed, is …"
        ),
        options={
            "same": "the same: the same grams leak",
            "less": "clearly lower, but more than a third of it",
            "third": "less than a third of it",
        },
        outcome=_slow_or_fast,
        because=(
            "While the slow leak goes on, the fan carries gas away: its peak is {slow_share} of "
            "the fast one's. Against a pipe that breaks no fan helps in time; there the small "
            "charge protects."
        ),
    ),
)

CARD = JobCard(
    title="Charge a propane cabinet by weight",
    tools=(
        "Meter for propane, tested today; fan and lead rated for it; extinguisher",
        "Scale with steps of {fine} or finer, on a firm table, out of the draught",
        "Recovery machine and cylinder made for A3, vacuum pump, micron gauge, nitrogen",
        "Shortest hose with a valve at its end; new service ports or caps",
    ),
    cautions=(
        "Meter near the floor, running all the time. Alarm at {alarm} of the limit: stop, people "
        "out, doors open, no switch, no plug, no flame; then local rules.",
        "Nobody smokes; no ignition source near; power locked out from outside the area.",
        "Glasses and gloves: liquid freezes eyes and skin.",
        "Never braze and never open an electrical box on a charged or unpurged system.",
        "Never more than the nameplate.",
    ),
    steps=(
        "Read the nameplate: refrigerant and charge. Write them down.",
        "Air the place. Meter on the floor.",
        "Recover. Purge with nitrogen to a safe place outside. Repair.",
        "Pressure test with nitrogen, find leaks, evacuate, watch the vacuum hold.",
        "Cylinder on the scale. Evacuate the hose too: it is empty now. Zero.",
        "Close when the scale shows the nameplate and what will stay in the hose.",
        "Better: close the cylinder valve, run the box, let it draw the hose down to suction "
        "pressure.",
        "Close, cap, meter to every joint you touched.",
        "Read the scale again. Write down grams, hose, scale, date and your name.",
        "If grams are in doubt: recover and weigh in fresh. Never top up by feel.",
    ),
    quantities={"fine": (0.001, "charge"), "alarm": (l42_tasks.ALARM, "ratio")},
    notice=(
        "Alarm level, order of steps, size of the scale's step: common practice, no published "
        "source."
    ),
)

LESSON = Lesson(
    number="42",
    title="Grams, limits and rooms",
    goals=(
        "say where the gram limits of propane come from, and that the nameplate rules",
        "say how many grams are really in a box that was charged by weight",
        "work out how near a leak brings a room to burning, and why evenly mixed is not the "
        "worst case",
        "charge a propane cabinet by weight, with the cautions in the right order",
    ),
    minutes=45,
    before=("10",),
    cautions=(
        "Propane burns and explodes. It is heavier than air: it lies on the floor, in pits and "
        "inside the cabinet.",
        *flammability.CAUTIONS,
        "Recover with equipment made for flammable refrigerants. Liquid freezes skin and eyes.",
        "Nothing on this page permits a charge, a room or a job.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    try_this=(
        "Change what the hose holds at the end from liquid to vapour: that is what a tech does "
        "who lets the running box empty it. How much nearer is the nameplate?",
        "Make the hose full of liquid before and after. Why is the box right now, and what must "
        "be true of the hose for that?",
        "Set the step of the scale to the finest. Which doubt is left?",
    ),
    tasks=l42_tasks.ALL,
    card=CARD,
    sources=(
        Source("Density and pressure of propane", "CoolProp, tables in data/properties", READ),
        Source(
            "Lower flammability limit 2.1 % by volume",
            "NFPA 497, in the data of the open library chemicals",
            READ,
        ),
        Source(
            "Lower flammability limit 1.7 % by volume",
            "IEC 60079-20-1, in the data of the open library chemicals",
            READ,
        ),
        Source("The same limit by mass, used for charge limits", "ASHRAE 34, ISO 817", MEMORY),
        Source(
            "Charge limits of IEC 60335-2-89 and UL 60335-2-89, SNAP rules",
            "news of a national institute of refrigeration, trade press, Federal Register summary",
            READ,
        ),
        Source("Charge limits of EN 378-1 and ISO 5149-1", "the standards", MEMORY),
        Source("Doubts added up as evenly spread half-widths", "JCGM 100 (GUM)", MEMORY),
        Source(
            "Alarm at a quarter of the limit; steps and cautions of the card",
            "what is taught and done",
            PRACTICE,
        ),
        Source("Discharge coefficients of holes", "fluid mechanics texts", MEMORY),
        Source(
            "Grams in the hose, band of the charge, gas in the room",
            "lowside.charge and lowside.flammability, checked in tests/test_charge.py and "
            "tests/test_flammability.py",
            OURS,
        ),
        Source("The passage, the hose, the scale and its error", "invented for this lesson", OURS),
    ),
    leaves_out=(
        "How heavy gas really spreads: the floor layer is an illustration with a share you "
        "choose, not a model. Pits, shelves and closed cabinets can hold far more.",
        "The leak keeps the rate with which it begins, so the real one lasts longer; for liquid "
        "the rate is known only between two limits, drawn as a band.",
        "The upper limit, above which the mixture is too rich to burn: it becomes flammable again "
        "while it is being aired.",
        "The two published lower limits, {lfl_share} and {other_share} of the air, differ by a "
        "quarter; both are drawn.",
        "A hose “full of liquid” may hold bubbles; a tenth of its content is counted as doubt "
        "(our own estimate). Rubber hoses also breathe and stretch.",
        "The editions in the picture are those we could name with a source. Which one is in force "
        "where you stand, the authority there says.",
    ),
    next="44",
    quantities=quantities,
)
