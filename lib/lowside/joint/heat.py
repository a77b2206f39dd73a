"""Heat from the torch along the stub to the valve: what the body sees, and when.

In one dimension: line, joint, stub, valve body. The joint takes the heat of the flame; both tubes
carry it away; the body at the end is one lump. Round body and stub there may be something wet, its
water cell by cell, each with its own temperature and its own end. Conduction is implicit (backward
Euler, finite volumes, one matrix for the whole march), surfaces are taken at the start of a step.
Heat is conserved to rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from .. import units
from ..errors import UnknownName, require
from .fitting import HEAT_OF_BOILING, HEAT_OF_WATER
from .metals import Metal, Tube, data, metal, overlap

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


@dataclass(frozen=True)
class Wrap:
    """Something wet round the valve body and the part of the stub next to it.

    Attributes
    ----------
    water : float
        In it. [kg]
    contact : float
        How well it takes heat from the metal, while wet. [W/(m2 K)]
    cover : float
        Share of the stub that it covers, counted from the body.

    Raises
    ------
    OutOfRange
        For negative water, a contact that no cloth has, or a share outside 0 to 1.
    """

    water: float
    contact: float
    cover: float = 0.5

    def __post_init__(self):
        require("water in the wrap", self.water, 0.0, 1.0, "mass")
        require("contact of the wrap", self.contact, 0.0, 4000.0)
        require("share of the stub covered", self.cover, 0.0, 1.0, "ratio")


@cache
def wraps():
    """List what is put round a valve, as assumed in data/.

    Returns
    -------
    dict of str to Wrap
    """
    return {
        name: Wrap(row["water_kg"], row["contact_W_m2K"]) for name, row in data()["wraps"].items()
    }


def wrap(name, water=None):
    """Get what is put round a valve.

    Parameters
    ----------
    name : str
        ``"nothing"``, ``"wet rag"`` or ``"heat paste"``.
    water : float, optional
        In it, if not as in data/. [kg]

    Returns
    -------
    Wrap or None

    Raises
    ------
    UnknownName
        For anything else.
    OutOfRange
        For an amount of water that no rag holds.
    """
    if name == "nothing":
        return None
    if name not in wraps():
        raise UnknownName("wrap", name, ("nothing", *wraps()))
    usual = wraps()[name]
    return usual if water is None else Wrap(water, usual.contact, usual.cover)


@dataclass(frozen=True)
class Setup:
    """A valve stub about to be brazed into a line.

    Attributes
    ----------
    stub, line : Metal
        Of the valve's stub, and of the line it goes into.
    tube : Tube
        Both have its size.
    stub_length : float
        From the joint to the body. [m]
    body_mass : float
        Of the valve body, brass. [kg]
    flame : float
        Heat that the joint takes up from the torch while cold; it takes less as it gets hot. [W]
    wrap : Wrap or None
    ambient : float
        Everything at the start. [K]
    boiling : float
        Where water boils here. [K]

    Raises
    ------
    OutOfRange
        For what cannot be a valve, a stub or a torch.
    """

    stub: Metal
    line: Metal
    tube: Tube
    stub_length: float
    body_mass: float
    flame: float
    wrap: Wrap | None = None
    ambient: float = 293.15
    boiling: float = 373.15

    def __post_init__(self):
        require("length of the stub", self.stub_length, 0.01, 0.30, "length")
        require("mass of the valve body", self.body_mass, 0.02, 5.0, "mass")
        require("heat of the flame", self.flame, 20.0, 5000.0, "heat_flow")
        require("temperature of the surroundings", self.ambient, 250.0, 330.0, "temperature")
        require("boiling point of water", self.boiling, self.ambient + 10.0, 400.0, "temperature")


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
        self.flows_at = np.full(len(stays), np.nan)
        self.peak = np.full(len(stays), setup.ambient)
        self.peak_at = np.zeros(len(stays))
        self.noted, self.grown_at = self.peak, self.peak_at
        self.heats = np.zeros(4)  # flame, air, wrap, boiled water: of the first column
        self.kept = [self.temperature[:, 0]]

    def run(self):
        """Step until every body has passed its peak."""
        now = 0.0
        while now < _NEVER_LONGER and self._goes_on(now):
            self._take_step(now)
            now += self.step

    def _goes_on(self, now):
        """Whether some torch is still on, or some body still warms."""
        return np.any(now < np.maximum(self._leaves(), self.grown_at) + _SETTLED)

    def _leaves(self):
        return np.where(np.isnan(self.flows_at), GIVE_UP, self.flows_at + self.stays)

    def _take_step(self, now):
        cells, joint = self.cells, self.cells.joint
        air = self._to_air()
        wrap = self._to_wrap()
        before = cells.capacity[:, None] * self.temperature / self.step
        after = self.matrix @ (before - air - wrap)
        most = self.strength * (self.flame - self.temperature[joint])
        needed = (self.working - after[joint]) / self.matrix[joint, joint]
        heat = np.clip(needed, 0.0, most) * self._torch(now)
        flows = np.isnan(self.flows_at) & (needed <= most) & (now < GIVE_UP)
        share = np.clip(needed / most, 0.0, 1.0)
        self.flows_at = np.where(flows, now + self.step * share, self.flows_at)
        self.temperature = after + self.matrix[:, joint, None] * heat
        boiled = self._wet(wrap)
        self.heats += self.step * np.array(
            [heat[0], air[:, 0].sum(), wrap[:, 0].sum(), boiled / self.step]
        )
        hotter = self.temperature[-1] > self.peak
        self.peak = np.where(hotter, self.temperature[-1], self.peak)
        self.peak_at = np.where(hotter, now + self.step, self.peak_at)
        grown = self.peak > self.noted + _WARMS
        self.noted = np.where(grown, self.peak, self.noted)
        self.grown_at = np.where(grown, now + self.step, self.grown_at)
        self.kept.append(self.temperature[:, 0])

    def _torch(self, now):
        """Share of this step for which each torch is on."""
        return np.clip((self._leaves() - now) / self.step, 0.0, 1.0)

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
        there = self.water > 0.0
        heat = HEAT_OF_WATER * np.where(there, self.water, 1.0)
        warmed = self.water_temperature + np.where(there, self.step * wrap / heat, 0.0)
        spare = np.maximum(warmed - self.setup.boiling, 0.0) * heat
        self.water_temperature = np.minimum(warmed, self.setup.boiling)
        boiled = np.where(there, np.minimum(spare / HEAT_OF_BOILING, self.water), 0.0)
        self.water = self.water - boiled
        return boiled[:, 0].sum()

    def result(self, limit):
        """Return what happens to the first column, and what the others say of the stay."""
        kept, setup = np.array(self.kept), self.setup
        chosen, peaks = self.flows_at[0], self.peak[1:]
        if np.isnan(chosen) or peaks[0] > limit:
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
            flows_at=float(chosen),
            leaves_at=float(chosen + self.stays[0]),
            peak=float(self.peak[0]),
            peak_at=float(self.peak_at[0]),
            longest_stay=longest,
            flame_heat=flame,
            air_heat=air,
            wrap_heat=wrap,
            stored_heat=float(self.cells.capacity @ (kept[-1] - setup.ambient)),
            boiled=boiled,
        )
