"""Columns of variants of the machine: marks, values that differ, and what only looks like either."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins, rows

HEAD = ("Pin", "Colour", "Circuit")
WIDE = (40, 60, 60, 80, 80, 80)


def _marked(path: Path, variants: tuple[str, ...], *marks: tuple[str, ...], ruled: bool = True) -> Page:
    cells = (("1", "BK", "1440"), ("2", "BU", "1441"), ("3", "RD", "1442"), ("4", "GN", "1443"))
    table = [(*HEAD, *variants), *((*c, *m) for c, m in zip(cells, marks, strict=True))]
    page = Page(path / "a.pdf").heading("Connector X5")
    if ruled:
        return page.ruled(table, WIDE[: len(table[0])])
    return page.aligned(table, [60, 100, 160, 230, 320, 410][: len(table[0])])


@pytest.mark.parametrize("ruled", [True, False])
@pytest.mark.parametrize(
    ("variants", "yes", "no"),
    [
        (("3 cylinders", "4 cylinders", "V6"), "x", ""),
        (("Diesel", "LPG", "Electric"), "yes", "no"),
        (("24 V", "48 V", "80 V"), "X", "-"),
    ],
)
def test_marks_say_for_which_variants_a_row_holds(
    tmp_path: Path, variants: tuple[str, ...], yes: str, no: str, ruled: bool
) -> None:
    """The headers over the marks are the option; a row marked throughout holds for all and has none."""
    marks = ((yes, yes, yes), (yes, no, yes), (no, yes, no), (yes, yes, yes))
    made = pins(_marked(tmp_path, variants, *marks, ruled=ruled)).pins
    assert [p.option for p in made] == ["", f"{variants[0]}; {variants[2]}", variants[1], ""]
    assert [p.circuit for p in made] == ["1440", "1441", "1442", "1443"]
    assert not any(p.flags for p in made)


def test_a_row_without_marks_is_doubtful(tmp_path: Path) -> None:
    """A wire that is marked for no variant has no option, but a doubt."""
    marks = (("x", "x"), ("", ""), ("", "x"), ("x", "x"))
    made = pins(_marked(tmp_path, ("Diesel", "LPG"), *marks)).pins
    assert [(p.option, "column-unread" in p.flags) for p in made] == [
        ("", False), ("", True), ("LPG", False), ("", False)
    ]  # fmt: skip


def test_marks_of_properties_are_no_options(tmp_path: Path) -> None:
    """Input and output say what a pin is, whatever the machine."""
    marks = (("x", ""), ("", "x"), ("x", ""), ("", "x"))
    made = pins(_marked(tmp_path, ("Input", "Output"), *marks)).pins
    assert [(p.option, p.function, p.flags) for p in made] == [("", "", ())] * 4


@pytest.mark.parametrize("variants", [("Foobar", "Bazqux"), ("E16", "E20")])
def test_marks_under_unknown_words_are_doubted(tmp_path: Path, variants: tuple[str, ...]) -> None:
    """What nobody knows may be variants, connectors or properties: no option, no other connector, a doubt."""
    marks = (("X", ""), ("", "X"), ("X", "X"), ("", "X"))
    made = pins(_marked(tmp_path, variants, *marks)).pins
    assert {p.connector for p in made} == {"X5"}
    assert [(p.option, "column-unread" in p.flags) for p in made] == [("", True)] * 4


def test_full_and_empty_rings_may_say_anything(tmp_path: Path) -> None:
    """Two marks that both may say yes are no alphabet."""
    marks = (("x", "+"), ("+", "x"), ("x", "x"), ("+", "x"))
    made = pins(_marked(tmp_path, ("Diesel", "LPG"), *marks)).pins
    assert [(p.option, "column-unread" in p.flags) for p in made] == [("", True)] * 4


def test_a_header_over_type_names_makes_them_variants(tmp_path: Path) -> None:
    """Names that nobody knows are variants under a word for them."""
    table = [
        ("Pin", "Colour", "Circuit", "Version", ""),
        ("", "", "", "E16", "E20"),
        ("1", "BK", "1440", "x", "x"),
        ("2", "BU", "1441", "", "x"),
        ("3", "RD", "1442", "x", ""),
    ]
    spans = [((3, 0), (4, 0)), *(((j, 0), (j, 1)) for j in range(3))]
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled(table, WIDE[:5], spans=spans)
    assert [r.values.get("option", "") for r in rows(page)] == ["", "E20", "E16"]


@pytest.mark.parametrize("form", ["Circuit: {}", "Circuit ({})", "Circuit {}"])
def test_a_fact_that_differs_is_a_pin_for_each_variant(tmp_path: Path, form: str) -> None:
    """Where both columns agree there is one pin without option; a dash says that a variant has no wire."""
    table = [
        ("Pin", "Colour", form.format("24 V"), form.format("48 V")),
        ("1", "BK", "1440", "1440"),
        ("2", "BU", "1441", "1541"),
        ("3", "RD", "1442", "-"),
        ("4", "GN", "1443", "1443"),
    ]
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled(table, (40, 60, 90, 90))
    made = pins(page).pins
    assert [(p.cavity, p.circuit, p.option, p.half) for p in made] == [
        ("1", "1440", "", ""), ("2", "1441", "24 V", ""), ("2", "1541", "48 V", ""),
        ("3", "1442", "24 V", ""), ("4", "1443", "", ""),
    ]  # fmt: skip
    assert not any(p.flags for p in made)


def test_a_blank_beside_a_circuit_is_doubtful(tmp_path: Path) -> None:
    """A blank may mean the same wire or none."""
    table = [
        ("Pin", "Colour", "Circuit: diesel", "Circuit: electric"),
        ("1", "BK", "1440", "1440"),
        ("2", "BU", "1441", ""),
        ("3", "RD", "1442", "1542"),
    ]
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled(table, (40, 60, 90, 90))
    made = pins(page).pins
    assert [(p.cavity, p.option) for p in made] == [
        ("1", ""), ("2", "diesel"), ("3", "diesel"), ("3", "electric")
    ]  # fmt: skip
    assert "row-assembled" in made[1].flags and not made[0].flags


def test_crosses_in_a_table_of_faults_are_no_pins(tmp_path: Path) -> None:
    """A diagnostic table with a column of pins and crosses under faults yields nothing."""
    table = [
        ("Pin", "Open circuit", "Short to ground", "Low voltage"),
        *((str(n), "X" if n % 2 else "", "", "X") for n in range(1, 6)),
    ]
    page = Page(tmp_path / "a.pdf").heading("Possible causes").ruled(table, (40, 80, 90, 80))
    assert not pins(page).pins


def test_halves_of_an_inline_connector_stay_halves(tmp_path: Path) -> None:
    """Male and female are no variants of the machine."""
    table = [
        ("Pin", "Circuit", "Colour male", "Colour female"),
        ("1", "1440", "BK", "BK"),
        ("2", "1441", "BU", "WH"),
        ("3", "1442", "RD", "RD"),
    ]
    page = Page(tmp_path / "a.pdf").heading("In-line connector X5").ruled(table, (40, 60, 90, 90))
    made = pins(page).pins
    assert len({p.half for p in made}) == 2 and not any(p.option for p in made)
