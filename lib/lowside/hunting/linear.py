"""The loop for small swings: rates of change in, gain margin and period out.

Cut the loop at the bulb and warm it by a little. The valve opens by its gain. The boiling zone
grows and the evaporating pressure rises, each at its own pace (two states that pull at each other);
the pressure under the diaphragm takes part of the opening back; after the dead time the coil's
outlet falls; wall, pipe and bulb follow, each with its lag.

Closed again, the loop swings where what comes back is in step with what left (180° late, besides
the sign) and not weaker. The gain margin says how many times stronger the loop would have to be
for that: at 2 a swing dies out soon, at 1 it never does, and below 1 it grows until the pin meets
its seat or its stop: the valve hunts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from lowside.errors import NoOperatingPoint

_SLOWEST, _FASTEST, _POINTS = 1e-3, 1e1, 800  # [rad/s], of the frequencies looked at
_CROSSINGS = 6  # the later ones are weaker and weaker
_HALVINGS = 40


@dataclass(frozen=True)
class Loop:
    """Slopes and times at one operating point.

    Parameters
    ----------
    valve_gain : float
        Rise of flow per kelvin at the bulb, as a share of the flow, pressures held. [1/K]
    valve_back : float
        Fall of flow per kelvin of evaporating temperature, bulb held. [1/K]
    valve_by_wet : float
        Rise of flow per unit of wet share, as an internal equaliser brings it: more of the coil
        wet, less gas, less pressure drop. 0 with an external one. [-]
    zone, pressure : tuple of float
        Rate of change of the wet share of the coil [1/s], and of the evaporating temperature
        [K/s]: per unit of wet share, per kelvin of evaporating temperature, per share of flow.
    outlet : tuple of float
        Rise of the coil's outlet temperature per unit of wet share [K], and per kelvin of
        evaporating temperature [-].
    dead_time : float
        Until the outlet hears of the flow. [s]
    lags : tuple of float
        Of wall, pipe and bulb. [s]
    stream_lags : tuple of float
        Those of pipe and bulb, which stream and gas share. [s]
    pipe_share, stream_share : float
        As in `Feeling`. [-]
    """

    valve_gain: float
    valve_back: float
    valve_by_wet: float
    zone: tuple[float, float, float]
    pressure: tuple[float, float, float]
    outlet: tuple[float, float]
    dead_time: float
    wall_lag: float
    bulb_lags: tuple[float, ...]
    pipe_share: float = 1.0
    stream_share: float = 0.0

    def _states(self, s):
        """Wet share and evaporating temperature per share of flow."""
        (a, b, e), (c, d, f) = self.zone, self.pressure
        determinant = (s - a) * (s - d) - b * c
        return ((s - d) * e + b * f) / determinant, ((s - a) * f + c * e) / determinant

    def response(self, frequency):
        """Open loop: fall of the bulb's temperature per kelvin that it was warmed.

        Parameters
        ----------
        frequency : float or ndarray
            Angular. [rad/s]

        Returns
        -------
        complex or ndarray
            [-]
        """
        s = 1j * np.asarray(frequency, dtype=float)
        wet, evaporating = self._states(s)
        flow = self.valve_gain / (1.0 + self.valve_back * evaporating - self.valve_by_wet * wet)
        gas = self.outlet[0] * wet + self.outlet[1] * evaporating
        gas = gas * np.exp(-s * self.dead_time) / (1.0 + s * self.wall_lag)
        felt = (1.0 - self.stream_share) * gas + self.stream_share * evaporating
        for lag in self.bulb_lags:
            felt = felt / (1.0 + s * lag)
        return -self.pipe_share * flow * felt

    @property
    def coil_gain(self):
        """Fall of the outlet temperature per share of flow, the pressure held, all settled [K]."""
        return self.outlet[0] * self.zone[2] / self.zone[0]

    @property
    def pressure_rise(self):
        """Rise of the evaporating temperature per share of flow, all settled [K]."""
        return float(self._states(0.0)[1])

    @property
    def pressure_feedback(self):
        """Share of flow that the valve takes back per share of flow, all settled [-]."""
        return self.valve_back * self.pressure_rise

    @property
    def static_gain(self):
        """Loop gain for changes so slow that all follows [-]."""
        return float(self.response(0.0).real)

    @cached_property
    def _crossing(self):
        return gain_margin(self.response)

    @property
    def margin(self):
        """Gain margin; infinite where a loop of any gain settles [-]."""
        return self._crossing[0]

    @property
    def period(self):
        """Of the swing at the edge of hunting; not a number where there is none [s]."""
        return 2.0 * math.pi / self._crossing[1]


def gain_margin(response, slowest=_SLOWEST, fastest=_FASTEST):
    """Gain margin of an open loop that is closed with a minus sign.

    Parameters
    ----------
    response : callable
        ``response(frequency)`` takes an ndarray of angular frequencies [rad/s] and returns complex
        numbers.
    slowest, fastest : float
        Between which to look. [rad/s]

    Returns
    -------
    margin : float
        By what the gain may be multiplied until the closed loop swings without end; infinite where
        no gain does it. [-]
    frequency : float
        Of that swing; not a number where there is none. [rad/s]

    Raises
    ------
    NoOperatingPoint
        If the response is not a number somewhere.
    """
    frequency = np.geomspace(slowest, fastest, _POINTS)
    value = response(frequency)
    if not np.isfinite(value).all():
        raise NoOperatingPoint("this loop has no response to speak of")
    turns = np.diff(np.signbit(value.imag))
    places = np.flatnonzero(turns & (value.real[:-1] < 0.0))[:_CROSSINGS]
    if not places.size:
        return math.inf, math.nan
    low, high = frequency[places], frequency[places + 1]
    negative = np.signbit(value.imag[places])
    for _ in range(_HALVINGS):
        middle = np.sqrt(low * high)
        same = np.signbit(response(middle).imag) == negative
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    strength = -response(low).real
    strongest = int(np.argmax(strength))
    if not strength[strongest] > 0.0:
        return math.inf, math.nan
    return float(1.0 / strength[strongest]), float(low[strongest])
