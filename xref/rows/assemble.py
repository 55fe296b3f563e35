"""Bands of cells to rows: wrapped lines joined, cavities inherited, dittos filled, ranges opened."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from dataclasses import replace

from xref.records import Box
from xref.rows.cavities import (
    connector_in,
    connectors_listed,
    expand,
    odd_cavity,
    unused_range,
)
from xref.rows.centred import centred_owners
from xref.rows.content import is_dash
from xref.rows.draft import Draft, holds_less, parted
from xref.rows.listrows import LISTS, end_rows, list_rows, names_of_bands
from xref.rows.opened import halves_of, variants_of
from xref.rows.options import over_variants, without_legend
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.rows.said import NAMED, broken_names, fill_dittos, says_unused, swallowed
from xref.rows.wrapped import circuit_form, unwrapped
from xref.tables.table import Band, Table
from xref.tables.vocabulary import best_role

#: Roles whose texts may wrap over lines.
WRAPPING = frozenset(
    {"function", "signal", "goes_to", "location", "option", "component", "connector", "harness"}
)


def table_to_rows(table: Table, plan: Plan) -> list[Row]:
    """Return the rows of one block of a table in printed order, lists and pairs opened."""
    table = without_legend(table, plan.options)
    if plan.kind in LISTS:
        owners = names_of_bands(table, plan, _key(plan))
        return list_rows(_drafts(table, plan, owners.alone), plan, owners)
    drafts = _drafts(table, plan)
    if plan.kind == "ends":
        return end_rows(drafts, plan)
    rows: list[Row] = []
    names = plan.texts
    whole = {r: _whole_names(table, drafts, r, names[r]) for r in NAMED if r in names}
    lost = swallowed({role: [draft.text(role) for draft in drafts] for role in names})
    above: dict[str, str] = {}
    connector = ""
    for n, draft in enumerate(drafts, start=1):
        draft.beside = draft.beside or lost
        texts = {role: draft.text(role) for role in names}
        draft.doubts += ["text-overfull"] if holds_less(texts, plan) else []
        values = parted(texts, plan)
        joined = {r: found[values[r]] for r, found in whole.items() if values[r] in found}
        values = values | joined
        draft.doubts += ["row-assembled"] if joined else []
        values, copied = fill_dittos(values, above)
        above = values | {"cavity": values.get("cavity", "") or above.get("cavity", "")}
        connector = values.get("connector", "") or connector
        for own, doubts in variants_of(values, plan.options):
            rows += _draft_to_rows(draft, own, n, plan, connector, copied, doubts)
    return rows


def _whole_names(table: Table, drafts: Sequence[Draft], role: str, column: int) -> dict[str, str]:
    lines = [line for draft in drafts for line in table.bands[draft.band].cells[column].lines[:1]]
    return broken_names([draft.text(role) for draft in drafts], lines)


def _drafts(table: Table, plan: Plan, alone: Container[int] = ()) -> list[Draft]:
    """Group the bands of a table into drafts of rows; bands with a name `alone` are no part of any."""
    key, columns = _key(plan), plan.texts
    form = circuit_form(table, columns.get("circuit"))
    owners = centred_owners(table, plan, columns[key])
    drafts: list[Draft] = []
    waiting: list[int] = []
    for n, band in enumerate(table.bands):
        if n in alone:
            continue
        read = {role: _text(band, j, columns) for role, j in columns.items()}
        texts = over_variants(read, band, plan.options)
        if "circuit" in columns:
            whole = unwrapped(band.cells[columns["circuit"]].lines, form)
            texts["circuit"] = whole or texts["circuit"]
        box = _block_box(band, plan)
        whole = _whole_range(band, plan)
        if whole:
            drafts.append(Draft({"cavity": [whole]}, box, n))
            continue
        begins = any(band.cells[j].text for j in plan.anchors or (columns[key],))
        dropped = plan.sparse and not plan.anchors and not begins and not _goes_on(drafts, n, band, plan)
        if dropped or not any(texts.values()):
            continue
        anchor = band.cells[columns[key]]
        wraps = drafts and (not begins or drafts[-1].text(key).endswith(","))
        if texts[key] and wraps and not _says(texts, key) and owners.get(n, -1) < n:
            _append(drafts[-1], texts, box, key)  # a list of cavities that wraps
        elif begins:
            pairs = _wires_by_line(band, texts, columns, columns.get(plan.kind, columns[key]))
            drafts += [
                Draft({r: [t] for r, t in part.items()}, box, n, merged=i > 0) for i, part in enumerate(pairs)
            ]
            drafts[-1].beside = _says_more(table, band, plan, texts, key)
            drafts[-1].unread = any(band.cells[j].text for j in plan.unread)
            _take_waiting(drafts[-1], waiting, table, columns, plan)
            waiting = []
        elif not anchor.first and anchor.text and _names_wire(texts):
            parts = {r: [t] for r, t in texts.items()} | {key: [anchor.text]}
            drafts.append(Draft(parts, box, n, merged=True))
            _inherit_merged(drafts[-1], band, columns)
        elif drafts and _second_wire(texts, drafts[-1], band, plan):
            parts = {r: [t] for r, t in texts.items()} | {key: [drafts[-1].text(key)]}
            drafts.append(Draft(parts, box, n, merged=True))
        elif owners.get(n, -1) > n:
            waiting.append(n)
        elif drafts:
            _append(drafts[-1], texts, box)
        else:
            waiting.append(n)
    for draft in drafts:
        _inherit_merged(draft, table.bands[draft.band], columns)
        if whole := unwrapped(draft.parts.get("circuit", ()), form):
            draft.parts["circuit"] = [whole]
        if round(draft.box.top, 0) in table.contested:
            draft.doubts.append("readings-disagree")
    return drafts


def _text(band: Band, j: int, columns: dict[str, int]) -> str:
    """Return what a column says in a band, also where a ruled cell from the left reaches over it."""
    cell = band.cells[j]
    if cell.text or not cell.first:
        return cell.text if cell.first else ""
    for k in range(j - 1, -1, -1):
        left = band.cells[k]
        if left.text:
            reaches = left.first and left.col_span > j - k and k not in columns.values()
            return left.text if reaches else ""
    return ""


def _goes_on(drafts: Sequence[Draft], n: int, band: Band, plan: Plan) -> bool:
    """In a matrix a line without cavity belongs to the row just above, if no other connector's is in it."""
    used = set(plan.texts.values())
    return (
        bool(drafts)
        and drafts[-1].band == n - 1
        and not any(c.text for j, c in enumerate(band.cells) if j not in used)
    )


