"""Cells that hold several facts in one habit: `10.4 1.0 mm² GN/PK`, `BK 1440`, `3 (H)`, `1 GRN WITH PNK`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import permutations
from unicodedata import normalize

from xref.colors.recognise import color_likeness, one_scheme_share
from xref.data.wire_sizes import awg_numbers, mm2_sizes
from xref.data.words import REMEMBERED, fold, roles_by_word
from xref.rows.content import CAVITY, CIRCUIT, COLOR, is_sequence
from xref.rows.evidence import filled_texts

Order = tuple[str, ...]
"""The facts of a cell in the order printed: of cavity, circuit, size, color, function."""

#: So many cells, and this share of a column, must part in one order.
FEWEST = 3
SHARE = 0.9
#: Share of the cells that hold more than one token; else the column holds one fact.
SEVERAL = 0.7
#: A colour has at most so many tokens (`LT GRN WITH DK BLU`), any other fact one or two.
LONGEST_COLOR = 5
#: A text that ends with a number, a number beside a number: nothing proves that they are two facts.
UNPROVEN = (
    {"circuit", "function"},
    {"cavity", "circuit"},
    {"cavity", "function"},
    {"function", "size"},
    {"cavity", "size"},
    {"circuit", "size"},
)
#: Facts that a word before them may name: `Ltg. W895 Hupe`.
WORDED = frozenset({"circuit", "size"})
#: Numbers that count up before a colour are cavities, not sizes.
COUNTED = 0.2
#: What may be sizes throughout is one rather than circuit numbers, if all else is equal.
SIZE_FIRST = 0.05
#: An order of which the header names every fact is likelier than any other.
TOLD = 0.2
#: A number and a colour with only a sign between (`102/RD-WH`): two facts where the header names both.
_GLUED_COLOR = re.compile(r"([^\W_]*\d[^\W_]*)\s*[/\-–:,;.|]\s*([^\W\d_].*)")
_COLOR_GLUED = re.compile(r"([^\W\d_][^\d]*?)\s*[/\-–:,;.|]\s*([^\W_]*\d[^\W_]*)")
#: Circuit numbers beside other facts have so many characters at least: `5 V` begins with fewer.
FEWEST_FIGURES = 2
_SIZE = re.compile(
    r"(?:AWG\s*)?(\d{1,3}(?:[.,]\d{1,3})?|\d/0)\s*(mm²|mm2|mm\^2|㎟|mm|AWG|ga\.?|sq\.?)?", re.IGNORECASE
)
_LETTERS = re.compile(r"[^\W\d_]{1,4}(?:[/\-–‐][^\W\d_]{1,4}){0,2}")
_WORD = re.compile(r"[^\W\d_]{3,}|[぀-ヿ一-鿿]{2,}")
_SIGNS = ":|·=→"
_EDGE = f",;{_SIGNS}"
#: A colour with its stripe in brackets right behind it: one piece.
_STRIPED = re.compile(r"(?<![^\W_])([^\W\d_]{1,4})\(([^\W\d_]{1,4})\)(?!\w)")
#: Two words with a slash between blanks.
_SLASHED = re.compile(r"([^\W\d_]+) / ([^\W\d_]+)")
#: A colour with its stripe in brackets behind it, in words.
_IN_WORDS = re.compile(r"([^\W\d_]+) \(([^\W\d_]+)\)")
_GLUE = "\0"
_NUMBER_AND_COLOR = frozenset({"circuit", "color"})


@lru_cache(maxsize=512)
def combined_order(
    texts: tuple[str, ...], open_facts: frozenset[str], *, headed: frozenset[str] = frozenset()
) -> Order:
    """Return the order in which nearly all texts part into facts, or () when they hold one fact.

    `open_facts` are those that no other column of the table holds; `headed` are those the header names.
    """
    filled = filled_texts(texts)
    glued = headed >= _NUMBER_AND_COLOR
    several = [t for t in filled if len(_tokens(t)) > 1 or (glued and _unglued(t, "circuit"))]
    if len(several) < FEWEST - 1 or len(several) < SEVERAL * len(filled):
        return ()
    if sum(map(_says_color, filled)) >= SEVERAL * len(filled):
        headed |= {"color"}
    named = all(" " in t and _names(*t.split()[:2]) for t in several)
    best: tuple[float, Order] = (0.0, ())
    for order in _orders(open_facts, named=named):
        told = headed >= set(order)
        if len(several) < FEWEST and len(order) < FEWEST and not (named or told):
            continue  # two cells prove two facts by chance, hardly three, or with a word that says so
        parts = [found for t in filled if (found := split_cell(t, order))]
        if len(parts) < SHARE * len(filled) or not _hold(parts, order, headed=headed):
            continue
        worth = len(parts) / len(filled) + len([f for f in order if f != "function"]) + TOLD * told
        worth += SIZE_FIRST * ("size" in order)
        worth += COUNTED * ("cavity" in order and is_sequence([p["cavity"] for p in parts]))
        if worth > best[0]:
            best = (worth, order)
    return best[1]


def _orders(facts: frozenset[str], *, named: bool) -> Iterator[Order]:
    for size in (2, 3, 4):
        for order in permutations(sorted(facts), size):
            if "function" in order and order.index("function") not in (0, size - 1):
                continue
            if "cavity" in order and order[0] != "cavity":
                continue
            if set(order) in UNPROVEN and not (named and order[0] in WORDED):
                continue  # a text that ends with a number, a number beside a number: nothing proves it
            yield order


def _hold(parts: Sequence[dict[str, str]], order: Order, *, headed: frozenset[str]) -> bool:
    """True when the facts found are, as a whole, what they are taken for.

    Letters beside numbers under a header that names circuit and colour are codes, of whatever key.
    """
    if "color" in order and not headed & set(order) >= _NUMBER_AND_COLOR:
        colors = [p["color"] for p in parts]
        clear = sum(color_likeness(c) >= COLOR for c in colors)
        proven = "color" in headed or bool({"cavity", "circuit"} & set(order))
        of_one = one_scheme_share(colors, with_legends=proven)
        # the header names the colour, and sizes part it from the rest
        sized = "color" in headed and "size" in order
        if not sized and clear < SHARE * len(colors) and (of_one < SHARE or len(set(colors)) < 2):
            return False
    if "cavity" in order:
        names = [p["cavity"] for p in parts]
        return len(set(names)) >= SHARE * len(names)
    return True


@lru_cache(maxsize=REMEMBERED)
def _tokens(text: str) -> tuple[str, ...]:
    glued = re.fullmatch(r"([A-Z]{0,2}\d{1,3}[a-z]?)\s*[(\[]\s*([^()\[\]]+)[)\]]?", text.strip())
    pieces = [glued.group(1), *_bracketed(glued.group(2))] if glued else _bracketed(text)
    stripped = tuple(t for p in pieces if (t := p.lstrip(_EDGE).rstrip(_SIGNS)) and t not in "/-–,;")
    following = (*stripped[1:], "") if stripped else ()
    named = tuple(t for t, after in zip(stripped, following, strict=True) if not _names(t, after))
    return named if len(named) > 1 else stripped


def _names(token: str, after: str) -> bool:
    """True for a word that only says what follows: `wire 88R`, `Ltg. W747`, `colour GN`."""
    facts = [r for r in roles_by_word().get(fold(token), ()) if r in ("circuit", "color", "size")]
    if not facts or not after or not token.rstrip(".").isalpha():
        return False
    # "wire BU/YE" names its colour as well as "wire 88R" its number.
    return any(_IS[fact](after) for fact in facts) or color_likeness(after) >= COLOR


def _bracketed(text: str) -> list[str]:
    """Part a text at its blanks; what stands in brackets and may be a colour is one piece (`(RD BU)`).

    A stripe in brackets right behind its base colour (`BK(VT)`) stays with it.
    """
    held = _STRIPED.sub("\\1\ue000\\2\ue001", normalize("NFC", text))
    pieces: list[str] = []
    held = _IN_WORDS.sub(_with_stripe, _SLASHED.sub(_one_color, held))
    for outer, inner in re.findall(r"([^()\[\]]+)|[(\[]([^()\[\]]*)[)\]]", held):
        color = _named_color(inner)
        pieces += [color] if color else (outer or inner).split()
    return [p.replace("\ue000", "(").replace("\ue001", ")").replace(_GLUE, " ") for p in pieces]


def _says_color(text: str) -> bool:
    """True where brackets hold a word for the wire or its colour, and a code: `(fil BC/GR)`."""
    inner = [i.strip() for i in re.findall(r"[(\[]([^()\[\]]+)[)\]]", text)]
    return any(_named_color(i) not in ("", i) for i in inner)


def _named_color(inner: str) -> str:
    """Return the colour that stands in brackets, by itself or behind a word for it (`fil BC/GR`), or ""."""
    word, _, rest = inner.strip().partition(" ")
    if rest and {"circuit", "color"} & set(roles_by_word().get(fold(word), ())) and _is_color(rest):
        return rest
    return inner if inner and _is_color(inner) else ""


def _one_color(found: re.Match[str]) -> str:
    """Keep `rot / violett` in one piece: the slash between two colours is part of the code."""
    whole = found.group()
    both = all(color_likeness(found.group(n)) >= COLOR for n in (1, 2))
    return whole.replace(" ", _GLUE) if both and color_likeness(whole) >= COLOR else whole


def _with_stripe(found: re.Match[str]) -> str:
    """Keep `negro (marrón)` in one piece, brackets and all."""
    both = all(color_likeness(found.group(n)) >= COLOR for n in (1, 2))
    return f"{found.group(1)}{_GLUE}\ue000{found.group(2)}\ue001" if both else found.group()


def split_cell(text: str, order: Order) -> dict[str, str]:
    """Part a cell's text by an order of facts; {} when it does not part so."""
    # Between or behind a size and a colour, what is left is the circuit, however short.
    sure = {"size", "color"} <= set(order) and "function" not in order
    found = _part(_tokens(text), order, shortest=1 if sure else FEWEST_FIGURES)
    if not found and set(order) == _NUMBER_AND_COLOR:
        found = _unglued(text, order[0])
    return dict(zip(order, found, strict=True)) if found else {}


