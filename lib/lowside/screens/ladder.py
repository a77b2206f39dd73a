"""A slider whose steps are given sizes, such as the ports of a kit and a few between them.

It runs as far as the chart beside it does, so that thumb and chart agree.
"""

from __future__ import annotations

from dataclasses import dataclass

import ipywidgets as widgets

from lowside.errors import LowsideError
from lowside.screens.controls import Slider, View, labelled_entry, quoted

_ROW = {"width": "auto", "margin": "0"}
_SLACK = 1.0 - 1e-6


@dataclass(frozen=True)
class Ladder(Slider):
    """A number from a ladder of sizes; any size between, and any beyond the chart, can be typed.

    Parameters
    ----------
    name, label, kind, value, low, high, step
        As in `Slider`; ``step`` is not used.
    sizes : tuple of float
        The steps, rising. [SI units of ``kind``]
    window : str
        Name of the figure's number that says from where to where the chart runs; "" to offer all
        sizes always.
    """

    sizes: tuple = ()
    window: str = ""

    def view(self, show, value, changed, text=None):
        """Make the widgets for one choice of units."""
        return _LadderView(self, show, value, changed, text)


class _LadderView(View):
    def __init__(self, control, show, value, changed, text):
        self.entry = labelled_entry(control, show)
        self._offered = control.sizes
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

    def fit(self, numbers):
        """Offer the sizes that the chart shows."""
        if not self.control.window:
            return
        low, high = numbers[self.control.window]
        sizes = tuple(s for s in self.control.sizes if _SLACK * low <= s <= high / _SLACK)
        if sizes == self._offered:
            return
        self._offered = sizes
        self._quiet = True
        with self.slider.hold_sync():
            self.slider.options = [(self.show.text(s, self.control.kind), s) for s in sizes]
            self._move(self._value)
        self._quiet = False

    def _put(self, value):
        self._value = value
        self._move(value)
        self.entry.value = self._number(value)

    def _move(self, value):
        self.slider.value = min(self._offered, key=lambda size: abs(size - value))

    def _number(self, value):
        return self.show.text(value, self.control.kind).split(" ")[0]

    def _slid(self, value):
        self._value = value
        self.tell(value)  # the picture first: it is what the eye waits for
        self._quiet = True
        self.entry.value = self._number(value)
        self._quiet = False

    def _typed(self, text):
        control = self.control
        try:
            value = self.show.parse(
                text, control.kind, quoted(control.label), control.low, control.high
            )
        except LowsideError as error:
            self.refuse(error)
            return
        self._value = value
        self._quiet = True
        self._move(value)
        self._quiet = False
        self.tell(float(value))
