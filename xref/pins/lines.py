"""What kind of line stands near a table: title, running text, list, row, or one that leads over to it."""

from __future__ import annotations

from collections.abc import Container, Sequence

from xref.colors.recognise import color_likeness
from xref.data.heading_words import word_pattern
from xref.data.words import fold, known_tokens
from xref.pins.designators import DESIGNATOR, MARK
from xref.pins.heading import Head, parse_heading
from xref.pins.several import mark_behind
from xref.tables.lines import Line, box_of, join_words, line_to_chunks
from xref.tables.table import Around, Table
from xref.tables.vocabulary import CAVITY_LIKE, header_roles

#: A phrase is at most this many words, a title at most that many.
LONGEST_PHRASE = 7
SHORT_TITLE = 6
#: Lines of one style up to this many font sizes apart are one paragraph; of so many words, it is prose.
LINE_PITCH = 1.7
PROSE_WORDS = 14
#: Lines close together that name each another connector are a list from this many on.
FEWEST_LISTED = 3
#: Type this much larger than the table's own, or bold, stands out.
LARGER = 1.12
#: Pieces of a line over so many columns of a table, in its own type, are a row of it.
FEWEST_COLUMNS = 3
#: Words are a column's header from this score on (`header_roles`).
SURELY_HEADER = 0.9
#: A line is a header where its known words make up this share of it.
MOSTLY_KNOWN = 0.5
#: A text of two parts between numbers is a code of two colours from this likeness on.
CLEAR_CODE = 0.6
#: A line with more designators than this lists connectors, it names none.
MOST_NAMES = 2


def stands_out(line: Line, table: Table) -> bool:
    """True for a line that is bold or larger than the table's own text."""
    return line.bold or line.size > LARGER * table.size


def is_row(line: Line, head: Head, table: Table, cavities: Container[str]) -> bool:
    """True for the row of a table or face: cavities only, a header word with codes, many designators."""
    text = line.text.strip()
    tokens = text.split()
    half = len(tokens) == 2 and head.designator and bool(mark_behind(text, head.connector))
    if reads_as_row(text) and not head.worded:
        return True
    cavities_only = len(tokens) > 1 and all(CAVITY_LIKE.fullmatch(t) for t in tokens)
    mark = half or bool(MARK.fullmatch(text))
    if cavities_only and not DESIGNATOR.fullmatch(text) and not (mark and stands_out(line, table)):
        return True
    if not head.worded and head.connector in cavities and not stands_out(line, table):
        return True
    if len(DESIGNATOR.findall(text)) > MOST_NAMES:
        return True
    if not head.designator and is_column(text, any_role=True):
        return True
    if not head.worded and _over_columns(line, table) >= FEWEST_COLUMNS:
        return True
    lead = " ".join(tokens[:2])
    apart = len(tokens) > 3 and len(line_to_chunks(line)) > 1
    return apart and not head.worded and any(is_column(t) for t in (tokens[0], lead))


def reads_as_row(text: str) -> bool:
    """True for a text with a code of two colours, and numbers before and behind it: a row, whole."""
    tokens = text.split()
    codes = [n for n, t in enumerate(tokens) if "-" in t or "/" in t if color_likeness(t) >= CLEAR_CODE]
    numbers = [n for n, t in enumerate(tokens) if t.replace(",", "").replace(".", "").isdecimal()]
    return any(numbers and min(numbers) < n < max(numbers) for n in codes)


def _over_columns(line: Line, table: Table) -> int:
    """Return over how many columns of the table the pieces of a line in its own type stand, one each."""
    if line.bold or abs(line.size - table.size) > 0.05 * table.size:
        return 0
    columns = [sum(edge <= box_of(chunk).x0 + 1 for edge in table.edges) for chunk in line_to_chunks(line)]
    return len(columns) if len(set(columns)) == len(columns) else 0


def is_column(text: str, *, any_role: bool = False) -> bool:
    """True for the words of a column's header; only those of a wire's columns unless any will do."""
    roles = header_roles(text.rstrip(":"))
    if any_role:
        return (
            max(roles.values(), default=0.0) > SURELY_HEADER and "connector" not in roles and _is_known(text)
        )
    return any(roles.get(r, 0.0) > SURELY_HEADER for r in ("cavity", "color", "circuit", "size"))


