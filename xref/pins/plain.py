"""Dashes and blanks of many kinds to plain ones, so that a name is one name however it is set."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from xref.tables.lines import Line
from xref.tables.page import PageReading
from xref.tables.table import Table

#: Hyphens, the minus sign and the full-width hyphen; a dash proper is one only within a name (`X5–A`).
_HYPHENS = re.compile(r"[\u2010\u2011\u2012\u2212\ufe63\uff0d]")
_DASH_IN_NAME = re.compile(r"(?<=\d)[\u2013\u2014](?=[A-Z]{1,2}\b)|(?<=[A-Z])[\u2013\u2014](?=\d)")
_BLANKS = re.compile(r"[\u00a0\u2000-\u200a\u202f\u3000]")
_NOTHING = re.compile(r"[\u00ad\u200b-\u200d\u2060\ufeff]")


def plain(text: str) -> str:
    """Return a text with plain hyphens and blanks, without soft hyphens and zero-width characters."""
    if text.isascii():
        return text
    text = _HYPHENS.sub("-", _BLANKS.sub(" ", _NOTHING.sub("", text)))
    return _DASH_IN_NAME.sub("-", text)


def plain_readings(readings: Sequence[PageReading]) -> list[PageReading]:
    """Return the pages with plain hyphens and blanks in all that may name a connector."""
    return [
        replace(
            r,
            tables=tuple(_plain_table(t) for t in r.tables),
            apart=tuple((plain(text), box) for text, box in r.apart),
        )
        for r in readings
    ]


def _plain_table(table: Table) -> Table:
    around = tuple(replace(a, line=_plain_line(a.line)) for a in table.around)
    return replace(table, around=around, head=tuple((key, plain(value)) for key, value in table.head))


def _plain_line(line: Line) -> Line:
    if line.text.isascii():
        return line
    return replace(line, words=tuple(replace(w, text=plain(w.text)) for w in line.words))
