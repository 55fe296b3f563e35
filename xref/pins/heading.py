"""A heading, a caption or a key/value head to what it says of a connector."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from xref.colors.language import colors_of_word
from xref.data.heading_words import reference_pattern, word_pattern
from xref.data.words import REMEMBERED, fold, roles_by_word, words_of
from xref.pins.wordings import has_word, says_continued, without_continued, word_patterns
from xref.tables.surroundings import is_key

#: A letter or digit of a script that is written with blanks; others may stand close to a designator.
_LETTER = r"A-Za-z0-9_\u00c0-\u024f"
#: Capitals with a dot before a number that name no connector.
_ABBREVIATED = r"(?:NO|NR|FIG|ABB|TAB|ART|REV|VER|PAG|SEC|CAP|POS|REF|VOL|ED|COD|CAT|NUM)\b"
#: Reference designations after IEC 81346: function, place and product (`=27+S4-X131`).
_REFERENCE = r"(?:=[A-Z0-9]{1,6}(?:\.[A-Z0-9]{1,6})?(?:\+[A-Z0-9]{1,6})?|\+[A-Z0-9]{1,6})-[A-Z]{1,3}\d{1,4}"
#: Designators: letters then digits (`X5`, `C204`, `-A3`, `CN_12`), with a sub-connector (`M12 X1`, `X5.2`,
#: `A10-X2`), or with the name of the other half (`J5/P5`).
DESIGNATOR = re.compile(
    rf"(?<![{_LETTER}.-])(?:{_REFERENCE}|\d{{1,3}}[A-Z]{{1,2}}\d{{1,3}}(?![{_LETTER}\d])|-?[A-Z]{{1,5}}[-_]?\d{{1,4}}[A-Z]{{0,2}}|(?!{_ABBREVIATED})[A-Z]{{2,4}}\.\d{{1,4}})"
    rf"(?:(?:[.\s/-]|\s?\.\s?)X\d{{1,3}}|/[A-Z]{{1,3}}\d{{1,4}}|[./-]\d{{1,3}}[A-Z]?|[-/][A-Z]{{1,2}})?"
    rf"(?![{_LETTER}]|[./][{_LETTER}])"
)
#: After a word for connector also a bare number, a letter, or a name in capitals counts.
LOOSE = re.compile(
    rf"(?<![{_LETTER}])([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)+|[A-Z]{{2,4}} \d{{1,3}}|[A-Z]{{0,4}}-?\d{{1,4}}[A-Z]?"
    rf"|[A-Z](?=\W|$))(?![{_LETTER}])"
)
#: A name of capitals and a number with a blank between.
SPACED = re.compile(rf"(?<![{_LETTER}.-])[A-Z]{{2,4}} \d{{1,3}}(?![{_LETTER}.-])")
#: A word with a digit in it, as it may be a name in a document that has many such names.
TOKEN = re.compile(r"(?=\S*\d)[^\W_](?:[\w./-]*\w)?")
#: `3.7.2 `, `12) ` and the like before a heading.
SECTION = re.compile(r"^\s*(?:§\s*)?\d{1,2}(?:\.\d{1,2}){1,4}\.?\s+|^\s*\d{1,2}[.)]\s+(?=\D)")
#: `Table 3.7:` and `Fig. 2 –` in six languages.
CAPTION = re.compile(
    r"^\s*(?:(?P<table>table|tab\.|tabelle|tableau|tabla|tabella|表)|figure|fig\.|abbildung|abb\.|bild|figura|図)"
    r"\s*(?:\d|[IVX]+\b)[\dIVX]*(?:[.\-–]\d+)*\s*[:.–—-]?\s*",
    re.IGNORECASE,
)
WAYS = re.compile(
    r"(?<![\w.])(\d{1,3})\s*[- ]?\s*(?:ways?\b|pins?\b|pol(?:ig|e|es|i|os)?\b|-?fach\b|voies?\b|broches\b|"
    r"v[ií]as\b|vie\b|poli\b|cavit\w*|kammern\b|positions?\b|contacts?\b|極|ピン)",
    re.IGNORECASE,
)
HALF = re.compile(
    r"\b(?:half|side|hälfte|seite|côté|lado|lato|teil)\s+([A-Z0-9])\b|\b(?:half|hälfte)\s*([AB12])\b",
    re.IGNORECASE,
)
#: Words that only say "this is a list of pins"; they are no part of a name.
NOISE = re.compile(
    r"\b(?:pin(?:\s+|-)?(?:out|assignment|list|belegung|ning)s?|pinouts?|belegung|steckerbelegung|brochage|"
    r"affectation des broches|asignación de pines|piedinatura|connector\s+(?:pinout|pin\s+list|view|table)|"
    r"terminal assignment|cavity list|wiring)\b|端子配列|ピン配置|配列",
    re.IGNORECASE,
)
#: Where the pieces of a heading part: name, ways, colour, gender, half.
PIECES = re.compile(r"[,;|·•()\[\]]|\s[–—-]\s")
VIEW = re.compile(
    r"\b(?:(?:mating|wire|terminal|front|rear|harness|cable|back)\s+(?:face|side|end|view)|"
    r"view\s+(?:on|of|from)\s+[\w ]+|(?:steckseite|kabelseite|leitungsseite|ansicht[\w -]*)|"
    r"vue\s+(?:côté\s+)?[\w ]+|vista\s+[\w ]+)",
    re.IGNORECASE,
)


#: Words that say which contacts a housing holds.
GENDERS = frozenset(
    [
        "male",
        "female",
        "männlich",
        "weiblich",
        "mâle",
        "femelle",
        "macho",
        "hembra",
        "maschio",
        "femmina",
        "オス",
        "メス",
        "stift",
        "buchse",
        "stiftseite",
        "buchsenseite",
        "stiftgehäuse",
        "buchsengehäuse",
        "receptacle",
    ]
)


#: Words for these lead to a name of any form.
WORDED = ("connector", "inline", "splice", "ground", "fuse")


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What is printed about a connector. Blank where nothing is."""

    text: str
    connector: str = ""
    half: str = ""
    name: str = ""
    component: str = ""
    color: str = ""
    location: str = ""
    gender: str = ""
    ways: int | None = None
    view: str = ""
    harness: str = ""
    kinds: tuple[str, ...] = ()  #: inline, splice, ground, fuse: by words of the heading
    continued: bool = False
    designator: bool = False  #: the name has the form of a designator
    worded: bool = False  #: a word for connector stands in the heading
    caption: str = ""  #: "table" or "figure" where the line is numbered as the caption of one


