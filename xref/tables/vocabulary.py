"""Header texts to the roles a column may have, with how sure the words make it (0–1)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache, lru_cache

from xref.colors.language import words_of_kind
from xref.data.fuse_sides import relay_words
from xref.data.fuzzy import likest
from xref.data.words import REMEMBERED, fold, roles_by_word
from xref.tables.abbreviations import CUT_SHORT, in_full
from xref.tables.lines import is_wide_script
from xref.tables.sidewords import side_of
from xref.tables.variants import names_variant

#: Roles a column of a pinout table can have.
COLUMN_ROLES = (
    "cavity", "color", "circuit", "size", "function", "signal", "goes_to", "goes_from", "option",
    "connector", "half", "component", "harness", "location", "rating", "expected", "splice", "ground",
    "fuse", "ways", "distractor",
)  # fmt: skip

#: Roles that name a single wire or cavity; two of them make a header line.
CORE_ROLES = frozenset({"cavity", "color", "circuit", "size", "function", "signal", "goes_to", "goes_from"})

#: Longest header phrase in words ("Wire cross section mm²").
LONGEST_PHRASE = 5

#: A misprinted header word must be this alike (0–100) to one of the data, and this long.
MISPRINT_LIKENESS = 84.0
MISPRINT_LENGTH = 5

#: How sure a header is beside the word for a side of a fuse (`Input circuit`), or over relays; what it is.
SIDED = 0.9
SIDED_ROLES = frozenset({"circuit", "color", "size"})

#: Single letters and numbers in a header ("Circuit A") tell little, so they weigh little.
SMALL_TOKEN_WEIGHT = 0.25
LITTLE_WORDS = frozenset(
    [
        "no",
        "de",
        "del",
        "della",
        "du",
        "des",
        "of",
        "the",
        "di",
        "da",
        "la",
        "le",
        "el",
        "al",
        "und",
        "and",
        "et",
        "y",
        "e",
        "per",
    ]
)


@lru_cache(maxsize=REMEMBERED)
def header_roles(text: str) -> dict[str, float]:
    """Return the roles a header text may mean; 1.0 when the whole text is a known phrase."""
    folded = fold(text)
    if not folded:
        return {}
    table = roles_by_word()
    if folded in table:
        return {r: 1.0 - 0.04 * i for i, r in enumerate(_of_columns(table[folded]))}
    if folded in relay_words():
        return {"fuse": SIDED}
    parts = [p for p in re.split(r"\s*[/|]\s*", text) if p.strip()]
    if len(parts) > 1:
        return _either(parts)
    joined = [header_roles(part) for part in _joined(text)]
    if joined and all(max(roles.values(), default=0.0) >= SIDED for roles in joined):
        return {role: score for roles in joined for role, score in roles.items()}
    if roles := _with_side(text):
        return roles
    if (whole := in_full(text)) != text:
        return {role: CUT_SHORT * score for role, score in header_roles(whole).items()}
    tokens = folded.split()
    if is_wide_script(folded):
        latin = " ".join(t for t in tokens if not is_wide_script(t))
        wide = " ".join(t for t in tokens if is_wide_script(t))
        # `端子No. Pin`: the same header in two languages, one after the other.
        return _either([wide, latin]) if len(latin) > 1 and not numbers_rows(latin) else _wide_roles(folded)
    return _phrase_roles(tokens)


def facts_named(text: str) -> frozenset[str]:
    """Return all that a header names, also where its whole text is a phrase for one fact (`Ltg./Farbe`)."""
    pieces = re.split(r"[/|]", text) if re.search(r"[/|]", text) else _joined(text)
    roles = (header_roles(piece) for piece in pieces)
    return frozenset(header_roles(text)) | {r for own in roles for r, score in own.items() if score >= SIDED}


def _joined(text: str) -> list[str]:
    """Part `Wire no. & colour`, `Circuito e colore` at what joins two headers; [] where nothing does."""
    pieces = _joiner().split(text)
    return [p for p in pieces if p.strip()] if len(pieces) > 1 else []


@cache
def _joiner() -> re.Pattern[str]:
    words = "|".join(map(re.escape, sorted(words_of_kind("and"), key=len, reverse=True)))
    return re.compile(rf"\s*[&+・]\s*|\s+(?:{words})\s+", re.IGNORECASE)


def _with_side(text: str) -> dict[str, float]:
    """`Input circuit`, `Circuito de salida`: a known header beside the word for a side of a fuse.

    A word that heads a column by itself may do so beside it: `Colour Line` is one header only with a `de`.
    """
    said = side_of(text)
    if not said:
        return {}
    tokens = fold(text).split()
    joined = any(t in LITTLE_WORDS and t not in NUMBER_WORDS for t in tokens[1:-1])
    kept = said[0].split()
    if not joined and any(_of_columns(roles_by_word().get(t, ())) for t in tokens if t not in kept):
        return {}
    roles = _of_columns(roles_by_word().get(" ".join(t for t in kept if t not in LITTLE_WORDS), ()))
    return {r: SIDED for r in roles if r in SIDED_ROLES}


def _of_columns(roles: Sequence[str]) -> tuple[str, ...]:
    """Return the roles columns can have: a column of in-line connectors names connectors."""
    named = ["connector" if r == "inline" else r for r in roles]
    return tuple(dict.fromkeys(r for r in named if r in COLUMN_ROLES))


def _either(parts: Sequence[str]) -> dict[str, float]:
    """`Farbe / Colour`: what any of the languages says, the surest first."""
    best: dict[str, float] = {}
    for part in parts:
        for role, score in header_roles(part).items():
            best[role] = max(best.get(role, 0.0), score)
    return best


def _phrase_roles(tokens: Sequence[str]) -> dict[str, float]:
    covered: dict[str, set[int]] = {}
    taken: set[int] = set()
    for length in range(min(LONGEST_PHRASE, len(tokens)), 0, -1):
        for start in range(len(tokens) - length + 1):
            span = set(range(start, start + length))
            if span <= taken and length < 2:
                continue
            roles = _token_roles(" ".join(tokens[start : start + length]), length)
            if roles:
                taken |= span
            for role in roles:
                covered.setdefault(role, set()).update(span)
    weights = [SMALL_TOKEN_WEIGHT if _says_little(t) else 1.0 for t in tokens]
    total = sum(weights) or 1.0
    scores = {role: 0.97 * sum(weights[i] for i in span) / total for role, span in covered.items()}
    return scores


def _says_little(token: str) -> bool:
    """Numbers, single letters, little words, and names such as `U6` decide nothing about a column."""
    return len(token) < 2 or token in LITTLE_WORDS or any(c.isdigit() for c in token)


@lru_cache(maxsize=REMEMBERED)
def _token_roles(phrase: str, length: int) -> tuple[str, ...]:
    table = roles_by_word()
    if phrase in table:
        return _of_columns(table[phrase])
    if length > 1 or len(phrase) < MISPRINT_LENGTH or not phrase.isalpha():
        return ()
    best = likest(phrase, _all_words(), score=MISPRINT_LIKENESS)
    return _of_columns(table[best]) if best else ()


@cache
def _all_words() -> tuple[str, ...]:
    return tuple(roles_by_word())


@cache
def _wide_words() -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((word, roles) for word, roles in roles_by_word().items() if is_wide_script(word))


def _wide_roles(folded: str) -> dict[str, float]:
    scores: dict[str, float] = {}
    bare = folded.replace(" ", "")
    for word, roles in _wide_words():
        if word in bare:
            for role in _of_columns(roles):
                scores[role] = max(scores.get(role, 0.0), 0.97 * len(word) / len(bare))
    return scores


#: Words that number rows and say nothing else: over cavities they head a column all the same.
NUMBER_WORDS = frozenset({"no", "nr", "n", "n°", "nº", "#", "number", "nummer", "num"})


def numbers_rows(text: str) -> bool:
    """True for `No.`, `Nr.`, `N°`: a header that only says that something is numbered."""
    return fold(text) in NUMBER_WORDS


@cache
def header_tokens() -> frozenset[str]:
    """Return every single word that stands in a header phrase of some language."""
    return frozenset(token for phrase in roles_by_word() for token in phrase.split())


def only_header_words(text: str) -> bool:
    """True when every word of a text may stand in a header: the second line of `N.º de / circuito`."""
    tokens = fold(in_full(text)).split()
    return bool(tokens) and all(t in header_tokens() or t in LITTLE_WORDS for t in tokens)


def best_role(text: str) -> tuple[str, float]:
    """Return the most likely role of a header text and its score; ("", 0.0) when none is known."""
    roles = header_roles(text)
    if not roles:
        return "", 0.0
    role = max(roles, key=lambda r: roles[r])
    return role, roles[role]


def split_phrases(texts: Sequence[str]) -> list[int]:
    """Say where a run of header words falls into known phrases: indices at which a phrase begins.

    The fewest phrases that cover the most words are chosen; a run that is one phrase gives [0].
    """
    n = len(texts)
    best: list[tuple[float, list[int]]] = [(0.0, []), *((-1.0, []) for _ in range(n))]
    for end in range(1, n + 1):
        for start in range(max(0, end - LONGEST_PHRASE), end):
            phrase = " ".join(texts[start:end])
            known = bool(_of_columns(roles_by_word().get(fold(phrase), ())) or _with_side(phrase))
            gain = (end - start) - 0.3 if known else -0.2 * (end - start)
            score = best[start][0] + gain
            if score > best[end][0]:
                best[end] = (score, [*best[start][1], start])
    return best[n][1] or [0]


#: One of these must stand in a header: a table without cavity, colour or circuit is of no use here.
LEADING_ROLES = frozenset(
    {"cavity", "color", "circuit", "connector", "fuse", "splice", "ground", "goes_from"}
)
#: A header holds at most this share of unknown texts with digits.
DATA_SHARE = 0.3
#: So many variants of the machine stand side by side.
FEWEST_VARIANTS = 2
#: Words shorter than this ("A", "de", "to") say too little by themselves to make a header.
SHORT_WORD = 3


def names_columns(texts: Sequence[str], known_score: float, known_share: float) -> bool:
    """True when texts side by side are a table's header: enough of them known, two core roles at least."""
    variants = [t for t in texts if names_variant(t)]
    if len(variants) >= FEWEST_VARIANTS:
        texts = [
            t for t in texts if t not in variants
        ]  # they head columns of a table, and are no words of it
    found = [(t, *best_role(t)) for t in texts]
    known = [role for _, role, score in found if score >= known_score]
    data = [t for t, _, score in found if score < known_score and any(c.isdigit() for c in t)]
    if _connectors_side_by_side(data, found, known_score):
        return True
    if len(data) > DATA_SHARE * len(texts):
        return False  # numbers stand in rows, not in headers
    telling = {
        role
        for text, role, score in found
        if score >= known_score and (len(fold(text)) >= SHORT_WORD or is_wide_script(text) or len(known) > 3)
    }
    core = telling & CORE_ROLES
    lists = telling & {"fuse", "splice", "ground", "connector"}
    enough = len(core) >= 2 or (core and lists) or known.count("cavity") >= 2
    return bool(enough and telling & LEADING_ROLES) and len(known) >= known_share * len(texts)


