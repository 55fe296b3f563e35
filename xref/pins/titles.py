"""Names of connectors that were taken into a table: its title rows, its last row, the last row above it."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from dataclasses import replace
from typing import Literal

from xref.pages.content import Word
from xref.pins.designators import DESIGNATOR, shape_of
from xref.pins.heading import Head, may_name, parse_heading, parse_pairs, without_number
from xref.pins.lines import is_title
from xref.pins.naming import CERTAIN, table_to_namings
from xref.pins.plain import plain
from xref.records import Box
from xref.tables.lines import Line, is_wide_script
from xref.tables.surroundings import pairs_of_table
from xref.tables.table import Around, Band, Cell, Table
from xref.tables.vocabulary import CAVITY_LIKE

#: A title in a cell of its own has so many words at least; a lone designator may be a cell's content.
FEWEST_WORDS = 2
#: A cell over this share of the columns is a title, whatever it says.
SPANNING = 0.6
#: A block of keys and values has no more lines than this.
MOST_HEAD = 6
#: A box with the name of a connector has no more lines than this.
MOST_BOXED = 2
#: A heading and the facts under it that were taken into the table above are no more lines than this.
MOST_LAST = 4
#: A block of keys and values stands this close over its table, points.
RIGHT_OVER = 40.0
#: A cell of this share of a column's form is one of its values; longer texts have no form.
SHARE_ALIKE = 0.2
LONGEST_VALUE = 12
#: Name rows are no more of a table than what is over this share.
FEWEST_ROWS = 0.6
#: A box with a title stands no further over its table than this, points: a face may stand between.
FURTHEST_BOX = 90.0
#: A name with a blank in it before what it belongs to.
SPACED_FIRST = re.compile(r"[A-Z]{1,4} \d{1,3}\s+(?=[^\W\d_]{2})")
#: The last number of a face is at most so many times as large as there are numbers on it.
FULL_FACE = 1.5

Where = Literal["title", "above"]


def with_head_above(table: Table, above: Table | None) -> Table:
    """A block of keys and values that was taken for a table of its own is the head of the one below."""
    if table.head or above is None or not _right_under(table.box, above):
        return table
    pairs = pairs_of_table(above)
    if above.has_header and (parse_pairs(pairs) is None or len(above.bands) > MOST_HEAD):
        return table  # a table of its own; a head cut with the columns of another table names a connector
    return replace(table, head=pairs) if pairs else table


def is_head(table: Table) -> bool:
    """True for a block of keys and values that names a connector: the head of another table."""
    return len(table.bands) <= MOST_HEAD and parse_pairs(pairs_of_table(table)) is not None


def _right_under(box: Box, above: Table) -> bool:
    gap = box.top - above.box.bottom
    return -2 <= gap <= RIGHT_OVER and min(above.box.x1, box.x1) > max(above.box.x0, box.x0)


def with_swallowed_titles(table: Table, above: Table | None, *, own: bool) -> Table:
    """A heading that was taken for the last row of the table above stands over this one all the same.

    `own` says that the last row of the table above names that one.
    """
    if above is None or not above.bands or own:
        return table
    boxed = not above.has_header and len(above.bands) <= MOST_BOXED
    band = _joined(above) if boxed else above.bands[-1]
    if above.kind == "aligned" and not boxed and (title := _title_among_last(table, above)):
        return replace(table, around=(title, *table.around))
    if not _right_under(table.box, replace(above, box=band.box)):
        return table
    gap = table.box.top - band.box.bottom
    title = title_of_band(above, band, "above", gap) or _title_in_pieces(above, band, "above", gap, ())
    title = title or _words_over(table, above, band, gap)
    return replace(table, around=(title, *table.around)) if title else table


def _title_among_last(table: Table, above: Table) -> Around | None:
    """Return the name in one of the last lines under another table, from which on no cavity stands there."""
    for n in range(len(above.bands) - 1, max(len(above.bands) - MOST_LAST, 0), -1):
        band = above.bands[n]
        texts = [c.text for c in band.cells if c.text and c.first]
        if texts and CAVITY_LIKE.fullmatch(texts[0]) and not parse_heading(texts[0]).designator:
            return None
        gap = table.box.top - band.box.bottom
        title = _title_in_pieces(above, band, "above", gap, ())
        if title is not None and gap <= FURTHEST_BOX:
            return title
    return None


def _words_over(table: Table, above: Table, band: Band, gap: float) -> Around | None:
    """Return the words over a table in the last row of the one above, set otherwise than that one's rest."""
    words = [w for c in band.cells if c.first for w in c.words]
    rest = [w for b in above.bands[:-1] for c in b.cells for w in c.words]
    own = tuple(w for w in words if table.box.x0 - w.size <= (w.box.x0 + w.box.x1) / 2 <= table.box.x1)
    if not own or not rest or any(_set(w) == _set(r) for w in own for r in rest):
        return None
    box = Box(
        x0=min(w.box.x0 for w in own),
        top=band.box.top,
        x1=max(w.box.x1 for w in own),
        bottom=band.box.bottom,
    )
    line = Line(words=own, box=box, size=max(w.size for w in own))
    return Around(line=line, where="above", gap=gap) if parse_heading(line.text).designator else None


