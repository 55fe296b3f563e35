"""What cells look like: cavities, circuits, sizes, unused marks, dittos; shares over a column."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from functools import cache, lru_cache

from xref.colors.recognise import color_likeness, one_scheme_share, split_cavity_color, split_combined
from xref.data.words import REMEMBERED, fold, words_of
from xref.tables.lines import is_wide_script

#: A cavity as printed: 7, A3, 87a, M12, 1.2; brackets and dots after it are dropped before.
CAVITY = re.compile(r"(?i:[A-Z]{0,3}[-.]?\d{1,3}[a-z]?)|[A-Z]{1,2}|[a-z]|\d{1,2}[./-]\d{1,2}")
#: A connector with its cavity in one text: `X5:3`, `C-204/7`, `M7 X3:A1`, `J25/P25/3`.
CONNECTOR_CAVITY = re.compile(
    r"([-+=]?[A-Z]{1,4}[ _.–-]?\d{1,4}[A-Z]?(?:[ ._–-][A-Z]{0,2}\d{0,3})?(?:/[A-Z]{1,3}\d{1,4})?)"
    r"\s*[:/]\s*([A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])"
)
#: A cavity with its connector before a dash; one alone may be anything, a whole column is no chance.
OWN_PREFIX = re.compile(
    r"([-+=]?(?=[^-–]*\d)(?=[^-–]*[A-Z])[A-Z0-9][A-Z0-9 ./_]{1,9})[-–.:](?:[A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])"
)
#: Several cavities in one cell: `9,13,39-48`, `5 + 11`, `H1-29, H1-30,`.
CAVITIES = re.compile(
    r"[A-Z]{0,3}\d{1,3}(?:[-–:./]\d{1,3})?(?:\s*[,;&+]\s*[A-Z]{0,3}\d{1,3}(?:[-–:./]\d{1,3})?)*,?",
    re.IGNORECASE,
)
#: A circuit as printed: digits with letters, dots, dashes, slashes; a blank only after one letter or two.
CIRCUIT = re.compile(
    r"(?=[^\s]*\d)[A-Z0-9][A-Z0-9./_+\-\u2010-\u2013\u2212]{0,14}|[A-Z]{1,2} \d{2,5}[A-Z]?", re.IGNORECASE
)
#: A wire size: a decimal, a whole number up to three digits, with or without unit; strands and their
#: diameter (`28/0.30`).
SIZE = re.compile(
    r"\d{1,3}\s?/\s?0[.,]\d{1,3}|"
    r"(?:AWG\s*|#\s?)?\d{1,3}(?:[.,]\d{1,3})?\s*(?:mm²|mm2|mm|AWG|ga\.?|sq\.?|□)?|\d/0",
    re.IGNORECASE,
)
#: A text that looks this much like a colour is one.
COLOR = 0.6
#: So many codes, and this share of a column, must be of one scheme to make single letters colours.
FEWEST_COLORS = 3
ONE_SCHEME = 0.9
#: Each of several circuits in a cell has so many characters at least.
FEWEST_FIGURES = 3
#: Cavities that begin again are another connector's when so many came before.
SHORTEST_RUN = 2
#: Share of a column's cells that name connector and cavity together, where it does.
GLUED = 0.8
#: How sure a column of single letters is one of colours when one scheme reads them all.
WHOLE_COLUMN = 0.8
#: A designator inside a text: capitals and digits, as `X5`, `SP42`, `K3:86`.
DESIGNATED = re.compile(r"(?<!\w)-?[A-Z]{1,4}\d{1,4}(?!\w*[a-z]{2})")
#: Dashes that stand for "nothing".
DASHES = re.compile(r"[-–—‐‑−_.·\s]+")
#: Marks after a value that lead to a footnote.
FOOTNOTE = re.compile(r"\s*[*†‡§]+$|(?<=\w)\s*\d\)$|(?<!mm)[⁰¹²³⁴-⁹]+[⁾)]?$")
_PIN_BEFORE = re.compile(r"^(?:pins?|cav\.?|terminal)\s+(?=\S)", re.IGNORECASE)
_SIZE_BEFORE = re.compile(r"(\d{1,2}(?:\s*mm²|\s*mm2)?)\s+(\S.*)")
_BETWEEN_LISTED = re.compile(r"\s*[,;]\s+|\s*;\s*|\s+/\s+")
_FIGURES = re.compile(r"\d+")
_LETTER = re.compile(r"[^\W\d_]")


def is_cavity(text: str) -> bool:
    """True for a single cavity as manuals print it."""
    return bool(CAVITY.fullmatch(clean_cavity(text)))


@lru_cache(maxsize=REMEMBERED)
def clean_cavity(text: str) -> str:
    """Drop what stands round a cavity: a dot, bracket or colon after it, a footnote star, the word Pin."""
    text = _PIN_BEFORE.sub("", text.strip())
    return without_footnote(text).rstrip(").:]=").lstrip("([").strip()


@lru_cache(maxsize=REMEMBERED)
def without_footnote(text: str) -> str:
    """Drop a footnote's mark at the end (`GND *`, `GND 1)`); brackets that close stay (`(NOTE 1)`)."""
    return text.strip() if "(" in text else FOOTNOTE.sub("", text).strip()


