"""Lesson 10: pressure, heat and the dome."""

from __future__ import annotations

from functools import cache

from lowside import cycle, readings

from . import hall, plant
from .card import JobCard
from .l10_tasks import FLASH, FLOW, MOUNTAIN, SUBCOOLING, SUPERHEAT
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

BOX = "drinks-merchandiser"
HOTTER = 10.0  # [K] by which the condensing temperature climbs in the prediction

_WORTH_SAYING = 0.02  # change of cooling below which it counts as the same


@cache
def hot_day():
    """Draw up the cycle of the box with condensing `HOTTER`, all else the same.

    Returns
    -------
    cycle.CycleResult
    """
    now = plant.cycle_of(hall.box(BOX))
    point = plant.run(hall.box(BOX))
    fluid = now.refrigerant
    condensing = fluid.dew_temperature(point.condensing_pressure) + HOTTER
    return cycle.between_temperatures(
        fluid,
        point.evaporating_temperature,
        condensing,
        point.superheat,
        point.subcooling,
        now.isentropic_efficiency,
    )


@cache
def taken():
    """Read gauges and clamps on the box of the call.

    Returns
    -------
    readings.Readings
    """
    box = hall.box(BOX)
    return plant.run(box).readings(box.summer_ambient)


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, now, hot = hall.box(BOX), plant.cycle_of(hall.box(BOX)), hot_day()
    fluid, read = now.refrigerant, taken()
    meaning = readings.interpret(fluid, read)
    found = {name: (getattr(read, name), kind) for name, kind in readings.KIND.items()}
    for name, result in (("", now), ("hot_", hot)):
        found |= {
            f"{name}condensing": (
                float(fluid.dew_temperature(result.discharge.pressure)),
                "temperature",
            ),
            f"{name}liquid": (float(result.liquid.temperature), "temperature"),
            f"{name}flash": (float(result.flash_gas), "ratio"),
            f"{name}cooling": (float(result.cooling), "enthalpy"),
            f"{name}work": (float(result.work), "enthalpy"),
        }
    return found | {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "evaporating": (meaning.evaporating_dew, "temperature"),
        "superheat_error": (meaning.superheat_error, "temperature_difference"),
        "subcooling_error": (meaning.subcooling_error, "temperature_difference"),
        "clamp_error": (readings.CLAMP_ERROR, "temperature_difference"),
        "gauge_error": (readings.GAUGE_ERROR, "ratio"),
    }


def cooling_on_a_hot_day():
    """Tell what a hotter day does to the cooling of each unit of refrigerant.

    Returns
    -------
    str
        Key of the option that comes true.
    """
    change = hot_day().cooling / plant.cycle_of(hall.box(BOX)).cooling - 1.0
    if abs(change) < _WORTH_SAYING:
        return "same"
    return "more" if change > 0.0 else "less"


def vapour_behind_the_valve():
    """Tell how much of the liquid has flashed behind the valve.

    Returns
    -------
    str
        Key of the option that comes true.
    """
    share = plant.cycle_of(hall.box(BOX)).flash_gas
    if share < 0.02:
        return "none"
    return "part" if share < 0.5 else "most"


CARD = JobCard(
    title="Take gauge and clamp readings and lose no grams",
    tools=(
        "Shortest hoses with low-loss fittings, kept for this refrigerant",
        "Clamp thermometers that agree in ice water",
        "Leak detector made for this refrigerant",
        "Gloves and glasses",
    ),
    cautions=(
        "Propane, isobutane: ventilate, detector on, no flame or spark. Vacuum pump, plug and "
        "every switch outside the zone that gas can reach. Never braze on a charged or unpurged "
        "system.",
        "Never vent: for most refrigerants the law forbids it, and propane let out burns.",
        "Never start or insulation-test a compressor that stands under vacuum: its windings arc.",
        "Tiny sealed cabinet: no gauges just to look. A hose takes grams it cannot spare. Clamps, "
        "amps and run time first; open it only to repair it, then recover and weigh in.",
        "Liquid freezes skin, the discharge line burns it. Lock the power out before hands go in.",
    ),
    steps=(
        "Read the nameplate: refrigerant, grams, flammable or not.",
        "Let it run steadily a quarter of an hour, doors shut.",
        "Clamps on clean metal, insulated over: suction line beside the valve's bulb, liquid line "
        "before the valve, discharge line a hand from the compressor. Air into coil and condenser.",
        "Zero the gauges in open air; note the altitude.",
        "Pump the air out of the hoses with the box's valves still shut.",
        "Suction gauge first. Head gauge only if the question needs it: its hose holds liquid.",
        "Write all readings in one minute, each with its unit.",
        "With the box running, let the head hose empty into the suction side: only this box's own "
        "refrigerant, never a mixed or unknown charge. Close, take off, caps on, leak check.",
        "Put the readings on the diagram before you touch the valve.",
    ),
    notice="Waiting time, places for clamps, no start under vacuum: common practice, no published "
    "source.",
)

