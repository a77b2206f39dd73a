"""What a solved box says: state, grams, and what instruments on it would read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from lowside import charge as grams
from lowside import readings as instruments
from lowside.errors import NoOperatingPoint

AIR_ERROR = 0.5  # [K] thermometer in the air stream; common practice
SCALE_ERROR = 2e-3  # [kg] charging scale; common practice
CLAMP_METER_ERROR = 0.02  # share of the current; common practice
LEAST_DIFFERENCE = 1e-5  # [kg] between a charge and what the box holds, from which it is told


class BoxStatus(IntEnum):
    """How a box ended; the first four are answers, the others say which limit was met."""

    SOLVED = 0
    WIDE_OPEN = 1
    FLASH_GAS = 2
    LIQUID_AT_COMPRESSOR = 3
    HIGH_PRESSURE = 4
    LOW_PRESSURE = 5
    VALVE_SHUT = 6
    ABOVE_CRITICAL = 7
    STALLED = 8
    NOT_CONVERGED = 9
    DROWNED = 10

    @property
    def words(self):
        """Name in words, such as "flash gas at the valve"."""
        return WORDS[self]

    @property
    def accepted(self):
        """Whether the box runs so."""
        return self <= BoxStatus.LIQUID_AT_COMPRESSOR


WORDS = {
    BoxStatus.SOLVED: "solved",
    BoxStatus.WIDE_OPEN: "valve wide open",
    BoxStatus.FLASH_GAS: "flash gas at the valve",
    BoxStatus.LIQUID_AT_COMPRESSOR: "liquid at the compressor",
    BoxStatus.HIGH_PRESSURE: "high-pressure cut-out",
    BoxStatus.LOW_PRESSURE: "low-pressure cut-out",
    BoxStatus.VALVE_SHUT: "valve shut",
    BoxStatus.ABOVE_CRITICAL: "above critical",
    BoxStatus.STALLED: "compressor pumps no higher",
    BoxStatus.NOT_CONVERGED: "not converged",
    BoxStatus.DROWNED: "liquid through the compressor",
}

REASONS = {
    BoxStatus.HIGH_PRESSURE: "the head would rise above the setting of the high-pressure switch",
    BoxStatus.LOW_PRESSURE: (
        "the suction would fall below the setting of the low-pressure switch, or below all that "
        "is known of the refrigerant: the box pumps down"
    ),
    BoxStatus.VALVE_SHUT: (
        "the bulb, even as warm as the air, cannot open the valve: the box pumps down"
    ),
    BoxStatus.ABOVE_CRITICAL: (
        "this charge at this ambient needs a head too near the critical pressure, and there is no "
        "high-pressure switch to stop it"
    ),
    BoxStatus.STALLED: (
        "this charge needs a higher head than the compressor can pump from this suction"
    ),
    BoxStatus.NOT_CONVERGED: "the equations of this box would not agree",
    BoxStatus.DROWNED: (
        "this charge would send so much liquid to the compressor that even its discharge would be "
        "wet"
    ),
}


@dataclass(frozen=True)
class BoxReadings:
    """What instruments on a running box show.

    Parameters
    ----------
    gauges : readings.Readings
        Gauges, clamps, and the two air temperatures that every call begins with.
    box_air_out, condenser_air_out : float
        Air leaving the coils. [K]
    power, current : float
        Of the compressor. [W], [A]
    charge : float
        What a recovery machine and a scale would find in the box. [kg]
    """

    gauges: instruments.Readings
    box_air_out: float
    condenser_air_out: float
    power: float
    current: float
    charge: float


@dataclass(frozen=True)
class BoxResult:
    """Operating points of boxes; every number has the broadcast shape of what went in.

    Where `accepted` is False the numbers describe the place at which the search ended, not a
    running box.

    Parameters
    ----------
    status : int or ndarray of int
        Values of `BoxStatus`; of several true things the most serious.
    residual : float or ndarray
        Largest of: coil wrong by 50 kJ/kg, metering by 5 K or a factor e, grams by a fifth of the
        charge. [-]
    mass_flow, capacity, power, current : float or ndarray
        [kg/s], heat from the box's air [W], compressor [W], [A]
    suction_pressure, suction_enthalpy, suction_temperature : float or ndarray
        At the compressor. [Pa], [J/kg], [K]
    suction_quality : float or ndarray
        There, 1 for vapour. [-]
    evaporating_pressure, evaporating_temperature : float or ndarray
        At the evaporator outlet, and dew there. [Pa], [K]
    evaporator_inlet_pressure, outlet_temperature, superheat : float or ndarray
        At the evaporator. [Pa], [K], [K]
    outlet_quality, wet_share : float or ndarray
        Leaving the evaporator; share of it in which liquid boils. [-]
    head_pressure, condensing_pressure, condensing_temperature : float or ndarray
        At the discharge gauge, the refrigerant's part of it, and dew of that part. [Pa], [Pa], [K]
    discharge_temperature, liquid_temperature, subcooling : float or ndarray
        Leaving compressor, and leaving condenser or receiver, there below bubble. [K]
    discharge_quality : float or ndarray
        Leaving the compressor, 1 for vapour; below that see `wet_discharge`. [-]
    vapour_share, liquid_share : float or ndarray
        Of the condenser. [-]
    inlet_temperature, inlet_pressure, inlet_quality : float or ndarray
        At valve or capillary tube. [K], [Pa], [-]
    drier_drop, strainer_drop : float or ndarray
        By how much the line is colder behind drier and strainer than in front; zero as long as
        nothing flashes there. [K]
    lift_share, static_superheat : float or ndarray
        Of a valve; NaN for a capillary tube. [-], [K]
    box_temperature, box_air_out, ambient_temperature, condenser_air_out : float or ndarray
        Air. [K]
    condenser_heat, shell_heat, suction_heat, liquid_heat : float or ndarray
        Given off by the condenser, the shell and the liquid line, taken up by the suction line.
        [W]
    charge, receiver_level : float or ndarray
        [kg], [-]
    inventory : charge.Inventory
        Grams by part. [kg]
    """

    status: int | np.ndarray
    residual: float | np.ndarray
    mass_flow: float | np.ndarray
    capacity: float | np.ndarray
    power: float | np.ndarray
    current: float | np.ndarray
    suction_pressure: float | np.ndarray
    suction_enthalpy: float | np.ndarray
    suction_temperature: float | np.ndarray
    suction_quality: float | np.ndarray
    evaporating_pressure: float | np.ndarray
    evaporating_temperature: float | np.ndarray
    evaporator_inlet_pressure: float | np.ndarray
    outlet_temperature: float | np.ndarray
    superheat: float | np.ndarray
    outlet_quality: float | np.ndarray
    wet_share: float | np.ndarray
    head_pressure: float | np.ndarray
    condensing_pressure: float | np.ndarray
    condensing_temperature: float | np.ndarray
    discharge_temperature: float | np.ndarray
    discharge_quality: float | np.ndarray
    liquid_temperature: float | np.ndarray
    subcooling: float | np.ndarray
    vapour_share: float | np.ndarray
    liquid_share: float | np.ndarray
    inlet_temperature: float | np.ndarray
    inlet_pressure: float | np.ndarray
    inlet_quality: float | np.ndarray
    drier_drop: float | np.ndarray
    strainer_drop: float | np.ndarray
    lift_share: float | np.ndarray
    static_superheat: float | np.ndarray
    box_temperature: float | np.ndarray
    box_air_out: float | np.ndarray
    ambient_temperature: float | np.ndarray
    condenser_air_out: float | np.ndarray
    condenser_heat: float | np.ndarray
    shell_heat: float | np.ndarray
    suction_heat: float | np.ndarray
    liquid_heat: float | np.ndarray
    charge: float | np.ndarray
    receiver_level: float | np.ndarray
    inventory: grams.Inventory

    @property
    def accepted(self):
        """Where the box runs so (bool or ndarray of bool)."""
        return self.status <= BoxStatus.LIQUID_AT_COMPRESSOR

    @property
    def wet_discharge(self):
        """Where liquid even leaves the compressor (bool or ndarray of bool).

        No efficiency of a compressor was made for that, and none lasts so: the grams and the
        energy of such a point agree, but it tells a direction and no more.
        """
        return self.discharge_quality < 1.0

    @property
    def status_name(self):
        """Status in words (str or ndarray of str)."""
        names = np.array([WORDS[status] for status in BoxStatus])[self.status]
        return str(names) if np.ndim(self.status) == 0 else names

    @property
    def cop(self):
        """Capacity over the compressor's power [-]."""
        return self.capacity / np.maximum(self.power, np.finfo(float).tiny)

    def at(self, index):
        """One point of the batch, or some of them.

        Parameters
        ----------
        index : int or tuple or ndarray
            Which.

        Returns
        -------
        BoxResult
        """
        numbers = {name: value[index] for name, value in vars(self).items() if name != "inventory"}
        parts = {name: value[index] for name, value in self.inventory.parts().items()}
        return BoxResult(**numbers, inventory=grams.Inventory(**parts))

    def refuse(self):
        """Raise if this single box does not run.

        Raises
        ------
        NoOperatingPoint
            With the reason and the numbers at which the search ended: what the box holds there
            where that is not its charge, what the suction gas is where liquid comes along.
        """
        status = BoxStatus(int(self.status))
        if status.accepted:
            return
        numbers = {
            "head_pressure": self.head_pressure,
            "suction_pressure": self.suction_pressure,
            "charge": self.charge,
        }
        held = self.inventory.total
        if abs(held - self.charge) > LEAST_DIFFERENCE:
            numbers["limit_charge"] = held
        if status == BoxStatus.DROWNED:
            numbers["suction_quality"] = self.suction_quality
        numbers |= {"ambient_temperature": self.ambient_temperature, "residual": self.residual}
        raise NoOperatingPoint(
            REASONS[status], **{name: float(value) for name, value in numbers.items()}
        )

    def readings(self, seed=None):
        """Read gauges, clamps, thermometers, scale and ammeter at this single box.

        Parameters
        ----------
        seed : int, optional
            Give every instrument an error, evenly spread over what such instruments may be off
            (``readings.GAUGE_ERROR`` and the like). The same seed, the same errors.

        Returns
        -------
        BoxReadings

        Raises
        ------
        NoOperatingPoint
            If the box does not run.
        """
        self.refuse()
        shown = BoxReadings(
            gauges=instruments.Readings(
                suction_pressure=float(self.suction_pressure),
                suction_temperature=float(self.outlet_temperature),
                head_pressure=float(self.head_pressure),
                liquid_temperature=float(self.liquid_temperature),
                discharge_temperature=float(self.discharge_temperature),
                ambient_temperature=float(self.ambient_temperature),
                box_temperature=float(self.box_temperature),
            ),
            box_air_out=float(self.box_air_out),
            condenser_air_out=float(self.condenser_air_out),
            power=float(self.power),
            current=float(self.current),
            charge=float(self.charge),
        )
        return shown if seed is None else _disturbed(shown, np.random.default_rng(seed))


def _disturbed(shown, rng):
    """Give the readings the errors of usual instruments."""

    def off(half_width):
        return float(rng.uniform(-half_width, half_width))

    pipes = {}
    for name, value in vars(shown.gauges).items():
        if name in instruments.FULL_SCALE:
            half_width = instruments.GAUGE_ERROR * instruments.FULL_SCALE[name]
        elif name in ("ambient_temperature", "box_temperature"):
            half_width = AIR_ERROR
        else:
            half_width = instruments.CLAMP_ERROR
        pipes[name] = value + off(half_width)
    return replace(
        shown,
        gauges=instruments.Readings(**pipes),
        box_air_out=shown.box_air_out + off(AIR_ERROR),
        condenser_air_out=shown.condenser_air_out + off(AIR_ERROR),
        power=shown.power * (1.0 + off(CLAMP_METER_ERROR)),
        current=shown.current * (1.0 + off(CLAMP_METER_ERROR)),
        charge=max(shown.charge + off(SCALE_ERROR), 0.0),
    )
