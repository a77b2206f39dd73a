"""What a lesson consists of, and what it may not lack."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from lowside.errors import UnknownName

from .card import MOST_WORDS, JobCard
from .tasks import Task
from .tolerance import USUAL
from .wording import fill

READ, MEMORY, PRACTICE, OURS = (
    "read",
    "from memory",
    "common practice, no published source",
    "computed here",
)
STATUSES = (READ, MEMORY, PRACTICE, OURS)

FEWEST_TASKS = 3
TRY_THIS = 3


@dataclass(frozen=True)
class Source:
    """Where something in a lesson comes from.

    Attributes
    ----------
    what : str
        What it supports.
    where : str
        Document, edition, table or equation.
    status : str
        One of ``STATUSES``.
    """

    what: str
    where: str
    status: str

    def __str__(self):
        return f"{self.what}: {self.where} ({self.status})"


@dataclass(frozen=True)
class Prediction:
    """A question to be answered before anything moves.

    Attributes
    ----------
    key : str
        Short name.
    question : str
        Template over the lesson's quantities.
    options : dict of str to str
        Key -> wording of each option.
    outcome : callable
        ``outcome()`` computes with the library which option comes true, and returns its key.
    because : str
        Why, shown at the end; template over the lesson's quantities.
    """

    key: str
    question: str
    options: dict[str, str]
    outcome: Callable[[], str]
    because: str

    def reveal(self, picked):
        """Compare a prediction with what the box does.

        Parameters
        ----------
        picked : str or None
            Key of the option that was picked, ``None`` if none was.

        Returns
        -------
        str
            What was predicted and what comes true, still a template; ``because`` says why.

        Raises
        ------
        UnknownName
            If there is no such option.
        """
        true = self.options[self.outcome()]
        if picked is None:
            return f"You made no prediction. It turns out: {true}."
        if picked not in self.options:
            raise UnknownName("option", picked, self.options)
        mine = self.options[picked]
        verdict = "and so it is" if mine == true else f"it turns out: {true}"
        return f"You predicted: {mine}; {verdict}."


@dataclass(frozen=True)
class Lesson:
    """One lesson. Every text is a template over ``quantities``.

    Attributes
    ----------
    number : str
        Two digits, as in the name of its notebook.
    title : str
        What it is about.
    goals : tuple of str
        Each finishes "Afterwards you can …".
    minutes : int
        Time it takes.
    before : tuple of str
        What to know before, lessons by number.
    cautions : tuple of str
        What can hurt someone in this work. Never empty: a lesson without danger says so.
    call : str
        The call at the market hall.
    predictions : tuple of Prediction
        At least one.
    try_this : tuple of str
        Three things to try with the controls.
    tasks : tuple of Task
        At least three.
    card : JobCard
        On the job.
    sources : tuple of Source
        Where the numbers come from.
    leaves_out : tuple of str
        What the model leaves out, with its uncertainty.
    next : str or None
        Number of the next lesson, ``None`` after the last.
    quantities : callable
        ``quantities()`` computes what the names in the texts stand for, see ``wording``. It is
        called for every text: put ``functools.cache`` on it.
    readings : tuple of (str, str)
        What gauges and clamps say in the call: where, and a template such as ``"{suction}"``.
    notes : dict of str to str
        Short texts with computed numbers that stand between others on the page, by name.
    """

    number: str
    title: str
    goals: tuple[str, ...]
    minutes: int
    before: tuple[str, ...]
    cautions: tuple[str, ...]
    call: str
    predictions: tuple[Prediction, ...]
    try_this: tuple[str, ...]
    tasks: tuple[Task, ...]
    card: JobCard
    sources: tuple[Source, ...]
    leaves_out: tuple[str, ...]
    next: str | None
    quantities: Callable[[], dict] = field(default=dict)
    readings: tuple[tuple[str, str], ...] = ()
    notes: dict[str, str] = field(default_factory=dict)

    def say(self, text, show):
        """Word one of the lesson's texts in the reader's units.

        Parameters
        ----------
        text : str
            Template, such as ``lesson.call``.
        show : Readout
            The reader's units.

        Returns
        -------
        str
            The text.
        """
        return fill(text, self.quantities(), show)

    def task(self, key):
        """Find a task by its key or its place.

        Parameters
        ----------
        key : str or int
            Key, or place counted from 1.

        Returns
        -------
        Task
            The task.

        Raises
        ------
        UnknownName
            If there is no such task.
        """
        places = {task.key: task for task in self.tasks}
        places |= {str(place): task for place, task in enumerate(self.tasks, 1)}
        if str(key) not in places:
            raise UnknownName(f"task in lesson {self.number}", key, places)
        return places[str(key)]

    def prediction(self, key):
        """Find a prediction by its key or its place.

        Parameters
        ----------
        key : str or int
            Key, or place counted from 1.

        Returns
        -------
        Prediction
            The prediction.

        Raises
        ------
        UnknownName
            If there is no such prediction.
        """
        places = {item.key: item for item in self.predictions}
        places |= {str(place): item for place, item in enumerate(self.predictions, 1)}
        if str(key) not in places:
            raise UnknownName(f"prediction in lesson {self.number}", key, places)
        return places[str(key)]


def gaps(lesson):
    """List what a lesson lacks; a test asks this of every lesson.

    Parameters
    ----------
    lesson : Lesson
        The lesson.

    Returns
    -------
    list of str
        One sentence for each gap; empty for a complete lesson.
    """
    found = [
        f"Lesson {lesson.number} has no {name}."
        for name in (
            "title",
            "goals",
            "minutes",
            "cautions",
            "call",
            "predictions",
            "sources",
            "leaves_out",
        )
        if not getattr(lesson, name)
    ]
    if not re.fullmatch(r"\d\d", lesson.number):
        found.append(f"Lesson {lesson.number}: a number has two digits.")
    if len(lesson.tasks) < FEWEST_TASKS:
        found.append(f"Lesson {lesson.number} has fewer than {FEWEST_TASKS} tasks.")
    if len(lesson.try_this) != TRY_THIS:
        found.append(f"Lesson {lesson.number} needs {TRY_THIS} things to try.")
    for prediction in lesson.predictions:
        if len(prediction.options) < 2:
            found.append(f"Prediction {prediction.key} leaves nothing to choose.")
    keys = [item.key for item in (*lesson.tasks, *lesson.predictions)]
    found += [
        f"The key {key} is used twice." for key in sorted({k for k in keys if keys.count(k) > 1})
    ]
    for task in lesson.tasks:
        found += [f"Task {task.key} {gap}." for gap in _task_gaps(task)]
    found += [
        f"The card has no {part}."
        for part in ("tools", "cautions", "steps")
        if not getattr(lesson.card, part)
    ]
    if lesson.card.words > MOST_WORDS:
        found.append(f"The card has {lesson.card.words} words; {MOST_WORDS} fit its page.")
    found += [
        f"The source “{source.what}” has the status “{source.status}”, which is none of ours."
        for source in lesson.sources
        if source.status not in STATUSES
    ]
    return found


def _task_gaps(task):
    if not task.slips:
        yield "knows no slip"
    if len({slip.key for slip in task.slips}) < len(task.slips):
        yield "names two slips alike"
    if len(task.hints) != 2:
        yield "needs two hints"
    if not task.steps or "{answer}" not in task.steps[-1]:
        yield "does not end its solution with the answer"
    if any("{answer}" in text for text in (task.question, *task.hints)):
        yield "gives its answer away"
    if any("{answer}" in slip.sentence for slip in task.slips):
        yield "gives its answer away to a slip"
    if task.tolerance is None and task.kind not in USUAL:
        yield f"needs a tolerance for its {task.kind}"
