"""A compressor by its rating polynomial."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import LowsideError, NoOperatingPoint
from lowside.units import HOUR, ICE_POINT, POUND, RANKINE

from .result import require_rise, result_of

COEFFICIENTS = 10


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
            words, count = name.replace("_", " "), len(getattr(self, name))
            if count != COEFFICIENTS:
                raise LowsideError(
                    f"A rating polynomial has {COEFFICIENTS} coefficients; the {words} are {count}."
                )
            if not np.isfinite(getattr(self, name)).all():
                raise LowsideError(f"One of the {words} is not a number.")
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

        Unchecked, a machine beyond its rating runs without loss and its isentropic efficiency is
        NaN.

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
            If a pressure lies outside the refrigerant's range, or the discharge is not above the
            suction.
        NoOperatingPoint
            If the rating does not reach there: its polynomials say that the machine pumps nothing,
            takes no power, or needs less than a loss-free one.
        """
        if check:
            require_rise(suction_pressure, discharge_pressure)
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
        rating_work = rating_ideal.enthalpy - rating.enthalpy
        rated = (rated_flow > 0.0) & (rating_work > 0.0) & (rated_power >= rated_flow * rating_work)
        if check and not np.all(rated):
            raise NoOperatingPoint(
                "the rating of this compressor does not reach so far: its polynomials make no "
                "sense there",
                mass_flow=float(np.min(rated_flow)),
                power=float(np.min(rated_power)),
            )
        ideal_power = np.where(rated, rated_flow * rating_work, 1.0)
        efficiency = ideal_power / np.where(rated, rated_power, 1.0)
        work = isentropic_work / efficiency
        return result_of(
            refrigerant,
            discharge_pressure,
            flow=flow,
            power=flow * work,
            work=work,
            suction_enthalpy=suction.enthalpy,
            shell_loss=self.shell_loss,
            volumetric=np.full(np.shape(flow), np.nan)[()],
            isentropic=np.where(rated, efficiency, np.nan)[()],
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
