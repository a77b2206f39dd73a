"""Which parts to carry: maximum coverage of a route's calls as an integer programme.

Unknown is which parts lie in the case, one place each. A build of the kit can be put together if
its body, its cartridge and its power element are there; a call is covered if every set of builds
that it needs (`Stop.needs`) has one that can be put together. With x for parts, z for the use of a
build in a set, and y for calls, all between 0 and 1, and x whole:

    maximise  sum of weight y    subject to    y <= sum of z over each of its sets,
    sum of z over the builds of a set that hold a part <= x of that part,
    sum of x <= places,          sum of price x <= money

Where x is whole, the best y are whole by themselves. Of cases that cover the same the
cheapest is taken, and of equally cheap ones the first in the order of the kit.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from lowside.errors import LowsideError, require

from .parts import Part, all_parts

_PRICE, _ORDER, _COVER = 1.0, 0.03, 1e4  # weights of what is wished for, the last above all
_SAME = 1e-9  # of all weight


@dataclass(frozen=True)
class Case:
    """What lies in the case, and what it is good for on a route.

    Attributes
    ----------
    stops : tuple of Stop
        The route.
    parts : tuple of Part
        In the order of the kit.
    """

    stops: tuple
    parts: tuple[Part, ...]

    @cached_property
    def covered(self):
        """Whether each box of the route is covered, a tuple of bool."""
        held = set(self.parts)
        return tuple(
            all(any(held.issuperset(build) for build in group) for group in stop.needs)
            for stop in self.stops
        )

    @property
    def price(self):
        """What all its parts cost [-]."""
        return sum(all_parts()[each] for each in self.parts)

    def sum(self, weights):
        """Sum up what is covered.

        Parameters
        ----------
        weights : sequence of float
            Of each box of the route.

        Returns
        -------
        float
        """
        return float(sum(w for w, yes in zip(weights, self.covered, strict=True) if yes))

    @property
    def calls(self):
        """Calls that it covers, a year [-]."""
        return self.sum([stop.calls for stop in self.stops])

    @property
    def calls_share(self):
        """Calls that it covers over all calls [-]."""
        return self.calls / sum(stop.calls for stop in self.stops)

    @property
    def food_share(self):
        """Food of the calls that it covers, over that of all calls [-]; 1 where there is none."""
        food = [stop.calls * stop.food for stop in self.stops]
        return self.sum(food) / sum(food) if sum(food) else 1.0

    def missing(self, stop):
        """Find what lacks for a box: the fewest parts, and of these the cheapest.

        Parameters
        ----------
        stop : Stop
            Of the route.

        Returns
        -------
        tuple of Part
            Empty if it is covered, or if nothing in the kit fits.
        """
        if not all(stop.needs):
            return ()
        held, lacking = set(self.parts), []
        for group in stop.needs:
            ways = [[each for each in build if each not in held] for build in group]
            nearest = min(ways, key=lambda way: (len(way), sum(all_parts()[p] for p in way)))
            lacking += nearest
            held.update(nearest)
        return tuple(lacking)


def weights(stops, food=0.0):
    """Weigh the calls of a route.

    Parameters
    ----------
    stops : sequence of Stop
    food : float
        Share of the weight that goes by the food at risk: 0 for all calls alike, 1 for a call
        that counts by its food alone. [-]

    Returns
    -------
    ndarray, shape (n,)
        A year, in sum 1. [-]

    Raises
    ------
    OutOfRange
        If the share is none.
    LowsideError
        If nobody on this route ever calls.
    """
    require("share of the weight that goes by food", food, 0.0, 1.0, "ratio")
    calls = np.array([stop.calls for stop in stops])
    if not calls.sum() > 0.0:
        raise LowsideError("On this route nobody ever calls: every box has zero calls a year.")
    by_call = calls / calls.sum()
    kilograms = calls * np.array([stop.food for stop in stops])
    by_food = kilograms / kilograms.sum() if kilograms.sum() > 0.0 else by_call
    return (1.0 - food) * by_call + food * by_food


@lru_cache(maxsize=1024)
def best(stops, places, money=None, food=0.0):
    """Find the parts that cover most.

    Parameters
    ----------
    stops : tuple of Stop
        The route.
    places : int
        In the case, one a part.
    money : float, optional
        That all parts together may cost. [-]
    food : float
        As in `weights`. [-]

    Returns
    -------
    Case

    Raises
    ------
    OutOfRange
        For less than no places or no money.
    LowsideError
        If nobody on this route ever calls, or the solver gives up.
    """
    require("places in the case", places, 0, None)
    if money is not None:
        require("money for parts", money, 0.0, None)
    return _programme(stops, food).solve(places, money)


@lru_cache(maxsize=64)
def curve(stops, money=None, food=0.0):
    """Find the best case for every number of places, until one more buys nothing.

    Parameters
    ----------
    stops : tuple of Stop
        The route.
    money : float, optional
        As in `best`. [-]
    food : float
        As in `weights`. [-]

    Returns
    -------
    tuple of Case
        For 0, 1, 2 … places.

    Raises
    ------
    OutOfRange, LowsideError
        As `best`.
    """
    wanted = weights(stops, food)
    most = best(stops, len(all_parts()), money, food).sum(wanted)
    cases = [Case(stops, ())]
    while cases[-1].sum(wanted) < most - _SAME:
        cases.append(best(stops, len(cases), money, food))
    return tuple(cases)


@lru_cache(maxsize=64)
def one_by_one(stops, food=0.0):
    """Fill a case build by build, taking nothing back: always the one that buys most a new part.

    It is quick, it is what people do, and it is not always the best.

    Parameters
    ----------
    stops : tuple of Stop
        The route.
    food : float
        As in `weights`. [-]

    Returns
    -------
    tuple of Case
        After every step, from the empty case to the one that covers all that the kit can.

    Raises
    ------
    LowsideError
        If nobody on this route ever calls.
    """
    return _programme(stops, food).one_by_one()


@lru_cache(maxsize=32)
def _programme(stops, food):
    return _Programme(stops, food)


class _Programme:
    """The integer programme of a route, for any number of places and any money."""

    def __init__(self, stops, food):
        self.stops, self.weight = stops, weights(stops, food)
        calls = [call for call, stop in enumerate(stops) if all(stop.needs)]
        groups = [(call, set(group)) for call in calls for group in stops[call].needs]
        spared = _spared({build for _, group in groups for build in group}, groups)
        groups = [(call, {b for b in group if not spared & set(b)}) for call, group in groups]
        order = {each: at for at, each in enumerate(all_parts())}
        builds = sorted(
            {build for _, group in groups for build in group},
            key=lambda build: [order[each] for each in build],
        )
        self.parts = sorted({each for build in builds for each in build}, key=order.get)
        self.prices = np.array([all_parts()[each] for each in self.parts], dtype=float)
        at = {each: index for index, each in enumerate(self.parts)}
        made_of = [[at[each] for each in build] for build in builds]
        self.made_of = np.array(made_of, dtype=int).reshape(-1, 3)
        self.does = np.array(
            [[build in group for build in builds] for _, group in groups], dtype=float
        ).reshape(len(groups), len(builds))
        self.whose = np.array([call for call, _ in groups], dtype=int)
        self.uses = np.argwhere(self.does)

    def solve(self, places, money=None):
        """Find the best case with HiGHS."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import block_array, csr_array

        parts, uses, calls = len(self.parts), len(self.uses), len(self.stops)
        if not parts:
            return Case(self.stops, ())
        group, build = self.uses.T
        taken = self.made_of[build] + parts * group[:, None]  # a part within a group
        pairs, pair = np.unique(taken, return_inverse=True)
        part_of = _ones(np.arange(len(pairs)), pairs % parts, (len(pairs), parts))
        use_of = _ones(pair.ravel(), np.repeat(np.arange(uses), 3), (len(pairs), uses))
        group_of = _ones(group, np.arange(uses), (len(self.whose), uses))
        call_of = _ones(np.arange(len(self.whose)), self.whose, (len(self.whose), calls))
        rows = [
            [-part_of, use_of, None],
            [None, -group_of, call_of],
            [csr_array(np.ones((1, parts))), None, csr_array((1, calls))],
        ]
        high = [np.zeros(len(pairs) + len(self.whose)), [places]]
        if money is not None:
            rows.append([csr_array(self.prices[None]), None, None])
            high.append([money])
        rank = np.arange(parts) / max(parts * (parts - 1) / 2.0, 1.0)
        wish = _PRICE * self.prices / self.prices.sum() + _ORDER * rank
        cost = np.concatenate([wish, np.zeros(uses), -_COVER * self.weight])
        most = np.ones(len(cost))
        most[parts + uses :] = np.isin(np.arange(calls), self.whose)
        found = milp(
            cost,
            integrality=np.arange(len(cost)) < parts,
            bounds=Bounds(0.0, most),
            constraints=LinearConstraint(
                block_array(rows, format="csr"), -np.inf, np.concatenate(high)
            ),
            options={"mip_rel_gap": 0.0},
        )
        if found.x is None:
            raise LowsideError(f"No case was found for this route ({found.message}).")
        chosen = zip(self.parts, found.x[:parts] > 0.5, strict=True)
        return Case(self.stops, tuple(part for part, taken in chosen if taken))

    def one_by_one(self):
        """Add builds until nothing is gained."""
        parts = len(self.parts)
        whole = np.zeros((len(self.made_of), parts), dtype=bool)
        np.put_along_axis(whole, self.made_of, True, axis=1)
        held, cases = np.zeros(parts, dtype=bool), [Case(self.stops, ())]
        while len(whole):
            tried = held | whole
            new = (tried & ~held).sum(axis=1)
            gain = self._worth(tried) - self._worth(held[None])
            rate = np.where(new > 0, gain / np.maximum(new, 1), 0.0)
            price = (tried & ~held) @ self.prices
            step = np.lexsort((price, -rate.round(9)))[0]
            if rate[step] <= _SAME:
                break
            held = tried[step]
            taken = zip(self.parts, held, strict=True)
            cases.append(Case(self.stops, tuple(part for part, yes in taken if yes)))
        return tuple(cases)

    def _worth(self, held):
        """Weight of the calls that each row of parts covers."""
        made = held[:, self.made_of].all(axis=2)
        met = made.astype(float) @ self.does.T > 0.0
        covered = np.ones((len(held), len(self.stops)), dtype=bool)
        covered[:, np.setdiff1d(np.arange(len(self.stops)), self.whose)] = False
        for group, call in enumerate(self.whose):
            covered[:, call] &= met[:, group]
        return covered @ self.weight


def _ones(rows, columns, shape):
    from scipy.sparse import coo_array

    return coo_array((np.ones(len(rows)), (rows, columns)), shape=shape)


def _spared(builds, groups):
    """Parts that need never be carried: another does all that they do and costs no more."""
    prices = all_parts()
    does = {each: set() for build in builds for each in build}
    for number, (_, group) in enumerate(groups):
        for build in group:
            for place, each in enumerate(build):
                does[each].add((number, build[:place], build[place + 1 :]))
    spared = set()
    for each in reversed([part for part in prices if part in does]):
        spared |= {
            each
            for other in does
            if other.kind == each.kind
            and other != each
            and other not in spared
            and prices[other] <= prices[each]
            and does[each] <= does[other]
        }
    return spared
