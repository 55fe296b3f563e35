"""What the texts of one row say together: dittos filled from above, and whether the cavity is unused."""

from __future__ import annotations

from xref.data.words import fold
from xref.rows.content import is_dash, is_ditto, is_unused

#: Roles that say there is a wire.
WIRE = frozenset({"color", "circuit", "size"})


def fill_dittos(values: dict[str, str], above: dict[str, str]) -> tuple[dict[str, str], bool]:
    """Replace ditto marks by what stands above them."""
    out = dict(values)
    copied = False
    for role, text in values.items():
        if is_ditto(text) and role != "cavity":
            out[role] = above.get(role, "")
            copied = copied or not out[role]
    return out, copied


def says_unused(values: dict[str, str]) -> bool:
    """True when a row's texts say that nothing is wired there; a switch's `NC` beside a wire does not."""
    texts = {r: t for r, t in values.items() if r not in ("cavity", "connector", "option") and t}
    said = [r for r, t in texts.items() if is_unused(t)]
    if said:
        rest = [r for r in texts if r not in said and not is_dash(texts[r])]
        normally_closed = fold(texts[said[0]]) in ("nc", "n c", "open") and bool(set(rest) & WIRE)
        return not normally_closed
    dashes = [r for r, t in texts.items() if is_dash(t)]
    return bool(dashes) and len(dashes) == len(texts) and bool(set(dashes) & (WIRE | {"function", "signal"}))
