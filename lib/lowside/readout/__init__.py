"""Write and read quantities in the units a person uses.

This is the only room in which "°F" or "psig" appears in a string. A notebook chooses once::

    show = readout.choose("us", altitude=1600.0)

and hands ``show`` to everything that writes or reads. It is frozen and small.

Rules for what is written: "-" is the plain hyphen, there is never a "-0.0", there is no thousands
separator, and a US gauge pressure below the barometer is written as inches of mercury vacuum, the
way a compound gauge shows it.

Rules for what is typed live in ``typed``.
"""

from __future__ import annotations

from lowside import units

from .choice import Readout
from .kinds import look_up

SYSTEMS = ("us", "metric")

__all__ = ["SYSTEMS", "Readout", "choose"]


def choose(system, altitude=0.0):
    """Choose the units in which a person writes and reads.

    Parameters
    ----------
    system : str
        ``"us"`` (°F, psig, oz, ton, Btu/h) or ``"metric"`` (°C, bar gauge, g, kW).
    altitude : float
        Height of the job above sea level; moves the zero of every gauge. [m]

    Returns
    -------
    Readout
        The choice, to be handed to everything that writes or reads.

    Raises
    ------
    UnknownName
        If the system is not one of the two.
    OutOfRange
        If the altitude is outside -500 to 5500 m.

    Examples
    --------
    >>> choose("us").text(283.15, "temperature")
    '50.0 °F'
    >>> choose("us").text(10.0, "temperature_difference")
    '18.0 °F'
    """
    system = look_up("system of units", str(system).strip().lower(), SYSTEMS)
    units.atmosphere(altitude)
    return Readout(system, float(altitude))
