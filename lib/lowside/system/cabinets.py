"""The invented cabinets of ``data/cabinets.toml``: whole circuits, ready to be solved.

>>> from lowside import system
>>> cabinet = system.cabinets.get("propane-reach-in")
>>> point = system.solve_box(cabinet.box, *cabinet.air, cabinet.charge)
>>> point.status_name
'solved'
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from lowside import captube, charge, coils, refrigerants, store, units, valve
from lowside.compressor import Compressor
from lowside.errors import DataDamaged, LowsideError, UnknownName

from .closed import Box

FILE = "cabinets.toml"

# End of a key -> its unit in SI.
_UNITS = {
    "_W_K": 1.0,
    "_m3_h": 1.0 / units.HOUR,
    "_cm3": 1e-6,
    "_rpm": 1.0 / 60.0,
    "_bar": 1e5,
    "_kg": 1.0,
    "_mm": 1e-3,
    "_mL": 1e-6,
    "_L": 1e-3,
    "_K": 1.0,
    "_V": 1.0,
    "_m": 1.0,
}


@dataclass(frozen=True)
class Cabinet:
    """An invented cabinet and the day it was designed for.

    Attributes
    ----------
    key, what : str
        Name, and what it is.
    charge : float
        On its nameplate. [kg]
    box_temperature, ambient_temperature : float
        Air entering evaporator and condenser at design. [K]
    box : closed.Box
    """

    key: str
    what: str
    charge: float
    box_temperature: float
    ambient_temperature: float
    box: Box

    @property
    def air(self):
        """Air entering evaporator and condenser at design, as `solve_box` takes it [K]."""
        return self.box_temperature, self.ambient_temperature


def names():
    """Names of the cabinets.

    Returns
    -------
    tuple of str
    """
    return tuple(_data()["cabinets"])


@cache
def get(name):
    """One of the cabinets.

    Parameters
    ----------
    name : str
        One of `names`.

    Returns
    -------
    Cabinet

    Raises
    ------
    UnknownName
        If there is no such cabinet.
    DataDamaged
        If the file does not describe a box that could exist.
    """
    if name not in names():
        raise UnknownName("cabinet", name, names())
    try:
        return _built(name, _Section(name, _data()["cabinets"][name]))
    except LowsideError as problem:
        raise DataDamaged(f"{FILE}, cabinet {name}: {problem}") from problem


@cache
def _data():
    return store.read_toml(FILE)


class _Section:
    """A table of the file: numbers in SI by their plain name, every key used exactly once."""

    def __init__(self, name, table):
        self.name, self.sections, self.values = name, {}, {}
        for key, value in table.items():
            if isinstance(value, dict):
                self.sections[key] = _Section(f"{name}.{key}", value)
                continue
            plain, value = _in_si(key, value)
            self.values[plain] = value

    def take(self, name, *default):
        """Take a value out; what is not taken by the end is a misspelt key."""
        try:
            return self.values.pop(name, *default)
        except KeyError:
            raise DataDamaged(f"[{self.name}] has no {name}.") from None

    def section(self, name):
        """Take a table out, None if it is not there."""
        return self.sections.pop(name, None)

    def finish(self):
        """Refuse what nobody asked for."""
        left = [*self.values, *self.sections]
        if left:
            raise DataDamaged(f"[{self.name}] has {', '.join(left)}, which nothing reads.")


def _in_si(key, value):
    if key.endswith("_C"):
        return key[:-2], value + units.ICE_POINT
    for end, factor in _UNITS.items():
        if key.endswith(end):
            return key.removesuffix(end), value * factor
    return key, value


def _built(name, table):
    fluid = refrigerants.get(table.take("refrigerant"))
    parts = {part: table.section(part) for part in ("compressor", "condenser", "evaporator")}
    for part, section in parts.items():
        if section is None:
            raise DataDamaged(f"[{name}] has no {part}.")
    machine = parts["compressor"]
    lines = table.section("lines") or _Section(f"{name}.lines", {})
    switches = table.section("switches") or _Section(f"{name}.switches", {})
    box = Box(
        refrigerant=fluid,
        compressor=Compressor(
            machine.take("displacement") * machine.take("speed"),
            shell_loss=machine.take("shell_loss"),
        ),
        condenser=_coil(parts["condenser"]),
        evaporator=_coil(parts["evaporator"]),
        metering=_metering(table, fluid),
        liquid_line=charge.Tube(lines.take("liquid_bore"), lines.take("liquid_length")),
        suction_line=charge.Tube(lines.take("suction_bore"), lines.take("suction_length")),
        discharge_line=charge.Tube(lines.take("discharge_bore"), lines.take("discharge_length")),
        oil=charge.Oil(machine.take("oil"), chi=machine.take("oil_chi")),
        drier=lines.take("drier"),
        shell=machine.take("shell_volume"),
        receiver=lines.take("receiver", 0.0),
        exchange=lines.take("exchange", 0.0),
        suction_gain=lines.take("suction_gain", 0.0),
        liquid_loss=lines.take("liquid_loss", 0.0),
        high_cut_out=switches.take("high", None),
        low_cut_out=switches.take("low", None),
        voltage=machine.take("voltage", 230.0),
        phases=machine.take("phases", 1),
    )
    cabinet = Cabinet(
        key=name,
        what=table.take("what"),
        charge=table.take("charge"),
        box_temperature=table.take("box_temperature"),
        ambient_temperature=table.take("ambient_temperature"),
        box=box,
    )
    for section in (table, lines, switches, *parts.values()):
        section.finish()
    return cabinet


def _coil(section):
    return coils.FinCoil(
        inner_diameter=section.take("bore"),
        length=section.take("length"),
        circuits=section.take("circuits"),
        air_conductance=section.take("air_conductance"),
        air_flow=section.take("air_flow"),
    )


def _metering(table, fluid):
    tube, section = table.section("capillary"), table.section("valve")
    if (tube is None) == (section is None):
        raise DataDamaged(f"[{table.name}] needs either a valve or a capillary.")
    if tube is not None:
        device = captube.CapTube(tube.take("bore"), tube.take("length"))
        tube.finish()
        return device
    device = valve.Valve(
        port=valve.standard_port(section.take("port"), section.take("balance", 0.0)),
        element=valve.PowerElement("liquid", fluid),
        spring=valve.Spring(
            static_superheat=section.take("static_superheat"),
            evaporating_temperature=section.take("set_at"),
            pressure_difference=section.take("set_at_difference"),
        ),
        external_equaliser=section.take("equaliser") == "external",
    )
    section.finish()
    return device
