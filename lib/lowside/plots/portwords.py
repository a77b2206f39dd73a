"""What the port figure says: its words, its readings, and what changed and why."""

from __future__ import annotations

import numpy as np

from lowside.system import Status, ports

#: What makes another box of it; numbers before and after are not compared.
BOX = ("refrigerant", "load", "box_temperature", "hot")

DAYS = {"hot": ports.HOT, "cold": ports.COLD}
_TIMES = {2.0: "twice", 3.0: "three times"}
_WET = (
    "Liquid leaves the coil and runs to the compressor: the outlet boils at the evaporating "
    "temperature whatever the flow, and the bulb cannot tell."
)
_LITTLE = 0.25  # [K] of superheat that no clamp can tell
_UNNOTICED = "A box gains less heat on a cold day, so it may keep cold all the same, unnoticed."
_SAME = 0.005  # share by which a pressure drop may differ and still be the same


class Case:
    """One port chosen from a sweep, on one day, in one construction.

    Parameters
    ----------
    show : Readout
        The reader's units.
    sweep : system.ports.PortSweep
        The box with every port.
    port : float
        The chosen one. [m]
    day : {"hot", "cold"}
        On which the readings are taken.
    construction : {ports.CONVENTIONAL, ports.BALANCED}
        Of the port.
    """

    def __init__(self, show, sweep, port, day, construction):
        self.show, self.sweep, self.port = show, sweep, port
        self.day, self.construction = day, construction
        self.points = sweep.points(port)
        self.now = self.points.at((DAYS[day], construction))
        self.other = None
        if sweep.other_model is not None:
            self.other = sweep.points(port, True).at((DAYS[day], construction))

    def numbers(self):
        """Give what is shown as SI numbers by name."""
        now, sweep = self.now, self.sweep
        return {
            "refrigerant": sweep.box.refrigerant.name,
            "load": sweep.load,
            "box_temperature": sweep.box_temperature,
            "hot": sweep.condensing[ports.HOT],
            "cold": sweep.condensing[ports.COLD],
            "static_superheat": float(sweep.box.valve.spring.static_superheat),
            "port": self.port,
            "window": sweep.window,
            "day": self.day,
            "construction": self.construction,
            "right": sweep.right,
            "nervous_above": sweep.nervous_above,
            "status": int(now.status),
            "superheat": float(now.superheat),
            "suction_temperature": float(now.suction_temperature),
            "evaporating_temperature": float(now.evaporating_temperature),
            "lift_share": float(now.lift_share),
            "capacity": float(now.capacity),
            "evaporating_pressure": float(now.evaporating_pressure),
            "pressure_drop": float(now.condensing_pressure - now.evaporator_inlet_pressure),
            "relative_gain": float(now.relative_gain),
            "right_gain": sweep.right_gain,
            "by_balance": float(np.diff(self._superheats()[DAYS[self.day]])[0]),
        }

    def readings(self):
        """Give what gauges and clamps would say."""
        show, now = self.show, self.now
        air = ("Box air", show.text(now.air_temperature, "temperature"))
        if not now.accepted:
            return ("Valve", Status(int(now.status)).words), air
        taken = now.readings()
        return (
            ("Suction gauge", show.text(taken.suction_pressure, "gauge_pressure")),
            ("Dew at that pressure", show.text(now.evaporating_temperature, "temperature")),
            ("Suction-line clamp", show.text(taken.suction_temperature, "temperature")),
            ("Superheat", superheat(show, now)),
            ("Head gauge", show.text(taken.head_pressure, "gauge_pressure")),
            ("Liquid-line clamp", show.text(taken.liquid_temperature, "temperature")),
            air,
        )

    def answer(self):
        """Say how strongly the flow answers the bulb, in two short lines."""
        if not self.now.accepted:
            return "no running point:", Status(int(self.now.status)).words
        if self.now.status == Status.LIQUID_LEAVING:
            return "liquid leaves the coil:", "the bulb hears nothing of it"
        if self.now.relative_gain <= 0.0:
            return "wide open: the bulb", "has no say any more"
        degree, share = per_degree(self.show, self.now.relative_gain)
        return f"{degree} at the bulb moves", f"the flow by {share}"

    def words(self):
        """Describe the picture."""
        show, sweep = self.show, self.sweep
        fluid = sweep.box.refrigerant.name
        kind = "balanced" if self.construction == ports.BALANCED else "conventional"
        said = [
            f"{fluid}, design load {show.text(sweep.load, 'capacity')} at "
            f"{show.text(sweep.box_temperature, 'temperature')} box air. "
            f"Port {show.text(self.port, 'port')}, {kind}.",
            self._on(self.day),
            self._on("cold" if self.day == "hot" else "hot"),
            self._between_days(),
            self._zones(),
        ]
        if self.other is not None and self.now.accepted and self.other.accepted:
            shares = sorted(point.capacity / sweep.load for point in (self.now, self.other))
            one, two = (show.text(share, "ratio") for share in shares)
            said.append(
                f"How much {fluid} a port passes is uncertain: two flow models give {one} and "
                f"{two} of the design load here."
            )
        return " ".join(said)

    def _zones(self):
        show, sweep = self.show, self.sweep
        starves, holds, open_in_the_cold = (
            show.text(port, "port")
            for port in (sweep.starves_below, sweep.holds_above, sweep.stands_open_below)
        )
        said = [
            f"On the hot day ports below {starves} starve: wide open and still short. On the cold "
            f"day the pin stands at its stop below {open_in_the_cold}."
        ]
        if holds != starves:
            said.append(f"To carry the design load then takes a port of {holds}.")
        said.append(
            f"The right port is {show.text(sweep.right, 'port')}. Above "
            f"{show.text(sweep.nervous_above, 'port')} the flow answers the bulb more than "
            f"{_TIMES[ports.NERVOUS]} as strongly as with the right port: it hunts easily."
        )
        return " ".join(said)

    def _on(self, day):
        show, point = self.show, self.points.at((DAYS[day], self.construction))
        head = show.text(point.condensing_pressure, "gauge_pressure")
        if not point.accepted:
            return f"On the {day} day (head {head}): {Status(int(point.status)).words}."
        wide = "wide open, " if point.status == Status.WIDE_OPEN else ""
        return (
            f"On the {day} day (head {head}): {wide}superheat {superheat(show, point)}, lift "
            f"{show.text(point.lift_share, 'ratio')}, cooling "
            f"{show.text(point.capacity / self.sweep.load, 'ratio')} of the design load, suction "
            f"{show.text(point.evaporating_pressure, 'gauge_pressure')}."
        )

    def _superheats(self):
        """As read, by day and by construction [K]."""
        clamps, dews = self.points.suction_temperature, self.points.evaporating_temperature
        pairs = zip(clamps.flat, dews.flat, strict=True)
        return np.reshape([superheat_read(self.show, *pair) for pair in pairs], clamps.shape)

    def _between_days(self):
        if not np.all(self.points.accepted):
            return "On one of the days one of the two constructions does not run."
        conventional, balanced = (
            self.show.text(shift, "temperature_difference")
            for shift in np.diff(self._superheats(), axis=0)[0]
        )
        return (
            f"From the hot to the cold day superheat moves {conventional} with a conventional "
            f"port of this size, {balanced} with a balanced one."
        )


