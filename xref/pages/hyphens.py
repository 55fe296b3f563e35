"""The true character at the end of a line that pdfium takes for a word's hyphen, whichever it was.

pdfium overwrites both the hyphen and the soft hyphen there. A soft hyphen vanishes when the word is put
together again, a hyphen stays, so the difference is that between two circuits. Where nothing follows,
pdfium leaves the character alone: the text is therefore read once more with all other text switched off.
"""

from __future__ import annotations

from collections.abc import Sequence

from xref.pages import calls
from xref.pages.glyphs import SOFT_HYPHEN
from xref.pages.leaves import Leaf


class LineEnds:
    """Answers for the text objects of one page."""

    def __init__(self, page: int, texts: Sequence[Leaf]) -> None:
        self._page = page
        self._texts = texts
        self._known: dict[int, str] = {}

    def hyphen(self, handle: int) -> str:
        """Return the character that the text object ends with: a hyphen or a soft one."""
        if handle not in self._known:
            self._known[handle] = self._alone(handle)
        return self._known[handle]

    def _alone(self, handle: int) -> str:
        others = [leaf.handle for leaf in self._texts if leaf.handle != handle]
        for other in others:
            calls.set_active(other, 0)
        text = calls.load_text(self._page)
        try:
            count = calls.count_characters(text)
            return SOFT_HYPHEN if count and calls.character_code(text, count - 1) == ord(SOFT_HYPHEN) else "-"
        finally:
            calls.close_text(text)
            for other in others:
                calls.set_active(other, 1)
