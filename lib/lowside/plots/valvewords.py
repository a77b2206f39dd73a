"""What the picture of the valve's forces says: its words, its readings, what changed and why."""

from __future__ import annotations

from lowside.plots.portwords import superheat_read

#: What makes another valve of it; numbers before and after are not compared.
ANEW = ("refrigerant", "load", "balanced")

_SAME = 1e-9
_KIND = "temperature_difference"


def numbers(case, **given):
    """Give what is shown as SI numbers by name.

    Parameters
    ----------
    case : valveforces.Case
        Solved.
    **given
        What the reader chose.

    Returns
    -------
    dict
    """
    duty, forces = case.duty.superheats, case.forces
    return given | {
        "evaporating": case.evaporating,
        "pressure": case.pressure,
        "head": float(case.inlet.pressure),
        "static": float(duty.static),
        "opening": float(duty.opening),
        "operating": float(duty.operating),
        "wide_open": bool(duty.wide_open),
        "need": float(duty.lift_share),
        "superheat": case.superheat,
        "held": case.held,
        "lift_share": float(forces.lift / case.built.port.max_lift),
        "fed": case.fed,
        "bulb_force": float(forces.bulb),
        "evaporator_force": float(forces.equaliser),
        "port_force": float(forces.port),
        "spring_force": float(forces.preload + forces.compression),
        "seat": max(-float(forces.net), 0.0),
        "stop": max(float(forces.net), 0.0),
        "port": float(case.built.port.diameter),
    }


def superheats(show, n):
    """Write static, opening and operating superheat so that the first two add up to the third.

    Parameters
    ----------
    show : Readout
        The reader's units.
    n : dict
        From `numbers`.

    Returns
    -------
    tuple of str
    """
    whole = superheat_read(show, n["evaporating"] + n["operating"], n["evaporating"])
    static = show.rounded(n["static"], _KIND)
    return tuple(show.text(value, _KIND) for value in (static, whole - static, whole))


def readings(show, n):
    """Give what gauges and clamps would say.

    Parameters
    ----------
    show : Readout
        The reader's units.
    n : dict
        From `numbers`.

    Returns
    -------
    tuple of (str, str)
    """
    clamp = n["evaporating"] + n["superheat"]
    read = superheat_read(show, clamp, n["evaporating"])
    return (
        ("Suction gauge", show.text(n["pressure"], "gauge_pressure")),
        ("Dew at that pressure", show.text(n["evaporating"], "temperature")),
        ("Clamp at the bulb", show.text(clamp, "temperature")),
        ("Superheat", show.text(read, _KIND)),
        ("Head gauge", show.text(n["head"], "gauge_pressure")),
    )


def side(show, n):
    """Say in three short lines where the pin stands.

    Parameters
    ----------
    show : Readout
        The reader's units.
    n : dict
        From `numbers`.

    Returns
    -------
    tuple of str
    """
    lift = f"lift {show.text(n['lift_share'], 'ratio')} of the travel"
    if n["lift_share"] <= 0.0:
        seat = show.text(n["seat"], "force")
        return "on its seat: shut", f"{seat} more and it opens", "the coil boils dry"
    if n["held"]:
        fed = show.text(n["fed"], "ratio")
        return lift, f"feeds {fed} of what the load boils", _drift(n)
    if n["wide_open"]:
        fed = show.text(n["fed"], "ratio")
        return "wide open", f"feeds {fed} of what the load boils", "stem and bulb have no say"
    return lift, "feeds what the load boils:", "opening and shutting forces agree"


def _drift(n):
    if abs(n["fed"] - 1.0) < 0.02:
        return "let go, it stays about here"
    if n["fed"] > 1.0:
        return "let go, the coil outlet gets colder"
    return "let go, the coil outlet gets warmer"


def words(show, n):
    """Describe the picture.

    Parameters
    ----------
    show : Readout
        The reader's units.
    n : dict
        From `numbers`.

    Returns
    -------
    str
    """
    kind = "balanced" if n["balanced"] else "conventional"
    names = ("bulb_force", "port_force", "evaporator_force", "spring_force")
    bulb, port, evaporator, spring = (show.text(n[name], "force") for name in names)
    said = [
        f"{n['refrigerant']}, port {show.text(n['port'], 'port')}, {kind}, "
        f"{show.text(n['load_share'], 'ratio')} of the design load of "
        f"{show.text(n['load'], 'capacity')}, evaporating at "
        f"{show.text(n['evaporating'], 'temperature')}, stem {stem(n['turns'])}.",
        f"Bulb {bulb} and port {port} push the pin open, evaporator {evaporator} and spring "
        f"{spring} push it shut.",
    ]
    if n["seat"] > 0.05:
        said.append(f"The seat carries the difference, {show.text(n['seat'], 'force')}.")
    if n["stop"] > 0.05:
        said.append(f"The stop carries the difference, {show.text(n['stop'], 'force')}.")
    static, opening, operating = superheats(show, n)
    if n["wide_open"]:
        said.append(
            f"Static superheat {static}. The load needs more than the open port passes: the valve "
            f"feeds {show.text(n['fed'], 'ratio')} of it at most."
        )
    else:
        said.append(
            f"Static superheat {static}, opening {opening}, operating {operating}; the load needs "
            f"{show.text(n['need'], 'ratio')} of the travel."
        )
    if n["held"]:
        held = show.text(n["superheat"], _KIND)
        said.append(
            f"Held at {held} the pin stands at {show.text(n['lift_share'], 'ratio')} and feeds "
            f"{show.text(n['fed'], 'ratio')} of what the load boils."
        )
    return " ".join(said)


