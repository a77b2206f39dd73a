"""The symptom page: a form on the left, what it points to on the right, and how to keep both.

Nothing typed is ever lost: what cannot be used is answered beside its field and left out of the
answer until it is mended. The first answer on a box solves all its suspects; after that, one more
reading only compares.
"""

from __future__ import annotations

import html
from contextlib import contextmanager

import ipywidgets as widgets

from lowside.diagnosis import evidence, record, sense
from lowside.errors import LowsideError
from lowside.lesson import l52_boxes
from lowside.screens import symptom_answer, symptom_form
from lowside.screens.sheet import SHEET, download, listed, offered, paragraph
from lowside.screens.symptom_form import LOOKS, column, fold, text
from lowside.system import Description

_DESCRIBED = {c.name: c.name.replace("nameplate", "charge") for c in symptom_form.DESCRIPTION}
_AIR = {"box_air": "box_temperature", "ambient_air": "ambient_temperature"}
_SEEN = {True: "yes", False: "no"}
WORKING = "Working out what every suspect would show on this box …"


class SymptomPage:
    """Form and answer.

    Parameters
    ----------
    units : Units
        The reader's units; the page follows them.
    examples : dict of str to callable
        Buttons that fill the form, each with what gives a ``record.Record``.
    start : record.Record
        What stands in it first.
    title : str
        A line on top.
    """

    def __init__(self, units, examples, start, title="A strange symptom"):
        self.units, self.examples = units, examples
        first = (symptom_form.readings_controls(symptom_form.FIRST), symptom_form.AIR)
        self._groups = {
            "box": (symptom_form.box_control(start.box["name"]),),
            "description": symptom_form.DESCRIPTION,
            "air": first[1],
            "readings": first[0],
            "more": symptom_form.readings_controls(symptom_form.MORE),
            "looks": symptom_form.looks_controls(),
        }
        self.controls = {c.name: c for group in self._groups.values() for c in group}
        self._values = {name: control.value for name, control in self.controls.items()}
        self._problems, self._holding, self._dirty, self._last = {}, 0, False, None
        self.answer, self.role, self.words = None, "status", ""
        self._build(title)
        self.fill(start)
        units.follow(self._use)

    def values(self):
        """Return the SI values by name; None where something was left blank."""
        return dict(self._values)

    def set(self, **values):
        """Set fields to SI values, with one new answer for all of them.

        Raises
        ------
        OutOfRange
            If a value cannot be believed.
        """
        checked = {name: self.controls[name].check(value) for name, value in values.items()}
        with self.hold():
            for name, value in checked.items():
                self.views[name].write(value)
                self._changed(name, value)

    def empty(self, _=None):
        """Clear all that was read and seen; the box stays."""
        kept = ("name", *_DESCRIBED)
        with self.hold():
            self.set(**{name: None for name in self.controls if name not in kept})
            self.note.value = ""
            self._told.value = ""
            self._dirty = True

    def fill(self, page):
        """Put a saved page into the form; what it does not hold is cleared.

        Parameters
        ----------
        page : record.Record

        Returns
        -------
        list of str
            One sentence for each entry that could not be used.
        """
        with self.hold():
            self.empty()
            problems = []
            for name, value in self._entries(page, problems):
                try:
                    self.set(**{name: value})
                except LowsideError as error:
                    problems.append(self.units.show.explain(error))
            self.note.value = page.note
        return problems

    def saved(self):
        """Give what the form holds.

        Returns
        -------
        record.Record
        """
        values = self._values
        if values["name"] == l52_boxes.DESCRIBED:
            box = {
                field: values[name]
                for name, field in _DESCRIBED.items()
                if values[name] is not None
            }
            box["receiver"] = _SEEN[values["receiver"]]
        else:
            box = {"name": values["name"]}
        return record.Record(
            box=box,
            air={key: values[name] for name, key in _AIR.items() if values[name] is not None},
            readings={key: values[key] for key in evidence.KEYS if values[key] is not None},
            seen={key: values[key] for key in LOOKS if values[key] is not None},
            note=self.note.value.strip(),
        )

    def open_file(self, data):
        """Open a saved page; nothing changes if it is no such file.

        Parameters
        ----------
        data : bytes
            Of a file.
        """
        try:
            page, problems = record.opened(data)
        except LowsideError as error:
            self._told.value = paragraph(f"{error} The form is as it was.", "alert", "alert")
            return
        problems = [*problems, *self.fill(page)]
        if problems:
            said = listed("Opened; left out was", problems)
            self._told.value = f'<div class="lowside-alert" role="alert">{said}</div>'
        else:
            self._told.value = paragraph("Opened.", "good", "status")

    @contextmanager
    def hold(self):
        """Merge all changes made inside into one new answer."""
        self._holding += 1
        try:
            yield self
        finally:
            self._holding -= 1
            if not self._holding and self._dirty:
                self.redraw()

    def advise(self, heading, lines):
        """Put a short list under the form.

        Parameters
        ----------
        heading : str
        lines : callable
            ``lines(show)`` returns the list in the reader's units.
        """
        self._advice = heading, lines
        self._notes.value = listed(heading, lines(self.units.show), "ol")

    def redraw(self, _=None):
        """Answer what the form says now, or say what stands in the way."""
        if self._holding:
            self._dirty = True
            return
        self._dirty = False
        show, page = self.units.show, self.saved()
        try:
            known = self._known()
        except LowsideError as error:
            self.role, self.words = "alert", show.explain(error)
            self._headline.value = paragraph(self.words, "alert", "alert")
            self._body.add_class("lowside-stale")
            return
        self._body.remove_class("lowside-stale")
        situation = known.suspects.situation
        for name, view in self.views.items():
            view.box.layout.display = "" if symptom_form.fits(name, situation) else "none"
        fitting = {key: v for key, v in page.readings.items() if symptom_form.fits(key, situation)}
        seen = {key: v for key, v in page.seen.items() if symptom_form.fits(key, situation)}
        air = {key: page.air.get(key) for key in _AIR.values()}
        fluid = situation.box.refrigerant
        checked = sense.screened(fluid, fitting, **air, atmosphere=show.atmosphere)
        self.answer = symptom_answer.answer(known, checked, seen, self._place(), show, page.note)
        self.role, self.words = "status", self.answer.plain
        left = [f"‘{self.controls[name].label}’" for name in self._problems]
        out = f"Left out until mended or cleared: {' and '.join(left)}." if left else ""
        if self._problems:
            first = next(iter(self._problems.values()))
            self.role, self.words = "alert", f"{show.explain(first)} {out}"
        self._headline.value = (
            f'<div class="lowside-headline" role="status">{self.answer.headline}'
            f"{paragraph(out, 'alert')}</div>"
        )
        noted = "".join(paragraph(line, "call") for line in self.answer.note)
        self._body.value = self.answer.body
        self._order.value, self._against.value = noted, self.answer.against
        self._offer(page)

    def _known(self):
        values = self._values
        box = values["name"]
        if box == l52_boxes.DESCRIBED:
            bad = [name for name in _DESCRIBED if name in self._problems]
            if bad:
                raise self._problems[bad[0]]
            box = Description(**{field: values[name] for name, field in _DESCRIBED.items()})
        asked = box, values["box_air"], values["ambient_air"]
        if asked != self._last:
            self._headline.value = paragraph(WORKING, "note", "status")
        known = l52_boxes.known(*asked)
        self._last = asked
        return known

    def _place(self):
        values, show = self._values, self.units.show
        if values["name"] != l52_boxes.DESCRIBED:
            return l52_boxes.label(values["name"])
        receiver = "with" if values["receiver"] else "without"
        return (
            f"{values['refrigerant']} with {values['metering']}, {receiver} receiver, "
            f"{show.text(values['capacity'], 'capacity')} at "
            f"{show.text(values['box_temperature'], 'temperature')}"
        )

    def read(self):
        """Give what was read and seen, in the reader's units.

        Returns
        -------
        list of (str, str)
        """
        show, page = self.units.show, self.saved()
        lines = [
            (self.controls[name].label, show.text(page.air[key], "temperature"))
            for name, key in _AIR.items()
            if key in page.air
        ]
        for key, value in page.readings.items():
            what = evidence.get(key)
            lines.append((what.label, show.text(value, what.kind)))
        return lines + [(LOOKS[key].question, _SEEN[answer]) for key, answer in page.seen.items()]

    def _offer(self, page):
        whole = symptom_answer.exported(self.answer, self._place(), self.read(), self.units.show)
        links = [
            download(whole, "A strange symptom", "symptom.html", "as a page to print or send"),
            offered(page.as_json(), "application/json", "symptom.json", "to reopen here (JSON)"),
            offered(page.as_csv(), "text/csv", "symptom.csv", "for a spreadsheet (CSV)"),
        ]
        self._save.value = f"<b>Save</b> {' · '.join(links)}"

    def _entries(self, page, problems):
        """Turn a record into fields and SI values; what names no box is told."""
        box = page.box
        if "name" in box:
            if box["name"] in l52_boxes.names():
                yield "name", box["name"]
            else:
                problems.append(f"There is no box called “{box['name'][:60]}” here.")
        elif box:
            yield "name", l52_boxes.DESCRIBED
            for name, field in _DESCRIBED.items():
                if name == "receiver":
                    yield name, str(box.get(field, "no")).lower() == "yes"
                elif field in box:
                    yield name, box[field]
        for name, key in _AIR.items():
            if key in page.air:
                yield name, page.air[key]
        yield from page.readings.items()
        yield from page.seen.items()

    def _changed(self, name, value=None, error=None):
        if error is not None:
            self._problems[name] = error
            if getattr(self.controls[name], "blank", False):
                self._values[name] = None
        elif name in self._problems or self._values[name] != value:
            self._problems.pop(name, None)
            self._values[name] = value
        else:
            return
        if name == "name":
            self._show_description()
        self.redraw()

    def _use(self, show):
        """Make new views in other units; what could not be used stays, with its own unit."""
        with self.hold():
            left = {name: self.views[name].left() for name in self._problems}
            self._place_views(left)
            self.advise(*self._advice)
            self._dirty = True

    def _place_views(self, left=None):
        left, self._problems = left or {}, {}
        self.views = {
            name: control.view(self.units.show, self._values[name], self._changed, left.get(name))
            for name, control in self.controls.items()
        }
        for group, box in self._boxes.items():
            box.children = [self.views[control.name].box for control in self._groups[group]]
        self._show_description()

    def _show_description(self):
        shown = self._values["name"] == l52_boxes.DESCRIBED
        self._boxes["description"].layout.display = "" if shown else "none"

    def _build(self, title):
        self._advice = "", lambda show: ()
        self._boxes = {name: column() for name in self._groups}
        self._place_views()
        self.note = widgets.Textarea(
            placeholder="your own words: what you heard, what was done last",
            description="Note",
            continuous_update=False,
            layout={"width": "auto"},
        )
        self.note.observe(self.redraw, names="value")
        self._told, self._save, self._notes, self._headline = (text() for _ in range(4))
        self._body, self._against, self._order = (text() for _ in range(3))
        self._headline.add_class("lowside-stays")
        upload = widgets.FileUpload(accept=".json,.csv", description="Open a saved page")
        upload.observe(self._uploaded, names="value")
        clear = widgets.Button(description="Start empty", tooltip="clears what was read and seen")
        clear.on_click(self.empty)
        buttons = [clear]
        for name, page in self.examples.items():
            button = widgets.Button(description=name)
            button.on_click(lambda _, page=page: self.fill(page()))
            buttons.append(button)
        row = widgets.Box(buttons, layout={"display": "flex", "flex_flow": "row wrap"})
        care = symptom_form.cautions(symptom_form.MORE)
        form = column(
            self._boxes["box"],
            self._boxes["description"],
            row,
            fold("Air", self._boxes["air"], opened=True),
            fold("Gauges and clamps", self._boxes["readings"], opened=True),
            fold("More readings", column(self._boxes["more"], text(care))),
            fold("Looks and short trials", self._boxes["looks"]),
            self.note,
            upload,
            self._told,
            self._notes,
        )
        form.layout.flex, form.layout.max_width = "1 1 260px", "440px"
        form.add_class("lowside-controls")
        form.add_class("lowside-symptom-form")
        form.layout.min_width = "0"
        right = column(
            self._body,
            fold("Reading by reading: what speaks against whom", self._against),
            fold("In words, for the work order", self._order),
            self._save,
        )
        right.layout.flex, right.layout.min_width = "3 1 440px", "0"
        both = widgets.Box([form, right], layout={"display": "flex", "flex_flow": "row wrap"})
        both.add_class("lowside-row")
        heading = widgets.HTML(f'<div class="lowside-title">{html.escape(title)}</div>')
        header = widgets.Box(
            [heading, self.units.buttons()],
            layout={
                "display": "flex",
                "flex_flow": "row wrap",
                "justify_content": "space-between",
                "margin": "0 0 8px",
            },
        )
        style = widgets.HTML(SHEET + symptom_answer.STYLE, layout={"display": "none"})
        self.box = widgets.VBox([style, header, self._headline, both])
        self.box.add_class("lowside")
        self.box.add_class("lowside-panel")

    def _uploaded(self, change):
        for file in change["new"]:
            self.open_file(bytes(file["content"]))

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = dict(self.box._repr_mimebundle_())
        data["text/html"] = (
            SHEET
            + symptom_answer.STYLE
            + f'<div class="lowside lowside-plain">{self.answer.headline}{self.answer.body}'
            f"{self.answer.against}</div>"
        )
        data["text/plain"] = self.words
        return data
