"""Lesson 10: pressure, heat and the dome."""

from __future__ import annotations

from functools import cache

from lowside import cycle, readings, refrigerants, units

from . import hall, plant, slips
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source
from .tasks import Slip, Task

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


# ------------------------------------------------------------------ tasks

SUPERHEAT_KINDS = {
    "suction_pressure": "gauge_pressure",
    "line_temperature": "temperature",
    "dew": "temperature",
}


def _draw_suction(random):
    fluid = refrigerants.get("R290")
    dew = random.uniform(255.0, 271.0)
    return {
        "suction_pressure": fluid.dew_pressure(dew),
        "line_temperature": dew + random.uniform(4.0, 11.0),
    }


def _superheat(values):
    dew = refrigerants.get("R290").dew_temperature(values.suction_pressure)
    return {"dew": dew, "answer": values.line_temperature - dew}


SUPERHEAT = Task(
    key="superheat",
    question=(
        "A propane (R290) reach-in. The suction gauge says {suction_pressure}; the clamp on the "
        "suction line, beside the bulb, says {line_temperature}. How much superheat is that?"
    ),
    draw=_draw_suction,
    kinds=SUPERHEAT_KINDS,
    solve=_superheat,
    kind="temperature_difference",
    slips=(
        slips.gauge_as_absolute(_superheat, "suction_pressure"),
        slips.barometer_twice(_superheat, "suction_pressure"),
        slips.number_in_other_unit(_superheat, "line_temperature", "temperature"),
        slips.difference_as_temperature(),
        slips.sign_swapped(),
        slips.sea_level_barometer(_superheat, "suction_pressure"),
    ),
    hints=(
        "Two temperatures make one superheat: the clamp gives one. The gauge gives the other, by "
        "way of the diagram or a pressure-temperature chart.",
        "At {suction_pressure} propane boils at {dew}. How much warmer is the line?",
    ),
    steps=(
        "Propane at {suction_pressure} boils at {dew}: the dew point.",
        "{line_temperature} less {dew} leaves {answer} of superheat.",
    ),
)


def _draw_liquid(random):
    fluid = refrigerants.get("R290")
    bubble = random.uniform(304.0, 322.0)
    return {
        "head_pressure": fluid.bubble_pressure(bubble),
        "suction_pressure": fluid.dew_pressure(random.uniform(257.0, 271.0)),
        "liquid_temperature": bubble - random.uniform(2.5, 9.0),
    }


def _subcooling(values):
    bubble = refrigerants.get("R290").bubble_temperature(values.head_pressure)
    return {"bubble": bubble, "answer": bubble - values.liquid_temperature}


SUBCOOLING = Task(
    key="subcooling",
    question=(
        "The same kind of box. Suction gauge {suction_pressure}, head gauge {head_pressure}, "
        "clamp on the liquid line {liquid_temperature}. How much subcooling has the liquid?"
    ),
    draw=_draw_liquid,
    kinds={
        "head_pressure": "gauge_pressure",
        "suction_pressure": "gauge_pressure",
        "liquid_temperature": "temperature",
        "bubble": "temperature",
    },
    solve=_subcooling,
    kind="temperature_difference",
    slips=(
        Slip(
            "wrong gauge",
            lambda values, show: slips.solved_with(
                _subcooling, values, head_pressure=values.suction_pressure
            ),
            "That comes from the suction gauge. Subcooling is about liquid, and the liquid stands "
            "under head pressure: read the other gauge.",
        ),
        slips.gauge_as_absolute(_subcooling, "head_pressure"),
        slips.barometer_twice(_subcooling, "head_pressure"),
        slips.number_in_other_unit(_subcooling, "liquid_temperature", "temperature"),
        slips.difference_as_temperature(),
        slips.sign_swapped(),
        slips.sea_level_barometer(_subcooling, "head_pressure"),
    ),
    hints=(
        "Which of the two gauges feels the pressure of the liquid line?",
        "At {head_pressure} the last bubble is gone at {bubble}. How far below that is the line?",
    ),
    steps=(
        "Propane at {head_pressure} condenses at {bubble}: the bubble point.",
        "{bubble} less {liquid_temperature} leaves {answer} of subcooling.",
    ),
)


def _draw_mountain(random):
    dew = random.uniform(265.0, 275.0)
    altitude = random.uniform(1400.0, 2600.0)
    absolute = refrigerants.get("R600a").dew_pressure(dew)
    return {"altitude": altitude, "reading": absolute - units.atmosphere(altitude)}


