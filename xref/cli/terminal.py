"""The one way to the screen: results to stdout, talk to stderr, styles and bars only for a terminal.

The only file that knows rich, and it imports it only where a bar is drawn: a look-up prints without it.
"""

from __future__ import annotations

import io
import json
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, Protocol, TextIO

from xref.cli.text import harmless, padded, width_of, wrapped

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress

Style = Literal["", "bold", "doubt", "error"]

#: Select Graphic Rendition codes of ECMA-48 (bold, yellow, red); no dim text: it is lost at arm's length.
_SGR: dict[str, str] = {"bold": "1", "doubt": "1;33", "error": "1;31"}

#: Columns taken where there is no terminal to ask: wide enough that most rows of a pipe stay on one line.
_PIPE_COLUMNS = 120

#: No column but the last grows beyond this, so that one odd name does not push the rest off the screen.
_WIDEST_CELL = 34

#: The last column gets at least this much room, else the cells of a row go below one another.
_NARROWEST_LAST = 18

_GAP = 2


def prepare_streams() -> None:
    """Let stdout and stderr take any character, also on a console with a legacy code page."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")


def is_terminal(stream: TextIO) -> bool:
    """True where a person reads along: a terminal that is not declared dumb."""
    return stream.isatty() and os.environ.get("TERM") != "dumb"


def is_talk_terminal() -> bool:
    """True where progress can be drawn: stderr is a terminal."""
    return is_terminal(sys.stderr)


def wants_styles(stream: TextIO) -> bool:
    """True where bold and colours may be written: a terminal, and NO_COLOR not set (or empty)."""
    if os.environ.get("NO_COLOR") or not is_terminal(stream):
        return False
    # the old Windows console prints the codes instead of obeying them; newer ones say who they are
    return os.name != "nt" or bool(os.environ.get("WT_SESSION") or os.environ.get("TERM"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a printed table, with the lines that belong under it."""

    cells: Sequence[str]
    notes: Sequence[tuple[str, Style]] = ()


@dataclass(slots=True, kw_only=True)
class Screen:
    """A stream that text is written to, harmless and wrapped to its width."""

    stream: TextIO
    width: int
    styled: bool = False
    silent: bool = field(default=False)

    def line(self, text: str = "", style: Style = "", indent: int = 0) -> None:
        """Write one paragraph; what does not fit goes on below, two columns further in."""
        clean = harmless(text)
        first, *_ = lines = wrapped(clean, self.width - indent)
        if len(lines) > 1:
            rest = clean[len(first) :].lstrip(" ")
            lines = [first, *("  " + line for line in wrapped(rest, self.width - indent - 2))]
        for line in lines:
            self._put(" " * indent, line, style)

    def rows(self, rows: Sequence[Row], indent: int = 2) -> None:
        """Write rows in columns; on a narrow screen the cells of a row go below one another."""
        filled = [any(cells) for cells in zip(*(row.cells for row in rows), strict=True)]
        clean = [
            Row(
                cells=[harmless(cell) for cell, wanted in zip(row.cells, filled, strict=True) if wanted],
                notes=row.notes,
            )
            for row in rows
        ]
        columns = sum(filled)
        widths = [min(_WIDEST_CELL, max(width_of(r.cells[c]) for r in clean)) for c in range(columns - 1)]
        last = self.width - indent - sum(widths) - _GAP * len(widths)
        for row in clean:
            if last < _NARROWEST_LAST:
                self._stacked(row, indent)
            else:
                self._side_by_side(row, [*widths, last], indent)
            for text, style in row.notes:
                self.line(text, style, indent + 4)

    def _stacked(self, row: Row, indent: int) -> None:
        head, *rest = row.cells
        self.line(head, "bold", indent)
        for cell in rest:
            if cell:
                self.line(cell, "", indent + 2)

    def _side_by_side(self, row: Row, widths: Sequence[int], indent: int) -> None:
        columns = [wrapped(cell, width) for cell, width in zip(row.cells, widths, strict=True)]
        for n in range(max(len(column) for column in columns)):
            parts = [column[n] if n < len(column) else "" for column in columns]
            head = padded(parts[0], widths[0])
            tail = "".join(
                " " * _GAP + padded(p, w) for p, w in zip(parts[1:], widths[1:], strict=True)
            ).rstrip()
            self._put(" " * indent, head if tail else head.rstrip(), "bold", tail)

    def _put(self, before: str, text: str, style: Style, after: str = "") -> None:
        if self.silent:
            return
        if self.styled and style and text.strip():
            text = f"\x1b[{_SGR[style]}m{text}\x1b[0m"
        self.stream.write((before + text + after).rstrip(" ") + "\n")


def results() -> Screen:
    """Return the screen for results: stdout."""
    return _screen(sys.stdout)


def talk(quiet: bool = False) -> Screen:
    """Return the screen for progress and warnings: stderr; `quiet` silences it."""
    screen = _screen(sys.stderr)
    screen.silent = quiet
    return screen


def _screen(stream: TextIO) -> Screen:
    columns = shutil.get_terminal_size((_PIPE_COLUMNS, 24)).columns
    if not stream.isatty() and not os.environ.get("COLUMNS"):
        columns = _PIPE_COLUMNS
    return Screen(stream=stream, width=max(columns, 20), styled=wants_styles(stream))


def write_json(answer: dict[str, Any]) -> None:
    """Write one JSON object to stdout; characters that do not print are written as JSON escapes."""
    text = json.dumps(answer, ensure_ascii=False, indent=2, default=list)
    sys.stdout.write(_escaped(text) + "\n")


def _escaped(text: str) -> str:
    return "".join(c if c.isprintable() or c == "\n" else json.dumps(c)[1:-1] for c in text)


class Bar(Protocol):
    """A progress display that is moved to a place with a text beside it."""

    def move(self, done: int, total: int, text: str) -> None:
        """Show that `done` of `total` is reached."""


@dataclass(slots=True)
class _RichBar:
    progress: RichProgress
    task: Any

    def move(self, done: int, total: int, text: str) -> None:
        self.progress.update(self.task, completed=done, total=total, text=harmless(text))


@contextmanager
def progress_bar() -> Iterator[Bar]:
    """Draw a bar on stderr while the block runs; it leaves nothing behind. For terminals only."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    console = Console(stderr=True, highlight=False, markup=False)
    columns = (BarColumn(bar_width=24), TextColumn("{task.fields[text]}", markup=False))
    with Progress(*columns, console=console, transient=True) as progress:
        yield _RichBar(progress, progress.add_task("", total=None, text=""))
