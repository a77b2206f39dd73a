"""Bubble and dew lines of a refrigerant, for arrays of any shape.

The one place where superheat is counted from the dew point and subcooling from the bubble point.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from ..errors import OutOfRange
from .states import Saturation
from .tables import SATURATION, Properties

WORTH_KNOWING = 0.5  # glide below which dew and bubble are one for a person with gauges [K]


class SaturationLines:
    """What a refrigerant does on its bubble and dew lines.

    Parameters
    ----------
    name : str
        For error messages.
    table : tables.Table
        As made by `build.make`.

    Attributes
    ----------
    pressure_range : tuple of float
        Valid absolute pressures, lowest and highest [Pa].
    temperature_range : tuple of float
        Dew temperatures at the ends of the pressure range [K].
    critical_pressure, critical_temperature : float
        [Pa], [K]
    """

    def __init__(self, name, table):
        self.name = name
        self._properties = Properties(table)
        self.pressure_range = self._properties.lowest, self._properties.highest
        self.critical_pressure = self._properties.critical_pressure
        self.critical_temperature = self._properties.critical_temperature
        self.temperature_range = self._ends("dew")
        self._bubble_range = self._ends("bubble")

    @cached_property
    def has_glide(self):
        """Whether dew and bubble differ by more than `WORTH_KNOWING` anywhere in the range."""
        return bool(np.max(self.glide(np.geomspace(*self.pressure_range, 25))) > WORTH_KNOWING)

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
        columns = self._properties.saturation(log_pressure(p.ravel()))
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

    def _ends(self, side):
        ends = self._properties.saturated(f"{side}_temperature", np.log(self.pressure_range))
        return float(ends[0]), float(ends[1])

    def _saturated(self, name, pressure, check):
        p = np.asarray(pressure, float)
        self._check_pressure(p, check)
        return self._properties.saturated(name, log_pressure(p.ravel())).reshape(p.shape)[()]

    def _pressure(self, side, temperature, valid, check):
        temperature = np.asarray(temperature, float)
        if check:
            slack = 1e-9 * valid[1]
            self._refuse(f"{side} temperature", temperature, *valid, "temperature", slack)
        u = self._properties.log_pressure(side, temperature.ravel())
        return np.exp(u).reshape(temperature.shape)[()]

    def _check_pressure(self, p, check):
        if check:
            slack = 1e-9 * self.pressure_range[1]
            self._refuse("pressure", p, *self.pressure_range, "pressure", slack)

    def _refuse(self, quantity, values, low, high, kind, slack=0.0):
        bad = ~((values >= low - slack) & (values <= high + slack))
        if bad.any():
            value = np.ravel(values)[np.argmax(bad)]
            raise OutOfRange(f"{quantity} of {self.name}", value, low, high, kind)


def log_pressure(pressure):
    """Natural logarithm that stays finite for pressures a solver may try."""
    return np.log(np.maximum(pressure, 1.0))
