"""How long it takes to work out the nets of a million pins, and a trace as a whole process.

    python -m tests.bench.nets [--pins 1000000] [--keep FOLDER]

Times depend on the machine, so the nets stand beside networkx's connected components of the same rows in
the same run, and a trace beside a bare interpreter. Each is measured in a process of its own, with its peak
memory.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import psutil

from tests.bench.lookup import CAVITIES, PINS_PER_DOCUMENT, milliseconds
from xref.records import Document, Pin
from xref.store.index import Index
from xref.workspace import Workspace

_COLORS = (("RD", "red"), ("BU", "blue"), ("GN", "green"), ("YE", "yellow"), ("BK", "black"), ("WH", "white"))
#: One circuit in so many contradicts itself: the number is reused on wires of another colour.
_CONTRADICTS = 401
#: One circuit in so many is a voltage's name, one in so many has no number.
_POTENTIAL, _NAMELESS = 25, 60
_SIZES = (0.35, 0.5, 1.0, 2.5)


#: So many connectors of a kind are being wired at a time: the ends of a net lie in different modules.
_AT_A_TIME = 60
_CAVITIES_OF = {"component": CAVITIES, "inline": CAVITIES, "splice": 4, "ground": 1}


class _Harness:
    """Free cavities of a large machine: modules, in-lines with both halves, splices and studs."""

    def __init__(self, dice: random.Random) -> None:
        self._dice = dice
        self._made = 0
        self._free: dict[str, list[list[str]]] = {role: [] for role in _CAVITIES_OF}

    def cavities(self, role: str, number: int = 1) -> list[tuple[str, str]]:
        """Return free cavities of one connector of this role."""
        free = self._free[role]
        while len(free) < (_AT_A_TIME if role in ("component", "inline") else 1):
            self._made += 1
            name = {"component": "M", "inline": "C", "splice": "S", "ground": "G"}[role]
            free.append([f"{name}{self._made}", *(str(n) for n in range(_CAVITIES_OF[role], 0, -1))])
        at = self._dice.randrange(len(free))
        found = [(free[at][0], free[at].pop()) for _ in range(number)]
        if len(free[at]) == 1:
            free.pop(at)
        return found


def synthetic_pins(number: int, dice: random.Random) -> Iterator[Pin]:
    """Yield rows net by net: two ends to five, through no in-line or up to three, some with a splice."""
    harness = _Harness(dice)
    made = circuit = 0
    while made < number:
        circuit += 1
        for pin in _net(harness, circuit, dice):
            made += 1
            yield pin


def _net(harness: _Harness, circuit: int, dice: random.Random) -> Iterator[Pin]:
    base, stripe = dice.choice(_COLORS), dice.choice(_COLORS)
    size = dice.choice(_SIZES)
    name = "" if circuit % _NAMELESS == 0 else "GND" if circuit % _POTENTIAL == 0 else str(10_000 + circuit)

    def pin(role: str, where: tuple[str, str], half: str = "", code: tuple[str, str] = base) -> Pin:
        owner = f"Module {int(where[0][1:]) // 2}" if role == "component" else ""
        return Pin(
            machine="bench",
            connector=where[0],
            half=half,
            cavity=where[1],
            color_code=f"{code[0]}/{stripe[0]}",
            circuit=name,
            size=str(size),
            base_color=code[1],
            stripe_color=stripe[1],
            size_mm2=size,
            role=role,  # type: ignore[arg-type]
            component=owner,
            document="",
            page=1,
        )

    ends = dice.choice((2, 2, 2, 3, 3, 5))
    for _ in range(ends - 1):
        yield pin("component", *harness.cavities("component"))
    last = "ground" if circuit % 9 == 0 else "component"
    again = dice.choice(_COLORS) if circuit % _CONTRADICTS == 0 else base
    yield pin(last, *harness.cavities(last), code=again)
    for _ in range(dice.choice((0, 0, 1, 1, 2, 3))):
        (where,) = harness.cavities("inline")
        for half in "AB":
            yield pin("inline", where, half)
    if ends > 2:
        for where in harness.cavities("splice", 4):
            yield pin("splice", where)


def fill(workspace: Workspace, pins: int) -> None:
    """Write the synthetic documents with settled roles, as they are before the nets."""
    dice = random.Random(1440)
    rows = sorted(synthetic_pins(pins, dice), key=lambda p: (p.connector, p.half, int(p.cavity)))
    began = time.perf_counter()
    with Index.open(workspace, write=True) as index:
        for number, first in enumerate(range(0, len(rows), PINS_PER_DOCUMENT)):
            name = f"manual-{number:03}.pdf"
            some = [
                replace(pin, document=name, page=1 + n // 60, row_no=1 + n % 60)
                for n, pin in enumerate(rows[first : first + PINS_PER_DOCUMENT])
            ]
            index.replace(
                Document(
                    machine="bench", name=name, path=name, sha256=f"{number:064}", pages=400, reader="b"
                ),
                [],
                some,
                [],
            )
    size = workspace.index_db.stat().st_size / 1e6
    print(f"{len(rows):,} pins stored in {time.perf_counter() - began:.1f} s, {size:.0f} MB")


def ours(workspace: Workspace) -> str:
    """Settle roles, mates and nets, and say how many there are."""
    from xref.harness.netting import store_nets

    with Index.open(workspace, write=True) as index:
        store_nets(index)
        return _counts(workspace)


def settled(workspace: Workspace) -> str:
    """Settle roles and mates as well as nets."""
    from xref.harness.settle import settle_roles

    with Index.open(workspace, write=True) as index:
        settle_roles(index)
        return f"{len(index.mates()):,} mates, {_counts(workspace)}"


def _counts(workspace: Workspace) -> str:
    connection = sqlite3.connect(workspace.index_db)
    nets, flagged = connection.execute("SELECT COUNT(*), SUM(flags <> '') FROM nets").fetchone()
    contradict = connection.execute("SELECT COUNT(*) FROM nets WHERE flags LIKE '%contradicts%'").fetchone()[
        0
    ]
    connection.close()
    return f"{nets:,} nets, {flagged:,} flagged, {contradict:,} contradict"


def plain_networkx(workspace: Workspace) -> str:
    """Read the same rows and let networkx find what hangs together by circuit, colour, plug and splice."""
    import networkx

    connection = sqlite3.connect(workspace.index_db)
    rows = connection.execute(
        "SELECT p.document_id, p.seq, h.connector, h.half, h.role, p.cavity, c.circuit, k.base FROM pins p"
        " JOIN heads h ON h.id = p.head_id JOIN circuits c ON c.id = p.circuit_id"
        " JOIN colors k ON k.id = p.color_id"
    )
    graph: networkx.Graph = networkx.Graph()
    for document, seq, connector, half, role, cavity, circuit, base in rows:
        here = (document, seq)
        graph.add_edge(
            here, (connector, cavity if role != "splice" else "", half if role != "inline" else "")
        )
        if circuit != "GND":
            graph.add_edge(here, (circuit, base))
    return f"{sum(1 for _ in networkx.connected_components(graph)):,} parts"


_WAYS: dict[str, Callable[[Workspace], str]] = {"nets": ours, "settle": settled, "networkx": plain_networkx}


def measure(workspace: Workspace) -> None:
    """Print the tables of times and of memory."""
    base = 0.0
    print(f"{'':34}{'s':>8}{'CPU s':>8}{'MB':>8}{'x networkx':>12}")
    for way in ("networkx", "settle", "nets"):
        command = [sys.executable, "-m", "tests.bench.nets", "--one", way, "--keep", str(workspace.folder)]
        process = psutil.Popen(command, stdout=-1, text=True)
        out, _ = process.communicate()
        if process.returncode:
            raise SystemExit(f"{way} failed")
        wall, cpu, memory, said = out.strip().split("\t")
        base = base or float(cpu)
        print(f"{way:34}{float(wall):8.1f}{float(cpu):8.1f}{memory:>8}{float(cpu) / base:12.2f}   {said}")
    with Index.open(workspace) as index:
        net = max(
            index.pins_of_nets(sorted(set(index.nets_of(index.pins_of("M1")).values()))).values(), key=len
        )
    ends = [f"{p.connector}:{p.cavity}" for p in net if p.role == "component"]
    python = [sys.executable, "-c"]
    bare = milliseconds([*python, "pass"])
    trace = [sys.executable, "-m", "xref", "--workspace", str(workspace.folder), "trace", *ends[:2]]
    print(f"{'':34}{'ms':>8}{'x bare':>8}")
    for label, command in (("python -c pass", [*python, "pass"]), (f"xref trace {ends[0]} {ends[1]}", trace)):
        took = milliseconds(command)
        print(f"{label:34}{took:8.0f}{took / bare:8.1f}")


def one(way: str, workspace: Workspace) -> None:
    """Do one of the ways in this process, and print seconds, processor seconds, MB and what was found."""
    began, used = time.perf_counter(), time.process_time()
    said = _WAYS[way](workspace)
    wall, cpu = time.perf_counter() - began, time.process_time() - used
    memory = psutil.Process().memory_info()
    peak = getattr(memory, "peak_wset", None) or _peak()
    print(f"{wall}\t{cpu}\t{peak / 1e6:.0f}\t{said}")


def _peak() -> float:
    try:
        import resource
    except ImportError:  # there the process information has it
        return 0.0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most if sys.platform == "darwin" else most * 1024


def main() -> None:
    """Fill a store (or take the kept one) and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pins", type=int, default=1_000_000)
    parser.add_argument("--keep", type=Path, help="folder of the store, made once and used again")
    parser.add_argument("--one", choices=_WAYS, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        one(asked.one, Workspace(asked.keep))
        return
    with tempfile.TemporaryDirectory() as folder:
        workspace = Workspace(asked.keep or Path(folder))
        if not workspace.index_db.exists():
            fill(workspace, asked.pins)
        measure(workspace)


if __name__ == "__main__":
    main()
