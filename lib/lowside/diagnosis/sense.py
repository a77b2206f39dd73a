"""Readings that cannot be right, sorted out before anything is concluded from them."""

from __future__ import annotations

from dataclasses import dataclass

from lowside import readings as clamps
from lowside.errors import OutOfRange
from lowside.units import STANDARD_ATMOSPHERE

_KNOWN = (
    "suction_pressure",
    "suction_temperature",
    "head_pressure",
    "liquid_temperature",
    "discharge_temperature",
)
_GAUGES = ("suction_pressure", "head_pressure")


@dataclass(frozen=True)
class Screened:
    """Readings after a look at whether they can be.

    Attributes
    ----------
    taken : dict of str to float
        Those that can be counted. [SI of each kind]
    impossible, doubtful : tuple of readings.Finding
        What contradicts itself, with the slip that would explain it; what is only unusual.
    refused : tuple of OutOfRange
        Gauges outside what the refrigerant's tables hold.
    """

    taken: dict
    impossible: tuple
    doubtful: tuple
    refused: tuple

    @property
    def mistaken(self):
        """Whether something has to be read again before all else (bool)."""
        return bool(self.impossible or self.refused)


def screened(refrigerant, taken, box_temperature=None, ambient_temperature=None, atmosphere=None):
    """Sort out readings that no running box can show.

    Parameters
    ----------
    refrigerant : Refrigerant
    taken : mapping of str to float
        What was measured, by ``evidence.KEYS``. [SI of each kind]
    box_temperature, ambient_temperature : float, optional
        Air that was read. [K]
    atmosphere : float, optional
        Barometer at the site; of sea level if not given. [Pa]

    Returns
    -------
    Screened
    """
    atmosphere = STANDARD_ATMOSPHERE if atmosphere is None else atmosphere
    low, high = refrigerant.pressure_range
    usable, refused = dict(taken), []
    for key in _GAUGES:
        if key in taken and not low <= taken[key] <= high:
            del usable[key]
            label = f"{clamps.LABEL[key]} of a box with {refrigerant.name}"
            refused.append(OutOfRange(label, taken[key], low, high, clamps.KIND[key]))
    shown = clamps.Readings(
        **{key: usable[key] for key in _KNOWN if key in usable},
        box_temperature=box_temperature,
        ambient_temperature=ambient_temperature,
    )
    found = clamps.interpret(refrigerant, shown, atmosphere).findings
    weighed = {
        weight: tuple(finding for finding in found if finding.weight == weight)
        for weight in ("impossible", "look again")
    }
    return Screened(usable, weighed["impossible"], weighed["look again"], tuple(refused))
