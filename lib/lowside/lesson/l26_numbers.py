"""What lesson 26 computes: a valve without a tag on two days, and the tags of the whole route."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, lru_cache

import numpy as np

from lowside.identify import decision, looks, posterior, route, strainer, suspects
from lowside.identify.calibration import calibrate
from lowside.identify.hardware import Site, Unknowns

from . import hall, plant

BOX = "prep-table"
INSIDE = 0.63e-3  # [m] what somebody put into the valve
PLUGGED = 0.69e-3  # [m] what the strainer still passes on the second day
MILD = 297.15  # [K] air at the condenser on the first day
SUBCOOLING = 11.0  # [K] of liquid that comes along the cold pan rail
CLEAR = 0.5  # probability that a strainer that nobody has touched for years is clear
RELIABILITY = 0.95  # of the tags of the hall

_DRAWS = 32
VALVES = 600
LITTLE = 2.0  # [K] of subcooling, for comparison
_HARDLY_FELT = 2.0  # [K]
_MUCH = 0.2  # of the head
FOOD = 0.06  # [kg/W] of design load: an assumption
LARGE_BOX = "produce-room"

_NO_CLAMPS = posterior.Instruments(unread=("strainer",))
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
def second_site(subcooling=SUBCOOLING):
    """Give the box as believed on the second day.

    Parameters
    ----------
    subcooling : float
        Of the liquid before the strainer. [K]

    Returns
    -------
    identify.hardware.Site
    """
    box = hall.box(BOX)
    return _site(box, box.summer_condensing, subcooling)


def _site(box, condensing, subcooling=SUBCOOLING):
    return Site(plant.low_side(box), box.box_temperature, condensing, subcooling)


@cache
def library():
    """Simulate every port in every test on the first day, without clamps around the strainer.

    Returns
    -------
    identify.posterior.Library
    """
    return posterior.simulate(mild_day(), instruments=_NO_CLAMPS)


@cache
def lineup(subcooling=SUBCOOLING, clamps=True):
    """Simulate every port behind every strainer on the second day.

    Parameters
    ----------
    subcooling : float
        Of the liquid before the strainer. [K]
    clamps : bool
        Whether there is a clamp on either side of the strainer.

    Returns
    -------
    identify.suspects.Lineup
    """
    if not clamps:
        known = lineup(subcooling)
        library = replace(known.library, instruments=_NO_CLAMPS, kept={})
        return replace(known, library=library)
    return suspects.line_up(second_site(subcooling), ("running",), draws=_DRAWS)


def read(test, *where, **there):
    """Read one test on a valve, see `read_all`.

    Parameters
    ----------
    test : str
        Key of ``looks.TESTS``.
    *where, **there
        As in `read_all`.

    Returns
    -------
    identify.looks.Seen
        One point.
    """
    return read_all(*where, **there)[test]


@lru_cache(maxsize=512)
def read_all(port=INSIDE, hole=np.inf, mild=True, subcooling=SUBCOOLING, flow=0.0, coil=0.0):
    """Read tests on a valve without any error of the instruments.

    Parameters
    ----------
    port, hole : float
        What is in the valve, and what its strainer passes. [m]
    mild : bool
        On the first day instead of the second.
    subcooling : float
        Of the liquid before the strainer, on the second day. [K]
    flow, coil : float
        How far port and coil are off what is believed on the first day, as a share. [-]

    Returns
    -------
    dict of str to identify.looks.Seen
        By test, one point each; on the second day the box is only read as it runs.
    """
    if not mild:
        return {"running": _on_friday(subcooling)[port, hole]}
    unknowns = Unknowns()
    hardware = _EXACT.copy()
    hardware[[0, 4]] = coil / unknowns.coil, flow / unknowns.port_flow
    tests = tuple(looks.TESTS)
    return suspects.see(mild_day(), np.array(port), np.array(hole), hardware, unknowns, tests)


@cache
def holes():
    """List what a strainer of the lesson may pass, from clear to the smallest hole.

    Returns
    -------
    tuple of float
        [m]
    """
    return np.inf, *sorted({*library().sizes[:-1].tolist(), PLUGGED}, reverse=True)


@cache
def _on_friday(subcooling):
    """Read every port behind every strainer in one batch."""
    ports = library().sizes.tolist()
    found = suspects.see(
        second_site(subcooling),
        np.array(ports)[:, None],
        np.array(holes()),
        _EXACT,
        Unknowns(),
        ("running",),
    )["running"]
    return {
        (port, hole): found.at((row, column))
        for row, port in enumerate(ports)
        for column, hole in enumerate(holes())
    }


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
def holds(subcooling=SUBCOOLING):
    """Tell which ports behind which strainers hold the design load on the second day.

    Parameters
    ----------
    subcooling : float
        Of the liquid before the strainer. [K]

    Returns
    -------
    ndarray of bool, shape (j, s)
    """
    now = lineup(subcooling)
    return decision.holding(
        second_site(subcooling), now.sizes, now.holes, hall.box(BOX).design_load
    )


@lru_cache(maxsize=256)
def suspicion(
    tag=None,
    reliability=RELIABILITY,
    clear=CLEAR,
    port=INSIDE,
    hole=PLUGGED,
    subcooling=SUBCOOLING,
    clamps=True,
):
    """Weigh the suspects of the second day by what is read as the box runs.

    Parameters
    ----------
    tag : float, optional
        Size that a tag names. [m]
    reliability : float
        Probability that the tag is right. [-]
    clear : float
        Probability beforehand that the strainer is clear. [-]
    port, hole : float
        What is in the valve, and what its strainer passes. [m]
    subcooling : float
        Of the liquid before the strainer. [K]
    clamps : bool
        Whether there is a clamp on either side of the strainer.

    Returns
    -------
    identify.suspects.Suspicion
    """
    now = lineup(subcooling, clamps)
    first = suspects.before(
        now.sizes, now.holes, posterior.prior(now.sizes, tag, reliability), clear
    )
    seen = read("running", port, hole, mild=False, subcooling=subcooling)
    return now.suspicion({"running": seen.readings}, first)


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
    site = second_site()
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
    site = second_site()
    head = site.box.refrigerant.dew_pressure(site.condensing_temperature)
    return strainer.strainer_temperature_drop(site.box.refrigerant, head, subcooling, drop)


@cache
def calibration():
    """Simulate valves of all sizes on the first day, and see how often the belief is right.

    Returns
    -------
    dict of tuple of str to identify.calibration.Calibration
        For the running reading alone, and with each other test.
    """
    running = ("running",)
    others = [(*running, test) for test in looks.TESTS if test != "running"]
    return calibrate(library(), [running, *others], valves=VALVES)


@cache
def route_worth():
    """Work out what a tag is worth on every box of the hall, with habits as assumed.

    Returns
    -------
    dict of str to identify.route.Worth
        By key of the box.
    """
    habits = route.Habits()
    return {b.key: rehearsal(b.key).worth(costs(b.key), habits) for b in route_boxes()}


def tells_most():
    """Find which of three tests makes the size that is inside likeliest, as a prediction's key."""
    return max(("head", "stem", "bulb"), key=certainty)


def equal_clamps():
    """Say what nearly equal clamps prove of the strainer, as a prediction's key."""
    point = read("running", hole=PLUGGED, mild=False)
    driving = second_site().box.refrigerant.dew_pressure(second_site().condensing_temperature)
    hidden = float(point.strainer_drop) > _MUCH * float(driving)
    return "nothing" if hidden and float(point.readings[-1]) < _HARDLY_FELT else "clear"


def what_a_tag_changes():
    """Say what the tag changes on the second day, as a prediction's key."""
    without = decision.best(decision.expect(suspicion(), holds(), costs()))
    tagged = decision.best(decision.expect(suspicion(INSIDE), holds(), costs()))
    if tagged == without:
        return "same"
    return tagged
