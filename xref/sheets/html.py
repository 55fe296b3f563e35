"""The only door to Jinja: a template and values become one HTML file that needs nothing else."""

from __future__ import annotations

import json
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from xref.colors.words import text_on


def write_html_file(template: str, path: Path, *, foot: str, **values: object) -> None:
    """Fill a template of `templates/` and write it. Every text is escaped.

    `foot` is the program's own text at the foot of printed pages; it stands in the style sheet.
    """
    environment = Environment(
        loader=PackageLoader("xref.sheets", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    # A CSS string is written as a JSON string is.
    html = environment.get_template(template).render(foot=Markup(json.dumps(foot)), edge=text_on, **values)
    path.write_text(html, encoding="utf-8", newline="\n")
