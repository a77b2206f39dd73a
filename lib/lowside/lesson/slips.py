"""Slips that many tasks share: ready-made ``Slip`` objects.

Each computes where the slip leads by solving the task again with the mistaken number.
"""

from __future__ import annotations

from types import SimpleNamespace

from lowside import readout, units

from .tasks import Slip


def solved_with(solve, values, **changed):
    """Solve a task again with some of its quantities changed.

    Parameters
    ----------
    solve : callable
        The task's ``solve``.
    values : namespace
        What was drawn.
    **changed : float
        Mistaken quantities. [SI]

    Returns
    -------
    float
        The answer they lead to. [SI]
    """
    return solve(SimpleNamespace(**{**vars(values), **changed}))["answer"]


def gauge_as_absolute(solve, name):
    """Make the slip of looking a gauge reading up as if it were absolute.

    Parameters
    ----------
    solve : callable
        The task's ``solve``.
    name : str
        The pressure.

    Returns
    -------
    Slip
        Key ``"gauge as absolute"``.
    """

    def wrong(values, show):
        gauge = getattr(values, name) - values.atmosphere
        return solved_with(solve, values, **{name: gauge}) if gauge > 0.0 else None

    return Slip(
        "gauge as absolute",
        wrong,
        f"That is what comes out if {{{name}}} is taken for an absolute pressure. A gauge starts "
        "at the barometer: the absolute pressure is {atmosphere} higher.",
    )


def barometer_twice(solve, name):
    """Make the slip of adding the barometer to a pressure that already has it.

    Parameters
    ----------
    solve : callable
        The task's ``solve``.
    name : str
        The pressure.

    Returns
    -------
    Slip
        Key ``"barometer twice"``.
    """

    def wrong(values, show):
        return solved_with(solve, values, **{name: getattr(values, name) + values.atmosphere})

    return Slip(
        "barometer twice",
        wrong,
        f"That is what comes out if the barometer is added to {{{name}}} before using a gauge "
        "column. A column in gauge pressure already allows for it.",
    )


def sea_level_barometer(solve, name):
    """Make the slip of using the sea-level barometer at altitude; needs an altitude to show.

    Parameters
    ----------
    solve : callable
        The task's ``solve``.
    name : str
        The gauge pressure.

    Returns
    -------
    Slip
        Key ``"sea-level barometer"``.
    """

    def wrong(values, show):
        shift = units.STANDARD_ATMOSPHERE - values.atmosphere
        if shift < 1e3:
            return None
        return solved_with(solve, values, **{name: getattr(values, name) + shift})

    return Slip(
        "sea-level barometer",
        wrong,
        "That is right at sea level. Up here the barometer stands at {atmosphere}, so the same "
        "gauge reading is a lower absolute pressure.",
    )


def number_in_other_unit(solve, name, kind):
    """Make the slip of reading a number in the unit of the other system: °F for °C, bar for psi.

    Parameters
    ----------
    solve : callable
        The task's ``solve``.
    name : str
        The quantity whose number is misread.
    kind : str
        Its kind.

    Returns
    -------
    Slip
        Key ``"other unit"``.
    """

    def wrong(values, show):
        other = readout.choose("metric" if show.system == "us" else "us", show.altitude)
        number = show.value(getattr(values, name), kind)
        return solved_with(solve, values, **{name: other.si(number, kind)})

    return Slip(
        "other unit",
        wrong,
        f"That is what comes out if the number of {{{name}}} is looked up in the column of the "
        "other system of units. Check the unit on top of the column.",
    )


def unit_of_the_other_system(kind):
    """Make the slip of writing the right number with the unit of the other system.

    Parameters
    ----------
    kind : str
        Kind of the answer.

    Returns
    -------
    Slip
        Key ``"unit of the other system"``.
    """

    def wrong(values, show):
        other = readout.choose("metric" if show.system == "us" else "us", show.altitude)
        return other.si(show.value(values.answer, kind), kind)

    return Slip(
        "unit of the other system",
        wrong,
        "The number would be right in the unit of the question; with the unit that you wrote it "
        "is another quantity. A difference of 1 °C is one of 1.8 °F."
        if kind == "temperature_difference"
        else "The number would be right in the unit of the question; with the unit that you wrote "
        "it is another quantity.",
    )


def reading_itself(name, key, sentence):
    """Make the slip of answering a difference with one of the two temperatures themselves.

    Parameters
    ----------
    name : str
        The temperature.
    key : str
        Key of the slip.
    sentence : str
        What to tell the learner.

    Returns
    -------
    Slip
        Where the number of that temperature, in the reader's unit, leads as a difference.
    """

    def wrong(values, show):
        number = show.value(getattr(values, name), "temperature")
        return show.si(number, "temperature_difference")

    return Slip(key, wrong, sentence)


def sign_swapped():
    """Make the slip of subtracting the wrong way round.

    Returns
    -------
    Slip
        Key ``"sign swapped"``.
    """
    return Slip(
        "sign swapped",
        lambda values, show: -values.answer,
        "The size is right and the sign is not: look again at which one is subtracted from which.",
    )


def difference_as_temperature():
    """Make the slip of converting a temperature difference as if it were a temperature.

    Returns
    -------
    Slip
        Key ``"difference as temperature"``; for readers of °F only.
    """

    def wrong(values, show):
        if show.system != "us":
            return None
        return values.answer + 32.0 * units.RANKINE

    return Slip(
        "difference as temperature",
        wrong,
        "That is 32 °F too much: a difference between two temperatures has no zero to shift. "
        "1 K of difference is 1.8 °F, and nothing is added.",
    )
