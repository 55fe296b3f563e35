"""A page drawn with everything that was seen on it: in place, legible, nothing over anything else."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from pathlib import Path

import pymupdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.drawn_manual import draw_manual
from xref.pages.content import PageContent
from xref.records import Box, PageNote, Pin
from xref.sheets.drawing import Drawing, Label, Stroke, hatching
from xref.sheets.drawing_files import write_drawing
from xref.sheets.page_gutters import Note, place_notes
from xref.sheets.page_legend import wrapped
from xref.sheets.page_marks import draw_page
from xref.sheets.page_read import PageSeen, see_page
from xref.sheets.page_seen import ColumnSeen, OwnerSeen, PageExplained, TableSeen, explain_page
from xref.sheets.page_turned import turned_box

WHITE = Image.new("RGB", (596, 843), (255, 255, 255))


def _page(**fields: object) -> PageExplained:
    """Make a page with one table of three columns and rows, the second row in doubt."""
    box = Box(x0=60, top=200, x1=360, bottom=260)
    columns = tuple(
        ColumnSeen(
            number=n + 1,
            header=role,
            role=role,
            by=by,
            box=Box(x0=60 + 100 * n, top=200, x1=160 + 100 * n, bottom=260),
        )
        for n, (role, by) in enumerate((("cavity", "header"), ("color", "content"), ("", "")))
    )
    bands = tuple(Box(x0=60, top=200 + 20 * n, x1=360, bottom=220 + 20 * n) for n in range(3))
    heading = Box(x0=60, top=170, x1=200, bottom=182)
    owner = OwnerSeen(connector="X5", half="A", heading="X5 A", heading_box=heading, doubts=())
    table = TableSeen(
        number=1,
        kind="ruled",
        box=box,
        bands=bands,
        columns=columns,
        pinout=True,
        reason="read",
        owners=(owner,),
    )
    rows = tuple(
        Pin(
            connector="X5",
            cavity=str(n + 1),
            document="m.pdf",
            page=1,
            x0=band.x0,
            top=band.top,
            x1=band.x1,
            bottom=band.bottom,
            flags=("cavity-gap",) if n == 1 else (),
        )
        for n, band in enumerate(bands)
    )
    note = PageNote(document="m.pdf", page=1, page_label="", outcome="read", why="header words")
    given_: dict[str, object] = {
        "document": "m.pdf",
        "pages": 3,
        "note": note,
        "width": 595.0,
        "height": 842.0,
        "turned": 0,
        "rules": (Box(x0=60, top=200, x1=360, bottom=200),),
        "words": (heading, *bands),
        "tables": (table,),
        "rows": rows,
    }
    return PageExplained(**{**given_, **fields})  # type: ignore[arg-type]


def _labels(drawing: Drawing) -> list[Label]:
    return [shape for shape in drawing.shapes if isinstance(shape, Label)]


def _meet(one: Box, other: Box) -> bool:
    across = one.x0 < other.x1 - 0.01 and other.x0 < one.x1 - 0.01
    return across and one.top < other.bottom - 0.01 and other.top < one.bottom - 0.01


def _tight(label: Label) -> Box:
    """The letters themselves, without the room between lines."""
    box = label.box
    return Box(
        x0=box.x0, top=label.middle - 0.4 * label.size, x1=box.x1, bottom=label.middle + 0.4 * label.size
    )


def _assert_legible(drawing: Drawing, words: tuple[Box, ...]) -> None:
    labels = _labels(drawing)
    assert all(label.size >= 6 for label in labels)
    for label in labels:
        box = _tight(label)
        assert box.x0 >= 0 and box.x1 <= drawing.width and box.top >= 0 and box.bottom <= drawing.height, (
            label
        )
    for one, other in itertools.combinations(labels, 2):
        assert not _meet(_tight(one), _tight(other)), (one.text, other.text)
    frame = drawing.picture_box
    for label, word in itertools.product(labels, words):
        moved = Box(
            x0=word.x0 + frame.x0,
            top=word.top + frame.top,
            x1=word.x1 + frame.x0,
            bottom=word.bottom + frame.top,
        )
        assert not _meet(_tight(label), moved), label.text


def test_everything_seen_is_said_beside_its_place() -> None:
    """The heading, each cavity, each role and the doubt of a row stand on the drawing, one over no other."""
    page = _page()
    drawing = draw_page(page, WHITE)
    texts = [label.text for label in _labels(drawing)]
    for text in ("T1 X5 A (heading)", "1", "2 ?  cavity-gap", "3", "1 cavity", "2 color?", "3 –"):
        assert text in texts
    assert any("2 color, by its content" in text for text in texts), "the panel says by what"
    _assert_legible(drawing, page.words)


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=25, deadline=None)
def test_no_text_stands_over_another(seed: int) -> None:
    """Whatever is printed around tables of any number and place, the drawing's texts stay clear of it."""
    import random

    dice = random.Random(seed)
    tables, rows, words = [], [], []
    for number in range(1, dice.randint(1, 4) + 1):
        x, top = dice.uniform(5, 350), dice.uniform(5, 700)
        wide, lines = dice.uniform(40, 240), dice.randint(1, 30)
        step = dice.choice((3.0, 8.0, 14.0))
        box = Box(x0=x, top=top, x1=x + wide, bottom=top + step * lines)
        count = dice.randint(1, 7)
        columns = tuple(
            ColumnSeen(
                number=n + 1,
                header="h",
                role=dice.choice(("cavity", "other circuit", "function", "")),
                by=dice.choice(("header", "content")),
                box=Box(x0=x + wide * n / count, top=top, x1=x + wide * (n + 1) / count, bottom=box.bottom),
            )
            for n in range(count)
        )
        bands = tuple(
            Box(x0=x, top=top + step * n, x1=box.x1, bottom=top + step * (n + 1)) for n in range(lines)
        )
        tables.append(
            TableSeen(
                number=number, kind="ruled", box=box, bands=bands, columns=columns, pinout=True, reason="read"
            )
        )
        words += bands
        rows += [
            Pin(
                connector=dice.choice(("X5", "X6")),
                cavity=str(n),
                document="m.pdf",
                page=1,
                table_no=number,
                x0=band.x0,
                top=band.top,
                x1=band.x1,
                bottom=band.bottom,
                flags=dice.choice(((), ("cavity-gap", "row-assembled"))),
            )
            for n, band in enumerate(bands)
        ]
    for _ in range(dice.randint(0, 60)):
        x, top = dice.uniform(0, 500), dice.uniform(0, 820)
        words.append(Box(x0=x, top=top, x1=x + dice.uniform(5, 90), bottom=top + 10))
    page = _page(tables=tuple(tables), rows=tuple(rows), words=tuple(words), rules=())
    drawing = draw_page(page, WHITE)
    _assert_legible(drawing, tuple(words))


