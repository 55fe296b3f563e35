"""One page to its tables: ruled ones first, then those that only header words and rivers show."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Literal

from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.aligned import Block, header_to_readings
from xref.tables.cells import inside, lines_inside
from xref.tables.facecells import boxes_to_list
from xref.tables.grid import Grid, rules_to_grids
from xref.tables.headerband import HeaderBand, header_band
from xref.tables.headerfill import Header, headers_on_grounds
from xref.tables.headerless import blocks_without_header
from xref.tables.headerrest import whole_header
from xref.tables.headers import find_headers
from xref.tables.linecolumns import lines_to_columns
from xref.tables.lines import Line, box_of, words_to_lines
from xref.tables.pinlines import lines_to_lists, list_to_bands, tops_of_items
from xref.tables.ruled import (
    drop_blank_columns,
    explode,
    grid_to_bands,
    has_unknown_header,
    header_depth,
    header_texts,
    is_title_over,
)
from xref.tables.signallists import signal_lists
from xref.tables.surroundings import grid_above, lines_around, pairs_of_grid, pairs_of_lines
from xref.tables.table import Around, Band, Table
from xref.tables.turnover import (
    lines_on_their_side,
    side_bands,
    side_segments,
    stands_on_its_side,
    turn_over,
)
from xref.tables.vocabulary import CAVITY_LIKE, OWN_CAVITY, best_role

#: Lines nearer than this many of their heights are one block of text.
BLOCK_GAP = 1.7
#: A block without header is worth keeping when this share of its first column looks like cavities.
CAVITY_SHARE = 0.6
#: A headerless grid whose cells look like cavities in this share is a picture of a face.
FACE_SHARE = 0.9
#: Height of the strips at head and foot where page headers and footers stand, share of the page.
MARGIN_STRIP = 0.075


Reading = tuple[Table, ...]
"""The tables of one region of a page, cut in one of the ways that make sense."""

Choose = Callable[[Iterable[Reading]], Reading]
"""Picks the best of the readings of a region; it looks at the next only while it is not content."""


def first_reading(readings: Iterable[Reading]) -> Reading:
    """Return the first reading: the choice of those who cannot judge."""
    return next(iter(readings), ())


def page_to_tables(page: PageContent, choose: Choose = first_reading) -> tuple[Table, ...]:
    """Return the tables of a page in reading order (top to bottom, left to right).

    Each region of the page may be cut into tables in several ways; `choose` takes the one that is kept.
    """
    columns = lines_to_columns(words_to_lines(page.words))
    lines = sorted((line for c in columns for line in c), key=lambda line: (line.box.top, line.box.x0))
    tables: list[Table] = []
    pairs: list[tuple[Box, tuple[tuple[str, str], ...]]] = []
    taken: list[Box] = []
    grids = [(grid, *_grid_to_tables(grid, page)) for grid in rules_to_grids(page.rules)]
    for grid, found, head in grids:
        if any(grid.frames(o) and any(t.has_header for t in own) for o, own, _ in grids):
            continue  # a sheet's frame
        if head:
            pairs.append((grid.box, head))
        if found or head:
            taken.append(grid.box)
        band = header_band(grid.box, found[0].edges, page) if len(found) == 1 else None
        if band and not found[0].has_header:
            found = [_under_band(found[0], band)]
            taken.append(band.box)
        if found:
            tables.extend(choose(_readings_of_grid(grid, found, page)))
    for column in columns:
        free = [part for line in column if (part := _outside(line, taken))]
        tables.extend(_lines_to_tables(free, page, choose))
    tables.sort(key=lambda t: (round(t.box.top / 6), t.box.x0))
    return tuple(_with_surroundings(tables, lines, page, pairs))


def _under_band(table: Table, band: HeaderBand) -> Table:
    """Return a grid without a header, with the header that stands on a ground right over it."""
    score, box = _score(band.texts), table.box.union(band.box)
    return replace(table, header=band.texts, groups=band.groups, header_score=score, box=box)


def _readings_of_grid(grid: Grid, found: Sequence[Table], page: PageContent) -> Iterator[Reading]:
    """The grid as ruled, and its lines as if only they were printed: some rules part nothing."""
    yield tuple(found)
    outline = grid.box
    inner = words_to_lines([w for w in page.words if inside(w, outline)])
    for first, end, segments in find_headers(inner)[:1]:
        for blocks in header_to_readings(inner, (first, end), len(inner), segments, page):
            yield tuple(_block_to_table(block, page) for block in blocks)


def _outside(line: Line, taken: Sequence[Box]) -> Line | None:
    """Return the part of a line that is in none of the boxes."""
    words = tuple(w for w in line.words if not any(inside(w, box) for box in taken))
    if len(words) == len(line.words):
        return line
    return Line(words=words, box=box_of(words), size=line.size) if words else None


def _grid_to_tables(grid: Grid, page: PageContent) -> tuple[list[Table], tuple[tuple[str, str], ...]]:
    """Read one grid: tables (one for each header in it), or the key/value head of a connector."""
    bands, edges = drop_blank_columns(grid_to_bands(grid, page), grid.xs)
    bands = [b for b in bands if any(c.text for c in b.cells)]
    if not bands or len(edges) < 3:
        return [], ()
    starts = _header_places(bands)
    if stands_on_its_side(bands):
        return [_turned_table(bands, edges, page, "ruled")], ()
    if not starts:
        face = boxes_to_list(bands)
        if face is not None:
            return [_list_table(page, *face)], ()
        head = pairs_of_grid(bands)
        return ([], head) if head else ([_ruled_table(page, edges, bands, 0, 0, 0, len(bands))], ())
    tables = []
    leading = pairs_of_grid(bands[: starts[0][0]])
    for n, (begin, end) in enumerate(starts):
        stop = starts[n + 1][0] if n + 1 < len(starts) else len(bands)
        low = 0 if n == 0 else begin
        while n + 1 < len(starts) and stop - 1 > end and _is_title(bands[stop - 1]):
            stop -= 1
        if n > 0:
            while low - 1 >= starts[n - 1][1] and _is_title(bands[low - 1]):
                low -= 1
        tables.append(_ruled_table(page, edges, bands, low, begin, end, stop))
    if leading:
        tables[0] = replace(tables[0], head=leading)
    return tables, ()


def _list_table(page: PageContent, bands: Sequence[Band], edges: Sequence[float], label: str = "") -> Table:
    header = (label, *([""] * (len(edges) - 2)))
    return Table(
        page=page.number,
        number=0,
        kind="list",
        box=bands[0].box.union(bands[-1].box),
        edges=tuple(edges),
        header=header,
        header_score=_score(header),
        bands=tuple(bands),
        groups=("",) * len(header),
    )


def _header_places(bands: Sequence[Band]) -> list[tuple[int, int]]:
    """Return (begin, end) of every header in the bands of a grid."""
    places = []
    at = 0
    while at < len(bands):
        begin, end = header_depth(bands[at:])
        if end == 0:
            at += 1
            continue
        places.append((at + begin, at + end))
        at += end
    return places


def _is_title(band: Band) -> bool:
    return sum(1 for c in band.cells if c.text) == 1 and max(c.col_span for c in band.cells) > 1


def _ruled_table(
    page: PageContent,
    edges: Sequence[float],
    bands: Sequence[Band],
    low: int,
    begin: int,
    end: int,
    stop: int,
) -> Table:
    header, groups = header_texts(bands, begin, end) if end > begin else (("",) * (len(edges) - 1),) * 2
    if end == begin and has_unknown_header(bands[low:stop]):
        header, end = tuple(c.text for c in bands[low].cells), low + 1
    titles = [b for b in bands[low:begin] if any(c.text for c in b.cells)]
    titles += [b for b in bands[begin:end] if is_title_over(b)]
    body = [part for band in bands[end:stop] for part in explode(band, edges)]
    around = tuple(
        Around(line=line, where="title", gap=0.0)
        for band in titles
        for line in lines_inside(words_to_lines([w for c in band.cells for w in c.words]), band.box)
    )
    whole = bands[low].box.union(bands[stop - 1].box)
    return Table(
        page=page.number,
        number=0,
        kind="ruled",
        box=whole,
        edges=tuple(edges),
        header=header,
        header_score=_score(header),
        bands=tuple(body),
        groups=groups,
        around=around,
    )


def _score(header: Sequence[str]) -> float:
    named = [t for t in header if t]
    return sum(best_role(t)[1] for t in named) / len(named) if named else 0.0


def _lines_to_tables(lines: Sequence[Line], page: PageContent, choose: Choose) -> list[Table]:
    tables = _side_tables(lines, page)
    tables += signal_lists(lines, page)
    boxes = [t.box for t in tables]
    lines = [part for line in lines if (part := _outside(line, boxes))]
    items = tops_of_items(lines)
    headers = [h for h in find_headers(lines) if not any(x.box.top in items for x in lines[h[0] : h[1]])]
    grounded = headers_on_grounds(headers, lines, page)
    for n, whole in enumerate(grounded):
        stop = grounded[n + 1][0] if n + 1 < len(grounded) else len(lines)
        own = [h for h in headers if whole[0] <= h[0] < whole[1]]
        ways = [_under_headers(own, lines, stop, page, choose)]
        ways += [] if own == [whole] else [_under_headers([whole], lines, stop, page, choose)]
        tables.extend(choose(ways) if len(ways) > 1 else ways[0])
    heads = {id(line) for first, end, _ in headers for line in lines[first:end]}
    boxes = [t.box for t in tables]
    rest = [part for line in lines if id(line) not in heads and (part := _outside(line, boxes))]
    tables.extend(_pin_lists(rest, page))
    boxes = [t.box for t in tables]
    rest = [part for line in rest if (part := _outside(line, boxes))]
    rest = [line for n, line in enumerate(rest) if not _marginal(line, page) or _runs_in(rest, n, page)]
    for group in _runs(rest):
        bare = [b for b in blocks_without_header(group, page) if _cavities_first(b)]
        tables.extend(choose((_block_to_table(b, page),) for b in bare))
    return tables


def _under_headers(
    headers: Sequence[Header], lines: Sequence[Line], stop: int, page: PageContent, choose: Choose
) -> Reading:
    """Return the tables under headers that follow one another, up to line `stop`."""
    found: list[Table] = []
    for n, (first, end, segments) in enumerate(headers):
        last = headers[n + 1][0] if n + 1 < len(headers) else stop
        blocks = header_to_readings(lines, (first, end), last, segments, page)
        found += choose(tuple(_block_to_table(b, page) for b in reading) for reading in blocks)
    return tuple(found)


def _side_tables(lines: Sequence[Line], page: PageContent) -> list[Table]:
    """Find tables without rules that stand on their side."""
    tables: list[Table] = []
    for n, line in enumerate(lines):
        segments = side_segments(line)
        own = lines_on_their_side(lines, n) if segments else []
        if any(t.box.top <= line.box.top <= t.box.bottom for t in tables):
            continue
        for rows in (own, [x for x in own if x.box.top >= line.box.top]):
            bands, edges = side_bands(rows, segments)
            if stands_on_its_side(bands):
                tables.append(_turned_table(bands, edges, page, "aligned"))
                break
    return tables


def _turned_table(
    bands: Sequence[Band], edges: Sequence[float], page: PageContent, kind: Literal["ruled", "aligned"]
) -> Table:
    header, upright, borders = turn_over(bands, edges)
    box = bands[0].box.union(bands[-1].box)
    return Table(
        page=page.number,
        number=0,
        kind=kind,
        box=box,
        edges=borders,
        header=header,
        header_score=_score(header),
        bands=tuple(upright),
        groups=("",) * len(header),
    )


def _pin_lists(lines: Sequence[Line], page: PageContent) -> list[Table]:
    return [_list_table(page, *list_to_bands(items, lines)) for items in lines_to_lists(lines)]


def _runs_in(lines: Sequence[Line], n: int, page: PageContent) -> bool:
    """A line in the page's margin that a line of the page follows as closely as rows do is no page header."""
    line = lines[n]
    others = lines[n + 1 : n + 2] if line.box.top < page.height / 2 else lines[max(n - 1, 0) : n]
    gaps = [max(o.box.top - line.box.bottom, line.box.top - o.box.bottom) for o in others]
    alike = all(abs(o.size - line.size) < 0.5 for o in others)
    return bool(gaps) and alike and gaps[0] <= BLOCK_GAP * line.box.height and len(line.words) > 1


