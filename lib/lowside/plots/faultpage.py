"""One fault in one box: the cycle before and after, every reading's move, the grams that moved."""

from __future__ import annotations

import math
import textwrap

from lowside import faults, system
from lowside.plots import boxcycle, dome, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Arrow, Bar, Line, Text
from lowside.plots.pagework import add_axes, add_page, word

SIZE = WIDTH, HEIGHT = 760, 640
DIAGRAM = 44, 52, 326, 364  # [px] left, top, right, bottom
COLDEST, HOTTEST = 238.15, 353.15  # [K] dew points between which the diagram is drawn
MOVES = 346, 58, 30  # [px] left and first row of the moves, from row to row
MIDDLE, REACH = 572, 54  # [px] no change, and the furthest arrow
FURTHEST = 60.0  # instrument errors at the end of the scale
TICKS = (3.0, 10.0, 30.0)  # instrument errors
GRAMS = 440, 27  # [px] first row of the grams, from row to row
GRAMS_BAR = 112, 258  # [px] from, to
CARD = 346, 470  # [px] left and first line
LINE_LENGTH = 54  # characters

ROWS = (
    "suction_pressure",
    "superheat",
    "head_pressure",
    "condensing_difference",
    "subcooling",
    "discharge_temperature",
    "drier_drop",
    "strainer_drop",
    "box_air_drop",
    "condenser_air_rise",
    "current",
    "capacity",
)

# Parts whose grams are told together.
PLACES = (
    ("condenser", ("discharge_line", "condenser")),
    ("receiver", ("receiver",)),
    ("drier", ("drier",)),
    ("liquid line", ("liquid_line",)),
    ("evaporator", ("evaporator", "accumulator")),
    ("suction, shell", ("suction_line", "shell")),
    ("in the oil", ("oil",)),
)


def fault_figure(show, cabinet, fault, share, ambient):
    """Draw one fault in one of the cabinets.

    Parameters
    ----------
    show : Readout
        The reader's units.
    cabinet : str
        One of ``system.cabinets.names()``.
    fault : str
        One of ``faults.KEYS``.
    share : float
        How bad, of the worst there is here. [-]
    ambient : float
        Air entering the condenser. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    LowsideError
        If the fault does not fit the box.
    NoOperatingPoint
        If the box does not run even without it.
    """
    swept = faults.cabinet_sweep(cabinet, fault, float(ambient))
    kind = swept.fault
    severity = share * kind.high if kind.stepless else float(share >= 0.5)
    point, readings = swept.at(severity)
    sound, before = swept.at(0.0)
    numbers = {
        "what": system.cabinets.get(cabinet).what,
        "cabinet": cabinet,
        "family": swept.situation.family,
        "fault": fault,
        "name": kind.name,
        "severity": severity,
        "ambient": ambient,
        "status": point.status_name,
        "runs": bool(point.accepted),
        "before": before,
        "now": readings,
        "sizes": {key: (readings[key] - before[key]) / float(swept.errors[key]) for key in ROWS},
        "parts_before": _grams(sound),
        "parts": _grams(point),
        "cycle": boxcycle.corners(swept.situation.box.refrigerant, sound),
        "faulty": boxcycle.corners(swept.situation.box.refrigerant, point),
        "foreign": severity if fault == "foreign_gas" else 0.0,
    }
    scene = _Scene(show, swept.situation.box.refrigerant, kind, numbers)
    key = ("fault", show, scene.fluid)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    return LiveFigure(background, scene.items(), scene.words(), scene.strip(), numbers)


def how_bad(show, fault, severity):
    """Say a severity in words.

    Parameters
    ----------
    show : Readout
        The reader's units.
    fault : faults.Fault
    severity : float
        [SI of its kind]

    Returns
    -------
    str
    """
    if severity == 0.0:
        return "not there yet: the sound box"
    if not fault.stepless:
        return "fitted"
    return f"{fault.severity}: {show.text(severity, fault.kind)}"


def _grams(point):
    parts = point.inventory.parts()
    return {name: float(sum(parts[part] for part in belongs)) for name, belongs in PLACES}


def _along(size):
    """Where an arrow ends [px from the middle]; the scale is a logarithm on both sides."""
    share = math.log1p(min(abs(size), FURTHEST)) / math.log1p(FURTHEST)
    return math.copysign(REACH * share, size)


