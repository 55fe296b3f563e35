"""Lists that are told by signals: `GND: H1-29, H2-4` line by line, and `Pins: 1 GND, 2 +5V, 3 CAN_H`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from xref.pages.content import PageContent, Word
from xref.records import Box
from xref.tables.lines import Line, box_of, join_words
from xref.tables.table import Band, Cell, Table
from xref.tables.vocabulary import header_roles

#: One place: a connector with one of its cavities, `H1-29`, `K3/6`, `X5:A1`.
PLACE = re.compile(r"[A-Z]{1,3}\d{1,3}[-:./][A-Z]{0,2}\d{1,3}")
#: What stands before the places: a name of few words, and the sign behind it.
NAMED = re.compile(r"(\S+(?: \S+){0,3}?)\s*[:=]")
#: The name of a signal: one token without small letters, as `CAN_H`, `!RESET`, `+24V`.
SIGNAL = re.compile(r"[!~/#+\-]?(?=[A-Z0-9_+\-./#*]*[A-Z+])[A-Z0-9][A-Z0-9_+\-./#*]*")
#: A number with the sign that may be glued to it, and to the name: `3`, `3:`, `3=GND`.
NUMBER = re.compile(r"(\d{1,3})(?:[:=](\S*))?")
#: A word for cavities scores this much at least, its plural too.
WORD = 0.95
#: So many lines, or pins told one behind the other, make a list.
FEWEST_LINES = 3
FEWEST_PINS = 3
#: The lines of a list stand no further apart than this many of their heights.
PITCH = 1.6
#: Pins told one behind the other skip at most so many that are not used.
MOST_SKIPPED = 8


def signal_lists(lines: Sequence[Line], page: PageContent) -> list[Table]:
    """Return the lists of both kinds among lines of a page."""
    return [*_place_lists(lines, page), *_told_lists(lines, page)]


def _place_lists(lines: Sequence[Line], page: PageContent) -> list[Table]:
    """Lines that each name a signal and its places; at least one signal has several."""
    tables: list[Table] = []
    run: list[tuple[Line, int]] = []
    for line in [*lines, None]:
        at = _places_from(line) if line else 0
        if line and at and (not run or _near(run[-1][0], line)):
            run.append((line, at))
            continue
        if len(run) >= FEWEST_LINES and any(len(ln.words) - n > 1 for ln, n in run):
            rows = [(ln.words[:n], ln.words[n:]) for ln, n in run]
            tables.append(_table([r for r in rows if r[0] and r[1]], page, "", ":="))
        run = [(line, at)] if line and at else []
    return tables


def _places_from(line: Line) -> int:
    """Return at which word of a line its places begin; 0 when it is no line of the kind."""
    for n in range(1, len(line.words)):
        if NAMED.fullmatch(join_words(line.words[:n])):
            places = [p for p in re.split(r"[,;\s]+", join_words(line.words[n:])) if p]
            return n if places and all(PLACE.fullmatch(p) for p in places) else 0
    return 0


def _told_lists(lines: Sequence[Line], page: PageContent) -> list[Table]:
    """Pins told one behind the other, under or behind a word for them that ends with a colon."""
    tables: list[Table] = []
    for n, line in enumerate(lines):
        label, rest = _label(line)
        if not label:
            continue
        items = _told(rest, 0) if rest else []
        if rest and not items:
            continue
        last = line
        for below in lines[n + 1 :]:
            more = _told(below.words, int(items[-1][0][0].text) if items else 0) if _near(last, below) else []
            if not more:
                break
            items += more
            last = below
        if len(items) >= FEWEST_PINS:
            tables.append(_table(items, page, label, "", head=line.box))
    return tables


def _label(line: Line) -> tuple[str, tuple[Word, ...]]:
    """Return the word for cavities at the head of a line, up to its colon, and what follows."""
    for n, word in enumerate(line.words[:3], start=1):
        if word.text.endswith((":", "：")):
            label = join_words(line.words[:n]).rstrip(":： ")
            known = header_roles(label).get("cavity", 0.0) >= WORD
            return (label, line.words[n:]) if known else ("", ())
    return "", ()


def _told(words: Sequence[Word], last: int) -> list[tuple[tuple[Word, ...], tuple[Word, ...]]]:
    """Read a line as numbers that count on, each with the name of a signal; [] when it is anything else."""
    items: list[tuple[tuple[Word, ...], tuple[Word, ...]]] = []
    at = 0
    while at < len(words):
        found = NUMBER.fullmatch(words[at].text.rstrip(",;"))
        if not found or not 0 < int(found.group(1)) - last <= MOST_SKIPPED:
            return []
        number = _cut(words[at], found.group(1))
        glued = (found.group(2) or "").rstrip(",;.")
        at += 1
        if glued:
            name = _cut(words[at - 1], glued)
        elif at < len(words):
            name = _cut(words[at], words[at].text.rstrip(",;."))
            at += 1
        else:
            return []
        if not SIGNAL.fullmatch(name.text):
            return []
        items.append(((number,), (name,)))
        last = int(found.group(1))
    return items


def _cut(word: Word, text: str) -> Word:
    """Return the part of a word that says a text."""
    return Word(text=text, box=word.box, size=word.size, bold=word.bold)


def _near(above: Line, below: Line) -> bool:
    gap = below.box.top - above.box.bottom
    return gap <= PITCH * above.box.height and min(above.box.x1, below.box.x1) > max(
        above.box.x0, below.box.x0
    )


def _table(
    rows: Sequence[tuple[Sequence[Word], Sequence[Word]]],
    page: PageContent,
    label: str,
    signs: str,
    *,
    head: Box | None = None,
) -> Table:
    boxes = [box_of([*one, *two]) for one, two in rows]
    box = Box(
        x0=min(b.x0 for b in boxes),
        top=head.top if head else boxes[0].top,
        x1=max(b.x1 for b in boxes),
        bottom=boxes[-1].bottom,
    )
    bands = []
    for (one, two), own in zip(rows, boxes, strict=True):
        texts = join_words(one).rstrip(f"{signs} "), join_words(two)
        cells = [
            Cell(text=t, box=box_of(words), words=tuple(words), lines=(t,))
            for t, words in zip(texts, (one, two), strict=True)
        ]
        bands.append(Band(cells=tuple(cells), box=own, ruled=True))
    border = min(w.box.x0 for _, two in rows for w in two[:1]) - 0.5
    return Table(
        page=page.number,
        number=0,
        kind="list",
        box=box,
        edges=(box.x0 - 1.0, border, box.x1 + 1.0),
        header=(label, ""),
        header_score=1.0 if label else 0.0,
        bands=tuple(bands),
        groups=("", ""),
    )
