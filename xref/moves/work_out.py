"""The whole plan from an index and a plan file: nets, fates, in-lines, lines, host, questions, counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from xref.data.function_words import kinds_of
from xref.harness.likely import Likely
from xref.harness.listed import spliced
from xref.harness.netmap import NetMap, Place
from xref.moves.buses import buses_of
from xref.moves.fates import (
    Documented,
    Places,
    broken_of,
    ends_of,
    fate_of,
    loose_of,
    places_of,
    undecided_of,
)
from xref.moves.host import answer_for, host_needs
from xref.moves.inline_fates import inline_fates, used_after
from xref.moves.kept_questions import kept_questions
from xref.moves.known import Known, known_of
from xref.moves.lines import NetLines, lines_of
from xref.moves.names import find_name, machine_of
from xref.moves.needs import counts_of
from xref.moves.one_by_one import counted_one_by_one
from xref.moves.parted import all_stated, bridges_of
from xref.moves.plan_file import PlanError, PlanFile
from xref.moves.questions import questions_of
from xref.moves.records import InlineFate, Inlines, Plan, PlannedNet, Refused
from xref.moves.safety import Verdict, verdicts_of
from xref.moves.said import check_answers
from xref.moves.splices import NEVER_DOUBLED, splice_choice
from xref.moves.supplies import supplies_of
from xref.moves.texts import CAUTIONS, written
from xref.moves.wiregraph import WireGraph, graph_of
from xref.pages.circles import seldom_collecting
from xref.store.index import Index


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A plan before its lines have ids and texts: what the one-by-one count works with too."""

    nets: dict[int, PlannedNet]
    graphs: dict[int, WireGraph]
    inlines: tuple[InlineFate, ...]
    lines: dict[int, NetLines]
    fitted: frozenset[str]  #: connectors of in-lines that stay where they are
    #: what lone halves of in-lines may be plugged into, by connector and half
    likely: Mapping[tuple[str, str], Likely]


def work_out(index: Index, plan: PlanFile) -> Plan:
    """Work a plan out. Nothing is guessed: what cannot be decided is a question.

    Raises:
        PlanError: the plan names what is not there, or several things at once.
    """
    machine = machine_of(index, plan)
    places = places_of(index, machine, plan)
    keep = _kept(index, machine, plan)
    check_answers(index, machine, plan)
    with seldom_collecting():
        known = known_of(index, machine, places.of.keys())
        return worked_out(machine, plan, places, keep, known)


def worked_out(machine: str, plan: PlanFile, places: Places, keep: frozenset[str], known: Known) -> Plan:
    """Work a plan out from what is known of a machine; `keep` are connectors of in-lines to keep."""
    verdicts = verdicts_of(known.maps, plan)
    graphs = {
        number: graph_of(net, bridges_of(net, places, plan.bridge))
        for number, net in known.maps.items()
        if any(place[0] in places.of for place in net.stops)
    }
    worked = _worked(machine, plan, places, keep, known, verdicts, graphs)
    one_by_one = counted_one_by_one(plan, known.maps, known.flags, verdicts, graphs, places, worked)
    host = host_needs(worked.nets.values(), plan)
    buses = buses_of(worked.nets.values(), graphs, plan)
    supplies = supplies_of(worked.nets.values(), host, plan)
    kept = kept_questions(buses, supplies)
    texts = written(machine, plan, worked.nets, graphs, worked.lines, host)
    made = Plan(
        name=plan.name,
        machine=machine,
        nets=tuple(worked.nets.values()),
        cuts=texts.cuts,
        joins=texts.joins,
        caps=texts.caps,
        links=texts.links,
        inlines=worked.inlines,
        refused=tuple(_refused(worked.nets.values())),
        host=host,
        buses=buses.pairs,
        supplies=supplies,
        cautions=CAUTIONS,
        questions=questions_of(plan, worked, host, texts.joins, buses.pairs, kept),
    )
    return replace(made, counts=counts_of(made, plan, one_by_one))


