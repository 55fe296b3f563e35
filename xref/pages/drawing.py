"""One page drawn out through pdfium: its glyphs and paths, in the frame of the page as displayed."""

from __future__ import annotations

from xref.pages import calls
from xref.pages.leaves import TooDeep, page_frame, page_leaves
from xref.pages.letters import Irregular, page_glyphs
from xref.pages.marks import Drawing, Path, too_many
from xref.pages.paths import leaf_paths
from xref.pages.pdfium import PdfiumDocument
from xref.pages.places import text_places
from xref.settings import Settings

#: A box has five path segments, a drawn letter more.
SEGMENTS_PER_RULE = 5


def pdfium_drawing(document: PdfiumDocument, number: int, settings: Settings) -> Drawing | None:
    """Return what is drawn on a page; None where another engine must read it.

    That is: text that carries other words than those drawn, mirrored text, forms nested out of reason.
    Raises `PageBroken` for a page that is damaged or holds more than the settings allow.
    """
    with document.handles(number) as (page, text):
        frame = page_frame(page)
        glyphs = None
        try:
            leaves = list(page_leaves(page))
            paths: list[Path] = []
            # A box counts four segments and more, so the segments may be several times the rules.
            segments = settings.most_rules * SEGMENTS_PER_RULE
            for leaf in leaves:
                if leaf.kind != calls.PATH:
                    continue
                segments -= max(calls.count_segments(leaf.handle), 0)
                if segments < 0 or len(paths) > settings.most_rules:
                    raise too_many(document.name, number, "lines", settings.most_rules)
                paths.extend(leaf_paths(leaf, frame))
            if calls.count_characters(text) <= settings.most_characters:
                places = text_places(text)
                glyphs = page_glyphs(page, text, places, leaves, frame, settings.most_characters)
        except (TooDeep, Irregular):
            return None
        if glyphs is None:
            raise too_many(document.name, number, "characters", settings.most_characters)
    return Drawing(
        width=frame.width,
        height=frame.height,
        glyphs=tuple(glyphs),
        paths=tuple(paths),
        text=(frame, places),
    )
