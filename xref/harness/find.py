"""Rows found by free text."""

from __future__ import annotations

from xref.harness.agreed import agreed
from xref.harness.answers import FindAnswer, Hit, Near
from xref.harness.outdated import outdated_documents
from xref.records import Pin
from xref.store.index import Index
from xref.workspace import Workspace

#: Texts looked at, and rows answered: a person reads some dozens, a program may narrow its question.
_MOST_TEXTS = 100
_MOST_ROWS = 200
#: Texts come best first: once so many rows were found, the next text could only lift some of them a little.
_ENOUGH_ROWS = 2 * _MOST_ROWS


def answer_find(index: Index, workspace: Workspace, text: str, machine: str | None = None) -> FindAnswer:
    """Answer which rows fit a person's words in function, names, circuit or destination, best first.

    A row that fits by several of its texts ranks by their sum.
    """
    from xref.store.search import search

    result = search(text, _MOST_TEXTS, index=index, workspace=workspace)
    scores: dict[Pin, float] = {}
    for hit in result.hits:
        if len(scores) >= _ENOUGH_ROWS:
            break
        for pin in index.pins_with_text(hit.field, hit.text, machine, _MOST_ROWS):
            scores[pin] = scores.get(pin, 0.0) + hit.score
    # Sorting keeps rows of one score in the order they were found in, which is that of the documents.
    ranked = sorted(scores.items(), key=lambda item: -item[1])[:_MOST_ROWS]
    pins = agreed(index, (pin for pin, _ in ranked))
    return FindAnswer(
        text=text,
        hits=tuple(Hit(pin=pin, score=score) for pin, (_, score) in zip(pins, ranked, strict=True)),
        near=tuple(Near(name=name, why="words that stand in the documents") for name in result.did_you_mean),
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine, pins or None),
    )
