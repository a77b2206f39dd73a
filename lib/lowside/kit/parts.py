"""The parts of the kit: bodies, cartridges, power elements and strainers of ``data/kit.toml``."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from lowside import refrigerants, store, units, valve
from lowside.errors import DataDamaged, LowsideError, UnknownName, require

FILE = "kit.toml"

CONNECTIONS = ("flare", "braze")
EQUALISERS = ("internal", "external")
CONVENTIONAL, BALANCED = "conventional", "balanced"
CONSTRUCTIONS = (CONVENTIONAL, BALANCED)
BOXES = ("coolers", "freezers")


@dataclass(frozen=True)
class Strainer:
    """Woven wire before the port.

    Attributes
    ----------
    mesh : int
        Sieve number of ASTM E11.
    opening : float
        Clear width of one mesh. [m]
    wire : float
        Nominal diameter of the wire. [m]
    area : float
        Of woven wire that the liquid can come through. [m2]
    """

    mesh: int
    opening: float
    wire: float
    area: float

    @property
    def open_share(self):
        """Share of the woven wire that is hole [-]."""
        return (self.opening / (self.opening + self.wire)) ** 2

    @property
    def open_area(self):
        """Area of all holes [m2]."""
        return self.open_share * self.area


@dataclass(frozen=True)
class Body:
    """What is joined to the pipes and takes cartridge, strainer and power element.

    Attributes
    ----------
    name : str
        Size, metal and connection in plain words.
    connection : {"flare", "braze"}
        To the pipes.
    metal : str
        Of the ends that are flared or brazed.
    inlet, outlet : float
        Outside diameter of the tubes that fit. [m]
    equaliser : {"internal", "external"}
        Whether the space under the diaphragm is open to the valve outlet or has a pipe of its own.
    strainer : Strainer
        In its inlet.
    strainer_from_outside : bool
        Whether the strainer comes out without taking the valve apart or unbrazing it.
    largest_port : float
        Largest cartridge that its bore takes. [m]
    """

    name: str
    connection: str
    metal: str
    inlet: float
    outlet: float
    equaliser: str
    strainer: Strainer
    strainer_from_outside: bool
    largest_port: float

    @property
    def key(self):
        """Plain name that no other body has."""
        return f"{self.name}, {self.equaliser} equaliser"

    @property
    def external(self):
        """Whether its equaliser is external."""
        return self.equaliser == "external"


@dataclass(frozen=True)
class Cartridge:
    """Port, pin and seat.

    Attributes
    ----------
    port : float
        Bore. [m]
    half_angle : float
        Of the pin. [rad]
    travel : float
        Of the pin. [m]
    balance : float
        Share of the port force taken off the pin. [-]
    """

    port: float
    half_angle: float
    travel: float
    balance: float

    @property
    def construction(self):
        """``"conventional"`` or ``"balanced"``."""
        return BALANCED if self.balance > 0.0 else CONVENTIONAL

    @property
    def key(self):
        """Plain name that no other cartridge has; a port is in millimetres everywhere."""
        return f"{1e3 * self.port:g} mm {self.construction}"

    @property
    def hardware(self):
        """As a `valve.Port`."""
        return valve.Port(self.port, self.half_angle, self.travel, self.balance)


@dataclass(frozen=True)
class Element:
    """Power element: diaphragm, bulb and its charge, with the spring that suits them.

    Attributes
    ----------
    name : str
        Charge in plain words.
    charge : {"liquid", "cross", "gas"}
        As in `valve.PowerElement`.
    boxes : {"coolers", "freezers"}
        That its spring suits.
    charged_with : str
        Refrigerant whose dew line the charge follows.
    serves : tuple of str
        Refrigerants in whose boxes it may be used.
    diaphragm_area : float
        [m2]
    spring_rate : float
        [N/m]
    dry_temperature : float or None
        Bulb temperature at which the last liquid of a gas charge is gone. [K]
    meeting_temperature : float or None
        Where a cross charge meets the dew line. [K]
    flatness : float or None
        Of a cross charge there. [-]
    """

    name: str
    charge: str
    boxes: str
    charged_with: str
    serves: tuple[str, ...]
    diaphragm_area: float
    spring_rate: float
    dry_temperature: float | None = None
    meeting_temperature: float | None = None
    flatness: float | None = None

    @property
    def key(self):
        """Plain name that no other element has."""
        return f"{self.charged_with} {self.name} for {self.boxes}"

    @property
    def hardware(self):
        """As a `valve.PowerElement`."""
        fluid, more = refrigerants.get(self.charged_with), {}
        if self.charge == "gas":
            more["limit_pressure"] = float(fluid.dew_pressure(self.dry_temperature))
        if self.charge == "cross":
            more["reference_temperature"] = self.meeting_temperature
            more["flatness"] = self.flatness
        return valve.PowerElement(self.charge, fluid, self.diaphragm_area, **more)


@dataclass(frozen=True)
class Kit:
    """All parts.

    Attributes
    ----------
    notice : str
        The sentence that says it is invented.
    bodies : tuple of Body
    cartridges : tuple of Cartridge
        By construction, smallest first.
    elements : tuple of Element
    strainers : tuple of Strainer
        One of each mesh, of one square metre.
    freezers_below : float
        Evaporating temperature below which a box is a freezer. [K]
    """

    notice: str
    bodies: tuple[Body, ...]
    cartridges: tuple[Cartridge, ...]
    elements: tuple[Element, ...]
    strainers: tuple[Strainer, ...]
    freezers_below: float

    @property
    def sizes(self):
        """Ports of the kit, smallest first, as a tuple [m]."""
        return tuple(sorted({cartridge.port for cartridge in self.cartridges}))


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
