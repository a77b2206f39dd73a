"""Tasks with a learner's own numbers, and what a wrong answer gives away.

A ``Task`` is the recipe: it draws quantities, computes the answer with the library, and knows the
slips people make, each computed by the library too. ``Task.deal`` gives one learner's numbers,
rounded to what the learner reads, so that the printed numbers lead exactly to the answer. Numbers
for which two slips, or a slip and the answer, cannot be told apart are drawn again. Where that
never helps (forgetting a barometer that is 1 kPa off does no harm a gauge could show) the slip is
left out: such an answer *is* right.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise
from random import Random
from types import SimpleNamespace

from lowside.errors import LowsideError, OutOfRange, Unreadable

from .notation import other_notation
from .tolerance import USUAL, Tolerance
from .wording import fill

RIGHT, CLOSE, SLIP, WRONG, UNREADABLE = "right", "close", "slip", "wrong", "unreadable"

CLOSE_WITHIN = 2.5  # times the tolerance

#: What an answer can be at all, by kind, unless a task says otherwise. [SI]
LIMITS = {"ratio": (0.0, 1.0)}
_REDRAWS = 100


@dataclass(frozen=True)
class Slip:
    """A known way to get a task wrong.

    Attributes
    ----------
    key : str
        Short name, recorded for the instructor.
    wrong : callable
        ``wrong(values, show)`` gives the answer this slip leads to [SI], or ``None`` where it
        leads nowhere (a slip that exists in one system of units only).
    sentence : str
        What to tell the learner; a template over the task's quantities, without the answer.
    """

    key: str
    wrong: Callable
    sentence: str


@dataclass(frozen=True)
class Verdict:
    """What came of one typed answer.

    Attributes
    ----------
    kind : str
        ``"right"``, ``"close"``, ``"slip"``, ``"wrong"`` or ``"unreadable"``.
    sentence : str
        What to tell the learner.
    slip : str or None
        Key of the slip the answer looks like.
    """

    kind: str
    sentence: str
    slip: str | None = None


@dataclass(frozen=True)
class Task:
    """Recipe for a question with numbers in it.

    Attributes
    ----------
    key : str
        Short name; with lesson and seed it fixes the numbers for good.
    question : str
        Template over the drawn quantities.
    draw : callable
        ``draw(random)`` gives a dict of SI values and texts, from ``random.Random``.
    kinds : dict of str to str
        Kind of every number that is drawn or solved for.
    solve : callable
        ``solve(values)`` gives a dict with ``"answer"`` [SI] and the steps on the way. ``values``
        has what was drawn as attributes, and ``values.atmosphere``, the local barometer [Pa].
    kind : str
        Kind of the answer.
    slips : tuple of Slip
        Ways to get it wrong.
    hints : tuple of str
        A nudge, then nearly the way; templates without the answer.
    steps : tuple of str
        Worked solution; templates over everything, the last one with ``{answer}``.
    tolerance : Tolerance, optional
        Room around the answer; the usual one of its kind if not given.
    limits : tuple of float or None, optional
        Lowest and highest answer that makes sense, ``None`` where that side is open; those of its
        kind in ``LIMITS`` if not given. [SI]
    """

    key: str
    question: str
    draw: Callable
    kinds: dict[str, str]
    solve: Callable
    kind: str
    slips: tuple[Slip, ...]
    hints: tuple[str, str]
    steps: tuple[str, ...]
    tolerance: Tolerance | None = None
    limits: tuple[float | None, float | None] | None = None

    def deal(self, lesson, seed, show):
        """Draw one learner's numbers.

        Parameters
        ----------
        lesson : str
            Number of the lesson.
        seed : int or str
            The learner's seed; the same seed gives the same numbers on every machine.
        show : Readout
            The learner's units; drawn numbers are rounded to what they show.

        Returns
        -------
        Dealt
            Question, answer and everything between.
        """
        random = Random(f"{lesson}/{self.key}/{seed}")
        first = dealt = self._dealt(self.draw(random), show)
        for _ in range(_REDRAWS):
            if dealt.tells_apart():
                return dealt
            dealt = self._dealt(self.draw(random), show)
        return first.without_twins()

    def _dealt(self, drawn, show):
        values = SimpleNamespace(
            atmosphere=show.atmosphere,
            **{
                name: value if isinstance(value, str) else show.rounded(value, self.kinds[name])
                for name, value in drawn.items()
            },
        )
        solved = self.solve(values)
        vars(values).update(solved)
        slips = {}
        for slip in self.slips:
            try:
                wrong = slip.wrong(values, show)
            except LowsideError:
                wrong = None
            if wrong is not None:
                slips[slip.key] = float(wrong)
        return Dealt(self, show, vars(values), slips)


@dataclass(frozen=True)
class Dealt:
    """One learner's copy of a task.

    Attributes
    ----------
    task : Task
        The recipe.
    show : Readout
        The learner's units.
    values : dict
        Drawn and solved quantities. [SI]
    slips : dict of str to float
        Where each slip leads with these numbers. [SI]
    """

    task: Task
    show: object
    values: dict = field(repr=False)
    slips: dict[str, float] = field(repr=False)

    @property
    def answer(self):
        """The right answer [SI]."""
        return self.values["answer"]

    @property
    def tolerance(self):
        """Largest deviation that counts as right [SI]."""
        return self._room.si(self.answer, self.task.kind, self.show)

    @property
    def answer_text(self):
        """The right answer in the learner's units."""
        return self.show.text(self.answer, self.task.kind)

    @property
    def question(self):
        """The question with the learner's numbers."""
        return self._fill(self.task.question)

    @property
    def solution(self):
        """The worked steps with the learner's numbers, a tuple of sentences."""
        return tuple(self._fill(step) for step in self.task.steps)

    def hint(self, level):
        """Give a hint.

        Parameters
        ----------
        level : int
            1 for a nudge, 2 for nearly the way.

        Returns
        -------
        str
            The hint; the last one for any higher level.
        """
        return self._fill(self.task.hints[min(level, len(self.task.hints)) - 1])

    def tells_apart(self):
        """Whether answer and slips lie too far apart for one typed number to be taken for two."""
        places = sorted([self.answer, *self.slips.values()])
        return all(b - a > 2.0 * self.tolerance for a, b in pairwise(places))

    def without_twins(self):
        """Leave out slips that cannot be told from the answer or from a slip named before them.

        Returns
        -------
        Dealt
            The same numbers with fewer slips.
        """
        places, kept = [self.answer], {}
        for key, wrong in self.slips.items():
            if all(abs(wrong - place) > 2.0 * self.tolerance for place in places):
                places.append(wrong)
                kept[key] = wrong
        return replace(self, slips=kept)

    def check(self, text):
        """Check a typed answer.

        Parameters
        ----------
        text : str
            What was typed, with or without a unit.

        Returns
        -------
        Verdict
            Right, close, a known slip, wrong or unreadable, and a sentence.
        """
        try:
            typed = self.show.parse(text, self.task.kind, "your answer")
        except Unreadable as error:
            return Verdict(UNREADABLE, self.show.explain(error))
        except LowsideError as error:
            return Verdict(WRONG, self.show.explain(error))
        off = abs(typed - self.answer)
        if off <= self.tolerance:
            return Verdict(RIGHT, self._right())
        for slip in self.task.slips:
            if slip.key in self.slips and abs(typed - self.slips[slip.key]) <= self.tolerance:
                return Verdict(SLIP, self._fill(slip.sentence), slip.key)
        if other := other_notation(
            typed, text, self.answer, self.task.kind, self.tolerance, self.show
        ):
            key, sentence = other
            return Verdict(SLIP, sentence, key)
        low, high = self.task.limits or LIMITS.get(self.task.kind, (None, None))
        if (low is not None and typed < low) or (high is not None and typed > high):
            beyond = OutOfRange("answer", typed, low, high, self.task.kind)
            return Verdict(WRONG, self.show.explain(beyond))
        side = "high" if typed > self.answer else "low"
        if off <= CLOSE_WITHIN * self.tolerance:
            sentence = (
                f"Close, a little {side}: the answer must come within {self._room_text}, "
                f"since {self._room.because}. Check how you rounded and read off."
            )
            return Verdict(CLOSE, sentence)
        return Verdict(WRONG, f"Not yet: too {side}. Take a hint, or work it through in steps.")

    def _right(self):
        return (
            f"Right. Computed: {self.answer_text}; anything within {self._room_text} counts, "
            f"since {self._room.because}."
        )

    @property
    def _room(self):
        return self.task.tolerance or USUAL[self.task.kind]

    @property
    def _room_text(self):
        return self._room.text(self.answer, self.task.kind, self.show)

    def _fill(self, template):
        kinds = {**self.task.kinds, "answer": self.task.kind, "atmosphere": "pressure"}
        quantities = {
            name: value if isinstance(value, str) else (value, kinds[name])
            for name, value in self.values.items()
        }
        return fill(template, quantities, self.show)