def _state(n):
    """How the box ended, as the end of a sentence about it."""
    if not n["runs"]:
        return f"does not run: {n['status']}"
    return "runs" if n["status"] == "solved" else f"runs, {n['status']}"


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, fluid, fault, numbers):
        self.show, self.fluid, self.fault, self.n = show, fluid, fault, numbers

    @property
    def pressures(self):
        """Edges of the diagram [Pa]."""
        hottest = min(HOTTEST, float(self.fluid.dew_temperature(self.fluid.pressure_range[1])))
        return tuple(float(self.fluid.dew_pressure(edge)) for edge in (COLDEST, hottest))

    def draw_background(self, figure):
        show, fluid = self.show, self.fluid
        chart = add_axes(figure, SIZE, *DIAGRAM)
        low, high = self.pressures
        chart.set_yscale("log")
        chart.set_xlim(*dome.usual_enthalpies(fluid, (low, high)))
        chart.set_ylim(low, high)
        places, labels = zip(*dome.pressure_ticks(chart, show), strict=True)
        chart.set_yticks(places, labels)
        chart.minorticks_off()
        chart.set_xticks([])
        chart.grid(True)
        dome.draw_dome(chart, fluid)
        axes = {"main": chart, "page": add_page(figure, SIZE)}
        return axes, [*self._titles(), *self._scale()]

    def _titles(self):
        look = {"size": style.LARGE, "bold": True}
        left, _, right, bottom = DIAGRAM
        return [
            word(12, 24, "pressure and enthalpy", **look),
            word(left, 44, self.show.axis("at the gauge", "gauge_pressure")),
            word(right, bottom + 18, "enthalpy →", "end"),
            word(left, bottom + 18, "dotted: sound", colour=style.MUTED),
            word(MOVES[0], 24, "what every reading does", **look),
            word(12, GRAMS[0] - 30, "where the grams go", **look),
            word(right, GRAMS[0] - 30, "outline: sound", "end", colour=style.MUTED),
        ]

    def _scale(self):
        left, top, every = MOVES
        first, last = top - 6, top + every * len(ROWS) - 8
        edge = _along(1.0)
        items = [
            Bar(MIDDLE - edge, first, MIDDLE + edge, last, style.RULE, None, 0.55, "page"),
            Line([MIDDLE, MIDDLE], [first, last], style.MUTED, 1.2, axes="page"),
            word(MIDDLE - edge - 4, 44, "lower", "end"),
            word(MIDDLE + edge + 4, 44, "higher"),
        ]
        for tick in TICKS:
            for side in (-1.0, 1.0):
                x = MIDDLE + side * _along(tick)
                items.append(Line([x, x], [first, last], style.HAZE, 1.2, axes="page"))
        for key, y in self._rows():
            items.append(word(left, y + 5, faults.reading(key).label))
        items.append(
            word(left, last + 18, "grey band: error of the instrument; lines: 3, 10, 30 times that")
        )
        return items

    @staticmethod
    def _rows():
        _, top, every = MOVES
        return [(key, top + every * place + 6) for place, key in enumerate(ROWS)]

    def items(self):
        n = self.n
        cycle = boxcycle.thin(n["cycle"])
        if n["runs"]:
            cycle += boxcycle.thick(n["faulty"])
        else:
            low, high = self.pressures
            at = math.sqrt(low * high)
            h = float(self.fluid.saturation(at).liquid_enthalpy)
            cycle.append(Text(h, at, n["status"], (Spot(10, 0),), style.LARGE, style.HIGH, True))
        return [*cycle, *self._gauge(), *self._moves(), *self._bars(), *self._card()]

    def _gauge(self):
        """Where the head gauge stands when air helps to push it."""
        if not self.n["foreign"]:
            return []
        head = self.n["now"]["head_pressure"]
        low, high = dome.usual_enthalpies(self.fluid, (head, head))
        line = Line([low, high], [head, head], style.OWN, 1.6, "dash-dot")
        return [line, Text(low, head, "head gauge", (Spot(30, -6),), colour=style.OWN, bold=True)]

    def _moves(self):
        items, n = [], self.n
        for key, y in self._rows():
            kind = faults.reading(key).kind
            text = self.show.text(n["before"][key], kind)
            if n["runs"]:
                unit = f" {self.show.unit(kind)}"
                text = f"{text.removesuffix(unit)} → {self.show.text(n['now'][key], kind)}"
                items += self._arrow(n["sizes"][key], y)
            items.append(word(WIDTH - 6, y + 5, text, "end"))
        return items

    @staticmethod
    def _arrow(size, y):
        if abs(size) < faults.NOTHING:
            return [Bar(MIDDLE - 3, y - 3, MIDDLE + 3, y + 3, style.MUTED, axes="page")]
        hidden = abs(size) < faults.SEEN
        colour, width = (style.MUTED, 2.0) if hidden else (style.INK, 5.0)
        head = 8.0 if hidden else 13.0
        return [Arrow(MIDDLE, y, MIDDLE + _along(size), y, colour, width, head, "page")]

    def _bars(self):
        n, items = self.n, []
        (top, every), (start, end) = GRAMS, GRAMS_BAR
        most = max(*n["parts"].values(), *n["parts_before"].values())
        place = 0
        for name in n["parts"]:
            before, now = n["parts_before"][name], n["parts"][name]
            if not before and not now:
                continue
            y = top + every * place
            place += 1
            items.append(word(start - 8, y + 5, name, "end"))
            reach = start + (end - start) * before / most
            if n["runs"]:
                filled = start + (end - start) * now / most
                items.append(Bar(start, y - 5, filled, y + 7, style.LOW, None, 0.55, "page"))
            height = [y - 8, y - 8, y + 10, y + 10]
            items.append(Line([start, reach, reach, start], height, width=1.6, axes="page"))
            items.append(word(DIAGRAM[2], y + 5, self._change(before, now), "end"))
        return items

    def _change(self, before, now):
        if not self.n["runs"]:
            return self.show.text(before, "charge")
        text = self.show.text(abs(now - before), "charge")
        return text if text.lstrip("0.")[:1] == " " else f"{'+' if now > before else '−'}{text}"

    def _card(self):
        n, fault, (x, y) = self.n, self.fault, CARD
        said = how_bad(self.show, fault, n["severity"])
        opens = "opens the sealed system" if fault.opens else "does not open the sealed system"
        lines = [(fault.name, True)]
        lines += [(line, False) for line in textwrap.wrap(said, LINE_LENGTH)]
        lines.append((f"The box {_state(n)}.", False))
        if n["severity"] > 0.0:
            cure = f"Cure: {fault.cure} It {opens}; about {fault.minutes:g} min, assumed."
            lines += [(line, False) for line in textwrap.wrap(cure, LINE_LENGTH)]
        return [
            word(
                x,
                y + 20 * place,
                line,
                size=style.LARGE if bold else style.SMALL,
                bold=bold,
            )
            for place, (line, bold) in enumerate(lines)
        ]

    def strip(self):
        n, show = self.n, self.show
        read = n["now"] if n["runs"] else n["before"]
        kinds = ("suction_pressure", "suction_temperature", "head_pressure", "liquid_temperature")
        return [
            (faults.reading(key).label.capitalize(), show.text(read[key], faults.reading(key).kind))
            for key in (*kinds, "discharge_temperature")
        ]

    def words(self):
        n, show, fault = self.n, self.show, self.fault
        said = (
            f"A {n['what']}, air at the condenser {show.text(n['ambient'], 'temperature')}. "
            f"{fault.name.capitalize()} ({how_bad(show, fault, n['severity'])}). "
            f"The box {_state(n)}. "
        )
        if not n["runs"]:
            return f"{said}What is drawn and read is the sound box."
        moved = "; ".join(self._moved(key) for key in ROWS)
        grams = "; ".join(
            f"{name} {show.text(n['parts_before'][name], 'charge')} to "
            f"{show.text(n['parts'][name], 'charge')}"
            for name in n["parts"]
            if n["parts"][name] or n["parts_before"][name]
        )
        return f"{said}Readings from sound to now: {moved}. Grams: {grams}."

    def _moved(self, key):
        n, show, reading = self.n, self.show, faults.reading(key)
        return (
            f"{reading.label} {show.text(n['before'][key], reading.kind)} to "
            f"{show.text(n['now'][key], reading.kind)}, {faults.word(n['sizes'][key])}"
        )
