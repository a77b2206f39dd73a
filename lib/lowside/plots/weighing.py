"""Charging by weight: the account of the grams, and how well anybody can know it."""

from __future__ import annotations

import numpy as np

from lowside import charge, refrigerants
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.marks import Area, Bar, Line
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 720, 500
ACCOUNT = (196, 44, 614, 226)  # [px] left, top, right, bottom
CLOSER = (36, 312, 424, 450)
VALUES = 706  # [px] right edge of the column of values
CAUSES = (456, 312, 700)  # [px] left, top, right of the list of doubts

ROWS = 5
_TOPS = (0.1, 0.2, 0.3, 0.5, 0.8)  # [kg] where the axis may end
_ROUND = 0.01  # [kg] to which the middle of the closer look is rounded

HOLDS = {
    "empty": "empty",
    "vapour": "vapour only",
    "liquid": "full of liquid",
    "unknown": "nobody knows",
}
_NAMES = {
    "resolution": "display step",
    "scale": "scale error",
    "hose": "hose content",
    "remaining": "what was left",
}
_TAKEN, _GIVEN = style.HIGH, style.GOOD


def weigh_in(
    refrigerant,
    scale_drop,
    step,
    scale_error,
    hose_length,
    hose_bore,
    before,
    after,
    temperature,
    left,
):
    """Weigh a charge in through a hose.

    Parameters
    ----------
    refrigerant : str
        Name.
    scale_drop, step, scale_error : float
        What the scale says left the cylinder, its smallest step, half-width of its error. [kg]
    hose_length, hose_bore : float
        [m]
    before, after : str
        What the hose held at zeroing and at closing, one of ``charge.HOSE_HOLDS``.
    temperature : float
        Of cylinder and hose. [K]
    left : float
        What the last call left in the box; half of it counts as doubt. [kg]

    Returns
    -------
    weighing : charge.Weighing
    hose_before, hose_after : float
        [kg]
    """
    fluid = refrigerants.get(refrigerant)
    hose = charge.Tube(hose_bore, hose_length)
    first, doubt_first = charge.hose_content(fluid, hose, temperature, before)
    last, doubt_last = charge.hose_content(fluid, hose, temperature, after)
    done = charge.weigh(
        scale_drop,
        resolution=step,
        scale_error=scale_error,
        hose_before=first,
        hose_after=last,
        hose_doubt=np.hypot(doubt_first, doubt_last),
        remaining=left,
        remaining_doubt=0.5 * left,
    )
    return done, float(first), float(last)


