"""Looking at a valve from outside: the tests one can make, and what they show."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from lowside import valve
from lowside.system import solve_low_side

from .hardware import STEM, low_side
from .strainer import through_strainer

HAND = 303.15  # [K] of a bulb held in it
READINGS = ("suction", "line", "discharge", "air_off", "strainer")


@dataclass(frozen=True)
class Test:
    """One way to look at a valve from outside.

    Parameters
    ----------
    key, words : str
        Short name; what is done.
    time : float
        That it takes, waiting included: an assumption. [s]
    air, condensing : float
        By how much box air and condensing temperature are raised. [K]
    turns : float
        Of the stem, opening. [turns]
    warmed : bool
        Whether the bulb is held in a warm hand, so that the valve stands wide open.
    unsteady : float
        By how much readings scatter more than in a steady box: an assumption. [-]
    caution : str
        What can hurt the box or a person.
    """

    __test__ = False  # the test runner takes the name for its own

    key: str
    words: str
    time: float
    air: float = 0.0
    condensing: float = 0.0
    turns: float = 0.0
    warmed: bool = False
    unsteady: float = 1.0
    caution: str = ""


TESTS = {
    test.key: test
    for test in (
        Test("running", "read it as it runs", 600.0),
        Test(
            "head",
            "raise the head",
            1200.0,
            condensing=8.0,
            caution="Part of the condenser covered: a hand on the cardboard, an eye on the head "
            "gauge, well below the cut-out.",
        ),
        Test(
            "stem",
            "turn the stem",
            1500.0,
            turns=1.0,
            caution="Count the turns and turn them back; wait between them.",
        ),
        Test(
            "pull-down",
            "read it while the box pulls down",
            1800.0,
            air=10.0,
            condensing=4.0,
            unsteady=1.5,
            caution="A warm box is warm food: only with the shelves empty.",
        ),
        Test(
            "bulb",
            "warm the bulb",
            600.0,
            warmed=True,
            unsteady=2.0,
            caution="Wide open, the valve may send liquid back to the compressor. A minute or two, "
            "a hand on the suction line, and the bulb back before the compressor runs cold or "
            "noisy.",
        ),
    )
}


@dataclass(frozen=True)
class HeldValve(valve.Valve):
    """A valve whose bulb may be off the line, in a hand at `HAND`.

    Parameters
    ----------
    held : bool or ndarray of bool
        Whether it is.
    """

    held: bool | np.ndarray = True

    def sensed_temperature(self, line_temperature, air_temperature):
        """Temperature of the bulb [K].

        Parameters
        ----------
        line_temperature, air_temperature : float or ndarray
            Of the line and of the air, which a held bulb does not feel. [K]

        Returns
        -------
        float or ndarray
        """
        on_the_line = super().sensed_temperature(line_temperature, air_temperature)
        return np.where(self.held, HAND, on_the_line)


@dataclass(frozen=True)
class Seen:
    """What a test shows; arrays of the broadcast shape of sizes and hardware.

    Parameters
    ----------
    readings : ndarray, shape (..., 5)
        In the order of ``READINGS``: dew point at the suction gauge, suction line at the bulb,
        discharge line, air off the coil, and how much colder the liquid is behind the strainer than
        in front of it. [K]
    wide_open, accepted : ndarray of bool
        Whether the pin stands at its stop; whether the box runs so.
    superheat, quality, mass_flow, capacity : ndarray
        Of what leaves the coil. [K], [-], [kg/s], [W]
    strainer_drop : ndarray
        [Pa]
    """

    readings: np.ndarray
    wide_open: np.ndarray
    accepted: np.ndarray
    superheat: np.ndarray
    quality: np.ndarray
    mass_flow: np.ndarray
    capacity: np.ndarray
    strainer_drop: np.ndarray

    def at(self, index):
        """Take some of the looks.

        Parameters
        ----------
        index : int, slice or tuple
            Which.

        Returns
        -------
        Seen
        """
        return Seen(**{name: value[index] for name, value in vars(self).items()})

    def reshape(self, *shape):
        """Give the looks another shape.

        Parameters
        ----------
        *shape : int
            Of all but the readings' own axis.

        Returns
        -------
        Seen
        """
        kept = np.ndim(self.wide_open)
        return Seen(
            **{
                name: value.reshape(*shape, *value.shape[kept:])
                for name, value in vars(self).items()
            }
        )

    @property
    def liquid_back(self):
        """Liquid that reaches the compressor [kg/s]."""
        return (1.0 - self.quality) * self.mass_flow


def look(site, sizes, drawn, unknowns, tests, strainer=None):
    """Make tests on valves of given sizes in given hardware, all in one batch.

    Parameters
    ----------
    site : Site
        As believed.
    sizes : float or ndarray
        Ports. [m]
    drawn : ndarray, shape (..., unknowns.count)
        Deviations of the hardware, in standard deviations.
    unknowns : Unknowns
        How large one is.
    tests : sequence of str
        What is done, keys of ``TESTS``.
    strainer : float or ndarray, optional
        Resistance of the strainer: drop over the square of the flow; by default it is clear.
        [Pa s2/kg2]

    Returns
    -------
    dict of str to Seen
        By test.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    """
    box = low_side(site, sizes, drawn, unknowns)
    clear = 0.0 if strainer is None else strainer
    axes = len(np.broadcast_shapes(np.shape(sizes), drawn.shape[:-1], np.shape(clear)))
    air, condensing, turns, held = (
        np.array([getattr(TESTS[test], name) for test in tests]).reshape(-1, *(1,) * axes)
        for name in ("air", "condensing", "turns", "warmed")
    )
    spring = box.valve.spring
    turned = _per_turn(site) * turns * (1.0 + unknowns.stem * drawn[..., STEM])
    spring = replace(spring, static_superheat=np.maximum(spring.static_superheat - turned, 0.0))
    box = replace(box, valve=HeldValve(**{**vars(box.valve), "spring": spring}, held=held))
    conditions = (
        site.air_temperature + air,
        site.condensing_temperature + condensing,
        site.subcooling,
    )
    if strainer is None:
        point, drop = solve_low_side(box, *conditions), 0.0
    else:
        first = strainer * site.normal.mass_flow**2
        point, drop = through_strainer(box, conditions, strainer, first)
    seen = _seen(box.refrigerant, point, drop)
    return {test: seen.at(place) for place, test in enumerate(tests)}


def _per_turn(site):
    """Find the static superheat that a turn of the stem is worth [K]."""
    evaporating = site.normal.evaporating_temperature
    return valve.superheat_per_turn(site.box.valve, site.box.refrigerant, evaporating)


def _seen(fluid, point, drop):
    felt = 0.0
    if np.any(drop):
        ahead = fluid.bubble_temperature(point.condensing_pressure, check=False) - point.subcooling
        felt = ahead - point.liquid_temperature
    readings = (
        point.evaporating_temperature,
        point.suction_temperature,
        point.discharge_temperature,
        point.air_outlet_temperature,
        felt,
    )
    return Seen(
        readings=np.stack(np.broadcast_arrays(*readings), axis=-1),
        wide_open=point.lift_share > 1.0 - 1e-6,
        accepted=point.accepted,
        superheat=point.superheat,
        quality=point.outlet_quality,
        mass_flow=point.mass_flow,
        capacity=point.capacity,
        strainer_drop=np.broadcast_to(drop, np.shape(point.status)),
    )
