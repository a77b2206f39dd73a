"""A slider whose steps are given sizes, such as the ports of a kit and a few between them."""

from __future__ import annotations

from dataclasses import dataclass

import ipywidgets as widgets

from lowside.errors import LowsideError
from lowside.screens.controls import Slider, View

_ROW = {"width": "auto", "margin": "0"}


@dataclass(frozen=True)
class Ladder(Slider):
    """A number from a ladder of sizes; any size between can be typed.

    Parameters
    ----------
    name, label, kind, value, low, high, step
        As in `Slider`; ``step`` is not used.
    sizes : tuple of float
        The steps, rising. [SI units of ``kind``]
    """

    sizes: tuple = ()

    def view(self, show, value, changed, text=None):
        """Make the widgets for one choice of units."""
        return _LadderView(self, show, value, changed, text)


class _LadderView(View):
    def __init__(self, control, show, value, changed, text):
        unit = show.unit(control.kind)
        self.entry = widgets.Text(
            description=f"{control.label} [{unit}]" if unit else control.label,
            continuous_update=False,
            style={"description_width": "auto"},
            layout=_ROW,
        )
        self.entry.add_class("lowside-entry")
        self.slider = widgets.SelectionSlider(
            options=[(show.text(size, control.kind), size) for size in control.sizes],
            readout=False,
            tooltip=control.label,
            layout=_ROW,
        )
        super().__init__(control, show, changed)
        self._observe(self.slider, self._slid)
        self._observe(self.entry, self._typed)
        self.write(value)
        if text is not None:
            self.entry.value = text

    def _widgets(self):
        return [self.entry, self.slider]

    def _put(self, value):
        self._move(value)
        self.entry.value = self._number(value)

    def _move(self, value):
        self.slider.value = min(self.control.sizes, key=lambda size: abs(size - value))

    def _number(self, value):
        return self.show.text(value, self.control.kind).split(" ")[0]

    def _slid(self, value):
        self.tell(value)  # the picture first: it is what the eye waits for
        self._quiet = True
        self.entry.value = self._number(value)
        self._quiet = False

    def _typed(self, text):
        control = self.control
        try:
            value = self.show.parse(
                text, control.kind, control.label.lower(), control.low, control.high
            )
        except LowsideError as error:
            self.refuse(error)
            return
        self._quiet = True
        self._move(value)
        self._quiet = False
        self.tell(float(value))
