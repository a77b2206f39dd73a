"""A box at rest: where the refrigerant has gone, and why its pressure may lie under the chart."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from lowside import charge as grams
from lowside import system
from lowside.plots import gramsquares, style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.knee import CABINET
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Markers, Still, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 760, 546
PRESSURE = (474, 62, 740, 250)  # [px] left, top, right, bottom
WHERE = (474, 308, 740, 490)

_SHARES = np.linspace(0.2, 1.43, 61)  # of the nameplate charge
_PRESSURES = 1.0e5, 12.0e5  # [Pa]
_UNDER = 0.995  # of the chart's pressure from which a gauge tells the difference


def _at_rest(cabinet, colder, ambient, oil_mass, charges):
    """Solve with the cabinet's oil and with both ends of what is left open about oils.

    Rows are the three oils, columns the charges.
    """
    built = system.cabinets.get(cabinet)
    chi = np.array([built.box.oil.chi, *grams.CHI_BAND])[:, None]
    box = replace(built.box, oil=replace(built.box.oil, mass=oil_mass, chi=chi))
    return system.standing_box(box, ambient - colder, ambient, np.atleast_1d(charges))


@lru_cache(maxsize=32)
def _along(cabinet, colder, ambient, oil_mass):
    charges = _SHARES * system.cabinets.get(cabinet).charge
    return charges, _at_rest(cabinet, colder, ambient, oil_mass, charges)


def standing_figure(show, charge, colder, ambient, oil_mass, cabinet=CABINET):
    """Draw where the grams of a box lie long after it was switched off, and at what pressure.

    Parameters
    ----------
    show : Readout
        The reader's units.
    charge : float
        In the box. [kg]
    colder : float
        By how much the evaporator is colder than everything else. [K]
    ambient : float
        Temperature of everything else. [K]
    oil_mass : float
        Oil in the compressor. [kg]
    cabinet : str
        One of ``system.cabinets.names()``.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a charge or an amount of oil that cannot be.
    """
    built = system.cabinets.get(cabinet)
    rest = _at_rest(cabinet, colder, ambient, oil_mass, charge)
    pressure = rest.pressure[:, 0]
    parts = {name: float(mass[0, 0]) for name, mass in rest.inventory.parts().items()}
    chart = float(rest.saturation_pressure[0, 0])
    numbers = {
        "what": built.what,
        "nameplate": built.charge,
        "charge": charge,
        "colder": colder,
        "cold": ambient - colder,
        "ambient": ambient,
        "oil_mass": oil_mass,
        "pressure": float(pressure[0]),
        "low": float(pressure.min()),
        "high": float(pressure.max()),
        "chart": chart,
        "under": float(pressure[0]) < _UNDER * chart,
        "liquid": float(sum(mass[0, 0] for mass in rest.liquid.values())),
        "parts": parts,
        "most": max(parts, key=parts.get),
    }
    scene = _Scene(show, numbers, cabinet)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, ("rest", show, cabinet))
    return LiveFigure(
        background, scene.items(), _words(show, numbers), _strip(show, numbers), numbers
    )


def why(start, now, show):
    """Say what the standing pressure tells, and what it does not.

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
    oil = show.text(now["parts"]["oil"], "charge")
    if now["under"]:
        full = (
            "and the box holds its whole nameplate charge"
            if now["charge"] >= 0.999 * now["nameplate"]
            else "and the oil takes part of whatever is there"
        )
        return (
            f"The oil holds {oil} and no liquid is left outside it, {full}. A standing pressure "
            "under the chart is not by itself proof of undercharge."
        )
    return (
        f"Liquid waits in the coldest part, so the gauge shows what the chart says, with {oil} in "
        "the oil. As long as any liquid is left the gauge cannot tell how much."
    )


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, numbers, cabinet):
        self.show, self.n, self.cabinet = show, numbers, cabinet

    def draw_background(self, figure):
        show, n = self.show, self.n
        low, high = _SHARES[0] * n["nameplate"], _SHARES[-1] * n["nameplate"]
        across = user_ticks(show, "charge", low, high, 5)
        axes, labels = {}, []
        for name, place, kind, ends in (
            ("pressure", PRESSURE, "gauge_pressure", _PRESSURES),
            ("where", WHERE, "charge", (0.0, 1.1 * n["nameplate"])),
        ):
            chart = axes[name] = add_axes(figure, SIZE, *place)
            chart.set_xlim(low, high)
            chart.set_ylim(*ends)
            chart.set_yticks(*user_ticks(show, kind, *ends, 5))
            chart.set_xticks(across[0], across[1] if name == "where" else [""] * len(across[0]))
            chart.grid(True)
            labels.append(Line([n["nameplate"]] * 2, ends, style.MUTED, 1.6, "dotted", axes=name))
        axes["page"] = add_page(figure, SIZE)
        labels += [
            Text(n["nameplate"], _PRESSURES[1], "nameplate", (Spot(5, 12),), axes="pressure"),
            *gramsquares.backdrop(),
            *gramsquares.legend(show),
            word(14, 24, "where the grams lie, switched off", size=style.LARGE, bold=True),
            word(434, 24, "standing pressure and grams", size=style.LARGE, bold=True),
            word(PRESSURE[0], PRESSURE[1] - 7, f"gauge [{show.unit('gauge_pressure')}]"),
            word(PRESSURE[0] + 100, PRESSURE[1] - 7, "band: oil", colour=style.OWN),
            word(WHERE[0], WHERE[1] - 7, f"where it is [{show.unit('charge')}]"),
            word(WHERE[2], HEIGHT - 10, f"charge in the box [{show.unit('charge')}]", "end"),
        ]
        return axes, labels

    def items(self):
        n = self.n
        key = ("rest", n["colder"], n["ambient"], n["oil_mass"])
        return [
            Still(key, self._curves),
            *gramsquares.fill(n["parts"], self.show),
            *self._middle(),
            *self._markers(),
        ]

    def _curves(self):
        n = self.n
        charges, rest = _along(self.cabinet, n["colder"], n["ambient"], n["oil_mass"])
        pressure, oil = rest.pressure, rest.inventory.oil[0]
        liquid = sum(mass[0] for mass in rest.liquid.values())
        text = f"chart at {self.show.text(n['cold'], 'temperature')}"
        spots = (Spot(4, -6), Spot(4, 16))
        items = [
            Area(charges, *pressure[1:], style.OWN, 0.35, "pressure"),
            Line(charges[[0, -1]], [n["chart"]] * 2, style.GOOD, 2.2, "dashed", axes="pressure"),
            Text(charges[0], n["chart"], text, spots, colour=style.GOOD, axes="pressure"),
            Line(charges, pressure[0], style.INK, 2.6, axes="pressure"),
        ]
        for values, dash, colour, name in (
            (liquid, "solid", style.LOW, "liquid"),
            (oil, "dashed", style.OWN, "in the oil"),
            (charges - liquid - oil, "dotted", style.INK, "gas"),
        ):
            items.append(Line(charges, values, colour, 2.6, dash, axes="where"))
            at = int(0.86 * charges.size)
            near = (Spot(0, -7, "middle"), Spot(0, 17, "middle"), Spot(-40, -7), Spot(40, 17))
            items.append(
                Text(charges[at], values[at], name, near, style.SMALL, colour, True, axes="where")
            )
        return items

    def _middle(self):
        show, n = self.show, self.n
        said = "under the chart" if n["under"] else "as the chart says"
        return [
            word(212, 236, "in the box", "middle"),
            word(212, 260, show.text(n["charge"], "charge"), "middle", 22.0, bold=True),
            word(212, 280, f"nameplate {show.text(n['nameplate'], 'charge')}", "middle"),
            word(212, 354, said, "middle", style.TEXT, bold=True),
            word(212, 371, f"evaporator {show.text(n['cold'], 'temperature')}", "middle"),
        ]

    def _markers(self):
        show, n = self.show, self.n
        at = [n["charge"]] * 2
        inside = min(max(n["pressure"], _PRESSURES[0]), _PRESSURES[1])
        text = show.text(n["pressure"], "gauge_pressure")
        return [
            Line(at, _PRESSURES, style.HIGH, 1.6, axes="pressure"),
            Line(at, [0.0, 1.1 * n["nameplate"]], style.HIGH, 1.6, axes="where"),
            Markers([n["charge"]], [inside], "circle", 13, style.HIGH, axes="pressure"),
            word(PRESSURE[2], PRESSURE[1] - 7, text, "end", style.TEXT, style.HIGH, True),
        ]


def _strip(show, n):
    return [
        ("Standing gauge", show.text(n["pressure"], "gauge_pressure")),
        ("Chart, coldest part", show.text(n["chart"], "gauge_pressure")),
        ("In the oil", show.text(n["parts"]["oil"], "charge")),
        ("Liquid", show.text(n["liquid"], "charge")),
    ]


def _words(show, n):
    def weight(mass):
        return show.text(mass, "charge")

    ends = [show.text(n[end], "gauge_pressure") for end in ("low", "high")]
    band = "" if ends[0] == ends[1] else f" (between {' and '.join(ends)}, oils differ)"
    return (
        f"A {n['what']} stands switched off with {weight(n['charge'])} of propane, nameplate "
        f"{weight(n['nameplate'])}, evaporator at {show.text(n['cold'], 'temperature')}, all else "
        f"at {show.text(n['ambient'], 'temperature')}, {weight(n['oil_mass'])} of oil. Where it "
        f"is: {gramsquares.said(n['parts'], show)}. Standing gauge "
        f"{show.text(n['pressure'], 'gauge_pressure')}{band}; the chart promises "
        f"{show.text(n['chart'], 'gauge_pressure')} for the coldest part: "
        f"{'under the chart' if n['under'] else 'as the chart says'}."
    )