def _mountain(values):
    barometer = units.atmosphere(values.altitude)
    absolute = barometer + values.reading
    answer = refrigerants.get("R600a").dew_temperature(absolute)
    return {"barometer": barometer, "absolute": absolute, "answer": answer}


def _boiling(pressure):
    return float(refrigerants.get("R600a").dew_temperature(pressure))


MOUNTAIN = Task(
    key="mountain",
    question=(
        "A bottle bench with isobutane (R600a) stands in a mountain town, {altitude} above the "
        "sea. Its suction gauge, zeroed in the open air up there, reads {reading} above that "
        "zero. At what temperature does the isobutane boil?"
    ),
    draw=_draw_mountain,
    kinds={
        "altitude": "altitude",
        "reading": "pressure_difference",
        "barometer": "pressure",
        "absolute": "pressure",
    },
    solve=_mountain,
    kind="temperature",
    slips=(
        Slip(
            "sea-level barometer",
            lambda values, show: _boiling(units.STANDARD_ATMOSPHERE + values.reading),
            "That is right at sea level. Up there the air is thinner: the barometer stands at "
            "{barometer}, and the gauge starts from that.",
        ),
        Slip(
            "gauge as absolute",
            lambda values, show: _boiling(values.reading),
            "That takes {reading} for the whole pressure. A gauge starts at the barometer, here "
            "{barometer}; the refrigerant feels both together.",
        ),
    ),
    hints=(
        "The refrigerant knows nothing of the gauge's zero. What is its whole, absolute pressure?",
        "Up there the barometer stands at {barometer}. Add the reading, and look up the absolute "
        "pressure. (The panel above takes absolute pressures too: write the unit with an a for "
        "absolute in place of the g for gauge.)",
    ),
    steps=(
        "At {altitude} the barometer stands at {barometer} (standard atmosphere).",
        "{barometer} and {reading} make {absolute} absolute.",
        "At that pressure isobutane boils at {answer}.",
    ),
)


def _draw_flash(random):
    name = random.choice(("R290", "R600a", "R134a"))
    return {
        "refrigerant": name,
        "liquid_temperature": random.uniform(299.0, 317.0),
        "evaporating": random.uniform(254.0, 272.0),
    }


def _flash(values):
    fluid = refrigerants.get(values.refrigerant)
    edge = fluid.saturation(fluid.dew_pressure(values.evaporating))
    pressure = fluid.bubble_pressure(values.liquid_temperature)
    arriving = fluid.saturation(pressure).liquid_enthalpy
    share = (arriving - edge.liquid_enthalpy) / (edge.vapour_enthalpy - edge.liquid_enthalpy)
    return {
        "arriving": arriving,
        "boiling": edge.liquid_enthalpy,
        "dry": edge.vapour_enthalpy,
        "answer": share,
    }


FLASH = Task(
    key="flash",
    question=(
        "Liquid {refrigerant} at {liquid_temperature} reaches the valve; the coil boils at "
        "{evaporating}. The diagram gives {arriving} for the liquid, and at the pressure of the "
        "coil {boiling} for boiling liquid and {dry} for dry vapour. How much of it is vapour "
        "right behind the valve?"
    ),
    draw=_draw_flash,
    kinds={
        "liquid_temperature": "temperature",
        "evaporating": "temperature",
        "arriving": "enthalpy",
        "boiling": "enthalpy",
        "dry": "enthalpy",
    },
    solve=_flash,
    kind="ratio",
    slips=(
        Slip(
            "liquid left",
            lambda values, show: 1.0 - values.answer,
            "That is the share that is still liquid. The question was for the vapour.",
        ),
        Slip(
            "counted from zero",
            lambda values, show: values.arriving / values.dry,
            "That counts from the zero of the chart, which is a matter of taste. Count from "
            "boiling liquid at {boiling} instead, for both lengths.",
        ),
        Slip(
            "wrong whole",
            lambda values, show: (values.arriving - values.boiling) / values.dry,
            "The upper length is right. But the whole way across the dome is {dry} less {boiling}.",
        ),
        Slip(
            "fraction for percent",
            lambda values, show: values.answer / 100.0,
            "That looks like a fraction typed where percent are asked for: a quarter is 25 %.",
        ),
    ),
    hints=(
        "The valve adds no heat and takes none: on the diagram the way through it goes straight "
        "down. How far across the dome does it land?",
        "From {boiling} to {arriving} is the part that flashed; from {boiling} to {dry} is the "
        "whole way.",
    ),
    steps=(
        "Straight down through the valve: it lands in the dome at {arriving}.",
        "Part: {arriving} less {boiling}. Whole: {dry} less {boiling}.",
        "Part over whole is {answer}: so much is vapour before it has taken up any heat.",
    ),
)


