"""A person's own gauge and clamp readings on the pressure-enthalpy diagram.

What was not measured is left out. What cannot be placed honestly (a suction line colder than the
refrigerant can boil) stands at the edge of the dome, with what is wrong written beside it.
"""

from __future__ import annotations

from typing import NamedTuple

from lowside import readings as clamps
from lowside.errors import OutOfRange
from lowside.plots import dome, style
from lowside.plots.layout import AROUND, LEADING, Spot
from lowside.plots.marks import Line, Markers, Text
from lowside.plots.ph import PhDiagram

LINES = ("isotherms", "quality")

#: How each weight of a finding is said, worst first.
WEIGHTS = {"impossible": "Cannot be", "look again": "Look again", "note": "Worth knowing"}
UNPROVEN = "That alone does not prove the box healthy."
IN_ORDER = ("In order", f"These readings agree with each other. {UNPROVEN}")

#: What is judged, and what must have been read for it.
JUDGED = {
    "superheat": ("suction_pressure", "suction_temperature"),
    "coil against box air": ("suction_pressure", "box_temperature"),
    "subcooling": ("head_pressure", "liquid_temperature"),
    "condenser against its air": ("head_pressure", "ambient_temperature"),
    "discharge line": ("head_pressure", "discharge_temperature"),
}

_MARGIN = 0.05  # of the view, beyond the outermost reading
_BELOW = 0.6  # share of the lowest gauge pressure down to which the view must reach


class _Clamp(NamedTuple):
    """A temperature, its gauge, whether it should be vapour, its name, the finding against it."""

    field: str
    gauge: str
    vapour: bool
    label: str
    doubt: str


_CLAMPS = (
    _Clamp("suction_temperature", "suction_pressure", True, "suction line", "colder than dew"),
    _Clamp(
        "discharge_temperature",
        "head_pressure",
        True,
        "discharge line",
        "discharge below condensing",
    ),
    _Clamp("liquid_temperature", "head_pressure", False, "liquid line", "liquid line above bubble"),
)


class _Point(NamedTuple):
    enthalpy: float
    pressure: float
    label: str


def readings_figure(refrigerant, taken, show):
    """Put a person's own readings on the diagram, with what they amount to.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    taken : readings.Readings
        What was read; whatever is missing is left out.
    show : Readout
        The reader's units.

    Returns
    -------
    LiveFigure
        With what the readings amount to in its strip, and what looks wrong about them in its
        remarks, worst first.

    Raises
    ------
    OutOfRange
        If a pressure lies outside the refrigerant's range, but for a suction in a deep vacuum.
    """
    meaning = clamps.interpret(refrigerant, taken, show.atmosphere)
    codes = {finding.code for finding in meaning.findings}
    upright = "suction above head" not in codes
    points = {
        clamp.field: point
        for clamp in _CLAMPS
        if upright
        and taken.has(clamp.field, clamp.gauge)
        and getattr(taken, clamp.gauge) >= refrigerant.pressure_range[0]
        and (point := _place(refrigerant, taken, clamp, clamp.doubt in codes, show))
    }
    diagram = _diagram(refrigerant, taken, points, show)
    items = _items(diagram, taken, points)
    remarks = _remarks(meaning.findings, taken, upright, show)
    strip = _strip(taken, meaning, show) if upright else []
    return diagram.figure(
        items, _words(refrigerant, taken, strip, upright), strip, _numbers(meaning), remarks
    )


def _remarks(findings, taken, upright, show):
    """Say what looks wrong, worst first, and what could not be judged; or that all agrees."""
    findings = sorted(findings, key=lambda finding: list(WEIGHTS).index(finding.weight))
    remarks = [(WEIGHTS[finding.weight], finding.sentence(show)) for finding in findings]
    doubts = sum(finding.weight != "note" for finding in findings)
    if doubts > 1:
        weight, said = remarks[0]
        rest = "the next one" if doubts == 2 else f"the next {doubts - 1}"
        remarks[0] = weight, f"{said} This and {rest} may be one mistake: settle this one first."
    judged = [what for what, needed in JUDGED.items() if taken.has(*needed)]
    missing = [what for what in JUDGED if what not in judged]
    if not upright or not (taken.has("suction_pressure") or taken.has("head_pressure")):
        return remarks
    if not missing:
        return remarks or [IN_ORDER]
    wanting = f"{', '.join(missing)} (readings are missing)."
    if remarks or not judged:
        return [*remarks, ("Not judged", wanting)]
    *most, last = judged
    can = f"{', '.join(most)} and {last}" if most else last
    return [("So far", f"{can} can be right. {UNPROVEN}"), ("Not judged", wanting)]


