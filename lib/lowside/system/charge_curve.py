"""One box along its charge: how it runs with every amount of refrigerant, solved in one batch.

Between the charges that were solved everything is read off straight lines, the grams included, so
the parts of the box always add up to its charge. With `refitted_curve` that costs a tenth of a gram
in the knee, half a gram in the charge at which the valve stands wide open.

>>> from lowside import system
>>> curve = system.refitted_curve("propane-reach-in")
>>> round(curve.knee() * 1e3)  # grams at which the subcooling is gone
93
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from lowside import charge as grams
from lowside.errors import LowsideError, NoOperatingPoint, require

from . import cabinets
from .closed import BoxResult, BoxStatus, solve_box
from .closed.recount import recount
from .closed.result import REASONS

_GONE = 1e-3  # [K] subcooling that counts as none
_OPEN = 1.0 - 1e-6  # lift share that counts as wide open
_SHARES = np.linspace(0.34, 1.43, 61)  # of the nameplate charge


@dataclass(frozen=True)
class ChargeCurve:
    """A box at rising charges.

    Parameters
    ----------
    box : Box
    points : BoxResult
        Where the box runs, in the order of its charge.
    above : BoxStatus or None
        What stops it at more charge than the last point.
    """

    box: object
    points: BoxResult
    above: BoxStatus | None
    _counted: dict = field(default_factory=dict, repr=False, compare=False)

    def inventory(self, model=grams.DEFAULT):
        """Grams in every part at every point, as a void-fraction model counts them.

        Parameters
        ----------
        model : str
            A key of ``charge.void.MODELS``.

        Returns
        -------
        charge.Inventory
            [kg]

        Raises
        ------
        UnknownName
            For a void-fraction model that is not here.
        """
        if model not in self._counted:
            self._counted[model] = recount(self.box, self.points, model)
        return self._counted[model]

    def charges(self, model=grams.DEFAULT):
        """Charge of every point, as a void-fraction model counts it [kg].

        Parameters
        ----------
        model : str
            A key of ``charge.void.MODELS``.

        Returns
        -------
        ndarray
        """
        return self.inventory(model).total

    def knee(self, model=grams.DEFAULT):
        """Charge at which the last subcooling is gone [kg].

        Parameters
        ----------
        model : str
            A key of ``charge.void.MODELS``.

        Returns
        -------
        float or None
            None if no charge of the curve is that small, or none that large.
        """
        left = self.points.subcooling
        return _crossing(self.charges(model), left, 0.0, left > _GONE)

    def wide_open(self, model=grams.DEFAULT):
        """Charge below which a thermostatic valve stands wide open and can do no more [kg].

        Parameters
        ----------
        model : str
            A key of ``charge.void.MODELS``.

        Returns
        -------
        float or None
            None if no charge of the curve is that small, or none that large.
        """
        lift = self.points.lift_share
        return _crossing(self.charges(model), lift, 1.0, lift < _OPEN)

    def at(self, charge, model=grams.DEFAULT):
        """State and grams at one charge.

        Parameters
        ----------
        charge : float
            [kg]
        model : str
            A key of ``charge.void.MODELS``.

        Returns
        -------
        state : dict of str to float
            By the names of `BoxResult`, without status and inventory.
        parts : dict of str to float
            By the names of ``charge.Inventory``. [kg]

        Raises
        ------
        OutOfRange
            If the curve does not reach to this charge.
        NoOperatingPoint
            If the box does not run with so much.
        """
        along, knee = self.charges(model), self.knee(model)
        if self.above is not None and charge > along[-1]:
            raise NoOperatingPoint(
                REASONS[self.above],
                charge=charge,
                ambient_temperature=float(self.points.ambient_temperature[-1]),
                largest_charge=float(along[-1]),
            )
        require("charge", charge, float(along[0]), float(along[-1]), "mass")

        def read(values):
            return float(np.interp(charge, along, values))

        state = {
            name: read(values)
            for name, values in vars(self.points).items()
            if name not in ("status", "inventory")
        }
        if knee is not None:
            place = int(np.searchsorted(along, knee))
            cornered = np.insert(self.points.subcooling, place, 0.0)
            state["subcooling"] = float(np.interp(charge, np.insert(along, place, knee), cornered))
        parts = self.inventory(model).parts()
        return state, {name: read(values) for name, values in parts.items()}


def charge_curve(box, box_temperature, ambient_temperature, charges):
    """Solve a box at rising charges.

    Parameters
    ----------
    box : Box
        Of scalars.
    box_temperature, ambient_temperature : float
        Air entering evaporator and condenser. [K]
    charges : array_like
        Rising. [kg]

    Returns
    -------
    ChargeCurve

    Raises
    ------
    OutOfRange
        As `solve_box`.
    NoOperatingPoint
        If the box runs at fewer than two of them.
    """
    charges = np.asarray(charges, dtype=float)
    if charges.ndim != 1 or charges.size < 2 or not np.all(np.diff(charges) > 0.0):
        raise LowsideError("A curve along the charge needs two charges or more, rising.")
    solved = solve_box(box, box_temperature, ambient_temperature, charges)
    runs = np.flatnonzero(solved.accepted)
    if runs.size < 2:
        solved.at(0).refuse()
        raise NoOperatingPoint("the box runs at too few of these charges")
    after = runs[-1] + 1
    above = BoxStatus(int(solved.status[after])) if after < charges.size else None
    return ChargeCurve(box, solved.at(runs), above)


@lru_cache(maxsize=64)
def refitted_curve(name, ambient_temperature=None, drier=None, liquid_length=None):
    """One of the cabinets along its charge, with another drier or liquid line if wanted.

    Parameters
    ----------
    name : str
        One of ``cabinets.names()``.
    ambient_temperature : float, optional
        Air entering the condenser; as designed if not given. [K]
    drier : float, optional
        Free volume of the filter-drier; as built if not given. [m3]
    liquid_length : float, optional
        Of the liquid line; as built if not given. [m]

    Returns
    -------
    ChargeCurve
        From a third of the nameplate charge to half as much again. Kept: ask as often as you like.

    Raises
    ------
    UnknownName
        If there is no such cabinet.
    OutOfRange, NoOperatingPoint
        As `charge_curve`.
    """
    cabinet = cabinets.get(name)
    box, ambient = refitted(name, drier, liquid_length), ambient_temperature
    ambient = cabinet.ambient_temperature if ambient is None else ambient
    return charge_curve(box, cabinet.box_temperature, ambient, _SHARES * cabinet.charge)


def refitted(name, drier=None, liquid_length=None):
    """One of the cabinets with another drier or liquid line.

    Parameters
    ----------
    name : str
        One of ``cabinets.names()``.
    drier : float, optional
        Free volume of the filter-drier; as built if not given. [m3]
    liquid_length : float, optional
        Of the liquid line; as built if not given. [m]

    Returns
    -------
    Box

    Raises
    ------
    UnknownName
        If there is no such cabinet.
    """
    box = cabinets.get(name).box
    drier = box.drier if drier is None else drier
    length = box.liquid_line.length if liquid_length is None else liquid_length
    return replace(box, drier=drier, liquid_line=replace(box.liquid_line, length=length))


def _crossing(charges, values, level, beyond):
    """Charge at which values meet a level, from the first two points beyond it, falling short."""
    index = np.flatnonzero(beyond)
    if index.size < 2 or index[0] == 0:
        return None
    first, second = index[:2]
    slope = (charges[second] - charges[first]) / (values[second] - values[first])
    met = charges[first] - slope * (values[first] - level)
    return float(np.clip(met, charges[first - 1], charges[first]))
