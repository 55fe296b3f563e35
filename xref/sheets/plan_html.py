"""The plan as one HTML file that needs nothing else, for a phone at the machine or a printer."""

from __future__ import annotations

import json
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from xref.colors.words import text_on
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
    environment = Environment(
        loader=PackageLoader("xref.sheets", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    html = environment.get_template("plan.html").render(
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
        # A CSS string is written as a JSON string is; this text is the program's own.
        foot=Markup(json.dumps(plan.caution_short)),
        edge=text_on,
    )
    path.write_text(html, encoding="utf-8", newline="\n")
