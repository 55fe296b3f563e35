"""What kind of connector this is, by the manual's words and shapes. Letters alone decide nothing."""

from __future__ import annotations

import re

from xref.pins.heading import Head
from xref.pins.wordings import has_word
from xref.records import Role
from xref.rows.plan import Kind
from xref.rows.row import Row

#: A half with its mark, and what is said of it behind.
HALF = re.compile(
    r"(?:half|side|hälfte|seite|côté|moitié|lado|mitad|lato|metà)\s+(?P<mark>[^\s:,(]+)(?:\s*[:,(–-]\s*(?P<said>.+))?",
    re.IGNORECASE,
)


def role_of(head: Head, kind: Kind, row: Row) -> tuple[Role, str]:
    """Return the role of the connector a row belongs to, and the evidence for it in a few words."""
    if kind == "pair":
        return "inline", "both halves are printed in one row"
    if kind in ("splice", "ground", "fuse"):
        return kind, f"listed in a table of {kind}s"
    if row.connector:
        only = next((k for k in head.kinds), "")
        if only in ("splice", "ground", "fuse", "inline"):
            return only, "the table's heading says so"  # type: ignore[return-value]
        return "unknown", ""
    if "inline" in head.kinds:
        return "inline", "the heading calls it an in-line connector"
    first = head.kinds[0] if head.kinds else ""
    if first and _is_what_it_is(head, first):
        return first, "the heading names its kind"  # type: ignore[return-value]
    if head.component or (head.name and head.name != head.harness):
        return "component", "the heading names the component it plugs into"
    return "unknown", ""


def _is_what_it_is(head: Head, kind: str) -> bool:
    """A heading that is about a splice, not about a component with such a word in its name."""
    return not head.component or kind == "fuse"


def half_of(head: Head, row: Row) -> str:
    """Return the half as printed: in the row, or in the heading of an in-line connector."""
    text = row.half or (head.half if head.kinds and "inline" in head.kinds else "") or ""
    if not text and "inline" in head.kinds:
        text = head.gender
    named = [
        t for t in text.split() if head.connector and t.startswith(head.connector) and t != head.connector
    ]
    if len(named) == 1:
        return named[0]  # `C144M` among other words of a group's header
    match = HALF.fullmatch(text.strip())
    return match["mark"] if match else text.strip()


def harness_of(head: Head, row: Row) -> str:
    """Return the harness that the header of a half names behind its mark (`Half A: engine harness`)."""
    match = HALF.fullmatch(row.half.strip())
    said = (match["said"] or "").strip(" )") if match else ""
    return head.harness or (said if has_word(said, "harness") else "")
