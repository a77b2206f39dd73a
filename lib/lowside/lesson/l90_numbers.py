"""The numbers of lesson 90: what was counted over all checks."""

from __future__ import annotations

from functools import cache

from lowside import checks, joint, load, refrigerants, units

from . import hall

TENTH = 0.1
_MANY, _FEW = 0.75, 0.25
_GAS_CONSTANT = 8.314462618  # [J/(mol K)]
_ROOM = 298.15  # [K] at which the share in air is counted


def _propane_in_air():
    facts = refrigerants.facts_of("R290")
    return facts.lfl / facts.molar_mass * _GAS_CONSTANT * _ROOM / units.STANDARD_ATMOSPHERE


#: What lowside takes or computes where sources disagree, by the dispute's key.
OURS = {
    "boiling": lambda: refrigerants.get("R507A").dew_temperature(units.STANDARD_ATMOSPHERE),
    "burning": _propane_in_air,
    "filler": lambda: joint.filler("BCuP-4").liquidus,
    "curtain": lambda: load.PROTECTION["air curtain"],
}


def within(tightened):
    """Count the checks that lie within a share of their tolerance.

    Parameters
    ----------
    tightened : float
        [1]

    Returns
    -------
    int
    """
    return sum(check.passes and abs(check.used) <= tightened for check in checks.everything())


def independent():
    """Count the checks against a document that was read, of numbers that were not taken over.

    Returns
    -------
    int
    """
    read = checks.chosen(status=checks.READ)
    return sum(check.topic not in checks.copied() for check in read)


def share_word(share):
    """Give the key of a share: few, some or most.

    Parameters
    ----------
    share : float
        [1]

    Returns
    -------
    str
    """
    if share > _MANY:
        return "most"
    return "some" if share > _FEW else "few"


def _counted(status):
    return len(checks.chosen(status=status)), "number", 0


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value, kind and decimals, or to a text.
    """
    every = checks.everything()
    farthest = max(every, key=lambda check: abs(check.used) if check.allowed else 0.0)
    found = {
        "notice": hall.hall().notice,
        "all": (len(every), "number", 0),
        "topics": (len(checks.topics()), "number", 0),
        "passing": (within(1.0), "number", 0),
        "tenth": (TENTH, "ratio"),
        "within_tenth": (within(TENTH), "number", 0),
        "read": _counted(checks.READ),
        "computed": _counted(checks.COMPUTED),
        "memory": _counted(checks.MEMORY),
        "practice": _counted(checks.PRACTICE),
        "copied": (
            sum(len(checks.chosen(topic)) for topic in checks.copied()),
            "number",
            0,
        ),
        "independent": (independent(), "number", 0),
        "farthest_topic": farthest.topic,
        "farthest": (abs(farthest.used), "ratio"),
    }
    for number, dispute in enumerate(checks.disputes()):
        values = *dispute["values"], float(OURS[dispute["key"]]())
        for place, value in zip("abc", values, strict=True):
            found[f"dispute_{number}{place}"] = (
                value,
                dispute["kind"],
                dispute.get("digits", 1 if dispute["kind"] == "temperature" else 0),
            )
    return found


def never():
    """Word what was never checked against anything outside.

    Returns
    -------
    str
    """
    return "\n\n".join(f"{row['room'].capitalize()}: {row['what']}" for row in checks.never())


def disputes():
    """Word where sources disagree, as a template.

    Returns
    -------
    str
    """
    return "\n\n".join(
        f"{row['what']}: {{dispute_{number}a}} ({row['sources'][0]}) against "
        f"{{dispute_{number}b}} ({row['sources'][1]}). Ours: {{dispute_{number}c}}."
        for number, row in enumerate(checks.disputes())
    )
