"""Three fillings of a bulb under one spring: what each needs to open the valve.

The port is fully balanced here, so that nothing but bulb, evaporator and spring has a say.
"""

from __future__ import annotations

from .balance import preload
from .hardware import PowerElement, Spring, Valve
from .port import standard_port
from .stem import limit_pressure

_DIAMETER = 2e-3  # [m]; a balanced port plays no part


def bulbs(refrigerant, set_at, static, flatness, highest):
    """Set one valve with each of the three fillings.

    Parameters
    ----------
    refrigerant : Refrigerant
        In the evaporator.
    set_at : float
        Evaporating dew point at which the spring was set. [K]
    static : float
        To which static superheat. [K]
    flatness : float
        Slope of the cross charge over that of the dew line. [-]
    highest : float
        Evaporating dew point at which the gas charge closes the valve. [K]

    Returns
    -------
    dict of str to Valve
        By filling.

    Raises
    ------
    OutOfRange
        For a setting that no spring or bulb can have.
    """
    port = standard_port(_DIAMETER, balance=1.0)
    spring = Spring(static_superheat=static, evaporating_temperature=set_at)
    plain = PowerElement("liquid", refrigerant)
    limit = float(limit_pressure(port, plain, spring, refrigerant, highest))
    elements = {
        "liquid": plain,
        "cross": PowerElement(
            "cross", refrigerant, reference_temperature=set_at + static, flatness=flatness
        ),
        "gas": PowerElement("gas", refrigerant, limit_pressure=limit),
    }
    return {name: Valve(port, element, spring) for name, element in elements.items()}


def opens_at(built, fluid, evaporating):
    """Superheat at which a valve leaves its seat.

    Parameters
    ----------
    built : Valve
        With a fully balanced port.
    fluid : Refrigerant
        In the evaporator.
    evaporating : float or ndarray
        Dew point. [K]

    Returns
    -------
    float or ndarray
        [K]
    """
    closing = fluid.dew_pressure(evaporating) + spring_pressure(built, fluid)
    return built.element.temperature(closing) - evaporating


def spring_pressure(built, fluid):
    """Spring force over the area of the diaphragm.

    Parameters
    ----------
    built : Valve
        As set.
    fluid : Refrigerant
        In the evaporator.

    Returns
    -------
    float or ndarray
        [Pa]

    Raises
    ------
    NoOperatingPoint
        As `preload`.
    """
    return preload(built, fluid) / built.element.diaphragm_area
