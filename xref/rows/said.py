"""What the texts of one row say together: dittos filled from above, and whether the cavity is unused."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from xref.colors.recognise import color_likeness
from xref.data.legend_words import is_sign_of_yes
from xref.data.words import fold
from xref.rows.content import is_dash, is_ditto, is_unused
from xref.rows.evidence import SIGNAL, filled_texts

#: Roles that say there is a wire.
WIRE = frozenset({"color", "circuit", "size"})

#: Roles whose texts may be names of signals.
NAMED = ("signal", "function", "goes_to")
#: Share of a column's texts that are one name each, where the others are names broken over two lines.
ONE_NAME = 0.5
#: So many texts, and this share, begin with codes this clear where they swallowed a column of colours.
FEWEST_CODES = 2
CODES = 0.5
CLEAR = 0.75
#: Roles whose texts may swallow columns of marks; so many rows hold the same mark then.
MARKED = ("function", "signal", "goes_to", "circuit", "color", "option")
FEWEST_MARKS = 2
#: The marks within a name by which a signal's is told from a word.
IN_NAME = re.compile(r"[_.\d]")


def broken_names(texts: Sequence[str], lines: Sequence[str]) -> dict[str, str]:
    """Return for each text that is a name broken within the word, for want of room, the whole name.

    The column must hold names of signals, and each line of a broken name but its last be about as long as
    the longest of the column's `lines`. Pieces that are names by themselves elsewhere are several names.
    """
    filled = filled_texts(texts)
    names = [t for t in filled if SIGNAL.fullmatch(t)]
    if len(names) < ONE_NAME * len(filled):
        return {}
    longest = max([len(line) for line in lines if SIGNAL.fullmatch(line)], default=0)
    out = {}
    for text in filled:
        parts = text.split()
        whole = "".join(parts)
        full = all(len(p) >= longest - 1 and p not in names for p in parts[:-1])
        if len(parts) > 1 and full and SIGNAL.fullmatch(whole) and IN_NAME.search(whole):
            out[text] = whole
    return out


def swallowed(texts: dict[str, list[str]]) -> bool:
    """True when texts hold what stands in a column of its own: colours where theirs is blank, or marks."""
    if swallowed_marks(texts):
        return True
    if any(texts.get("color", [""])):
        return False
    said = [t.split()[0] for r in ("function", "signal", "circuit") for t in texts.get(r, ()) if " " in t]
    codes = [t for t in said if color_likeness(t) >= CLEAR and not t.islower()]
    return len(codes) >= FEWEST_CODES and len(codes) >= CODES * len(said)


def swallowed_marks(texts: dict[str, list[str]]) -> bool:
    """True when words have a mark (`x`, `●`) among them in several rows, or several marks stand together:
    columns of marks were not parted from them, or from one another.
    """
    for role in MARKED:
        tokens = [t.split() for t in texts.get(role, ()) if " " in t]
        found = Counter(e for t in tokens for e in set(t) if is_sign_of_yes(e))
        if any(count >= FEWEST_MARKS for count in found.values()):
            return True
    return False


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
