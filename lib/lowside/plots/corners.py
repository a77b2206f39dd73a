"""Every size of the kit at every corner of a year: which one reaches far enough both ways.

A row for each port, a column for each corner. A bar runs from the cooling that the port feeds with
its pin a tenth open to what it feeds with the pin at the stop; a line is the load, a dot where the
box runs. Below stand the parts to take out of the case, and the port cut open to scale.
"""

from __future__ import annotations

import math

from lowside import kit
from lowside.kit import reasons
from lowside.plots import cornerwords, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.cutaway import cutaway
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Markers, Text

WIDTH, HEIGHT = 700, 568
LABELS = 74  # [px] where the columns begin
COLUMN, GAP, CROSS = 100, 6, 15  # a column keeps its right end free for a cross
TOP, ROW = 104, 25
SIZES = kit.the_kit().sizes
BOTTOM = TOP + ROW * len(SIZES)
VERDICT = LABELS + 5 * (COLUMN + GAP) - 2
PARTS = BOTTOM + 56
CUT = (524, BOTTOM + 44, 694, HEIGHT - 6)

SHARES = (0.05, 5.0)  # of the design load, from side to side of a column
TICKS = {0.1: "0.1", 1.0: "1", 4.0: "4"}
BOILING = (218.15, 293.15)  # [K] from side to side of the last column
_BAR, _KEPT, _NOW, _ROWS = "#BFD3E2", "#FFFFFF", "#0A6EA8", "#F3F6F9"
_BAD = style.HIGH


