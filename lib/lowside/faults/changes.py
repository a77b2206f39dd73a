"""What each fault changes: a situation and a severity in, another situation out.

A severity of zero changes nothing, and changes of different faults combine in any order.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lowside import valve

# A blocked face keeps its air speed where it is open: flow and surface both fall in proportion,
# while `FinCoil` lets the film fall with the air flow to the power 0.6.
FACE_EXPONENT = 0.4


def less_charge(situation, severity):
    """Take out a share of the charge."""
    return replace(situation, charge=situation.charge * (1.0 - severity))


def more_charge(situation, severity):
    """Put in a share of the charge on top."""
    return replace(situation, charge=situation.charge * (1.0 + severity))


def smaller_port(situation, severity):
    """Make the bore smaller by a share, the spring set again."""
    return _other_port(situation, 1.0 - severity)


def larger_port(situation, severity):
    """Make the bore larger by a share, the spring set again."""
    return _other_port(situation, 1.0 + severity)


def _other_port(situation, factor):
    old = situation.box.metering.port
    usual = valve.standard_port(old.diameter * factor, old.balance, old.max_lift)
    angle = np.where(factor == 1.0, old.half_angle, usual.half_angle)
    return _valve(situation, port=replace(usual, half_angle=angle))


def plugged_strainer(situation, severity):
    """Let the normal flow lose a share of the pressure difference in the strainer."""
    more = severity * situation.restriction
    return _box(situation, restriction=situation.box.restriction + more)


def plugged_drier(situation, severity):
    """Let the normal flow lose a share of the pressure difference in the drier."""
    more = severity * situation.restriction
    return _box(situation, drier_restriction=situation.box.drier_restriction + more)


def foreign_gas(situation, severity):
    """Add the partial pressure of air or nitrogen in the condenser."""
    return replace(situation, foreign_gas=situation.foreign_gas + severity)


def blocked_condenser(situation, severity):
    """Block a share of the condenser's face."""
    return _box(situation, condenser=_blocked(situation.box.condenser, severity))


def still_condenser(situation, severity):
    """Take away a share of the condenser's air, the fins clean."""
    coil = situation.box.condenser
    return _box(situation, condenser=replace(coil, air_share=coil.air_share * (1.0 - severity)))


def blocked_evaporator(situation, severity):
    """Block a share of the evaporator's face with ice, boxes or dirt."""
    return _box(situation, evaporator=_blocked(situation.box.evaporator, severity))


def _blocked(coil, severity):
    left = 1.0 - severity
    return replace(
        coil,
        air_share=coil.air_share * left,
        surface_share=coil.surface_share * left**FACE_EXPONENT,
    )


def leaking_bulb(situation, severity):
    """Let a share of the bulb's pressure, as warm as the box, be gone: no liquid above the rest."""
    element = situation.box.metering.element
    least, never = situation.box.refrigerant.pressure_range
    left = (1.0 - severity) * element.pressure(situation.box_temperature)
    limit = np.where(severity > 0.0, np.maximum(left, least), never)
    return _valve(situation, element=replace(element, leaked_to=limit))


def bare_bulb(situation, severity):
    """Let the bulb take a share of its temperature from the air of the box."""
    before = situation.box.metering.bulb_exposure
    return _valve(situation, bulb_exposure=1.0 - (1.0 - before) * (1.0 - severity))


def tighter_spring(situation, severity):
    """Turn the stem in: static superheat rises."""
    spring = situation.box.metering.spring
    return _valve(
        situation, spring=replace(spring, static_superheat=spring.static_superheat + severity)
    )


def looser_spring(situation, severity):
    """Turn the stem out: static superheat falls by a share."""
    spring = situation.box.metering.spring
    left = spring.static_superheat * (1.0 - severity)
    return _valve(situation, spring=replace(spring, static_superheat=left))


def internal_equaliser(situation, severity):
    """Fit a valve with internal equaliser where the severity is one."""
    external = situation.box.metering.external_equaliser
    return _valve(situation, external_equaliser=external & (severity < 0.5))


def leaking_compressor(situation, severity):
    """Let a share of the compressed gas slip back, hot."""
    machine = situation.box.compressor
    return _box(
        situation, compressor=replace(machine, leak=1.0 - (1.0 - machine.leak) * (1.0 - severity))
    )


def frozen_port(situation, severity):
    """Let ice close a share of the port, or of the tube's bore."""
    metering = situation.box.metering
    if situation.box.has_valve:
        return _valve(situation, open_share=metering.open_share * (1.0 - severity))
    bore = metering.inner_diameter * np.sqrt(1.0 - severity)
    return _box(situation, metering=replace(metering, inner_diameter=bore))


def warmer_box(situation, severity):
    """Make the air entering the evaporator warmer."""
    return replace(situation, box_temperature=situation.box_temperature + severity)


def warmer_day(situation, severity):
    """Make the air entering the condenser warmer."""
    return replace(situation, ambient_temperature=situation.ambient_temperature + severity)


def lifted_valve(situation, severity):
    """Put the valve higher above the condenser, the liquid line longer by as much."""
    box = situation.box
    line = replace(box.liquid_line, length=box.liquid_line.length + severity)
    return _box(situation, rise=box.rise + severity, liquid_line=line)


def _box(situation, **changed):
    return replace(situation, box=replace(situation.box, **changed))


def _valve(situation, **changed):
    return _box(situation, metering=replace(situation.box.metering, **changed))