def _set(word: Word) -> tuple[bool, int]:
    return word.bold, round(2 * word.size)


def own_last_title(table: Table, under: Table | None) -> Around | None:
    """Return the name in the last row of a table: it stands under its table.

    It is its own where nothing over the table names a connector, or where it runs over the whole of a ruled
    table; and not the heading of the table right under it, unless that one has such a last row too.
    """
    if len(table.bands) < 2 or not table.has_header or table.head:
        return None
    title = title_of_band(table, table.bands[-1], "title", 0.0, forms=())
    if title is None or title_of_band(table, table.bands[0], "title", 0.0, forms=()) is not None:
        return None  # a table that opens with a name has its names over the rows
    if not any(a.where in ("above", "title", "beside") for a in table.around):
        return title
    close = under is not None and _right_under(under.box, table)
    if close and under is not None and _last_text(under) is None:
        return None
    filled = [c for c in table.bands[-1].cells if c.text and c.first]
    closed = table.kind == "ruled" and filled[0].col_span >= SPANNING * table.columns
    named = any(
        n.head.designator and n.score >= CERTAIN for n in table_to_namings(table) if n.where != "below"
    )
    return title if closed or not named else None


def _last_text(table: Table) -> Around | None:
    if len(table.bands) < 2 or not table.has_header:
        return None
    return title_of_band(table, table.bands[-1], "title", 0.0, forms=())


def _joined(table: Table) -> Band:
    """Return a small box of texts as one cell."""
    cells = [c for band in table.bands for c in band.cells if c.text and c.first]
    text = " ".join(c.text for c in cells)
    return Band(cells=(Cell(text=text, box=table.box, col_span=table.columns),), box=table.box)


def title_of_band(
    table: Table, band: Band, where: Where, gap: float, *, forms: Container[str] | None = None
) -> Around | None:
    """Return a band that says more than its cells would and names a connector, as a line.

    It holds one text, or the name and what it belongs to in other places than the table's columns. A lone
    designator will do where the forms of the cavities are given and it has none of these.
    """
    cells = [c for c in band.cells if c.text and c.first]
    if not cells:
        return None
    if len(cells) > 1:
        return _title_in_pieces(table, band, where, gap, forms) if forms is not None else None
    text = plain(cells[0].text)
    if CAVITY_LIKE.fullmatch(cells[0].text) and not parse_heading(text).designator:
        return None
    wide = cells[0].col_span >= SPANNING * table.columns
    alone = forms is not None and shape_of(text) not in forms
    if len(text.split()) < FEWEST_WORDS and not wide and not alone:
        return None
    head = parse_heading(text)
    if wide and not head.designator and forms is not None and (own := SPACED_FIRST.match(text)):
        text = f"{own.group().strip()} – {text[own.end() :]}"  # `CN 23 Emergency lowering`
        head = parse_heading(text)
    begins = without_number(text).startswith(head.connector)
    spans = table.kind == "ruled" and wide and is_title(text)
    if not head.designator or not (head.worded or begins or spans):
        return None
    return _around(text, cells[0].box, table, where, gap)


def _around(text: str, box: Box, table: Table, where: Where, gap: float) -> Around:
    word = Word(text=text, box=box, size=table.size)
    return Around(line=Line(words=(word,), box=box, size=table.size), where=where, gap=gap)


def _title_in_pieces(
    table: Table, band: Band, where: Where, gap: float, forms: Container[str]
) -> Around | None:
    """A name row in several pieces: the connector at the left, what it plugs into behind it."""
    pieces = _pieces(band)
    text = " ".join(piece for piece, _ in pieces)
    if not may_name(text):
        return None  # most rows
    head = parse_heading(text)
    if not head.designator:
        head = parse_heading(pieces[0][0])  # `CN 1` is a name where it stands by itself
    if not head.designator or shape_of(head.connector) in forms or not _begins(head, text):
        return None
    said = text[text.find(head.connector) + len(head.connector) :]
    if any(shape_of(m.group()) == shape_of(head.connector) for m in DESIGNATOR.finditer(said)):
        return _titles_side_by_side(table, band, where, gap, forms)
    if not _says_words(said) or any(_is_value(table, band, piece, at) for piece, at in pieces):
        return None
    text = _with_dash(pieces, head)
    return _around(text, band.box, table, where, gap)


def _titles_side_by_side(
    table: Table, band: Band, where: Where, gap: float, forms: Container[str]
) -> Around | None:
    """The names of the tables in one row of tables: each piece begins with one, none is a value."""
    words: list[Word] = []
    for piece, at, box in _boxed_pieces(band):
        head = parse_heading(piece)
        own = head.designator and _begins(head, piece) and shape_of(head.connector) not in forms
        if not own or _is_value(table, band, piece, at):
            return None
        words.append(Word(text=piece, box=box, size=table.size))
    line = Line(words=tuple(words), box=band.box, size=table.size)
    return Around(line=line, where=where, gap=gap) if len(words) > 1 else None


