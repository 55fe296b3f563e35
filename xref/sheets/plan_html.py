"""The plan as one HTML file that needs nothing else, for a phone at the machine or a printer."""

from __future__ import annotations

from pathlib import Path

from xref.sheets.html import write_html_file
from xref.sheets.printed import Wire
from xref.sheets.printed_plan import (
    CUT_HEADS,
    FIGURE_HEADS,
    NO_QUESTIONS,
    PLAN_TICKS,
    QUESTIONS_TITLE,
    READS,
    UNREAD_TITLE,
    WORK_TITLE,
    PrintedPlan,
)


def write_plan_html(plan: PrintedPlan, path: Path) -> None:
    """Write the plan. Every text is escaped; no script, no outside address."""
    write_html_file(
        "plan.html",
        path,
        foot=plan.caution_short,
        plan=plan,
        ticks=PLAN_TICKS,
        cut_heads=CUT_HEADS,
        figure_heads=FIGURE_HEADS,
        no_questions=NO_QUESTIONS,
        questions_title=QUESTIONS_TITLE,
        unread_title=UNREAD_TITLE,
        work_title=WORK_TITLE,
        reads=READS,
        is_wire=lambda cell: isinstance(cell, Wire),
    )
