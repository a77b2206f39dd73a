"""Does it know what it knows? Simulated valves, and how often their true size is in the set."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from .looks import look
from .posterior import Belief, prior, weigh

LEVEL = 0.8


@dataclass(frozen=True)
class Calibration:
    """What became of simulated valves after some tests; all are means over the valves [-].

    Parameters
    ----------
    certainty : float
        Probability given to the true size.
    held : float
        Share of the credible sets that hold the true size.
    claimed : float
        What the sets claim to hold: at least ``LEVEL``, since a set ends with a whole size.
    trimmed : float
        Share that would hold it if the last size of each set were kept only as often as it takes
        to claim just ``LEVEL``.
    sizes : float
        In a set.
    explained : float
        Share of the valves whose readings some size explains.
    """

    certainty: float
    held: float
    claimed: float
    trimmed: float
    sizes: float
    explained: float


def calibrate(library, combinations, valves=2000, seed=2026):
    """Read simulated valves and see how often the belief is right.

    Sizes are drawn alike often, the hardware evenly within ±√3 standard deviations of what is
    believed (±15 % by default), errors as the instruments have them.

    Parameters
    ----------
    library : Library
        All sizes simulated.
    combinations : sequence of tuple of str
        Tests made together, keys of ``TESTS``.
    valves : int
        How many.
    seed : int
        Of chance.

    Returns
    -------
    dict of tuple of str to Calibration
        By combination.
    """
    random = np.random.default_rng(seed)
    place = random.integers(0, len(library.sizes), valves)
    edge = math.sqrt(3.0)
    hardware = random.uniform(-edge, edge, (valves, library.unknowns.count))
    tests = tuple(library.seen)
    errors = library.instruments.errors(tests, random, valves)
    ports = library.sizes[place]
    seen = look(library.site, ports, hardware, library.unknowns, tests)
    read = {test: seen[test].readings + errors[test] for test in tests}
    return {
        combination: _judged(library, place, {test: read[test] for test in combination})
        for combination in combinations
    }


def _judged(library, place, readings):
    logs, _, explained = library.log_likelihood(readings)
    found = weigh(prior(library.sizes).probability, logs)
    rows = []
    for true, probability in zip(place[explained], found[explained], strict=True):
        belief = Belief(library.sizes, probability)
        kept = belief.credible(LEVEL)
        claimed = sum(belief.of(size) for size in kept)
        last = min(belief.of(size) for size in kept)
        size = library.sizes[true]
        inside = size in kept
        share = (LEVEL - claimed + last) / last if inside and belief.of(size) == last else inside
        rows.append((belief.of(size), inside, claimed, share, len(kept)))
    return Calibration(*np.mean(rows, axis=0).tolist(), float(explained.mean()))
