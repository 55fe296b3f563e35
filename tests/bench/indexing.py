"""How fast a manual is indexed, and in how much memory.

    python -m tests.bench.indexing [--pages 1000]

Draws a manual (12 % pinout pages, the rest prose and tables that are none) from a fixed seed and works on
it three times, each in a process of its own: a bare pypdfium2 text pass, plain pdfplumber on every page,
and the whole of indexing with all stored. Memory is that of the process and its workers together, what
they share counted for each. Times depend on the machine, so the ratios to the bare pass of the same run
are what counts; where other work runs beside it, the ratio of processor seconds says more. A short manual
pays for starting the workers: the ratio that counts is that of a long one.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import psutil

from tests.bench.indexing_manual import Known, draw_manual
from tests.bench.lookup import REPOSITORY

#: Pages that plain pdfplumber is given; its time is scaled to all.
SAMPLE = 200
#: Points of the memory curve.
STEPS = 10
#: Seconds between two looks at the memory.
LOOK = 0.02
#: Steps in which a process starts and its stores of known words fill.
FIRST_STEPS = 3
#: A pass of one process that takes this many times its processor seconds had to wait for others.
CROWDED = 1.3
#: What indexing may take, as a multiple of the bare pass.
TARGET = 3.0
MEGABYTE = 1024 * 1024

Tell = Callable[[int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One way through the manual: seconds inside the process, pages done, memory in MB."""

    seconds: float
    busy: float  #: processor seconds of the process and its workers (these are not counted on Windows)
    pages: int
    paged: float  #: seconds until the last page was done; what follows is the document as a whole
    curve: dict[int, tuple[float, float]]  #: highest memory in each step of pages: the process, its workers
    told: dict[str, object]

    @property
    def per_page(self) -> float:
        """Milliseconds a page."""
        return 1000 * self.seconds / self.pages

    @property
    def peak(self) -> float:
        """Highest memory seen of all its processes together."""
        return max(map(sum, self.curve.values()))

    @property
    def growth(self) -> tuple[float, float] | None:
        """How much process and workers grow by in 1,000 pages, start and storing apart; None if too short."""
        steps = sorted(self.curve)[FIRST_STEPS:-1]
        if len(steps) < 2:
            return None
        thousands = (steps[-1] - steps[0]) / 1000
        (one, many), (one_last, many_last) = self.curve[steps[0]], self.curve[steps[-1]]
        return (one_last - one) / thousands, (many_last - many) / thousands


def text_pass(path: Path, tell: Tell) -> tuple[int, dict[str, object]]:
    """Take every page's text with pypdfium2 and nothing else."""
    import pypdfium2

    characters = 0
    document = pypdfium2.PdfDocument(str(path))
    for number in range(len(document)):
        page = document[number]
        textpage = page.get_textpage()
        characters += len(textpage.get_text_bounded())
        textpage.close()
        page.close()
        tell(number + 1)
    pages = len(document)
    document.close()
    return pages, {"characters": characters}


