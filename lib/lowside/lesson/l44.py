"""Lesson 44: the drier's price."""

from __future__ import annotations

from functools import cache

from lowside import drier, units
from lowside.drier import Drier

from . import hall, l44_tasks, plant
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

BOX = "ice-cream-freezer"

# Inner volume [m3] and beads [kg] of the drier the box was built with, and of the one somebody
# fitted; what he added [kg], what his vacuum gauge said [Pa]: invented.
ORIGINAL = 25e-6, 0.015
FITTED = 95e-6, 0.040
ADDED = 0.025
VACUUM = 500.0 * units.MICRON
SHOP = 298.15  # [K]
COLD_COIL = 243.15  # [K] frosted coil of a freezer that was switched off a moment ago
DRYNESS = 10e-6  # [kg/kg] that counts as dry here, our own choice
DROPS = 1.0
BOX_VOLUME = 2.5e-3  # [m3] inside of all parts, invented

_LITTLE, _LOT = 0.05, 0.25  # shares that separate the options


@cache
def running():
    """Solve the box of the call as it was built.

    Returns
    -------
    system.LowSideResult
    """
    return plant.run(hall.box(BOX))


@cache
def readings():
    """Read gauges and clamps on that box.

    Returns
    -------
    readings.Readings
    """
    return running().readings(hall.box(BOX).summer_ambient)


def quality():
    """Mass share of vapour behind the port of that box.

    Returns
    -------
    float
    """
    fluid, now = l44_tasks.propane(), readings()
    enthalpy = fluid.liquid_enthalpy(now.head_pressure, now.liquid_temperature)
    pressure = fluid.dew_pressure(float(running().evaporating_temperature))
    return float(fluid.state_ph(pressure, enthalpy).quality)


@cache
def swallowed():
    """Grams that either drier keeps in that box's liquid line.

    Returns
    -------
    original, fitted : float
        [kg]
    """
    fluid, now = l44_tasks.propane(), readings()
    return tuple(
        float(
            Drier.of_shell(*sizes).refrigerant_held(
                fluid, now.head_pressure, now.liquid_temperature
            )
        )
        for sizes in (ORIGINAL, FITTED)
    )


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, now, fluid = hall.box(BOX), readings(), l44_tasks.propane()
    small, large = swallowed()
    evaporating = float(running().evaporating_temperature)
    water = DROPS * drier.DROP / box.charge
    fallout = drier.falls_out(fluid, water, evaporating, quality())
    takes = Drier.of_shell(*ORIGINAL).water_capacity("R290", now.liquid_temperature, DRYNESS)
    boils = float(drier.boiling_temperature(VACUUM))
    left = float(drier.vapour_left(VACUUM, BOX_VOLUME, SHOP))
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "added": (ADDED, "charge"),
        "total": (box.charge + ADDED, "charge"),
        "original": (ORIGINAL[0], "volume"),
        "fitted": (FITTED[0], "volume"),
        "old_keeps": (small, "charge"),
        "new_keeps": (large, "charge"),
        "more": (large - small, "charge"),
        "more_share": ((large - small) / box.charge, "ratio"),
        "vacuum": (VACUUM, "vacuum"),
        "shop": (SHOP, "temperature"),
        "cold_coil": (COLD_COIL, "temperature"),
        "boils": (boils, "temperature"),
        "needed": (float(drier.saturation_pressure(COLD_COIL)), "vacuum"),
        "suction": (now.suction_pressure, "gauge_pressure"),
        "suction_line": (now.suction_temperature, "temperature"),
        "head": (now.head_pressure, "gauge_pressure"),
        "liquid_line": (now.liquid_temperature, "temperature"),
        "evaporating": (evaporating, "temperature"),
        "water": (water, "water_content"),
        "carried": (float(fallout.carried), "water_content"),
        "old_takes": (float(drier.drops(takes)), "number", 0),
        "left_share": (left / drier.DROP, "ratio"),
        "dryness": (DRYNESS, "water_content"),
        "doubt": (drier.doubt("R290"), "number", 0),
    }


def _how_much_more():
    small, large = swallowed()
    share = (large - small) / hall.box(BOX).charge
    if share < _LITTLE:
        return "little"
    return "some" if share < _LOT else "much"