def _says(texts: dict[str, str], key: str) -> bool:
    return any(text for role, text in texts.items() if role != key)


def _says_more(table: Table, band: Band, plan: Plan, texts: dict[str, str], key: str) -> bool:
    """True when text stands in a column without header, or in any column while the row seems blank."""
    used = set(plan.texts.values())
    if any(band.cells[j].cut for j in used):
        return True  # a word ran over a border and was cut: both cells may be wrong
    seems_blank = not _says(texts, key)
    unnamed = not {"circuit", "function", "signal", "goes_to"} & set(plan.columns)
    return any(
        band.cells[j].text
        and band.cells[j].first
        and (seems_blank or not table.header[j] or (unnamed and not best_role(table.header[j])[0]))
        for j in range(plan.first, plan.last + 1)
        if j not in used
    )


def _wires_by_line(
    band: Band, texts: dict[str, str], columns: dict[str, int], name: int
) -> list[dict[str, str]]:
    """Two wires printed as two lines of one ruled cell: colour and circuit have as many lines each.

    `name` is the column of the cavity, or the splice, which has one line.
    """
    lines = {r: band.cells[columns[r]].lines for r in ("color", "circuit") if r in columns}
    counts = {len(ls) for ls in lines.values()}
    if len(lines) < 2 or len(counts) != 1 or counts & {0, 1} or len(band.cells[name].lines) != 1:
        return [texts]
    count = counts.pop()
    if any(ls[0].endswith(("/", "-")) for ls in lines.values()):
        return [texts]
    parts = []
    for n in range(count):
        own = {r: band.cells[j].lines[n] for r, j in columns.items() if len(band.cells[j].lines) == count}
        parts.append(texts | own)
    return parts


def _key(plan: Plan) -> str:
    if plan.kind in LISTS:
        return "circuit" if plan.kind != "fuse" else "fuse"
    if plan.kind == "ends":
        return "goes_from"
    return "cavity"


def _block_box(band: Band, plan: Plan) -> Box:
    cells = band.cells[plan.first : plan.last + 1]
    return Box(x0=cells[0].box.x0, top=band.box.top, x1=cells[-1].box.x1, bottom=band.box.bottom)


