"""The invented market hall in which every call of the lessons takes place.

``data/market_hall.toml`` describes its boxes in document units, a key ending in its unit
(``box_temperature_C``); here they become frozen SI dataclasses. Readings are not in the file: they
are computed from the box when a lesson needs them.
"""

from __future__ import annotations

from dataclasses import MISSING, dataclass, field, fields
from functools import cache

from lowside import refrigerants, store, units
from lowside.errors import DataDamaged, UnknownName

FILE = "market_hall.toml"

QUARTER_TON = 0.25 * units.TON  # [W]
FIVE_TONS = 5.0 * units.TON  # [W]

# Unit at the end of a key -> name in units.UNITS.
_SUFFIXES = {
    "C": "degC",
    "K": "K_difference",
    "W": "W",
    "kg": "kg",
    "mm": "mm",
    "m": "m",
    "rpm": "rpm",
}


def _number(unit, low, high, default=MISSING):
    """Field holding a number: unit of its key in the file ("" for none) and range in that unit."""
    return field(default=default, metadata={"unit": unit, "low": low, "high": high})


def _choice(*choices):
    """Field holding one of a few words."""
    return field(metadata={"choices": choices})


@dataclass(frozen=True, kw_only=True)
class ExpansionValve:
    """Thermostatic expansion valve of a box.

    Attributes
    ----------
    port : float
        Port diameter. [m]
    balance : float
        Share of the port force that a balanced port takes off the pin: 0 conventional, 1 perfect.
    bulb_charge : str
        ``"liquid"``, ``"cross"`` or ``"gas"``.
    equaliser : str
        ``"internal"`` or ``"external"``.
    static_superheat : float
        Bulb superheat at which it just opens, at the box's design evaporating temperature. [K]
    mop_temperature : float or None
        Evaporating temperature at which a gas charge runs dry and the valve closes, the head as
        at the design point. [K]
    """

    port: float = _number("mm", 0.3, 8.0)
    balance: float = _number("", 0.0, 1.0)
    bulb_charge: str = _choice("liquid", "cross", "gas")
    equaliser: str = _choice("internal", "external")
    static_superheat: float = _number("K", 1.0, 12.0)
    mop_temperature: float | None = _number("C", -40.0, 20.0, default=None)


@dataclass(frozen=True, kw_only=True)
class CapillaryTube:
    """Capillary tube of a box.

    Attributes
    ----------
    bore : float
        Inner diameter. [m]
    length : float
        Length. [m]
    """

    bore: float = _number("mm", 0.4, 3.0)
    length: float = _number("m", 0.5, 6.0)


@dataclass(frozen=True, kw_only=True)
class Box:
    """One cooler or freezer of the hall.

    Attributes
    ----------
    key : str
        Name by which lessons ask for it.
    stall, what, holds : str
        Where it stands, what it is, what is in it.
    refrigerant : str
        One of ``refrigerants.NAMES``.
    charge : float
        Refrigerant on the nameplate. [kg]
    receiver : bool
        Whether it has one.
    box_temperature : float
        Air returning to the evaporator at design. [K]
    design_load : float
        Cooling the box needs at its worst hour. [W]
    evaporator_difference : float
        Box air minus evaporating dew temperature at design. [K]
    condenser_difference : float
        Condensing dew temperature minus air entering the condenser at design. [K]
    summer_ambient, winter_ambient : float
        Air entering the condenser. [K]
    compressor_speed : float
        Revolutions. [1/s]
    lowest_condensing : float or None
        Where head-pressure control holds condensing in the cold; ``None`` without it. [K]
    metering : ExpansionValve or CapillaryTube
        What feeds the evaporator.
    """

    key: str
    stall: str
    what: str
    holds: str
    refrigerant: str = _choice(*refrigerants.NAMES)
    charge: float = _number("kg", 0.02, 20.0)
    receiver: bool
    box_temperature: float = _number("C", -30.0, 15.0)
    design_load: float = _number("W", QUARTER_TON, FIVE_TONS)
    evaporator_difference: float = _number("K", 3.0, 15.0)
    condenser_difference: float = _number("K", 5.0, 25.0)
    summer_ambient: float = _number("C", 10.0, 50.0)
    winter_ambient: float = _number("C", -30.0, 30.0)
    compressor_speed: float = _number("rpm", 500.0, 7500.0)
    lowest_condensing: float | None = _number("C", 5.0, 40.0, default=None)
    metering: ExpansionValve | CapillaryTube

    @property
    def evaporating_temperature(self):
        """Evaporating dew temperature at design [K]."""
        return self.box_temperature - self.evaporator_difference

    @property
    def summer_condensing(self):
        """Condensing dew temperature at design in summer [K]."""
        return self.condensing_temperature(self.summer_ambient)

    @property
    def winter_condensing(self):
        """Condensing dew temperature at design in winter [K]."""
        return self.condensing_temperature(self.winter_ambient)

    def condensing_temperature(self, ambient):
        """Condensing dew temperature at the design load.

        Parameters
        ----------
        ambient : float
            Air entering the condenser. [K]

        Returns
        -------
        float
            Condensing dew temperature, no lower than head-pressure control allows. [K]
        """
        condensing = ambient + self.condenser_difference
        if self.lowest_condensing is None:
            return condensing
        return max(condensing, self.lowest_condensing)

    def describe(self, show):
        """Describe the box in one sentence.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            Place, box, contents, refrigerant, charge, temperature and load.
        """
        if isinstance(self.metering, ExpansionValve):
            port = show.text(self.metering.port, "port")
            port_type = "balanced" if self.metering.balance > 0.5 else "conventional"
            feed = f"a thermostatic valve with a {port} {port_type} port"
        else:
            feed = "a capillary tube"
        return (
            f"{self.stall}: {self.what} with {self.holds}. {self.refrigerant}, "
            f"{show.text(self.charge, 'mass')} on the nameplate, fed by {feed}. "
            f"Kept at {show.text(self.box_temperature, 'temperature')}; "
            f"design load {show.text(self.design_load, 'capacity')}."
        )


