"""How well a table validates as it was cut: rows whose cells are what their columns should hold.

Several ways to cut the same table are compared by this, so it counts rows, not shares: a reading that
finds twelve good rows beats one that finds six.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from xref.colors.recognise import color_likeness, split_cavity_color
from xref.data.fuse_sides import parted_fuse
from xref.rows.assemble import table_to_rows
from xref.rows.cavities import expand, unused_range
from xref.rows.columns import column_texts
from xref.rows.content import (
    CIRCUIT,
    COLOR,
    CONNECTOR_CAVITY,
    SIZE,
    circuits_listed,
    color_column,
    is_cavity,
    is_dash,
    is_ditto,
    is_unused,
    listed,
    size_and_color,
    without_footnote,
)
from xref.rows.evidence import sure_colors
from xref.rows.plan import Plan, table_to_plans
from xref.rows.roles import LONGEST_CODE
from xref.rows.row import Row
from xref.tables.table import Table
from xref.tables.vocabulary import best_role, header_roles, letters_and_number

#: A row that was put together by guess is worth this much of one that was not.
GUESSED_ROW = 0.6
#: How much of a table's worth hangs on its cavities running on in order.
IN_ORDER = 0.3
#: How much is lost when every header text is left without a column.
LOST_HEADERS = 0.6
#: How much is lost when a border parts, in every line, words that only a blank parts.
SPLIT = 0.35
#: A known role in the header counts this much for each row: a reading that keeps it beats one that drops it.
KNOWN_ROLE = 0.03
#: A reading whose texts swallowed a column of colours or circuits is worth this much of one that kept it.
SWALLOWED = 0.6
#: This share of a column's texts has several words before one of them can have been swallowed, and this
#: share of their first or last words must be circuit numbers.
SEVERAL_WORDS = 0.6
NUMBERS = 0.8
#: Circuit numbers have so many characters at least; `5 V` begins with fewer.
FEWEST_FIGURES = 3
#: A header over an empty column counts as lost by this much: what belongs under it stands elsewhere.
EMPTY = 1.0
#: A header text that is a known phrase scores at least this.
WHOLE_PHRASE = 0.96
#: How much is lost when no column at all was understood.
UNREAD = 0.4
#: A reading that leaves two headers over one column is worth this much.
UNPARTED = 0.4
#: Roles whose cells have a form of their own: a narrow gap beside them is a border all the same.
TYPED_ROLES = frozenset({"cavity", "color", "circuit", "size"})
#: A code this clear in a text's first or last word was swallowed from another column.
CLEAR = 0.9
#: A short text without figures in a colour's column: a code of a scheme nobody here knows.
UNKNOWN_CODE = 0.85
#: From this quality on nothing better is looked for.
PERFECT = 0.999


@dataclass(frozen=True, slots=True, kw_only=True)
class Quality:
    """The worth of a reading: about the number of its rows that validate, and the mean row's worth (0–1)."""

    worth: float
    mean: float
    rows: int


NOTHING = Quality(worth=0.0, mean=0.0, rows=0)


def table_quality(table: Table) -> Quality:
    """Say how well a table's rows validate by type."""
    plans = table_to_plans(table)
    blocks = [(plan, table_to_rows(table, plan)) for plan in plans]
    rows = [(row, plan) for plan, found in blocks for row in found]
    if not rows:
        return NOTHING
    colors = {id(plan): _colors(found) for plan, found in blocks}
    worths = [_row_worth(row, plan, colors[id(plan)]) for row, plan in rows]
    order = sum(_order(found) * len(found) for _, found in blocks) / len(rows)
    kept = 1.0 - LOST_HEADERS * _idle_headers(table)
    roles = len({r for plan in plans for r in plan.columns if r not in plan.guessed and r != "distractor"})
    factor = (1 - IN_ORDER + IN_ORDER * order) * kept * (1 - SPLIT * _split(table, plans))
    factor *= 1.0 - UNREAD * _unread_columns(table, plans)
    factor *= SWALLOWED if any(_swallows(found, plan) for plan, found in blocks) else 1.0
    factor *= UNPARTED if _unparted_header(table, plans) else 1.0
    mean = factor * sum(worths) / len(worths)
    roles += sum(any(plan.halves) for plan in plans)
    lines = sum(len(found) / _rows_of_line(plan) for plan, found in blocks)
    return Quality(worth=mean * lines * (1 + KNOWN_ROLE * roles), mean=mean, rows=len(rows))


def _rows_of_line(plan: Plan) -> int:
    """Return how many rows a line of a table gives."""
    return 2 if plan.kind in ("pair", "ends") or (plan.kind == "fuse" and plan.other) else 1


def _idle_headers(table: Table) -> float:
    """Return the share of header texts without a column, or over an empty one."""
    groups = table.groups or ("",) * table.columns
    named = [j for j, t in enumerate(table.header) if t or groups[j]]
    empty = sum(not any(b.cells[j].text for b in table.bands) for j in named)
    total = len(named) + len(table.lost)
    return (len(table.lost) + EMPTY * empty) / total if total else 0.0


def _unparted_header(table: Table, plans: Sequence[Plan]) -> bool:
    """True when a header is two known ones (`Wire no. Color`) and its cells do not part into both facts."""
    parted = {p.columns[role] for p in plans for role, _ in p.orders}
    return any(_two_headers(t) for j, t in enumerate(table.header) if j not in parted)


