"""A refrigerant: its saturation lines, and its states from any two properties."""

from __future__ import annotations

import numpy as np

from ..errors import OutOfRange
from .lines import SaturationLines, log_pressure
from .states import State
from .tables import VAPOUR


class Refrigerant(SaturationLines):
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
    """

    def __init__(self, facts, table):
        super().__init__(facts.name, table)
        self.facts = facts

    def __repr__(self):
        return f"<Refrigerant {self.name}>"

    @property
    def is_blend(self):
        """Whether it has more than one component."""
        return self.facts.is_blend

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
        u = log_pressure(p.ravel())
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
        slope = self._properties.temperature_slope(log_pressure(p.ravel()), h.ravel())
        with np.errstate(divide="ignore"):
            return (1 / slope).reshape(p.shape)[()]

    def _enthalpy(self, kind, p, value, check):
        u = log_pressure(p.ravel())
        h, region, z = self._properties.enthalpy(kind, u, value.ravel())
        if check:
            self._check_position(kind, p.ravel(), value.ravel(), region, z)
        return h.reshape(p.shape)

    def _state(self, p, h, check):
        flat_p, flat_h = p.ravel(), h.ravel()
        values, region, z = self._properties.by_enthalpy(log_pressure(flat_p), flat_h)
        if check:
            self._check_position("enthalpy", flat_p, flat_h, region, z)
        temperature, entropy, pv, quality = values.reshape(4, *p.shape)
        return State(
            pressure=p[()],
            temperature=temperature[()],
            enthalpy=h[()],
            entropy=entropy[()],
            density=p / pv,
            quality=quality[()],
        )

    def _check_position(self, kind, p, value, region, z):
        bad = ~(z <= 1 + 1e-9)
        if not bad.any():
            return
        k = int(np.argmax(bad))
        frame = self._properties.position(kind, log_pressure(p[k : k + 1]), value[k : k + 1])[2][0]
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
