"""A set of hand-outs in a folder: lessons, job cards, and the page that lists them."""

from __future__ import annotations

from pathlib import Path

from lowside import lesson as lessons
from lowside import readout
from lowside.errors import LowsideError, UnknownName
from lowside.handouts import paper, sheets
from lowside.screens.links import NOTEBOOKS


def write(folder, numbers=None, instructor=False, pdf=False, units="us"):
    """Write lessons and their job cards into a folder, with a page that lists them.

    Parameters
    ----------
    folder : str or Path
        Where to; made if it is not there. Files of the same names are replaced.
    numbers : sequence of str, optional
        Numbers of lessons, such as ``["22"]``; by default all that have a notebook.
    instructor : bool
        Whether the lessons show the worked answers and what the predictions come to. The names of
        these files end in ``-instructor``, so that the two sets never overwrite each other.
    pdf : bool
        Whether to print each file as PDF too.
    units : {"us", "metric"}
        The reader's units. The notebooks are stored in ``"us"``; in others each is run once more.

    Returns
    -------
    list of Path
        What was written, the list of the set first.

    Raises
    ------
    UnknownName
        If there is no such lesson or system of units.
    LowsideError
        If the folder cannot be written, or PDF is asked for and there is no browser.
    """
    show = readout.choose(units)
    there = {path.name[:2]: path for path in sorted(NOTEBOOKS.glob("[0-9]*.ipynb"))}
    known = [number for number in lessons.numbers() if number in there]
    wanted = known if numbers is None else list(dict.fromkeys(numbers))
    for number in wanted:
        if number not in known:
            raise UnknownName("lesson", number, known)
    if pdf:
        paper.require_browser()
    ending = "-instructor" if instructor else ""
    names = {number: f"{there[number].stem}{ending}.html" for number in wanted}
    cards = {number: f"job-card-{number}.html" for number in wanted}
    index = f"index{ending}.html"
    pages = {}
    for number in wanted:
        notebook = sheets.read(there[number], units)
        links = {there[other].name: name for other, name in names.items()}
        links[there["00"].name] = index
        pages[names[number]] = sheets.lesson(notebook, links, instructor)
        pages[cards[number]] = sheets.card(lessons.get(number).card, show)
    files = [(lessons.get(n), names[n], cards[n]) for n in wanted]
    pages = {index: sheets.contents(files, show, instructor, pdf), **pages}
    return _save(Path(folder), pages, pdf)


def _save(folder, pages, pdf):
    written = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, page in pages.items():
            written.append(folder / name)
            written[-1].write_text(page, encoding="utf-8")
    except OSError as error:
        raise LowsideError(
            f"The hand-outs cannot be written to “{folder}” ({error.strerror}): "
            "give a folder that you may write to."
        ) from None
    if pdf:
        written += [paper.print_to_pdf(path) for path in written[1:]]
    return written
