"""Published values of units, valves, oil, air, foods, walls and brazing."""

from __future__ import annotations

import math

import numpy as np

from lowside import charge, joint, load, refrigerants, store, units, valve

from .model import Check, relative
from .properties import celsius

_DIGITS = 7  # printed by NIST SP 811


def checks():
    """List the checks of the parts.

    Yields
    ------
    Check
    """
    yield from _factors(store.read_toml("checks/units.toml"))
    table = store.read_toml("checks/valves.toml")
    yield from _springs(table["spring"])
    yield from _wile(table["wile"])
    yield from _port_ratio(table["port_ratio"])
    yield from _oil(store.read_toml("checks/oil_solubility.toml"))
    yield from _air_and_goods(store.read_toml("checks/loads.toml"))
    yield from _brazing(store.read_toml("checks/brazing.toml"))


def _factors(table):
    for group in ("factors_read", "factors"):
        for name, printed in table[group].items():
            if name in ("source", "status"):
                continue
            half = 0.5 * 10.0 ** (math.floor(math.log10(printed)) + 1 - _DIGITS)
            yield Check(
                "units",
                f"SI units in one {name}",
                printed,
                1.001 * half,
                "number",
                f"{printed:.7g}",
                table[group]["source"],
                table[group]["status"],
                lambda name=name: units.unit(name).factor,
            )
    air = table["atmosphere"]
    for height, pascal in zip(air["metres"], air["pascal"], strict=True):
        yield Check(
            "barometer",
            "barometer at {height}",
            pascal,
            air["tolerance_Pa"],
            "pressure",
            f"{pascal:.0f} Pa at {height:.0f} m",
            air["source"],
            air["status"],
            lambda height=height: units.atmosphere(height),
            {"height": (height, "altitude")},
        )


def _springs(table):
    port = valve.standard_port(2e-3, balance=1.0)
    for row in table["rows"]:
        fluid, evaporating = refrigerants.get(row["refrigerant"]), celsius(row["celsius"])
        for superheat, printed in zip(table["superheat_K"], row["kilopascal"], strict=True):
            spring = valve.Spring(static_superheat=superheat, evaporating_temperature=evaporating)
            built = valve.Valve(port, valve.PowerElement("liquid", fluid), spring)
            yield Check(
                "spring of a valve",
                f"{fluid.name} at {{at}}, spring for {{superheat}}",
                printed * 1e3,
                relative(printed * 1e3, row["tolerance"]),
                "pressure_difference",
                f"{printed} kPa",
                table["source"],
                table["status"],
                lambda built=built, fluid=fluid: (
                    valve.preload(built, fluid) / built.element.diaphragm_area
                ),
                {
                    "at": (evaporating, "temperature"),
                    "superheat": (superheat, "temperature_difference"),
                },
            )


def cooling_per_area(fluid, evaporating, pressure, liquid_temperature, *model):
    """Cooling for each area of opening.

    Parameters
    ----------
    fluid : Refrigerant
    evaporating : array_like
        Dew point. [°C]
    pressure : array_like
        In front of the opening, absolute. [Pa]
    liquid_temperature : array_like
        [K]
    *model
        Discharge model and coefficient, as `valve.mass_flux` takes them.

    Returns
    -------
    numpy.ndarray
        [W/m2]
    """
    low = fluid.dew_pressure(celsius(np.asarray(evaporating, dtype=float)))
    arriving = valve.inlet(fluid, pressure, fluid.liquid_enthalpy(pressure, liquid_temperature))
    effect = fluid.saturation(low).vapour_enthalpy - arriving.enthalpy
    return effect * valve.mass_flux(fluid, arriving, low, *model)