LESSON = Lesson(
    number="10",
    title="Pressure, heat and the dome",
    goals=(
        "point at any place on the pressure-enthalpy diagram and say what the refrigerant does",
        "find superheat and subcooling from two gauges and two clamps",
        "turn a gauge reading into a boiling temperature, by the sea or in the mountains",
        "put your own readings on the diagram and see which of them cannot be right",
    ),
    minutes=45,
    before=(),
    cautions=(
        "Propane and isobutane burn and explode. Before a port is opened: ventilate, detector on, "
        "no flame, no spark, no switching near the box.",
        "On a tiny sealed cabinet every hose takes grams that it cannot spare. Clamps first; "
        "gauges only when the repair needs them.",
        "Liquid refrigerant freezes skin and eyes: gloves and glasses. A discharge line burns: "
        "this one runs at {discharge_temperature}, on a bad day far hotter.",
        "Nameplate, local code and the licence the work needs come before this page.",
    ),
    call=(
        "{stall}: {what}, {holds}. {notice}\n\n"
        "“It cools, but it hardly ever rests,” says the stallholder. It runs on {refrigerant}, "
        "propane. The senior tech has gauges and clamps on it and reads them out while it "
        "runs.\n\n"
        "“Before you tell me superheat,” she says, “tell me what the propane is doing in there. "
        "All the way round.”"
    ),
    predictions=(
        Prediction(
            key="behind the valve",
            question=(
                "Liquid propane at {liquid} goes through the valve into a coil that boils at "
                "{evaporating}. How much of it is vapour right behind the valve, before it has "
                "taken any heat from the box?"
            ),
            options={
                "none": "none: it is still all liquid",
                "part": "a part, less than half",
                "most": "most of it",
            },
            outcome=vapour_behind_the_valve,
            because=(
                "Liquid at {liquid} cannot stay so warm at the pressure of the coil. {flash} of it "
                "flashes into vapour at once, and that cools the rest down to {evaporating}."
            ),
        ),
        Prediction(
            key="hot day",
            question=(
                "The afternoon gets hot and condensing climbs from {condensing} to "
                "{hot_condensing}. Nothing else changes. What happens to the heat that each bit "
                "of propane takes out of the box on its way through the coil?"
            ),
            options={"more": "it gets more", "same": "it stays the same", "less": "it gets less"},
            outcome=cooling_on_a_hot_day,
            because=(
                "The liquid reaches the valve at {hot_liquid} instead of {liquid}, so {hot_flash} "
                "flashes instead of {flash}, and what has flashed cannot boil in the coil: "
                "{hot_cooling} instead of {cooling}. The compressor works harder for it besides: "
                "{hot_work} instead of {work}."
            ),
        ),
    ),
    try_this=(
        "A hot afternoon: raise the condensing temperature step by step. Watch point 4. What has "
        "flashed cannot cool the box.",
        "Superheat down to zero, then up. Which points move, and which clamps notice?",
        "Choose R600a and lower the evaporating temperature until the suction gauge falls below "
        "zero. From there on a leak lets air in instead of refrigerant out.",
    ),
    tasks=(SUPERHEAT, SUBCOOLING, MOUNTAIN, FLASH, FLOW),
    card=CARD,
    sources=(
        Source(
            "Properties of propane",
            "Lemmon, McLinden and Wagner 2009, through CoolProp, tabulated in data/properties; "
            "tests/bench/properties.py prints how far the table strays",
            MEMORY,
        ),
        Source(
            "The cycle and its heat balance",
            "worked examples of Cengel & Boles, Moran & Shapiro, Borgnakke & Sonntag, in open "
            "transcriptions: data/checks/cycles.toml",
            READ,
        ),
        Source("Barometer at altitude", "ISO 2533, US Standard Atmosphere 1976", MEMORY),
        Source(
            "Errors of gauge and clamp; what counts as usual superheat, subcooling and discharge "
            "temperature; where clamps go and how long to wait",
            "workshop habit",
            PRACTICE,
        ),
        Source(
            "No venting, but for what each law exempts",
            "US: 40 CFR 82.154; EU: Regulation (EU) 2024/573",
            MEMORY,
        ),
        Source(
            "Readings of the call",
            "solved from valve, coil and compressor of an invented box (lowside.system)",
            OURS,
        ),
    ),
    leaves_out=(
        "Pressure lost in coil, suction line and condenser: here one gauge speaks for a whole "
        "side. On a long line it does not.",
        "Heat picked up by the suction line, and oil that travels along.",
        "The compressor is one efficiency. A real one changes with pressures, age and wear.",
        "With a gauge good to {gauge_error} of its full scale and a clamp good to {clamp_error}, "
        "the superheat of this call is known to about ±{superheat_error} and its subcooling to "
        "about ±{subcooling_error}; the properties themselves are far better than that.",
    ),
    next="12",
    quantities=quantities,
    readings=(
        ("Suction gauge", "{suction_pressure}"),
        ("Suction-line clamp", "{suction_temperature}"),
        ("Head gauge", "{head_pressure}"),
        ("Liquid-line clamp", "{liquid_temperature}"),
        ("Discharge clamp", "{discharge_temperature}"),
        ("Air in the box", "{box_temperature}"),
        ("Air at condenser", "{ambient_temperature}"),
    ),
)
