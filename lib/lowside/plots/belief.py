"""What is believed of a port: one row of bars for each way to look at the valve.

The columns are the sizes of the kit, the rows what was done. Full bars make up the 80 % set, hollow
ones are what it leaves out; a dotted line marks the size that is really inside.
"""

from __future__ import annotations

from lowside.errors import LowsideError
from lowside.identify.looks import TESTS
from lowside.plots import style
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Bar, Line, Text
from lowside.plots.pagework import add_page, word

WIDTH, HEIGHT = 700, 556
LEFT, RIGHT = 172, 534
FIRST, PITCH, TALL = 112, 80, 50  # [px] foot of the first row, row to row, a bar of 100 %
SIDE = 552
_FELT = 0.005  # share of liquid worth a word
LEAST_DRAWN, LEAST_SAID = 0.004, 0.015
CERTAIN = 0.995

BEFORE = "before"
ROWS = (BEFORE, *TESTS)
LABELS = {
    BEFORE: ("before any", "reading"),
    "running": ("read it as", "it runs"),
    "head": ("… and raise", "the head"),
    "stem": ("… and turn", "the stem"),
    "pull-down": ("… and read it in", "a pull-down"),
    "bulb": ("… and warm", "the bulb"),
}


def belief_figure(show, library, seen, first, port, test):
    """Draw what is believed after each way to look.

    Parameters
    ----------
    show : Readout
        The reader's units.
    library : Library
        All sizes simulated.
    seen : dict of str to Seen
        What each test shows on the valve in question, one point each.
    first : Belief
        Before any reading.
    port : float
        What is really inside. [m]
    test : str
        Whose readings stand below, a key of ``TESTS``.

    Returns
    -------
    LiveFigure
    """
    beliefs = {BEFORE: first}
    for key in TESTS:
        try:
            beliefs[key] = library.belief(_read(seen, *dict.fromkeys(("running", key))), first)
        except LowsideError:
            beliefs[key] = None
    sizes = tuple(library.sizes.tolist())
    background = Background.once(_backdrop(show, sizes), WIDTH, HEIGHT, ("belief", show, sizes))
    items = [*_guide(sizes, port)]
    for row, key in enumerate(ROWS):
        items += _row(show, row, beliefs[key], sizes, port, seen.get(key))
    items.append(
        word(12, _foot(ROWS.index(test)) + 11, "its readings stand below", size=style.SMALL - 1)
    )
    numbers = {
        "port": port,
        "test": test,
        "first": first,
        "beliefs": beliefs,
        "seen": seen,
        "strainer": float(seen["running"].strainer_drop),
    }
    strip = _strip(show, library.site.box.refrigerant, seen[test])
    return LiveFigure(background, items, _words(show, beliefs, seen, port, strip), strip, numbers)


