"""How far the symptom page can be trusted: the table of a trial, as ``tests/bench`` saved it."""

from __future__ import annotations

from functools import cache

from lowside import faults, store, system
from lowside.errors import LowsideError

FILE = "diagnosis_trust.toml"
MISSING = (
    "The trial has not been run in this copy. “python tests/bench/diagnosis.py --save” runs it: "
    "boxes with faults that the page is not told, read with instruments that are off."
)
HEADS = (
    "kind of box",
    "what was read",
    "first is right",
    "or reads just like it",
    "among first three",
    "over 90 % sure, and wrong",
    "plain table of signs",
)


@cache
def results():
    """Read what the trial found.

    Returns
    -------
    dict or None
        As in the file; nothing where the trial has not been run.
    """
    try:
        return store.read_toml(FILE)
    except LowsideError:
        return None


def table(show):
    """Write the trial as a table.

    Parameters
    ----------
    show : Readout
        The reader's units.

    Returns
    -------
    heads : tuple of str
    rows : list of tuple of str
        Empty where the trial has not been run.
    said : str
        What stands above.
    """
    found = results()
    if found is None:
        return HEADS, [], MISSING
    rows = []
    for result in found["results"]:
        family = faults.sound(system.cabinets.get(result["box"])).family
        kit = result["kit"]
        read = f"every instrument {kit}" if kit.startswith("and") else kit
        first, alike, three, rules = (
            show.text(result[key], "ratio") for key in ("first", "alike", "three", "rules_first")
        )
        wrong = show.text(result["wrong"], "ratio", 1)
        rows.append((family.words, read, first, alike, three, wrong, rules))
    cost = show.text(found["cost"], "ratio")
    count = sum({result["box"]: result["cases"] for result in found["results"]}.values())
    said = (
        f"{count} boxes with one fault each that costs {cost} of the cooling or more, none of them "
        "quite the box that the page assumes, every instrument off by what such instruments are "
        "off. How often was the page right?"
    )
    return HEADS, rows, said
