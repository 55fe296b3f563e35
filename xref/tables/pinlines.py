"""Lists of pins that are no tables: `Pin 7 – lamp output`, `1) GND`, `A3 ..... 1440 BU/YE`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from xref.colors.recognise import color_likeness
from xref.data.words import fold, words_of
from xref.pages.content import Word
from xref.records import Box
from xref.tables.lines import Line, box_of, join_words
from xref.tables.table import Band, Cell
from xref.tables.vocabulary import header_roles

#: The cavity at the head of an item, with the sign that parts it from the rest.
CAVITY = re.compile(r"(?:[A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])")
SIGN = re.compile(r"[:=.)\]–—‒―→・-]+|\.{2,}|…+|[.…·_\s]{2,}")
GLUED = re.compile(rf"({CAVITY.pattern})\s*([:=)\]–—‒→-]+|\.(?=\s|$))\s*(.*)")
#: An item begins a line, or stands off from what is before it by this many font sizes.
STANDS_OFF = 1.2
#: So many items in order make a list.
FEWEST = 3
#: Items of one list begin at the same place, within this many points.
ALIGNED = 4.0
#: Items stand no further apart than this many of their usual pitch.
PITCH = 2.4
#: Colours (circuits) with which this share of the texts begins or ends are a column.
TYPED = 0.8
CLEAR_COLOR = 0.75
#: Without a word for cavity before them, items are taken only while their texts are this short (words).
SHORT = 5


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
    return [items for items in closed if len(items) >= FEWEST and _is_list(items)]


def line_to_items(line: Line) -> list[Item]:
    """Return the items of a line: usually one, several where lists stand side by side."""
    starts: list[tuple[int, Item]] = []
    for i, word in enumerate(line.words):
        gap = word.box.x0 - line.words[i - 1].box.x1 if i else STANDS_OFF * line.size
        item = _item_at(line.words, i) if gap >= STANDS_OFF * line.size else None
        if item is not None:
            starts.append((i, item))
    out = []
    for n, (i, item) in enumerate(starts):
        end = starts[n + 1][0] if n + 1 < len(starts) else len(line.words)
        used = len(item.mark)
        rest = (*item.rest, *line.words[i + used : end])
        if rest:
            out.append(replace(item, rest=rest, box=box_of((*item.mark, *rest))))
    return out


def _item_at(words: Sequence[Word], i: int) -> Item | None:
    """Read label, cavity and sign from the words at a place; None when no item begins there."""
    for size in (3, 2, 1, 0):
        label = " ".join(w.text for w in words[i : i + size])
        if size and header_roles(label.rstrip(":.")).get("cavity", 0.0) < 1.0:
            continue
        at = i + size
        if at >= len(words):
            continue
        glued = GLUED.fullmatch(words[at].text)
        if glued and not re.fullmatch(r"\d+[.,-]\d+.*", words[at].text):
            return _item(words[i : at + 1], label, glued.group(1), glued.group(2), glued.group(3))
        if CAVITY.fullmatch(words[at].text) and at + 1 < len(words):
            following = words[at + 1].text
            if SIGN.fullmatch(following):
                return _item(words[i : at + 2], label, words[at].text, following, "")
            if label and fold(label):
                return _item(words[i : at + 1], label, words[at].text, "", "")
    return None


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
    """True when an item goes on a list: it stands under the last one, in the same way, and counts on."""
    last = items[-1]
    if item.label != last.label or _kind(item.sign) != _kind(last.sign):
        return False
    height = last.box.height or 1.0
    gap = item.box.top - last.box.bottom
    aligned = abs(item.mark[0].box.x0 - last.mark[0].box.x0) <= ALIGNED or (
        abs(item.mark[-1].box.x1 - last.mark[-1].box.x1) <= ALIGNED
    )
    return (
        aligned
        and item.box.top - last.box.top > 0
        and gap <= PITCH * height
        and _counts_on(last.cavity, item.cavity)
    )


def _kind(sign: str) -> str:
    bare = sign.strip()
    return "leader" if len(bare) > 2 else "dash" if bare in {"-", "–", "—", "‒", "―"} else bare


def _counts_on(a: str, b: str) -> bool:
    letters_a, number_a = _parts(a)
    letters_b, number_b = _parts(b)
    if letters_a == letters_b:
        return 0 < number_b - number_a <= 8 if number_a or number_b else False
    if number_a == number_b == 0 and len(letters_a) == len(letters_b) == 1:
        return 0 < ord(letters_b) - ord(letters_a) <= 3
    return letters_b > letters_a and number_b <= 2


def _parts(name: str) -> tuple[str, int]:
    digits = "".join(c for c in name if c.isdecimal())
    return "".join(c for c in name if not c.isdecimal()), int(digits) if digits else 0


def _is_list(items: Sequence[Item]) -> bool:
    """Numbered steps and contents are no pins: without a word for cavity the texts are names, not prose."""
    texts = [join_words(i.rest) for i in items]
    if all(t.split()[-1].strip(".").isdigit() for t in texts) and _kind(items[0].sign) == "leader":
        return False  # a table of contents
    if items[0].label:
        return True
    if all(fold(t) in words_of("unused") for t in texts):
        return False  # rows of a table, whose other cells are dashes
    lengths = [len(t.split()) for t in texts]
    prose = [t for t in texts if t.endswith((".", ";", ":")) and len(t.split()) > 3]
    return median(lengths) <= SHORT and not prose


def list_to_bands(items: Sequence[Item], lines: Sequence[Line]) -> tuple[list[Band], list[float], str]:
    """Return bands (cavity, then the parts of the text), the borders, and the word printed before cavities.

    Lines that stand under an item's text and begin no item go on its text. Colours and circuit numbers with
    which nearly all texts begin or end are columns of their own.
    """
    left = min(i.box.x0 for i in items) - 1.0
    border = min(w.box.x0 for i in items for w in i.rest[:1]) - 0.5
    right = max(i.box.x1 for i in items) + 1.0
    rests = [_whole_rest(items, n, lines, border, right) for n in range(len(items))]
    parts = split_typed_ends(rests)
    bands = []
    for item, columns in zip(items, parts, strict=True):
        box = box_of((*item.mark, *(w for column in columns for w in column)))
        cells = [_cell(item.mark, box, item.cavity), *(_cell(c, box, join_words(c)) for c in columns)]
        whole = Box(x0=left, top=box.top, x1=right, bottom=box.bottom)
        bands.append(Band(cells=tuple(cells), box=whole, ruled=True))
    width = (right - border) / len(parts[0])
    edges = [left, *(border + n * width for n in range(len(parts[0]))), right]
    return bands, edges, items[0].label


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


def split_typed_ends(rests: Sequence[tuple[Word, ...]]) -> list[list[tuple[Word, ...]]]:
    """Part texts into columns: what nearly all of them begin or end with, by its kind, and the middle."""
    middle = [list(r) for r in rests]
    before: list[list[tuple[Word, ...]]] = [[] for _ in rests]
    after: list[list[tuple[Word, ...]]] = [[] for _ in rests]
    for end in (0, -1):
        for kind in (_is_color, _is_circuit, _is_color):
            said = [
                n for n, words in enumerate(middle) if len(words) > 1 or (words and kind(words[end].text))
            ]
            like = [n for n in said if kind(middle[n][end].text.strip(",;:/|"))]
            if len(like) < FEWEST or len(like) < TYPED * len(said):
                continue
            for n in range(len(middle)):
                taken = (middle[n].pop(end),) if n in like else ()
                clean = tuple(replace(w, text=w.text.strip(",;:/|")) for w in taken)
                if end == 0:
                    before[n].append(clean)
                else:
                    after[n].insert(0, clean)
    return [[*before[n], tuple(middle[n]), *after[n]] for n in range(len(rests))]


def _is_color(text: str) -> bool:
    return color_likeness(text.strip("()[]")) >= CLEAR_COLOR


def _is_circuit(text: str) -> bool:
    return len(text) >= 3 and any(c.isdigit() for c in text) and bool(re.fullmatch(r"[\w./+-]+", text))
