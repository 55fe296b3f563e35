"""A table that looks like a pinout and gave no row is named wherever unread pages are."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.conftest import RunXref
from tests.tables.drawn import Page

WIDTHS = (50, 120, 150)
WHY = "nothing was read of the table under “X5 Quadro strumenti, 3 vie”, which looks like a pinout"


def _index(xref: RunXref, folder: Path) -> str:
    page = Page(folder / "loom.pdf").heading("Connector X1 – Pump")
    page.ruled((("Cavity", "Colour", "Circuit"), ("1", "RD", "101"), ("2", "BK", "31")), WIDTHS)
    odd = (("N.", "Trefolo", "Nota"), ("1", "102+RO", "–"), ("2", "115+AR", "–"), ("3", "31+NE", "–"))
    page.heading("X5 Quadro strumenti, 3 vie").ruled(odd, WIDTHS).save()
    return xref("index", folder / "loom.pdf").stdout


def test_the_account_of_indexing_names_it(xref: RunXref, tmp_path: Path) -> None:
    """Whoever indexes hears of the table that gave nothing, with its page and its heading."""
    said = " ".join(_index(xref, tmp_path).split())
    assert "READ ONLY IN PART – a table on these pages is in no answer:" in said
    assert f"loom.pdf p. 1: {WHY}" in said


@pytest.mark.parametrize(
    "question", [("connector", "X5"), ("connector", "X1"), ("circuit", "102"), ("doctor",)]
)
def test_answers_and_the_doctor_name_it(xref: RunXref, tmp_path: Path, question: tuple[str, ...]) -> None:
    """Every answer says which table is in none of them, for people and as JSON."""
    _index(xref, tmp_path)
    assert f"loom.pdf p. 1: {WHY}" in " ".join(xref(*question).stdout.split())
    unread = json.loads(xref(*question, "--json").stdout)["unread_pages"]
    assert unread == [{"document": "loom.pdf", "page": 1, "why": WHY}]
