"""Lists of pins that are no tables: `Pin 7 – lamp output`, `1) GND`, `A3 ..... 1440 BU/YE`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from xref.data.words import fold, words_of
from xref.pages.content import Word
from xref.records import Box
from xref.tables.lines import Line, box_of, join_words
from xref.tables.table import Band, Cell
from xref.tables.vocabulary import header_roles, letters_and_number

#: The cavity at the head of an item, with the sign that parts it from the rest.
CAVITY = re.compile(r"(?:[A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])")
SIGN = re.compile(r"[:=.)\]–—‒―→・-]+|\.{2,}|…+|[.…·_\s]{2,}")
#: Dots that lead the eye on, and the sign of an item that has them in the middle of its texts.
LEADER = re.compile(r"[.…·_]{4,}")
LEADS_ON = "...."
GLUED = re.compile(rf"({CAVITY.pattern})\s*([:=)\]–—‒→-]+|\.(?=\s|$))\s*(.*)")
#: Several cavities in one item: in one word (`10…12`, `9,13,39-48`), or in words (`3 & 4`, `3 to 9`).
SEVERAL = re.compile(rf"{CAVITY.pattern}(?:(?:[,;&+–-]|\.{{2,3}}|…){CAVITY.pattern})+")
GLUED_SIGN = re.compile(rf"({CAVITY.pattern})([:=)\]])")
GLUED_SEVERAL = re.compile(rf"{SEVERAL.pattern}[:=)\]]")
JOINER = re.compile(r"[,;&+–-]|…|to|bis|à|au|al?|hasta|and|und|et|y|e")
SEVERAL_WORDS = re.compile(rf"{CAVITY.pattern}[,;]?(?:\s*(?:{JOINER.pattern})?\s*{CAVITY.pattern}[,;]?)+")
JOINING = frozenset({"-", "–", "…", "..", "..."})
MOST_IN_ITEM = 12
#: A word for cavities scores this much at least, its plural too.
NAMED = 0.95
#: An item begins a line, or stands off from what is before it by this many font sizes.
STANDS_OFF = 1.2
#: So many items in order make a list.
FEWEST = 3
#: Items of one list begin at the same place, within this many points.
ALIGNED = 4.0
#: Items stand no further apart than this many of their usual pitch.
PITCH = 2.4
#: Items whose tops differ by less than this share of their height stand in one line.
SAME_LINE = 0.5
#: Texts longer than this many words that end like sentences are prose, and no list is so by this share.
SHORT = 3
PROSE = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One item of a list: the word before its cavity (`Pin`), the cavity, the words that follow."""

    label: str
    cavity: str
    sign: str
    mark: tuple[Word, ...]  #: the words that hold label, cavity and sign
    rest: tuple[Word, ...]
    box: Box


def lines_to_lists(lines: Sequence[Line]) -> list[list[Item]]:
    """Return the lists of pins among lines, each in printed order."""
    open_lists: list[list[Item]] = []
    closed: list[list[Item]] = []
    for line in lines:
        for item in line_to_items(line):
            own = next((found for found in open_lists if _follows(found, item)), None)
            if own is not None:
                own.append(item)
            else:
                open_lists.append([item])
    closed.extend(open_lists)
    return [items for items in closed if len(items) >= _fewest(items) and _is_list(items)]


def _fewest(items: Sequence[Item]) -> int:
    """Two pins are a list where both are told with a word for it in one line."""
    told = bool(items[0].label) and any(abs(a.box.top - b.box.top) < 1.0 for a, b in pairwise(items))
    return FEWEST - 1 if told else FEWEST


def tops_of_items(lines: Sequence[Line]) -> frozenset[float]:
    """Return where lines stand that begin with a pin of a list and are thus no header of a table.

    They begin with a word for cavities, or dots lead to what they say.
    """
    found = (i for items in lines_to_lists(lines) for i in items)
    return frozenset(i.box.top for i in found if i.label or _kind(i.sign) == "leader")


