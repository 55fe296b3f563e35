"""Circuit columns that no header names, held against the circuits that headers name in the document."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from xref.pins.designators import shape_of
from xref.pins.parts import Part
from xref.pins.values import blank_if_none

#: So many circuits under headers show the document's form of them.
FEWEST = 8
#: A form that fewer of the circuits have than this share is an accident, not the document's form.
USUAL = 0.15
#: This share of a guessed column must be circuits of the document, or of its form.
ALIKE = 0.95
#: A column of one form throughout may be anything; some of its texts must be circuits that stand elsewhere.
KNOWN = 0.25


def settle_guesses(parts: Sequence[Part]) -> list[Part]:
    """Take the doubt from columns guessed to be circuits whose texts are circuits of this document.

    They must have the form of the circuits that headers name, and a good part of them must be among those.
    """
    named = [c for p in parts if "circuit" not in p.plan.guessed for c in _circuits(p)]
    if len(named) < FEWEST:
        return list(parts)
    forms = Counter(shape_of(c) for c in named)
    usual = {form for form, n in forms.items() if n >= USUAL * len(named)}
    known = set(named)
    return [_settled(p, usual, known) for p in parts]


def _circuits(part: Part) -> list[str]:
    return [c for wires in part.wires for w in wires if (c := blank_if_none(w.circuit))]


def _settled(part: Part, usual: set[str], known: set[str]) -> Part:
    if "column-guessed" not in part.doubts or set(part.plan.guessed) != {"circuit"}:
        return part
    own = _circuits(part)
    alike = sum(shape_of(c) in usual for c in own)
    shared = sum(c in known for c in own)
    if not own or alike < ALIKE * len(own) or shared < KNOWN * len(own):
        return part
    return replace(part, doubts=tuple(d for d in part.doubts if d != "column-guessed"))