@given(st.lists(st.tuples(st.floats(0, 800), st.booleans()), min_size=1, max_size=80))
@settings(deadline=None)
def test_notes_stand_in_the_order_of_their_places(places: list[tuple[float, bool]]) -> None:
    """Notes of one side never touch, and the one that is about the higher place stands higher."""
    frame = Box(x0=100, top=40, x1=700, bottom=880)
    notes = [Note(text=str(n), at=(10.0, y), bold=bold) for n, (y, bold) in enumerate(places)]
    shapes, low = place_notes(notes, frame)
    labels = [shape for shape in shapes if isinstance(shape, Label)]
    for one, other in itertools.pairwise(labels):
        assert other.box.top >= one.box.bottom - 0.01
    assert labels[0].box.top >= frame.top - 0.01 and low == labels[-1].box.bottom
    assert [places[int(label.text)][0] for label in labels] == sorted(y for y, _ in places)


@given(st.text(alphabet="abc DEF“”ポンプ", max_size=200), st.floats(20, 300))
def test_wrapping_loses_nothing(text: str, width: float) -> None:
    """Every letter of a wrapped text stands in some line."""
    assert "".join(wrapped(text, width)).replace(" ", "") == text.replace(" ", "")


@given(st.sampled_from((0, 90, 180, 270)), st.floats(0, 300), st.floats(0, 500))
def test_turning_a_box_is_the_inverse_of_bringing_it_to_the_page(turned: int, x: float, top: float) -> None:
    """A box of the reading frame, brought to the page as displayed and turned again, is where it was."""
    sideways = turned in (90, 270)
    width, height = (842.0, 595.0) if sideways else (595.0, 842.0)  # of the reading frame
    frame = PageContent(number=1, label="", width=width, height=height, words=(), turned=turned)
    box = Box(x0=x, top=top, x1=x + 50, bottom=top + 20)
    shown = (height, width) if sideways else (width, height)
    back = turned_box(frame.to_page(box), turned, *shown)
    for edge in ("x0", "top", "x1", "bottom"):
        assert getattr(back, edge) == pytest.approx(getattr(box, edge))


