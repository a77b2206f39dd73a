"""The front page: the map of the lessons, the market hall, and how typed readings are read."""

from __future__ import annotations

import html

import ipywidgets as widgets

from lowside import lesson as lessons
from lowside import refrigerants, units
from lowside.errors import LowsideError
from lowside.lesson import hall
from lowside.screens.lessons import l22
from lowside.screens.links import linked
from lowside.screens.reader import Units
from lowside.screens.sheet import paragraph
from lowside.screens.text import Words

_COLDEST, _HOTTEST = 73.15, 1273.15  # [K]

#: What the practice box reads: label, kind, and what can be believed [SI].
PRACTICE = {
    "a gauge pressure": ("gauge_pressure", 5.0e3, 1.0e7),
    "a temperature": ("temperature", _COLDEST, _HOTTEST),
    "a temperature difference": ("temperature_difference", -500.0, 500.0),
    "a charge": ("mass", 0.0, 1.0e4),
    "a load": ("capacity", 0.0, 1.0e7),
    "a length": ("length", 0.0, 1.0e4),
    "a vacuum": ("vacuum", 0.0, units.STANDARD_ATMOSPHERE),
}


def front_page(units="us", altitude=0.0):
    """Open the front page.

    Parameters
    ----------
    units : {"us", "metric"}
        The reader's units; they can be changed on the page.
    altitude : float
        Height above sea level. [m]

    Returns
    -------
    FrontPage
        Its methods give the cells.

    Raises
    ------
    UnknownName
        If there is no such system of units.
    OutOfRange
        If the altitude cannot be believed.
    """
    return FrontPage(Units(units, altitude))


class FrontPage:
    """The cells of the front page.

    Parameters
    ----------
    units : Units
        The reader's units, which every cell follows.
    """

    def __init__(self, units):
        self.units = units

    def lesson_map(self):
        """Give the lessons there are, with links, time and what each is good for."""
        return Words(_lesson_map, self.units)

    def first_move(self):
        """Give one figure with one slider: the port of a valve."""
        return l22.first_move(self.units)

    def units_and_altitude(self):
        """Give the choice of units and altitude, and what it does to a gauge."""
        choice = widgets.Box(
            [self.units.buttons(), self.units.altitude_box()],
            layout={"display": "flex", "flex_flow": "row wrap", "align_items": "flex-start"},
        )
        choice.add_class("lowside-row")
        words = Words(_gauges, self.units, [choice])
        sheet, table, choice = words.box.children
        words.box.children = [sheet, choice, table]
        return words

    def practice(self):
        """Give a box that says how what is typed is read."""
        return Practice(self.units)

    def market_hall(self):
        """Give the invented market hall and its boxes."""
        return Words(_market_hall, self.units)


def _table(heads, rows, name="texts"):
    """Write a table as HTML, in a class of the sheet's; cells are HTML already."""
    head = "".join(f'<th scope="col">{h}</th>' for h in heads)
    body = "".join("<tr>" + "".join(f"<td>{c}</td>" for c in row) + "</tr>" for row in rows)
    return f'<table class="lowside-table lowside-{name}"><tr>{head}</tr>{body}</table>'


def _plain(heads, rows):
    return "\n".join(" | ".join(row) for row in [heads, *rows])


def _lesson_map(show):
    heads = ["lesson", "minutes", "afterwards you can"]
    rich, plain = [], []
    for number in lessons.numbers():
        lesson = lessons.get(number)
        goal = lesson.say(lesson.goals[0], show)
        name, _ = linked(number, lesson.title)
        rich.append([f"<b>{number}</b> {name}", str(lesson.minutes), html.escape(goal)])
        plain.append([f"{number} {lesson.title}", str(lesson.minutes), goal])
    return _table(heads, rich), _plain(heads, plain)


def _gauges(show):
    """Say what a gauge shows for some boxes of the hall, here and at sea level."""
    heads = ["box", "evaporates at", "suction gauge here", "absolute pressure"]
    rows = []
    for box in hall.boxes():
        evaporating = box.evaporating_temperature
        pressure = refrigerants.get(box.refrigerant).dew_pressure(evaporating)
        rows.append(
            [
                f"{box.what}, {box.refrigerant}",
                show.text(evaporating, "temperature"),
                show.text(pressure, "gauge_pressure"),
                show.text(pressure, "pressure"),
            ]
        )
    lead = (
        f"The barometer at {show.text(show.altitude, 'altitude')} stands at "
        f"{show.text(show.atmosphere, 'pressure')}. Every gauge counts from there: the same box "
        "shows another pressure at another altitude. Tables and physics use absolute pressure."
    )
    rich = [[html.escape(cell) for cell in row] for row in rows]
    return paragraph(lead, "words") + _table(
        heads, rich, "numbers"
    ), f"{lead}\n{_plain(heads, rows)}"


def _market_hall(show):
    heads = ["box", "refrigerant", "box air", "design load", "on the nameplate"]
    rows = [
        [
            f"{box.stall}: {box.what}",
            box.refrigerant,
            show.text(box.box_temperature, "temperature"),
            show.text(box.design_load, "capacity"),
            show.text(box.charge, "mass"),
        ]
        for box in hall.boxes()
    ]
    notice = hall.hall().notice
    rich = [[html.escape(cell) for cell in row] for row in rows]
    return paragraph(notice, "words") + _table(
        heads, rich, "numbers"
    ), f"{notice}\n{_plain(heads, rows)}"


class Practice:
    """A box to type in, and how lowside reads it: by the unit, and without one as is chosen.

    Parameters
    ----------
    units : Units
        The reader's units.
    """

    def __init__(self, units):
        self._units = units
        self.kind = widgets.Dropdown(
            options=list(PRACTICE),
            description="Without a unit, read it as",
            style={"description_width": "auto"},
            layout={"width": "auto"},
        )
        self.entry = widgets.Text(
            value="68 psig",
            description="Type a reading",
            continuous_update=False,
            style={"description_width": "auto"},
        )
        self.entry.add_class("lowside-entry")
        self._answer = Words(self._read, units)
        self.box = widgets.VBox([self._answer.box.children[0], self.entry, self.kind])
        self.box.children = [*self.box.children, self._answer.box.children[1]]
        self.box.add_class("lowside")
        self.box.add_class("lowside-plain")
        for control in (self.kind, self.entry):
            control.observe(self._answer.refresh, "value")

    @property
    def plain(self):
        """What is said now, as plain text."""
        return self._answer.plain

    def _read(self, show):
        text, chosen = self.entry.value, self.kind.value
        try:
            what, value = self._recognised(show, text, chosen)
        except LowsideError as error:
            sentence = show.explain(error)
            return paragraph(sentence, "alert", "alert"), sentence
        kind = PRACTICE[what][0]
        sentence = f"“{text.strip()}” is read as {what} of {show.text(value, kind)}."
        if kind == "gauge_pressure":
            sentence = sentence.removesuffix(".") + f": {show.text(value, 'pressure')} absolute."
        return paragraph(sentence, "note", "status"), sentence

    @staticmethod
    def _recognised(show, text, chosen):
        """Read a text as what was chosen, or else as the first thing that its unit measures."""
        bare = show.spelled_out(text, PRACTICE[chosen][0]) != text
        refusal = None
        for what in (chosen,) if bare else (chosen, *PRACTICE):
            kind, low, high = PRACTICE[what]
            try:
                return what, show.parse(text, kind, what.removeprefix("a "), low, high)
            except LowsideError as error:
                refusal = refusal or error
        raise refusal

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = dict(self.box._repr_mimebundle_())
        data["text/plain"] = self.plain
        return data
