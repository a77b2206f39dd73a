"""What the bulb is filled with: the superheat that opens the valve, from freezer to cooler.

One valve, one spring, three fillings. On the left pressure against temperature: the bulb must be so
much warmer that its pressure makes good for evaporator and spring. On the right that superheat at
every evaporating temperature.
"""

from __future__ import annotations

import numpy as np

from lowside import refrigerants
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Line, Markers, Still, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word
from lowside.valve import bulbs, opens_at

SIZE = WIDTH, HEIGHT = 760, 440
LEFT = (62, 66, 350, 372)  # [px] left, top, right, bottom of the chart of pressures
RIGHT = (424, 66, 744, 372)
COLDEST, WARMEST = 233.15, 283.15  # [K] evaporating temperatures shown
HOTTEST = 293.15  # [K] of a bulb on the chart
MOST = 16.0  # [K] of superheat on the chart
SHUT = 40.0  # [K] more than any bulb gets in a box: the valve stays shut

NAMES = {"liquid": "liquid charge", "cross": "cross charge", "gas": "gas charge"}
_LOOKS = {
    "liquid": (style.LOW, "solid"),
    "cross": (style.GOOD, "dashed"),
    "gas": (style.HIGH, "dash-dot"),
}
_WIDE = 8.0  # [px] of the evaporator's line, so that the bulb's can lie on it
_POINTS = 161
_ROOM = 20.0  # [K] that a word takes on the chart of pressures
_KIND = "temperature_difference"


def charges_figure(show, refrigerant, charge, set_at, static, evaporating, flatness, highest):
    """Draw the superheat that opens a valve with each filling of its bulb.

    Parameters
    ----------
    show : Readout
        The reader's units.
    refrigerant : str
        Name.
    charge : {"liquid", "cross", "gas"}
        The filling that is looked at.
    set_at, static, flatness, highest : float
        As for `valve.bulbs`.
    evaporating : float
        Dew point that is looked at. [K]

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For conditions outside the refrigerant's range.
    UnknownName
        If there is no such refrigerant.
    """
    fluid = refrigerants.get(refrigerant)
    setting = refrigerant, set_at, static, flatness, highest
    elements, spring = bulbs(fluid, *setting[1:])
    superheats = {
        name: float(opens_at(element, fluid, spring, evaporating))
        for name, element in elements.items()
    }
    numbers = {
        "refrigerant": refrigerant,
        "charge": charge,
        "set_at": set_at,
        "static": static,
        "flatness": flatness,
        "highest": highest,
        "evaporating": evaporating,
        "pressure": float(fluid.dew_pressure(evaporating)),
        "spring": float(spring),
        "superheat": superheats[charge],
        **{f"of_{name}": value for name, value in superheats.items()},
    }
    scene = _Scene(show, fluid, elements, numbers)
    background = Background.once(
        scene.draw_background, WIDTH, HEIGHT, ("charges", show, refrigerant)
    )
    items = [Still((*setting, charge), scene.curves), *scene.marker()]
    return LiveFigure(background, items, _words(show, numbers), _readings(show, numbers), numbers)


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, fluid, elements, numbers):
        self.show, self.fluid, self.elements, self.n = show, fluid, elements, numbers

    def draw_background(self, figure):
        show = self.show
        pressures, superheats = (add_axes(figure, SIZE, *edges) for edges in (LEFT, RIGHT))
        low, high = (float(self.fluid.dew_pressure(t)) for t in (COLDEST, HOTTEST))
        pressures.set_xlim(COLDEST, HOTTEST)
        pressures.set_ylim(low, high)
        pressures.set_xticks(*user_ticks(show, "temperature", COLDEST, HOTTEST, 5))
        pressures.set_yticks(*user_ticks(show, "gauge_pressure", low, high, 6))
        superheats.set_xlim(COLDEST, WARMEST)
        superheats.set_ylim(0.0, MOST)
        superheats.set_xticks(*user_ticks(show, "temperature", COLDEST, WARMEST, 5))
        superheats.set_yticks(*user_ticks(show, _KIND, 0.0, MOST, 6))
        for axes in (pressures, superheats):
            axes.grid()
        large = {"size": style.LARGE, "bold": True}
        return {"pressures": pressures, "main": superheats, "page": add_page(figure, SIZE)}, [
            word(10, 22, "what bulb and evaporator push with", **large),
            word(10, 46, show.axis("pressure", "gauge_pressure")),
            word(LEFT[2], HEIGHT - 30, show.axis("temperature", "temperature"), "end"),
            word(RIGHT[0] - 40, 22, "superheat that opens the valve", **large),
            word(RIGHT[0] - 40, 46, show.axis("static superheat", _KIND)),
            word(RIGHT[2], HEIGHT - 30, show.axis("evaporating", "temperature"), "end"),
        ]

    def curves(self):
        """Draw the lines of all three fillings, the chosen one strong."""
        n, fluid = self.n, self.fluid
        bulb = np.linspace(COLDEST, HOTTEST, _POINTS)
        evaporating = np.linspace(COLDEST, WARMEST, _POINTS)
        dew = fluid.dew_pressure(bulb)
        items = [
            Line(bulb, dew, style.RULE, _WIDE, axes="pressures"),
            Line(bulb, dew + n["spring"], style.MUTED, 1.6, "dotted", axes="pressures"),
        ]
        x = RIGHT[0] - 56
        for name, element in self.elements.items():
            colour, dash = _LOOKS[name]
            chosen = name == n["charge"]
            width = 3.8 if chosen else 2.0
            if chosen:
                pressure = element.pressure(bulb)
                items.append(Line(bulb, pressure, colour, width, dash, axes="pressures"))
            superheat = opens_at(element, fluid, n["spring"], evaporating)
            seen = np.where(superheat <= MOST, superheat, np.nan)
            items.append(Line(evaporating, seen, colour, width, dash))
            items.append(Line([x, x + 30], [HEIGHT - 12] * 2, colour, width, dash, axes="page"))
            items.append(word(x + 36, HEIGHT - 8, NAMES[name], colour=colour, bold=chosen))
            x += 136
        for left, text, look in (
            (14, "evaporator", (style.RULE, _WIDE, "solid")),
            (128, "with spring", (style.MUTED, 1.6, "dotted")),
            (244, "bulb", (_LOOKS[n["charge"]][0], 3.8, _LOOKS[n["charge"]][1])),
        ):
            items.append(Line([left, left + 26], [HEIGHT - 12] * 2, *look, axes="page"))
            items.append(word(left + 32, HEIGHT - 8, text))
        items.append(Markers([n["set_at"]], [n["static"]], "diamond", 13, style.INK))
        spot = (Spot(0, 26, "middle"),)
        items.append(Text(n["set_at"], n["static"], "set here", spot, style.SMALL))
        return items

    def marker(self):
        """Draw the evaporating temperature that is looked at in both charts."""
        n = self.n
        dew, pressure, closing = n["evaporating"], n["pressure"], n["pressure"] + n["spring"]
        bulb = min(dew + n["superheat"], HOTTEST)
        shown, colour = min(n["superheat"], MOST), _LOOKS[n["charge"]][0]
        items = [
            Line([dew, dew], [pressure, closing], style.INK, 3.0, axes="pressures"),
            Line([dew, bulb], [closing, closing], style.OWN, 4.0, axes="pressures"),
            Markers([dew], [pressure], "square", 11, style.INK, axes="pressures"),
            Markers([dew], [shown], "circle", 14, colour),
        ]
        text = _superheat(self.show, n, "superheat")
        down = 18 if shown == MOST else -10
        spots = (Spot(14, down), Spot(-14, down, "end"), Spot(0, 32, "middle"))
        items.append(Text(dew, shown, text, spots, style.LARGE, bold=True))
        if n["superheat"] <= MOST:
            items.append(Markers([bulb], [closing], "circle", 11, colour, axes="pressures"))
        spots = (Spot(-10, -10, "end") if dew > COLDEST + _ROOM else Spot(-4, -16),)
        items.append(
            Text(dew, closing, "superheat", spots, style.SMALL, style.OWN, True, axes="pressures")
        )
        return items


