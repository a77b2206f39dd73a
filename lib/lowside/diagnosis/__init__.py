"""From readings with errors, some of them missing, to ranked causes and the next measurement.

>>> from lowside import diagnosis, faults, system
>>> situation = faults.sound(system.cabinets.get("propane-reach-in"))
>>> suspects = diagnosis.suspects(situation)
>>> read = {"suction_pressure": 2.3e5, "suction_temperature": 275.2, "liquid_temperature": 306.0}
>>> ranking = diagnosis.rank(suspects, read)
>>> next(iter(ranking.probability)) in suspects.keys
True

`suspects` solves a box with every fault at a row of severities and disturbs each by all that cannot
be known of a strange box; `rank` compares that with what was read, any of it missing; `next_steps`
says what to measure next, `sense` which readings cannot be right, `words` puts it all plainly, and
`trials` how often all this is right on boxes that are not what the diagnosis assumes.

Not modelled: several faults at once (a fit that is too bad says so, and `pairs` looks for two),
faults that are not in ``faults``, and time.
"""

from . import evidence, looks, sense, trials, words
from .against import Expectation, expectations
from .next_step import Step, doubt, next_steps
from .pairs import Pair, pairs
from .ranking import Ranking, rank
from .suspects import NOTHING_WRONG, Suspects, suspects
from .uncertainty import Uncertainty, disturbed

__all__ = [
    "NOTHING_WRONG",
    "Expectation",
    "Pair",
    "Ranking",
    "Step",
    "Suspects",
    "Uncertainty",
    "disturbed",
    "doubt",
    "evidence",
    "expectations",
    "looks",
    "next_steps",
    "pairs",
    "rank",
    "sense",
    "suspects",
    "trials",
    "words",
]
