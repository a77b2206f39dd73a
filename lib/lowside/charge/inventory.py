"""The whole box: its volumes, and the refrigerant in each of them while it runs."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from ..errors import require
from .oil import Oil, dissolved
from .parts import Tube, coil_mass, stream_density, vapour_density, vessel_mass
from .void import DEFAULT


@dataclass(frozen=True)
class Volumes:
    """The inside of a box, part by part. Fields may hold arrays, one value a box.

    Parameters
    ----------
    condenser, evaporator, liquid_line, suction_line, discharge_line : Tube
    drier : float or ndarray
        Free volume inside the filter-drier. [m3]
    shell : float or ndarray
        Gas space of the compressor shell, at suction pressure. [m3]
    oil : Oil
    receiver, accumulator : float or ndarray
        0 where there is none. [m3]

    Raises
    ------
    OutOfRange
        For a negative volume.
    """

    condenser: Tube
    evaporator: Tube
    liquid_line: Tube
    suction_line: Tube
    discharge_line: Tube
    drier: float
    shell: float
    oil: Oil
    receiver: float = 0.0
    accumulator: float = 0.0

    def __post_init__(self):
        for name in ("drier", "shell", "receiver", "accumulator"):
            require(f"volume of the {name}", getattr(self, name), 0.0, None, "volume")

    def spaces(self):
        """Volume of every part but the oil.

        Returns
        -------
        dict of str to float or ndarray
            In the order in which the refrigerant passes. [m3]
        """
        return {
            "discharge_line": self.discharge_line.volume,
            "condenser": self.condenser.volume,
            "receiver": self.receiver,
            "drier": self.drier,
            "liquid_line": self.liquid_line.volume,
            "evaporator": self.evaporator.volume,
            "accumulator": self.accumulator,
            "suction_line": self.suction_line.volume,
            "shell": self.shell,
        }


@dataclass(frozen=True)
class Inventory:
    """Refrigerant in every part of a box; arrays of one shape, or numbers.

    Attributes
    ----------
    discharge_line, condenser, receiver, drier, liquid_line : ndarray
        High side. [kg]
    evaporator, accumulator, suction_line, shell : ndarray
        Low side; the shell's gas space. [kg]
    oil : ndarray
        Dissolved in the oil. [kg]
    """

    discharge_line: np.ndarray
    condenser: np.ndarray
    receiver: np.ndarray
    drier: np.ndarray
    liquid_line: np.ndarray
    evaporator: np.ndarray
    accumulator: np.ndarray
    suction_line: np.ndarray
    shell: np.ndarray
    oil: np.ndarray

    @property
    def total(self):
        """All of it [kg]."""
        return sum(self.parts().values())

    def parts(self):
        """Part name to mass, in the order in which the refrigerant passes.

        Returns
        -------
        dict of str to ndarray
            [kg]
        """
        return {field.name: getattr(self, field.name) for field in fields(self)}


@dataclass(frozen=True)
class Running:
    """State of a running box, as a solver of the box knows it. Numbers or arrays, one a box.

    Parameters
    ----------
    mass_flow : float or ndarray
        [kg/s]
    condensing_pressure, evaporating_pressure : float or ndarray
        Mean pressures in the coils. [Pa]
    discharge_enthalpy, condenser_outlet_enthalpy : float or ndarray
        Of the gas entering and the liquid leaving the condenser. [J/kg]
    condenser_vapour_share, condenser_liquid_share : float or ndarray
        Shares of the condenser's length that cool gas and that subcool liquid.
    liquid_line_enthalpy : float or ndarray
        Of what fills drier and liquid line. [J/kg]
    evaporator_inlet_enthalpy, evaporator_outlet_enthalpy : float or ndarray
        [J/kg]
    evaporator_vapour_share : float or ndarray
        Share of the evaporator's length that warms vapour.
    suction_enthalpy : float or ndarray
        Of what fills the suction line. [J/kg]
    shell_temperature, oil_temperature : float or ndarray
        [K]
    receiver_level, accumulator_level : float or ndarray
        Share filled with liquid.
    liquid_line_pressure : float or ndarray, optional
        In the liquid line, where a drier in front of it throttles; otherwise that of the condenser.
        [Pa]
    """

    mass_flow: float
    condensing_pressure: float
    evaporating_pressure: float
    discharge_enthalpy: float
    condenser_outlet_enthalpy: float
    condenser_vapour_share: float
    condenser_liquid_share: float
    liquid_line_enthalpy: float
    evaporator_inlet_enthalpy: float
    evaporator_outlet_enthalpy: float
    evaporator_vapour_share: float
    suction_enthalpy: float
    shell_temperature: float
    oil_temperature: float
    receiver_level: float = 0.0
    accumulator_level: float = 0.0
    liquid_line_pressure: float | None = None


def running(volumes, refrigerant, state, model=DEFAULT):
    """Refrigerant in every part of a running box.

    The drier's free volume is filled with what the liquid line would hold at the condenser's
    pressure: a drier that throttles does so at its outlet. Shell and oil are at
    suction pressure (a low-side shell, as in nearly all hermetic reciprocating compressors).

    Parameters
    ----------
    volumes : Volumes
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    state : Running
    model : str
        Void-fraction model, a key of ``void.MODELS``.

    Returns
    -------
    Inventory

    Raises
    ------
    OutOfRange
        For a liquid level outside 0 to 1.
    UnknownName
        For a void-fraction model that is not here.
    """
    high, low, flow = state.condensing_pressure, state.evaporating_pressure, state.mass_flow
    at_high, at_low = (refrigerant.saturation(p, check=False) for p in (high, low))
    condenser = coil_mass(
        refrigerant,
        volumes.condenser,
        high,
        flow,
        state.discharge_enthalpy,
        state.condenser_outlet_enthalpy,
        state.condenser_vapour_share,
        state.condenser_liquid_share,
        model,
        at_high,
    )
    evaporator = coil_mass(
        refrigerant,
        volumes.evaporator,
        low,
        flow,
        state.evaporator_inlet_enthalpy,
        state.evaporator_outlet_enthalpy,
        state.evaporator_vapour_share,
        0.0,
        model,
        at_low,
    )

    def line(tube, saturation, enthalpy):
        return stream_density(
            refrigerant,
            saturation.pressure,
            enthalpy,
            flow / tube.area,
            tube.inner_diameter,
            model,
            saturation,
        )

    liquid = in_line = line(volumes.liquid_line, at_high, state.liquid_line_enthalpy)
    if state.liquid_line_pressure is not None:
        behind_drier = refrigerant.saturation(state.liquid_line_pressure, check=False)
        in_line = line(volumes.liquid_line, behind_drier, state.liquid_line_enthalpy)
    suction = line(volumes.suction_line, at_low, state.suction_enthalpy)
    discharge = line(volumes.discharge_line, at_high, state.discharge_enthalpy)
    return Inventory(
        discharge_line=volumes.discharge_line.volume * discharge,
        condenser=condenser.total,
        receiver=vessel_mass(refrigerant, volumes.receiver, high, state.receiver_level),
        drier=volumes.drier * liquid,
        liquid_line=volumes.liquid_line.volume * in_line,
        evaporator=evaporator.total,
        accumulator=vessel_mass(refrigerant, volumes.accumulator, low, state.accumulator_level),
        suction_line=volumes.suction_line.volume * suction,
        shell=volumes.shell * vapour_density(refrigerant, low, state.shell_temperature),
        oil=dissolved(volumes.oil, refrigerant, low, state.oil_temperature),
    )