def _wile(table):
    for row in table["rows"]:
        fluid = refrigerants.get(row["refrigerant"])
        pressure = fluid.bubble_pressure(celsius(table["liquid_celsius"]))
        low = fluid.dew_pressure(celsius(row["celsius"]))
        arriving = valve.inlet(fluid, pressure, fluid.saturation(pressure).liquid_enthalpy)
        effect = fluid.saturation(low).vapour_enthalpy - arriving.enthalpy
        flux = valve.mass_flux(fluid, arriving, low)
        ideal = valve.mass_flux(fluid, arriving, low, "constant", 1.0)
        at = {"at": (celsius(row["celsius"]), "temperature")}
        yield Check(
            "flow through a valve",
            f"{fluid.name} at {{at}}, discharge coefficient",
            row["coefficient"],
            relative(row["coefficient"], table["coefficient_tolerance"]),
            "number",
            f"{row['coefficient']}",
            table["source"],
            table["status"],
            lambda flux=flux, ideal=ideal: flux / ideal,
            at,
        )
        yield Check(
            "flow through a valve",
            f"{fluid.name} at {{at}}, cooling through one mm²",
            row["kilowatt"] * 1e3,
            relative(row["kilowatt"] * 1e3, table["cooling_tolerance"]),
            "capacity",
            f"{row['kilowatt']} kW",
            table["source"],
            table["status"],
            lambda flux=flux, effect=effect: flux * effect * 1e-6,
            at,
        )


def _port_ratio(row):
    new, old = (refrigerants.get(row[name]) for name in ("refrigerant", "older"))

    def passes(fluid, evaporating, condensing):
        pressure = fluid.dew_pressure(celsius(condensing))
        liquid = fluid.bubble_temperature(pressure) - 5.0
        return cooling_per_area(fluid, evaporating, pressure, liquid)

    for condensing in row["condensing_celsius"]:
        for evaporating in row["evaporating_celsius"]:
            where = evaporating, condensing
            yield Check(
                "flow through a valve",
                f"{new.name} over {old.name}, {{low}} and {{high}}",
                row["value"],
                relative(row["value"], row["tolerance"]),
                "number",
                "a third more",
                row["source"],
                row["status"],
                lambda where=where: passes(new, *where) / passes(old, *where),
                {
                    "low": (celsius(evaporating), "temperature"),
                    "high": (celsius(condensing), "temperature"),
                },
            )


def oil_band(data):
    """Compute the refrigerant in oil at every measured point, over the band of the model.

    Parameters
    ----------
    data : dict
        One set of ``data/checks/oil_solubility.toml``.

    Returns
    -------
    measured, least, usual, most : numpy.ndarray
        Mole fractions of refrigerant in the liquid. [1]
    """
    fluid = refrigerants.get(data["refrigerant"])
    temperature, kilopascal, measured = np.array(data["points"]).T
    saturated = fluid.dew_pressure(celsius(temperature))
    liquid = fluid.saturation(saturated).liquid_density
    found = []
    for chi in (charge.CHI_BAND[1], charge.Oil(1.0).chi, charge.CHI_BAND[0]):
        phi = charge.oil_fraction(kilopascal * 1e3 / saturated, chi)
        moles = phi * liquid / fluid.facts.molar_mass
        oil = (1.0 - phi) * data["oil_density"] / data["oil_molar_mass"]
        found.append(moles / (moles + oil))
    return measured, *found


def _oil(table):
    for data in table["set"]:
        measured, least, _, most = oil_band(data)
        room = 1.0 + data["tolerance"]
        inside = (measured <= most * room) & (measured >= least / room)
        yield Check(
            "refrigerant in oil",
            f"{data['refrigerant']} in oil: points within our band",
            len(measured),
            0.0,
            "number",
            f"{len(measured)} points",
            data["source"],
            "read",
            lambda inside=inside: inside.sum(),
        )