def line_to_items(line: Line) -> list[Item]:
    """Return the items of a line: usually one, several where lists stand side by side."""
    starts: list[tuple[int, Item]] = []
    for i, word in enumerate(line.words):
        gap = word.box.x0 - line.words[i - 1].box.x1 if i else STANDS_OFF * line.size
        told = i > 0 and line.words[i - 1].text.endswith(";")
        item = _item_at(line.words, i) if told or gap >= STANDS_OFF * line.size else None
        if item is not None and (item.label or not told):
            starts.append((i, item))
    out = []
    for n, (i, item) in enumerate(starts):
        end = starts[n + 1][0] if n + 1 < len(starts) else len(line.words)
        used = len(item.mark)
        rest = (*item.rest, *line.words[i + used : end])
        sign = ";" if n + 1 < len(starts) else "." if n and item.label else ""
        if sign and rest and rest[-1].text.endswith(sign):
            rest = (*rest[:-1], _without_last(rest[-1]))
        alone = item.sign and len(line.words) == used  # a cavity of which nothing is said
        if rest or alone:
            out.append(replace(item, rest=rest, box=box_of((*item.mark, *rest))))
    return out


def _without_last(word: Word) -> Word:
    """Drop the sign that parts an item from the next in the same line."""
    return replace(word, text=word.text[:-1], edges=word.edges[:-1])


def _item_at(words: Sequence[Word], i: int) -> Item | None:
    """Read label, cavity and sign from the words at a place; None when no item begins there."""
    for size in (3, 2, 1, 0):
        label = " ".join(w.text for w in words[i : i + size])
        if size and header_roles(label.rstrip(":.")).get("cavity", 0.0) < NAMED:
            continue
        at = i + size
        if at >= len(words):
            continue
        glued = GLUED.fullmatch(words[at].text)
        if glued and not re.fullmatch(r"\d+[.,-]\d+.*", words[at].text):
            return _item(words[i : at + 1], label, glued.group(1), glued.group(2), glued.group(3))
        if CAVITY.fullmatch(words[at].text.rstrip(",;")) and at + 1 < len(words):
            following = words[at + 1].text
            if SIGN.fullmatch(following) and CAVITY.fullmatch(words[at].text):
                return _item(words[i : at + 2], label, words[at].text, following, "")
            end, cavities, sign = _several(words, at)
            if end:
                return _item(words[i : end + 1], label, cavities, sign, "")
            if i == 0 and not label and _leads_on(words[at + 1 :]):
                return _item(words[: at + 1], "", words[at].text, LEADS_ON, "")
            several = JOINER.fullmatch(_text(words, at + 1)) and CAVITY.fullmatch(_text(words, at + 2))
            if label and fold(label) and CAVITY.fullmatch(words[at].text) and not several:
                return _item(words[i : at + 1], label, words[at].text, "", "")
        elif GLUED_SEVERAL.fullmatch(words[at].text):
            return _item(words[i : at + 1], label, words[at].text[:-1], words[at].text[-1], "")
        elif SEVERAL.fullmatch(words[at].text) and SIGN.fullmatch(_text(words, at + 1)):
            return _item(words[i : at + 2], label, words[at].text, words[at + 1].text, "")
    return None


def _leads_on(words: Sequence[Word]) -> bool:
    """True where dots lead from what is said first to what stands at the end of the line."""
    at = next((n for n, w in enumerate(words) if LEADER.fullmatch(w.text)), 0)
    return 0 < at < len(words) - 1 and not words[0].text[:1].isdigit()


def _text(words: Sequence[Word], at: int) -> str:
    return words[at].text if at < len(words) else ""


def _several(words: Sequence[Word], at: int) -> tuple[int, str, str]:
    """Read several cavities and the sign behind them (`3 & 4 =`, `3 to 9 -`, `6, 7:`).

    Returns the place of the word with the sign, the cavities and the sign; 0 where there are none.
    """
    for end in range(at + 1, min(at + MOST_IN_ITEM, len(words))):
        text = words[end].text
        before = " ".join(w.text for w in words[at:end])
        glued = GLUED_SIGN.fullmatch(text)
        if glued:
            whole = f"{before} {glued.group(1)}"
            return (end, whole, glued.group(2)) if SEVERAL_WORDS.fullmatch(whole) else (0, "", "")
        joining = text in JOINING and CAVITY.fullmatch(_text(words, end + 1))
        if SIGN.fullmatch(text) and not joining:
            several = end > at + 1 and SEVERAL_WORDS.fullmatch(before)
            return (end, before, text) if several else (0, "", "")
    return 0, "", ""


def _item(mark: Sequence[Word], label: str, cavity: str, sign: str, glued: str) -> Item:
    last = mark[-1]
    rest: tuple[Word, ...] = ()
    if glued and len(last.edges) == len(last.text):
        at = len(last.text) - len(glued)
        rest = (
            replace(last, text=glued, box=replace(last.box, x0=last.edges[at][0]), edges=last.edges[at:]),
        )
    elif glued:
        rest = (replace(last, text=glued, edges=()),)
    return Item(label=label, cavity=cavity, sign=sign, mark=tuple(mark), rest=rest, box=box_of(mark))


