"""Heat on its way from the torch to the valve: along the pipe, and over time."""

from __future__ import annotations

import math

import numpy as np

from lowside import joint
from lowside.plots import style
from lowside.plots.brazed import LEFT, RIGHT, body_side, drawn_pipe
from lowside.plots.canvas import Background, LiveFigure
from lowside.plots.layout import Spot
from lowside.plots.marks import Line, Markers, Span, Text
from lowside.plots.pagework import add_axes, add_page, user_ticks, word

SIZE = WIDTH, HEIGHT = 760, 590
PIPE = (66, 218, 434, 532)  # [px] left, top, right, bottom of the chart along the pipe
JOINT = (524, 66, 742, 232)
BODY = (524, 326, 742, 532)
LOWEST, HIGHEST = 273.15, 1173.15  # [K]

_ENDS = (60.0, 120.0, 240.0, 480.0, 900.0)  # [s] where the axis of time may end
_BODY_TOPS = (433.15, 533.15, 733.15, 1173.15)  # [K] where the body's axis may end
_WORTH_A_LOOK = 30.0  # [K] of warming; for less the axis of time does not reach to the peak
_FILLER = "#D9C27A"
_KEY_X, _KEY_Y = 262, 310  # [px] where the key to the curves stands


def heating_figure(
    show,
    stub,
    line,
    diameter,
    stub_length,
    body_mass,
    wrap,
    water,
    flame,
    filler,
    stay,
    limit,
    ambient,
    boiling,
):
    """Draw how hot pipe and valve get while a joint is brazed.

    Parameters
    ----------
    show : Readout
        The reader's units.
    stub, line : str
        Metal of the valve's stub and of the line it goes into, keys of ``joint.metals``.
    diameter : float
        Outer diameter of both, a size of the trade. [m]
    stub_length : float
        From joint to body. [m]
    body_mass : float
        Of the valve body. [kg]
    wrap : str
        What is round the valve: ``"nothing"``, ``"wet rag"`` or ``"heat paste"``.
    water : float
        In it. [kg]
    flame : float
        Heat that the cold joint takes up. [W]
    filler : str
        A key of ``joint.fillers``.
    stay : float
        How long the torch stays after the filler flows. [s]
    limit : float
        That the body should not pass. [K]
    ambient, boiling : float
        Everything at the start; where water boils. [K]

    Returns
    -------
    LiveFigure
        With words, readings, numbers and remarks.

    Raises
    ------
    UnknownName
        For a metal, tube, wrap or filler that is not known.
    OutOfRange
        For what cannot be brazed so.
    """
    rod = joint.filler(filler)
    setup = joint.Setup(
        joint.metal(stub),
        joint.metal(line),
        joint.tube(diameter),
        stub_length,
        body_mass,
        flame,
        joint.wrap(wrap, water),
        ambient,
        boiling,
    )
    heated = joint.braze(setup, rod.liquidus, stay, limit)
    numbers = {
        "stub": stub,
        "line": line,
        "wrap": wrap,
        "filler": filler,
        "stay": stay,
        "limit": limit,
        "flame": flame,
        "liquidus": rod.liquidus,
        "flows": heated.flows,
        "flows_at": heated.flows_at,
        "leaves_at": heated.leaves_at,
        "joint_peak": float(heated.temperature[:, heated.joint].max()),
        "peak": heated.peak,
        "peak_at": heated.peak_at,
        "passes_at": heated.passes(limit),
        "longest_stay": heated.longest_stay,
        "boiled": heated.boiled,
        "water": water if wrap != "nothing" else 0.0,
        "verdict": joint.judge(rod, setup.stub, setup.line),
    }
    scene = _Scene(show, setup, rod, heated, numbers)
    key = ("heating", show, scene.end, scene.top)
    background = Background.once(scene.draw_background, WIDTH, HEIGHT, key)
    return LiveFigure(
        background,
        scene.items(),
        _words(show, setup, numbers),
        _strip(show, numbers),
        numbers,
        _remarks(show, numbers),
    )


def why(start, now, show):
    """Say what decides whether the valve survives.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences.
    """
    if not now["flows"]:
        return (
            "Pipes and wrap carry the heat away as fast as the flame brings it: the filler never "
            "flows, and the valve is heated all the same. Take a bigger flame, not more time."
        )
    after = now["peak_at"] - now["leaves_at"]
    if after > 1.0:
        said = (
            f"The body is hottest {show.text(after, 'time')} after the torch has left: the heat in "
            "the stub still has to go somewhere."
        )
    else:
        said = "The body is hottest while the torch is still there."
    change = now["peak"] - start["peak"]
    if abs(change) > 1.0:
        way = "hotter" if change > 0.0 else "cooler"
        difference = show.text(abs(change), "temperature_difference", 0)
        said += f" It gets {difference} {way} than at the start."
    return said


