"""Lesson 52 shows how belief moves from reading to reading, and the page for a strange symptom."""

from __future__ import annotations

from functools import partial

from lowside.diagnosis import record
from lowside.lesson import l52_cases, l52_trust
from lowside.plots import suspects
from lowside.screens.sheet import paragraph
from lowside.screens.symptom import SymptomPage
from lowside.screens.text import Words


def picture(show):
    """Draw the call from the first gauge to the end."""
    return _followed(show, l52_cases.CALL)


def other(show):
    """Draw another call, which ends sooner."""
    return _followed(show, l52_cases.STRAINER)


def _followed(show, case):
    truth = tuple(name for name, _ in case.faults)
    return suspects.stages_figure(show, l52_cases.followed(case), truth)


def explore(reader):
    """Ask what a strange symptom points to; the call stands in the form."""
    examples = {case.title: partial(as_read, case) for case in l52_cases.EXAMPLES}
    return SymptomPage(reader, examples, as_read(l52_cases.CALL))


def as_read(case):
    """Give what a case was read to begin with, as a saved page.

    Parameters
    ----------
    case : l52_cases.Case

    Returns
    -------
    record.Record
    """
    box, ambient = l52_cases.air(case)
    return record.Record(
        box={"name": case.box},
        air={"box_temperature": box, "ambient_temperature": ambient},
        readings=l52_cases.taken(case),
    )


def trust(reader):
    """Show how often the page was right in a trial on boxes it was not told about."""
    return Words(_trust, reader)


def _trust(show):
    heads, rows, said = l52_trust.table(show)
    if not rows:
        return paragraph(said, "note"), said
    head = "".join(f'<th scope="col">{h}</th>' for h in heads)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    table = f'<div class="lowside-wide"><table class="lowside-table"><tr>{head}</tr>{body}</table>'
    plain = "\n".join([said, *(" | ".join(row) for row in [heads, *rows])])
    return f"{paragraph(said, 'call')}{table}</div>", plain


PICTURES = {"call": picture, "strainer": other}
PANELS = {"symptom": explore, "trust": trust}
