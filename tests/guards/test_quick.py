"""A look-up answers at once, because it loads nothing that reads PDFs or writes tables."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.sample import fill
from tests.guards.sources import ROOT

HEAVY = {
    "pandas",
    "numpy",
    "pyarrow",
    "pdfplumber",
    "pdfminer",
    "pypdfium2",
    "openpyxl",
    "reportlab",
    "PIL",
    "jinja2",
    "pebble",
    "multiprocessing",
}

#: Only these look-ups may load the free-text search or near names.
SEARCH = {"whoosh"}

WATCHED = (
    "import sys, json; from xref.cli import main; code = main(sys.argv[1:]);"
    "print(json.dumps([code, sorted({name.split('.')[0] for name in sys.modules})]), file=sys.stderr)"
)


@pytest.mark.parametrize(
    ("arguments", "code", "refused"),
    [
        (("circuit", "1440"), 0, HEAVY | SEARCH | {"rich"}),
        (("circuit", "1440", "--json"), 0, HEAVY | SEARCH | {"rich"}),
        (("circuit", "nowhere"), 1, HEAVY | SEARCH | {"rich"}),
        (("connector", "X5"), 0, HEAVY | SEARCH | {"rich"}),
        (("connector", "M12 X1:7"), 0, HEAVY | SEARCH | {"rich"}),
        (("trace", "M12 X1:7", "X5"), 0, HEAVY | SEARCH | {"rich"}),
        (("trace", "M12 X1:7", "B16"), 1, HEAVY | SEARCH | {"rich"}),
        (("find", "lamp"), 0, HEAVY | {"rich"}),
        (("color", "BU/YE"), 0, HEAVY | SEARCH | {"rich"}),
        (("check",), 0, HEAVY | SEARCH | {"rich"}),
        (("check", "decisions"), 1, HEAVY | SEARCH | {"rich"}),
        (("plan", "todo", "plan.toml"), 1, HEAVY | SEARCH | {"rich"}),
        (("doctor",), 1, HEAVY | SEARCH | {"rich"}),
        (("plan", "show", "plan.toml"), 0, HEAVY | SEARCH | {"rich"}),
        (("--help",), 0, HEAVY | SEARCH | {"rich"}),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_look_up_loads_nothing_heavy(
    tmp_path: Path, arguments: tuple[str, ...], code: int, refused: set[str]
) -> None:
    """Neither pandas nor pdfplumber nor anything like them is in a process that only looks something up."""
    fill(tmp_path)
    (tmp_path / "plan.toml").write_text('[place]\n"B16" = "aft"\n', encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", WATCHED, *arguments],
        cwd=tmp_path,
        env={"PYTHONPATH": str(ROOT), "PATH": "", "SYSTEMROOT": r"C:\Windows"},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    got, loaded = json.loads(done.stderr.splitlines()[-1])
    assert got == code, done.stderr
    assert not refused & set(loaded)