class _Scene:
    """What stands still and what moves on one picture."""

    def __init__(self, show, setup, rod, heated, numbers):
        self.show, self.setup, self.rod, self.heated, self.n = show, setup, rod, heated, numbers
        off = numbers["leaves_at"] if numbers["flows"] else joint.GIVE_UP
        warmed = numbers["peak"] - setup.ambient > _WORTH_A_LOOK
        wanted = max(off + 20.0, numbers["peak_at"] + 15.0 if warmed else off + 40.0)
        self.end = next((end for end in _ENDS if end >= wanted), _ENDS[-1])
        hottest = max(numbers["peak"], numbers["limit"]) + 15.0
        self.top = next((top for top in _BODY_TOPS if top >= hottest), _BODY_TOPS[-1])

    def draw_background(self, figure):
        pipe = add_axes(figure, SIZE, *PIPE)
        pipe.set_xlim(LEFT, RIGHT)
        pipe.set_ylim(LOWEST, HIGHEST)
        pipe.set_xticks(*user_ticks(self.show, "length", LEFT, RIGHT, 7))
        hot = add_axes(figure, SIZE, *JOINT)
        body = add_axes(figure, SIZE, *BODY)
        hot.set_ylim(LOWEST, HIGHEST)
        body.set_ylim(LOWEST, self.top)
        for chart, top, most in ((pipe, HIGHEST, 9), (hot, HIGHEST, 5), (body, self.top, 6)):
            chart.set_yticks(*user_ticks(self.show, "temperature", LOWEST, top, most))
            chart.grid(axis="both")
        for chart in (hot, body):
            chart.set_xlim(0.0, self.end)
            chart.set_xticks(np.linspace(0.0, self.end, 5), self._times())
        axes = {"pipe": pipe, "joint": hot, "body": body, "page": add_page(figure, SIZE)}
        unit = self.show.unit("temperature")
        middle = (PIPE[0] + PIPE[2]) / 2
        return axes, [
            word(14, 24, "along the pipe", size=style.LARGE, bold=True),
            word(14, PIPE[1] - 12, f"temperature [{unit}]"),
            word(middle, HEIGHT - 14, f"from the joint [{self.show.unit('length')}]", "middle"),
            word(470, 24, "the joint over time", size=style.LARGE, bold=True),
            word(470, JOINT[1] - 12, f"temperature [{unit}]"),
            word(470, 290, "the valve body over time", size=style.LARGE, bold=True),
            word(470, BODY[1] - 12, f"temperature [{unit}]"),
            word(742, HEIGHT - 14, "since the torch came [s]", "end"),
        ]

    def _times(self):
        return [f"{t:g}" for t in np.linspace(0.0, self.end, 5)]

    def items(self):
        return [
            *self._filler_bands(),
            *self._curves(),
            *self._over_time(),
            *drawn_pipe(self.setup, self.n, PIPE),
        ]

    def _filler_bands(self):
        rod, show, items = self.rod, self.show, []
        for axes in ("pipe", "joint"):
            items.append(Span("y", rod.solidus, rod.liquidus, _FILLER, 0.55, axes))
        items.append(_at_the_end(rod.liquidus, f"{rod.name} melts", style.INK))
        limit = self.n["limit"]
        for axes, x in (("pipe", [LEFT, RIGHT]), ("body", [0.0, self.end])):
            items.append(Line(x, [limit, limit], style.HIGH, 2.0, "dashed", axes=axes))
        items.append(_at_the_end(limit, "limit of the body", style.HIGH))
        over = np.interp(self.end, self.heated.time, self.heated.body) > limit
        items.append(
            Text(
                self.end,
                limit,
                f"limit {show.text(limit, 'temperature', 0)}",
                (Spot(-4, 16 if over else -6, "end"),),
                style.SMALL,
                style.HIGH,
                True,
                axes="body",
            )
        )
        return items

    def _moments(self):
        """Moments drawn along the pipe: when, in words, dash, colour."""
        n = self.n
        if not n["flows"]:
            return [
                (joint.GIVE_UP / 4.0, "a quarter of it", "dotted", style.MUTED),
                (joint.GIVE_UP, "given up", "solid", style.HIGH),
                (n["peak_at"], "body hottest", "dash-dot", style.LOW),
            ]
        return [
            (n["flows_at"] / 2.0, "halfway there", "dotted", style.MUTED),
            (n["flows_at"], "filler flows", "dashed", style.INK),
            (n["leaves_at"], "torch leaves", "solid", style.HIGH),
            (n["peak_at"], "body hottest", "dash-dot", style.LOW),
        ]

    def _curves(self):
        items, heated = [], self.heated
        place = np.r_[heated.position, self.setup.stub_length + body_side(self.setup)]
        for row, (when, name, dash, colour) in enumerate(self._moments()):
            hot = heated.at(when)
            items.append(Line(place, np.r_[hot, hot[-1]], colour, 2.4, dash, axes="pipe"))
            y = _KEY_Y + 21 * row
            items.append(Line([_KEY_X, _KEY_X + 34], [y - 5] * 2, colour, 2.4, dash, axes="page"))
            items.append(word(_KEY_X + 42, y, f"{name}, {when:.{1 if when < 10.0 else 0}f} s"))
        middle = 0.5 * (place[-2] + place[-1])
        items.append(Markers([middle], [self.n["peak"]], "diamond", 14, style.LOW, axes="pipe"))
        return items

    def _over_time(self):
        n, heated, show = self.n, self.heated, self.show
        shown = heated.time <= self.end
        time = heated.time[shown]
        hot, body = heated.temperature[shown, heated.joint], heated.body[shown]
        items = [
            Line(time, hot, style.INK, axes="joint"),
            Line(time, body, style.LOW, 3.2, axes="body"),
        ]
        if n["flows"]:
            for axes, top in (("joint", HIGHEST), ("body", self.top)):
                for when, dash in ((n["flows_at"], "dotted"), (n["leaves_at"], "solid")):
                    items.append(Line([when] * 2, [LOWEST, top], style.MUTED, 1.2, dash, axes=axes))
            spots = (Spot(5, 14), Spot(5, 30), Spot(-5, 14, "end"), Spot(-5, 30, "end"))
            for when, said in ((n["flows_at"], "flows"), (n["leaves_at"], "torch leaves")):
                items.append(
                    Text(when, HIGHEST, said, spots, style.SMALL, style.MUTED, axes="joint")
                )
        if n["peak_at"] <= self.end:
            over = n["peak"] > n["limit"]
            colour = style.HIGH if over else style.LOW
            items.append(Markers([n["peak_at"]], [n["peak"]], "diamond", 14, colour, axes="body"))
            items.append(
                Text(
                    n["peak_at"],
                    n["peak"],
                    show.text(n["peak"], "temperature", 0),
                    (
                        Spot(0, -12, "middle"),
                        Spot(12, -4),
                        Spot(-12, -4, "end"),
                        Spot(0, 24, "middle"),
                    ),
                    style.TEXT,
                    colour,
                    True,
                    axes="body",
                )
            )
        return items


