"""The boxes that lesson 52 can ask about: of the hall, of the cabinets, or described.

What every suspect predicts is solved once for a box and its air, and kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from lowside import diagnosis, faults, system
from lowside.diagnosis import trials
from lowside.errors import UnknownName
from lowside.system import Description

from . import hall

DESCRIBED = "described"
_KEPT = 24


@dataclass(frozen=True)
class Known:
    """A box on a day, and all that can be said of it before anything is read.

    Attributes
    ----------
    suspects : diagnosis.Suspects
    alike : dict of str to frozenset of str
        Suspects that every instrument there is leaves together.
    """

    suspects: diagnosis.Suspects
    alike: dict


def names():
    """Name all boxes but the described one.

    Returns
    -------
    tuple of str
        Those of the hall first.
    """
    return (*hall.hall().boxes, *(_prefixed(name) for name in system.cabinets.names()))


def label(name):
    """Say which box it is.

    Parameters
    ----------
    name : str
        One of `names`.

    Returns
    -------
    str
    """
    if name in hall.hall().boxes:
        box = hall.box(name)
        return f"{box.stall}: {box.what}, {box.refrigerant}"
    cabinet = find(name)
    return f"Bench: {cabinet.what}, {cabinet.box.refrigerant.name}"


def find(name):
    """Find a box by its name.

    Parameters
    ----------
    name : str
        One of `names`.

    Returns
    -------
    system.cabinets.Cabinet

    Raises
    ------
    UnknownName
        If there is no such box.
    """
    if name in hall.hall().boxes:
        return built(description(name))
    if name in names():
        return system.cabinets.get(name.removeprefix(_BENCH))
    raise UnknownName("box", name, names())


def description(name):
    """Describe a box of the hall in the six fields.

    Parameters
    ----------
    name : str
        A key of the hall.

    Returns
    -------
    system.Description
    """
    box = hall.box(name)
    tube = isinstance(box.metering, hall.CapillaryTube)
    return Description(
        box.refrigerant,
        "capillary tube" if tube else "valve",
        box.receiver,
        box.box_temperature,
        box.design_load,
        box.charge,
        box.summer_ambient,
    )


@cache
def built(described):
    """Build the box that a description asks for.

    Parameters
    ----------
    described : system.Description

    Returns
    -------
    system.cabinets.Cabinet

    Raises
    ------
    NoOperatingPoint
        If no box of usual proportions does this.
    """
    return system.size_box(described)


def known(box, box_temperature=None, ambient_temperature=None):
    """Let every suspect of a box say what would be measured.

    Parameters
    ----------
    box : str or system.Description
        One of `names`, or a description.
    box_temperature, ambient_temperature : float, optional
        Air that was read; where nobody read it, what the box was designed for, and unsure. [K]

    Returns
    -------
    Known

    Raises
    ------
    NoOperatingPoint
        If such a box does not run in such air.
    """
    return _known(box, box_temperature, ambient_temperature)


@lru_cache(maxsize=_KEPT)
def _known(box, box_temperature, ambient_temperature):
    cabinet = find(box) if isinstance(box, str) else built(box)
    situation = faults.sound(cabinet, box_temperature, ambient_temperature)
    unsure = diagnosis.Uncertainty.usual(
        situation.family,
        ambient_measured=ambient_temperature is not None,
        box_measured=box_temperature is not None,
    )
    suspects = diagnosis.suspects(situation, unsure)
    return Known(suspects, trials.alike(suspects))


_BENCH = "bench: "


def _prefixed(name):
    return _BENCH + name
