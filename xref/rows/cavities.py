"""Cavity cells that name several cavities: lists, ranges, `5 + 11`, `3 to 9`, `4–9 not used`."""

from __future__ import annotations

import re

from xref.rows.content import CAVITY, CONNECTOR_CAVITY, clean_cavity, is_unused

#: The most cavities a range may stand for; longer ones are no range of cavities.
LONGEST_RANGE = 200

_RANGE = re.compile(
    r"([A-Z]{0,2})(\d{1,3})\s*(?:[-–—‐‑−]|…|\.\.\.?|~|〜|to|bis|à|au|a|al|hasta|thru|through)\s*([A-Z]{0,2})(\d{1,3})",
    re.IGNORECASE,
)
_AND = re.compile(r"\s*(?:[,;&+/、]|\band\b|\bund\b|\bet\b|\by\b|\be\b|\s)\s*", re.IGNORECASE)


def expand(text: str) -> list[str]:
    """Return the cavities a cell stands for; [] when it is not a list or range of cavities."""
    bare = clean_cavity(text)
    if CAVITY.fullmatch(bare) and not re.fullmatch(r"\d{1,3}[-–]\d{1,3}", bare):
        return [bare]
    out: list[str] = []
    rest = bare
    while rest:
        span = _RANGE.match(rest)
        if span:
            run = _run(span)
            if not run:
                return []
            out += run
            rest = rest[span.end() :]
        else:
            one = re.match(r"[A-Z]{0,3}\d{1,3}[a-z]?|[A-Z]\d?", rest, re.IGNORECASE)
            if not one:
                return []
            out.append(one.group())
            rest = rest[one.end() :]
        if rest:
            gap = _AND.match(rest)
            if not gap or gap.end() == 0:
                return []
            rest = rest[gap.end() :]
    return out


def _run(span: re.Match[str]) -> list[str]:
    letters, low, letters_to, high = span.groups()
    if letters_to and letters_to != letters:
        return []
    first, last = int(low), int(high)
    if not first < last <= first + LONGEST_RANGE:
        return []
    width = len(low) if low.startswith("0") else 0
    return [f"{letters}{n:0{width}d}" for n in range(first, last + 1)]


def unused_range(text: str) -> list[str]:
    """Return the cavities of a text such as "4–9 not used"; [] when it says something else."""
    match = re.match(
        r"\s*((?:[A-Z]{0,2}\d{1,3}|[\s,;&+–—-]|to|bis|à|hasta|al|…)+)\s*[:=]?\s*(.+)$", text, re.IGNORECASE
    )
    if not match or not is_unused(match.group(2).strip(" .")):
        return []
    return expand(match.group(1).strip(" –—-,"))


def odd_cavity(text: str) -> bool:
    """A short text with a colour in it (`1(red)`) or an unusual name is kept as printed."""
    return (
        0 < len(text) <= 14
        and bool(re.match(r"[A-Z]{0,3}\d", text, re.IGNORECASE))
        and len(text.split()) <= 2
    )


def connector_in(text: str) -> tuple[str, str]:
    """Split `X5:3` or `C204/7` into connector and cavity; ("", text) for anything else."""
    match = CONNECTOR_CAVITY.fullmatch(text.strip())
    return (match.group(1), match.group(2)) if match else ("", text)


def connectors_listed(text: str) -> list[tuple[str, str]]:
    """Split `H1-29, H1-30, H2/A3` into connectors and cavities; [] for anything else."""
    pieces = [p for p in re.split(r"\s*[,;]\s*", text.strip(" ,;")) if p]
    found = [re.fullmatch(r"([A-Z]{1,3}\d{1,3})[-:./]([A-Z]{0,2}\d{1,3})", p) for p in pieces]
    return [(m.group(1), m.group(2)) for m in found if m] if pieces and all(found) else []
