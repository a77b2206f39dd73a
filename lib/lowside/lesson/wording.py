"""Text with quantities in it, worded in the reader's units.

A template names its quantities in braces, "The gauge says {suction_pressure}.", and a dict gives
for each name a pair (SI value, kind), a triple that adds the decimals wanted, a ``Difference``, or
a plain text.
"""

from __future__ import annotations

from string import Formatter
from typing import NamedTuple

from .tolerance import DIFFERENCE_OF


class Difference(NamedTuple):
    """A quantity that is one reading less another, and is written so that the three agree.

    Attributes
    ----------
    first, second : float
        The readings. [SI]
    kind : str
        Theirs, a key of ``units.KINDS``.
    """

    first: float
    second: float
    kind: str

    def text(self, show):
        """Write it in the reader's units."""
        first, second = (show.rounded(float(si), self.kind) for si in (self.first, self.second))
        return show.text(first - second, DIFFERENCE_OF.get(self.kind, self.kind))


def fill(template, quantities, show):
    """Put quantities into a template.

    Parameters
    ----------
    template : str
        Text with names in braces.
    quantities : dict of str to tuple, Difference or str
        SI value, kind (a key of ``units.KINDS``) and, if not the usual ones, decimals; or a text
        that is put in as it is.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        The text.

    Raises
    ------
    KeyError
        If the template names a quantity that is not there.

    Examples
    --------
    >>> from lowside import readout
    >>> fill("Superheat {superheat}.", {"superheat": (10.0, "temperature_difference")},
    ...      readout.choose("us"))
    'Superheat 18.0 °F.'
    """
    names = {name for _, name, _, _ in Formatter().parse(template) if name}
    return template.format_map({name: _text(quantities[name], show) for name in names})


def _text(quantity, show):
    if isinstance(quantity, str):
        return quantity
    if isinstance(quantity, Difference):
        return quantity.text(show)
    return show.text(*quantity)