def _is_known(text: str) -> bool:
    """True where words of headers make up most of a text: in `A/C heater control` only the first one is."""
    tokens = fold(text).split()
    known = {t for t in tokens if t in known_tokens()}
    return sum(map(len, known)) >= MOSTLY_KNOWN * sum(map(len, set(tokens)))


def prose_lines(around: Sequence[Around]) -> set[int]:
    """Return the ids of lines that stand in a paragraph of several lines of running text, or in a list."""
    found: set[int] = set()
    for where in ("above", "below", "page", "beside"):
        for run in _runs(around, where):
            words = sum(len(a.line.text.split()) for a in run)
            if len(run) > 1 and ((words > PROSE_WORDS and not _short(run)) or _listed(run)):
                found |= {id(a) for a in run}
    return found


def _runs(around: Sequence[Around], where: str) -> list[list[Around]]:
    """Return the lines of one place in runs of one style and pitch, top to bottom."""
    runs: list[list[Around]] = []
    for near in sorted((a for a in around if a.where == where), key=lambda a: a.line.box.top):
        if runs and _runs_on(runs[-1][-1].line, near.line):
            runs[-1].append(near)
        else:
            runs.append([near])
    return runs


def leading_lines(around: Sequence[Around]) -> list[Around]:
    """Return the paragraph right above a table that leads over to it, as one line; [] if none does."""
    run = next(iter(reversed(_runs(around, "above"))), [])
    words = tuple(w for a in run for w in a.line.words)
    if len(run) < 2 or not leads_over(join_words(words)):
        return []
    line = Line(words=words, box=box_of(words), size=run[0].line.size)
    return [Around(line=line, where="above", gap=run[-1].gap)]


def leads_over(text: str) -> bool:
    """True for a sentence that points to a table and names one connector (`The following table …`)."""
    ends = text.rstrip().endswith((".", ":", "：", "。"))
    if not ends or not word_pattern("pointing").search(text):
        return False
    named = set(DESIGNATOR.findall(text))
    head = parse_heading(text)
    return len(named) == 1 or (not named and head.designator and head.worded)


def leads_back(text: str) -> bool:
    """True for words under a table that say whose it is (`Table above: connector X5`, `Above: plug 2`)."""
    up, table = word_pattern("pointing up").search(text), word_pattern("table").search(text)
    says = up is not None and not up.start() and text[up.end() :].lstrip()[:1] in (":", "：")
    return (
        bool(up and (table or says))
        and len(set(DESIGNATOR.findall(text))) <= 1
        and parse_heading(text).designator
    )


def _runs_on(a: Line, b: Line) -> bool:
    pitch = b.box.bottom - a.box.bottom
    return abs(a.size - b.size) < 0.3 and a.bold == b.bold and 0 < pitch <= LINE_PITCH * b.size


def _short(run: Sequence[Around]) -> bool:
    """True for lines that are short for themselves: a head of several lines, no sentence that wraps."""
    return max(len(a.line.text.split()) for a in run) <= LONGEST_PHRASE


def _listed(run: Sequence[Around]) -> bool:
    """True for lines that name each another connector: a list or a table of contents, no heading."""
    texts = [a.line.text.strip() for a in run]
    first = {m.group() for t in texts if (m := DESIGNATOR.match(t))}
    within = {m.group() for t in texts if (m := DESIGNATOR.search(t))}
    return len(first) > 1 or len(within) >= FEWEST_LISTED


def within_words(text: str, name: str) -> bool:
    """True for a name between words in small letters, as in running text (`past X160 and fix it`)."""
    before, _, after = text.partition(name)
    left, right = before.split()[-1:], after.split()[:1]
    return bool(left and right) and left[0].isalpha() and left[0].islower() and right[0][0].islower()


def stands_apart(line: Line) -> bool:
    """True for designators that stand apart in one line: each is over a table or column of its own."""
    names = {m.group() for chunk in line_to_chunks(line) if (m := DESIGNATOR.search(join_words(chunk)))}
    return len(names) > 1


def is_title(text: str) -> bool:
    """True for a few words that end no sentence."""
    text = text.rstrip()
    return len(text.split()) <= SHORT_TITLE and not text.endswith((".", ";", ","))
