"""One box, every port: what a sweep from far too small to far too big does, on two days.

The box is sized once, on its hot day, with the port that is right for it; then only the port
changes. Port sizes of a kit are preferred numbers (ISO 3, series R10, from memory): ten sizes to a
factor of ten, each about a quarter wider than the last.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from lowside import refrigerants, valve
from lowside.errors import NoOperatingPoint, OutOfRange

from .box import LowSide, size_low_side, with_port
from .result import LowSideResult, Status
from .solve import solve_low_side

KIT = tuple(
    round(step * 1e-3, 8)
    for step in (
        *(0.25, 0.315, 0.4, 0.5, 0.63, 0.8),
        *(1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0, 12.5, 16.0, 20.0),
    )
)  # [m]

HOT, COLD = 0, 1
CONVENTIONAL, BALANCED = 0, 1
BALANCES = (0.0, 0.9)  # share of the port force that each construction cancels

TEMPERATURE_DIFFERENCE = 6.0  # [K] box air to evaporating, usual for a walk-in
STATIC_SUPERHEAT = 2.5  # [K]
OPENING_SUPERHEAT = 2.0  # [K] on top at the design point
LIFT_SHARE = 0.6  # at which the right port carries the design load
NERVOUS = 2.0  # times the answer of the right port
HYDROCARBON_CLASS = "A3"

_TRAVEL_SHARE = 0.2  # of the bore, for valves that need more than the usual travel
_STEPS_BELOW = 5  # kit sizes shown below the right port ...
_STEPS_SHOWN = 10  # ... and from the first to the last
_BETWEEN = 6  # ports solved from one kit size to the next


def usual_low_side(refrigerant, load, box_temperature, condensing_temperature):
    """Size a box as it is usually done, with the right port for its hot day.

    Six kelvin between air and evaporating, the valve at six tenths of its travel, a spring that
    suits refrigerant and temperature, a travel that grows with large ports.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    load : float or ndarray
        Design load. [W]
    box_temperature : float or ndarray
        Air entering the evaporator. [K]
    condensing_temperature : float or ndarray
        On the hot day. [K]

    Returns
    -------
    LowSide

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    """

    def sized(travel):
        return size_low_side(
            refrigerant,
            load,
            box_temperature,
            condensing_temperature,
            temperature_difference=TEMPERATURE_DIFFERENCE,
            static_superheat=STATIC_SUPERHEAT,
            opening_superheat=OPENING_SUPERHEAT,
            lift_share=LIFT_SHARE,
            travel=travel,
        )

    port = sized(valve.STANDARD_LIFT).valve.port
    # Area goes as bore times lift: with a travel in proportion, as the square of the bore.
    travel = np.sqrt(_TRAVEL_SHARE * port.diameter * valve.STANDARD_LIFT)
    return sized(np.maximum(travel, valve.STANDARD_LIFT))


def next_size(diameter, steps=1):
    """Find the kit size that lies some steps from the nearest one.

    Parameters
    ----------
    diameter : float
        Port. [m]
    steps : int
        Up, or down where negative.

    Returns
    -------
    float
        [m]

    Raises
    ------
    OutOfRange
        If the kit ends before.
    """
    nearest = int(np.argmin(np.abs(np.log(np.divide(KIT, diameter)))))
    if not 0 <= nearest + steps < len(KIT):
        raise OutOfRange("port", diameter, KIT[0], KIT[-1], "port")
    return KIT[nearest + steps]


@dataclass(frozen=True, eq=False)
class PortSweep:
    """A box solved with every port of a range.

    Parameters
    ----------
    box : LowSide
        With the right port.
    load, box_temperature : float
        [W], [K]
    condensing : tuple of float
        Condensing temperatures of the hot and of the cold day. [K]
    diameters : ndarray, shape (n,)
        Ports. [m]
    result : LowSideResult, shape (n, 2, 2)
        By port, by day (``HOT``, ``COLD``), by construction (``CONVENTIONAL``, ``BALANCED``).
    at_right : LowSideResult, shape (2, 2)
        The same of the right port alone.
    other_model : LowSideResult or None
        The same with the other model of the discharge coefficient, for hydrocarbons, where the
        models disagree most.
    """

    box: LowSide
    load: float
    box_temperature: float
    condensing: tuple[float, float]
    diameters: np.ndarray
    result: LowSideResult
    at_right: LowSideResult
    other_model: LowSideResult | None

    @property
    def right(self):
        """Port that carries the design load on the hot day at the usual lift [m]."""
        return float(self.box.valve.port.diameter)

    @property
    def window(self):
        """Smallest and largest port of the sweep [m]."""
        return float(self.diameters[0]), float(self.diameters[-1])

    def points(self, diameter, other_model=False):
        """Solve one port, or several, on both days in both constructions.

        Parameters
        ----------
        diameter : float or ndarray
            Port. [m]
        other_model : bool
            With the other model of the discharge coefficient.

        Returns
        -------
        LowSideResult, shape (..., 2, 2)
            By port, by day and by construction.
        """
        box = _other_discharge(self.box) if other_model else self.box
        ports = np.asarray(diameter)[..., None, None]
        return _solve(box, ports, self.box_temperature, self.condensing)

    @property
    def right_gain(self):
        """Relative gain of the right port on the hot day [1/K]."""
        return float(self.at_right.relative_gain[HOT, CONVENTIONAL])

    @cached_property
    def starves_below(self):
        """Port below which the valve is wide open on the hot day and still short [m].

        The end of the sweep where that is all of its ports, or none.
        """
        return self._leaves_stop(HOT)

    @cached_property
    def stands_open_below(self):
        """Port below which the valve is wide open on the cold day, short or not [m]."""
        return self._leaves_stop(COLD)

    @cached_property
    def holds_above(self):
        """Port from which, on both days, the bulb is in charge or the design load is carried [m].

        On a cold day a pin at its stop can feed more than the design load, since the compressor
        then takes more.
        """
        cold = self.result.at(np.s_[:, COLD, CONVENTIONAL])
        open_wide = np.flatnonzero(cold.status == Status.WIDE_OPEN)
        feeds = np.log(cold.capacity[open_wide] / self.load)
        carries = math.inf
        if feeds.size and feeds[-1] >= 0.0:
            carries = float(np.exp(np.interp(0.0, feeds, np.log(self.diameters[open_wide]))))
        return max(self.starves_below, min(carries, self.stands_open_below))

    def _leaves_stop(self, day):
        """Find the port in which the pin is just at its stop, from lift against port [m].

        The end of the sweep where the valve acts in all of its ports, or in none.
        """
        point = self.result.at(np.s_[:, day, CONVENTIONAL])
        acting = np.flatnonzero(point.status == Status.SOLVED)
        if acting.size < 2:
            return float(self.diameters[-1])
        first, second = acting[:2]
        if first == 0:
            return float(self.diameters[0])
        lifts, ports = (
            np.log(values[[first, second]]) for values in (point.lift_share, self.diameters)
        )
        slope = (ports[1] - ports[0]) / (lifts[1] - lifts[0])
        return float(np.exp(ports[0] - slope * lifts[0]))

    @cached_property
    def nervous_above(self):
        """Port above which the flow answers the bulb ``NERVOUS`` times as strongly [m].

        Raises
        ------
        NoOperatingPoint
            If no port of the sweep answers just so.
        """
        hot = self.result.at(np.s_[:, HOT, CONVENTIONAL])
        acting = np.flatnonzero(hot.relative_gain > 0.0)
        gains, limit = hot.relative_gain[acting], NERVOUS * self.right_gain
        if not acting.size or not gains[0] <= limit <= gains[-1]:
            raise NoOperatingPoint(
                "no port of this range answers the bulb just so much more strongly than the right "
                "one",
                port=self.right,
            )
        ports = np.log(self.diameters[acting])
        return float(np.exp(np.interp(np.log(limit), np.log(gains), ports)))


@lru_cache(maxsize=64)
def port_sweep(refrigerant, load, box_temperature, hot, cold, static_superheat=STATIC_SUPERHEAT):
    """Size a box and solve it with every port, hot day and cold day, conventional and balanced.

    Parameters
    ----------
    refrigerant : str
        Name.
    load : float
        Design load. [W]
    box_temperature : float
        Air entering the evaporator. [K]
    hot, cold : float
        Condensing temperatures of the two days; the box is sized on the hot one. [K]
    static_superheat : float
        To which every port's spring is set. [K]

    Returns
    -------
    PortSweep

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    UnknownName
        If there is no such refrigerant.
    """
    fluid = refrigerants.get(refrigerant)
    box = usual_low_side(fluid, load, box_temperature, hot)
    start = int(np.searchsorted(KIT, box.valve.port.diameter)) - _STEPS_BELOW
    start = min(max(start, 0), len(KIT) - 1 - _STEPS_SHOWN)
    count = _STEPS_SHOWN * _BETWEEN + 1
    diameters = np.geomspace(KIT[start], KIT[start + _STEPS_SHOWN], count)
    spring = replace(box.valve.spring, static_superheat=static_superheat)
    box = replace(box, valve=replace(box.valve, spring=spring))
    days = box_temperature, (hot, cold)
    other = None
    if fluid.facts.safety_class == HYDROCARBON_CLASS:
        other = _solve(_other_discharge(box), diameters[:, None, None], *days)
    # The right port is solved along with the others: one batch costs less than two.
    ports = np.append(diameters, box.valve.port.diameter)
    result = _solve(box, ports[:, None, None], *days)
    sweep, right = result.at(np.s_[:-1]), result.at(-1)
    return PortSweep(box, load, *days, diameters, sweep, right, other)


def _solve(box, diameters, box_temperature, condensing):
    return solve_low_side(
        with_port(box, diameters, np.array(BALANCES)),
        box_temperature,
        np.array(condensing)[:, None],
    )


def _other_discharge(box):
    (other,) = set(valve.DISCHARGE_MODELS) - {box.valve.discharge}
    return replace(box, valve=replace(box.valve, discharge=other))