def _whole_range(band: Band, plan: Plan) -> str:
    """Return the text of a row such as `4–9 not used` that runs over all columns."""
    cells = [c for c in band.cells[plan.first : plan.last + 1] if c.text and c.first]
    text = " ".join(c.text for c in cells)
    return text if len(cells) <= 2 and len(unused_range(text)) > 1 else ""


def _names_wire(texts: dict[str, str]) -> bool:
    return any(texts.get(role) for role in ("color", "circuit", "other_color", "other_circuit"))


def _second_wire(texts: dict[str, str], above: Draft, band: Band, plan: Plan) -> bool:
    """A line without cavity that repeats what a wire has, while the row above has it already."""
    have = [r for r in ("color", "circuit") if r in plan.columns]
    full = [r for r in have if texts.get(r) and not above.text(r).endswith(("/", "-"))]
    if not have or not full:
        return False
    return len(full) == len(have) and all(above.text(r) for r in full) and _complete(texts, band)


def _complete(texts: dict[str, str], band: Band) -> bool:
    circuit = texts.get("circuit", "")
    return not circuit or (bool(re.search(r"\d|[A-Z]{2}", circuit)) and len(circuit) > 1 and bool(band.cells))


def _append(draft: Draft, texts: dict[str, str], box: Box, wrapping: str = "") -> None:
    for role, text in texts.items():
        if text:
            draft.parts.setdefault(role, []).append(text)
            if role.split()[0] not in WRAPPING and len(draft.parts[role]) > 1 and role != wrapping:
                draft.doubts.append("row-assembled")
    draft.box = draft.box.union(box)


def _inherit_merged(draft: Draft, band: Band, columns: dict[str, int]) -> None:
    """Fill in what a cell merged over several rows says; rules show it, so it is no guess."""
    for role, j in columns.items():
        cell = band.cells[j]
        if not cell.first and cell.text and not draft.text(role):
            draft.parts[role] = [cell.text]


def _take_waiting(
    draft: Draft, waiting: Sequence[int], table: Table, columns: dict[str, int], plan: Plan
) -> None:
    """Put lines that stood above their row in front of its texts."""
    for n in reversed(waiting):
        band = table.bands[n]
        for role, j in columns.items():
            if band.cells[j].text and band.cells[j].first:
                draft.parts[role] = [band.cells[j].text, *[p for p in draft.parts.get(role, []) if p]]
                if role.split()[0] not in WRAPPING:
                    draft.doubts.append("row-assembled")
        draft.box = draft.box.union(_block_box(band, plan))


def _draft_to_rows(
    draft: Draft,
    values: dict[str, str],
    n: int,
    plan: Plan,
    connector: str,
    copied: bool,
    more: Sequence[str],
) -> list[Row]:
    printed = values.get("cavity", "")
    if plan.prefix and printed.startswith(plan.prefix):
        connector, printed = plan.prefix, printed.removeprefix(plan.prefix).lstrip(" -–.:")
    listed = connectors_listed(printed) if plan.places else []
    if listed:
        base = Row(values=values, box=draft.box, row_no=n, doubts=tuple(dict.fromkeys(draft.doubts)))
        return [replace(base, connector=name, cavity=cavity) for name, cavity in listed]
    named, printed = connector_in(printed) if plan.places or ":" in printed else ("", printed)
    wide = unused_range(printed)
    cavities = wide or expand(printed)
    if not cavities:
        cavities = [printed] if odd_cavity(printed) else []
    if not cavities:
        return []
    if plan.sparse and not any(t and not is_dash(t) for role, t in values.items() if role != "cavity"):
        return []
    unused = bool(wide) or says_unused(values)
    doubts = [*dict.fromkeys((*draft.doubts, *more)), *(["ditto-assumed"] if copied else [])]
    if draft.unread or (plan.sparse and len(cavities) > 1):
        doubts.append("column-unread")  # in a matrix `5-6` may be a pair, one number for each connector
    if draft.beside:
        doubts.append("row-assembled")  # something stands in the row, but in no column that was understood
    rows = []
    for cavity in cavities:
        row = Row(
            values=values,
            box=draft.box,
            row_no=n,
            cavity=cavity,
            connector=named or connector or plan.name,
            unused=unused,
            doubts=tuple(doubts),
        )
        rows += halves_of(row, plan.halves) if plan.kind == "pair" else [row]
    return rows
