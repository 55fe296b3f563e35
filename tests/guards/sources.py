"""The project's files as the guards read them."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "xref"

#: The rooms in the data's order; a module imports its own room and those before it.
ROOMS = (
    "records",
    "settings",
    "errors",
    "workspace",
    "data",
    "pages",
    "colors",
    "tables",
    "rows",
    "pins",
    "store",
    "harness",
    "pipeline",
    "moves",
    "sheets",
    "web",
    "cli",
)

#: One door per third-party library: the only files that may import it.
DOORS = {
    "pdfplumber": {"xref/pages/plumber.py"},
    "pdfminer": {"xref/pages/plumber.py"},
    "pypdfium2": {"xref/pages/pdfium.py"},
    "rich": {"xref/cli/terminal.py"},
}

#: Libraries with a door that may stand anywhere, as long as it is one.
SINGLE = ("whoosh", "pandas", "pyarrow", "rapidfuzz", "openpyxl", "reportlab", "pebble", "psutil", "jinja2")


@cache
def python_files() -> tuple[Path, ...]:
    """All modules of the package."""
    return tuple(sorted(PACKAGE.rglob("*.py")))


@cache
def tree(path: Path) -> ast.Module:
    """The parsed module."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every imported module with its line, wherever in the file; those for type checkers only included."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports are written in full"
            for alias in node.names:
                yield f"{node.module}.{alias.name}", node.lineno


def room_of(module: str) -> str | None:
    """The room a module of ours belongs to; None for `xref` itself and for the libraries."""
    parts = module.split(".")
    return parts[1] if parts[0] == "xref" and len(parts) > 1 and parts[1] in ROOMS else None


def relative(path: Path) -> str:
    """The path from the project's folder, with forward slashes."""
    return path.relative_to(ROOT).as_posix()


@cache
def tracked_files() -> tuple[str, ...]:
    """Files under version control; all files outside a repository (an unpacked archive) but derived ones."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, encoding="utf-8", check=False
    )
    if listed.returncode == 0 and listed.stdout:
        return tuple(name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file())
    return tuple(
        relative(path)
        for path in ROOT.rglob("*")
        if path.is_file()
        and not any(part.startswith(".") or part == "__pycache__" for part in path.relative_to(ROOT).parts)
    )


@cache
def text_files() -> tuple[tuple[str, str], ...]:
    """Name and text of every tracked file that is text."""
    found = []
    for name in tracked_files():
        raw = (ROOT / name).read_bytes()
        if b"\0" not in raw[:4096] and not name.endswith((".pdf", ".png")):
            found.append((name, raw.decode("utf-8", errors="replace")))
    return tuple(found)
