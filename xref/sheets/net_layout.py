"""Where everything of a drawn net stands: shapes, wires and words on one long strip as wide as a phone.

The strip is read from top to bottom. A way runs straight down; where wires meet, a black bar runs down from
the meeting point and each branch leaves it to the right, the longest one last and straight on. Lengths are
in points; on a phone a point is a dot of its screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from xref.harness.steps import Kind, Link, Step
from xref.sheets.drawing import LEADING, Color, Label, broken
from xref.sheets.net_plan import Plan, below_words, page_words, place_words
from xref.sheets.printed import Wire
from xref.sheets.texts import on_one_line
from xref.sheets.wires import wire_of

WIDTH, MARGIN = 390.0, 12.0
#: Sizes of type: read at arm's length on a phone, and still at two thirds on paper.
TITLE, HEAD, NAME, CODE, WORDS, SMALL = 21.0, 15.0, 17.0, 15.0, 13.5, 12.0
INK: Color = (0, 0, 0)
GREY: Color = (70, 70, 70)
#: Height of each kind of shape; all are SHAPE wide.
HEIGHTS: dict[Kind, float] = {
    "end": 32.0,
    "half": 28.0,
    "splice": 26.0,
    "ground": 38.0,
    "fuse": 44.0,
    "unknown": 32.0,
    "hub": 32.0,
    "joint": 18.0,
    "again": 26.0,
}
SHAPE = 46.0
FACING = 5.0  #: between the two halves of an in-line
_BESIDE = SHAPE / 2 + 8  #: from the middle of a shape to its words
_WIRE_BESIDE = 15.0  #: from the middle of a wire to its words
_STEP, _MOST_STEPS_WIDE = 36.0, 130.0  #: between a bar and its branches; of all bars together at most
_SHORTEST = 44.0  #: of a wire, so that its colours are seen
_GAP = 7.0

#: `stub`: within one cavity; `bar`: joined for certain; `dashes`: joined, but where is not stated.
Look = Literal["wire", "bar", "dashes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A shape: `x` its middle, from `top` to `bottom`; `faces` where the other half of an in-line is."""

    kind: Kind
    x: float
    top: float
    bottom: float
    inside: str = ""  #: the cavity, written into it
    faces: Literal["", "up", "down"] = ""
    alone: bool = False
    step: Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A wire, bar or dashed line through points, straight down or across."""

    look: Look
    points: tuple[tuple[float, float], ...]
    wire: Wire | None = None


@dataclass(slots=True, kw_only=True)
class Layout:
    """The whole strip; at the heights of `breaks` it may be cut: only lines that run down cross them."""

    width: float = WIDTH
    height: float = 0.0
    nodes: list[Node] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    dots: list[tuple[float, float]] = field(default_factory=list)  #: where a branch leaves its bar
    labels: list[Label] = field(default_factory=list)
    breaks: list[float] = field(default_factory=list)

    def write(
        self, text: str, x: float, top: float, size: float, *, bold: bool = False, color: Color = INK
    ) -> float:
        """Put a text that wraps at the strip's edge, and return where it ends."""
        for line in broken(on_one_line(text), self.width - MARGIN - x, size, bold=bold):
            middle = top + size * LEADING / 2
            self.labels.append(Label(x=x, middle=middle, text=line, size=size, color=color, bold=bold))
            top += size * LEADING
        return top


def laid_out(plan: Plan) -> Layout:
    """Return where everything of a plan stands."""
    out = Layout()
    y = out.write(plan.title, MARGIN, MARGIN, TITLE, bold=True)
    if plan.below:
        y = out.write(plan.below, MARGIN, y, WORDS)
    for part in plan.parts:
        y += 2 * _GAP
        out.breaks.append(y - 1)
        if part.title:
            y = out.write(part.title, MARGIN, y, HEAD, bold=True)
        for number, top in enumerate(part.tops):
            if number:
                out.breaks.append(y + 1)
                y = out.write(
                    "How the part below is joined to the one above is not stated.", MARGIN, y + _GAP, WORDS
                )
            step = min(_STEP, _MOST_STEPS_WIDE / max(_depth(top), 1))
            y = _tree(out, top, MARGIN + SHAPE / 2, y + _GAP, step)
    y += _GAP
    for note in plan.notes:
        out.breaks.append(y + 1)
        y = out.write(note, MARGIN, y + _GAP, SMALL)
    out.height = y + MARGIN
    return out


