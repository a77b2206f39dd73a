"""A leak into a room: gas in the air over time, evenly mixed and lying on the floor."""

from __future__ import annotations

import math

import numpy as np

from lowside import flammability, refrigerants, units
from lowside.flammability import Room
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Arrow, Bar, Line, Span, Text
from lowside.plots.pagework import add_axes, add_page, word

SIZE = WIDTH, HEIGHT = 760, 470
CHART = (64, 62, 470, 410)  # [px] left, top, right, bottom
SECTION = (512, 96, 744, 330)  # [px] of the room, cut through

SHOWN = 7200.0  # [s]
LOWEST, HIGHEST = 0.01, 30.0  # times the LFL
ALARM = 0.25  # of the LFL, where detectors of the trade alarm: common practice, no published source
DOOR = 2.0  # [m]

WHERE = {"liquid": "liquid line, running", "vapour": "vapour, standing still"}
_CONDENSING_ABOVE = 12.0  # [K] above the room while it runs, as the boxes of the hall are built
_POINTS = 241
_ROOM_FOR_A_WORD = 56  # [px]
_LEVELS = (0.01, 0.1, 0.25, 1.0, 10.0)
_CALM, _WATCH, _BURNS = "#E8F1F7", "#F7E3B5", "#F0B79E"


def leak_figure(show, charge, hole, where, floor_area, height, air_changes, layer, temperature):
    """Draw what a leaking propane cabinet does to the air of a room.

    Parameters
    ----------
    show : Readout
        The reader's units.
    charge : float
        All of it leaks. [kg]
    hole : float
        Diameter of the hole. [m]
    where : {"liquid", "vapour"}
        What is behind the hole: liquid of the running box, vapour of the standing one.
    floor_area, height : float
        Of the room. [m2], [m]
    air_changes : float
        Fresh air over the room's volume. [1/s]
    layer : float
        Share of the height that heavy gas fills on the floor: an illustration.
    temperature : float
        Of the room. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a hole, a room or a temperature that cannot be.
    UnknownName
        For another `where`.
    """
    fluid = refrigerants.get("R290")
    limits = flammability.lower_limits(fluid)
    room = Room(floor_area, height, air_changes)
    at_hole = temperature + (_CONDENSING_ABOVE if where == "liquid" else 0.0)
    fast, slow = (float(t) for t in flammability.emptying_time(fluid, charge, hole, at_hole, where))
    lfl = limits[0].concentration
    numbers = {
        "charge": charge,
        "hole": hole,
        "where": where,
        "floor_area": floor_area,
        "height": height,
        "volume": room.volume,
        "air_changes": air_changes,
        "layer": layer,
        "temperature": temperature,
        "fast": fast,
        "slow": slow,
        "lfl": lfl,
        "lower": min(limit.concentration for limit in limits) / lfl,
    }
    for name, share in (("mixed", 1.0), ("floor", layer)):
        numbers[name] = float(flammability.peak_concentration(room, charge, fast, share)) / lfl
        for level, threshold in (("alarm", ALARM), ("limit", 1.0)):
            lasting = flammability.time_above(room, charge, fast, threshold * lfl, share)
            numbers[f"{name}_{level}"] = float(lasting)
    scene = _Scene(show, numbers, room)
    background = Background.once(
        scene.draw_background, WIDTH, HEIGHT, ("leak", show, numbers["lower"])
    )
    figure = LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )
    figure.limits = limits
    return figure


