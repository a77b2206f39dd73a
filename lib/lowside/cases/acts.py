"""What can be done on a call: measure, look, mend, handle refrigerant; with minutes and cautions.

Minutes are assumptions of ours for comparing paths with each other, not labour rates.
"""

from __future__ import annotations

from dataclasses import dataclass

from lowside import faults
from lowside.errors import UnknownName
from lowside.faults import Family

EVERY = frozenset(Family)
VALVES = frozenset({Family.RECEIVER, Family.VALVE})
MEASURE, LOOK, MEND, GAS, ELSE = "measure", "look", "mend", "refrigerant", "and else"
KINDS = (MEASURE, LOOK, MEND, GAS, ELSE)
HAND = "Power off, locked out and proven dead before a hand goes near a fan or a terminal."
HOSE = "Glasses and gloves. A hose takes its share of a small charge."
OPEN = (
    "Power locked out, recover first. Glasses and gloves; no flame, no spark; air through the room."
)
FLAME = (
    "Recover, purge with nitrogen and let it flow before a torch is lit. Flammable: meter to the "
    "floor, extinguisher at hand. Licence where the law asks for it."
)


@dataclass(frozen=True)
class Act:
    """One thing to do.

    Attributes
    ----------
    key, label, kind : str
        Name in programs; in words; one of `KINDS`.
    minutes : float
        That it takes. Assumed.
    caution : str
        Said where it is chosen; may be empty.
    part : str
        What is used up; may be empty.
    mends : str
        Fault that it takes away; may be empty.
    hand, opens, torch, runs : bool
        Whether a hand goes near fans, the circuit is opened, something is brazed; whether the box
        must run.
    asks : str
        Which number it needs: "turns", "port", "charge", or none.
    hose : str
        Reading whose pressure fills a hose; may be empty.
    fits : frozenset of Family
    """

    key: str
    label: str
    kind: str
    minutes: float
    caution: str = ""
    part: str = ""
    mends: str = ""
    hand: bool = False
    opens: bool = False
    torch: bool = False
    runs: bool = False
    asks: str = ""
    hose: str = ""
    fits: frozenset = EVERY


def _measure(key, minutes, **more):
    return Act(key, faults.reading(key).label, MEASURE, minutes, runs=True, **more)