def _depth(top: Step) -> int:
    deep: dict[int, int] = {}
    for step in reversed(list(top.all())):
        branches = [1 + deep[id(branch)] for branch in step.onward[:-1]]
        deep[id(step)] = max([*branches, *(deep[id(last)] for last in step.onward[-1:])], default=0)
    return deep[id(top)]


def _tree(out: Layout, step: Step, x: float, top: float, wide: float) -> float:
    """Put a step and all after it, and return where they end."""
    while True:
        step, shape, y = _stop(out, step, x, top)
        if not step.onward:
            return y
        if len(step.onward) > 1:
            bar = shape
            turns = []
            for branch in step.onward[:-1]:
                out.breaks.append(y + 1)
                turn = y + _GAP + CODE * LEADING / 2
                turns.append((x, turn))
                start = _wire(out, branch.link, ((x, turn), (x + wide, turn)), y + _GAP)
                y = _tree(out, branch, x + wide, start, wide) + _GAP
            look: Look = "dashes" if step.kind == "hub" else "bar"
            out.lines.append(Line(look=look, points=((x, bar), (x, y + 2))))
            if step.kind != "hub":
                out.dots += [*turns, (x, y + 2)]
            shape = y + 2
        out.breaks.append(y + 1)
        step = step.onward[-1]
        top = _wire(out, step.link, ((x, shape),), y + _GAP)


def _stop(out: Layout, step: Step, x: float, top: float) -> tuple[Step, float, float]:
    """Put a step's shape and words: an in-line with both halves.

    Returns the step to go on from, where its shape ends, and where its words end.
    """
    far = step.onward[0] if step.kind == "half" and len(step.onward) == 1 else None
    if far is None or far.kind != "half" or far.link is None or far.link.kind != "plug":
        bottom = _shape(out, step, x, top, "down" if step.alone else "")
        return step, bottom, max(bottom, _words(out, step, x, top))
    middle = _shape(out, step, x, top, "down")
    bottom = _shape(out, far, x, middle + FACING, "up")
    y = _name(out, step, x, top)
    y = _name(out, far, x, max(y, middle + FACING))
    lines = dict.fromkeys([*below_words(step), *below_words(far)])
    return far, bottom, max(bottom, _below(out, lines, [step, far], x, y))


def _shape(out: Layout, step: Step, x: float, top: float, faces: Literal["", "up", "down"]) -> float:
    bottom = top + HEIGHTS[step.kind]
    pin = step.pin
    shown = pin is not None and step.kind in ("end", "half", "unknown", "fuse", "ground")
    out.nodes.append(
        Node(
            kind=step.kind,
            x=x,
            top=top,
            bottom=bottom,
            inside=on_one_line(pin.cavity) if shown and pin is not None else "",
            faces=faces,
            alone=step.alone,
            step=step,
        )
    )
    # the missing half is drawn as a shadow that faces the one there is
    return bottom + FACING + HEIGHTS["half"] if step.alone else bottom


def _words(out: Layout, step: Step, x: float, top: float) -> float:
    y = _name(out, step, x, top)
    return _below(out, below_words(step), [step], x, y)


def _name(out: Layout, step: Step, x: float, top: float) -> float:
    pin, first = step.pin, top + max(0.0, (min(HEIGHTS[step.kind], 30.0) - NAME * LEADING) / 2)
    if pin is None:
        again = step.kind == "again"
        text = "goes back to where they are joined" if again else "Joined somewhere"
    elif step.kind == "splice":
        text = f"splice {pin.connector}"
    elif step.kind == "again":
        text = f"back to {f'splice {pin.connector}' if pin.role == 'splice' else place_words(pin)}"
    else:
        text = place_words(pin)
    return out.write(text, x + _BESIDE, first, NAME, bold=True)


def _below(
    out: Layout, lines: Sequence[str] | dict[str, None], steps: list[Step], x: float, y: float
) -> float:
    step = steps[0]
    said = [] if step.kind == "again" else list(lines)
    if step.kind == "again":
        ring = "shown above: the wires form a ring"
        said = [ring if step.pins else "on which side of it the others lie is not stated"]
    elif step.kind == "hub":
        said = ["which end is wired to which is not stated"]
    elif step.several_wires:
        said.append("several wires in this cavity")
    if step.alone:
        said.append("THE OTHER HALF IS NOT KNOWN")
    if any(pin.flags for one in steps for pin in one.pins):
        said.append("MAY HAVE BEEN MISREAD: look at the page")
    for text in said:
        y = out.write(text, x + _BESIDE, y, WORDS, bold=text.isupper() or text.startswith("MAY HAVE"))
    if step.kind != "again":
        for text in dict.fromkeys(page_words(one) for one in steps):
            if text:
                y = out.write(text, x + _BESIDE, y, SMALL, color=GREY)
    return y


