"""What to carry: the parts of the kit that cover most calls of a route.

A `Stop` is a box on a route: what its year asks of a valve, how often it calls, and what lies in
it. `Stop.needs` are the builds of the kit that meet every corner of that year. `best` finds the
parts that cover most calls with so many places in the case, `curve` does it for every number of
places, and `one_by_one` fills a case without ever taking anything back.

>>> from lowside import carry
>>> cases = carry.curve(carry.demo())
>>> round(cases[3].calls_share, 2), len(cases) - 1
(0.14, 20)

Not modelled: two calls on one day that want the same part (the case is filled up again before the
next), parts of the same kind that wear out at different rates, the size and weight of a part.
"""

from .parts import KINDS, Part, all_parts, notice, part, parts_of
from .programme import Case, best, curve, one_by_one, weights
from .stop import Stop, named
from .table import MOST_BOXES, as_csv, demo, opened

__all__ = [
    "KINDS",
    "MOST_BOXES",
    "Case",
    "Part",
    "Stop",
    "all_parts",
    "as_csv",
    "best",
    "curve",
    "demo",
    "named",
    "notice",
    "one_by_one",
    "opened",
    "part",
    "parts_of",
    "weights",
]