@lru_cache(maxsize=REMEMBERED)
def shape_of(name: str) -> str:
    """Return the form of a designator, `A9.9` for `X15.6`: letters as A, runs of digits as 9."""
    return re.sub(r"\d+", "9", re.sub(r"[A-Z]", "A", name.strip().lstrip("-")))


def color_of_word(text: str) -> str:
    """Return the colour a word names in some language; "" for other words and where languages disagree."""
    colors = colors_of_word(text) if text else ()
    return colors[0] if len(colors) == 1 else ""


def without_number(text: str) -> str:
    """Return a heading without the number of its section or caption (`3.7.2`, `Table 4:`)."""
    return CAPTION.sub("", SECTION.sub("", text.strip())).strip()


@lru_cache(maxsize=REMEMBERED)
def may_name(text: str) -> bool:
    """Return False for a text in which `parse_heading` finds no designator, in a part of its time."""
    rest = CAPTION.sub("", SECTION.sub("", text.strip())).strip().rstrip(".:")
    if DESIGNATOR.search(rest) or SPACED.search(rest) or says_continued(rest):
        return True
    return any(has_word(rest, role) for role in WORDED)


@lru_cache(maxsize=4096)
def parse_heading(text: str, shapes: frozenset[str] = frozenset()) -> Head:
    """Read one line of text as the heading of a connector.

    Of several designators the one after a word for connector is it, then the first that has one of the
    forms given, then the first of all.
    """
    rest = SECTION.sub("", text.strip())
    numbered = CAPTION.match(rest)
    caption = ("table" if numbered["table"] else "figure") if numbered else ""
    rest = CAPTION.sub("", rest).strip().rstrip(".:")
    rest, continued = without_continued(rest)
    kinds = tuple(k for k in ("inline", "splice", "ground", "fuse") if has_word(rest, k))
    word = has_word(rest, "connector")
    connector, start, end, designator = _designator(rest, bool(word or kinds), shapes)
    if designator and _several_named(rest):
        connector, start, end = _trim(NOISE.sub("", rest)), 0, len(rest)
    head = Head(
        text=text,
        connector=connector,
        kinds=kinds,
        continued=continued,
        designator=designator,
        worded=bool(word) or bool(NOISE.search(rest)) or bool(kinds),
        caption=caption,
    )
    if not connector:
        name = _trim(NOISE.sub("", rest))
        pieces = [p for p in PIECES.split(rest) if p.strip()]
        if not any(_says_name(p) for p in pieces) and not word:
            name = ""  # a count of ways, a colour: facts of a connector that is named elsewhere
        return _details(replace(head, name=name, connector=name), rest)
    return _details(replace(head, name=_name(rest[:start], rest[end:])), rest)