def plain_pass(path: Path, tell: Tell) -> tuple[int, dict[str, object]]:
    """Take text and tables with pdfplumber's own finder from pages spread evenly over the manual."""
    import pdfplumber
    import pypdfium2

    document = pypdfium2.PdfDocument(str(path))
    total = len(document)
    document.close()
    numbers = list(range(1, total + 1, max(total // SAMPLE, 1)))[:SAMPLE]
    rows = 0
    with pdfplumber.open(path, pages=numbers) as pdf:
        for page in pdf.pages:
            page.extract_text()
            rows += sum(map(len, page.extract_tables()))
            page.close()
            tell(page.page_number)
    return len(numbers), {"table rows": rows}


def index_pass(path: Path, tell: Tell) -> tuple[int, dict[str, object]]:
    """Index the manual into a workspace that is thrown away, as the command does."""
    from xref.pipeline import index_paths
    from xref.workspace import Workspace

    with tempfile.TemporaryDirectory() as folder:
        workspace = Workspace(Path(folder))
        summary = index_paths([path], workspace, on_progress=lambda now: tell(now.pages_done))
        told: dict[str, object] = {
            "pages read": summary.pages_read,
            "pages skipped": dict(summary.pages_skipped),
            "doubts": dict(summary.doubts),
            "pins": _pins(workspace),
        }
    return summary.pages_read + sum(summary.pages_skipped.values()) + len(summary.unread), told


def _pins(workspace: object) -> list[list[object]]:
    from xref.store.index import Index
    from xref.workspace import Workspace

    assert isinstance(workspace, Workspace)
    with Index.open(workspace) as index:
        return [
            [p.page, p.connector, p.cavity, p.color_code, p.circuit, bool(p.flags)] for p in index.all_pins()
        ]


PASSES = {"text": text_pass, "plain": plain_pass, "index": index_pass}


def run_pass(name: str, path: Path) -> None:
    """Do one pass in this process, telling pages as they are done, then what it came to."""

    paged = 0.0

    def tell(page: int) -> None:
        nonlocal paged
        paged = time.perf_counter()
        print(page, flush=page % 10 == 0)

    began, before = time.perf_counter(), sum(psutil.Process().cpu_times()[:4])
    pages, told = PASSES[name](path, tell)
    answer = {
        "seconds": time.perf_counter() - began,
        "busy": sum(psutil.Process().cpu_times()[:4]) - before,
        "paged": paged - began,
        "pages": pages,
        "told": told,
    }
    print(json.dumps(answer), flush=True)


def measure(name: str, path: Path, total: int) -> Measured:
    """Do one pass in a process of its own and watch the memory of all its processes."""
    command = [sys.executable, "-m", "tests.bench.indexing", "--pass", name, str(path)]
    process = subprocess.Popen(command, cwd=REPOSITORY, stdout=subprocess.PIPE, encoding="utf-8")
    done, step = [0], max(total // STEPS, 1)
    curve: dict[int, tuple[float, float]] = {}

    def watch() -> None:
        while process.poll() is None:
            at = min(done[0] // step * step, total)
            curve[at] = max(curve.get(at, (0.0, 0.0)), _resident(process.pid), key=sum)
            time.sleep(LOOK)

    watcher = threading.Thread(target=watch)
    watcher.start()
    assert process.stdout is not None
    last = ""
    for line in process.stdout:
        last = line
        if line.strip().isdecimal():
            done[0] = int(line)
    watcher.join()
    if process.returncode:
        raise SystemExit(f"the pass {name} failed")
    answer = json.loads(last)
    return Measured(
        seconds=answer["seconds"],
        busy=answer["busy"],
        pages=answer["pages"],
        paged=answer["paged"],
        curve=curve,
        told=answer["told"],
    )


def _resident(number: int) -> tuple[float, float]:
    """Return the megabytes of a process and of its workers."""
    own = others = 0
    try:
        parent = psutil.Process(number)
        own = parent.memory_info().rss
        for process in parent.children(recursive=True):
            others += process.memory_info().rss
    except psutil.Error:
        pass  # a process ended between being listed and being asked
    return own / MEGABYTE, others / MEGABYTE


def print_rows(known: list[Known], index: Measured) -> None:
    """Print how many of the drawn rows were read right, and how many rows are too many."""
    pins = index.told["pins"]
    assert isinstance(pins, list)
    read = {tuple(pin[:5]) for pin in pins}
    drawn = {(row.page, row.connector, row.cavity, row.color, row.circuit) for row in known}
    silent = {tuple(pin[:5]) for pin in pins if not pin[5]} - drawn
    print(
        f"\nrows drawn {len(drawn):,}, "
        f"read right {len(drawn & read):,} ({len(drawn & read) / len(drawn):.2%}), "
        f"read but not drawn {len(read - drawn):,}, of these vouched for {len(silent):,}"
    )
    print(
        f"pages read {index.told['pages read']}, skipped {index.told['pages skipped']}, "
        f"doubts {index.told['doubts']}"
    )


def print_table(results: dict[str, Measured]) -> None:
    """Print times and ratios to the bare pass."""
    bare = results["text"]
    print(
        f"\n{'':42}{'pages':>7}{'s':>8}{'pages/s':>9}{'ms/page':>9}{'x bare':>8}"
        f"{'CPU s':>8}{'x bare':>8}{'peak MB':>9}"
    )
    for label, name in (
        ("bare pypdfium2 text, one process", "text"),
        (f"plain pdfplumber, one process, {results['plain'].pages} pages", "plain"),
        ("xref index, all stored, page workers", "index"),
    ):
        one = results[name]
        print(
            f"{label:42}{one.pages:7,}{one.seconds:8.2f}{one.pages / one.seconds:9,.0f}"
            f"{one.per_page:9.2f}{one.per_page / bare.per_page:8.1f}"
            f"{one.busy:8.2f}{one.busy / one.pages * bare.pages / bare.busy:8.1f}{one.peak:9.0f}"
        )
    index = results["index"]
    wall, busy = index.per_page / bare.per_page, index.busy / index.pages * bare.pages / bare.busy
    print(
        f"\nindexing takes {wall:.1f} times the bare pass by the clock (target {TARGET:g}, with 2 cores), "
        f"{busy:.1f} times its processor seconds;\n"
        f"of its {index.seconds:.2f} s the pages took {index.paged:.2f} s, "
        f"the document as a whole and storing {index.seconds - index.paged:.2f} s"
    )
    if bare.seconds > CROWDED * bare.busy:
        print("other work ran beside it: trust the ratio of processor seconds, not the one by the clock")


def print_memory(results: dict[str, Measured]) -> None:
    """Print the memory over the pages, and what it grows by."""
    print("\nhighest memory in MB while the pages from … on were done (the last step includes storing)")
    for name, label in (("text", "bare"), ("plain", "plain"), ("index", "index")):
        curve = sorted(results[name].curve.items())
        print(f"{label:8}" + "  ".join(f"{at}: {sum(mb):.0f}" for at, mb in curve))
        if name == "index":
            print(f"{'  self':8}" + "  ".join(f"{at}: {own:.0f}" for at, (own, _) in curve))
            print(f"{'  others':8}" + "  ".join(f"{at}: {others:.0f}" for at, (_, others) in curve))
        if (grown := results[name].growth) is not None and name != "plain":
            own, others = grown
            print(f"{'':8}grows by {own:.1f} MB in 1,000 pages, its workers together by {others:.1f} MB")


def main() -> int:
    """Draw, measure, print; with `--pass`, be one of the measured processes."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.indexing", description=__doc__)
    parser.add_argument("--pages", type=int, default=1_000)
    parser.add_argument("--seed", type=int, default=1440)
    parser.add_argument("--pass", dest="one", nargs=2, metavar=("NAME", "FILE"), help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        run_pass(asked.one[0], Path(asked.one[1]))
        return 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "manual.pdf"
        known = draw_manual(path, asked.pages, asked.seed)
        print(f"{asked.pages:,} pages, {path.stat().st_size / 1e6:.1f} MB, {len(known):,} rows drawn")
        results = {name: measure(name, path, asked.pages) for name in PASSES}
    print_table(results)
    print_memory(results)
    print_rows(known, results["index"])
    return 0


if __name__ == "__main__":  # page workers started by `spawn` import this file, too
    raise SystemExit(main())
