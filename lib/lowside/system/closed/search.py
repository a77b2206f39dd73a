"""The search for what every box settles at, and ways back for those that Newton leaves behind.

The start lies on the vapour side, at the evaporating temperature at which the coil can just do what
the compressor asks. From a wet outlet the valve looks shut whichever way one turns, so a step is
cut short where it would cross the dew line while the bulb is too cold.

What is left starts again from other condensing pressures; what is still left is solved at a row of
condensing pressures, held one by one. The grams in the box grow from one to the next, so the
charge lies between two of them, or above all: then the pressure would have to be higher than the
refrigerant's table reaches.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lowside import valve

from .equations import account, attempt
from .guess import CONDENSING, guess, weighed
from .newton import Search, chosen, newton, tiled

FIRST_CONDENSING = 14.0  # [K] above ambient
WARM_STEPS = 10  # in which a start that is near enough arrives
NEAR_THE_TOP = 0.4  # of the logarithm of the condensing pressure
LADDER = 14  # condensing pressures held one by one
FINE_LADDER = 40
HALVINGS = 5
STALLING = 0.25  # volumetric efficiency


def search(case, start=None):
    """Find what every box of a batch settles at.

    Parameters
    ----------
    case : Case
    start : ndarray, shape (3, n), optional
        Of a box like it, to begin with.

    Returns
    -------
    Search
    """
    if start is None:
        found = _first(case)
    else:
        near = np.clip(start, case.lowest, case.highest)
        found = newton(case, near, patient=False, steps=WARM_STEPS)
        left = np.flatnonzero(~found.converged)
        if left.size:
            found = found.replaced(left, _first(chosen(case, left)))
    high = np.flatnonzero(~found.converged & (found.at[1] > case.highest[1] - NEAR_THE_TOP))
    if high.size:
        found = found.replaced(high, _at_the_top(chosen(case, high)))
    for fallback in (_elsewhere, _ladder):
        left = np.flatnonzero(~found.converged & ~found.beyond)
        if left.size:
            found = found.replaced(left, fallback(chosen(case, left)))
    for fallback in (_fine_ladder, _patient_ladder):
        named = found.converged | found.beyond | found.short | found.drowned
        left = np.flatnonzero(~named & ~pulled_down(case, found) & ~never_opens(case))
        if left.size:
            found = found.replaced(left, fallback(chosen(case, left)))
    return found


def pulled_down(case, found):
    """Whether the suction ended at the lower end of the refrigerant's table."""
    return ~found.converged & (found.at[0] <= case.lowest[0] + 1e-6)


def never_opens(case):
    """Whether the valve stays on its seat with the bulb as warm as the box, suction pulled down."""
    box = case.box
    if not box.has_valve:
        return np.zeros(case.box_temperature.shape, dtype=bool)
    lowest = np.exp(case.lowest[0])
    at_seat = valve.bulb_temperature(
        box.metering, case.spring_force, 0.0, lowest, lowest, np.exp(case.lowest[1]), check=False
    )
    return at_seat > case.box_temperature


def _at_the_top(case):
    """Settle at the highest condensing pressure: a box that holds too little even there is done."""
    at, surplus, good = _held(case, case.highest[1])
    no = np.zeros_like(good)
    return Search(at, np.abs(surplus), no, good & (surplus > 0.0), no, no)


def _first(case):
    """Start from the condensing pressure that holds the charge."""
    return _from_guesses(case, (FIRST_CONDENSING,), dry_bulb=True, by_charge=True)


def _elsewhere(case):
    """Start again from other condensing pressures, liquid at the bulb allowed."""
    return _from_guesses(case, CONDENSING, dry_bulb=False)


def _from_guesses(case, condensing_differences, dry_bulb, by_charge=False):
    """Newton from several condensing pressures, a tube from dry and from wet suction, all at once.

    A tube feeds dry or floods, and the dew line between is a ridge that Newton does not cross.
    """
    count, tries = case.box_temperature.size, len(condensing_differences)
    wide, condensing = tiled(case, tries), np.repeat(condensing_differences, count)
    start = guess(wide, condensing)
    if not case.box.has_valve:
        start = np.concatenate([start, guess(wide, condensing, wet=True)], axis=1)
        wide = tiled(wide, 2)
    if by_charge:
        start = weighed(wide, start)
    found = newton(wide, start, dry_bulb, boxes=count, patient=False)
    best = np.where(found.converged, 0.0, found.residual).reshape(-1, count).argmin(axis=0)
    best = best * count + np.arange(count)
    return Search(*(value[..., best] for value in vars(found).values()))


