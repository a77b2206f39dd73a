"""The adjusting stem, and the superheat a spring sets.

Clockwise turns compress the spring. The static superheat rises with them, by as much as the bulb
must warm up to make good for the added force; what the lift takes on top, and how much the port
passes, stay as they are.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from lowside.errors import NoOperatingPoint, require

from .balance import preload

THREAD = 0.25e-3  # [m] of spring a turn: our own choice, valves differ


def force_per_turn(valve, thread=THREAD):
    """Force that one turn of the stem adds to the spring.

    Parameters
    ----------
    valve : Valve
        Its spring rate counts.
    thread : float or ndarray
        Compression of the spring a turn. [m]

    Returns
    -------
    float or ndarray
        [N]
    """
    require("pitch of the stem", thread, 0.0, None, "length", open_low=True)
    return valve.spring.rate * thread


def turned(valve, refrigerant, turns, thread=THREAD):
    """Turn the stem of a valve.

    Parameters
    ----------
    valve : Valve
        As it was set.
    refrigerant : Refrigerant
        In the evaporator.
    turns : float or ndarray
        Clockwise, which compresses the spring; negative to let it out. [-]
    thread : float or ndarray
        Compression of the spring a turn. [m]

    Returns
    -------
    Valve
        Its spring described by the static superheat that it now has where it was set.

    Raises
    ------
    NoOperatingPoint
        If the spring is slack before it is let out so far.
    OutOfRange
        If the valve would open before there is any superheat, or later than any bulb can be warm.
    """
    spring, element = valve.spring, valve.element
    force = preload(valve, refrigerant) + force_per_turn(valve, thread) * np.asarray(turns)
    if np.any(force < 0.0):
        raise NoOperatingPoint(
            "the spring is slack before the stem is out so far: nothing holds the pin on its seat",
            spring_force=float(np.min(force)),
        )
    evaporating = refrigerant.dew_pressure(spring.evaporating_temperature)
    against_port = valve.port.exposed_area * spring.pressure_difference
    bulb = evaporating + (force - against_port) / element.diaphragm_area
    static = element.temperature(bulb) - spring.evaporating_temperature
    return replace(valve, spring=replace(spring, static_superheat=static))


def superheat_per_turn(valve, refrigerant, evaporating_temperature, thread=THREAD):
    """How much static superheat one clockwise turn adds, from where the spring stands now.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
        In the evaporator.
    evaporating_temperature : float or ndarray
        Dew point at which the superheat is counted, the pressure difference over the port as at
        the spring's reference. [K]
    thread : float or ndarray
        Compression of the spring a turn. [m]

    Returns
    -------
    float or ndarray
        The colder, the more: the bulb's pressure rises less per kelvin. [K]

    Raises
    ------
    NoOperatingPoint
        As `preload`.
    OutOfRange
        If the temperature lies outside the refrigerant's range.
    """
    spring, element = valve.spring, valve.element
    net = preload(valve, refrigerant) - valve.port.exposed_area * spring.pressure_difference
    opens = refrigerant.dew_pressure(evaporating_temperature) + net / element.diaphragm_area
    after = opens + force_per_turn(valve, thread) / element.diaphragm_area
    return element.temperature(after) - element.temperature(opens)


def limit_pressure(port, element, spring, refrigerant, highest_evaporating):
    """Bulb pressure at which a gas charge must be dry to close the valve at a pressure limit (MOP).

    All forces on the pin on its seat, the spring as it is set with a liquid charge of the
    refrigerant, the head as at the spring's reference.

    Parameters
    ----------
    port : Port
        Of the valve.
    element : PowerElement
        Its diaphragm counts, not its charge.
    spring : Spring
        As set.
    refrigerant : Refrigerant
        In evaporator and bulb.
    highest_evaporating : float or ndarray
        Dew point above which the valve shall not open. [K]

    Returns
    -------
    float or ndarray
        Absolute. [Pa]

    Raises
    ------
    OutOfRange
        If a temperature lies outside the refrigerant's range.
    """
    set_at = spring.evaporating_temperature
    evaporating, highest, opens = (
        refrigerant.dew_pressure(temperature)
        for temperature in (set_at, highest_evaporating, set_at + spring.static_superheat)
    )
    share = port.exposed_area / element.diaphragm_area
    return highest + (opens - evaporating) + share * (highest - evaporating)