def why(start, now, show):
    """Say what this filling does at this evaporating temperature.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        Two or three sentences.
    """
    at = show.text(now["evaporating"], "temperature")
    opens = _superheat(show, now, "superheat")
    set_to = show.text(now["static"], _KIND)
    spring = show.text(now["spring"], "pressure_difference")
    if now["charge"] == "gas" and now["evaporating"] > now["highest"]:
        return (
            f"Above {show.text(now['highest'], 'temperature')} the last liquid in the bulb is gone "
            "and its pressure hardly rises any more, however warm the bulb: the valve stays nearly "
            f"shut ({opens}) until the evaporator is below its limit. That spares the compressor "
            "during pull-down."
        )
    if now["charge"] == "cross":
        liquid = _superheat(show, now, "of_liquid")
        return (
            f"The bulb's line is flatter than the evaporator's, and the spring makes up for it: "
            f"{opens} at {at}, where a liquid charge with the same setting takes {liquid}."
        )
    where = show.text(now["set_at"], "temperature")
    said = f"The spring stands for {spring} everywhere, and was set to {set_to} at {where}."
    if now["evaporating"] < now["set_at"]:
        return (
            f"{said} Colder, the bulb's pressure rises less per degree: the same spring takes "
            f"{opens} at {at}."
        )
    return (
        f"{said} Warmer, the bulb's pressure rises more per degree: the same spring takes only "
        f"{opens} at {at}."
    )


def _superheat(show, n, name):
    value = n[name]
    if value > SHUT:
        return f"more than {show.text(SHUT, _KIND, 0)}: shut"
    return show.text(value, _KIND)


def _readings(show, n):
    return tuple((NAMES[name].capitalize(), _superheat(show, n, f"of_{name}")) for name in NAMES)


def _words(show, n):
    each = ", ".join(f"{NAMES[name]} {_superheat(show, n, f'of_{name}')}" for name in NAMES)
    return (
        f"{n['refrigerant']}, three bulbs set to {show.text(n['static'], _KIND)} at "
        f"{show.text(n['set_at'], 'temperature')}; the gas charge closes at "
        f"{show.text(n['highest'], 'temperature')}. Evaporating at "
        f"{show.text(n['evaporating'], 'temperature')} the valve opens with: {each}. The "
        f"{NAMES[n['charge']]} is drawn strong; its spring stands for "
        f"{show.text(n['spring'], 'pressure_difference')}."
    )
