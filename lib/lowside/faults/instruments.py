"""What instruments show at solved boxes, in arrays, and how far each of them may be off.

The same numbers as ``BoxResult.readings``, and what a technician makes of them at once: saturation
temperatures from the gauges (with air in the system the head gauge means something else than the
refrigerant does), superheat, subcooling, differences.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.readings import CLAMP_ERROR, FULL_SCALE, GAUGE_ERROR
from lowside.system.closed.result import AIR_ERROR, CLAMP_METER_ERROR

# Cooling is not read off an instrument; a change smaller than this share nobody notices (assumed).
CAPACITY_NOTICED = 0.05


@dataclass(frozen=True)
class Reading:
    """One number that is read or worked out at a box.

    Attributes
    ----------
    key, label : str
        Name in programs and in words.
    kind : str
        A name in ``readout.kinds.KINDS``.
    direct : bool
        Whether an instrument shows it; otherwise it is worked out from those that are.
    """

    key: str
    label: str
    kind: str
    direct: bool = True


ALL = (
    Reading("suction_pressure", "suction gauge", "gauge_pressure"),
    Reading("evaporating_temperature", "evaporating (dew)", "temperature", direct=False),
    Reading("suction_temperature", "suction-line clamp", "temperature"),
    Reading("superheat", "superheat", "temperature_difference", direct=False),
    Reading("head_pressure", "head gauge", "gauge_pressure"),
    Reading("condensing_temperature", "condensing (dew)", "temperature", direct=False),
    Reading(
        "condensing_difference", "condensing above ambient", "temperature_difference", direct=False
    ),
    Reading("liquid_temperature", "liquid-line clamp", "temperature"),
    Reading("subcooling", "subcooling", "temperature_difference", direct=False),
    Reading("discharge_temperature", "discharge-line clamp", "temperature"),
    Reading("drier_drop", "colder behind the drier", "temperature_difference"),
    Reading("strainer_drop", "colder behind the strainer", "temperature_difference"),
    Reading("box_air_drop", "air cooled in evaporator", "temperature_difference"),
    Reading("condenser_air_rise", "air warmed in condenser", "temperature_difference"),
    Reading("current", "compressor current", "current"),
    Reading("power", "compressor power", "power"),
    Reading("capacity", "cooling", "heat_flow", direct=False),
)
_BY_KEY = {reading.key: reading for reading in ALL}
KEYS = tuple(_BY_KEY)


def get(key):
    """One of the readings.

    Parameters
    ----------
    key : str
        One of `KEYS`.

    Returns
    -------
    Reading
    """
    return _BY_KEY[key]


def read(refrigerant, result):
    """Read every instrument without error.

    Parameters
    ----------
    refrigerant : Refrigerant
        In the box.
    result : system.BoxResult
        Where the box does not run the numbers mean nothing; look at its `accepted`.

    Returns
    -------
    dict of str to ndarray
        By `KEYS`, in the shape of the result. [SI of each kind]
    """
    evaporating = refrigerant.dew_temperature(result.suction_pressure, check=False)
    condensing = refrigerant.dew_temperature(result.head_pressure, check=False)
    bubble = refrigerant.bubble_temperature(result.head_pressure, check=False)
    return {
        "suction_pressure": result.suction_pressure,
        "evaporating_temperature": evaporating,
        "suction_temperature": result.outlet_temperature,
        "superheat": result.outlet_temperature - evaporating,
        "head_pressure": result.head_pressure,
        "condensing_temperature": condensing,
        "condensing_difference": condensing - result.ambient_temperature,
        "liquid_temperature": result.liquid_temperature,
        "subcooling": bubble - result.liquid_temperature,
        "discharge_temperature": result.discharge_temperature,
        "drier_drop": result.drier_drop,
        "strainer_drop": result.strainer_drop,
        "box_air_drop": result.box_temperature - result.box_air_out,
        "condenser_air_rise": result.condenser_air_out - result.ambient_temperature,
        "current": result.current,
        "power": result.power,
        "capacity": result.capacity,
    }


def errors(refrigerant, readings):
    """How far usual instruments may be off at these readings.

    Parameters
    ----------
    refrigerant : Refrigerant
        In the box.
    readings : dict of str to ndarray
        From `read`.

    Returns
    -------
    dict of str to ndarray
        Half-widths, those of worked-out numbers combined as root of squares. [SI of each kind]
    """
    gauge = {port: GAUGE_ERROR * scale for port, scale in FULL_SCALE.items()}

    def saturation(temperature_at, port):
        pressure, off = readings[port], gauge[port]
        low, high = refrigerant.pressure_range
        below, above = np.maximum(pressure - off, low), np.minimum(pressure + off, high)
        span = temperature_at(above, check=False) - temperature_at(below, check=False)
        return span / (above - below) * off

    dew_low = saturation(refrigerant.dew_temperature, "suction_pressure")
    dew_high = saturation(refrigerant.dew_temperature, "head_pressure")
    bubble = saturation(refrigerant.bubble_temperature, "head_pressure")
    same = np.ones_like(dew_low)
    off = {
        "suction_pressure": gauge["suction_pressure"],
        "evaporating_temperature": dew_low,
        "suction_temperature": CLAMP_ERROR,
        "superheat": np.hypot(dew_low, CLAMP_ERROR),
        "head_pressure": gauge["head_pressure"],
        "condensing_temperature": dew_high,
        "condensing_difference": np.hypot(dew_high, AIR_ERROR),
        "liquid_temperature": CLAMP_ERROR,
        "subcooling": np.hypot(bubble, CLAMP_ERROR),
        "discharge_temperature": CLAMP_ERROR,
        "drier_drop": CLAMP_ERROR,
        "strainer_drop": CLAMP_ERROR,
        "box_air_drop": np.sqrt(2.0) * AIR_ERROR,
        "condenser_air_rise": np.sqrt(2.0) * AIR_ERROR,
        "current": CLAMP_METER_ERROR * readings["current"],
        "power": CLAMP_METER_ERROR * readings["power"],
        "capacity": CAPACITY_NOTICED * readings["capacity"],
    }
    return {key: (value * same)[()] for key, value in off.items()}