@lru_cache(maxsize=4096)
def _two_headers(text: str) -> bool:
    words = text.split()
    if best_role(text)[1] >= WHOLE_PHRASE:
        return False
    for at in range(1, len(words)):
        halves = best_role(" ".join(words[:at])), best_role(" ".join(words[at:]))
        roles = {role for role, score in halves if score >= WHOLE_PHRASE}
        if len(roles) == 2 and roles <= TYPED_ROLES:
            return True
    return False


def _split(table: Table, plans: Sequence[Plan]) -> float:
    """Return how often the worst border between two columns of texts parts words that only a blank parts."""
    typed = {
        j for p in plans for columns in (p.columns, p.other) for r, j in columns.items() if r in TYPED_ROLES
    }
    shares = [s for j, s in enumerate(table.split) if j not in typed and j + 1 not in typed]
    return max(shares, default=0.0)


def _unread_columns(table: Table, plans: Sequence[Plan]) -> float:
    """Return the share of columns with texts that no role was found for, whatever their header."""
    used = {j for p in plans for j in p.texts.values()}
    filled = [j for j in range(table.columns) if len(set(column_texts(table, j))) > 1]
    return sum(j not in used for j in filled) / len(filled) if filled else 0.0


def settled(table: Table) -> bool:
    """True when nothing better can be found: every header is a known phrase, every column has its role."""
    known = all(header_roles(t) and max(header_roles(t).values()) >= WHOLE_PHRASE for t in table.header if t)
    used = any(plan.columns or plan.other for plan in table_to_plans(table))
    open_columns = any(
        not table.header[j] and any(b.cells[j].text for b in table.bands) for j in range(table.columns)
    )
    return used and known and not open_columns and not table.lost


def _colors(rows: Sequence[Row]) -> bool:
    """True when the colour column of a block is one by its whole content (`B`, `L`, `W` of one scheme)."""
    return color_column([r.values.get("color", "") for r in rows])


def _row_worth(row: Row, plan: Plan, colors: bool) -> float:
    if row.unused:
        return 1.0
    marks: list[float] = []
    for role, text in row.values.items():
        mark = _cell_worth(role.removeprefix("other_"), without_footnote(text), plan, colors)
        if mark is not None:
            marks.append(mark)
    worth = sum(marks) / len(marks) if marks else 0.5
    return worth * worth * (GUESSED_ROW if row.doubts else 1.0)


def _swallows(rows: Sequence[Row], plan: Plan) -> bool:
    """True when the texts of a column begin or end with what has no column: colours, or circuit numbers."""
    for role in plan.columns:
        texts = [r.values.get(role, "").split() for r in rows if not r.unused]
        several = [t for t in texts if len(t) > 1]
        if role in TYPED_ROLES or len(several) < max(2, SEVERAL_WORDS * len(texts)):
            continue
        for end in (0, -1):
            tokens = [t[end] for t in several]
            if "color" not in plan.facts and (sure_colors(tokens) or color_column(tokens)):
                return True
            numbers = [t for t in tokens if len(t) >= FEWEST_FIGURES and CIRCUIT.fullmatch(t)]
            if (
                "circuit" not in plan.facts
                and len(numbers) >= NUMBERS * len(tokens)
                and len(set(numbers)) > 1
            ):
                return True
    return False


def _cell_worth(role: str, text: str, plan: Plan, colors: bool) -> float | None:
    """Return how well a text is what its column holds (0–1); None when it says nothing either way."""
    if not text or is_dash(text) or is_unused(text) or is_ditto(text):
        return None
    if role == "cavity" and plan.kind != "ends":
        named = is_cavity(text) or bool(expand(text) or unused_range(text) or split_cavity_color(text))
        named = named or bool(CONNECTOR_CAVITY.fullmatch(text)) or bool(plan.prefix)
        return 1.0 if named else 0.2
    if role == "color":
        if colors or all(color_likeness(t) >= COLOR for t in listed(text)) or size_and_color(text)[0]:
            return 1.0
        return UNKNOWN_CODE if len(text) <= LONGEST_CODE and not any(c.isdigit() for c in text) else 0.0
    if role == "circuit":
        return _circuit_worth(text)
    if role == "size":
        return 1.0 if SIZE.fullmatch(text) else 0.0
    if role in ("function", "signal"):
        return _text_worth(text, plan)
    return None


def _circuit_worth(text: str) -> float:
    if CIRCUIT.fullmatch(text) or circuits_listed(text):
        return 1.0
    if " " in text:
        return 0.2
    return 0.2 if color_likeness(text) >= COLOR else 0.7


def _text_worth(text: str, plan: Plan) -> float:
    """A text that begins or ends with a colour code, where no colour column was found, swallowed it."""
    tokens = text.split()
    if "color" not in plan.facts and len(tokens) > 1:
        codes = [t for t in (tokens[0], tokens[-1]) if color_likeness(t) >= CLEAR and not t.islower()]
        if codes:
            return 0.5
    return 1.0


def _order(rows: Sequence[Row]) -> float:
    """Return how far the cavities of a block run on in order (0–1)."""
    names = [parted_fuse(r.cavity)[0] for r in rows if r.cavity]
    names = [n for i, n in enumerate(names) if i == 0 or n != names[i - 1]]
    if len(names) < 2:
        return 0.5
    steps = [_follows(a, b) for a, b in pairwise(names)]
    return sum(steps) / len(steps)


def _follows(a: str, b: str) -> bool:
    """True when one cavity comes soon after another: 3 → 4, A3 → A4, A → B, M1 → N1, 87 → 87a."""
    letters_a, number_a = letters_and_number(a)
    letters_b, number_b = letters_and_number(b)
    if letters_a == letters_b:
        return number_a <= number_b <= number_a + 4
    return letters_b > letters_a and (number_b <= number_a + 1)
