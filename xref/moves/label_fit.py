"""What a label's tape can bear: how long it gets, where its lines break, whether its text fits.

Lengths in millimetres, type in points. A text that does not fit is said, never cut.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Literal

from xref.data.wire_labels import outer_diameter
from xref.moves.ids import EXTENSION
from xref.moves.labels import WireEnd

Kind = Literal["flag", "sleeve", "wrap"]

#: The width of a text of one point's size, in points: (text, bold).
Measure = Callable[[str, bool], float]

MM_PER_POINT = 25.4 / 72
#: Smaller type is not read by lamp light at arm's length. A default of this project, of no standard.
SMALLEST_PT = 6.0
#: Larger type only makes a sleeve longer; the id may be larger than the rest.
LARGEST_PT, LARGEST_HEAD_PT = 9.0, 14.0
_STEP_PT = 0.5
#: From one line to the next, in sizes of the type: capitals and digits, few letters that hang down.
LEADING = 1.15
#: Nothing is printed nearer to an edge: tape cutters and printers are off by about as much.
MARGIN_MM = 0.8
#: Between the two flags and the wire, for the tape's own thickness and a cut that is off.
GAP_MM = 2.0
#: One of the two flags where nobody says otherwise. A default of this project.
FLAG_MM = 20.0
#: No longer flag is proposed: it would hang in the way.
LONGEST_FLAG_MM = 60
#: A wrap goes round under itself on a thinner wire before a line can be read. A default of this project.
THINNEST_WRAPPED_MM = 2.0
#: A sleeve gets the largest type with which it is no longer than the first; where even the smallest needs
#: more, up to the second: a longer one leaves no room for the joint on a tail. Defaults of this project.
HANDY_SLEEVE_MM, LONGEST_SLEEVE_MM = 30.0, 50.0
#: A sleeve goes over a wire only when its bore is so much larger: trade practice for shrink tube.
SLEEVE_CLEARANCE = 1.2
#: Less is noise of floating point.
_NOISE_MM = 1e-6
#: The diameter taken where the documents give no size: of a wire of 1 mm², as most control wires are at most.
UNKNOWN_OD_MM = outer_diameter(1.0) or 2.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """The label that is at hand."""

    kind: Kind = "flag"
    width_mm: float = 12.0  #: of the tape, or of a sleeve laid flat
    flag_mm: float = FLAG_MM  #: one of the two flags
    gap_mm: float = GAP_MM
    od_mm: float | None = None  #: of every wire; None: by the wire's size


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line on a label."""

    words: tuple[tuple[str, bool], ...]  #: (text, bold), set with a blank between
    size_pt: float

    @property
    def text(self) -> str:
        """The line as plain text."""
        return " ".join(text for text, _ in self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A wire end's label on its tape."""

    end: WireEnd
    kind: Kind  #: a flag instead of a wrap on a thin wire
    lines: tuple[Line, ...]  #: all of the text; where it does not fit, in the smallest type
    length_mm: float  #: along the tape
    width_mm: float
    flag_mm: float
    od_mm: float
    od_known: bool
    why: str = ""  #: why it does not fit; "" where it does

    @property
    def fits(self) -> bool:
        """Whether all of it can be printed and read."""
        return not self.why


def circumference_mm(od_mm: float) -> float:
    """Return one turn round a wire."""
    return math.pi * od_mm


def flag_length_mm(flag_mm: float, od_mm: float, gap_mm: float = GAP_MM) -> float:
    """Return the tape of a flag: two flags, one turn, and the gap; to the next tenth of a millimetre."""
    return _tenths(2 * flag_mm + circumference_mm(od_mm) + gap_mm)


def tape_m(labels: Iterable[Label]) -> float:
    """Return the metres of tape all labels take one after the other."""
    return round(sum(label.length_mm for label in labels) / 1000.0, 4)


def rolls(labels: Sequence[Label], roll_m: float) -> int:
    """Return the rolls of so many metres; no label runs over from one roll to the next."""
    used, count, room = 0.0, 0, roll_m * 1000.0
    for label in labels:
        if not count or used + label.length_mm > room + _NOISE_MM:
            count, used = count + 1, 0.0
        used += label.length_mm
    return count


def labelled(ends: Iterable[WireEnd], tape: Tape, measure: Measure) -> tuple[Label, ...]:
    """Return the label of every wire end."""
    measure = cache(measure)
    return tuple(_label(end, tape, measure) for end in ends)


def longer_flag(labels: Iterable[Label], tape: Tape, measure: Measure) -> float | None:
    """Return the shortest flag in whole millimetres on which every text fits; None where none does."""
    measure, flag = cache(measure), math.ceil(tape.flag_mm)
    for label in labels:
        while not _set(label.end, (flag - 2 * MARGIN_MM, tape.width_mm - 2 * MARGIN_MM), measure):
            flag += 1
            if flag > LONGEST_FLAG_MM:
                return None
    return float(flag)


def _label(end: WireEnd, tape: Tape, measure: Measure) -> Label:
    by_size = outer_diameter(end.size_mm2)
    od = tape.od_mm or by_size or UNKNOWN_OD_MM
    known = tape.od_mm is not None or by_size is not None
    kind: Kind = "flag" if tape.kind == "wrap" and (od <= THINNEST_WRAPPED_MM or not known) else tape.kind
    if kind == "flag":
        lines, length, why = _flag(end, tape, od, measure)
    elif kind == "sleeve":
        lines, length, why = _sleeve(end, tape, od, measure)
    else:
        lines, length, why = _wrap(end, tape, od, measure)
    return Label(
        end=end,
        kind=kind,
        lines=lines,
        length_mm=length,
        width_mm=tape.width_mm,
        flag_mm=tape.flag_mm,
        od_mm=od,
        od_known=known,
        why=why,
    )


_Made = tuple[tuple[Line, ...], float, str]


def _flag(end: WireEnd, tape: Tape, od: float, measure: Measure) -> _Made:
    length = flag_length_mm(tape.flag_mm, od, tape.gap_mm)
    room = (tape.flag_mm - 2 * MARGIN_MM, tape.width_mm - 2 * MARGIN_MM)
    if lines := _set(end, room, measure):
        return lines, length, ""
    return _smallest(end), length, f"does not fit on a flag of {tape.flag_mm:g} × {tape.width_mm:g} mm"


def _wrap(end: WireEnd, tape: Tape, od: float, measure: Measure) -> _Made:
    """Lines run along the wire, across the tape; the clear tail goes once round over them."""
    turn = circumference_mm(od)
    length = _tenths(2 * turn)
    room = (tape.width_mm - 2 * MARGIN_MM, turn - 2 * MARGIN_MM)
    if lines := _set(end, room, measure):
        return lines, length, ""
    return _smallest(end), length, f"does not fit once round a wire of {od:g} mm on {tape.width_mm:g} mm tape"


def _sleeve(end: WireEnd, tape: Tape, od: float, measure: Measure) -> _Made:
    """The text runs along the wire in as many lines as the tube is high; its length is the sleeve's."""
    high = tape.width_mm - 2 * MARGIN_MM
    bore = 2 * tape.width_mm / math.pi
    lines = _set(end, (HANDY_SLEEVE_MM - 2 * MARGIN_MM, high), measure)
    lines = lines or _set(end, (LONGEST_SLEEVE_MM - 2 * MARGIN_MM, high), measure)
    length = _tenths(_widest(lines or _smallest(end), measure) + 2 * MARGIN_MM)
    if bore < SLEEVE_CLEARANCE * od:
        why = f"a sleeve {tape.width_mm:g} mm wide laid flat does not go over a wire of {od:g} mm"
    elif not lines:
        why = f"does not fit on a sleeve of {LONGEST_SLEEVE_MM:g} × {tape.width_mm:g} mm"
    else:
        why = ""
    return lines or _smallest(end), length, why


def _set(end: WireEnd, room: tuple[float, float], measure: Measure) -> tuple[Line, ...]:
    """Return the lines in the largest type that fits into the room (width, height in mm); () if none does.

    All on one line, or a name broken at a blank, only where it fits in no other way.
    """
    for way in (_lines, _one_after_the_other, _broken):
        fitting = []
        for head_pt, body_pt in _sizes():
            lines = way(end, head_pt, body_pt, room[0], measure)
            if lines and _height(lines) <= room[1] + _NOISE_MM:
                fitting.append(lines)
        if fitting:
            # The rest must be read too: a point of its size counts more than one of the head's.
            return max(fitting, key=lambda lines: lines[0].size_pt + 2 * lines[-1].size_pt)
    return ()


@cache
def _sizes() -> tuple[tuple[float, float], ...]:
    def steps(largest: float) -> list[float]:
        return [SMALLEST_PT + _STEP_PT * n for n in range(round((largest - SMALLEST_PT) / _STEP_PT) + 1)]

    return tuple(
        (head, body) for head, body in product(steps(LARGEST_HEAD_PT), steps(LARGEST_PT)) if head >= body
    )


_Words = list[tuple[str, bool]]


def _head(end: WireEnd) -> _Words:
    return [(text, text != EXTENSION) for text in end.head]


def _body(end: WireEnd) -> _Words:
    return [(text, False) for text in (*end.way, end.color) if text]


def _lines(
    end: WireEnd, head_pt: float, body_pt: float, wide_mm: float, measure: Measure
) -> tuple[Line, ...]:
    """Fill lines one after the other: the head in bold; what it hangs on, where it leads, its colours."""
    head, rest = _filled(_head(end), head_pt, wide_mm, measure), _body(end)
    body = _filled(rest, body_pt, wide_mm, measure)
    return (*head, *body) if head and (body or not rest) else ()


def _one_after_the_other(
    end: WireEnd, head_pt: float, body_pt: float, wide_mm: float, measure: Measure
) -> tuple[Line, ...]:
    """Fill lines with all words in one size, for a sleeve too thin for two lines."""
    return _filled([*_head(end), *_body(end)], body_pt, wide_mm, measure) if head_pt == body_pt else ()


def _broken(
    end: WireEnd, head_pt: float, body_pt: float, wide_mm: float, measure: Measure
) -> tuple[Line, ...]:
    """Break names at their blanks; each begins a line, so that no half of one stands beside another."""
    parts = [_filled([word], head_pt, wide_mm, measure) for word in _head(end)]
    for text, bold in _body(end):
        words = [(word, bold) for word in text.split()]
        parts.append(_filled(words, body_pt, wide_mm, measure))
    return tuple(line for part in parts for line in part) if all(parts) else ()


def _filled(words: _Words, size_pt: float, wide_mm: float, measure: Measure) -> tuple[Line, ...]:
    """Return lines none of which is wider; () where a single word is."""
    lines: list[tuple[tuple[str, bool], ...]] = []
    for word in words:
        if _width(Line(words=(word,), size_pt=size_pt), measure) > wide_mm:
            return ()
        if lines and _width(Line(words=(*lines[-1], word), size_pt=size_pt), measure) <= wide_mm:
            lines[-1] = (*lines[-1], word)
        else:
            lines.append((word,))
    return tuple(Line(words=line, size_pt=size_pt) for line in lines)


def _smallest(end: WireEnd) -> tuple[Line, ...]:
    lines = (tuple(_head(end)), *((word,) for word in _body(end)))
    return tuple(Line(words=words, size_pt=SMALLEST_PT) for words in lines)


def _width(line: Line, measure: Measure) -> float:
    wide = sum(measure(text, bold) for text, bold in line.words)
    wide += measure(" ", False) * (len(line.words) - 1)
    return wide * line.size_pt * MM_PER_POINT


def _widest(lines: Sequence[Line], measure: Measure) -> float:
    return max((_width(line, measure) for line in lines), default=0.0)


def _height(lines: Sequence[Line]) -> float:
    return sum(line.size_pt * LEADING for line in lines) * MM_PER_POINT


def _tenths(length_mm: float) -> float:
    """Round up to a tenth; what lies beyond a thousandth is noise of floating point."""
    return math.ceil(round(length_mm * 10, 2)) / 10
