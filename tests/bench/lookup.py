"""How long a look-up takes as a whole process with a million pins in the store.

    python -m tests.bench.lookup [--pins 1000000] [--keep FOLDER]

Times depend on the machine, so each stands beside a bare interpreter and one that imports sqlite3.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from xref.records import Document, PageNote, Pin
from xref.store.index import Index
from xref.store.search import rebuild_search
from xref.workspace import Workspace

RUNS = 11
PINS_PER_DOCUMENT = 20_000
CAVITIES = 40
REPOSITORY = Path(__file__).resolve().parents[2]

_THINGS = (
    *("pump", "valve", "sensor", "lamp", "relay", "motor", "switch", "heater"),
    *("horn", "fan", "lock", "gauge", "coil", "winch", "mast", "bilge"),
)
_WHERE = (
    *("left", "right", "front", "rear", "upper", "lower"),
    *("inner", "outer", "fore", "aft", "port", "starboard"),
)
_WHAT = (
    *("feed", "signal", "return", "supply", "ground"),
    *("request", "status", "high", "low", "shield"),
)
_COLORS = (("RD", "red"), ("BU", "blue"), ("GN", "green"), ("YE", "yellow"), ("BK", "black"), ("WH", "white"))


def synthetic_pins(document: str, first: int, number: int, dice: random.Random) -> Iterator[Pin]:
    """Yield rows as a large machine's manual has them: a circuit stands in four cavities on average."""
    for row in range(first, first + number):
        connector, cavity = divmod(row, CAVITIES)
        inline = connector % 5 == 0
        base, stripe = dice.choice(_COLORS), dice.choice(_COLORS)
        yield Pin(
            machine="bench",
            connector=f"X{connector // 2 if inline else connector}",
            half="AB"[connector % 2] if inline else "",
            cavity=str(cavity + 1),
            color_code=f"{base[0]}/{stripe[0]}",
            circuit=str(10_000 + dice.randrange(max(row // 4, 250))),
            function=" ".join(map(dice.choice, (_WHERE, _THINGS, _WHAT))) + f" {dice.randrange(20)}",
            size="0.5",
            base_color=base[1],
            stripe_color=stripe[1],
            size_mm2=0.5,
            role="inline" if inline else "component",
            component="" if inline else f"M{connector}",
            document=document,
            page=1 + row // 60,
            table_no=1,
            row_no=1 + row % 60,
            x0=50.0,
            top=10.0 * (row % 60),
            x1=500.0,
            bottom=10.0 * (row % 60) + 9.0,
        )


def fill(workspace: Workspace, pins: int) -> None:
    """Write the synthetic documents, and say how long it took and how large they are."""
    dice = random.Random(1440)
    spent = 0.0
    with Index.open(workspace, write=True) as index:
        for number, first in enumerate(range(0, pins, PINS_PER_DOCUMENT)):
            name = f"manual-{number:03}.pdf"
            rows = list(synthetic_pins(name, first, min(PINS_PER_DOCUMENT, pins - first), dice))
            document = Document(
                machine="bench", name=name, path=name, sha256=f"{number:064}", pages=400, reader="bench"
            )
            note = PageNote(document=name, page=1, page_label="1", outcome="unread", why="picture only")
            began = time.perf_counter()
            index.replace(document, [], rows, [note])
            spent += time.perf_counter() - began
        began = time.perf_counter()
        rebuild_search(index, workspace)
        searched = time.perf_counter() - began
    size = workspace.index_db.stat().st_size / 1e6
    texts = sum(path.stat().st_size for path in workspace.search.iterdir()) / 1e6
    print(
        f"{pins:,} pins stored in {spent:.1f} s, {size:.0f} MB; free text in {searched:.1f} s, {texts:.0f} MB"
    )


def milliseconds(command: list[str]) -> float:
    """Return a whole process's median time; the first run, which warms the disk cache, is left out."""
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY)}
    times = []
    for _ in range(RUNS + 1):
        began = time.perf_counter()
        done = subprocess.run(command, env=environment, capture_output=True, check=False)
        times.append((time.perf_counter() - began) * 1000)
        if done.returncode not in (0, 1):
            raise SystemExit(done.stderr.decode("utf-8", "replace"))
    return statistics.median(times[1:])


def measure(workspace: Workspace) -> None:
    """Print the table of times."""
    python = [sys.executable]
    tool = [*python, "-m", "xref", "--workspace", str(workspace.folder)]
    bare = milliseconds([*python, "-c", "pass"])
    print(f"{'':34}{'ms':>8}{'x bare':>8}")
    for label, command in (
        ("python -c pass", [*python, "-c", "pass"]),
        ("python -c 'import sqlite3'", [*python, "-c", "import sqlite3"]),
        ("xref circuit 10100", [*tool, "circuit", "10100"]),
        ("xref circuit 10100 --json", [*tool, "circuit", "10100", "--json"]),
        ("xref circuit 1O1OO (nothing found)", [*tool, "circuit", "1O1OO"]),
        ("xref connector X1", [*tool, "connector", "X1"]),
        ("xref connector X1:7", [*tool, "connector", "X1:7"]),
        ("xref find bilge pump feed", [*tool, "find", "bilge", "pump", "feed"]),
    ):
        took = milliseconds(command)
        print(f"{label:34}{took:8.0f}{took / bare:8.1f}")


def main() -> None:
    """Fill a store (or take the kept one) and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pins", type=int, default=1_000_000)
    parser.add_argument("--keep", type=Path, help="folder of the store, made once and used again")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        workspace = Workspace(asked.keep or Path(folder))
        if not workspace.index_db.exists():
            fill(workspace, asked.pins)
        measure(workspace)


if __name__ == "__main__":
    main()