def _one_drop():
    fallout = drier.falls_out(
        l44_tasks.propane(),
        DROPS * drier.DROP / hall.box(BOX).charge,
        float(running().evaporating_temperature),
        quality(),
    )
    if fallout.freezes:
        return "ice"
    return "water" if fallout.free > 0.0 else "dissolved"


def _ice_in_the_coil():
    if drier.vacuum_margin(VACUUM, COLD_COIL) < 0.0:
        return "stays"
    return "slow" if COLD_COIL < units.ICE_POINT else "boils"


CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. {notice}\n\n"
    "Last week ice plugged its expansion valve every few hours. Somebody switched it off, "
    "recovered the propane and fitted a new drier, “the biggest on the van, it cannot hurt”: "
    "{fitted} inside instead of {original}. With frost still on the coil he evacuated to {vacuum}. "
    "Then he weighed in {nameplate}, just as the nameplate says.\n\n"
    "The box ran short of liquid. So he added propane “until it looked right”: {added}. It is on "
    "the tag.\n\n"
    "You come for the yearly check. The readings below are from the hall's log, of a day when all "
    "was well. Before you touch anything: more propane is in there than the plate allows. Meter "
    "to the floor, air the place."
)

READINGS = (
    ("Nameplate", "{nameplate}"),
    ("Added, says the tag", "{added}"),
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
)

PREDICTIONS = (
    Prediction(
        key="more",
        question=(
            "The new drier measures {fitted} inside, the old one {original}. What share of the "
            "nameplate's {nameplate} does the new one keep more than the old?"
        ),
        options={
            "little": "a few percent at most",
            "some": "something like a tenth to a fifth",
            "much": "a quarter or more",
        },
        outcome=_how_much_more,
        because=(
            "The old one keeps {old_keeps}, the new one {new_keeps}: {more} more, {more_share} of "
            "the nameplate. They are missing from the coils, and so the box ran short."
        ),
    ),
    Prediction(
        key="drop",
        question=(
            "A single drop of water gets into this box, and there is no drier. Evaporating at "
            "{evaporating}, what becomes of it?"
        ),
        options={
            "dissolved": "it stays dissolved in the propane",
            "water": "it falls out as liquid water",
            "ice": "most of it falls out as ice at the port",
        },
        outcome=_one_drop,
        because=(
            "One drop in {nameplate} is {water}; at {evaporating} propane carries about {carried}. "
            "The small old drier takes {old_takes} drops, so it was never too small for that."
        ),
    ),
    Prediction(
        key="coil",
        question=(
            "The gauge stood at {vacuum} while a corner of the coil was still at {cold_coil}, with "
            "ice inside. What did that ice do?"
        ),
        options={
            "boils": "it melted and boiled off at once",
            "slow": "it went off as vapour, slowly",
            "stays": "it stayed",
        },
        outcome=_ice_in_the_coil,
        because=(
            "At {vacuum} ice turns to vapour only above {boils}. In that corner he would have "
            "needed {needed} or less. Warm the coil first; that costs nothing."
        ),
    ),
)

CARD = JobCard(
    title="Change a drier on a propane cabinet",
    tools=(
        "Meter for propane, tested today; fan rated for it; extinguisher",
        "Recovery machine and cylinder for A3; nitrogen with regulator; scale in fine steps",
        "Vacuum pump, micron gauge; tube cutter; caps; drier as listed for this cabinet",
    ),
    cautions=(
        "Meter on the floor, place aired, no ignition source, power locked out from outside the "
        "area.",
        "Never open, cut or braze while charged or unpurged. Oil and beads give off propane "
        "afterwards.",
        "Nitrogen only through a regulator; never oxygen or air. Glasses and gloves.",
        "The nameplate charge stays. A bigger drier does not allow more grams.",
    ),
    steps=(
        "Read the nameplate: charge, drier. Same size or smaller inside; note beads and volume.",
        "Recover. Purge with nitrogen to a safe place outside, twice.",
        "Meter at the opening. Then CUT the old drier out. No torch: heat drives its water back.",
        "Keep the new drier capped until the last moment.",
        "Braze only purged, meter silent, nitrogen flowing; wet rag on the drier. Or press "
        "fittings listed for propane.",
        "Pressure test with nitrogen; leak check.",
        "Warm the frosted coil. Evacuate; shut off the pump; the vacuum gauge must stand.",
        "Rises and stops: water. Rises on: leak. Sweep with dry nitrogen, again.",
        "Weigh in the nameplate charge, hose counted. Short of liquid? Look for the cause, never "
        "top up.",
        "Meter to every joint. Tag: drier, grams, vacuum, date, name.",
    ),
    notice="Steps of this card: common practice, no published source.",
)

