"""The labels of a plan as a file: pages or pictures at true size, or a table for other printers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from xref.errors import UsageError
from xref.moves.label_fit import Label
from xref.sheets.drawing import Page, text_width
from xref.sheets.files import suffix_among, written_whole
from xref.sheets.label_drawing import SHEETS, fits_sheet, sheet_pages, strips, tape_pages
from xref.sheets.table import export_table

LABEL_SUFFIXES = (".pdf", ".png", ".csv", ".xlsx")
#: Dots per inch of a picture: what label printers have, or a whole fraction of it.
DPI = 300


def measure(text: str, bold: bool) -> float:
    """Return the width of a text set in type of one point, in points."""
    return text_width(text, 1.0, bold=bold)


def write_labels(
    labels: Sequence[Label], path: Path, *, title: str, sheet: str = "", plain: bool = False
) -> tuple[Path, ...]:
    """Write the labels and return the files written, several where pictures are many.

    `sheet` is a key of SHEETS, "" for continuous tape: a PDF then has one page per label, a picture is a
    strip with cut marks. `plain` leaves formula-like texts of a CSV as they are.

    Raises:
        UsageError: the suffix is none of the four, or a label is larger than the sheet.
        CannotWrite: a file cannot be written.
    """
    suffix = suffix_among(path, LABEL_SUFFIXES, "a file of labels")
    if suffix in (".csv", ".xlsx"):
        columns = label_columns(labels)
        export_table("labels", columns, (_row(label, columns) for label in labels), path, plain=plain)
        return (path,)
    if sheet:
        _check_sheet(labels, sheet)
    if suffix == ".pdf":
        from xref.sheets.paper import write_pages_pdf

        pages: Iterable[Page] = sheet_pages(labels, sheet, title) if sheet else tape_pages(labels)
        with written_whole(path) as beside:
            write_pages_pdf(pages, beside, title)
        return (path,)
    pictures = sheet_pages(labels, sheet, title) if sheet else strips(labels)
    return tuple(_write_pictures(pictures, path))


def label_columns(labels: Iterable[Label]) -> tuple[str, ...]:
    """Return the columns of the table: as many lines as the label with the most has."""
    most = max((len(label.lines) for label in labels), default=1)
    lines = tuple(f"line_{number}" for number in range(1, most + 1))
    return (
        *("order", "id", "cut", "text", *lines, "colors", "color_code", "circuit", "connector", "half"),
        *("cavity", "side", "place", "kind", "length_mm", "size_mm2", "od_mm", "does_not_fit"),
    )


def _row(label: Label, columns: Sequence[str]) -> dict[str, object]:
    end = label.end
    row: dict[str, object] = dict.fromkeys(columns, "")
    row |= {f"line_{number}": line.text for number, line in enumerate(label.lines, start=1)}
    return row | {
        "order": end.order,
        "id": end.id,
        "cut": end.cut,
        "text": end.text,
        "colors": end.color,
        "color_code": end.color_code,
        "circuit": end.pin.circuit,
        "connector": end.pin.connector,
        "half": end.pin.half,
        "cavity": end.pin.cavity,
        "side": end.side,
        "place": end.place,
        "kind": label.kind,
        "length_mm": label.length_mm,
        "size_mm2": end.size_mm2,
        "od_mm": label.od_mm,
        "does_not_fit": label.why,
    }


def _check_sheet(labels: Sequence[Label], sheet: str) -> None:
    longest = max(label.length_mm for label in labels)
    if not fits_sheet(longest, labels[0].width_mm, sheet):
        wide, high = SHEETS[sheet]
        raise UsageError(
            f"A label of {longest:g} × {labels[0].width_mm:g} mm does not fit on {sheet}, "
            f"which is {wide:g} × {high:g} mm.",
            hint="Make --flag or --width smaller, or leave --sheet out.",
        )


def _write_pictures(pages: Iterable[Page], path: Path) -> Iterator[Path]:
    from xref.sheets.drawing_files import painted_page

    for number, page in enumerate(pages, start=1):
        own = path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")
        with written_whole(own) as beside:
            painted_page(page, DPI).convert("L").save(beside, "PNG", dpi=(DPI, DPI))
        yield own
