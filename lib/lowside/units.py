"""Pure conversions between SI and the units of the trade.

Everything inside lowside is SI. This room knows how large a psi is and what the barometer says at
an altitude; it does not know who is looking. Choosing, writing and reading units for a person is
the work of ``readout``.

Two pairs are kept apart on purpose. A *gauge* pressure counts from the local barometer, an
*absolute* one from nothing. A *temperature* has a zero to shift, a *temperature difference* has
none: 10 K of superheat is 18 °F, never 50 °F.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import OutOfRange, UnknownName

#: Every kind of quantity lowside speaks of, with the SI unit in which it is stored.
KINDS = {
    "pressure": "Pa",
    "gauge_pressure": "Pa",
    "pressure_difference": "Pa",
    "vacuum": "Pa",
    "temperature": "K",
    "temperature_difference": "K",
    "mass": "kg",
    "charge": "kg",
    "goods": "kg",
    "mass_flow": "kg/s",
    "capacity": "W",
    "power": "W",
    "heat_flow": "W",
    "current": "A",
    "heat": "J",
    "enthalpy": "J/kg",
    "entropy": "J/(kg K)",
    "insulation": "m2 K/W",
    "density": "kg/m3",
    "concentration": "kg/m3",
    "length": "m",
    "altitude": "m",
    "distance": "m",
    "thickness": "m",
    "port": "m",
    "opening": "m",
    "area": "m2",
    "floor": "m2",
    "volume": "m3",
    "time": "s",
    "minutes": "s",
    "hours": "s",
    "air_changes": "1/s",
    "ratio": "1",
    "water_content": "1",
    "number": "1",
    "angle": "rad",
    "force": "N",
    "torque": "N m",
    "conductivity": "W/(m K)",
    "specific_heat": "J/(kg K)",
    "gas_flow": "m3/s",
}

# Exact by definition (international yard and pound 1959, ISO 80000-4, 5th steam table conference).
STANDARD_GRAVITY = 9.80665  # [m/s2]
POUND = 0.45359237  # [kg]
OUNCE = POUND / 16.0  # [kg]
INCH = 0.0254  # [m]
FOOT = 12.0 * INCH  # [m]
PSI = POUND * STANDARD_GRAVITY / INCH**2  # [Pa]
RANKINE = 5.0 / 9.0  # [K]
ICE_POINT = 273.15  # [K]
STANDARD_ATMOSPHERE = 101325.0  # [Pa]
BTU_PER_POUND = 2326.0  # [J/kg], defines the International Table Btu
BTU = BTU_PER_POUND * POUND  # [J]
HOUR = 3600.0  # [s]
TON = 12000.0 * BTU / HOUR  # [W]
HORSEPOWER = 550.0 * FOOT * POUND * STANDARD_GRAVITY  # [W]

# Conventional mercury: density 13 595.1 kg/m3 under standard gravity.
MILLIMETRE_OF_MERCURY = 13.5951 * STANDARD_GRAVITY  # [Pa]
INCH_OF_MERCURY = 25.4 * MILLIMETRE_OF_MERCURY  # [Pa]
MICRON = MILLIMETRE_OF_MERCURY / 1000.0  # [Pa]


@dataclass(frozen=True)
class Unit:
    """One unit: SI value = ``factor`` x value + ``zero``.

    Attributes
    ----------
    family : str
        What it measures; units convert only within a family.
    factor : float
        SI size of one unit.
    zero : float
        SI value where this unit reads zero (only temperatures have one).
    """

    family: str
    factor: float
    zero: float = 0.0


#: Every unit lowside can read or write, by plain name.
UNITS = {
    "Pa": Unit("pressure", 1.0),
    "kPa": Unit("pressure", 1e3),
    "MPa": Unit("pressure", 1e6),
    "bar": Unit("pressure", 1e5),
    "mbar": Unit("pressure", 1e2),
    "psi": Unit("pressure", PSI),
    "inHg": Unit("pressure", INCH_OF_MERCURY),
    "mmHg": Unit("pressure", MILLIMETRE_OF_MERCURY),
    "micron": Unit("pressure", MICRON),
    "K": Unit("temperature", 1.0),
    "degC": Unit("temperature", 1.0, ICE_POINT),
    "degF": Unit("temperature", RANKINE, ICE_POINT - 32.0 * RANKINE),
    "degR": Unit("temperature", RANKINE),
    "K_difference": Unit("temperature_difference", 1.0),
    "degF_difference": Unit("temperature_difference", RANKINE),
    "kg": Unit("mass", 1.0),
    "g": Unit("mass", 1e-3),
    "lb": Unit("mass", POUND),
    "oz": Unit("mass", OUNCE),
    "kg/s": Unit("mass_flow", 1.0),
    "g/s": Unit("mass_flow", 1e-3),
    "kg/h": Unit("mass_flow", 1.0 / HOUR),
    "lb/h": Unit("mass_flow", POUND / HOUR),
    "lb/min": Unit("mass_flow", POUND / 60.0),
    "W": Unit("power", 1.0),
    "kW": Unit("power", 1e3),
    "Btu/h": Unit("power", BTU / HOUR),
    "ton": Unit("power", TON),
    "hp": Unit("power", HORSEPOWER),
    "A": Unit("current", 1.0),
    "J": Unit("energy", 1.0),
    "kJ": Unit("energy", 1e3),
    "MJ": Unit("energy", 1e6),
    "kWh": Unit("energy", 1e3 * HOUR),
    "Btu": Unit("energy", BTU),
    "J/kg": Unit("enthalpy", 1.0),
    "kJ/kg": Unit("enthalpy", 1e3),
    "Btu/lb": Unit("enthalpy", BTU_PER_POUND),
    "J/(kg K)": Unit("entropy", 1.0),
    "kJ/(kg K)": Unit("entropy", 1e3),
    "Btu/(lb degR)": Unit("entropy", BTU_PER_POUND / RANKINE),
    "m2 K/W": Unit("resistance", 1.0),
    "h ft2 degF/Btu": Unit("resistance", FOOT**2 * RANKINE * HOUR / BTU),
    "kg/m3": Unit("density", 1.0),
    "lb/ft3": Unit("density", POUND / FOOT**3),
    "g/m3": Unit("density", 1e-3),
    "oz/ft3": Unit("density", OUNCE / FOOT**3),
    "m": Unit("length", 1.0),
    "cm": Unit("length", 1e-2),
    "mm": Unit("length", 1e-3),
    "in": Unit("length", INCH),
    "ft": Unit("length", FOOT),
    "m2": Unit("area", 1.0),
    "cm2": Unit("area", 1e-4),
    "mm2": Unit("area", 1e-6),
    "in2": Unit("area", INCH**2),
    "ft2": Unit("area", FOOT**2),
    "m3": Unit("volume", 1.0),
    "L": Unit("volume", 1e-3),
    "mL": Unit("volume", 1e-6),
    "in3": Unit("volume", INCH**3),
    "ft3": Unit("volume", FOOT**3),
    "s": Unit("time", 1.0),
    "min": Unit("time", 60.0),
    "h": Unit("time", HOUR),
    "d": Unit("time", 24.0 * HOUR),
    "Hz": Unit("frequency", 1.0),
    "rpm": Unit("frequency", 1.0 / 60.0),
    "1/h": Unit("frequency", 1.0 / HOUR),
    "1": Unit("ratio", 1.0),
    "%": Unit("ratio", 0.01),
    "ppm": Unit("ratio", 1e-6),
    "rad": Unit("angle", 1.0),
    "deg": Unit("angle", np.pi / 180.0),
    "N": Unit("force", 1.0),
    "lbf": Unit("force", POUND * STANDARD_GRAVITY),
    "N m": Unit("torque", 1.0),
    "lbf ft": Unit("torque", POUND * STANDARD_GRAVITY * FOOT),
    "W/(m K)": Unit("conductivity", 1.0),
    "Btu/(h ft degF)": Unit("conductivity", BTU / HOUR / FOOT / RANKINE),
    "m3/s": Unit("volume_flow", 1.0),
    "L/min": Unit("volume_flow", 1e-3 / 60.0),
    "ft3/h": Unit("volume_flow", FOOT**3 / HOUR),
}


def unit(name):
    """Look a unit up by its plain name.

    Parameters
    ----------
    name : str
        A key of ``UNITS``, such as ``"psi"``.

    Returns
    -------
    Unit
        The unit.

    Raises
    ------
    UnknownName
        If there is no such unit.
    """
    try:
        return UNITS[name]
    except KeyError:
        raise UnknownName("unit", name, UNITS) from None


def to_si(value, name):
    """Convert from a named unit to SI.

    Parameters
    ----------
    value : float or array
        Value in the named unit; pressures keep their own zero (see ``absolute``).
    name : str
        A key of ``UNITS``.

    Returns
    -------
    float or array
        Value in SI. [SI]

    Raises
    ------
    UnknownName
        If there is no such unit.

    Examples
    --------
    >>> round(to_si(32.0, "degF"), 2)
    273.15
    """
    known = unit(name)
    return known.factor * as_numbers(value) + known.zero


def from_si(value, name):
    """Convert from SI to a named unit.

    Parameters
    ----------
    value : float or array
        Value in SI. [SI]
    name : str
        A key of ``UNITS``.

    Returns
    -------
    float or array
        Value in the named unit.

    Raises
    ------
    UnknownName
        If there is no such unit.

    Examples
    --------
    Superheat of 10 K is a difference, so no zero is shifted:

    >>> round(from_si(10.0, "degF_difference"), 6)
    18.0
    """
    known = unit(name)
    return (as_numbers(value) - known.zero) / known.factor


def absolute(gauge, atmosphere):
    """Absolute pressure behind a gauge reading.

    Parameters
    ----------
    gauge : float or array
        Gauge pressure, negative in a vacuum. [Pa]
    atmosphere : float
        Local barometer. [Pa]

    Returns
    -------
    float or array
        Absolute pressure. [Pa]
    """
    return as_numbers(gauge) + atmosphere


def gauge(absolute, atmosphere):
    """Gauge pressure shown for an absolute one.

    Parameters
    ----------
    absolute : float or array
        Absolute pressure. [Pa]
    atmosphere : float
        Local barometer. [Pa]

    Returns
    -------
    float or array
        Gauge pressure, negative in a vacuum. [Pa]
    """
    return as_numbers(absolute) - atmosphere


LOWEST_ALTITUDE = -500.0  # [m]
HIGHEST_ALTITUDE = 5500.0  # [m]


def atmosphere(altitude):
    """Barometer of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude : float
        Height above sea level, from -500 to 5500 m. [m]

    Returns
    -------
    float
        Standard barometric pressure. [Pa]

    Raises
    ------
    OutOfRange
        Outside that range of altitudes; nobody keeps a shop there.

    Notes
    -----
    Troposphere of ISO 2533 (identical to the US Standard Atmosphere 1976):
    ``p = p0 (1 - L h / T0)^(g / (R L))`` with p0 = 101 325 Pa, T0 = 288.15 K, L = 6.5 K/km and
    R = 287.05287 J/(kg K). The standard counts h in geopotential metres; using the height on the
    map instead changes the result by less than 40 Pa in this range. Weather moves a real barometer
    by some ±3 kPa around this value.

    Examples
    --------
    >>> round(atmosphere(0.0))
    101325
    """
    altitude = float(altitude)
    if not LOWEST_ALTITUDE <= altitude <= HIGHEST_ALTITUDE:
        raise OutOfRange("altitude", altitude, LOWEST_ALTITUDE, HIGHEST_ALTITUDE, "altitude")
    lapse_rate, sea_level_temperature, gas_constant = 0.0065, 288.15, 287.05287
    exponent = STANDARD_GRAVITY / (gas_constant * lapse_rate)
    return STANDARD_ATMOSPHERE * (1.0 - lapse_rate * altitude / sea_level_temperature) ** exponent


def as_numbers(value):
    """Turn anything number-like into a float or a float array.

    Parameters
    ----------
    value : float, sequence or array
        Numbers.

    Returns
    -------
    float or array
        A plain float for a scalar, otherwise a float array of the same shape.
    """
    numbers = np.asarray(value, dtype=float)
    return float(numbers) if numbers.ndim == 0 else numbers
