"""What a whole document shows of its headings: sides of captions, styles of titles, forms of names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins
from xref.records import Pin

UNCERTAIN = "heading-uncertain"
NAMES = ("X5", "X12", "X31", "X8")
COMPONENTS = ("Pump", "Mast lamp", "Horn", "Charger")


class Manual:
    """A manual of many connectors; each row has a circuit of its own, so that it is known again."""

    def __init__(self, path: Path) -> None:
        self.page = Page(path / "a.pdf")
        self.circuits: Iterator[int] = count(1000)
        self.truth: dict[str, str] = {}
        self.found: Sequence[Pin] = ()

    def table(self, name: str, *, down: float = 34, rows: int = 4, first: int = 1, x: float = 60) -> None:
        """Draw a ruled pinout of the connector; break the page before it overflows."""
        cells = [(str(n), "BK", str(next(self.circuits)), "Lamp feed") for n in range(first, first + rows)]
        self.truth |= {row[2]: name for row in cells}
        self.page.ruled((HEADER, *cells), WIDE, x=x, down=down)

    def turn(self) -> None:
        """Begin a new page where the next table would not fit."""
        if self.page.y > 560:
            self.page.next()

    def read(self) -> Sequence[Pin]:
        """Read the manual; every row must be there."""
        self.found = self.found or pins(self.page).pins
        assert {p.circuit for p in self.found} == set(self.truth)
        return self.found

    def wrong(self) -> set[tuple[str, str]]:
        """Return the vouched rows under a name that is not theirs, as (name, name read)."""
        return {
            (self.truth[p.circuit], p.connector)
            for p in self.read()
            if p.connector != self.truth[p.circuit] and UNCERTAIN not in p.flags
        }

    def right(self) -> bool:
        """True when every row is vouched for under its own name."""
        return not any(UNCERTAIN in p.flags for p in self.read()) and not self.wrong()


@pytest.fixture
def manual(tmp_path: Path) -> Manual:
    """An empty manual."""
    return Manual(tmp_path)


@pytest.mark.parametrize(
    "caption", ["Table {n}: {name} {of}", "Fig. {n}. {of}, connector {name}", "{name} {of}"]
)
def test_captions_that_stand_below_name_the_table_above(manual: Manual, caption: str) -> None:
    """The first table has nothing over it and the last caption nothing under it: so it is throughout."""
    for n, (name, of) in enumerate(zip(NAMES, COMPONENTS, strict=True)):
        manual.turn()
        manual.table(name, down=14)
        manual.page.line(caption.format(n=n + 3, name=name, of=of), down=40)
    assert manual.right()


def test_captions_that_stand_above_name_the_table_below(manual: Manual) -> None:
    """The same lines over their tables are read the other way round."""
    for n, name in enumerate(NAMES):
        manual.turn()
        manual.page.line(f"Table {n + 3}: {name}", down=24)
        manual.table(name, down=26)
    assert manual.right()


def test_titles_without_designator_are_names_where_all_are(manual: Manual) -> None:
    """One plain line over every table, each another one, is the habit of the document."""
    for of in COMPONENTS:
        manual.turn()
        manual.page.line(f"{of} port", down=22)
        manual.table(f"{of} port")
    assert manual.right()


def test_a_title_among_designators_names_no_connector_for_certain(manual: Manual) -> None:
    """Where headings have designators, the one without may be about anything."""
    for n, (name, of) in enumerate(zip(NAMES, COMPONENTS, strict=True)):
        manual.turn()
        manual.page.heading(f"{name} {of}" if n != 2 else "Frame wiring, left", down=22)
        manual.table(name)
    assert not manual.wrong()
    assert {p.connector for p in manual.read() if UNCERTAIN not in p.flags} == {"X5", "X12", "X8"}


@pytest.mark.parametrize("form", ["CN-{n}", "con{n}", "{n}", "X15.{n}", "-X{n}", "K{n}-B", "CN_{n}"])
def test_names_of_any_form_are_learned_from_the_titles(manual: Manual, form: str) -> None:
    """What all titles begin with, each another of one form, is the name; the rest tells what it is."""
    for n, of in enumerate(COMPONENTS):
        manual.turn()
        manual.page.heading(f"{form.format(n=101 + n)} {of}", down=22)
        manual.table(form.format(n=101 + n))
    assert manual.right()


def test_a_table_without_heading_is_a_doubt(manual: Manual) -> None:
    """A table that begins anew belongs neither to the connector before nor to nobody in silence."""
    for n, name in enumerate(NAMES):
        manual.turn()
        if n != 2:
            manual.page.heading(name, down=22)
        manual.table(name)
    assert not manual.wrong()
    assert all(UNCERTAIN in p.flags for p in manual.read() if manual.truth[p.circuit] == "X31")


def test_connectors_referred_to_name_nothing(manual: Manual) -> None:
    """`Mates with`, `see also` and running text speak of other connectors than the table's."""
    for name in NAMES:
        manual.turn()
        manual.page.heading(f"{name} (mates with X101)", down=16).line("Mates with X102 of the cab", down=14)
        manual.page.line("The lamp is fed through X103 and its ground goes to G7. Unplug X104", down=12)
        manual.page.line("before any work on the hydraulic system and cover the plug.", down=22)
        manual.table(name, down=12)
        manual.page.line("Note: see also X105", down=36)
    assert manual.right()


