"""The kit itself: ``data/kit.toml`` read and checked, and what is found in it."""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from lowside import store, units, valve
from lowside.errors import DataDamaged, LowsideError, UnknownName, require

from .parts import (
    BOXES,
    CONNECTIONS,
    CONVENTIONAL,
    EQUALISERS,
    Body,
    Cartridge,
    Element,
    Kit,
    Strainer,
)

FILE = "kit.toml"


@cache
def the_kit():
    """Read the kit from data/.

    Returns
    -------
    Kit

    Raises
    ------
    DataDamaged
        If the file is damaged, or describes a part that cannot be.
    """
    return read(store.read_toml(FILE))


def read(document):
    """Turn the content of the file into a kit, checking every part.

    Parameters
    ----------
    document : dict
        Content of the TOML file.

    Returns
    -------
    Kit

    Raises
    ------
    DataDamaged
        In one sentence that says what is missing or cannot be.
    """
    try:
        sieves = {
            entry["mesh"]: Strainer(
                entry["mesh"], 1e-6 * entry["opening_um"], 1e-6 * entry["wire_um"], 1.0
            )
            for entry in document["strainers"]
        }
        return Kit(
            document["notice"],
            tuple(_body(entry, sieves) for entry in document["bodies"]),
            tuple(_cartridges(document["cartridges"])),
            tuple(_elements(document["elements"])),
            tuple(sieves.values()),
            _temperature(document["elements"], "freezers_below_C"),
        )
    except KeyError as missing:
        raise DataDamaged(f"{FILE}: an entry has no {missing.args[0]}.") from missing
    except LowsideError as problem:
        raise DataDamaged(f"{FILE}: {problem}") from problem


def cartridge(port, construction=CONVENTIONAL):
    """One cartridge of the kit.

    Parameters
    ----------
    port : float
        One of its sizes. [m]
    construction : {"conventional", "balanced"}

    Returns
    -------
    Cartridge

    Raises
    ------
    UnknownName
        If the kit has none.
    """
    found = the_kit().cartridges
    for part in found:
        if math.isclose(part.port, port, rel_tol=1e-6) and part.construction == construction:
            return part
    wanted = f"{1e3 * port:g} mm {construction}"
    raise UnknownName("cartridge in the kit", wanted, [part.key for part in found])


def elements(refrigerant, evaporating_temperature=None):
    """Power elements that may be used in a box.

    Parameters
    ----------
    refrigerant : str
        Name.
    evaporating_temperature : float, optional
        Only those whose spring suits it. [K]

    Returns
    -------
    tuple of Element
        The liquid charge first, the gas charge last.

    Raises
    ------
    UnknownName
        If the kit has none for it.
    """
    found = tuple(part for part in the_kit().elements if refrigerant in part.serves)
    if not found:
        known = sorted({name for part in the_kit().elements for name in part.serves})
        raise UnknownName("refrigerant in the kit", refrigerant, known)
    if evaporating_temperature is None:
        return found
    cold = evaporating_temperature < the_kit().freezers_below
    return tuple(part for part in found if (part.boxes == "freezers") == cold)


def bodies(connection, external, port):
    """Bodies that take a cartridge.

    Parameters
    ----------
    connection : {"flare", "braze"}
        To the pipes.
    external : bool
        External equaliser, or internal.
    port : float
        Of the cartridge. [m]

    Returns
    -------
    tuple of Body
        Smallest first; empty where the kit has none.

    Raises
    ------
    UnknownName
        If there is no such connection.
    """
    if connection not in CONNECTIONS:
        raise UnknownName("connection", connection, CONNECTIONS)
    return tuple(
        body
        for body in the_kit().bodies
        if body.connection == connection
        and body.external == external
        and body.largest_port >= port * (1.0 - 1e-9)
    )


def _body(entry, sieves):
    for name, known in (("connection", CONNECTIONS), ("equaliser", EQUALISERS)):
        if entry[name] not in known:
            raise UnknownName(f"{name} of a body", entry[name], known)
    sieve = sieves[entry["strainer_mesh"]]
    area = units.to_si(entry["strainer_area_mm2"], "mm2")
    inlet, outlet, port = (
        units.to_si(entry[key], "mm") for key in ("inlet_mm", "outlet_mm", "largest_port_mm")
    )
    require("largest port of a body", port, 0.0, inlet, "port", open_low=True)
    return Body(
        name=entry["name"],
        connection=entry["connection"],
        metal=entry["metal"],
        inlet=inlet,
        outlet=outlet,
        equaliser=entry["equaliser"],
        strainer=Strainer(sieve.mesh, sieve.opening, sieve.wire, area),
        strainer_from_outside=entry["strainer_from_outside"],
        largest_port=port,
    )


def _cartridges(entry):
    for balanced in (False, True):
        for size in entry["sizes"]:
            if balanced and not size["balanced"]:
                continue
            part = Cartridge(
                port=units.to_si(size["port_mm"], "mm"),
                half_angle=float(np.radians(size["pin_deg"])),
                travel=units.to_si(size["travel_mm"], "mm"),
                balance=entry["balanced_share"] if balanced else 0.0,
            )
            require("travel of the pin", part.hardware.max_lift, 0.0, None, open_low=True)
            yield part


def _elements(entry):
    for family in entry["families"]:
        for charge in entry["charges"]:
            made = Element(
                name=charge["name"],
                charge=charge["kind"],
                boxes=charge["boxes"],
                charged_with=family["charged_with"],
                serves=tuple(family["serves"]),
                diaphragm_area=units.to_si(entry["diaphragm_mm2"], "mm2"),
                spring_rate=1e3 * family["spring_N_mm"] * charge["spring_share"],
                dry_temperature=_temperature(charge, "dry_at_C"),
                meeting_temperature=_temperature(charge, "meets_C"),
                flatness=charge.get("flatness"),
            )
            for name, value, known in (
                ("bulb charge", made.charge, valve.CHARGES),
                ("kind of box", made.boxes, BOXES),
            ):
                if value not in known:
                    raise UnknownName(name, value, known)
            yield made


def _temperature(entry, key):
    return units.to_si(entry[key], "degC") if key in entry else None
