"""One published value, the function that computes ours, and how far they are apart."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from lowside.errors import UnknownName

READ, COMPUTED, MEMORY, PRACTICE = "read", "computed", "from memory", "common practice"

#: How a published value was come by, and what that is worth.
STATUSES = {
    READ: "read in the document, or in a public copy of it",
    COMPUTED: "from a reference library, run apart: it guards the code and proves nothing new",
    MEMORY: "quoted without the document at hand: look it up before you build on it",
    PRACTICE: "what the trade holds, with no published source",
}

_ROUNDING = 1e-9  # of the printed value


@dataclass(frozen=True)
class Check:
    """A published value beside ours.

    Attributes
    ----------
    topic : str
        What it is filed under.
    what : str
        What is compared; ``{name}`` stands for a quantity of ``at``.
    published : float
        In SI, or in ``unit``.
    allowed : float
        Largest difference that passes, in the same unit.
    kind : str
        Kind of quantity, a key of ``units.KINDS``.
    printed : str
        The value as it is printed.
    source, status : str
        Where it comes from, and how it was come by: a key of ``STATUSES``.
    compute : callable
        ``compute()`` gives our value, in the unit of ``published``.
    at : dict
        Name to SI value and kind, for ``what``.
    unit : str
        What follows the number where no kind has its unit.

    Raises
    ------
    UnknownName
        If the status is none of ours.
    """

    topic: str
    what: str
    published: float
    allowed: float
    kind: str
    printed: str
    source: str
    status: str
    compute: Callable[[], float]
    at: dict = field(default_factory=dict)
    unit: str = ""

    def __post_init__(self):
        if self.status not in STATUSES:
            raise UnknownName("status of a published value", self.status, STATUSES)

    @cached_property
    def ours(self):
        """Our value, computed once, when it is first asked for."""
        return float(self.compute())

    @property
    def difference(self):
        """Ours less the published one."""
        return self.ours - self.published

    @property
    def used(self):
        """Share of the tolerance that the difference takes up, signed; beyond 1 it fails."""
        if self.allowed == 0.0:
            return 0.0 if self.difference == 0.0 else math.copysign(math.inf, self.difference)
        return self.difference / self.allowed

    @property
    def passes(self):
        """Whether ours lies within the tolerance."""
        return abs(self.difference) <= self.allowed + _ROUNDING * abs(self.published)

    def name(self, show):
        """Word what is compared, in the reader's units."""
        return self.what.format_map({key: show.text(*value) for key, value in self.at.items()})

    def text(self, value, show):
        """Write a value as finely as the tolerance deserves.

        Parameters
        ----------
        value : float
            In the unit of ``published``.
        show : Readout
            The reader's units.

        Returns
        -------
        str
        """
        return self._written(value, self.kind, show)

    def apart(self, show):
        """Write the difference."""
        kind = {"temperature": "temperature_difference", "pressure": "pressure_difference"}
        written = self._written(self.difference, kind.get(self.kind, self.kind), show)
        return written if written.startswith("-") else f"+{written}"

    def room(self, show):
        """Write the tolerance, as a share of the value where that says more."""
        if self.kind == "temperature" or self.published == 0.0:
            kind = "temperature_difference" if self.kind == "temperature" else self.kind
            return f"±{self._written(self.allowed, kind, show)}"
        return f"±{100.0 * self.allowed / abs(self.published):.2g} %"

    def _written(self, value, kind, show):
        fine = self.allowed or 0.1 * abs(self.published)
        digits = max(0, math.ceil(1.5 - math.log10(fine / show.step(kind, digits=0))))
        return f"{show.text(value, kind, digits)} {self.unit}".strip()


def relative(printed, tolerance):
    """Allow a share of the printed value.

    Parameters
    ----------
    printed : float
    tolerance : float
        [1]

    Returns
    -------
    float
        In the unit of ``printed``.
    """
    return abs(printed) * tolerance