def _marginal(line: Line, page: PageContent) -> bool:
    return line.box.bottom < MARGIN_STRIP * page.height or line.box.top > (1 - MARGIN_STRIP) * page.height


def _runs(lines: Sequence[Line]) -> list[list[Line]]:
    runs: list[list[Line]] = []
    for line in lines:
        if runs:
            last = runs[-1][-1]
            near = line.box.top - last.box.bottom <= BLOCK_GAP * max(last.box.height, line.box.height)
            if near and abs(line.size - last.size) < 0.2 * last.size:
                runs[-1].append(line)
                continue
        runs.append([line])
    return runs


def _cavities_first(block: Block) -> bool:
    """True when some column of the block looks like cavities from top to bottom."""
    for j in range(len(block.edges) - 1):
        texts = [b.cells[j].text for b in block.bands if b.cells[j].text]
        like = [t for t in texts if CAVITY_LIKE.fullmatch(t) or OWN_CAVITY.fullmatch(t)]
        if (
            len(like) >= 2
            and len(like) >= CAVITY_SHARE * len(block.bands)
            and len(set(like)) > 0.7 * len(like)
        ):
            return True
    return False


def _block_to_table(block: Block, page: PageContent) -> Table:
    title = (Around(line=block.title, where="title", gap=0.0),) if block.title else ()
    header, bands = whole_header(block.header, block.bands)
    return Table(
        page=page.number,
        number=0,
        kind="aligned",
        box=block.box,
        edges=block.edges,
        header=header,
        header_score=_score(header),
        bands=bands,
        groups=block.groups,
        around=title,
        lost=block.lost,
        split=block.split,
    )


