"""What the documents or the plan leave open, each with the command, page or key that settles it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from xref.data.function_words import kinds_of
from xref.harness.likely import Likely
from xref.harness.listed import spliced
from xref.harness.sentences import as_sentence
from xref.moves.host import may_have_fed
from xref.moves.idle_lines import idle_circuits, unused_answers
from xref.moves.ids import cavity_words
from xref.moves.kept_records import BusPair
from xref.moves.parted import parted_nets, split_modules
from xref.moves.place_names import alike_places
from xref.moves.plan_file import PlanFile
from xref.moves.records import AS_FITTED, HostNeed, Join, PlannedNet, Question
from xref.moves.safety import texts_of_kinds, to_accept
from xref.records import Pin

if TYPE_CHECKING:
    from xref.moves.work_out import Worked

#: Cavities named in one question.
_MOST_NAMED = 8

#: Kinds of questions in the order they are best settled, with the heading each stands under.
QUESTION_KINDS: dict[str, str] = {
    "blocked": "Modules with wires nobody may cut by this plan",
    "safety": "Safety circuits: not cut until you have read them",
    "unknown": "Not known well enough to be decided",
    "parted": "Circuits that come apart: no line joins what they joined",
    "split": "Modules whose plugs go to different places",
    "unseen": "Branches that are in no document",
    "unnamed": "Circuits of which nobody says what they do",
    "host": "What the new vehicle must give instead",
    "ground": "Grounds that stay behind",
    "supplies": "Modules that keep only some of their feeds or grounds",
    "pair": "Bus wires that must stay a pair",
    "terminator": "Terminators no longer at the end of their bus",
    "bridge": "Bridges needed where a module leaves a bus",
    "together": "Wires that must stay together",
    "through": "Travelling wires that pass an in-line which stays",
    "route": "Distances that are not given",
    "unused": "Lines of the plan that answer nothing",
}


def questions_of(
    plan: PlanFile,
    worked: Worked,
    host: Collection[HostNeed],
    joins: Iterable[Join],
    buses: Iterable[BusPair] = (),
    kept: Iterable[Question] = (),
) -> tuple[Question, ...]:
    """Return the questions, in the order they are best settled: what may be cut wrong comes first.

    `kept` are questions about what is kept together, with their kinds.
    """
    nets = worked.nets
    loops = {number for number, lines in worked.lines.items() if lines.loop}
    found: dict[str, list[Question]] = {
        "blocked": _blocked(nets.values()),
        "safety": _safety(plan, nets.values()),
        "unknown": _unknown(nets.values(), worked.likely),
        "parted": parted_nets(nets.values(), worked.graphs),
        "split": split_modules(nets.values()),
        "unseen": [*_unseen(nets.values()), *_uncounted(nets.values())],
        "unnamed": _unnamed(nets.values()),
        "host": [*_host(nets, host), *_perhaps_fed(nets.values(), {need.net for need in host})],
        "ground": _grounds(nets.values()),
        "together": _together(nets.values(), buses),
        "through": _through_staying(nets.values(), worked.fitted, loops),
        "route": _routes(plan, joins),
        "unused": [
            *alike_places(plan),
            *unused_answers(plan, nets.values(), {need.net for need in host}),
            *idle_circuits(plan, nets.values(), worked.graphs),
        ],
    }
    for item in kept:
        found.setdefault(item.kind, []).append(item)
    return tuple(replace(item, kind=kind) for kind in QUESTION_KINDS for item in found.get(kind, ()))


def by_kind(questions: Iterable[Question]) -> list[tuple[str, list[Question]]]:
    """Return the questions under the heading of their kind, in the order they are best settled."""
    groups: dict[str, list[Question]] = defaultdict(list)
    for question in questions:
        groups[QUESTION_KINDS.get(question.kind, "Open")].append(question)
    return list(groups.items())


def _blocked(nets: Iterable[PlannedNet]) -> list[Question]:
    """Name placed modules that have a refused pin: they move whole, with their loom, or not at all."""
    held: dict[str, set[str]] = defaultdict(set)
    for net in nets:
        if net.refused:
            for end in net.ends:
                if end.moved:
                    held[end.pin.component or end.pin.connector].add(net.refused)
    return [
        Question(
            about=name,
            text=f"{name} has wires nobody may cut by this plan ({'; '.join(sorted(reasons))}).",
            settle="Leave it where it is, or have it moved by someone trained, by the maker's instructions.",
        )
        for name, reasons in sorted(held.items())
    ]


def _safety(plan: PlanFile, nets: Iterable[PlannedNet]) -> list[Question]:
    found = []
    for net in nets:
        if net.touched and not net.refused and not net.accepted and net.fate != "stays":
            left = to_accept(texts_of_kinds(net.rows), plan.accepted)
            named = ", ".join(f'"{text}"' for text in left)
            found.append(
                Question(
                    about=net.name,
                    text=f"{net.name} may be part of a safety circuit ({', '.join(net.review)}): "
                    f"{_functions(net)}.",
                    settle=f"Read its page; then name it: [safety] accepted = [{named}].",
                )
            )
    return found


def _unknown(nets: Iterable[PlannedNet], likely: Mapping[tuple[str, str], Likely]) -> list[Question]:
    found = []
    for net in nets:
        if net.fate != "unknown" or not net.touched or net.refused:
            continue
        doubtful = [pin for pin in net.rows if pin.flags]
        pin = doubtful[0] if doubtful else _touched_pin(net)
        settle = f"xref check --connector {_quoted(pin.connector)}; {_page(pin)}"
        if not doubtful:
            settle = f"{_command(net)}; {_page(pin)}; find its missing end with a meter"
            halves = dict.fromkeys(place[:2] for place in net.net.unmated if place[:2] in likely)
            pairs = [f"{likely[half].command}, if that is so" for half in halves]
            settle = "; ".join(filter(None, (*pairs, _at_splices(net)))) or settle
        found.append(
            Question(
                about=net.name,
                text=f"What happens to {net.name} at {cavity_words(pin)} is not known: {net.reason}.",
                settle=settle,
            )
        )
    return found


def _at_splices(net: PlannedNet) -> str:
    """Return what settles which wires meet in splices that are only listed; "" where that is known."""
    strange = "splice-contradicts" in net.flags
    asked = [splice for splice in spliced(net.net) if strange or not splice.known]
    if not asked:
        return ""
    names = _some([splice.pin.connector for splice in asked])
    pages = "; ".join(dict.fromkeys(splice.page for splice in asked))
    compare = f"compare the rows that go to {names}, and " if strange else ""
    return f"{pages}; {_command(net)}; {compare}count the wires of {names} on the machine"


def _command(net: PlannedNet) -> str:
    return f"xref circuit {_quoted(next(iter(net.circuits), net.name))}"


def _uncounted(nets: Iterable[PlannedNet]) -> list[Question]:
    """Name splices of which no document says how many wires they have: one more may be an end more."""
    return [
        Question(
            about=net.name,
            text=f"{as_sentence(said)} With one more, an end of {net.name} is missing.",
            settle=f"{splice.page}; count the wires of {splice.pin.connector} before one is cut.",
        )
        for net in nets
        if net.touched and not net.refused and net.fate not in ("unknown", "stays")
        for splice in spliced(net.net)
        if not splice.stated and (said := splice.sentence())
    ]


def _unseen(nets: Iterable[PlannedNet]) -> list[Question]:
    return [
        Question(
            about=net.name,
            text=f"{net.name} has {len(net.ends)} ends and no splice in the documents: where they meet is "
            "not known. It is cut only at the tails of the moved plugs.",
            settle="Find the splice on the machine; xref check set NAME --role splice if a table shows it.",
        )
        for net in nets
        if net.at_least and not net.refused
    ]


def _unnamed(nets: Iterable[PlannedNet]) -> list[Question]:
    names = [
        net.name
        for net in nets
        if net.fate in ("crosses", "needs host", "travels")
        and not net.refused
        and not any(pin.function for pin in net.rows)
    ]
    if not names:
        return []
    return [
        Question(
            about=_some(names),
            text="What these circuits do is printed nowhere. That is unknown, not harmless.",
            settle="Look in the wiring diagram or the component's description before any of them is cut.",
        )
    ]


def _host(nets: Mapping[int, PlannedNet], host: Iterable[HostNeed]) -> list[Question]:
    found = []
    for need in host:
        if need.answer:
            continue
        pin = need.pin
        net = nets[need.net]
        what = {"feed": "a supply", "ground": "a ground", "signal": "a signal", "unknown": "what it had"}
        gave = need.kind == "feed" and not any(stop.fuses for stop in net.net.stops.values())
        more = ", or gave one itself: a supply on an output destroys it" if gave else ""
        wanted = what[need.kind]
        if need.kind == "signal" and "bus" in kinds_of(*(row.function for row in net.rows)):
            wanted = "a bus, both wires of it with its terminators,"
        does = f": {pin.function}" if pin.function else ""
        found.append(
            Question(
                about=f"{pin.connector}:{pin.cavity}",
                text=f"{cavity_words(pin)} ({net.name}{does}) needs {wanted} from the new vehicle{more}.",
                settle=f'[host] "{pin.connector}:{pin.cavity}" = "…"',
            )
        )
    return found


def _perhaps_fed(nets: Iterable[PlannedNet], asked: Collection[int]) -> list[Question]:
    found = []
    for net in nets:
        gone = may_have_fed(net) if net.touched and not net.refused and net.number not in asked else ()
        if gone:
            pin = next(end.pin for end in net.living if end.moved)
            named = _some([cavity_words(end.pin) for end in gone])
            found.append(
                Question(
                    about=f"{pin.connector}:{pin.cavity}",
                    text=f"{net.name} ({pin.function or 'a supply'}) may have been fed by {named}, which "
                    f"does not come along: then nothing feeds {cavity_words(pin)} any more.",
                    settle=f'If so: [host] "{pin.connector}:{pin.cavity}" = "…"',
                )
            )
    return found


def _grounds(nets: Iterable[PlannedNet]) -> list[Question]:
    found = []
    for net in nets:
        for end in net.ends:
            if end.pin.role == "ground" and end.lives and not end.moved and net.fate == "crosses":
                found.append(
                    Question(
                        about=net.name,
                        text=f"The ground {cavity_words(end.pin)} stays as fitted while {net.name} crosses: "
                        "is a long ground wire meant, or a ground at the new place?",
                        settle=f'[place] "{end.pin.connector}" = "…", or leave it so.',
                    )
                )
    return found


def _together(nets: Iterable[PlannedNet], buses: Iterable[BusPair]) -> list[Question]:
    """Name what must stay together: sensor sets, pairs, shields, bridges that tell a module its address.

    Of a bus both wires are named at once.
    """
    pair_of = {number: pair.name for pair in buses for number in (pair.high, pair.low)}
    words = {
        "bus": "is a bus: its pair stays twisted and of one length, its order and terminators stay",
        "shield": "is a shield: grounded at one end only, taken along with what it shields",
        "sensor return": "is a sensor return: it goes with its supply and signal, and never to the chassis",
        "coding": "may tell a module its address: without it the module may wake up as its twin",
        "terminator": "holds a bus terminator: it belongs at the end of the trunk",
    }
    found: dict[tuple[str, str], Question] = {}
    for net in nets:
        if net.fate not in ("crosses", "needs host", "dies") or net.refused or not net.touched:
            continue
        kinds = kinds_of(*(pin.function for pin in net.rows))
        for kind in kinds:
            if kind in words:
                name = pair_of.get(net.number, net.name) if kind == "bus" else net.name
                found[name, kind] = Question(
                    about=name,
                    text=f"{name} {words[kind]}.",
                    settle="Compare with the maker's instructions; meter before and after.",
                )
    return list(found.values())


def _through_staying(
    nets: Iterable[PlannedNet], fitted: Collection[str], loops: Collection[int]
) -> list[Question]:
    """Name travelling nets that pass an in-line which stays: their contacts come out of it.

    What only the plan keeps may come along plugged, and a loop that is cut out passes nothing.
    """
    found = []
    for net in nets:
        if net.fate != "travels" or net.refused or net.number in loops:
            continue
        passed = sorted({place[0] for place in net.net.stops if place[0] in fitted})
        if passed:
            found.append(
                Question(
                    about=net.name,
                    text=f"{net.name} travels, but passes {', '.join(passed)}, which stays.",
                    settle=f'Take its contacts out there and join them, or [shorten] nets = ["{net.name}"].',
                )
            )
    return found


def _routes(plan: PlanFile, joins: Iterable[Join]) -> list[Question]:
    missing: dict[frozenset[str], int] = defaultdict(int)
    for join in joins:
        if join.wire is not None and join.wire.length_m is None and " – " in join.place:
            missing[frozenset(join.place.split(" – "))] += 1
    return [
        Question(
            about=" – ".join(sorted(pair)),
            text=f"How far it is from {' to '.join(sorted(pair))} is not given: "
            f"{number} wires have no length.",
            settle=f'Measure along the real way: [route] "{" - ".join(sorted(pair))}" = …',
        )
        for pair, number in missing.items()
    ]


def _touched_pin(net: PlannedNet) -> Pin:
    return next(end.pin for end in net.ends if end.where != AS_FITTED)


def _functions(net: PlannedNet) -> str:
    named = dict.fromkeys(pin.function for pin in net.rows if pin.function)
    return _some(list(named)) or "no function printed"


def _some(names: list[str]) -> str:
    left = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {left} more" if left > 0 else "")


def _page(pin: Pin) -> str:
    return f"{pin.document} p. {pin.page}"


def _quoted(name: str) -> str:
    return f'"{name}"' if " " in name else name
