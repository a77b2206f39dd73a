"""Questions on a page: predictions before anything moves, and tasks with the learner's numbers.

What is asked and how it is judged is the business of ``lesson``; here it only gets a face. Without
a kernel, the question is there to be read and answered on paper.
"""

from __future__ import annotations

import html

import ipywidgets as widgets

from lowside.lesson.tasks import RIGHT
from lowside.screens.sheet import folded, listed, paragraph
from lowside.screens.text import Words

_FREE = {"width": "auto", "margin": "0"}
_ROW = {"display": "flex", "flex_flow": "row wrap", "align_items": "center", "margin": "4px 0"}


class Prediction:
    """One prediction: pick, record, and meet it again at the end of the lesson.

    Parameters
    ----------
    lesson : Lesson
        The lesson it belongs to.
    prediction : lesson.Prediction
        What is asked.
    progress : Progress
        Where the pick is recorded; the first one stands.
    units : Units
        The reader's units.
    recorded : callable
        Called once a prediction is recorded.
    """

    def __init__(self, lesson, prediction, progress, units, recorded=lambda: None):
        self.lesson, self.prediction, self.progress = lesson, prediction, progress
        self._recorded = recorded
        options = [(lesson.say(o, units.show), key) for key, o in prediction.options.items()]
        self.choice = widgets.RadioButtons(
            options=options, value=None, description="I predict:", layout=_FREE
        )
        self.choice.add_class("lowside-choice")
        self.button = widgets.Button(
            description="Record my prediction",
            button_style="primary",
            layout={"align_self": "flex-start"},
        )
        self.button.on_click(self.record)
        self.answer = widgets.HTML(layout=_FREE)
        self._words = Words(self._write, units, [self.choice, self.button, self.answer])
        self.box = self._words.box
        if progress.predicted(lesson.number, prediction.key) is not None:
            self._close()

    def record(self, _=None):
        """Record what is picked; nothing picked is said in words."""
        if self.choice.value is None:
            self.answer.value = paragraph("Pick one first; a guess is fine.", "alert", "alert")
            return
        self.progress.predict(self.lesson.number, self.prediction.key, self.choice.value)
        self._close()
        self._recorded()

    def _close(self):
        picked = self.progress.predicted(self.lesson.number, self.prediction.key)
        self.choice.value = picked
        self.choice.disabled = self.button.disabled = True
        said = "Recorded. Move things now; your prediction comes back at the end of the page."
        self.answer.value = paragraph(said, "note", "status")

    def _write(self, show):
        question = self.lesson.say(self.prediction.question, show)
        options = [self.lesson.say(o, show) for o in self.prediction.options.values()]
        plain = "\n".join([question, *(f"  ( ) {option}" for option in options)])
        picked = self.choice.value
        self.choice.options = list(zip(options, self.prediction.options, strict=True))
        self.choice.value = picked
        return paragraph(question, "question"), plain

    def _repr_mimebundle_(self, include=None, exclude=None):
        data = self._words._repr_mimebundle_()
        lines = self._words.plain.split("\n")
        options = [line.strip().removeprefix("( ) ") for line in lines[1:]]
        data["text/html"] += listed("", options)
        return data


class Question:
    """One task with the learner's own numbers: type, check, take a hint.

    Parameters
    ----------
    lesson : Lesson
        The lesson it belongs to.
    task : lesson.Task
        What is asked.
    place : int
        Its place in the lesson, from 1.
    progress : Progress
        Has the learner's seed, and takes the answers.
    units : Units
        The reader's units.
    """

    def __init__(self, lesson, task, place, progress, units):
        self.lesson, self.task, self.place = lesson, task, place
        self.progress, self._units = progress, units
        self.entry = widgets.Text(
            continuous_update=False, style={"description_width": "auto"}, layout={"width": "19em"}
        )
        self.entry.add_class("lowside-entry")
        self.entry.observe(lambda change: self.check() if change["new"].strip() else None, "value")
        self.check_button = widgets.Button(description="Check", button_style="primary")
        self.check_button.on_click(self.check)
        self.hint_button = widgets.Button(description="Hint")
        self.hint_button.on_click(self.hint)
        self.verdict = widgets.HTML(layout=_FREE)
        self.hints = widgets.HTML(layout=_FREE)
        row = widgets.Box([self.entry, self.check_button, self.hint_button], layout=_ROW)
        self._words = Words(self._write, units, [row, self.verdict, self.hints])
        self.box = self._words.box

    def check(self, _=None):
        """Judge what was typed and say so; the same text is recorded once."""
        text = self.entry.value
        verdict = self.dealt.check(text)
        if text.strip() and text != self._last:
            self.progress.answer(self.lesson.number, self.task.key, text, verdict)
            self._last = text
        if verdict.kind == RIGHT:
            self.verdict.value = paragraph("✓ " + verdict.sentence, "good", "status")
        else:
            self.verdict.value = paragraph(verdict.sentence, "alert", "alert")
        return verdict

    def hint(self, _=None):
        """Show the next hint."""
        self._level = min(self._level + 1, len(self.task.hints))
        self.progress.hint(self.lesson.number, self.task.key, self._level)
        shown = [self.dealt.hint(level) for level in range(1, self._level + 1)]
        self.hints.value = "".join(
            paragraph(f"Hint {level}: {text}", "note", "status")
            for level, text in enumerate(shown, 1)
        )
        self.hint_button.disabled = self._level == len(self.task.hints)

    def refresh(self):
        """Deal again, after the seed has changed."""
        self._words.refresh()

    def _write(self, show):
        self.dealt = self.task.deal(self.lesson.number, self.progress.seed, show)
        self._level, self._last = 0, None
        unit = show.unit(self.task.kind)
        self.entry.description = f"Answer to {self.place} [{unit}]" if unit else "Answer"
        self.entry.value = self.verdict.value = self.hints.value = ""
        self.hint_button.disabled = False
        question = f"{self.place}. {self.dealt.question}"
        return paragraph(question, "question"), question

    def _repr_mimebundle_(self, include=None, exclude=None):
        return self._words._repr_mimebundle_()


def solution(lesson, task, place, progress, units):
    """Return the worked answer to a task, with the learner's numbers, folded until opened."""

    def write(show):
        steps = task.deal(lesson.number, progress.seed, show).solution
        head = f"Worked answer to {place}"
        plain = "\n".join([f"{head}:", *(f"  {n}. {step}" for n, step in enumerate(steps, 1))])
        return folded(head, listed("", steps, "ol")), plain

    return Words(write, units)


def look_back(lesson, progress, units):
    """Return what was predicted beside what comes true, for the end of the page."""

    def write(show):
        lines, plain = [], []
        for prediction in lesson.predictions:
            picked = progress.predicted(lesson.number, prediction.key)
            said = lesson.say(prediction.reveal(picked), show)
            because = lesson.say(prediction.because, show)
            question = lesson.say(prediction.question, show)
            lines.append(
                f"<p><i>{html.escape(question)}</i><br>{html.escape(said)} "
                f"{html.escape(because)}</p>"
            )
            plain += [question, f"  {said} {because}"]
        return "<b>Looking back at your prediction</b>" + "".join(lines), "\n".join(plain)

    return Words(write, units)