def weighing_figure(show, nameplate, refrigerant="R290", **job):
    """Draw what a charge by weight put into a box, against its nameplate.

    Parameters
    ----------
    show : Readout
        The reader's units.
    nameplate : float
        Charge on the nameplate. [kg]
    refrigerant : str
        Name.
    **job
        As for `weigh_in`.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a negative mass or a step not above zero.
    UnknownName
        For an unknown content of the hose.
    """
    done, first, last = weigh_in(refrigerant, **job)
    low, high = (float(edge) for edge in done.band())
    numbers = {
        "refrigerant": refrigerant,
        "nameplate": nameplate,
        **job,
        "hose_before": first,
        "hose_after": last,
        "total": float(done.total),
        "low": low,
        "high": high,
        "miss": float(done.total) - nameplate,
        "doubts": {name: float(value) for name, value in done.shares.items()},
    }
    scene = _Scene(show, numbers, done)
    key = ("weighing", show, scene.top, scene.middle)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    return LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say where the grams went, and what leaves the most doubt.

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
    if not _is_charge(now):
        return (
            "The hose kept more than the scale counted: nothing reached the box. Empty it into "
            "the running box before you close."
        )
    net = now["hose_after"] - now["hose_before"]
    if abs(net) > max(now["left"], 1e-4):
        kept = show.text(abs(net), "charge")
        said = (
            f"The scale counts everything that leaves the cylinder; {kept} of it never reached "
            "the box and sits in the hose."
            if net > 0
            else f"The hose gave {kept} to the box that the scale never saw leave the cylinder."
        )
    elif now["left"] > 1e-4:
        said = (
            f"The {show.text(now['left'], 'charge')} that the last call left comes on top of "
            "what you weigh in."
        )
    else:
        said = "Nothing is lost on the way: what the scale says is what the box got."
    cause = max(now["doubts"], key=now["doubts"].get)
    return f"{said} Most of the doubt comes from: {_NAMES[cause]}."


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers, done):
        self.show, self.numbers, self.done = show, numbers, done
        most = 1.12 * max(
            numbers["nameplate"],
            numbers["scale_drop"] + numbers["hose_before"] + numbers["left"],
        )
        self.top = next((top for top in _TOPS if top >= most), 0.1 * np.ceil(most / 0.1))
        self.middle = _ROUND * round(numbers["nameplate"] / _ROUND)
        self.half = self.top / 5

    def draw_background(self, figure):
        axes = {"account": add_axes(figure, SIZE, *ACCOUNT)}
        axes["account"].set_xlim(0.0, self.top)
        axes["account"].set_ylim(ROWS, 0.0)
        axes["closer"] = add_axes(figure, SIZE, *CLOSER)
        axes["closer"].set_xlim(self.middle - self.half, self.middle + self.half)
        axes["closer"].set_ylim(0.0, 1.3)
        for name, edges, most in (
            ("account", (0.0, self.top), 8),
            ("closer", axes["closer"].get_xlim(), 7),
        ):
            places, labels = user_ticks(self.show, "charge", *edges, most)
            axes[name].set_xticks(places, labels)
            axes[name].set_yticks([])
            axes[name].grid(axis="x")
            axes[name].spines["left"].set_visible(False)
        axes["page"] = add_page(figure, SIZE)
        unit = self.show.unit("charge")
        return axes, [
            word(14, 22, "the account of this charge", size=style.LARGE, bold=True),
            word(ACCOUNT[2], ACCOUNT[3] + 36, f"[{unit}]", "end"),
            word(14, 282, "a closer look at the box", size=style.LARGE, bold=True),
            word(CLOSER[2], CLOSER[3] + 36, f"in the box [{unit}]", "end"),
            word(CAUSES[0], 282, "where the doubt comes from", size=style.LARGE, bold=True),
        ]

    def items(self):
        return [*self._account(), *self._closer(), *self._doubts()]

    def _rows(self):
        """Name, where the bar starts, where it ends, colour; running total in between."""
        n = self.numbers
        drop, first, last = n["scale_drop"], n["hose_before"], n["hose_after"]
        return (
            ("the scale says", 0.0, drop, style.LOW, drop),
            ("was in the hose before", drop, drop + first, _GIVEN, first),
            ("stays in the hose", drop + first - last, drop + first, _TAKEN, -last),
            ("left by the last call", drop + first - last, n["total"], _GIVEN, n["left"]),
            ("in the box", 0.0, n["total"], style.OWN, n["total"]),
        )

    def _account(self):
        show, items = self.show, []
        for place, (name, start, end, colour, value) in enumerate(self._rows()):
            low, high = sorted((start, end))
            total = place in (0, ROWS - 1)
            y = self._row(place)
            items.append(word(ACCOUNT[0] - 10, y + 5, name, "end", style.TEXT, bold=total))
            low = max(low, 0.0)
            if high > low:
                bar = low, place + 0.2, high, place + 0.8, colour
                items.append(Bar(*bar, opacity=0.9 if total else 0.75, axes="account"))
            text = show.text(value, "charge")
            if not total:
                text = f"+ {text}" if value > 0 else f"− {show.text(-value, 'charge')}"
                text = "nothing" if abs(value) < 5e-6 else text
            items.append(word(VALUES, y + 5, text, "end", style.TEXT, colour, True))
            if place < ROWS - 1:
                at = end if value >= 0 else start
                items.append(
                    Line(
                        [at, at],
                        [place + 0.2, place + 1.8],
                        style.MUTED,
                        1.0,
                        "dotted",
                        axes="account",
                    )
                )
        nameplate = self.numbers["nameplate"]
        items.append(Line([nameplate] * 2, [-0.1, ROWS], style.INK, 2.0, "dashed", axes="account"))
        text = f"nameplate {show.text(nameplate, 'charge')}"
        x = min(self._across(nameplate), WIDTH - 92)
        items.append(word(x, ACCOUNT[1] - 6, text, "middle", style.TEXT, bold=True))
        return items

    def _closer(self):
        show, n = self.show, self.numbers
        window = self.middle - self.half, self.middle + self.half
        mass, density = self.done.spread()
        shape = density / density.max()
        known = (mass >= window[0]) & (mass <= window[1])
        items = []
        if known.sum() > 1:
            items.append(
                Area(mass[known], np.zeros(known.sum()), shape[known], style.OWN, 0.3, "closer")
            )
            items.append(Line(mass[known], shape[known], style.OWN, 2.6, axes="closer"))
        low, high = (min(max(n[edge], window[0]), window[1]) for edge in ("low", "high"))
        if high > low:
            items.append(Line([low, high], [1.12, 1.12], style.OWN, 3.0, axes="closer"))
            for edge in (low, high):
                items.append(Line([edge, edge], [1.06, 1.18], style.OWN, 3.0, axes="closer"))
        items.append(
            Line([n["nameplate"]] * 2, [0.0, 1.3], style.INK, 2.0, "dashed", axes="closer")
        )
        text = f"19 of 20 such charges: {show.text(n['low'], 'charge')} to "
        text += show.text(n["high"], "charge")
        if n["high"] < window[0]:
            text = f"◀ {text}"
        if n["low"] > window[1]:
            text = f"{text} ▶"
        items.append(word(CLOSER[0], CLOSER[1] - 8, text, size=style.TEXT, colour=style.OWN))
        return items

    def _doubts(self):
        show, items = self.show, []
        left, top, right = CAUSES
        doubts = sorted(self.numbers["doubts"].items(), key=lambda pair: -pair[1])
        most = max(doubts[0][1], 1e-9)
        for place, (name, value) in enumerate(doubts):
            y = top + 14 + 34 * place
            items.append(word(left, y, _NAMES[name]))
            items.append(word(right, y, f"± {show.text(2.0 * value, 'charge')}", "end"))
            long = (right - left) * value / most
            if long > 0.5:
                items.append(Bar(left, y + 6, left + long, y + 14, style.MUTED, axes="page"))
        return items

    def _across(self, mass):
        share = min(max(mass / self.top, 0.0), 1.0)
        return ACCOUNT[0] + share * (ACCOUNT[2] - ACCOUNT[0])

    @staticmethod
    def _row(place):
        return ACCOUNT[1] + (place + 0.5) / ROWS * (ACCOUNT[3] - ACCOUNT[1])


