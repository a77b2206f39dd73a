"""What a tag is worth in a year: the same calls answered with and without one."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lowside import units
from lowside.errors import require

from .decision import HOLDS, MINUTE, OPEN, PLANS, Outcome, outcomes
from .hardware import Unknowns, deviations, evenly
from .posterior import CLOUD, Belief, Instruments, Library
from .suspects import before, see

CALLS = 100  # simulated for each port with each strainer
_BELOW, _ABOVE = 2, 1  # sizes around the right one
_PLUGGED = 2  # states of a plugged strainer that are told apart
_DRAWS = 27
RUNNING = "running"  # what is read on every call

ALWAYS_OPEN, NO_TAG, TAG = "open when in doubt", "readings, no tag", "readings and tag"
WAYS = (ALWAYS_OPEN, NO_TAG, TAG)


@dataclass(frozen=True)
class Habits:
    """How things stand on a route. Every number is an assumption for you to change.

    Parameters
    ----------
    right_share : float
        Share of valves with the right port inside; of the others each further size is half as
        likely. [-]
    clear_share : float
        Share of strainers that are clear. [-]
    false_alarm : float
        How often a box that holds is suspected, over how often one that is short is. [-]
    reliability : float
        Share of tags that tell the truth. [-]
    parts_known : float
        Share of openings for which the right parts come along though no tag says which. [-]
    calls : float
        A year and box on which the feed of the coil is in doubt. [-]
    tagging_time : float
        To write a tag, once for every call. [s]
    """

    right_share: float = 0.7
    clear_share: float = 0.7
    false_alarm: float = 0.2
    reliability: float = 0.95
    parts_known: float = 0.5
    calls: float = 0.5
    tagging_time: float = 3.0 * MINUTE

    def __post_init__(self):
        for name in ("right_share", "clear_share", "false_alarm", "reliability", "parts_known"):
            require(name.replace("_", " "), getattr(self, name), 0.01, 0.99, "ratio")
        require("calls a year", self.calls, 0.0, 50.0)
        require("time to write a tag", self.tagging_time, 0.0, units.HOUR, "time")

    def port(self, sizes, right):
        """Say what is in the valves of a route.

        Parameters
        ----------
        sizes : ndarray, shape (s,)
            Ports. [m]
        right : float
            The right one. [m]

        Returns
        -------
        Belief
        """
        steps = np.abs(np.arange(len(sizes)) - int(np.argmin(np.abs(np.log(sizes / right)))))
        wrong = np.where(steps == 0, 0.0, 0.5**steps)
        wrong = (1.0 - self.right_share) * wrong / wrong.sum()
        return Belief(np.asarray(sizes), np.where(steps == 0, self.right_share, wrong))


@dataclass(frozen=True)
class Worth:
    """What a call takes, answered in different ways.

    Parameters
    ----------
    taken : dict of str to Outcome
        Mean of a call by way, see ``WAYS``.
    chosen : dict of str to dict of str to float
        Share of the calls on which each plan was chosen, by way. [-]
    """

    taken: dict[str, Outcome]
    chosen: dict[str, dict[str, float]]

    def saved(self, habits):
        """Find what a tag saves on this box in a year, beside readings alone [s].

        Parameters
        ----------
        habits : Habits
            How things stand on the route.

        Returns
        -------
        float
            In time of work; negative where the writing takes more than the tag saves.
        """
        a_call = self.taken[NO_TAG].worth - self.taken[TAG].worth
        return habits.calls * (a_call - habits.tagging_time)


@dataclass(frozen=True, eq=False)
class Rehearsal:
    """Calls on one box, simulated and read, to be answered in any way.

    Parameters
    ----------
    right : float
        Port that is right for the box. [m]
    sizes, holes : ndarray, shapes (s,) and (j,)
        As in `suspects.Suspicion`. [m]
    holds : ndarray of bool, shape (j, s)
        From `decision.holding`.
    case : ndarray of int, shape (n,)
        What is the matter in each call, counted through strainers and ports.
    log_likelihood : ndarray, shape (n, j s)
        Of every suspect, from what is read on each call.
    """

    right: float
    sizes: np.ndarray
    holes: np.ndarray
    holds: np.ndarray
    case: np.ndarray
    log_likelihood: np.ndarray

    def worth(self, costs, habits):
        """Answer the calls in every way; on each the plan expected to take least is followed.

        Parameters
        ----------
        costs : Costs
            What the work takes.
        habits : Habits
            How things stand on the route.

        Returns
        -------
        Worth
        """
        port = habits.port(self.sizes, self.right)
        first = before(self.sizes, self.holes, port, habits.clear_share)
        asked = first.probability * np.where(self.holds, habits.false_alarm, 1.0)
        asked = asked.ravel() / asked.sum()
        often = asked[self.case] / np.bincount(self.case, minlength=asked.size)[self.case]
        number = len(self.sizes)
        taken, chosen = {}, {}
        for way in WAYS:
            parts = habits.reliability if way == TAG else habits.parts_known
            cost = outcomes(self.holds, self.holes, costs, parts)
            worth = np.stack([cost[plan].worth.ravel() for plan in PLANS])
            if way == ALWAYS_OPEN:
                picks = [(1.0, np.full(self.case.size, list(PLANS).index(OPEN)))]
            elif way == NO_TAG:
                picks = [(1.0, self._pick(asked, 0.0, worth))]
            else:
                picks = [
                    (said, self._pick(asked, np.tile(np.log(told), len(self.holes)), worth))
                    for said, told in self._tags(habits.reliability, number)
                ]
            weights = np.concatenate([often * said for said, _ in picks])
            pick = np.concatenate([each for _, each in picks])
            case = np.tile(self.case, len(picks))
            followed = {
                name: np.stack([getattr(cost[plan], name).ravel() for plan in PLANS])[pick, case]
                for name in vars(cost[OPEN])
            }
            taken[way] = Outcome(**followed).mean(weights)
            chosen[way] = {
                plan: float(weights[pick == place].sum()) for place, plan in enumerate(PLANS)
            }
        return Worth(taken, chosen)

    def _tags(self, reliability, number):
        """Every tag that each call may carry: how often it does, and what it makes likely."""
        truth = self.case % number
        for steps in range(number):
            said = reliability if steps == 0 else (1.0 - reliability) / (number - 1)
            told = np.full((truth.size, number), (1.0 - reliability) / (number - 1))
            told[np.arange(truth.size), (truth + steps) % number] = reliability
            yield said, told

    def _pick(self, asked, told, worth):
        logs = self.log_likelihood + told
        top = logs.max(axis=-1, keepdims=True)
        belief = asked * np.exp(logs - np.where(np.isfinite(top), top, 0.0))
        unexplained = belief.sum(axis=-1, keepdims=True) <= 0.0
        return np.argmin(np.where(unexplained, asked, belief) @ worth.T, axis=-1)


def rehearse(site, load, calls=CALLS, seed=26):
    """Simulate calls on one box: every port with every strainer equally often.

    The hardware is drawn evenly within ±15 % of what is believed, the box read as it runs.

    Parameters
    ----------
    site : Site
        The box as believed.
    load : float
        That it must hold. [W]
    calls : int
        For each port with each strainer.
    seed : int
        Of chance.

    Returns
    -------
    Rehearsal
    """
    sizes = site.sizes(_BELOW, _ABOVE)
    holes = np.array([np.inf, *sizes[_PLUGGED - 1 :: -1]])
    unknowns, instruments = Unknowns(), Instruments()
    suspects = np.arange(len(sizes) * len(holes))
    case = np.repeat(suspects, calls)
    random = np.random.default_rng(seed)
    library = math.sqrt(1.0 - CLOUD) * deviations(_DRAWS, unknowns, seed)
    even = evenly(calls, unknowns.count, seed)
    found = math.sqrt(3.0) * (2.0 * np.tile(even, (suspects.size, 1)) - 1.0)
    # Library, calls and the box as believed in one batch: three would take three times as long.
    parts = (
        (np.repeat(suspects, _DRAWS), np.tile(library, (suspects.size, 1))),
        (case, found),
        (suspects, np.zeros((suspects.size, unknowns.count))),
    )
    who, hardware = (np.concatenate(each) for each in zip(*parts, strict=True))
    strainer, port = np.divmod(who, len(sizes))
    seen = see(site, sizes[port], holes[strainer], hardware, unknowns, (RUNNING,))[RUNNING]
    ends = np.cumsum([len(part) for part, _ in parts])
    known, called, believed = (
        seen.at(slice(end - len(part), end)) for end, (part, _) in zip(ends, parts, strict=True)
    )
    lineup = Library(
        site,
        np.tile(sizes, len(holes)),
        unknowns,
        instruments,
        library,
        {RUNNING: known.reshape(suspects.size, _DRAWS)},
    )
    errors = instruments.errors((RUNNING,), random, case.size)[RUNNING]
    logs, _, _ = lineup.log_likelihood({RUNNING: called.readings + errors})
    holds = believed.accepted & (believed.capacity >= HOLDS * load)
    return Rehearsal(site.right, sizes, holes, holds.reshape(len(holes), len(sizes)), case, logs)
