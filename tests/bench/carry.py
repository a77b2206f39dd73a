"""How long it takes to fill a case: a route solved for its year, one best case, a whole curve.

python tests/bench/carry.py
"""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

from lowside import carry
from lowside.carry.programme import _Programme
from lowside.plots.casefill import case_figure
from lowside.readout import choose

SIZES = 12, 24, 48
PLACES = 3, 6, 9, 12, 15, 18


def route(size):
    """Give a route of so many boxes: the invented one, once more a few per cent larger."""
    stops = carry.demo()
    return tuple(
        replace(stop, box=f"{stop.box} {turn}", load=stop.load * (1.0 + 0.03 * turn))
        for turn in range(-(-size // len(stops)))
        for stop in stops
    )[:size]


def timed(work):
    """Give processor time of one piece of work [ms]."""
    start = time.process_time()
    work()
    return 1e3 * (time.process_time() - start)


def measured(stops):
    """Give the row of one route [ms]."""
    needs = [timed(lambda stop=stop: stop.needs) for stop in stops]
    programme, show = _Programme(stops, 0.0), choose("us")
    solves = [timed(lambda places=places: programme.solve(places)) for places in PLACES]
    curve = timed(lambda: carry.curve(stops))
    slow = timed(lambda: carry.one_by_one(stops))
    drawn = [
        timed(lambda places=places: case_figure(show, stops, places).overlay(by_reference=True))
        for places in PLACES
    ]
    return (
        statistics.median(needs),
        statistics.median(solves),
        max(solves),
        curve,
        slow,
        statistics.median(drawn),
    )


def main():
    """Print one row a size of route; medians where there is more than one piece of work."""
    heads = ("boxes", "needs ms/box", "best ms", "worst ms", "curve ms", "build by build", "figure")
    print("".join(f"{head:>16}" for head in heads))
    measured(route(2))  # what is imported when first asked for does not count
    for size in SIZES:
        print("".join(f"{value:16.1f}" for value in (size, *measured(route(size)))))


if __name__ == "__main__":
    main()
