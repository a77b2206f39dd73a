"""Refrigeration cycles of the textbooks."""

from __future__ import annotations

from functools import cache

from lowside import cycle, refrigerants, store
from lowside.units import ICE_POINT, POUND, RANKINE, TON

from .model import Check, relative
from .properties import celsius

BOOKS, STATES, RATING = "textbook cycles", "textbook states", "mass flow for a ton"

# Printed key -> what it is, kind, SI units in one printed unit, printed unit.
_PRINTED = {
    "cooling_kW": ("cooling", "capacity", 1e3, "kW"),
    "cooling_ton": ("cooling", "capacity", TON, "ton"),
    "work_kW": ("compressor power", "power", 1e3, "kW"),
    "rejection_kW": ("heat given off", "capacity", 1e3, "kW"),
    "cop": ("COP", "number", 1.0, ""),
    "carnot_cop": ("Carnot COP", "number", 1.0, ""),
    "isentropic_efficiency": ("isentropic efficiency", "number", 1.0, ""),
    "rise_1_2_kJ_kg": ("work on a kg", "enthalpy", 1e3, "kJ/kg"),
    "rise_3_1_kJ_kg": ("cooling by a kg", "enthalpy", 1e3, "kJ/kg"),
    "h1_kJ_kg": ("enthalpy of the suction gas", "enthalpy", 1e3, "kJ/kg"),
    "h2_kJ_kg": ("enthalpy of the discharge gas", "enthalpy", 1e3, "kJ/kg"),
    "h3_kJ_kg": ("enthalpy of the liquid", "enthalpy", 1e3, "kJ/kg"),
}


def checks():
    """List the checks of the cycle.

    Yields
    ------
    Check
    """
    books = store.read_toml("checks/cycles.toml")
    for key, example in books.items():
        if key in ("source", "ahri_710"):
            continue
        if key == "borgnakke_11_7":
            yield from _states(example)
        else:
            yield from _cycle(example)
    yield from _rating(books["ahri_710"])


def solved(example):
    """Solve the cycle of an example with what the example states.

    Parameters
    ----------
    example : dict
        One table of ``data/checks/cycles.toml``.

    Returns
    -------
    cycle.Cycle
    """
    fluid = refrigerants.get(example["refrigerant"])
    if "suction_temperature_C" in example:
        return _with_losses(fluid, example)
    if "evaporating_pressure_Pa" in example:
        low = example["evaporating_pressure_Pa"]
    else:
        low = fluid.dew_pressure(celsius(example["evaporating_temperature_C"]))
    if "condensing_pressure_Pa" in example:
        high = example["condensing_pressure_Pa"]
    else:
        high = fluid.bubble_pressure(celsius(example["condensing_temperature_C"]))
    subcooling = 0.0
    if "liquid_temperature_C" in example:
        subcooling = fluid.subcooling(high, celsius(example["liquid_temperature_C"]))
    return cycle.between_pressures(
        fluid,
        low,
        high,
        subcooling=subcooling,
        isentropic_efficiency=example.get("isentropic_efficiency_given", 1.0),
    )


def _with_losses(fluid, example):
    suction, discharge = example["suction_pressure_Pa"], example["discharge_pressure_Pa"]
    temperature, liquid = celsius(example["suction_temperature_C"]), example["liquid_pressure_Pa"]
    return cycle.between_pressures(
        fluid,
        suction,
        discharge,
        superheat=fluid.superheat(suction, temperature),
        subcooling=fluid.subcooling(liquid, celsius(example["liquid_temperature_C"])),
        isentropic_efficiency=cycle.compressor_efficiency(
            fluid, suction, temperature, discharge, celsius(example["discharge_temperature_C"])
        ),
        condenser_drop=discharge - liquid,
    )


def _numbers(made, mass_flow):
    return {
        "cooling_kW": mass_flow * made.cooling,
        "cooling_ton": mass_flow * made.cooling,
        "work_kW": mass_flow * made.work,
        "rejection_kW": mass_flow * made.rejection,
        "cop": made.cop,
        "carnot_cop": made.carnot_cop,
        "isentropic_efficiency": made.isentropic_efficiency,
        "rise_1_2_kJ_kg": made.work,
        "rise_3_1_kJ_kg": made.cooling,
        "h1_kJ_kg": made.suction.enthalpy,
        "h2_kJ_kg": made.discharge.enthalpy,
        "h3_kJ_kg": made.liquid.enthalpy,
    }


def _cycle(example):
    book = example["source"].split(",")[0]
    number = example["source"].split("example ")[1].split(" ")[0]
    once = cache(lambda: solved(example))
    mass_flow = example.get("mass_flow_kg_s", 1.0)
    for key, (what, kind, factor, unit) in _PRINTED.items():
        if key not in example:
            continue
        printed, tolerance = example[key]
        yield Check(
            BOOKS,
            f"{book} {number}, {what}",
            printed * factor,
            relative(printed * factor, tolerance),
            kind,
            f"{printed} {unit}".strip(),
            example["source"],
            example["status"],
            lambda key=key: _numbers(once(), mass_flow)[key],
        )
    if "discharge_tolerance_K" in example:
        yield Check(
            BOOKS,
            f"{book} {number}, discharge",
            celsius(example["discharge_temperature_C"]),
            example["discharge_tolerance_K"],
            "temperature",
            f"{example['discharge_temperature_C']} °C",
            example["source"],
            example["status"],
            lambda: once().discharge.temperature,
        )


def _states(example):
    fluid, book = refrigerants.get(example["refrigerant"]), example["source"].split(",")[0]
    for place in ("suction", "discharge", "evaporator_outlet"):
        printed, tolerance = example[f"h_{place}_kJ_kg"]
        yield Check(
            STATES,
            f"{book} 11.7, enthalpy at the {place.replace('_', ' ')}",
            printed * 1e3,
            relative(printed * 1e3, tolerance),
            "enthalpy",
            f"{printed} kJ/kg",
            example["source"],
            example["status"],
            lambda place=place: fluid.vapour_enthalpy(
                example[f"{place}_pressure_Pa"], celsius(example[f"{place}_temperature_C"])
            ),
        )


def _rating(pair):
    liquid, evaporating = (
        (pair[f"{name}_temperature_F"] - 32.0) * RANKINE + ICE_POINT
        for name in ("liquid", "evaporating")
    )
    for name, printed in pair["mass_flow_lb_min_ton"].items():
        fluid = refrigerants.get(name)
        one = POUND / 60.0
        yield Check(
            RATING,
            f"{name}, liquid {{liquid}}, boiling {{evaporating}}",
            printed * one,
            relative(printed * one, pair["tolerance"]),
            "mass_flow",
            f"{printed} lb/min",
            pair["source"],
            pair["status"],
            lambda fluid=fluid: (
                TON
                / cycle.between_pressures(
                    fluid, fluid.dew_pressure(evaporating), fluid.bubble_pressure(liquid)
                ).cooling
            ),
            {"liquid": (liquid, "temperature"), "evaporating": (evaporating, "temperature")},
        )