def _with_surroundings(
    tables: Sequence[Table],
    lines: Sequence[Line],
    page: PageContent,
    grids: Sequence[tuple[Box, tuple[tuple[str, str], ...]]],
) -> list[Table]:
    """Number the tables and note the lines near each that may name its connector."""
    boxes = [t.box for t in tables if not _is_face(t)]
    faces = [t.box for t in tables if _is_face(t)]
    lines = [own for line in lines if (own := _outside(line, faces)) is not None]
    out = []
    for n, table in enumerate(tables):
        around = lines_around(table, boxes, lines, page)
        head = table.head or pairs_of_lines(around) or grid_above(table, grids, boxes)
        above = [line for line in lines if line.box.bottom <= table.box.top and not _marginal(line, page)]
        below = [line for line in lines if line.box.top >= table.box.bottom and not _marginal(line, page)]
        out.append(
            replace(
                table,
                number=n + 1,
                around=(*table.around, *around),
                head=head,
                first_on_page=not above,
                last_on_page=not below,
            )
        )
    return out


def _is_face(table: Table) -> bool:
    """A drawn face of a connector: a grid of cavities without header. It parts no heading from its table."""
    texts = [c.text for b in table.bands for c in b.cells if c.text]
    like = sum(bool(CAVITY_LIKE.fullmatch(t)) for t in texts)
    return not table.has_header and like >= FACE_SHARE * len(texts)
