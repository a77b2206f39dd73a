"""What was read on one box, and what can be made of it at all."""

from __future__ import annotations

from dataclasses import dataclass, fields

from lowside.errors import OutOfRange, require

CLAMP_ERROR = 1.0  # [K] clamp thermometer and its contact; common practice (CHECKS C473: ±1 °F)
GAUGE_ERROR = 0.01  # share of full scale; common practice (CHECKS C473)
FULL_SCALE = {"suction_pressure": 1.0e6, "head_pressure": 3.5e6}  # [Pa] usual gauge ranges
ATMOSPHERE_MARGIN = 2.0e3  # [Pa] below the barometer by more than this is called a vacuum
PLAUSIBLE = (100.0, 700.0)  # [K] outside these a number is no reading of a clamp


@dataclass(frozen=True)
class Readings:
    """What was read on one box. Leave out what was not measured.

    Parameters
    ----------
    suction_pressure, head_pressure : float, optional
        At the service ports, absolute. [Pa]
    suction_temperature : float, optional
        Clamp on the suction line. [K]
    liquid_temperature : float, optional
        Clamp on the liquid line. [K]
    discharge_temperature : float, optional
        Clamp on the discharge line. [K]
    ambient_temperature : float, optional
        Air entering the condenser. [K]
    box_temperature : float, optional
        Air entering the evaporator. [K]
    """

    suction_pressure: float | None = None
    suction_temperature: float | None = None
    head_pressure: float | None = None
    liquid_temperature: float | None = None
    discharge_temperature: float | None = None
    ambient_temperature: float | None = None
    box_temperature: float | None = None

    def has(self, *names):
        """Return True where all the named readings were taken."""
        return all(getattr(self, name) is not None for name in names)


KIND = {
    field.name: "gauge_pressure" if field.name.endswith("pressure") else "temperature"
    for field in fields(Readings)
}
LABEL = {name: name.replace("_", " ") for name in KIND} | {
    "suction_temperature": "suction-line temperature",
    "liquid_temperature": "liquid-line temperature",
    "discharge_temperature": "discharge-line temperature",
    "ambient_temperature": "air entering the condenser",
    "box_temperature": "air in the box",
}


def in_vacuum(readings, atmosphere):
    """Whether the suction gauge stands below the barometer.

    Parameters
    ----------
    readings : Readings
    atmosphere : float
        Barometer. [Pa]

    Returns
    -------
    bool
    """
    return readings.has("suction_pressure") and (
        readings.suction_pressure < atmosphere - ATMOSPHERE_MARGIN
    )


def below_tables(refrigerant, readings, atmosphere):
    """Whether the suction is a vacuum so deep that the refrigerant's tables do not reach it.

    Parameters
    ----------
    refrigerant : Refrigerant
    readings : Readings
    atmosphere : float
        Barometer. [Pa]

    Returns
    -------
    bool
    """
    return (
        in_vacuum(readings, atmosphere)
        and 0.0 < readings.suction_pressure < refrigerant.pressure_range[0]
    )


def refuse_unusable(refrigerant, readings, atmosphere):
    """Refuse gauges outside the refrigerant's tables and clamps that show no temperature.

    A suction in too deep a vacuum is not refused: what there is to say about it matters.

    Parameters
    ----------
    refrigerant : Refrigerant
    readings : Readings
    atmosphere : float
        Barometer. [Pa]

    Raises
    ------
    OutOfRange
        Naming the reading.
    """
    low, high = refrigerant.pressure_range
    for name, kind in KIND.items():
        value = getattr(readings, name)
        if value is None:
            continue
        if kind == "temperature":
            require(LABEL[name], value, *PLAUSIBLE, kind)
        elif not low <= value <= high:
            if name == "suction_pressure" and below_tables(refrigerant, readings, atmosphere):
                continue
            quantity = f"{LABEL[name]} of a box with {refrigerant.name}"
            raise OutOfRange(quantity, value, low, high, kind)