@lru_cache(maxsize=REMEMBERED)
def is_unused(text: str) -> bool:
    """True when a cell says that nothing is there: a phrase for it; one word (`spare`) only by itself."""
    folded = fold(text)
    if not folded:
        return False
    if folded in words_of("unused"):
        return True
    said = [part for part in text.split("/") if part.strip()]
    if len(said) > 1 and all(map(is_unused, said)):
        return True  # `libero / free`: the same in another language
    if is_wide_script(folded):
        return any(word in folded for word in words_of("unused"))
    bare = " ".join(t for t in folded.split() if t not in words_of("cavity"))
    if bare and bare in words_of("unused"):
        return True  # `voie libre`, `pin frei`
    return any(f" {phrase} " in f" {folded} " for phrase in _unused_phrases())


@cache
def _unused_phrases() -> tuple[str, ...]:
    return tuple(word for word in words_of("unused") if " " in word)


@lru_cache(maxsize=REMEMBERED)
def is_dash(text: str) -> bool:
    """True for a cell that holds dashes only."""
    return bool(text) and bool(DASHES.fullmatch(text))


@lru_cache(maxsize=REMEMBERED)
def is_ditto(text: str) -> bool:
    """True for a ditto mark."""
    bare = text.strip()
    marks = ("″", "〃", '"', "''", "”", "„", "“", '" "', "” ”")
    return bare in marks or (bool(bare) and fold(bare) in words_of("ditto"))


def cavity_share(texts: Sequence[str]) -> float:
    """Return how far a column looks like cavities (0–1): their form, and few repeats."""
    filled = [clean_cavity(_without_color(t)) for t in texts if t]
    if not filled:
        return 0.0
    if own_prefix(texts):
        return len(set(filled)) / len(filled)
    glued = [t for t in texts if CONNECTOR_CAVITY.fullmatch(t.strip())]
    if len(glued) >= GLUED * len(filled):
        return len(set(glued)) / len(glued)
    like = sum(bool(CAVITY.fullmatch(t) or CAVITIES.fullmatch(t)) for t in filled) / len(filled)
    distinct = sum(len(set(run)) for run in _restarts(filled)) / len(filled)
    return like * min(1.0, distinct + 0.25)


def _restarts(texts: Sequence[str]) -> list[list[str]]:
    """Cut cavities that count up from the first again: those of several connectors under one another."""
    runs: list[list[str]] = [[]]
    for text in texts:
        if runs[-1] and text == texts[0]:
            runs.append([])
        runs[-1].append(text)
    long = all(len(run) >= SHORTEST_RUN for run in runs[:-1]) and is_sequence(texts)
    return runs if long else [list(texts)]


def own_prefix(texts: Sequence[str]) -> str:
    """Return the connector that all cavities of a column repeat before a dash (`ST 72-1`), or ""."""
    found = {m.group(1) if (m := OWN_PREFIX.fullmatch(t.strip())) else "" for t in texts if t}
    filled = [t for t in texts if t]
    return found.pop() if len(found) == 1 and len(filled) >= FEWEST_COLORS else ""


def _without_color(text: str) -> str:
    """Drop a colour printed beside the cavity: `1(red)` is cavity 1."""
    found = split_cavity_color(text) if "(" in text or ")" in text else None
    return found[0] if found else text


