"""A night of a box of the hall, simulated: what a logger at its clamps would have written.

INVENTED, like the hall. Nothing is recorded: low side and refrigerant are solved, the valve's swing
is that of `hunting`, walls and door follow `load`, and the rest is one lump each for air, goods and
coil. The logger adds its own noise, from a seed.

    air:   C dT/dt = K_walls (outside - T) + K_goods (goods - T) + door - cooling (+ heater's share)
    coil:  follows the dew point while the compressor runs, thaws at 0 degC while the heater is on
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from lowside import hunting, load, refrigerants, system
from lowside.trend import Log
from lowside.units import HOUR, ICE_POINT

from . import hall, plant

BOX = "butcher-walk-in"
START = 1792864800.0  # [s] 2026-10-24 18:00 UTC
STEP = 10.0  # [s] between readings

_AIR = 9.0e5  # [J/K] of air, lining, shelves and the goods' outermost layer: our own estimate
_GOODS = 6.0e5, 260.0  # [J/K] that answers within hours, and its link to the air [W/K]
_COIL = 4.0e4  # [J/K] copper, aluminium and drain pan
_COIL_LINK, _FANS_ON = 40.0, 400.0  # [W/K] coil to air, fans off and on
_SUBCOOLING = 5.0  # [K]
_DOORWAY = 1.0, 2.0  # [m]
_HUMIDITY = 0.85, 0.5  # of the air inside and outside
_WALLS = 0.7  # share of the design load that comes through walls and by lights
_HEATER = 2400.0  # [W]
_FROST = 0.9  # [kg] for each hour of running
_MELTING = 334e3  # [J/kg] from memory
_SHARE_LOST = 0.35  # of the heater's heat that warms the air
_DRIP = 180.0  # [s]
_THAWED = ICE_POINT + 8.0  # [K] at which the heater goes off
_LIMIT = 2400.0  # [s] after which it goes off anyway
_COIL_CLAMP = 1.0  # [K] above the dew point
_FALL, _RISE, _WARM = 40.0, 240.0, 500.0  # [s] of suction after start and stop; of the line
_OPENING = 60.0  # [s] in which the superheat comes down after a start
_NOISE = {"temperature": 0.05, "pressure": 700.0, "current": 0.04}  # [K], [Pa], [A]
_VOLTS = 400.0 * math.sqrt(3.0) * 0.8  # [V] three phases, times an assumed power factor


@dataclass(frozen=True)
class Night:
    """What happens in one night.

    Attributes
    ----------
    port, static_superheat : float
        [m], [K]
    differential : float
        Of the thermostat. [K]
    defrosts : tuple of float
        When they start. [s] after the beginning
    doors : tuple of (float, float)
        When a door opens, and for how long. [s]
    hours : float
        Length of the record. [h]
    outside : float
        Air around the box. [K]
    warm : float
        Box air at the beginning, above the set point. [K]
    seed : int
        Of the logger's noise.
    """

    port: float
    static_superheat: float
    differential: float = 2.0
    defrosts: tuple[float, ...] = (3.0 * HOUR, 9.0 * HOUR)
    doors: tuple[tuple[float, float], ...] = ((11.0 * HOUR, 900.0),)
    hours: float = 12.0
    outside: float = 297.15
    warm: float = 0.5
    seed: int = 56


@lru_cache(maxsize=8)
def simulate(night):
    """Run a box through a night.

    Parameters
    ----------
    night : Night

    Returns
    -------
    trend.Log
        One reading every ``STEP``.
    """
    box = hall.box(BOX)
    machine = _Machine(box, night)
    count = int(night.hours * HOUR / STEP)
    rows = np.array([machine.step(place * STEP) for place in range(count)])
    suction, line, head, liquid, air, coil, amps = rows.T
    random = np.random.default_rng(night.seed)

    def noisy(values, kind):
        return values + random.normal(0.0, _NOISE[kind], values.size)

    values = {
        "suction_pressure": noisy(suction, "pressure"),
        "suction_temperature": noisy(line, "temperature"),
        "head_pressure": noisy(head, "pressure"),
        "liquid_temperature": noisy(liquid, "temperature"),
        "box_temperature": noisy(air, "temperature"),
        "coil_temperature": noisy(coil, "temperature"),
        "running": np.where(amps > 0.0, noisy(amps, "current"), 0.0),
    }
    return Log(START + STEP * np.arange(count), np.zeros(count), values)


class _Machine:
    """The box with its valve as found, and its state from step to step."""

    def __init__(self, box, night):
        self.night, self.box = night, box
        self.fluid = refrigerants.get(box.refrigerant)
        built = system.with_port(plant.low_side(box), night.port)
        spring = replace(built.valve.spring, static_superheat=night.static_superheat)
        built = replace(built, valve=replace(built.valve, spring=spring))
        condensing = box.condensing_temperature(night.outside)
        self._solve(built, condensing)
        circuit = hunting.at_rest(built, box.box_temperature, condensing)
        trace = hunting.swing(circuit, 2.0 * HOUR)
        self.clock = trace.time
        self.swing = trace.superheat - circuit.superheat
        self.sway = trace.evaporating_temperature - circuit.evaporating_temperature
        self.head_running = float(self.fluid.dew_pressure(condensing))
        self.head_resting = float(self.fluid.bubble_pressure(night.outside))
        self.liquid = condensing - _SUBCOOLING
        self.walls = _WALLS * box.design_load / (box.summer_ambient - box.box_temperature)
        self.door = _door_heat(box, night.outside)
        self.air = self.goods = self.coil = box.box_temperature + night.warm
        self.head, self.suction, self.line = self.head_resting, self._off(), self.air
        self.on, self.heater, self.since, self.thawing = True, False, 0.0, None
        self.frost = 0.0

    def step(self, now):
        """Go on by one step and read every clamp."""
        self._switch(now)
        cooling = self._run() if self.on else self._stand()
        opened = any(start <= now < start + length for start, length in self.night.doors)
        heat = (
            self.walls * (self.night.outside - self.air)
            + _GOODS[1] * (self.goods - self.air)
            + self.door * opened
            - cooling
        )
        self.goods += STEP * _GOODS[1] * (self.air - self.goods) / _GOODS[0]
        self.air += STEP * heat / _AIR
        self.since += STEP
        amps = self._at("power") / _VOLTS if self.on else 0.0
        return self.suction, self.line, self.head, self.liquid, self.air, self.coil, amps

    def _switch(self, now):
        """Thermostat and defrost clock."""
        half = 0.5 * self.night.differential
        if any(start <= now < start + STEP for start in self.night.defrosts):
            self.thawing, self.heater = 0.0, True
            self._turn(False)
        if self.thawing is not None:
            self.thawing += STEP
            if self.heater and (self.coil >= _THAWED or self.thawing >= _LIMIT):
                self.heater, self.thawing = False, _LIMIT
            if not self.heater and self.thawing >= _LIMIT + _DRIP:
                self.thawing = None
                self._turn(True)
        elif self.on and self.air <= self.box.box_temperature - half:
            self._turn(False)
        elif not self.on and self.air >= self.box.box_temperature + half:
            self._turn(True)

    def _turn(self, on):
        if on != self.on:
            self.on, self.since = on, 0.0

    def _run(self):
        """Cool; suction and clamp as the valve lets them swing. Returns the cooling [W]."""
        evaporating = self._at("evaporating_temperature") + self._swung(self.sway)
        self.suction += (1.0 - math.exp(-STEP / _FALL)) * (
            float(self.fluid.dew_pressure(evaporating)) - self.suction
        )
        opening = math.exp(-self.since / _OPENING)
        dew = float(self.fluid.dew_temperature(self.suction))
        settled = dew + max(self._at("superheat") + self._swung(self.swing), 0.0)
        self.line = opening * self.line + (1.0 - opening) * settled
        self.head += (1.0 - math.exp(-STEP / _FALL)) * (self.head_running - self.head)
        self.coil += (1.0 - math.exp(-STEP / _FALL)) * (dew + _COIL_CLAMP - self.coil)
        self.frost += _FROST * STEP / HOUR
        return self._at("capacity") * (1.0 - opening)

    def _stand(self):
        """Stand still, with or without heater. Returns the cooling, of a coil still cold [W]."""
        link = _COIL_LINK if self.heater else _FANS_ON
        if self.thawing is not None and not self.heater:
            link = _COIL_LINK
        to_coil = link * (self.air - self.coil)
        heat = to_coil + (1.0 - _SHARE_LOST) * _HEATER * self.heater
        warmed = self.coil + STEP * heat / _COIL
        if warmed > ICE_POINT and self.frost > 0.0:
            melted = min(self.frost, _COIL * (warmed - ICE_POINT) / _MELTING)
            self.frost -= melted
            warmed -= melted * _MELTING / _COIL
        self.coil = warmed
        self.suction += (1.0 - math.exp(-STEP / _RISE)) * (self._off() - self.suction)
        self.head += (1.0 - math.exp(-STEP / _RISE)) * (self.head_resting - self.head)
        self.line += (1.0 - math.exp(-STEP / _WARM)) * (self.air - self.line)
        return to_coil - _SHARE_LOST * _HEATER * self.heater

    def _off(self):
        """Suction to which a coil of this temperature rises [Pa]."""
        return float(self.fluid.dew_pressure(self.coil))

    def _at(self, name):
        return float(np.interp(self.air, self.airs, self.solved[name]))

    def _swung(self, track):
        return float(np.interp(self.since, self.clock, track))

    def _solve(self, built, condensing):
        self.airs = self.box.box_temperature + np.linspace(-4.0, 24.0, 15)
        solved = system.solve_low_side(built, self.airs, condensing)
        names = "evaporating_temperature", "superheat", "capacity", "power"
        self.solved = {name: getattr(solved, name) for name in names}


def _door_heat(box, outside):
    """Heat through the doorway, open, behind an air curtain [W]."""
    door = load.Door(*_DOORWAY, load.DAY, load.PROTECTION["air curtain"])
    inside = load.MoistAir(box.box_temperature, _HUMIDITY[0])
    return float(door.gain(inside, load.MoistAir(outside, _HUMIDITY[1]))[0])
