"""Markdown of a lesson as HTML, its formulas as MathML: nothing is fetched, no script runs."""

from __future__ import annotations

import html

from latex2mathml.converter import convert
from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath


class Formulas:
    """Part of a renderer of markdown: formulas that a browser shows by itself."""

    def inline_math(self, body):
        """Write a formula within a line."""
        return convert(html.unescape(body))

    def block_math(self, body):
        """Write a formula on a line of its own."""
        return convert(html.unescape(body), display="block")


class Prose(Formulas, IPythonRenderer):
    """Renders the markdown of a lesson."""


def to_html(source):
    """Render markdown.

    Parameters
    ----------
    source : str
        Markdown with formulas between dollar signs.

    Returns
    -------
    str
        HTML without scripts.
    """
    return MarkdownWithMath(renderer=Prose(escape=False, exclude_anchor_links=True)).render(source)
