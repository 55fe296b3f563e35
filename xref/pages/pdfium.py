"""The only door to pypdfium2: opening documents, their text, sizes, labels and page pictures."""

from __future__ import annotations

import ctypes
import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw

from xref.errors import PageBroken, PasswordNeeded, UnreadableDocument

if TYPE_CHECKING:
    from PIL.Image import Image

#: Readers look for "%PDF-" within the first kilobyte (ISO 32000-1, annex H.3, note 13).
HEADER_WINDOW = 1024
#: A page picture never has more pixels than this (96 MB as RGB), whatever size the page claims.
MOST_PIXELS = 32_000_000
#: Forms nested deeper than this are not searched for pictures and paths.
FORM_DEPTH = 4
#: Text longer than this is no longer asked for; a dense page has fewer than 15,000 characters.
MOST_TEXT = 200_000


def shown_name(path: Path) -> str:
    """Return the file's name without control characters, fit to stand in a message."""
    return "".join(c if c.isprintable() else "?" for c in path.name)


def address(name: str) -> int:
    """Return where a function of the library lies, for callers with a prototype of their own."""
    place = ctypes.cast(getattr(raw, name), ctypes.c_void_p).value
    assert place is not None
    return place


class PdfiumDocument:
    """An open document. Pages count from 1; sizes are points of the page as displayed.

    Raises `UnreadableDocument` or `PasswordNeeded` when the file cannot be opened.
    """

    def __init__(self, path: Path, password: str = "") -> None:
        self.path = Path(path)
        self.name = shown_name(self.path)
        self._document = _open_document(self.path, self.name, password)
        # The last page asked for stays loaded, with its text: one look at a page is seldom the only one.
        self._number = 0
        self._loaded: Any = None
        self._textpage: Any = None
        self.page_count: int = len(self._document)
        if self.page_count < 1:
            self._document.close()
            raise UnreadableDocument(
                f"{self.name}: this PDF has no pages.", hint="Save or download the file again."
            )

    def __enter__(self) -> PdfiumDocument:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Free the document; calling it twice does no harm."""
        self.release()
        self._document.close()

    def text(self, number: int) -> str:
        """Return the page's text, one line of print a line, in pdfium's order."""
        with self._page(number) as page:
            return _whole_text(self._text_of(page))

    @contextmanager
    def handles(self, number: int) -> Iterator[tuple[int, int]]:
        """Lend the addresses of the loaded page and of its text, good until the block is left."""
        with self._page(number) as page:
            yield _value(page.raw), _value(self._text_of(page).raw)

    def release(self) -> None:
        """Free the page that is kept loaded; whoever changed anything about it must call this."""
        if self._textpage is not None:
            self._textpage.close()
        if self._loaded is not None:
            self._loaded.close()
        self._number, self._loaded, self._textpage = 0, None, None

    def count_chars(self, number: int) -> int:
        """Return how many characters the page holds, generated blanks included."""
        with self._page(number) as page:
            return int(self._text_of(page).count_chars())

    def count_objects(self, number: int) -> int:
        """Return how many texts, paths, pictures and forms the page draws."""
        with self._page(number) as page:
            return max(int(raw.FPDFPage_CountObjects(page)), 0)

    def count_segments(self, number: int, most: int) -> int:
        """Return the number of path segments drawn on the page, counted no further than `most` + 1."""
        total = 0
        with self._page(number) as page:
            for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=FORM_DEPTH):
                total += max(raw.FPDFPath_CountSegments(item), 0)
                if total > most:
                    break
        return total

    def size(self, number: int) -> tuple[float, float]:
        """Return width and height as displayed (crop box and /Rotate applied)."""
        with self._page(number) as page:
            return float(page.get_width()), float(page.get_height())

    def label(self, number: int) -> str:
        """Return the page's label from the PDF's page labels, "" where it has none."""
        return "".join(c for c in self._document.get_page_label(number - 1) if c.isprintable()).strip()

    def render(self, number: int, dpi: int) -> Image:
        """Return a picture of the page; a page too large for `MOST_PIXELS` gets fewer dots per inch."""
        with self._page(number) as page:
            scale = dpi / 72
            pixels = page.get_width() * page.get_height() * scale * scale
            if pixels > MOST_PIXELS:
                scale *= math.sqrt(MOST_PIXELS / pixels)
            bitmap = page.render(scale=scale)
            try:
                picture: Image = bitmap.to_pil().convert("RGB").copy()
            finally:
                bitmap.close()
            return picture

    def single_page(self, number: int) -> io.BytesIO:
        """Return a PDF of this page alone, decrypted and mended, for another reader.

        So the other reader neither walks the page tree nor keeps anything of other pages.
        """
        alone = pdfium.PdfDocument.new()
        try:
            alone.import_pages(self._document, [number - 1])
            page = alone[0]
            left, bottom, right, top = page.get_mediabox()
            if not (left < right and bottom < top):
                # Numbers that are none: this library falls back on a letter page, others break.
                page.set_mediabox(*page.get_bbox())
            out = io.BytesIO()
            alone.save(out)
        except pdfium.PdfiumError as error:
            raise self._broken(number) from error
        finally:
            alone.close()
        out.seek(0)
        return out

    def _broken(self, number: int) -> PageBroken:
        return PageBroken(f"{self.name}: page {number} cannot be read, its description is damaged.")

    @contextmanager
    def _page(self, number: int) -> Iterator[Any]:
        if not 1 <= number <= self.page_count:
            raise PageBroken(f"{self.name}: there is no page {number}, the last one is {self.page_count}.")
        try:
            if number != self._number:
                self.release()
                self._loaded = self._document.get_page(number - 1)
                self._number = number
            yield self._loaded
        except pdfium.PdfiumError as error:
            self.release()
            raise self._broken(number) from error

    def _text_of(self, page: Any) -> Any:
        if self._textpage is None:
            self._textpage = page.get_textpage()
        return self._textpage


def _value(pointer: Any) -> int:
    return int(ctypes.cast(pointer, ctypes.c_void_p).value or 0)


def _open_document(path: Path, name: str, password: str) -> Any:
    try:
        with path.open("rb") as file:
            head = file.read(HEADER_WINDOW)
    except IsADirectoryError as error:
        raise UnreadableDocument(f"{name}: this is a folder, not a PDF.") from error
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise UnreadableDocument(f"{name}: the file cannot be opened ({why}).") from error
    if not head:
        raise UnreadableDocument(
            f"{name}: the file is empty (0 bytes).", hint="Copy or download the file again."
        )
    if b"%PDF-" not in head:
        raise UnreadableDocument(
            f"{name}: this is not a PDF file.", hint="Leave it out, or save it as a PDF."
        )
    try:
        return pdfium.PdfDocument(str(path), password=password or None)
    except pdfium.PdfiumError as error:
        raise _opening_error(name, password) from error
    except OSError as error:
        raise UnreadableDocument(f"{name}: the file cannot be opened.") from error


def _opening_error(name: str, password: str) -> UnreadableDocument:
    """Name the reason pdfium gave for the last failed opening."""
    code = raw.FPDF_GetLastError()
    if code == raw.FPDF_ERR_PASSWORD and password:
        return PasswordNeeded(
            f"{name}: the password given does not open this document.", hint="Check the password."
        )
    if code == raw.FPDF_ERR_PASSWORD:
        return PasswordNeeded(
            f"{name}: the document is encrypted and needs a password.", hint="Give its password."
        )
    if code == raw.FPDF_ERR_SECURITY:
        return UnreadableDocument(
            f"{name}: the document is encrypted in a way that cannot be opened.",
            hint="Print it to a new PDF with the program that can open it.",
        )
    return UnreadableDocument(
        f"{name}: the PDF is cut short or damaged and cannot be opened.",
        hint="Copy or download the file again.",
    )


def _whole_text(textpage: Any) -> str:
    count = min(textpage.count_chars(), MOST_TEXT)
    return str(textpage.get_text_range(0, count)) if count > 0 else ""