def _ladder(case):
    """Solve at condensing pressures held one by one; then between the two that hold the charge."""
    count = case.box_temperature.size
    wide = tiled(case, LADDER)
    share = np.repeat(np.linspace(0.02, 1.0, LADDER), count)
    held = wide.lowest[1] + share * (wide.highest[1] - wide.lowest[1])
    at, surplus, good = _held(wide, held)
    at, surplus, good = (
        value.reshape(*value.shape[:-1], LADDER, count) for value in (at, surplus, good)
    )
    every = np.arange(count)
    order = np.arange(LADDER)[:, None]
    low = np.where(good & (surplus > 0.0), order, -1).max(axis=0)  # holds too little
    high = np.where(good & (surplus <= 0.0) & (order > low), order, LADDER).min(axis=0)
    between = (low >= 0) & (high < LADDER)
    top = np.where(good, order, -1).max(axis=0)
    start = at[:, np.where(low >= 0, low, np.maximum(top, 0)), every]
    index = np.flatnonzero(between)
    if index.size:
        part = chosen(case, index)
        lower, upper = at[:, low[index], index], at[:, high[index], index]
        for _ in range(HALVINGS):
            middle = 0.5 * (lower + upper)
            here, miss, solved = _held(part, middle[1], middle)
            up = solved & (miss > 0.0)
            lower = np.where(up, here, lower)
            upper = np.where(solved & ~up, here, upper)
        start[:, index] = 0.5 * (lower + upper)
    found = newton(case, start)
    again = newton(case, start, dry_bulb=False)
    worse = np.flatnonzero(again.residual < found.residual)
    found = found.replaced(worse, Search(*(value[..., worse] for value in vars(again).values())))
    stalling = _stalling(case, start) | _stalling(case, found.at)
    beyond = ~found.converged & (low >= 0) & (low == top) & ((top == LADDER - 1) | stalling)
    at = np.where(beyond, start, found.at)
    short = ~found.converged & (low < 0) & (top >= 0)
    drowned = np.zeros_like(short)
    return Search(at, found.residual, found.converged, beyond, short, drowned)


def _patient_ladder(case):
    """Climb the fine ladder again, giving up on no rung while anything gets better."""
    return _fine_ladder(case, patient=True)


def _fine_ladder(case, patient=False):
    """Solve at many held condensing pressures, each from its neighbour; then begin from each.

    The boxes that come here flood and drain within a few kelvin of condensing temperature, or are
    so far overcharged that the table ends first.
    """
    count = case.box_temperature.size
    wide = tiled(case, FINE_LADDER)
    share = np.repeat(np.linspace(0.0, 1.0, FINE_LADDER), count)
    held = wide.lowest[1] + share * (wide.highest[1] - wide.lowest[1])
    at, _, good = _held(wide, held, patient=patient)
    for _ in range(FINE_LADDER):
        known = good.copy()
        for shift in (count, -count):
            beside = np.roll(np.arange(good.size), shift)
            near = np.abs(np.roll(share, shift) - share) < 0.5
            left = np.flatnonzero(~good & good[beside] & near)
            if left.size:
                start = at[:, beside[left]]
                start[1] = held[left]
                pinned = replace(chosen(wide, left), pinned=held[left])
                found = newton(pinned, start, dry_bulb=False)
                at[:, left] = np.where(found.converged, found.at, at[:, left])
                good[left] = found.converged
        if np.array_equal(known, good):
            break
    trial = attempt(wide, at)
    _, _, surplus = account(wide, trial)
    low, high, dry = (
        (good & such).reshape(-1, count)
        for such in (surplus > 0.0, surplus <= 0.0, _dry_discharge(wide, trial))
    )
    every = np.arange(count)
    rungs = np.arange(FINE_LADDER)[:, None]
    found = newton(wide, at, dry_bulb=False, boxes=count)
    best = np.where(found.converged, 0.0, found.residual).reshape(-1, count).argmin(axis=0)
    best = best * count + every
    ended, solved = found.at[:, best], found.converged[best]
    beyond = ~solved & low[-1] & ~high.any(axis=0)
    wet_end = ~_dry_discharge(case, attempt(case, ended))
    drowned = ~solved & ~beyond & wet_end & dry.any(axis=0) & ~(dry & high).any(axis=0)
    last = np.where(beyond, FINE_LADDER - 1, np.where(dry, rungs, 0).max(axis=0))
    ended = np.where(beyond | drowned, at[:, last * count + every], ended)
    return Search(ended, found.residual[best], solved, beyond, np.zeros_like(solved), drowned)


def discharge_quality(case, trial):
    """Share of vapour in what leaves the compressor, not clipped [-].

    Parameters
    ----------
    case : Case
    trial : Trial

    Returns
    -------
    ndarray
    """
    entering = case.box.refrigerant.saturation(trial.condensing_pressure, check=False)
    return (trial.compression.discharge_enthalpy - entering.liquid_enthalpy) / entering.latent_heat


def _dry_discharge(case, trial):
    """Whether no liquid leaves the compressor."""
    return discharge_quality(case, trial) >= 1.0


def _stalling(case, at):
    """Whether re-expanding gas nearly fills the cylinder: the compressor can go no higher."""
    return attempt(case, at).compression.volumetric_efficiency < STALLING


def _at_pressure(pinned, wet):
    """Guess at held condensing pressures."""
    condensing = pinned.box.refrigerant.dew_temperature(np.exp(pinned.pinned), check=False)
    start = guess(pinned, condensing - pinned.ambient_temperature, wet)
    start[1] = pinned.pinned
    return start


def _held(case, log_condensing, start=None, patient=False):
    """Settle everything but the account at held condensing pressures, and read the account."""
    pinned = replace(case, pinned=log_condensing)
    if start is None:
        start = _at_pressure(pinned, wet=False)
    found = newton(pinned, start, patient=patient)
    left = np.flatnonzero(~found.converged)
    if left.size:
        part, begin = chosen(pinned, left), start[:, left]
        if not case.box.has_valve:
            begin = _at_pressure(part, wet=True)
        found = found.replaced(left, newton(part, begin, dry_bulb=False, patient=patient))
    _, _, surplus = account(case, attempt(case, found.at))
    return found.at, surplus, found.converged