def _designator(text: str, worded: bool, shapes: frozenset[str]) -> tuple[str, int, int, bool]:
    """Return (name, start, end, True) of the designator of a text; ("", …, False) if there is none."""
    found = [m for m in DESIGNATOR.finditer(text) if _names_this(m, text)]
    after = _after_word(text) if worded else -1
    after_word = next((m for m in found if 0 <= m.start() - after <= 1), None) if after > 0 else None
    usual = next((m for m in found if shape_of(m.group()) in shapes), None)
    match = after_word or usual or next(iter(found), None)
    if match and not WAYS.match(match.group()):
        return match.group().strip(), match.start(), match.end(), True
    token = next((m for m in end_tokens(text) if shape_of(m.group()) in shapes), None)
    if token:
        return token.group(), token.start(), token.end(), True
    if after >= 0:
        loose = LOOSE.match(text, after)
        if loose and not WAYS.match(text[after:]):
            return loose.group(1), loose.start(), loose.end(), True
    spaced = _spaced(text, worded or bool(NOISE.search(text)))
    return (spaced.group(), spaced.start(), spaced.end(), True) if spaced else ("", 0, 0, False)


def _spaced(text: str, worded: bool) -> re.Match[str] | None:
    """Return a name with a blank in it (`ST 72`): alone, before a dash or bracket, or beside words for it."""
    found = [m for m in SPACED.finditer(text) if fold(m.group().split()[0]) not in roles_by_word()]
    if len(found) != 1:
        return None
    after = text[found[0].end() :].lstrip()[:1]
    opens = found[0].start() == 0 and (not after or after in "–—-:(,/|・")
    closes = not after and text[: found[0].start()].rstrip()[-1:] in "–—-:,/|"
    return found[0] if worded or opens or closes else None


def _names_this(match: re.Match[str], text: str) -> bool:
    """False for a bus or a harness, and for a connector that is only referred to (`mates with X6`)."""
    before = text[: match.start()].split()
    if fold(match.group()) in words_of("bus") or (before and fold(before[-1]) in words_of("harness")):
        return False
    return not reference_pattern().search(text[: match.start()].rstrip(" ([-–—"))


def end_tokens(text: str) -> list[re.Match[str]]:
    """Return the first and the last word of a heading where they hold a digit."""
    text = text.rstrip(" .:;)]")
    first = TOKEN.match(text)
    last = next((m for m in TOKEN.finditer(text) if m.end() == len(text) and m.start() > 0), None)
    return [m for m in (first, last) if m and (m.end() == len(text) or not text[m.end()].isalnum())]


def _several_named(text: str) -> bool:
    """A heading over one table for two connectors (`P1, P2 ports`) keeps its whole text as the name."""
    found = list(DESIGNATOR.finditer(text))
    if len(found) != 2:
        return False
    between = text[found[0].end() : found[1].start()]
    return bool(re.fullmatch(r"\s*(?:[,&]|and|und|et|y|e)\s*", between))


def is_ambiguous(text: str) -> bool:
    """True where two designators stand in one run of words (`M22 Fan X12`): either may be the connector."""
    found = [m for m in DESIGNATOR.finditer(text) if _names_this(m, text)]
    if len(found) != 2:
        return False
    between = text[found[0].end() : found[1].start()]
    return bool(re.fullmatch(r"\s+(?:[^\W\d_]+\s+)+", between)) and not has_word(between, "connector")


def mark_behind(text: str, name: str) -> str:
    """Return the short mark right behind a name that says which half it is (`X5 M`, `X5 Bu (cab)`), or ""."""
    _, found, after = text.partition(name)
    match = re.match(r"[\s(/.-]*([A-Z][A-Za-z]?|[A-Z]{3})(?=\W|$)", after) if found else None
    return match.group(1) if match else ""


def two_named(text: str) -> tuple[str, str] | None:
    """Return the two connectors of a heading for both, left one first (`X5 (left) and X6 (right)`)."""
    found = list(DESIGNATOR.finditer(text))
    if len(found) != 2:
        return None
    between = re.sub(r"\([^)]*\)", " ", text[found[0].end() : found[1].start()])
    if not re.fullmatch(r"\s*(?:[,&/+]|and|und|et|y|e|と|・)\s*", between):
        return None
    names = (found[0].group(), found[1].group())
    left, right = (word_pattern(side).search(text) for side in ("left", "right"))
    return (names[1], names[0]) if left and right and right.start() < left.start() else names


