"""A refrigerant: saturation, superheat, subcooling and states, for arrays of any shape.

The one place where superheat is counted from the dew point and subcooling from the bubble point.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import OutOfRange
from .tables import DOME, LIQUID, SATURATION, VAPOUR, Properties


@dataclass(frozen=True)
class State:
    """States of a refrigerant; every field is an array of one shape, or a number.

    Attributes
    ----------
    pressure : numpy.ndarray
        Absolute [Pa].
    temperature : numpy.ndarray
        [K]
    enthalpy : numpy.ndarray
        [J/kg], 200 kJ/kg for saturated liquid at 0 °C.
    entropy : numpy.ndarray
        [J/(kg K)], 1 kJ/(kg K) for saturated liquid at 0 °C.
    density : numpy.ndarray
        [kg/m3]; in the dome that of the mixture without slip.
    quality : numpy.ndarray
        Vapour mass fraction (h - h_bubble) / (h_dew - h_bubble), deliberately not clipped: below
        0 it is subcooled liquid, above 1 superheated vapour.
    """

    pressure: np.ndarray
    temperature: np.ndarray
    enthalpy: np.ndarray
    entropy: np.ndarray
    density: np.ndarray
    quality: np.ndarray

    @property
    def vapour_fraction(self):
        """Quality held between 0 and 1."""
        return np.clip(self.quality, 0, 1)

    @property
    def phase(self):
        """-1 subcooled liquid, 0 two-phase (saturation lines included), 1 superheated vapour."""
        return (np.asarray(self.quality) > 1) - (np.asarray(self.quality) < 0).astype(int)


@dataclass(frozen=True)
class Saturation:
    """Bubble and dew states at a pressure; every field is an array of one shape, or a number.

    Liquid properties are at the bubble point, vapour properties at the dew point. Transport
    properties of blends are mixed from their components (see `transport`).

    Attributes
    ----------
    pressure : numpy.ndarray
        Absolute [Pa].
    bubble_temperature, dew_temperature : numpy.ndarray
        [K]
    liquid_enthalpy, vapour_enthalpy : numpy.ndarray
        [J/kg]
    liquid_entropy, vapour_entropy : numpy.ndarray
        [J/(kg K)]
    liquid_density, vapour_density : numpy.ndarray
        [kg/m3]
    liquid_heat_capacity, vapour_heat_capacity : numpy.ndarray
        At constant pressure [J/(kg K)].
    liquid_viscosity, vapour_viscosity : numpy.ndarray
        [Pa s]
    liquid_conductivity, vapour_conductivity : numpy.ndarray
        [W/(m K)]
    surface_tension : numpy.ndarray
        [N/m]
    """

    pressure: np.ndarray
    bubble_temperature: np.ndarray
    dew_temperature: np.ndarray
    liquid_enthalpy: np.ndarray
    vapour_enthalpy: np.ndarray
    liquid_entropy: np.ndarray
    vapour_entropy: np.ndarray
    liquid_density: np.ndarray
    vapour_density: np.ndarray
    liquid_heat_capacity: np.ndarray
    vapour_heat_capacity: np.ndarray
    liquid_viscosity: np.ndarray
    vapour_viscosity: np.ndarray
    liquid_conductivity: np.ndarray
    vapour_conductivity: np.ndarray
    surface_tension: np.ndarray

    @property
    def latent_heat(self):
        """Enthalpy from bubble to dew at constant pressure [J/kg]."""
        return self.vapour_enthalpy - self.liquid_enthalpy

    @property
    def glide(self):
        """Dew minus bubble temperature [K]."""
        return self.dew_temperature - self.bubble_temperature


class Refrigerant:
    """Properties of one refrigerant from its table.

    Every method takes numbers or arrays, which are broadcast, and gives back numbers or arrays.
    With ``check=True`` a value outside the valid range raises `OutOfRange`; with ``check=False``,
    meant for solvers, the table is continued smoothly and every answer is finite.

    Parameters
    ----------
    facts : facts.Facts
        Composition, safety class, warming potential.
    table : tables.Table
        As made by `build.make`.

    Attributes
    ----------
    name : str
    facts : facts.Facts
    pressure_range : tuple of float
        Valid absolute pressures, lowest and highest [Pa].
    temperature_range : tuple of float
        Dew temperatures at the ends of the pressure range [K].
    critical_pressure, critical_temperature : float
        [Pa], [K]
    """

    def __init__(self, facts, table):
        self.name = facts.name
        self.facts = facts
        self._properties = Properties(table)
        self.pressure_range = self._properties.lowest, self._properties.highest
        self.critical_pressure = self._properties.critical_pressure
        self.critical_temperature = self._properties.critical_temperature
        self.temperature_range = self._ends("dew")
        self._bubble_range = self._ends("bubble")

    def __repr__(self):
        return f"<Refrigerant {self.name}>"

    @property
    def is_blend(self):
        """Whether it has more than one component."""
        return self.facts.is_blend

    @property
    def has_glide(self):
        """Whether dew and bubble differ by more than 0.2 K anywhere in the range."""
        return bool(np.max(self.glide(np.geomspace(*self.pressure_range, 25))) > 0.2)

    # temperatures and pressures of saturation ---------------------------------------------------

    def dew_temperature(self, pressure, check=True):
        """Temperature at which vapour begins to condense.

        Parameters
        ----------
        pressure : array_like
            Absolute [Pa].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [K]

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        return self._saturated("dew_temperature", pressure, check)

    def bubble_temperature(self, pressure, check=True):
        """Temperature at which liquid begins to boil.

        Parameters
        ----------
        pressure : array_like
            Absolute [Pa].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [K]

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        return self._saturated("bubble_temperature", pressure, check)

    def glide(self, pressure, check=True):
        """Dew minus bubble temperature at one pressure.

        Parameters
        ----------
        pressure : array_like
            Absolute [Pa].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [K]

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        dew = self.dew_temperature(pressure, check)
        return dew - self.bubble_temperature(pressure, check=False)

    def dew_pressure(self, temperature, check=True):
        """Absolute pressure at a dew temperature.

        Parameters
        ----------
        temperature : array_like
            [K]
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [Pa]

        Raises
        ------
        OutOfRange
            If a temperature lies outside `temperature_range`.
        """
        return self._pressure("dew", temperature, self.temperature_range, check)

    def bubble_pressure(self, temperature, check=True):
        """Absolute pressure at a bubble temperature.

        Parameters
        ----------
        temperature : array_like
            [K]
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [Pa]

        Raises
        ------
        OutOfRange
            If a temperature lies outside the bubble temperatures of `pressure_range`.
        """
        return self._pressure("bubble", temperature, self._bubble_range, check)

    def superheat(self, pressure, temperature, check=True):
        """Superheat: temperature above the dew point.

        Parameters
        ----------
        pressure, temperature : array_like
            Absolute [Pa], [K].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            A temperature difference [K]; negative where the temperature is below dew.

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        return np.asarray(temperature, float) - self.dew_temperature(pressure, check)

    def subcooling(self, pressure, temperature, check=True):
        """Subcooling: temperature below the bubble point.

        Parameters
        ----------
        pressure, temperature : array_like
            Absolute [Pa], [K].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            A temperature difference [K]; negative where the temperature is above bubble.

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        return self.bubble_temperature(pressure, check) - np.asarray(temperature, float)

    def saturation(self, pressure, check=True):
        """Everything on the bubble and dew lines at pressures.

        Parameters
        ----------
        pressure : array_like
            Absolute [Pa].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        Saturation

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range`.
        """
        p = np.asarray(pressure, float)
        self._check_pressure(p, check)
        columns = self._properties.saturation(_log(p.ravel()))
        value = dict(zip(SATURATION, columns.T.reshape(-1, *p.shape), strict=True))
        return Saturation(
            pressure=p[()],
            bubble_temperature=value["bubble_temperature"][()],
            dew_temperature=value["dew_temperature"][()],
            liquid_enthalpy=value["bubble_enthalpy"][()],
            vapour_enthalpy=value["dew_enthalpy"][()],
            liquid_entropy=value["bubble_entropy"][()],
            vapour_entropy=value["dew_entropy"][()],
            liquid_density=p / value["bubble_pv"],
            vapour_density=p / value["dew_pv"],
            liquid_heat_capacity=value["liquid_heat_capacity"][()],
            vapour_heat_capacity=value["vapour_heat_capacity"][()],
            liquid_viscosity=value["liquid_viscosity"][()],
            vapour_viscosity=value["vapour_viscosity"][()],
            liquid_conductivity=value["liquid_conductivity"][()],
            vapour_conductivity=value["vapour_conductivity"][()],
            surface_tension=value["surface_tension"][()],
        )

    # states -------------------------------------------------------------------------------------

    def state_ph(self, pressure, enthalpy, check=True):
        """States at pressures and enthalpies.

        Parameters
        ----------
        pressure, enthalpy : array_like
            Absolute [Pa], [J/kg].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        State

        Raises
        ------
        OutOfRange
            If a pressure or an enthalpy lies outside the table.
        """
        p, h = _broadcast(pressure, enthalpy)
        self._check_pressure(p, check)
        return self._state(p, h, check)

    def state_pt(self, pressure, temperature, check=True):
        """States at pressures and temperatures.

        A pure refrigerant exactly at saturation counts as vapour. Between bubble and dew a blend
        is two-phase and the answer lies in the dome.

        Parameters
        ----------
        pressure, temperature : array_like
            Absolute [Pa], [K].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        State

        Raises
        ------
        OutOfRange
            If a pressure or a temperature lies outside the table.
        """
        p, temperature = _broadcast(pressure, temperature)
        self._check_pressure(p, check)
        h = self._enthalpy("temperature", p, temperature, check)
        return self._state(p, h, False)

    def state_ps(self, pressure, entropy, check=True):
        """States at pressures and entropies.

        Parameters
        ----------
        pressure, entropy : array_like
            Absolute [Pa], [J/(kg K)].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        State

        Raises
        ------
        OutOfRange
            If a pressure or an entropy lies outside the table.
        """
        p, s = _broadcast(pressure, entropy)
        self._check_pressure(p, check)
        h = self._enthalpy("entropy", p, s, check)
        return self._state(p, h, False)

    def state_px(self, pressure, quality, check=True):
        """Two-phase states at pressures and qualities.

        Parameters
        ----------
        pressure, quality : array_like
            Absolute [Pa], vapour mass fraction from 0 to 1.
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        State

        Raises
        ------
        OutOfRange
            If a pressure lies outside `pressure_range` or a quality outside 0 to 1.
        """
        p, x = _broadcast(pressure, quality)
        self._check_pressure(p, check)
        if check:
            self._refuse("quality", x, 0.0, 1.0, "ratio")
        u = _log(p.ravel())
        bubble = self._properties.saturated("bubble_enthalpy", u).reshape(p.shape)
        dew = self._properties.saturated("dew_enthalpy", u).reshape(p.shape)
        return self._state(p, bubble + x * (dew - bubble), False)

    def liquid_enthalpy(self, pressure, temperature, check=True):
        """Enthalpy of subcooled liquid; above the bubble point that of boiling liquid.

        Parameters
        ----------
        pressure, temperature : array_like
            Absolute [Pa], [K].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [J/kg]

        Raises
        ------
        OutOfRange
            If a pressure or a temperature lies outside the table.
        """
        p, temperature = _broadcast(pressure, temperature)
        self._check_pressure(p, check)
        bubble = self.bubble_temperature(p, check=False)
        # A hair below bubble: at bubble itself a pure refrigerant would count as vapour.
        cold = np.minimum(temperature, bubble * (1 - 1e-14))
        return self._enthalpy("temperature", p, cold, check)[()]

    def vapour_enthalpy(self, pressure, temperature, check=True):
        """Enthalpy of superheated vapour; below the dew point that of saturated vapour.

        Parameters
        ----------
        pressure, temperature : array_like
            Absolute [Pa], [K].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [J/kg]

        Raises
        ------
        OutOfRange
            If a pressure or a temperature lies outside the table.
        """
        p, temperature = _broadcast(pressure, temperature)
        self._check_pressure(p, check)
        warm = np.maximum(temperature, self.dew_temperature(p, check=False))
        return self._enthalpy("temperature", p, warm, check)[()]

    def heat_capacity(self, pressure, enthalpy, check=True):
        """Heat capacity at constant pressure, dh/dT, of a single phase.

        In the dome of a blend it is the apparent one, latent heat over glide; in that of a pure
        refrigerant it is infinite.

        Parameters
        ----------
        pressure, enthalpy : array_like
            Absolute [Pa], [J/kg].
        check : bool, optional
            Refuse values outside the range.

        Returns
        -------
        numpy.ndarray or float
            [J/(kg K)]

        Raises
        ------
        OutOfRange
            If a pressure or an enthalpy lies outside the table.
        """
        p, h = _broadcast(pressure, enthalpy)
        self._check_pressure(p, check)
        if check:
            self._state(p, h, True)
        slope = self._properties.temperature_slope(_log(p.ravel()), h.ravel())
        with np.errstate(divide="ignore"):
            return (1 / slope).reshape(p.shape)[()]

    # inside -------------------------------------------------------------------------------------

    def _ends(self, side):
        ends = self._properties.saturated(f"{side}_temperature", np.log(self.pressure_range))
        return float(ends[0]), float(ends[1])

    def _saturated(self, name, pressure, check):
        p = np.asarray(pressure, float)
        self._check_pressure(p, check)
        return self._properties.saturated(name, _log(p.ravel())).reshape(p.shape)[()]

    def _pressure(self, side, temperature, valid, check):
        temperature = np.asarray(temperature, float)
        if check:
            slack = 1e-9 * valid[1]
            self._refuse(f"{side} temperature", temperature, *valid, "temperature", slack)
        u = self._properties.log_pressure(side, temperature.ravel())
        return np.exp(u).reshape(temperature.shape)[()]

    def _enthalpy(self, kind, p, value, check):
        u = _log(p.ravel())
        h, region, z = self._properties.enthalpy(kind, u, value.ravel())
        if check:
            self._check_position(kind, p.ravel(), value.ravel(), region, z)
        return h.reshape(p.shape)

    def _state(self, p, h, check):
        flat_p, flat_h = p.ravel(), h.ravel()
        values, region, z = self._properties.by_enthalpy(_log(flat_p), flat_h)
        if check:
            self._check_position("enthalpy", flat_p, flat_h, region, z)
        temperature, entropy, pv, quality = values.reshape(4, *p.shape)
        return State(
            pressure=p[()],
            temperature=temperature[()],
            enthalpy=h[()],
            entropy=entropy[()],
            density=p / np.maximum(pv, 1e-6 * np.abs(pv).max(initial=1.0)),
            quality=quality[()],
        )

    def _check_pressure(self, p, check):
        if check:
            slack = 1e-9 * self.pressure_range[1]
            self._refuse("pressure", p, *self.pressure_range, "pressure", slack)

    def _refuse(self, quantity, values, low, high, kind, slack=0.0):
        bad = ~((values >= low - slack) & (values <= high + slack))
        if bad.any():
            value = np.ravel(values)[np.argmax(bad)]
            raise OutOfRange(f"{quantity} of {self.name}", value, low, high, kind)

    def _check_position(self, kind, p, value, region, z):
        bad = ~(z <= 1 + 1e-9)
        if not bad.any():
            return
        k = int(np.argmax(bad))
        frame = self._properties.position(kind, _log(p[k : k + 1]), value[k : k + 1])[2][0]
        bubble, dew, liquid_span, vapour_span = frame
        phase = "vapour" if region[k] == VAPOUR else "liquid"
        raise OutOfRange(
            f"{phase} {kind} of {self.name} at this pressure",
            value[k],
            bubble - liquid_span,
            dew + vapour_span,
            kind,
        )


def _broadcast(first, second):
    first, second = np.asarray(first, float), np.asarray(second, float)
    if first.shape == second.shape:
        return first, second
    return np.broadcast_arrays(first, second)


def _log(pressure):
    """Natural logarithm that stays finite for pressures a solver may try."""
    return np.log(np.maximum(pressure, 1.0))
