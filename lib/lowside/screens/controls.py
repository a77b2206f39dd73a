"""Controls with a label, a unit and a keyboard; each knows its value in SI, whatever it shows.

A control is a small description that does not change (``Slider``, ``Choice``, ``Typed``,
``Switch``). Its ``view`` makes the widgets for one choice of units. When the units change, a panel
throws the views away and makes new ones from the same SI values; nothing is converted twice.
"""

from __future__ import annotations

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import ipywidgets as widgets

from lowside.errors import LowsideError, OutOfRange, UnknownName

_ROW = {"width": "auto", "margin": "0"}


def quoted(label):
    """Return a control's label as errors name it."""
    return f"‘{label}’"


def labelled_entry(control, show, placeholder=""):
    """Make the text box of a control, its label with the unit in front.

    Parameters
    ----------
    control : Slider or Typed
    show : readout.Readout
    placeholder : str
        Shown while it is empty.

    Returns
    -------
    ipywidgets.Text
    """
    unit = show.unit(control.kind)
    return widgets.Text(
        description=f"{control.label} [{unit}]" if unit else control.label,
        placeholder=placeholder,
        continuous_update=False,
        style={"description_width": "auto"},
        layout=_ROW,
    ).add_class("lowside-entry")


class View:
    """The widgets of one control in one choice of units.

    Parameters
    ----------
    control : Slider, Choice, Typed or Switch
        What it shows.
    show : lowside.readout.Readout
        The reader's units.
    changed : callable
        Called as ``changed(name, value)`` with an SI value, or as ``changed(name, error=error)``
        when what came cannot be used.
    """

    def __init__(self, control, show, changed):
        self.control, self.show, self._changed = control, show, changed
        self._quiet = False
        self.problem = widgets.HTML(layout=_ROW)
        self.box = widgets.VBox([*self._widgets(), self.problem], layout=_ROW)
        self.box.add_class("lowside-control")

    def tell(self, value):
        """Pass a usable value on and take back what was said before."""
        self._heal()
        self._changed(self.control.name, value)

    def refuse(self, error):
        """Say beside the control why its content cannot be used; the content stays."""
        sentence = html.escape(self.show.explain(error))
        self.problem.value = f'<div role="alert" class="lowside-alert">{sentence}</div>'
        self.box.add_class("lowside-bad")
        self._changed(self.control.name, error=error)

    def fit(self, numbers):
        """Fit to the numbers of the figure that is shown now; most controls need not."""

    def write(self, value):
        """Show an SI value without telling anybody."""
        self._quiet = True
        try:
            self._put(value)
        finally:
            self._quiet = False
        self._heal()

    def left(self):
        """Return what was typed and cannot be used, with its unit written out."""
        return self.show.spelled_out(self.entry.value, self.control.kind)

    def _heal(self):
        self.problem.value = ""
        self.box.remove_class("lowside-bad")

    def _observe(self, widget, handler):
        def loud(change):
            if not self._quiet:
                handler(change["new"])

        widget.observe(loud, names="value")


@dataclass(frozen=True)
class Slider:
    """A number within limits: a slider, and a box beside its label to type it in.

    Parameters
    ----------
    name : str
        Name of the argument it feeds.
    label : str
        What it is, without unit.
    kind : str
        Kind of quantity, a name in ``units.KINDS``.
    value, low, high : float
        Start value and limits. [SI units of ``kind``]
    step : float, optional
        What one press of an arrow key moves, in SI units; by default a round number of the
        reader's units near a hundredth of the range.
    """

    name: str
    label: str
    kind: str
    value: float
    low: float
    high: float
    step: float | None = None

    def __post_init__(self):
        self.check(self.value)

    def check(self, value):
        """Return the value, or raise ``OutOfRange``."""
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        if not self.low - slack <= value <= self.high + slack:
            raise OutOfRange(quoted(self.label), value, self.low, self.high, self.kind)
        return min(max(float(value), self.low), self.high)

    def view(self, show, value, changed, text=None):
        """Make the widgets for one choice of units."""
        return _SliderView(self, show, value, changed, text)