def _draw_flow(random):
    dew = random.uniform(256.0, 270.0)
    return {
        "load": random.uniform(900.0, 2600.0),
        "evaporating": dew,
        "line_temperature": dew + random.uniform(4.0, 9.0),
        "liquid_temperature": random.uniform(300.0, 316.0),
    }


def _flow(values):
    fluid = refrigerants.get("R290")
    pressure = fluid.dew_pressure(values.evaporating)
    leaving = fluid.vapour_enthalpy(pressure, values.line_temperature)
    bubble = fluid.bubble_pressure(values.liquid_temperature)
    arriving = fluid.saturation(bubble).liquid_enthalpy
    return {
        "leaving": leaving,
        "arriving": arriving,
        "boiling": fluid.saturation(pressure).liquid_enthalpy,
        "cooling": leaving - arriving,
        "answer": values.load / (leaving - arriving),
    }


FLOW = Task(
    key="flow",
    question=(
        "A propane box must carry {load}. Liquid comes to the valve at {liquid_temperature} "
        "({arriving} on the diagram), the coil boils at {evaporating} (boiling liquid there: "
        "{boiling}), and vapour leaves it at {line_temperature} ({leaving}). How much propane "
        "must the valve pass?"
    ),
    draw=_draw_flow,
    kinds={
        "load": "heat_flow",
        "evaporating": "temperature",
        "line_temperature": "temperature",
        "liquid_temperature": "temperature",
        "leaving": "enthalpy",
        "arriving": "enthalpy",
        "boiling": "enthalpy",
        "cooling": "enthalpy",
    },
    solve=_flow,
    kind="mass_flow",
    slips=(
        Slip(
            "flash gas forgotten",
            lambda values, show: values.load / (values.leaving - values.boiling),
            "That lets all of it boil in the coil. Part has flashed behind the valve already: "
            "start at {arriving}, not at {boiling}.",
        ),
        Slip(
            "counted from zero",
            lambda values, show: values.load / values.leaving,
            "That counts from the zero of the chart. What the box gives is the way from {arriving} "
            "to {leaving}.",
        ),
        Slip(
            "upside down",
            lambda values, show: 1e-6 * values.cooling / values.load,
            "That is heat over load. Turn it round: load over the heat that each unit takes up.",
        ),
    ),
    hints=(
        "What does one unit of propane take up on its way through the coil?",
        "It enters with {arriving} and leaves with {leaving}: that is {cooling}. How many of those "
        "make {load}?",
    ),
    steps=(
        "Each unit of propane takes up {leaving} less {arriving}: {cooling}.",
        "{load} over {cooling} is {answer}.",
    ),
)

# ------------------------------------------------------------------ card

CARD = JobCard(
    title="Take gauge and clamp readings and lose no grams",
    tools=(
        "Shortest hoses with low-loss fittings, kept for this refrigerant",
        "Clamp thermometers that agree in ice water",
        "Leak detector made for this refrigerant",
        "Gloves and glasses",
    ),
    cautions=(
        "Propane, isobutane: ventilate, detector on, no flame, spark or switching nearby. Never "
        "braze on a charged or unpurged system.",
        "Tiny sealed cabinet: no gauges just to look. A hose takes grams it cannot spare. Clamps, "
        "amps and run time first; open it only to repair it, then recover and weigh in.",
        "Liquid freezes skin, the discharge line burns it. Lock the power out before hands go in.",
    ),
    steps=(
        "Read the nameplate: refrigerant, grams, flammable or not.",
        "Let it run steadily a quarter of an hour, doors shut.",
        "Clamps on clean metal, insulated over: suction line beside the bulb, liquid line "
        "before the valve, discharge line a hand from the compressor. Air into coil and condenser.",
        "Zero the gauges in open air; note the altitude.",
        "Empty the hoses of air: by vacuum where flammable, else by purging as the law allows.",
        "Suction gauge first. Head gauge only if the question needs it: its hose holds liquid.",
        "Write all readings in one minute, each with its unit.",
        "With the box running, let the head hose empty into the suction side, then close and take "
        "off. Caps on, leak check.",
        "Put the readings on the diagram before you touch the valve.",
    ),
    notice="Waiting time and places for clamps: common practice, no published source.",
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
            "transcriptions: tests/reference/cycles.toml",
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
