"""A whole box as hardware: compressor, coils, metering, lines and every volume that holds grams."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside import captube, charge, coils, valve
from lowside.errors import LowsideError, require


@dataclass(frozen=True)
class Box:
    """A complete refrigeration circuit. Any number in it, and in its parts, may be an array.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    compressor : Compressor or RatedCompressor
    condenser, evaporator : coils.FinCoil
    metering : valve.Valve or captube.CapTube
    liquid_line, suction_line, discharge_line : charge.Tube
    oil : charge.Oil
        In the compressor.
    drier, shell, receiver : float or ndarray
        Volumes: free space in the filter-drier, gas in the compressor shell, receiver (0: none).
        [m3]
    exchange : float or ndarray
        Effectiveness of liquid and suction line soldered together, 0 where they are apart. [-]
    suction_gain : float or ndarray
        UA of the suction line to the air around the condenser. [W/K]
    liquid_loss : float or ndarray
        UA of the liquid line to the same air. [W/K]
    restriction, drier_restriction : float or ndarray
        Of the strainer in front of the metering, and of the filter-drier at the other end of the
        liquid line: pressure drop times density over the square of the mass flow. [1/m4]
    rise : float or ndarray
        By how much the valve sits above the condenser. [m]
    shell_warmth : float or ndarray
        Where the temperature of shell gas and oil lies between the air around (0) and the
        discharge gas (1). The default is an assumption. [-]
    high_cut_out, low_cut_out : float or ndarray or None
        Pressures at which the switches open the circuit, None where there is no switch. [Pa]
    voltage, power_factor, phases : float, float, int
        Supply of the compressor, for its current. Factor assumed. [V], [-], [-]

    Raises
    ------
    OutOfRange
        For a negative volume, an effectiveness of 1 or more, and the like.
    LowsideError
        If the metering device is neither a valve nor a capillary tube.
    """

    refrigerant: object
    compressor: object
    condenser: coils.FinCoil
    evaporator: coils.FinCoil
    metering: valve.Valve | captube.CapTube
    liquid_line: charge.Tube
    suction_line: charge.Tube
    discharge_line: charge.Tube
    oil: charge.Oil
    drier: float | np.ndarray
    shell: float | np.ndarray
    receiver: float | np.ndarray = 0.0
    exchange: float | np.ndarray = 0.0
    suction_gain: float | np.ndarray = 0.0
    liquid_loss: float | np.ndarray = 0.0
    restriction: float | np.ndarray = 0.0
    drier_restriction: float | np.ndarray = 0.0
    rise: float | np.ndarray = 0.0
    shell_warmth: float | np.ndarray = 0.6
    high_cut_out: float | np.ndarray | None = None
    low_cut_out: float | np.ndarray | None = None
    voltage: float = 230.0
    power_factor: float = 0.85
    phases: int = 1

    def __post_init__(self):
        if not isinstance(self.metering, valve.Valve | captube.CapTube):
            raise LowsideError("A box meters with a thermostatic valve or with a capillary tube.")
        for name in ("drier", "shell", "receiver"):
            require(f"volume of the {name}", getattr(self, name), 0.0, None, "volume")
        require("effectiveness of the heat exchange", self.exchange, 0.0, 0.9, "ratio")
        require("heat gain of the suction line", self.suction_gain, 0.0, None)
        require("heat loss of the liquid line", self.liquid_loss, 0.0, None)
        require("restriction of the strainer", self.restriction, 0.0, None)
        require("restriction of the drier", self.drier_restriction, 0.0, None)
        require("warmth of the shell", self.shell_warmth, 0.0, 1.0, "ratio")
        low, high = self.refrigerant.pressure_range
        for name in ("high_cut_out", "low_cut_out"):
            setting = getattr(self, name)
            if setting is not None:
                require(name.replace("_", " "), setting, low, high, "pressure")

    @property
    def has_valve(self):
        """Whether a thermostatic valve meters, and not a capillary tube."""
        return isinstance(self.metering, valve.Valve)

    @property
    def volumes(self):
        """Every volume of the box (charge.Volumes)."""
        return charge.Volumes(
            condenser=_tube(self.condenser),
            evaporator=_tube(self.evaporator),
            liquid_line=self.liquid_line,
            suction_line=self.suction_line,
            discharge_line=self.discharge_line,
            drier=self.drier,
            shell=self.shell,
            oil=self.oil,
            receiver=self.receiver,
        )

    @property
    def volume(self):
        """Of everything but the oil [m3]."""
        return sum(self.volumes.spaces().values())


def _tube(coil):
    return charge.Tube(coil.inner_diameter, coil.length, coil.circuits)
