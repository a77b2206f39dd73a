"""How each kind of quantity is shown to a person: symbols, sizes, decimals, examples."""

from __future__ import annotations

from dataclasses import dataclass

from lowside import units
from lowside.errors import UnknownName


@dataclass(frozen=True)
class Shown:
    """One unit as a person reads it.

    Attributes
    ----------
    symbol : str
        What is written after the number.
    unit : str
        Plain name, a key of ``units.UNITS``.
    decimals : int
        Decimals written unless the caller asks otherwise.
    reference : str
        Zero of a pressure: ``"absolute"`` (also for everything that is no pressure), ``"gauge"``
        (counts up from the barometer), ``"vacuum"`` (counts down from it) or ``"difference"``.
    up_to : float or None
        Sizes at or above this take the next unit of the list. [SI]
    """

    symbol: str
    unit: str
    decimals: int
    reference: str = "absolute"
    up_to: float | None = None


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    Attributes
    ----------
    noun : str
        What a person is asked for, such as ``"a temperature"``.
    family : str
        Family of ``units.UNITS`` that can express it.
    us, metric : tuple of Shown
        Units by size, smallest first. The first is used on axes and for typed text without a unit.
    examples : tuple of str
        One typed example in US and one in metric units.
    """

    noun: str
    family: str
    us: tuple[Shown, ...]
    metric: tuple[Shown, ...]
    examples: tuple[str, str]

    def shown(self, system):
        """Units of this kind in ``"us"`` or ``"metric"``, smallest first."""
        return self.us if system == "us" else self.metric


INCHES_OF_VACUUM = Shown("inHg vac", "inHg", 1, "vacuum")


def _both(*shown):
    """Give both systems the same units."""
    return {"us": shown, "metric": shown}


KINDS = {
    "gauge_pressure": Kind(
        "a gauge pressure",
        "pressure",
        us=(Shown("psig", "psi", 1, "gauge"),),
        metric=(Shown("barg", "bar", 2, "gauge"),),
        examples=("68 psig", "4.7 barg"),
    ),
    "pressure": Kind(
        "an absolute pressure",
        "pressure",
        us=(Shown("psia", "psi", 1),),
        metric=(Shown("bara", "bar", 2),),
        examples=("82.7 psia", "5.7 bara"),
    ),
    "pressure_difference": Kind(
        "a pressure difference",
        "pressure",
        us=(Shown("psi", "psi", 1, "difference"),),
        metric=(Shown("bar", "bar", 2, "difference"),),
        examples=("2.5 psi", "0.17 bar"),
    ),
    "vacuum": Kind(
        "a vacuum",
        "pressure",
        us=(Shown("micron", "micron", 0),),
        metric=(Shown("mbar", "mbar", 2),),
        examples=("500 micron", "0.67 mbar"),
    ),
    "temperature": Kind(
        "a temperature",
        "temperature",
        us=(Shown("°F", "degF", 1),),
        metric=(Shown("°C", "degC", 1),),
        examples=("-4 °F", "-20 °C"),
    ),
    "temperature_difference": Kind(
        "a temperature difference",
        "temperature_difference",
        us=(Shown("°F", "degF_difference", 1),),
        metric=(Shown("K", "K_difference", 1),),
        examples=("10 °F", "5.5 K"),
    ),
    "mass": Kind(
        "a mass",
        "mass",
        us=(Shown("oz", "oz", 1, up_to=units.POUND), Shown("lb", "lb", 2)),
        metric=(Shown("g", "g", 1, up_to=1.0), Shown("kg", "kg", 2)),
        examples=("1 1/2 oz", "42 g"),
    ),
    "charge": Kind(
        "a charge by weight",
        "mass",
        us=(Shown("oz", "oz", 2, up_to=units.POUND), Shown("lb", "lb", 2)),
        metric=(Shown("g", "g", 1, up_to=1.0), Shown("kg", "kg", 2)),
        examples=("5.11 oz", "145 g"),
    ),
    "goods": Kind(
        "a weight of goods",
        "mass",
        us=(Shown("lb", "lb", 0),),
        metric=(Shown("kg", "kg", 0),),
        examples=("500 lb", "230 kg"),
    ),
    "mass_flow": Kind(
        "a mass flow",
        "mass_flow",
        us=(Shown("lb/h", "lb/h", 1),),
        metric=(Shown("g/s", "g/s", 2),),
        examples=("24 lb/h", "3 g/s"),
    ),
    "capacity": Kind(
        "a cooling capacity",
        "power",
        us=(Shown("ton", "ton", 2),),
        metric=(Shown("kW", "kW", 2),),
        examples=("1/2 ton", "1.8 kW"),
    ),
    "power": Kind(
        "an electrical power", "power", **_both(Shown("W", "W", 0)), examples=("650 W",) * 2
    ),
    "heat_flow": Kind(
        "a heat flow",
        "power",
        us=(Shown("Btu/h", "Btu/h", 0),),
        metric=(Shown("W", "W", 0),),
        examples=("6000 Btu/h", "1800 W"),
    ),
    "current": Kind("a current", "current", **_both(Shown("A", "A", 2)), examples=("3.2 A",) * 2),
    "heat": Kind(
        "an amount of heat",
        "energy",
        us=(Shown("Btu", "Btu", 0),),
        metric=(Shown("kWh", "kWh", 1),),
        examples=("24000 Btu", "7 kWh"),
    ),
    "enthalpy": Kind(
        "an enthalpy",
        "enthalpy",
        us=(Shown("Btu/lb", "Btu/lb", 1),),
        metric=(Shown("kJ/kg", "kJ/kg", 1),),
        examples=("105 Btu/lb", "245 kJ/kg"),
    ),
    "entropy": Kind(
        "an entropy",
        "entropy",
        us=(Shown("Btu/(lb·°R)", "Btu/(lb degR)", 4),),
        metric=(Shown("kJ/(kg·K)", "kJ/(kg K)", 3),),
        examples=("0.42 Btu/(lb·°R)", "1.75 kJ/(kg·K)"),
    ),
    "insulation": Kind(
        "an insulation value",
        "resistance",
        us=(Shown("h·ft²·°F/Btu", "h ft2 degF/Btu", 1),),
        metric=(Shown("m²·K/W", "m2 K/W", 2),),
        examples=("25 h·ft²·°F/Btu", "4.4 m²·K/W"),
    ),
    "density": Kind(
        "a density",
        "density",
        us=(Shown("lb/ft³", "lb/ft3", 2),),
        metric=(Shown("kg/m³", "kg/m3", 1),),
        examples=("30 lb/ft³", "480 kg/m³"),
    ),
    "concentration": Kind(
        "gas in air",
        "density",
        us=(Shown("oz/ft³", "oz/ft3", 4),),
        metric=(Shown("g/m³", "g/m3", 1),),
        examples=("0.038 oz/ft³", "38 g/m³"),
    ),
    "length": Kind(
        "a length",
        "length",
        us=(Shown("in", "in", 3, up_to=2 * units.FOOT), Shown("ft", "ft", 1)),
        metric=(Shown("mm", "mm", 1, up_to=1.0), Shown("m", "m", 2)),
        examples=("3/8 in", "9.5 mm"),
    ),
    "distance": Kind(
        "a length",
        "length",
        us=(Shown("ft", "ft", 1),),
        metric=(Shown("m", "m", 2),),
        examples=("5 ft", "1.5 m"),
    ),
    "thickness": Kind(
        "a thickness",
        "length",
        us=(Shown("in", "in", 1),),
        metric=(Shown("mm", "mm", 0),),
        examples=("4 in", "100 mm"),
    ),
    "altitude": Kind(
        "an altitude",
        "length",
        us=(Shown("ft", "ft", 0),),
        metric=(Shown("m", "m", 0),),
        examples=("5280 ft", "1600 m"),
    ),
    "port": Kind(
        "a port diameter", "length", **_both(Shown("mm", "mm", 2)), examples=("1.6 mm", "1/16 in")
    ),
    "opening": Kind(
        "the width of an opening",
        "length",
        **_both(Shown("mm", "mm", 3)),
        examples=("0.150 mm", "0.006 in"),
    ),
    "area": Kind(
        "an area",
        "area",
        us=(Shown("in²", "in2", 4, up_to=units.FOOT**2), Shown("ft²", "ft2", 1)),
        metric=(Shown("mm²", "mm2", 2, up_to=0.01), Shown("m²", "m2", 2)),
        examples=("40 ft²", "3.7 m²"),
    ),
    "floor": Kind(
        "a floor area",
        "area",
        us=(Shown("ft²", "ft2", 0),),
        metric=(Shown("m²", "m2", 1),),
        examples=("86 ft²", "8 m²"),
    ),
    "volume": Kind(
        "a volume",
        "volume",
        us=(Shown("in³", "in3", 2, up_to=units.FOOT**3), Shown("ft³", "ft3", 1)),
        metric=(
            Shown("mL", "mL", 1, up_to=1e-3),
            Shown("L", "L", 2, up_to=1.0),
            Shown("m³", "m3", 1),
        ),
        examples=("2.4 in³", "40 mL"),
    ),
    "time": Kind(
        "a time",
        "time",
        **_both(
            Shown("s", "s", 0, up_to=120.0),
            Shown("min", "min", 0, up_to=7200.0),
            Shown("h", "h", 1),
        ),
        examples=("90 s", "12 min"),
    ),
    "minutes": Kind("a time", "time", **_both(Shown("min", "min", 0)), examples=("45 min",) * 2),
    "hours": Kind("a time", "time", **_both(Shown("h", "h", 1)), examples=("16 h",) * 2),
    "air_changes": Kind(
        "air changes an hour",
        "frequency",
        **_both(Shown("an hour", "1/h", 1)),
        examples=("6 an hour",) * 2,
    ),
    "water_content": Kind(
        "water in a refrigerant", "ratio", **_both(Shown("ppm", "ppm", 0)), examples=("50 ppm",) * 2
    ),
    "ratio": Kind("a share", "ratio", **_both(Shown("%", "%", 0)), examples=("40 %",) * 2),
    "number": Kind("a number", "ratio", **_both(Shown("", "1", 2)), examples=("3.2",) * 2),
    "angle": Kind("an angle", "angle", **_both(Shown("°", "deg", 0)), examples=("30°",) * 2),
    "force": Kind(
        "a force",
        "force",
        us=(Shown("lbf", "lbf", 1),),
        metric=(Shown("N", "N", 1),),
        examples=("12 lbf", "50 N"),
    ),
    "torque": Kind(
        "a torque",
        "torque",
        us=(Shown("lbf·ft", "lbf ft", 0),),
        metric=(Shown("N·m", "N m", 0),),
        examples=("40 lbf·ft", "55 N·m"),
    ),
    "conductivity": Kind(
        "a thermal conductivity",
        "conductivity",
        us=(Shown("Btu/(h·ft·°F)", "Btu/(h ft degF)", 1),),
        metric=(Shown("W/(m·K)", "W/(m K)", 1),),
        examples=("219 Btu/(h·ft·°F)", "379 W/(m·K)"),
    ),
    "specific_heat": Kind(
        "a specific heat",
        "entropy",
        us=(Shown("Btu/(lb·°F)", "Btu/(lb degR)", 3),),
        metric=(Shown("kJ/(kg·K)", "kJ/(kg K)", 3),),
        examples=("0.091 Btu/(lb·°F)", "0.38 kJ/(kg·K)"),
    ),
    "gas_flow": Kind(
        "a flow of gas",
        "volume_flow",
        us=(Shown("ft³/h", "ft3/h", 1),),
        metric=(Shown("L/min", "L/min", 1),),
        examples=("6 ft³/h", "2.8 L/min"),
    ),
}

#: What a unit of each family measures, for "… is a temperature, not a pressure".
FAMILY_NOUNS = {
    "pressure": "a pressure",
    "temperature": "a temperature",
    "temperature_difference": "a temperature difference",
    "mass": "a mass",
    "mass_flow": "a mass flow",
    "power": "a power or capacity",
    "energy": "an amount of heat",
    "current": "a current",
    "enthalpy": "an enthalpy",
    "resistance": "an insulation value",
    "entropy": "an entropy",
    "density": "a density",
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "time": "a time",
    "ratio": "a share",
    "frequency": "a rate",
    "angle": "an angle",
    "force": "a force",
    "torque": "a torque",
    "conductivity": "a thermal conductivity",
    "volume_flow": "a flow of gas",
}

# Last word of a quantity's name -> its kind, so that an error that carries
# ``evaporating_pressure=2.1e5`` can be worded.
_KIND_OF_LAST_WORD = {
    "pressure": "gauge_pressure",
    "drop": "pressure_difference",
    "lift": "length",
    "temperature": "temperature",
    "superheat": "temperature_difference",
    "subcooling": "temperature_difference",
    "glide": "temperature_difference",
    "difference": "temperature_difference",
    "capacity": "capacity",
    "load": "capacity",
    "power": "power",
    "heat": "heat_flow",
    "current": "current",
    "flow": "mass_flow",
    "force": "force",
    "charge": "mass",
    "mass": "mass",
    "enthalpy": "enthalpy",
    "entropy": "entropy",
    "density": "density",
    "port": "port",
    "diameter": "length",
    "length": "length",
    "altitude": "altitude",
    "area": "area",
    "volume": "volume",
    "time": "time",
    "share": "ratio",
    "quality": "ratio",
}


def spec(name):
    """Look a kind up.

    Parameters
    ----------
    name : str
        A key of ``units.KINDS``.

    Returns
    -------
    Kind
        How it is shown.

    Raises
    ------
    UnknownName
        If there is no such kind.
    """
    return KINDS[look_up("kind of quantity", name, KINDS)]


def kind_of_quantity(name):
    """Guess the kind of a quantity from the last word of its name.

    Parameters
    ----------
    name : str
        Such as ``"evaporating_pressure"``.

    Returns
    -------
    str
        A key of ``units.KINDS``; ``"number"`` where the name says nothing.
    """
    return _KIND_OF_LAST_WORD.get(name.replace("_", " ").split()[-1], "number")


def look_up(what, name, choices):
    """Return ``name`` if it is one of ``choices``.

    Parameters
    ----------
    what : str
        What is being chosen, in words.
    name : str
        What came.
    choices : iterable of str
        What exists.

    Returns
    -------
    str
        The name.

    Raises
    ------
    UnknownName
        If it is not one of them.
    """
    if name not in choices:
        raise UnknownName(what, name, choices)
    return name
