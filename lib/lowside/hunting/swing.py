"""The same box in time: what a recorder on gauge and clamp would draw.

Nothing is linear here: the pin meets its seat and its stop, the zone floods the coil or shrinks.
Both states take Heun's steps; lags are exact for an input that runs straight between two moments;
the dead time is a whole number of steps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lowside.errors import require

STEP = 1.0  # [s] at most
LONGEST = 4 * 3600.0  # [s]
HAND = 1.0  # [K] that a hand around the bulb warms it, at the start


@dataclass(frozen=True)
class Trace:
    """A recording.

    Parameters
    ----------
    time : ndarray, shape (n,)
        [s]
    superheat : ndarray, shape (n,)
        Of the pipe beside the bulb over the dew point of the gauge, as a quick clamp reads it. [K]
    suction_pressure : ndarray, shape (n,)
        [Pa]
    evaporating_temperature, bulb_temperature : ndarray, shape (n,)
        [K]
    lift_share, flow : ndarray, shape (n,)
        Of the travel [-], through the valve [kg/s].
    wet_share : ndarray, shape (n,)
        Of the coil; 1 where liquid leaves it. [-]
    """

    time: np.ndarray
    superheat: np.ndarray
    suction_pressure: np.ndarray
    evaporating_temperature: np.ndarray
    bulb_temperature: np.ndarray
    lift_share: np.ndarray
    flow: np.ndarray
    wet_share: np.ndarray

    def after(self, time):
        """Cut the beginning off.

        Parameters
        ----------
        time : float
            [s]

        Returns
        -------
        Trace
        """
        kept = self.time >= time
        return Trace(**{name: values[kept] for name, values in vars(self).items()})


def swing(circuit, duration=900.0, hand=HAND, step=STEP):
    """Let a box run on after its bulb was warmed by hand.

    Parameters
    ----------
    circuit : Circuit
        From `at_rest`.
    duration : float
        [s]
    hand : float
        By how much the bulb is warmer at the start than at rest. [K]
    step : float
        Largest step in time. [s]

    Returns
    -------
    Trace

    Raises
    ------
    OutOfRange
        For a duration or a step that makes no sense.
    """
    require("duration", duration, 10.0, LONGEST, "time")
    require("step in time", step, 0.02, 5.0, "time")
    plant, feeling = circuit.plant, circuit.feeling
    late = max(1, math.ceil(circuit.dead_time / step))
    step = circuit.dead_time / late
    wet, evaporating, bulb = (
        circuit.wet_share,
        circuit.evaporating_temperature,
        circuit.bulb_temperature,
    )
    gas = circuit.flows.gas_temperature
    stream, pipe, around = feeling.stream_share, feeling.pipe_share, circuit.around
    lags = [_lag(lag, step) for lag in (plant.wall_lag, *feeling.lags)]
    on_the_way = [gas] * (late + 1)
    wall_in = wall = circuit.chilled(gas, evaporating)
    felt_in = middle = felt = bulb
    # What the hand left in the bulb fades as the bulb does.
    extra, fade = hand, math.exp(-step / feeling.lags[0])
    coldest, warmest = plant.coldest, plant.warmest
    flows = plant.flows(wet, evaporating, bulb + extra)
    rows = []
    for number in range(int(duration / step) + 1):
        rows.append(
            (
                number * step,
                wall - evaporating,
                flows.pressure,
                evaporating,
                felt + extra,
                flows.lift / plant.travel,
                flows.fed,
                wet,
            )
        )
        next_wet = _held(wet + step * flows.wet_rate)
        following = min(max(evaporating + step * flows.evaporating_rate, coldest), warmest)
        # What reaches the bulb now left the coil a dead time ago, and is known.
        late_gas = circuit.chilled(on_the_way[number + 1], following)
        wall, wall_in = _follow(lags[0], wall, wall_in, late_gas), late_gas
        now = around + pipe * (wall + stream * (following - wall) - around)
        before = middle
        middle, felt_in = _follow(lags[1], middle, felt_in, now), now
        felt = _follow(lags[2], felt, before, middle)
        extra *= fade
        guess = plant.flows(next_wet, following, felt + extra)
        wet = _held(wet + 0.5 * step * (flows.wet_rate + guess.wet_rate))
        rate = 0.5 * (flows.evaporating_rate + guess.evaporating_rate)
        evaporating = min(max(evaporating + step * rate, coldest), warmest)
        flows = plant.flows(wet, evaporating, felt + extra)
        on_the_way.append(flows.gas_temperature)
    columns = np.array(rows).T
    return Trace(*columns)


def _held(wet):
    return min(max(wet, 0.0), 1.0)


def _lag(lag, step):
    """Weights of old output, old input and new input for a lag, input straight in between."""
    old = math.exp(-step / lag)
    mean = lag / step * (1.0 - old)
    return old, mean - old, 1.0 - mean


def _follow(weights, output, before, now):
    old, first, second = weights
    return old * output + first * before + second * now
