"""What lesson 24 computes: the job of the call, its build, and what its texts speak of."""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from lowside import kit, refrigerants
from lowside.kit import HOT_FULL, HOT_LEAST

from . import hall

BOX = "fish-freezer"
CONVERTED = "butcher-walk-in"  # whose port is asked for with propane

LEAST_SHARE = 0.5  # its compressor runs down to half its speed
AFTER_WASHING = 298.15  # [K] air in the box when it is started after a wash-down
COIL_DROP = 8e3  # [Pa] in the coil behind the distributor
DISTRIBUTOR_DROP = 1e5  # [Pa] usual: 1 to 2 bar (Hundy, Trott, Welch)
CONNECTION = "braze"

_WELL_ABOVE = 2.0  # [K] over the limit of the compressor
_ALIKE = 0.15  # share by which a ring and a mesh may differ and still be about the same


def conditions():
    """Give the job of the call as ``kit.Job`` and the figure take it.

    Returns
    -------
    dict
    """
    box = hall.box(BOX)
    return {
        "refrigerant": box.refrigerant,
        "load": box.design_load,
        "box_temperature": box.box_temperature,
        "hot": box.summer_condensing,
        "cold": box.winter_condensing,
        "temperature_difference": box.evaporator_difference,
        "least_share": LEAST_SHARE,
        "pull_down_temperature": AFTER_WASHING,
        "highest_evaporating": box.metering.mop_temperature,
        "coil_drop": COIL_DROP,
        "distributor_drop": DISTRIBUTOR_DROP,
        "connection": CONNECTION,
        "construction": kit.EITHER,
        "static_superheat": box.metering.static_superheat,
    }


def choice():
    """Choose the build of the call.

    Returns
    -------
    kit.Choice
    """
    return kit.choose(kit.Job(**conditions()))


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, chosen = hall.box(BOX), choice()
    job, best, index = chosen.job, chosen.best, chosen.index
    leaving = float(best.points.evaporating_pressure[index, HOT_FULL])
    entering = float(best.points.evaporator_inlet_pressure[index, HOT_FULL])
    planned, liquid = planned_index(), chosen.attempts[0]
    heads = job.fluid.dew_pressure(np.array([job.hot, job.cold]))
    strainer = chosen.build.body.strainer
    low, high = propane_band()
    first, last = between(low, high)
    difference = "temperature_difference"
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "load": (job.load, "capacity"),
        "box_air": (job.box_temperature, "temperature"),
        "boils": (job.evaporating_temperature, "temperature"),
        "head_hot": (float(heads[0]), "gauge_pressure"),
        "head_cold": (float(heads[1]), "gauge_pressure"),
        "least_share": (job.least_share, "ratio"),
        "washed": (job.pull_down_temperature, "temperature"),
        "limit": (job.highest_evaporating, "temperature"),
        "coil_end": (leaving, "gauge_pressure"),
        "coil_start": (entering, "gauge_pressure"),
        "behind_valve": (entering + job.distributor_drop, "gauge_pressure"),
        "ladder": (kit.EXTERNAL_ABOVE, difference),
        "chosen": (chosen.cartridge.port, "port"),
        "smaller": (best.cartridges[chosen.neighbour(-1)].port, "port"),
        "planned": (box.metering.port, "port"),
        "planned_lift": (float(best.points.lift_share[planned, HOT_FULL]), "ratio"),
        "planned_times": (float(best.answer[planned] / best.answer[index]), "number"),
        "chosen_lift": (float(best.points.lift_share[index, HOT_FULL]), "ratio"),
        "smaller_lift": (float(best.points.lift_share[chosen.neighbour(-1), HOT_FULL]), "ratio"),
        "smaller_cold": (
            float(best.points.capacity[chosen.neighbour(-1), kit.COLD_FULL]) / job.load,
            "ratio",
        ),
        "liquid_pull": (float(liquid.mop[planned]), "temperature"),
        "liquid_chosen": (float(liquid.mop[index]), "temperature"),
        "gas_pull": (float(best.mop[index]), "temperature"),
        "ring_full": (ring(HOT_FULL), "opening"),
        "ring_least": (ring(HOT_LEAST), "opening"),
        "opening": (strainer.opening, "opening"),
        "mesh": str(strainer.mesh),
        "converted": (hall.box(CONVERTED).metering.port, "port"),
        "converted_what": hall.box(CONVERTED).what,
        "converted_refrigerant": hall.box(CONVERTED).refrigerant,
        "propane_low": (low, "port"),
        "propane_high": (high, "port"),
        "propane_sizes": f"{1e3 * first:.2f} mm to {1e3 * last:.2f} mm",
        "carries": (chosen.limits.carries, "ratio"),
        "most_lift": (chosen.limits.most_lift, "ratio"),
        "least_lift": (chosen.limits.least_lift, "ratio"),
        "least_superheat": (chosen.limits.least_superheat, difference),
        "hunts": (chosen.limits.hunts, "number"),
        "swing": (chosen.limits.most_swing, difference),
        "well_above": (_WELL_ABOVE, difference),
    }


def planned_index():
    """Place of the cartridge of the hall's plan in the choice's attempts.

    Returns
    -------
    int
    """
    metering = hall.box(BOX).metering
    wanted = kit.BALANCED if metering.balance > 0.0 else kit.CONVENTIONAL
    return choice().best.cartridges.index(kit.cartridge(metering.port, wanted))


def ring(corner):
    """Width of the ring between pin and seat at a corner.

    Parameters
    ----------
    corner : int
        Place in ``kit.CORNERS``.

    Returns
    -------
    float
        [m]
    """
    chosen = choice()
    lift = float(chosen.best.points.lift[chosen.index, corner])
    return lift * math.sin(chosen.cartridge.half_angle)


def propane_band():
    """Find the ports that would do with propane in the box whose port is converted.

    Returns
    -------
    tuple of float
        Smallest and largest. [m]
    """
    box = hall.box(CONVERTED)
    fluids = refrigerants.get("R290"), refrigerants.get(box.refrigerant)
    days = box.evaporating_temperature, box.summer_condensing
    return kit.port_band(box.metering.port, *fluids, *days)


def between(low, high):
    """Sizes of the kit that cover a band of ports.

    Parameters
    ----------
    low, high : float
        [m]

    Returns
    -------
    tuple of float
        From the last size below or at `low` to the first above or at `high`. [m]
    """
    sizes = kit.the_kit().sizes
    first = max(size for size in sizes if size <= low)
    last = min(size for size in sizes if size >= high)
    return first, last


# ---------------------------------------------------------------- what comes true


def decides():
    """Find the corner that the next size down misses, as a key of the prediction."""
    chosen = choice()
    return next(
        corner.key for corner, fault in chosen.failings(chosen.neighbour(-1)) if fault.too_small
    )


def pulls_down():
    """Say how a liquid charge starts the pull-down, as a key of the prediction."""
    chosen = choice()
    over = chosen.attempts[0].mop[planned_index()] - chosen.job.highest_evaporating
    if over <= 0.0:
        return "below"
    return "above" if over > _WELL_ABOVE else "about"


def ring_against_mesh():
    """Compare the ring at the least load with a mesh of the strainer."""
    ratio = ring(HOT_LEAST) / choice().build.body.strainer.opening
    if abs(math.log(ratio)) < _ALIKE:
        return "alike"
    return "wider" if ratio > 1.0 else "narrower"
