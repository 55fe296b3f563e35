"""Text from a PDF made fit for a file: nothing forbidden, nothing that runs, nothing lost in silence."""

from __future__ import annotations

import re

#: A spreadsheet runs a cell that begins with one of these. A leading `-` is left alone: a dash is what
#: manuals print for "nothing", and a minus alone starts no call.
FORMULA_STARTS = ("=", "+", "@", "\t", "\r")

#: U+2400 is the first of the control pictures of Unicode ("␀", "␁" …), in the order of the codes.
_PICTURES = 0x2400
#: XML 1.0 (section 2.2) allows tab and line feed below U+0020; a carriage return is turned into a line
#: feed by every XML reader (section 2.11), so that it would be lost in a spreadsheet.
_SEEN_AS_PICTURE = {code: _PICTURES + code for code in range(0x20) if chr(code) not in "\t\n"}
#: No character at all: half a surrogate pair, and the two code points XML forbids.
_NO_CHARACTER = re.compile("[\ud800-\udfff\ufffe\uffff]")


def fit_for_files(text: str) -> str:
    """Return the text with control characters as their visible pictures and non-characters as U+FFFD.

    Every format gets the same text, so that a table reads the same whichever file it came from.
    Line ends become a line feed; a lone carriage return shows as "␍".
    """
    if text.isprintable():
        return text
    return _NO_CHARACTER.sub("\ufffd", text.replace("\r\n", "\n")).translate(_SEEN_AS_PICTURE)


def looks_like_formula(text: str) -> bool:
    """Tell whether a spreadsheet would run this text instead of showing it."""
    return text.startswith(FORMULA_STARTS)


def on_one_line(text: str) -> str:
    """Return the text fit for files, with line breaks and tabs as single spaces."""
    return " ".join(fit_for_files(text).split())
