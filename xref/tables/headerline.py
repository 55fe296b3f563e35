"""Finding the header of a table without rules: a line (or two) of header words, in segments."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from xref.pages.content import Word
from xref.tables.lines import Line, box_of, is_wide_script, join_words, line_to_chunks
from xref.tables.sidewords import over_sides
from xref.tables.variantheads import are_variants, over_variants, under_one
from xref.tables.vocabulary import (
    best_role,
    names_columns,
    numbers_rows,
    only_header_words,
    split_phrases,
)

#: A segment counts as known from this score on.
KNOWN = 0.6
#: A header that is one by itself scores this much.
WHOLE = 0.9
#: A piece that stands around the middle of a header of more lines needs only this score.
HALF_KNOWN = 0.4
#: Share of a header line's segments that must be known.
KNOWN_SHARE = 0.5
#: A header's next line stands nearer than this many font sizes below it.
NEXT_LINE = 2.1
#: Lines that reach so many font sizes into one another (negative) are set around the middle of one row.
OVERLAP = -0.2
#: Cost of leaving a header segment, or a column, without partner, in points of distance.
SKIP_SEGMENT = 40.0
SKIP_COLUMN = 30.0
#: Where headers stand close or far, a gap of so many font sizes parts two of them.
GAPS = (0.8, 0.45, 0.6, 1.2)
#: A header has at most so many lines below the first found.
MOST_LINES = 3
#: A line of a header has at most so many words; more are running text.
MOST_WORDS = 16
#: So many groups of headers stand side by side at most.
MOST_GROUPS = 3
#: Header words have at most this many words in one segment.
LONGEST_SEGMENT = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A piece of a header that names one column."""

    text: str
    x0: float
    x1: float
    words: tuple[Word, ...] = ()


def line_to_segments(line: Line) -> list[Segment]:
    """Cut a line into header segments: at wide gaps, and between known phrases that stand close."""
    segments: list[Segment] = []
    for chunk in line_to_chunks(replace(line, words=tuple(p for w in line.words for p in _unglued(w)))):
        pieces = [chunk]
        if len(chunk) > 1 and best_role(join_words(chunk))[1] < 1.0:
            parts = _phrases(chunk)
            if all(_names_column(p) for p in _without_number(parts)):
                pieces = parts
        segments.extend(_segment(p) for p in pieces)
    return _with_translations(segments)


def _names_column(words: Sequence[Word]) -> bool:
    """True for a known header; words of other tables (`Code`) part no phrase."""
    role, score = best_role(join_words(words))
    return score >= KNOWN and role != "distractor"


def _without_number(parts: Sequence[tuple[Word, ...]]) -> Sequence[tuple[Word, ...]]:
    """Leave out a first phrase such as `No.`: it heads the column of cavities, though it names none."""
    return parts[1:] if len(parts) > 1 and numbers_rows(join_words(parts[0])) else parts


def segment_variants(lines: Sequence[Line], segments: Sequence[Segment]) -> list[list[Segment]]:
    """Return the ways to part a header into segments: as grown, finer, coarser.

    `Leitungs-Nr. / Farbe` may be one header in two languages or the ends of two; `Circuit Description` one
    phrase or two columns.
    """
    variants = [list(segments)]
    parted = [p for s in segments for p in _at_slash(s)]
    if len(parted) > len(segments):
        variants.append(parted)
    words = [p for s in segments for p in _by_known_words(s)]
    if len(words) > len(segments):
        variants.append(words)
    names = [_segment([w]) for s in segments for w in s.words] if len(lines) == 1 else []
    if len(names) > len(segments) and names_columns([s.text for s in names], KNOWN, KNOWN_SHARE):
        variants.append(names)  # connectors over a matrix stand as close as the words of a phrase
    for gap in GAPS:
        variants.append(_stacked([[_segment(c) for c in line_to_chunks(line, gap)] for line in lines]))
    if len(lines) == 1:
        variants.append(_by_phrases(lines[0]))
    distinct = {tuple(s.text for s in v): v for v in reversed(variants) if len(v) > 1}
    return list(reversed(distinct.values()))


def _stacked(rows: Sequence[Sequence[Segment]]) -> list[Segment]:
    """Merge the lines of a header, each parted at its wide gaps only."""
    out = list(rows[0])
    for row in rows[1:]:
        out = merge_segments(out, row)
    return out


