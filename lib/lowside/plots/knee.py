"""A running box beside its readings at every charge: where subcooling goes, where suction falls."""

from __future__ import annotations

import numpy as np

from lowside import charge as grams
from lowside import system
from lowside.plots import gramsquares, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Markers, Span, Still, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

CABINET = "propane-reach-in"
SIZE = WIDTH, HEIGHT = 760, 546
LEFT, RIGHT = 474, 740  # [px] of the curves
TOP, TALL, EVERY = 62, 64, 91  # [px] of the first curve, height, from one to the next

_GRAVE = 0.02  # of the charge, difference worth a word
_BUBBLES = 5e-4  # mass share of vapour at the valve that counts as bubbles

# Name in BoxResult, what stands over the curve, kind, axis from and to [SI].
CURVES = (
    ("subcooling", "subcooling", "temperature_difference", 0.0, 30.0),
    ("suction_pressure", "suction gauge", "gauge_pressure", 2.0e5, 4.2e5),
    ("superheat", "superheat", "temperature_difference", 0.0, 25.0),
    ("condensing_temperature", "condensing", "temperature", 293.15, 348.15),
    ("capacity", "cooling", "heat_flow", 0.0, 900.0),
)

PLACES = {
    "full": "clear liquid at the valve",
    "thin": "bubbles at the valve",
    "starved": "valve wide open",
}


def knee_figure(show, charge, ambient, drier, liquid_length, model, cabinet=CABINET):
    """Draw where the grams of a running box sit, beside its readings at every charge.

    Parameters
    ----------
    show : Readout
        The reader's units.
    charge : float
        In the box. [kg]
    ambient : float
        Air entering the condenser. [K]
    drier : float
        Free volume of the filter-drier. [m3]
    liquid_length : float
        Of the liquid line. [m]
    model : str
        Void-fraction model, a key of ``charge.void.MODELS``.
    cabinet : str
        One of ``system.cabinets.names()``.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    NoOperatingPoint
        If the box does not run with so much.
    OutOfRange
        If the curve does not reach to this charge.
    UnknownName
        For a void-fraction model that is not here.
    """
    built = system.cabinets.get(cabinet)
    curve = system.refitted_curve(cabinet, ambient, drier, liquid_length)
    state, parts = curve.at(charge, model)
    _, reference = system.refitted_curve(cabinet).at(built.charge, model)
    knee = curve.knee(model)
    knees = [curve.knee(each) for each in grams.void.BAND]
    numbers = {
        "what": built.what,
        "nameplate": built.charge,
        "charge": charge,
        "ambient": ambient,
        "drier": drier,
        "liquid_length": liquid_length,
        "model": model,
        "knee": knee,
        "knees": tuple(sorted(knees)) if None not in knees else None,
        "wide_open": curve.wide_open(model),
        "state": state,
        "parts": parts,
        "reference": reference,
        "at_knee": None if knee is None else curve.at(knee, model)[0],
        "kept": parts["drier"] + parts["liquid_line"],
        "kept_as_built": reference["drier"] + reference["liquid_line"],
    }
    numbers["place"] = _place(numbers)
    scene = _Scene(show, numbers, curve)
    key = ("knee", show, cabinet)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    return LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say where on the curves the box stands, and what its gauges can tell of it.

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
    state = now["state"]
    if now["place"] == "full":
        said = (
            f"Liquid backs up in the condenser: {_text(show, state, 'subcooling')} of subcooling. "
            "More grams would go there and nearly nowhere else."
        )
    elif now["place"] == "thin":
        said = (
            "The subcooling is gone and bubbles reach the valve, but it opens further and makes "
            f"up for them.{_since_the_knee(show, now)}"
        )
    else:
        said = (
            "The valve stands wide open and can do no more. Only now does suction fall and "
            "superheat climb."
        )
    extra = now["kept"] - now["kept_as_built"]
    if extra > _GRAVE * now["nameplate"]:
        said += (
            f" Drier and liquid line keep {show.text(extra, 'charge')} more than as built at the "
            "nameplate charge."
        )
    elif now["charge"] > (1.0 + _GRAVE) * now["nameplate"]:
        said += " That is more than the nameplate allows."
    return said


