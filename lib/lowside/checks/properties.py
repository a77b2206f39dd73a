"""Published properties of the refrigerants: saturation, density, boiling points, facts."""

from __future__ import annotations

from lowside import refrigerants, store, units

from .model import Check, relative

ATMOSPHERE = units.STANDARD_ATMOSPHERE


def celsius(value):
    """Turn °C into kelvin."""
    return value + units.ICE_POINT


def checks():
    """List the checks of the property layer.

    Yields
    ------
    Check
    """
    table = store.read_toml("checks/refrigerants.toml")
    yield from _saturation(table)
    yield from _densities(table)
    yield from _suction_gas(table["suction_vapour"])
    yield from _boiling(table["boiling"])
    yield from _gauges(table["gauge"], table["propane_gauge"])
    yield from _facts(table)


def _saturation(table):
    for row in table["saturation_pressure"]:
        fluid, kelvin = refrigerants.get(row["refrigerant"]), celsius(row["celsius"])
        pascal = row["bar"] * 1e5
        yield Check(
            "saturation",
            f"{fluid.name}, {row['side']} pressure at {{at}}",
            pascal,
            relative(pascal, row["tolerance"]),
            "pressure",
            f"{row['bar']} bar at {row['celsius']} °C",
            row["source"],
            row["status"],
            lambda fluid=fluid, kelvin=kelvin, side=row["side"]: (
                fluid.dew_pressure(kelvin) if side == "dew" else fluid.bubble_pressure(kelvin)
            ),
            {"at": (kelvin, "temperature")},
        )
    for row in table["saturation_temperature"]:
        fluid, pascal = refrigerants.get(row["refrigerant"]), row["bar"] * 1e5
        yield Check(
            "saturation",
            f"{fluid.name}, dew point at {{at}}",
            celsius(row["celsius"]),
            row["tolerance"],
            "temperature",
            f"{row['celsius']} °C at {row['bar']} bar",
            row["source"],
            row["status"],
            lambda fluid=fluid, pascal=pascal: fluid.dew_temperature(pascal),
            {"at": (pascal, "pressure")},
        )


def _densities(table):
    for row in table["saturated_volume"]:
        fluid = refrigerants.get(row["refrigerant"])
        if "bar" in row:
            pressure, where = row["bar"] * 1e5, f"{row['bar']} bar"
            at = pressure, "pressure"
        else:
            kelvin, where = celsius(row["celsius"]), f"{row['celsius']} °C"
            pressure, at = fluid.bubble_pressure(kelvin), (kelvin, "temperature")
        density = 1.0 / row["cubic_metres_per_kg"]
        yield Check(
            "density",
            f"{fluid.name}, saturated {row['phase']} at {{at}}",
            density,
            relative(density, row["tolerance"]),
            "density",
            f"{row['cubic_metres_per_kg']:g} m³/kg at {where}",
            row["source"],
            row["status"],
            lambda fluid=fluid, pressure=pressure, phase=row["phase"]: getattr(
                fluid.saturation(pressure), f"{phase}_density"
            ),
            {"at": at},
        )


def _suction_gas(row):
    fluid = refrigerants.get(row["refrigerant"])
    pressure = fluid.dew_pressure(celsius(row["dew_celsius"]))

    def state(which):
        return fluid.state_pt(pressure, celsius(row[f"{which}_celsius"]))

    for which in ("warm", "cold"):
        density = 1e3 / row[f"{which}_litres_per_kg"]
        yield Check(
            "density",
            f"{fluid.name}, gas at {{at}} over dew {{dew}}",
            density,
            relative(density, row["volume_tolerance"]),
            "density",
            f"{row[f'{which}_litres_per_kg']} L/kg",
            row["source"],
            row["status"],
            lambda which=which: state(which).density,
            {
                "at": (celsius(row[f"{which}_celsius"]), "temperature"),
                "dew": (celsius(row["dew_celsius"]), "temperature"),
            },
        )
    ratio = row["warm_litres_per_kg"] / row["cold_litres_per_kg"]
    yield Check(
        "density",
        f"{fluid.name}, density, cold over warm gas",
        ratio,
        relative(ratio, row["ratio_tolerance"]),
        "number",
        f"{row['warm_litres_per_kg']} over {row['cold_litres_per_kg']} L/kg",
        row["source"],
        row["status"],
        lambda: state("cold").density / state("warm").density,
    )
    rise = row["enthalpy_rise_kilojoules_per_kg"] * 1e3
    yield Check(
        "textbook cycles",
        f"{fluid.name}, gas warmed, {{cold}} to {{warm}}",
        rise,
        relative(rise, row["enthalpy_tolerance"]),
        "enthalpy",
        f"{rise / 1e3} kJ/kg",
        row["source"],
        row["status"],
        lambda: state("warm").enthalpy - state("cold").enthalpy,
        {w: (celsius(row[f"{w}_celsius"]), "temperature") for w in ("cold", "warm")},
    )


