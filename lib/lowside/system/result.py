"""What a solved low side says, and how sure it is of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from lowside.errors import NoOperatingPoint
from lowside.readings import Readings


class Status(IntEnum):
    """How a point ended; the first three are answers, the others say why there is none."""

    SOLVED = 0
    WIDE_OPEN = 1
    LIQUID_LEAVING = 2
    VALVE_SHUT = 3
    OUTSIDE_RANGE = 4
    NOT_CONVERGED = 5
    CONDENSING_OUTSIDE = 6
    AIR_TOO_COLD = 7
    NOTHING_DRIVES = 8
    LIQUID_TOO_COLD = 9
    SPRING_PULLS = 10
    RATING_OUTSIDE = 11

    @property
    def words(self):
        """Name in words, such as "valve wide open"."""
        return WORDS[self]

    @property
    def reason(self):
        """Why there is no answer, to follow a colon; empty where there is one."""
        return REASONS.get(self, "")

    @property
    def accepted(self):
        """Whether the point is an answer."""
        return self <= Status.LIQUID_LEAVING


WORDS = {
    Status.SOLVED: "solved",
    Status.WIDE_OPEN: "valve wide open",
    Status.LIQUID_LEAVING: "liquid leaving the evaporator",
    Status.VALVE_SHUT: "valve shut",
    Status.OUTSIDE_RANGE: "outside range",
    Status.NOT_CONVERGED: "not converged",
    Status.CONDENSING_OUTSIDE: "condensing outside the tables",
    Status.AIR_TOO_COLD: "air too cold for the tables",
    Status.NOTHING_DRIVES: "no pressure left for the valve",
    Status.LIQUID_TOO_COLD: "liquid colder than the evaporator",
    Status.SPRING_PULLS: "spring would have to pull",
    Status.RATING_OUTSIDE: "outside the compressor's rating",
}

REASONS = {
    Status.VALVE_SHUT: (
        "the bulb, even as warm as the air, cannot open the valve: the compressor pulls the "
        "suction down"
    ),
    Status.OUTSIDE_RANGE: (
        "valve and compressor agree at no evaporating pressure within the range of the refrigerant "
        "and below the air temperature"
    ),
    Status.NOT_CONVERGED: (
        "the search ended without a point at which valve, coil and compressor agree; whether there "
        "is one, it cannot tell"
    ),
    Status.CONDENSING_OUTSIDE: (
        "the condensing pressure lies outside the range of the refrigerant's tables"
    ),
    Status.AIR_TOO_COLD: "the air is colder than the refrigerant's tables reach",
    Status.NOTHING_DRIVES: (
        "what the liquid line leaves of the condensing pressure drives no flow through the valve, "
        "down to the lowest evaporating pressure of the refrigerant's tables"
    ),
    Status.LIQUID_TOO_COLD: (
        "with so much subcooling the liquid would arrive colder than the refrigerant evaporates"
    ),
    Status.SPRING_PULLS: (
        "this bulb charge cannot open at the superheat to which the spring is set: the spring "
        "would have to pull"
    ),
    Status.RATING_OUTSIDE: (
        "the rating of this compressor does not reach so far: its polynomials make no sense there"
    ),
}


@dataclass(frozen=True)
class LowSideResult:
    """Operating points; every number has the broadcast shape of what went in.

    All are finite but the gains, which are NaN where liquid leaves the evaporator. Where
    `accepted` is False the numbers describe the limit at which the search ended, not a running box.

    Parameters
    ----------
    status : int or ndarray of int
        Values of `Status`.
    residual : float or ndarray
        Largest of: relative disagreement of compressor and coil, valve residual in units of 5 K or
        of a relative flow. [-]
    evaporating_pressure, evaporating_temperature : float or ndarray
        At the evaporator outlet, and the dew point there. [Pa], [K]
    evaporator_inlet_pressure : float or ndarray
        [Pa]
    suction_temperature, superheat : float or ndarray
        At the bulb; the same at the compressor, since no suction line is modelled. Where liquid
        leaves, the superheat is 0 or, for a blend with glide, negative. [K]
    outlet_quality : float or ndarray
        Mass share of vapour leaving the evaporator, 1 for vapour. [-]
    wet_share : float or ndarray
        Share of the coil in which liquid boils. [-]
    mass_flow, capacity, power : float or ndarray
        [kg/s], [W], [W]
    condensing_pressure, discharge_temperature : float or ndarray
        At the compressor discharge. [Pa], [K]
    liquid_temperature, inlet_quality : float or ndarray
        At the valve inlet: temperature [K] and mass share already flashed [-].
    subcooling : float or ndarray
        Of the liquid leaving the condenser, below bubble. [K]
    air_temperature, air_outlet_temperature : float or ndarray
        Entering and leaving the evaporator. [K]
    lift, lift_share : float or ndarray
        Of the pin [m], and over its travel [-].
    static_superheat, opening_superheat : float or ndarray
        Where the pin would leave its seat at these pressures, and what the lift takes on top. Wide
        open, the superheat is more than their sum. [K]
    valve_gain, capacity_gain, relative_gain, pressure_feedback, coil_response : float or ndarray
        See `ValveLoop`. [kg/(s K)], [W/K], [1/K], [-], [K]
    loop_gain : float or ndarray
        Kelvin by which the coil outlet falls per kelvin at the bulb, once settled. [-]
    """

    status: int | np.ndarray
    residual: float | np.ndarray
    evaporating_pressure: float | np.ndarray
    evaporating_temperature: float | np.ndarray
    evaporator_inlet_pressure: float | np.ndarray
    suction_temperature: float | np.ndarray
    superheat: float | np.ndarray
    outlet_quality: float | np.ndarray
    wet_share: float | np.ndarray
    mass_flow: float | np.ndarray
    capacity: float | np.ndarray
    power: float | np.ndarray
    condensing_pressure: float | np.ndarray
    discharge_temperature: float | np.ndarray
    liquid_temperature: float | np.ndarray
    inlet_quality: float | np.ndarray
    subcooling: float | np.ndarray
    air_temperature: float | np.ndarray
    air_outlet_temperature: float | np.ndarray
    lift: float | np.ndarray
    lift_share: float | np.ndarray
    static_superheat: float | np.ndarray
    opening_superheat: float | np.ndarray
    valve_gain: float | np.ndarray
    capacity_gain: float | np.ndarray
    relative_gain: float | np.ndarray
    pressure_feedback: float | np.ndarray
    coil_response: float | np.ndarray
    loop_gain: float | np.ndarray

    @property
    def accepted(self):
        """Where the point is an answer (bool or ndarray of bool)."""
        return self.status <= Status.LIQUID_LEAVING

    @property
    def status_name(self):
        """Status in words (str or ndarray of str)."""
        names = np.array([WORDS[status] for status in Status])
        chosen = names[self.status]
        return str(chosen) if np.ndim(self.status) == 0 else chosen

    @property
    def cop(self):
        """Capacity over electrical power [-]."""
        return self.capacity / np.maximum(self.power, np.finfo(float).tiny)

    def at(self, index):
        """One point of the batch.

        Parameters
        ----------
        index : int or tuple of int
            Which one.

        Returns
        -------
        LowSideResult
            Of scalars.
        """
        return LowSideResult(**{name: value[index] for name, value in vars(self).items()})

    def refuse(self):
        """Raise if this single point is no answer.

        Raises
        ------
        NoOperatingPoint
            With the reason and the numbers at which the search ended.
        """
        status = Status(int(self.status))
        if not status.accepted:
            raise NoOperatingPoint(
                status.reason,
                evaporating_temperature=float(self.evaporating_temperature),
                air_temperature=float(self.air_temperature),
                condensing_pressure=float(self.condensing_pressure),
            )

    def readings(self, ambient_temperature=None):
        """Read gauges and clamps at this single point.

        Parameters
        ----------
        ambient_temperature : float, optional
            Air entering the condenser, which is not part of this model. [K]

        Returns
        -------
        readings.Readings

        Raises
        ------
        NoOperatingPoint
            If the point is no answer.
        """
        self.refuse()
        return Readings(
            suction_pressure=float(self.evaporating_pressure),
            suction_temperature=float(self.suction_temperature),
            head_pressure=float(self.condensing_pressure),
            liquid_temperature=float(self.liquid_temperature),
            discharge_temperature=float(self.discharge_temperature),
            ambient_temperature=ambient_temperature,
            box_temperature=float(self.air_temperature),
        )
