"""Findings about head gauge, liquid and discharge clamps, and the air at the condenser."""

from __future__ import annotations

from .finding import (
    COOL_DISCHARGE,
    DEW_OVER_AMBIENT,
    HELD_UP,
    HOT_DISCHARGE,
    SUBCOOLING,
    Finding,
    differences,
    temperatures,
)
from .taken import CLAMP_ERROR


def findings(refrigerant, r, answer, explain):
    """Judge what was read on the high side.

    Parameters
    ----------
    refrigerant : Refrigerant
    r : Readings
    answer : Interpretation
        Without its findings.
    explain : callable
        Side -> text and numbers of the slip that would explain it.

    Yields
    ------
    Finding
    """
    if answer.subcooling is not None:
        yield from _subcooling(r, answer, explain)
    if r.has("ambient_temperature"):
        yield from _ambient(r, answer, explain)
    if r.has("discharge_temperature"):
        yield from _discharge(refrigerant, r, answer, explain)


def _subcooling(r, answer, explain):
    subcooling, error = answer.subcooling, answer.subcooling_error
    if subcooling < -error and r.liquid_temperature <= answer.condensing_dew:
        yield Finding(
            "bubbles at the clamp",
            "look again",
            "The liquid line is {excess} warmer than the bubble point at the head gauge, yet "
            "colder than dew: in a blend that glides that is liquid and vapour together. The line "
            "is not full of liquid there, or a reading is wrong.",
            differences(excess=-subcooling),
        )
    elif subcooling < -error:
        slip, numbers = explain("liquid")
        yield Finding(
            "liquid line above bubble",
            "impossible",
            "The liquid line is {excess} warmer than the bubble point at the head gauge: it cannot "
            f"be full of liquid there. Vapour in the liquid line, or a reading mistake.{slip}",
            differences(excess=-subcooling) | numbers,
        )
    elif subcooling < error:
        yield Finding(
            "subcooling inside the error",
            "note",
            "A subcooling of {subcooling} is no more than the instruments' own error of about "
            "{error}: there may be bubbles in the liquid line.",
            differences(subcooling=subcooling, error=error),
        )
    elif subcooling > SUBCOOLING[1]:
        slip, numbers = explain("liquid")
        yield Finding(
            "very high subcooling",
            "look again",
            "A subcooling of {subcooling} is unusual without a subcooler or a soldered "
            f"liquid-suction pair: overcharge, air in the condenser, or a reading mistake.{slip}",
            differences(subcooling=subcooling) | numbers,
        )


def _ambient(r, answer, explain):
    condensing, ambient = answer.condensing_dew, r.ambient_temperature
    if condensing is not None and condensing < ambient - CLAMP_ERROR:
        slip, numbers = explain("air")
        yield Finding(
            "condensing below ambient",
            "impossible",
            "The head gauge means condensing at {condensing}, colder than the air at {ambient} "
            f"that should take the heat: off and equalised, gauge wrong, or another refrigerant."
            f"{slip}",
            temperatures(condensing=condensing, ambient=ambient) | numbers,
        )
    elif condensing is not None and condensing - ambient > DEW_OVER_AMBIENT:
        yield _far_above_ambient(condensing, ambient, explain)
    if r.has("liquid_temperature") and r.liquid_temperature < ambient - 2 * CLAMP_ERROR:
        yield Finding(
            "liquid line below ambient",
            "look again",
            "The liquid line, {liquid}, is colder than the air at the condenser, {ambient}. Air "
            "cannot do that: a subcooler or soldered lines, flashing before the clamp, or a "
            "reading mistake.",
            temperatures(liquid=r.liquid_temperature, ambient=ambient),
        )
    if r.has("box_temperature") and r.box_temperature > ambient + CLAMP_ERROR:
        yield Finding(
            "box warmer than ambient",
            "note",
            "The air in the box, {box}, is warmer than the air at the condenser, {ambient}. "
            "Outdoors on a cold day that may be; otherwise the two are swapped.",
            temperatures(box=r.box_temperature, ambient=ambient),
        )


def _far_above_ambient(condensing, ambient, explain):
    numbers = temperatures(ambient=ambient) | differences(
        difference=condensing - ambient, limit=DEW_OVER_AMBIENT
    )
    start = (
        "The refrigerant condenses {difference} above the air at the condenser, {ambient}; more "
        "than about {limit} is unusual (common practice)"
    )
    if condensing <= HELD_UP:
        return Finding(
            "condensing far above ambient",
            "note",
            f"{start}. On a cold day head-pressure control holds it up so.",
            numbers,
        )
    slip, more = explain("air")
    return Finding(
        "condensing far above ambient",
        "look again",
        f"{start}: a dirty condenser, a fan that stands, air in it, too much charge, or a reading "
        f"mistake.{slip}",
        numbers | more,
    )


def _discharge(refrigerant, r, answer, explain):
    discharge = r.discharge_temperature
    if discharge > HOT_DISCHARGE:
        yield Finding(
            "hot discharge",
            "look again",
            "The discharge line is at {discharge}. Above about {limit} oil suffers (common "
            "practice): look for high head, high superheat or a leaking compressor valve.",
            temperatures(discharge=discharge, limit=HOT_DISCHARGE),
        )
    if r.has("suction_temperature") and discharge < r.suction_temperature - 2 * CLAMP_ERROR:
        slip, numbers = explain("air")
        yield Finding(
            "discharge below suction line",
            "impossible",
            "The discharge line, {discharge}, is colder than the suction line, {suction}: "
            f"compression only warms. The clamps are swapped or one is off the pipe.{slip}",
            temperatures(discharge=discharge, suction=r.suction_temperature) | numbers,
        )
    elif answer.condensing_dew is not None and discharge < answer.condensing_dew - CLAMP_ERROR:
        slip, numbers = explain("air")
        yield Finding(
            "discharge below condensing",
            "impossible",
            "The discharge line, {discharge}, is colder than the refrigerant condenses, "
            "{condensing}: the clamp is off the pipe, or liquid is passing the compressor."
            f"{slip}",
            temperatures(discharge=discharge, condensing=answer.condensing_dew) | numbers,
        )
    elif answer.condensing_dew is not None and (answer.superheat or 0.0) > 0.0:
        yield from _cool_discharge(refrigerant, r, explain)


def _cool_discharge(refrigerant, r, explain):
    """Compare the discharge clamp with a compression without loss from the suction clamp."""
    suction = refrigerant.state_pt(r.suction_pressure, r.suction_temperature, check=False)
    ideal = refrigerant.state_ps(r.head_pressure, suction.entropy, check=False)
    if r.discharge_temperature < float(ideal.temperature) - COOL_DISCHARGE:
        slip, numbers = explain("air")
        yield Finding(
            "cool discharge",
            "look again",
            "The discharge line, {discharge}, is colder than the {ideal} of a compression without "
            "any loss from the suction line as read: liquid comes back, the shell loses much "
            f"heat, the clamp is loose, or a reading mistake.{slip}",
            temperatures(discharge=r.discharge_temperature, ideal=float(ideal.temperature))
            | numbers,
        )