def _place(fluid, taken, clamp, doubtful, show):
    """Where one clamp stands, or None where the refrigerant's tables end."""
    pressure, temperature = getattr(taken, clamp.gauge), getattr(taken, clamp.field)
    dew, bubble = float(fluid.dew_temperature(pressure)), float(fluid.bubble_temperature(pressure))
    edge = fluid.saturation(pressure)
    text = f"{clamp.label}\n{show.text(temperature, 'temperature')}"
    if clamp.vapour and temperature < bubble:
        short = show.text(dew - temperature, "temperature_difference")
        text += f"\n{short} below dew?" if doubtful else ""
        return _Point(float(edge.vapour_enthalpy), pressure, text)
    if not clamp.vapour and temperature > dew:
        excess = show.text(temperature - bubble, "temperature_difference")
        text += f"\n{excess} above bubble?" if doubtful else ""
        return _Point(float(edge.liquid_enthalpy), pressure, text)
    try:
        if temperature >= dew:
            enthalpy = fluid.vapour_enthalpy(pressure, temperature)
        elif temperature <= bubble:
            enthalpy = fluid.liquid_enthalpy(pressure, temperature)
        else:
            enthalpy = fluid.state_pt(pressure, temperature).enthalpy
    except OutOfRange:
        return None
    return _Point(float(enthalpy), pressure, text)


def _diagram(fluid, taken, points, show):
    """Diagram in its usual view, or as much more as the readings need."""
    low, high = dome.usual_pressures(fluid)
    gauges = [p for p in (taken.suction_pressure, taken.head_pressure) if p is not None]
    low = max(fluid.pressure_range[0], min([low, *(_BELOW * p for p in gauges)]))
    left, right = dome.usual_enthalpies(fluid, (low, high))
    margin = _MARGIN * (right - left)
    left = min([left, *(point.enthalpy - margin for point in points.values())])
    right = max([right, *(point.enthalpy + margin for point in points.values())])
    return PhDiagram(fluid, show, LINES, (low, high), (left, right))


def _items(diagram, taken, points):
    items = []
    if taken.has("box_temperature"):
        items += _air(diagram, taken.box_temperature, "box air")
    if taken.has("ambient_temperature"):
        items += _air(diagram, taken.ambient_temperature, "air at condenser")
    if taken.has("suction_pressure") and taken.suction_pressure >= diagram.pressures[0]:
        items += diagram.isobar(taken.suction_pressure, style.LOW, "dashed", "suction gauge")
    if taken.has("head_pressure"):
        items += diagram.isobar(taken.head_pressure, style.HIGH, "dash-dot", "head gauge")
    if "suction_temperature" in points:
        items += diagram.superheat(taken.suction_pressure, taken.suction_temperature)
    if "liquid_temperature" in points:
        items += diagram.subcooling(taken.head_pressure, taken.liquid_temperature)
    for h, p, label in points.values():
        lift = style.SMALL * LEADING * label.count("\n")
        spots = tuple(Spot(dx, dy - (lift if dy < 0 else 0), end) for dx, dy, end in AROUND)
        items.append(Markers([h], [p], "diamond", 16, style.OWN))
        items.append(Text(h, p, label, spots, style.SMALL, style.OWN, True))
    return items


def _air(diagram, temperature, label):
    """Return the temperature of the air as the line along which the refrigerant would boil at it.

    The heat flows only if the evaporator's gauge lies below this line, the condenser's above.
    """
    fluid = diagram.refrigerant
    inside = list(dome.boiling(fluid, temperature, diagram.pressures))
    if not inside:
        return []
    h, p = inside[0]
    text = f"{label} {diagram.show.text(temperature, 'temperature')}"
    at = 0.42 * float(h[0]) + 0.58 * float(h[-1]), float(p[0]) ** 0.42 * float(p[-1]) ** 0.58
    spots = (Spot(0, -5, "middle"), Spot(0, 15, "middle"))
    return [
        Line(h, p, style.GOOD, 2.0, "dotted"),
        Text(*at, text, spots, style.SMALL, style.GOOD),
    ]


def _strip(taken, meaning, show):
    """Say what the readings amount to, as far as they go."""
    entries = [
        ("Dew at suction", meaning.evaporating_dew, "temperature"),
        ("Superheat", meaning.superheat, "temperature_difference"),
        (
            "Box air over dew",
            _difference(taken.box_temperature, meaning.evaporating_dew),
            "temperature_difference",
        ),
        ("Bubble at head", meaning.condensing_bubble, "temperature"),
        ("Subcooling", meaning.subcooling, "temperature_difference"),
        (
            "Dew over ambient",
            _difference(meaning.condensing_dew, taken.ambient_temperature),
            "temperature_difference",
        ),
    ]
    return [(place, show.text(value, kind)) for place, value, kind in entries if value is not None]


def _difference(high, low):
    return None if high is None or low is None else high - low


def _words(fluid, taken, strip, upright):
    start = f"Your readings on the pressure-enthalpy diagram of {fluid.name}"
    if not taken.has("suction_pressure") and not taken.has("head_pressure"):
        return f"{start}: no gauge reading yet. A clamp says nothing without its gauge."
    if not upright:
        return f"{start}: nothing is counted before the two gauges make sense."
    said = ", ".join(f"{place[:1].lower()}{place[1:]} {value}" for place, value in strip)
    return f"{start}: {said}."


def _numbers(meaning):
    return {"superheat": meaning.superheat, "subcooling": meaning.subcooling}
