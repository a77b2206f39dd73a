"""A service call in the reader's words: arrival, log, clock, debrief."""

from __future__ import annotations

from lowside import cases

KINDS = {"turns": "number", "port": "port", "charge": "charge"}


def arrival(call, show):
    """Say where the call is, what the customer says, and what stands on box and wall.

    Parameters
    ----------
    call : cases.Call
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    rig = call.rig
    burns = " It burns: meter to the floor first." if rig.fluid.facts.is_flammable else ""
    return (
        f"{call.place.label}, {show.text(rig.nameplate, 'charge')} on the nameplate, "
        f"{rig.family.words}.{burns} Thermostat "
        f"{show.text(call.larder.set_point, 'temperature')}, air at the condenser "
        f"{show.text(call.case.ambient, 'temperature')}. “{call.case.said}”"
    )


def now(call, show):
    """Say how late it is and how the food does.

    Parameters
    ----------
    call : cases.Call
    show : Readout

    Returns
    -------
    str
    """
    store = call.larder
    food = "in a neighbour's box" if store.away else show.text(store.food, "temperature")
    return (
        f"{show.text(call.seconds, 'minutes')} on site. Air in the box "
        f"{show.text(store.air, 'temperature')}, food {food} (at most "
        f"{show.text(store.highest, 'temperature')}); too warm for "
        f"{show.text(store.warm, 'minutes')} of {show.text(cases.LIMIT, 'minutes')}. "
        f"{show.text(call.released, 'charge')} let out."
    )


def log(call, show):
    """Write the acts, one a line.

    Parameters
    ----------
    call : cases.Call
    show : Readout

    Returns
    -------
    list of str
    """
    return [_line(entry, show) for entry in call.entries]


def last_readings(call, show):
    """Give the last value of everything that was read.

    Parameters
    ----------
    call : cases.Call
    show : Readout

    Returns
    -------
    list of (str, str)
    """
    last = {}
    for entry in call.entries:
        for label, value, kind in entry.readings:
            last[label] = show.text(value, kind)
    return list(last.items())


def debrief(call, show):
    """Say what it was, what the path was worth, and what a sensible one takes.

    Parameters
    ----------
    call : cases.Call
        Over.
    show : Readout

    Returns
    -------
    list of str
        The outcome first.
    """
    held = cases.debrief(call)
    best = held.best
    wrong = [cases.fault_name(key) for key, _ in call.case.faults]
    lines = [_outcome(call)]
    lines.append(f"It was: {' and '.join(wrong)}." if wrong else "It was: nothing broken.")
    if call.case.decoys:
        told = {"hot_day": "a hot day", "warm_product": "goods put in warm"}
        lines.append(f"Misleading: {' and '.join(told[key] for key in call.case.decoys)}.")
    if call.left:
        lines.append(f"Left behind: {', '.join(cases.fault_name(key) for key in call.left)}.")
    food = "lost" if call.larder.lost else "saved"
    lines += [
        f"Yours: {_worth(call, show)}; food {food}.",
        f"A short sensible path: {_worth(best, show)}.",
        f"It goes: {'; '.join(entry.act.label for entry in best.entries)}.",
    ]
    if held.needless:
        lines.append(f"Not needed: {', '.join(act.label for act in held.needless)}.")
    return lines


def _worth(call, show):
    parts = ", ".join(call.parts) or "no parts"
    return (
        f"{show.text(call.seconds, 'minutes')}, {parts}, "
        f"{show.text(call.released, 'charge')} let out"
    )


def _outcome(call):
    if call.stopped:
        return f"Stopped. {call.stopped}"
    if call.won:
        return "Won: the box is in order and the food is saved."
    if call.left:
        return "Lost: you left, and the box is not in order."
    return "Lost: the box is in order, but the food was too warm for too long."


def _line(entry, show):
    number = ""
    if entry.value is not None:
        number = f" {show.text(entry.value, KINDS[entry.act.asks])}"
    said = [entry.words.removesuffix(".")] if entry.words else []
    for label, value, kind in entry.readings:
        named = "" if label == entry.act.label else f"{label} "
        said.append(f"{named}{show.text(value, kind)}")
    if entry.grams:
        said.append(f"{show.text(entry.grams, 'charge')} let out")
    return f"{show.text(entry.clock, 'minutes')}: {entry.act.label}{number} – {'; '.join(said)}"