def _follows(items: Sequence[Item], item: Item) -> bool:
    """True when an item goes on a list: it stands under the last one, in the same way, and counts on.

    Its word for cavity may be another (`Pin 3`, `Pins 4 & 5`).
    """
    last = items[-1]
    if bool(item.label) != bool(last.label):
        return False
    if _kind(item.sign) != _kind(last.sign) and not item.label:
        return False
    height = last.box.height or 1.0
    gap = item.box.top - last.box.bottom
    aligned = abs(item.mark[0].box.x0 - last.mark[0].box.x0) <= ALIGNED or (
        abs(item.mark[-1].box.x1 - last.mark[-1].box.x1) <= ALIGNED
    )
    if not _counts_on(last.cavity, item.cavity) or gap > PITCH * height:
        return False
    below = item.box.top - last.box.top > SAME_LINE * height
    return aligned if below else bool(item.label) and item.box.x0 >= last.box.x1


def _kind(sign: str) -> str:
    bare = sign.strip()
    return "leader" if len(bare) > 2 else "dash" if bare in {"-", "–", "—", "‒", "―"} else bare


def _counts_on(a: str, b: str) -> bool:
    letters_a, number_a = letters_and_number(re.split(r"[^A-Za-z0-9]+", a.strip(" ,;"))[-1])
    letters_b, number_b = letters_and_number(re.split(r"[^A-Za-z0-9]+", b.strip(" ,;"))[0])
    if letters_a == letters_b:
        return 0 < number_b - number_a <= 8 if number_a or number_b else False
    if number_a == number_b == 0 and len(letters_a) == len(letters_b) == 1:
        return 0 < ord(letters_b) - ord(letters_a) <= 3
    return letters_b > letters_a and number_b <= 2


def _is_list(items: Sequence[Item]) -> bool:
    """Numbered steps and contents are no pins: without a word for cavity the texts are names, not prose."""
    texts = [join_words(i.rest) for i in items if i.rest]
    if len(texts) < _fewest(items) or not items[0].rest:
        return False
    if all(t.split()[-1].strip(".").isdigit() for t in texts) and _kind(items[0].sign) == "leader":
        return False  # a table of contents
    if items[0].label:
        return True
    if all(CAVITY.fullmatch(i.rest[0].text) and _counts_on(i.cavity, i.rest[0].text) for i in items):
        return False  # cavities side by side, each with its text on the outer side
    if all(fold(t) in words_of("unused") for t in texts):
        return False  # rows of a table, whose other cells are dashes
    prose = [t for t in texts if t.endswith((".", ";", ":")) and len(t.split()) > SHORT]
    return len(prose) < PROSE * len(texts)


def list_to_bands(items: Sequence[Item], lines: Sequence[Line]) -> tuple[list[Band], list[float], str]:
    """Return bands of two columns (cavity, text), their borders, and the word printed before cavities.

    Lines that stand under an item's text and begin no item go on its text.
    """
    left = min(i.box.x0 for i in items) - 1.0
    border = min(w.box.x0 for i in items for w in i.rest[:1]) - 0.5
    right = max(i.box.x1 for i in items) + 1.0
    bands = []
    for n, item in enumerate(items):
        rest = _whole_rest(items, n, lines, border, right)
        box = box_of((*item.mark, *rest))
        cells = (_cell(item.mark, box, item.cavity), _cell(rest, box, join_words(rest)))
        whole = Box(x0=left, top=box.top, x1=right, bottom=box.bottom)
        bands.append(Band(cells=cells, box=whole, ruled=True))
    return bands, [left, border, right], items[0].label


def _cell(words: Sequence[Word], row: Box, text: str) -> Cell:
    box = box_of(words) if words else row
    return Cell(text=text, box=box, words=tuple(words), lines=(text,) if text else ())


def _whole_rest(
    items: Sequence[Item], n: int, lines: Sequence[Line], border: float, right: float
) -> tuple[Word, ...]:
    item = items[n]
    used = {id(w) for i in items for w in (*i.mark, *i.rest)}
    floor = items[n + 1].box.top if n + 1 < len(items) else item.box.bottom + 1.2 * item.box.height
    more = [
        w
        for line in lines
        if item.box.bottom - 1 <= line.box.top < floor - 1 and line.box.x0 >= border - 2
        for w in line.words
        if id(w) not in used and w.box.x0 < right
    ]
    return tuple(w for w in (*item.rest, *more) if not SIGN.fullmatch(w.text))
