"""The pressure-enthalpy diagram: the map on which every lesson stands.

``PhDiagram`` has ordinary axes whose data are SI (J/kg across, absolute Pa up, logarithmic) and
whose ticks are in the reader's units; ``dome`` draws what stands still. Its methods give the
primitives that move: a cycle, braces for superheat and subcooling, the glide of a blend, a reading.
The figure functions put them together with words.
"""

from __future__ import annotations

import math

from lowside.plots import dome, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import AROUND, Spot
from lowside.plots.marks import Brace, Line, Markers, Numbered, Text

WIDTH, HEIGHT = 640, 500
_ROOM_BELOW = 1.35  # pressure over the lowest shown, for a label below it
_DETAIL = 3.2  # pressures shown above and below the one whose glide is looked at
_VIEW_STEP = 0.25  # of the logarithm of that pressure, between two views
_LEANS = (0.0, 12.0, -12.0)  # [px] of a brace's label
_WIDEN = 0.15  # of the width, each time a cycle reaches further right than the usual view


class PhDiagram:
    """The diagram of one refrigerant in one reader's units.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    show : Readout
        The reader's units; gauge ticks follow the altitude.
    lines : sequence of {"isotherms", "quality", "isentropes"}
        Families of thin lines to draw.
    pressures : tuple of float, optional
        Lowest and highest absolute pressure shown. [Pa]
    enthalpies : tuple of float, optional
        Lowest and highest enthalpy shown. [J/kg]
    width, height : int
        Size in figure pixels.

    Raises
    ------
    OutOfRange
        If a pressure lies outside the refrigerant's range.
    """

    def __init__(
        self,
        refrigerant,
        show,
        lines=dome.LINES,
        pressures=None,
        enthalpies=None,
        width=WIDTH,
        height=HEIGHT,
    ):
        self.refrigerant, self.show = refrigerant, show
        low, high = pressures or dome.usual_pressures(refrigerant)
        self.pressures = float(low), float(high)
        refrigerant.saturation(self.pressures)
        self.enthalpies = enthalpies or dome.usual_enthalpies(refrigerant, self.pressures)
        self.enthalpies = tuple(map(float, self.enthalpies))
        view = refrigerant, show, tuple(lines), self.pressures, self.enthalpies
        self._labels = dome.labels(*view)
        self.background = Background.once(
            lambda figure: dome.draw(
                figure, refrigerant, show, lines, self.pressures, self.enthalpies
            ),
            width,
            height,
            ("ph", *view),
        )

    def figure(self, items, words, readings=(), numbers=None, remarks=()):
        """Return a live figure of this diagram; labels of its thin lines give way to `items`."""
        items = [*items, *self._labels]
        return LiveFigure(self.background, items, words, readings, numbers, remarks)

    def cycle(self, result, names=True):
        """Return a cycle with its four numbered states and the parts between them.

        Parameters
        ----------
        result : CycleResult
            One cycle.
        names : bool
            Whether to write the parts' names beside their lines.

        Returns
        -------
        list
            Primitives.
        """
        states = (result.suction, result.discharge, result.liquid, result.valve_outlet)
        p1, p2, p3, p4 = (float(state.pressure) for state in states)
        h1, h2, h3, h4 = (float(state.enthalpy) for state in states)
        outlet = result.evaporator_outlet
        items = [
            Line([h4, float(outlet.enthalpy), h1], [p4, float(outlet.pressure), p1], style.LOW, 4),
            Line([h1, h2], [p1, p2], style.INK, 2.6, "dashed"),
            Line([h2, h3], [p2, p3], style.HIGH, 4),
            Line([h3, h4], [p3, p4], style.INK, 2.6),
            Numbered(h1, p1, "1"),
            Numbered(h2, p2, "2"),
            Numbered(h3, p3, "3"),
            Numbered(h4, p4, "4"),
        ]
        if names:
            level = (Spot(0, -9, "middle"), Spot(0, 19, "middle"), Spot(0, -26, "middle"))
            beside = (Spot(12, 5), Spot(-12, 5, "end"))
            low = Text(
                0.6 * h4 + 0.4 * h1, p4, "evaporator", level[::-1], colour=style.LOW, bold=True
            )
            high = Text((h2 + h3) / 2, p2, "condenser", level, colour=style.HIGH, bold=True)
            down = Text(h3, math.sqrt(p3 * p4), "valve", beside, bold=True)
            along = 0.6 * h1 + 0.4 * h2, p1**0.6 * p2**0.4
            items += [low, high, down, Text(*along, "compressor", beside, bold=True)]
        return items

    def superheat(self, pressure, temperature, label="superheat"):
        """Return the brace from the dew point to a vapour, or nothing if it is not superheated.

        Parameters
        ----------
        pressure, temperature : float
            Of the vapour. [Pa], [K]
        label : str
            What stands before the value.
        """
        degrees = float(self.refrigerant.superheat(pressure, temperature))
        if degrees <= 0:
            return []
        dew = float(self.refrigerant.saturation(pressure).vapour_enthalpy)
        end = float(self.refrigerant.vapour_enthalpy(pressure, temperature))
        text = f"{label} {self.show.text(degrees, 'temperature_difference')}"
        side = "below" if pressure > _ROOM_BELOW * self.pressures[0] else "above"
        look = {"gap": 14, "stem": 7, "leans": _LEANS}
        return [Brace(dew, pressure, end, pressure, text, side, style.LOW, **look)]

    def subcooling(self, pressure, temperature, label="subcooling"):
        """Return the brace from a liquid to the bubble point, or nothing if it is not subcooled.

        Parameters
        ----------
        pressure, temperature : float
            Of the liquid. [Pa], [K]
        label : str
            What stands before the value.
        """
        degrees = float(self.refrigerant.subcooling(pressure, temperature))
        if degrees <= 0:
            return []
        bubble = float(self.refrigerant.saturation(pressure).liquid_enthalpy)
        end = float(self.refrigerant.liquid_enthalpy(pressure, temperature))
        text = f"{label} {self.show.text(degrees, 'temperature_difference')}"
        look = {"gap": 14, "stem": 7, "leans": _LEANS}
        return [Brace(end, pressure, bubble, pressure, text, "above", style.HIGH, **look)]

    def isobar(self, pressure, colour=style.INK, dash="dashed", label=""):
        """Return a line right across the diagram at one pressure [Pa], with a label."""
        items = [Line(self.enthalpies, [pressure, pressure], colour, 1.6, dash)]
        if label:
            spots = (Spot(8, -5), Spot(8, 15))
            items.append(
                Text(self.enthalpies[0], pressure, label, spots, style.SMALL, colour, bold=True)
            )
        return items

    def isotherm(self, temperature, colour=style.INK, width=2.2, dash="solid"):
        """Return one temperature [K] as a line across the dome."""
        branches = dome.boiling(self.refrigerant, temperature, self.pressures)
        return [Line(h, p, colour, width, dash) for h, p in branches]

    def glide(self, pressure):
        """Return bubble and dew point at one pressure [Pa], each with its isotherm.

        In a blend's dome an isotherm slopes: along the level line of one pressure the temperature
        climbs from bubble to dew. That climb is the glide.
        """
        show, saturation = self.show, self.refrigerant.saturation(pressure)
        bubble, dew = float(saturation.bubble_temperature), float(saturation.dew_temperature)
        left, right = float(saturation.liquid_enthalpy), float(saturation.vapour_enthalpy)
        glide = show.text(dew - bubble, "temperature_difference")
        at_bubble = f"bubble\n{show.text(bubble, 'temperature')}"
        at_dew = f"dew {show.text(dew, 'temperature')}"
        left_spots = (Spot(-12, -26, "end"), Spot(-12, 20, "end"))
        right_spots = (Spot(13, -30), Spot(13, 38))
        return [
            *self.isotherm(bubble, style.HIGH, 2.0, "dash-dot"),
            *self.isotherm(dew, style.LOW, 2.0, "dashed"),
            Line([left, right], [pressure, pressure], style.INK, 4.0),
            Markers([left], [pressure], "square", 14, style.HIGH),
            Markers([right], [pressure], "circle", 14, style.LOW),
            Text(left, pressure, at_bubble, left_spots, colour=style.HIGH, bold=True),
            Text(right, pressure, at_dew, right_spots, colour=style.LOW, bold=True),
            Brace(left, pressure, right, pressure, f"glide {glide}", "above", gap=10),
        ]

    def reading(self, pressure, temperature, label, spots=None):
        """Return a person's own reading as a diamond with its label.

        Parameters
        ----------
        pressure, temperature : float
            What gauge and clamp say. [Pa], [K]
        label : str
            What to write beside it; the temperature follows on a second line.
        spots : sequence of Spot, optional
            Where the label may stand.
        """
        h = float(self.refrigerant.state_pt(pressure, temperature).enthalpy)
        text = f"{label}\n{self.show.text(temperature, 'temperature')}"
        if spots is None:
            spots = tuple(Spot(dx, dy - (16 if dy < 0 else 0), end) for dx, dy, end in AROUND)
        return [
            Markers([h], [pressure], "diamond", 16, style.OWN),
            Text(h, pressure, text, spots, style.SMALL, style.OWN, True),
        ]


