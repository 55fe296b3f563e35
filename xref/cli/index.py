"""`xref index PATH…`: read manuals into the workspace, and say what was read and what was not."""

from __future__ import annotations

import glob
from collections.abc import Iterable, Mapping
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli import blocks
from xref.cli.check_session import adrift_json, print_adrift
from xref.cli.options import PasswordOption, Session, exit_code, session_of
from xref.cli.terminal import Bar, Row, Screen, is_talk_terminal, progress_bar, results, talk, write_json
from xref.cli.text import counted, span
from xref.errors import UsageError
from xref.records import DOUBTS, NOTICES

if TYPE_CHECKING:
    from xref.harness.doubts import Adrift
    from xref.store.account import Progress, Summary


def run(
    ctx: typer.Context,
    paths: Annotated[
        list[Path], typer.Argument(metavar="PATH...", help="PDFs, or folders to look through for PDFs.")
    ],
    machine: Annotated[
        str,
        typer.Option(
            "--machine", metavar="NAME", help="What these documents describe; keeps two machines apart."
        ),
    ] = "",
    password: PasswordOption = "",
    as_json: Annotated[
        bool, typer.Option("--json", help="Give the summary as one JSON object.", show_default=False)
    ] = False,
    strict: Annotated[
        bool, typer.Option("--strict", help="Exit code 1 if a row carries a doubt.", show_default=False)
    ] = False,
) -> int:
    """Read manuals into the index.

    Only what changed is read again. Ctrl-C keeps every document that is done.
    """
    from xref.pipeline import index_paths

    session = session_of(ctx)
    screen = talk(session.quiet)
    bar_wanted = is_talk_terminal() and not session.quiet
    bad_files: list[str] = []
    try:
        with progress_bar() if bar_wanted else nullcontext() as bar:
            reporter = _Reporter(screen, bar)
            summary = index_paths(
                _expanded(paths),
                session.workspace,
                machine=machine,
                password=password,
                on_progress=reporter.progress,
                on_message=bad_files.append,
            )
    except KeyboardInterrupt:
        _say_all(screen, bad_files)
        screen.line("Every document finished so far is kept; the same command goes on from there.")
        raise
    adrift = _adrift(session)
    if as_json:
        _say_all(screen, bad_files)
        write_json({**_to_json(summary), "decisions_adrift": adrift_json(adrift)})
    else:
        print_summary(results(), summary)
        print_adrift(results(), adrift)
    in_index = summary.documents_read or summary.documents_unchanged
    if any(problem.fault for problem in summary.problems) or (summary.problems and not in_index):
        return UsageError.exit_code
    return exit_code(bool(in_index)) if not (strict and summary.doubts) else 1


def _adrift(session: Session) -> list[Adrift]:
    """Return what the person decided that fits nothing now that was read."""
    from xref.harness.doubts import adrift
    from xref.store.index import Index
    from xref.store.work import Work

    with Index.open(session.workspace) as index, Work.open(session.workspace) as work:
        return list(adrift(index, work))


def _say_all(screen: Screen, messages: Iterable[str]) -> None:
    """Say what the summary for a person says at its end, where there is no such summary."""
    for message in messages:
        screen.line(message)


def _expanded(paths: Iterable[Path]) -> list[Path]:
    """Expand wildcards the shell left alone, as the one of Windows does."""
    out: list[Path] = []
    for path in paths:
        found = [] if path.exists() else [Path(name) for name in sorted(glob.glob(str(path)))]  # noqa: PTH207
        out += found or [path]
    return out


class _Reporter:
    """Shows progress as a bar on a terminal, else as one line per document."""

    def __init__(self, screen: Screen, bar: Bar | None) -> None:
        self._screen = screen
        self._bar = bar
        self._named = 0

    def progress(self, now: Progress) -> None:
        if self._bar:
            self._bar.move(now.pages_done, now.pages_total, progress_words(now))
        elif now.document_no != self._named:
            self._named = now.document_no
            pages = counted(now.pages, "page")
            self._screen.line(f"{now.document_no}/{now.documents} {now.document}: {pages}")


def progress_words(now: Progress) -> str:
    """Return `3/12 loom.pdf p. 40 · 52 pages/s · 2 min left`; the rest only once there is a rate."""
    words = f"{now.document_no}/{now.documents} {now.document} p. {now.page}"
    if now.pages_done <= 0 or now.seconds <= 0:
        return words
    rate = now.pages_done / now.seconds
    left = (now.pages_total - now.pages_done) / rate
    return f"{words} · {rate:,.3g} pages/s · {span(left)} left"


