"""Evaluation of a property table: everything without iteration, in a handful of numpy calls.

A table, made by `build`, is a set of splines in ln p whose values are saturation properties and
polynomials in a coordinate that runs from 0 to 1 across one of three regions. All arrays here are
one-dimensional; `fluid` brings shapes, checks and names.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from . import spline

TRANSPORT = (
    "liquid_viscosity",
    "vapour_viscosity",
    "liquid_conductivity",
    "vapour_conductivity",
    "surface_tension",
)
SATURATION = (
    "bubble_enthalpy",
    "dew_enthalpy",
    "liquid_enthalpy_span",
    "vapour_enthalpy_span",
    "bubble_temperature",
    "dew_temperature",
    "bubble_entropy",
    "dew_entropy",
    "liquid_entropy_span",
    "vapour_entropy_span",
    "liquid_temperature_span",
    "vapour_temperature_span",
    "bubble_pv",
    "dew_pv",
    "liquid_heat_capacity",
    "vapour_heat_capacity",
    *TRANSPORT,
)

REACH = 2  # in the coordinate of a region: up to here a polynomial goes on as a straight line
CHUNK = 1024  # states evaluated at once: their coefficients should fit into the cache
INVERSE_KNOTS = 256
LIQUID, DOME, VAPOUR = range(3)
BY_TEMPERATURE, BY_ENTROPY = range(2)


@dataclass(frozen=True)
class Table:
    """What one table file holds.

    Attributes
    ----------
    log_pressure : numpy.ndarray, shape (3,)
        Start, step and number of intervals of the knots in ln(p / Pa).
    limits : numpy.ndarray, shape (4,)
        Valid pressures from, to [Pa]; critical temperature [K] and pressure [Pa].
    saturation : numpy.ndarray, shape (knots, columns)
        Columns named in `SATURATION`, SI units.
    by_enthalpy : numpy.ndarray, shape (knots, 3 regions, 3, terms)
        Polynomials of temperature, entropy and p v in the enthalpy coordinate.
    to_enthalpy : numpy.ndarray, shape (knots, 3 regions, 2, terms)
        Polynomials of enthalpy in the temperature and in the entropy coordinate.
    """

    log_pressure: np.ndarray
    limits: np.ndarray
    saturation: np.ndarray
    by_enthalpy: np.ndarray
    to_enthalpy: np.ndarray

    @property
    def arrays(self):
        """The arrays by name, as stored."""
        return dict(vars(self))


class Properties:
    """Splines of one table.

    Parameters
    ----------
    table : Table
    """

    def __init__(self, table):
        start, step, count = table.log_pressure
        self.knots = spline.Knots(start, step, count)
        self.lowest, self.highest, self.critical_temperature, self.critical_pressure = (
            float(v) for v in table.limits
        )
        self.column = {name: k for k, name in enumerate(SATURATION)}
        self._saturation = spline.coefficients(table.saturation)
        self._frame = {
            kind: np.ascontiguousarray(self._saturation[:, self._columns(kind)])
            for kind in ("enthalpy", "temperature", "entropy")
        }
        self._by_enthalpy = _by_region(table.by_enthalpy)
        self._temperature_by_enthalpy = np.ascontiguousarray(self._by_enthalpy[:, 0])
        self._to_enthalpy = [
            _by_region(table.to_enthalpy[:, :, k : k + 1]) for k in (BY_TEMPERATURE, BY_ENTROPY)
        ]
        self._log_pressure_of = {
            side: self._inverse(self.column[f"{side}_temperature"]) for side in ("bubble", "dew")
        }

    def _columns(self, kind):
        names = (f"bubble_{kind}", f"dew_{kind}", f"liquid_{kind}_span", f"vapour_{kind}_span")
        return [self.column[name] for name in names]

    # saturation ---------------------------------------------------------------------------------

    def saturation(self, log_pressure):
        """All saturation columns, shape (n, columns)."""
        return spline.evaluate(self._saturation, *self.knots.locate(log_pressure))

    def saturated(self, name, log_pressure):
        """One saturation column, shape (n,)."""
        interval, powers = self.knots.locate(log_pressure)
        return np.einsum("nk,nk->n", powers, self._saturation[interval, self.column[name]])

    def log_pressure(self, side, temperature):
        """Logarithm of the bubble or dew pressure at temperatures, shape (n,)."""
        knots, guess_table = self._log_pressure_of[side]
        guess = spline.evaluate(guess_table, *knots.locate(temperature))[:, 0]
        return self._polish(self.column[f"{side}_temperature"], guess, temperature)

    def _polish(self, column, guess, target):
        """One Newton step on a saturation column."""
        interval, powers = self.knots.locate(guess)
        rows = self._saturation[interval, column]
        value = np.einsum("nk,nk->n", powers, rows)
        t = np.clip((guess - self.knots.start) / self.knots.step - interval, 0, 1)
        slope = np.einsum("nk,nk->n", spline.slope_powers(t), rows) / self.knots.step
        return guess + (target - value) / slope

    def _inverse(self, column):
        """Spline of ln p over uniform temperature knots."""
        u = np.linspace(self.knots.start, self.knots.values[-1], 8 * self.knots.count + 1)
        value = spline.evaluate(self._saturation, *self.knots.locate(u))[:, column]
        knots = spline.Knots(value[0], (value[-1] - value[0]) / INVERSE_KNOTS, INVERSE_KNOTS)
        target = knots.values
        guess = np.interp(target, value, u)
        for _ in range(4):
            guess = self._polish(column, guess, target)
        return knots, spline.coefficients(guess[:, None])

    # states -------------------------------------------------------------------------------------

    def position(self, kind, log_pressure, value):
        """Where values of one kind fall at pressures.

        Parameters
        ----------
        kind : {"enthalpy", "temperature", "entropy"}
        log_pressure, value : numpy.ndarray, shape (n,)

        Returns
        -------
        interval : numpy.ndarray of int, shape (n,)
        powers : numpy.ndarray, shape (n, 4)
        frame : numpy.ndarray, shape (n, 4)
            Bubble, dew, span of the liquid region, span of the vapour region.
        region : numpy.ndarray of int, shape (n,)
            0 liquid, 1 between bubble and dew, 2 vapour.
        coordinate : numpy.ndarray, shape (n,)
            From 0 at the saturation line (bubble in the dome) to 1 at the end of the region.
        """
        interval, powers = self.knots.locate(log_pressure)
        frame = spline.evaluate(self._frame[kind], interval, powers)
        bubble, dew, liquid_span, vapour_span = frame.T
        above_bubble = value - bubble
        above_dew = value - dew
        vapour = above_dew >= 0
        dome = (above_bubble >= 0) & ~vapour
        distance = np.where(vapour, above_dew, np.where(dome, above_bubble, -above_bubble))
        span = np.where(vapour, vapour_span, np.where(dome, dew - bubble, liquid_span))
        region = np.where(vapour, VAPOUR, np.where(dome, DOME, LIQUID))
        return interval, powers, frame, region, distance / span

    def by_enthalpy(self, log_pressure, enthalpy):
        """Temperature, entropy, p v and quality from pressure and enthalpy.

        Parameters
        ----------
        log_pressure, enthalpy : numpy.ndarray, shape (n,)

        Returns
        -------
        numpy.ndarray, shape (4, n)
            Temperature [K], entropy [J/(kg K)], p v [J/kg], quality (below 0 for subcooled
            liquid, above 1 for superheated vapour).
        region : numpy.ndarray of int, shape (n,)
        coordinate : numpy.ndarray, shape (n,)
        """
        count = len(enthalpy)
        result = np.empty((4, count))
        region = np.empty(count, np.intp)
        coordinate = np.empty(count)
        for first in range(0, count, CHUNK):
            part = slice(first, first + CHUNK)
            interval, powers, frame, where, z = self.position(
                "enthalpy", log_pressure[part], enthalpy[part]
            )
            result[:3, part] = self._polynomials(self._by_enthalpy, interval, where, powers, z).T
            result[3, part] = (enthalpy[part] - frame[:, 0]) / (frame[:, 1] - frame[:, 0])
            region[part] = where
            coordinate[part] = z
        return result, region, coordinate

    def enthalpy(self, kind, log_pressure, value):
        """Enthalpy from pressure and temperature or entropy.

        Near the critical point enthalpy climbs steeply with temperature; there the polynomial is
        brought in line with that of temperature in enthalpy by one Newton step.

        Parameters
        ----------
        kind : {"temperature", "entropy"}
        log_pressure, value : numpy.ndarray, shape (n,)

        Returns
        -------
        enthalpy : numpy.ndarray, shape (n,)
        region : numpy.ndarray of int, shape (n,)
        coordinate : numpy.ndarray, shape (n,)
        """
        table = self._to_enthalpy[BY_TEMPERATURE if kind == "temperature" else BY_ENTROPY]
        count = len(value)
        result = np.empty(count)
        region = np.empty(count, np.intp)
        coordinate = np.empty(count)
        for first in range(0, count, CHUNK):
            part = slice(first, first + CHUNK)
            interval, powers, _, where, z = self.position(kind, log_pressure[part], value[part])
            h = self._polynomials(table, interval, where, powers, z)[:, 0]
            if kind == "temperature":
                step = self._newton_step(interval, powers, where, h, value[part])
                h += np.where((where != DOME) & (z <= 1), step, 0)
            result[part] = h
            region[part] = where
            coordinate[part] = z
        return result, region, coordinate

    def _newton_step(self, interval, powers, region, enthalpy, temperature):
        """Change of enthalpy that brings T(p, h) to the temperature, to first order."""
        frame = spline.evaluate(self._frame["enthalpy"], interval, powers)
        bubble, dew, liquid_span, vapour_span = frame.T
        vapour = region == VAPOUR
        span = np.where(vapour, vapour_span, -liquid_span)
        z = (enthalpy - np.where(vapour, dew, bubble)) / span
        rows = self._temperature_by_enthalpy[region * self.knots.count + interval]
        terms = rows.shape[-1] // powers.shape[-1]
        reached = np.einsum("nk,nk->n", _products(powers, _weights(z, terms)), rows)
        slope = np.einsum("nk,nk->n", _products(powers, _slope_weights(z, terms)), rows)
        slope[region == DOME] = 1
        return (temperature - reached) * span / slope

    def _polynomials(self, table, interval, region, powers, z):
        products = _products(powers, _weights(z, table.shape[-1] // powers.shape[-1]))
        return np.einsum("nk,npk->np", products, table[region * self.knots.count + interval])

    def temperature_slope(self, log_pressure, enthalpy):
        """dT/dh at constant pressure [K kg/J], shape (n,)."""
        interval, powers, frame, region, z = self.position("enthalpy", log_pressure, enthalpy)
        rows = self._temperature_by_enthalpy[region * self.knots.count + interval]
        weights = _slope_weights(z, rows.shape[-1] // powers.shape[-1])
        slope = np.einsum("nk,nk->n", _products(powers, weights), rows)
        bubble, dew, liquid_span, vapour_span = frame.T
        return slope / np.choose(region, (-liquid_span, dew - bubble, vapour_span))


def _by_region(nodes):
    """Spline coefficients with one row of all powers for each region and interval.

    From (knots, regions, properties, terms) to (regions * intervals, properties, 4 * terms), the
    powers of ln p outermost.
    """
    powers = spline.coefficients(nodes)
    rows = np.moveaxis(powers, 1, 0)
    rows = np.swapaxes(rows, -1, -2)
    regions, intervals, properties = rows.shape[:3]
    return np.ascontiguousarray(rows).reshape(regions * intervals, properties, -1)


def _products(powers, weights):
    """Every power of ln p times every power of the coordinate, shape (n, 4 * terms)."""
    return (powers[:, :, None] * weights[:, None, :]).reshape(len(weights), -1)


def _weights(z, terms):
    """Powers of z; from 1 to `REACH` the polynomial goes on as a straight line, then constant."""
    inside = np.minimum(z, 1)
    weights = np.empty((len(z), terms))
    weights[:, 0] = 1
    for k in range(1, terms):
        np.multiply(weights[:, k - 1], inside, out=weights[:, k])
    if inside.size and z.max() > 1:
        weights += (np.minimum(z, REACH) - inside)[:, None] * np.arange(terms)
    return weights


def _slope_weights(z, terms):
    """Differentiate the powers of z."""
    inside = np.minimum(z, 1)
    weights = np.zeros((len(z), terms))
    power = np.ones(len(z))
    for k in range(1, terms):
        weights[:, k] = k * power
        power = power * inside
    return weights
