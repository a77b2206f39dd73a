"""What gauges and clamps say, and what cannot be right about it.

A set of readings from one box, any of them missing; superheat, subcooling and saturation
temperatures from it; and findings: combinations that a running, air-cooled box cannot show, with
the slip that would explain them (gauge on the wrong port, °C written as °F, another refrigerant).
Findings judge readings, never causes: what is wrong with the *box* is for ``diagnosis``.

The windows used below are common practice, no published source. They are wide on purpose: a
reading inside them may still belong to a sick box, a reading outside them is worth a second look.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

from lowside import refrigerants, units

CLAMP_ERROR = 1.0  # [K] clamp thermometer and its contact; common practice (CHECKS C473: ±1 °F)
GAUGE_ERROR = 0.01  # share of full scale; common practice (CHECKS C473)
FULL_SCALE = {"suction_pressure": 1.0e6, "head_pressure": 3.5e6}  # [Pa] usual gauge ranges

SUPERHEAT_AT_COIL = (0.0, 14.0)  # [K] sensible at the evaporator outlet of a running box
SUPERHEAT_ANYWHERE = (0.0, 35.0)  # [K] sensible up to the compressor inlet
SUBCOOLING = (0.0, 20.0)  # [K] sensible in the liquid line
HOT_DISCHARGE = 378.15  # [K] 105 °C at the discharge line: oil suffers above
RUNS_IN_A_VACUUM = 253.15  # [K] a fluid that boils above this in open air; common practice
ATMOSPHERE_MARGIN = 2.0e3  # [Pa] below the barometer by more than this is called a vacuum


@dataclass(frozen=True)
class Readings:
    """What was read on one box. Leave out what was not measured.

    Parameters
    ----------
    suction_pressure, head_pressure : float, optional
        At the service ports, absolute. [Pa]
    suction_temperature : float, optional
        Clamp on the suction line. [K]
    liquid_temperature : float, optional
        Clamp on the liquid line. [K]
    discharge_temperature : float, optional
        Clamp on the discharge line. [K]
    ambient_temperature : float, optional
        Air entering the condenser. [K]
    box_temperature : float, optional
        Air entering the evaporator. [K]
    """

    suction_pressure: float | None = None
    suction_temperature: float | None = None
    head_pressure: float | None = None
    liquid_temperature: float | None = None
    discharge_temperature: float | None = None
    ambient_temperature: float | None = None
    box_temperature: float | None = None

    def has(self, *names):
        """Return True where all the named readings were taken."""
        return all(getattr(self, name) is not None for name in names)


KIND = {
    field.name: "gauge_pressure" if field.name.endswith("pressure") else "temperature"
    for field in fields(Readings)
}
LABEL = {name: name.replace("_", " ") for name in KIND} | {
    "suction_temperature": "suction-line temperature",
    "liquid_temperature": "liquid-line temperature",
    "discharge_temperature": "discharge-line temperature",
    "ambient_temperature": "air entering the condenser",
    "box_temperature": "air in the box",
}


@dataclass(frozen=True)
class Finding:
    """One thing about the readings that deserves a second look.

    Parameters
    ----------
    code : str
        Stable plain name, such as ``"suction above head"``.
    weight : {"impossible", "look again", "note"}
        How sure it is that something is off.
    template : str
        Sentence with fields to be filled by `numbers`.
    numbers : dict
        Field name -> (SI value, kind).
    """

    code: str
    weight: str
    template: str
    numbers: dict

    def sentence(self, show):
        """Word the finding in the units of `show` (a ``readout.Readout``)."""
        texts = {key: show.text(value, kind) for key, (value, kind) in self.numbers.items()}
        return self.template.format(**texts)


@dataclass(frozen=True)
class Interpretation:
    """What the readings amount to; a value that cannot be computed is None.

    Parameters
    ----------
    evaporating_dew, condensing_dew, condensing_bubble : float or None
        Saturation temperatures at the two gauges. [K]
    superheat, subcooling : float or None
        From dew and from bubble; negative values are kept. [K]
    superheat_error, subcooling_error : float or None
        Combined (root of squares) instrument error. [K]
    findings : tuple of Finding
    """

    evaporating_dew: float | None
    condensing_dew: float | None
    condensing_bubble: float | None
    superheat: float | None
    subcooling: float | None
    superheat_error: float | None
    subcooling_error: float | None
    findings: tuple


def interpret(refrigerant, readings, atmosphere=101325.0):
    """Turn readings into superheat, subcooling and findings.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    readings : Readings
    atmosphere : float
        Barometer at the site, to tell a vacuum. [Pa]

    Returns
    -------
    Interpretation

    Raises
    ------
    OutOfRange
        If a pressure lies outside the range of the refrigerant's tables.
    """
    r = readings
    dew = bubble = evaporating = superheat = subcooling = None
    superheat_error = subcooling_error = None
    if r.has("suction_pressure"):
        evaporating = float(refrigerant.dew_temperature(r.suction_pressure))
        if r.has("suction_temperature"):
            superheat = r.suction_temperature - evaporating
            superheat_error = _saturation_error(
                refrigerant.dew_temperature, "suction_pressure", r.suction_pressure, refrigerant
            )
    if r.has("head_pressure"):
        dew = float(refrigerant.dew_temperature(r.head_pressure))
        bubble = float(refrigerant.bubble_temperature(r.head_pressure))
        if r.has("liquid_temperature"):
            subcooling = bubble - r.liquid_temperature
            subcooling_error = _saturation_error(
                refrigerant.bubble_temperature, "head_pressure", r.head_pressure, refrigerant
            )
    answer = Interpretation(
        evaporating, dew, bubble, superheat, subcooling, superheat_error, subcooling_error, ()
    )
    return replace(answer, findings=tuple(_findings(refrigerant, r, answer, atmosphere)))


def _saturation_error(saturation, port, pressure, refrigerant):
    """Combine gauge error, through the saturation curve, with clamp error, in kelvin."""
    low, high = refrigerant.pressure_range
    off = GAUGE_ERROR * FULL_SCALE[port]
    above, below = min(pressure + off, high), max(pressure - off, low)
    slope = (float(saturation(above)) - float(saturation(below))) / (above - below)
    return ((slope * off) ** 2 + CLAMP_ERROR**2) ** 0.5


def _findings(refrigerant, r, answer, atmosphere):
    if r.has("suction_pressure", "head_pressure") and r.suction_pressure >= r.head_pressure:
        yield Finding(
            "suction above head",
            "impossible",
            "The suction reads {suction} and the head {head}: no running box shows a suction at or "
            "above its head. The hoses may be swapped, or the box is off and has equalised. "
            "Nothing else is judged until that is settled.",
            {
                "suction": (r.suction_pressure, "gauge_pressure"),
                "head": (r.head_pressure, "gauge_pressure"),
            },
        )
        return
    if r.has("suction_pressure") and r.suction_pressure < atmosphere - ATMOSPHERE_MARGIN:
        yield Finding(
            "suction in a vacuum",
            "note",
            "The suction is at {suction}, below the barometer: any leak now draws air and moisture "
            "in." + _hazard_of_air(refrigerant),
            {"suction": (r.suction_pressure, "gauge_pressure")},
        )
    yield from _suction_findings(refrigerant, r, answer)
    yield from _head_findings(refrigerant, r, answer)
    if r.has("discharge_temperature"):
        if r.discharge_temperature > HOT_DISCHARGE:
            yield Finding(
                "hot discharge",
                "look again",
                "The discharge line is at {discharge}. Above about {limit} oil suffers (common "
                "practice): look for high head, high superheat or a leaking compressor valve.",
                {
                    "discharge": (r.discharge_temperature, "temperature"),
                    "limit": (HOT_DISCHARGE, "temperature"),
                },
            )
        if answer.condensing_dew is not None and (
            r.discharge_temperature < answer.condensing_dew - CLAMP_ERROR
        ):
            yield Finding(
                "discharge below condensing",
                "impossible",
                "The discharge line, {discharge}, is colder than the refrigerant condenses, "
                "{condensing}: the clamp is off the pipe, or liquid is passing the compressor.",
                {
                    "discharge": (r.discharge_temperature, "temperature"),
                    "condensing": (answer.condensing_dew, "temperature"),
                },
            )


def _hazard_of_air(refrigerant):
    """Say what air inside means for this refrigerant, and whether it may run in a vacuum."""
    if not refrigerant.facts.safety_class.startswith(("A2", "A3")):
        return ""
    hazard = " Air inside with a flammable refrigerant is a danger"
    if refrigerant.dew_temperature(units.STANDARD_ATMOSPHERE) > RUNS_IN_A_VACUUM:
        return (
            f"{hazard}. A cold box with {refrigerant.name} runs so by design (common practice): "
            "leave no leak in it."
        )
    return f"{hazard}: stop the box and find out why it pulls so low."


def _suction_findings(refrigerant, r, answer):
    superheat = answer.superheat
    boiling = superheat is not None and r.suction_temperature >= float(
        refrigerant.bubble_temperature(r.suction_pressure)
    )
    if superheat is not None and superheat < -answer.superheat_error and boiling:
        yield Finding(
            "liquid at the clamp",
            "look again",
            "The suction line is {short} colder than the dew point at the gauge, yet warmer than "
            "bubble: in a blend that glides that is liquid and vapour together, on the way to the "
            "compressor. Take it for true until a second reading says otherwise.",
            {"short": (-superheat, "temperature_difference")},
        )
    elif superheat is not None and superheat < -answer.superheat_error:
        yield Finding(
            "colder than dew",
            "impossible",
            "The suction line is {short} colder than the dew point at the gauge. Past the "
            "instruments' error of about {error} not even boiling liquid is so cold at this "
            "pressure: pressure lost on the way from gauge to clamp, or a reading mistake."
            + _slip(refrigerant, r, "suction"),
            {
                "short": (-superheat, "temperature_difference"),
                "error": (answer.superheat_error, "temperature_difference"),
            },
        )
    elif superheat is not None and superheat < answer.superheat_error:
        yield Finding(
            "superheat inside the error",
            "note",
            "A superheat of {superheat} is no more than the instruments' own error of about "
            "{error}: liquid may be leaving the coil. Trust it only after a second look.",
            {
                "superheat": (superheat, "temperature_difference"),
                "error": (answer.superheat_error, "temperature_difference"),
            },
        )
    elif superheat is not None and superheat > SUPERHEAT_ANYWHERE[1]:
        yield Finding(
            "very high superheat",
            "look again",
            "A superheat of {superheat} is more than a box shows even at the compressor: starved "
            "coil, clamp in warm air, or a reading mistake." + _slip(refrigerant, r, "suction"),
            {"superheat": (superheat, "temperature_difference")},
        )
    elif superheat is not None and superheat > SUPERHEAT_AT_COIL[1]:
        yield Finding(
            "high superheat",
            "note",
            "A superheat of {superheat} is high for a clamp at the coil outlet. At the compressor "
            "it can be normal, since the line picks up heat on the way.",
            {"superheat": (superheat, "temperature_difference")},
        )
    if (
        answer.evaporating_dew is not None
        and r.has("box_temperature")
        and answer.evaporating_dew > r.box_temperature + CLAMP_ERROR
    ):
        yield Finding(
            "evaporating above the box",
            "impossible",
            "The refrigerant would evaporate at {evaporating}, warmer than the box at {box}: the "
            "compressor is not pumping, the box has just started, or a reading is wrong.",
            {
                "evaporating": (answer.evaporating_dew, "temperature"),
                "box": (r.box_temperature, "temperature"),
            },
        )


def _head_findings(refrigerant, r, answer):
    subcooling = answer.subcooling
    boiling = subcooling is not None and r.liquid_temperature <= answer.condensing_dew
    if subcooling is not None and subcooling < -answer.subcooling_error and boiling:
        yield Finding(
            "bubbles at the clamp",
            "look again",
            "The liquid line is {excess} warmer than the bubble point at the head gauge, yet "
            "colder than dew: in a blend that glides that is liquid and vapour together. The line "
            "is not full of liquid there, or a reading is wrong.",
            {"excess": (-subcooling, "temperature_difference")},
        )
    elif subcooling is not None and subcooling < -answer.subcooling_error:
        yield Finding(
            "liquid line above bubble",
            "impossible",
            "The liquid line is {excess} warmer than the bubble point at the head gauge: it cannot "
            "be full of liquid there. Vapour in the liquid line, or a reading mistake."
            + _slip(refrigerant, r, "liquid"),
            {"excess": (-subcooling, "temperature_difference")},
        )
    elif subcooling is not None and subcooling < answer.subcooling_error:
        yield Finding(
            "subcooling inside the error",
            "note",
            "A subcooling of {subcooling} is no more than the instruments' own error of about "
            "{error}: there may be bubbles in the liquid line.",
            {
                "subcooling": (subcooling, "temperature_difference"),
                "error": (answer.subcooling_error, "temperature_difference"),
            },
        )
    elif subcooling is not None and subcooling > SUBCOOLING[1]:
        yield Finding(
            "very high subcooling",
            "look again",
            "A subcooling of {subcooling} is unusual without a subcooler or a soldered "
            "liquid-suction pair: overcharge, air in the condenser, or a reading mistake."
            + _slip(refrigerant, r, "liquid"),
            {"subcooling": (subcooling, "temperature_difference")},
        )
    if not r.has("ambient_temperature"):
        return
    if answer.condensing_dew is not None and (
        answer.condensing_dew < r.ambient_temperature - CLAMP_ERROR
    ):
        yield Finding(
            "condensing below ambient",
            "impossible",
            "The head gauge means condensing at {condensing}, colder than the air at {ambient} "
            "that should take the heat: off and equalised, gauge wrong, or another refrigerant.",
            {
                "condensing": (answer.condensing_dew, "temperature"),
                "ambient": (r.ambient_temperature, "temperature"),
            },
        )
    if r.has("liquid_temperature") and (
        r.liquid_temperature < r.ambient_temperature - 2 * CLAMP_ERROR
    ):
        yield Finding(
            "liquid line below ambient",
            "look again",
            "The liquid line, {liquid}, is colder than the air at the condenser, {ambient}. Air "
            "cannot do that: a subcooler or soldered lines, flashing before the clamp, or a "
            "reading mistake.",
            {
                "liquid": (r.liquid_temperature, "temperature"),
                "ambient": (r.ambient_temperature, "temperature"),
            },
        )


def _sensible(refrigerant, r, side):
    """Return True where the readings of one side make sense for this refrigerant."""
    pressure = r.suction_pressure if side == "suction" else r.head_pressure
    low, high = refrigerant.pressure_range
    if not low <= pressure <= high:
        return False
    if side == "suction":
        degrees = refrigerant.superheat(pressure, r.suction_temperature)
        window = SUPERHEAT_ANYWHERE
    else:
        degrees = refrigerant.subcooling(pressure, r.liquid_temperature)
        window = SUBCOOLING
    return window[0] <= float(degrees) <= window[1]


def _slip(refrigerant, r, side):
    """Name the slips that would make the readings of one side sensible again."""
    name = "suction_temperature" if side == "suction" else "liquid_temperature"
    temperature = getattr(r, name)
    celsius = units.from_si(temperature, "degC")
    fahrenheit = units.from_si(temperature, "degF")
    guesses = []
    meant_fahrenheit = replace(r, **{name: units.to_si(celsius, "degF")})
    meant_celsius = replace(r, **{name: units.to_si(fahrenheit, "degC")})
    if _sensible(refrigerant, meant_fahrenheit, side):
        guesses.append(f"the clamp read {celsius:.0f} °F, not °C")
    if _sensible(refrigerant, meant_celsius, side):
        guesses.append(f"the clamp read {fahrenheit:.0f} °C, not °F")
    others = [
        other
        for other in refrigerants.NAMES
        if other != refrigerant.name and _sensible_both(refrigerants.get(other), r)
    ]
    if 0 < len(others) <= 3:
        guesses.append(f"the box holds {' or '.join(others)}")
    return f" It would make sense if {', or if '.join(guesses)}." if guesses else ""


def _sensible_both(refrigerant, r):
    sides = []
    if r.has("suction_pressure", "suction_temperature"):
        sides.append("suction")
    if r.has("head_pressure", "liquid_temperature"):
        sides.append("liquid")
    return len(sides) == 2 and all(_sensible(refrigerant, r, side) for side in sides)
