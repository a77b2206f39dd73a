"""Text files that come from people and go to spreadsheets: decoded, and never a formula."""

from __future__ import annotations

from .errors import LowsideError

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_MARKED_WIDE = (b"\xff\xfe", b"\xfe\xff")


def plain(data, what, largest):
    """Decode a file as plain text.

    UTF-8 with or without its mark, and UTF-16 with one, as spreadsheets write them.

    Parameters
    ----------
    data : bytes or str
        Content of the file.
    what : str
        What it should be, such as ``"a list of boxes"``.
    largest : int
        Bytes that it may have.

    Returns
    -------
    str

    Raises
    ------
    LowsideError
        If it is empty, far too large, or no text.
    """
    if len(data) > largest:
        raise LowsideError(
            f"This file is far larger than {what} ({len(data)} bytes of at most {largest}): it is "
            "something else."
        )
    if not isinstance(data, str):
        wide = bytes(data[:2]) in _MARKED_WIDE
        try:
            data = bytes(data).decode("utf-16" if wide else "utf-8-sig")
        except UnicodeDecodeError:
            raise LowsideError(
                "This file is not plain text (UTF-8): save it again as CSV UTF-8."
            ) from None
    if "\0" in data:
        raise LowsideError("This file is not plain text: save it again as CSV UTF-8.")
    if not data.strip():
        raise LowsideError("This file is empty.")
    return data.removeprefix("\ufeff")


def harmless(cell):
    """Keep a spreadsheet from running a cell: an apostrophe before what it takes for a formula.

    Parameters
    ----------
    cell : str

    Returns
    -------
    str
        Numbers stay as they are.
    """
    try:
        float(cell)
    except ValueError:
        return "'" + cell if cell.startswith(_FORMULA) else cell
    return cell


def unmarked(cell):
    """Take the apostrophe of `harmless` away again.

    Parameters
    ----------
    cell : str

    Returns
    -------
    str
    """
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(_FORMULA) else cell
