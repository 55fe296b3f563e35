"""Tables that run on overleaf without their header."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, tables
from xref.rows.continued import continue_table
from xref.rows.plan import table_to_plans
from xref.tables.table import Table

HEADER = ("Cavity", "Color", "Circuit", "Function")
FIRST = (("1", "BK", "1440", "Lamp"), ("2", "BU", "1441", "Horn"), ("3", "RD", "1442", "Fan"))
REST = (("4", "GN", "1443", "Pump"), ("5", "WH", "1444", "Valve"), ("6", "GY", "1445", "Buzzer"))
WIDE = (60, 80, 70, 150)
XS = (60, 130, 210, 290)


def _continued(page: Page) -> Table | None:
    first, second = tables(page)
    return continue_table(second, first, table_to_plans(first))


@pytest.mark.parametrize("ruled", [True, False])
def test_a_headerless_table_overleaf_takes_the_columns_before(tmp_path: Path, ruled: bool) -> None:
    """Same borders and cells of the same kinds: the header of the page before holds on."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    if ruled:
        page.ruled((HEADER, *FIRST), WIDE).next().ruled(REST, WIDE)
    else:
        page.aligned((HEADER, *FIRST), XS).next().aligned(REST, XS, bold_first=False)
    joined = _continued(page)
    assert joined is not None and joined.header == HEADER
    assert [[c.text for c in b.cells] for b in joined.bands] == [list(row) for row in REST]


def test_a_table_with_other_columns_is_another_one(tmp_path: Path) -> None:
    """Borders elsewhere say that this is not the table before."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *FIRST), WIDE)
    page.next().ruled([(a, b, d) for a, b, _, d in REST], (60, 80, 220))
    assert _continued(page) is None


def test_a_table_that_stands_elsewhere_is_another_one(tmp_path: Path) -> None:
    """As many columns of the same kinds, but an inch further right: nothing proves that they go on."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *FIRST), WIDE)
    assert _continued(page.next().ruled(REST, WIDE, x=132)) is None


def test_cells_of_another_kind_are_another_table(tmp_path: Path) -> None:
    """Equal borders prove nothing where texts stand in place of cavities and colours."""
    other = (("Open the cover", "first", "by hand", "then"), ("Remove", "cable", "tie", "end"))
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *FIRST), WIDE)
    page.next().ruled(other, (60, 80, 70, 150))
    assert _continued(page) is None


def test_a_table_with_a_header_of_its_own_stands_for_itself(tmp_path: Path) -> None:
    """A repeated header needs no taking over."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *FIRST), WIDE)
    page.next().ruled((HEADER, *REST), WIDE)
    assert _continued(page) is None


@pytest.mark.parametrize(
    "rest", [(("30", "87a 87"), ("85", "86"), ("87", "30")), (("A", "7/C X5"), ("B", "2/D"))]
)
def test_a_face_overleaf_does_not_run_on_a_table_of_uses(
    tmp_path: Path, rest: tuple[tuple[str, ...], ...]
) -> None:
    """Numbers and fields of a plan stand where words say what a wire is for: no part of that table."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled((("Cavity", "Function"), ("1", "Lamp left"), ("2", "Horn relay"), ("3", "Fan")), (60, 150))
    first, second = tables(page.next().ruled(rest, (60, 150)))
    assert continue_table(second, first, table_to_plans(first)) is None
