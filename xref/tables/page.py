"""What a page worker hands back: the tables of one page, its colour key, and what became of the page."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median
from typing import Literal

from xref.colors.key import read_key
from xref.colors.keytext import key_pairs_in_text
from xref.pages.blanknotes import BlankNote, lines_to_notes
from xref.pages.content import PageContent
from xref.pages.printed import NO_TEXT, Printed, PrintedText, pack_tokens
from xref.records import Box
from xref.tables.find import Choose, first_reading, page_to_tables
from xref.tables.lines import Line, box_of, join_words, line_to_chunks, words_to_lines
from xref.tables.pagecolumns import page_columns
from xref.tables.surroundings import texts_apart
from xref.tables.table import Band, Cell, Table

#: A line goes on with the one above where it stands at most so many font sizes below it.
PARAGRAPH = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class PageReading:
    """One page as read or skipped. `frame` is the page without its words, to place boxes."""

    page: int
    label: str
    outcome: Literal["read", "skipped", "unread"]
    why: str
    tables: tuple[Table, ...] = ()
    key_pairs: tuple[tuple[str, str], ...] = ()  #: codes and colour words, where they make a key
    frame: PageContent | None = None
    shaky: tuple[tuple[str, Box], ...] = ()  #: doubts about words by what they are drawn like, and where
    apart: tuple[tuple[str, Box], ...] = ()  #: short texts with a digit outside of its tables, and where
    blank_notes: tuple[BlankNote, ...] = ()  #: what it says of blank cells
    printed: PrintedText = NO_TEXT  #: what another way to part the text finds beside its tables

    def to_page(self, box: Box) -> Box:
        """Bring a box of the reading frame to the page as displayed."""
        return self.frame.to_page(box) if self.frame else box


def content_to_reading(content: PageContent, why: str, choose: Choose = first_reading) -> PageReading:
    """Find the tables and the colour-key pairs of a page; `choose` picks the best way to cut each region."""
    tables = _tables(content, choose)
    return PageReading(
        page=content.number,
        label=content.label,
        outcome="read",
        why=why,
        tables=tuple(map(_lightened, tables)),
        apart=texts_apart(content, tables),
        key_pairs=_key(content),
        blank_notes=_blank_notes(content),
        frame=replace(content, words=(), rules=(), fills=()),
        shaky=tuple(_shaky(content)),
    )


def _blank_notes(content: PageContent) -> tuple[BlankNote, ...]:
    """Return the notes on blank cells, whether they have their lines to themselves or not."""
    lines = words_to_lines(content.words)
    found = tuple(lines_to_notes([(line.text, line.box) for line in lines]))
    if found:
        return found
    chunks = [chunk for line in lines for chunk in line_to_chunks(line)]
    return tuple(lines_to_notes([(join_words(c), box_of(c)) for c in chunks]))


def _tables(content: PageContent, choose: Choose) -> list[Table]:
    """Return the tables of a page, column by column where it is set in two."""
    sides = [page_to_tables(side, choose) for side in page_columns(content)]
    seen: list[Table] = []
    for n, tables in enumerate(sides):
        for table in tables:
            if n and any(t.box == table.box for t in sides[0]):
                continue  # over both columns
            first, last = table.first_on_page and n == 0, table.last_on_page and n == len(sides) - 1
            seen.append(replace(table, number=len(seen) + 1, first_on_page=first, last_on_page=last))
    return seen


def _shaky(content: PageContent) -> Iterator[tuple[str, Box]]:
    """Yield what makes single words doubtful, whatever table they stand in."""
    for word in content.words:
        if word.underlay:
            yield "under-watermark", word.box
        if word.unmapped:
            yield "unmapped-characters", word.box
        if word.hidden:
            yield "text-guessed", word.box


def with_printed(reading: PageReading, tokens: Sequence[Printed]) -> PageReading:
    """Keep of the page's other text what stands at the height of a table, beside the table, too."""
    heights = [(t.box.top, t.box.bottom) for t in reading.tables]
    kept = (t for t in tokens if any(top <= t.middle <= bottom for top, bottom in heights))
    return replace(reading, printed=pack_tokens(kept))


def _lightened(table: Table) -> Table:
    """Drop the words of a table whose columns are settled: only one without header may be cut anew."""
    sizes = [w.size for band in table.bands[:6] for cell in band.cells for w in cell.words]
    table = replace(table, size=median(sizes) if sizes else table.size)
    if not table.has_header:
        return table
    bands = tuple(
        Band(cells=tuple(map(_without_words, band.cells)), box=band.box, ruled=band.ruled)
        for band in table.bands
    )
    around = tuple(replace(a, line=_bare(a.line)) for a in table.around)
    return replace(table, bands=bands, around=around)


def _without_words(cell: Cell) -> Cell:
    # Spelled out, because a page has hundreds of them and `replace` takes five times as long.
    return Cell(
        text=cell.text,
        box=cell.box,
        lines=cell.lines,
        row_span=cell.row_span,
        col_span=cell.col_span,
        first=cell.first,
        cut=cell.cut,
    )


def _bare(line: Line) -> Line:
    """Keep a line's texts and boxes without the edges of every character."""
    return replace(line, words=tuple(replace(w, edges=()) for w in line.words))


def _key(content: PageContent) -> tuple[tuple[str, str], ...]:
    """Return the pairs of a page that prints a colour key; of any other page they are of no use."""
    pairs = _key_pairs(content)
    return tuple(pairs) if read_key(pairs) is not None else ()


def _key_pairs(content: PageContent) -> list[tuple[str, str]]:
    """Collect (code, colour word) pairs: neighbours on a line, and `BK = black` texts."""
    pairs: list[tuple[str, str]] = []
    for paragraph in _paragraphs(words_to_lines(content.words)):
        beside: list[tuple[str, str]] = []
        for line in paragraph:
            chunks = [" ".join(w.text for w in c) for c in line_to_chunks(line)]
            beside += [(a, b) for a, b in itertools.pairwise(chunks) if len(a) <= 6 or len(b) <= 6]
        pairs += beside
        pairs += [p for p in key_pairs_in_text("\n".join(line.text for line in paragraph)) if p not in beside]
    return pairs


def _paragraphs(lines: Sequence[Line]) -> list[list[Line]]:
    """Part lines where the next one stands far below."""
    out: list[list[Line]] = []
    for line in lines:
        if out and -line.size <= line.box.top - out[-1][-1].box.bottom <= PARAGRAPH * line.size:
            out[-1].append(line)
        else:
            out.append([line])
    return out
