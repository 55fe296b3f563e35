"""The house stands as it was drawn: rooms in order, one door per library, nothing grown too large."""

from __future__ import annotations

import ast
import csv
from collections import defaultdict
from pathlib import Path

import pytest

from tests.guards.sources import DOORS, PACKAGE, ROOMS, SINGLE, imports, python_files, relative, room_of, tree

#: A file or function beyond this is split: a reader holds no more in the head.
MOST_LINES_OF_FILE = 400
MOST_LINES_OF_FUNCTION = 60


def test_a_room_imports_only_itself_and_the_rooms_before_it() -> None:
    """The data's way is one way: no room imports a later one."""
    wrong = []
    for path in python_files():
        own = room_of("xref." + relative(path).removesuffix(".py").split("/")[1])
        for module, line in imports(path):
            room = room_of(module)
            if own and room and ROOMS.index(room) > ROOMS.index(own):
                wrong.append(f"{relative(path)}:{line} imports {module}")
    assert not wrong


def test_every_module_stands_in_a_room() -> None:
    """A file beside the rooms has no place in the order, so there is none."""
    beside = {relative(path).split("/")[1].removesuffix(".py") for path in python_files()}
    assert beside - set(ROOMS) == {"__init__", "__main__"}


def test_each_library_has_one_door() -> None:
    """A library can be replaced by changing one file, because one file imports it."""
    used: dict[str, set[str]] = defaultdict(set)
    for path in python_files():
        for module, _ in imports(path):
            used[module.split(".")[0]].add(relative(path))
    wrong = {name: files for name, files in used.items() if name in DOORS and files - DOORS[name]}
    wrong |= {name: files for name, files in used.items() if name in SINGLE and len(files) > 1}
    assert not wrong


def test_only_the_store_speaks_to_sqlite() -> None:
    """Tables of the index are nobody's business outside the store (the doctor asks for the version)."""
    users = {relative(p) for p in python_files() for module, _ in imports(p) if module.startswith("sqlite3")}
    assert {user for user in users if not user.startswith("xref/store/")} <= {"xref/cli/doctor.py"}


def test_no_star_imports_and_no_imports_from_private_names() -> None:
    """What a module takes from another one is public and named."""
    wrong = [
        f"{relative(path)}:{line} {module}"
        for path in python_files()
        for module, line in imports(path)
        if module.startswith("xref.")
        and (module.endswith(".*") or any(part.startswith("_") for part in module.split(".")))
        and module != "xref.__version__"
    ]
    assert not wrong


def test_files_and_functions_stay_short() -> None:
    """No file has more than 400 lines and no function more than 60."""
    wrong = []
    for path in python_files():
        lines = path.read_text(encoding="utf-8").count("\n")
        if lines > MOST_LINES_OF_FILE:
            wrong.append(f"{relative(path)}: {lines} lines")
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                length = (node.end_lineno or node.lineno) - node.lineno + 1
                if length > MOST_LINES_OF_FUNCTION:
                    wrong.append(f"{relative(path)}:{node.lineno} {node.name}: {length} lines")
    assert not wrong


def test_public_names_say_what_they_are() -> None:
    """Every public module, class, function and method has a docstring."""
    wrong = []
    for path in python_files():
        module = tree(path)
        if not ast.get_docstring(module):
            wrong.append(relative(path))
        wrong += [f"{relative(path)}: {name}" for name in _undocumented(module)]
    assert not wrong


def _undocumented(module: ast.Module) -> list[str]:
    found = []
    for node in module.body:
        if not isinstance(node, ast.FunctionDef | ast.ClassDef) or node.name.startswith("_"):
            continue
        if not ast.get_docstring(node):
            found.append(node.name)
        if isinstance(node, ast.ClassDef):
            found += [
                f"{node.name}.{method.name}"
                for method in node.body
                if isinstance(method, ast.FunctionDef)
                and not method.name.startswith("_")
                and not ast.get_docstring(method)
            ]
    return found


def test_each_room_says_what_comes_in_and_what_goes_out() -> None:
    """The docstring of a room is short and names both ends."""
    for folder in PACKAGE.iterdir():
        init = folder / "__init__.py"
        if init.is_file() and folder.name != "data":
            text = ast.get_docstring(tree(init)) or ""
            assert "In: " in text and "Out: " in text, relative(init)
            assert len(text.splitlines()) <= 6, relative(init)


@pytest.mark.parametrize("path", sorted(PACKAGE.glob("data/*.csv")), ids=lambda path: path.name)
def test_each_row_of_data_names_its_source(path: Path) -> None:
    """A word, colour or size without a source cannot be checked by anyone, so there is none."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert rows
    assert not [row for row in rows if not (row.get("source") or "").strip()]


def test_every_file_is_opened_with_a_stated_encoding() -> None:
    """Windows has another default, so text is never read or written without one."""
    wrong = []
    for path in python_files():
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                named = {keyword.arg for keyword in node.keywords}
                if node.func.attr in ("read_text", "write_text") and "encoding" not in named:
                    wrong.append(f"{relative(path)}:{node.lineno}")
    assert not wrong


def test_only_the_screen_prints() -> None:
    """Text of a PDF reaches a terminal only through the one way that makes it harmless."""
    wrong = []
    for path in python_files():
        if relative(path) == "xref/cli/terminal.py":
            continue
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Call):
                name = ast.unparse(node.func)
                if name in ("print", "typer.echo", "typer.secho", "sys.stdout.write", "sys.stderr.write"):
                    wrong.append(f"{relative(path)}:{node.lineno} {name}")
    assert not wrong
