"""What the hunting figure says: its words, its readings, and what changed and why."""

from __future__ import annotations

import math

import numpy as np

from lowside import hunting

#: What makes another box of it; numbers before and after are not compared.
BOX = ("name",)

CALM = 1.35  # margin from which each beat of a swing is less than half of the one before
_STARTED = 0.6  # share of the record after which the swing is read
_SEEN = 0.25  # [K] of swing that a clamp can tell: common practice, no published source
_LITTLE = 0.02  # of a margin


class Case:
    """One valve at rest and on the recorder.

    Parameters
    ----------
    show : Readout
        The reader's units.
    circuit : hunting.Circuit
    trace : hunting.Trace
    name : str
        Of the box.
    """

    def __init__(self, show, circuit, trace, name):
        self.show, self.circuit, self.trace, self.name = show, circuit, trace, name
        self.tail = trace.after(_STARTED * trace.time[-1])
        self.swings = float(0.5 * np.ptp(self.tail.superheat))
        self.seen = None
        if self.swings > 0.0:
            self.seen = hunting.measure(self.tail.time, self.tail.superheat)

    @property
    def hunts(self):
        """Whether a swing is left that a clamp can tell and that does not die out (bool)."""
        return self.swings > _SEEN and self.circuit.margin < 1.0 and self.seen.steady_beat

    @property
    def verdict(self):
        """What the margin says, in two or three words."""
        state, margin = self.circuit.state, self.circuit.margin
        if state == hunting.FLOODED:
            return "liquid leaves the coil"
        if state == hunting.WIDE_OPEN:
            return "pin at its stop"
        if state == hunting.SHUT:
            return "valve shut"
        if math.isinf(margin):
            return "cannot hunt"
        word = "hunts" if margin < 1.0 else "slow to settle" if margin < CALM else "calm"
        return f"{margin:.2f}: {word}"

    @property
    def strapped(self):
        """How the bulb is strapped on, in one short line."""
        bulb = self.circuit.bulb
        contact = "tight" if bulb.contact >= hunting.STRAPPED else "loose"
        cover = "insulated" if bulb.exposure <= hunting.INSULATED else "bare"
        return f"{contact}, {cover}, {bulb.clock:g} o'clock"

    @property
    def beat(self):
        """Two short lines under the gauge."""
        show = self.show
        if not math.isfinite(self.circuit.margin):
            return ("for a little more or less", "the pin does not move")
        if self.hunts:
            amplitude = show.text(self.seen.amplitude, "temperature_difference")
            return (f"one beat {show.text(self.seen.period, 'time')},", f"superheat ± {amplitude}")
        return (f"one beat {show.text(self.circuit.loop.period, 'time')},", "dying out")

    def readings(self):
        """Give what gauge and clamps would say, the lowest and the highest of the last minutes."""
        show, tail = self.show, self.tail
        swinging = (
            ("Suction", tail.suction_pressure, "gauge_pressure"),
            ("Clamp", tail.superheat + tail.evaporating_temperature, "temperature"),
            ("Superheat", tail.superheat, "temperature_difference"),
        )
        found = [
            (f"{place}, {end}", show.text(float(value), kind))
            for place, values, kind in swinging
            for end, value in (("low", values.min()), ("high", values.max()))
        ]
        air = show.text(self.circuit.plant.air_temperature, "temperature")
        return (*found, ("Box air", air))

    def numbers(self):
        """Give what is shown as SI numbers by name."""
        circuit, loop = self.circuit, self.circuit.loop
        hardware = circuit.plant.box.valve
        return {
            "name": self.name,
            "state": circuit.state,
            "margin": circuit.margin,
            "period": self.seen.period if self.hunts else loop.period,
            "amplitude": self.swings if self.hunts else 0.0,
            "superheat": circuit.superheat,
            "coil_superheat": circuit.coil_superheat,
            "lowest": float(self.tail.superheat.min()),
            "lift_share": circuit.lift_share,
            "capacity": circuit.capacity,
            "port": float(hardware.port.diameter),
            "static_superheat": float(hardware.spring.static_superheat),
            "contact": circuit.bulb.contact,
            "exposure": circuit.bulb.exposure,
            "around": circuit.around,
            "air": (circuit.bulb.exposure, circuit.around),
            "clock": circuit.bulb.clock,
            "equaliser": circuit.bulb.equaliser if circuit.plant.external else "internal",
            "valve_gain": loop.valve_gain,
            "coil_gain": loop.coil_gain,
            "dead_time": circuit.dead_time,
            "bulb_lag": circuit.feeling.lags[0],
            "pipe_share": circuit.feeling.pipe_share,
            "stream_share": circuit.feeling.stream_share,
            "wettest": float(self.tail.wet_share.max()),
        }

    def words(self):
        """Describe the picture."""
        show, circuit = self.show, self.circuit
        now = self.numbers()
        said = [
            f"{self.name}: port {show.text(now['port'], 'port')}, static superheat "
            f"{show.text(now['static_superheat'], 'temperature_difference')}, cooling "
            f"{show.text(now['capacity'], 'capacity')}. Bulb {self.strapped}, in air of "
            f"{show.text(now['around'], 'temperature')}; "
            f"{_EQUALISER[now['equaliser']]}."
        ]
        superheat = show.text(now["superheat"], "temperature_difference")
        if circuit.state != hunting.ACTING:
            return " ".join([*said, _STATES[circuit.state].format(superheat=superheat)])
        margin = "without end" if math.isinf(now["margin"]) else f"{now['margin']:.2f}"
        said.append(f"Superheat at rest {superheat}; gain margin {margin}: {self._means()}")
        return " ".join(said)

    def _means(self):
        show, now = self.show, self.numbers()
        if math.isinf(now["margin"]):
            return "no strength of the loop would make it swing."
        period = show.text(now["period"], "time")
        if not self.hunts:
            if now["margin"] < 1.0:
                return f"it hunts, but so slowly growing that no clamp can tell yet, beat {period}."
            return f"a swing dies out, beat {period}."
        low, high = (
            show.text(float(value), "temperature_difference")
            for value in (self.tail.superheat.min(), self.tail.superheat.max())
        )
        return f"it hunts, one beat {period}, superheat from {low} to {high} and back."

    def remarks(self):
        """Point out what deserves a second look."""
        now, show = self.numbers(), self.show
        found = []
        if now["wettest"] >= 1.0:
            found.append(
                ("Mind", "Liquid reaches the end of the coil: it can run to the compressor.")
            )
        off = now["coil_superheat"] - now["superheat"]
        if off > _SEEN:
            leaving = show.text(now["coil_superheat"], "temperature_difference")
            found.append(
                (
                    "Mind",
                    "Liquid from the leaking equaliser line chills the pipe before the bulb: the "
                    f"gas leaves the coil with {leaving} of superheat, and the clamp cannot see "
                    "it.",
                )
            )
        return found


