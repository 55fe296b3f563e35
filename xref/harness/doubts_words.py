"""What each doubt puts at risk, and what the person looks at to settle it."""

from __future__ import annotations

from typing import Literal

from xref.records import DOUBTS

#: What would be wrong if the doubt is right, worst first: a wrong connector or cavity is a wrong cut, a
#: wrong size a wrong wire bought.
Risk = Literal["decision", "connector", "cavity", "row", "circuit", "color", "size", "kind"]
RISKS: tuple[Risk, ...] = ("decision", "connector", "cavity", "row", "circuit", "color", "size", "kind")

_DOUBTS: dict[str, tuple[Risk, str]] = {
    "correction-unconfirmed": (
        "decision",
        "Compare the row with the page as it is now; accept it if it is right, correct it if not.",
    ),
    "heading-uncertain": (
        "connector",
        "Look at the heading over the table, and at the page before: whose pins are these?",
    ),
    "half-unmarked": (
        "connector",
        "Look at the page for which columns are the male and which the female half, or name them yourself.",
    ),
    "cavity-repeated": (
        "cavity",
        "Look at the cavity numbers of both rows: one may be misread, or two wires share the cavity.",
    ),
    "cavity-over-stated": (
        "cavity",
        "Compare with the number of cavities printed for the housing: rows of another connector?",
    ),
    "cavity-gap": ("cavity", "Look for the cavity before this one: is it on the page and was not read?"),
    "cavity-odd": ("cavity", "Compare the cavity letter by letter with the page and with its neighbours."),
    "readings-disagree": ("row", "Compare every cell of the row with the page."),
    "neighbours-doubtful": (
        "row",
        "Look at the table as a whole: are its columns and rows those on the page?",
    ),
    "table-half-read": ("row", "Look for rows of this table on the page that are not in the list."),
    "column-unread": (
        "row",
        "Read the columns not understood: one may hold the colour or the circuit.",
    ),
    "column-guessed": ("row", "Look at the head of the columns: is each what it was taken for?"),
    "row-assembled": ("row", "Look whether all of these texts stand on one printed row."),
    "unused-but-filled": ("row", "Look whether the page says 'not used' of this cavity or of its neighbour."),
    "ditto-assumed": ("row", "Look whether the page means 'as above' here, or nothing."),
    "cells-merged": ("row", "Look how far down the merged cell reaches."),
    "under-watermark": ("row", "Read the row through the stamp: every letter and digit."),
    "text-guessed": ("row", "Read every letter and digit from the picture: 8 and B, 0 and O, 1 and I."),
    "unmapped-characters": ("row", "Read every letter and digit from the picture, not from copied text."),
    "function-missing": ("row", "Look whether a text stands in this row, or one for several rows."),
    "text-overfull": ("row", "Look whether the end of this text stands in a column of its own."),
    "mates-disagree": ("circuit", "Compare this row and that of the other end or half with their pages."),
    "circuit-odd": ("circuit", "Compare the circuit letter by letter with the page."),
    "circuit-missing": ("circuit", "Look whether the page names a circuit in this row."),
    "potential-undecided": (
        "circuit",
        "Look whether this document uses the text as a number of its own or as a terminal's name, and say "
        "it: xref check accept ROW --as number, or --as potential; with --circuit for all its rows.",
    ),
    "color-undecided": ("color", "Look for the colour key of the manual; else look at the wire itself."),
    "color-unknown": ("color", "Compare the code letter by letter with the page and with the colour key."),
    "color-odd": ("color", "Look whether the code is one: two cells or two rows may have run together."),
    "color-missing": ("color", "Look whether the page names a colour in this row, or one for several rows."),
    "color-repeated": ("color", "Compare the code with the page: base and stripe alike is rarely meant."),
    "size-undecided": ("size", "Look at the head of the column, or at the manual's front pages: mm² or AWG?"),
    "role-undecided": (
        "kind",
        "Look at the heading and the drawing: a plug on a module, an in-line, a splice?",
    ),
}


def risk_of(doubt: str) -> Risk:
    """Return what a doubt puts at risk; one that is not known here may concern the whole row."""
    return _DOUBTS.get(doubt, ("row", ""))[0]


def means(doubt: str) -> str:
    """Return what a doubt means."""
    return DOUBTS.get(doubt, doubt)


def look_at(doubt: str) -> str:
    """Return what to look at to settle a doubt."""
    return _DOUBTS.get(doubt, ("row", ""))[1] or "Compare every cell of the row with the page."


def rank(doubt: str) -> int:
    """Return the place of a doubt in the order of harm, 0 the worst."""
    known = list(_DOUBTS).index(doubt) if doubt in _DOUBTS else len(_DOUBTS)
    return RISKS.index(risk_of(doubt)) * (len(_DOUBTS) + 1) + known