def corner_figure(show, corner=kit.HOT_FULL, **job):
    """Draw every size of the kit at every corner of a year, and the build that meets them all.

    Parameters
    ----------
    show : Readout
        The reader's units.
    corner : int
        Place in ``kit.CORNERS`` at which gauges and clamps are read.
    **job
        As ``kit.Job`` takes it.

    Returns
    -------
    LiveFigure
        With words, what gauges and clamps would say, and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    UnknownName
        For a refrigerant, a connection or a construction that the kit has not.
    NoOperatingPoint
        If the box cannot be sized for these conditions.
    """
    case = cornerwords.Case(show, kit.choose(kit.Job(**job)), corner)
    scene = _Scene(case)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, ("corners", show))
    return LiveFigure(
        background,
        scene.items(),
        case.words(),
        case.readings(),
        case.numbers(),
        case.remarks(),
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, case):
        self.case, self.show, self.job = case, case.show, case.job
        self.choice, self.best, self.index = case.choice, case.best, case.index
        construction = self.choice.cartridge.construction
        self.band = self.choice.band
        self.rows = {
            part.port: index
            for index, part in enumerate(self.best.cartridges)
            if part.construction == construction
        }

    # ---------------------------------------------------------------- what stands still

    def draw_background(self, figure):
        axes = {"page": figure.add_axes((0, 0, 1, 1)), "cut": _place(figure, *CUT)}
        for ax in axes.values():
            ax.set_axis_off()
        axes["page"].set_xlim(0, WIDTH)
        axes["page"].set_ylim(HEIGHT, 0)
        left, top, right, bottom = CUT
        tall = (bottom - top) / (right - left)
        axes["cut"].set_xlim(-1, 1)
        axes["cut"].set_ylim(1.0 - 2.0 * tall, 1.0)
        return axes, [*self._frame(), *self._key()]

    def _frame(self):
        items = []
        for row in range(0, len(SIZES), 2):
            y = TOP + ROW * row
            items.append(Bar(0, y, WIDTH, y + ROW, _ROWS, axes="page"))
        for at, (first, second) in enumerate(cornerwords.HEADINGS):
            left = _left(at)
            middle = left + COLUMN / 2
            items += [_text(middle, TOP - 46, first, "middle", True)]
            items += [_text(middle, TOP - 30, second, "middle", True)]
            items.append(Line([left, left], [TOP, BOTTOM], style.RULE, 1.0, axes="page"))
            marks = TICKS.items()
            if at == kit.PULL_DOWN:
                marks = self._boiling()
            for value, label in marks:
                x = _across(at, value)
                items.append(Line([x, x], [BOTTOM, BOTTOM + 4], style.MUTED, 1.0, axes="page"))
                items.append(_text(x, BOTTOM + 17, label, "middle", colour=style.MUTED))
        items.append(_text(LABELS - 8, TOP - 30, "port", "end", True))
        items.append(_text(VERDICT, TOP - 30, "verdict", bold=True))
        items.append(_text(LABELS - 8, TOP - 12, "head", "end"))
        below = "cooling, in design loads"
        items.append(_text(_left(0), BOTTOM + 33, below, colour=style.MUTED))
        items.append(_text(CUT[0], CUT[1] - 8, "port and pin, to scale", bold=True))
        return items

    def _boiling(self):
        """Two temperatures of the last column; only the second has room for its unit."""
        cold, warm = 233.15, 273.15
        yield cold, f"{self.show.value(cold, 'temperature'):.0f}"
        yield warm, self.show.text(warm, "temperature", 0)

    def _key(self):
        """Explain a bar, in one line on top."""
        y, x = 20, LABELS
        items = self._bar(x, x + 66, x + 84, y - 8, _BAR)
        items.append(_text(x + 92, y, "a tenth open to wide open, last quarter white"))
        x = 508
        items.append(Line([x, x], [y - 12, y + 4], style.INK, 2.0, axes="page"))
        items.append(_text(x + 8, y, "load"))
        items.append(Markers([x + 66], [y - 4], "circle", 11, _NOW, axes="page"))
        items.append(_text(x + 76, y, "where it runs"))
        return items

    # ---------------------------------------------------------------- what moves

    def items(self):
        return [
            *self._heads(),
            *self._loads(),
            *(item for row in range(len(SIZES)) for item in self._row(row)),
            *self._chosen(),
            *self._parts(),
            *self._cut(),
        ]

    def _heads(self):
        """Head of each corner, and the corner that is read."""
        items = []
        for at, kelvin in enumerate(self.job.condensing):
            head = float(self.job.fluid.dew_pressure(kelvin))
            text = self.show.text(head, "gauge_pressure")
            items.append(_text(_left(at) + COLUMN / 2, TOP - 12, text, "middle"))
        left = _left(self.case.corner)
        x, y = [left, left + COLUMN], TOP - 62
        items.append(Line(x, [y, y], style.OWN, 3.0, axes="page"))
        items.append(_text(left + COLUMN / 2, y - 6, "read now", "middle", colour=style.OWN))
        return items

    def _loads(self):
        items = []
        for at, corner in enumerate(kit.CORNERS):
            if corner.full:
                x = _across(at, 1.0)
                items.append(Line([x, x], [TOP, BOTTOM], style.INK, 2.0, axes="page"))
        if self.job.highest_evaporating is not None:
            x = _across(kit.PULL_DOWN, self.job.highest_evaporating)
            items.append(Line([x, x], [TOP, BOTTOM], style.INK, 2.0, "dashed", axes="page"))
        return items

    def _row(self, row):
        port, y = SIZES[row], TOP + ROW * (row + 0.5)
        index = self.rows.get(port)
        label = self.show.text(port, "port")
        if index is None:
            where = "too small" if port < min(self.rows) else "too large"
            return [
                _text(LABELS - 8, y + 5, label, "end", colour=style.MUTED),
                _text(VERDICT, y + 5, where, colour=style.MUTED),
            ]
        items = []
        chosen = index == self.index
        for at in range(len(kit.CORNERS)):
            items += self._cell(index, at, y, chosen)
        failings = self.choice.failings(index)
        if chosen:
            verdict = "take this one" if self.choice.met else "nearest"
        else:
            verdict = reasons.SHORT[failings[0][1]] if failings else "would do"
        colour = style.INK if chosen or not failings else _BAD
        if port in self.band and self.band[0] < self.band[1]:
            verdict, colour = ("one model" if chosen else "other model"), style.INK
        items.append(_text(LABELS - 8, y + 5, label, "end", chosen))
        items.append(_text(VERDICT, y + 5, verdict, "start", chosen, colour))
        return items

    def _cell(self, index, at, y, chosen):
        best, job = self.best, self.job
        point = best.points.at((index, at))
        bad = best.faults[index, at] != kit.Fault.NONE
        items = []
        if not point.accepted:
            return [_text(_left(at) + COLUMN / 2, y + 5, "no run", "middle", colour=_BAD)]
        if at == kit.PULL_DOWN:
            x = _across(at, point.evaporating_temperature)
        else:
            port = best.cartridges[index].hardware
            kept = port.area(self.choice.limits.most_lift * port.max_lift) / port.largest_area
            able, least = best.able[index, at] / job.load, best.least[index, at] / job.load
            ends = (_across(at, value) for value in (least, kept * able, able))
            items += self._bar(*ends, y, _NOW if chosen else _BAR)
            x = _across(at, point.capacity / job.load)
        dot = style.INK if chosen else _NOW
        items.append(Markers([x], [y], "circle", 11 if chosen else 8, dot, axes="page"))
        if bad:
            items.append(_text(_left(at) + COLUMN - 1, y + 6, "×", "end", True, _BAD, style.LARGE))
        return items

    def _bar(self, low, kept, high, y, colour):
        half = 6
        return [
            Bar(low, y - half, high, y + half, _KEPT, style.MUTED, axes="page"),
            Bar(low, y - half, kept, y + half, colour, style.MUTED, axes="page"),
        ]

    def _chosen(self):
        """Frame the chosen row, or the band of rows between the models of the jet."""
        first, last = (SIZES.index(port) for port in self.band)
        y0, y1 = TOP + ROW * first, TOP + ROW * (last + 1)
        dash = "solid" if self.choice.met else "dashed"
        x = [2, WIDTH - 2, WIDTH - 2, 2]
        return [Line(x, [y0, y0, y1, y1], style.INK, 2.0, dash, closed=True, axes="page")]

    def _parts(self):
        listed = reasons.parts_list(self.choice, self.show)
        if not listed:
            return [
                _text(4, PARTS, "No build meets every corner.", bold=True, size=style.TEXT),
                *(
                    _text(4, PARTS + 22 * line, f"{corner.words}: {reasons.SHORT[fault]}")
                    for line, (corner, fault) in enumerate(self.choice.unmet, 1)
                ),
            ]
        if self.band[0] < self.band[1]:
            ports = " to ".join(self.show.text(port, "port") for port in self.band)
            kind = self.choice.cartridge.construction
            between = ("Cartridge", f"{ports} {kind}: superheat decides")
            listed = [between if what == "Cartridge" else (what, which) for what, which in listed]
        items = [_text(4, PARTS, "Take out of the case", bold=True, size=style.TEXT)]
        for line, (what, which) in enumerate(listed, 1):
            y = PARTS + 21 * line
            items += [_text(4, y, what, bold=True), _text(116, y, which)]
        return items

    def _cut(self):
        cartridge, now = self.choice.cartridge, self.case.now
        return cutaway(cartridge.hardware, float(now.lift), self.show, 1.4 * cartridge.port)


def _left(at):
    return LABELS + at * (COLUMN + GAP)


def _across(at, value):
    """Place of a share of the load, or of a temperature in the last column [px]."""
    if at == kit.PULL_DOWN:
        low, high = BOILING
        share = (float(value) - low) / (high - low)
    else:
        low, high = (math.log(edge) for edge in SHARES)
        share = (math.log(max(float(value), SHARES[0])) - low) / (high - low)
    return _left(at) + (COLUMN - CROSS) * min(max(share, 0.0), 1.0)


def _place(figure, left, top, right, bottom):
    return figure.add_axes(
        (left / WIDTH, 1 - bottom / HEIGHT, (right - left) / WIDTH, (bottom - top) / HEIGHT)
    )


def _text(x, y, text, anchor="start", bold=False, colour=style.INK, size=style.SMALL):
    return Text(x, y, text, (Spot(0, 0, anchor),), size, colour, bold, False, axes="page")
