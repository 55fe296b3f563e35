"""Free-text search over the distinct texts of the index: the only door to Whoosh.

Which Whoosh: the package `whoosh` has rested since 2016. Of its forks, looked at by their source
archives on Python 3.11: `whoosh-reloaded` 2.7.5 (588 own tests pass; last release February 2024, names
Python 3.12 as its newest, one source file warns when compiled, needs a further package) and `whoosh3`
3.54.0 (875 own tests pass, those that fail only miss scripts that its archive leaves out; releases every
few weeks, Python 3.10–3.14, needs nothing else, loads in half the time), `whoosh-ng` 5.4.0 (calls itself
beta, half as much code again for vectors and models). Taken: `whoosh3`, pinned to one version because it
changes often. Its query parser is not used, so no text of a person can be a wrong query.

The folder is derived: it carries the mark of the index state it was made from, is brought up to date
when that differs, and is made anew when it is missing or broken.
"""

from __future__ import annotations

import re
import shutil
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, get_args

from xref.errors import XrefError
from xref.store.index import Index
from xref.store.reading import TextField
from xref.workspace import Workspace

FIELDS: tuple[TextField, ...] = get_args(TextField)

#: Scripts written without blanks: each character is a word, else only whole sentences would be found.
_UNSPACED = "\u3040-\u30ff\u3400-\u9fff\uf900-\ufaff"
_WORD = re.compile(rf"[{_UNSPACED}]|[^\W_{_UNSPACED}]+")

#: A word of this length may hold one misprint, of twice the length two; a shorter one would match all.
_FUZZY_LENGTH = 4
#: Exact words rank above beginnings, those above misprints.
_EXACT, _BEGINNING, _MISPRINT = 4.0, 2.0, 1.0
#: Words of one question that are looked at; longer texts were pasted by mistake.
_MOST_WORDS = 12
#: Ways to put a word right, tried in turn: how many letters may differ, and how many first ones may not.
#: The first letter is seldom misspelt, and keeping it is quick.
_CORRECTIONS = ((1, 1), (1, 0), (2, 1))
_STAMP = "stamp"


@dataclass(frozen=True, slots=True, kw_only=True)
class TextHit:
    """A text of the index that fits the question, in which field, and its rank score (higher is better)."""

    field: TextField
    text: str
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchResult:
    """Texts found, best first, and the question with its unknown words put right ("did you mean")."""

    hits: tuple[TextHit, ...]
    did_you_mean: tuple[str, ...] = ()


def rebuild_search(index: Index, workspace: Workspace) -> None:
    """Bring the free-text index up to the state of the index: only new and gone texts are touched."""
    try:
        with _searcher(index, workspace):
            pass
    except _lock_error():
        raise XrefError(
            f"Another run is writing to {workspace.search}.", hint="Wait until it has ended and try again."
        ) from None


def search(text: str, limit: int, *, index: Index, workspace: Workspace) -> SearchResult:
    """Return at most `limit` texts that fit a person's words, best first. Any text is a safe question."""
    words = list(dict.fromkeys(_WORD.findall(_folded(text))))[:_MOST_WORDS]
    if not words:
        return SearchResult(hits=())
    try:
        opened = _searcher(index, workspace)
    except _lock_error():
        # A run is bringing it up to date just now: the last whole state answers.
        _, opened = _created_or_opened(workspace)
    with opened as searcher:
        asked = (_hits(searcher, query, limit) for query in _queries(searcher, words))
        hits = next((hits for hits in asked if hits), None) or _inside(index, words, limit)
        return SearchResult(hits=tuple(hits), did_you_mean=_did_you_mean(searcher, words))


def _searcher(index: Index, workspace: Workspace) -> Any:
    """Open the free-text index in the state of the index; raise Whoosh's LockError if another updates it."""
    searched, searcher = _created_or_opened(workspace)
    stamp = searcher.document(key=_STAMP)
    if stamp and stamp["field"] == index.stamp():
        return searcher
    with searcher:
        _update(index, searched, searcher)
    return searched.refresh().searcher()


def _created_or_opened(workspace: Workspace) -> tuple[Any, Any]:
    """Return Whoosh's index and a searcher of its present state; opening costs, so it is done once."""
    opened = _opened(workspace)
    if opened is None:
        created = _created(workspace)
        opened = created, created.searcher()
    return opened


def _queries(searcher: Any, words: list[str]) -> Iterator[Any]:
    """Yield ever more forgiving questions: all words, then any of them."""
    from whoosh.query.compound import And, Or

    reader = searcher.reader()
    forgiving = [_word_query(reader, word) for word in words]
    yield And(forgiving)
    yield Or(forgiving)


def _inside(index: Index, words: list[str], limit: int) -> list[TextHit]:
    """Find words inside words (`pumpe` in `Kraftstoffpumpe`), the text with most of them first.

    Whoosh would go through all its words for that, numbers included; the texts themselves are fewer.
    """
    wanted = [word for word in words if len(word) >= _FUZZY_LENGTH]
    found = []
    for field, text in index.wordy_texts() if wanted else ():
        folded = _folded(text)
        number = sum(word in folded for word in wanted)
        if number:
            found.append(TextHit(field=field, text=text, score=float(number)))
    return sorted(found, key=lambda hit: -hit.score)[:limit]


