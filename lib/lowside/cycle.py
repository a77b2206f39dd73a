"""The vapour-compression cycle as a textbook draws it, for one case or for arrays of them.

Numbered states: 1 compressor suction, 2 discharge, 3 liquid before the valve, 4 after the valve.
The evaporator ends in a state of its own (``evaporator_outlet``), equal to 1 unless the suction
line takes up heat or loses pressure.

For a blend the evaporating and the condensing temperature are the *dew* points of the two
pressures, as compressor ratings use them; superheat counts from dew, subcooling from bubble.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require

ROUNDING = 1e-3  # [K] by which a saturated state may come out on the wrong side of dew


@dataclass(frozen=True)
class CycleResult:
    """A solved cycle; every number has the broadcast shape of what went in.

    Parameters
    ----------
    refrigerant : Refrigerant
        The fluid.
    suction, discharge, liquid, valve_outlet : State
        States 1, 2, 3 and 4.
    evaporator_outlet : State
        Where the useful cooling ends.
    isentropic_discharge : State
        Where a loss-free compression from state 1 would end.
    isentropic_efficiency : float or ndarray
        Isentropic work over work. [-]
    """

    refrigerant: object
    suction: object
    discharge: object
    liquid: object
    valve_outlet: object
    evaporator_outlet: object
    isentropic_discharge: object
    isentropic_efficiency: float | np.ndarray

    @property
    def cooling(self):
        """Useful heat taken up in the evaporator per kilogram [J/kg]."""
        return self.evaporator_outlet.enthalpy - self.valve_outlet.enthalpy

    @property
    def work(self):
        """Compression work per kilogram [J/kg]."""
        return self.discharge.enthalpy - self.suction.enthalpy

    @property
    def rejection(self):
        """Heat given off from discharge to liquid per kilogram [J/kg]."""
        return self.discharge.enthalpy - self.liquid.enthalpy

    @property
    def line_heat(self):
        """Heat picked up by the suction line, no use to the box, per kilogram [J/kg]."""
        return self.suction.enthalpy - self.evaporator_outlet.enthalpy

    @property
    def cop(self):
        """Coefficient of performance: cooling over work [-]."""
        return self.cooling / self.work

    @property
    def volumetric_capacity(self):
        """Useful cooling per volume of suction vapour [J/m3]."""
        return self.cooling * self.suction.density

    @property
    def flash_gas(self):
        """Mass share already vapour behind the valve [-]."""
        return self.valve_outlet.quality

    @property
    def carnot_cop(self):
        """COP of a reversible machine between the mean temperatures of the two phase changes [-].

        Each mean is the heat of evaporation over its entropy, as in Lorenz's cycle; without glide
        it is the saturation temperature, and the machine Carnot's.
        """
        cold = _phase_change_temperature(self.refrigerant, self.evaporator_outlet.pressure)
        warm = _phase_change_temperature(self.refrigerant, self.discharge.pressure)
        return cold / (warm - cold)

    def corners(self):
        """Pressures [Pa] and enthalpies [J/kg] of the closed line 1-2-3-4-1 on a P-h diagram.

        Returns
        -------
        tuple of ndarray
            Two arrays of shape (5, ...). With a suction line the closing side passes through the
            evaporator outlet unmarked: it lies on, or just above, the line from 4 to 1.
        """
        states = (self.suction, self.discharge, self.liquid, self.valve_outlet, self.suction)
        pressures = np.broadcast_arrays(*(state.pressure for state in states))
        enthalpies = np.broadcast_arrays(*(state.enthalpy for state in states))
        return np.stack(pressures), np.stack(enthalpies)


def between_pressures(
    refrigerant,
    evaporating_pressure,
    condensing_pressure,
    superheat=0.0,
    subcooling=0.0,
    isentropic_efficiency=1.0,
    *,
    line_superheat=0.0,
    evaporator_drop=0.0,
    suction_drop=0.0,
    condenser_drop=0.0,
):
    """Cycle between two pressures.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    evaporating_pressure : float or ndarray
        At the evaporator outlet. [Pa]
    condensing_pressure : float or ndarray
        At the compressor discharge. [Pa]
    superheat : float or ndarray
        At the evaporator outlet, above dew. [K]
    subcooling : float or ndarray
        Of the liquid before the valve, below bubble. [K]
    isentropic_efficiency : float or ndarray
        Isentropic work over work, above 0 and up to 1. [-]
    line_superheat : float or ndarray
        Further warming in the suction line, no use to the box. [K]
    evaporator_drop, suction_drop, condenser_drop : float or ndarray
        Pressure lost in evaporator, suction line, and condenser with liquid line. [Pa]

    Returns
    -------
    CycleResult

    Raises
    ------
    OutOfRange
        For pressures outside the refrigerant's range, a discharge pressure not above the suction
        pressure, or an efficiency that no compressor can have.
    """
    require("superheat", superheat, 0.0, None, "temperature_difference")
    require("subcooling", subcooling, 0.0, None, "temperature_difference")
    require("isentropic efficiency", isentropic_efficiency, 0.0, 1.0, "ratio", open_low=True)
    suction_pressure = np.asarray(evaporating_pressure, dtype=float) - suction_drop
    lift = np.asarray(condensing_pressure, dtype=float) - suction_pressure
    require(
        "rise from suction to discharge pressure",
        lift,
        0.0,
        None,
        "pressure_difference",
        open_low=True,
    )

    outlet_temperature = refrigerant.dew_temperature(evaporating_pressure) + superheat
    evaporator_outlet = _vapour(refrigerant, evaporating_pressure, outlet_temperature)
    if np.any(line_superheat) or np.any(suction_drop):
        suction = _vapour(refrigerant, suction_pressure, outlet_temperature + line_superheat)
    else:
        suction = evaporator_outlet
    ideal = refrigerant.state_ps(condensing_pressure, suction.entropy)
    work = (ideal.enthalpy - suction.enthalpy) / isentropic_efficiency
    discharge = refrigerant.state_ph(condensing_pressure, suction.enthalpy + work)

    liquid_pressure = np.asarray(condensing_pressure, dtype=float) - condenser_drop
    liquid_temperature = refrigerant.bubble_temperature(liquid_pressure) - subcooling
    liquid_enthalpy = refrigerant.liquid_enthalpy(liquid_pressure, liquid_temperature)
    liquid = refrigerant.state_ph(liquid_pressure, liquid_enthalpy)
    valve_outlet = refrigerant.state_ph(
        np.asarray(evaporating_pressure) + evaporator_drop, liquid_enthalpy
    )
    return CycleResult(
        refrigerant=refrigerant,
        suction=suction,
        discharge=discharge,
        liquid=liquid,
        valve_outlet=valve_outlet,
        evaporator_outlet=evaporator_outlet,
        isentropic_discharge=ideal,
        isentropic_efficiency=isentropic_efficiency,
    )


def between_temperatures(
    refrigerant,
    evaporating_temperature,
    condensing_temperature,
    superheat=0.0,
    subcooling=0.0,
    isentropic_efficiency=1.0,
    **losses,
):
    """Cycle between two saturation temperatures, both of them dew points.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    evaporating_temperature, condensing_temperature : float or ndarray
        Dew points of evaporator outlet and compressor discharge. [K]
    superheat, subcooling, isentropic_efficiency : float or ndarray
        As in `between_pressures`. [K], [K], [-]
    **losses
        ``line_superheat`` [K] and the three pressure drops [Pa] of `between_pressures`.

    Returns
    -------
    CycleResult

    Raises
    ------
    OutOfRange
        As `between_pressures`.
    """
    return between_pressures(
        refrigerant,
        refrigerant.dew_pressure(evaporating_temperature),
        refrigerant.dew_pressure(condensing_temperature),
        superheat,
        subcooling,
        isentropic_efficiency,
        **losses,
    )


def compressor_efficiency(
    refrigerant, suction_pressure, suction_temperature, discharge_pressure, discharge_temperature
):
    """Isentropic efficiency from two gauges and two clamps.

    Counts heat lost from the shell as saved work: an insulated or very fast compressor shows its
    true efficiency, a fan-cooled shell looks better than it is.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    suction_pressure, discharge_pressure : float or ndarray
        At the compressor, absolute. [Pa]
    suction_temperature, discharge_temperature : float or ndarray
        At the compressor; both vapour. [K]

    Returns
    -------
    float or ndarray
        Isentropic enthalpy rise over measured enthalpy rise. [-]

    Raises
    ------
    OutOfRange
        If a state lies outside the refrigerant's range, or a temperature below the dew point:
        where liquid is left, pressure and temperature do not tell the enthalpy.
    """
    suction = _measured_vapour(refrigerant, suction_pressure, suction_temperature, "suction")
    discharge = _measured_vapour(
        refrigerant, discharge_pressure, discharge_temperature, "discharge"
    )
    ideal = refrigerant.state_ps(discharge_pressure, suction.entropy)
    return (ideal.enthalpy - suction.enthalpy) / (discharge.enthalpy - suction.enthalpy)


def _phase_change_temperature(refrigerant, pressure):
    """Heat over entropy from bubble to dew at a pressure."""
    edge = refrigerant.saturation(pressure)
    heat = edge.vapour_enthalpy - edge.liquid_enthalpy
    return heat / (edge.vapour_entropy - edge.liquid_entropy)


def _vapour(refrigerant, pressure, temperature):
    """State at or above the dew point."""
    return refrigerant.state_ph(pressure, refrigerant.vapour_enthalpy(pressure, temperature))


def _measured_vapour(refrigerant, pressure, temperature, place):
    """State from a gauge and a clamp, refused where the clamp is colder than dew."""
    dew = refrigerant.dew_temperature(pressure)
    superheat = np.asarray(temperature) - dew
    require(f"{place} superheat", superheat, -ROUNDING, None, "temperature_difference")
    return _vapour(refrigerant, pressure, temperature)