def _by_known_words(seg: Segment) -> list[Segment]:
    """Part a segment of words that each name a column, and not the same one."""
    words = [piece for word in seg.words for piece in _known_pieces(word)]
    roles = [best_role(w.text) for w in words]
    if len(words) < 2 or any(score < 1.0 for _, score in roles) or len({r for r, _ in roles}) < len(words):
        return [seg]
    return [_segment([w]) for w in words]


def _known_pieces(word: Word) -> list[Word]:
    """Part a word of a script without blanks into the longest known words; any other stays whole."""
    if not is_wide_script(word.text) or best_role(word.text)[1] >= 1.0 or len(word.edges) != len(word.text):
        return [word]
    pieces: list[Word] = []
    at = 0
    while at < len(word.text):
        ends = range(len(word.text), at, -1)
        end = next((e for e in ends if best_role(word.text[at:e])[1] >= 1.0), 0)
        if not end:
            return [word]
        box = replace(word.box, x0=word.edges[at][0], x1=word.edges[end - 1][1])
        pieces.append(replace(word, text=word.text[at:end], box=box, edges=word.edges[at:end]))
        at = end
    return pieces


def _at_slash(seg: Segment) -> list[Segment]:
    """Part a segment at a slash that stands between its words."""
    at = next((n for n, w in enumerate(seg.words) if w.text in ("/", "|") or w.text.endswith("/")), None)
    if at is None:
        return [seg]
    left = seg.words[: at + (seg.words[at].text not in ("/", "|"))]
    right = seg.words[at + 1 :]
    return [_segment(left), _segment(right)] if left and right else [seg]


def _by_phrases(line: Line) -> list[Segment]:
    """Part a whole line into known phrases, whatever the gaps between its words are."""
    return _with_translations([_segment(p) for p in _phrases(line.words)])


def _phrases(words: Sequence[Word]) -> list[tuple[Word, ...]]:
    """Part words into known phrases; a phrase and its translation behind a slash stay together."""
    starts = split_phrases([w.text for w in words])
    starts = [a for a in starts if a > 0 and not _joined(words[a - 1].text, words[a].text)]
    starts = [0, *starts]
    return [tuple(words[a:b]) for a, b in zip(starts, [*starts[1:], len(words)], strict=True)]


def _unglued(word: Word) -> list[Word]:
    """Part two header words that touch (`WireFunction`) where each is a header word by itself."""
    for at in (m.start() for m in re.finditer(r"(?<=[a-zà-ÿß.])(?=[A-ZÀ-Þ])", word.text)):
        left, right = word.text[:at], word.text[at:]
        if len(word.edges) == len(word.text) and min(best_role(left)[1], best_role(right)[1]) >= 1.0 - 0.1:
            border = word.edges[at][0]
            return [
                replace(
                    word, text=left, box=replace(word.box, x1=word.edges[at - 1][1]), edges=word.edges[:at]
                ),
                replace(word, text=right, box=replace(word.box, x0=border), edges=word.edges[at:]),
            ]
    return [word]


def _with_translations(segments: Sequence[Segment]) -> list[Segment]:
    """Join a segment that begins with a slash to the one before: the same header in another language."""
    out: list[Segment] = []
    for seg in segments:
        if out and _joined(out[-1].text, seg.text):
            out[-1] = _together(out[-1], seg)
        else:
            out.append(seg)
    return out


def _together(a: Segment, b: Segment) -> Segment:
    return Segment(
        text=f"{a.text} {b.text}", x0=min(a.x0, b.x0), x1=max(a.x1, b.x1), words=(*a.words, *b.words)
    )


def _joined(left: str, right: str) -> bool:
    """Two words for one column, as `Farbe / Colour` in a manual of two languages."""
    return left.endswith(("/", "|")) or right.startswith(("/", "|", "("))


def _segment(words: Sequence[Word]) -> Segment:
    box = box_of(words)
    return Segment(text=join_words(words), x0=box.x0, x1=box.x1, words=tuple(words))


def is_header_line(segments: Sequence[Segment]) -> bool:
    """True when the segments are mostly header words and name two core roles at least."""
    if len(segments) < 2 or any(len(s.text.split()) > LONGEST_SEGMENT for s in segments):
        return False
    if any(s.text.strip(".").isdigit() for s in segments):
        return False  # a row, or a line of a table of contents
    return names_columns([s.text for s in segments], KNOWN, KNOWN_SHARE)


