"""A leak in a room: how much gas is in the air, and for how long."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import require

#: What a reader does where a number of this room is shown. Common practice, no published source;
#: local code, the nameplate and licensed practice come first.
CAUTIONS = (
    "Well mixed is not the worst case: propane, half as heavy again as air, lies on the floor.",
    "Gas in the air: no flame, no switch, no plug. People out, doors open, then local rules.",
    "Trust a meter made for the gas, held near the floor; not your nose, not this page.",
    "Never braze, and never open an electrical box, on a charged or unpurged flammable system.",
    "Nameplate, local code and your licence rule over every number here.",
)


@dataclass(frozen=True)
class Room:
    """A room, a cellar, a cabinet.

    Parameters
    ----------
    floor_area : float or ndarray
        [m2]
    height : float or ndarray
        [m]
    air_change_rate : float or ndarray
        Fresh air over the room's volume; air changes an hour / 3600. [1/s]

    Raises
    ------
    OutOfRange
        For an area or a height not above zero, or a negative air change rate.
    """

    floor_area: float
    height: float
    air_change_rate: float = 0.0

    def __post_init__(self):
        require("floor area", self.floor_area, 0.0, None, "area", open_low=True)
        require("height of the room", self.height, 0.0, None, "length", open_low=True)
        require("air change rate", self.air_change_rate, 0.0, None, "air_changes")

    @property
    def volume(self):
        """Volume of the room [m3]."""
        return self.floor_area * self.height


def _prepare(room, mass, release_time, layer_share):
    require("refrigerant leaked", mass, 0.0, None, "mass")
    require("time of the release", release_time, 0.0, None, "time")
    require("share of the room that the gas fills", layer_share, 0.0, 1.0, "ratio", open_low=True)
    still = np.asarray(mass, dtype=float) / (room.volume * layer_share)
    return still, np.asarray(room.air_change_rate, dtype=float), np.asarray(release_time, float)


def _diluted(exponent):
    """(1 - exp(-z)) / z, 1 where nothing is exchanged."""
    safe = np.where(exponent > 0.0, exponent, 1.0)
    return np.where(exponent > 0.0, -np.expm1(-safe) / safe, 1.0)


def concentration(room, mass, release_time, time, layer_share=1.0):
    """Gas in the air at a time after the leak begins.

    dC/dt = release/V - n C, with a steady release that ends after ``release_time``, in closed form.

    Parameters
    ----------
    room : Room
    mass : array_like
        Refrigerant that leaks in all. [kg]
    release_time : array_like
        How long that takes; 0 for at once. [s]
    time : array_like
        Since the leak began. [s]
    layer_share : array_like
        Share of the room's height that the gas fills. 1 is well mixed; less is an illustration of
        heavy gas on the floor, not a model of it.

    Returns
    -------
    ndarray
        [kg/m3]

    Raises
    ------
    OutOfRange
        For a negative mass or time, or a share not above 0 and at most 1.
    """
    require("time since the leak began", time, 0.0, None, "time")
    still, rate, release = _prepare(room, mass, release_time, layer_share)
    leaking = np.minimum(time, release)
    share = np.where(release > 0.0, leaking / np.where(release > 0.0, release, 1.0), 1.0)
    after = np.maximum(np.asarray(time, dtype=float) - release, 0.0)
    return still * share * _diluted(rate * leaking) * np.exp(-rate * after)


def peak_concentration(room, mass, release_time, layer_share=1.0):
    """Highest concentration: when the release ends.

    Parameters
    ----------
    room : Room
    mass, release_time, layer_share : array_like
        As for `concentration`. [kg], [s]

    Returns
    -------
    ndarray
        [kg/m3]

    Raises
    ------
    OutOfRange
        As `concentration`.
    """
    return concentration(room, mass, release_time, release_time, layer_share)


def time_above(room, mass, release_time, threshold, layer_share=1.0):
    """How long the air holds more than a threshold, such as a quarter of the LFL.

    Parameters
    ----------
    room : Room
    mass, release_time, layer_share : array_like
        As for `concentration`. [kg], [s]
    threshold : array_like
        [kg/m3]

    Returns
    -------
    ndarray
        0 if never; infinite in a room without any air change. [s]

    Raises
    ------
    OutOfRange
        As `concentration`, or for a threshold not above zero.
    """
    require("threshold concentration", threshold, 0.0, None, "density", open_low=True)
    peak = peak_concentration(room, mass, release_time, layer_share)
    still, rate, release = _prepare(room, mass, release_time, layer_share)
    above = peak > threshold
    level = np.where(above, threshold / np.where(above, still, 1.0), 0.0)
    # While it leaks C = still (1 - exp(-n t))/(n release); solved for t, exact for n = 0 too.
    exponent = np.minimum(rate * release * level, 1.0 - 1e-15)
    stretch = np.where(
        exponent > 0.0, -np.log1p(-exponent) / np.where(exponent > 0.0, exponent, 1.0), 1.0
    )
    reached = release * level * stretch
    decay = np.log(np.where(above, peak / threshold, 1.0))
    lasting = np.where(rate > 0.0, decay / np.where(rate > 0.0, rate, 1.0), np.inf)
    return np.where(above, release - reached + lasting, 0.0)
