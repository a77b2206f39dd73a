"""How a logger wrote its file: letters, delimiter, decimal sign, header, where the time stands.

Everything here is a proposal, made from the beginning and the end of the file; whoever knows the
logger changes it with ``dataclasses.replace``.
"""

from __future__ import annotations

import codecs
import csv
import re
from collections import Counter
from dataclasses import dataclass

from lowside.errors import LowsideError

from . import clock

MOST_BYTES = 400_000_000
DELIMITERS = {";": "semicolon", "\t": "tab", "|": "bar", ",": "comma"}
DECIMALS = {".": "point", ",": "comma"}

_SAMPLE_BYTES = 60_000
_SAMPLE_LINES = 300
_THOUSANDS = ("'", "\u2019", "\u00a0", "\u202f", " ")
_ALIKE = 0.6  # share of the cells that decides what a column holds


@dataclass(frozen=True)
class Dialect:
    """How a file is written.

    Parameters
    ----------
    encoding : str
        Name of the letters' code, as Python knows it.
    delimiter : str
        Between two cells.
    decimal : {".", ","}
        Before the tenths.
    thousands : str or None
        Between thousands, if anything.
    skipped : int
        Lines before the header.
    columns : tuple of str
        Their names, from the header or made up.
    header : bool
        Whether there is one.
    time : tuple of str
        The column with the time, or the two with date and time of day.
    form : clock.Form
        How a time is written.
    """

    encoding: str
    delimiter: str
    decimal: str
    thousands: str | None
    skipped: int
    columns: tuple[str, ...]
    header: bool
    time: tuple[str, ...]
    form: clock.Form


def propose(content, delimiter=None, order=None):
    """Guess how a file is written.

    Parameters
    ----------
    content : bytes
        The whole file.
    delimiter : str, optional
        If it is known.
    order : str, optional
        Of day and month, one of ``clock.ORDERS``, if it is known.

    Returns
    -------
    Dialect

    Raises
    ------
    LowsideError
        If this is no table of text, or nothing in it looks like a time.
    """
    encoding = _encoding(content)
    lines = _lines(content, encoding)
    delimiter, width = _delimiter(lines, delimiter)
    rows = list(csv.reader(lines, delimiter=delimiter))
    skipped = next(n for n, row in enumerate(rows) if len(row) == width)
    table = [[cell.strip() for cell in row] for row in rows[skipped:] if len(row) == width]
    header = not any(_is_value(cell) for cell in table[0])
    columns = _names(table[0] if header else ("",) * width)
    body = table[1:] if header else table
    if not body:
        raise LowsideError("This file has a header and nothing under it.")
    cells = {name: [row[place] for row in body] for place, name in enumerate(columns)}
    decimal, thousands = _decimal(cells, delimiter)
    time, form = clock.find(cells, decimal, order)
    return Dialect(encoding, delimiter, decimal, thousands, skipped, columns, header, time, form)


def _encoding(content):
    if not content.strip(b"\x00\r\n\t ,;"):
        raise LowsideError("This file is empty.")
    if len(content) > MOST_BYTES:
        raise LowsideError(
            f"This file has {len(content) / 1e6:.0f} million bytes; at most "
            f"{MOST_BYTES / 1e6:.0f} million are read. Cut it at the logger."
        )
    if content[:2] == b"PK":
        raise LowsideError(
            "This is a spreadsheet or an archive, not a text file: open it and save it as CSV."
        )
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if content.startswith(mark):
            return name
    head = content[:_SAMPLE_BYTES]
    if b"\x00" in head:
        odd, even = head[1::2].count(0), head[0::2].count(0)
        if max(odd, even) > 0.4 * len(head) / 2 and min(odd, even) == 0:
            return "utf-16-le" if odd else "utf-16-be"
        raise LowsideError("This is no text file. Ask the logger's program for a CSV.")
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _lines(content, encoding):
    """Lines from the beginning and, so that the date can be seen to move on, from the end."""
    head = content[:_SAMPLE_BYTES].decode(encoding, errors="replace").splitlines()
    lines = [line for line in head[:_SAMPLE_LINES] if line.strip()]
    if len(content) > _SAMPLE_BYTES:
        lines = lines[:-1] if len(head) <= _SAMPLE_LINES else lines
        code = {"utf-16": "utf-16-be" if content[:2] == codecs.BOM_UTF16_BE else "utf-16-le"}
        cut = len(content) - _SAMPLE_BYTES // 4
        tail = content[cut - cut % 2 :].decode(code.get(encoding, encoding), errors="replace")
        lines += [line for line in tail.splitlines()[1:] if line.strip()]
    return lines


def _delimiter(lines, known):
    """Find the sign that parts most lines into the same number of cells, two or more."""
    signs = DELIMITERS if known is None else (known,)
    if match := re.fullmatch(r"\W?sep=(.)", lines[0].strip().strip('"')):
        width = _usual_width(lines[1:], match[1])[0]
        return match[1], width
    for sign in signs:
        width, share = _usual_width(lines, sign)
        if width >= 2 and share >= _ALIKE:
            return sign, width
    raise LowsideError(
        "No table found in this file: a logger's CSV has the same number of cells in every line, "
        "parted by comma, semicolon, tab or bar."
    )


def _usual_width(lines, sign):
    counts = Counter(len(row) for row in csv.reader(lines, delimiter=sign))
    width, count = max(counts.items(), key=lambda item: (item[1], item[0]))
    return width, count / len(lines)


def _names(header):
    """Name every column, none like another."""
    names = []
    for place, cell in enumerate(header, 1):
        name = " ".join(cell.split()) or f"column {place}"
        names.append(name if name not in names else f"{name} ({place})")
    return tuple(names)


def _is_value(cell):
    return bool(re.fullmatch(r"[-+−]?[\d.,'\s]*\d[\d.,'\s]*(e[-+]?\d+)?", cell, re.IGNORECASE)) or (
        clock.looks_like_time(cell)
    )


def _decimal(cells, delimiter):
    """Tell the decimal sign and the sign between thousands from the numbers themselves."""
    every = [
        cell
        for column in cells.values()
        for cell in column
        if re.fullmatch(r"[-+−]?[\d.,'\u2019\u00a0\u202f ]*\d", cell)
    ]
    commas = sum(bool(re.search(r",\d+$", cell)) for cell in every)
    points = sum(bool(re.search(r"\.\d+$", cell)) for cell in every)
    decimal = "," if commas > points and delimiter != "," else "."
    if delimiter == "," and commas > points:
        grouped = sum(bool(re.fullmatch(r"[-+−]?\d{1,3}(,\d{3})+", cell)) for cell in every)
        decimal = "." if grouped == commas else ","
    other = "." if decimal == "," else ","
    for sign in (other, *_THOUSANDS):
        tail = rf"({re.escape(decimal)}\d+)?"
        pattern = rf"[-+−]?\d{{1,3}}({re.escape(sign)}\d{{3}})+{tail}"
        if any(re.fullmatch(pattern, cell) for cell in every):
            return decimal, sign
    return decimal, None