def _worked(
    machine: str,
    plan: PlanFile,
    places: Places,
    keep: frozenset[str],
    known: Known,
    verdicts: Mapping[int, Verdict],
    graphs: dict[int, WireGraph],
) -> Worked:
    documented = Documented(known.maps.values())
    nets: dict[int, PlannedNet] = {}
    for number, mapped in known.maps.items():
        flags, verdict, graph = known.flags[number], verdicts[number], graphs.get(number)
        broken = broken_of(mapped, documented)
        undecided = undecided_of(mapped, known.likely)
        nets[number] = planned(machine, number, mapped, flags, verdict, places, graph, broken, undecided)
    by_place: dict[Place, list[PlannedNet]] = defaultdict(list)  # several where options or tables differ
    for net in nets.values():
        for place in net.net.stops:
            by_place[place].append(net)
    fates = inline_fates(known.inlines, by_place, graphs, keep)
    going = frozenset(
        half.connector
        for view, fate in zip(known.inlines, fates, strict=True)
        if fate.fate == "goes"
        for half in view.halves
    )
    # what only the plan keeps may come along plugged
    fitted = frozenset(
        half.connector
        for view, fate in zip(known.inlines, fates, strict=True)
        if fate.fate == "stays" and (fate.held or not keep & {half.connector for half in view.halves})
        for half in view.halves
    )
    inlines = Inlines(going=going, fitted=fitted)
    lines = all_lines(plan, nets, graphs, inlines)
    counted = used_after(known.inlines, fates, graphs, lines)
    return Worked(
        nets=nets, graphs=graphs, inlines=tuple(counted), lines=lines, fitted=fitted, likely=known.likely
    )


def planned(
    machine: str,
    number: int,
    net: NetMap,
    flags: tuple[str, ...],
    verdict: Verdict,
    places: Places,
    graph: WireGraph | None,
    broken: tuple[str, ...] = (),
    undecided: tuple[str, ...] = (),
) -> PlannedNet:
    """Return one net with its fate, crossings and splice choice; `graph` where the plan names one end.

    `broken` is as `broken_of` finds it, `undecided` as `undecided_of`.
    """
    ends = ends_of(net, places)
    lacking = [splice.sentence() for splice in spliced(net) if not splice.known]
    fate, reason = fate_of(ends, flags, loose_of(net), broken, lacking, undecided)
    pins = net.rows
    made = PlannedNet(
        number=number,
        machine=machine,
        circuits=tuple(dict.fromkeys(pin.circuit for pin in pins if pin.circuit)),
        net=net,
        flags=flags,
        ends=ends,
        fate=fate,
        reason=reason,
        refused=verdict.refused,
        review=verdict.review,
        accepted=verdict.accepted,
    )
    if fate != "crosses" or graph is None:
        return made
    kinds = {kind for pin in pins for kind in kinds_of(pin.function)}
    choice, crossings = splice_choice(graph, made, not kinds & NEVER_DOUBLED)
    # where every wire is stated, what it leads through is a module, not a splice
    unseen = "splice-unseen" in flags and not all_stated(graph, ends)
    least = len(made.places) - 1
    return replace(made, splice=choice, crossings=least if unseen else crossings, at_least=unseen)


def all_lines(
    plan: PlanFile, nets: Mapping[int, PlannedNet], graphs: Mapping[int, WireGraph], inlines: Inlines
) -> dict[int, NetLines]:
    """Return the lines of every net that may have some: none for what is refused, unread or unknown."""
    shortened = set(plan.shorten)
    return {
        number: lines_of(graphs[number], net, inlines, bool(shortened & set(net.circuits)), _host(plan, net))
        for number, net in nets.items()
        if number in graphs and net.touched and not net.refused and net.accepted and net.fate != "unknown"
    }


def _host(plan: PlanFile, net: PlannedNet) -> str:
    """Return what the person says the new vehicle gives to an end of this net."""
    return next(filter(None, (answer_for(end.pin, plan) for end in net.living)), "")


def _kept(index: Index, machine: str, plan: PlanFile) -> frozenset[str]:
    """Return the connectors `[inlines] keep` names; raises PlanError where one is no in-line."""
    kept: set[str] = set()
    for name in plan.keep:
        named = find_name(index, machine, name, plan.name, "inlines.keep").connectors
        inlines = {
            r.connector for own in named for r in index.connectors(machine, name=own) if r.role == "inline"
        }
        if others := sorted(named - inlines):
            which = "" if others == [name] else f" ({', '.join(others)})"
            raise PlanError(
                f"{plan.name}: inlines.keep names {name}{which}, which is no in-line.",
                hint="xref inlines lists them; what has no place stays as it is. If it is one: "
                f"xref check set {others[0]} --role inline.",
            )
        kept |= named
    return frozenset(kept)


def _refused(nets: Iterable[PlannedNet]) -> Iterable[Refused]:
    for net in nets:
        if net.refused:
            pins = tuple(stop.pins[0] for stop in net.net.stops.values())
            yield Refused(net=net.number, circuit=net.name, pins=pins, reason=net.refused)
