"""Decisions to rows of a CSV table and back: what one person decided, for another computer.

A cell that begins like a formula, or with an apostrophe, is written behind an apostrophe, and read back
without it; nothing a PDF prints is run by a spreadsheet.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from xref.errors import UsageError
from xref.pins.corrections_records import (
    CORRECTABLE,
    SETTABLE,
    TEXT_FIELDS,
    HeadDecision,
    MateDecision,
    RowDecision,
)
from xref.store.work_json import KINDS, Kept, from_json, to_json, where

_PLACE = ("x0", "top", "x1", "bottom", "wire")
_SET = tuple(dict.fromkeys((*CORRECTABLE, *SETTABLE)))
#: One line per decision: what it is, on what it was made, what was read there, what the person says.
COLUMNS: tuple[str, ...] = (
    *("kind", "at", "machine", "document", "sha256", "page"),
    *_PLACE,
    *(f"read_{name}" for name in TEXT_FIELDS),
    *(f"set_{name}" for name in _SET),
    *("accepted", "more"),
)
#: What a blank `set_` cell cannot say: that the field is to be blank.
BLANK = "(blank)"
#: A cell longer than this is no cell of ours, characters.
_LONGEST_CELL = 10_000_000


def decisions_to_rows(decisions: Iterable[Kept]) -> list[dict[str, str]]:
    """Return one row per decision."""
    return [{name: _guarded(text) for name, text in _row(decision).items()} for decision in decisions]


def _row(decision: Kept) -> dict[str, str]:
    sha256, document, machine, page = where(decision)
    given: dict[str, Any] = json.loads(to_json(decision))
    row = dict.fromkeys(COLUMNS, "") | {
        **{"kind": KINDS[type(decision)], "at": decision.at, "machine": machine, "document": document},
        **{"sha256": sha256, "page": str(page) if page else ""},
    }
    if isinstance(decision, RowDecision):
        read = given.pop("row")
        row |= {name: str(read[name]) for name in _PLACE}
        row |= {f"read_{name}": str(read[name]) for name in TEXT_FIELDS}
        row["accepted"] = "yes" if given.pop("accepted") else ""
    elif isinstance(decision, HeadDecision):
        row |= {"read_connector": given.pop("connector"), "read_half": given.pop("half")}
    if not isinstance(decision, MateDecision):
        row |= {f"set_{name}": value or BLANK for name, value in given.pop("changes", [])}
    row["more"] = json.dumps(given, ensure_ascii=False, sort_keys=True)
    return row


def rows_in_file(path: Path) -> list[Kept]:
    """Return the decisions a CSV file holds, in its order.

    Raises UsageError naming the line where the file is no table of decisions.
    """
    csv.field_size_limit(_LONGEST_CELL)
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.DictReader(file)
            if missing := {"kind", "at", "more"} - set(reader.fieldnames or ()):
                raise UsageError(
                    f"{path.name} is no table of decisions: it has no column {', '.join(sorted(missing))}.",
                    hint="Give a file that 'xref check export' wrote.",
                )
            return [_decision(path, reader.line_num, row) for row in reader]
    except OSError as error:
        raise UsageError(f"{path} cannot be read: {error.strerror}.") from error
    except (UnicodeDecodeError, csv.Error) as error:
        raise UsageError(
            f"{path.name} is no CSV file in UTF-8: {error}.", hint="Save it as 'CSV UTF-8'."
        ) from error


def _decision(path: Path, line: int, cells: dict[str, str | None]) -> Kept:
    row = {name: _bare(text or "") for name, text in cells.items() if name is not None}
    try:
        given: dict[str, Any] = json.loads(row["more"] or "{}")
        if row["kind"] == "row":
            read = {name: row.get(f"read_{name}", "") for name in TEXT_FIELDS}
            place: dict[str, Any] = {name: float(row[name]) for name in _PLACE if name != "wire"}
            place |= {"wire": int(row["wire"] or 1), "page": int(row["page"])}
            of = {name: row.get(name, "") for name in ("sha256", "document", "machine")}
            given["row"] = read | place | of
            given["accepted"] = row.get("accepted", "").strip().casefold() in ("yes", "y", "1", "true")
            given.setdefault("shown", [])
        if row["kind"] == "connector":
            given |= {"connector": row["read_connector"], "half": row.get("read_half", "")}
            given.setdefault("region", None)
        if row["kind"] in ("row", "connector"):
            said = [(name, row.get(f"set_{name}", "")) for name in _SET]
            given["changes"] = [[name, "" if text == BLANK else text] for name, text in said if text]
        return from_json(0, row["at"], row["kind"], json.dumps(given))
    except (KeyError, TypeError, ValueError) as error:
        raise UsageError(
            f"{path.name}, line {line}: this is no decision ({error}).",
            hint="Nothing was imported. Mend the line or leave it out.",
        ) from error


def _guarded(text: str) -> str:
    return f"'{text}" if text.startswith(("'", "=", "+", "-", "@", "\t", "\r", "\n")) else text


def _bare(text: str) -> str:
    return text[1:] if text.startswith("'") else text
