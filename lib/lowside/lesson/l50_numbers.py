"""What lesson 50 computes: the box of the call, and the faults that its texts speak of."""

from __future__ import annotations

from functools import cache

import numpy as np

from lowside import faults, system

from . import hall

CABINET = "propane-reach-in"
WALK_IN = "walk-in-cooler"
TUBE = "isobutane-undercounter"

BLOCKED = 0.4  # of the condenser's face, where it is compared with foreign gas
LOST = 2.0e5  # [Pa] in a strainer, in a question


def cabinet():
    """Give the cabinet of the call.

    Returns
    -------
    system.cabinets.Cabinet
    """
    return system.cabinets.get(CABINET)


def sweep(key):
    """Put one fault into the cabinet of the call, from none to its worst.

    Parameters
    ----------
    key : str
        Of the fault.

    Returns
    -------
    faults.Sweep
    """
    return faults.cabinet_sweep(CABINET, key, cabinet().ambient_temperature)


@cache
def same_head():
    """Find the foreign gas that lifts the head gauge as a dirty condenser does.

    Returns
    -------
    severity : float
        Partial pressure. [Pa]
    dirty, foreign : dict of str to float
        Readings under either fault. [SI of each kind]
    """
    _, dirty = sweep("condenser_dirty").at(BLOCKED)
    gas = sweep("foreign_gas")
    severity = float(
        np.interp(dirty["head_pressure"], gas.readings["head_pressure"], gas.severities)
    )
    return severity, dirty, gas.at(severity)[1]


@cache
def silent_strainer():
    """Find the dirtiest strainer behind which the line is not yet colder by a clamp's error.

    Returns
    -------
    lost : float
        Pressure lost in it. [Pa]
    drop : float
        By how much the line is colder behind. [K]
    """
    swept = sweep("strainer")
    silent = np.flatnonzero(np.abs(swept.size("strainer_drop")) < faults.SEEN)[-1]
    lost = swept.points.condensing_pressure - swept.points.inlet_pressure
    return float(lost[silent]), float(swept.readings["strainer_drop"][silent])


@cache
def receiver_hides():
    """Find the share of its charge that a box with receiver can lose before a reading tells.

    Returns
    -------
    float
    """
    swept = faults.cabinet_sweep(WALK_IN, "undercharge")
    told = np.any([np.abs(swept.size(key)) > faults.SEEN for key in swept.readings], axis=0)
    return float(swept.severities[np.argmax(told) - 1])


def agreement(name):
    """Count the published signs that hold for a box.

    Parameters
    ----------
    name : str
        One of ``system.cabinets.names()``, or ``faults.PUBLISHED_KIND``.

    Returns
    -------
    int
    """
    return sum(faults.cabinet_table(name).against_published().values())


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, table, tube = cabinet(), faults.cabinet_table(CABINET), faults.cabinet_table(TUBE)
    well, found, small, short, leaking = (
        table.read(key) for key in (None, "strainer", "port_small", "undercharge", "valve_leak")
    )
    sizes, short_sizes = table.row("strainer"), table.row("undercharge")
    gas, dirty, foreign = same_head()
    silent, silent_drop = silent_strainer()

    def share(now, before):
        return 1.0 - now["capacity"] / before["capacity"]

    return {
        "what": box.what,
        "notice": hall.hall().notice,
        "nameplate": (box.charge, "charge"),
        "box_air": (box.box_temperature, "temperature"),
        "ambient": (box.ambient_temperature, "temperature"),
        "suction": (found["suction_pressure"], "gauge_pressure"),
        "suction_line": (found["suction_temperature"], "temperature"),
        "head": (found["head_pressure"], "gauge_pressure"),
        "liquid_line": (found["liquid_temperature"], "temperature"),
        "discharge": (found["discharge_temperature"], "temperature"),
        "well_suction": (well["suction_pressure"], "gauge_pressure"),
        "well_superheat": (well["superheat"], "temperature_difference"),
        "well_subcooling": (well["subcooling"], "temperature_difference"),
        "found_superheat": (found["superheat"], "temperature_difference"),
        "found_subcooling": (found["subcooling"], "temperature_difference"),
        "found_drop": (found["strainer_drop"], "temperature_difference"),
        "found_sizes": (abs(sizes["superheat"]), "number", 0),
        "small_superheat": (small["superheat"], "temperature_difference"),
        "small_drop": (small["strainer_drop"], "temperature_difference"),
        "missing": (faults.get("undercharge").usual, "ratio"),
        "short_superheat": (short["superheat"], "temperature_difference"),
        "short_subcooling": (short["subcooling"], "temperature_difference"),
        "short_cooling": (share(short, well), "ratio"),
        "short_seen": (abs(short_sizes["subcooling"]), "number", 1),
        "short_hidden": (abs(short_sizes["superheat"]), "number", 1),
        "tube_superheat": (tube.read()["superheat"], "temperature_difference"),
        "tube_short_superheat": (
            tube.read("undercharge")["superheat"],
            "temperature_difference",
        ),
        "tube_seen": (abs(tube.row("undercharge")["superheat"]), "number", 0),
        "receiver_hides": (receiver_hides(), "ratio"),
        "gas": (gas, "pressure_difference"),
        "same_head": (dirty["head_pressure"], "gauge_pressure"),
        "well_head": (well["head_pressure"], "gauge_pressure"),
        "blocked": (BLOCKED, "ratio"),
        "dirty_subcooling": (dirty["subcooling"], "temperature_difference"),
        "gas_subcooling": (foreign["subcooling"], "temperature_difference"),
        "well_rise": (well["condenser_air_rise"], "temperature_difference"),
        "dirty_rise": (dirty["condenser_air_rise"], "temperature_difference"),
        "gas_rise": (foreign["condenser_air_rise"], "temperature_difference"),
        "lost": (LOST, "pressure_difference"),
        "silent": (silent, "pressure_difference"),
        "silent_drop": (silent_drop, "temperature_difference"),
        "leak": (faults.get("valve_leak").usual, "ratio"),
        "leak_cooling": (share(leaking, well), "ratio"),
        "leak_power": (1.0 - leaking["power"] / well["power"], "ratio"),
        "leak_discharge": (
            leaking["discharge_temperature"] - well["discharge_temperature"],
            "temperature_difference",
        ),
        "published": (len(table.against_published()), "number", 0),
        "agree_orifice": (agreement(faults.PUBLISHED_KIND), "number", 0),
        "agree_valve": (agreement(CABINET), "number", 0),
        "agree_receiver": (agreement(WALK_IN), "number", 0),
    }