def _unglued(text: str, first: str) -> list[str]:
    """Part `102/RD-WH` and `RD/WH-102` at the sign between number and colour."""
    pattern = _GLUED_COLOR if first == "circuit" else _COLOR_GLUED
    found = pattern.fullmatch(text.strip())
    color = found[2 if first == "circuit" else 1] if found else ""
    return [found[1], found[2]] if found and _is_color(color) else []


def _part(tokens: tuple[str, ...], order: Order, shortest: int) -> list[str]:
    if not order:
        return []
    if len(order) == 1:
        text = " ".join(tokens).strip(_EDGE)
        return [text] if text and _is(order[0], text, shortest) else []
    longest = LONGEST_COLOR if order[0] == "color" else len(tokens) if order[0] == "function" else 2
    sizes = range(1, min(longest, len(tokens) - len(order) + 1) + 1)
    # Words that are followed by a colour end as soon as all the rest is one (`Feed RD BU`).
    for size in sizes if order[0] == "function" else reversed(sizes):
        text = " ".join(tokens[:size]).strip(_EDGE)
        if _is(order[0], text, shortest):
            rest = _part(tokens[size:], order[1:], shortest)
            if rest:
                return [text, *rest]
    return []


def _is_size(text: str) -> bool:
    found = _SIZE.fullmatch(text)
    if not found:
        return False
    bare = found.group(1).replace(",", ".")
    if found.group(2) or text.upper().startswith("AWG"):
        return True
    return bare in awg_numbers() or ("/" not in bare and float(bare) in mm2_sizes())


def _is_color(text: str) -> bool:
    return color_likeness(text) >= COLOR or bool(_LETTERS.fullmatch(text))


def _is(fact: str, text: str, shortest: int) -> bool:
    return _IS[fact](text) and (fact != "circuit" or len(text) >= shortest)


def _is_circuit(text: str) -> bool:
    return " " not in text and bool(CIRCUIT.fullmatch(text))


def _is_function(text: str) -> bool:
    return bool(_WORD.search(text)) and color_likeness(text) < COLOR


_IS: dict[str, Callable[[str], bool]] = {
    "cavity": lambda text: bool(CAVITY.fullmatch(text)),
    "circuit": _is_circuit,
    "size": _is_size,
    "color": _is_color,
    "function": _is_function,
}
