"""Whether both engines lead to the same rows: `python -m tests.bench.indexing_engines --manuals 20`.

Draws manuals from a seed, reads each through pdfium and through pdfplumber, and compares the pins. Also
takes files: `python -m tests.bench.indexing_engines FILE.pdf …`. Prints what differs and how long each took.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import astuple, replace
from pathlib import Path
from typing import Literal

from xref.errors import XrefError
from xref.pipeline import read_document
from xref.records import Pin
from xref.settings import DEFAULT

Row = tuple[object, ...]


def rows_of(path: Path, engine: Literal["pdfium", "plumber"]) -> tuple[Counter[Row], float]:
    """Return a document's pins without their boxes, and the seconds of processor time it took."""
    begin = time.process_time()
    pins = read_document(path, settings=replace(DEFAULT, engine=engine)).pins
    return Counter(_row(pin) for pin in pins), time.process_time() - begin


def _row(pin: Pin) -> Row:
    """Return a pin without its box, which differs by fractions of a point."""
    return astuple(replace(pin, x0=0.0, top=0.0, x1=0.0, bottom=0.0))


def _drawn(manuals: int, seed: int, folder: Path) -> Iterator[Path]:
    from fixtures.stick.manual import make_manual

    for number in range(seed, seed + manuals):
        yield make_manual(number, folder).path


def main() -> int:
    """Read, compare, print; exit code 1 when anything differs."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.indexing_engines", description=__doc__)
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--manuals", type=int, default=20)
    parser.add_argument("--seed", type=int, default=3000)
    asked = parser.parse_args()
    rows, spent, apart = 0, Counter[str](), 0
    with tempfile.TemporaryDirectory() as folder:
        for path in asked.files or _drawn(asked.manuals, asked.seed, Path(folder)):
            try:
                one, seconds = rows_of(path, "pdfium")
                other, slower = rows_of(path, "plumber")
            except XrefError as error:
                print(f"{path.name}: {error.message}")
                continue
            rows += one.total()
            spent.update({"pdfium": round(seconds * 1000), "plumber": round(slower * 1000)})
            apart += sum((one - other).values()) + sum((other - one).values())
            for name, more in (("pdfium", one - other), ("plumber", other - one)):
                for row in more:
                    print(f"{path.name}: only {name}: {row}")
    print(f"{rows:,} rows, {apart} differ; ms of processor time for the whole reading: {dict(spent)}")
    return 1 if apart else 0


if __name__ == "__main__":
    raise SystemExit(main())
