"""Findings about suction gauge, suction clamp and the air in the box."""

from __future__ import annotations

from lowside import units

from .finding import (
    BOX_OVER_DEW,
    RUNS_IN_A_VACUUM,
    SUPERHEAT_ANYWHERE,
    SUPERHEAT_AT_COIL,
    Finding,
    differences,
    gauges,
    temperatures,
)
from .taken import CLAMP_ERROR, below_tables, in_vacuum


def suction_above_head(r):
    """Find two gauges that contradict each other.

    Parameters
    ----------
    r : Readings

    Returns
    -------
    Finding or None
    """
    if not r.has("suction_pressure", "head_pressure") or r.suction_pressure < r.head_pressure:
        return None
    return Finding(
        "suction above head",
        "impossible",
        "The suction reads {suction} and the head {head}: no running box shows a suction at or "
        "above its head. The hoses may be swapped, or the box is off and has equalised. Nothing "
        "else is judged until that is settled.",
        gauges(suction=r.suction_pressure, head=r.head_pressure),
    )


def findings(refrigerant, r, answer, atmosphere, explain):
    """Judge what was read on the low side.

    Parameters
    ----------
    refrigerant : Refrigerant
    r : Readings
    answer : Interpretation
        Without its findings.
    atmosphere : float
        Barometer. [Pa]
    explain : callable
        Side -> text and numbers of the slip that would explain it.

    Yields
    ------
    Finding
    """
    if in_vacuum(r, atmosphere):
        yield from _vacuum(refrigerant, r, atmosphere)
    if answer.superheat is not None:
        yield from _superheat(refrigerant, r, answer, explain)
    if r.has("box_temperature"):
        yield from _box(r, answer, explain)


def _vacuum(refrigerant, r, atmosphere):
    yield Finding(
        "suction in a vacuum",
        "note",
        "The suction is at {suction}, below the barometer: any leak now draws air and moisture in."
        + _hazard_of_air(refrigerant),
        gauges(suction=r.suction_pressure),
    )
    if below_tables(refrigerant, r, atmosphere):
        yield Finding(
            "suction below the tables",
            "look again",
            f"The tables of {refrigerant.name} end at {{lowest}}; nothing is counted from a "
            "suction of {suction}. A running box hardly pulls so low: no refrigerant reaches the "
            "compressor, or the gauge is off.",
            gauges(lowest=refrigerant.pressure_range[0], suction=r.suction_pressure),
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


def _superheat(refrigerant, r, answer, explain):
    superheat, error = answer.superheat, answer.superheat_error
    if superheat < -error:
        yield _colder_than_dew(refrigerant, r, answer, explain)
    elif superheat < error:
        yield Finding(
            "superheat inside the error",
            "note",
            "A superheat of {superheat} is no more than the instruments' own error of about "
            "{error}: liquid may be leaving the coil. Trust it only after a second look.",
            differences(superheat=superheat, error=error),
        )
    elif superheat > SUPERHEAT_ANYWHERE[1]:
        slip, numbers = explain("suction")
        yield Finding(
            "very high superheat",
            "look again",
            "A superheat of {superheat} is more than a box shows even at the compressor: starved "
            f"coil, clamp in warm air, or a reading mistake.{slip}",
            differences(superheat=superheat) | numbers,
        )
    elif superheat > SUPERHEAT_AT_COIL[1]:
        yield Finding(
            "high superheat",
            "note",
            "A superheat of {superheat} is high for a clamp at the coil outlet. At the compressor "
            "it can be normal, since the line picks up heat on the way.",
            differences(superheat=superheat),
        )


def _colder_than_dew(refrigerant, r, answer, explain):
    short = differences(short=-answer.superheat)
    if r.suction_temperature >= float(refrigerant.bubble_temperature(r.suction_pressure)):
        return Finding(
            "liquid at the clamp",
            "look again",
            "The suction line is {short} colder than the dew point at the gauge, yet warmer than "
            "bubble: in a blend that glides that is liquid and vapour together, on the way to the "
            "compressor. Take it for true until a second reading says otherwise.",
            short,
        )
    slip, numbers = explain("suction")
    return Finding(
        "colder than dew",
        "impossible",
        "The suction line is {short} colder than the dew point at the gauge. Past the instruments' "
        "error of about {error} not even boiling liquid is so cold at this pressure: pressure lost "
        f"on the way from gauge to clamp, or a reading mistake.{slip}",
        short | differences(error=answer.superheat_error) | numbers,
    )


def _box(r, answer, explain):
    evaporating, box = answer.evaporating_dew, r.box_temperature
    if evaporating is not None and evaporating > box + CLAMP_ERROR:
        slip, numbers = explain("air")
        yield Finding(
            "evaporating above the box",
            "impossible",
            "The refrigerant would evaporate at {evaporating}, warmer than the box at {box}: the "
            f"compressor is not pumping, the box has just started, or a reading is wrong.{slip}",
            temperatures(evaporating=evaporating, box=box) | numbers,
        )
    elif evaporating is not None and box - evaporating > BOX_OVER_DEW:
        slip, numbers = explain("air")
        yield Finding(
            "evaporating far below the box",
            "look again",
            "The air in the box, {box}, is {difference} warmer than the refrigerant evaporates. "
            "More than about {limit} is unusual (common practice): a starved or iced coil, a fan "
            f"that stands, a box just started, or a reading mistake.{slip}",
            temperatures(box=box)
            | differences(difference=box - evaporating, limit=BOX_OVER_DEW)
            | numbers,
        )
    if r.has("suction_temperature") and r.suction_temperature > box + CLAMP_ERROR:
        yield Finding(
            "suction line warmer than the box",
            "note",
            "The suction line, {suction}, is warmer than the air in the box, {box}. At the "
            "compressor that is fine, at the bulb it cannot be: the coil warms its gas no further "
            "than to the air.",
            temperatures(suction=r.suction_temperature, box=box),
        )
