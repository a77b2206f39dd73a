"""Moist air: how much water and how much heat it carries, and how heavy it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .. import units, water
from ..errors import require

GAS_CONSTANT = 287.042  # [J/(kg K)] of dry air, ASHRAE Fundamentals ch. 1 (from memory)
VAPOUR_RATIO = 0.621945  # molar mass of water over that of dry air (same)
RANGE = (223.15, 333.15)  # [K]

# Enthalpy per kg of dry air, counted from dry air and liquid water at 0 °C (same, in SI):
# h = 1.006 t + W (2501 + 1.86 t) kJ/kg.
_DRY_HEAT, _VAPOUR_HEAT, _EVAPORATION = 1006.0, 1860.0, 2501e3

FUSION = 333.6e3  # [J/kg] given off once more where water freezes to frost; common tables, memory


@dataclass(frozen=True)
class MoistAir:
    """Air with water in it; every field may be an array.

    Parameters
    ----------
    temperature : float or ndarray
        -50 to 60 °C. [K]
    relative_humidity : float or ndarray
        Vapour pressure over that of water, below 0.01 °C over that of ice.
    pressure : float or ndarray
        Barometer. [Pa]

    Raises
    ------
    OutOfRange
        Outside that range, or for a humidity that is none.
    """

    temperature: float
    relative_humidity: float
    pressure: float = units.STANDARD_ATMOSPHERE

    def __post_init__(self):
        require("air temperature", self.temperature, *RANGE, "temperature")
        require("relative humidity", self.relative_humidity, 0.0, 1.0, "ratio")
        require("barometer", self.pressure, 4e4, 1.2e5, "pressure")

    @property
    def vapour_pressure(self):
        """Partial pressure of the water [Pa]."""
        return self.relative_humidity * water.saturation_pressure(self.temperature)

    @property
    def humidity_ratio(self):
        """Water per dry air [kg/kg]."""
        return VAPOUR_RATIO * self.vapour_pressure / (self.pressure - self.vapour_pressure)

    @property
    def enthalpy(self):
        """Enthalpy per kg of dry air, from dry air and liquid water at 0 °C [J/kg]."""
        celsius = self.temperature - units.ICE_POINT
        vapour = _EVAPORATION + _VAPOUR_HEAT * celsius
        return _DRY_HEAT * celsius + self.humidity_ratio * vapour

    @property
    def dry_density(self):
        """Dry air in a volume [kg/m3]."""
        return (self.pressure - self.vapour_pressure) / (GAS_CONSTANT * self.temperature)

    @property
    def density(self):
        """Air and water in a volume [kg/m3]."""
        return self.dry_density * (1.0 + self.humidity_ratio)


def humidity_floor(air_temperature, evaporating_temperature):
    """Humidity that a coil would leave if all the air came away saturated at its temperature.

    No coil that is wet or frosted can dry a room further than its own surface lets it.

    Parameters
    ----------
    air_temperature : array_like
        Of the room. [K]
    evaporating_temperature : array_like
        Taken for the coil's surface, which is really a little warmer. [K]

    Returns
    -------
    ndarray
        Relative humidity.

    Raises
    ------
    OutOfRange
        If the coil is warmer than the air, or either lies outside the range of `MoistAir`.
    """
    require("air temperature", air_temperature, *RANGE, "temperature")
    require("evaporating temperature", evaporating_temperature, *RANGE, "temperature")
    difference = np.subtract(air_temperature, evaporating_temperature)
    require("air less evaporating temperature", difference, 0.0, None, "temperature_difference")
    coil, room = (
        water.saturation_pressure(at) for at in (evaporating_temperature, air_temperature)
    )
    return coil / room
