"""The same box with its compressor off: one pressure, and the liquid where it is coldest."""

from __future__ import annotations

import numpy as np

from lowside import charge as grams

# Where each part of a box at rest takes its temperature from.
IN_THE_BOX = ("evaporator", "accumulator")


def standing_box(box, box_temperature, ambient_temperature, charge, oil_temperature=None):
    """Equilibrium of a box at rest, long enough off that refrigerant has migrated.

    Evaporator at box temperature, everything else at ambient. The valve or tube lets the pressures
    meet. See `charge.standing`: the oil can hold so much of a small charge that the pressure
    settles below the saturation pressure of the coldest part.

    Parameters
    ----------
    box : Box
    box_temperature, ambient_temperature : float or ndarray
        [K]
    charge : float or ndarray
        [kg]
    oil_temperature : float or ndarray, optional
        Warmer than ambient for an hour after stopping, or with a crankcase heater. [K]

    Returns
    -------
    charge.Standing

    Raises
    ------
    OutOfRange
        As `charge.standing`.
    """
    parts = {
        name: box_temperature if name in IN_THE_BOX else ambient_temperature
        for name in box.volumes.spaces()
    }
    oil = ambient_temperature if oil_temperature is None else oil_temperature
    temperatures = {name: np.asarray(value, dtype=float) for name, value in parts.items()}
    return grams.standing(
        box.volumes, box.refrigerant, charge, temperatures | {"oil": np.asarray(oil, dtype=float)}
    )
