"""The on-the-job card of a lesson: tools, steps and cautions on one printed page."""

from __future__ import annotations

from dataclasses import dataclass, field
from html import escape

from .wording import fill

#: Stands at the foot of every card.
DEFERENCE = (
    "The nameplate, the maker's instructions, local code and the licence the work needs come "
    "before this card."
)

MOST_WORDS = 320  # 440 fit a page of A4 or US Letter (printed with Chromium); leave room to write

_STYLE = """
.job-card {max-width: 44em; padding: 1em 1.4em; border: 2px solid #222; border-radius: 6px;
  color: #111; background: #fff; font: 1rem/1.45 sans-serif;}
.job-card h2 {margin: 0 0 .4em; font-size: 1.35em;}
.job-card h3 {margin: .9em 0 .2em; font-size: 1.05em;}
.job-card ul, .job-card ol {margin: 0; padding-left: 1.5em;}
.job-card .cautions {border-left: 6px solid #222; padding-left: .8em; margin-top: .9em;}
.job-card footer {margin-top: 1em; padding-top: .5em; border-top: 1px solid #222; font-size: .85em;}
@media print {.job-card {break-inside: avoid; break-before: page; max-width: none; border: 0;
  padding: 0; font-size: 11pt;}}
"""


@dataclass(frozen=True)
class JobCard:
    """What to take, what to do and what to mind, for one kind of work.

    Attributes
    ----------
    title : str
        The work.
    tools : tuple of str
        What to have at hand.
    cautions : tuple of str
        What can hurt someone, and the way round it.
    steps : tuple of str
        In order.
    quantities : dict
        What every ``{name}`` in the texts stands for, see ``wording``.
    notice : str
        A further line for the foot, such as the notice of an invented place.
    """

    title: str
    tools: tuple[str, ...]
    cautions: tuple[str, ...]
    steps: tuple[str, ...]
    quantities: dict = field(default_factory=dict)
    notice: str = ""

    def text(self, show):
        """Write the card as plain text.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            Lines of plain text.
        """
        lines = [f"ON THE JOB: {self.title}", ""]
        lines += ["Tools", *(f"  [ ] {line}" for line in self._worded(self.tools, show)), ""]
        lines += ["Cautions", *(f"  ! {line}" for line in self._worded(self.cautions, show)), ""]
        lines += ["Steps"]
        lines += [f"  {i}. {line}" for i, line in enumerate(self._worded(self.steps, show), 1)]
        return "\n".join([*lines, "", *self._foot()])

    def html(self, show):
        """Write the card as HTML that prints on a page of its own.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            One ``section`` element with its style; complete without anything else.
        """
        foot = "<br>".join(escape(line) for line in self._foot())
        return (
            f'<section class="job-card" aria-label="On the job: {escape(self.title)}">'
            f"<style>{_STYLE}</style><h2>On the job: {escape(self.title)}</h2>"
            f'<div class="cautions"><h3>Cautions</h3>{self._list("ul", self.cautions, show)}</div>'
            f"<h3>Tools</h3>{self._list('ul', self.tools, show)}"
            f"<h3>Steps</h3>{self._list('ol', self.steps, show)}"
            f"<footer>{foot}</footer></section>"
        )

    @property
    def words(self):
        """How many words the card has; ``MOST_WORDS`` fit the page."""
        texts = [self.title, *self.tools, *self.cautions, *self.steps, *self._foot()]
        return sum(len(text.split()) for text in texts)

    def _foot(self):
        return [line for line in (DEFERENCE, self.notice) if line]

    def _worded(self, texts, show):
        return [fill(text, self.quantities, show) for text in texts]

    def _list(self, tag, texts, show):
        items = "".join(f"<li>{escape(text)}</li>" for text in self._worded(texts, show))
        return f"<{tag}>{items}</{tag}>"
