"""A whole box on a day: hardware, grams and air, what a fault can change, ready to be solved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from lowside.system import solve_box


class Family(StrEnum):
    """What kind of circuit a box is, as far as faults care."""

    RECEIVER = "receiver"
    VALVE = "valve"
    TUBE = "tube"

    @property
    def words(self):
        """In words, such as "a valve and a receiver"."""
        return WORDS[self]


WORDS = {
    Family.RECEIVER: "a thermostatic valve and a receiver",
    Family.VALVE: "a thermostatic valve and no receiver",
    Family.TUBE: "a capillary tube",
}

# A plausible running point, only to turn a pressure drop into a restriction.
EVAPORATING_DIFFERENCE = 9.0  # [K] box air to dew
CONDENSING_DIFFERENCE = 14.0  # [K] dew to ambient
SUPERHEAT = 8.0  # [K] at the compressor


@dataclass(frozen=True)
class Situation:
    """A box, what is in it, and the air around it. Every number may be an array.

    Parameters
    ----------
    box : system.Box
    charge : float or ndarray
        [kg]
    box_temperature, ambient_temperature : float or ndarray
        Air entering evaporator and condenser. [K]
    foreign_gas : float or ndarray
        Partial pressure of gas that does not condense. [Pa]
    """

    box: object
    charge: float | np.ndarray
    box_temperature: float | np.ndarray
    ambient_temperature: float | np.ndarray
    foreign_gas: float | np.ndarray = 0.0

    @property
    def family(self):
        """Kind of circuit (Family)."""
        if not self.box.has_valve:
            return Family.TUBE
        return Family.RECEIVER if np.any(self.box.receiver) else Family.VALVE

    @property
    def restriction(self):
        """Restriction in which the normal flow would lose all of head over suction [1/m4].

        Normal is a plausible running point of the sound compressor.
        """
        fluid = self.box.refrigerant
        dew = np.asarray(self.box_temperature) - EVAPORATING_DIFFERENCE
        low = fluid.dew_pressure(dew, check=False)
        condensing = np.asarray(self.ambient_temperature) + CONDENSING_DIFFERENCE
        high = fluid.dew_pressure(condensing, check=False)
        density = fluid.state_pt(low, dew + SUPERHEAT, check=False).density
        flow = self.box.compressor.mass_flow(fluid, low, density, high)
        liquid = fluid.saturation(high, check=False).liquid_density
        return (high - low) * liquid / np.square(flow)

    def solve(self, start=None):
        """Find where the box settles.

        Parameters
        ----------
        start : system.BoxResult, optional
            Of a situation like it, to begin from.

        Returns
        -------
        system.BoxResult
            Of the broadcast shape of everything in the situation.

        Raises
        ------
        OutOfRange
            As `system.solve_box`.
        """
        return solve_box(
            self.box,
            self.box_temperature,
            self.ambient_temperature,
            self.charge,
            foreign_gas=self.foreign_gas,
            start=start,
        )


def sound(cabinet, box_temperature=None, ambient_temperature=None):
    """Put one of the cabinets into the world with nothing wrong.

    Parameters
    ----------
    cabinet : system.cabinets.Cabinet
    box_temperature, ambient_temperature : float or ndarray, optional
        As designed if not given. [K]

    Returns
    -------
    Situation
    """
    made = Situation(cabinet.box, cabinet.charge, *cabinet.air)
    if box_temperature is not None:
        made = replace(made, box_temperature=box_temperature)
    if ambient_temperature is not None:
        made = replace(made, ambient_temperature=ambient_temperature)
    return made