def grow_header(lines: Sequence[Line], at: int) -> tuple[int, int, list[Segment]]:
    """Join header lines that belong together; return (first, end, segments) of the header."""
    segments = line_to_segments(lines[at])
    first, end = at, at + 1
    while end < len(lines) and _belongs(lines[end], lines[end - 1], segments):
        segments = merge_segments(segments, line_to_segments(lines[end]))
        end += 1
    while first > 0 and _belongs(lines[first - 1], lines[first], segments, above=True):
        segments = merge_segments(line_to_segments(lines[first - 1]), segments)
        first -= 1
    return first, end, segments


def header_spans(
    lines: Sequence[Line], span: tuple[int, int], stop: int, segments: Sequence[Segment]
) -> list[tuple[int, int, list[Segment]]]:
    """Return the header as grown, and with the line below or above it where that may be a line of it too."""
    first, end = span
    spans = [(first, end, list(segments))]
    grown = list(segments)
    while end < min(stop, span[1] + MOST_LINES) and _may_belong(
        lines[end], lines[end - 1], grown, above=False
    ):
        grown = merge_segments(grown, line_to_segments(lines[end]))
        end += 1
        spans.append((first, end, list(grown)))
    if first > 0 and _may_belong(lines[first - 1], lines[first], segments, above=True):
        for _, end, below in list(spans):
            over = merge_segments(line_to_segments(lines[first - 1]), below)
            spans.append((first - 1, end, over))
    return spans


def _may_belong(line: Line, neighbour: Line, segments: Sequence[Segment], *, above: bool) -> bool:
    """A near line of words without figures, under (or over) some of the headers, may be part of them."""
    gap = neighbour.box.top - line.box.bottom if above else line.box.top - neighbour.box.bottom
    near = gap <= NEXT_LINE * neighbour.size - neighbour.box.height
    inside = line.box.x0 >= segments[0].x0 - 3 and line.box.x1 <= segments[-1].x1 + 3
    variants = are_variants([join_words(c) for c in line_to_chunks(line)])
    inside = inside or only_header_words(line.text) or variants
    return (
        near
        and inside
        and abs(line.size - neighbour.size) <= 1.5
        and len(line.words) <= MOST_WORDS
        and (variants or not any(c.isdigit() for c in line.text) or (above and _names_groups(line, segments)))
    )


def _names_groups(line: Line, segments: Sequence[Segment]) -> bool:
    """True for two or three short pieces that each stand over several headers: `X82M` and `X82F`."""
    pieces = [_segment(chunk) for chunk in line_to_chunks(line)]
    return (
        2 <= len(pieces) <= MOST_GROUPS
        and 2 * len(pieces) <= len(segments)
        and all(len(p.words) <= 2 and not p.text[:1].isdigit() for p in pieces)
    )


def _belongs(line: Line, neighbour: Line, segments: Sequence[Segment], *, above: bool = False) -> bool:
    """A neighbour line is part of the header when it is near and its pieces are header words too."""
    gap = neighbour.box.top - line.box.bottom if above else line.box.top - neighbour.box.bottom
    if gap > NEXT_LINE * neighbour.size - neighbour.box.height or abs(line.size - neighbour.size) > 1.5:
        return False
    own = line_to_segments(line)
    if not above and are_variants([s.text for s in own]):
        return bool(over_variants(segments, own)) or all(under_one(p, segments) for p in own)
    heads = [head for head, _ in over_variants(own, segments)] if above else []
    if not own or len(own) > len(segments) + 1:
        return False
    better = 0
    staggered = gap < OVERLAP * line.size  # set around the middle of a header of more lines
    for piece in own:
        under = [s for s in segments if s.x0 - 2 <= piece.x1 and piece.x0 <= s.x1 + 2]
        if piece in heads:
            better += best_role(piece.text)[1] >= WHOLE
            continue
        if len(under) > 1:
            return False
        text = piece.text
        if under:
            joined = f"{text} {under[0].text}" if above else f"{under[0].text} {text}"
            whole = min(best_role(text)[1], best_role(under[0].text)[1]) >= WHOLE  # `To` over `Plug`
            better += only_header_words(text) and (whole or best_role(joined)[1] >= KNOWN)
        else:
            better += best_role(text)[1] >= (HALF_KNOWN if staggered else WHOLE)
    if above and len(own) < 2 and not heads and len(segments) > 2 and gap >= OVERLAP * line.size:
        return False
    return better == len(own)


