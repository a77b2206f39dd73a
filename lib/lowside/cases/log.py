"""A call as a file: plain JSON of seed and acts; done again, it gives the same state.

The hash over seed and acts shows that a file was edited or damaged. It keeps nobody out who reads
this code, and claims no more.
"""

from __future__ import annotations

import json

from lowside.errors import LowsideError

from .call import Call
from .case import LEVELS, deal, fingerprint

KIND, VERSION = "lowside service call", 1
LARGEST = 200_000  # bytes
MOST = 400  # acts


def written(call):
    """Write a call.

    Parameters
    ----------
    call : Call

    Returns
    -------
    str
        JSON.
    """
    sealed = call.case
    whole = {
        "kind": KIND,
        "version": VERSION,
        "seed": sealed.seed,
        "level": sealed.level,
        "box": sealed.place,
        "case": sealed.digest,
        "acts": [[entry.act.key, entry.value] for entry in call.entries],
    }
    return json.dumps(whole | {"hash": fingerprint(whole)}, ensure_ascii=False, indent=1) + "\n"


def replayed(data, places):
    """Do a written call again.

    Parameters
    ----------
    data : bytes or str
        Of a file.
    places : sequence of Place
        Boxes there are.

    Returns
    -------
    Call

    Raises
    ------
    LowsideError
        In a sentence that says whether the file is damaged, edited, or of another version.
    """
    whole = _whole(data)
    claimed = whole.pop("hash", None)
    if whole.get("version") != VERSION:
        raise LowsideError(
            f"This call was saved by another version ({str(whole.get('version'))[:20]}); this one "
            f"reads version {VERSION}."
        )
    if claimed != fingerprint(whole):
        raise LowsideError("This call was edited or damaged after it was saved: its hash is off.")
    steps, seed, level = whole.get("acts"), whole.get("seed"), whole.get("level")
    shaped = isinstance(steps, list) and len(steps) <= MOST
    if not shaped or any(not isinstance(step, list) or len(step) != 2 for step in steps):
        raise LowsideError("This call holds no list of acts.")
    if level not in LEVELS:
        raise LowsideError("This call names a level that does not exist.")
    sealed = _same_case(seed, level, whole.get("box"), places)
    if sealed is None or sealed.digest != whole.get("case"):
        raise LowsideError(
            "This call was saved by a version that deals another case from this seed: it cannot "
            "be done again here."
        )
    call = Call(sealed, places)
    for key, value in steps:
        call.do(key, value)
    return call


def _same_case(seed, level, box, places):
    """Deal again, the box drawn or chosen."""
    free = deal(seed, level, places)
    if free.place == box or box not in [place.key for place in places]:
        return free
    return deal(seed, level, places, box)


def _whole(data):
    if len(data) > LARGEST:
        raise LowsideError(
            f"This file is far larger than a call ({len(data)} bytes of at most {LARGEST})."
        )
    try:
        text = data.decode("utf-8") if isinstance(data, bytes) else data
        whole = json.loads(text)
    except (ValueError, RecursionError):
        raise LowsideError("This file is damaged or cut short, or is no call.") from None
    if not isinstance(whole, dict) or whole.get("kind") != KIND:
        raise LowsideError("This file is not a service call.")
    return whole
