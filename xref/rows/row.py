"""A row of a pinout table as read: texts by role, before colours, sizes and names are settled."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref.records import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One wire end in one cavity (or an empty cavity), texts as printed."""

    values: dict[str, str]
    box: Box  #: in the page's reading frame
    row_no: int
    cavity: str = ""
    connector: str = ""  #: named in the row itself
    half: str = ""
    unused: bool = False
    filled: frozenset[str] = frozenset()  #: roles whose text stands a line further up, as a note says
    doubts: tuple[str, ...] = field(default=())
    far: bool = False  #: of the far end of a splice's wire
    whole: bool = False  #: about a splice as a whole, no wire of it
    stated: int = 0  #: wires its splice is said to have, 0 where nothing is said
