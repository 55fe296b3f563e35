"""A new plan as a TOML file: what is known, what is to be filled in, what may be taken in by deleting a #."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from xref.errors import UsageError
from xref.harness.answers import Neighbor
from xref.moves.plan_file import TAIL_METRES
from xref.moves.records import AS_FITTED, PlannedNet
from xref.moves.safety import texts_of_kinds
from xref.moves.start import Module, PlanStart
from xref.moves.texts import CAUTIONS
from xref.sheets.files import written_whole
from xref.sheets.texts import on_one_line

#: Circuits named behind a line; the rest are counted.
_MOST_NAMED = 6
#: Where remarks behind short lines begin.
_REMARKS_AT = 40


def write_plan_start(start: PlanStart, path: Path, *, force: bool = False) -> None:
    """Write a plan file with the places left open. A file that is there stays as it is, unless `force`.

    Raises:
        UsageError: the file is there already, or its name does not end in .toml.
        CannotWrite: it cannot be written.
    """
    if path.suffix.lower() != ".toml":
        raise UsageError(f"{path.name}: a plan is a .toml file.", hint=f"Write -o {path.stem}.toml.")
    if path.exists() and not force:
        raise UsageError(
            f"{path} is there already and was not touched: it may be somebody's plan.",
            hint="Choose another name, or --force to write over it.",
        )
    with written_whole(path) as beside:
        beside.write_text(plan_start_text(start, path.name), encoding="utf-8", newline="\n")


def plan_start_text(start: PlanStart, name: str) -> str:
    """Return the plan file's text; `name` is what the file is called."""
    lines = [
        *_comment("A plan of a move: which modules sit where afterwards. It is yours; xref only reads it."),
        *_comment(f'Fill in every place left open (""), then: xref plan show {name}'),
        "#",
        *_comment(*CAUTIONS),
        "",
        f"machine = {quoted(start.machine)}",
        *_comment('What is not named below: "stays" where it is, or is "left behind" (the donor is only a'),
        *_comment("source of modules, and the new vehicle must give what they had from it)."),
        'rest = "stays"',
        _remark("# system_volts = 24", "above 60 V DC every supply and its ground is refused"),
        "",
        *_places(start),
        *_drop(),
        *_host(start),
        *_inlines(start),
        *_route(),
        *_tails(),
        *_shorten(),
        *_bridge(),
        *_safety(start.safety),
    ]
    return "\n".join(lines).rstrip() + "\n"


def quoted(text: str) -> str:
    """Return a text as a TOML string, on one line, with every character that does not print as an escape."""
    # A JSON string is a TOML basic string too, but for half a surrogate pair, which no file holds.
    text = text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    return "".join(_escaped(char) for char in json.dumps(text, ensure_ascii=False))


def _escaped(char: str) -> str:
    if char.isprintable():
        return char
    return f"\\u{ord(char):04x}" if ord(char) < 0x10000 else f"\\U{ord(char):08x}"


def _comment(*texts: str) -> list[str]:
    return [f"# {_plain(text)}".rstrip() for text in texts]


def _plain(text: str) -> str:
    return "".join(char if char.isprintable() else "\ufffd" for char in on_one_line(text))


def _remark(line: str, remark: str) -> str:
    return f"{line:<{_REMARKS_AT}}  # {_plain(remark)}" if remark else line


def _some(texts: Sequence[str]) -> str:
    left = len(texts) - _MOST_NAMED
    return ", ".join(texts[:_MOST_NAMED]) + (f" and {left} more" if left > 0 else "")


def _places(start: PlanStart) -> Iterator[str]:
    yield "[place]"
    yield from _comment("Component or connector = the place where it will sit, in your own words.")
    for module in start.modules:
        yield _remark(f'{quoted(module.name)} = ""', f"<- fill in. {_connectors(module)}")
        if module.not_named:
            yield from _comment(f"! {', '.join(module.not_named)} of the same component is not named here.")
    if start.refused:
        yield from _comment("! These have wires nobody may cut by a plan; leave the module or move it whole:")
        yield from (_comment(f"!   {net.name}: {net.refused}")[0] for net in start.refused)
    if start.only:
        yield from _comment(
            "", "These talk to nothing but the above and others of this list: think of moving"
        )
        yield from _comment("them along. Take the # away and fill in, or their wires become extensions.")
        for neighbor in start.only:
            yield _remark(f'# {quoted(neighbor.component)} = ""', _wired(neighbor))
    if start.shared:
        yield from _comment("", "Also wired to these, which talk to others as well:")
        for neighbor in start.shared:
            yield from _comment(f"  {neighbor.component}: {_wired(neighbor)}")
    yield ""


