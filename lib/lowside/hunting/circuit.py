"""A valve, its coil and its bulb at rest: the operating point, and the loop around it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from lowside.errors import require
from lowside.system import solve_low_side

from .bulb import Bulb, Feeling, feel
from .linear import Loop
from .plant import DENSITY, FULL, HEAT, Flows, Plant, Sizes

ACTING, WIDE_OPEN, SHUT, FLOODED = "acting", "wide open", "shut", "liquid leaves"
_HALVINGS = 50
_ROUNDS = 4
_NUDGE = 1e-3  # [K], and of the wet share
_AT_THE_STOP = 1e-6  # share of the travel


@dataclass(frozen=True)
class Circuit:
    """A low side at rest.

    Parameters
    ----------
    plant : Plant
        Coil, compressor and valve, ready for time.
    bulb : Bulb
        As strapped on.
    feeling : Feeling
        What it makes of its pipe.
    around : float
        Air around the bulb. [K]
    wet_share : float
        Of the coil. [-]
    evaporating_temperature, bulb_temperature : float
        [K]
    flows : Flows
        At rest.
    """

    plant: Plant
    bulb: Bulb
    feeling: Feeling
    around: float
    wet_share: float
    evaporating_temperature: float
    bulb_temperature: float
    flows: Flows

    @property
    def superheat(self):
        """Of the gas at the bulb, at rest, as a clamp beside it reads it [K]."""
        gas = self.chilled(self.flows.gas_temperature, self.evaporating_temperature)
        return gas - self.evaporating_temperature

    @property
    def coil_superheat(self):
        """Of the gas leaving the coil, at rest [K]."""
        return self.flows.gas_temperature - self.evaporating_temperature

    @property
    def felt_superheat(self):
        """Bulb above the evaporating temperature, at rest [K]."""
        return self.bulb_temperature - self.evaporating_temperature

    @property
    def lift_share(self):
        """Of the travel [-]."""
        return self.flows.lift / self.plant.travel

    @property
    def capacity(self):
        """Cooling at rest [W]."""
        plant = self.plant
        row = plant.coil.at(self.evaporating_temperature)
        boiling = (1.0 - plant.quality) * min(self.wet_share, 1.0) * row[FULL] * plant.latent_heat
        return boiling + self.flows.pumped * row[HEAT] * self.coil_superheat

    @property
    def state(self):
        """Acting, wide open, shut, or liquid leaving the coil, in words."""
        if self.wet_share >= 1.0:
            return FLOODED
        if self.lift_share >= 1.0 - _AT_THE_STOP:
            return WIDE_OPEN
        return SHUT if self.lift_share <= _AT_THE_STOP else ACTING

    @property
    def margin(self):
        """Gain margin; infinite where the pin stands at an end, NaN where liquid leaves [-].

        A pin at its seat or at its stop does not move for a little more or less at the bulb, and a
        bulb on a line with liquid in it no longer hears of the coil.
        """
        if self.state == FLOODED:
            return math.nan
        return self.loop.margin if self.state == ACTING else math.inf

    @property
    def dead_time(self):
        """From valve to bulb [s]."""
        density = self.plant.coil.at(self.evaporating_temperature)[DENSITY]
        return self.plant.dead_time(self.wet_share, self.flows.pumped, density)

    @cached_property
    def loop(self):
        """Slopes and times for small swings, by central differences (`Loop`)."""
        plant, rest = self.plant, (self.wet_share, self.evaporating_temperature)
        flow, bulb = self.flows.fed, self.bulb_temperature

        def slope(of, place):
            ends = []
            for step in (_NUDGE, -_NUDGE):
                at = [*rest, bulb]
                at[place] += step
                ends.append(of(plant.flows(*at)))
            return (ends[0] - ends[1]) / (2.0 * _NUDGE)

        def of_fed(flows):
            return flows.fed / flow

        by_bulb, by_evaporating, by_wet = (slope(of_fed, place) for place in (2, 1, 0))
        share = 1.0 - plant.quality
        by_flow = flow * share / plant.fill, flow * plant.quality / plant.stored
        # The states' own slopes are those with the valve's flow held.
        zone, pressure = (
            (
                slope(rate, 0) - per_flow * by_wet,
                slope(rate, 1) - per_flow * by_evaporating,
                per_flow,
            )
            for rate, per_flow in (
                (lambda flows: flows.wet_rate, by_flow[0]),
                (lambda flows: flows.evaporating_rate, by_flow[1]),
            )
        )
        return Loop(
            valve_gain=by_bulb,
            valve_back=-by_evaporating,
            valve_by_wet=by_wet,
            zone=zone,
            pressure=pressure,
            outlet=tuple(slope(lambda flows: flows.gas_temperature, place) for place in (0, 1)),
            dead_time=self.dead_time,
            wall_lag=plant.wall_lag,
            bulb_lags=self.feeling.lags,
            pipe_share=self.feeling.pipe_share,
            stream_share=self.feeling.stream_share,
        )

    def felt(self, gas, evaporating):
        """Temperature of the bulb once all is still [K].

        Parameters
        ----------
        gas, evaporating : float
            Gas leaving the coil, and its dew point. [K]

        Returns
        -------
        float
        """
        return self.feeling.steady(self.chilled(gas, evaporating), evaporating, self.around)

    def chilled(self, gas, evaporating):
        """Temperature of the gas at the bulb, behind a leaking equaliser that joins before it [K].

        Parameters
        ----------
        gas, evaporating : float
            [K]

        Returns
        -------
        float
        """
        if self.bulb.equaliser == "after" or not self.bulb.leak:
            return gas
        heat = self.plant.coil.at(evaporating)[HEAT]
        return max(gas - self.bulb.leak * self.plant.latent_heat / heat, min(gas, evaporating))


def at_rest(
    box,
    air_temperature,
    condensing_temperature,
    subcooling=5.0,
    *,
    bulb=None,
    compressor_share=1.0,
    design_flow=None,
    sizes=None,
):
    """Find where a low side comes to rest with its bulb strapped on as it is.

    Parameters
    ----------
    box : LowSide
        Hardware of plain numbers.
    air_temperature, condensing_temperature, subcooling : float
        As in `system.solve_low_side`. [K]
    bulb : Bulb, optional
        By default strapped well and insulated.
    compressor_share : float
        Share of the swept volume that the compressor pumps: the load, on a box whose compressor
        follows it. [-]
    design_flow : float, optional
        For which the suction line was sized; by default the flow with the full compressor. [kg/s]
    sizes : Sizes, optional
        Of coil and metal, if not the usual ones.

    Returns
    -------
    Circuit

    Raises
    ------
    OutOfRange
        For conditions that nobody can mean.
    NoOperatingPoint
        If the box does not run so.
    """
    bulb = bulb or Bulb()
    require("share of the compressor", compressor_share, 0.05, 1.5, "ratio")
    point = solve_low_side(
        box,
        air_temperature,
        condensing_temperature,
        subcooling,
        compressor_share=[1.0, compressor_share],
    )
    full, now = point.at(0), point.at(1)
    full.refuse()
    now.refuse()
    design_flow = design_flow or float(full.mass_flow)
    plant = Plant(box, now, compressor_share, design_flow, sizes or Sizes())
    feeling = feel(bulb, plant.pipe)
    around = plant.air_temperature if bulb.around is None else bulb.around
    start = Circuit(plant, bulb, feeling, around, 1.0, plant.coldest, plant.coldest, None)

    def rest(evaporating):
        """Return wet share, evaporating and bulb temperature, and the flows that they make."""
        _, _, boiling, at_dew, thinner, heat, _ = plant.coil.at(evaporating)
        wet = 1.0
        for _ in range(_ROUNDS):
            gas, pumped = plant.gas(wet, evaporating, at_dew, thinner, heat)
            wet = min(pumped / boiling, 1.0)
        at = wet, evaporating, start.felt(gas, evaporating)
        return at, plant.flows(*at)

    low, high = plant.coldest, plant.warmest
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        _, flows = rest(middle)
        low, high = (middle, high) if flows.evaporating_rate > 0.0 else (low, middle)
    at, flows = rest(0.5 * (low + high))
    return Circuit(plant, bulb, feeling, around, *at, flows)