def _since_the_knee(show, n):
    """By how little suction and superheat differ from where the subcooling went."""
    if n["at_knee"] is None:
        return ""
    moved = {
        name: abs(n["state"][name] - n["at_knee"][name])
        for name in ("suction_pressure", "superheat")
    }
    suction = show.text(moved["suction_pressure"], "pressure_difference")
    superheat = show.text(moved["superheat"], "temperature_difference")
    return (
        f" Since the last subcooling went, suction has moved by {suction} and superheat by "
        f"{superheat}: gauges on the low side hardly tell."
    )


def _place(n):
    if n["wide_open"] is not None and n["charge"] < n["wide_open"]:
        return "starved"
    return "thin" if n["state"]["subcooling"] < 0.05 else "full"


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers, curve):
        self.show, self.n, self.curve = show, numbers, curve

    def draw_background(self, figure):
        show, n = self.show, self.n
        axes = {}
        low, high = 0.34 * n["nameplate"], 1.43 * n["nameplate"]
        across = user_ticks(show, "charge", low, high, 5)
        labels = []
        for place, (name, title, kind, bottom, top) in enumerate(CURVES):
            upper = TOP + EVERY * place
            chart = axes[name] = add_axes(figure, SIZE, LEFT, upper, RIGHT, upper + TALL)
            chart.set_xlim(low, high)
            chart.set_ylim(bottom, top)
            chart.set_yticks(*user_ticks(show, kind, bottom, top, 3))
            last = place == len(CURVES) - 1
            chart.set_xticks(across[0], across[1] if last else [""] * len(across[0]))
            chart.grid(True)
            labels.append(word(LEFT, upper - 7, f"{title} [{show.unit(kind)}]"))
        axes["page"] = add_page(figure, SIZE)
        nameplate = [n["nameplate"]] * 2
        labels += [
            Line(nameplate, [bottom, top], style.MUTED, 1.6, "dotted", axes=name)
            for name, _, _, bottom, top in CURVES
        ]
        labels += [
            Text(n["nameplate"], CURVES[2][4], "nameplate", (Spot(5, 12),), axes=CURVES[2][0]),
            word(LEFT + 112, TOP - 7, "band: models", colour=style.OWN),
            *gramsquares.backdrop(),
            *gramsquares.legend(show, "than as built with its nameplate charge, design day"),
            word(14, 24, "where the grams sit, running", size=style.LARGE, bold=True),
            word(LEFT - 40, 24, "what instruments show", size=style.LARGE, bold=True),
            word(RIGHT, HEIGHT - 10, f"charge in the box [{show.unit('charge')}]", "end"),
        ]
        return axes, labels

    def items(self):
        n = self.n
        key = ("curves", n["ambient"], n["drier"], n["liquid_length"], n["model"])
        return [
            Still(key, self._curves),
            *gramsquares.fill(n["parts"], self.show, n["reference"]),
            *self._middle(),
            *self._markers(),
        ]

    def _curves(self):
        n, curve, items = self.n, self.curve, []
        charges = curve.charges(n["model"])
        for name, _, _, _, top in CURVES:
            values = getattr(curve.points, name)
            along = charges
            if n["wide_open"] is not None and n["knee"] is not None:
                items.append(Span("x", n["wide_open"], n["knee"], style.RULE, 0.45, name))
                if name == "subcooling":
                    at = 0.5 * (n["wide_open"] + n["knee"])
                    spots = (Spot(0, -32, "middle"),)
                    items.append(Text(at, 0.0, "bubbles at\nthe valve", spots, axes=name))
            if name == "subcooling":
                items += self._band(name, top)
                if n["knee"] is not None:
                    at = int(np.searchsorted(charges, n["knee"]))
                    along, values = np.insert(charges, at, n["knee"]), np.insert(values, at, 0.0)
            items.append(Line(along, values, style.INK, 2.6, axes=name))
        return items

    def _band(self, name, top):
        """Between the two void-fraction models of the band, at the same states."""
        edges = []
        for model in grams.void.BAND:
            knee, charges = self.curve.knee(model), self.curve.charges(model)
            values = self.curve.points.subcooling
            if knee is None:
                return []
            at = int(np.searchsorted(charges, knee))
            edges.append((np.insert(charges, at, knee), np.insert(values, at, 0.0)))
        (x, y), (x2, y2) = edges
        outline = np.r_[x, x2[::-1]], np.clip(np.r_[y, y2[::-1]], 0.0, top)
        return [Area(*outline, None, style.OWN, 0.35, name)]

    def _middle(self):
        show, n = self.show, self.n
        items = [
            word(212, 236, "in the box", "middle"),
            word(212, 260, show.text(n["charge"], "charge"), "middle", 22.0, bold=True),
            word(212, 280, f"nameplate {show.text(n['nameplate'], 'charge')}", "middle"),
            word(212, 354, PLACES[n["place"]], "middle", style.TEXT, bold=True),
        ]
        if n["state"]["inlet_quality"] > _BUBBLES:
            share = show.text(n["state"]["inlet_quality"], "ratio", 1)
            items.append(word(212, 371, f"{share} vapour arrives there", "middle"))
        return items

    def _markers(self):
        show, n, items = self.show, self.n, []
        for place, (name, _, kind, bottom, top) in enumerate(CURVES):
            value = n["state"][name]
            inside = min(max(value, bottom), top)
            items.append(Line([n["charge"]] * 2, [bottom, top], style.HIGH, 1.6, axes=name))
            items.append(Markers([n["charge"]], [inside], "circle", 13, style.HIGH, axes=name))
            y = TOP + EVERY * place - 7
            text = show.text(value, kind)
            items.append(word(RIGHT, y, text, "end", style.TEXT, style.HIGH, True))
        return items