def _air_and_goods(table):
    for row in table["moist_air"]:
        air = load.MoistAir(celsius(row["temperature"]), row["humidity"])
        at = {"at": (air.temperature, "temperature"), "humid": (row["humidity"], "ratio")}
        own = row["source"], row["status"]
        yield Check(
            "moist air",
            "air at {at} and {humid}, enthalpy",
            row["enthalpy"] * 1e3,
            relative(row["enthalpy"] * 1e3, 0.006),
            "enthalpy",
            f"{row['enthalpy']} kJ/kg",
            *own,
            lambda air=air: air.enthalpy,
            at,
        )
        if "ratio" in row:
            yield Check(
                "moist air",
                "air at {at} and {humid}, water in a kg",
                row["ratio"],
                relative(row["ratio"], 0.02),
                "number",
                f"{row['ratio']}",
                *own,
                lambda air=air: air.humidity_ratio,
                at,
            )
            yield Check(
                "moist air",
                "air at {at} and {humid}, dry air in it",
                1.0 / row["volume"],
                relative(1.0 / row["volume"], 0.002),
                "density",
                f"{row['volume']} m³/kg",
                *own,
                lambda air=air: air.dry_density,
                at,
            )
    foods = table["foods"]
    for key, printed in foods.items():
        if key in ("source", "status"):
            continue
        food = load.food(key)
        for name, value, kind, factor, tolerance, unit in (
            ("above", printed[0], "specific_heat", 4186.8, 0.16, "Btu/(lb °F)"),
            ("below", printed[1], "specific_heat", 4186.8, 0.22, "Btu/(lb °F)"),
            ("latent", printed[2], "enthalpy", units.BTU_PER_POUND, 0.02, "Btu/lb"),
        ):
            what = "heat of freezing" if name == "latent" else f"specific heat {name} freezing"
            yield Check(
                "foods",
                f"{key}, {what}",
                value * factor,
                relative(value * factor, tolerance),
                kind,
                f"{value} {unit}",
                foods["source"],
                foods["status"],
                lambda food=food, name=name: getattr(food, name),
            )
    cork = table["cork"]
    steps = float(np.diff(1.0 / np.array(cork["u"])).mean()) * units.unit("h ft2 degF/Btu").factor
    inch = load.Wall.panel("cork", np.array(cork["inches"]) * units.INCH)
    yield Check(
        "walls",
        "what one more inch of cork adds",
        steps,
        relative(steps, 0.02),
        "insulation",
        f"mean step of 1/U from {cork['u'][0]} to {cork['u'][-1]} Btu/(h ft² °F)",
        cork["source"],
        cork["status"],
        lambda: np.diff(inch.resistance).mean(),
    )


def _brazing(table):
    fillers = table["fillers"]
    for name in joint.fillers():
        for place, printed in zip(("solidus", "liquidus"), fillers[name], strict=True):
            kelvin = float(units.to_si(printed, "degF"))
            yield Check(
                "brazing",
                f"{name}, {place}",
                kelvin,
                (15.0 if name == "BCuP-4" else 10.0) * units.RANKINE,
                "temperature",
                f"{printed} °F",
                fillers["source"],
                fillers["status"],
                lambda name=name, place=place: getattr(joint.filler(name), place),
            )
    for name, key, tolerance in (
        ("copper", "copper_600K", 5e-4),
        ("stainless steel", "stainless_304_600K", 0.05),
    ):
        row = table[key]
        for field, attribute, kind, unit in (
            ("conductivity_W_mK", "conductivity", "conductivity", "W/(m K)"),
            ("heat_capacity_J_kgK", "heat_capacity", "specific_heat", "J/(kg K)"),
            ("density_kg_m3", "density", "density", "kg/m³"),
        ):
            if field not in row:
                continue
            yield Check(
                "metals",
                f"{name} at {{at}}, {attribute.replace('_', ' ')}",
                row[field],
                relative(row[field], tolerance),
                kind,
                f"{row[field]:g} {unit}",
                row["source"],
                row["status"],
                lambda name=name, attribute=attribute: getattr(joint.metal(name), attribute),
                {"at": (600.0, "temperature")},
            )
    flares = table["flares"]
    for size, *ends in zip(flares["sizes_in"], flares["low"], flares["high"], strict=True):
        for place, printed in enumerate(ends):
            yield Check(
                "flare nuts",
                f"flare nut of {{size}}, {('least', 'most')[place]} torque",
                printed,
                0.0,
                "torque",
                f"{printed} N·m",
                flares["source"],
                flares["status"],
                lambda size=size, place=place: joint.flare_torque(size * units.INCH)[place],
                {"size": (size * units.INCH, "length")},
            )