#: What may stand down the side of a matrix: cavities alone, or what tells one wire from another.
SIDE_ROLES = frozenset({"cavity", "function", "signal", "circuit", "color", "size"})
#: A designator by itself, as a header over the pins of one connector: `X185`, `J390/P390`, `C-12`, `M7 X3`.
#: More than three letters are a word (`MODE0`).
DESIGNATOR = re.compile(
    r"[-+=]?[A-Z]{1,3}[ _.–-]?\d{1,4}[A-Z]?(?:[ ./_–-][A-Z]{0,3}\d{0,4}[A-Z]?)?(?:/[A-Z]{1,4}\d{1,4})?"
)


def _connectors_side_by_side(
    data: Sequence[str], found: Sequence[tuple[str, str, float]], known_score: float
) -> bool:
    """True for the header of a matrix: connectors over their pins, and words for what stands at the side."""
    rest = [(role, score) for text, role, score in found if text not in data]
    sides = [role for role, score in rest if score >= known_score and role in SIDE_ROLES]
    places = [n for n, (text, _, _) in enumerate(found) if text in data]
    if len(data) < 2 or not _are_designators(data) or len(sides) != len(set(sides)):
        return False
    if places[0] == 0 or places[-1] - places[0] != len(places) - 1:
        return False  # a row: its cavity and its circuit look like designators too
    return bool(sides) and 2 * len(sides) >= len(rest)