def _text(show, state, name):
    kind = next(kind for each, _, kind, _, _ in CURVES if each == name)
    return show.text(state[name], kind)


def _strip(show, n):
    state = n["state"]
    return [
        ("Suction gauge", _text(show, state, "suction_pressure")),
        ("Superheat", _text(show, state, "superheat")),
        ("Head gauge", show.text(state["head_pressure"], "gauge_pressure")),
        ("Subcooling", _text(show, state, "subcooling")),
        ("Cooling", _text(show, state, "capacity")),
    ]


def _words(show, n):
    def weight(mass):
        return show.text(mass, "charge")

    state = n["state"]
    said = (
        f"A {n['what']} runs with {weight(n['charge'])} of propane, nameplate "
        f"{weight(n['nameplate'])}, in air of {show.text(n['ambient'], 'temperature')}; drier "
        f"{show.text(n['drier'], 'volume')} inside, liquid line "
        f"{show.text(n['liquid_length'], 'distance')}, grams counted by the {n['model']} model. "
        f"Where they are: {gramsquares.said(n['parts'], show)}. Suction gauge "
        f"{_text(show, state, 'suction_pressure')}, superheat {_text(show, state, 'superheat')}, "
        f"subcooling {_text(show, state, 'subcooling')}, "
        f"condensing {_text(show, state, 'condensing_temperature')}, cooling "
        f"{_text(show, state, 'capacity')}; at the valve "
        f"{show.text(state['inlet_quality'], 'ratio', 1)} vapour."
    )
    if n["knee"] is not None:
        said += f" Subcooling is gone below {weight(n['knee'])}"
        if n["knees"] is not None:
            said += f" (between {weight(n['knees'][0])} and {weight(n['knees'][1])} by the models)"
        said += "."
    if n["wide_open"] is not None:
        said += f" Suction falls only below {weight(n['wide_open'])}, with the valve wide open."
    return said
