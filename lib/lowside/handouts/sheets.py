"""One HTML page, complete by itself: a lesson, a job card, or the list of a set."""

from __future__ import annotations

import html
import re

import nbformat

from lowside.handouts.prose import to_html
from lowside.screens.page import STANDS_STILL
from lowside.screens.sheet import SHEET, paragraph

FROZEN_UNITS = "us"

#: Cells that give away what a learner is to find out.
ANSWERS = ("page.solution(", "page.look_back(")

_PAGE = """<style>
body { margin:0 auto; padding:12px 16px 40px; max-width:820px; color:#1d2429; background:#fff;
  font:16px/1.5 "DejaVu Sans", Verdana, Helvetica, Arial, sans-serif; }
h1 { font-size:1.6em; line-height:1.2; } h2 { font-size:1.2em; margin:1.5em 0 .3em;
  border-bottom:1px solid #8a949c; }
img { max-width:100%; height:auto; display:block; }
math[display=block] { margin:.7em 0; font-size:1.1em; }
table { border-collapse:collapse; } th, td { text-align:left; vertical-align:top;
  padding:4px 14px 4px 0; border-bottom:1px solid #c9d0d5; }
.handout-write { margin:14px 0 4px; color:#4a5560; font-size:14px; }
.handout-write i { display:block; border-bottom:1px solid #4a5560; height:2.1em; }
.handout-moves { color:#4a5560; font-size:13px; margin:4px 0; }
.handout-kind { font-weight:600; }
@page { margin:15mm; }
@media print { body { max-width:none; padding:0; font-size:10.5pt; }
  h1, h2 { break-after:avoid; } figure, img, .lowside-strip > div { break-inside:avoid; }
  figure { margin:0; } .lowside-plain { max-width:none; } }
figure { margin:6px 0; } .lowside-plain { max-width:none; }
</style>"""

_NOTHING_FROM_OUTSIDE = (
    '<meta http-equiv="Content-Security-Policy" '
    "content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">"
)


def read(path, units=FROZEN_UNITS):
    """Read a notebook with its outputs.

    Parameters
    ----------
    path : Path
        The notebook, frozen.
    units : {"us", "metric"}
        The reader's units; in others than those it is stored in, it is run.

    Returns
    -------
    NotebookNode
    """
    notebook = nbformat.read(path, as_version=4)
    if units == FROZEN_UNITS:
        return notebook
    from nbclient import NotebookClient

    for cell in notebook.cells:
        cell.source = cell.source.replace(f'units="{FROZEN_UNITS}"', f'units="{units}"')
    where = {"metadata": {"path": str(path.parent)}}
    NotebookClient(notebook, timeout=300, kernel_name="python3", resources=where).execute()
    return notebook


def lesson(notebook, links, instructor):
    """Write a lesson as one page.

    Parameters
    ----------
    notebook : NotebookNode
        With its outputs.
    links : dict
        File names of the notebooks that the set has, each with the page it became; a link to any
        other becomes plain words.
    instructor : bool
        Whether to show the worked answers.

    Returns
    -------
    str
        A whole HTML document.
    """
    parts, title = [], "lowside"
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            parts.append(to_html(cell.source))
            heading = re.search(r"^# (.+)$", cell.source, flags=re.M)
            title = heading.group(1) if heading else title
        elif not gives_away(cell):
            parts.append(_shown(cell))
        elif instructor:
            parts.append(_shown(cell).replace("<details ", "<details open "))
        elif "look_back" in cell.source:
            parts.append(paragraph("The answers are in the instructor's copy.", "note"))
    kind = "Instructor's copy, with the answers" if instructor else "Learner's copy"
    body = _relinked(f'<p class="handout-kind">{kind}</p>' + "\n".join(parts), links)
    return _document(title, SHEET + body)


def gives_away(cell):
    """Whether a cell shows what a learner is to find out."""
    tagged = "solution" in cell.metadata.get("tags", ())
    return tagged or any(call in cell.source for call in ANSWERS)


def card(job_card, show):
    """Write a job card as one page.

    Parameters
    ----------
    job_card : JobCard
        From the lesson.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A whole HTML document, which prints on one sheet.
    """
    return _document(f"On the job: {job_card.title}", job_card.html(show))


def contents(files, show, instructor, pdf):
    """Write the list of a set.

    Parameters
    ----------
    files : sequence of tuple
        Lesson, name of its page, name of its job card's page.
    show : Readout
        The reader's units.
    instructor, pdf : bool
        Which copies they are; whether a PDF lies beside each.

    Returns
    -------
    str
        A whole HTML document.
    """

    def link(name, words):
        paper = f' (<a href="{name.removesuffix("html")}pdf">PDF</a>)' if pdf else ""
        return f'<a href="{name}">{html.escape(words)}</a>{paper}'

    rows = "".join(
        f"<tr><td>{link(page, f'{given.number} · {given.title}')}</td><td>{given.minutes}</td>"
        f"<td>{html.escape(given.say(given.goals[0], show))}</td><td>{link(job, 'card')}</td></tr>"
        for given, page, job in files
    )
    kind = "with the answers, for the instructor" if instructor else "for the learner"
    head = "<tr><th>lesson</th><th>minutes</th><th>afterwards you can</th><th>job card</th></tr>"
    return _document(
        "lowside: lessons on paper",
        f"<h1>Lessons on paper, {kind}</h1><p>Each file is complete by itself: keep it, mail it, "
        "print it. The figures stand still here; in the lab you can move them.</p>"
        f"<table>{head}{rows}</table>",
    )


def _shown(cell):
    """Write what a code cell shows; a lone picture gets its words under it."""
    outputs = [output.data for output in cell.outputs if "data" in output]
    parts = []
    for number, data in enumerate(outputs, 1):
        if "image/png" in data:
            words = data.get("text/plain", "")
            image = f"data:image/png;base64,{data['image/png'].strip()}"
            caption = paragraph(words, "words") if number == len(outputs) else ""
            parts.append(
                f'<figure><img src="{image}" alt="{html.escape(words)}">'
                f"<figcaption>{caption}</figcaption></figure>"
            )
        else:
            shown = data.get("text/html") or f"<pre>{html.escape(data.get('text/plain', ''))}</pre>"
            parts.append(shown.replace(paragraph(STANDS_STILL, "note"), ""))
    if ".explore(" in cell.source:
        parts.append('<p class="handout-moves">In the lab this figure has controls to move.</p>')
    if ".task(" in cell.source or ".predict(" in cell.source:
        parts.append('<p class="handout-write">Your answer:<i></i></p>')
    return f'<div class="lowside lowside-plain">{"".join(parts)}</div>' if parts else ""


def _relinked(body, links):
    def mend(found):
        name, words = found.group(1), found.group(2)
        return f'<a href="{links[name]}">{words}</a>' if name in links else words

    return re.sub(r'<a href="([^"]+)"[^>]*>(.*?)</a>', mend, body, flags=re.S)


def _document(title, body):
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"{_NOTHING_FROM_OUTSIDE}<title>{html.escape(title)}</title>{_PAGE}</head>\n"
        f"<body>{body}</body></html>\n"
    )
