"""The bulb on its pipe: what it feels of the gas, of the liquid at the bottom, of the air around.

Gas warms the pipe's wall, the wall warms the bulb through the contact line under the strap, and
the air around takes its share. Two heat capacities in a row make two lags; the air makes a bulb
that is badly strapped read warm.

On the bottom of a horizontal line runs a thin stream of oil and refrigerant. It is taken to be as
cold as the evaporating temperature, the worst it can be. The wall carries heat around the pipe as
a fin does, so that every place on it feels some of the stream, the bottom most, and a large line
shows more of a difference than a small one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from lowside.errors import LowsideError, require

# Of copper, from memory.
COPPER_CONDUCTIVITY = 390.0  # [W/(m K)]
COPPER_HEAT = 8940.0 * 385.0  # [J/(m3 K)]

BULB_LENGTH = 0.075  # [m] common practice, no published source
#: Copper of 40 g and 10 g of liquid inside, our own assumption. [J/K]
BULB_HEAT = 30.0
#: Contact line of 75 mm by 3 mm at 9000 W/(m2 K), and the same bulb hardly touching: assumptions.
STRAPPED, LOOSE = 2.0, 0.3  # [W/K]
#: 3000 mm2 of bulb in moving air at 20 W/(m2 K), and under a sleeve of foam: assumptions.
BARE, INSULATED = 0.06, 0.01  # [W/K]

STREAM_HALF_ANGLE = math.radians(10.0)  # [rad] to either side of the bottom: assumption
STREAM_COEFFICIENT = 500.0  # [W/(m2 K)] assumption

PLACES = ("after", "before")
TOP, BOTTOM = 12.0, 6.0  # o'clock


@dataclass(frozen=True)
class Bulb:
    """How and where a bulb is strapped on.

    Parameters
    ----------
    contact : float
        Conductance from pipe to bulb. [W/K]
    exposure : float
        Conductance from the air around to the bulb. [W/K]
    around : float, optional
        Temperature of that air; by default the air that enters the evaporator. [K]
    clock : float
        Place on a horizontal line as on a clock's face, 12 on top. [h]
    equaliser : {"after", "before"}
        Where an external equaliser joins the suction line, seen with the flow: after the bulb, or
        between coil and bulb.
    leak : float
        Share of the flow that passes a worn packing into the equaliser line, as liquid. [-]
    heat_capacity : float
        [J/K]

    Raises
    ------
    OutOfRange
        For a bulb that nobody can strap on.
    LowsideError
        For a place of the equaliser that is none.
    """

    contact: float = STRAPPED
    exposure: float = INSULATED
    around: float | None = None
    clock: float = TOP
    equaliser: str = "after"
    leak: float = 0.0
    heat_capacity: float = BULB_HEAT

    def __post_init__(self):
        require("contact of the bulb", self.contact, 0.0, None, open_low=True)
        require("exposure of the bulb to the air", self.exposure, 0.0, None)
        require("place of the bulb on the clock's face", self.clock, 0.0, 12.0)
        require("leaking share of the flow", self.leak, 0.0, 0.2, "ratio")
        require("heat capacity of the bulb", self.heat_capacity, 0.0, None, open_low=True)
        if self.around is not None:
            require("air around the bulb", self.around, 150.0, 400.0, "temperature")
        if self.equaliser not in PLACES:
            raise LowsideError(
                f"An equaliser joins the line {' or '.join(PLACES)} the bulb: not {self.equaliser}."
            )


@dataclass(frozen=True)
class Pipe:
    """A horizontal copper line with gas in it.

    Parameters
    ----------
    bore, wall : float
        [m]
    coefficient : float
        From the gas to the wall. [W/(m2 K)]
    """

    bore: float
    wall: float
    coefficient: float

    @property
    def radius(self):
        """Of the middle of the wall [m]."""
        return 0.5 * (self.bore + self.wall)

    def stream_share(self, clock):
        """How much a place on the wall feels of the stream at the bottom.

        The wall is a fin that runs round the pipe, wet at the bottom and dry above; both parts have
        their closed solution and meet with one temperature and one heat flow.

        Parameters
        ----------
        clock : float or ndarray
            12 on top, 6 at the bottom. [h]

        Returns
        -------
        float or ndarray
            0 where the wall is as warm as the gas, 1 where it is as cold as the stream. [-]
        """
        angle = np.abs(np.asarray(clock, dtype=float) - BOTTOM) * math.pi / 6.0
        fin = self.radius / math.sqrt(COPPER_CONDUCTIVITY * self.wall)
        wet, dry = fin * math.sqrt(STREAM_COEFFICIENT), fin * math.sqrt(self.coefficient)
        rest = math.pi - STREAM_HALF_ANGLE
        pull = dry * math.sinh(dry * rest) / (wet * math.sinh(wet * STREAM_HALF_ANGLE))
        top = 1.0 / (math.cosh(dry * rest) + pull * math.cosh(wet * STREAM_HALF_ANGLE))
        above = top * np.cosh(dry * (math.pi - np.maximum(angle, STREAM_HALF_ANGLE)))
        below = 1.0 - top * pull * np.cosh(wet * np.minimum(angle, STREAM_HALF_ANGLE))
        return np.where(angle > STREAM_HALF_ANGLE, above, below)[()]

    @property
    def reach(self):
        """Length of pipe to either side that still warms the bulb: a long fin's [m]."""
        return math.sqrt(COPPER_CONDUCTIVITY * self.wall / self.coefficient)


@dataclass(frozen=True)
class Feeling:
    """What a bulb makes of its pipe.

    Parameters
    ----------
    pipe_share : float
        Weight of the wall against the air around. [-]
    stream_share : float
        Weight of the stream against the gas, in what the wall says. [-]
    lags : tuple of float
        Time constants of wall and bulb together, the longer first. [s]
    """

    pipe_share: float
    stream_share: float
    lags: tuple[float, float]

    def steady(self, gas, evaporating, around):
        """Temperature of the bulb once all is still.

        Parameters
        ----------
        gas, evaporating, around : float or ndarray
            Gas in the line, its dew point, and the air around. [K]

        Returns
        -------
        float or ndarray
            [K]
        """
        wall = gas + self.stream_share * (evaporating - gas)
        return around + self.pipe_share * (wall - around)


def feel(bulb, pipe):
    """Work out what a bulb feels, and how late.

    Parameters
    ----------
    bulb : Bulb
        As strapped on.
    pipe : Pipe
        The line under it.

    Returns
    -------
    Feeling
    """
    length = BULB_LENGTH + 2.0 * pipe.reach
    gas = pipe.coefficient * math.pi * pipe.bore * length
    wall = COPPER_HEAT * 2.0 * math.pi * pipe.radius * pipe.wall * length
    contact, air, heat = bulb.contact, bulb.exposure, bulb.heat_capacity
    # (wall s + gas + contact)(heat s + contact + air) = contact^2 has two real, negative roots.
    squared = wall * heat
    linear = wall * (contact + air) + heat * (gas + contact)
    constant = gas * (contact + air) + contact * air
    root = math.sqrt(linear**2 - 4.0 * squared * constant)
    return Feeling(
        pipe_share=gas * contact / constant,
        stream_share=float(pipe.stream_share(bulb.clock)),
        lags=(2.0 * squared / (linear - root), 2.0 * squared / (linear + root)),
    )
