"""A box on a route, what its valve may be built from, and how often it calls."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

from lowside import kit
from lowside.errors import LowsideError, NoOperatingPoint, OutOfRange, UnknownName, require
from lowside.system import ports

from .parts import parts_of

DISTRIBUTOR_DROP = 1e5  # [Pa] usual: 1 to 2 bar (Hundy, Trott, Welch)
COIL_DROP = {False: 15e3, True: 8e3}  # [Pa] without and with a distributor; assumed
SAME_PIPE = 0.2e-3  # [m] by which two tube sizes may differ and be the same
LOAD = 50.0, 1e5  # [W]
BOX_AIR = 233.15, 293.15  # [K]
DIFFERENCE = 2.0, 20.0  # [K]
CONDENSING = 278.15, 338.15  # [K]
LIMIT = 223.15, 293.15  # [K]
PIPE = 4e-3, 60e-3  # [m]
CALLS = 0.0, 1000.0  # a year
FOOD = 0.0, 1e6  # [kg]

_JETS = ("wile", "constant")


@dataclass(frozen=True)
class Stop:
    """A box on a route that may call for a new valve, or for parts of one.

    Attributes
    ----------
    box : str
        Name.
    refrigerant : str
        Name.
    connection : {"flare", "braze"}
        To the pipes.
    load : float
        Design load. [W]
    box_temperature : float
        Air entering the evaporator. [K]
    temperature_difference : float
        Box air minus evaporating dew point at the design load. [K]
    hot, cold : float
        Highest and lowest condensing temperature of the year. [K]
    least_share : float
        Smallest step of the compressor; 1 for one that only knows on and off. [-]
    highest_evaporating : float or None
        Highest evaporating temperature that the compressor may run at for long; None if any. [K]
    distributor : bool
        Whether the coil has one.
    liquid_line : float or None
        Outside diameter of the pipe that the body is joined to; None if any will do. [m]
    calls : float
        For parts of a valve, a year. [-]
    food : float
        At risk while the box is down. [kg]

    Raises
    ------
    OutOfRange
        For a number that no such box can have.
    UnknownName
        For a refrigerant or a connection that the kit has not.
    LowsideError
        If it has no name.
    """

    box: str
    refrigerant: str
    connection: str
    load: float
    box_temperature: float
    temperature_difference: float
    hot: float
    cold: float
    least_share: float = 1.0
    highest_evaporating: float | None = None
    distributor: bool = False
    liquid_line: float | None = None
    calls: float = 1.0
    food: float = 0.0

    def __post_init__(self):
        if not self.box.strip():
            raise LowsideError("A box on a route needs a name.")
        difference = "temperature_difference"
        require("load", self.load, *LOAD, "capacity")
        require("box air", self.box_temperature, *BOX_AIR, "temperature")
        require("box air minus evaporating", self.temperature_difference, *DIFFERENCE, difference)
        require("condensing temperature of the hottest day", self.hot, *CONDENSING, "temperature")
        require("condensing temperature of the coldest day", self.cold, *CONDENSING, "temperature")
        if self.highest_evaporating is not None:
            require("limit of the compressor", self.highest_evaporating, *LIMIT, "temperature")
        if self.liquid_line is not None:
            require("liquid line", self.liquid_line, *PIPE, "length")
        require("calls a year", self.calls, *CALLS)
        require("food at risk", self.food, *FOOD, "goods")
        self.job  # noqa: B018  refuses what the kit cannot know

    @cached_property
    def job(self):
        """What the box asks of its valve, a ``kit.Job``."""
        return kit.Job(
            self.refrigerant,
            self.load,
            self.box_temperature,
            self.hot,
            self.cold,
            temperature_difference=self.temperature_difference,
            least_share=self.least_share,
            highest_evaporating=self.highest_evaporating,
            coil_drop=COIL_DROP[self.distributor],
            distributor_drop=DISTRIBUTOR_DROP if self.distributor else 0.0,
            connection=self.connection,
        )

    @property
    def burns(self):
        """Whether its refrigerant is a hydrocarbon, of class A3."""
        return self.job.fluid.facts.safety_class == ports.HYDROCARBON_CLASS

    @cached_property
    def needs(self):
        """Builds of the kit that meet every corner of its year, in sets, each as its three parts.

        A call is covered where the case holds one build of every set. There is one set, but for
        hydrocarbons two: how much of them a port passes, two models of the jet say differently,
        and who carries a build for either will not have come in vain.

        Returns
        -------
        tuple of tuple of tuple of Part
        """
        return _needs(self.job, self.liquid_line, _JETS if self.burns else _JETS[:1])

    def why_none(self, show):
        """Say why nothing in the kit fits.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            Without a full stop; empty where something fits.
        """
        if all(self.needs):
            return ""
        if all(_needs(self.job, None, _JETS if self.burns else _JETS[:1])):
            pipe = show.text(self.liquid_line, "length")
            return f"no body that takes its port joins a pipe of {pipe}"
        try:
            choice = kit.choose(self.job)
        except LowsideError as problem:
            return show.explain(problem).rstrip(".")
        if choice.met:
            choice = choice.other_model
        corner, fault = choice.unmet[0]
        short = kit.reasons.SHORT[fault]
        return f"the nearest, {choice.cartridge.key}: {short} on {corner.words}"


@lru_cache(maxsize=512)
def _needs(job, pipe, jets):
    return tuple(_fitting(job, pipe, jet) for jet in jets)


def _fitting(job, pipe, jet):
    """Find the builds that fit, none where the box cannot run at all; `Stop.why_none` says so."""
    try:
        found = kit.fitting(job, discharge=jet)
    except (NoOperatingPoint, OutOfRange):
        return ()
    return tuple(parts_of(build) for build in found if _joins(build.body, pipe))


def _joins(body, pipe):
    return pipe is None or abs(body.inlet - pipe) <= SAME_PIPE


def named(stops, box):
    """Find a box of a route.

    Parameters
    ----------
    stops : sequence of Stop
    box : str
        Its name.

    Returns
    -------
    Stop

    Raises
    ------
    UnknownName
        If there is none of this name.
    """
    for stop in stops:
        if stop.box == box:
            return stop
    raise UnknownName("box on this route", box, [stop.box for stop in stops])