def test_hatching_stays_inside_its_box() -> None:
    """The lines of a row in doubt lie within the row."""
    box = Box(x0=10, top=20, x1=110, bottom=32)
    points = [point for stroke in hatching(box, (0, 0, 0), 0.4, 7.0) for point in stroke.points]
    assert points and all(10 <= x <= 110 and 20 <= y <= 32 for x, y in points)


def _seen(path: Path, page: str = "1") -> tuple[PageSeen, PageExplained]:
    seen = see_page(path, page)
    return seen, explain_page(seen, path.name, (595.0, 842.0))


def test_a_page_is_seen_as_it_is_indexed(tmp_path: Path) -> None:
    """Rules, columns, heading and rows of a drawn page stand where they were drawn."""
    path = draw_manual(tmp_path / "m.pdf", pages=3, picture_pages=1)
    seen, page = _seen(path, "2")
    assert (seen.pages, page.note.page, page.note.outcome) == (4, 2, "read")
    (table,) = page.tables
    assert [(c.role, c.by, c.header) for c in table.columns] == [
        ("cavity", "header", "Cavity"),
        ("color", "header", "Color"),
        ("circuit", "header", "Circuit"),
        ("function", "header", "Function"),
    ]
    assert table.pinout and [(o.connector, o.heading) for o in table.owners] == [
        ("C11", "Connector C11 - Pump controller")
    ]
    assert [row.cavity for row in page.rows] == ["1", "2", "3"]
    # drawn with its lower edge 722 points above the foot of a page of 842, 4 columns of 110 from 60 on
    assert table.box.x0 == pytest.approx(60, abs=1) and table.box.x1 == pytest.approx(500, abs=1)
    assert max(rule.x1 for rule in page.rules) == pytest.approx(500, abs=1)
    _, picture = _seen(path, "4")
    assert picture.note.outcome == "unread" and "picture" in picture.note.why and not picture.tables


def test_every_format_says_the_same(tmp_path: Path) -> None:
    """PNG, PDF (read by PyMuPDF) and SVG have the drawing's size; the latter two hold its texts as text."""
    _, page = _seen(draw_manual(tmp_path / "m.pdf"))
    drawing = draw_page(page, WHITE)
    texts = [label.text for label in _labels(drawing)]
    for suffix in ("png", "pdf", "svg"):
        write_drawing(drawing, tmp_path / f"out.{suffix}")
    image = Image.open(tmp_path / "out.png")
    scale = WHITE.width / page.width
    assert image.size == (round(drawing.width * scale), round(drawing.height * scale))
    with pymupdf.open(tmp_path / "out.pdf") as document:
        assert document[0].rect.width == pytest.approx(drawing.width, abs=0.1)
        printed = document[0].get_text()
        assert all(text in printed for text in texts)
    root = ET.fromstring((tmp_path / "out.svg").read_text(encoding="utf-8"))
    assert [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")] == texts
    strokes = sum(isinstance(shape, Stroke) for shape in drawing.shapes)
    assert len(list(root.iter("{http://www.w3.org/2000/svg}polyline"))) == strokes
