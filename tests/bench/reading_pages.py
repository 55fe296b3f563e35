"""What became of pages that cannot be read in full: `<manual>.json` beside a drawn manual lists them.

A page whose pinout is no text (a scan, letters without meaning) must be named as unread; one with a
pinout as a picture beside its text must be named for the picture. Neither may give rows of its own.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from xref.records import PageNote


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPages:
    """Pages of a drawn manual by what is known of them."""

    distractors: frozenset[int] = frozenset()
    unread: frozenset[int] = frozenset()
    pictures: frozenset[int] = frozenset()


@dataclass(slots=True, kw_only=True)
class PageScore:
    """Counts of such pages; what was passed over in silence is listed."""

    known: Counter[str] = field(default_factory=Counter)
    named: Counter[str] = field(default_factory=Counter)
    rows: Counter[str] = field(default_factory=Counter)  #: rows read from pages that can have none
    silent: list[tuple[str, int, str]] = field(default_factory=list)  #: document, page, kind


def pages_from_json(path: Path) -> KnownPages:
    """Read what is known of the pages of a drawn manual; raises OSError where the file is missing."""
    known = json.loads(path.read_text(encoding="utf-8"))
    return KnownPages(
        distractors=frozenset(known["distractor_pages"]),
        unread=frozenset(known["unread_pages"]),
        pictures=frozenset(known["picture_pages"]),
    )


def score_pages(
    score: PageScore,
    document: str,
    known: KnownPages,
    notes: Iterable[PageNote],
    pages_of_rows: Iterable[int],
    pages_with_truth: Iterable[int],
) -> None:
    """Add the unread and picture pages of a document to a score."""
    said = {note.page: note for note in notes}
    rows = Counter(pages_of_rows)
    other = set(pages_with_truth)
    for kind, pages in (("unread", known.unread), ("picture", known.pictures)):
        for page in sorted(pages):
            note = said.get(page)
            named = note is not None and _named(note, kind)
            score.known[kind] += 1
            score.named[kind] += named
            score.rows[kind] += rows[page] if page not in other else 0
            if not named:
                score.silent.append((document, page, kind))


def _named(note: PageNote, kind: str) -> bool:
    return note.outcome == "unread" or (kind == "picture" and "picture" in note.why)


def print_pages(score: PageScore, *, places: bool = True) -> None:
    """Print how many of these pages were named, and, with `places`, which were passed over in silence."""
    for kind, known in sorted(score.known.items()):
        silent = ", ".join(f"{d} p{p}" for d, p, k in score.silent if k == kind)
        print(
            f"{kind} pages: {known}, named {score.named[kind]}, rows from them {score.rows[kind]}"
            + (f"; passed over in silence: {silent}" if silent and places else "")
        )
