"""Sentences that say that a blank cell repeats the line above, and for which columns."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.data.legend_words import legend_words
from xref.data.words import REMEMBERED, fold, words_of
from xref.records import Box

#: What a blank cell may repeat. A cavity is never the one above.
REPEATED = frozenset({"color", "circuit", "size", "function", "signal"})
#: Other columns that a note may be about; it then says nothing of those that are repeated.
OTHERS = ("cavity", "connector", "component", "splice", "ground", "fuse", "goes_to", "option")
#: A sentence of more words than this tells something else, too.
LONGEST = 30
#: A note runs over so many lines at most.
MOST_LINES = 3
#: Shorter words (`a`, `an`, `de`) are headers in one language and articles in another.
SHORTEST = 3
#: Where a sentence ends; a full stop within a word or a number does not end one.
_END = re.compile(r"[.;!?](?=\s|$)|[。；]")
_WIDE = re.compile(r"[\u3040-\u30ff\u4e00-\u9fff]")


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankNote:
    """A note that blank cells repeat the line above.

    `roles` are the columns it is about. `box` is where it stands, in the page's reading frame, None on a
    page that was not read in full; `general` tells whether that page speaks of connectors or of tables.
    """

    roles: frozenset[str] = REPEATED
    box: Box | None = None
    general: bool = False


def text_to_note(text: str) -> BlankNote | None:
    """Return the note in a page's text, None where there is none."""
    if not _blank().search(text.casefold()):
        return None
    lines = [stripped for line in text.splitlines() if (stripped := line.strip())]
    for at, line in enumerate(lines):
        if _blank().search(line.casefold()):
            # It may begin on the line before, and be no sentence of its own where lines end without a stop.
            for first, end in ((at, at + 1), (at, at + 2), (at, at + MOST_LINES), (max(0, at - 1), at + 2)):
                roles = _said(" ".join(lines[first:end]))
                if roles:
                    return BlankNote(roles=roles, general=_is_general(text))
    return None


@lru_cache(maxsize=REMEMBERED)
def is_note(text: str) -> bool:
    """True for a line that says that blank cells repeat the line above."""
    return text_to_note(text) is not None


def _said(text: str) -> frozenset[str] | None:
    return next(filter(None, map(_roles, _END.split(text))), None)


def lines_to_notes(lines: Sequence[tuple[str, Box]]) -> Iterator[BlankNote]:
    """Yield the notes in lines from top to bottom, each with its place."""
    taken = 0
    for at in range(len(lines)):
        if at < taken or not _blank().search(lines[at][0].casefold()):
            continue
        for end in range(at + 1, min(at + MOST_LINES, len(lines)) + 1):
            found = text_to_note(" ".join(t for t, _ in lines[at:end]))
            if found is not None:
                box = lines[at][1]
                for _, other in lines[at + 1 : end]:
                    box = box.union(other)
                yield BlankNote(roles=found.roles, box=box)
                taken = end
                break


def _roles(sentence: str) -> frozenset[str] | None:
    """Return the columns that a sentence says are repeated where blank, None where it says no such thing."""
    folded = fold(sentence)
    if len(folded.split()) > LONGEST or not _holds(folded, "blank"):
        return None
    rest = _without(folded, "as above")
    if rest == folded or not _holds(rest, "blank") or _holds(rest, "denial"):
        return None
    words = {w for w in rest.split() if len(w) >= SHORTEST} - legend_words("place")
    named = {role for role in REPEATED if words & words_of(role) or _wide_word(rest, role)}
    if not named and any(words & words_of(role) for role in OTHERS):
        return None
    return frozenset(named) or REPEATED


def _wide_word(text: str, role: str) -> bool:
    return any(len(w) > 1 and w in text for w in words_of(role) if _WIDE.search(w))


def _holds(text: str, role: str) -> bool:
    return any(
        word in text if _WIDE.search(word) else f" {word} " in f" {text} " for word in legend_words(role)
    )


def _without(text: str, role: str) -> str:
    for word in sorted(legend_words(role), key=len, reverse=True):
        if _WIDE.search(word):
            text = text.replace(word, " ")
        else:
            text = f" {text} ".replace(f" {word} ", " ").strip()
    return text


def _is_general(text: str) -> bool:
    """True where a page speaks of tables, connectors or cavities."""
    folded = fold(text)
    words = set(folded.split())
    named = words_of("connector") | words_of("cavity") | legend_words("tables")
    return bool(words & named) or any(w in folded for w in named if len(w) > 1 and _WIDE.search(w))


@cache
def _blank() -> re.Pattern[str]:
    words = (w if _WIDE.search(w) else rf"\b{re.escape(w)}\b" for w in legend_words("blank"))
    return re.compile("|".join(words))