def _word_query(reader: Any, word: str) -> Any:
    """Ask for a word; for those it begins; and for misprints of it, if no text holds the word itself.

    What cannot be found is not asked for: every way to a word costs for each text that may have it.
    """
    from whoosh.query.compound import Or
    from whoosh.query.terms import FuzzyTerm, Prefix, Term

    beginning = [found for _, found in zip(range(2), reader.expand_prefix("text", word), strict=False)]
    known = ("text", word) in reader
    number = any(letter.isdigit() for letter in word)
    ways: list[Any] = [Term("text", word, boost=_EXACT)]
    # A number that is there is the one that was meant, not a part of a thousand others.
    if len(beginning) > known and not (known and number):
        ways.append(Prefix("text", word, boost=_BEGINNING))
    # A digit more or less is another number, not a misprint.
    if not known and not number and len(word) >= _FUZZY_LENGTH:
        distance = 2 if len(word) >= 2 * _FUZZY_LENGTH else 1
        ways.append(FuzzyTerm("text", word, boost=_MISPRINT, maxdist=distance, prefixlength=1))
    return Or(ways) if len(ways) > 1 else ways[0]


def _hits(searcher: Any, query: Any, limit: int) -> list[TextHit]:
    return [
        TextHit(field=hit["field"], text=hit["text"], score=float(hit.score))
        for hit in searcher.search(query, limit=limit)
    ]


def _did_you_mean(searcher: Any, words: list[str]) -> tuple[str, ...]:
    """Return the question with each unknown word replaced by the likest known one; empty if all are known."""
    corrector = searcher.corrector("text")
    reader = searcher.reader()
    replaced = []
    for word in words:
        known = ("text", word) in reader
        ways = () if known else _CORRECTIONS if len(word) >= _FUZZY_LENGTH else _CORRECTIONS[:1]
        found = (corrector.suggest(word, limit=1, maxdist=far, prefix=kept) for far, kept in ways)
        replaced.append(next((suggested[0] for suggested in found if suggested), word))
    return (" ".join(replaced),) if replaced != words else ()


def _update(index: Index, searched: Any, searcher: Any) -> None:
    wanted = {_key(field, text): (field, text) for field in FIELDS for text in index.distinct_texts(field)}
    there = {key.decode("utf-8") for key in searcher.reader().lexicon("key")} - {_STAMP}
    writer = searched.writer(
        limitmb=64, compound=False
    )  # one file of all would be read whole at each opening
    try:
        for key in there - wanted.keys():
            writer.delete_by_term("key", key)
        for key in wanted.keys() - there:
            field, text = wanted[key]
            writer.add_document(key=key, field=field, text=_folded(text), _stored_text=text)
        writer.delete_by_term("key", _STAMP)
        writer.add_document(key=_STAMP, field=index.stamp())
    except BaseException:
        writer.cancel()
        raise
    writer.commit()  # one renamed file makes the new state the current one


def _key(field: str, text: str) -> str:
    return f"{field}:{text}"


def _folded(text: str) -> str:
    if text.isascii():
        return text.casefold()
    decomposed = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in decomposed if not _is_accent(letter))


def _is_accent(letter: str) -> bool:
    # The Japanese voicing marks make other letters, they are no accents.
    return "\u0300" <= letter <= "\u036f"


def _opened(workspace: Workspace) -> tuple[Any, Any] | None:
    """Open the folder as Whoosh's index; None where there is nothing that can be used."""
    from whoosh import index as whoosh_index

    if not workspace.search.is_dir():
        return None
    try:
        searched = whoosh_index.open_dir(str(workspace.search))
        searcher = searched.searcher()
        searcher.document(key=_STAMP)
        return searched, searcher
    # A damaged file may raise anything at all in the library, and the remedy is always the same.
    except Exception:
        return None


def _created(workspace: Workspace) -> Any:
    from whoosh import index as whoosh_index

    try:
        shutil.rmtree(workspace.search, ignore_errors=True)
        workspace.search.mkdir(parents=True, exist_ok=True)
        return whoosh_index.create_in(str(workspace.search), _schema())
    except OSError as error:
        raise XrefError(
            f"The free-text search cannot be written to {workspace.search}: {error.strerror}.",
            hint="See whether you may write in that folder, or choose another with --workspace.",
        ) from error


def _schema() -> Any:
    from whoosh.analysis.tokenizers import RegexTokenizer
    from whoosh.fields import ID, STORED, TEXT, Schema

    return Schema(
        key=ID(unique=True),
        field=STORED,
        text=TEXT(analyzer=RegexTokenizer(_WORD), phrase=False, stored=True),
    )


def _lock_error() -> type[Exception]:
    from whoosh.index import LockError

    error: type[Exception] = LockError
    return error
