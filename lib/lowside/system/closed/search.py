"""Newton for a whole batch of boxes at once, and two ways back for those that it leaves behind.

The start lies on the vapour side, at the evaporating temperature at which the coil can just do what
the compressor asks. From a wet outlet the valve looks shut whichever way one turns, so a step is
cut short where it would cross the dew line while the bulb is too cold.

What is left starts again from other condensing pressures; what is still left is solved at a row of
condensing pressures, held one by one. The grams in the box grow from one to the next, so the
charge lies between two of them, or above all: then the pressure would have to be higher than the
refrigerant's table reaches.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import valve

from ..case import each
from .equations import ENTHALPY_SCALE, account, attempt, statements

TOLERANCE = 1e-5  # one more step follows, unseen, so that what is left is far less
NUDGE = 1e-7  # small, for the receiver puts its answers on the kink where liquid just leaves
NUDGES = NUDGE * np.concatenate([np.zeros((1, 3)), np.eye(3)]).T[:, :, None]
LARGEST_STEP = np.array([[0.25], [0.25], [0.8]])  # two logarithms of pressure, 40 kJ/kg
BACKTRACK = 0.35  # share of a step that made things worse which is kept
TOWARDS_DEW = 0.7  # share of the enthalpy above dew that one step may use up
NEWTON_STEPS = 40
PATIENCE = 6  # steps without getting better, after which a box leaves the batch
FIRST_CONDENSING = 14.0  # [K] above ambient
OTHER_CONDENSING = (4.0, 9.0, 14.0, 24.0, 40.0)  # [K]
EVAPORATING = (5.0, 9.0, 14.0, 20.0, 28.0)  # [K] below the box
GUESS_LIFT = 0.4  # share of full travel
GUESS_SUBCOOLING = 2.0  # [K]
WET_GUESS = 0.2  # liquid leaving, as a share, where a tube feeds too much
GUESS_SUPERHEAT = 5.0  # [K] where there is no valve to ask
NEAR_THE_TOP = 0.4  # of the logarithm of the condensing pressure
LADDER = 14  # condensing pressures held one by one
FINE_LADDER = 40
HALVINGS = 5
STALLING = 0.25  # volumetric efficiency


@dataclass(frozen=True)
class Search:
    """Where a search stands.

    Parameters
    ----------
    at : ndarray, shape (3, n)
        Unknowns, as for `attempt`.
    residual : ndarray
        Root of the squares of the three statements there. [-]
    converged : ndarray of bool
        To within `TOLERANCE`, and one step further.
    beyond : ndarray of bool
        Even at the highest condensing pressure, that of the table or that which the compressor
        reaches, the box would hold fewer grams than it has.
    short : ndarray of bool
        Even at the lowest condensing pressure at which the rest settles the box would hold more
        grams than it has: it pumps down.
    drowned : ndarray of bool
        Wherever the compressor's discharge is dry, the box would hold fewer grams than it has, and
        the search ends where the discharge is wet.
    """

    at: np.ndarray
    residual: np.ndarray
    converged: np.ndarray
    beyond: np.ndarray
    short: np.ndarray
    drowned: np.ndarray

    def replaced(self, index, other):
        """Put the points of another search in place of some of these."""
        fields = {name: value.copy() for name, value in vars(self).items()}
        for name, value in fields.items():
            value[..., index] = getattr(other, name)
        return Search(**fields)


def chosen(case, index):
    """Take some boxes of a batch."""
    return each(case, lambda array: array[..., index])


def tiled(case, count):
    """Repeat a batch, one copy after the other."""
    return each(case, lambda array: np.tile(array, (*(1,) * (array.ndim - 1), count)))


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
        found = _from_guesses(case, (FIRST_CONDENSING,), dry_bulb=True)
    else:
        found = newton(case, np.clip(start, case.lowest, case.highest))
    high = np.flatnonzero(~found.converged & (found.at[1] > case.highest[1] - NEAR_THE_TOP))
    if high.size:
        found = found.replaced(high, _at_the_top(chosen(case, high)))
    for fallback in (_elsewhere, _ladder):
        left = np.flatnonzero(~found.converged & ~found.beyond)
        if left.size:
            found = found.replaced(left, fallback(chosen(case, left)))
    named = found.converged | found.beyond | found.short | pulled_down(case, found)
    left = np.flatnonzero(~named & ~never_opens(case))
    if left.size:
        found = found.replaced(left, _fine_ladder(chosen(case, left)))
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
    reached = statements(pinned, at, dry_bulb=True)[0][0].reshape(-1, count)
    after = np.argmax(reached > 0.0, axis=0)
    after = np.where((reached > 0.0).any(axis=0), after, len(EVAPORATING) - 1)
    before, every = np.maximum(after - 1, 0), np.arange(count)
    low, high = reached[before, every], reached[after, every]
    share = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 1.0).clip(0.0, 1.0)
    at = at.reshape(3, -1, count)
    return at[:, before, every] * (1.0 - share) + at[:, after, every] * share


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


def newton(case, start, dry_bulb=True, last_step=True, boxes=None):
    """Newton with slopes from differences; a step that makes things worse is taken back in part.

    Boxes leave the batch as they converge.

    Parameters
    ----------
    case : Case
    start : ndarray, shape (3, n)
    dry_bulb : bool
        As for `statements`; with it, steps stop short of the dew line while the bulb is too cold.
    last_step : bool
        Take the step from within the tolerance.
    boxes : int, optional
        Where the batch holds several tries at so many boxes, in order of preference: a try leaves
        when one before it has converged.

    Returns
    -------
    Search
    """
    count = start.shape[1]
    at, residual, converged = start.copy(), np.full(count, np.inf), np.zeros(count, dtype=bool)
    todo, part, here = np.arange(count), case, start
    best, least, waited = start, np.full(count, np.inf), np.zeros(count, dtype=int)
    for _ in range(NEWTON_STEPS):
        trials = (here[:, None] + NUDGES).reshape(3, -1)
        values, passed = statements(tiled(part, 4), trials, dry_bulb)
        values = values.reshape(4, 4, -1)
        if passed is not None:
            part = replace(part, passed=passed[:, : len(todo)])
        now, slopes = values[:, 0], (values[:, 1:] - values[:, :1]) / NUDGE
        size = np.abs(now[:3]).max(axis=0)
        length = np.sqrt(np.square(now[:3]).sum(axis=0))
        better = length < least
        best, least = np.where(better, here, best), np.where(better, length, least)
        waited = np.where(better, 0, waited + 1)
        at[:, todo], residual[todo] = best, least
        topped = (here[1] >= part.highest[1]) & (best[1] >= part.highest[1] - 0.1) & (now[2] > 0.0)
        step = _solved(slopes[:3], now[:3])
        solved = size < TOLERANCE
        converged[todo[solved]] = True
        at[:, todo[solved]] = (here + last_step * step)[:, solved]
        done = solved | (waited > PATIENCE) | topped
        if boxes is not None:
            preferred = np.cumsum(converged.reshape(-1, boxes), axis=0).ravel() > converged
            done |= preferred[todo]
        if done.all():
            break
        step = step / np.maximum(np.abs(step) / LARGEST_STEP, 1.0).max(axis=0)
        if dry_bulb and case.box.has_valve:
            step = step * _short_of_dew(now, (slopes[3] * step).sum(axis=0))
        here = best + np.where(better, step, BACKTRACK * (here - best))
        here = np.clip(here, part.lowest, part.highest)
        if done.any():
            keep = np.flatnonzero(~done)
            todo, waited, least = todo[keep], waited[keep], least[keep]
            best, here = best[:, keep], here[:, keep]
            part = chosen(part, keep)
    nowhere = np.zeros(count, dtype=bool)
    return Search(at, residual, converged, nowhere, nowhere, nowhere)


def _solved(slopes, values):
    """Newton step; where the slopes say nothing, none."""
    matrix = np.moveaxis(slopes, -1, 0)
    flat = ~(np.abs(np.linalg.det(matrix)) > 1e-14)
    matrix = np.where(flat[:, None, None], np.eye(3), matrix)
    return -np.linalg.solve(matrix, values.T[:, :, None])[:, :, 0].T


def _short_of_dew(now, rise):
    """Share of a step to take, so that a bulb that is too cold does not see liquid next."""
    feeding, above = now[1], now[3]
    crossing = (above > 0.0) & (feeding < 0.0) & (-rise > TOWARDS_DEW * above)
    return np.where(crossing, TOWARDS_DEW * above / np.where(crossing, -rise, 1.0), 1.0)


def _at_the_top(case):
    """Settle at the highest condensing pressure: a box that holds too little even there is done."""
    at, surplus, good = _held(case, case.highest[1])
    no = np.zeros_like(good)
    return Search(at, np.abs(surplus), no, good & (surplus > 0.0), no, no)


def _elsewhere(case):
    """Start again from other condensing pressures, liquid at the bulb allowed."""
    return _from_guesses(case, OTHER_CONDENSING, dry_bulb=False)


def _from_guesses(case, condensing_differences, dry_bulb):
    """Newton from several condensing pressures, a tube from dry and from wet suction, all at once.

    A tube feeds dry or floods, and the dew line between is a ridge that Newton does not cross.
    """
    count, tries = case.box_temperature.size, len(condensing_differences)
    wide, condensing = tiled(case, tries), np.repeat(condensing_differences, count)
    start = guess(wide, condensing)
    if not case.box.has_valve:
        start = np.concatenate([start, guess(wide, condensing, wet=True)], axis=1)
        wide = tiled(wide, 2)
    found = newton(wide, start, dry_bulb, boxes=count)
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


def _fine_ladder(case):
    """Solve at many held condensing pressures, each from its neighbour; then begin from each.

    The boxes that come here flood and drain within a few kelvin of condensing temperature, or are
    so far overcharged that the table ends first.
    """
    count = case.box_temperature.size
    wide = tiled(case, FINE_LADDER)
    share = np.repeat(np.linspace(0.0, 1.0, FINE_LADDER), count)
    held = wide.lowest[1] + share * (wide.highest[1] - wide.lowest[1])
    at, _, good = _held(wide, held)
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


def _dry_discharge(case, trial):
    """Whether no liquid leaves the compressor."""
    entering = case.box.refrigerant.saturation(trial.condensing_pressure, check=False)
    return trial.compression.discharge_enthalpy >= entering.vapour_enthalpy


def _stalling(case, at):
    """Whether re-expanding gas nearly fills the cylinder: the compressor can go no higher."""
    return attempt(case, at).compression.volumetric_efficiency < STALLING


def _at_pressure(pinned, wet):
    """Guess at held condensing pressures."""
    condensing = pinned.box.refrigerant.dew_temperature(np.exp(pinned.pinned), check=False)
    start = guess(pinned, condensing - pinned.ambient_temperature, wet)
    start[1] = pinned.pinned
    return start


def _held(case, log_condensing, start=None):
    """Settle everything but the account at held condensing pressures, and read the account."""
    pinned = replace(case, pinned=log_condensing)
    if start is None:
        start = _at_pressure(pinned, wet=False)
    found = newton(pinned, start)
    left = np.flatnonzero(~found.converged)
    if left.size:
        part, begin = chosen(pinned, left), start[:, left]
        if not case.box.has_valve:
            begin = _at_pressure(part, wet=True)
        found = found.replaced(left, newton(part, begin, dry_bulb=False))
    _, _, surplus = account(case, attempt(case, found.at))
    return found.at, surplus, found.converged
