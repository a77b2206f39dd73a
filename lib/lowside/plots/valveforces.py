"""How the valve decides: its forces to scale, and the lift that every superheat gives.

On the left the valve, cut open, with the forces on its moving piece; under it the same forces end
to end, opening against closing. On the right lift against superheat, with the lift that the load
needs: where the line leaves the seat is the static superheat, where it reaches the need is the
operating one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lowside import refrigerants, system, valve
from lowside.plots import style, valvewords
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot, text_width
from lowside.plots.marks import Bar, Brace, Line, Markers, Still, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word
from lowside.plots.valvebody import (
    CLOSING,
    OPENING,
    force_arrows,
    force_scale,
    moving_piece,
    valve_body,
)

SIZE = WIDTH, HEIGHT = 760, 560
CHART = (478, 66, 744, 296)  # [px] left, top, right, bottom
MOST = 16.0  # [K] of superheat on the chart
BALANCE = {False: 0.0, True: 0.9}  # share of the port force that each construction cancels

_DIFFERENCE, _SUBCOOLING = 6.0, 5.0  # [K] box air to evaporating, and of the liquid
_STATIC, _OPENING = 3.0, 2.0  # [K] where the valve was set
_POINTS = 121
_BARS = (66.0, 472.0, 500.0)  # [px] left of the bars, and the top of each
_BAR, _PER_NEWTON = 20.0, 0.72  # [px]
_SHORT = {"evaporator": "evap.", "spring": "spr."}
_PORT, _SPRING = "#F0B79E", "#F3D9A4"
_BOLD, _SEEN = 1.15, 1.5  # how much wider bold text runs; [px] of a bar that is worth drawing


@dataclass(frozen=True, eq=False)
class Case:
    """One valve at one load, and where its pin stands.

    Parameters
    ----------
    built, as_set : valve.Valve
        With the stem turned, and before.
    inlet : valve.Inlet
        Arriving.
    evaporating : float
        Dew point at the evaporator outlet. [K]
    pressure, drop : float
        There, and from the valve outlet to there. [Pa]
    duty, before : valve.Duty
        What the load needs, with the stem turned and before.
    superheat : float
        At the bulb. [K]
    held : bool
        Whether somebody holds it there; otherwise it has settled.
    forces : valve.Forces
        On the moving piece.
    fed : float
        Flow that the pin lets through over the flow that boils. [-]
    """

    built: object
    as_set: object
    inlet: object
    evaporating: float
    pressure: float
    drop: float
    duty: object
    before: object
    superheat: float
    held: bool
    forces: object
    fed: float


@lru_cache(maxsize=64)
def hardware(refrigerant, load, set_at, condensing, balanced):
    """Size a valve for a cold room and set it there.

    Parameters
    ----------
    refrigerant : str
        Name.
    load : float
        Design load. [W]
    set_at, condensing : float
        Dew points at which it was set. [K]
    balanced : bool
        Kind of port.

    Returns
    -------
    system.LowSide
    """
    return system.size_low_side(
        refrigerants.get(refrigerant),
        load,
        set_at + _DIFFERENCE,
        condensing,
        temperature_difference=_DIFFERENCE,
        subcooling=_SUBCOOLING,
        static_superheat=_STATIC,
        opening_superheat=_OPENING,
        balance=BALANCE[balanced],
    )


def forces_figure(
    show,
    refrigerant,
    load,
    set_at,
    set_condensing,
    evaporating,
    condensing,
    load_share=1.0,
    turns=0.0,
    balanced=False,
    held=False,
    superheat=5.0,
):
    """Draw the forces in a valve and the superheat that they settle at.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name.
    load : float
        Design load for which the valve was chosen. [W]
    set_at, set_condensing : float
        Dew points at which its spring was set. [K]
    evaporating, condensing : float
        Dew points now. [K]
    load_share : float
        Load now over design load. [-]
    turns : float
        Of the stem, clockwise, since it was set.
    balanced : bool
        Balanced port instead of a conventional one.
    held : bool
        Whether the bulb is held at `superheat`, or settles where the load wants it.
    superheat : float
        Of the bulb, where held. [K]

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
    box = hardware(refrigerant, load, set_at, set_condensing, balanced)
    case = _case(fluid, box, load_share * load, evaporating, condensing, turns, held, superheat)
    numbers = valvewords.numbers(
        case,
        refrigerant=refrigerant,
        load=load,
        load_share=load_share,
        condensing=condensing,
        turns=turns,
        balanced=balanced,
    )
    scene = _Scene(show, fluid, case, numbers)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, ("valve forces", show))
    return LiveFigure(
        background,
        scene.items(),
        valvewords.words(show, numbers),
        valvewords.readings(show, numbers),
        numbers,
    )


