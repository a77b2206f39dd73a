"""Internal or external equaliser: what a pressure drop in the evaporator costs in superheat.

On the left the valve with distributor and coil behind it, and the pressure at both ends. On the
right the superheat at which it carries the load, at every evaporating temperature, for both kinds
of equaliser; above the difference between box air and evaporating no bulb can get.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from lowside import refrigerants, valve
from lowside.plots import style, valvewords
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Bar, Line, Markers, Span, Still, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word
from lowside.plots.valvebody import force_arrows, force_scale, moving_piece, valve_body
from lowside.plots.valveforces import hardware

SIZE = WIDTH, HEIGHT = 760, 480
CHART = (486, 66, 746, 330)  # [px] left, top, right, bottom
COLDEST, WARMEST = 238.15, 283.15  # [K] evaporating temperatures shown
MOST = 24.0  # [K] of superheat on the chart

_SUBCOOLING = 5.0  # [K]
_POINTS = 91
_KINDS = {
    True: ("external", style.LOW, "solid"),
    False: ("internal", style.HIGH, "dashed"),
}
_THIN = 2.0  # [K] of superheat too little to trust: common practice, no published source
_SHADE = "#F7E6DD"
_KIND = "temperature_difference"


@lru_cache(maxsize=64)
def both(refrigerant, load, set_at, condensing, turns, drop, load_share):
    """Find the superheat of both kinds of equaliser at every evaporating temperature.

    Parameters
    ----------
    refrigerant : str
        Name.
    load, set_at, condensing : float
        As for `valveforces.hardware`.
    turns : float
        Of the stem, clockwise.
    drop : float
        From the valve outlet to the coil outlet at design load and design temperature. [Pa]
    load_share : float
        Load now over design load. [-]

    Returns
    -------
    evaporating : ndarray
        [K]
    found : dict of bool to valve.Duty
        By external equaliser.
    """
    fluid = refrigerants.get(refrigerant)
    evaporating = np.linspace(COLDEST, WARMEST, _POINTS)
    case = _Valves(fluid, load, set_at, condensing, turns, drop)
    return evaporating, {
        external: case.duty(external, load_share * load, evaporating) for external in _KINDS
    }


class _Valves:
    """One valve with either equaliser on one coil."""

    def __init__(self, fluid, load, set_at, condensing, turns, drop):
        box = hardware(fluid.name, load, set_at, condensing, True)
        self.fluid = fluid
        self.head = float(fluid.dew_pressure(condensing))
        liquid = fluid.bubble_temperature(self.head) - _SUBCOOLING
        enthalpy = fluid.liquid_enthalpy(self.head, liquid)
        self.inlet = valve.inlet(fluid, self.head, enthalpy)
        built = valve.turned(box.valve, fluid, turns)
        self.built = {one: replace(built, external_equaliser=one) for one in _KINDS}
        design = valve.at_load(box.valve, fluid, load, self.inlet, fluid.dew_pressure(set_at))
        self.coefficient = drop / float(design.mass_flow) ** 2

    def duty(self, external, load, evaporating):
        pressure = self.fluid.dew_pressure(evaporating)
        built = self.built[external]
        return valve.at_load(built, self.fluid, load, self.inlet, pressure, self.coefficient)


def equaliser_figure(
    show,
    refrigerant,
    load,
    set_at,
    condensing,
    difference,
    evaporating,
    drop,
    external=False,
    load_share=1.0,
    turns=0.0,
):
    """Draw what a pressure drop behind the valve costs with either equaliser.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name.
    load, set_at, condensing : float
        Design load [W], and the dew points at which the valve was set [K].
    difference : float
        Box air less evaporating. [K]
    evaporating : float
        Dew point that is looked at. [K]
    drop : float
        From the valve outlet to the coil outlet at design. [Pa]
    external : bool
        Kind of equaliser that is looked at.
    load_share : float
        Load now over design load. [-]
    turns : float
        Of the stem, clockwise, since it was set.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range, or a spring that nobody can set.
    NoOperatingPoint
        If the spring is slack.
    UnknownName
        If there is no such refrigerant.
    """
    fluid = refrigerants.get(refrigerant)
    setting = refrigerant, load, set_at, condensing, turns, drop
    curves = both(*setting, load_share)
    case = _Valves(fluid, *setting[1:])
    duties = {one: case.duty(one, load_share * load, evaporating) for one in _KINDS}
    now, pressure = duties[external], float(fluid.dew_pressure(evaporating))
    superheats = {one: float(duty.superheats.operating) for one, duty in duties.items()}
    balance = valve.forces(
        case.built[external],
        fluid,
        evaporating + superheats[external],
        pressure,
        case.head,
        float(now.drop),
    )
    numbers = {
        "refrigerant": refrigerant,
        "load": load,
        "load_share": load_share,
        "difference": difference,
        "evaporating": evaporating,
        "pressure": pressure,
        "design_drop": drop,
        "drop": float(now.drop),
        "external": external,
        "turns": turns,
        "superheat": superheats[external],
        "of_external": superheats[True],
        "of_internal": superheats[False],
        "wide_open": bool(now.superheats.wide_open),
        "lift_share": float(now.superheats.lift_share),
    }
    scene = _Scene(show, curves, balance, numbers)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, ("equaliser", show))
    items = [
        Still((*setting, load_share, difference, external), scene.still),
        *scene.moving(),
    ]
    return LiveFigure(background, items, _words(show, numbers), _readings(show, numbers), numbers)


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, curves, balance, numbers):
        self.show, self.curves, self.balance, self.n = show, curves, balance, numbers

    def draw_background(self, figure):
        chart, show = add_axes(figure, SIZE, *CHART), self.show
        chart.set_xlim(COLDEST, WARMEST)
        chart.set_ylim(0.0, MOST)
        chart.set_xticks(*user_ticks(show, "temperature", COLDEST, WARMEST, 5))
        chart.set_yticks(*user_ticks(show, _KIND, 0.0, MOST, 6))
        chart.grid()
        left, _, right, bottom = CHART
        large = {"size": style.LARGE, "bold": True}
        return {"main": chart, "page": add_page(figure, SIZE)}, [
            word(8, 20, "which pressure does it feel?", **large),
            word(left - 46, 20, "superheat that carries the load", **large),
            word(left - 46, 46, show.axis("superheat", _KIND)),
            word(right, bottom + 38, show.axis("evaporating", "temperature"), "end"),
            *force_scale(show, 348),
        ]

    def still(self):
        """Draw body, coil and both lines."""
        n, (evaporating, duties) = self.n, self.curves
        items = [*valve_body(n["external"], n["turns"]), *_coil()]
        items.append(Span("y", n["difference"], MOST, _SHADE, 1.0))
        items.append(Line([COLDEST, WARMEST], [n["difference"]] * 2, style.INK, 1.6))
        for height, text, spot in (
            (n["difference"], "as warm as the box air", Spot(5, 15)),
            (MOST, "no bulb gets so warm:\nthe coil starves", Spot(-4, 16, "end")),
        ):
            across = WARMEST if spot.anchor == "end" else COLDEST
            items.append(Text(across, height, text, (spot,), style.SMALL))
        for external, (name, colour, dash) in _KINDS.items():
            superheat = duties[external].superheats.operating
            chosen = external == n["external"]
            seen = np.where((superheat >= 0.0) & (superheat <= MOST), superheat, np.nan)
            items.append(Line(evaporating, seen, colour, 3.6 if chosen else 2.2, dash))
            x, y = CHART[0] - 40 + (0 if external else 150), CHART[3] + 64
            items.append(Line([x, x + 34], [y - 5] * 2, colour, 3.6, dash, axes="page"))
            items.append(word(x + 42, y, name, size=style.TEXT, colour=colour, bold=chosen))
        return items

    def moving(self):
        """Draw pin, forces, pressures and the point that is looked at."""
        n, show = self.n, self.show
        colour = _KINDS[n["external"]][1]
        x, y = n["evaporating"], min(max(n["superheat"], 0.0), MOST)
        text = show.text(n["superheat"], _KIND)
        spots = (Spot(14, -10), Spot(-14, -10, "end"), Spot(14, 22), Spot(-14, 22, "end"))
        other = min(max(n["of_internal" if n["external"] else "of_external"], 0.0), MOST)
        items = [
            *moving_piece(n["lift_share"], n["turns"]),
            *force_arrows(self.balance, show),
            Line([x, x], [y, other], style.INK, 2.0, "dotted"),
            Markers([x], [y], "circle", 14, colour),
            Text(x, y, text, spots, style.LARGE, bold=True),
        ]
        outlet = show.text(n["pressure"] + n["drop"], "gauge_pressure")
        coil = show.text(n["pressure"], "gauge_pressure")
        items.append(word(308, 362, outlet, bold=True))
        items.append(word(414, 102, coil, "end", bold=True))
        lines = (
            f"drop {show.text(n['drop'], 'pressure_difference')}: costs an internal",
            f"equaliser {show.text(_worth(show, n), _KIND)} of superheat",
        )
        top = CHART[3] + 98
        for number, line in enumerate(lines):
            items.append(word(CHART[0] - 40, top + 20 * number, line, size=style.TEXT, bold=True))
        return items


def _coil():
    """Distributor and four circuits from the valve outlet up to the suction line."""
    foot, inner, outer, high, low = 314.0, 344.0, 410.0, 198.0, 284.0
    items = [
        Bar(inner + 2, high, outer, low, style.HAZE, style.INK, axes="page"),
        Area([322, inner, inner], [foot, foot - 17, foot + 17], colour=style.MUTED, axes="page"),
    ]
    for number in range(4):
        level, x = foot - 13 + 9 * number, inner + 12 + 14 * number
        way = [inner, x, x], [level, level, high + 8]
        items.append(Line(*way, style.MUTED, 2.0, axes="page"))
    for fin in range(7):
        level = high + 18 + 10 * fin
        items.append(Line([inner + 6, outer - 4], [level] * 2, style.RULE, 1.0, axes="page"))
    top = high + 8
    riser = [inner + 12, outer + 14, outer + 14, outer + 4], [top, top, 57, 57]
    items.append(Line(*riser, style.MUTED, 5, axes="page"))
    items.append(word(inner - 2, 246, "coil", "end", bold=True))
    items.append(word(308, 378, "distributor behind it"))
    return items


def why(start, now, show):
    """Say what the drop costs here, and why.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A few sentences.
    """
    drop = show.text(now["drop"], "pressure_difference")
    cost = show.text(_worth(show, now), _KIND)
    reads = show.text(now["superheat"], _KIND)
    if now["wide_open"]:
        return (
            "The load needs more than the open port passes: the pin stands at its stop, and no "
            "equaliser helps. Bring the load back."
        )
    if now["superheat"] <= 0.0:
        return (
            "No superheat is left: liquid runs to the compressor. The spring was let out to make "
            "good for the drop, and the drop has gone with the flow. Turn the stem back in and "
            "give the valve its equaliser line."
        )
    if now["superheat"] < _THIN and now["turns"] < 0.0:
        return (
            f"Only {reads} of superheat is left. The spring was let out to make good for a drop, "
            f"and of the drop {drop} are left at this flow: the spring does not follow, and liquid "
            "is near the compressor."
        )
    if now["external"]:
        return (
            f"The space under the diaphragm hears the coil outlet, where the bulb sits: the drop "
            f"of {drop} is none of its business, and superheat stays at {reads}."
        )
    said = (
        f"The space under the diaphragm hears the valve outlet, {drop} above the coil outlet. The "
        f"bulb must make good for that: {cost} more superheat, {reads} in all."
    )
    if now["superheat"] > now["difference"]:
        difference = show.text(now["difference"], _KIND)
        return (
            f"{said} The box air is only {difference} above evaporating, so no bulb gets so warm: "
            "the coil starves and the suction falls until the flow, and with it the drop, is small "
            "enough."
        )
    if now["turns"] < 0.0:
        return (
            f"{said} The stem out makes good for it here; with less flow the drop goes, the spring "
            "stays out, and liquid comes."
        )
    return said


def _worth(show, n):
    """Superheat that the internal equaliser costs, rounded so that what is read subtracts [K]."""
    internal, external = (
        valvewords.superheat_read(show, n["evaporating"] + n[name], n["evaporating"])
        for name in ("of_internal", "of_external")
    )
    return internal - external


def _readings(show, n):
    read = valvewords.superheat_read(show, n["evaporating"] + n["superheat"], n["evaporating"])
    return (
        ("Gauge behind the valve", show.text(n["pressure"] + n["drop"], "gauge_pressure")),
        ("Suction gauge", show.text(n["pressure"], "gauge_pressure")),
        ("Dew at suction", show.text(n["evaporating"], "temperature")),
        ("Superheat needed", show.text(read, _KIND)),
        ("Air less evaporating", show.text(n["difference"], _KIND)),
    )


def _words(show, n):
    kind = _KINDS[n["external"]][0]
    internal, external = (show.text(n[name], _KIND) for name in ("of_internal", "of_external"))
    said = (
        f"{n['refrigerant']}, {show.text(n['load_share'], 'ratio')} of the design load of "
        f"{show.text(n['load'], 'capacity')}, evaporating at "
        f"{show.text(n['evaporating'], 'temperature')}, stem {valvewords.stem(n['turns'])}, "
        f"{kind} equaliser. From the valve outlet to the coil outlet "
        f"{show.text(n['drop'], 'pressure_difference')} are lost. To carry the load it takes "
        f"{external} of superheat with an external equaliser and {internal} with an internal one: "
        f"the drop is worth {show.text(_worth(show, n), _KIND)}."
    )
    if n["superheat"] > n["difference"]:
        said += (
            f" The box air is only {show.text(n['difference'], _KIND)} above evaporating: the coil "
            "starves."
        )
    return said