def print_summary(screen: Screen, summary: Summary) -> None:
    """Write what was read, what was not and why, and what is in doubt."""
    if not (summary.documents_read or summary.documents_unchanged or summary.problems):
        screen.line("No PDF was found there.", "bold")
    screen.line(f"Done in {span(summary.seconds)}.", "bold")
    skipped = sum(summary.pages_skipped.values())
    forgotten = len(summary.documents_forgotten)
    changed = len(summary.documents_changed)
    facts = (
        ("documents read", summary.documents_read),
        *([("of these changed", changed)] if changed else []),
        ("documents unchanged", summary.documents_unchanged),
        ("documents gone", forgotten),
        ("pages read", summary.pages_read),
        ("pages skipped", skipped),
        ("connectors, by document", summary.connectors),
        ("pins", summary.pins),
        ("unused cavities", summary.unused),
        ("doubts", sum(summary.doubts.values())),
    )
    screen.rows([Row(cells=(label, f"{number:,}")) for label, number in facts])
    _counts(screen, "PAGES SKIPPED, AND WHY", summary.pages_skipped, {})
    title = "DOUBTS (look at the page before you trust the row; xref check lists them)"
    _counts(screen, title, summary.doubts, DOUBTS)
    _counts(screen, "NOTICES (what the manual itself says)", summary.notices, NOTICES)
    schemes = {name: {"": "undecided", "key": "its own key"}.get(s, s) for name, s in summary.schemes.items()}
    blocks.block(screen, "COLOUR SCHEMES", [Row(cells=pair) for pair in schemes.items()])
    _files(screen, summary)
    blocks.unread_pages(screen, summary.unread)
    blocks.partly_read(screen, summary.partly_read)
    if summary.problems:
        screen.line()
        screen.line("NOT READ – these files:", "doubt")
        for problem in summary.problems:
            screen.line(problem.message, "doubt", 2)


def _files(screen: Screen, summary: Summary) -> None:
    """Write what became of the files since they were indexed."""
    moves = [(move.old_name, f"is now {move.name}: {move.path}") for move in summary.moves]
    blocks.block(screen, "MOVED OR RENAMED, NOT READ AGAIN", [Row(cells=pair) for pair in moves])
    copies = [(copy.path, f"is the same file as {copy.document}") for copy in summary.copies]
    blocks.block(screen, "COPIES, READ ONCE", [Row(cells=pair) for pair in copies])
    blocks.same_pages(screen, summary.same_pages)
    blocks.block(screen, "GONE FROM THE INDEX", [Row(cells=(name,)) for name in summary.documents_forgotten])
    away = [(name, "its folder is not there now") for name in summary.away]
    title = "KEPT IN THE INDEX, BUT NOT FOUND (index a folder above to have them forgotten)"
    blocks.block(screen, title, [Row(cells=pair) for pair in away])


def _counts(screen: Screen, title: str, counts: Mapping[str, int], words: Mapping[str, str]) -> None:
    rows = [Row(cells=(f"{n:,}", name, words.get(name, ""))) for name, n in counts.items() if n]
    blocks.block(screen, title, rows)


def _to_json(summary: Summary) -> dict[str, object]:
    return {
        "documents_read": summary.documents_read,
        "documents_unchanged": summary.documents_unchanged,
        "documents_forgotten": list(summary.documents_forgotten),
        "problems": [{"path": p.path, "message": p.message, "fault": p.fault} for p in summary.problems],
        "pages_read": summary.pages_read,
        "pages_skipped": dict(summary.pages_skipped),
        "unread_pages": [{"document": n.document, "page": n.page, "why": n.why} for n in summary.unread],
        "connectors": summary.connectors,
        "pins": summary.pins,
        "unused": summary.unused,
        "doubts": dict(summary.doubts),
        "notices": dict(summary.notices),
        "schemes": dict(summary.schemes),
        "seconds": summary.seconds,
        "documents_changed": list(summary.documents_changed),
        "documents_moved": [
            {"from": move.old_name, "to": move.name, "path": move.path} for move in summary.moves
        ],
        "documents_away": list(summary.away),
        "partly_read_pages": [
            {"document": n.document, "page": n.page, "why": n.why} for n in summary.partly_read
        ],
        "copies": [{"path": copy.path, "document": copy.document} for copy in summary.copies],
        "same_pages": [blocks.same_pages_to_json(pair) for pair in summary.same_pages],
    }