def _after_word(text: str) -> int:
    """Return where the text goes on after a word for connector (and "No."), or -1."""
    lowered = text.casefold()
    for role in WORDED:
        for word, pattern in word_patterns(role):
            if word in lowered and (at := pattern.search(lowered)):
                return at.end()
    return -1


def _name(before: str, after: str) -> str:
    """Return the describing name round a designator: the side that says more than what kind it is."""
    pieces = [p for p in (_trim(after), _trim(before)) if p]
    for piece in pieces:
        parts = [q for q in re.split(r"\s*[,;|]\s*|\s+[–—-]\s+", piece) if _says_name(q)]
        if parts:
            return _trim(parts[0])
    return ""


def _says_name(text: str) -> bool:
    """False for pieces that are a count of ways, a colour, a gender, a half, or only a word for connector."""
    bare = fold(_trim(NOISE.sub("", text)))
    if not bare or WAYS.search(text) or color_of_word(bare) or HALF.fullmatch(text.strip()):
        return False
    known = (
        words_of("connector")
        | words_of("male")
        | words_of("female")
        | words_of("inline")
        | words_of("cavity")
    )
    return bare not in known and not all(t in known for t in bare.split()) and len(bare) > 1


def _trim(text: str) -> str:
    text = re.sub(r"^[\s,;:|/–—-]+|[\s,;:|/–—-]+$", "", text.strip())
    while text[:1] in "([" and text[-1:] in ")]" and text.count("(") + text.count("[") == 1:
        text = text[1:-1].strip()
    if text.startswith("(") and ")" not in text:
        text = text[1:]
    if text.endswith(")") and "(" not in text:
        text = text[:-1]
    return re.sub(r"\s+", " ", text).strip(" ,;:–—-*")


def _details(head: Head, text: str) -> Head:
    ways = WAYS.search(text)
    half = HALF.search(text)
    pieces = _pieces(text)
    color = next((c for p in pieces for t in [p, *p.split()[-1:]] if (c := color_of_word(fold(t)))), "")
    gender = _gender(pieces)
    view = VIEW.search(text)
    return replace(
        head,
        ways=int(ways.group(1)) if ways else None,
        half=(half.group(1) or half.group(2)).upper() if half else "",
        color=color,
        harness=next((p for p in (*_pieces(head.name), *pieces) if _is_harness(p)), ""),
        gender=gender,
        view=view.group().strip() if view else "",
    )


def _pieces(text: str) -> list[str]:
    return [p.strip(" ()[]") for p in PIECES.split(text)]


def _is_harness(text: str) -> bool:
    """True for the name of a harness (`Main harness`), not for a longer text or one that joins two."""
    words = fold(text).split()
    joins = any(word in words_of("goes_to") for word in words[1:-1])
    return 1 < len(words) <= 4 and bool(has_word(text, "harness")) and not joins


def _gender(pieces: Iterable[str]) -> str:
    for piece in pieces:
        for token in (fold(piece), *fold(piece).split()):
            if token in GENDERS:
                return token
    return ""


def parse_pairs(pairs: Iterable[tuple[str, str]]) -> Head | None:
    """Read key/value pairs as a connector's head; None when they name no connector."""
    found: dict[str, str] = {}
    for key, value in pairs:
        role = is_key(key)
        if role and role not in found:
            found[role] = value.strip()
    if "connector" not in found and "inline" not in found:
        return None
    title = found.get("connector") or found.get("inline", "")
    head = parse_heading(title)
    kinds = tuple(
        k for k in ("inline", "splice", "ground", "fuse") if any(has_word(v, k) for v in found.values())
    )
    ways = re.search(r"\d{1,3}", found.get("ways", ""))
    return replace(
        head,
        connector=head.connector or title,
        component=found.get("component", "") or found.get("function", ""),
        name=head.name if head.designator else "",
        color=color_of_word(fold(found.get("housing", "") or found.get("color", "")))
        or found.get("housing", "")
        or head.color,
        location=found.get("location", ""),
        gender=found.get("gender", "") or head.gender,
        ways=int(ways.group()) if ways else head.ways,
        view=found.get("view", "") or head.view,
        harness=found.get("harness", ""),
        half=found.get("half", "") or head.half,
        kinds=kinds or head.kinds,
        designator=True,
        worded=True,
    )
