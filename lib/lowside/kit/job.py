"""What a box asks of its valve: refrigerant, load, and the corners of its year."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from lowside import refrigerants, system, valve
from lowside.errors import UnknownName, require
from lowside.system import ports

from . import parts, shelf
from .build import Setting

SUBCOOLING = 5.0  # [K] of the liquid at the valve

HOT_FULL, COLD_FULL, HOT_LEAST, COLD_LEAST, PULL_DOWN = range(5)


@dataclass(frozen=True)
class Corner:
    """One corner of the year.

    Attributes
    ----------
    key, words : str
        Short name, and what it is.
    full : bool
        Whether the whole design load has to be carried there.
    """

    key: str
    words: str
    full: bool = False


CORNERS = (
    Corner("hot, full load", "the hottest day at full load", True),
    Corner("cold, full load", "the coldest day at full load", True),
    Corner("hot, least load", "the hottest day at the least load"),
    Corner("cold, least load", "the coldest day at the least load"),
    Corner("pull-down", "the pull-down of a warm box"),
)


@dataclass(frozen=True)
class Job:
    """A box that needs a valve.

    Attributes
    ----------
    refrigerant : str
        Name.
    load : float
        Design load. [W]
    box_temperature : float
        Air entering the evaporator. [K]
    hot, cold : float
        Highest and lowest condensing temperature of the year. [K]
    temperature_difference : float
        Box air minus evaporating dew point at the design load. [K]
    least_share : float
        Smallest step of the compressor, as a share of its swept volume: 1 for one that only knows
        on and off. [-]
    pull_down_temperature : float
        Air in the box when it is started warm. [K]
    highest_evaporating : float or None
        Highest evaporating temperature that the compressor may run at for long; None if any.
        [K]
    coil_drop : float
        Pressure lost in the evaporator at the design load, distributor not counted. [Pa]
    distributor_drop : float
        Pressure lost in a distributor at the design load; 0 for a coil without one. [Pa]
    connection : {"flare", "braze"}
        To the pipes.
    construction : {"conventional", "balanced", "either"}
        Of the cartridge; "either" lets the kit decide.
    static_superheat : float
        To which the spring is set. [K]

    Raises
    ------
    OutOfRange
        For a number that no such box can have.
    UnknownName
        For a refrigerant, a connection or a construction that the kit has not.
    """

    refrigerant: str
    load: float
    box_temperature: float
    hot: float
    cold: float
    temperature_difference: float = 6.0
    least_share: float = 0.5
    pull_down_temperature: float = 293.15
    highest_evaporating: float | None = None
    coil_drop: float = 15e3
    distributor_drop: float = 0.0
    connection: str = "flare"
    construction: str = parts.EITHER
    static_superheat: float = 2.5

    def __post_init__(self):
        shelf.elements(self.refrigerant)
        known = (
            ("connection", parts.CONNECTIONS),
            ("construction", (*parts.CONSTRUCTIONS, parts.EITHER)),
        )
        for name, choices in known:
            value = getattr(self, name)
            if value not in choices:
                raise UnknownName(name, value, choices)
        require("load", self.load, 0.0, None, "capacity", open_low=True)
        require("lowest condensing temperature", self.cold, None, self.hot, "temperature")
        require("smallest step of the compressor", self.least_share, 0.05, 1.0, "ratio")
        require("pressure lost in the evaporator", self.coil_drop, 0.0, 2e5, "pressure_difference")
        require(
            "pressure lost in the distributor",
            self.distributor_drop,
            0.0,
            5e5,
            "pressure_difference",
        )
        require(
            "air in the warm box",
            self.pull_down_temperature,
            self.box_temperature,
            323.15,
            "temperature",
        )

    @property
    def fluid(self):
        """The refrigerant."""
        return refrigerants.get(self.refrigerant)

    @property
    def evaporating_temperature(self):
        """Dew point at the design load [K]."""
        return self.box_temperature - self.temperature_difference

    @property
    def drop_worth(self):
        """Fall of the dew point along the coil at the design load [K]."""
        fluid, dew = self.fluid, self.evaporating_temperature
        entering = fluid.dew_pressure(dew) + self.coil_drop
        return max(float(fluid.dew_temperature(entering)) - dew, 0.0)

    @property
    def setting(self):
        """How the spring is set: at the design load of the hottest day."""
        fluid = self.fluid
        outlet = fluid.dew_pressure(self.evaporating_temperature) + self.coil_drop
        difference = fluid.dew_pressure(self.hot) - self.distributor_drop - outlet
        return Setting(self.static_superheat, self.evaporating_temperature, float(difference))

    @property
    def air(self):
        """Air entering the evaporator by corner, ndarray (5,) [K]."""
        return np.array([*(self.box_temperature,) * 4, self.pull_down_temperature])

    @property
    def condensing(self):
        """Condensing temperature by corner, ndarray (5,) [K]."""
        return np.array([self.hot, self.cold, self.hot, self.cold, self.hot])

    @property
    def share(self):
        """Share of its swept volume that the compressor pumps, by corner, ndarray (5,) [-]."""
        return np.array([1.0, 1.0, self.least_share, self.least_share, 1.0])

    @cached_property
    def box(self):
        """Coil and compressor for the design load, with the ideal port and a liquid charge.

        Raises
        ------
        OutOfRange
            For conditions outside the refrigerant's range.
        NoOperatingPoint
            If the superheat leaves no temperature difference to the air.
        """
        first = self._sized(valve.STANDARD_LIFT)
        nearest = min(
            shelf.the_kit().cartridges,
            key=lambda part: abs(math.log(part.port / first.valve.port.diameter)),
        )
        return self._sized(nearest.travel)

    def solve(self, hardware):
        """Solve the box with other valves at every corner.

        A distributor is counted as pressure that the port does not get; its drop goes with the
        square of the flow.

        Parameters
        ----------
        hardware : valve.Valve
            Its numbers may be arrays of shape (n, 1).

        Returns
        -------
        system.LowSideResult, shape (n, 5)
            By valve and by corner.
        """
        return system.solve_low_side(
            replace(self.box, valve=hardware),
            self.air,
            self.condensing,
            SUBCOOLING,
            liquid_line_drop=self.distributor_drop * self.share**2,
            compressor_share=self.share,
        )

    def _sized(self, travel):
        return system.size_low_side(
            self.fluid,
            self.load,
            self.box_temperature,
            self.hot,
            temperature_difference=self.temperature_difference,
            subcooling=SUBCOOLING,
            static_superheat=self.static_superheat,
            opening_superheat=ports.OPENING_SUPERHEAT,
            lift_share=ports.LIFT_SHARE,
            travel=travel,
            drop_worth=self.drop_worth,
        )
