"""A lesson's page: each method gives one cell of the lesson's anatomy.

What a lesson says and asks is data (``lesson``). What it shows is in ``screens.lessons.lNN``, a
module with two dicts of functions, each with the main one first::

    PICTURES = {"port sizes": picture}     # picture(show) -> LiveFigure
    PANELS = {"port size": explore}        # explore(units) -> Panel
"""

from __future__ import annotations

from importlib import import_module

import ipywidgets as widgets

from lowside import lesson as lessons
from lowside.errors import UnknownName
from lowside.screens import questions
from lowside.screens.links import FRONT, linked
from lowside.screens.panel import Picture
from lowside.screens.reader import OwnNumber, Units
from lowside.screens.sheet import download, listed, paragraph, strip
from lowside.screens.text import Words

#: Stands on top of a page that no kernel runs, and goes when one does.
STANDS_STILL = (
    "This page stands still. In JupyterLab press ▶▶ in the bar above (Restart the kernel and run "
    "all cells) and confirm; then scroll back up to here. The grey lines are code: leave them as "
    "they are."
)


def open_lesson(number, units="us", altitude=0.0, seed=1):
    """Open a lesson's page.

    Parameters
    ----------
    number : str or Lesson
        Number of the lesson, such as ``"22"``, or a lesson itself.
    units : {"us", "metric"}
        The reader's units; they can be changed on the page.
    altitude : float
        Height above sea level. [m]
    seed : int or str
        The learner's own number, which fixes the numbers of every task.

    Returns
    -------
    Page
        Its methods give the cells.

    Raises
    ------
    UnknownName
        If there is no such lesson or system of units.
    OutOfRange
        If the altitude cannot be believed.
    """
    lesson = number if isinstance(number, lessons.Lesson) else lessons.get(number)
    return Page(lesson, Units(units, altitude), lessons.Progress(seed))


