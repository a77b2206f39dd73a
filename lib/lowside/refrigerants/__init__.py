"""Refrigerants: saturation, states, superheat and subcooling, safety facts.

>>> propane = get("R-290")
>>> print(f"{propane.dew_temperature(475e3) - 273.15:.2f} °C")
0.04 °C

Properties come from tables in ``data/properties``, so CoolProp is imported only to build tables, to
compare (`direct`) or to add a fluid (`add`). Valid from -60 °C dew up to 0.9 of the critical
pressure, for vapour up to 120 K above dew and for liquid at least 40 K below bubble (R404A and
R507A less where it is cold: their equations of state end at -73 °C).
"""

from __future__ import annotations

from functools import cache

from .. import store
from ..errors import UnknownName
from .facts import NAMES, Facts, official_name
from .facts import of as facts_of
from .fluid import Refrigerant
from .states import Saturation, State
from .tables import Table

__all__ = [
    "NAMES",
    "Facts",
    "Refrigerant",
    "Saturation",
    "State",
    "add",
    "direct",
    "facts_of",
    "get",
    "official_name",
]

_added = {}


@cache
def _load(name):
    return Refrigerant(facts_of(name), Table(**store.load_table(f"properties/{name}.npz")))


def get(name):
    """Give a refrigerant by name.

    Parameters
    ----------
    name : str
        In any usual spelling: ``"R448A"``, ``"r-448a"``, ``"propane"``.

    Returns
    -------
    Refrigerant
        The same object each time.

    Raises
    ------
    UnknownName
        If there is no such refrigerant here.
    DataDamaged
        If its table is missing or damaged.
    """
    if str(name) in _added:
        return _added[str(name)]
    return _load(official_name(name))


def direct(name):
    """Give CoolProp itself for a refrigerant, one state at a time, to compare with the table.

    Parameters
    ----------
    name : str
        In any usual spelling.

    Returns
    -------
    coolprop.Direct
        Its ``saturated(pressure, quality)`` and ``single(pressure, temperature, vapour)`` give
        temperature, enthalpy, entropy and specific volume in SI units, IIR reference.

    Raises
    ------
    UnknownName
        If there is no such refrigerant here.
    """
    from .coolprop import Direct

    return Direct(get(name).facts.coolprop)


def add(name, coolprop=None, **facts):
    """Add a refrigerant for this session: its table is computed from CoolProp, in seconds.

    Parameters
    ----------
    name : str
        Name under which `get` will find it, such as ``"R32"``.
    coolprop : str, optional
        CoolProp's name, if it is another; blends end in ``.mix``.
    **facts
        Further fields of `Facts`, such as ``safety_class="A2L"``.

    Returns
    -------
    Refrigerant

    Raises
    ------
    UnknownName
        If CoolProp does not know the fluid.
    """
    from . import build
    from .coolprop import Direct

    coolprop = coolprop or name
    try:
        source = Direct(coolprop)
    except ValueError:
        raise UnknownName("refrigerant", name, NAMES) from None
    composition = {component: float(mass) for component, mass, _ in source.components()}
    known = Facts(name, coolprop, composition, source.molar_mass, **facts)
    _added[name] = Refrigerant(known, build.make(coolprop))
    return _added[name]
