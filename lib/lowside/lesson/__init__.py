"""Lessons as data: what is said, asked, checked and remembered. No widgets, no figures.

A lesson is a module ``lNN`` of this package with one name, ``LESSON``; it is found by its number,
no list needs keeping. Rooms within: ``model`` (what a lesson consists of), ``tasks`` (numbers from
a learner's seed, checking), ``slips`` (mistakes many tasks share), ``notation`` (right, but as a
fraction for percent), ``tolerance``, ``card`` (the page to print), ``progress``, ``hall`` (the
market hall), ``wording``.

A task draws its numbers, is solved by the library, and knows its slips, solved by the library too::

    def draw(random):
        return {"refrigerant": "R448A",
                "suction_pressure": random.uniform(2.0e5, 4.0e5),
                "line_temperature": random.uniform(262.0, 274.0)}

    def solve(values):
        dew = refrigerants.get(values.refrigerant).dew_temperature(values.suction_pressure)
        return {"dew": dew, "answer": values.line_temperature - dew}

    def from_bubble(values, show):
        fluid = refrigerants.get(values.refrigerant)
        return values.line_temperature - fluid.bubble_temperature(values.suction_pressure)

    SUPERHEAT = Task(
        key="superheat",
        question="{refrigerant}: the suction gauge says {suction_pressure}, the clamp on the "
                 "suction line {line_temperature}. How much superheat is that?",
        draw=draw,
        kinds={"suction_pressure": "gauge_pressure", "line_temperature": "temperature",
               "dew": "temperature"},
        solve=solve,
        kind="temperature_difference",
        slips=(Slip("bubble for dew", from_bubble, "Superheat starts where the last drop …"),
               gauge_as_absolute(solve, "suction_pressure"), sign_swapped()),
        hints=("Which column of the chart has to do with vapour?", "Line minus dew point."),
        steps=("The dew point at {suction_pressure} is {dew}.",
               "{line_temperature} less {dew} leaves {answer} of superheat."),
    )

    dealt = SUPERHEAT.deal("12", seed=7, show=readout.choose("us"))
    dealt.question; dealt.check("9 F"); dealt.hint(1); dealt.solution

``tests/example_lesson.py`` has this one as a whole lesson. In any text ``{name}`` is a quantity,
written in the reader's units; literal numbers with units do not belong in lessons.
"""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

from lowside.errors import UnknownName

from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source, gaps
from .progress import Progress
from .tasks import Dealt, Slip, Task, Verdict
from .tolerance import Tolerance

__all__ = [
    "MEMORY",
    "OURS",
    "PRACTICE",
    "READ",
    "Dealt",
    "JobCard",
    "Lesson",
    "Prediction",
    "Progress",
    "Slip",
    "Source",
    "Task",
    "Tolerance",
    "Verdict",
    "gaps",
    "get",
    "numbers",
]


def numbers():
    """List the lessons there are.

    Returns
    -------
    tuple of str
        Their numbers, in order.
    """
    files = (file.stem for file in Path(__file__).parent.glob("l*.py"))
    return tuple(sorted(name[1:] for name in files if re.fullmatch(r"l\d\d", name)))


def get(number):
    """Get a lesson by its number.

    Parameters
    ----------
    number : str or int
        Such as ``"22"``.

    Returns
    -------
    Lesson
        The lesson.

    Raises
    ------
    UnknownName
        If there is no such lesson.
    """
    number = f"{number:02d}" if isinstance(number, int) else str(number).strip()
    if number not in numbers():
        raise UnknownName("lesson", number, numbers())
    return import_module(f"{__name__}.l{number}").LESSON
