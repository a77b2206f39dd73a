"""The homogeneous model: friction, flashing and choking, for any number of tubes at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..errors import OutOfRange
from .tube import friction_factor, homogeneous_viscosity

# Sharp-edged inlet flush with a wall; any fluid mechanics text.
ENTRANCE_LOSS = 0.5

_NODES = 10
_ROUNDS = 60
_TOLERANCE = 1e-10
_LEAST_SPAN = 1e-6  # of ln p, where flashing starts at the end of the tube or not at all


@dataclass(frozen=True)
class CapTubeFlow:
    """What passes a capillary tube; every field has the shape of the broadcast inputs.

    Attributes
    ----------
    mass_flow : ndarray
        [kg/s]
    mass_flux : ndarray
        Mass flow over the cross-section. [kg/(m2 s)]
    choked : ndarray of bool
        The pressure inside the end stays above the outlet pressure; lowering that changes nothing.
    exit_pressure : ndarray
        Just inside the end of the tube. [Pa]
    exit_quality : ndarray
        Mass quality just inside the end, at the speed it has there. [1]
    flash_pressure : ndarray
        Pressure where the entering liquid starts to flash; for a flashing inlet the inlet
        pressure. [Pa]
    liquid_length : ndarray
        Length still filled with liquid. [m]
    """

    mass_flow: np.ndarray
    mass_flux: np.ndarray
    choked: np.ndarray
    exit_pressure: np.ndarray
    exit_quality: np.ndarray
    flash_pressure: np.ndarray
    liquid_length: np.ndarray


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


class _Tubes:
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
        flux = np.sqrt(square)
        start = np.maximum(self.inlet - square * self.entrance, self.outlet)
        rub = friction_factor(flux * self.bore / self.viscosity, self.roughness / self.bore)
        liquid = (
            2.0
            * self.bore
            * np.maximum(start - np.maximum(self.flash, self.outlet), 0.0)
            / (rub * square * self.liquid_volume)
        )
        log_start = np.log(np.minimum(self.flash, start))
        span = np.maximum(log_start - log_end, _LEAST_SPAN)
        pressure = np.exp((log_start - span)[:, None] + span[:, None] * share)
        volume, quality, viscosity = self.mixture(square, pressure)
        rub = friction_factor(
            (flux * self.bore)[:, None] / viscosity, (self.roughness / self.bore)[:, None]
        )
        drive = pressure / (square[:, None] * volume)
        resist = -(volume @ slope.T) / (span[:, None] * volume)
        two_phase = 2.0 * self.bore * span * (((drive - resist) / rub) @ weights)
        two_phase = np.where(log_start > log_end, two_phase, 0.0)

        excess = np.log(drive / np.maximum(resist, 1e-9))
        steepness = np.maximum((excess @ slope[0]) / span, 0.3)
        log_choke = log_start - span - np.clip(excess[:, 0] / steepness, -0.5, 0.5)
        return liquid, two_phase, np.minimum(log_choke, log_start), quality[:, 0]

    def solve(self):
        """G² and the end state: secant in ln G² inside a bracket, the choke one step behind.

        At the choke the length is stationary in the end pressure, so that an end still a little
        off does not disturb the search for G².
        """
        high = np.log((self.inlet - self.outlet) / self.entrance)
        low = high - 30.0
        guess = 2.0 * self.bore / self.length * (self.inlet - self.outlet) / (0.06 * self.entrance)
        log_square = np.minimum(np.log(guess), high - 0.1)
        log_end = np.maximum(np.log(self.flash) - 1.2, self.lowest)
        slope = np.full_like(log_square, 1.2)
        last_square = last_miss = None
        for _ in range(_ROUNDS):
            square = np.exp(log_square)
            liquid, two_phase, log_choke, quality = self.push(square, log_end)
            reach = liquid + two_phase
            possible = reach > 0.0
            miss = np.where(possible, np.log(self.length / np.where(possible, reach, 1.0)), 2.0)
            if last_square is not None:
                change = log_square - last_square
                known = possible & (np.abs(change) > 1e-7)
                secant = (miss - last_miss) / np.where(known, change, 1.0)
                slope = np.where(known, np.clip(secant, 0.5, 50.0), slope)
            last_square, last_miss = log_square, miss
            new_end = np.maximum(log_choke, self.lowest)
            drift = np.square(new_end - log_end)
            low = np.where(miss < 0.0, np.maximum(low, log_square), low)
            high = np.where(miss > 10.0 * drift, np.minimum(high, log_square), high)
            tried = log_square - miss / slope
            tried = np.where((tried > low) & (tried < high), tried, 0.5 * (low + high))
            settled = np.abs(miss) + drift < _TOLERANCE
            if np.all(settled):
                break
            log_square = np.where(settled, log_square, tried)
            log_end = new_end
        return square, liquid, quality, log_choke, log_end


def flow(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure, *, check=True):
    """Mass flow through an adiabatic capillary tube, choked or not.

    Along the tube dL = -(2D/f) (dp/(G² v) + dv/v) at constant stagnation enthalpy, with Churchill's
    friction factor and the mixture viscosity of McAdams; choking is where the length would be
    greatest. This is the homogeneous model of the textbooks (Stoecker and Jones 1982, ch. 13).

    Parameters
    ----------
    tube : CapTube
        Its fields may be arrays.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    inlet_pressure : array_like
        In front of the tube. [Pa]
    inlet_enthalpy : array_like
        In front of the tube; subcooled liquid or two-phase. [J/kg]
    outlet_pressure : array_like
        In the evaporator. [Pa]
    check : bool
        Refuse what the model does not cover. Without it the answer is always finite, and the flow
        is 0 where the outlet pressure is not below the inlet's.

    Returns
    -------
    CapTubeFlow
        Arrays of the broadcast shape.

    Raises
    ------
    OutOfRange
        With ``check``: a pressure outside the refrigerant's range, an outlet pressure not below
        the inlet's, or a superheated inlet.
    """
    tubes = _Tubes(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    if check:
        _check(tubes)
    still = tubes.outlet >= tubes.inlet * (1.0 - 1e-6)
    tubes.outlet = np.where(still, 0.5 * tubes.inlet, tubes.outlet)
    tubes.prepare()
    square, liquid, quality, log_choke, log_end = tubes.solve()
    flux = np.where(still, 0.0, np.sqrt(square))
    fields = {
        "mass_flow": flux * 0.25 * np.pi * np.square(tubes.bore),
        "mass_flux": flux,
        "choked": ~still & (log_choke > np.log(tubes.outlet) + 1e-6),
        "exit_pressure": np.where(still, tubes.inlet, np.exp(log_end)),
        "exit_quality": np.where(still, tubes.quality, np.clip(quality, 0.0, 1.0)),
        "flash_pressure": tubes.flash,
        "liquid_length": np.minimum(liquid, tubes.length),
    }
    return CapTubeFlow(**{name: value.reshape(tubes.shape) for name, value in fields.items()})


def _check(tubes):
    low, high = tubes.refrigerant.pressure_range
    name = tubes.refrigerant.name
    for what, pressure in (("inlet", tubes.inlet), ("outlet", tubes.outlet)):
        bad = ~((pressure >= low) & (pressure <= high))
        if np.any(bad):
            raise OutOfRange(
                f"pressure of {name} at the {what} of the capillary tube",
                pressure[bad][0],
                low,
                high,
                "pressure",
            )
    bad = tubes.outlet >= tubes.inlet
    if np.any(bad):
        raise OutOfRange(
            "pressure behind the capillary tube",
            tubes.outlet[bad][0],
            None,
            tubes.inlet[bad][0],
            "pressure",
        )
    dry = tubes.refrigerant.saturation(tubes.inlet, check=False).vapour_enthalpy
    bad = ~(tubes.enthalpy <= dry)
    if np.any(bad):
        raise OutOfRange(
            f"enthalpy of {name} in front of the capillary tube (superheated vapour there)",
            tubes.enthalpy[bad][0],
            None,
            dry[bad][0],
            "enthalpy",
        )


def profile(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure, points=60):
    """Pressure, temperature and quality along one capillary tube, for a drawing.

    Parameters
    ----------
    tube : CapTube
        With scalar fields.
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    inlet_pressure, outlet_pressure : float
        [Pa]
    inlet_enthalpy : float
        [J/kg]
    points : int
        Number of points in the flashing part.

    Returns
    -------
    position : ndarray
        Distance from the inlet, from 0 to the tube's length. [m]
    pressure : ndarray
        [Pa]
    temperature : ndarray
        Of the liquid and, where it flashes, of the mixture at its bubble point. [K]
    quality : ndarray
        [1]

    Raises
    ------
    OutOfRange
        As `flow`.
    """
    passing = flow(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    tubes = _Tubes(tube, refrigerant, inlet_pressure, inlet_enthalpy, outlet_pressure)
    tubes.prepare()
    square = np.square(passing.mass_flux.reshape(1))
    first = tubes.inlet - square * tubes.entrance
    begin = max(np.minimum(tubes.flash, first)[0], float(passing.exit_pressure) * (1.0 + 1e-9))
    pressure = np.geomspace(begin, float(passing.exit_pressure), points)
    volume, quality, viscosity = (each[0] for each in tubes.mixture(square, pressure[None, :]))
    rub = friction_factor(
        passing.mass_flux * tube.inner_diameter / viscosity, tube.roughness / tube.inner_diameter
    )
    middle = 0.5 * (rub[1:] * volume[1:] + rub[:-1] * volume[:-1])
    steps = -2.0 * tube.inner_diameter * (np.diff(pressure) / square + np.diff(volume)) / middle
    flashing = np.maximum.accumulate(np.concatenate([[0.0], np.cumsum(steps)]))
    liquid = float(passing.liquid_length)
    flashing *= (tube.length - liquid) / flashing[-1] if flashing[-1] > 0.0 else 0.0
    position = np.concatenate([[0.0, 0.0], liquid + flashing])
    pressure = np.concatenate([tubes.inlet, first, pressure])
    quality = np.concatenate([tubes.quality, tubes.quality, np.clip(quality, 0.0, 1.0)])
    warm = refrigerant.state_ph(tubes.inlet, tubes.enthalpy, check=False).temperature
    boiling = refrigerant.bubble_temperature(pressure, check=False)
    return position, pressure, np.minimum(boiling, warm), quality
