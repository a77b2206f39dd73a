"""Newton for a whole batch of boxes at once, slopes measured where the last ones fail."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..case import each
from .equations import statements

TOLERANCE = 1e-5  # one more step follows, unseen, so that what is left is far less
FINE = 1e-7  # tolerance where that last step rests on slopes followed and not measured
NUDGE = 1e-7  # small, for the receiver puts its answers on the kink where liquid just leaves
NUDGES = NUDGE * np.concatenate([np.zeros((1, 3)), np.eye(3)]).T[:, :, None]
LARGEST_STEP = np.array([[0.25], [0.25], [0.8]])  # two logarithms of pressure, 40 kJ/kg
BACKTRACK = 0.35  # share of a step that made things worse which is kept
TOWARDS_DEW = 0.7  # share of the enthalpy above dew that one step may use up
FEW = 64  # boxes in a batch up to which values and slopes are cheapest in one evaluation
KEPT = 0.2  # share of what was wrong, below which a step has earned its slopes another one
NEAR = 0.3  # what may be wrong for slopes to be kept
NEWTON_STEPS = 40
WORTHWHILE = 0.97  # share of what was wrong, above which a step has not got far
PATIENCE = 6  # steps that did not get better, or not far, after which a box leaves the batch


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


def newton(
    case, start, dry_bulb=True, last_step=True, boxes=None, patient=True, steps=NEWTON_STEPS
):
    """Newton with slopes from differences; a step that makes things worse is taken back in part.

    Boxes leave the batch as they converge. Slopes cost three evaluations, so that a box on its way
    home keeps them as long as each step leaves less than `KEPT` of what was wrong.

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
    patient : bool
        Go on while anything gets better, however little. Otherwise a box that creeps leaves.
    steps : int
        At most.

    Returns
    -------
    Search
    """
    count = start.shape[1]
    at, residual, converged = start.copy(), np.full(count, np.inf), np.zeros(count, dtype=bool)
    todo, part, here = np.arange(count), case, start
    best, least, waited = start, np.full(count, np.inf), np.zeros(count, dtype=int)
    slopes, step, last = np.zeros((4, 3, count)), np.zeros((3, count)), np.full((4, count), np.inf)
    worthwhile = 1.0 if patient else WORTHWHILE
    for _ in range(steps):
        together = len(todo) <= FEW
        if together:
            now, slopes, passed = _around(part, here, dry_bulb)
        else:
            now, passed = statements(part, here, dry_bulb)
        if passed is not None:
            part = replace(part, passed=passed)
        size = np.abs(now[:3]).max(axis=0)
        length = np.sqrt(np.square(now[:3]).sum(axis=0))
        better = length < least
        fresh = np.full(len(todo), together)
        if not together:
            slopes = _followed(slopes, step, now - last)
            earned = (length < KEPT * least) & (least < NEAR)
            fresh = better & ~earned & ~(size < FINE)
            index = np.flatnonzero(fresh)
            if index.size:
                slopes[..., index] = _slopes(
                    chosen(part, index), here[:, index], now[:, index], dry_bulb
                )
        waited = np.where(length < worthwhile * least, 0, waited + 1)
        best, least = np.where(better, here, best), np.where(better, length, least)
        at[:, todo], residual[todo] = best, least
        topped = (here[1] >= part.highest[1]) & (best[1] >= part.highest[1] - 0.1) & (now[2] > 0.0)
        newton_step = _solved(slopes[:3], now[:3])
        solved = size < np.where(fresh, TOLERANCE, FINE)
        converged[todo[solved]] = True
        at[:, todo[solved]] = (here + last_step * newton_step)[:, solved]
        done = solved | (waited > PATIENCE) | topped
        if boxes is not None:
            preferred = np.cumsum(converged.reshape(-1, boxes), axis=0).ravel() > converged
            done |= preferred[todo]
        if done.all():
            break
        step = newton_step / np.maximum(np.abs(newton_step) / LARGEST_STEP, 1.0).max(axis=0)
        if dry_bulb and case.box.has_valve:
            step = step * _short_of_dew(now, (slopes[3] * step).sum(axis=0))
        there = best + np.where(better, step, BACKTRACK * (here - best))
        there = np.clip(there, part.lowest, part.highest)
        step, last, here = there - here, now, there
        if done.any():
            keep = np.flatnonzero(~done)
            todo, waited, least = todo[keep], waited[keep], least[keep]
            best, here, step, last = best[:, keep], here[:, keep], step[:, keep], last[:, keep]
            slopes = slopes[..., keep]
            part = chosen(part, keep)
    nowhere = np.zeros(count, dtype=bool)
    return Search(at, residual, converged, nowhere, nowhere, nowhere)


def _around(case, here, dry_bulb):
    """Evaluate what should vanish, its slopes, and what a tube passed, all in one."""
    trials = (here[:, None] + NUDGES).reshape(3, -1)
    values, passed = statements(tiled(case, 4), trials, dry_bulb)
    values = values.reshape(4, 4, -1)
    now = values[:, 0]
    slopes = (values[:, 1:] - now[:, None]) / NUDGE
    return now, slopes, None if passed is None else passed[:, : here.shape[1]]


def _slopes(case, here, now, dry_bulb):
    """Measure the slopes of what should vanish, its values known, shape (4, 3, n)."""
    trials = (here[:, None] + NUDGES[:, 1:]).reshape(3, -1)
    values, _ = statements(tiled(case, 3), trials, dry_bulb)
    return (values.reshape(4, 3, -1) - now[:, None]) / NUDGE


def _followed(slopes, step, change):
    """Bring slopes in line with the change over the last step, Broyden (1965), from memory."""
    square = np.square(step).sum(axis=0)
    known = (square > 0.0) & np.isfinite(change).all(axis=0)
    missed = np.where(known, change - (slopes * step).sum(axis=1), 0.0)
    return slopes + missed[:, None] * (step / np.where(known, square, 1.0))


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
