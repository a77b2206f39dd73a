"""One look for every figure: colours, dashes, sizes, and the matplotlib settings that go with them.

No meaning is carried by colour alone: low and high side also differ in dash or label, points in
shape. Every colour that is used for text or lines reaches the contrast that WCAG 2.1 asks of text
on white (4.5 to 1), and the four series colours stay apart for the common kinds of
colour-blindness; ``tests/test_plots.py`` computes both.
"""

from __future__ import annotations

from contextlib import contextmanager

INK = "#1B2733"
MUTED = "#59646F"
LOW = "#0A6EA8"
HIGH = "#B5420A"
OWN = "#7A1FC2"
GOOD = "#00735C"
PAPER = "#FFFFFF"
HAZE = "#EAF0F5"
RULE = "#B9C3CC"

SERIES = {"low side": LOW, "high side": HIGH, "own readings": OWN, "reference": INK}

#: Dash patterns [px on, px off, ...]; every series has one besides its colour.
DASHES = {
    "solid": (),
    "dashed": (7.0, 4.0),
    "dotted": (1.5, 3.0),
    "dash-dot": (8.0, 3.0, 1.5, 3.0),
}

#: Sizes in figure pixels; 100 px are one printed inch.
TEXT = 14.0
SMALL = 12.5
LARGE = 15.5
LINE = 2.6
THIN = 1.0

FONTS = ("DejaVu Sans", "Verdana", "sans-serif")

#: A figure pixel in points, the unit of matplotlib's line widths and text sizes.
POINTS = 0.72

_SETTINGS = {
    "font.family": ["DejaVu Sans"],
    "font.size": TEXT * POINTS,
    "text.color": INK,
    "axes.edgecolor": MUTED,
    "axes.linewidth": 1.0 * POINTS,
    "axes.labelcolor": INK,
    "axes.labelsize": TEXT * POINTS,
    "axes.titlesize": LARGE * POINTS,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "axes.facecolor": PAPER,
    "figure.facecolor": PAPER,
    "xtick.color": MUTED,
    "ytick.color": MUTED,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": SMALL * POINTS,
    "ytick.labelsize": SMALL * POINTS,
    "xtick.major.size": 5 * POINTS,
    "ytick.major.size": 5 * POINTS,
    "xtick.minor.size": 3 * POINTS,
    "ytick.minor.size": 3 * POINTS,
    "grid.color": HAZE,
    "grid.linewidth": 1.0 * POINTS,
    "lines.solid_capstyle": "round",
    "lines.solid_joinstyle": "round",
    "path.simplify": True,
    "text.usetex": False,
}


@contextmanager
def in_style():
    """Draw inside this context in the house style; nothing outside it changes."""
    import matplotlib

    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_SETTINGS)
        yield
