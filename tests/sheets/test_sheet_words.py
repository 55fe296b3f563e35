"""What the sheet says where several tables print one cavity, and how its rows fall on pages."""

from __future__ import annotations

from pathlib import Path

import pymupdf
from sample import pin

from xref.harness.answers import CircuitAnswer, ConnectorView, ModuleSheet, SheetLine, SheetPart
from xref.records import Connector, Pin
from xref.sheets.module import write_module_sheet
from xref.sheets.printed import PrintedLine, PrintedSheet
from xref.sheets.sheet_words import sheet_in_words

LIST = "wire-list.pdf"
OWN = pin("A1", "1", circuit="7", color_code="BU", base_color="blue", size="1", goes_to="SP2", page=5)
LISTED = pin(
    "A1", "1", circuit="7", color_code="BU", base_color="blue", document=LIST, page=9, function="Feed"
)


def sheet(*lines: SheetLine) -> ModuleSheet:
    """Return a sheet of one connector."""
    head = Connector(machine="Forklift", connector="A1", document="mast.pdf", component="Pump")
    view = ConnectorView(connector=head, pins=tuple(line.pin for line in lines))
    return ModuleSheet(
        asked=("Pump",), parts=(SheetPart(view=view, lines=lines),), taken=(("A1", "so"),), not_taken=()
    )


def printed(*lines: SheetLine) -> tuple[PrintedSheet, tuple[PrintedLine, ...]]:
    """Return the sheet in words, and its lines."""
    words = sheet_in_words(sheet(*lines))
    return words, words.parts[0].lines


def answer(*, ends: tuple[Pin, ...] = (), **groups: tuple[Pin, ...]) -> CircuitAnswer:
    """Return a circuit with these places."""
    appearances = (*ends, *(pin for group in groups.values() for pin in group))
    return CircuitAnswer(circuit="7", appearances=appearances, ends=ends, **groups)


def test_one_wire_in_two_documents_is_one_line_with_both_pages() -> None:
    """Every page that prints a wire end stands in its line; what one is silent about the other fills in."""
    words, (line,) = printed(SheetLine(pin=OWN, rows=(OWN, LISTED), others=None))
    letters = {name: letter for letter, name in words.documents}
    assert line.source == (f"{letters[OWN.document]} p. 5", f"{letters[LIST]} p. 9")
    assert line.function == "Feed" and line.size == "1 (unit not stated)"
    assert not [note for note in line.notes if "in this cavity" in note]


def test_wires_options_and_contradictions_in_one_cavity_are_told_apart() -> None:
    """Two rows of one table are two wires; two options are a choice; else the tables differ."""

    def notes(one: Pin, other: Pin) -> str:
        lines = printed(*(SheetLine(pin=row, rows=(row,), others=None) for row in (one, other)))[1]
        return " ".join(lines[0].notes)

    second = pin("A1", "1", circuit="8", page=5)
    assert "wire 1 of 2 in this cavity" in notes(OWN, second)
    assert "TABLES DIFFER" in notes(OWN, pin("A1", "1", circuit="8", document=LIST))
    with_option = pin("A1", "1", circuit="7", option="with heater", page=5)
    assert "THE OPTION DECIDES" in notes(
        with_option, pin("A1", "1", status="unused", option="without heater")
    )


def test_an_end_printed_twice_stands_once_with_both_pages() -> None:
    """Another document's row of the same end adds its page, not an end."""
    ends = (pin("B2", "3", component="Lamp", page=7), pin("B2", "3", document=LIST, page=8))
    _, (line,) = printed(SheetLine(pin=OWN, rows=(OWN,), others=answer(ends=ends)))
    (end,) = line.ends
    assert (end.at, end.what) == ("B2:3", "Lamp")
    assert end.page.count("p.") == 2


def test_fuse_is_an_end_and_its_wire_size_is_no_rating() -> None:
    """A wire that ends at a fuse has that end; the cross-section is not printed where amperes are read."""
    fuse = pin("F1", "9", role="fuse", function="Pump, 10 A", size="1", size_mm2=1.0)
    _, (line,) = printed(SheetLine(pin=OWN, rows=(OWN,), others=answer(fuses=(fuse,))))
    assert [(end.at, end.what) for end in line.ends] == [("F1:9", "fuse")]
    assert line.fed_by == ("F1:9 Pump, 10 A",)


def test_legs_of_a_splice_are_one_splice_on_the_way() -> None:
    """The splice is named once, not leg by leg, and is no end."""
    legs = tuple(pin("SP2", leg, role="splice") for leg in "abc")
    _, (line,) = printed(SheetLine(pin=OWN, rows=(OWN,), others=answer(splices=legs)))
    assert line.through == ("splice SP2",) and line.ends == ()


def test_no_row_is_cut_and_no_page_has_its_column_heads_twice(tmp_path: Path) -> None:
    """Lines of many heights go to the next page whole, so that the heads stand once on every page."""
    lines = []
    for number in range(1, 40):
        own = pin("A1", str(number), circuit=f"{700 + number}", function=f"Function {number}")
        ends = tuple(pin(f"B{n}", "1", component=f"Lamp {number}") for n in range(number % 9))
        lines.append(SheetLine(pin=own, rows=(own,), others=answer(ends=ends)))
    path = tmp_path / "sheet.pdf"
    write_module_sheet(sheet(*lines), path)
    with pymupdf.open(path) as document:
        texts = [page.get_text() for page in document]
    assert len(texts) > 3
    assert [text.count("Other ends") for text in texts] == [1] * len(texts)
    for number in range(1, 40):
        (page,) = [text for text in texts if f"Function {number}\n" in text]
        assert page.count(f"Lamp {number}\n") + page.count(f"Lamp {number} ") == number % 9, number
