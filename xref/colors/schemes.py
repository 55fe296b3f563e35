"""Colour code schemes and the texts on which they contradict each other, loaded once from data."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scheme:
    """One way of abbreviating colours: code as printed in the scheme's own text -> colour name."""

    name: str
    title: str
    source: str  #: where the codes are published, or `memory`
    codes: Mapping[str, str]
    letter_case: bool  #: case carries meaning: `Br` is one colour, `BR` two
    base_first: bool  #: False: codes joined without separator are in list order, not base first
    legend_only: bool  #: may be read only where a document's own key confirms it
    status: str = ""  #: `verified`, `verified in part` or `memory`
    evidence: frozenset[str] = frozenset()  #: folded codes that hardly any other scheme prints
    extends: str = ""  #: name of the scheme these codes are added to
    needs_key: frozenset[str] = frozenset()  #: folded codes read differently by different makers
    special: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  #: folded joint codes (GNYE)
    folded: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  #: folded code -> its colours


def fold_code(text: str) -> str:
    """Fold a code for comparison without regard to case and to blanks (`LT GRN` = `ltgrn`)."""
    return "".join(text.split()).casefold()


def fold_codes(codes: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    """Map folded codes to their colours; more than one only where case alone tells codes apart."""
    found: dict[str, list[str]] = {}
    for code, color in codes.items():
        colors = found.setdefault(fold_code(code), [])
        if color not in colors:
            colors.append(color)
    return {code: tuple(colors) for code, colors in found.items()}


@cache
def _data(name: str) -> dict[str, Any]:
    text = files("xref.data").joinpath(name).read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


def _scheme(name: str, row: Mapping[str, Any]) -> Scheme:
    codes: dict[str, str] = row["codes"]
    return Scheme(
        name=name,
        title=row["title"],
        source=row["source"],
        codes=codes,
        letter_case=row["letter_case"],
        base_first=row["base_first"],
        legend_only=row["legend_only"],
        status=row["status"],
        evidence=frozenset(fold_code(c) for c in row["evidence"]),
        extends=row.get("extends", ""),
        needs_key=frozenset(fold_code(c) for c in row.get("needs_key", ())),
        special={fold_code(c): tuple(v) for c, v in row.get("special", {}).items()},
        folded=fold_codes(codes),
    )


@cache
def schemes() -> Mapping[str, Scheme]:
    """Return every scheme by name, each as its source prints it."""
    return {name: _scheme(name, row) for name, row in _data("color_schemes.json")["schemes"].items()}


@cache
def extension_of(name: str) -> Scheme | None:
    """Return the scheme whose codes are added to this one, if there is one."""
    return next((s for s in schemes().values() if s.extends == name), None)


@cache
def votable() -> tuple[Scheme, ...]:
    """Return the schemes that a vote over a document's codes may choose."""
    return tuple(s for s in schemes().values() if not s.legend_only and not s.extends)


@cache
def one_code_two_colors() -> Mapping[str, Mapping[str, list[str]]]:
    """Return folded code -> colour -> schemes, for codes that mean several colours."""
    rows = _data("color_conflicts.json")["one_code_two_colors"]
    return {fold_code(code): readings for code, readings in rows.items()}


@cache
def code_or_pair() -> Mapping[str, Mapping[str, Any]]:
    """Return folded texts that are one colour in one scheme, base and stripe in another."""
    return {fold_code(code): row for code, row in _data("color_conflicts.json")["code_or_pair"].items()}


@cache
def swatches() -> Mapping[str, str]:
    """Return colour name -> `#RRGGBB` for drawing a wire."""
    rows: dict[str, str] = _data("color_schemes.json")["swatches"]
    return rows
