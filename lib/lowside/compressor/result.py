"""What a running compressor does."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require


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
        Overall values referred to the suction state. Volumetric: NaN where the description has no
        swept volume to refer to. Isentropic: NaN where a rating does not reach. [-]
    """

    mass_flow: float | np.ndarray
    power: float | np.ndarray
    discharge_enthalpy: float | np.ndarray
    discharge_temperature: float | np.ndarray
    shell_heat: float | np.ndarray
    volumetric_efficiency: float | np.ndarray
    isentropic_efficiency: float | np.ndarray


def require_rise(suction_pressure, discharge_pressure):
    """Refuse a discharge pressure that is not above the suction pressure.

    Parameters
    ----------
    suction_pressure, discharge_pressure : float or ndarray
        [Pa]

    Raises
    ------
    OutOfRange
        Carrying the rise.
    """
    rise = np.asarray(discharge_pressure, dtype=float) - suction_pressure
    quantity = "rise from suction to discharge pressure"
    require(quantity, rise, 0.0, None, "pressure_difference", open_low=True)


def result_of(
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
    """Put together what a compressor does; the work that stays in the gas gives the discharge.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    discharge_pressure : float or ndarray
        [Pa]
    flow, power : float or ndarray
        [kg/s], [W]
    work : float or ndarray
        Electrical, per kilogram. [J/kg]
    suction_enthalpy : float or ndarray
        [J/kg]
    shell_loss : float or ndarray
        Share of the power that leaves through the shell. [-]
    volumetric, isentropic : float or ndarray
        Efficiencies. [-]
    check : bool
        Refuse a discharge state outside the refrigerant's range.

    Returns
    -------
    CompressorResult

    Raises
    ------
    OutOfRange
        If the discharge state lies outside the refrigerant's range.
    """
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