def _connectors(module: Module) -> str:
    named = [f"{name}, {number} cavities in use" for name, number in module.connectors]
    return "Plugs: " + "; ".join(named) if named else ""


def _wired(neighbor: Neighbor) -> str:
    names = [name for name in neighbor.connectors if name != neighbor.component]
    parts = [
        ", ".join(names),
        f"by {_some([circuit or '(no number)' for circuit in neighbor.circuits])}",
        f"through {', '.join(neighbor.through)}" if neighbor.through else "",
        "A ROW MAY HAVE BEEN MISREAD" if neighbor.doubtful else "",
    ]
    return "; ".join(filter(None, parts))


def _drop() -> Iterator[str]:
    yield "[drop]"
    yield from _comment('What comes along nowhere; its wires end. Such as ["Horn"].')
    yield "components = []"
    yield ""


def _host(start: PlanStart) -> Iterator[str]:
    yield "[host]"
    yield from _comment('What the new vehicle gives to a pin instead: "M12:4" = "fuse H3, 10 A, 24 V".')
    if start.host:
        yield from _comment('Asked for with rest = "left behind": take the # away and fill in.')
        for need, net in start.host:
            pin = need.pin
            line = f'# {quoted(f"{pin.connector}:{pin.cavity}")} = ""'
            yield _remark(line, ", ".join(filter(None, (need.kind, net.name, pin.function))))
    yield ""


def _inlines(start: PlanStart) -> Iterator[str]:
    yield "[inlines]"
    yield from _comment("In-lines that must stay whatever happens. xref plan show says which could go.")
    if start.inlines:
        yield from _comment("On the way of these modules:")
        for item, number in start.inlines:
            nets = "1 of their circuits" if number == 1 else f"{number} of their circuits"
            yield from _comment(f"  {item.connector}: {nets} through it")
    yield "keep = []"
    yield ""


def _route() -> Iterator[str]:
    yield "[route]"
    yield from _comment(
        "Metres between two places along the real way, measured with a string. A pair that is"
    )
    yield from _comment(f'left out is not known, never 0. What is not moved sits "{AS_FITTED}".')
    yield from _comment(f'"{AS_FITTED} - stern locker" = 4.2')
    yield ""


def _tails() -> Iterator[str]:
    yield "[tails]"
    yield from _comment("Left on a plug that is cut off, and at each end of an extension.")
    yield f"metres = {TAIL_METRES:g}"
    yield ""


def _shorten() -> Iterator[str]:
    yield "[shorten]"
    yield from _comment(
        "Circuits between modules that move together whose loop is cut out; others stay uncut."
    )
    yield "nets = []"
    yield ""


def _bridge() -> Iterator[str]:
    yield "[bridge]"
    yield from _comment(
        "Circuits that modules which go pass on inside, as a bus in and out: joined where they sat.",
        "Never those of a gateway. xref plan show asks where it matters.",
    )
    yield "nets = []"
    yield ""


def _page_of(net: PlannedNet, text: str) -> str:
    named = (pin for pin in net.rows if text in (pin.function, pin.component, pin.connector_name))
    return next((f"{pin.document} p. {pin.page}" for pin in named), "")


def _safety(nets: Iterable[PlannedNet]) -> Iterator[str]:
    yield "[safety]"
    yield from _comment("Safety circuits you have read, by function. None is cut before it stands here.")
    for net in nets:
        for kind, texts in texts_of_kinds(net.rows).items():
            yield from _comment(f"  {quoted(texts[0])}: {net.name}, {kind}; {_page_of(net, texts[0])}")
    yield "accepted = []"
