"""The search for the mass flux: many tubes in one iteration, the stubborn few by bisection."""

from __future__ import annotations

import copy
from dataclasses import dataclass
from functools import cache

import numpy as np

from .tube import friction_factor, homogeneous_viscosity

# Sharp-edged inlet flush with a wall; any fluid mechanics text.
ENTRANCE_LOSS = 0.5

_NODES = 10
_ROUNDS = 30
_STEPS = 200  # of the careful march
_BISECTIONS = 40
_TOLERANCE = 1e-10
_KNOWN_DRIFT = 2.5e-3  # of (ln p)^2, below which the end is good enough to set a bracket
_HOTTEST = 2.0  # latent heats above boiling liquid: hotter gas in a solver's trial counts as this
_LEAST_SPAN = 1e-6  # of ln p, where flashing starts at the end of the tube or not at all


@cache
def _lobatto(count):
    """Gauss-Lobatto nodes and weights on [0, 1] and the matrix that differentiates there."""
    legendre = np.polynomial.legendre.Legendre.basis(count - 1)
    nodes = np.concatenate([[-1.0], np.sort(legendre.deriv().roots().real), [1.0]])
    weights = 2.0 / (count * (count - 1) * legendre(nodes) ** 2)
    gaps = nodes[:, None] - nodes[None, :]
    np.fill_diagonal(gaps, 1.0)
    barycentric = 1.0 / gaps.prod(axis=1)
    derivative = barycentric[None, :] / barycentric[:, None] / gaps
    np.fill_diagonal(derivative, 0.0)
    np.fill_diagonal(derivative, -derivative.sum(axis=1))
    return 0.5 * (nodes + 1.0), 0.5 * weights, 2.0 * derivative


