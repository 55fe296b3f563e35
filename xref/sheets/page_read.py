"""One page read within its document, with everything that was seen on the way kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from xref.errors import UsageError
from xref.pages.content import PageContent
from xref.pages.pdfium import shown_name
from xref.pages.pool import PagePool
from xref.pages.reader import DocumentReader
from xref.pins.document import readings_to_pins
from xref.pins.parts import Part, readings_to_parts
from xref.pipeline import broken_page, note_of_page, page_task
from xref.records import PageNote, Pin
from xref.rows.choose import best_reading
from xref.settings import DEFAULT, Settings
from xref.tables.layout import TaughtLayout
from xref.tables.page import PageReading, content_to_reading


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSeen:
    """One page as it is read within its document, with everything that was seen on the way."""

    pages: int  #: of the document
    note: PageNote  #: what becomes of the page
    reading: PageReading
    content: PageContent | None  #: None where nobody can know what stands there
    unasked: PageReading | None  #: what reading the page would have given, where it was skipped by its text
    parts: tuple[Part, ...]
    pins: tuple[Pin, ...]


def see_page(
    path: Path,
    page: str,
    *,
    password: str = "",
    settings: Settings = DEFAULT,
    taught: tuple[TaughtLayout, ...] = (),
    on_page: Callable[[int, int], None] | None = None,
) -> PageSeen:
    """Read a document as `xref index` does, storing nothing, and return what was seen on one page.

    `page` is the number of the page in the file, or else the number printed on it. `on_page` is told how
    many pages are done, and of how many. Raises UsageError for a page that is not there.
    """
    with PagePool(settings) as pool:
        count = pool.page_count(path, password)
        readings: list[PageReading] = []
        for outcome in pool.run(path, password, partial(page_task, taught=taught), range(1, count + 1)):
            readings.append(outcome.result or broken_page(path, outcome.page, outcome.problem))
            if on_page:
                on_page(outcome.page, count)
        reading = readings[_number_of(page, readings, path) - 1]
        looks = pool.run(path, password, DocumentReader.content, [reading.page])
        content = None if reading.outcome == "unread" else next(iter(looks)).result
    made = readings_to_pins("", path.name, readings)
    pins = tuple(pin for pin in made.pins if pin.page == reading.page)
    skipped = content is not None and reading.outcome == "skipped"
    return PageSeen(
        pages=count,
        note=note_of_page(reading, shown_name(path), "", bool(pins), made.passed_over),
        reading=reading,
        content=content,
        unasked=content_to_reading(content, reading.why, best_reading) if content and skipped else None,
        parts=tuple(part for part in readings_to_parts(readings) if part.page.page == reading.page),
        pins=pins,
    )


def _number_of(page: str, readings: Sequence[PageReading], path: Path) -> int:
    """Return the number in the file of the page asked for, by that number or by its printed label."""
    asked = page.strip()
    if asked.isascii() and asked.isdigit() and 1 <= int(asked) <= len(readings):
        return int(asked)
    labelled = [reading.page for reading in readings if reading.label and reading.label == asked]
    if len(labelled) == 1:
        return labelled[0]
    raise UsageError(
        f"{shown_name(path)} has no page {page}.", hint=f"Give a number from 1 to {len(readings)}."
    )
