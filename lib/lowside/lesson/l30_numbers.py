"""What lesson 30 computes: the joint of the call, as it was done and as it should be."""

from __future__ import annotations

from functools import cache

from lowside import drier, joint, refrigerants, units

from . import hall, plant

BOX = "drinks-merchandiser"

# The new valve and how it is brazed in: invented, but for the limit (common practice, in data/).
DIAMETER = units.to_si(0.375, "in")  # [m] outlet
STUB_LENGTH = units.to_si(1.0, "in")  # [m]
BODY_MASS = 0.100  # [kg]
FLAME = 450.0  # [W]
STAY = 15.0  # [s]
SHOP = 293.15  # [K]
STUB, LINE = "copper", "stainless steel"
OLD_FILLER, FILLER, COOLEST_FILLER = "BCuP-5", "BAg-5", "BAg-7"
WRAP = "wet rag"
PIPE = 0.35e-3  # [m3] that the nitrogen has to clear
OXYGEN_LEFT = 0.01

_FEW = 5.0  # [K] that make no odds
_LATER = 5.0  # [s]


def limit():
    """Temperature that the valve body should not pass.

    Returns
    -------
    float
        Common practice, no published source. [K]
    """
    return units.to_si(joint.data()["practice"]["body_limit_C"], "degC")


def boiling():
    """Temperature at which water boils in the hall.

    Returns
    -------
    float
        [K]
    """
    return float(drier.boiling_temperature(units.atmosphere(hall.hall().altitude)))


@cache
def heated(filler=FILLER, wrap=WRAP, flame=FLAME, stub=STUB, stay=STAY, contact=1.0):
    """Braze the joint of the call, with some of it changed.

    Parameters
    ----------
    filler, wrap : str
    flame : float
        [W]
    stub : str
        Metal of the valve's stub.
    stay : float
        [s]
    contact : float
        Times the usual contact of the wrap.

    Returns
    -------
    joint.Heating
    """
    round_it = joint.wrap(wrap)
    if round_it is not None and contact != 1.0:
        round_it = joint.Wrap(round_it.water, contact * round_it.contact, round_it.cover)
    setup = joint.Setup(
        joint.metal(stub),
        joint.metal(LINE),
        joint.tube(DIAMETER),
        STUB_LENGTH,
        BODY_MASS,
        flame,
        round_it,
        SHOP,
        boiling(),
    )
    return joint.braze(setup, joint.filler(filler).liquidus, stay, limit())


@cache
def readings():
    """Read gauges and clamps on the box of the call, on a day when all was well.

    Returns
    -------
    readings.Readings
    """
    box = hall.box(BOX)
    return plant.run(box).readings(box.summer_ambient)


def superheat():
    """Superheat at the bulb of that box.

    Returns
    -------
    float
        [K]
    """
    now = readings()
    fluid = refrigerants.get(hall.box(BOX).refrigerant)
    return float(fluid.superheat(now.suction_pressure, now.suction_temperature))


def when_hottest():
    """Say when the bare valve body is hottest: when the filler flows, the torch leaves, or later.

    Returns
    -------
    str
        Key of the option.
    """
    bare = heated(wrap="nothing")
    if bare.peak_at > bare.leaves_at + _LATER:
        return "later"
    return "leaves" if bare.peak_at > bare.flows_at + _LATER else "flows"


def twice_the_flame():
    """Say what twice the flame does to the bare body.

    Returns
    -------
    str
        Key of the option.
    """
    change = heated(wrap="nothing", flame=2.0 * FLAME).peak - heated(wrap="nothing").peak
    if change > _FEW:
        return "hotter"
    return "cooler" if change < -_FEW else "same"


def which_filler():
    """Say what the joint of the call wants.

    Returns
    -------
    str
        Key of the option.
    """
    judged = joint.coolest(joint.metal(STUB), joint.metal(LINE))
    if judged.filler.has("P"):
        return "bare" if judged.verdict == joint.NO_FLUX else "fluxed"
    return "silver"


