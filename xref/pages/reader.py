"""One open document, page by page: triage and content. Keeps of a page only where its characters are."""

from __future__ import annotations

from pathlib import Path
from types import TracebackType
from typing import Literal

from xref.errors import PageBroken
from xref.pages.content import PageContent
from xref.pages.drawing import SEGMENTS_PER_RULE, pdfium_drawing
from xref.pages.images import image_share
from xref.pages.labels import page_label
from xref.pages.leaves import Frame, page_frame
from xref.pages.marks import Drawing, too_many
from xref.pages.pdfium import PdfiumDocument
from xref.pages.places import Places, text_places
from xref.pages.printed import Printed, printed_tokens
from xref.pages.rules import drawing_fills, drawing_rules
from xref.pages.triage import Triage, triage_page
from xref.pages.turned import reading_turn, turn_drawing
from xref.pages.words import drawing_words
from xref.settings import DEFAULT, Settings

#: Which library reads a page's characters and lines.
Engine = Literal["pdfium", "plumber"]


class DocumentReader:
    """A document as a page worker holds it. Pages count from 1."""

    def __init__(self, path: Path, password: str = "", settings: Settings = DEFAULT) -> None:
        self.path = Path(path)
        self.settings = settings
        self._document = PdfiumDocument(self.path, password)
        self.name = self._document.name
        self.page_count = self._document.page_count
        self._text: tuple[int, Frame, Places] | None = None  #: of the page read last

    def __enter__(self) -> DocumentReader:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Free the document."""
        self._document.close()

    def triage(self, number: int) -> Triage:
        """Say whether the page may hold pinouts, from its text alone."""
        return triage_page(self._document, number, self.settings)

    def content(self, number: int, engine: Engine | None = None) -> PageContent:
        """Read the page in full, through the engine named; left out, the one of the settings.

        "plumber" is the slower, independent second one; it also reads the few pages that "pdfium" cannot
        tell letter by letter.

        Raises `PageBroken` for a page that is damaged or holds more than the settings allow.
        """
        self._check_size(number)
        share = image_share(self._document, number)
        drawing: Drawing | None = None
        if (engine or self.settings.engine) == "pdfium":
            drawing = pdfium_drawing(self._document, number, self.settings)
        if drawing is None:
            drawing = self._second_drawing(number)
        self._document.release()
        self._text = (number, *drawing.text) if drawing.text else None
        turn = reading_turn(drawing.glyphs)
        turned = turn_drawing(drawing, turn)
        words = drawing_words(turned)
        return PageContent(
            number=number,
            label=page_label(self._document.label(number), words, turned.width, turned.height),
            width=turned.width,
            height=turned.height,
            words=words,
            rules=drawing_rules(turned),
            fills=drawing_fills(turned),
            turned=turn,
            image_share=share,
        )

    def printed(self, number: int, turned: int) -> tuple[Printed, ...]:
        """Return the page's text as pdfium parts it, to hold a reading of the turned page against it."""
        if self._text is None or self._text[0] != number:
            with self._document.handles(number) as (page, text):
                self._text = number, page_frame(page), text_places(text)
        _, frame, places = self._text
        return printed_tokens(places, frame, turned)

    def _second_drawing(self, number: int) -> Drawing:
        # The second engine is loaded only where it is needed: it takes long to load.
        from xref.pages.plumber import page_drawing

        settings = self.settings
        if self._document.count_chars(number) > settings.most_characters:
            raise too_many(self.name, number, "characters", settings.most_characters)
        most_segments = settings.most_rules * SEGMENTS_PER_RULE
        if self._document.count_segments(number, most_segments) > most_segments:
            raise too_many(self.name, number, "lines", settings.most_rules)
        alone = self._document.single_page(number)
        return page_drawing(alone, name=self.name, page=number, settings=settings)

    def _check_size(self, number: int) -> None:
        width, height = self._document.size(number)
        if max(width, height) > self.settings.largest_page_points:
            raise PageBroken(
                f"{self.name}: page {number} claims a size of {width:,.0f} × {height:,.0f} points "
                "and was skipped."
            )
