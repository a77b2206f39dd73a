"""The least superheat at which a valve still settles: its stem turned until it no longer does."""

from __future__ import annotations

from dataclasses import dataclass, replace

from lowside.errors import NoOperatingPoint

from .circuit import at_rest

SETTINGS = (0.1, 10.0)  # [K] static superheats between which to look
_HALVINGS = 9


@dataclass(frozen=True)
class LeastSuperheat:
    """The edge of hunting, found with the stem.

    Parameters
    ----------
    static_superheat, superheat : float
        Setting of the spring, and what leaves the coil with it. [K]
    capacity : float
        Cooling there. [W]
    """

    static_superheat: float
    superheat: float
    capacity: float


def least_stable_superheat(box, air_temperature, condensing_temperature, *, margin=1.0, **how):
    """Find the spring's setting at which the gain margin is just so much.

    Parameters
    ----------
    box : LowSide
        Hardware of plain numbers; its spring's setting does not matter.
    air_temperature, condensing_temperature : float
        As in `at_rest`. [K]
    margin : float
        Gain margin wanted; 1 is the edge of hunting. [-]
    **how
        Passed on to `at_rest`.

    Returns
    -------
    LeastSuperheat

    Raises
    ------
    NoOperatingPoint
        If every setting is calmer than that, or none is as calm.
    """

    def with_setting(setting):
        spring = replace(box.valve.spring, static_superheat=setting)
        turned = replace(box, valve=replace(box.valve, spring=spring))
        return at_rest(turned, air_temperature, condensing_temperature, **how)

    low, high = SETTINGS
    if with_setting(low).margin >= margin or not with_setting(high).margin >= margin:
        raise NoOperatingPoint(
            "no setting of the spring brings this valve just to the edge of hunting",
            air_temperature=float(air_temperature),
        )
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        calm = with_setting(middle).margin >= margin
        low, high = (low, middle) if calm else (middle, high)
    found = with_setting(high)
    return LeastSuperheat(high, found.coil_superheat, found.capacity)