def why(start, now, show):
    """Say what rules the air of this room.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two sentences.
    """
    out = show.text(now["fast"], "time")
    changed = now["air_changes"] * now["fast"]
    if changed < 0.1:
        said = (
            f"The charge is out in {out}, before fresh air counts: the peak is charge over volume, "
            "and ventilation only decides how long it lasts."
        )
    else:
        said = (
            f"The leak takes {out}; while it runs, fresh air carries gas out, so the peak stays "
            "below charge over volume."
        )
    if now["mixed"] > now["lower"]:
        return f"{said} Here even the evenly mixed room can burn."
    if now["floor"] > now["lower"]:
        return f"{said} Evenly mixed it would not burn; as a layer on the floor it can."
    return f"{said} A layer thinner than the one drawn would hold more: measure, near the floor."


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers, room):
        self.show, self.n, self.room = show, numbers, room

    def draw_background(self, figure):
        axes = {"main": add_axes(figure, SIZE, *CHART)}
        chart = axes["main"]
        chart.set_yscale("log")
        chart.set_ylim(LOWEST, HIGHEST)
        chart.set_xlim(0.0, SHOWN)
        chart.set_yticks(_LEVELS, [f"{100 * level:g}" for level in _LEVELS])
        chart.set_yticks([], minor=True)
        minutes = np.arange(0, 121, 20)
        chart.set_xticks(60.0 * minutes, [f"{m:g}" for m in minutes])
        chart.grid(axis="x")
        axes["page"] = add_page(figure, SIZE)
        lower = self.n["lower"]
        return axes, [
            Span("y", LOWEST, ALARM, _CALM, 1.0),
            Span("y", ALARM, lower, _WATCH, 1.0),
            Span("y", lower, 1.0, _BURNS, 0.6),
            Span("y", 1.0, HIGHEST, _BURNS, 1.0),
            Line([0, SHOWN], [ALARM] * 2, style.INK, 1.4, "dashed"),
            Line([0, SHOWN], [1.0] * 2, style.INK, 2.4),
            Line([0, SHOWN], [lower] * 2, style.INK, 1.4, "dotted"),
            word(14, 22, "gas in the air [% of LFL]", size=style.LARGE, bold=True),
            word(
                (CHART[0] + CHART[2]) / 2,
                HEIGHT - 22,
                "minutes after the leak begins",
                "middle",
                style.TEXT,
            ),
            word(SECTION[0], 22, "the room, cut through", size=style.LARGE, bold=True),
        ]

    def items(self):
        return [*self._curves(), *self._levels(), *self._legend(), *self._section()]

    def _curves(self):
        n = self.n
        ends = [min(edge, SHOWN) for edge in (n["fast"], n["slow"])]
        time = np.union1d(np.linspace(0.0, SHOWN, _POINTS), ends)
        items = []
        for share, colour, dash in (
            (1.0, style.LOW, "solid"),
            (n["layer"], style.OWN, "dashed"),
        ):
            curves = [
                flammability.concentration(self.room, n["charge"], out, time, share) / n["lfl"]
                for out in (n["fast"], n["slow"])
            ]
            fast, slow = (np.clip(curve, LOWEST / 2, HIGHEST * 2) for curve in curves)
            items.append(Area(time, fast, slow, colour, 0.22))
            items.append(Line(time, fast, colour, 3.2, dash))
        return items

    def _levels(self):
        items, spot = [], (Spot(-6, -6, "end"),)
        for level, text, bold in (
            (1.0, "100 % of LFL (NFPA 497, ASHRAE 34): burns", True),
            (ALARM, "25 % of LFL: the usual alarm, people out", True),
        ):
            items.append(Text(SHOWN, level, text, spot, style.SMALL, bold=bold))
        text = "the lower of two published LFL (IEC 60079-20-1)"
        items.append(Text(SHOWN, self.n["lower"], text, (Spot(-6, 16, "end"),), style.SMALL))
        return items

    def _legend(self):
        items = []
        for x, colour, dash, text in (
            (CHART[0], style.LOW, "solid", "evenly mixed"),
            (CHART[0] + 158, style.OWN, "dashed", "as a floor layer (illustration)"),
        ):
            items.append(Line([x, x + 30], [43, 43], colour, 3.2, dash, axes="page"))
            items.append(word(x + 38, 48, text, size=style.SMALL, colour=colour, bold=True))
        return items

    def _section(self):
        n, show = self.n, self.show
        left, top, right, bottom = SECTION
        wide = math.sqrt(n["floor_area"])
        scale = min((right - left) / wide, (bottom - top) / n["height"])
        w, h = wide * scale, n["height"] * scale
        x0, y0 = left + (right - left - w) / 2, bottom - h
        layer = max(n["layer"] * h, 3.0)
        door = min(DOOR * scale, h), 0.9 * scale
        box = min(1.9 * scale, 0.94 * h), min(0.8 * scale, w / 2)
        items = [Bar(x0, y0, x0 + w, bottom, _tint(n["mixed"], n["lower"]), axes="page")]
        if n["layer"] < 0.999:
            items.append(
                Bar(x0, bottom - layer, x0 + w, bottom, _tint(n["floor"], n["lower"]), axes="page")
            )
            items.append(
                Line([x0, x0 + w], [bottom - layer] * 2, style.OWN, 2.0, "dashed", axes="page")
            )
        items += [
            Bar(
                x0 + w - door[1],
                bottom - door[0],
                x0 + w,
                bottom,
                style.PAPER,
                style.MUTED,
                0.6,
                axes="page",
            ),
            Bar(
                x0 + 4,
                bottom - box[0],
                x0 + 4 + box[1],
                bottom,
                style.PAPER,
                style.INK,
                axes="page",
            ),
            Line(
                [x0, x0 + w, x0 + w, x0],
                [y0, y0, bottom, bottom],
                style.INK,
                2.4,
                closed=True,
                axes="page",
            ),
        ]
        if box[1] > _ROOM_FOR_A_WORD:
            items.append(word(x0 + 4 + box[1] / 2, bottom - box[0] + 18, "cabinet", "middle"))
        if door[1] > _ROOM_FOR_A_WORD:
            items.append(word(x0 + w - door[1] / 2, bottom - door[0] + 18, "door", "middle"))
        start = x0 + 4 + box[1], bottom - 0.12 * box[0]
        items.append(
            Arrow(
                start[0],
                start[1],
                start[0] + 26,
                min(start[1] + 12, bottom),
                style.HIGH,
                axes="page",
            )
        )
        size = f"{show.text(n['floor_area'], 'floor')} × {show.text(n['height'], 'distance')}"
        items.append(word(left, 46, size, size=style.SMALL))
        items.append(
            word(
                left, 64, f"{show.text(n['volume'], 'volume')}, door {show.text(DOOR, 'distance')}"
            )
        )
        items.append(word(left, 82, f"air changes: {show.text(n['air_changes'], 'air_changes')}"))
        y = bottom + 26
        for text, colour, bold in (
            ("At most, in % of LFL:", style.INK, False),
            (f"evenly mixed {_share(n['mixed'])}", style.LOW, True),
            (f"in the floor layer {_share(n['floor'])}", style.OWN, True),
            (f"leak: all out in {self._out()}", style.INK, False),
        ):
            items.append(word(left, y, text, size=style.TEXT, colour=colour, bold=bold))
            y += 22
        return items

    def _out(self):
        return _span(self.show, self.n["fast"], self.n["slow"])