@pytest.mark.parametrize(
    "sentence",
    [
        "The following table shows the pins of connector {name} (pump).",
        "Die folgende Tabelle zeigt die Belegung von Stecker {name}.",
        "Le tableau suivant donne le brochage du connecteur {name} :",
    ],
)
def test_a_sentence_that_leads_over_to_the_table_names_it(manual: Manual, sentence: str) -> None:
    """It points to the table and names one connector; other sentences name none."""
    for name in NAMES[:2]:
        manual.page.line(sentence.format(name=name), down=22)
        manual.table(name)
    assert manual.right()


def test_a_name_left_of_the_table_is_its_name(manual: Manual) -> None:
    """Some manuals print the designator in the margin, beside the rows."""
    for name in NAMES:
        manual.turn()
        top = manual.page.y
        manual.page.heading(name, x=40, down=0)
        manual.page.y = top
        manual.table(name, x=130)
    assert manual.right()


def test_a_table_of_facts_between_heading_and_pinout_parts_nothing(manual: Manual) -> None:
    """Ratings under the heading are about the connector whose pins follow."""
    facts = (("Property", "Value"), ("Degree of protection", "high"), ("Rated current", "8 A"))
    for name in NAMES:
        manual.turn()
        manual.page.heading(f"{name} Pump", down=20).ruled(facts, (120, 80), down=20)
        manual.table(name)
    assert manual.right()


def test_the_contents_of_a_manual_name_no_table(manual: Manual) -> None:
    """The last line of a table of contents may stand right over a table."""
    for n, name in enumerate(NAMES):
        manual.page.line(f"{n + 1} Connector {name} ..................... {n + 9}", down=12)
    manual.page.y += 8
    manual.table("none")
    assert not manual.wrong()


def test_connectors_numbered_anew_get_the_component_s_name_too(manual: Manual) -> None:
    """`X1` under `A20` and `X1` under `A21` are two connectors."""
    for component in ("A20", "A21"):
        manual.page.heading(f"{component} Pump controller", size=15, down=26)
        for name in ("X1", "X2"):
            manual.page.heading(name, size=10, down=22)
            manual.table(f"{component} {name}", down=26)
        manual.page.next()
    assert manual.right()


def test_rows_that_name_the_next_connector_part_a_table(tmp_path: Path) -> None:
    """A row with nothing but a name, after which cavities begin anew, is a heading."""
    page = Page(tmp_path / "a.pdf").heading("Connectors of the mast")
    rows = [("1", "BK", "1440", "Lamp"), ("2", "BU", "1441", "Horn"), ("3", "RD", "1442", "Fan")]
    others = [("1", "GN", "2440", "Lamp"), ("2", "WH", "2441", "Horn")]
    title = [("Connector X5 - Pump", "", "", "")]
    page.ruled(
        (HEADER, *title, *rows, ("X6", "", "", ""), *others),
        WIDE,
        spans=(((0, 1), (3, 1)), ((0, 5), (3, 5))),
    )
    found = pins(page).pins
    assert [(p.connector, p.cavity) for p in found] == [
        ("X5", "1"), ("X5", "2"), ("X5", "3"), ("X6", "1"), ("X6", "2"),
    ]  # fmt: skip
    assert not any(UNCERTAIN in p.flags for p in found)


def test_facts_between_heading_and_table_are_no_names(manual: Manual) -> None:
    """Where it sits, which harness it hangs on: lines that name other things do not outdo the heading."""
    for name in NAMES:
        manual.turn()
        manual.page.heading(f"{name} Pump", size=9, down=16).line("Location: behind A103", down=14)
        manual.page.line("Harness W12 to X77", down=20)
        manual.table(name)
    assert manual.right()


def test_one_caption_for_two_tables_names_both(tmp_path: Path) -> None:
    """`X5 (left) and X6 (right)` below two tables says which is which."""
    page = Page(tmp_path / "a.pdf")
    top = page.y
    for x, first in ((60, 1440), (330, 2440)):
        page.y = top
        rows = [(str(n), "BK", str(first + n)) for n in (1, 2, 3)]
        page.ruled((HEADER[:3], *rows), (50, 60, 60), x=x, down=12)
    found = pins(page.line("Table 7: X5 (left) and X6 (right)", x=180)).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {("X5", "1"), ("X6", "2")}
    assert not any(UNCERTAIN in p.flags for p in found)


def test_a_plain_line_under_a_bold_heading_is_no_rival(manual: Manual) -> None:
    """Where a connector sits may be told by another name; the heading stands out, the remark does not."""
    manual.page.heading("X5 Pump", size=11, down=14).line("Valve block, port P2, black", down=22)
    manual.table("X5")
    manual.page.heading("X5 Pump (continued)", size=11, down=22)
    manual.table("X5", first=5)
    assert manual.right()


def test_a_chapter_s_number_names_no_connector(manual: Manual) -> None:
    """Where connectors have names, a larger title with a number over some of them is a chapter's."""
    for n, name in enumerate(("X5", "X6", "X7", "XK9.B", "XK10.B", "XK11.B")):
        manual.turn()
        if n > 2:
            manual.page.heading(f"{2 * n - 2} {COMPONENTS[n - 3]}s", size=15)
        manual.page.heading(f"-{name} {COMPONENTS[n % 4]}", size=9, down=16)
        manual.table(f"-{name}")
    assert not manual.wrong()
