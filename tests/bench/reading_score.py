"""The arithmetic of the reading score: rows read against rows known.

A read row and a known row are the same row when document, page, connector and cavity agree; where
several fit (two wires in a cavity, two halves), the pairs that agree in most fields are taken first.
A row is right when its half, colour code, circuit, size and function agree too. A silently wrong row
carries no doubt and is not there, or has a wrong half, colour or circuit.
"""

from __future__ import annotations

import csv
import re
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol


class Read(Protocol):
    """The fields of a read pin that are looked at."""

    connector: str
    half: str
    cavity: str
    color_code: str
    circuit: str
    function: str
    size: str
    base_color: str
    stripe_color: str
    status: str
    role: str
    option: str
    page: int
    flags: tuple[str, ...]
    notices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A row that stands on a page. `|` separates accepted texts, `*` accepts any, "" wants a blank."""

    document: str
    page: int
    connector: str
    cavity: str
    half: str = ""
    color_code: str = ""
    circuit: str = ""
    function: str = ""
    size: str = ""
    status: str = "*"
    base_color: str = ""
    stripe_color: str = ""
    role: str = "*"
    option: str = "*"
    potential: str = ""
    layout: str = ""
    place: str = ""
    producer: str = ""
    also: str = ""  #: a further text of the row that colour-free fields may hold instead; `*` any
    required: bool = True
    signals: bool = False  #: function and circuit may stand for each other


FIELDS = ("half", "color_code", "circuit", "size", "function", "status", "colors", "role", "option")
RIGHT = ("half", "color_code", "circuit", "size", "function")  #: what makes a row right
CUTTING = ("half", "color_code", "circuit", "colors")  #: what is silently wrong when no doubt is named
#: Japanese is set without blanks, so a blank beside one of its letters is a line break.
_CJK_BLANK = re.compile(r"(?<=[\u3000-\u9fff\uff00-\uffef]) | (?=[\u3000-\u9fff\uff00-\uffef])")
_DASHES = str.maketrans({"–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "\u00a0": " ", "\u00ad": ""})


def folded(text: str) -> str:
    """White space as one blank, dashes alike, soft hyphens gone: how codes are compared."""
    return " ".join(text.translate(_DASHES).split())


def loose(text: str) -> str:
    """As `folded`, case aside and without blanks at Japanese letters: for names and functions."""
    return _CJK_BLANK.sub("", folded(text).casefold())


def accepts(known: str, read: str, *, names: bool = False) -> bool:
    """True if a read text is one of the accepted ones."""
    fold = loose if names else folded
    options = known.split("|")
    return "*" in options or fold(read) in {fold(o) for o in options}


def agreement(known: Known, read: Read) -> dict[str, bool]:
    """For each field whether the read row agrees."""
    result = {
        "half": not known.half or not read.half or accepts(known.half, read.half, names=True),
        "color_code": accepts(known.color_code, read.color_code),
        "circuit": accepts(known.circuit, read.circuit),
        "size": accepts(known.size, read.size),
        "function": accepts(known.function, read.function, names=True),
        "status": known.status in {"*", read.status},
        "colors": _colors_agree(known, read),
        "role": known.role in {"", "*"} or read.role in known.role.split("|"),
        "option": accepts(known.option, read.option, names=True),
    }
    if known.signals or known.circuit == "*":
        result |= _signals_agree(known, read)
    return result


def _colors_agree(known: Known, read: Read) -> bool:
    """Undecoded is no wrong colour; another colour is. Where no base is known, nothing is compared."""
    if not read.base_color or not known.base_color:
        return True
    return accepts(known.base_color, read.base_color) and accepts(known.stripe_color, read.stripe_color)


def _signals_agree(known: Known, read: Read) -> dict[str, bool]:
    """Where no circuit numbers are printed, the signal's name may stand in either column."""
    texts = {loose(t) for t in (*known.circuit.split("|"), *known.function.split("|")) if t not in {"", "*"}}
    free = known.also == "*" or known.circuit == "*"
    extra = {loose(known.also)} if known.also not in {"", "*"} else set()
    got = [loose(read.circuit), loose(read.function)]
    whole = texts <= set(got) if known.signals else not texts or bool(texts & set(got))

    def fits(text: str) -> bool:
        return not text or text in texts | extra or (free and known.signals)

    return {"circuit": whole and fits(got[0]), "function": whole and fits(got[1])}