def _tint(level, lower):
    return _CALM if level < ALARM else _WATCH if level < lower else _BURNS


def _share(level):
    return f"{100 * level:.0f} %" if level >= 0.1 else f"{100 * level:.1f} %"


def _span(show, first, last):
    one, two = show.text(first, "time"), show.text(last, "time")
    if one == two:
        return one
    if one.split()[-1] == two.split()[-1]:
        one = one.split()[0]
    return f"{one} to {two}"


def _lasting(show, seconds):
    if seconds == 0.0:
        return "never"
    return show.text(seconds, "time") if math.isfinite(seconds) else "until aired"


def _strip(show, n):
    return [
        ("All out after", _span(show, n["fast"], n["slow"])),
        ("Mixed, at most", f"{_share(n['mixed'])} of LFL"),
        ("Layer, at most", f"{_share(n['floor'])} of LFL"),
        ("Layer above 25 %", _lasting(show, n["floor_alarm"])),
        ("Layer above LFL", _lasting(show, n["floor_limit"])),
    ]


def _words(show, n):
    def lasts(name):
        said = _lasting(show, n[name])
        return {"never": "never", "until aired": "until somebody airs the room"}.get(
            said, f"for {said}"
        )

    return (
        f"{show.text(n['charge'], 'charge')} of propane leak through a hole of "
        f"{show.text(n['hole'], 'port')} ({WHERE[n['where']]}) into "
        f"{show.text(n['volume'], 'volume')} at {show.text(n['temperature'], 'temperature')} with "
        f"{show.text(n['air_changes'] * units.HOUR, 'number', 1)} air changes an "
        f"hour; all is out in {_span(show, n['fast'], n['slow'])}. Evenly mixed the air reaches "
        f"{_share(n['mixed'])} of the lower flammability limit and is above a quarter of it "
        f"{lasts('mixed_alarm')}. Lying on the lowest {show.text(n['layer'], 'ratio')} of the "
        f"room it reaches {_share(n['floor'])}, above a quarter of the limit "
        f"{lasts('floor_alarm')}, above the limit {lasts('floor_limit')}. The layer is an "
        f"illustration; well mixed is not the worst case. Counted from the lower of the two "
        f"published limits all shares are {1 / n['lower']:.2f} times as high."
    )