class Page:
    """The cells of one lesson.

    Parameters
    ----------
    lesson : Lesson
        What it says and asks.
    units : Units
        The reader's units, which every cell follows.
    progress : Progress
        What the learner predicted and answered.
    content : module, optional
        What it shows: ``PICTURES`` and ``PANELS``; by default ``screens.lessons.lNN``.
    """

    def __init__(self, lesson, units, progress, content=None):
        self.lesson, self.units, self.progress = lesson, units, progress
        self._content = content
        self._dealt = []
        self._backward = []

    @property
    def show(self):
        """The reader's units as they are now."""
        return self.units.show

    def start(self):
        """Give goals, time, what to know before, cautions, and the choice of units."""
        number = OwnNumber(self.progress.seed, self.deal)
        choice = widgets.Box(
            [self.units.buttons(), self.units.altitude_box(), number.box],
            layout={"display": "flex", "flex_flow": "row wrap", "align_items": "flex-start"},
        )
        choice.add_class("lowside-row")
        return Words(self._start, self.units, [choice], paragraph(STANDS_STILL, "note"))

    def call(self):
        """Give the call at the market hall."""

        def write(show):
            call = self.lesson.say(self.lesson.call, show)
            told = "".join(paragraph(part, "call") for part in call.split("\n\n"))
            read = [(place, self.lesson.say(text, show)) for place, text in self.lesson.readings]
            plain = "\n".join([call, *(f"  {place}: {value}" for place, value in read)])
            return told + strip(read, "What the gauges and clamps say"), plain

        return Words(write, self.units)

    def note(self, name):
        """Give a short text with computed numbers, by its name."""
        notes = self.lesson.notes
        if name not in notes:
            raise UnknownName(f"note in lesson {self.lesson.number}", name, notes)

        def write(show):
            said = self.lesson.say(notes[name], show)
            return "".join(paragraph(part, "call") for part in said.split("\n\n")), said

        return Words(write, self.units)

    def predict(self, which=1):
        """Ask for a prediction, by its place or key."""
        prediction = self.lesson.prediction(which)
        return questions.Prediction(
            self.lesson, prediction, self.progress, self.units, self._recorded
        )

    def picture(self, name=None):
        """Give the figure that tells the story by itself."""
        return Picture(self._shown("PICTURES", name), self.units)

    def explore(self, name=None):
        """Give the figure with its controls, and three things to try."""
        panel = self._shown("PANELS", name)(self.units)
        if name is None:
            tries = self.lesson.try_this
            panel.advise("Try this", lambda show: [self.lesson.say(t, show) for t in tries])
        return panel

    def task(self, which):
        """Ask a task, by its place or key, with the learner's own numbers."""
        task = self.lesson.task(which)
        place = self.lesson.tasks.index(task) + 1
        question = questions.Question(self.lesson, task, place, self.progress, self.units)
        self._dealt.append(question)
        return question

    def solution(self, which):
        """Give the worked answer to a task."""
        task = self.lesson.task(which)
        place = self.lesson.tasks.index(task) + 1
        answer = questions.solution(self.lesson, task, place, self.progress, self.units)
        self._dealt.append(answer)
        return answer

    def look_back(self):
        """Give what was predicted beside what comes true."""
        back = questions.look_back(self.lesson, self.progress, self.units)
        self._backward.append(back)
        return back

    def job_card(self):
        """Give the card for the job, which prints on one page."""
        card, number = self.lesson.card, self.lesson.number
        save = widgets.HTML()

        def write(show):
            body = card.html(show)
            title, name = f"On the job: {card.title}", f"job-card-{number}.html"
            save.value = download(body, title, name, "Save this card to print it")
            return body, card.text(show)

        return Words(write, self.units, [save])

    def sources(self):
        """Give where the numbers come from, what the model leaves out, and the next lesson."""

        def write(show):
            sources = [str(source) for source in self.lesson.sources]
            leaves = [self.lesson.say(line, show) for line in self.lesson.leaves_out]
            after, plain_after = self._next()
            text = listed("Sources", sources) + listed("What this leaves out", leaves)
            plain = _plain([("Sources", sources), ("What this leaves out", leaves)])
            return f'{text}<p class="lowside-next">{after}</p>', f"{plain}\n{plain_after}"

        return Words(write, self.units)

    def deal(self, seed):
        """Deal new numbers for every task on the page, from another seed."""
        self.progress.seed = str(seed).strip() or 1
        for piece in self._dealt:
            piece.refresh()

    def _recorded(self):
        for back in self._backward:
            back.refresh()

    def _next(self):
        number, (front, plain_front) = self.lesson.next, linked(FRONT, "start page")
        if number is None:
            after, plain_after = ("This is the last lesson",) * 2
        else:
            after, plain_after = (f"Next: {name}" for name in linked(number))
        return f"{after}. All lessons: {front}.", f"{plain_after}. All lessons: {plain_front}."

    def _start(self, show):
        lesson = self.lesson
        goals = [lesson.say(goal, show) for goal in lesson.goals]
        cautions = [lesson.say(line, show) for line in lesson.cautions]
        before = [linked(number) for number in lesson.before] or [("nothing", "nothing")]
        rich, facts = (
            f"About {lesson.minutes} minutes. To know before: {', '.join(names)}."
            for names in zip(*before, strict=True)
        )
        text = (
            listed("Afterwards you can", goals)
            + f'<p class="lowside-facts">{rich}</p>'
            + '<div class="lowside-caution"><b>Caution</b>'
            + listed("", cautions)
            + "</div>"
        )
        plain = _plain([("Afterwards you can", goals), (facts, ()), ("Caution", cautions)])
        return text, plain

    def _shown(self, kind, name):
        if self._content is None:
            self._content = import_module(f"lowside.screens.lessons.l{self.lesson.number}")
        shown = getattr(self._content, kind)
        if name is None:
            return next(iter(shown.values()))
        if name not in shown:
            raise UnknownName(f"{kind[:-1].lower()} in lesson {self.lesson.number}", name, shown)
        return shown[name]


def _plain(parts):
    lines = []
    for heading, items in parts:
        lines += [heading if heading.endswith(".") else f"{heading}:"]
        lines += [f"  - {item}" for item in items]
    return "\n".join(lines)
