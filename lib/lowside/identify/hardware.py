"""A box of half-known hardware: what is believed, and how far it may be off."""

from __future__ import annotations

from dataclasses import astuple, dataclass, fields, replace
from functools import cached_property
from statistics import NormalDist

import numpy as np

from lowside import valve
from lowside.errors import OutOfRange, require
from lowside.system import LowSide, ports, solve_low_side, with_port

HALF_WIDTH = 0.15  # of a hardware number around what is believed
KIT_STEP = np.log(10.0) / 10.0  # from one kit size to the next
SPREAD = HALF_WIDTH / np.sqrt(3.0)  # standard deviation of a uniform draw of that half-width


@dataclass(frozen=True)
class Unknowns:
    """How far the hardware may be off what is believed: standard deviations.

    The defaults are assumptions: ±15 % on whatever is built, as a uniform draw of that half-width
    has it, and a spring that somebody has turned.

    Parameters
    ----------
    coil, air_flow, swept_volume, efficiency, port_flow : float
        Coil conductance, air over the coil, swept volume, compressor efficiency, flow that the port
        passes at its nominal size; each as a share. [-]
    static_superheat : float
        Setting of the spring. [K]
    stem : float
        What a turn of the stem does, as a share of what is believed. [-]
    strainer_hole : float
        What a plugged strainer still passes, as the logarithm of a diameter: holes of all sizes
        stand between those that are told apart. [-]
    """

    coil: float = SPREAD
    air_flow: float = SPREAD
    swept_volume: float = SPREAD
    efficiency: float = SPREAD
    port_flow: float = SPREAD
    static_superheat: float = 1.0
    stem: float = 0.25
    strainer_hole: float = KIT_STEP / np.sqrt(12.0)

    def __post_init__(self):
        for field in fields(self):
            words = f"spread of the {field.name.replace('_', ' ')}"
            kind = "temperature_difference" if field.name == "static_superheat" else "ratio"
            require(words, getattr(self, field.name), 0.0, 5.0, kind)

    @property
    def count(self):
        """How many unknowns there are."""
        return len(fields(self))


STEM, STRAINER_HOLE = -2, -1  # places in a row of deviations


@dataclass(frozen=True)
class Site:
    """A box as it is believed to be, and what the instruments say of its surroundings.

    Parameters
    ----------
    box : LowSide
        With the port that would be right.
    air_temperature : float
        Box air entering the coil. [K]
    condensing_temperature : float
        Dew point of the head pressure. [K]
    subcooling : float
        Of the liquid before the strainer. [K]
    """

    box: LowSide
    air_temperature: float
    condensing_temperature: float
    subcooling: float = 5.0

    @property
    def right(self):
        """The kit size nearest to the right port [m]."""
        return ports.next_size(float(self.box.valve.port.diameter), 0)

    @cached_property
    def normal(self):
        """Operating point of the box as believed, with its right port (LowSideResult)."""
        point = solve_low_side(
            self.box, self.air_temperature, self.condensing_temperature, self.subcooling
        )
        point.refuse()
        return point

    @cached_property
    def arriving(self):
        """Liquid in front of the valve, the strainer clear (valve.Inlet)."""
        now, fluid = self.normal, self.box.refrigerant
        enthalpy = fluid.liquid_enthalpy(now.condensing_pressure, now.liquid_temperature)
        return valve.inlet(fluid, now.condensing_pressure, enthalpy)

    @cached_property
    def coefficient(self):
        """Discharge coefficient at which the constant model agrees with the box's own [-]."""
        fluid, behind = self.box.refrigerant, self.normal.evaporator_inlet_pressure
        own = valve.valve_flux(self.box.valve, fluid, self.arriving, behind)
        return float(own / valve.mass_flux(fluid, self.arriving, behind, "constant", 1.0))

    def sizes(self, below=3, above=3):
        """Kit sizes around the right one, shape (n,) [m].

        Parameters
        ----------
        below, above : int
            How many on either side; fewer where the kit ends.

        Returns
        -------
        ndarray
        """
        middle = ports.KIT.index(self.right)
        return np.array(ports.KIT[max(middle - below, 0) : middle + above + 1])


def evenly(count, dimensions, seed=26):
    """Draw points that fill a cube more evenly than chance would.

    Parameters
    ----------
    count, dimensions : int
        How many points, in how many dimensions.
    seed : int
        Shifts the whole set.

    Returns
    -------
    ndarray, shape (count, dimensions)
        Between 0 and 1.

    Notes
    -----
    Additive recurrence with the powers of the generalised golden ratio (from memory), shifted at
    random.
    """
    golden = 2.0
    for _ in range(60):
        golden = (1.0 + golden) ** (1.0 / (dimensions + 1))
    steps = golden ** -np.arange(1.0, dimensions + 1)
    shift = np.random.default_rng(seed).uniform(size=dimensions)
    return (shift + np.arange(1, count + 1)[:, None] * steps) % 1.0


def deviations(count, unknowns, seed=26):
    """Draw standard normal deviations that fill their space evenly.

    Parameters
    ----------
    count : int
        How many draws.
    unknowns : Unknowns
        Says in how many dimensions.
    seed : int
        Shifts the whole set.

    Returns
    -------
    ndarray, shape (count, unknowns.count)
    """
    even = evenly(count, unknowns.count, seed).clip(1e-4, 1.0 - 1e-4)
    return np.vectorize(NormalDist().inv_cdf)(even)


def low_side(site, sizes, drawn, unknowns):
    """Give a box other ports and other hardware.

    Parameters
    ----------
    site : Site
        As believed.
    sizes : float or ndarray
        Ports. [m]
    drawn : ndarray, shape (..., unknowns.count)
        Deviations from what is believed, in standard deviations.
    unknowns : Unknowns
        How large one is.

    Returns
    -------
    LowSide
        Its numbers have the broadcast shape of `sizes` and of `drawn` without its last axis.
    """
    coil, air, swept, efficiency, flow, spring, *_ = np.moveaxis(
        drawn * np.array(astuple(unknowns)), -1, 0
    )
    box = with_port(site.box, sizes)
    machine, evaporator, settings = box.compressor, box.evaporator, box.valve.spring
    static = np.maximum(settings.static_superheat + spring, 0.0)
    return replace(
        box,
        compressor=replace(
            machine,
            swept_volume_flow=machine.swept_volume_flow * (1.0 + swept),
            peak_efficiency=machine.peak_efficiency * (1.0 + efficiency),
        ),
        evaporator=replace(
            evaporator,
            wet_conductance=evaporator.wet_conductance * (1.0 + coil),
            dry_conductance=evaporator.dry_conductance * (1.0 + coil),
            air_capacity_rate=evaporator.air_capacity_rate * (1.0 + air),
        ),
        valve=replace(
            box.valve,
            spring=replace(settings, static_superheat=static),
            discharge="constant",
            discharge_coefficient=site.coefficient * (1.0 + flow),
        ),
    )


def require_size(size, sizes):
    """Refuse a port that is not among those considered.

    Parameters
    ----------
    size : float
        [m]
    sizes : ndarray
        [m]

    Returns
    -------
    int
        Its place.

    Raises
    ------
    OutOfRange
        If it is not there.
    """
    place = int(np.argmin(np.abs(np.log(sizes / size))))
    if abs(np.log(sizes[place] / size)) > 0.05:
        raise OutOfRange("port", size, sizes[0], sizes[-1], "port")
    return place