def _at_the_end(kelvin, text, colour):
    spots = (Spot(-4, -5, "end"),)
    return Text(RIGHT, kelvin, text, spots, style.SMALL, colour, axes="pipe")


def stay_text(longest, show):
    """Say how long the torch may stay.

    Parameters
    ----------
    longest : float
        As in ``joint.Heating``. [s]
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    if math.isnan(longest):
        return "not at all"
    if math.isinf(longest):
        return f"over {show.text(joint.LONGEST_STAY, 'time')}"
    return show.text(longest, "time")


def _strip(show, n):
    flows = show.text(n["flows_at"], "time") if n["flows"] else "never"
    return [
        ("Filler flows after", flows),
        ("Torch may stay", stay_text(n["longest_stay"], show) if n["flows"] else "–"),
        ("Body at most", show.text(n["peak"], "temperature", 0)),
        ("Reached after", show.text(n["peak_at"], "time")),
        ("Water boiled off", show.text(n["boiled"], "charge") if n["water"] else "–"),
    ]


def _remarks(show, n):
    found, verdict = [], n["verdict"]
    if verdict.verdict == joint.NEVER:
        found.append(
            ("Never", f"{n['filler']} between {n['line']} and {n['stub']}: {verdict.reason}.")
        )
    if n["peak"] > n["limit"]:
        when = show.text(n["passes_at"], "time")
        found.append(
            ("Too hot", f"the body passes {show.text(n['limit'], 'temperature', 0)} after {when}.")
        )
    if verdict.verdict == joint.FLUX:
        found.append(("Worth knowing", f"{n['filler']} needs flux here; wash it off afterwards."))
    return found


def _words(show, setup, n):
    def hot(name):
        return show.text(n[name], "temperature", 0)

    start = (
        f"A {n['stub']} stub of {show.text(setup.stub_length, 'length')}, "
        f"{show.text(setup.tube.diameter, 'length')} across, is brazed into a {n['line']} line "
        f"with {n['filler']}, liquid at {hot('liquidus')}. Round the valve: {n['wrap']}. The cold "
        f"joint takes up {show.text(n['flame'], 'heat_flow')}. "
    )
    if not n["flows"]:
        return (
            f"{start}The joint gets no hotter than {hot('joint_peak')}; after "
            f"{show.text(joint.GIVE_UP, 'time')} it is given up. The valve body has got "
            f"{hot('peak')} hot by then, or soon after."
        )
    side = "above" if n["peak"] > n["limit"] else "below"
    return (
        f"{start}The filler flows after {show.text(n['flows_at'], 'time')}, the torch stays "
        f"{show.text(n['stay'], 'time')} more. The valve body gets {hot('peak')} hot, after "
        f"{show.text(n['peak_at'], 'time')}, {side} its limit of {hot('limit')}. To stay below it "
        f"the torch may stay: {stay_text(n['longest_stay'], show)}."
    )
