"""What lesson 26 computes: a valve without a tag on two days, and the tags of the whole route."""

from __future__ import annotations

from functools import cache

import numpy as np

from lowside.identify import decision, looks, posterior, route, strainer, suspects
from lowside.identify.hardware import Site, Unknowns

from . import hall, plant

BOX = "prep-table"
INSIDE = 0.63e-3  # [m] what somebody put into the valve
PLUGGED = 0.69e-3  # [m] what the strainer still passes on the second day
MILD = 297.15  # [K] air at the condenser on the first day
SUBCOOLING = 11.0  # [K] of liquid that comes along the cold pan rail
CLEAR = 0.5  # probability that a strainer that nobody has touched for years is clear
RELIABILITY = 0.95  # of the tags of the hall

FOOD = 0.06  # [kg/W] of design load: an assumption
LARGE_BOX = "produce-room"

_EXACT = np.zeros(Unknowns().count)


@cache
def mild_day():
    """Give the box as believed on the first day.

    Returns
    -------
    identify.hardware.Site
    """
    box = hall.box(BOX)
    return _site(box, box.condensing_temperature(MILD))


@cache
def hot_day():
    """Give the box as believed on the second day.

    Returns
    -------
    identify.hardware.Site
    """
    box = hall.box(BOX)
    return _site(box, box.summer_condensing)


def _site(box, condensing, subcooling=SUBCOOLING):
    return Site(plant.low_side(box), box.box_temperature, condensing, subcooling)


@cache
def library():
    """Simulate every port in every test on the first day.

    Returns
    -------
    identify.posterior.Library
    """
    return posterior.simulate(mild_day())


@cache
def lineup(subcooling=SUBCOOLING):
    """Simulate every port behind every strainer on the second day.

    Parameters
    ----------
    subcooling : float
        Of the liquid before the strainer. [K]

    Returns
    -------
    identify.suspects.Lineup
    """
    box = hall.box(BOX)
    return suspects.line_up(_site(box, box.summer_condensing, subcooling))


@cache
def read(test, port=INSIDE, hole=np.inf, mild=True, subcooling=SUBCOOLING, flow=0.0, coil=0.0):
    """Read a test on a valve without any error of the instruments.

    Parameters
    ----------
    test : str
        Key of ``looks.TESTS``.
    port, hole : float
        What is in the valve, and what its strainer passes. [m]
    mild : bool
        On the first day instead of the second.
    subcooling : float
        Of the liquid before the strainer. [K]
    flow, coil : float
        How far port and coil are off what is believed, as a share. [-]

    Returns
    -------
    identify.looks.Seen
        One point.
    """
    box, unknowns = hall.box(BOX), Unknowns()
    condensing = box.condensing_temperature(MILD) if mild else box.summer_condensing
    hardware = _EXACT.copy()
    hardware[[0, 4]] = coil / unknowns.coil, flow / unknowns.port_flow
    return suspects.see(
        _site(box, condensing, subcooling),
        np.array(port),
        np.array(hole),
        hardware,
        unknowns,
        looks.TESTS[test],
    )


@cache
def costs(key=BOX):
    """Give what the work takes on a box of the hall.

    Parameters
    ----------
    key : str
        The box.

    Returns
    -------
    identify.decision.Costs
    """
    box = hall.box(key)
    return decision.Costs(charge=box.charge, food=FOOD * box.design_load)


@cache
def holds():
    """Tell which ports behind which strainers hold the design load on the second day.

    Returns
    -------
    ndarray of bool, shape (j, s)
    """
    now = lineup()
    return decision.holding(hot_day(), now.sizes, now.holes, hall.box(BOX).design_load)


@cache
def second_day(tag=None):
    """Weigh the suspects of the second day by what is read as the box runs.

    Parameters
    ----------
    tag : float, optional
        Size that a tag names. [m]

    Returns
    -------
    identify.suspects.Suspicion
    """
    now = lineup()
    port = posterior.prior(now.sizes, tag, RELIABILITY)
    first = suspects.before(now.sizes, now.holes, port, CLEAR)
    return now.suspicion({"running": read("running", hole=PLUGGED, mild=False).readings}, first)


@cache
def rehearsal(key):
    """Simulate calls on a box of the hall.

    Parameters
    ----------
    key : str
        The box.

    Returns
    -------
    identify.route.Rehearsal
    """
    box = hall.box(key)
    return route.rehearse(_site(box, box.summer_condensing, 5.0), box.design_load)


def route_boxes():
    """Name the boxes of the hall that have a valve to tag.

    Returns
    -------
    tuple of hall.Box
    """
    return tuple(b for b in hall.boxes() if isinstance(b.metering, hall.ExpansionValve))


@cache
def sharpest():
    """Find the test that, added to the running reading, makes the port most certain.

    Returns
    -------
    str
        Key of ``looks.TESTS``.
    """
    told = {test: certainty(test) for test in looks.TESTS if test != "running"}
    return max(told, key=told.get)


@cache
def certainty(*tests):
    """Give the probability of the port that is inside after the running reading and some tests.

    Parameters
    ----------
    *tests : str
        Keys of ``looks.TESTS``.

    Returns
    -------
    float
        [-]
    """
    readings = {test: read(test).readings for test in ("running", *tests)}
    return library().belief(readings).of(INSIDE)


def hidden_drop():
    """Find the pressure that the strainer can take on the second day before anything is felt.

    Returns
    -------
    float
        [Pa]
    """
    site = hot_day()
    fluid = site.box.refrigerant
    head = fluid.dew_pressure(site.condensing_temperature)
    liquid = fluid.bubble_temperature(head) - site.subcooling
    return float(head - fluid.bubble_pressure(liquid))


def felt(subcooling, drop):
    """Give the temperature drop across a strainer on the second day.

    Parameters
    ----------
    subcooling : float or ndarray
        Before the strainer. [K]
    drop : float or ndarray
        Pressure that it takes. [Pa]

    Returns
    -------
    float or ndarray
        [K]
    """
    site = hot_day()
    head = site.box.refrigerant.dew_pressure(site.condensing_temperature)
    return strainer.strainer_temperature_drop(site.box.refrigerant, head, subcooling, drop)
