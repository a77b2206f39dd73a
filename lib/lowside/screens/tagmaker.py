"""Fill in a tag, see it, and save a sheet of them to print."""

from __future__ import annotations

import html

import ipywidgets as widgets

from lowside import refrigerants, valve
from lowside.errors import LowsideError
from lowside.identify.tag import EQUALISERS, MOST_COPIES, SETTINGS, Tag, sheet
from lowside.screens.controls import Choice, Slider
from lowside.screens.sheet import SHEET, download, paragraph
from lowside.system import ports

COPIES = (1, 2, 4, 6, 8, 12, MOST_COPIES)


class TagMaker:
    """Boxes to fill in, the tag as it will print, and a link to save a sheet.

    Parameters
    ----------
    units : Units
        The reader's units; the tag is written in them.
    start : Tag
        What stands in it first.
    title : str
        A line on top.
    """

    def __init__(self, units, start, title="A tag to print"):
        self.units = units
        self._setting = start.superheat
        self.controls = (
            Choice("refrigerant", "Refrigerant", refrigerants.NAMES, start.refrigerant),
            Choice("port", "Port", [(f"{1e3 * p:g} mm", p) for p in ports.KIT], start.port),
            Choice("balanced", "Port is", [("conventional", False), ("balanced", True)]),
            Choice("charge", "Bulb charge", valve.CHARGES, start.charge),
            Choice("equaliser", "Equaliser", EQUALISERS, start.equaliser),
            Choice("copies", "Tags on the sheet", COPIES, 6),
        )
        self.values = {control.name: control.value for control in self.controls}
        self.place = _line("Valve", start.place)
        self.date = _line("Date", start.date, "as 2026-11-25; or by hand")
        self.initials = _line("Initials", start.initials)
        for entry in (self.place, self.date, self.initials):
            entry.observe(self.redraw, names="value")
        self._column = widgets.VBox(layout={"flex": "1 1 230px", "max_width": "420px"})
        self._column.add_class("lowside-controls")
        self._alert, self._shown, self._save = (
            widgets.HTML(layout={"width": "auto"}) for _ in range(3)
        )
        right = widgets.VBox(
            [self._alert, self._shown, self._save],
            layout={"flex": "2 1 400px", "min_width": "0", "overflow": "visible"},
        )
        row = widgets.Box(
            [self._column, right], layout={"display": "flex", "flex_flow": "row wrap"}
        )
        row.add_class("lowside-row")
        top = widgets.HTML(f'<div class="lowside-title">{html.escape(title)}</div>')
        style = widgets.HTML(SHEET, layout={"display": "none"})
        self.box = widgets.VBox([style, top, row])
        self.box.add_class("lowside")
        self.box.add_class("lowside-panel")
        self._use(units.show)
        units.follow(self._use)

    @property
    def tag(self):
        """The tag as it is filled in; raises `LowsideError` where it cannot be one."""
        values = {name: value for name, value in self.values.items() if name != "copies"}
        return Tag(
            place=self.place.value.strip(),
            superheat=self._setting,
            date=self.date.value.strip(),
            initials=self.initials.value.strip(),
            **values,
        )

    def redraw(self, _=None):
        """Draw the tag again, or say in words what stands in the way."""
        show = self.units.show
        try:
            tag = self.tag
        except LowsideError as error:
            self._say(show.explain(error))
            return
        self.role, self._alert.value = "status", ""
        self.words = f"The tag says:\n{tag.text(show)}"
        self.html = sheet(tag, show, 1)
        self._shown.value = self.html
        self._save.value = download(
            sheet(tag, show, self.values["copies"]),
            "Tags",
            "valve-tags.html",
            "Save a sheet of tags to print",
        )

    def _say(self, words):
        self.role, self.words = "alert", words
        self._alert.value = paragraph(words, "alert", "alert")
        self._save.value = ""

    def _changed(self, name, value=None, error=None):
        if error is not None:
            self._say(self.units.show.explain(error))
            return
        if name == "superheat":
            self._setting = value
        else:
            self.values[name] = value
        self.redraw()

    def _use(self, show):
        setting = Slider(
            "superheat",
            "Static superheat (spring)",
            "temperature_difference",
            self._setting,
            *SETTINGS,
        )
        views = [c.view(show, self.values[c.name], self._changed) for c in self.controls]
        self._column.children = [
            self.place,
            *(view.box for view in views[:-1]),
            setting.view(show, self._setting, self._changed).box,
            self.date,
            self.initials,
            views[-1].box,
        ]
        self.redraw()

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = dict(self.box._repr_mimebundle_())
        data["text/html"] = self.html
        data["text/plain"] = self.words
        return data


def _line(label, value, hint="or by hand"):
    entry = widgets.Text(
        value=value,
        description=label,
        placeholder=hint,
        style={"description_width": "auto"},
        layout={"width": "auto", "margin": "0"},
    )
    entry.add_class("lowside-entry")
    entry.add_class("lowside-line")
    return entry