def superheat_read(show, clamp, dew):
    """Superheat as a person reads it, from rounded readings.

    Parameters
    ----------
    show : Readout
        The reader's units.
    clamp, dew : float
        Suction line, and dew at the suction pressure. [K]

    Returns
    -------
    float
        [K]
    """
    return show.rounded(float(clamp), "temperature") - show.rounded(float(dew), "temperature")


def superheat(show, point):
    """Write the superheat of a solved point, see `superheat_read`."""
    read = superheat_read(show, point.suction_temperature, point.evaporating_temperature)
    return show.text(read, "temperature_difference")


def per_degree(show, relative_gain):
    """Write one degree of the reader's, and the share of flow that it moves.

    Parameters
    ----------
    show : Readout
        The reader's units.
    relative_gain : float
        [1/K]

    Returns
    -------
    tuple of str
        Such as ``("1 °F", "27 %")``.
    """
    degree = float(show.si(1.0, "temperature_difference"))
    one = show.text(degree, "temperature_difference", 0)
    return one, show.text(relative_gain * degree, "ratio")


def why(start, now, show):
    """Say what changed since the start, and why.

    Parameters
    ----------
    start, now : dict
        From ``Case.numbers``.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A few sentences.
    """
    if now["status"] > Status.LIQUID_LEAVING:
        return (
            f"Nothing runs here: {Status(now['status']).reason}. Bring the head, the port or the "
            "spring back towards the right ones."
        )
    changed = [name for name in _CAUSES if start[name] != now[name]]
    if not changed or any(start[name] != now[name] for name in BOX):
        return _as_it_stands(now, show)
    was, is_now = (
        show.text(
            superheat_read(show, case["suction_temperature"], case["evaporating_temperature"]),
            "temperature_difference",
        )
        for case in (start, now)
    )
    moved = (
        f"Superheat {was} → {is_now}, suction "
        f"{_from_to(start, now, 'evaporating_pressure', 'gauge_pressure', show)}, cooling "
        f"{_shares(start, now, show)} of the design load."
    )
    reasons = dict.fromkeys(_CAUSES[name](start, now, show) for name in changed)
    return " ".join([moved, *list(reasons)[:2]])


