"""A printed row that holds several: both halves of an in-line connector, or a wire for each variant."""

from __future__ import annotations

from dataclasses import replace

from xref.data.legend_words import plain_mark
from xref.rows.content import is_dash, is_unused
from xref.rows.options import Options
from xref.rows.row import Row

#: Between the variants for which a row holds.
GLUE = "; "
#: A row without any mark does not say for which variants it holds.
UNMARKED = "column-unread"
#: Where one variant says nothing, its wire may be the other's, or none; where one says more, it may be
#: another row's line.
UNEVEN = "row-assembled"

#: The texts of a row by role, with the doubts of their reading.
Opened = tuple[dict[str, str], tuple[str, ...]]


def halves_of(row: Row, names: tuple[str, str]) -> list[Row]:
    """Open a row that prints both halves of an in-line connector."""
    one = {r: t for r, t in row.values.items() if not r.startswith("other_")}
    two = one | {r.removeprefix("other_"): t for r, t in row.values.items() if r.startswith("other_")}
    return [replace(row, values=one, half=names[0] or "A"), replace(row, values=two, half=names[1] or "B")]


def variants_of(values: dict[str, str], options: Options) -> list[Opened]:
    """Return the texts of a row for each variant that differs; one without option where none does."""
    added = options.columns
    if not added:
        return [(values, ())]
    shared = {r: t for r, t in values.items() if r not in added}
    option, doubts = _marked(values, shared, options)
    if option:
        shared["option"] = option
    opened: list[Opened] = []
    for variant, own in _by_variant(values, options).items():
        if variant:
            opened.append((shared | own | {"option": variant}, doubts))
    if not opened:
        return [(shared, doubts)]
    said = [o for o in opened if _says(o[0], options)]
    for role, _ in options.varying:
        texts = {own[role] for own, _ in opened}
        if len(texts) > 1 and any(a != b and b.startswith(a) for a in texts for b in texts):
            doubts = (*doubts, UNEVEN)
    return [(own, doubts) for own, _ in said or opened]


def _marked(values: dict[str, str], shared: dict[str, str], options: Options) -> tuple[str, tuple[str, ...]]:
    """Return the variants a row is marked for, "" where it is for all; a row without marks is doubtful."""
    names = [
        name
        for n, (name, _) in enumerate(options.marked)
        if plain_mark(values.get(f"option {n}", "")) in options.yes
    ]
    if not options.marked or len(names) == len(options.marked):
        return "", ()
    wired = any(t and not is_dash(t) for r, t in shared.items() if r != "cavity")
    unused = any(is_unused(t) for r, t in shared.items() if r != "option")
    return GLUE.join(names), () if names or not wired or unused else (UNMARKED,)


def _by_variant(values: dict[str, str], options: Options) -> dict[str, dict[str, str]]:
    """Return what differs, variant by variant; nothing where every role is the same for all."""
    names = list(dict.fromkeys(v for _, of in options.varying for v, _ in of))
    found: dict[str, dict[str, str]] = {name: {} for name in names}
    for role, of in options.varying:
        for n, (variant, _) in enumerate(of):
            found[variant][role] = values.get(f"{role} {n}" if n else role, "")
    alike = all(own == found[names[0]] for own in found.values()) if names else True
    return {} if alike else found


def _says(values: dict[str, str], options: Options) -> bool:
    """True where a variant says something of its own."""
    return any((t := values.get(role, "")) and not is_dash(t) for role, _ in options.varying)
