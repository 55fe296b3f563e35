"""A plan to work by: the file's suffix decides the format, all say the same."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from xref.moves.records import Plan
from xref.records import PageNote
from xref.sheets.files import suffix_among, written_whole
from xref.sheets.plan_words import plan_in_words

PLAN_SUFFIXES = (".pdf", ".xlsx", ".html", ".csv")


def write_plan(plan: Plan, path: Path, *, unread: Iterable[PageNote] = ()) -> None:
    """Write the plan whole or not at all; `unread` are pages of which nothing is in it.

    Raises:
        UsageError: the suffix is none of the four.
        CannotWrite: the file cannot be written.
    """
    path = Path(path)
    suffix = suffix_among(path, PLAN_SUFFIXES, "a plan to work by")
    printed = plan_in_words(plan, unread)
    # The writers bring heavy libraries, so only the one that is needed is loaded.
    with written_whole(path) as beside:
        if suffix == ".pdf":
            from xref.sheets.plan_pdf import write_plan_pdf

            write_plan_pdf(printed, beside)
        elif suffix == ".xlsx":
            from xref.sheets.plan_xlsx import write_plan_xlsx

            write_plan_xlsx(printed, beside)
        elif suffix == ".html":
            from xref.sheets.plan_html import write_plan_html

            write_plan_html(printed, beside)
        else:
            from xref.sheets.plan_csv import write_plan_csv

            write_plan_csv(printed, beside)
