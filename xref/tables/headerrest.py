"""The rest of a header that was left in the first rows of its table: a second line, a translation."""

from __future__ import annotations

from collections.abc import Sequence

from xref.data.fuse_sides import SIDES
from xref.tables.sidewords import side_of
from xref.tables.table import Band
from xref.tables.vocabulary import best_role

#: A header and the line under it that together score so much are one.
WHOLE_PHRASE = 0.96
#: So many words of another language under headers of the same meaning are no row.
FEWEST_TRANSLATED = 2


def whole_header(header: Sequence[str], bands: Sequence[Band]) -> tuple[tuple[str, ...], tuple[Band, ...]]:
    """Return the header with what stands of it in the first band, and the bands that are rows."""
    if len(bands) < 2:
        return tuple(header), tuple(bands)
    texts = [cell.text for cell in bands[0].cells]
    filled = [j for j, text in enumerate(texts) if text]
    rest = _translates(header, texts, filled) or _ends(header, texts, filled)
    if not rest and not _names_sides(header, texts, filled):
        return tuple(header), tuple(bands)
    joined = (f"{name} {text}".strip() for name, text in zip(header, texts, strict=True))
    return tuple(joined), tuple(bands[1:])


def _names_sides(header: Sequence[str], texts: Sequence[str], filled: Sequence[int]) -> bool:
    """True for the words of the two sides of a fuse: `entrada` and `salida` under `Circuito de` twice."""
    said = [side_of(f"{header[j]} {texts[j]}") for j in filled if header[j] and not side_of(header[j])]
    return len(said) == len(filled) and sorted(s[1] for s in said if s) == list(SIDES)


def _translates(header: Sequence[str], texts: Sequence[str], filled: Sequence[int]) -> bool:
    """True for a line of words that each mean what the header over it means: `Wire` under `Filo`."""
    return len(filled) >= FEWEST_TRANSLATED and all(_same(header[j], texts[j]) for j in filled)


def _same(name: str, text: str) -> bool:
    (role, score), (other, sure) = best_role(name), best_role(text)
    return bool(role) and role == other and min(score, sure) >= WHOLE_PHRASE


def _ends(header: Sequence[str], texts: Sequence[str], filled: Sequence[int]) -> bool:
    """True for the rest of one header: `Cavity` over `number`."""
    if len(filled) != 1 or not header[filled[0]]:
        return False
    name = header[filled[0]]
    role, score = best_role(f"{name} {texts[filled[0]]}")
    return score >= WHOLE_PHRASE and role == best_role(name)[0]