@dataclass(slots=True, kw_only=True)
class Tally:
    """Counts of one group of rows."""

    known: int = 0
    read: int = 0
    found: int = 0
    right: int = 0
    doubted: int = 0
    vouched: int = 0
    silent: int = 0
    silent_any: int = 0  #: as silent, with a wrong function, size or option counted too
    on_distractors: int = 0
    fields: Counter[str] = field(default_factory=Counter)

    def share(self, part: int, whole: int) -> float:
        """Percent; 100 of nothing."""
        return 100.0 * part / whole if whole else 100.0

    @property
    def recall(self) -> float:
        """Known rows read right, percent."""
        return self.share(self.right, self.known)

    @property
    def precision(self) -> float:
        """Read rows that are right, percent."""
        return self.share(self.right, self.read)

    @property
    def silent_per_10k(self) -> float:
        """Silently wrong rows among 10,000 vouched ones."""
        return 10_000 * self.silent / self.vouched if self.vouched else 0.0

    def add(self, other: Tally) -> None:
        """Add another group's counts."""
        for name in (
            "known",
            "read",
            "found",
            "right",
            "doubted",
            "vouched",
            "silent",
            "silent_any",
            "on_distractors",
        ):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.fields.update(other.fields)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A row that went wrong: lost, not there, or read otherwise (with the fields that differ)."""

    document: str
    page: int
    kind: str
    known: Known | None
    read: Read | None
    silent: bool = False


def pair_rows(known: list[Known], read: list[Read]) -> list[tuple[int, int]]:
    """Pairs (index known, index read), best agreement first, each row in one pair at most."""
    by_page: dict[int, list[int]] = defaultdict(list)
    for k, row in enumerate(known):
        by_page[row.page].append(k)
    scored = []
    for r, pin in enumerate(read):
        for k in by_page[pin.page]:
            row = known[k]
            if accepts(row.connector, pin.connector, names=True) and accepts(row.cavity, pin.cavity):
                scored.append((-sum(agreement(row, pin)[f] for f in RIGHT), k, r))
    taken_k: set[int] = set()
    taken_r: set[int] = set()
    pairs = []
    for _, k, r in sorted(scored):
        if k not in taken_k and r not in taken_r:
            taken_k.add(k)
            taken_r.add(r)
            pairs.append((k, r))
    return pairs


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A read row with its doubts, and the fields that are wrong; `not there` where no such row stands."""

    flags: tuple[str, ...]
    off: tuple[str, ...]
    layout: str = ""
    potential: str = ""  #: known: `potential` names a voltage, `circuit` only looks like it
    notices: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class Score:
    """Tallies under each value of a tag, and what went wrong."""

    total: Tally = field(default_factory=Tally)
    by: dict[str, dict[str, Tally]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(Tally)))
    wrong: list[Wrong] = field(default_factory=list)
    judged: list[Judged] = field(default_factory=list)


def score_document(
    score: Score, document: str, known: list[Known], read: Iterable[Read], distractor_pages: Iterable[int]
) -> None:
    """Add one document to a score."""
    pins = list(read)
    bare = set(distractor_pages)
    pairs = pair_rows(known, pins)
    partner = {r: k for k, r in pairs}
    tags = {row.page: row for row in known}
    for k, row in enumerate(known):
        if row.required:
            _count(score, document, row, Tally(known=1))
            if k not in {p[0] for p in pairs}:
                score.wrong.append(Wrong(document=document, page=row.page, kind="lost", known=row, read=None))
    for r, pin in enumerate(pins):
        doubted = bool(pin.flags)
        tally = Tally(
            read=1, doubted=int(doubted), vouched=int(not doubted), on_distractors=int(pin.page in bare)
        )
        match = known[partner[r]] if r in partner else None
        if match is None:
            tally.silent = tally.silent_any = int(not doubted)
            score.wrong.append(
                Wrong(
                    document=document,
                    page=pin.page,
                    kind="not there",
                    known=None,
                    read=pin,
                    silent=not doubted,
                )
            )
            layout = tags[pin.page].layout if pin.page in tags else "no pinout page"
            score.judged.append(Judged(flags=pin.flags, off=("not there",), layout=layout))
            _count(score, document, tags.get(pin.page), tally)
            continue
        if not match.required:
            continue
        agrees = agreement(match, pin)
        off = [f for f in FIELDS if not agrees[f]]
        score.judged.append(
            Judged(
                flags=pin.flags,
                off=tuple(off),
                layout=match.layout,
                potential=match.potential,
                notices=pin.notices,
            )
        )
        tally.found = 1
        tally.right = int(all(agrees[f] for f in RIGHT))
        tally.silent = int(not doubted and not all(agrees[f] for f in CUTTING))
        tally.silent_any = int(not doubted and not (tally.right and agrees["colors"] and agrees["option"]))
        tally.fields.update(f for f in FIELDS if agrees[f])
        if off:
            score.wrong.append(
                Wrong(
                    document=document,
                    page=pin.page,
                    kind=" ".join(off),
                    known=match,
                    read=pin,
                    silent=bool(tally.silent),
                )
            )
        _count(score, document, match, tally)


def _count(score: Score, document: str, row: Known | None, tally: Tally) -> None:
    score.total.add(tally)
    score.by["document"][document].add(tally)
    for tag in ("layout", "place", "producer"):
        score.by[tag][getattr(row, tag) if row else "no pinout page"].add(tally)


def known_from_csv(path: Path, document: str = "") -> list[Known]:
    """Rows of a truth file; columns it does not have stay blank. Real ones have `also`, `required`."""
    with path.open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    result = []
    for line in lines:
        real = "also" in line
        values = {
            k: v for k, v in line.items() if k in Known.__dataclass_fields__ and k not in {"page", "required"}
        }
        values["document"] = line.get("document") or document
        if real:
            values |= {"size": "*", "layout": "real", "place": "real", "producer": "real"}
        result.append(
            Known(**values, page=int(line["page"]), required=line.get("required", "y") == "y", signals=real)
        )
    return result
