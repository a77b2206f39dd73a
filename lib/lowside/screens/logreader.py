"""Open a logger's file, say what its columns are, and see what it shows, with a work order."""

from __future__ import annotations

import html
from dataclasses import replace

import ipywidgets as widgets

from lowside import refrigerants, trend
from lowside.errors import LowsideError
from lowside.plots.trending import trend_figure
from lowside.screens.panel import figure_bundle
from lowside.screens.sheet import SHEET, download, folded, listed, paragraph, remarks, strip

NOT_USED = "not used"
ZONES = (
    trend.AS_WRITTEN,
    "UTC",
    "America/New_York",
    "America/Chicago",
    "America/Denver",
    "America/Los_Angeles",
    "Europe/London",
    "Europe/Paris",
    "Australia/Sydney",
)
MOST_EVENTS = 60  # shown; the work order counts all

_AUTO = {"width": "auto", "margin": "0"}


class LogReader:
    """A file, its columns, the part that is drawn, and what it all says.

    Parameters
    ----------
    units : Units
        The reader's units; gauge pressures count from the barometer at their altitude.
    examples : dict of str to callable
        Name to what gives the content of an example file.
    refrigerant : str
        Chosen at first.
    """

    def __init__(self, units, examples, refrigerant):
        self.units, self.examples = units, examples
        self._busy, self._report, self.figure = False, None, None
        self.upload = widgets.FileUpload(accept=".csv,.txt,.tsv", multiple=False)
        self.upload.description = "Your file"
        self.upload.observe(self._uploaded, names="value")
        self.example = _choice("Or an example", list(examples))
        self.fluid = _choice("Refrigerant", refrigerants.NAMES, refrigerant)
        self.delimiter = _choice("Between cells", _named(trend.DELIMITERS))
        self.decimal = _choice("Decimal sign", _named(trend.DECIMALS))
        self.order = _choice("Date is", trend.ORDERS)
        self.zone = _choice("Clock of", ZONES)
        self.part = widgets.FloatRangeSlider(
            value=(0.0, 100.0),
            min=0.0,
            max=100.0,
            step=0.5,
            readout_format=".0f",
            description="Shown [%]",
            continuous_update=False,
            layout=_AUTO,
        )
        self._columns = widgets.VBox(layout=_AUTO)
        self._alert, self._shown = widgets.HTML(layout=_AUTO), widgets.HTML(layout=_AUTO)
        self._build()
        self.example.observe(self._from_example, names="value")
        for choice in (self.delimiter, self.decimal, self.order):
            choice.observe(self._redescribed, names="value")
        for choice in (self.fluid, self.zone):
            choice.observe(self._analyse, names="value")
        self.part.observe(self._draw, names="value")
        self._from_example()
        units.follow(self._analyse)

    def open(self, content):
        """Open a file.

        Parameters
        ----------
        content : bytes
            All of it.
        """
        self._content, self._report = bytes(content), None
        try:
            self._dialect = trend.propose(self._content)
        except LowsideError as error:
            self._dialect = None
            self._columns.children = ()
            self._say(error)
            return
        self._busy = True
        self.delimiter.value, self.decimal.value = self._dialect.delimiter, self._dialect.decimal
        self.order.value = self._dialect.form.order
        self._busy = False
        self._place_columns()
        self._analyse()

    def meanings(self):
        """Return what the columns are said to be: name to role and unit."""
        return {
            name: (role.value, unit.value)
            for name, (role, unit) in self._meant.items()
            if role.value != NOT_USED
        }

    def _uploaded(self, change):
        if change["new"]:
            self.open(change["new"][0]["content"])

    def _from_example(self, _=None):
        self.open(self.examples[self.example.value]())

    def _redescribed(self, _=None):
        """Take delimiter, decimal sign or order of the date as the reader says."""
        if self._busy or self._dialect is None:
            return
        try:
            self._dialect = trend.propose(
                self._content, delimiter=self.delimiter.value, order=self.order.value
            )
            self._dialect = replace(self._dialect, decimal=self.decimal.value)
        except LowsideError as error:
            self._say(error)
            return
        self._place_columns()
        self._analyse()

    def _place_columns(self):
        """Two choices for every column: what it is, and its unit."""
        guessed, self._meant, rows = trend.meanings(self._dialect), {}, []
        roles = [(NOT_USED, NOT_USED), *((said, role) for role, said in trend.ROLES.items())]
        for name in self._dialect.columns:
            if name in self._dialect.time:
                continue
            role, unit = guessed.get(name, (NOT_USED, trend.AS_IT_IS))
            what = _choice(name, roles, role)
            which = _choice("in", _units_of(role), unit)
            what.observe(lambda change, unit=which: self._role_changed(change, unit), "value")
            which.observe(self._analyse, names="value")
            self._meant[name] = what, which
            rows += [what, which]
        time = html.escape(", ".join(self._dialect.time))
        self._columns.children = (widgets.HTML(f"<b>Time:</b> {time}", layout=_AUTO), *rows)

    def _role_changed(self, change, unit):
        self._busy = True
        unit.options = _units_of(change["new"])
        self._busy = False
        self._analyse()

    def _analyse(self, _=None):
        if self._busy or self._dialect is None:
            return
        try:
            log = trend.read(
                self._content,
                self._dialect,
                self.meanings(),
                zone=self.zone.value,
                atmosphere=self.units.show.atmosphere,
            )
            self._report = trend.analyse(log, refrigerants.get(self.fluid.value))
        except LowsideError as error:
            self._say(error)
            return
        self._draw()

    def _draw(self, _=None):
        if self._report is None:
            return
        show, log = self.units.show, self._report.log
        first, last = (share / 100.0 * log.span for share in self.part.value)
        self.figure = trend_figure(
            show, self._report, first, max(last - first, 10.0 * log.step), "This record"
        )
        order = trend.work_order(self._report, show)
        self.role, self.words, self._alert.value = "status", self.figure.words, ""
        sure = self._dialect.form.sure
        asked = "" if sure else paragraph("Is the day or the month first? Say so.", "alert")
        body = listed("For the work order", order)
        self._shown.value = (
            asked
            + self.figure.html()
            + strip(self.figure.readings, "What the whole record says")
            + remarks(self.figure.remarks)
            + body
            + download(body, "Work order", "trend.html", "Save these lines")
            + folded("All events", _table(self._report, show))
        )

    def _say(self, error):
        self.role, self.words = "alert", self.units.show.explain(error)
        self._alert.value = paragraph(self.words, "alert", "alert")
        self._shown.value, self._report = "", None

    def _build(self):
        left = widgets.VBox(
            [
                self.upload,
                self.example,
                self.fluid,
                self._columns,
                self.delimiter,
                self.decimal,
                self.order,
                self.zone,
            ],
            layout={"flex": "1 1 230px", "max_width": "420px"},
        )
        left.add_class("lowside-controls")
        right = widgets.VBox(
            [self.part, self._alert, self._shown],
            layout={"flex": "3 1 500px", "min_width": "0", "overflow": "visible"},
        )
        row = widgets.Box([left, right], layout={"display": "flex", "flex_flow": "row wrap"})
        row.add_class("lowside-row")
        title = widgets.HTML('<div class="lowside-title">Your own file</div>')
        self.box = widgets.VBox([widgets.HTML(SHEET, layout={"display": "none"}), title, row])
        self.box.add_class("lowside")
        self.box.add_class("lowside-panel")

    def _repr_mimebundle_(self, include=None, exclude=None):
        return figure_bundle(self.box, self.figure, self.words)


def _table(report, show):
    """Write the events as a table."""
    events = trend.events_of(report, show)
    rows = "".join(
        f"<tr><td>{event.letter}</td><td>{trend.clock_text(report.log, event.start, date=True)}"
        f"</td><td>{html.escape(event.said)}</td></tr>"
        for event in events[:MOST_EVENTS]
    )
    left = len(events) - MOST_EVENTS
    more = paragraph(f"{left} more are not listed here.", "words") if left > 0 else ""
    head = "<tr><th></th><th>from</th><th>what</th></tr>"
    return f'<table class="lowside-table">{head}{rows}</table>{more}'


def _units_of(role):
    return (trend.AS_IT_IS,) if role == NOT_USED else trend.units_of(role)


def _named(signs):
    return [(name, sign) for sign, name in signs.items()]


def _choice(label, options, value=None):
    choice = widgets.Dropdown(
        options=options,
        description=label,
        style={"description_width": "auto"},
        layout=_AUTO,
    )
    if value is not None:
        choice.value = value
    choice.add_class("lowside-choice")
    return choice
