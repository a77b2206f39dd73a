"""The tag that stays with a valve: words for the next person, and the same words as a QR code."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from html import escape

from lowside import refrigerants, valve
from lowside.errors import LowsideError, UnknownName, Unreadable, require

MOST_LETTERS = {"place": 40, "initials": 6}
MOST_COPIES = 24
BLANK = "________"  # to be written by hand
EQUALISERS = ("internal", "external")
PORTS = (0.1e-3, 20e-3)  # [m] that can stand on a tag
SETTINGS = (0.5, 20.0)  # [K]

_STYLE = """
.lowside-tags {display: flex; flex-wrap: wrap; gap: 4mm; font: 9pt/1.3 sans-serif; color: #000;}
.lowside-tag {box-sizing: border-box; width: 86mm; max-width: 100%; min-height: 44mm;
  padding: 3mm; display: flex; gap: 3mm; border: 1px dashed #000; border-radius: 2mm;
  background: #fff; break-inside: avoid;}
.lowside-tag dl {flex: 1; display: grid; grid-template-columns: auto 1fr; gap: 0 2mm; margin: 0;
  align-content: start;}
.lowside-tag dt {font-weight: 400; margin: 0; padding: 0; float: none; width: auto;
  background: none;}
.lowside-tag dd {font-weight: 700; margin: 0; padding: 0; float: none; width: auto;
  overflow-wrap: anywhere;}
.lowside-tag svg {width: 30mm; height: 30mm; flex: none;}
@media print {@page {margin: 10mm;} .lowside-tags {gap: 3mm;}}
"""


@dataclass(frozen=True)
class Tag:
    """What a tag says.

    Parameters
    ----------
    place : str
        Box or valve; may be blank, to be written by hand.
    refrigerant : str
        One of ``refrigerants.NAMES``.
    port : float
        Diameter. [m]
    balanced : bool
        Whether the port is balanced.
    charge : str
        Of the bulb, one of ``valve.CHARGES``.
    equaliser : str
        "internal" or "external".
    superheat : float
        Static superheat to which the spring is set. [K]
    date : str
        As 2026-11-25; may be blank.
    initials : str
        Of whoever answers for it; may be blank.

    Raises
    ------
    OutOfRange
        For a port or a setting that no valve has.
    UnknownName
        For a refrigerant, a charge or an equaliser that there is not.
    LowsideError
        For a date that is none, or words that do not fit on the tag.
    """

    place: str
    refrigerant: str
    port: float
    balanced: bool
    charge: str
    equaliser: str
    superheat: float
    date: str = ""
    initials: str = ""

    def __post_init__(self):
        for what, name, choices in (
            ("refrigerant", self.refrigerant, refrigerants.NAMES),
            ("bulb charge", self.charge, valve.CHARGES),
            ("equaliser", self.equaliser, EQUALISERS),
        ):
            if name not in choices:
                raise UnknownName(what, name, choices)
        require("port", self.port, *PORTS, "port")
        require("static superheat", self.superheat, *SETTINGS, "temperature_difference")
        for name, most in MOST_LETTERS.items():
            text = getattr(self, name)
            if len(text) > most:
                raise LowsideError(f"The {name} has {len(text)} letters; {most} fit on the tag.")
            if not text.isprintable():
                raise LowsideError(f"The {name} has a sign in it that cannot be printed.")
        if self.date:
            _day(self.date)

    def lines(self, show):
        """Word the tag.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        list of (str, str)
            What, and what it is.
        """
        kind = "balanced" if self.balanced else "conventional"
        return [
            ("Valve", self.place or BLANK),
            ("Refrigerant", self.refrigerant),
            ("Port", f"{show.text(self.port, 'port')}, {kind}"),
            ("Bulb charge", self.charge),
            ("Equaliser", self.equaliser),
            ("Static superheat", show.text(self.superheat, "temperature_difference")),
            ("Date", _day(self.date).isoformat() if self.date else BLANK),
            ("Initials", self.initials or BLANK),
        ]

    def text(self, show):
        """Word the tag as plain text: what its code says.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
        """
        return "\n".join(f"{what}: {said}" for what, said in self.lines(show))

    def html(self, show):
        """Draw the tag with its code.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            One element; needs the style of `sheet`.
        """
        words = "".join(
            f"<dt>{escape(what)}</dt><dd>{escape(said)}</dd>" for what, said in self.lines(show)
        )
        return f'<div class="lowside-tag"><dl>{words}</dl>{self.code(show)}</div>'

    def code(self, show):
        """Draw the QR code of the tag's words.

        Parameters
        ----------
        show : Readout
            The reader's units.

        Returns
        -------
        str
            An ``svg`` element.
        """
        import segno

        made = segno.make(self.text(show), error="m", micro=False)
        drawn = made.svg_inline(border=4, omitsize=True, light="#fff")
        label = 'role="img" aria-label="The same words as a QR code" '
        return re.sub(r"^<svg ", f"<svg {label}", drawn)


def sheet(tag, show, copies=6):
    """Lay out copies of a tag to print and cut.

    Parameters
    ----------
    tag : Tag
        What each says.
    show : Readout
        The reader's units.
    copies : int
        How many.

    Returns
    -------
    str
        HTML, complete with its style, that needs nothing else.

    Raises
    ------
    OutOfRange
        For a number of copies that makes no sense.
    """
    require("number of tags", copies, 1, MOST_COPIES)
    tags = tag.html(show) * int(copies)
    return f'<section class="lowside-tags"><style>{_STYLE}</style>{tags}</section>'


def _day(text):
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise Unreadable("date on the tag", text, "a date such as 2026-11-25") from None
