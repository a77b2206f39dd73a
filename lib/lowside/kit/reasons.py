"""Why this build and no other, in words and in the reader's units."""

from __future__ import annotations

from . import parts, shelf
from .attempt import Fault
from .job import CORNERS, HOT_LEAST, PULL_DOWN

_WHOLE = {
    Fault.NO_BODY: "none with this connection and equaliser takes it",
    Fault.NO_RUN: "the box does not run there",
    Fault.STARVES: "its open port feeds only {cooling} of the design load",
    Fault.NO_RESERVE: "the pin stands at {lift} of its travel and keeps too little in hand",
    Fault.FLOODS: "liquid comes too near the compressor",
    Fault.OVERLOADS: "the coil boils at {evaporating}, above the compressor's {highest}",
    Fault.HUNTS: "the flow answers the bulb {answer} times as strongly as with the ideal port",
    Fault.NEAR_SEAT: "the pin hangs at {lift} of its travel, too near its seat",
    Fault.SWINGS: "the head alone moves the superheat by {swing} from the hottest day",
}

SHORT = {
    Fault.NONE: "meets it",
    Fault.NO_BODY: "no body",
    Fault.NO_RUN: "does not run",
    Fault.STARVES: "starves",
    Fault.NO_RESERVE: "no reserve",
    Fault.FLOODS: "floods",
    Fault.OVERLOADS: "overloads",
    Fault.HUNTS: "hunts easily",
    Fault.NEAR_SEAT: "near its seat",
    Fault.SWINGS: "swings",
}


def together(items):
    """Join words with commas and a last “and”.

    Parameters
    ----------
    items : iterable of str

    Returns
    -------
    str
        Empty for none.
    """
    *first, last = [*items] or [""]
    return f"{', '.join(first)} and {last}" if first else last


def fault(choice, index, corner, what, show):
    """Say what is wrong with a cartridge at a corner.

    Parameters
    ----------
    choice : Choice
    index : int
        Place of the cartridge in the best attempt.
    corner : Corner
    what : Fault
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Without a full stop.
    """
    tried, at = choice.best, CORNERS.index(corner)
    point = tried.points.at((index, at))
    highest = choice.job.highest_evaporating
    return _WHOLE[what].format(
        cooling=show.text(point.capacity / choice.job.load, "ratio"),
        lift=show.text(point.lift_share, "ratio"),
        evaporating=show.text(point.evaporating_temperature, "temperature"),
        highest="" if highest is None else show.text(highest, "temperature"),
        answer=show.text(tried.answer[index], "number"),
        swing=show.text(tried.swing[index], "temperature_difference"),
    )


def verdict(choice, show):
    """Say what was chosen, or at which corners the nearest build fails.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences.
    """
    if choice.met:
        return f"{_capital(choice.build.sentence())}: it meets every corner of the year."
    corners = together(
        f"{corner.words} ({fault(choice, choice.index, corner, what, show)})"
        for corner, what in choice.unmet
    )
    said = f"No build of the kit meets every corner. The nearest, {choice.cartridge.key}, fails on "
    said += f"{corners}."
    if choice.impossible:
        never = together(corner.words for corner in choice.impossible)
        said += f" No part of the kit can meet {never}, whatever the other corners ask."
    return said


def smaller(choice, show):
    """Say why the next size down is not taken.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One sentence.
    """
    index = choice.neighbour(-1)
    if index is None:
        return f"No smaller {choice.cartridge.construction} port of the kit comes near."
    port, failings = _port(choice, index, show), choice.failings(index)
    if not failings:
        return f"{port} would meet every corner as well."
    corner, what = min(failings, key=lambda failing: not failing[1].too_small)
    return _fails(choice, index, corner, what, show)


def larger(choice, show):
    """Say why the next size up is not taken.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences.
    """
    index, tried = choice.neighbour(1), choice.best
    if index is None:
        return f"No larger {choice.cartridge.construction} port of the kit comes near."
    port, failings = _port(choice, index, show), choice.failings(index)
    grip = tried.answer[choice.index]
    said = ""
    if failings:
        corner, what = failings[0]
        said = _fails(choice, index, corner, what, show) + " "
        if what == Fault.HUNTS:
            return said.strip()
    else:
        said = f"{port} would meet every corner too, but it cools no better and hunts sooner. "
    if grip > 0.0:
        lift = show.text(tried.points.lift_share[index, HOT_LEAST], "ratio")
        times = show.text(tried.answer[index] / grip, "number")
        said += (
            f"With it the flow answers the bulb {times} times as strongly, and at the least load "
            f"of the hottest day its pin hangs at {lift} of its travel."
        )
    return said.strip()


