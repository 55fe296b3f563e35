"""Is a page worth reading in full? Decided from its text; a missed table is worse than a page too many."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from xref.pages.blanknotes import BlankNote, text_to_note
from xref.pages.evidence import pinout_evidence
from xref.pages.glyphs import UNKNOWN
from xref.pages.images import image_share
from xref.pages.letters import characters_without_meaning
from xref.pages.pdfium import PdfiumDocument
from xref.settings import Settings

#: Control characters other than white space and pdfium's sign for a hyphen at a line's end.
_LOW = re.compile(r"[\x00\x01\x03-\x08\x0e-\x1f]")
_NOT_ASCII = re.compile(r"[^\x00-\x7f]")
#: With fewer characters than this a page has no text to speak of: a running head and a page number.
LITTLE_TEXT = 80
#: A page with little text and this share of pictures is a scan or a drawing: ten rows take so much.
PICTURE_SHARE = 0.15
#: From this share on a picture beside text is worth a remark: a table of four rows takes no less.
BESIDE_SHARE = 0.05
#: A page without text but with this many path segments has its letters drawn as outlines.
OUTLINES = 400
#: From this share of characters without meaning on, nobody can read the page's text.
MEANINGLESS = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Triage:
    """What a look at the page's text decided."""

    page: int
    label: str  #: the PDF's page label, "" if it has none
    candidate: bool  #: worth reading in full
    why: str
    unread: bool = False  #: nobody can know from text what stands there
    blank_note: BlankNote | None = None  #: what the page says of blank cells


def triage_page(document: PdfiumDocument, number: int, settings: Settings) -> Triage:
    """Decide about one page of an open document."""
    text = document.text(number)
    label = document.label(number)
    if len(text) > settings.most_characters:
        # The full reading refuses the page with a sentence; looking for signs would only take long.
        return Triage(page=number, label=label, candidate=True, why="overfull page")
    share = image_share(document, number)
    inked = sum(map(len, text.split()))
    if inked < LITTLE_TEXT:
        blind = _blind_reason(document, share, number, inked)
        if blind:
            return Triage(page=number, label=label, candidate=False, why=blind, unread=True)
    if inked and _meaningless(document, number, text) >= MEANINGLESS * inked:
        why = "the PDF does not say which characters these are: no text to read"
        return Triage(page=number, label=label, candidate=False, why=why, unread=True)
    evidence = pinout_evidence(text)
    why = evidence or ("no text" if not inked else "no sign of a pinout")
    if share >= BESIDE_SHARE:
        why += f"; a picture covers {share:.0%} of the page and was not read"
    return Triage(page=number, label=label, candidate=bool(evidence), why=why, blank_note=text_to_note(text))


def _blind_reason(document: PdfiumDocument, share: float, number: int, inked: int) -> str:
    """Return why a page with hardly any text cannot be read, "" if it is simply empty or short."""
    # where no word stands beside it, whatever the page has to say is in the picture
    if share >= (PICTURE_SHARE if inked else BESIDE_SHARE):
        return "picture only: no text to read"
    if inked == 0 and document.count_segments(number, OUTLINES) > OUTLINES:
        return "drawn outlines only: no text to read"
    if document.count_objects(number) == 0:
        # Nothing is drawn: the page is blank, or its content is damaged. The second engine shows the content.
        from xref.pages.plumber import cannot_be_decoded

        if cannot_be_decoded(document.single_page(number)):
            return "the page's content is damaged: nothing of it can be read"
    return ""


def _meaningless(document: PdfiumDocument, number: int, text: str) -> int:
    """Count the characters whose meaning the PDF does not say.

    pdfium gives such a character its number in the font, and any font's numbers begin below the letters:
    only where such low numbers stand is the whole page counted.
    """
    if _LOW.search(text):
        return characters_without_meaning(document, number)
    if text.isascii():
        return 0
    return sum(
        c == UNKNOWN or unicodedata.category(c) in ("Co", "Cn", "Cc") for c in _NOT_ASCII.findall(text)
    )
