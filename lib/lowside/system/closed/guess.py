"""Where to begin: a suction that suits the coil, a condensing pressure that holds the charge."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lowside import valve

from .equations import ENTHALPY_SCALE, statements
from .newton import tiled

CONDENSING = (4.0, 9.0, 14.0, 24.0, 40.0)  # [K] above ambient
EVAPORATING = (5.0, 9.0, 14.0, 20.0, 28.0)  # [K] below the box
GUESS_LIFT = 0.4  # share of full travel
GUESS_SUBCOOLING = 2.0  # [K]
WET_GUESS = 0.2  # liquid leaving, as a share, where a tube feeds too much
GUESS_SUPERHEAT = 5.0  # [K] where there is no valve to ask


def guess(case, condensing_difference, wet=False):
    """Place to start from: at some condensing pressure, where the coil does what is asked of it.

    Parameters
    ----------
    case : Case
    condensing_difference : float or ndarray
        Condensing above ambient. [K]
    wet : bool
        With some liquid leaving the evaporator; never for a valve.

    Returns
    -------
    ndarray, shape (3, n)
    """
    count = case.box_temperature.size
    wide = tiled(case, len(EVAPORATING))
    difference = np.repeat(EVAPORATING, count)
    condensing = np.tile(np.broadcast_to(condensing_difference, count), len(EVAPORATING))
    at = _suction(wide, difference, condensing, wet)
    pinned = replace(wide, pinned=at[1])
    coil = statements(pinned, at, dry_bulb=True)[0][0]
    return _crossing(coil, at, count)


def _crossing(values, at, count):
    """Where values of rows of trials for so many boxes rise through zero, or end nearest to it."""
    values, at = values.reshape(-1, count), at.reshape(3, -1, count)
    above = values > 0.0
    after = np.where(above.any(axis=0), above.argmax(axis=0), len(values) - 1)
    before, every = np.maximum(after - 1, 0), np.arange(count)
    low, high = values[before, every], values[after, every]
    share = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 1.0).clip(0.0, 1.0)
    return at[:, before, every] * (1.0 - share) + at[:, after, every] * share


def weighed(case, at):
    """Move a guess to the condensing pressure at which its suction leaves the account closed.

    Parameters
    ----------
    case : Case
    at : ndarray, shape (3, n)
        From `guess`.

    Returns
    -------
    ndarray, shape (3, n)
    """
    count, fluid = at.shape[1], case.box.refrigerant
    wide = tiled(case, len(CONDENSING))
    trials = np.tile(at, len(CONDENSING))
    warm = wide.ambient_temperature + np.repeat(CONDENSING, count)
    trials[1] = np.log(fluid.dew_pressure(warm, check=False))
    trials = np.clip(trials, wide.lowest, wide.highest)
    surplus = statements(wide, trials, dry_bulb=True)[0][2]
    return _crossing(-surplus, trials, count)


def _suction(case, evaporating_difference, condensing_difference, wet):
    """Suction gas as a valve partly open wants it, or wet, warmed by the lines."""
    box, fluid = case.box, case.box.refrigerant
    dew = case.box_temperature - evaporating_difference
    pressure = fluid.dew_pressure(dew, check=False)
    condensing = fluid.dew_pressure(case.ambient_temperature + condensing_difference, check=False)
    condensing = np.minimum(condensing, np.exp(case.highest[1]))
    superheat = np.minimum(GUESS_SUPERHEAT, 0.6 * evaporating_difference)
    if box.has_valve:
        bulb = valve.bulb_temperature(
            box.metering,
            case.spring_force,
            GUESS_LIFT * box.metering.port.max_lift,
            pressure,
            pressure,
            condensing,
            check=False,
        )
        superheat = np.clip(bulb - dew, 1.0, 0.8 * evaporating_difference)
    leaving = fluid.vapour_enthalpy(pressure, dew + superheat, check=False)
    if wet:
        saturated = fluid.saturation(pressure, check=False)
        leaving = saturated.vapour_enthalpy - WET_GUESS * saturated.latent_heat
    liquid = fluid.bubble_temperature(condensing, check=False) - GUESS_SUBCOOLING
    warmest = fluid.vapour_enthalpy(pressure, liquid, check=False)
    leaving = leaving + box.exchange * np.maximum(warmest - leaving, 0.0)
    at = np.stack([np.log(pressure), np.log(condensing), leaving / ENTHALPY_SCALE])
    return np.clip(at, case.lowest, case.highest)
