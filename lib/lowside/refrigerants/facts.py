"""What each refrigerant is: composition, safety class, flammability, warming potential."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

from .. import store
from ..errors import UnknownName

NAMES = (
    "R290",
    "R600a",
    "R134a",
    "R404A",
    "R507A",
    "R448A",
    "R449A",
    "R454C",
    "R455A",
    "R513A",
    "R452A",
    "R22",
    "R1234yf",
)


@dataclass(frozen=True)
class Facts:
    """What is known about a refrigerant besides its properties.

    Attributes
    ----------
    name : str
        Such as ``"R448A"``.
    coolprop : str
        Name under which CoolProp knows it.
    composition : dict of str to float
        Component to mass fraction.
    molar_mass : float
        [kg/mol]
    safety_class : str or None
        ``"A1"``, ``"A2L"`` or ``"A3"``.
    lfl : float or None
        Lower flammability limit [kg/m3]; None where there is none.
    rcl : float or None
        Refrigerant concentration limit [kg/m3]; None where we have no value.
    practical_limit : float or None
        Practical limit for occupied rooms [kg/m3]; None where we have no value.
    gwp : dict of str to float
        Global warming potential over 100 years by assessment report: ``"AR4"``, ``"AR5"``,
        ``"AR6"``; a report is left out where we have no value for a component.
    sources : dict of str to str
        Where each field comes from, and whether it was read there or is from memory.
    """

    name: str
    coolprop: str
    composition: dict[str, float]
    molar_mass: float
    safety_class: str | None = None
    lfl: float | None = None
    rcl: float | None = None
    practical_limit: float | None = None
    gwp: dict[str, float] = field(default_factory=dict)
    sources: dict[str, str] = field(default_factory=dict)

    @property
    def is_blend(self):
        """Whether it has more than one component."""
        return len(self.composition) > 1

    @property
    def is_flammable(self):
        """Whether it can form a flammable mixture with air (any class but 1)."""
        return self.lfl is not None


@cache
def _data():
    return store.read_toml("refrigerants.toml")


def _plain(name):
    return "".join(c for c in str(name).casefold() if c.isalnum())


@cache
def _spellings():
    spellings = {}
    for name in NAMES:
        for spelling in (name, *_data()["refrigerants"][name].get("aliases", ())):
            spellings[_plain(spelling)] = name
    return spellings


def official_name(name):
    """Find the name as we write it, from however it was typed.

    Parameters
    ----------
    name : str
        Such as ``"r448a"``, ``"R-448A"``, ``"448A"`` or ``"propane"``.

    Returns
    -------
    str
        Such as ``"R448A"``.

    Raises
    ------
    UnknownName
        If there is no such refrigerant here.
    """
    plain = _plain(name)
    found = _spellings().get(plain) or _spellings().get("r" + plain)
    if found is None:
        raise UnknownName("refrigerant", name, NAMES)
    return found


@cache
def of(name):
    """Facts about one of the shipped refrigerants.

    Parameters
    ----------
    name : str
        In any spelling `official_name` understands.

    Returns
    -------
    Facts

    Raises
    ------
    UnknownName
        If there is no such refrigerant here.
    """
    name = official_name(name)
    entry = _data()["refrigerants"][name]
    components = _data()["components"]
    composition = entry["composition"]
    moles = sum(part / components[c]["molar_mass"] for c, part in composition.items())
    reports = [
        report
        for report in ("AR4", "AR5", "AR6")
        if all(report in components[c]["gwp"] for c in composition)
    ]
    return Facts(
        name=name,
        coolprop=entry["coolprop"],
        composition=composition,
        molar_mass=sum(composition.values()) / moles,
        safety_class=entry["safety_class"],
        lfl=entry.get("lfl"),
        rcl=entry.get("rcl"),
        practical_limit=entry.get("practical_limit"),
        gwp={
            report: sum(part * components[c]["gwp"][report] for c, part in composition.items())
            for report in reports
        },
        sources={
            key: f"{entry['text']} ({entry['status']})" for key, entry in _data()["sources"].items()
        },
    )
