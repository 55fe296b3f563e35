"""What was seen on a page, for programs. Keys are only ever added."""

from __future__ import annotations

from typing import Any

from xref.records import Box, Pin
from xref.sheets.page_seen import PageExplained, TableSeen


def page_to_json(page: PageExplained) -> dict[str, Any]:
    """Return the object `xref page --json` writes; boxes are points of the page as displayed."""
    note = page.note
    unread = [{"document": page.document, "page": note.page, "why": note.why}]
    return {
        "document": page.document,
        "page": note.page,
        "page_label": note.page_label,
        "pages": page.pages,
        "width": page.width,
        "height": page.height,
        "turned": page.turned,
        "outcome": note.outcome,
        "why": note.why,
        "color_key": dict(page.color_key),
        "rules": [_box(rule) for rule in page.rules],
        "tables": [_table(table) for table in page.tables],
        "rows": [_row(row) for row in page.rows],
        "unread_pages": unread if note.outcome == "unread" else [],
    }


def _table(table: TableSeen) -> dict[str, Any]:
    return {
        "table": table.number,
        "kind": table.kind,
        "box": _box(table.box),
        "pinout": table.pinout,
        "reason": table.reason,
        "lost_headers": list(table.lost),
        "connectors": [
            {
                "connector": owner.connector,
                "half": owner.half,
                "heading": owner.heading,
                "heading_box": _box(owner.heading_box) if owner.heading_box else None,
                "flags": list(owner.doubts),
            }
            for owner in table.owners
        ],
        "columns": [
            {
                "column": column.number,
                "header": column.header,
                "role": column.role,
                "by": column.by,
                "box": _box(column.box),
            }
            for column in table.columns
        ],
    }


def _row(row: Pin) -> dict[str, Any]:
    texts = ("connector", "half", "cavity", "circuit", "color_code", "size", "function", "status")
    return {
        "table": row.table_no,
        "row": row.row_no,
        **{name: getattr(row, name) for name in texts},
        "box": _box(row.box),
        "flags": list(row.flags),
    }


def _box(box: Box) -> dict[str, float]:
    return {name: round(getattr(box, name), 1) for name in ("x0", "top", "x1", "bottom")}
