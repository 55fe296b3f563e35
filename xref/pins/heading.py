"""A heading, a caption or a key/value head to what it says of a connector."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from xref.colors.language import colors_of_word
from xref.data.heading_words import reference_pattern
from xref.data.words import REMEMBERED, fold, roles_by_word, words_of
from xref.pins.designators import (
    DESIGNATOR,
    LOOSE,
    MARK,
    TOKEN,
    Token,
    end_tokens,
    shape_of,
    spaced_tokens,
    whole_token,
)
from xref.pins.wordings import has_word, says_continued, without_continued, word_patterns
from xref.tables.surroundings import is_key

#: `3.7.2 `, `12) ` and the like before a heading.
SECTION = re.compile(r"^\s*(?:§\s*)?\d{1,2}(?:\.\d{1,2}){1,4}\.?\s+|^\s*\d{1,2}[.)]\s+(?=\D)")
#: `No. 26 Meter assembly`: a number that is said to be one names what follows.
NUMBERED = re.compile(r"(?:no|nr|n°|nº|n\.º|num)\.?\s?(\d{1,4}[A-Z]?)(?=\s+[^\W\d_]|\s*$)", re.IGNORECASE)
#: `Table 3.7:` and `Fig. 2 –` in six languages.
CAPTION = re.compile(
    r"^\s*(?:(?P<table>table|tab\.|tabelle|tableau|tabla|tabella|表)|figure|fig\.|abbildung|abb\.|bild|figura|図)"
    r"\s*(?:\d|[IVX]+\b)[\dIVX]*(?:[.\-–]\d+)*\s*[:.–—-]?\s*",
    re.IGNORECASE,
)
#: `8 - 6`, as pages are numbered in chapters.
PAGE_LABEL = re.compile(r"\W*\d{1,3}\s+[-–]\s+\d{1,4}\W*")
WAYS = re.compile(
    r"(?<![\w.])(\d{1,3})\s*[- ]?\s*(?:ways?\b|pins?\b|pol(?:ig|e|es|i|os)?\b|-?fach\b|voies?\b|broches\b|"
    r"v[ií]as\b|vie\b|poli\b|p\b|cavit\w*|kammern\b|positions?\b|contacts?\b|極|ピン)",
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
#: A number as the value of a key for connector, before what else is said of it (`1 - in the left side`).
PLAIN_NUMBER = re.compile(r"\d{1,4}(?=\s+[–—-]\s|\s*[,(])")
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
    halves: tuple[str, str] = ("", "")  #: the texts over both halves of a table that holds the two
    half_text: str = ""  #: the line between name and table that says which half it is
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
    if DESIGNATOR.search(rest) or MARK.fullmatch(rest) or any(spaced_tokens(rest)) or says_continued(rest):
        return True
    return any(has_word(rest, role) for role in WORDED)


@lru_cache(maxsize=4096)
def parse_heading(text: str, shapes: frozenset[str] = frozenset()) -> Head:
    """Read one line of text as the heading of a connector.

    Of several designators the one after a word for connector is it, then the first that has one of the
    forms given, then the first of all.
    """
    rest = text.strip()
    first = next(iter(end_tokens(rest)), None)
    if first is None or first.start > 0 or shape_of(first.name) not in shapes:
        rest = SECTION.sub("", rest)  # unless all names here look so
    numbered = CAPTION.match(rest)
    caption = ("table" if numbered["table"] else "figure") if numbered else ""
    rest = CAPTION.sub("", rest).strip().rstrip(".:")
    rest, continued = without_continued(rest)
    kinds = tuple(k for k in ("inline", "splice", "ground", "fuse") if has_word(rest, k))
    word = has_word(rest, "connector")
    token = _designator(rest, bool(word or kinds), shapes)
    designator = token is not None
    connector, start, end = token or ("", 0, 0)
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
        name = _trim(_without_ways(NOISE.sub("", rest)))
        pieces = [p for p in PIECES.split(rest) if p.strip()]
        if not any(_says_name(p) for p in pieces) and not word:
            name = ""  # a count of ways, a colour: facts of a connector that is named elsewhere
        return _details(replace(head, name=name, connector=name), rest)
    return _details(replace(head, name=_name(rest[:start], rest[end:])), rest)


def _without_ways(text: str) -> str:
    """Return a title without the ways and the colour of the housing at its end (`Fuel pump (black 4P)`)."""
    ends = [m for m in WAYS.finditer(text) if not text[m.end() :].strip(" )].") and m.start() > 0]
    if not ends or text[ends[-1].start() - 1] not in " ([":
        return text
    start = ends[-1].start()
    opened = max(text.rfind(sign, 1, start) for sign in "([")
    if opened > 0 and not any(sign in text[opened:start] for sign in ")]"):
        start = opened
    kept = text[:start].rstrip(" ([,-–")
    before, sign, last = kept.rpartition(",") if "," in kept else kept.rpartition(" – ")
    return before.rstrip(" ,-–") if sign and color_of_word(last.strip()) else kept


def _designator(text: str, worded: bool, shapes: frozenset[str]) -> Token | None:
    """Return the designator of a text, None if there is none."""
    found = [whole_token(m, text) for m in DESIGNATOR.finditer(text) if _names_this(m, text)]
    after = _after_word(text) if worded else -1
    after_word = next((t for t in found if 0 <= t.start - after <= 1), None) if after > 0 else None
    usual = next((t for t in found if shape_of(t.name) in shapes), None)
    token = after_word or usual or next(iter(found), None)
    if token and not WAYS.match(token.name):
        return token
    own = [t for t in (*end_tokens(text), *spaced_tokens(text)) if shape_of(t.name) in shapes]
    ends = [t for t in own if not WAYS.match(text[t.start :])]  # `9 way` is no connector 9
    if ends:
        return ends[0]
    if after >= 0 and not WAYS.match(text[after:]):
        loose = LOOSE.match(text, after) or TOKEN.match(text, after)
        if loose:
            return whole_token(loose, text)
    mark = MARK.fullmatch(text)
    if mark:
        return Token(text, 0, len(text))
    numbered = NUMBERED.match(text)
    if numbered:
        return Token(numbered.group(1), *numbered.span())
    return _spaced(text, worded or bool(NOISE.search(text)))


def _spaced(text: str, worded: bool) -> Token | None:
    """Return a name with a blank in it (`ST 72`): alone, before a dash or bracket, or beside words for it."""
    found = [t for t in spaced_tokens(text) if fold(t.name.split()[0]) not in roles_by_word()]
    if len(found) != 1:
        return None
    after = text[found[0].end :].lstrip()[:1]
    opens = found[0].start == 0 and (not after or after in "–—-:(,/|・")
    closes = (not after or after in ")]") and text[: found[0].start].rstrip()[-1:] in "–—-:,/|(["
    return found[0] if worded or opens or closes else None


def _names_this(match: re.Match[str], text: str) -> bool:
    """False for a bus or a harness, and for a connector that is only referred to (`mates with X6`)."""
    before = text[: match.start()].split()
    if fold(match.group()) in words_of("bus") or (before and fold(before[-1]) in words_of("harness")):
        return False
    return not reference_pattern().search(text[: match.start()].rstrip(" ([-–—"))


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
    if len(found) == 1 and _another_name(text, found[0].end()):
        return True
    if len(found) != 2:
        return False
    between = text[found[0].end() : found[1].start()]
    return bool(re.fullmatch(r"\s+(?:[^\W\d_]+\s+)+", between)) and not has_word(between, "connector")


def _another_name(text: str, end: int) -> bool:
    """True where a name of another kind stands behind a designator (`J2 PC 65`, `J7 Connector 25`)."""
    rest = text[end:].strip()
    at = _after_word(rest)
    bare = re.match(r"\d{1,3}(?=$|\s*[–—(,:-]\s)", rest[at:]) if at >= 0 else None
    return bool(bare) or _spaced(rest, worded=False) is not None


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
        said = (_without_ways(q) for q in re.split(r"\s*[,;|]\s*|\s+[–—-]\s+", piece))
        parts = [q for q in said if _says_name(q)]
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
    if text.rfind("(") > max(text.rfind(")"), 0):
        text = text[: text.rfind("(")]  # the line ends within brackets
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
    if PAGE_LABEL.fullmatch(title):
        return None
    head = parse_heading(title)
    if not head.designator and (number := PLAIN_NUMBER.match(title)):
        head = replace(head, connector=number.group(), name=_name("", title[number.end() :]))
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
