"""The fields of the symptom page: the box, its air, what was read, what was looked for."""

from __future__ import annotations

from dataclasses import dataclass

import ipywidgets as widgets

from lowside import refrigerants
from lowside.diagnosis import evidence, looks
from lowside.lesson import l52_boxes
from lowside.screens.controls import Choice, Typed, View
from lowside.screens.sheet import paragraph
from lowside.system.sized import AMBIENT, BOX_AIR, CAPACITY, METERINGS

#: What can be believed of each kind of reading [SI].
BELIEVED = {
    "gauge_pressure": (2.0e3, 6.0e6),
    "temperature": (203.15, 473.15),
    "temperature_difference": (-30.0, 60.0),
    "current": (0.01, 200.0),
    "power": (1.0, 5.0e4),
    "charge": (1e-3, 50.0),
}
FIRST = (
    "suction_pressure",
    "suction_temperature",
    "head_pressure",
    "liquid_temperature",
    "discharge_temperature",
)
MORE = tuple(key for key in evidence.KEYS if key not in FIRST)
LOOKS = {look.key: look for look in (*looks.ALL, looks.BUBBLES)}

_ANSWERS = {"not looked": None, "yes": True, "no": False}
_WRITTEN = {answer: words for words, answer in _ANSWERS.items()}


@dataclass(frozen=True)
class Ask:
    """A question answered by yes, by no, or not at all: three buttons."""

    name: str
    label: str
    caution: str = ""
    value: object = None

    def check(self, value):
        """Return the answer: True, False or None."""
        return None if value is None else bool(value)

    def view(self, show, value, changed, text=None):
        """Make the widgets."""
        return _AskView(self, show, value, changed)


class _AskView(View):
    def __init__(self, control, show, value, changed):
        self.entry = widgets.ToggleButtons(
            options=list(_ANSWERS),
            value=_WRITTEN[value],
            description=control.label,
            style={"description_width": "auto", "button_width": "auto"},
            layout={"width": "auto", "margin": "0"},
        )
        self.entry.add_class("lowside-ask")
        self.caution = widgets.HTML(care(control.caution), layout={"width": "auto"})
        super().__init__(control, show, changed)
        self._observe(self.entry, lambda answer: self.tell(_ANSWERS[answer]))

    def _widgets(self):
        return [self.entry, self.caution]

    def _put(self, value):
        self.entry.value = _WRITTEN[value]


def care(caution):
    """Write a caution small, to stand beside what it is about.

    Parameters
    ----------
    caution : str
        May be empty.

    Returns
    -------
    str
        HTML.
    """
    return paragraph(f"Caution: {caution}", "care") if caution else ""


def cautions(keys):
    """Write the cautions of some measurements, each with its name.

    Parameters
    ----------
    keys : sequence of str
        Of ``evidence.KEYS``.

    Returns
    -------
    str
        HTML.
    """
    found = (evidence.get(key) for key in keys)
    return "".join(care(f"{each.label}. {each.caution}") for each in found if each.caution)


def box_control(start):
    """Offer every box there is.

    Parameters
    ----------
    start : str
        Name of the first one.

    Returns
    -------
    Choice
    """
    known = [(l52_boxes.label(name), name) for name in l52_boxes.names()]
    return Choice("name", "Which box?", [*known, ("another: describe it", _OTHER)], start)


_OTHER = l52_boxes.DESCRIBED

#: The six fields of a box that is in no list.
DESCRIPTION = (
    Choice("refrigerant", "Refrigerant", refrigerants.NAMES, "R290"),
    Choice("metering", "Fed by", METERINGS),
    Choice("receiver", "Receiver", [("no", False), ("yes", True)]),
    Typed("box_temperature", "Should hold", "temperature", 276.15, *BOX_AIR, blank=False),
    Typed("capacity", "Cooling capacity", "capacity", 1000.0, *CAPACITY, blank=False),
    Typed("nameplate", "Charge on the nameplate", "charge", None, 5e-3, 50.0),
)
AIR = (
    Typed("box_air", "Air in the box", "temperature", None, BOX_AIR[0] - 10.0, 313.15),
    Typed("ambient_air", "Air at the condenser", "temperature", None, *AMBIENT),
)


def readings_controls(keys):
    """Give a field for each measurement.

    Parameters
    ----------
    keys : sequence of str
        Of ``evidence.KEYS``.

    Returns
    -------
    tuple of Typed
    """
    return tuple(
        Typed(
            key,
            evidence.get(key).label[0].upper() + evidence.get(key).label[1:],
            evidence.get(key).kind,
            None,
            *BELIEVED[evidence.get(key).kind],
        )
        for key in keys
    )


def looks_controls():
    """Give three buttons for each look.

    Returns
    -------
    tuple of Ask
    """
    return tuple(Ask(key, look.question, look.caution) for key, look in LOOKS.items())


def fits(name, situation):
    """Whether a reading or a look makes sense at a kind of box.

    Parameters
    ----------
    name : str
        Of a control.
    situation : faults.Situation

    Returns
    -------
    bool
    """
    if name == "stem_answer":
        return situation.box.has_valve
    return name not in LOOKS or situation.family in LOOKS[name].fits


def column(*children):
    """Put widgets under each other.

    Parameters
    ----------
    *children : ipywidgets.Widget

    Returns
    -------
    ipywidgets.VBox
    """
    return widgets.VBox(children, layout={"width": "auto", "overflow": "visible"})


def text(value=""):
    """Make room for HTML.

    Parameters
    ----------
    value : str
        HTML that stands there first.

    Returns
    -------
    ipywidgets.HTML
    """
    return widgets.HTML(value, layout={"width": "auto", "margin": "0"})


def fold(title, box, opened=False):
    """Fold a part of the page away under its title.

    Parameters
    ----------
    title : str
    box : ipywidgets.Widget
    opened : bool
        Whether it stands open at first.

    Returns
    -------
    ipywidgets.Accordion
    """
    made = widgets.Accordion([box], titles=[title], selected_index=0 if opened else None)
    made.add_class("lowside-folds")
    return made
