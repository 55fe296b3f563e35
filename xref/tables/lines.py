"""Words to lines of text, and lines to chunks: runs of words that only a blank parts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from xref.pages.content import Word
from xref.records import Box

#: A gap wider than this many font sizes parts two chunks. A blank is 0.25–0.35 of the size in text
#: faces and 0.6 in typewriter faces, where two blanks are 1.2.
CHUNK_GAP = 0.8

#: Two words share a line when their middles differ by less than this part of the smaller height.
SAME_LINE = 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Words on one line of text, left to right."""

    words: tuple[Word, ...]
    box: Box
    size: float  #: median font size of its words

    @property
    def text(self) -> str:
        """The words joined with blanks."""
        return join_words(self.words)

    @property
    def bold(self) -> bool:
        """True when every word is bold."""
        return all(w.bold for w in self.words)


def box_of(words: Iterable[Word]) -> Box:
    """Return the smallest box that holds the words (there must be one at least)."""
    boxes = [w.box for w in words]
    if len(boxes) == 1:
        return boxes[0]
    x0, top, x1, bottom = zip(*[(b.x0, b.top, b.x1, b.bottom) for b in boxes], strict=True)
    return Box(x0=min(x0), top=min(top), x1=max(x1), bottom=max(bottom))


#: Signs, kana and ideographs, and the full-width forms of letters.
_WIDE = re.compile("[\u3000-\u9fff\uff00-\uffef]")


def middle(box: Box) -> float:
    """Return the vertical middle of a box."""
    return (box.top + box.bottom) / 2


def is_wide_script(text: str) -> bool:
    """True where the text is written without blanks (Japanese, Chinese)."""
    return not text.isascii() and bool(_WIDE.search(text))


def is_sign(text: str) -> bool:
    """True for a dash, colon or dot by itself: what parts a name from a title."""
    return bool(text) and not any(c.isalnum() for c in text)


def join_words(words: Sequence[Word]) -> str:
    """Join words with blanks, but none between two of a script that is written without."""
    texts = [w.text for w in words]
    out = " ".join(texts)
    if out.isascii():
        return out
    out = ""
    for i, word in enumerate(words):
        if i and not _glued(words[i - 1], word):
            out += " "
        out += word.text
    return out


def _glued(left: Word, right: Word) -> bool:
    if not (left.text and right.text):
        return False
    both_wide = is_wide_script(left.text[-1]) and is_wide_script(right.text[0])
    return both_wide and right.box.x0 - left.box.x1 < 0.5 * max(left.size, right.size)


def words_to_lines(words: Sequence[Word]) -> list[Line]:
    """Group words into lines from top to bottom; sideways words (much taller than wide) stand alone."""
    rows: list[list[Word]] = []
    for word in sorted(words, key=lambda w: (middle(w.box), w.box.x0)):
        if not word.text:
            continue
        for row in rows[:-7:-1]:  # the last six
            if _same_line(row, word):
                row.append(word)
                break
        else:
            rows.append([word])
    lines = [_line(row) for row in rows]
    return sorted(lines, key=lambda line: (line.box.top, line.box.x0))


def _same_line(row: Sequence[Word], word: Word) -> bool:
    one, other = row[-1].box, word.box
    height = min(one.bottom - one.top, other.bottom - other.top) or 1.0
    return abs((one.top + one.bottom) / 2 - (other.top + other.bottom) / 2) < SAME_LINE * height


def _line(words: Sequence[Word]) -> Line:
    if len(words) == 1:
        return Line(words=tuple(words), box=words[0].box, size=words[0].size)
    ordered = tuple(sorted(words, key=lambda w: w.box.x0))
    return Line(words=ordered, box=box_of(ordered), size=median([w.size for w in ordered]))


def line_to_chunks(line: Line, gap: float = CHUNK_GAP) -> list[tuple[Word, ...]]:
    """Split a line where the gap between two words is wider than `gap` font sizes."""
    chunks: list[list[Word]] = []
    for word in line.words:
        if chunks and word.box.x0 - chunks[-1][-1].box.x1 <= gap * max(word.size, chunks[-1][-1].size):
            chunks[-1].append(word)
        else:
            chunks.append([word])
    return [tuple(c) for c in chunks]


def goes_on_in(out: str, text: str) -> bool:
    """True when a text broken over lines goes on without a blank: at a hyphen, slash or underscore."""
    broken = out.endswith(("/", "-", "‐", "_")) and len(out) > 1 and not out[-2].isspace()
    wide = is_wide_script(out[-1:]) and is_wide_script(text[:1])
    return broken or text.startswith("_") or wide


def lines_text(lines: Sequence[Line]) -> str:
    """Join the lines of a cell: no blank after a hyphen or slash that breaks a word, else one blank."""
    out = ""
    for line in lines:
        text = line.text
        if not out:
            out = text
        elif goes_on_in(out, text):
            out += text
        else:
            out += " " + text
    return " ".join(out.split())
