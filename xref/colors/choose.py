"""A document's colour codes and its key -> the scheme it is read by, with the reason in one line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from xref.colors.combine import Colors, writing_readings
from xref.colors.key import ColorKey, scheme_of_key
from xref.colors.language import colors_of_word
from xref.colors.schemes import Scheme, fold_code, schemes, votable
from xref.colors.writing import Writing, read_writing

#: Share of cells that may be misprints or strange codes without a scheme being given up.
_NOISE = 0.06
#: From this many cells on a single stray code is noise, not evidence.
_SINGLE_STRAY_FROM = 20
#: Share of cells in which codes must stand that settle a scheme (and at least two, in longer lists).
_EVIDENCE = 0.03
#: A scheme with settling codes that does not fit within the noise is still chosen if it reads this share,
_CLEAR_SHARE = 0.8
#: and every scheme that reads differently falls behind by this much; the rest become doubts.
_CLEAR_LEAD = 0.15
#: Mixed-case codes (`Br`) in at least this many cells show that the document kept its letter case.
_CASE_CELLS = 2

_Cells = Mapping[Writing, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeChoice:
    """How a document's codes are read: a scheme's name, "key" for its own key, "" undecided."""

    scheme: str
    why: str
    key: ColorKey | None = None
    case_kept: bool = False  #: the document tells `Br` from `BR`


UNDECIDED = SchemeChoice(scheme="", why="no colour codes were seen")


def _cells(codes: Counter[str]) -> _Cells:
    """Return the writings that can vote; full words and unreadable texts favour no scheme."""
    cells: Counter[Writing] = Counter()
    for code, weight in codes.items():
        writing = read_writing(code)
        if weight > 0 and writing and not all(_is_word(part) for part in writing.parts):
            cells[writing] += weight
    return cells


def _is_word(part: str) -> bool:
    return len(part) > 2 and bool(colors_of_word(part))


def _misfits(cells: _Cells, scheme: Scheme) -> int:
    return sum(n for writing, n in cells.items() if not writing_readings(writing, scheme, False))


def _evidence(cells: _Cells, scheme: Scheme) -> int:
    return sum(n for w, n in cells.items() if any(fold_code(p) in scheme.evidence for p in w.parts))


def _differences(cells: _Cells, one: Scheme, other: Scheme) -> list[Writing]:
    """Return the texts both schemes can read, but not alike."""
    differing = []
    for writing in cells:
        first = set(writing_readings(writing, one, False))
        second = set(writing_readings(writing, other, False))
        if first and second and first != second:
            differing.append(writing)
    return differing


def _tolerance(total: int) -> int:
    return max(int(total * _NOISE), 1 if total >= _SINGLE_STRAY_FROM else 0)


def _enough_evidence(total: int) -> int:
    return max(2, round(total * _EVIDENCE)) if total >= _SINGLE_STRAY_FROM else 1


def _printed(writing: Writing) -> str:
    return "/".join(writing.parts + writing.bracket)


def _titles(candidates: list[Scheme]) -> str:
    return " and ".join(s.title for s in candidates)


def _undecided(why: str) -> SchemeChoice:
    return SchemeChoice(scheme="", why=f"undecided: {why}")


def _vote(cells: _Cells) -> SchemeChoice:
    """Choose a built-in scheme by what the codes of a document are."""
    total = sum(cells.values())
    if not total:
        return UNDECIDED
    misfits = {scheme: _misfits(cells, scheme) for scheme in votable()}
    settled = {s for s in votable() if _evidence(cells, s) >= _enough_evidence(total)}
    fitting = sorted((s for s in votable() if misfits[s] <= _tolerance(total)), key=lambda s: misfits[s])
    if not fitting:
        return _clear_lead(cells, misfits, settled)
    candidates = [s for s in fitting if s in settled] or fitting
    for rival in candidates[1:]:
        if differing := _differences(cells, candidates[0], rival):
            return _undecided(
                f"{_titles([candidates[0], rival])} both fit and read {_printed(differing[0])} differently"
            )
    winner = candidates[0]
    for legend in (s for s in schemes().values() if s.legend_only):
        if _misfits(cells, legend) <= _tolerance(total) and (d := _differences(cells, winner, legend)):
            return _undecided(f"{_titles([winner, legend])} both fit and read {_printed(d[0])} differently")
    if len(fitting) > 1 and winner not in settled and not _matters(cells, winner):
        return _undecided(f"{_titles(fitting)} fit and every code means the same in all; nothing hangs on it")
    winner = _wider(cells, winner, fitting, misfits)
    return _chosen(cells, winner, [winner, *(s for s in candidates if s is not winner)], misfits[winner])


def _wider(cells: _Cells, winner: Scheme, fitting: list[Scheme], misfits: Mapping[Scheme, int]) -> Scheme:
    """Return the scheme that reads more cells than noise can explain and reads the others alike.

    Fewer cells do not count: a misprint must stay unknown, not become a colour of a wider scheme.
    """
    gain = _enough_evidence(sum(cells.values()))
    for other in fitting:
        if misfits[winner] - misfits[other] >= gain and not _differences(cells, winner, other):
            return other
    return winner


def _matters(cells: _Cells, winner: Scheme) -> bool:
    """Tell whether any code of the document would be read differently by a scheme that was ruled out."""
    others = [s for s in schemes().values() if s is not winner]
    return any(_differences({writing: 1}, winner, other) for writing in cells for other in others)


def _chosen(cells: _Cells, winner: Scheme, candidates: list[Scheme], misfits: int) -> SchemeChoice:
    total = sum(cells.values())
    settling = sorted(
        {p for w in cells for p in w.parts if fold_code(p) in winner.evidence}, key=lambda p: (p.upper(), p)
    )
    why = f"{winner.title} reads {total - misfits} of {total} cells"
    if settling:
        why += f"; settled by {', '.join(settling[:6])}"
    if len(candidates) > 1:
        why += f"; {_titles(candidates[1:])} would read every code alike"
    return SchemeChoice(scheme=winner.name, why=why, case_kept=_keeps_case(cells, winner))


def _clear_lead(cells: _Cells, misfits: Mapping[Scheme, int], settled: set[Scheme]) -> SchemeChoice:
    """Choose a scheme that leaves more than noise unread, if its lead is clear."""
    total = sum(cells.values())
    leading = min(misfits, key=lambda s: (misfits[s], s not in settled))
    lead = min(
        (
            n - misfits[leading]
            for s, n in misfits.items()
            if s is not leading and _differences(cells, leading, s)
        ),
        default=total,
    )
    if leading in settled and misfits[leading] <= (1 - _CLEAR_SHARE) * total and lead >= _CLEAR_LEAD * total:
        return _chosen(cells, leading, [leading], misfits[leading])
    return _undecided(
        f"no scheme reads enough of the {total} cells; {leading.title} leaves {misfits[leading]} unread"
    )


def _keeps_case(cells: _Cells, scheme: Scheme) -> bool:
    if not scheme.letter_case:
        return False
    mixed = sum(
        n for w, n in cells.items() if any(p in scheme.codes and p[1:] and not p.isupper() for p in w.parts)
    )
    return mixed >= _CASE_CELLS


def _against_vote(cells: _Cells, key_scheme: Scheme, vote: SchemeChoice) -> str:
    """Say where a document's key and the vote over its codes disagree; "" if nowhere."""
    if not vote.scheme:
        return ""
    voted = schemes()[vote.scheme]
    for writing in _differences(cells, key_scheme, voted):
        said, meant = (writing_readings(writing, s, False)[0] for s in (key_scheme, voted))
        return (
            f"; the codes look like {voted.title}, where {_printed(writing)} would be {_joined(meant)}, "
            f"but the key gives {_joined(said)}: the key counts"
        )
    return ""


def _joined(colors: Colors) -> str:
    return "/".join(colors)


def choose_scheme(codes: Counter[str], key: ColorKey | None) -> SchemeChoice:
    """Choose how a document's codes are read, from their counts and its own key.

    The key beats the vote. A vote is settled by codes hardly any other scheme prints; where several
    schemes fit and differ it stays undecided. Schemes that need a key never win, but hinder.
    """
    cells = _cells(codes)
    vote = _vote(cells)
    if key is None or not key.codes:
        return vote
    key_scheme = scheme_of_key(key)
    total, unread = sum(cells.values()), _misfits(cells, key_scheme)
    if total and unread == total:
        return SchemeChoice(
            scheme=vote.scheme,
            why=f"{vote.why}; the printed key fits none of the cells",
            case_kept=vote.case_kept,
        )
    why = f"the document's own key of {len(key.codes)} codes"
    if unread:
        why += f"; {unread} of {total} cells are not in it"
    if key.duplicates:
        why += f"; given for two colours and not used: {', '.join(key.duplicates)}"
    why += _against_vote(cells, key_scheme, vote)
    return SchemeChoice(scheme="key", why=why, key=key, case_kept=_keeps_case(cells, key_scheme))