LESSON = Lesson(
    number="44",
    title="The drier's price",
    goals=(
        "say how many grams a drier keeps, and why a bigger one leaves a propane box short",
        "say how many drops of water the beads take, and how few would freeze a port",
        "read a vacuum gauge against water: what boils off, and what stays as ice",
        "change a drier without adding grams that the nameplate does not allow",
    ),
    minutes=40,
    before=("10", "42"),
    cautions=(
        "Propane burns and explodes, and lies on the floor. Meter on the floor, place aired, no "
        "flame, no switch, no plug.",
        "Recover and purge with nitrogen before you open anything. Never braze and never open an "
        "electrical box on a charged or unpurged system.",
        "Cut a drier out, do not heat it out: it still holds propane and gives its water back.",
        "Nitrogen through a regulator only, never oxygen or air. Liquid freezes skin and eyes.",
        "The nameplate, the maker's list of parts, local code and the licence the work needs "
        "come first.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=PREDICTIONS,
    try_this=(
        "Make the new drier smaller until it keeps what the old one kept. Which inner volume is "
        "that?",
        "Give the new drier more beads in the same shell. What happens to the grams, and what to "
        "the drops? What does the panel say when they do not fit?",
        "Set what was added back to nothing. Is the box right now? What would you do on the job?",
    ),
    tasks=l44_tasks.ALL,
    card=CARD,
    sources=(
        Source("Density and pressure of propane", "CoolProp, tables in data/properties", READ),
        Source(
            "Water on molecular sieves",
            "Wang and LeVan 2009, J. Chem. Eng. Data 54, 2839, in the open SorpPropLib",
            READ,
        ),
        Source(
            "Beads take eight tenths of what the pure sieve does; their density",
            "assumed: binder, finer pores",
            MEMORY,
        ),
        Source(
            "Water that liquid propane dissolves: two points of gas processing charts",
            "extrapolated elsewhere; a factor of two of doubt is drawn",
            MEMORY,
        ),
        Source("Water in propane's vapour", "Dalton's law with IAPWS vapour pressure", OURS),
        Source("Vapour pressure of water and ice", "IAPWS SR1-86 (1992) and R14-08 (2011)", MEMORY),
        Source("A drop of water: a twentieth of a millilitre", "a convention", PRACTICE),
        Source("Steps of the card; cutting instead of heating", "what is taught", PRACTICE),
        Source(
            "Grams in the drier, drops in the beads, ice at the port, vacuum",
            "lowside.drier, checked in tests/test_drier.py and tests/test_lesson_44.py",
            OURS,
        ),
        Source(
            "Readings of the call: valve, coil and compressor solved together",
            "lowside.system, of the box as it was built",
            OURS,
        ),
        Source("Both driers, what was added, the vacuum", "invented for this lesson", OURS),
    ),
    leaves_out=(
        "The solubility of water in propane is known here from two points only; below freezing and "
        "in a warm liquid line it is extrapolated. The band is a factor of {doubt} both ways for "
        "the liquid; Dalton's law for the vapour is a few percent off at these pressures.",
        "Hydrates: solids of water and propane that form at a few degrees above freezing. They are "
        "not computed.",
        "Water in the oil, on iron and in new insulation, and acids: real boxes hide more water "
        "than their propane.",
        "The drier is taken as full of liquid. With too little charge bubbles pass through it, and "
        "it keeps less.",
        "Beads are taken in equilibrium; near saturation they need hours. Below a twentieth of "
        "their mass the isotherm is continued, and “under 1 ppm” means no more than dry.",
        "How the box answers to missing grams: lesson 40 shows it.",
        "Boiling under vacuum cools the water left, so it takes much longer than the picture "
        "suggests. The gauge reads at its own place, not in the coil.",
    ),
    next="50",
    quantities=quantities,
)