def _wire(out: Layout, link: Link | None, start: tuple[tuple[float, float], ...], top: float) -> float:
    """Put a wire from these points straight down, its words beside it, and return where it ends.

    Where its far end is not stated it is dashed on that side, and where its two ends have different
    colours it has both.
    """
    x, high = start[-1]
    if link is None:
        end = max(top, high) + _GAP
        out.lines.append(Line(look="bar", points=(*start, (x, end))))
        return end
    y = _wire_words(out, link, x + _WIRE_BESIDE, top)
    end = max(y + _GAP, high + _SHORTEST)
    near = wire_of(link.near) if link.near is not None else None
    far = wire_of(link.far) if link.far is not None else None
    if link.kind == "component":
        out.lines.append(Line(look="dashes", points=(*start, (x, end))))
    elif link.kind == "plug":
        out.lines.append(Line(look="bar", points=(*start, (x, end))))
    elif link.kind == "wire":
        whole = near or far
        if near and far and near.base and far.base and _colors(near) != _colors(far):
            half = (high + end) / 2
            out.lines.append(Line(look="wire", points=(*start, (x, half)), wire=near))
            out.lines.append(Line(look="wire", points=((x, half), (x, end)), wire=far))
        else:
            whole = far if far is not None and far.base else whole
            out.lines.append(Line(look="wire", points=(*start, (x, end)), wire=whole))
    else:
        _open(out, link, start, (near, far), end)
    return end


def _open(
    out: Layout,
    link: Link,
    start: tuple[tuple[float, float], ...],
    wires: tuple[Wire | None, Wire | None],
    end: float,
) -> None:
    """Put a line that is a wire at the ends somebody states, and dashed where nobody does."""
    x, high = start[-1]
    first = high + (end - high) * (0.35 if link.near is not None else 0.0)
    last = end - (end - high) * (0.45 if link.far is not None else 0.0)
    if link.near is not None and link.far is not None:
        last = end - (end - high) * 0.35
    if link.near is not None:
        out.lines.append(Line(look="wire", points=(*start, (x, first)), wire=wires[0]))
        out.lines.append(Line(look="dashes", points=((x, first), (x, last))))
    else:
        out.lines.append(Line(look="dashes", points=(*start, (x, last))))
    if link.far is not None:
        out.lines.append(Line(look="wire", points=((x, last), (x, end)), wire=wires[1]))


def _wire_words(out: Layout, link: Link, x: float, top: float) -> float:
    if link.kind == "plug":
        return out.write("plugged together", x, top, WORDS)
    if link.kind == "component":
        return out.write("inside the component, if it joins them there: not stated", x, top, WORDS)
    ends = [pin for pin in (link.near, link.far) if pin is not None]
    wires = [wire for wire in map(wire_of, ends) if wire is not None]
    told: dict[tuple[str, ...], Wire] = {}
    for wire in reversed(wires):
        if wire.base or not any(other.base for other in wires):
            told.setdefault(_colors(wire) if wire.base else (wire.code,), wire)
    code = " / ".join(wire.code for wire in reversed(told.values()) if wire.code) or "colour not stated"
    y = out.write(code, x, top, CODE, bold=True)
    words = " / ".join(wire.words for wire in reversed(told.values()))
    circuits = dict.fromkeys(pin.circuit for pin in ends if pin.circuit)
    legs = [f"leg {pin.cavity}" for pin in ends if pin.role == "splice"]
    said = [f"circuit {', '.join(circuits)}" if circuits else "", words, *legs]
    unsaid = link.kind == "not stated" and link.near is not None and link.far is not None
    said += ["whether straight is not stated" if unsaid else ""]
    return out.write(", ".join(filter(None, said)), x, y, WORDS)


def _colors(wire: Wire) -> tuple[str, ...]:
    return (wire.base, wire.stripe, wire.ring)
