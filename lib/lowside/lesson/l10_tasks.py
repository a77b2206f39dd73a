"""Tasks of lesson 10: superheat, subcooling, altitude, flash gas, flow."""

from __future__ import annotations

from lowside import refrigerants, units

from . import slips
from .tasks import Slip, Task

PANEL = "Put your own readings on the diagram"  # its title on the page

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
        "suction line, beside the bulb (the valve's feeler there), says {line_temperature}. How "
        "much superheat is that?"
    ),
    draw=_draw_suction,
    kinds=SUPERHEAT_KINDS,
    solve=_superheat,
    kind="temperature_difference",
    slips=(
        slips.reading_itself(
            "dew",
            "dew itself",
            "That is the dew point, where superheat starts. How far above it is the line?",
        ),
        slips.gauge_as_absolute(_superheat, "suction_pressure"),
        slips.barometer_twice(_superheat, "suction_pressure"),
        slips.number_in_other_unit(_superheat, "line_temperature", "temperature"),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
        slips.sign_swapped(),
        slips.sea_level_barometer(_superheat, "suction_pressure"),
    ),
    hints=(
        "Two temperatures make one superheat: the clamp gives one. The gauge gives the other, by "
        "way of the diagram or a pressure-temperature chart.",
        f"Type the suction gauge into the panel “{PANEL}”, or take a chart: the dew point is what "
        "you want. Subtract it from what the clamp says; below zero, mind its sign.",
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
        slips.reading_itself(
            "bubble",
            "bubble itself",
            "That is the bubble point, from which subcooling counts. How far below it is the line?",
        ),
        slips.gauge_as_absolute(_subcooling, "head_pressure"),
        slips.barometer_twice(_subcooling, "head_pressure"),
        slips.number_in_other_unit(_subcooling, "liquid_temperature", "temperature"),
        slips.difference_as_temperature(),
        slips.unit_of_the_other_system("temperature_difference"),
        slips.sign_swapped(),
        slips.sea_level_barometer(_subcooling, "head_pressure"),
    ),
    hints=(
        "Which of the two gauges feels the pressure of the liquid line?",
        f"Type the head gauge into the panel “{PANEL}”, or take a chart: the bubble point is what "
        "you want. Subtract what the clamp says from it, not the other way round.",
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
        "Find the barometer of that height in a table of the standard atmosphere, and add the "
        f"reading. The panel “{PANEL}” takes absolute pressures too: write the unit with an a for "
        "absolute in place of the g for gauge. Or set {altitude} as the altitude at the top of "
        "this page and type the gauge reading as it is.",
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
        "Liquid {refrigerant}, just condensed (on the bubble line), reaches the valve at "
        "{liquid_temperature}; the coil boils at {evaporating}. The diagram gives {arriving} for "
        "the liquid, and at the pressure of the coil {boiling} for boiling liquid and {dry} for "
        "dry vapour. How many percent of it are vapour right behind the valve?"
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
    ),
    hints=(
        "The valve adds no heat and takes none: on the diagram the way through it goes straight "
        "down. How far across the dome does it land?",
        "Both lengths start at boiling liquid. The part that flashed reaches from there to the "
        "liquid that arrives, the whole way to dry vapour. Part over whole.",
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
        "A propane box must carry {load}. Liquid, just condensed (on the bubble line), comes to "
        "the valve at {liquid_temperature} ({arriving} on the diagram); the coil boils at "
        "{evaporating} (boiling liquid there: {boiling}), and vapour leaves it at "
        "{line_temperature} ({leaving}). How much propane must the valve pass?"
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
        "Subtract what each unit brings into the coil from what it carries out: that is the heat "
        "which it takes up. How many such units make up the load?",
    ),
    steps=(
        "Each unit of propane takes up {leaving} less {arriving}: {cooling}.",
        "{load} over {cooling} is {answer}.",
    ),
)
