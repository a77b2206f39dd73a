"""What humidity a coil leaves in the air: the difference between air and evaporating."""

from __future__ import annotations

import numpy as np

from lowside import load, refrigerants
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Area, Line, Markers, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 720, 430
AXES = (66, 62, 700, 376)  # [px] left, top, right, bottom
RANGE = 3.0, 12.0  # [K] of the axis
_HUMIDITIES = 0.40, 1.0
USUAL = 6.0  # [K] with which a coil's size is compared
_GOODS = (Spot(14, -8), Spot(14, 20), Spot(-14, 26, "end"))
_FOOT = (Spot(12, -14),)
_HELD = (Spot(10, -10), Spot(10, 20), Spot(-10, 22, "end"))


def moist_figure(show, temperature, difference, refrigerant):
    """Draw what humidity goes with a temperature difference.

    Parameters
    ----------
    show : Readout
        The reader's units.
    temperature : float
        Of the room's air. [K]
    difference : float
        Air less evaporating temperature. [K]
    refrigerant : str
        Name; only the gauge depends on it.

    Returns
    -------
    LiveFigure
        With words, readings and numbers.

    Raises
    ------
    OutOfRange
        For a difference outside the table, or a temperature that the refrigerant does not know.
    """
    evaporating = temperature - difference
    numbers = {
        "temperature": temperature,
        "difference": difference,
        "refrigerant": refrigerant,
        "evaporating": evaporating,
        "humidity": float(load.humidity_held(difference)),
        "floor": float(load.humidity_floor(temperature, evaporating)),
        "suction": float(refrigerants.get(refrigerant).dew_pressure(evaporating)),
        "coil": USUAL / difference,
        "holds": _holds(difference),
    }
    background = Background.once(lambda f: _draw(f, show), WIDTH, HEIGHT, ("moist", show))
    return LiveFigure(
        background,
        _items(show, numbers),
        _words(show, numbers),
        _strip(show, numbers),
        numbers,
    )


def why(start, now, show):
    """Say what another difference does to goods and coil.

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
    held = show.text(now["humidity"], "ratio")
    change = now["difference"] - start["difference"]
    if abs(change) < 0.05:
        return f"This difference leaves about {held}: for {now['holds']}."
    coil = show.text(now["coil"] / start["coil"], "number", 1)
    if change > 0.0:
        return (
            f"A colder coil takes more water out of the air: about {held} are left, for "
            f"{now['holds']}. A coil {coil} times as large as at the start will do, and the "
            "compressor must pull lower."
        )
    return (
        f"A coil nearer to the air leaves it moist: about {held}, for {now['holds']}. It must be "
        f"{coil} times as large as at the start, and the compressor has it easier."
    )


def _holds(difference):
    rows = load.table()
    return min(rows, key=lambda row: abs(row[0] - difference))[2]


def _draw(figure, show):
    axes = {"main": add_axes(figure, SIZE, *AXES), "page": add_page(figure, SIZE)}
    main = axes["main"]
    main.set_xlim(*RANGE)
    main.set_ylim(*_HUMIDITIES)
    main.set_xticks(*user_ticks(show, "temperature_difference", *RANGE, 9))
    main.set_yticks(*user_ticks(show, "ratio", *_HUMIDITIES, 7))
    main.grid(axis="both")
    rows = load.table()
    differences, humidities = (np.array([row[place] for row in rows]) for place in (0, 1))
    x = np.r_[differences - load.SPREAD, (differences + load.SPREAD)[::-1]]
    x = np.clip(x, *RANGE)
    fixed = [
        Area(x, np.r_[humidities, humidities[::-1]], None, style.LOW, 0.15),
        Line(differences, humidities, style.LOW),
        Markers(differences, humidities, "circle", 10.0, style.LOW),
        word(14, 22, "what the air keeps", size=style.LARGE, bold=True),
        word(14, 46, f"humidity [{show.unit('ratio')}]"),
    ]
    unit = show.unit("temperature_difference")
    fixed.append(word(AXES[2], HEIGHT - 22, f"air less evaporating [{unit}]", "end"))
    for at, humidity, holds in rows:
        wide = at > 9.0
        spots = (Spot(-14, 26, "end"),) if wide else _GOODS
        fixed.append(Text(at, humidity, holds, spots, style.SMALL, style.LOW))
    return axes, fixed


def _items(show, n):
    x = np.linspace(*RANGE, 40)
    floor = load.humidity_floor(n["temperature"], n["temperature"] - x)
    held = f"{show.text(n['humidity'], 'ratio')} left"
    return [
        Area(x, np.full_like(x, _HUMIDITIES[0]), floor, style.MUTED, 0.16),
        Line(x, floor, style.INK, 2.0, "dashed"),
        Text(RANGE[0], _HUMIDITIES[0], "no coil can dry the room below this line", _FOOT),
        Line([n["difference"]] * 2, _HUMIDITIES, style.OWN, 2.0),
        Markers([n["difference"]], [n["humidity"]], "diamond", 15.0, style.OWN),
        Text(n["difference"], n["humidity"], held, _HELD, style.TEXT, style.OWN, True),
    ]


def _strip(show, n):
    return [
        ("Box air", show.text(n["temperature"], "temperature")),
        ("Evaporating (dew)", show.text(n["evaporating"], "temperature")),
        (f"Suction gauge, {n['refrigerant']}", show.text(n["suction"], "gauge_pressure")),
        (
            f"Coil, against {show.text(USUAL, 'temperature_difference')}",
            f"{show.text(n['coil'], 'number', 1)} times as large",
        ),
    ]


def _words(show, n):
    return (
        f"Air at {show.text(n['temperature'], 'temperature')}, evaporating "
        f"{show.text(n['difference'], 'temperature_difference')} below it at "
        f"{show.text(n['evaporating'], 'temperature')}: the room keeps about "
        f"{show.text(n['humidity'], 'ratio')} of humidity, right for {n['holds']}. Air that came "
        f"away saturated at the coil's temperature would have {show.text(n['floor'], 'ratio')}; "
        f"drier it cannot get. {n['refrigerant']} shows "
        f"{show.text(n['suction'], 'gauge_pressure')} on the suction gauge. The table is good to "
        f"about {show.text(load.SPREAD, 'temperature_difference')}."
    )
