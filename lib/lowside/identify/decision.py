"""Leave the valve alone, pull the strainer, or open the valve: what each is expected to take."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from lowside import units
from lowside.errors import require

from .hardware import Unknowns
from .suspects import see

MINUTE = units.HOUR / 60.0  # [s]

HOLDS = 0.97  # of the load; what lies below comes back as a call

LEAVE, STRAINER, OPEN = "leave", "strainer", "open"
PLANS = {
    LEAVE: "trust it and look elsewhere",
    STRAINER: "pull the strainer first",
    OPEN: "open the valve at once",
}


@dataclass(frozen=True)
class Costs:
    """What the work takes. Every number is an assumption for you to change.

    Parameters
    ----------
    strainer_time, open_time : float
        To pull, clean and refit a strainer that comes out from outside, box pumped down or
        recovered in part; to recover, open the valve, evacuate, weigh in and set. [s]
    return_time, fetch_time : float
        Of a second call, the way included; to fetch a cartridge or power element that is not in
        the van while the valve is open. [s]
    strainer_share : float
        Share of the charge handled to pull the strainer; to open the valve it is all. [-]
    charge, food : float
        In the box. [kg]
    return_loss, open_loss, strainer_loss : float
        Share of the food lost if the box was left short, and while the valve or the strainer is
        out. [-]
    food_worth, refrigerant_worth : float
        Time of work that a kilogram of food lost or of refrigerant handled is worth, so that one
        number can be compared. [s/kg]
    """

    strainer_time: float = 45.0 * MINUTE
    open_time: float = 150.0 * MINUTE
    return_time: float = 75.0 * MINUTE
    fetch_time: float = 60.0 * MINUTE
    strainer_share: float = 0.1
    charge: float = 1.0
    food: float = 60.0
    return_loss: float = 0.2
    open_loss: float = 0.05
    strainer_loss: float = 0.01
    food_worth: float = 5.0 * MINUTE
    refrigerant_worth: float = 20.0 * MINUTE

    def __post_init__(self):
        for field in fields(self):
            most = 1.0 if field.name.endswith(("_share", "_loss")) else None
            words = f"{field.name.replace('_', ' ')} of the work"
            require(words, getattr(self, field.name), 0.0, most)


@dataclass(frozen=True)
class Outcome:
    """What a plan takes, expected or in fact.

    Parameters
    ----------
    time : float or ndarray
        Of work. [s]
    refrigerant, food : float or ndarray
        Handled; lost. [kg]
    worth : float or ndarray
        All of it in time of work. [s]
    """

    time: float | np.ndarray
    refrigerant: float | np.ndarray
    food: float | np.ndarray
    worth: float | np.ndarray

    def mean(self, weights=None):
        """Average over cases.

        Parameters
        ----------
        weights : ndarray, optional
            Of the cases; by default all count alike. [-]

        Returns
        -------
        Outcome
            Of floats.
        """
        return Outcome(
            **{
                name: float(np.average(value, weights=weights))
                for name, value in vars(self).items()
            }
        )


def holding(site, sizes, holes, load):
    """Tell which ports, behind which strainers, hold a load.

    Parameters
    ----------
    site : Site
        The box as believed.
    sizes, holes : ndarray, shapes (s,) and (j,)
        Ports, and what the strainer still passes. [m]
    load : float
        [W]

    Returns
    -------
    ndarray of bool, shape (j, s)
    """
    unknowns = Unknowns()
    as_believed = np.zeros(unknowns.count)
    below = np.asarray(holes)[:, None]
    seen = see(site, sizes, below, as_believed, unknowns, ("running",))["running"]
    return seen.accepted & (seen.capacity >= HOLDS * load)


def outcomes(holds, holes, costs, parts=1.0):
    """Count what each plan takes in each case.

    Parameters
    ----------
    holds : ndarray of bool, shape (j, s)
        From `holding`.
    holes : ndarray, shape (j,)
        What the strainer still passes, infinite where it is clear. [m]
    costs : Costs
        What the work takes.
    parts : float
        Probability that the parts for the valve are in the van. [-]

    Returns
    -------
    dict of str to Outcome
        By plan, arrays of shape (j, s).
    """
    short = ~holds
    cleaned = np.broadcast_to(short[np.isinf(holes)][0], short.shape)  # short with a clear strainer
    every = np.ones(short.shape)
    charge, food = costs.charge, costs.food
    opened = costs.open_time + (1.0 - parts) * costs.fetch_time
    return {
        LEAVE: _outcome(
            costs,
            short * (costs.return_time + opened),
            short * charge,
            short * (costs.return_loss + costs.open_loss) * food,
        ),
        STRAINER: _outcome(
            costs,
            costs.strainer_time + cleaned * opened,
            (costs.strainer_share + cleaned) * charge,
            (costs.strainer_loss + cleaned * costs.open_loss) * food,
        ),
        OPEN: _outcome(costs, every * opened, every * charge, every * costs.open_loss * food),
    }


def expect(suspicion, holds, costs, parts=1.0):
    """Work out what each plan is expected to take.

    Parameters
    ----------
    suspicion : Suspicion
        What is believed of port and strainer.
    holds : ndarray of bool, shape (j, s)
        From `holding`.
    costs : Costs
        What the work takes.
    parts : float
        Probability that the parts for the valve are in the van. [-]

    Returns
    -------
    dict of str to Outcome
        By plan.
    """
    taken = outcomes(holds, suspicion.holes, costs, parts)
    return {plan: outcome.mean(suspicion.probability) for plan, outcome in taken.items()}


def best(expected):
    """Find the plan that is expected to take least.

    Parameters
    ----------
    expected : dict of str to Outcome
        From `expect`.

    Returns
    -------
    str
        A key of ``PLANS``.
    """
    return min(expected, key=lambda plan: expected[plan].worth)


def _outcome(costs, time, refrigerant, food):
    worth = time + costs.food_worth * food + costs.refrigerant_worth * refrigerant
    return Outcome(time, refrigerant, food, worth)
