"""Pictures of the pages an answer comes from: whole with rows marked, or the strip of a doubtful row."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from xref.cli.terminal import Screen
from xref.cli.text import counted
from xref.errors import UnreadableDocument, UsageError, XrefError
from xref.records import Box, Document, Pin
from xref.settings import DEFAULT

if TYPE_CHECKING:
    from PIL.Image import Image

    from xref.store.index import Index

#: A name like a ground's may stand on hundreds of pages; nobody looks through more pictures than this.
_MOST_PICTURES = 24


def save_pictures(
    index: Index, pins: Iterable[Pin], target: Path | None, talk: Screen, password: str = ""
) -> None:
    """Draw every page the pins stand on; the first as `target`, the others numbered. No target, no picture.

    Raises UnreadableDocument where a document is gone or is no longer the one that was read: a mark
    in the wrong place is worse than none.
    """
    if target is None:
        return
    from xref.sheets.picture import mark_rows

    if target.suffix.lower() != ".png":
        raise UsageError(f"{target.name}: a picture is saved as .png.", hint="Give a name ending in .png.")
    pages: dict[tuple[str, str, int], list[tuple[Box, str]]] = {}
    for pin in pins:
        name = f"{pin.connector}-{pin.half}" if pin.half else pin.connector
        row = (pin.box, f"{name}:{pin.cavity}")
        pages.setdefault((pin.machine, pin.document, pin.page), []).append(row)
    if not pages:
        talk.line("No picture was drawn: there is no row to mark.")
    documents = {(d.machine, d.name): d for d in index.documents()}
    paths: dict[tuple[str, str], Path] = {}
    for number, (place, rows) in enumerate(list(pages.items())[:_MOST_PICTURES], start=1):
        machine, name, page = place
        if (machine, name) not in paths:  # reading a whole document for its hash takes time
            paths[machine, name] = unchanged_file(documents[machine, name])
        out = target if number == 1 else target.with_name(f"{target.stem}-{number}{target.suffix}")
        mark_rows(paths[machine, name], page, rows, out, password=password, dpi=DEFAULT.picture_dpi)
        talk.line(f"Saved {out}: {name} p. {page}, {counted(len({box for box, _ in rows}), 'row')} marked.")
    if len(pages) > _MOST_PICTURES:
        left = counted(len(pages) - _MOST_PICTURES, "page")
        talk.line(f"{left} more were not drawn; ask for one connector or machine to see them.")


def say_drawn(drawn: bool, output: Path, talk: Screen) -> None:
    """Say where a drawing of wires lies, or that there was none to draw."""
    talk.line(f"Drawn: {output}" if drawn else "Nothing was drawn: no wire is known.")


def unchanged_file(document: Document) -> Path:
    """Return where a document lies; raises UnreadableDocument where it is gone or is another file now."""
    path = Path(document.path)
    try:
        with path.open("rb") as file:
            now = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise UnreadableDocument(
            f"{document.name} is no longer at {path}, so its page cannot be drawn.",
            hint="Run xref index where it lies now.",
        ) from error
    if now != document.sha256:
        raise UnreadableDocument(
            f"{document.name} has changed since it was indexed, so a mark could stand in the wrong place.",
            hint="Run xref index again.",
        )
    return path


def row_pictures(
    index: Index, talk: Screen, password: str = "", label: Callable[[Pin], str] | None = None
) -> Callable[[Pin], Image | None]:
    """Return a function that gives the strip of the page a row stands in, or None where it cannot be drawn.

    With `label` the strip is higher, and the row in it is marked with its label. Why a strip cannot be
    drawn is said once per document.
    """
    from xref.sheets.picture import crop_row, drawn_page, row_in_context

    documents = {(d.machine, d.name): d for d in index.documents()}
    said: set[tuple[str, str]] = set()
    pages: dict[tuple[str, str, int], tuple[Image, float]] = {}

    def picture(pin: Pin) -> Image | None:
        place = (pin.machine, pin.document, pin.page)
        if place[:2] in said:
            return None
        try:
            if place not in pages:
                pages.clear()  # rows come page by page; one page in memory is enough
                path = unchanged_file(documents[pin.machine, pin.document])
                pages[place] = drawn_page(path, pin.page, password=password)
        except XrefError as error:
            said.add(place[:2])
            where = "drawn" if label else "on the sheet"
            talk.line(f"No strips of {pin.document} {where}: {error.message} {error.hint}".rstrip())
            return None
        if label is not None:
            return row_in_context(*pages[place], pin.box, label(pin))
        return crop_row(*pages[place], pin.box)

    return picture