def _boiling(table):
    for name, printed in table["bubble_and_dew"].items():
        fluid = refrigerants.get(name)
        sides = dict(zip(("bubble", "dew"), printed, strict=True))
        topic = "boiling points of blends" if fluid.is_blend else "boiling points, pure"
        for side, value in sides.items() if fluid.is_blend else [("dew", printed[1])]:
            yield Check(
                topic,
                f"{name}, {side} point at {{at}}",
                celsius(value),
                table["tolerance" if fluid.is_blend else "pure_tolerance"],
                "temperature",
                f"{value} °C",
                table["source"],
                table["status"],
                lambda fluid=fluid, side=side: getattr(fluid, f"{side}_temperature")(ATMOSPHERE),
                {"at": (ATMOSPHERE, "pressure")},
            )


def _gauges(gauge, propane):
    for row in gauge["row"]:
        fluid = refrigerants.get(row["refrigerant"])
        pressure = ATMOSPHERE + row["psig"] * units.PSI
        for side in ("dew", "bubble"):
            printed = row[f"{side}_celsius"]
            yield Check(
                "what a gauge means",
                f"{fluid.name}, {side} point at {{at}}",
                celsius(printed),
                gauge["tolerance"],
                "temperature",
                f"{printed} °C at {row['psig']} psig",
                gauge["source"],
                gauge["status"],
                lambda fluid=fluid, side=side, pressure=pressure: getattr(
                    fluid, f"{side}_temperature"
                )(pressure),
                {"at": (pressure, "pressure")},
            )
    fluid = refrigerants.get("R290")
    for kelvin, psig in zip(map(celsius, propane["celsius"]), propane["psig"], strict=True):
        yield Check(
            "what a gauge means",
            "R290, pressure above the barometer at {at}",
            psig * units.PSI,
            relative(psig * units.PSI, propane["tolerance"]),
            "pressure_difference",
            f"{psig} psig",
            propane["source"],
            propane["status"],
            lambda kelvin=kelvin: fluid.dew_pressure(kelvin) - ATMOSPHERE,
            {"at": (kelvin, "temperature")},
        )


def _facts(table):
    mass, warming = table["molar_mass"], table["gwp"]
    for name in refrigerants.NAMES:
        facts = refrigerants.facts_of(name)
        yield Check(
            "molar mass",
            f"{name}, molar mass",
            mass[name],
            mass["tolerance"],
            "number",
            f"{mass[name]} g/mol",
            mass["source"],
            mass["status"],
            lambda facts=facts: facts.molar_mass * 1e3,
            unit="g/mol",
        )
        for report, printed in zip(("AR4", "AR5"), warming.get(name, ()), strict=False):
            yield Check(
                "warming potential",
                f"{name}, {report}, over 100 years",
                printed,
                warming["tolerance"],
                "number",
                f"{printed}",
                warming["source"],
                warming["status"],
                lambda facts=facts, report=report: facts.gwp[report],
            )
        safety = table["safety"]
        if len(safety[name]) == 2:
            yield Check(
                "lower flammability limit",
                f"{name}, lower flammability limit",
                safety[name][1],
                0.0,
                "concentration",
                f"{safety[name][1]} kg/m³",
                safety["source"],
                safety["status"],
                lambda facts=facts: facts.lfl,
            )
