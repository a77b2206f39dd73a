"""Text with quantities in it, worded in the reader's units.

A template names its quantities in braces, "The gauge says {suction_pressure}.", and a dict gives
for each name a pair (SI value, kind), a triple that adds the decimals wanted, or a plain text.
"""

from __future__ import annotations


def fill(template, quantities, show):
    """Put quantities into a template.

    Parameters
    ----------
    template : str
        Text with names in braces.
    quantities : dict of str to tuple or str
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
    texts = {
        name: quantity if isinstance(quantity, str) else show.text(*quantity)
        for name, quantity in quantities.items()
    }
    return template.format_map(texts)