def stem(turns):
    """Write turns of the stem.

    Parameters
    ----------
    turns : float
        Clockwise.

    Returns
    -------
    str
    """
    if abs(turns) < 0.005:
        return "as it was set"
    way = "clockwise" if turns > 0 else "counterclockwise"
    size = f"{abs(turns):.2f}".rstrip("0").rstrip(".")
    return f"{size} turn{'' if size == '1' else 's'} {way}"


def why(start, now, show):
    """Say what changed since the start, and why.

    Parameters
    ----------
    start, now : dict
        From `numbers`.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A few sentences.
    """
    if now["held"]:
        return _by_hand(now, show)
    if now["wide_open"]:
        return (
            "The pin is at its stop and the port passes less than the load boils. Superheat climbs "
            "beyond anything on the chart, and turning the stem changes nothing: take a bigger "
            "port, or find out what is in the way."
        )
    if now["static"] < 0.0:
        return (
            "The pin stands off its seat before there is any superheat: the spring is let out too "
            "far, and liquid runs to the compressor. Turn the stem back in."
        )
    said = [f(start, now, show) for name, f in _CAUSES.items() if _moved(start, now, name)]
    if not said or any(start[name] != now[name] for name in ANEW):
        static, opening, operating = superheats(show, now)
        return (
            f"Bulb and evaporator nearly cancel; the spring decides the rest. The pin leaves its "
            f"seat at {static} of superheat, the load needs {opening} more: {operating} in all."
        )
    static, opening, operating = (
        f"{one} → {two}"
        for one, two in zip(superheats(show, start), superheats(show, now), strict=True)
    )
    return " ".join([f"Static {static}, opening {opening}, operating {operating}.", *said[:2]])


def _moved(start, now, name):
    return abs(start[name] - now[name]) > _SAME


def _by_hand(n, show):
    at, fed = show.text(n["superheat"], _KIND), show.text(n["fed"], "ratio")
    if n["lift_share"] <= 0.0:
        return (
            f"At {at} the bulb is too cold to lift the pin off its seat. Nothing flows, the coil "
            "boils dry and its outlet warms up, until the bulb opens the valve again: that is how "
            "it decides."
        )
    settles = show.text(n["operating"], _KIND)
    if abs(n["fed"] - 1.0) < 0.02:
        return f"At {at} the valve feeds just what boils: here it would stay by itself."
    if n["wide_open"]:
        return f"At {at} it feeds {fed} of what the load boils; no superheat gets more through."
    side = "more than boils: liquid comes nearer to the outlet, which cools the bulb"
    if n["fed"] < 1.0:
        side = "less than boils: the coil outlet warms up, and the bulb with it"
    return f"At {at} the valve feeds {fed}, {side}. Let go, it settles at {settles}."


def _by_stem(start, now, show):
    before, after = (show.text(case["spring_force"], "force") for case in (start, now))
    way = "more" if now["turns"] > start["turns"] else "less"
    return (
        f"The spring pushes with {after} instead of {before}, so it takes {way} superheat to leave "
        "the seat. The line only moves sideways: what the lift takes on top and what the port can "
        "pass are not the stem's business."
    )


def _by_load(start, now, show):
    way = "less" if now["load_share"] < start["load_share"] else "more"
    return (
        f"{way.capitalize()} load needs {way} lift, and {way} opening superheat. Nobody touched "
        "the spring: the static superheat is not the load's business."
    )


def _by_evaporating(start, now, show):
    colder = now["evaporating"] < start["evaporating"]
    way = "colder" if colder else "warmer"
    pressure = "slower" if colder else "faster"
    effect = "more" if colder else "fewer"
    return (
        f"The spring pushes as before, but in a {way} bulb pressure rises {pressure} per degree: "
        f"the same force is worth {effect} degrees."
    )


def _by_head(start, now, show):
    before, after = (show.text(case["port_force"], "force") for case in (start, now))
    if now["balanced"]:
        return (
            f"The port pushes with {after} instead of {before}: a balanced port hardly feels the "
            "head. The pin only stands elsewhere because other pressure drives the liquid."
        )
    return (
        f"The head pushes on the pin with {after} instead of {before}: that much the bulb must "
        "make good, or is spared."
    )


_CAUSES = {
    "turns": _by_stem,
    "evaporating": _by_evaporating,
    "load_share": _by_load,
    "condensing": _by_head,
}