def cycle_figure(result, show, lines=dome.LINES, remarks=()):
    """Draw a cycle on the diagram of its refrigerant, with superheat and subcooling.

    Parameters
    ----------
    result : CycleResult
        One cycle, from ``cycle.between_temperatures`` or ``between_pressures``.
    show : Readout
        The reader's units.
    lines : sequence of {"isotherms", "quality", "isentropes"}
        Families of thin lines to draw.
    remarks : sequence of (str, str)
        What to say of it besides: how weighty, and the sentence.

    Returns
    -------
    LiveFigure
        With words, what gauges and clamps would say, and numbers.

    Raises
    ------
    OutOfRange
        If the cycle leaves the refrigerant's range.
    """
    fluid = result.refrigerant
    suction, liquid, discharge = result.suction, result.liquid, result.discharge
    left, right = dome.usual_enthalpies(fluid, dome.usual_pressures(fluid))
    step = _WIDEN * (right - left)
    beyond = (float(discharge.enthalpy) - right) / step
    right += step * max(0, math.ceil(beyond + 0.2))
    diagram = PhDiagram(fluid, show, lines, enthalpies=(left, right))
    low, high = float(result.evaporator_outlet.pressure), float(discharge.pressure)
    outlet_temperature = float(result.evaporator_outlet.temperature)
    numbers = {
        "evaporating_pressure": low,
        "condensing_pressure": high,
        "evaporating_temperature": float(fluid.dew_temperature(low)),
        "condensing_temperature": float(fluid.dew_temperature(high)),
        "superheat": float(fluid.superheat(low, outlet_temperature)),
        "subcooling": float(fluid.subcooling(liquid.pressure, liquid.temperature)),
        "discharge_temperature": float(discharge.temperature),
        "cooling": float(result.cooling),
        "work": float(result.work),
        "cop": float(result.cop),
        "flash_gas": float(result.flash_gas),
    }
    items = [
        *diagram.cycle(result),
        *diagram.superheat(low, outlet_temperature),
        *diagram.subcooling(float(liquid.pressure), float(liquid.temperature)),
    ]

    def text(name, kind):
        return show.text(numbers[name], kind)

    dew = " (dew)" if fluid.has_glide else ""
    words = (
        f"Pressure-enthalpy diagram of {fluid.name}. The evaporator runs at "
        f"{text('evaporating_pressure', 'gauge_pressure')}, "
        f"{text('evaporating_temperature', 'temperature')}{dew}; the condenser at "
        f"{text('condensing_pressure', 'gauge_pressure')}, "
        f"{text('condensing_temperature', 'temperature')}{dew}. Superheat "
        f"{text('superheat', 'temperature_difference')}, subcooling "
        f"{text('subcooling', 'temperature_difference')}; the vapour leaves the compressor at "
        f"{text('discharge_temperature', 'temperature')}. Behind the valve "
        f"{text('flash_gas', 'ratio')} is already vapour. Each unit of mass takes up "
        f"{text('cooling', 'enthalpy')} of heat for {text('work', 'enthalpy')} of work: "
        f"COP {numbers['cop']:.2f}."
    )
    readings = (
        ("Suction gauge", show.text(suction.pressure, "gauge_pressure")),
        ("Suction-line clamp", show.text(suction.temperature, "temperature")),
        ("Head gauge", text("condensing_pressure", "gauge_pressure")),
        ("Liquid-line clamp", show.text(liquid.temperature, "temperature")),
        ("Discharge clamp", text("discharge_temperature", "temperature")),
    )
    return diagram.figure(items, words, readings, numbers, remarks)


