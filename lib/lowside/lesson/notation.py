"""Answers that are right in another notation: a fraction for percent, psia for psig."""

from __future__ import annotations

PRESSURES = ("gauge_pressure", "pressure")


def other_notation(typed, text, answer, kind, room, show):
    """Tell which notation makes a wrong answer right.

    Parameters
    ----------
    typed : float
        The answer as it was read. [SI]
    text : str
        The answer as it was typed.
    answer : float
        The right answer. [SI]
    kind : str
        Kind of the answer.
    room : float
        Largest deviation that counts as right. [SI]
    show : Readout
        The learner's units.

    Returns
    -------
    tuple of str or None
        Key of the slip, and a sentence; None if no notation explains the answer.
    """
    if kind in PRESSURES:
        return _other_zero(typed, answer, room, show)
    if kind == "ratio" and not any(sign.isalpha() or sign == "%" for sign in text):
        return _fraction(typed, answer, room, show)
    return None


def _other_zero(typed, answer, room, show):
    over = typed - answer
    if abs(abs(over) - show.atmosphere) > room:
        return None
    side = "high" if over > 0.0 else "low"
    return (
        "zero of the pressure",
        f"Right but for its zero: that lies one barometer, {show.text(show.atmosphere, 'pressure')}"
        f", too {side}. {show.unit('pressure')} counts from nothing, "
        f"{show.unit('gauge_pressure')} from the barometer.",
    )


def _fraction(typed, answer, room, show):
    meant = typed / show.step("ratio", digits=0)
    if not 0.0 < meant < 1.0:
        return None
    percent = show.text(meant, "ratio")
    if abs(meant - answer) <= room:
        return (
            "fraction for percent",
            f"Right as a fraction, and percent are asked for: that is {percent}.",
        )
    return (
        "fraction for percent",
        f"That looks like a fraction; as percent it would be {percent}, and even so it is not yet "
        "right.",
    )
