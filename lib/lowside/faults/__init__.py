"""Faults as changes of a whole box, each with a severity: never a table of symptoms.

>>> from lowside import faults, system
>>> reach_in = faults.sound(system.cabinets.get("propane-reach-in"))
>>> [fault.key for fault in faults.fitting(reach_in)][:3]
['undercharge', 'overcharge', 'port_small']
>>> worse = faults.apply(reach_in, {"strainer": 0.7}).solve()
>>> round(float(worse.strainer_drop)) > 5
True

`apply` takes arrays, several faults at once, and answers one `Situation` that a single call
solves. `read` says what instruments would show there, `errors` how far they may be off; `sweep` and
`sign_table` hold that against the sound box.

Not modelled: time (moisture that thaws and freezes, hunting, frost that grows), oil logging, uneven
distribution, foreign gas that worsens the film in the condenser besides its pressure.
"""

from .applying import apply, batch
from .catalogue import ALL, KEYS, Fault, fitting, get
from .instruments import ALL as READINGS
from .instruments import Reading, errors, read
from .instruments import get as reading
from .shifts import (
    CLEAR,
    NOTHING,
    PUBLISHED_KIND,
    SEEN,
    SignTable,
    Sweep,
    cabinet_sweep,
    cabinet_table,
    like_published,
    published,
    sign_table,
    sweep,
    word,
)
from .situation import Family, Situation, sound

__all__ = [
    "ALL",
    "CLEAR",
    "KEYS",
    "NOTHING",
    "PUBLISHED_KIND",
    "READINGS",
    "SEEN",
    "Family",
    "Fault",
    "Reading",
    "SignTable",
    "Situation",
    "Sweep",
    "apply",
    "batch",
    "cabinet_sweep",
    "cabinet_table",
    "errors",
    "fitting",
    "get",
    "like_published",
    "published",
    "read",
    "reading",
    "sign_table",
    "sound",
    "sweep",
    "word",
]