def why(start, now, show):
    """Say what the tests made of this valve.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one.
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    running, bulb = now["beliefs"]["running"], now["beliefs"]["bulb"]
    port, inside = now["port"], show.text(now["port"], "port")
    if running is None:
        return (
            "No size of the kit explains what is read as the box runs. That is an answer too: "
            "something else is the matter."
        )
    if now["strainer"] > 0.0:
        if bulb is not None and bulb.best < port:
            return (
                f"The strainer is plugged, and this page believes it clear: what it misses in flow "
                f"it takes for a smaller port, {show.text(bulb.best, 'port')} instead of {inside}. "
                "No test from outside can tell it better."
            )
        return (
            "The strainer is plugged, but not enough to be the narrowest place: the pin opens "
            "further and makes up for it."
        )
    told = now["first"].best
    named = now["first"].of(told) > 0.5
    if named and told != port and running.of(told) < 0.1:
        return (
            f"The tag names {show.text(told, 'port')}, and the readings of the running box alone "
            "refute it."
        )
    if bool(now["seen"]["running"].wide_open):
        return (
            "Even as it runs the pin stands at its stop: the port itself holds the flow back, and "
            "every reading tells its size."
        )
    if bool(now["seen"]["pull-down"].wide_open):
        return (
            "As it runs the pin finds its own opening, and several sizes read alike. In a "
            "pull-down the load drives it to its stop: there it tells its size, and so it does "
            "with the bulb in a warm hand."
        )
    return (
        "As it runs, with more head and even in a pull-down the pin finds its own opening, and "
        "several sizes read alike. Only a bulb in a warm hand drives this one to its stop."
    )


def _read(seen, *tests):
    return {test: seen[test].readings for test in tests}


def _foot(row):
    return FIRST + PITCH * row


def _middle(place, count):
    return LEFT + (place + 0.5) * (RIGHT - LEFT) / count


def _backdrop(show, sizes):
    def draw(figure):
        page = add_page(figure, (WIDTH, HEIGHT))
        fixed = [
            word(LEFT, 22, "how likely is each size?", bold=True, size=style.TEXT),
            word(SIDE, 22, "80 % set", bold=True, size=style.TEXT),
        ]
        for row, key in enumerate(ROWS):
            foot = _foot(row)
            page.plot([LEFT, RIGHT], [foot, foot], color=style.MUTED, linewidth=style.POINTS)
            for line, text in enumerate(LABELS[key]):
                fixed.append(word(12, foot - 24 + 17 * line, text, size=style.TEXT))
        for place, size in enumerate(sizes):
            text = f"{float(show.value(size, 'port')):.3g}"
            fixed.append(
                word(_middle(place, len(sizes)), _foot(len(ROWS) - 1) + 19, text, "middle")
            )
        fixed.append(word(LEFT - 8, _foot(len(ROWS) - 1) + 19, show.axis("port", "port"), "end"))
        return {"page": page}, fixed

    return draw


def _guide(sizes, port):
    place = min(range(len(sizes)), key=lambda n: abs(sizes[n] - port))
    x, low = _middle(place, len(sizes)), _foot(len(ROWS) - 1)
    yield Line([x, x], [44, low], style.HIGH, 1.6, "dotted", axes="page")
    yield word(x, 40, "inside", "middle", style.SMALL, style.HIGH, bold=True)


def _row(show, row, belief, sizes, port, seen):
    foot, count = _foot(row), len(sizes)
    if belief is None:
        yield word(LEFT + 8, foot - 18, "no size explains these readings", colour=style.HIGH)
        return
    kept = belief.credible()
    half = 0.31 * (RIGHT - LEFT) / count
    for place, size in enumerate(sizes):
        chance, x = float(belief.probability[place]), _middle(place, count)
        if chance < LEAST_DRAWN:
            continue
        inside = size in kept
        yield Bar(
            x - half,
            foot,
            x + half,
            foot - TALL * chance,
            style.LOW if inside else style.PAPER,
            style.LOW,
            axes="page",
        )
        if chance > LEAST_SAID:
            spot = (Spot(0, -4, "middle"),)
            text = chance_text(show, chance)
            yield Text(x, foot - TALL * chance, text, spot, style.SMALL, axes="page")
    yield word(SIDE, foot - 24, _range(show, kept), bold=True, size=style.TEXT)
    yield word(SIDE, foot - 7, f"{len(kept)} of {count} sizes" if len(kept) > 1 else "one size")
    if seen is not None and liquid_back(seen) > _FELT:
        share = show.text(liquid_back(seen), "ratio")
        yield word(SIDE, foot + 11, f"{share} liquid back!", colour=style.HIGH, bold=True)


def chance_text(show, chance):
    """Write a probability; nothing is ever quite certain.

    Parameters
    ----------
    show : Readout
        The reader's units.
    chance : float
        [-]

    Returns
    -------
    str
    """
    return f"> {show.text(0.99, 'ratio')}" if chance > CERTAIN else show.text(chance, "ratio")


def liquid_back(seen):
    """Share of the flow that reaches the compressor as liquid, at a single look [-]."""
    return 1.0 - float(seen.quality)


def _range(show, kept):
    if len(kept) == 1:
        return show.text(kept[0], "port")
    low = show.text(kept[0], "port").split()[0]
    return f"{low}–{show.text(kept[-1], 'port')}"


def _strip(show, fluid, seen):
    dew, line, discharge, air, _ = seen.readings.tolist()
    return (
        ("Suction gauge", show.text(float(fluid.dew_pressure(dew)), "gauge_pressure")),
        ("Suction line", show.text(line, "temperature")),
        ("Superheat", show.text(max(line - dew, 0.0), "temperature_difference")),
        ("Discharge line", show.text(discharge, "temperature")),
        ("Air off the coil", show.text(air, "temperature")),
        ("Liquid back", show.text(liquid_back(seen), "ratio")),
    )


def _words(show, beliefs, seen, port, strip):
    read = ", ".join(f"{place[0].lower()}{place[1:]} {text}" for place, text in strip[:3])
    said = [f"Inside is {show.text(port, 'port')}. Read: {read}."]
    names = {BEFORE: "Before any reading", "running": "Read as it runs"}
    for key, belief in beliefs.items():
        name = names.get(key) or f"With that and “{TESTS[key].words}”"
        if belief is None:
            said.append(f"{name}: no size explains the readings.")
            continue
        kept = belief.credible()
        said.append(
            f"{name}: the 80 % set is {_range(show, kept)} ({len(kept)} of {len(belief.sizes)}), "
            f"the size inside has {chance_text(show, belief.of(port))}."
        )
    share = liquid_back(seen["bulb"])
    if share > _FELT:
        said.append(
            f"With the bulb warm {show.text(share, 'ratio')} of the flow reach the compressor as "
            "liquid."
        )
    return " ".join(said)
