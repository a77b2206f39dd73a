"""What one learner predicted and answered, as plain data."""

from __future__ import annotations

from dataclasses import dataclass, field

from lowside.errors import LowsideError


@dataclass
class Progress:
    """Record of one learner; everything in it is plain JSON.

    Attributes
    ----------
    seed : int or str
        The learner's seed, which fixes the numbers of every task.
    predictions : dict
        Lesson -> prediction -> key of the option that was picked first.
    answers : dict
        Lesson -> task -> list of ``{"text", "verdict", "slip"}``, in order.
    hints : dict
        Lesson -> task -> highest hint taken.
    """

    seed: int | str = 1
    predictions: dict = field(default_factory=dict)
    answers: dict = field(default_factory=dict)
    hints: dict = field(default_factory=dict)

    def predict(self, lesson, prediction, option):
        """Record a prediction; the first one stands.

        Parameters
        ----------
        lesson, prediction, option : str
            Number of the lesson, keys of prediction and option.
        """
        self.predictions.setdefault(lesson, {}).setdefault(prediction, option)

    def predicted(self, lesson, prediction):
        """Look a prediction up.

        Parameters
        ----------
        lesson, prediction : str
            Number of the lesson, key of the prediction.

        Returns
        -------
        str or None
            Key of the option, ``None`` before it was made.
        """
        return self.predictions.get(lesson, {}).get(prediction)

    def answer(self, lesson, task, text, verdict):
        """Record an answer and what came of it.

        Parameters
        ----------
        lesson, task : str
            Number of the lesson, key of the task.
        text : str
            What was typed.
        verdict : Verdict
            What came of it.
        """
        entry = {"text": str(text), "verdict": verdict.kind, "slip": verdict.slip}
        self.answers.setdefault(lesson, {}).setdefault(task, []).append(entry)

    def hint(self, lesson, task, level):
        """Record that a hint was taken.

        Parameters
        ----------
        lesson, task : str
            Number of the lesson, key of the task.
        level : int
            Which one.
        """
        levels = self.hints.setdefault(lesson, {})
        levels[task] = max(level, levels.get(task, 0))

    def solved(self, lesson):
        """Tell which tasks of a lesson were answered right.

        Parameters
        ----------
        lesson : str
            Number of the lesson.

        Returns
        -------
        set of str
            Keys of the tasks.
        """
        return {
            task
            for task, entries in self.answers.get(lesson, {}).items()
            if any(entry["verdict"] == "right" for entry in entries)
        }

    def as_dict(self):
        """Everything as plain data for ``json.dumps``.

        Returns
        -------
        dict
            Seed, predictions, answers and hints.
        """
        return {
            "seed": self.seed,
            "predictions": self.predictions,
            "answers": self.answers,
            "hints": self.hints,
        }

    @classmethod
    def from_dict(cls, data):
        """Take up a record that ``as_dict`` gave.

        Parameters
        ----------
        data : dict
            Plain data.

        Returns
        -------
        Progress
            The record.

        Raises
        ------
        LowsideError
            If it is no such record.
        """
        names = {"seed", "predictions", "answers", "hints"}
        if not isinstance(data, dict) or set(data) != names:
            raise LowsideError("This is not a record of a learner's progress.")
        return cls(**data)
