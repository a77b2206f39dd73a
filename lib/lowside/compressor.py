"""Compressors: mass flow, power and discharge state, by efficiencies or by a rating polynomial.

Two descriptions answer the same two calls, ``mass_flow`` and ``run``:

* `Compressor`: swept volume with a clearance pocket and an isentropic efficiency curve. Invented
  machines of the lessons are of this kind.
* `RatedCompressor`: the ten-coefficient polynomial of AHRI 540, the form in which real machines
  are published.

In both a stated share of the power leaves through the shell; the rest stays in the gas.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import LowsideError, require
from lowside.units import HOUR, ICE_POINT, POUND, RANKINE

COEFFICIENTS = 10


@dataclass(frozen=True)
class CompressorResult:
    """What a running compressor does; arrays of the broadcast shape of what went in.

    Parameters
    ----------
    mass_flow : float or ndarray
        [kg/s]
    power : float or ndarray
        Electrical power. [W]
    discharge_enthalpy, discharge_temperature : float or ndarray
        At the discharge stub. [J/kg], [K]
    shell_heat : float or ndarray
        Heat given off by the shell. [W]
    volumetric_efficiency, isentropic_efficiency : float or ndarray
        Overall values referred to the suction state; NaN where the description has no swept
        volume to refer to. [-]
    """

    mass_flow: float | np.ndarray
    power: float | np.ndarray
    discharge_enthalpy: float | np.ndarray
    discharge_temperature: float | np.ndarray
    shell_heat: float | np.ndarray
    volumetric_efficiency: float | np.ndarray
    isentropic_efficiency: float | np.ndarray


@dataclass(frozen=True)
class Compressor:
    """A reciprocating compressor described by its swept volume and efficiencies.

    Every parameter may be an array, one value a machine.

    Parameters
    ----------
    swept_volume_flow : float or ndarray
        Swept volume times speed. [m3/s]
    clearance : float or ndarray
        Dead volume over swept volume. [-]
    re_expansion_exponent : float or ndarray
        Polytropic exponent of the gas re-expanding from the dead volume. [-]
    filling : float or ndarray
        Share of the rest that fills with suction-state gas, after heating and throttling on the
        way into the cylinder. [-]
    peak_efficiency : float or ndarray
        Best overall isentropic efficiency (motor and friction included). [-]
    best_pressure_ratio : float or ndarray
        Where it is reached. [-]
    efficiency_width : float or ndarray
        Width of the curve, as the natural logarithm of a pressure ratio. [-]
    shell_loss : float or ndarray
        Share of the power that leaves through the shell. [-]

    Notes
    -----
    Volumetric efficiency: filling (1 + c - c r^(1/n)), zero once the re-expanding gas fills the
    whole stroke; the clearance formula is in any refrigeration textbook (Dossat, Principles of
    Refrigeration, ch. 12, from memory). Isentropic efficiency: a bell curve over ln r. The default
    numbers are invented, of the size usual for small hermetic machines (common practice, no
    published source).
    """

    swept_volume_flow: float | np.ndarray
    clearance: float | np.ndarray = 0.04
    re_expansion_exponent: float | np.ndarray = 1.08
    filling: float | np.ndarray = 0.92
    peak_efficiency: float | np.ndarray = 0.62
    best_pressure_ratio: float | np.ndarray = 3.5
    efficiency_width: float | np.ndarray = 1.6
    shell_loss: float | np.ndarray = 0.15

    def __post_init__(self):
        require(
            "swept volume flow of the compressor", self.swept_volume_flow, 0.0, None, open_low=True
        )
        require("clearance share of the compressor", self.clearance, 0.0, 0.5, "ratio")
        require("shell loss share of the compressor", self.shell_loss, 0.0, 1.0, "ratio")
        require(
            "peak efficiency of the compressor",
            self.peak_efficiency,
            0.0,
            1.0,
            "ratio",
            open_low=True,
        )

    def volumetric_efficiency(self, pressure_ratio):
        """Share of the swept volume filled with suction-state gas [-].

        Parameters
        ----------
        pressure_ratio : float or ndarray
            Discharge over suction pressure. [-]

        Returns
        -------
        float or ndarray
            [-]
        """
        expanded = np.maximum(pressure_ratio, 1e-9) ** (1.0 / self.re_expansion_exponent)
        return np.maximum(self.filling * (1.0 + self.clearance * (1.0 - expanded)), 0.0)

    def isentropic_efficiency(self, pressure_ratio):
        """Overall isentropic efficiency: isentropic work over electrical work [-].

        Parameters
        ----------
        pressure_ratio : float or ndarray
            Discharge over suction pressure. [-]

        Returns
        -------
        float or ndarray
            [-]
        """
        distance = np.log(np.maximum(pressure_ratio, 1e-9) / self.best_pressure_ratio)
        return self.peak_efficiency * np.exp(-0.5 * (distance / self.efficiency_width) ** 2)

    def mass_flow(self, refrigerant, suction_pressure, suction_density, discharge_pressure):
        """Mass flow pumped [kg/s].

        Parameters
        ----------
        refrigerant : Refrigerant
            Not used here; the rated compressor needs it.
        suction_pressure, discharge_pressure : float or ndarray
            [Pa]
        suction_density : float or ndarray
            Of vapour, or of a mixture if liquid comes back. [kg/m3]

        Returns
        -------
        float or ndarray
            [kg/s]
        """
        filled = self.volumetric_efficiency(discharge_pressure / suction_pressure)
        return filled * self.swept_volume_flow * suction_density

    def run(self, refrigerant, suction_pressure, suction_enthalpy, discharge_pressure, check=True):
        """Mass flow, power and discharge state.

        Parameters
        ----------
        refrigerant : Refrigerant
            From ``refrigerants.get``.
        suction_pressure, discharge_pressure : float or ndarray
            [Pa]
        suction_enthalpy : float or ndarray
            [J/kg]
        check : bool
            Refuse states outside the refrigerant's range.

        Returns
        -------
        CompressorResult

        Raises
        ------
        OutOfRange
            If a pressure lies outside the refrigerant's range.
        """
        ratio = np.asarray(discharge_pressure, dtype=float) / suction_pressure
        suction = refrigerant.state_ph(suction_pressure, suction_enthalpy, check=check)
        ideal = refrigerant.state_ps(discharge_pressure, suction.entropy, check=check)
        flow = self.mass_flow(refrigerant, suction_pressure, suction.density, discharge_pressure)
        efficiency = self.isentropic_efficiency(ratio)
        power = flow * (ideal.enthalpy - suction.enthalpy) / efficiency
        return _result(
            refrigerant,
            discharge_pressure,
            flow=flow,
            power=power,
            work=(ideal.enthalpy - suction.enthalpy) / efficiency,
            suction_enthalpy=suction.enthalpy,
            shell_loss=self.shell_loss,
            volumetric=self.volumetric_efficiency(ratio),
            isentropic=efficiency,
            check=check,
        )


@dataclass(frozen=True)
class RatedCompressor:
    """A compressor described by two polynomials of ten coefficients each, as in AHRI 540.

    Parameters
    ----------
    mass_flow_coefficients, power_coefficients : tuple of float
        Ten each, in the order of the standard (see `polynomial`). Their units go with `units`.
    units : {"SI", "IP"}
        "SI": dew points in °C, mass flow in kg/s, power in W. "IP": dew points in °F, mass flow in
        lb/h, power in W. Published sets state theirs; look before you copy.
    return_superheat : float, optional
        Superheat at the suction stub for which the set was made. [K]
    return_temperature : float, optional
        Or the suction-gas temperature for which it was made. [K]
    mass_flow_weight : float
        Share of the change of suction density that the mass flow follows. 1 is the plain density
        ratio; 0.75 after Dabiri and Rice 1981 (from memory). [-]
    shell_loss : float
        Share of the power that leaves through the shell. [-]

    Notes
    -----
    Outside its rating superheat: m = m_set (1 + F (rho/rho_set - 1)), and the power follows the
    mass flow and the isentropic work. The order of the terms and this use of isentropic work were
    read in the open heat-pump model HPSim (src/Compressor.f90); the text of the standard was not.
    """

    mass_flow_coefficients: tuple
    power_coefficients: tuple
    units: str = "SI"
    return_superheat: float | None = None
    return_temperature: float | None = None
    mass_flow_weight: float = 0.75
    shell_loss: float = 0.15

    def __post_init__(self):
        for name in ("mass_flow_coefficients", "power_coefficients"):
            count = len(getattr(self, name))
            if count != COEFFICIENTS:
                words = name.replace("_", " ")
                raise LowsideError(
                    f"A rating polynomial has {COEFFICIENTS} coefficients; the {words} are {count}."
                )
        if self.units not in ("SI", "IP"):
            raise LowsideError(f"Rating units are “SI” or “IP”, not “{self.units}”.")
        if (self.return_superheat is None) == (self.return_temperature is None):
            raise LowsideError(
                "A rating states either its return-gas superheat or its return-gas temperature."
            )

    def _rated(self, coefficients, refrigerant, suction_pressure, discharge_pressure):
        suction = refrigerant.dew_temperature(suction_pressure, check=False) - ICE_POINT
        discharge = refrigerant.dew_temperature(discharge_pressure, check=False) - ICE_POINT
        if self.units == "IP":
            suction, discharge = suction / RANKINE + 32.0, discharge / RANKINE + 32.0
        return polynomial(coefficients, suction, discharge)

    def _rating_state(self, refrigerant, suction_pressure):
        dew = refrigerant.dew_temperature(suction_pressure, check=False)
        if self.return_superheat is not None:
            temperature = dew + self.return_superheat
        else:
            temperature = np.maximum(self.return_temperature, dew + 0.01)
        return refrigerant.state_pt(suction_pressure, temperature, check=False)

    def mass_flow(self, refrigerant, suction_pressure, suction_density, discharge_pressure):
        """Mass flow pumped, never negative [kg/s].

        Parameters
        ----------
        refrigerant : Refrigerant
            From ``refrigerants.get``.
        suction_pressure, discharge_pressure : float or ndarray
            [Pa]
        suction_density : float or ndarray
            [kg/m3]

        Returns
        -------
        float or ndarray
            [kg/s]
        """
        rated = self._rated(
            self.mass_flow_coefficients, refrigerant, suction_pressure, discharge_pressure
        )
        rated = np.maximum(rated, 0.0) * (POUND / HOUR if self.units == "IP" else 1.0)
        rated_density = self._rating_state(refrigerant, suction_pressure).density
        return rated * (1.0 + self.mass_flow_weight * (suction_density / rated_density - 1.0))

    def run(self, refrigerant, suction_pressure, suction_enthalpy, discharge_pressure, check=True):
        """Mass flow, power and discharge state; see `Compressor.run`.

        Parameters
        ----------
        refrigerant : Refrigerant
            From ``refrigerants.get``.
        suction_pressure, discharge_pressure : float or ndarray
            [Pa]
        suction_enthalpy : float or ndarray
            [J/kg]
        check : bool
            Refuse states outside the refrigerant's range.

        Returns
        -------
        CompressorResult

        Raises
        ------
        OutOfRange
            If a pressure lies outside the refrigerant's range.
        """
        suction = refrigerant.state_ph(suction_pressure, suction_enthalpy, check=check)
        ideal = refrigerant.state_ps(discharge_pressure, suction.entropy, check=check)
        isentropic_work = ideal.enthalpy - suction.enthalpy
        rating = self._rating_state(refrigerant, suction_pressure)
        rating_ideal = refrigerant.state_ps(discharge_pressure, rating.entropy, check=check)
        flow = self.mass_flow(refrigerant, suction_pressure, suction.density, discharge_pressure)
        rated_flow = self.mass_flow(
            refrigerant, suction_pressure, rating.density, discharge_pressure
        )
        rated_power = self._rated(
            self.power_coefficients, refrigerant, suction_pressure, discharge_pressure
        )
        tiny = np.finfo(float).tiny
        work = (
            rated_power
            / np.maximum(rated_flow, tiny)
            * isentropic_work
            / (rating_ideal.enthalpy - rating.enthalpy)
        )
        return _result(
            refrigerant,
            discharge_pressure,
            flow=flow,
            power=flow * work,
            work=work,
            suction_enthalpy=suction.enthalpy,
            shell_loss=self.shell_loss,
            volumetric=np.full(np.shape(flow), np.nan)[()],
            isentropic=isentropic_work / work,
            check=check,
        )


def polynomial(coefficients, suction_dew, discharge_dew):
    """AHRI 540 polynomial in suction dew point S and discharge dew point D.

    X = C1 + C2 S + C3 D + C4 S² + C5 S D + C6 D² + C7 S³ + C8 D S² + C9 S D² + C10 D³

    Parameters
    ----------
    coefficients : sequence of float
        C1 to C10, in the units of their set.
    suction_dew, discharge_dew : float or ndarray
        Dew points in the temperature scale of the set: °C or °F, not kelvin.

    Returns
    -------
    float or ndarray
        X in the unit of the set.
    """
    terms = _terms(np.asarray(suction_dew, dtype=float), np.asarray(discharge_dew, dtype=float))
    return sum(c * term for c, term in zip(coefficients, terms, strict=True))


def rate(
    machine,
    refrigerant,
    evaporating_temperature,
    condensing_temperature,
    return_superheat,
    shell_loss=0.15,
):
    """Fit a rating polynomial to a compressor over a grid, as a rating laboratory would.

    Parameters
    ----------
    machine : Compressor
        The machine on the stand.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    evaporating_temperature, condensing_temperature : array_like
        Dew points of the grid, one-dimensional, at least four each. [K]
    return_superheat : float
        Superheat at the suction stub. [K]
    shell_loss : float
        Handed on to the rating. [-]

    Returns
    -------
    RatedCompressor
        With ``units="SI"``.

    Raises
    ------
    LowsideError
        If a side of the grid has fewer than four points: a cubic needs four.
    """
    if min(len(evaporating_temperature), len(condensing_temperature)) < 4:
        raise LowsideError("A rating grid needs at least four evaporating and condensing points.")
    suction, discharge = np.meshgrid(evaporating_temperature, condensing_temperature)
    low = refrigerant.dew_pressure(suction)
    enthalpy = refrigerant.vapour_enthalpy(low, suction + return_superheat)
    result = machine.run(refrigerant, low, enthalpy, refrigerant.dew_pressure(discharge))
    terms = _terms((suction - ICE_POINT).ravel(), (discharge - ICE_POINT).ravel())
    matrix = np.stack(np.broadcast_arrays(*terms), axis=1)
    flow, *_ = np.linalg.lstsq(matrix, result.mass_flow.ravel(), rcond=None)
    power, *_ = np.linalg.lstsq(matrix, result.power.ravel(), rcond=None)
    return RatedCompressor(
        mass_flow_coefficients=tuple(flow),
        power_coefficients=tuple(power),
        return_superheat=return_superheat,
        shell_loss=shell_loss,
    )


def _terms(s, d):
    return (1.0, s, d, s * s, s * d, d * d, s**3, d * s * s, s * d * d, d**3)


def _result(
    refrigerant,
    discharge_pressure,
    *,
    flow,
    power,
    work,
    suction_enthalpy,
    shell_loss,
    volumetric,
    isentropic,
    check,
):
    """Discharge state from the work that stays in the gas."""
    enthalpy = suction_enthalpy + (1.0 - shell_loss) * work
    discharge = refrigerant.state_ph(discharge_pressure, enthalpy, check=check)
    values = {
        "mass_flow": flow,
        "power": power,
        "discharge_enthalpy": enthalpy,
        "discharge_temperature": discharge.temperature,
        "shell_heat": shell_loss * power,
        "volumetric_efficiency": volumetric,
        "isentropic_efficiency": isentropic,
    }
    full = np.broadcast_arrays(*values.values())
    return CompressorResult(**{name: value[()] for name, value in zip(values, full, strict=True)})
