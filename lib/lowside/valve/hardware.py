"""Power element and spring, and the whole valve put together."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside.errors import LowsideError, OutOfRange, require

from .port import Port

FLATNESS = (0.3, 1.0)  # of a cross charge: between a charge that hardly answers and the dew line
HOTTEST_BULB = 500.0  # [K] beyond which a cross charge's line means nothing, far above any box
COLDEST_SETTING, WARMEST_SETTING = 150.0, 350.0  # [K] at which a spring can have been set
MOST_SUPERHEAT = 100.0  # [K] beyond any spring
CHARGES = ("liquid", "cross", "gas")
DISCHARGE_MODELS = ("wile", "constant")


@dataclass(frozen=True)
class PowerElement:
    """Diaphragm, bulb and what the bulb is filled with.

    Parameters
    ----------
    charge : {"liquid", "cross", "gas"}
        "liquid": always some liquid in the bulb, pressure on the dew line of `refrigerant`.
        "cross": a flatter line through the same point at `reference_temperature`.
        "gas": so little charge that the last liquid is gone at `limit_pressure`; above it the
        pressure hardly rises and the valve limits the evaporating pressure (MOP).
    refrigerant : Refrigerant
        The fluid whose dew line the charge follows.
    diaphragm_area : float or ndarray
        [m2]
    limit_pressure : float or ndarray, optional
        Bulb pressure at which a gas charge is dry. [Pa]
    reference_temperature : float or ndarray
        Where a cross charge meets the dew line. [K]
    flatness : float or ndarray
        Slope of a cross charge there, over the slope of the dew line. [-]
    leaked_to : float or ndarray, optional
        Bulb pressure at which what a leak has left of any charge is dry. The spring was set before.
        [Pa]

    Raises
    ------
    LowsideError
        For an unknown charge, or a gas charge without its limit.
    OutOfRange
        For an area, flatness or limit that no element can have.
    """

    charge: str
    refrigerant: object
    diaphragm_area: float | np.ndarray = 5e-4
    limit_pressure: float | np.ndarray | None = None
    reference_temperature: float | np.ndarray = 263.15
    flatness: float | np.ndarray = 0.9
    leaked_to: float | np.ndarray | None = None

    def __post_init__(self):
        if self.charge not in CHARGES:
            raise LowsideError(f"A bulb charge is one of {', '.join(CHARGES)}: not {self.charge}.")
        low, high = self.refrigerant.pressure_range
        if self.charge == "gas":
            if self.limit_pressure is None:
                raise LowsideError("A gas charge needs the pressure at which its liquid is gone.")
            require("limit pressure of the bulb", self.limit_pressure, low, high, "pressure")
        if self.leaked_to is not None:
            require("pressure left in the bulb", self.leaked_to, low, high, "pressure")
        require("diaphragm area", self.diaphragm_area, 0.0, None, "area", open_low=True)
        require("flatness of the bulb charge", self.flatness, *FLATNESS, "ratio")

    @property
    def as_filled(self):
        """The element before any leak (PowerElement)."""
        return self if self.leaked_to is None else replace(self, leaked_to=None)

    def pressure(self, temperature):
        """Pressure that the bulb puts on the diaphragm.

        Parameters
        ----------
        temperature : float or ndarray
            Of the bulb. [K]

        Returns
        -------
        float or ndarray
            Absolute. [Pa]
        """
        saturated, limit = self._line(temperature), self._limit
        if limit is None:
            return saturated
        last = self._line_temperature(limit)
        dry = limit * temperature / last
        return np.where(temperature > last, dry, saturated)[()]

    def temperature(self, pressure, check=True):
        """Bulb temperature that gives a pressure: the inverse of `pressure`.

        Parameters
        ----------
        pressure : float or ndarray
            Absolute. [Pa]
        check : bool
            Refuse a pressure that a cross charge cannot reach; otherwise its bulb stays at
            `HOTTEST_BULB`.

        Returns
        -------
        float or ndarray
            [K]

        Raises
        ------
        OutOfRange
            If the line of a cross charge meets that pressure at no sensible temperature.
        """
        if self.charge == "cross" and check:
            self._refuse_unreachable(pressure)
        saturated, limit = self._line_temperature(pressure), self._limit
        if limit is None:
            return saturated
        dry = self._line_temperature(limit) * pressure / limit
        return np.where(pressure > limit, dry, saturated)[()]

    def slope(self, temperature):
        """Rise of bulb pressure per kelvin.

        Parameters
        ----------
        temperature : float or ndarray
            Of the bulb. [K]

        Returns
        -------
        float or ndarray
            [Pa/K]
        """
        step = 0.01
        rise = self.pressure(temperature + step) - self.pressure(temperature - step)
        return rise / (2.0 * step)

    def _refuse_unreachable(self, pressure):
        pressures, highest = np.broadcast_arrays(pressure, self.pressure(HOTTEST_BULB))
        beyond = ~(pressures <= highest)
        if beyond.any():
            value, limit = pressures[beyond][0], highest[beyond][0]
            raise OutOfRange("pressure of a cross-charged bulb", value, None, limit, "pressure")

    @property
    def _limit(self):
        """Pressure at which the bulb is dry, None where it never is [Pa]."""
        built = self.limit_pressure if self.charge == "gas" else None
        if built is None or self.leaked_to is None:
            return self.leaked_to if built is None else built
        return np.minimum(built, self.leaked_to)

    def _line(self, temperature):
        """Pressure with liquid in the bulb [Pa]."""
        if self.charge != "cross":
            return self.refrigerant.dew_pressure(temperature, check=False)
        reference, exponent = self._cross_line()
        return reference * np.exp(
            exponent * (1.0 / np.asarray(self.reference_temperature) - 1.0 / temperature)
        )

    def _line_temperature(self, pressure):
        """Bulb temperature with liquid in the bulb [K]."""
        pressure = np.maximum(pressure, 1.0)
        if self.charge != "cross":
            return self.refrigerant.dew_temperature(pressure, check=False)
        reference, exponent = self._cross_line()
        inverse = (
            1.0 / np.asarray(self.reference_temperature) - np.log(pressure / reference) / exponent
        )
        return 1.0 / np.maximum(inverse, 1.0 / HOTTEST_BULB)

    def _cross_line(self):
        """Pressure at the reference, and the exponent B of p = p0 exp(B (1/T0 - 1/T))."""
        reference = np.asarray(self.reference_temperature, dtype=float)
        below, at, above = (
            self.refrigerant.dew_pressure(reference + step, check=False) for step in (-0.5, 0, 0.5)
        )
        return at, self.flatness * reference**2 * np.log(above / below)


@dataclass(frozen=True)
class Spring:
    """The superheat spring, described by how it was set.

    Parameters
    ----------
    rate : float or ndarray
        [N/m]
    static_superheat : float or ndarray
        Superheat at which the valve just opens, at the reference. [K]
    evaporating_temperature : float or ndarray
        Dew point at the reference. [K]
    pressure_difference : float or ndarray
        Across the port at the reference. [Pa]

    Raises
    ------
    OutOfRange
        For a setting that no spring can have.
    """

    rate: float | np.ndarray = 55e3
    static_superheat: float | np.ndarray = 4.0
    evaporating_temperature: float | np.ndarray = 263.15
    pressure_difference: float | np.ndarray = 1.0e6

    def __post_init__(self):
        require("spring rate", self.rate, 0.0, None, open_low=True)
        require(
            "static superheat",
            self.static_superheat,
            0.0,
            MOST_SUPERHEAT,
            "temperature_difference",
        )
        require(
            "evaporating temperature at which the spring was set",
            self.evaporating_temperature,
            COLDEST_SETTING,
            WARMEST_SETTING,
            "temperature",
        )
        require(
            "pressure difference at which the spring was set",
            self.pressure_difference,
            0.0,
            None,
            "pressure_difference",
        )


@dataclass(frozen=True)
class Valve:
    """A complete thermostatic expansion valve.

    Parameters
    ----------
    port : Port
        Port and pin.
    element : PowerElement
        Diaphragm and bulb.
    spring : Spring
        As set.
    external_equaliser : bool or ndarray of bool
        Whether the space below the diaphragm is piped to the evaporator outlet, or open to the
        valve outlet.
    discharge : {"wile", "constant"}
        Discharge coefficient: growing with liquid density (Wile 1935, from memory), or constant.
        For one refrigerant the two differ by a factor; from one refrigerant to another they
        disagree, and that disagreement is the model's uncertainty (see `capacity_ratio_band`).
    discharge_coefficient : float or ndarray
        Of the "constant" model. [-]
    open_share : float or ndarray
        Share of the flow area that ice or dirt at the pin leaves. [-]
    bulb_exposure : float or ndarray
        How far a loose or bare bulb stands between the suction line (0) and the air of the box
        (1). [-]
    """

    port: Port
    element: PowerElement
    spring: Spring
    external_equaliser: bool | np.ndarray = True
    discharge: str = "wile"
    discharge_coefficient: float | np.ndarray = 0.7
    open_share: float | np.ndarray = 1.0
    bulb_exposure: float | np.ndarray = 0.0

    def __post_init__(self):
        if self.discharge not in DISCHARGE_MODELS:
            raise LowsideError(
                f"The discharge model is one of {', '.join(DISCHARGE_MODELS)}: "
                f"not {self.discharge}."
            )
        require(
            "discharge coefficient", self.discharge_coefficient, 0.0, 1.0, "ratio", open_low=True
        )
        require("open share of the port", self.open_share, 0.0, 1.0, "ratio", open_low=True)
        require("exposure of the bulb", self.bulb_exposure, 0.0, 1.0, "ratio")

    def sensed_temperature(self, line_temperature, air_temperature):
        """Temperature of the bulb [K].

        Parameters
        ----------
        line_temperature, air_temperature : float or ndarray
            Of the suction line at the bulb, and of the air around. [K]

        Returns
        -------
        float or ndarray
            [K]
        """
        return line_temperature + self.bulb_exposure * (air_temperature - line_temperature)