def is_sequence(texts: Sequence[str]) -> bool:
    """True when whole numbers in the texts mostly go up (cavities do; circuits and sizes do not)."""
    numbers = [int(m.group()) for t in texts if (m := _FIGURES.search(t))]
    if len(numbers) < 2:
        return False
    up = sum(b - a in (1, 2) or (b == 1 and a > 1) for a, b in itertools.pairwise(numbers))
    return up >= 0.7 * (len(numbers) - 1)


def color_share(texts: Sequence[str]) -> float:
    """Return how far a column looks like colour codes (0–1)."""
    filled = [t for t in texts if t and not is_dash(t) and not is_unused(t)]
    if not filled:
        return 0.0
    alone = sum(color_likeness(t) for t in filled) / len(filled)
    return max(alone, WHOLE_COLUMN) if color_column(filled) else alone


def color_column(texts: Sequence[str]) -> bool:
    """True when the texts as a whole are colour codes of one scheme: several, and no run of the alphabet."""
    filled = [t for t in texts if t and not is_dash(t) and not is_unused(t) and not is_ditto(t)]
    if len(filled) < FEWEST_COLORS or len(set(filled)) < 2:
        return False
    if all(len(t) == 1 for t in filled) and sorted(filled) == filled and len(set(filled)) == len(filled):
        return False  # A, B, C … are cavities
    return one_scheme_share(filled) >= ONE_SCHEME


def combined_share(texts: Sequence[str]) -> float:
    """Return how far a column looks like colours, alone or with a size (0–1); circuits do not count."""
    filled = [t for t in texts if t and not is_dash(t) and not is_unused(t)]
    like = 0.0
    for text in filled:
        size, _ = size_and_color(text)
        like += 1.0 if size else color_likeness(text)
    return like / len(filled) if filled else 0.0


@lru_cache(maxsize=REMEMBERED)
def size_and_color(text: str) -> tuple[str, str]:
    """Split `0.5 BU/YE` or `2 WS` as a colour's column prints them; ("", text) for anything else.

    A whole number of one or two digits before a colour is a size here: circuits have more digits.
    """
    found = split_combined(text) if " " in text or text[:1].isdigit() else None
    if found and found.color and found.size and not found.circuit and not found.rest:
        return found.size, found.color
    match = _SIZE_BEFORE.fullmatch(text.strip())
    if match and color_likeness(match.group(2)) >= COLOR:
        return match.group(1), match.group(2)
    return "", text


def size_share(texts: Sequence[str]) -> float:
    """Return how far a column looks like wire sizes (0–1)."""
    filled = [t for t in texts if t and not is_dash(t)]
    return sum(bool(SIZE.fullmatch(t.strip())) for t in filled) / len(filled) if filled else 0.0


def listed(text: str) -> list[str]:
    """Return what a cell lists, parted by commas, semicolons or slashes between blanks; else the one text."""
    return [p for p in _BETWEEN_LISTED.split(text.strip()) if p]


def circuits_listed(text: str) -> list[str]:
    """Return the circuits of a cell that holds several of one form (`S9A / S9B`); [] for anything else."""
    pieces = listed(text)
    pieces = pieces if len(pieces) > 1 else text.split()
    if len(pieces) < 2 or not all(CIRCUIT.fullmatch(p) and len(p) >= FEWEST_FIGURES for p in pieces):
        return []
    forms = {_LETTER.sub("A", _FIGURES.sub("9", p)) for p in pieces}
    return pieces if len(forms) == 1 else []


def named_share(texts: Sequence[str]) -> float:
    """Return how many cells hold a designator, as destinations do (0–1)."""
    filled = [t for t in texts if t and not is_dash(t)]
    return sum(bool(DESIGNATED.search(t)) for t in filled) / len(filled) if filled else 1.0


def circuit_share(texts: Sequence[str]) -> float:
    """Return how far a column looks like circuit numbers (0–1)."""
    filled = [t for t in texts if t and not is_dash(t)]
    like = sum(bool(CIRCUIT.fullmatch(t.strip()) or circuits_listed(t)) for t in filled)
    return like / len(filled) if filled else 0.0