def equaliser(choice, show):
    """Say why the equaliser is internal or external.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences.
    """
    job, cartridge = choice.job, choice.cartridge
    drop = show.text(job.coil_drop, "pressure_difference")
    worth = show.text(job.drop_worth, "temperature_difference")
    if job.distributor_drop > 0.0:
        lost = show.text(job.distributor_drop, "pressure_difference")
        return (
            f"External equaliser: the distributor takes {lost} behind the valve, which an internal "
            "one would feel as evaporator pressure and hold the pin shut (common practice)."
        )
    if choice.needs_external:
        return (
            f"External equaliser: the coil loses {drop}, worth {worth} of boiling temperature; an "
            "internal one would add about that much superheat (common practice)."
        )
    if not choice.best.external:
        return (
            f"Internal equaliser: the coil loses only {drop}, worth {worth} of boiling "
            "temperature, and one pipe less is one leak less."
        )
    if not shelf.bodies(job.connection, False, cartridge.port):
        return (
            f"External equaliser: the coil loses only {drop} and an internal one would do, but "
            f"bodies that take {show.text(cartridge.port, 'port')} come with an external one only."
        )
    return "External equaliser: with an internal one no size meets every corner."


def charge(choice, show):
    """Say why the bulb is charged as it is.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences.
    """
    best, index, job = choice.best, choice.index, choice.job
    now = show.text(best.mop[index], "temperature")
    if best.element.charge == "liquid":
        allowed = ""
        if job.highest_evaporating is not None:
            limit = show.text(job.highest_evaporating, "temperature")
            allowed = f"; the compressor may run at up to {limit}"
        return (
            "Liquid charge: some liquid is always left in the bulb, so it stays in command "
            f"wherever the valve's coldest spot is. The pull-down starts at {now} "
            f"evaporating{allowed}."
        )
    liquid = next(
        tried
        for tried in choice.attempts
        if tried.external == best.external and tried.element.charge == "liquid"
    )
    before = show.text(liquid.mop[index], "temperature")
    if liquid.faults[index, PULL_DOWN] == Fault.OVERLOADS:
        limit = show.text(job.highest_evaporating, "temperature")
        said = (
            f"{_capital(best.element.name)}: with a liquid charge the pull-down would start at "
            f"{before} evaporating, and the compressor may run at no more than {limit}. This "
            f"one holds it at {now}."
        )
    else:
        said = f"{_capital(best.element.name)}: with a liquid charge no size meets every corner."
    if best.element.charge == "gas":
        said += " The power element must stay warmer than the bulb, or the charge moves up there."
    return said


def construction(choice, show):
    """Say why the port is conventional or balanced.

    Parameters
    ----------
    choice : Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One sentence.
    """
    best, cartridge = choice.best, choice.cartridge
    swing = show.text(best.swing[choice.index], "temperature_difference")
    asked = "" if choice.job.construction == parts.EITHER else ", as asked"
    if cartridge.construction == parts.CONVENTIONAL:
        return (
            f"Conventional port{asked}: from the hottest to the coldest day the push of the head "
            f"on its pin moves the superheat by {swing}."
        )
    other = next(
        (
            swing
            for part, swing in zip(best.cartridges, best.swing, strict=True)
            if part.port == cartridge.port and part.construction == parts.CONVENTIONAL
        ),
        None,
    )
    against = ""
    if other is not None:
        against = f", a conventional one by {show.text(other, 'temperature_difference')}"
    return (
        f"Balanced port{asked}: from the hottest to the coldest day the push of the head on its "
        f"pin moves the superheat by {swing}{against}."
    )


def parts_list(choice, show):
    """List the parts to take out of the case.

    Parameters
    ----------
    choice : Choice
        With a build.
    show : Readout
        The reader's units.

    Returns
    -------
    tuple of (str, str)
        What it is, and which; empty if there is no build.
    """
    build = choice.build
    if build is None:
        return ()
    body, cartridge, element = build.body, build.cartridge, build.element
    inlet, outlet = (show.text(size, "length") for size in (body.inlet, body.outlet))
    out = "comes out from outside" if body.strainer_from_outside else "comes out with the cartridge"
    opening = show.text(body.strainer.opening, "opening")
    travel, angle = show.text(cartridge.travel, "port"), show.text(cartridge.half_angle, "angle")
    spring = show.text(choice.job.static_superheat, "temperature_difference")
    return (
        ("Body", f"{body.name}, inlet {inlet}, outlet {outlet}"),
        ("Equaliser", body.equaliser),
        ("Cartridge", f"{cartridge.key}: pin {angle} from its axis, {travel} of travel"),
        ("Power element", element.key),
        ("Strainer", f"mesh No. {body.strainer.mesh}, opening {opening}; {out}"),
        ("Spring", f"static superheat {spring}"),
    )


def _fails(choice, index, corner, what, show):
    """Say in one sentence where and why a cartridge fails."""
    port = _port(choice, index, show)
    words = fault(choice, index, corner, what, show)
    where = "" if what == Fault.NO_BODY else f"on {corner.words} "
    return f"{port} {_verb(SHORT[what])}: {where}{words}."


def _port(choice, index, show):
    return show.text(choice.best.cartridges[index].port, "port")


def _verb(short):
    return {
        "no body": "has no body",
        "no reserve": "has no reserve",
        "near its seat": "works too near its seat",
    }.get(short, short)


def _capital(text):
    return text[:1].upper() + text[1:]