def _is_charge(numbers):
    return numbers["total"] > 0.0


def _verdict(show, numbers):
    """How the box stands against its nameplate."""
    if not _is_charge(numbers):
        return "nothing reached the box"
    miss = show.text(abs(numbers["miss"]), "charge")
    if numbers["high"] < numbers["nameplate"]:
        return f"{miss} short"
    if numbers["low"] > numbers["nameplate"]:
        return f"{miss} too much"
    return "inside the band"


def _strip(show, numbers):
    return [
        ("Scale says", show.text(numbers["scale_drop"], "charge")),
        ("Hose keeps", show.text(numbers["hose_after"], "charge")),
        ("In the box", show.text(max(numbers["total"], 0.0), "charge")),
        ("Known to within", f"± {show.text(0.5 * (numbers['high'] - numbers['low']), 'charge')}"),
        ("Against nameplate", _verdict(show, numbers)),
    ]


def _words(show, n):
    def grams(name):
        return show.text(n[name], "charge")

    band = (
        f"{show.text(max(n['low'], 0.0), 'charge')} and {show.text(max(n['high'], 0.0), 'charge')}"
    )
    return (
        f"Charging {n['refrigerant']} by weight, nameplate {grams('nameplate')}. The scale says "
        f"{grams('scale_drop')}. The hose was {HOLDS[n['before']]} when the scale was zeroed "
        f"({grams('hose_before')}) and is {HOLDS[n['after']]} at the end ({grams('hose_after')}); "
        f"the last call left {grams('left')}. So the box holds about "
        f"{show.text(max(n['total'], 0.0), 'charge')}, in 19 of 20 such charges between {band}: "
        f"against the nameplate {_verdict(show, n)}."
    )