def _are_designators(texts: Sequence[str]) -> bool:
    return all(DESIGNATOR.fullmatch(t.strip()) for t in texts) and len(set(texts)) == len(texts)


#: What a cavity looks like, loosely, with a colour in brackets beside it if need be.
CAVITY_LIKE = re.compile(
    r"[A-Z]{0,2}-?\d{1,3}[a-z]?(\s*\(\w+\))?[.)]?|[A-Z]|\d{1,2}[/-]\d{1,2}", re.IGNORECASE
)
#: A cavity with its connector before a sign: `X11:1`, `X7.1`.
OWN_CAVITY = re.compile(r"[A-Z]{1,3}\d{1,4}[-.:/](?:[A-Z]{0,2}\d{1,3}|[A-Z])")
#: So many of the texts under a cavity word, and this share of them, must look like cavities.
FEWEST_UNDER = 3


def heads_cavities(header: str, under: Sequence[str]) -> bool:
    """True for a word for cavity over texts that are cavities: a header, whatever stands beside it."""
    if header_roles(header).get("cavity", 0.0) < 0.9:
        return False
    texts = [t for t in under if t]
    like = [t for t in texts if CAVITY_LIKE.fullmatch(t)]
    return len(like) >= min(FEWEST_UNDER, max(2, len(texts))) and len(like) >= 0.8 * len(texts)


def letters_and_number(cavity: str) -> tuple[str, int]:
    """Return the letters of a cavity and its number, 0 if it has none: "A12" → ("A", 12), "B" → ("B", 0)."""
    digits = "".join(c for c in cavity if c.isdecimal())
    return "".join(c for c in cavity if not c.isdecimal()), int(digits) if digits else 0