ALL = (
    _measure("suction_pressure", 4, caution=HOSE, hose="suction_pressure"),
    _measure("head_pressure", 4, caution=HOSE, hose="head_pressure"),
    _measure("suction_temperature", 2),
    _measure("liquid_temperature", 2),
    _measure("discharge_temperature", 2, caution="The discharge line burns."),
    _measure("drier_drop", 3),
    _measure("strainer_drop", 3),
    _measure("box_air_drop", 3),
    _measure("condenser_air_rise", 3),
    _measure("current", 3, caution="Clamp only; covers open near live parts want a licence."),
    Act("look_condenser", "look at condenser and its fan", LOOK, 2, "Eyes only while it runs."),
    Act("look_evaporator", "look at evaporator and its fan", LOOK, 3, "Eyes only while it runs."),
    Act("look_valve", "look at bulb, stem, equaliser and tag of the valve", LOOK, 4, fits=VALVES),
    Act(
        "look_leak",
        "search for a leak: oil, soap, detector",
        LOOK,
        15,
        "Flammable: no switch, no flame; air through the room.",
    ),
    Act(
        "warm_valve",
        "warm the valve or the tube's end with a warm wet rag",
        LOOK,
        10,
        "Never a flame. Hand and rag clear of the fan.",
        runs=True,
    ),
    Act(
        "standing",
        "switch off, let it stand, compare head with saturation",
        LOOK,
        40,
        HOSE,
        hose="head_pressure",
        runs=True,
    ),
    Act(
        "pump_test",
        "close the suction, see how low it pumps and whether it creeps up",
        LOOK,
        15,
        "Not below atmosphere with a flammable refrigerant.",
        runs=True,
        hose="suction_pressure",
    ),
    Act("clean_condenser", "clean the condenser", MEND, 20, HAND, "", "condenser_dirty", hand=True),
    Act(
        "new_fan",
        "new fan motor at the condenser",
        MEND,
        40,
        HAND,
        "fan motor",
        "condenser_fan",
        hand=True,
    ),
    Act(
        "defrost",
        "defrost and clear the evaporator",
        MEND,
        45,
        HAND,
        "",
        "evaporator_air",
        hand=True,
    ),
    Act(
        "strap_bulb",
        "clean the line, strap and insulate the bulb",
        MEND,
        15,
        "The fan is close: power off, locked out and proven dead before you reach past it. Edges "
        "of fins cut.",
        "",
        "bulb_loose",
        fits=VALVES,
    ),
    Act(
        "turn_stem",
        "turn the stem, and wait for it",
        MEND,
        15,
        "Count the turns. Hands clear of the fan; the stem can leak with its cap off: glasses, "
        "gloves, flammable: meter there.",
        runs=True,
        asks="turns",
        fits=VALVES,
    ),
    Act(
        "pull_strainer",
        "take the strainer out and clean it",
        MEND,
        20,
        OPEN,
        "",
        "strainer",
        opens=True,
    ),
    Act(
        "new_port",
        "change the cartridge",
        MEND,
        20,
        OPEN,
        "cartridge",
        opens=True,
        asks="port",
        fits=VALVES,
    ),
    Act(
        "new_element",
        "new power element with its bulb",
        MEND,
        30,
        OPEN,
        "power element",
        "bulb_lost",
        opens=True,
        fits=VALVES,
    ),
    Act(
        "new_drier",
        "new drier, brazed in",
        MEND,
        25,
        FLAME,
        "drier",
        "drier",
        opens=True,
        torch=True,
    ),
    Act("mend_leak", "mend the leak, brazed", MEND, 30, FLAME, "", "leak", opens=True, torch=True),
    Act(
        "new_valve",
        "valve with external equaliser, brazed in",
        MEND,
        60,
        FLAME,
        "valve",
        "equaliser",
        opens=True,
        torch=True,
        fits=VALVES,
    ),
    Act(
        "new_compressor",
        "new compressor, brazed in",
        MEND,
        90,
        FLAME,
        "compressor",
        "valve_leak",
        opens=True,
        torch=True,
    ),
    Act("power_off", "switch off, lock out, prove dead", ELSE, 3),
    Act(
        "power_on",
        "take the lock off, switch on, let it settle",
        ELSE,
        10,
        "Hands and tools out of the fans. Flammable: only with the meter silent.",
    ),
    Act(
        "recover",
        "recover and weigh the charge",
        GAS,
        25,
        "Glasses and gloves; air through the room. Recovery machine and cylinder for this "
        "refrigerant; cylinder never above four fifths.",
    ),
    Act(
        "purge",
        "purge with nitrogen, let it flow",
        GAS,
        10,
        "Regulator on the cylinder, never oxygen or air, never above the pressure on the "
        "nameplate. Lead it outside: nitrogen takes the air you breathe.",
    ),
    Act(
        "evacuate",
        "pull a vacuum for a quarter of an hour",
        GAS,
        15,
        "No compressor runs in a vacuum. Flammable: a pump made for it, its outlet led outside.",
    ),
    Act("watch_vacuum", "close off the pump and watch the vacuum gauge", GAS, 10),
    Act(
        "charge",
        "weigh in refrigerant",
        GAS,
        15,
        "By weight, never above the nameplate. Flammable: no ignition source.",
        asks="charge",
    ),
    Act("wait", "wait a quarter of an hour", ELSE, 15),
    Act("move_food", "carry the food into a neighbour's box", ELSE, 25),
    Act("leave", "tell the customer, write the tag, leave", ELSE, 5),
)
_BY_KEY = {act.key: act for act in ALL}


def get(key):
    """One of the acts.

    Parameters
    ----------
    key : str
        Of one of `ALL`.

    Returns
    -------
    Act

    Raises
    ------
    UnknownName
        If there is no such act.
    """
    try:
        return _BY_KEY[key]
    except (KeyError, TypeError):
        raise UnknownName("thing to do on a call", key, _BY_KEY) from None


def fitting(family):
    """Acts that there are at a kind of box.

    Parameters
    ----------
    family : faults.Family

    Returns
    -------
    tuple of Act
    """
    return tuple(act for act in ALL if family in act.fits)