def _case(fluid, box, load, evaporating, condensing, turns, held, superheat):
    built = valve.turned(box.valve, fluid, turns)
    pressure, head = (float(fluid.dew_pressure(dew)) for dew in (evaporating, condensing))
    liquid = fluid.bubble_temperature(head) - _SUBCOOLING
    arriving = valve.inlet(fluid, head, fluid.liquid_enthalpy(head, liquid))
    coil = box.evaporator.drop_coefficient
    before, duty = (
        valve.at_load(one, fluid, load, arriving, pressure, coil) for one in (box.valve, built)
    )
    drop = float(duty.drop)
    at = superheat if held else float(duty.superheats.operating)
    balance = valve.forces(built, fluid, evaporating + at, pressure, head, drop)
    flow = valve.mass_flow(built, fluid, balance.lift, arriving, pressure + drop)
    fed = float(flow / duty.mass_flow)
    return Case(
        built,
        box.valve,
        arriving,
        evaporating,
        pressure,
        drop,
        duty,
        before,
        at,
        held,
        balance,
        fed,
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, fluid, case, numbers):
        self.show, self.fluid, self.case, self.n = show, fluid, case, numbers

    def draw_background(self, figure):
        chart = add_axes(figure, SIZE, *CHART)
        chart.set_xlim(0.0, MOST)
        chart.set_ylim(0.0, 1.08)
        chart.set_xticks(*user_ticks(self.show, "temperature_difference", 0.0, MOST, 6))
        chart.set_yticks([0.0, 0.5, 1.0], ["0", "50", "100"])
        chart.grid(axis="y")
        left, top, right, bottom = CHART
        across = self.show.axis("superheat", "temperature_difference")
        large = {"size": style.LARGE, "bold": True}
        return {"main": chart, "page": add_page(figure, SIZE)}, [
            word(8, 20, "the valve, cut open", **large),
            word(left - 38, 20, "what superheat does to the pin", **large),
            word(left - 38, top - 22, "lift [% of travel]"),
            word(right, bottom + 38, across, "end", style.TEXT),
            *force_scale(self.show, 348),
            word(8, _BARS[1] - 12, "the same forces, end to end", size=style.TEXT, bold=True),
            word(8, _BARS[1] + 15, "opens"),
            word(8, _BARS[2] + 15, "shuts"),
        ]

    def items(self):
        n = self.n
        return [
            Still(("body", n["turns"]), lambda: valve_body(True, n["turns"])),
            *moving_piece(n["lift_share"], n["turns"]),
            *force_arrows(self.case.forces, self.show),
            *self._bars(),
            *self._chart(),
            *self._braces(),
            *self._said(),
        ]

    def _bars(self):
        f = self.case.forces
        spring = f.preload + f.compression
        rows = (
            (_BARS[1], (("bulb", f.bulb, OPENING), ("port", f.port, _PORT)), -f.net),
            (_BARS[2], (("evaporator", f.equaliser, CLOSING), ("spring", spring, _SPRING)), f.net),
        )
        items = []
        for top, parts, missing in rows:
            x, beside = _BARS[0], []
            for name, force, colour in parts:
                wide = _PER_NEWTON * max(float(force), 0.0)
                items.append(Bar(x, top, x + wide, top + _BAR, colour, style.INK, axes="page"))
                names = (name, _SHORT.get(name, name))
                fits = (one for one in names if _BOLD * text_width(one, style.SMALL) < wide)
                inside = next(fits, "")
                if not inside:
                    beside.append(name)
                ink = style.INK if colour in (_PORT, _SPRING) else style.PAPER
                items.append(word(x + wide / 2, top + 15, inside, "middle", colour=ink, bold=True))
                x += wide
            wide = _PER_NEWTON * max(float(missing), 0.0)
            if wide > _SEEN:
                beside.append("seat" if missing is not f.net else "stop")
                items.append(
                    Bar(x, top, x + wide, top + _BAR, style.PAPER, style.MUTED, axes="page")
                )
                x += wide
            items.append(word(x + 6, top + 15, " + ".join(beside), bold=True))
        return items

    def _chart(self):
        case, n = self.case, self.n
        items = []
        steps = np.linspace(0.0, MOST, _POINTS)
        looks = ((case.as_set, style.MUTED, 2.0, "dashed"), (case.built, style.OWN, 3.4, "solid"))
        for built, colour, width, dash in looks:
            if built is case.as_set and n["turns"] == 0.0:
                continue
            lifts = valve.lift(
                built,
                self.fluid,
                case.evaporating + steps,
                case.pressure,
                case.inlet.pressure,
                case.drop,
            )
            items.append(Line(steps, lifts / built.port.max_lift, colour, width, dash))
            if built is case.as_set:
                top = float(np.interp(0.86, lifts / built.port.max_lift, steps))
                spots = (Spot(-6, 0, "end"), Spot(8, 0))
                items.append(Text(top, 0.86, "before the turn", spots, style.SMALL, style.MUTED))
        need = n["need"]
        items.append(Line([0.0, MOST], [need, need], style.GOOD, 2.2, "dash-dot"))
        text = "the load needs this lift" if not n["wide_open"] else "the load needs more than this"
        right = n["operating"] < MOST / 2
        spot = (Spot(-2, -7, "end") if right else Spot(4, -7),)
        look = (spot, style.SMALL, style.GOOD, True)
        items.append(Text(MOST if right else 0.0, need, text, *look))
        at = min(max(n["superheat"], 0.0), MOST)
        items.append(Line([at, at], [0.0, n["lift_share"]], style.INK, 1.4))
        items.append(Markers([at], [n["lift_share"]], "circle", 13, style.INK))
        return items

    def _braces(self):
        n, show = self.n, self.show
        static, operating = n["static"], n["operating"]
        if n["wide_open"] or static < 0.0 or operating > MOST:
            return []
        foot = 0.0
        texts = valvewords.superheats(show, n)
        look = {"side": "below", "stem": 6.0, "size": style.SMALL}
        first = Brace(0.0, foot, static, foot, f"static\n{texts[0]}", gap=46.0, **look)
        second = Brace(
            static,
            foot,
            operating,
            foot,
            f"opening\n{texts[1]}",
            gap=46.0,
            leans=(0.0, 22.0),
            **look,
        )
        whole = Brace(0.0, foot, operating, foot, f"operating {texts[2]}", gap=106.0, **look)
        return [first, second, whole]

    def _said(self):
        top, x = HEIGHT - 84, CHART[0] - 38
        lines = valvewords.side(self.show, self.n)
        return [
            word(x, top + 20 * number, line, size=style.TEXT, bold=number == 0)
            for number, line in enumerate(lines)
        ]
