"""Heat from the torch along the stub to the valve: what the body sees, and when.

In one dimension: line, joint, stub, valve body. The joint takes the heat of the flame; both tubes
carry it away; the body at the end is one lump. Round body and stub there may be something wet, its
water cell by cell, each with its own temperature and its own end. Conduction is implicit (backward
Euler, finite volumes, one matrix for the whole march), surfaces are taken at the start of a step.
Heat is conserved to rounding.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .. import units
from ..errors import require
from .fitting import HEAT_OF_BOILING, HEAT_OF_WATER
from .metals import data, metal, overlap

STEFAN_BOLTZMANN = 5.670374419e-8  # [W/(m2 K4)]

GIVE_UP = 180.0  # [s] of flame without liquid filler
LONGEST_STAY = 120.0  # [s] looked at
STAYS = (0.0, 3.0, 6.0, 10.0, 15.0, 22.0, 32.0, 45.0, 64.0, 90.0, LONGEST_STAY)
STEP = 0.5  # [s]

_LINE_LENGTH = 0.5  # [m] of the line that is looked at
_LINE_CELLS, _LINE_GROWTH = 16, 1.25
_STUB_CELL, _STUB_CELLS = 3e-3, (8, 40)  # [m], fewest and most
_SETTLED, _WARMS = 20.0, 0.5  # [s], [K] a body that warms by less in that time has settled
_NEVER_LONGER = 900.0  # [s]
_NO_WATER = 1e-12  # [kg] in a cell without any, so that nothing is divided by zero


@dataclass(frozen=True)
class Heating:
    """What happens at one joint.

    Attributes
    ----------
    time : ndarray, shape (steps,)
        From the moment the torch comes. [s]
    position : ndarray, shape (cells,)
        Middle of each cell, counted from the end of the joint towards the valve. [m]
    temperature : ndarray, shape (steps, cells)
        The last cell is the body. [K]
    joint : int
        Cell of the joint.
    flows_at, leaves_at : float
        When the filler is liquid; when the torch leaves. NaN if the filler never melts. [s]
    peak, peak_at : float
        Highest temperature of the body and when. [K], [s]
    longest_stay : float
        How long after the filler flows the torch may stay until the body would pass the limit:
        NaN if it passes even so, infinite if longer than was looked at. [s]
    flame_heat, air_heat, wrap_heat, stored_heat : float
        What came in, what went into air and wrap, what is left in the metal. [J]
    boiled : float
        Water that went off as steam. [kg]
    """

    time: np.ndarray
    position: np.ndarray
    temperature: np.ndarray
    joint: int
    flows_at: float
    leaves_at: float
    peak: float
    peak_at: float
    longest_stay: float
    flame_heat: float
    air_heat: float
    wrap_heat: float
    stored_heat: float
    boiled: float

    @property
    def body(self):
        """Temperature of the body over time [K]."""
        return self.temperature[:, -1]

    @property
    def flows(self):
        """Whether the filler ever melts."""
        return bool(np.isfinite(self.flows_at))

    def passes(self, limit):
        """When the body passes a limit.

        Parameters
        ----------
        limit : float
            [K]

        Returns
        -------
        float
            NaN if it never does. [s]
        """
        over = np.flatnonzero(self.body > limit)
        if not over.size:
            return np.nan
        after = over[0]
        if after == 0:
            return 0.0
        return float(
            np.interp(limit, self.body[after - 1 : after + 1], self.time[after - 1 : after + 1])
        )

    def at(self, time):
        """Temperatures along the pipe at one moment.

        Parameters
        ----------
        time : float
            [s]

        Returns
        -------
        ndarray, shape (cells,)
            Of the nearest step. [K]
        """
        return self.temperature[np.argmin(np.abs(self.time - time))]


def braze(setup, working, stay, limit, step=STEP):
    """Heat a joint until the filler flows, stay a while, take the torch away, and watch.

    From when the joint has reached its working temperature the torch is taken as moved so that it
    keeps just that.

    Parameters
    ----------
    setup : Setup
    working : float
        Temperature of the joint at which the filler flows. [K]
    stay : float
        How long the torch stays after that. [s]
    limit : float
        That the body should not pass, for ``longest_stay``. [K]
    step : float
        Of the march. [s]

    Returns
    -------
    Heating

    Raises
    ------
    OutOfRange
        For a working temperature or limit below the surroundings or above the flame, or a stay
        longer than was looked at.
    """
    flame = units.to_si(data()["surroundings"]["flame_C"], "degC")
    require("temperature of the joint", working, setup.ambient + 10.0, flame - 200.0, "temperature")
    require("limit for the body", limit, setup.ambient + 10.0, flame, "temperature")
    require("time the torch stays", stay, 0.0, LONGEST_STAY, "time")
    march = _March(setup, working, np.array([stay, *STAYS]), flame, step)
    march.run()
    return march.result(limit)


class _Cells:
    """The pipe cut into cells: heat capacities, conductances, surfaces."""

    def __init__(self, setup):
        tube, brass = setup.tube, metal("brass")
        line = _LINE_GROWTH ** np.arange(_LINE_CELLS)[::-1]
        line *= _LINE_LENGTH / line.sum()
        deep = overlap(tube)
        count = int(np.clip(round(setup.stub_length / _STUB_CELL), *_STUB_CELLS))
        stub = np.full(count, setup.stub_length / count)
        section = tube.section
        per_metre = [m.density * m.heat_capacity * section for m in (setup.line, setup.stub)]
        self.joint = _LINE_CELLS
        self.capacity = np.r_[
            line * per_metre[0],
            deep * sum(per_metre),
            stub * per_metre[1],
            setup.body_mass * data()["body"]["heat_capacity_J_kgK"],
        ]
        half_line = 0.5 * line / (setup.line.conductivity * section)
        half_stub = 0.5 * stub / (setup.stub.conductivity * section)
        half_joint = 0.5 * deep / ((setup.line.conductivity + setup.stub.conductivity) * section)
        halves = np.r_[half_line, half_joint, half_stub, 0.0]
        self.conductance = 1.0 / (halves[:-1] + halves[1:])
        body = data()["surroundings"]["body_area_factor"] * (setup.body_mass / brass.density) ** (
            2.0 / 3.0
        )
        surface = np.r_[tube.surface(np.r_[line, deep, stub]), body]
        self.position = np.r_[
            -deep - (np.cumsum(line[::-1]) - 0.5 * line[::-1])[::-1],
            -0.5 * deep,
            np.cumsum(stub) - 0.5 * stub,
            setup.stub_length,
        ]
        wrapped = np.zeros(len(surface))
        if setup.wrap is not None:
            start = setup.stub_length * (1.0 - setup.wrap.cover)
            edges = np.r_[0.0, np.cumsum(stub)]
            covered = np.clip((edges[1:] - start) / stub, 0.0, 1.0)
            wrapped[self.joint + 1 : -1] = covered
            wrapped[-1] = 1.0
        self.open, self.wrapped = surface * (1.0 - wrapped), surface * wrapped

    def matrix(self, step):
        """Temperatures after a step of conduction are this times the heat given to each cell."""
        flow = np.zeros((len(self.capacity),) * 2)
        inner = np.arange(len(self.conductance))
        flow[inner, inner] += self.conductance
        flow[inner + 1, inner + 1] += self.conductance
        flow[inner, inner + 1] -= self.conductance
        flow[inner + 1, inner] -= self.conductance
        return np.linalg.inv(np.diag(self.capacity / step) + flow)


class _March:
    """Many stays side by side, a column each, from the same start; the first is kept in full."""

    def __init__(self, setup, working, stays, flame, step):
        self.setup, self.working, self.stays, self.step = setup, working, stays, step
        self.cells = _Cells(setup)
        self.matrix = self.cells.matrix(step)
        self.flame = flame
        self.strength = setup.flame / (flame - setup.ambient)
        shape = (len(self.cells.capacity), len(stays))
        self.temperature = np.full(shape, setup.ambient)
        wet = self.cells.wrapped[:, None]
        water = 0.0 if setup.wrap is None else setup.wrap.water * wet / wet.sum()
        self.water = np.broadcast_to(water, shape).copy()
        self.water_temperature = np.full(shape, setup.ambient)
        self.now, self.flows_at = 0.0, np.nan
        self.leaves = np.full(len(stays), GIVE_UP)
        self.heats = np.zeros(4)  # flame, air, wrap, boiled water: of the first column
        self.kept, self.bodies = [self.temperature[:, 0]], [self.temperature[-1]]

    def run(self):
        """Step until every torch has left and every body has passed its peak."""
        steps = round(_SETTLED / self.step)
        while self.now < _NEVER_LONGER:
            for _ in range(steps):
                self._take_step()
            bodies = np.array(self.bodies)
            warms = bodies[-steps:].max(axis=0) > bodies[:-steps].max(axis=0) + _WARMS
            if self.now >= self.leaves.max() + _SETTLED and not warms.any():
                return

    def _take_step(self):
        cells, joint, now = self.cells, self.cells.joint, self.now
        air, wrap = self._to_air(), self._to_wrap()
        before = cells.capacity[:, None] / self.step * self.temperature
        after = self.matrix @ (before - air - wrap)
        most = self.strength * (self.flame - self.temperature[joint])
        needed = np.maximum(self.working - after[joint], 0.0) / self.matrix[joint, joint]
        if np.isnan(self.flows_at) and needed[0] <= most[0] and now < GIVE_UP:
            self.flows_at = now + self.step * needed[0] / most[0]
            self.leaves = self.flows_at + self.stays
        on = np.minimum(np.maximum((self.leaves - now) / self.step, 0.0), 1.0)
        heat = np.minimum(needed, most) * on
        self.temperature = after + self.matrix[:, joint, None] * heat
        boiled = self._wet(wrap)
        given = np.array([heat[0], air[:, 0].sum(), wrap[:, 0].sum()])
        self.heats[:3] += self.step * given
        self.heats[3] += boiled
        self.now = now + self.step
        self.kept.append(self.temperature[:, 0])
        self.bodies.append(self.temperature[-1])

    def _to_air(self):
        around, t, ambient = data()["surroundings"], self.temperature, self.setup.ambient
        squared = t * t  # a fourth power as such takes ten times as long
        lost = around["emissivity"] * STEFAN_BOLTZMANN * (squared * squared - ambient**4)
        return self.cells.open[:, None] * (around["convection_W_m2K"] * (t - ambient) + lost)

    def _to_wrap(self):
        """Heat into the water, at most what boils the rest of it away in this step."""
        if self.setup.wrap is None:
            return np.zeros_like(self.temperature)
        heat = self.setup.wrap.contact * self.cells.wrapped[:, None]
        heat = heat * (self.temperature - self.water_temperature)
        left = HEAT_OF_WATER * (self.setup.boiling - self.water_temperature) + HEAT_OF_BOILING
        return np.minimum(heat, self.water * left / self.step)

    def _wet(self, wrap):
        """Warm the water and boil off what is too much; returns what the first column lost."""
        if self.setup.wrap is None:
            return 0.0
        heat = HEAT_OF_WATER * np.maximum(self.water, _NO_WATER)
        warmed = self.water_temperature + self.step * wrap / heat
        spare = np.maximum(warmed - self.setup.boiling, 0.0) * heat
        self.water_temperature = np.minimum(warmed, self.setup.boiling)
        boiled = np.minimum(spare / HEAT_OF_BOILING, self.water)
        self.water = self.water - boiled
        return boiled[:, 0].sum()

    def result(self, limit):
        """Return what happens to the first column, and what the others say of the stay."""
        kept, bodies = np.array(self.kept), np.array(self.bodies)
        peaks = bodies[:, 1:].max(axis=0)
        if np.isnan(self.flows_at) or peaks[0] > limit:
            longest = np.nan
        elif peaks[-1] <= limit:
            longest = np.inf
        else:
            longest = float(np.interp(limit, np.maximum.accumulate(peaks), self.stays[1:]))
        flame, air, wrap, boiled = (float(heat) for heat in self.heats)
        return Heating(
            time=self.step * np.arange(len(kept)),
            position=self.cells.position,
            temperature=kept,
            joint=self.cells.joint,
            flows_at=float(self.flows_at),
            leaves_at=float(self.flows_at + self.stays[0]),
            peak=float(bodies[:, 0].max()),
            peak_at=float(self.step * bodies[:, 0].argmax()),
            longest_stay=longest,
            flame_heat=flame,
            air_heat=air,
            wrap_heat=wrap,
            stored_heat=float(self.cells.capacity @ (kept[-1] - self.setup.ambient)),
            boiled=boiled,
        )
