"""A panel: controls on the left, a live figure on the right, and in words what it all says.

A panel calls one function of the figure rooms at every move, the same that a script may call::

    Panel(figure_function, [Slider(...), Choice(...)], units=Units("us"))

``figure_function(show=..., **values)`` takes SI values by the controls' names and returns a
``LiveFigure``. Handlers are synchronous, so that a slow step lets a dragged slider skip ahead
instead of queueing. What the function refuses (a ``LowsideError``) is said in words above the
picture, which stays, faint, and is no longer judged; anything else is a fault of ours and is not
hidden. A reading that may be blank and cannot be used is left out, and the rest is judged.
"""

from __future__ import annotations

import base64
import html
from contextlib import contextmanager

import ipywidgets as widgets
from IPython.display import display

from lowside.errors import LowsideError, UnknownName
from lowside.screens.reader import Units
from lowside.screens.sheet import SHEET, folded, listed, paragraph, remarks, strip


class Panel:
    """Controls beside a live figure.

    Parameters
    ----------
    step : callable
        ``step(show=readout, **values)`` returns a ``LiveFigure``; values are in SI and come by the
        names of the controls.
    controls : sequence
        ``Slider``, ``Choice``, ``Typed`` and ``Switch`` of ``controls``.
    units : Units
        The reader's units; the panel follows them.
    title : str
        A line on top.
    why : callable, optional
        ``why(start, now, show)`` takes the numbers of the first figure and of the present one and
        returns one sentence: what changed, and why.
    examples : dict, optional
        Names of buttons, each with the SI values that it sets.
    lead : str
        What stands above the readings.
    anew : sequence of str
        Names of numbers that make another case of it: when one changes, what is shown then is what
        later moves are compared with.
    """

    def __init__(
        self,
        step,
        controls,
        units=None,
        title="",
        why=None,
        examples=None,
        lead="What your gauges and clamps would say",
        anew=(),
    ):
        self.step, self.why, self.lead, self.anew = step, why, lead, anew
        self.controls = {control.name: control for control in controls}
        self.units = Units() if units is None else units
        self.figure, self._start, self._drawn = None, None, None
        self._values = {name: control.value for name, control in self.controls.items()}
        self._problems = {}
        self._holding, self._dirty = 0, False
        self._advice = "", lambda show: ()
        self._build(title, examples or {})
        self.redraw()
        self.units.follow(self._use)

    def values(self):
        """Return the SI values by name; None where a reading was left blank."""
        return dict(self._values)

    def set(self, **values):
        """Set controls to SI values, with one new picture for all of them.

        Raises
        ------
        UnknownName
            If there is no such control, or no such choice.
        OutOfRange
            If a value lies outside the limits of its control.
        """
        for name in values:
            if name not in self.controls:
                raise UnknownName("control", name, self.controls)
        checked = {name: self.controls[name].check(value) for name, value in values.items()}
        with self.hold():
            for name, value in checked.items():
                self.views[name].write(value)
                self._changed(name, value)

    def reset(self, _=None):
        """Go back to the first values, keeping the reader's units."""
        self.set(**{name: control.value for name, control in self.controls.items()})

    @contextmanager
    def hold(self):
        """Merge all changes made inside into one new picture."""
        self._holding += 1
        try:
            yield self
        finally:
            self._holding -= 1
            if not self._holding and self._dirty:
                self.redraw()

    def redraw(self, _=None):
        """Draw what the controls say now, or say what stands in the way."""
        if self._holding:
            self._dirty = True
            return
        self._dirty = False
        show, out = self.units.show, []
        for name, error in self._problems.items():
            if not self._may_be_blank(name):
                self._refuse(show.explain(error), f"Not drawn anew: mend {self._bad(False)}.")
                return
            out.append(show.explain(error))
        try:
            figure = self.step(show=show, **self._values)
        except LowsideError as error:
            self._refuse(show.explain(error))
            return
        self._drawn = show, self.values()
        self._take(figure)
        if self._start is None or any(self._start[n] != figure.numbers[n] for n in self.anew):
            self._start = figure.numbers
        for view in self.views.values():
            view.fit(figure.numbers)
        self._picture.remove_class("lowside-stale")
        self.reason = self.why(self._start, figure.numbers, show) if self.why else ""
        self._picture.value = (
            figure.overlay(by_reference=True)
            + (paragraph(self.reason, "why") if self.why else "")
            + strip(figure.readings, self.lead)
            + remarks(figure.remarks)
            + paragraph(figure.caption, "words", "status")
        )
        self.role, self.words, self._alert.value = "status", figure.words, ""
        if out:
            left = f"Left out until mended or cleared: {self._bad(True)}."
            self.role, self.words = "alert", f"{out[0]} {left}"
            self._alert.value = paragraph(left, "alert")

    def _refuse(self, words, banner=None):
        """Say what is wrong; what was drawn last stays, faint, in the reader's units."""
        self.role, self.words = "alert", words
        self._alert.value = paragraph(banner or words, "alert", None if banner else "alert")
        self._picture.add_class("lowside-stale")
        if self._drawn is None:
            return
        show, values = self._drawn
        if show != self.units.show:
            try:
                self._take(self.step(show=self.units.show, **values))
            except LowsideError:
                self._picture.value = ""
                return
            self._drawn = self.units.show, values
        old = self.figure.overlay(by_reference=True) + strip(self.figure.readings, self.lead)
        self._picture.value = f'<div aria-hidden="true">{old}</div>'

    def _take(self, figure):
        self.figure = figure
        self._paper.value, self._still.value = figure.paper(), figure.still()

    def _may_be_blank(self, name):
        return getattr(self.controls[name], "blank", False)

    def _bad(self, blank):
        """Labels of the controls that cannot be used, of those that may be blank or the others."""
        bad = [name for name in self._problems if self._may_be_blank(name) == blank]
        return " and ".join(f"‘{self.controls[name].label}’" for name in bad)

    def advise(self, heading, lines):
        """Put a short list under the controls.

        Parameters
        ----------
        heading : str
            Its heading.
        lines : callable
            ``lines(show)`` returns the list in the reader's units.
        """
        self._advice = heading, lines
        self._place_advice()

    def _place_advice(self):
        heading, lines = self._advice
        self._notes.value = listed(heading, lines(self.units.show), "ol")

    def _changed(self, name, value=None, error=None):
        if error is not None:
            self._problems[name] = error
            if self._may_be_blank(name):
                self._values[name] = None
        elif name in self._problems or self._values[name] != value:
            self._problems.pop(name, None)
            self._values[name] = value
        else:
            return
        self.redraw()

    def _use(self, show):
        """Make new views in other units; what could not be used stays, with its own unit."""
        with self.hold():
            left = {name: self.views[name].left() for name in self._problems}
            self._place_views(left)
            self._place_advice()
            self._dirty = True

    def _place_views(self, left=None):
        left = left or {}
        self._problems = {}
        show = self.units.show
        self.views = {
            name: control.view(show, self._values[name], self._changed, left.get(name))
            for name, control in self.controls.items()
        }
        self._column.children = [view.box for view in self.views.values()]

    def _build(self, title, examples):
        self._column = widgets.VBox(layout={"width": "auto"})
        self._column.add_class("lowside-controls")
        self._place_views()
        again = widgets.Button(description="Reset", tooltip="back to the first values")
        again.on_click(self.reset)
        buttons = [again]
        for name, values in examples.items():
            button = widgets.Button(description=name)
            button.on_click(lambda _, values=values: self.set(**values))
            buttons.append(button)
        row = widgets.Box(buttons, layout={"display": "flex", "flex_flow": "row wrap"})
        self._notes = widgets.HTML(layout={"width": "auto"})
        left = widgets.VBox(
            [self._column, row, self._notes], layout={"flex": "1 1 230px", "max_width": "420px"}
        )
        left.add_class("lowside-controls")
        self._paper = widgets.HTML(layout={"display": "contents"})
        self._still = widgets.HTML(layout={"display": "none"})
        self._alert = widgets.HTML(layout={"width": "auto", "margin": "0"})
        self._alert.add_class("lowside-banner")
        self._picture = widgets.HTML(layout={"width": "auto", "margin": "0"})
        self._picture.add_class("lowside-figure")
        self._picture.add_class("lowside-folded-words")
        unfold = widgets.ToggleButton(description="The figure in words", layout={"width": "auto"})
        unfold.add_class("lowside-unfold")
        unfold.observe(self._unfold, "value")
        right = widgets.VBox(
            [self._paper, self._still, self._alert, self._picture, unfold],
            layout={"flex": "3 1 500px", "min_width": "0", "overflow": "visible"},
        )
        right.add_class("lowside-right")
        row = widgets.Box([left, right], layout={"display": "flex", "flex_flow": "row wrap"})
        row.add_class("lowside-row")
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
        self.box = widgets.VBox([widgets.HTML(SHEET, layout={"display": "none"}), header, row])
        self.box.add_class("lowside")
        self.box.add_class("lowside-panel")

    def _unfold(self, change):
        fold = self._picture.remove_class if change["new"] else self._picture.add_class
        fold("lowside-folded-words")

    def _repr_mimebundle_(self, include=None, exclude=None):
        return figure_bundle(self.box, self.figure, self.words)


