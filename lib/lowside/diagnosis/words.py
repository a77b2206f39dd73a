"""A ranking in plain words: names, how bad, what the next step is worth, and a work-order note."""

from __future__ import annotations

from lowside import faults

from . import evidence, looks
from .next_step import doubt
from .pairs import pairs
from .ranking import CERTAIN, Ranking
from .suspects import NOTHING_WRONG

ESTIMATE = (
    "An estimate from a model and from readings with errors, not a finding. Prove it before you "
    "open or charge anything; nameplate, local code and licensed practice rule."
)
LIKELY, POSSIBLE = 0.5, 0.08  # probabilities from which a suspect is called so
_MOST, _MUCH, _SOME = 0.5, 0.25, 0.1  # of the doubt that there is
_SETTLED = 0.3  # [bit] of doubt, below which nothing need be measured
_WORTHY = {"most": 1.5, "much": 0.8, "some": 0.25}  # [bit] the same, where there is much doubt
_MEASURED = {
    "suction_temperature": "the suction line's temperature at the bulb",
    "liquid_temperature": "the liquid line's temperature",
    "discharge_temperature": "the discharge line's temperature",
    "drier_drop": "how much colder the line is behind the drier",
    "strainer_drop": "how much colder the line is behind the strainer",
    "box_air_drop": "how far the evaporator cools its air",
    "condenser_air_rise": "how far the condenser warms its air",
    "charge": "the charge: recover and weigh all of it",
}
_EDGE = 0.01
_MUCH_BETTER = 10.0  # times better than the best single fault


def name(key):
    """Give a suspect its trade name.

    Parameters
    ----------
    key : str

    Returns
    -------
    str
    """
    return "nothing wrong" if key == NOTHING_WRONG else faults.get(key).name


def chance(show, probability):
    """Write a probability; nothing is ever quite sure, and nothing quite ruled out.

    Parameters
    ----------
    show : Readout
        The reader's units.
    probability : float
        [-]

    Returns
    -------
    str
    """
    if probability < _EDGE:
        return f"< {show.text(_EDGE, 'ratio')}"
    if probability > 1.0 - _EDGE:
        return f"> {show.text(1.0 - _EDGE, 'ratio')}"
    return show.text(probability, "ratio")


def severity(ranking: Ranking, key, show):
    """Say how bad it would be, should this be the one.

    Parameters
    ----------
    ranking : Ranking
    key : str
        Of the suspect.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Such as ``"share of the charge that is missing: about 30 %"``; empty for what is there or
        not.
    """
    if key == NOTHING_WRONG or not faults.get(key).stepless:
        return ""
    fault = faults.get(key)
    return f"{fault.severity}: about {show.text(ranking.severity(key), fault.kind)}"


def worth(ranking: Ranking, step):
    """Say what a step is expected to settle.

    Parameters
    ----------
    ranking : Ranking
    step : Step

    Returns
    -------
    str
        Such as ``"settles most of it"``.
    """
    left = float(doubt(list(ranking.probability.values())))
    share = step.gain / left if left > 0.0 else 0.0
    if share >= _MOST or step.gain > _WORTHY["most"]:
        return "settles most of it"
    if share >= _MUCH or step.gain > _WORTHY["much"]:
        return "settles a good part"
    some = share >= _SOME or step.gain > _WORTHY["some"]
    return "helps a little" if some else "hardly helps"


def asked(step):
    """Ask for a step in a sentence.

    Parameters
    ----------
    step : Step

    Returns
    -------
    str
        A question where it is a look.
    """
    if step.is_look:
        return step.label
    return f"Measure {_MEASURED.get(step.key, f'the {step.label}')}."


def settled(ranking: Ranking):
    """Whether so little doubt is left that measuring on is not worth the time.

    Parameters
    ----------
    ranking : Ranking

    Returns
    -------
    bool
    """
    return float(doubt(list(ranking.probability.values()))) < _SETTLED


def verdict(ranking: Ranking, show):
    """Say in one sentence where things stand.

    Parameters
    ----------
    ranking : Ranking
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    if not ranking.taken and not ranking.seen:
        return "Nothing read yet: every suspect stands where it stood before the call."
    if ranking.strange:
        return (
            "No suspect fits these readings. Check the readings first; then think of two faults at "
            "once, or of one that is not in this list."
        )
    first, second = list(ranking.probability.items())[:2]
    called = f"{name(first[0])} ({chance(show, first[1])})"
    if first[1] > CERTAIN:
        return f"Nearly sure: {called}."
    other = f"{name(second[0])} ({chance(show, second[1])})"
    if first[1] > LIKELY:
        return f"Likely {called}; next comes {other}."
    return f"Not settled: {called} and {other} lead."


def two_at_once(ranking: Ranking, show):
    """Name the pairs of faults that explain the readings much better than any one fault.

    Parameters
    ----------
    ranking : Ranking
    show : Readout
        The reader's units.

    Returns
    -------
    list of str
        One sentence a pair; empty where none does.
    """
    lines = []
    for pair in pairs(ranking):
        if pair.better < _MUCH_BETTER:
            continue
        one, other = (
            _with_size(key, bad, show) for key, bad in zip(pair.keys, pair.severities, strict=True)
        )
        lines.append(f"Two at once would fit: {one}, and {other}.")
    return lines


def _with_size(key, bad, show):
    fault = faults.get(key)
    return f"{fault.name} ({show.text(bad, fault.kind)})" if fault.stepless else fault.name


def order_note(ranking: Ranking, steps, place, show, note="", doubts=()):
    """Write what a work order should say.

    Parameters
    ----------
    ranking : Ranking
    steps : sequence of Step
        From `next_steps`.
    place : str
        Which box.
    show : Readout
        The reader's units.
    note : str
        The technician's own words.
    doubts : sequence of str
        Sentences on readings that cannot be right.

    Returns
    -------
    list of str
        Sentences and short paragraphs of plain text.
    """
    lines = [f"Box: {place}."]
    if ranking.taken:
        read = [
            f"{evidence.get(key).label} {show.text(value, evidence.get(key).kind)}"
            for key, value in ranking.taken.items()
        ]
        lines.append(f"Read: {'; '.join(read)}.")
    for answer, word in ((True, "Answered yes"), (False, "Answered no")):
        found = [_looked(key) for key, seen in ranking.seen.items() if seen is answer]
        if found:
            lines.append(f"{word}: {' '.join(found)}")
    lines += list(doubts)
    lines.append(verdict(ranking, show))
    lines += two_at_once(ranking, show) if ranking.strange else _suspects(ranking, show)
    if steps and not (settled(ranking) or ranking.strange or doubts):
        best = steps[0]
        opened = "costs a little refrigerant" if best.opens else "opens nothing"
        lines.append(f"Next: {asked(best)} About {best.minutes:g} minutes; {opened}.")
    if note.strip():
        lines.append(f"Technician's note: {note.strip()}")
    lines.append(ESTIMATE)
    return lines


def _suspects(ranking, show):
    lines = []
    if not ranking.taken and not ranking.seen:
        return lines
    standing = [(key, p) for key, p in ranking.probability.items() if p >= POSSIBLE][:3]
    for key, probability in standing:
        bad = severity(ranking, key, show)
        how = f" ({bad})" if bad else ""
        cure = "" if key == NOTHING_WRONG else f" Cure once proven: {faults.get(key).cure}"
        begun = name(key)[0].upper() + name(key)[1:]
        lines.append(f"{begun}, {chance(show, probability)}{how}.{cure}")
    return lines


def _looked(key):
    return next(look.question for look in (*looks.ALL, looks.BUBBLES) if look.key == key)
