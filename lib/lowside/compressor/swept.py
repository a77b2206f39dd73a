"""A compressor by its swept volume and efficiencies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside.errors import require

from .result import require_rise, result_of

LARGEST_LEAK = 0.7
TINY_STEP = 1.0  # [J/kg]


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
    leak : float or ndarray
        Share of the gas compressed that slips back past a broken or worn discharge valve. It mixes,
        hot, with the suction gas and is compressed again. [-]

    Notes
    -----
    Volumetric efficiency: filling (1 + c - c r^(1/n)), zero once the re-expanding gas fills the
    whole stroke; the clearance formula is in any refrigeration textbook (Dossat, Principles of
    Refrigeration, ch. 12, from memory). Isentropic efficiency: a bell curve over ln r. The default
    numbers are invented, of the size usual for small hermetic machines (common practice, no
    published source). A leak in real valves grows with the pressure difference; here it is a share.

    Raises
    ------
    OutOfRange
        For numbers that no compressor can have.
    """

    swept_volume_flow: float | np.ndarray
    clearance: float | np.ndarray = 0.04
    re_expansion_exponent: float | np.ndarray = 1.08
    filling: float | np.ndarray = 0.92
    peak_efficiency: float | np.ndarray = 0.62
    best_pressure_ratio: float | np.ndarray = 3.5
    efficiency_width: float | np.ndarray = 1.6
    shell_loss: float | np.ndarray = 0.15
    leak: float | np.ndarray = 0.0

    def __post_init__(self):
        require(
            "swept volume flow of the compressor", self.swept_volume_flow, 0.0, None, open_low=True
        )
        require("clearance share of the compressor", self.clearance, 0.0, 0.5, "ratio")
        require("re-expansion exponent of the compressor", self.re_expansion_exponent, 1.0, 2.0)
        require("filling share of the compressor", self.filling, 0.0, 1.0, "ratio", open_low=True)
        require("best pressure ratio of the compressor", self.best_pressure_ratio, 1.0, 100.0)
        require(
            "width of the compressor's efficiency curve",
            self.efficiency_width,
            0.0,
            100.0,
            open_low=True,
        )
        require("shell loss share of the compressor", self.shell_loss, 0.0, 1.0, "ratio")
        require("leak of the compressor's valves", self.leak, 0.0, LARGEST_LEAK, "ratio")
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
            Of vapour, or of a mixture if liquid comes back; with a leak, of what fills the
            cylinder, which is warmer (`run` knows). [kg/m3]

        Returns
        -------
        float or ndarray
            What leaves the compressor. [kg/s]
        """
        filled = self.volumetric_efficiency(discharge_pressure / suction_pressure)
        return (1.0 - self.leak) * filled * self.swept_volume_flow * suction_density

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
            Refuse states outside the refrigerant's range, and a discharge not above the suction.

        Returns
        -------
        CompressorResult

        Raises
        ------
        OutOfRange
            If a pressure lies outside the refrigerant's range, or the discharge is not above the
            suction.
        """
        if check:
            require_rise(suction_pressure, discharge_pressure)
        ratio = np.asarray(discharge_pressure, dtype=float) / suction_pressure
        efficiency = self.isentropic_efficiency(ratio)

        def compressed(enthalpy):
            """Gas that fills the cylinder, and the work that each kilogram of it takes."""
            filling = refrigerant.state_ph(suction_pressure, enthalpy, check=check)
            ideal = refrigerant.state_ps(discharge_pressure, filling.entropy, check=check)
            return filling, (ideal.enthalpy - filling.enthalpy) / efficiency

        filling, work = compressed(suction_enthalpy)
        if np.any(self.leak):
            # h = h1 + k w(h): w is nearly straight, two points of it are enough.
            recycled = (1.0 - self.shell_loss) * self.leak / (1.0 - self.leak)
            step = recycled * work
            _, further = compressed(suction_enthalpy + step)
            slope = (further - work) / np.maximum(step, TINY_STEP)
            filling, work = compressed(suction_enthalpy + step / (1.0 - recycled * slope))
        flow = self.mass_flow(refrigerant, suction_pressure, filling.density, discharge_pressure)
        work = work / (1.0 - self.leak)  # of each kilogram that leaves
        return result_of(
            refrigerant,
            discharge_pressure,
            flow=flow,
            power=flow * work,
            work=work,
            suction_enthalpy=np.asarray(suction_enthalpy, dtype=float)[()],
            shell_loss=self.shell_loss,
            volumetric=self.volumetric_efficiency(ratio),
            isentropic=efficiency,
            check=check,
        )
