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
    """Make the three fillings, and the spring that suits them all where it is set.

    Parameters
    ----------
    refrigerant : Refrigerant
        In the evaporator.
    set_at : float
        Evaporating dew point at which the spring is set. [K]
    static : float
        To which static superheat, the bulb not dry. [K]
    flatness : float
        Slope of the cross charge over that of the dew line. [-]
    highest : float
        Evaporating dew point at which the gas charge closes the valve. [K]

    Returns
    -------
    elements : dict of str to PowerElement
        By filling.
    spring : float
        Spring force over the area of the diaphragm. [Pa]

    Raises
    ------
    OutOfRange
        For a setting that no spring or bulb can have.
    """
    port = standard_port(_DIAMETER, balance=1.0)
    setting = Spring(static_superheat=static, evaporating_temperature=set_at)
    plain = PowerElement("liquid", refrigerant)
    limit = float(limit_pressure(port, plain, setting, refrigerant, highest))
    elements = {
        "liquid": plain,
        "cross": PowerElement(
            "cross", refrigerant, reference_temperature=set_at + static, flatness=flatness
        ),
        "gas": PowerElement("gas", refrigerant, limit_pressure=limit),
    }
    return elements, spring_pressure(Valve(port, plain, setting), refrigerant)


def opens_at(element, refrigerant, spring, evaporating):
    """Superheat at which a bulb opens a valve with a balanced port.

    Parameters
    ----------
    element : PowerElement
        With its filling.
    refrigerant : Refrigerant
        In the evaporator.
    spring : float or ndarray
        Spring force over the area of the diaphragm. [Pa]
    evaporating : float or ndarray
        Dew point. [K]

    Returns
    -------
    float or ndarray
        [K]

    Raises
    ------
    OutOfRange
        If the evaporating temperature lies outside the refrigerant's range, or no bulb
        temperature gives the pressure that is needed.
    """
    return element.temperature(refrigerant.dew_pressure(evaporating) + spring) - evaporating


def spring_pressure(valve, refrigerant):
    """Spring force over the area of the diaphragm.

    Parameters
    ----------
    valve : Valve
        As set.
    refrigerant : Refrigerant
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
    return preload(valve, refrigerant) / valve.element.diaphragm_area