class Tubes:
    """Flat arrays of the inputs, and how much tube a given mass flux can push through.

    The two-phase part runs from where flashing starts to the end of the tube. With stagnation
    enthalpy h0 constant along it, h_l + x h_lv + G² (v_l + x v_lv)²/2 = h0 is a quadratic in x.
    """

    def __init__(self, tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure):
        arguments = (
            inlet_pressure,
            inlet_enthalpy,
            outlet_pressure,
            tube.inner_diameter,
            tube.length,
            tube.roughness,
        )
        fields = np.broadcast_arrays(*(np.asarray(each, dtype=float) for each in arguments))
        self.shape = fields[0].shape
        self.inlet, self.enthalpy, self.outlet, self.bore, self.length, self.roughness = (
            field.ravel() for field in fields
        )
        self.refrigerant = refrigerant
        self.floor = refrigerant.pressure_range[0]

    def prepare(self):
        """Find what does not depend on the mass flux: where flashing starts, the inlet volume."""
        at_inlet = self.refrigerant.saturation(self.inlet, check=False)
        hottest = at_inlet.liquid_enthalpy + _HOTTEST * at_inlet.latent_heat
        self.enthalpy = np.minimum(self.enthalpy, hottest)
        self.flash = self._flash_pressure()
        sat = self.refrigerant.saturation(self.flash, check=False)
        self.liquid_volume = 1.0 / sat.liquid_density
        self.quality = np.clip((self.enthalpy - sat.liquid_enthalpy) / sat.latent_heat, 0.0, 1.0)
        self.viscosity = homogeneous_viscosity(
            self.quality, sat.liquid_viscosity, sat.vapour_viscosity
        )
        volume = self.liquid_volume + self.quality * (1.0 / sat.vapour_density - self.liquid_volume)
        self.entrance = 0.5 * (1.0 + ENTRANCE_LOSS) * volume
        self.lowest = np.log(np.maximum(self.outlet, self.floor))

    def _flash_pressure(self):
        """Pressure at which saturated liquid has the inlet enthalpy, at most the inlet's [Pa]."""
        saturation = self.refrigerant.saturation
        low, high = np.log(self.floor), np.log(self.inlet)
        log_pressure = high
        for _ in range(_ROUNDS):
            here = saturation(np.exp(log_pressure), check=False).liquid_enthalpy
            near = saturation(np.exp(log_pressure - 1e-4), check=False).liquid_enthalpy
            moved = np.clip(log_pressure + 1e-4 * (self.enthalpy - here) / (here - near), low, high)
            shift = np.max(np.abs(moved - log_pressure), initial=0.0)
            log_pressure = moved
            if shift < _TOLERANCE:
                break
        return np.exp(log_pressure)

    def mixture(self, square, pressure):
        """Specific volume, quality and viscosity where G² passes these pressures (tube, node)."""
        sat = self.refrigerant.saturation(pressure, check=False)
        liquid = 1.0 / sat.liquid_density
        spread = 1.0 / sat.vapour_density - liquid
        square = square[:, None]
        a = 0.5 * square * spread * spread
        b = sat.latent_heat + square * liquid * spread
        c = self.enthalpy[:, None] - sat.liquid_enthalpy - 0.5 * square * liquid * liquid
        quality = 2.0 * c / (b + np.sqrt(np.maximum(b * b + 4.0 * a * c, 0.0)))
        viscosity = homogeneous_viscosity(
            np.clip(quality, 0.0, 1.0), sat.liquid_viscosity, sat.vapour_viscosity
        )
        volume = np.maximum(liquid + quality * spread, 0.5 * liquid)
        return volume, quality, viscosity

    def rub(self, flux, viscosity):
        """Friction factor in tubes (first axis), at any number of places along them."""
        bore, rough = (
            each.reshape(-1, *[1] * (np.ndim(viscosity) - 1))
            for each in (self.bore, self.roughness)
        )
        return friction_factor(flux * bore / viscosity, rough / bore)

    def liquid_part(self, square):
        """Length that liquid fills, and ln of the pressure where the rest starts."""
        start = np.maximum(self.inlet - square * self.entrance, self.outlet)
        fall = np.maximum(start - np.maximum(self.flash, self.outlet), 0.0)
        rub = self.rub(np.sqrt(square), self.viscosity)
        length = 2.0 * self.bore * fall / (rub * square * self.liquid_volume)
        return length, np.log(np.minimum(self.flash, start))

    def push(self, square, log_end):
        """Length that G² can be pushed through, split in two, and where the choke would be.

        Parameters
        ----------
        square : ndarray
            G². [kg2/(m4 s2)]
        log_end : ndarray
            ln of the pressure inside the end of the tube.

        Returns
        -------
        liquid, two_phase : ndarray
            Lengths; not positive where the entrance alone uses up the pressure. [m]
        log_choke : ndarray
            ln of the end pressure, one Newton step nearer to where the tube is longest.
        quality : ndarray
            At the end. [1]
        """
        share, weights, slope = _lobatto(_NODES)
        liquid, log_start = self.liquid_part(square)
        span = np.maximum(log_start - log_end, _LEAST_SPAN)
        pressure = np.exp((log_start - span)[:, None] + span[:, None] * share)
        volume, quality, viscosity = self.mixture(square, pressure)
        rub = self.rub(np.sqrt(square)[:, None], viscosity)
        drive = pressure / (square[:, None] * volume)
        resist = -(volume @ slope.T) / (span[:, None] * volume)
        two_phase = 2.0 * self.bore * span * (((drive - resist) / rub) @ weights)
        two_phase = np.where(log_start > log_end, two_phase, 0.0)

        excess = np.log(drive / np.maximum(resist, 1e-9))
        steepness = np.maximum((excess @ slope[0]) / span, 0.3)
        log_choke = log_start - span - np.clip(excess[:, 0] / steepness, -0.5, 0.5)
        return liquid, two_phase, np.minimum(log_choke, log_start), quality[:, 0]

    def only(self, chosen):
        """Keep some of the tubes."""
        part = copy.copy(self)
        for name, value in vars(self).items():
            if isinstance(value, np.ndarray):
                setattr(part, name, value[chosen])
        return part

    def solve(self, start=None):
        """G² and the state at the end, quickly; where that does not settle, carefully first.

        Parameters
        ----------
        start : tuple of two ndarray, optional
            Mass flux and pressure inside the end of tubes like these; a flux of 0 says nothing.
            [kg/(m2 s)], [Pa]

        Returns
        -------
        Solution
        """
        high = np.log((self.inlet - self.outlet) / self.entrance)
        guess = self.bore / self.length * (self.inlet - self.outlet) / (0.03 * self.entrance)
        log_square = np.minimum(np.log(guess), high - 0.1)
        log_end = np.maximum(np.log(self.flash) - 1.2, self.lowest)
        if start is None:
            found = self.iterate(log_square, log_end, high)
        else:
            flux, end = start
            known = flux > 0.0
            near = np.where(known, 2.0 * np.log(np.where(known, flux, 1.0)), log_square)
            near_end = np.where(known, np.log(end), log_end)
            found = self.iterate(
                np.minimum(near, high - 0.1), np.maximum(near_end, self.lowest), high
            )
            left = np.flatnonzero(~found.settled)
            if left.size:
                afresh = self.only(left).iterate(log_square[left], log_end[left], high[left])
                found.replace(left, afresh)
        if not found.settled.all():
            left = ~found.settled
            part = self.only(left)
            log_square, log_end = part.bisect(high[left])
            better = part.iterate(log_square, log_end, high[left])
            rough = Solution(log_square, log_end, *part.push(np.exp(log_square), log_end))
            better.replace(~better.settled, rough)
            found.replace(left, better)
        return found

    def iterate(self, log_square, log_end, high):
        """Secant in ln G² inside a bracket, the choke one step behind; the settled leave.

        At the choke the length is stationary in the end pressure, so that an end still a little
        off does not disturb the search for G².
        """
        count = len(log_square)
        whole = Solution(*np.empty((6, count)), settled=np.zeros(count, dtype=bool))
        part, todo = self, np.arange(count)
        low = high - 40.0
        slope = np.full_like(log_square, 1.2)
        last_square = last_miss = None
        for _ in range(_ROUNDS):
            pushed = part.push(np.exp(log_square), log_end)
            liquid, two_phase, log_choke, _ = pushed
            reach = liquid + two_phase
            possible = reach > 0.0
            miss = np.where(possible, np.log(part.length / np.where(possible, reach, 1.0)), 2.0)
            if last_square is not None:
                change = log_square - last_square
                known = possible & (np.abs(change) > 1e-7)
                secant = (miss - last_miss) / np.where(known, change, 1.0)
                slope = np.where(known, np.clip(secant, 0.5, 50.0), slope)
            new_end = np.maximum(log_choke, part.lowest)
            drift = np.square(new_end - log_end)
            settled = possible & (np.abs(miss) + drift < _TOLERANCE)
            whole.put(todo, Solution(log_square, log_end, *pushed, settled=settled))
            if settled.all():
                break
            low = np.where(miss < 0.0, np.maximum(low, log_square), low)
            known_end = drift < np.minimum(_KNOWN_DRIFT, 0.1 * np.abs(miss))
            high = np.where(known_end & (miss > 0.0), np.minimum(high, log_square), high)
            tried = log_square - np.clip(miss / slope, -1.0, 1.0)
            tried = np.where((tried > low) & (tried < high), tried, 0.5 * (low + high))
            last_square, last_miss = log_square, miss
            log_square, log_end = tried, new_end
            if settled.any():
                left = ~settled
                part, todo = part.only(left), todo[left]
                low, high, slope, log_square, log_end, last_square, last_miss = (
                    each[left]
                    for each in (low, high, slope, log_square, log_end, last_square, last_miss)
                )
        return whole

    def march(self, square, log_start, log_end, points):
        """Pressure, quality and length along the flashing part, by many small steps."""
        share = np.linspace(0.0, 1.0, points)
        span = np.maximum(log_start - log_end, _LEAST_SPAN)
        pressure = np.exp(log_start[:, None] - span[:, None] * share)
        volume, quality, viscosity = self.mixture(square, pressure)
        rub = self.rub(np.sqrt(square)[:, None], viscosity)
        middle = 0.25 * (rub[:, 1:] + rub[:, :-1]) * (volume[:, 1:] + volume[:, :-1])
        steps = np.diff(pressure) / square[:, None] + np.diff(volume)
        length = np.cumsum(-2.0 * self.bore[:, None] * steps / middle, axis=1)
        return pressure, quality, np.concatenate([np.zeros_like(length[:, :1]), length], axis=1)

    def bisect(self, high):
        """Find G² by halving, the length by a march down to where it is greatest."""
        low, high = high - 40.0, high.copy()
        for _ in range(_BISECTIONS):
            log_square = 0.5 * (low + high)
            square = np.exp(log_square)
            liquid, log_start = self.liquid_part(square)
            pressure, _, along = self.march(square, log_start, self.lowest, _STEPS)
            enough = liquid + along.max(axis=1) > self.length
            low, high = np.where(enough, log_square, low), np.where(enough, high, log_square)
        end = np.take_along_axis(pressure, along.argmax(axis=1)[:, None], axis=1)[:, 0]
        return log_square, np.log(end)


@dataclass
class Solution:
    """G², the pressure inside the end and what `Tubes.push` says there; one row a tube."""

    log_square: np.ndarray
    log_end: np.ndarray
    liquid: np.ndarray
    two_phase: np.ndarray
    log_choke: np.ndarray
    quality: np.ndarray
    settled: np.ndarray | None = None

    def replace(self, chosen, other):
        """Put another solution's rows in place of the chosen ones."""
        many = len(other.log_square) == len(self.log_square)
        for name, value in vars(other).items():
            if value is not None:
                getattr(self, name)[chosen] = value[chosen] if many else value

    def put(self, index, other):
        """Put all rows of another solution in place of these."""
        for name, value in vars(other).items():
            getattr(self, name)[index] = value
