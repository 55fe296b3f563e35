"""What kind of connector this is, by the manual's words and shapes. Letters alone decide nothing."""

from __future__ import annotations

from xref.data.half_marks import parted_name
from xref.pins.halfmarks import is_connector_word, said_of_half, two_halves
from xref.pins.heading import Head, parse_heading
from xref.records import Role
from xref.rows.plan import Kind
from xref.rows.row import Row
from xref.tables.vocabulary import DESIGNATOR


def role_of(head: Head, kind: Kind, row: Row) -> tuple[Role, str]:
    """Return the role of the connector a row belongs to, and the evidence for it in a few words."""
    if kind == "pair":
        return "inline", "both halves are printed in one row"
    if row.far:
        return "unknown", ""
    if kind in ("splice", "ground", "fuse"):
        return kind, f"listed in a table of {kind}s" if row.connector else f"the heading names a {kind}"
    if row.connector:
        only = next((k for k in head.kinds), "")
        if only in ("splice", "ground", "fuse", "inline") and not _is_another(head, only, row.connector):
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


def _is_another(head: Head, kind: str, name: str) -> bool:
    """True for a row of `X5` under `Splice S102`: it names what the wires of the splice lead to."""
    named = [t for t in map(_bare, head.text.split()) if DESIGNATOR.fullmatch(t)]
    alike = any(t.rstrip("0123456789") == name.rstrip("0123456789") for t in named)
    return kind in ("splice", "ground") and bool(named) and not alike


def _bare(text: str) -> str:
    return text.strip(":,;.–—()[]")


def _is_what_it_is(head: Head, kind: str) -> bool:
    """A heading that is about a splice, not about a component with such a word in its name."""
    return not head.component or kind == "fuse"


def half_of(head: Head, row: Row, halves: tuple[str, str] = ("", "")) -> str:
    """Return the half as printed: in the row, or in the heading of an in-line connector.

    `halves` are the texts over both halves of a table that prints them in one row.
    """
    if row.half:
        texts = halves if any(halves) else head.halves
        marks = two_halves(*(said_of_half(text, head.connector) for text in texts))
        own = _half_text(head, row, halves)
        at = texts.index(own) if own in texts else 0
        return marks[at] or said_of_half(own, head.connector).best() or own.strip()
    if "inline" not in head.kinds:
        return ""
    said = said_of_half(head.half_text or head.text, head.connector)
    gender = "" if is_connector_word(said.gender) else said.gender
    return said.mark or head.half or said.short or gender or head.gender


def half_named(head: Head, row: Row, halves: tuple[str, str] = ("", "")) -> str:
    """Return the designator that stands over a half, where each half has one of its own: `Plug P67`, `J67`.

    "" where both have one name, or names that differ by a half mark only.
    """
    texts = halves if any(halves) else head.halves
    if not row.half or len(texts) != 2:
        return ""
    one, other = (parse_heading(text) for text in texts)
    if not (one.designator and other.designator):
        return ""
    if parted_name(one.connector)[0] == parted_name(other.connector)[0]:
        return ""
    own = _half_text(head, row, halves)
    return (one if own == texts[0] else other).connector if own in texts else ""


def harness_of(head: Head, row: Row, halves: tuple[str, str] = ("", "")) -> str:
    """Return the harness that stands over a half (`Half A: engine harness`), or in the heading."""
    own = said_of_half(_half_text(head, row, halves), head.connector)
    return own.harness or head.harness or said_of_half(head.half_text).harness


def _half_text(head: Head, row: Row, halves: tuple[str, str]) -> str:
    """Return what stands over the half of a row; a row of a table without such headers is counted A or B."""
    if any(halves) or not any(head.halves):
        return row.half
    return head.halves[0 if row.half == "A" else 1] if row.half else ""
