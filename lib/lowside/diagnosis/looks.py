"""What a look or a short trial shows: yes, no, or not looked.

How sure each answer is, is an assumption of ours (common practice, no published source): eyes miss
things, and see things that do no harm.
"""

from __future__ import annotations

from dataclasses import dataclass

from lowside.faults import Family

EVERY = frozenset(Family)


@dataclass(frozen=True)
class Look:
    """Something to look at or to try, answered by yes or no.

    Attributes
    ----------
    key, question : str
        Name in programs, and what is asked.
    shows : frozenset of str
        Faults for which the answer is yes.
    minutes : float
        That it takes. Assumed.
    hit, false : float
        Chance of a yes with one of those faults, and without. Assumed. [-]
    fits : frozenset of Family
    opens : bool
        Whether it costs refrigerant.
    caution : str
        Said wherever this is asked for; may be empty.
    """

    key: str
    question: str
    shows: frozenset
    minutes: float
    hit: float = 0.95
    false: float = 0.05
    fits: frozenset = EVERY
    opens: bool = False
    caution: str = ""


_VALVES = frozenset({Family.VALVE, Family.RECEIVER})

ALL = (
    Look(
        "condenser_face",
        "Is the face of the condenser dirty or blocked?",
        frozenset({"condenser_dirty"}),
        2,
        false=0.08,
        caution="Power off and locked out before a hand goes near the fan.",
    ),
    Look(
        "condenser_fan",
        "Is the condenser fan still, slow, or turning backwards?",
        frozenset({"condenser_fan"}),
        2,
        false=0.02,
        caution="Power off and locked out before a hand goes near the fan.",
    ),
    Look(
        "evaporator_face",
        "Is the evaporator iced over, boxed in, or its fan still?",
        frozenset({"evaporator_air"}),
        3,
        false=0.04,
        caution="Power off and locked out before a hand goes near the fan.",
    ),
    Look(
        "bulb",
        "Is the bulb loose, bare, or on the wrong place?",
        frozenset({"bulb_loose"}),
        3,
        false=0.04,
        fits=_VALVES,
        caution="Power off and locked out before a hand goes near the fan.",
    ),
    Look(
        "equaliser",
        "Is there no equaliser line, although the coil has a distributor?",
        frozenset({"equaliser"}),
        2,
        hit=0.98,
        false=0.02,
        fits=_VALVES,
    ),
    Look(
        "warmed",
        "Does the suction pressure jump up when the valve or the tube's end is warmed by hand or "
        "with a warm wet rag?",
        frozenset({"moisture"}),
        10,
        hit=0.85,
        false=0.05,
        caution="A warm wet rag, never a flame.",
    ),
    Look(
        "pumped_down",
        "Pumped down and stopped: does the suction gauge creep up within a few minutes?",
        frozenset({"valve_leak"}),
        15,
        hit=0.85,
        false=0.10,
        fits=frozenset({Family.RECEIVER}),
        caution="Not below atmosphere, and never with a flammable in a leaking box.",
    ),
    Look(
        "standing",
        "Stopped, everything at air temperature: does the head gauge stand above saturation?",
        frozenset({"foreign_gas"}),
        40,
        hit=0.85,
        false=0.04,
        opens=True,
        caution="Glasses and gloves. A hose takes its share of a small charge.",
    ),
    Look(
        "tag",
        "Does the tag on the power element, or the stamp on the cartridge, name a smaller port "
        "than the load needs?",
        frozenset({"port_small"}),
        3,
        hit=0.75,
        false=0.05,
        fits=_VALVES,
    ),
    Look(
        "tag_large",
        "Does that tag or stamp name a larger port than the load needs?",
        frozenset({"port_big"}),
        3,
        hit=0.75,
        false=0.05,
        fits=_VALVES,
    ),
)
#: Vapour in front of the metering, which the box itself predicts.
BUBBLES = Look(
    "bubbles",
    "Are there bubbles in the sight glass, the box running steadily?",
    frozenset(),
    2,
    hit=0.9,
    false=0.08,
    fits=frozenset({Family.RECEIVER}),
)
KEYS = tuple(look.key for look in (*ALL, BUBBLES))


def fitting(family):
    """Give the looks that make sense at a kind of box.

    Parameters
    ----------
    family : faults.Family

    Returns
    -------
    tuple of Look
    """
    return tuple(look for look in (*ALL, BUBBLES) if family in look.fits)