def glide_figure(refrigerant, pressure, show, line_temperature=None):
    """Draw bubble point, dew point and glide at one pressure, and a line temperature against them.

    Parameters
    ----------
    refrigerant : Refrigerant
        From ``refrigerants.get``.
    pressure : float
        Absolute. [Pa]
    show : Readout
        The reader's units.
    line_temperature : float, optional
        Of the suction line, to show its superheat. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        If pressure or temperature lies outside the refrigerant's range.
    """
    fluid = refrigerant
    diagram = PhDiagram(fluid, show, ("isotherms", "quality"), _detail(fluid, pressure))
    bubble, dew = float(fluid.bubble_temperature(pressure)), float(fluid.dew_temperature(pressure))
    numbers = {"pressure": float(pressure), "bubble": bubble, "dew": dew, "glide": dew - bubble}
    items = diagram.glide(pressure)
    words = (
        f"Pressure-enthalpy diagram of {fluid.name} at {show.text(pressure, 'gauge_pressure')}: "
        f"it starts to boil at {show.text(bubble, 'temperature')} (bubble) and the last drop is "
        f"gone at {show.text(dew, 'temperature')} (dew), a glide of "
        f"{show.text(dew - bubble, 'temperature_difference')}."
    )
    readings = [("Suction gauge", show.text(pressure, "gauge_pressure"))]
    if line_temperature is not None:
        numbers["superheat"] = float(fluid.superheat(pressure, line_temperature))
        numbers["from_bubble"] = float(line_temperature) - bubble
        items += diagram.reading(
            pressure, line_temperature, "suction line", (Spot(16, -3), Spot(-16, -30, "end"))
        )
        items += diagram.superheat(pressure, line_temperature)
        readings.append(("Suction-line clamp", show.text(line_temperature, "temperature")))
        words += (
            f" A suction line at {show.text(line_temperature, 'temperature')} has "
            f"{show.text(numbers['superheat'], 'temperature_difference')} of superheat, counted "
            f"from dew; counted from bubble by mistake it would look like "
            f"{show.text(numbers['from_bubble'], 'temperature_difference')}."
        )
    return diagram.figure(items, words, readings, numbers)


def _detail(fluid, pressure):
    """Return pressures around one, rounded so that the view moves only now and then [Pa]."""
    low, high = fluid.pressure_range
    middle = math.exp(_VIEW_STEP * round(math.log(pressure) / _VIEW_STEP))
    return max(low, middle / _DETAIL), min(high, middle * _DETAIL)