def merge_segments(upper: Sequence[Segment], lower: Sequence[Segment]) -> list[Segment]:
    """Join segments that stand over one another; the rest keep their places, left to right."""
    groups = over_variants(upper, lower) or over_sides(upper, lower, best_role)
    shared = [p for _, under in groups for p in under]
    left = [p for p in lower if p not in shared]
    out = [replace(p, text=f"{over.text} {p.text}") for over, under in groups for p in under]
    for seg in (s for s in upper if not any(s is over for over, _ in groups)):
        under = [s for s in left if s.x0 - 2 <= seg.x1 and seg.x0 <= s.x1 + 2]
        for s in under:
            left.remove(s)
        out.append(
            Segment(
                text=" ".join([seg.text, *[s.text for s in under]]),
                x0=min([seg.x0, *[s.x0 for s in under]]),
                x1=max([seg.x1, *[s.x1 for s in under]]),
                words=(*seg.words, *(w for s in under for w in s.words)),
            )
        )
    return sorted([*out, *left], key=lambda s: s.x0)


def header_over_columns(lines: Sequence[Line], edges: Sequence[float]) -> tuple[list[str], list[str]]:
    """Give the words of a header of several lines to the columns they stand over.

    Returns each column's text, and the text of a piece that stands over several columns for each of them.
    """
    columns = len(edges) - 1
    texts, groups = [""] * columns, [""] * columns
    middles = [(a + b) / 2 for a, b in pairwise(edges)]
    for line in lines:
        for chunk in line_to_chunks(line):
            box = box_of(chunk)
            over = [j for j, m in enumerate(middles) if box.x0 <= m <= box.x1]
            lone = best_role(join_words(chunk))[1] < KNOWN and len(_phrases(chunk)) == 1
            if len(over) > 1 and (lone or len(chunk) < len(over)):
                for j in over:
                    groups[j] = f"{groups[j]} {join_words(chunk)}".strip()
                continue
            for word in chunk:
                x = (word.box.x0 + word.box.x1) / 2
                j = next((n for n in range(columns) if x < edges[n + 1]), columns - 1)
                texts[j] = f"{texts[j]} {word.text}".strip()
    return texts, groups


def segments_to_columns(segments: Sequence[Segment], spans: Sequence[tuple[float, float]]) -> list[str]:
    """Give each column its header text by an alignment that keeps the order of both.

    `spans` are the columns' extents as their words fill them. A segment without a column is left out.
    """
    n, m = len(segments), len(spans)
    cost = [[0.0] * (m + 1) for _ in range(n + 1)]
    move = [[""] * (m + 1) for _ in range(n + 1)]
    for i in range(1, n + 1):
        cost[i][0], move[i][0] = i * SKIP_SEGMENT, "segment"
    for j in range(1, m + 1):
        cost[0][j], move[0][j] = j * SKIP_COLUMN, "column"
    for i in range(1, n + 1):
        for j in range(1, m + 1):
            choices = {
                "match": cost[i - 1][j - 1] + _distance(segments[i - 1], spans[j - 1]),
                "segment": cost[i - 1][j] + SKIP_SEGMENT,
                "column": cost[i][j - 1] + SKIP_COLUMN,
            }
            move[i][j] = min(choices, key=lambda k: choices[k])
            cost[i][j] = choices[move[i][j]]
    texts = [""] * m
    i, j = n, m
    while i and j:
        if move[i][j] == "match":
            texts[j - 1] = segments[i - 1].text
            i, j = i - 1, j - 1
        elif move[i][j] == "segment":
            i -= 1
        else:
            j -= 1
    return texts


def _distance(segment: Segment, span: tuple[float, float]) -> float:
    """Distance between extents, plus a little for edges and middles that do not line up."""
    apart = max(0.0, segment.x0 - span[1], span[0] - segment.x1)
    alignment = min(
        abs(segment.x0 - span[0]),
        abs(segment.x1 - span[1]),
        abs((segment.x0 + segment.x1) - (span[0] + span[1])) / 2,
    )
    return apart + 0.2 * min(alignment, 60.0)
