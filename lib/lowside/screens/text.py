"""A piece of a lesson's page that is text: it follows the reader's units and needs no kernel."""

from __future__ import annotations

import ipywidgets as widgets

from lowside.screens.sheet import SHEET


class Words:
    """Text as a lesson's page shows it.

    Parameters
    ----------
    write : callable
        ``write(show)`` returns a pair: the text as HTML, and as plain text.
    units : Units
        The reader's units.
    extra : sequence of ipywidgets.Widget
        Widgets under the text while a kernel runs.
    still : str
        HTML above the text while none does.
    """

    def __init__(self, write, units, extra=(), still=""):
        self._write, self._units, self._still = write, units, still
        self._html = widgets.HTML(layout={"width": "auto"})
        sheet = widgets.HTML(SHEET, layout={"display": "none"})
        self.box = widgets.VBox([sheet, self._html, *extra])
        self.box.add_class("lowside")
        self.box.add_class("lowside-plain")
        self.refresh()
        units.follow(self.refresh)

    def refresh(self, _=None):
        """Write the text again."""
        self.html, self.plain = self._write(self._units.show)
        self._html.value = self.html

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = dict(self.box._repr_mimebundle_())
        data["text/html"] = self._still + self.html
        data["text/plain"] = self.plain
        return data
