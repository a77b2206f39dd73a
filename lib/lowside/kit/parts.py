"""The parts of a kit: bodies, cartridges, power elements and strainers."""

from __future__ import annotations

from dataclasses import dataclass

from lowside import refrigerants, valve

CONNECTIONS = ("flare", "braze")
EQUALISERS = ("internal", "external")
CONVENTIONAL, BALANCED = "conventional", "balanced"
CONSTRUCTIONS = (CONVENTIONAL, BALANCED)
EITHER = "either"  # for a job that leaves the construction to the kit
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