@dataclass(frozen=True)
class Hall:
    """The market hall.

    Attributes
    ----------
    name : str
        What it is called.
    notice : str
        The sentence that says it is invented; belongs on everything printed from it.
    altitude : float
        Height above sea level. [m]
    boxes : dict of str to Box
        Its boxes by key.
    """

    name: str
    notice: str
    altitude: float
    boxes: dict[str, Box]


@cache
def hall():
    """Read the market hall from data/.

    Returns
    -------
    Hall
        The hall with all its boxes.

    Raises
    ------
    DataDamaged
        If the file is damaged, or says something no box can be.
    """
    return read(store.read_toml(FILE))


def boxes():
    """List all boxes of the hall, in the order of the file.

    Returns
    -------
    tuple of Box
        The boxes.
    """
    return tuple(hall().boxes.values())


def box(key):
    """Get one box of the hall.

    Parameters
    ----------
    key : str
        Such as ``"butcher-walk-in"``.

    Returns
    -------
    Box
        The box.

    Raises
    ------
    UnknownName
        If there is no such box.
    """
    try:
        return hall().boxes[key]
    except KeyError:
        raise UnknownName("box in the market hall", key, hall().boxes) from None


def read(document):
    """Turn the content of the file into a hall, checking every field.

    Parameters
    ----------
    document : dict
        Content of the TOML file.

    Returns
    -------
    Hall
        The hall.

    Raises
    ------
    DataDamaged
        In one sentence that names the box, the field, what is there and what is valid.
    """
    found = {key: _box(key, dict(entries)) for key, entries in document["boxes"].items()}
    return Hall(document["name"], document["notice"], float(document["altitude_m"]), found)


def _box(key, entries):
    where = f"{FILE}, box {key}"
    feeds = [name for name in ("valve", "capillary") if name in entries]
    if len(feeds) != 1:
        raise DataDamaged(f"{where}: it needs either a valve or a capillary, and not both.")
    kind = ExpansionValve if feeds == ["valve"] else CapillaryTube
    metering = _read(kind, dict(entries.pop(feeds[0])), f"{where}, {feeds[0]}")
    made = _read(Box, entries, where, key=key, metering=metering)
    if made.winter_ambient > made.summer_ambient:
        raise DataDamaged(f"{where}: winter_ambient_C is above summer_ambient_C.")
    if kind is ExpansionValve and (metering.bulb_charge == "gas") != bool(metering.mop_temperature):
        raise DataDamaged(f"{where}, valve: mop_temperature_C goes with a gas charge, and only so.")
    return made


def _read(kind, entries, where, **given):
    """Make a dataclass from file entries; each must be there, be known and be sensible."""
    values = dict(given)
    for item in fields(kind):
        if item.name in given:
            continue
        unit = item.metadata.get("unit")
        key = f"{item.name}_{unit}" if unit else item.name
        if key in entries:
            values[item.name] = _checked(item, entries.pop(key), f"{where}: {key}")
        elif item.default is MISSING:
            raise DataDamaged(f"{where}: {key} is missing.")
    if entries:
        raise DataDamaged(f"{where}: there is no field called {', '.join(sorted(entries))}.")
    return kind(**values)


def _checked(item, value, where):
    rules = item.metadata
    if "unit" in rules:
        low, high = rules["low"], rules["high"]
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not is_number or not low <= value <= high:
            raise DataDamaged(f"{where} is {value!r}; it must be between {low:g} and {high:g}.")
        return units.to_si(value, _SUFFIXES[rules["unit"]]) if rules["unit"] else float(value)
    if "choices" in rules and value not in rules["choices"]:
        raise DataDamaged(f"{where} is {value!r}; it must be one of {', '.join(rules['choices'])}.")
    if "choices" not in rules:
        wanted, in_words = (bool, "true or false") if item.type == "bool" else (str, "text")
        if not isinstance(value, wanted) or value == "":
            raise DataDamaged(f"{where} is {value!r}; it must be {in_words}.")
    return value