def _pieces(band: Band) -> list[tuple[str, int]]:
    """Return the texts of a band with their columns (-1 for several); words cut at a border are whole."""
    return [(text, at) for text, at, _ in _boxed_pieces(band)]


def _boxed_pieces(band: Band) -> list[tuple[str, int, Box]]:
    pieces: list[tuple[str, int, Box]] = []
    before: Cell | None = None
    for at, cell in enumerate(band.cells):
        if not cell.text or not cell.first:
            before = None
            continue
        text = plain(cell.text)
        if before is not None and before.cut and cell.cut and pieces:
            whole = replace(pieces[-1][2], x1=cell.box.x1)
            pieces[-1] = (pieces[-1][0] + text, -1, whole)
        else:
            pieces.append((text, at if cell.col_span == 1 else -1, cell.box))
        before = cell
    return pieces


def _begins(head: Head, text: str) -> bool:
    """True where a text begins with the name, or with a word for connector before it."""
    before = text[: text.find(head.connector)].strip(" -–—:")
    return not before or (head.worded and len(before.split()) == 1)


def _says_words(text: str) -> bool:
    return any((len(w) > 3 and w.isalpha()) or is_wide_script(w) for w in re.findall(r"\w+", text))


def _is_value(table: Table, band: Band, piece: str, at: int) -> bool:
    """True for a text that stands in its column as other values do; other name rows are no measure."""
    if at < 0 or len(piece) > LONGEST_VALUE:
        return False
    others = [b.cells[at].text for b in _rows_of(table) if b is not band and b.cells[at].text]
    if not others:
        return False
    alike = sum(_form(t) == _form(piece) for t in others)
    return piece in others or (any(c.isdigit() for c in piece) and alike >= SHARE_ALIKE * len(others))


def _rows_of(table: Table) -> list[Band]:
    """Return the bands of a table that do not begin with a name; all of them where too many do."""
    rows = [b for b in table.bands if not _opens(b)]
    return rows if len(rows) >= FEWEST_ROWS * len(table.bands) else list(table.bands)


def _opens(band: Band) -> bool:
    text = " ".join(piece for piece, _ in _pieces(band))
    if not may_name(text):
        return False
    head = parse_heading(text)
    return head.designator and _begins(head, text)


def _form(text: str) -> str:
    return re.sub(r"\d+", "9", re.sub(r"[^\W\d_]+", "a", text))


def _with_dash(pieces: Sequence[tuple[str, int]], head: Head) -> str:
    """Join the pieces so that the name's own one is parted from the rest."""
    own, rest = "", ""
    for piece, _ in pieces:
        if head.connector in own:
            rest = f"{rest} {piece}".strip()
        else:
            own = f"{own} {piece}".strip()
    return f"{own} – {rest}" if rest else own


def table_over(table: Table, tables: Sequence[Table]) -> Table | None:
    """Return the next table above another one, in the same part of the page."""
    over = [
        t
        for t in tables
        if t.box.bottom <= table.box.top + 2 and min(t.box.x1, table.box.x1) > max(t.box.x0, table.box.x0)
    ]
    return max(over, key=lambda t: t.box.bottom, default=None)


def with_box_over(table: Table, tables: Sequence[Table]) -> Table:
    """A small box of texts over a table, or over the picture of a face above it, is a title of the table."""
    over = table_over(table, tables)
    if over is not None and is_face(over):
        over = table_over(over, tables)
    if over is None or over.has_header or len(over.bands) > MOST_BOXED:
        return table
    words = tuple(
        replace(w, text=plain(w.text)) for b in over.bands for c in b.cells if c.first for w in c.words
    )
    if not words or not any(c.isalpha() for w in words for c in w.text):
        return table
    gap = table.box.top - over.box.bottom
    line = Line(words=words, box=over.box, size=max(w.size for w in words))
    if gap > FURTHEST_BOX or any(a.line.box.top > over.box.bottom and _names(a) for a in table.around):
        return table
    return replace(table, around=(Around(line=line, where="title", gap=gap), *table.around))


def is_face(table: Table) -> bool:
    """True for the numbers of a connector's face, each once, that were taken for a table."""
    texts = [t for b in table.bands for c in b.cells if c.text for t in c.text.split()]
    return not table.has_header and bool(texts) and all(CAVITY_LIKE.fullmatch(t) for t in texts)


def is_counted_face(table: Table) -> bool:
    """True for a face that is no rest of a table: its numbers are 1 to the last, hardly one left out."""
    texts = [t for b in table.bands for c in b.cells if c.text for t in c.text.split()]
    numbers = {int(t) for t in texts if t.isdecimal()}
    counted = len(numbers) == len(texts) > 1 and min(numbers) == 1
    return is_face(table) and counted and max(numbers) <= FULL_FACE * len(numbers)


def _names(near: Around) -> bool:
    return near.where == "above" and parse_heading(near.line.text).designator
