"""The page of a service call: choose a box and a level, act from plain lists, watch clock and food.

A call is made of its acts; the page only sends them and tells what came back.
"""

from __future__ import annotations

import html

import ipywidgets as widgets

from lowside import cases
from lowside.errors import LowsideError
from lowside.lesson import hall, l54_words
from lowside.lesson.l54_places import places
from lowside.plots import callline
from lowside.screens.sheet import SHEET, download, listed, offered, paragraph, strip
from lowside.system.ports import KIT

WIDE = {"width": "auto"}
UNITS_OF = {"turns": "number", "charge": "charge"}
ASKED = {
    "turns": "Turns out (negative: in)",
    "port": "Port",
    "charge": "Refrigerant by weight",
}


class CallPage:
    """A service call.

    Parameters
    ----------
    units : Units
        The reader's units; the page follows them.
    seed : str
        Of the first case.
    level : str
        One of ``cases.LEVELS``.
    """

    def __init__(self, units, seed="1", level="first"):
        self.units, self.call = units, None
        self._build(seed, level)
        self.begin()
        units.follow(self._use)

    def begin(self, _=None):
        """Deal the case of the chosen seed and level, and arrive at its box."""
        try:
            case = cases.deal(self.seed.value, self.level.value, places())
        except LowsideError as error:
            self._tell(self.units.show.explain(error))
            return
        self.take(cases.Call(case, places()))

    def take(self, call):
        """Go on with a call.

        Parameters
        ----------
        call : cases.Call
        """
        self.call = call
        self.seed.value, self.level.value = call.case.seed, call.case.level
        self._tell("")
        self._offer()
        self.redraw()

    def do(self, key, value=None):
        """Do something, and show what came of it.

        Parameters
        ----------
        key : str
            Of an act.
        value : float, optional
            Its number. [SI]
        """
        try:
            self.call.do(key, value)
        except LowsideError as error:
            self._tell(self.units.show.explain(error))
            return
        self._tell("")
        self.redraw()

    def open_file(self, data):
        """Open a saved call and do it again; nothing changes if it cannot be.

        Parameters
        ----------
        data : bytes
            Of a file.
        """
        try:
            call = cases.replayed(data, places())
        except LowsideError as error:
            self._tell(f"{self.units.show.explain(error)} The call on this page is as it was.")
            return
        self.take(call)

    def advise(self, heading, lines):
        """Put a short list under the page.

        Parameters
        ----------
        heading : str
        lines : callable
            ``lines(show)`` returns the list in the reader's units.
        """
        self._advice = heading, lines
        self._notes.value = listed(heading, lines(self.units.show), "ol")

    def redraw(self):
        """Show the call as it stands."""
        call, show = self.call, self.units.show
        figure = callline.call_figure(show, call)
        head = paragraph(l54_words.arrival(call, show), "call")
        if call.over:
            lines = l54_words.debrief(call, show)
            name = "good" if call.won else "alert"
            self._headline.value = (
                f'<div class="lowside-{name} lowside-outcome" role="status">'
                f"<b>{html.escape(lines[0])}</b></div>"
                f"{listed('Debrief', lines[1:])}"
            )
        else:
            self._headline.value = head
        self._figure.value = figure.html()
        last = l54_words.last_readings(call, show)
        rows = l54_words.log(call, show)
        self._strip.value = strip(last, "Last read; may have changed since")
        self._answer.value = paragraph(rows[-1] if rows else "", "note", "status")
        items = "".join(f"<li>{html.escape(row)}</li>" for row in reversed(rows))
        said = html.escape(l54_words.now(call, show))
        self._log.value = (
            f'<p class="lowside-words" role="status">{said}</p>'
            f'<div class="lowside-list">{"<b>Log, the newest first</b>" if rows else ""}'
            f'<ol reversed class="lowside-log">{items}</ol></div>'
        )
        self.words = "\n".join(
            [l54_words.arrival(call, show), l54_words.now(call, show), *rows]
            + (l54_words.debrief(call, show) if call.over else [])
        )
        self.button.disabled = call.over
        self._save.value = " · ".join(self._links(figure, rows))

    def _links(self, figure, rows):
        call, show = self.call, self.units.show
        yield offered(cases.written(call), "application/json", "call.json", "Save the call (JSON)")
        if call.over:
            body = (
                f'{SHEET}<div class="lowside lowside-plain">'
                + paragraph(l54_words.arrival(call, show), "call")
                + listed("Debrief", l54_words.debrief(call, show))
                + figure.html()
                + listed("Log", rows, "ol")
                + paragraph(hall.hall().notice, "note")
                + "</div>"
            )
            yield download(body, "Service call", "debrief.html", "Save the debrief to print it")

    def _tell(self, sentence):
        self._told.value = paragraph(sentence, "alert", "alert")

    def _offer(self):
        kinds = [(kind.capitalize(), kind) for kind in cases.KINDS]
        self.kind.options = kinds
        self._list_acts()

    def _list_acts(self, _=None):
        acts = [act for act in self.call.offered() if act.kind == self.kind.value]
        self.act.options = [(f"{act.label} ({act.minutes:.0f} min)", act.key) for act in acts]
        self.act.value = acts[0].key
        self._chosen()

    def _chosen(self, _=None):
        if self.act.value is None:
            return
        act, show = cases.act(self.act.value), self.units.show
        self._caution.value = paragraph(f"Caution: {act.caution}" if act.caution else "", "care")
        self._asked.children = [self.port if act.asks == "port" else self.number][: bool(act.asks)]
        if act.asks in UNITS_OF:
            unit = show.unit(UNITS_OF[act.asks])
            self.number.description = ASKED[act.asks] + (f" [{unit}]" if unit else "")
        if act.asks == "port":
            self.port.options = [(show.text(size, "port"), size) for size in KIT]

    def _do(self, _):
        act = cases.act(self.act.value)
        value = None
        if act.asks == "port":
            value = self.port.value
        elif act.asks:
            try:
                value = self.units.show.parse(
                    self.number.value, UNITS_OF[act.asks], f"‘{ASKED[act.asks]}’"
                )
            except LowsideError as error:
                self._tell(self.units.show.explain(error))
                return
        self.do(act.key, None if value is None else float(value))

    def _use(self, show):
        self._chosen()
        self.advise(*self._advice)
        self.redraw()

    def _uploaded(self, change):
        for file in change["new"]:
            self.open_file(bytes(file["content"]))

    def _build(self, seed, level):
        self._advice = "", lambda show: ()
        wide = {"style": {"description_width": "auto"}, "layout": WIDE}
        self.seed = widgets.Text(seed, description="Seed", continuous_update=False, **wide)
        self.seed.add_class("lowside-entry")
        levels = [(words, key) for key, words in cases.LEVELS.items()]
        self.level = widgets.Dropdown(options=levels, value=level, description="Level", **wide)
        self.kind = widgets.Dropdown(description="What to do", options=list(cases.KINDS), **wide)
        self.act = widgets.Dropdown(description="Which", **wide)
        self.number = widgets.Text(continuous_update=False, **wide)
        self.number.add_class("lowside-entry")
        self.port = widgets.Dropdown(description="Port", **wide)
        self._asked = widgets.VBox(layout=WIDE)
        for choice in (self.level, self.kind, self.act, self.port):
            choice.add_class("lowside-choice")
        self.kind.observe(self._list_acts, names="value")
        self.act.observe(self._chosen, names="value")
        start = widgets.Button(description="Take this call")
        start.on_click(self.begin)
        self.button = widgets.Button(description="Do it", button_style="primary")
        self.button.on_click(self._do)
        upload = widgets.FileUpload(accept=".json", description="Open a saved call")
        upload.observe(self._uploaded, names="value")
        self._caution, self._told, self._save, self._notes = (_text() for _ in range(4))
        self._answer = _text()
        self._headline, self._figure, self._strip, self._log = (_text() for _ in range(4))
        self._figure.add_class("lowside-figure")
        left = widgets.VBox(
            [
                self.kind,
                self.act,
                self._caution,
                self._asked,
                self.button,
                self._told,
                self._answer,
                _fold("Another call", [self.level, self.seed, start, upload]),
            ],
            layout={"width": "auto", "flex": "1 1 260px", "max_width": "400px"},
        )
        left.add_class("lowside-controls")
        right = widgets.VBox(
            [self._figure, self._strip, self._log],
            layout={"width": "auto", "flex": "3 1 440px", "min_width": "0"},
        )
        both = widgets.Box([left, right], layout={"display": "flex", "flex_flow": "row wrap"})
        both.add_class("lowside-row")
        title = widgets.HTML('<div class="lowside-title">The call</div>')
        header = widgets.Box(
            [title, self.units.buttons()],
            layout={
                "display": "flex",
                "flex_flow": "row wrap",
                "justify_content": "space-between",
            },
        )
        sheet = widgets.HTML(SHEET, layout={"display": "none"})
        self.box = widgets.VBox([sheet, header, self._headline, both, self._save, self._notes])
        self.box.add_class("lowside")
        self.box.add_class("lowside-panel")

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = dict(self.box._repr_mimebundle_())
        data["text/html"] = (
            f'{SHEET}<div class="lowside lowside-plain">{self._headline.value}'
            f"{self._figure.value}{self._strip.value}{self._log.value}</div>"
        )
        data["text/plain"] = self.words
        return data


def _text():
    return widgets.HTML(layout={"width": "auto", "margin": "0"})


def _fold(title, children):
    fold = widgets.Accordion(
        [widgets.VBox(children, layout=WIDE)], titles=[title], selected_index=None
    )
    fold.add_class("lowside-folds")
    return fold
