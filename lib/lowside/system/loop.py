"""How strongly a steady point answers to the bulb: gains for small, slow changes.

Cut the loop at the bulb and warm it by a little. The valve opens (its gain), the evaporating
pressure rises until the compressor pumps the extra flow, that pressure under the diaphragm takes
part of the opening back (the pressure feedback), and the coil outlet cools (its response). The
product is the static loop gain: how many kelvin the coil outlet falls per kelvin at the bulb once
all has settled.

    loop gain = relative valve gain / (1 + pressure feedback) x coil response

Where liquid leaves the coil its outlet boils at the evaporating temperature whatever the flow: the
bulb no longer hears of the coil, and none of these gains is defined.

A larger loop gain takes the valve closer to hunting. *Where* hunting begins depends on the times
that coil, bulb and pressure take, which are not modelled here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from lowside import valve

from .case import LEAST_FLOW, ON_THE_STOP, attempt, each

NUDGE = 1e-5  # of the logarithms of pressure and flow
NUDGES = NUDGE * np.eye(2)[:, :, None]


@dataclass(frozen=True)
class ValveLoop:
    """Static gains at operating points; NaN where liquid leaves the evaporator.

    Parameters
    ----------
    valve_gain : float or ndarray
        Rise of flow per kelvin at the bulb, pressures held; 0 on the seat and at the stop.
        [kg/(s K)]
    capacity_gain : float or ndarray
        The same as cooling. [W/K]
    relative_gain : float or ndarray
        The same as a share of the flow. [1/K]
    pressure_feedback : float or ndarray
        Share of flow taken back by the rise of evaporating pressure that one share of flow brings.
        [-]
    coil_response : float or ndarray
        Fall of the outlet temperature per share of flow added (1 would be a doubling), to first
        order, the pressure following. [K]
    """

    valve_gain: float | np.ndarray
    capacity_gain: float | np.ndarray
    relative_gain: float | np.ndarray
    pressure_feedback: float | np.ndarray
    coil_response: float | np.ndarray

    @property
    def loop_gain(self):
        """Static loop gain [-]."""
        return self.relative_gain / (1.0 + self.pressure_feedback) * self.coil_response


def valve_loop(case, at, trial):
    """Gains at the points of a solved batch.

    Parameters
    ----------
    case : Case
        The batch.
    at : ndarray, shape (2, n)
        Logarithms of pressure and flow found.
    trial : Trial
        What follows from them.

    Returns
    -------
    ValveLoop
    """
    nudged = attempt(
        each(case, lambda array: np.tile(array, 2)),
        *np.concatenate(at + NUDGES, axis=1),
    )
    by_pressure, by_flow = (
        (
            (temperature - trial.outlet.temperature) / NUDGE,
            (pumped - trial.pumped) / np.maximum(trial.pumped, LEAST_FLOW) / NUDGE,
        )
        for temperature, pumped in zip(
            np.split(nudged.outlet.temperature, 2), np.split(nudged.pumped, 2), strict=True
        )
    )
    # d ln p per d ln m along which compressor and coil keep agreeing.
    pumps = by_pressure[1] != 0.0
    following = np.where(pumps, 1.0 - by_flow[1], 0.0) / np.where(pumps, by_pressure[1], 1.0)

    hardware, fluid = case.box.valve, case.box.refrigerant
    lift = np.minimum(trial.lift, hardware.port.max_lift)
    gain = valve.gain(
        hardware, fluid, lift, case.inlet, trial.inlet_pressure, trial.bulb_temperature
    )
    gain = np.where(trial.flow_reserve > ON_THE_STOP, gain, 0.0)
    rise = NUDGE * trial.pressure
    balance_shift = hardware.element.diaphragm_area + hardware.port.exposed_area
    area_shift = -hardware.port.area_slope(lift) * balance_shift / hardware.spring.rate * rise
    before, after = (
        area * valve.valve_flux(hardware, fluid, case.inlet, trial.inlet_pressure + extra)
        for area, extra in (
            (hardware.port.area(lift), 0.0),
            (hardware.port.area(lift) + area_shift, rise),
        )
    )
    by_evaporator = np.where(
        gain > 0.0, (after - before) / np.maximum(before, LEAST_FLOW) / NUDGE, 0.0
    )
    gains = {
        "valve_gain": gain,
        "capacity_gain": gain * (trial.outlet.enthalpy - case.inlet.enthalpy),
        "relative_gain": gain / trial.mass_flow,
        "pressure_feedback": -by_evaporator * following,
        "coil_response": -(by_flow[0] + by_pressure[0] * following),
    }
    wet = trial.liquid_leaves
    return ValveLoop(**{name: np.where(wet, np.nan, value) for name, value in gains.items()})