def _as_it_stands(now, show):
    right = f"The right port for this box is {show.text(now['right'], 'port')}."
    if now["status"] == Status.WIDE_OPEN:
        cooling = show.text(now["capacity"] / now["load"], "ratio")
        advice = "Make the port bigger." if now["day"] == "hot" else _UNNOTICED
        return (
            "The pin is at its stop and the flow is all that this port passes. The last drop boils "
            "off early, the rest of the coil only warms gas: high superheat, low suction, cooling "
            f"{cooling} of the design load. {advice} {right}"
        )
    if now["status"] == Status.LIQUID_LEAVING:
        return f"{_WET} {right}"
    if now["port"] > now["nervous_above"]:
        return f"The pin barely opens, and {_nervous(now, show)}: it hunts easily. {right}"
    return f"The pin moves freely between seat and stop: the bulb is in charge. {right}"


def _from_to(start, now, name, kind, show):
    return f"{show.text(start[name], kind)} → {show.text(now[name], kind)}"


def _shares(start, now, show):
    before, after = (show.text(case["capacity"] / case["load"], "ratio") for case in (start, now))
    return f"{before} → {after}"


def _by_port(start, now, show):
    was_open, is_open = (case["status"] == Status.WIDE_OPEN for case in (start, now))
    if is_open:
        return (
            "At its stop the pin leaves a fixed hole: flow follows the port's area, and what is "
            "short shows up as superheat."
        )
    if now["status"] == Status.LIQUID_LEAVING:
        return _WET
    if now["port"] > now["nervous_above"]:
        return (
            "The cooling is no better than with the right port, for compressor and coil set it. "
            f"But the pin barely opens, and {_nervous(now, show)}: it hunts easily."
        )
    if was_open:
        return (
            "The port now passes all the compressor asks for: the pin leaves its stop and the "
            "bulb is in charge again."
        )
    if now["port"] > start["port"]:
        return (
            "The same flow needs less lift through a bigger port, so the bulb has less spring to "
            "push: a little less superheat will do."
        )
    return "The same flow needs more lift through a smaller port: more superheat to push the pin."


def _nervous(now, show):
    degree, share = per_degree(show, now["relative_gain"])
    times = now["relative_gain"] / now["right_gain"]
    return (
        f"{degree} at the bulb moves the flow by {share}, {times:.1f} times as much as with the "
        "right port"
    )


def _by_day(start, now, show):
    ratio = now["pressure_drop"] / start["pressure_drop"]
    if abs(ratio - 1.0) < _SAME:
        return "Only the cold day has moved, and you read the hot one: look at the dashed lines."
    head = (
        f"The pressure drop over the port is {show.text(ratio, 'ratio')} of what it was, and the "
        "flow through the same opening goes with its square root: the pin "
    )
    if now["status"] == Status.WIDE_OPEN:
        return f"{head}stands at its stop and can do no more. {_UNNOTICED}"
    return f"{head}must stand {'further' if ratio < 1.0 else 'less'} open."


def _by_construction(start, now, show):
    size = abs(now["by_balance"])
    text = show.text(size, "temperature_difference")
    if size < _LITTLE:
        return (
            f"Balanced or conventional makes {text} of superheat here: the port is so small "
            "against the diaphragm that its force hardly counts."
        )
    return (
        f"Balanced or conventional makes {text} of superheat here: the pressure on a port of this "
        "size is a force that the diaphragm feels, unless the port is balanced."
    )


def _by_spring(start, now, show):
    if now["status"] == Status.WIDE_OPEN:
        return "The valve is wide open: turning the stem changes nothing until the port is bigger."
    return "The spring sets where the pin leaves its seat; superheat follows the stem."


_CAUSES = {
    "port": _by_port,
    "day": _by_day,
    "cold": _by_day,
    "construction": _by_construction,
    "static_superheat": _by_spring,
}
