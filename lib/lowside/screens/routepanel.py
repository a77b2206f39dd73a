"""A panel over a route of boxes that the reader can bring along as a table, and take home."""

from __future__ import annotations

import ipywidgets as widgets

from lowside import carry
from lowside.errors import LowsideError
from lowside.screens.panel import Panel
from lowside.screens.sheet import listed, offered, paragraph

NAME = "route.csv"
_MARK = "\ufeff"  # by which spreadsheets know UTF-8


class RoutePanel(Panel):
    """A panel whose figure takes the route that is open.

    Parameters
    ----------
    step : callable
        ``step(show, stops, **values)`` returns a ``LiveFigure``.
    controls : sequence
        As of `Panel`.
    units : Units
        The reader's units.
    stops : tuple of carry.Stop
        The route that is open first.
    **more
        As of `Panel`.
    """

    def __init__(self, step, controls, units, stops, **more):
        self.stops, self._first = stops, stops
        self._save, self._said = (widgets.HTML(layout={"width": "auto"}) for _ in range(2))
        self._said.add_class("lowside-banner")
        super().__init__(self._with_route(step), controls, units, **more)
        self.upload = widgets.FileUpload(
            accept=".csv,text/csv", description="Open your route", layout={"width": "auto"}
        )
        self.upload.observe(self._opened, names="value")
        again = widgets.Button(description="Back to the first route", layout={"width": "auto"})
        again.on_click(lambda _: self.take(self._first))
        row = widgets.Box(
            [self.upload, again, self._save],
            layout={"display": "flex", "flex_flow": "row wrap", "align_items": "center"},
        )
        hint = paragraph(
            "To use your own boxes: save this route, open it in a spreadsheet, change the rows, "
            "save it as CSV, and open it here. It stays on this computer.",
            "words",
        )
        self.box.children = (*self.box.children, widgets.HTML(hint), row, self._said)

    def take(self, stops, said=()):
        """Draw another route.

        Parameters
        ----------
        stops : tuple of carry.Stop
        said : sequence of str
            What is to be said of its rows.
        """
        self.stops = stops
        self.redraw()
        self._said.value = listed(f"{len(stops)} boxes opened. Left out:", said) if said else ""

    def redraw(self, _=None):
        """Draw the route that is open, and offer it as a file in the reader's units."""
        super().redraw()
        self._save.value = offered(
            _MARK + carry.as_csv(self.stops, self.units.show),
            "text/csv;charset=utf-8",
            NAME,
            "Save this route as a table (CSV)",
        )

    def _with_route(self, step):
        def drawn(show, **values):
            return step(show, self.stops, **values)

        return drawn

    def _opened(self, change):
        show = self.units.show
        for file in change["new"]:
            try:
                stops, problems = carry.opened(bytes(file["content"]), show)
                carry.weights(stops)
            except LowsideError as problem:
                said = f"{show.explain(problem)} The route stays as it was."
                self._said.value = paragraph(said, "alert", "alert")
                return
            said = f"Solving {len(stops)} boxes for a whole year each: a moment, please."
            self._said.value = paragraph(said, "alert", "status")
            self.take(stops, problems)
