"""What a reader chooses for a whole page: units, altitude, and a number for the questions."""

from __future__ import annotations

import weakref

import ipywidgets as widgets

from lowside import readout
from lowside.errors import LowsideError
from lowside.screens.sheet import paragraph

SYSTEMS = [("°F · psig", "us"), ("°C · bar", "metric")]


class Units:
    """The reader's choice of units and altitude, shared by all that follows it.

    Parameters
    ----------
    system : {"us", "metric"}
        Which units.
    altitude : float
        Height above sea level, which moves the zero of every gauge. [m]

    Raises
    ------
    UnknownName
        If the system is not one of the two.
    OutOfRange
        If the altitude lies outside the standard atmosphere's range.
    """

    def __init__(self, system="us", altitude=0.0):
        self.show = readout.choose(system, altitude=altitude)
        self._followers = []

    def choose(self, system=None, altitude=None):
        """Change units or altitude [m]; everybody who follows redraws."""
        show = readout.choose(
            self.show.system if system is None else system,
            altitude=self.show.altitude if altitude is None else altitude,
        )
        if show != self.show:
            self.show = show
            for follower in [f() for f in self._followers]:
                if follower is not None:
                    follower(show)

    def follow(self, method):
        """Call a bound method with the new readout at every change, as long as its owner lives."""
        self._followers = [f for f in self._followers if f() is not None]
        self._followers.append(weakref.WeakMethod(method))

    def buttons(self):
        """Return a small pair of buttons that changes the units."""
        return UnitButtons(self).box

    def altitude_box(self):
        """Return a box to type the altitude in."""
        return AltitudeBox(self).box


class UnitButtons:
    """Two buttons, one for each system of units."""

    def __init__(self, units):
        self.units = units
        self.box = widgets.ToggleButtons(
            options=SYSTEMS,
            value=units.show.system,
            tooltips=["US units", "metric units"],
            style={"button_width": "auto"},
            layout={"width": "auto", "margin": "0"},
        )
        self.box.add_class("lowside-header")
        self.box.lowside_keeper = self
        self.box.observe(lambda change: units.choose(system=change["new"]), names="value")
        units.follow(self._use)

    def _use(self, show):
        self.box.value = show.system


class AltitudeBox:
    """Altitude as the reader types it, in feet or metres."""

    def __init__(self, units):
        self.units = units
        self.entry = widgets.Text(
            continuous_update=False,
            style={"description_width": "auto"},
            layout={"width": "auto", "margin": "0"},
        )
        self.entry.add_class("lowside-entry")
        self.problem = widgets.HTML()
        self.box = widgets.VBox([self.entry, self.problem], layout={"width": "19em"})
        self.box.lowside_keeper = self
        self._use(units.show)
        self.entry.observe(self._typed, names="value")
        units.follow(self._use)

    def _use(self, show):
        self._shown = f"{show.value(show.altitude, 'altitude'):.0f}"
        self.entry.description = f"Altitude above sea level [{show.unit('altitude')}]"
        self.entry.value = self._shown
        self.problem.value = ""

    def _typed(self, change):
        if change["new"] == self._shown:
            return
        try:
            altitude = self.units.show.parse(change["new"], "altitude", "altitude above sea level")
            self.units.choose(altitude=altitude)
        except LowsideError as error:
            self.problem.value = paragraph(self.units.show.explain(error), "alert", "alert")
        else:
            self.problem.value = ""


class OwnNumber:
    """The learner's own number, from which the numbers of all questions follow.

    Parameters
    ----------
    number : int or str
        The first one.
    deal : callable
        Called with every other one that can be used, as text.
    """

    MOST_DIGITS = 9

    def __init__(self, number, deal):
        self._number, self._deal = str(number), deal
        self.entry = widgets.Text(
            value=self._number,
            description="Your number, for your own questions",
            continuous_update=False,
            style={"description_width": "auto"},
            layout={"width": "auto", "margin": "0"},
        )
        self.entry.add_class("lowside-entry")
        self.problem = widgets.HTML()
        self.box = widgets.VBox([self.entry, self.problem], layout={"width": "19em"})
        self.box.lowside_keeper = self
        self.entry.observe(self._typed, names="value")

    def _typed(self, change):
        text = change["new"].strip()
        if text == self._number:
            return
        if text.isdecimal() and len(text) <= self.MOST_DIGITS:
            self._number = str(int(text))
            self.problem.value = ""
            self._deal(self._number)
        else:
            came = f"“{text}” is not a whole number" if text else "that was left empty"
            said = (
                f"Your number: {came} of at most {self.MOST_DIGITS} digits, such as 7. Your "
                f"questions stay with number {self._number}."
            )
            self.problem.value = paragraph(said, "alert", "alert")
        self.entry.value = self._number