class Picture:
    """A figure that stands still, follows the reader's units, and has its words under it.

    Parameters
    ----------
    make : callable
        ``make(show)`` returns a ``LiveFigure``.
    units : Units
        The reader's units.
    """

    def __init__(self, make, units):
        self._make = make
        self._html = widgets.HTML(layout={"width": "auto"})
        self._html.add_class("lowside-figure")
        self.box = widgets.VBox([widgets.HTML(SHEET, layout={"display": "none"}), self._html])
        self.box.add_class("lowside")
        self.box.add_class("lowside-plain")
        self._use(units.show)
        units.follow(self._use)

    def _use(self, show):
        self.figure = self._make(show)
        self._html.value = (
            self.figure.html()
            + strip(self.figure.readings)
            + folded("The figure in words", paragraph(self.figure.words, "words"))
        )

    def _repr_mimebundle_(self, include=None, exclude=None):
        return figure_bundle(self.box, self.figure, self.figure.words)

    def _ipython_display_(self):
        """Show the figure; and once more its words, which only a page without a kernel shows."""
        data, metadata = self._repr_mimebundle_()
        display(data, metadata=metadata, raw=True)
        caption = dict(widgets.HTML(layout={"display": "none"})._repr_mimebundle_())
        caption["text/html"] = paragraph(self.figure.words, "words")
        caption["text/plain"] = self.figure.words
        display(caption, raw=True)


def figure_bundle(box, figure, words):
    """Return what a notebook stores of a figure: widgets, words, and a picture with those words.

    Parameters
    ----------
    box : ipywidgets.Widget
        What is shown while a kernel runs.
    figure : LiveFigure or None
        What is shown without one.
    words : str
        What both say.

    Returns
    -------
    tuple of dict
        Data and metadata by MIME type.
    """
    data, metadata = dict(box._repr_mimebundle_()), {}
    data["text/plain"] = words
    if figure is not None:
        data["image/png"] = base64.b64encode(figure.png()).decode("ascii")
        size = {"width": figure.background.width, "height": figure.background.height}
        metadata["image/png"] = {"alt": words, **size}
    return data, metadata