def fitting():
    """Give what goes with the brazing, for card and texts.

    Returns
    -------
    dict
        Name to SI value and kind.
    """
    practice = joint.data()["practice"]
    low, high = joint.flare_torque(DIAMETER)
    flow = [units.to_si(value, "ft3/h") for value in practice["nitrogen_ft3_h"]]
    return {
        "diameter": (DIAMETER, "length"),
        "flow_low": (flow[0], "gas_flow"),
        "flow_high": (flow[1], "gas_flow"),
        "purge": (joint.purge_time(PIPE, flow[0], OXYGEN_LEFT), "time"),
        "flat": (units.to_si(practice["power_element_deg"], "deg"), "angle"),
        "wait": (units.to_si(practice["stem_wait_min"], "min"), "time"),
        "torque_low": (low, "torque"),
        "torque_high": (high, "torque"),
    }


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, now = hall.box(BOX), readings()
    bare, wet, old = heated(wrap="nothing"), heated(), heated(OLD_FILLER, "nothing")
    strong = heated(wrap="nothing", flame=2.0 * FLAME)
    cool = heated(COOLEST_FILLER, "nothing")
    steel = heated(wrap="nothing", stub="stainless steel")
    tube = joint.tube(DIAMETER)
    copper, stainless = joint.metal("copper"), joint.metal("stainless steel")
    doubted = [heated(contact=share).peak for share in (0.5, 2.0)]
    flames = [heated(wrap="nothing", flame=share * FLAME).peak for share in (0.8, 1.25)]
    old_filler, filler, cool_filler = map(joint.filler, (OLD_FILLER, FILLER, COOLEST_FILLER))
    return {
        "stall": box.stall,
        "what": box.what,
        "holds": box.holds,
        "refrigerant": box.refrigerant,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "suction": (now.suction_pressure, "gauge_pressure"),
        "suction_line": (now.suction_temperature, "temperature"),
        "head": (now.head_pressure, "gauge_pressure"),
        "liquid_line": (now.liquid_temperature, "temperature"),
        "superheat": (superheat(), "temperature_difference"),
        "stub": (STUB_LENGTH, "length"),
        "body": (BODY_MASS, "mass"),
        "flame": (FLAME, "heat_flow"),
        "twice": (2.0 * FLAME, "heat_flow"),
        "stay": (STAY, "time"),
        "shop": (SHOP, "temperature", 0),
        "limit": (limit(), "temperature", 0),
        "boils": (boiling(), "temperature", 0),
        "old_filler": OLD_FILLER,
        "old_liquidus": (old_filler.liquidus, "temperature", 0),
        "old_from": (old_filler.brazing_from, "temperature", 0),
        "filler": FILLER,
        "silver": (filler.silver, "ratio"),
        "liquidus": (filler.liquidus, "temperature", 0),
        "cool_filler": COOLEST_FILLER,
        "cool_silver": (cool_filler.silver, "ratio"),
        "cool_liquidus": (cool_filler.liquidus, "temperature", 0),
        "cool_peak": (cool.peak, "temperature", 0),
        "old_flows": (old.flows_at, "time"),
        "old_peak": (old.peak, "temperature", 0),
        "bare_flows": (bare.flows_at, "time"),
        "bare_leaves": (bare.leaves_at, "time"),
        "bare_at_leaving": (float(bare.at(bare.leaves_at)[-1]), "temperature", 0),
        "bare_peak": (bare.peak, "temperature", 0),
        "bare_later": (bare.peak_at - bare.leaves_at, "time"),
        "bare_longest": (bare.longest_stay, "time"),
        "wet_flows": (wet.flows_at, "time"),
        "wet_peak": (wet.peak, "temperature", 0),
        "wet_longest": (wet.longest_stay, "time"),
        "wet_low": (min(doubted), "temperature", 0),
        "wet_high": (max(doubted), "temperature", 0),
        "flame_low": (min(flames), "temperature", 0),
        "flame_high": (max(flames), "temperature", 0),
        "strong_flows": (strong.flows_at, "time"),
        "strong_peak": (strong.peak, "temperature", 0),
        "steel_peak": (steel.peak, "temperature", 0),
        "steel_flows": (steel.flows_at, "time"),
        "copper_k": (copper.conductivity, "conductivity"),
        "stainless_k": (stainless.conductivity, "conductivity"),
        "fold": (copper.conductivity / stainless.conductivity, "number", 0),
        "copper_even": (joint.evening_time(copper, tube), "number", 1),
        "stainless_even": (joint.evening_time(stainless, tube), "number", 1),
        "pipe": (PIPE, "volume"),
        "oxygen": (OXYGEN_LEFT, "ratio"),
        **fitting(),
    }
