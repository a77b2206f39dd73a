"""The choice of a build for a job: the smallest port that meets every corner of the year."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from lowside.system import ports

from . import shelf
from .attempt import LIMITS, Attempt, Fault, Limits, attempt
from .build import Build
from .job import CORNERS, HOT_FULL, Job

EXTERNAL_ABOVE = 10.0 / 9.0  # [K] that the coil's drop is worth: 2 °F, common practice


@dataclass(frozen=True, eq=False)
class Choice:
    """What was chosen for a job, and everything that was tried.

    Attributes
    ----------
    job : Job
    limits : Limits
    attempts : tuple of Attempt
        In the order in which they were tried; the last one is not always the best.
    best : Attempt
        The one in which a cartridge meets every corner, or comes nearest to it.
    index : int
        Place of that cartridge in it. Of those that fail somewhere the nearest is the one that
        starves at the fewest corners, then the one that fails at the fewest.
    """

    job: Job
    limits: Limits
    attempts: tuple[Attempt, ...]
    best: Attempt
    index: int

    @property
    def met(self):
        """Whether the build meets every corner."""
        return bool(self.best.meets[self.index])

    @property
    def cartridge(self):
        """The chosen cartridge, or the nearest to it."""
        return self.best.cartridges[self.index]

    @property
    def build(self):
        """The build, or None if no build of the kit meets every corner."""
        return _bodied(self.job, self.best, self.index)[0] if self.met else None

    @property
    def unmet(self):
        """Corners at which the cartridge fails, as pairs of `Corner` and `Fault`."""
        return self.failings(self.index)

    @property
    def impossible(self):
        """Corners that no build tried meets, whatever the others ask, as a tuple of `Corner`."""
        none = [
            all((tried.faults[:, at] != Fault.NONE).all() for tried in self.attempts)
            for at in range(len(CORNERS))
        ]
        return tuple(corner for corner, never in zip(CORNERS, none, strict=True) if never)

    def failings(self, index):
        """Corners at which a cartridge of the best attempt fails.

        Parameters
        ----------
        index : int
            Its place.

        Returns
        -------
        tuple of (Corner, Fault)
        """
        return tuple(
            (corner, Fault(int(fault)))
            for corner, fault in zip(CORNERS, self.best.faults[index], strict=True)
            if fault != Fault.NONE
        )

    def neighbour(self, steps):
        """Place of the cartridge some sizes up or down in the same construction.

        Parameters
        ----------
        steps : int
            Up, or down where negative.

        Returns
        -------
        int or None
            None where the kit ends before.
        """
        at = self.index + steps
        if not 0 <= at < len(self.best.cartridges):
            return None
        other = self.best.cartridges[at]
        return at if other.construction == self.cartridge.construction else None

    @property
    def band(self):
        """Smallest and largest port that the models of the jet choose, as a tuple [m]."""
        other = self.other_model
        ports = {self.cartridge.port, (other or self).cartridge.port}
        return min(ports), max(ports)

    @property
    def needs_external(self):
        """Whether the coil calls for an external equaliser."""
        return needs_external(self.job)

    @cached_property
    def other_model(self):
        """The choice with the other model of the jet, for hydrocarbons; else None."""
        if self.job.fluid.facts.safety_class != ports.HYDROCARBON_CLASS:
            return None
        return choose(self.job, self.limits, "constant")


def needs_external(job):
    """Whether a coil calls for an external equaliser.

    It does if it has a distributor, or loses more pressure than 2 °F of boiling temperature
    (common practice, no published source).

    Parameters
    ----------
    job : Job

    Returns
    -------
    bool
    """
    return job.distributor_drop > 0.0 or job.drop_worth > EXTERNAL_ABOVE


@lru_cache(maxsize=64)
def choose(job, limits=LIMITS, discharge="wile"):
    """Choose body, cartridge and power element for a job.

    Simple parts first: an internal equaliser where the coil allows it, a liquid charge before the
    one that mends what fails with it (cross for flooding, gas for an overloaded compressor), a
    conventional port before a balanced one; and of the cartridges that meet every corner of the
    year the smallest.

    Parameters
    ----------
    job : Job
    limits : Limits
        That every corner has to keep to.
    discharge : {"wile", "constant"}
        Model of the jet, as in `valve.Valve`.

    Returns
    -------
    Choice

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        If no coil can carry the load with this superheat and temperature difference.
    """
    tried = []
    known = shelf.elements(job.refrigerant, job.evaporating_temperature)
    liquid = next(element for element in known if element.charge == "liquid")
    for external in (True,) if needs_external(job) else (False, True):
        simple = attempt(job, liquid, external, limits, discharge)
        others = _charges_that_might_help(simple)
        tried += [simple]
        tried += [
            attempt(job, element, external, limits, discharge)
            for element in known
            if element.charge in others
        ]
        for now in tried:
            if now.meets.any():
                return Choice(job, limits, tuple(tried), now, int(np.argmax(now.meets)))
    best, index = min(
        ((one, index) for one in tried for index in range(len(one.cartridges))),
        key=lambda pair: _badness(*pair),
    )
    return Choice(job, limits, tuple(tried), best, index)


@lru_cache(maxsize=64)
def fitting(job, limits=LIMITS, discharge="wile"):
    """Every build of the kit that meets every corner of a job: what may be carried for it.

    Parameters
    ----------
    job : Job
    limits : Limits
        That every corner has to keep to.
    discharge : {"wile", "constant"}
        Model of the jet, as in `valve.Valve`.

    Returns
    -------
    tuple of Build
        Empty if none does.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    NoOperatingPoint
        If no coil can carry the load with this superheat and temperature difference.
    """
    tried = (
        attempt(job, element, external, limits, discharge)
        for external in ((True,) if needs_external(job) else (False, True))
        for element in shelf.elements(job.refrigerant, job.evaporating_temperature)
    )
    return tuple(
        build
        for one in tried
        for index in np.flatnonzero(one.meets)
        for build in _bodied(job, one, index)
    )


def _bodied(job, tried, index):
    """One cartridge of an attempt in every body that takes it, the smallest first."""
    cartridge = tried.cartridges[index]
    bodies = shelf.bodies(job.connection, tried.external, cartridge.port)
    return tuple(Build(body, cartridge, tried.element) for body in bodies)


def _charges_that_might_help(tried):
    """Charges for cartridges that fail, but nowhere for another reason than their charge."""
    if tried.meets.any():
        return set()
    helped = [Fault.NONE, *(fault for fault in Fault if fault.charge)]
    close = tried.faults[np.isin(tried.faults, helped).all(axis=1)]
    return {Fault(int(fault)).charge for fault in np.unique(close)} - {None}


def _badness(tried, index):
    """How far a cartridge is from meeting every corner: first of all it has to carry the load."""
    faults = tried.faults[index]
    loose = (faults == Fault.NO_BODY).any()
    short = np.isin(faults, [Fault.NO_RUN, Fault.STARVES]).sum()
    fed = tried.points.capacity[index, HOT_FULL]
    return (
        loose,
        short,
        (faults != Fault.NONE).sum(),
        -fed if short else tried.cartridges[index].port,
    )
