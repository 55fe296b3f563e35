"""Columns of texts: which one says what each wire is for, where no header says so."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from xref.rows.columns import Column, column_texts
from xref.rows.evidence import WORD, column_evidence, filled_texts, sure_cavities
from xref.tables.table import Table

#: What leads to a note, a page or a square of a drawing (`3`, `A`, `see 4-12`), and says nothing by itself.
MARK = re.compile(r"\d{1,3}|[A-Z]|(?:[^\W\d]{1,6}\.? )\d{1,3}[-.–]\d{1,3}")
#: Share of texts that are words, where no header says so and nothing else is said of a wire.
WORDED = 0.5
#: What names a wire; texts that say what wires are for stand in this share of its rows at least.
WIRES = frozenset({"circuit", "color"})
SAID = 0.5
#: What texts say that stand beside the names in a column of this role, and beside how many of them.
DESCRIBED = {"connector": "component", "splice": "location", "ground": "location"}
MOST_NAMES = 0.8
#: Cells are texts from this evidence on.
TEXT = 0.1


def are_marks(table: Table, j: int) -> bool:
    """True for a column of marks: figures or single letters."""
    texts = filled_texts(column_texts(table, j))
    return bool(texts) and all(MARK.fullmatch(t) for t in texts)


def is_bare(table: Table) -> bool:
    """True where no header stands over the columns: a headerless table, or a list of pins."""
    return not table.has_header or table.kind == "list"


def _worded(texts: Sequence[str]) -> bool:
    """True when most of the texts are words: not numbers of cavities, names of connectors or of fields."""
    return sum(bool(WORD.search(t)) for t in texts) >= WORDED * len(texts)


def texts_of_list(table: Table, columns: list[Column]) -> list[Column]:
    """In a list of splices or the like the texts right of the circuits say what each wire is for.

    Those left of them say where the splice is.
    """
    circuits = [c.index for c in columns if c.role == "circuit"]
    roles = {c.role for c in columns}
    if not circuits or "cavity" in roles or not {"splice", "ground", "fuse"} & roles:
        return columns
    columns = beside_names(table, columns)
    evidence = [column_evidence(column_texts(table, c.index)) for c in columns]
    told = with_texts(table, columns, evidence)
    return [a if b.index < circuits[0] else b for a, b in zip(columns, told, strict=True)]


def beside_names(table: Table, columns: Sequence[Column]) -> list[Column]:
    """Texts under an unknown header that stand only beside names say what carries them, or where it is."""
    names = next((c for c in columns if c.role in DESCRIBED), None)
    if names is None or not table.has_header:
        return list(columns)
    named = [bool(b.cells[names.index].text) for b in table.bands]
    out = list(columns)
    for c in columns:
        said = [bool(b.cells[c.index].text) for b in table.bands]
        apart = not any(s and not n for s, n in zip(said, named, strict=True))
        known = 0 < sum(named) < len(named) and sum(said) >= MOST_NAMES * sum(named)
        words = not c.role and c.text and _worded(filled_texts(column_texts(table, c.index)))
        if apart and known and words:
            out[c.index] = replace(c, role=DESCRIBED[names.role])
            break
    return out


def _in_words(table: Table, column: Column) -> bool:
    """True for far ends that are told in words: they say what each wire is for, too."""
    return column.role == "goes_to" and _worded(filled_texts(column_texts(table, column.index)))


def with_texts(table: Table, columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    """The first open column of texts says what each wire is for, where no header says so."""
    roles = {c.role for c in columns}
    bare = is_bare(table)
    if not bare and (roles & {"function", "signal"} or any(_in_words(table, c) for c in columns)):
        return columns
    out = list(columns)
    cavities = [column_texts(table, c.index) for c in columns if c.role == "cavity"]
    rows = max(
        (len(filled_texts(column_texts(table, c.index))) for c in columns if c.role in WIRES), default=0
    )
    several = len(cavities) > 1
    told = table.has_header or table.kind == "list" or bool(roles & {"color", "circuit"})
    told = told or (several and all(sure_cavities(texts) for texts in cavities))
    for c in columns:
        texts = filled_texts(column_texts(table, c.index))
        if c.role or not texts or (not bare and (not c.text or are_marks(table, c.index))):
            continue
        if not (told or _worded(texts)) or (not bare and len(texts) < SAID * rows):
            continue  # a face of a relay, the fields of a plan; where each of some connectors is
        if not bare and "goes_to" in roles and not _worded(texts):
            continue  # a half of the far ends, where a border was seen between their connector and cavity
        words = any(" " in t for t in texts)
        if evidence[c.index].get("function", -1.0) >= TEXT or words or bare:
            role = "function" if words or not bare else "signal"
            guessed = not ({"color", "circuit"} & roles)
            out[c.index] = replace(c, role=role, score=0.0, guessed=guessed)
            if not several:
                break
    return out