class _SliderView(View):
    def __init__(self, control, show, value, changed, text):
        low, high = (_tidy(show.value(v, control.kind)) for v in (control.low, control.high))
        step = control.step
        if step is None:
            step = _round_step((high - low) / 100)
        else:
            step = float(show.value(control.low + step, control.kind)) - low
            step = _tidy(step, 6)
        self._places = min(6, max(0, -math.floor(math.log10(step) + 1e-9)))
        self.entry = labelled_entry(control, show)
        self.slider = widgets.FloatSlider(
            min=low,
            max=high,
            value=_tidy(show.value(value, control.kind)),
            step=step,
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
        number = float(self.show.value(value, self.control.kind))
        self._move(number)
        self.entry.value = f"{number:.{self._places}f}"

    def _move(self, number):
        self._put_there = min(max(_tidy(number), self.slider.min), self.slider.max)
        self.slider.value = self._put_there

    def _slid(self, number):
        if self._put_there is not None:
            # A browser rounds what it was given to a whole step and sends that back: no move.
            if abs(number - self._put_there) <= 0.500001 * self.slider.step:
                return
            self._put_there = None
        value = min(
            max(self.show.si(number, self.control.kind), self.control.low), self.control.high
        )
        self.tell(float(value))  # the picture first: it is what the eye waits for
        self._quiet = True
        self.entry.value = f"{number:.{self._places}f}"
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
        self._quiet = True
        self._move(float(self.show.value(value, control.kind)))
        self._quiet = False
        self.tell(float(value))


@dataclass(frozen=True)
class Choice:
    """One of a few named things.

    Parameters
    ----------
    name, label : str
        Name of the argument it feeds; what it is.
    options : sequence
        Values, or pairs ``(words, value)``.
    value : object
        Start value; by default the first.
    """

    name: str
    label: str
    options: Sequence
    value: object = None
    many: int = field(default=3, repr=False)

    def __post_init__(self):
        if self.value is None:
            object.__setattr__(self, "value", self.pairs[0][1])
        self.check(self.value)

    @property
    def pairs(self):
        """Pairs of words and value."""
        return [o if isinstance(o, tuple) else (str(o), o) for o in self.options]

    def check(self, value):
        """Return the value, or raise ``UnknownName``."""
        values = [v for _, v in self.pairs]
        if value not in values:
            raise UnknownName(self.label.lower(), value, map(str, values))
        return value

    def view(self, show, value, changed, text=None):
        """Make the widgets."""
        return _ChoiceView(self, show, value, changed)


class _ChoiceView(View):
    def __init__(self, control, show, value, changed):
        few = len(control.pairs) <= control.many
        kind = widgets.RadioButtons if few else widgets.Dropdown
        self.entry = kind(
            options=control.pairs,
            value=value,
            description=control.label,
            style={"description_width": "auto"},
            layout=_ROW,
        )
        self.entry.add_class("lowside-choice")
        super().__init__(control, show, changed)
        self._observe(self.entry, self.tell)

    def _widgets(self):
        return [self.entry]

    def _put(self, value):
        self.entry.value = value


@dataclass(frozen=True)
class Switch:
    """Yes or no, as a box to tick."""

    name: str
    label: str
    value: bool = False

    def check(self, value):
        """Return the value as a bool."""
        return bool(value)

    def view(self, show, value, changed, text=None):
        """Make the widgets."""
        return _SwitchView(self, show, value, changed)


class _SwitchView(View):
    def __init__(self, control, show, value, changed):
        self.entry = widgets.Checkbox(
            value=value, description=control.label, indent=False, layout=_ROW
        )
        super().__init__(control, show, changed)
        self._observe(self.entry, self.tell)

    def _widgets(self):
        return [self.entry]

    def _put(self, value):
        self.entry.value = value


@dataclass(frozen=True)
class Typed:
    """A reading as a person types it, with or without unit; blank means not measured.

    Parameters
    ----------
    name, label : str
        Name of the argument it feeds; what it is, without unit.
    kind : str
        Kind of quantity, a name in ``units.KINDS``.
    value : float or None
        Start value, or None for a blank. [SI units of ``kind``]
    low, high : float or None
        What can be believed. [SI units of ``kind``]
    blank : bool
        Whether it may be left empty.
    """

    name: str
    label: str
    kind: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    blank: bool = True

    def check(self, value):
        """Return the value, or raise ``OutOfRange``."""
        if value is None and self.blank:
            return None
        if not (self.low is None or value >= self.low) or not (
            self.high is None or value <= self.high
        ):
            raise OutOfRange(quoted(self.label), value, self.low, self.high, self.kind)
        return float(value)

    def view(self, show, value, changed, text=None):
        """Make the widgets for one choice of units."""
        return _TypedView(self, show, value, changed, text)


class _TypedView(View):
    def __init__(self, control, show, value, changed, text):
        self.entry = labelled_entry(control, show, "not measured" if control.blank else "")
        self.entry.add_class("lowside-typed")
        super().__init__(control, show, changed)
        self._observe(self.entry, self._typed)
        self.write(value)
        if text is not None:
            self.entry.value = text

    def _widgets(self):
        return [self.entry]

    def _put(self, value):
        self.entry.value = "" if value is None else self.show.text(value, self.control.kind)

    def _typed(self, text):
        control = self.control
        if control.blank and not text.strip():
            self.tell(None)
            return
        try:
            value = self.show.parse(
                text, control.kind, quoted(control.label), control.low, control.high
            )
        except LowsideError as error:
            self.refuse(error)
        else:
            self.tell(float(value))


def _tidy(number, digits=9):
    """Return a number without the noise of its conversion, which screen readers would read out."""
    return float(f"{number:.{digits}g}")


def _round_step(size):
    """Return the 1, 2 or 5 times a power of ten that is nearest to a size."""
    exponent = math.floor(math.log10(size))
    candidates = [m * 10.0 ** (exponent + n) for n in (0, 1) for m in (1, 2, 5)]
    return float(f"{min(candidates, key=lambda c: abs(math.log(c / size))):.6g}")
