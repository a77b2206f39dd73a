"""What lesson 28 computes: a box of the hall, its valve as found, what the texts speak of."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache

from lowside import hunting
from lowside.system import with_port

from . import hall, plant
from .wording import Difference

BOX = "butcher-walk-in"
FITTED = 4e-3  # [m] cartridge that somebody put in
TURNED = 1.5  # [K] static superheat that somebody left
WARM_ROOM = 308.15  # [K] air where a bulb can hang outside the box
HALF = 0.5  # load on a mild day
SETTLED = 1500.0  # [s] after which the swing of the call is read
RECORD = 2400.0  # [s]
LEAK = 0.01  # share of the flow past a worn packing: our own example

CONTACT = {"tight": hunting.STRAPPED, "loose": hunting.LOOSE}
COVERS = ("covered", "bare", "bare, warm room")
EQUALISERS = ("after", "before", "internal")


@dataclass(frozen=True)
class Setting:
    """One way of fitting, setting and loading a valve of the hall.

    Attributes
    ----------
    box : str
        Key of a box of the hall with a thermostatic valve.
    port : float
        Bore. [m]
    static_superheat : float
        To which the spring is set. [K]
    load : float
        Share of its swept volume that the compressor pumps. [-]
    contact : {"tight", "loose"}
        How the bulb is strapped.
    cover : str
        One of ``COVERS``: what is around the bulb.
    clock : float
        Place of the bulb. [h]
    equaliser : {"after", "before", "internal"}
        Where it joins the line; before the bulb with a packing that leaks.
    """

    box: str
    port: float
    static_superheat: float
    load: float = 1.0
    contact: str = "tight"
    cover: str = "covered"
    clock: float = 12.0
    equaliser: str = "after"


def planned(key, **changes):
    """Give a box its port and its setting by the plan of the hall.

    Parameters
    ----------
    key : str
        Of the box.
    **changes
        What is different, by the names of `Setting`.

    Returns
    -------
    Setting
    """
    metering = hall.box(key).metering
    equaliser = "internal" if metering.equaliser == "internal" else "after"
    plan = Setting(key, metering.port, metering.static_superheat, equaliser=equaliser)
    return replace(plan, **changes)


def found(**changes):
    """Give the box of the call as the tech finds it, but for some changes.

    Parameters
    ----------
    **changes
        By the names of `Setting`.

    Returns
    -------
    Setting
    """
    return planned(BOX, **{"port": FITTED, "static_superheat": TURNED, **changes})


@lru_cache(maxsize=64)
def at_rest(setting):
    """Find where a box would rest.

    Parameters
    ----------
    setting : Setting

    Returns
    -------
    hunting.Circuit

    Raises
    ------
    LowsideError
        If the box has no thermostatic valve, or does not run so.
    """
    box = hall.box(setting.box)
    built = with_port(plant.low_side(box), setting.port)
    fitted = replace(
        built.valve,
        external_equaliser=setting.equaliser != "internal",
        spring=replace(built.valve.spring, static_superheat=setting.static_superheat),
    )
    leaking = setting.equaliser == "before"
    bulb = hunting.Bulb(
        contact=CONTACT[setting.contact],
        exposure=hunting.INSULATED if setting.cover == "covered" else hunting.BARE,
        around=WARM_ROOM if setting.cover == "bare, warm room" else None,
        clock=setting.clock,
        equaliser="before" if leaking else "after",
        leak=LEAK if leaking else 0.0,
    )
    return hunting.at_rest(
        replace(built, valve=fitted),
        box.box_temperature,
        box.summer_condensing,
        bulb=bulb,
        compressor_share=setting.load,
    )


@lru_cache(maxsize=64)
def recorded(setting, duration=900.0):
    """Record a box after a hand has warmed its bulb.

    Parameters
    ----------
    setting : Setting
    duration : float
        [s]

    Returns
    -------
    hunting.Trace
    """
    return hunting.swing(at_rest(setting), duration)


@cache
def swinging(setting):
    """Measure the swing of a box once it has its full height.

    Parameters
    ----------
    setting : Setting

    Returns
    -------
    tuple of hunting.Measured and hunting.Trace
        The measurement, and what it was taken from.
    """
    tail = recorded(setting, RECORD).after(SETTLED)
    return hunting.measure(tail.time, tail.superheat), tail


@cache
def edge(load):
    """Find the edge of hunting of the box of the call with the port that somebody fitted.

    Parameters
    ----------
    load : float
        Share of its swept volume that the compressor pumps. [-]

    Returns
    -------
    hunting.LeastSuperheat
    """
    box = hall.box(BOX)
    return hunting.least_stable_superheat(
        with_port(plant.low_side(box), FITTED),
        box.box_temperature,
        box.summer_condensing,
        compressor_share=load,
    )


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box = hall.box(BOX)
    seen, tail = swinging(found())
    low, high = (int(place) for place in (tail.superheat.argmin(), tail.superheat.argmax()))
    difference, gauge = "temperature_difference", "gauge_pressure"
    plan = planned(BOX)
    margins = {
        "margin": found(),
        "port_margin": found(port=box.metering.port),
        "stem_margin": found(static_superheat=box.metering.static_superheat),
        "plan_margin": plan,
        "half_margin": found(load=HALF),
        "warm_margin": planned(BOX, cover="bare, warm room"),
        "loose_margin": found(contact="loose"),
    }
    half, _ = swinging(found(load=HALF))
    warm, _ = swinging(planned(BOX, cover="bare, warm room"))
    top, bottom = (at_rest(planned(BOX, clock=clock)).superheat for clock in (12.0, 6.0))
    leaking = at_rest(planned(BOX, equaliser="before"))
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "set_point": (box.box_temperature, "temperature"),
        "outside": (box.summer_ambient, "temperature"),
        "fitted": (FITTED, "port"),
        "planned": (box.metering.port, "port"),
        "turned": (TURNED, difference),
        "plan_static": (box.metering.static_superheat, difference),
        "period": (seen.period, "time"),
        "three_beats": (3.0 * seen.period, "time"),
        "amplitude": (seen.amplitude, difference),
        "mean": (seen.mean, difference),
        "lowest": _superheat(tail, low),
        "highest": _superheat(tail, high),
        "suction_low": (float(tail.suction_pressure.min()), gauge),
        "suction_high": (float(tail.suction_pressure.max()), gauge),
        "line_low": (_line(tail, low), "temperature"),
        "line_high": (float((tail.superheat + tail.evaporating_temperature).max()), "temperature"),
        "dew_low": (float(tail.evaporating_temperature[low]), "temperature"),
        "lift_low": (float(tail.lift_share.min()), "ratio"),
        "lift_high": (float(tail.lift_share.max()), "ratio"),
        "plan_superheat": (at_rest(plan).superheat, difference),
        "half_period": (half.period, "time"),
        "half_amplitude": (half.amplitude, difference),
        "warm_room": (WARM_ROOM, "temperature"),
        "warm_amplitude": (warm.amplitude, difference),
        "warm_superheat": (
            at_rest(planned(BOX, cover="bare, warm room")).superheat,
            difference,
        ),
        "dead_time": (at_rest(found()).dead_time, "time"),
        "bulb_lag": (at_rest(found()).feeling.lags[0], "time"),
        "loose_lag": (at_rest(found(contact="loose")).feeling.lags[0], "time"),
        "top_to_bottom": (bottom - top, difference),
        "leak_clamp": (leaking.superheat, difference),
        "leak_coil": (leaking.coil_superheat, difference),
        "leak": (LEAK, "ratio"),
        "margin_low": (min(_margins_of_sizes()), "number"),
        "margin_high": (max(_margins_of_sizes()), "number"),
        **{name: (at_rest(setting).margin, "number") for name, setting in margins.items()},
    }


def _superheat(trace, place):
    return Difference(
        _line(trace, place), float(trace.evaporating_temperature[place]), "temperature"
    )


def _line(trace, place):
    return float(trace.superheat[place] + trace.evaporating_temperature[place])


@cache
def _margins_of_sizes():
    """Gain margins of the valve as planned, with coils that hold and weigh more or less."""
    box = hall.box(BOX)
    coils = [hunting.Sizes(inside=inside) for inside in (4e-6, 6e-6)]
    coils += [hunting.Sizes(metal=metal) for metal in (8.0, 18.0)]
    return [
        hunting.at_rest(
            plant.low_side(box), box.box_temperature, box.summer_condensing, sizes=sizes
        ).margin
        for sizes in coils
    ]


def what_cures():
    """Find which change alone settles the box of the call, as a key of the prediction."""
    box = hall.box(BOX)
    port = at_rest(found(port=box.metering.port)).margin > 1.0
    stem = at_rest(found(static_superheat=box.metering.static_superheat)).margin > 1.0
    if port and stem:
        return "either"
    return "port" if port else "stem" if stem else "both"


def half_load():
    """Find what the swing does at half load, as a key of the prediction."""
    if at_rest(found(load=HALF)).margin > 1.0:
        return "stops"
    full, half = swinging(found())[0], swinging(found(load=HALF))[0]
    return "slower" if half.period > full.period else "faster"


def bare_bulb():
    """Find what a bare bulb in a warm room does to a good valve, as a key of the prediction."""
    plan, bare = at_rest(planned(BOX)), at_rest(planned(BOX, cover="bare, warm room"))
    if bare.margin < 1.0:
        return "hunts"
    return "starves" if bare.superheat > plan.superheat else "nothing"
