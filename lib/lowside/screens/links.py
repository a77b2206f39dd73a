"""Links from one page to another: to the notebooks there are, and plain words for those to come."""

from __future__ import annotations

import html
from pathlib import Path

from lowside import lesson as lessons

NOTEBOOKS = Path(__file__).parents[3] / "notebooks"
FRONT = "00"


def linked(number, title=None):
    """Return a lesson's number and title, as HTML with a link if its page is there, and plain.

    Parameters
    ----------
    number : str
        Two digits.
    title : str, optional
        What to call it, if not by number and title.

    Returns
    -------
    tuple of str
        HTML and plain text.
    """
    if title is None:
        title = _title(number)
    file = next(NOTEBOOKS.glob(f"{number}-*.ipynb"), None)
    if file is None:
        return html.escape(title), title
    return f'<a href="{file.name}">{html.escape(title)}</a>', title


def _title(number):
    if number in lessons.numbers():
        return f"{number} · {lessons.get(number).title}"
    return f"lesson {number} (to come)"
