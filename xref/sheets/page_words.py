"""What was seen on a page, in words: the same for the screen and for the panel below the drawing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xref.records import DOUBTS, Pin
from xref.sheets.page_seen import IN_ROWS, ColumnSeen, OwnerSeen, PageExplained, TableSeen
from xref.sheets.texts import on_one_line

_OUTCOMES = {"read": "READ", "skipped": "SKIPPED", "unread": "NOT READ"}


def page_in_words(page: PageExplained) -> str:
    """Return which page this is: `loom.pdf, page 5 of 20 (printed 3-4), turned by 90° for reading`."""
    note = page.note
    label = f" (printed {note.page_label})" if note.page_label not in ("", str(note.page)) else ""
    turned = f", turned by {page.turned}° for reading" if page.turned else ""
    return on_one_line(f"{page.document}, page {note.page} of {page.pages}{label}{turned}")


def outcome_in_words(page: PageExplained) -> str:
    """Return what became of the page and why."""
    said = on_one_line(f"{_OUTCOMES[page.note.outcome]}: {page.note.why}")
    if not page.looked_at and page.tables:
        return f"{said}. What reading it all the same would have seen is drawn, and gives no rows."
    return said


def color_key_in_words(page: PageExplained) -> str:
    """Return the colour codes that the page itself explains; "" where it explains none."""
    if not page.color_key:
        return ""
    return on_one_line("Colour key: " + ", ".join(f"{code} {color}" for code, color in page.color_key))


def table_in_words(table: TableSeen) -> str:
    """Return what a table is: how it was told apart from the text, and why it was or was not read."""
    lost = "; no column for its header " + ", ".join(f"“{text}”" for text in table.lost) if table.lost else ""
    size = f"{len(table.bands)} lines, {len(table.columns)} columns"
    return on_one_line(f"Table {table.number} ({table.kind}, {size}): {table.reason}{lost}")


def owner_in_words(owner: OwnerSeen) -> str:
    """Return by which words a connector was named."""
    name = " ".join(filter(None, (owner.connector, owner.half)))
    if owner.heading == IN_ROWS:
        return on_one_line(f"{name} named by its rows")
    by = f"by “{owner.heading}”" if owner.heading else "but no heading for it was found on this page"
    return on_one_line(f"named {name} {by}")


def column_in_words(column: ColumnSeen) -> str:
    """Return what a column was taken for, and by what."""
    header = f" “{column.header}”" if column.header else ""
    if not column.role:
        return on_one_line(f"{column.number} not taken{header}")
    if column.by == "content" and header:
        return on_one_line(
            f"{column.number} {column.role}, by its content; its header{header} does not say so"
        )
    by = f"by its {column.by}" if column.by in ("header", "content") else f"by {column.by}"
    return on_one_line(f"{column.number} {column.role}, {by}{header}")


def doubts_of_all(rows: Sequence[Pin]) -> tuple[str, ...]:
    """Return the doubts that every one of several rows carries."""
    if len(rows) < 2:
        return ()
    return tuple(flag for flag in rows[0].flags if all(flag in row.flags for row in rows))


def doubts_in_words(rows: Sequence[Pin]) -> list[str]:
    """Return each doubt of the rows of a table, what it means, and on how many rows it stands."""
    counts = Counter(flag for row in rows for flag in dict.fromkeys(row.flags))
    return [
        f"DOUBT {flag} on {'every row' if number == len(rows) else f'{number} of {len(rows)} rows'}: "
        f"{DOUBTS.get(flag, flag)}"
        for flag, number in counts.items()
    ]


def rows_of(page: PageExplained, table: TableSeen) -> list[Pin]:
    """Return the rows that a table gave."""
    return [row for row in page.rows if row.table_no == table.number]