_EQUALISER = {
    "after": "equaliser after the bulb",
    "before": "equaliser before the bulb, its packing leaking",
    "internal": "internal equaliser",
}

_STATES = {
    hunting.FLOODED: (
        "Liquid leaves the coil and runs to the compressor; the bulb is too warm to stop it."
    ),
    hunting.WIDE_OPEN: (
        "The pin stands at its stop, superheat {superheat}: a valve that cannot move cannot hunt."
    ),
    hunting.SHUT: "The pin sits on its seat: the bulb is too cold to lift it.",
}


def why(start, now, show):
    """Say what changed, and why.

    Parameters
    ----------
    start, now : dict
        `Case.numbers` of the first picture and of the present one.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences; empty where nothing changed.
    """
    moved = [name for name in _BECAUSE if start[name] != now[name]]
    if start["capacity"] != now["capacity"] and not moved:
        moved = ["load"]
    if not moved:
        return ""
    if now["state"] != hunting.ACTING:
        return _STATES[now["state"]].format(
            superheat=show.text(now["superheat"], "temperature_difference")
        )
    before, after = (
        f"{numbers['margin']:.2f}" if math.isfinite(numbers["margin"]) else "none to speak of"
        for numbers in (start, now)
    )
    heat = [show.text(n["superheat"], "temperature_difference") for n in (start, now)]
    said = [f"Margin {before} → {after}, superheat at rest {heat[0]} → {heat[1]}."]
    said += [_because(name, start, now) for name in moved[:2]]
    return " ".join(text for text in said if text)


def _because(name, start, now):
    """Choose the sentence for one thing that changed, by the way it went."""
    sentences = _BECAUSE.get(name, _LOAD)
    if callable(sentences):
        return sentences(start, now)
    key = name if name in now else "capacity"
    return sentences[0] if now[key] > start[key] else sentences[1]


_LOAD = (
    "More load: more flow, so liquid and gas get through sooner; but the coil's end cools more for "
    "the same share of flow.",
    "Less load: everything is later and the beat slower. The pin stands nearer its seat, where the "
    "same degree moves a larger share of the flow; the coil's end answers less.",
)


def _of_air(start, now):
    if now["air"] < start["air"]:
        return "With less warm air to listen to, the bulb is nearer to its pipe."
    return (
        "The air has a say now: the bulb reads warmer than the pipe, the valve opens further, and "
        "the superheat left is less; with less superheat the coil's end answers more strongly."
    )


def _of_equaliser(start, now):
    return {
        "before": (
            "The liquid that leaks down the equaliser line chills the pipe before the bulb: the "
            "valve closes although the coil starves."
        ),
        "internal": (
            "An internal equaliser puts the pressure of the coil's inlet under the diaphragm: the "
            "bulb has to pay for the coil's pressure drop with superheat."
        ),
        "after": "Tapped behind the bulb, whatever leaks down the equaliser line cannot chill it.",
    }[now["equaliser"]]


_BECAUSE = {
    "port": (
        "In a bigger port the same lift opens more: every degree at the bulb moves a larger share "
        "of the flow.",
        "In a smaller port the same lift opens less: a degree at the bulb moves a smaller share of "
        "the flow.",
    ),
    "static_superheat": (
        "A tighter spring leaves more of the coil's end dry, and the drier it is, the less its "
        "outlet answers to a little more liquid.",
        "A softer spring fills the coil further; near its end a little more liquid takes away much "
        "of the superheat, so the coil answers strongly.",
    ),
    "contact": (
        "Strapped tight, the bulb follows the pipe sooner.",
        "A loose bulb is late, and so slow that it evens the swings out. Calm is not good here: "
        "it will be as late when the load changes, and the air around has more of a say.",
    ),
    "air": _of_air,
    "clock": lambda start, now: (
        "Copper carries heat well: on dry gas the place on the pipe changes little. The rule is "
        "there for what comes along the bottom."
    ),
    "equaliser": _of_equaliser,
}
