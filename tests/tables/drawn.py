"""Tables drawn into small PDFs for the tests of reading tables, rows and pins, and readers for them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Table as Flowable
from reportlab.platypus import TableStyle

from xref.pages.content import PageContent
from xref.pages.reader import DocumentReader
from xref.pins.document import DocumentPins, readings_to_pins
from xref.rows.assemble import table_to_rows
from xref.rows.plan import Plan, table_to_plans
from xref.rows.row import Row
from xref.tables.find import page_to_tables
from xref.tables.page import content_to_reading
from xref.tables.table import Table

PAGE = (595.0, 842.0)
LEFT = 60.0

Texts = Sequence[Sequence[str]]
Span = tuple[tuple[int, int], tuple[int, int]]
GRID: tuple[tuple[object, ...], ...] = (("GRID", (0, 0), (-1, -1), 0.5, (0, 0, 0)),)


class Page:
    """A page under the pen; `y` is how far down the pen has come, in points from the top."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.canvas = Canvas(str(path), pagesize=PAGE, invariant=1)
        self.y = 90.0

    def heading(self, text: str, *, x: float = LEFT, size: float = 12, down: float = 26) -> Page:
        """Print a bold line."""
        self.canvas.setFont("Helvetica-Bold", size)
        self.canvas.drawString(x, PAGE[1] - self.y, text)
        self.y += down
        return self

    def line(self, text: str, *, x: float = LEFT, size: float = 9, down: float = 14) -> Page:
        """Print a line of running text."""
        self.canvas.setFont("Helvetica", size)
        self.canvas.drawString(x, PAGE[1] - self.y, text)
        self.y += down
        return self

    def ruled(
        self,
        rows: Texts,
        widths: Sequence[float],
        *,
        spans: Sequence[Span] = (),
        rules: Sequence[tuple[object, ...]] = GRID,
        x: float = LEFT,
        down: float = 30,
    ) -> Page:
        """Draw a table with rules; `\\n` in a text breaks its line, spans are (column, row) from and to."""
        style = [
            ("FONT", (0, 0), (-1, -1), "Helvetica", 9),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            *rules,
            *(("SPAN", start, end) for start, end in spans),
        ]
        table = Flowable([list(row) for row in rows], colWidths=list(widths), style=TableStyle(style))
        _, height = table.wrapOn(self.canvas, *PAGE)
        table.drawOn(self.canvas, x, PAGE[1] - self.y - height + 12)
        self.y += height + down
        return self

    def aligned(
        self,
        rows: Texts,
        xs: Sequence[float],
        *,
        pitch: float = 14,
        bold_first: bool = True,
        down: float = 30,
    ) -> Page:
        """Print columns without rules: each text at its column's x."""
        for i, row in enumerate(rows):
            self.canvas.setFont("Helvetica-Bold" if bold_first and i == 0 else "Helvetica", 9)
            for x, text in zip(xs, row, strict=True):
                self.canvas.drawString(x, PAGE[1] - self.y, text)
            self.y += pitch
        self.y += down - pitch
        return self

    def next(self) -> Page:
        """Turn to a new page."""
        self.canvas.showPage()
        self.y = 90.0
        return self

    def save(self) -> Path:
        """Write the file."""
        self.canvas.showPage()
        self.canvas.save()
        return self.path


def contents(path: Path) -> list[PageContent]:
    """Read every page."""
    with DocumentReader(path) as reader:
        return [reader.content(number) for number in range(1, reader.page_count + 1)]


def tables(page: Page) -> list[Table]:
    """Save and return the tables of all pages."""
    return [table for content in contents(page.save()) for table in page_to_tables(content)]


def only_table(page: Page) -> Table:
    """Save and return the one table there is."""
    (table,) = tables(page)
    return table


def body(table: Table) -> list[list[str]]:
    """Return the texts of a table's bands."""
    return [[cell.text for cell in band.cells] for band in table.bands]


def planned(page: Page) -> tuple[Table, list[Plan]]:
    """Save, and return the one table with its plans."""
    table = only_table(page)
    return table, table_to_plans(table)


def rows(page: Page) -> list[Row]:
    """Save, and return the rows of the one table in printed order."""
    table, plans = planned(page)
    return [row for plan in plans for row in table_to_rows(table, plan)]


def pins(page: Page, machine: str = "", document: str = "a.pdf") -> DocumentPins:
    """Save, and return the pins of all pages, triage left out."""
    readings = [content_to_reading(content, "asked") for content in contents(page.save())]
    return readings_to_pins(machine, document, readings)
