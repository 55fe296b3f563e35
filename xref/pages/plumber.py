"""The only door to pdfplumber: the glyphs and paths of one page, in the frame of the page as displayed."""

from __future__ import annotations

import io
import logging
import math
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pdfplumber
from pdfminer.pdftypes import resolve1
from pdfminer.psexceptions import PSException

from xref.pages.marks import (
    CROP_PLAY,
    SMALLEST_GLYPH,
    Color,
    Drawing,
    Glyph,
    Path,
    Sides,
    is_box,
    lies_under,
    snapped,
    too_many,
)
from xref.settings import Settings

#: What other readers take for a page whose boxes are empty: a letter page, in points.
NO_BOX = (0.0, 0.0, 612.0, 792.0)

BLACK: Color = (0.0, 0.0, 0.0)


def page_drawing(pdf: io.BytesIO, *, name: str, page: int, settings: Settings) -> Drawing:
    """Read the only page of `pdf`; `name` and `page` are for messages.

    Raises `PageBroken` when more is drawn on it than `settings` allows.
    """
    with _quiet_engine(), pdfplumber.open(pdf) as document:
        plain = document.pages[0]
        try:
            return _layout_drawing(plain, name=name, page=page, settings=settings)
        finally:
            plain.close()


def _layout_drawing(plain: Any, *, name: str, page: int, settings: Settings) -> Drawing:
    frame = _Frame(plain)
    glyphs: list[Glyph] = []
    paths: list[Path] = []
    covers: list[tuple[int, Sides]] = []
    for item in _leaves(plain.layout):
        if hasattr(item, "graphicstate"):
            glyph = _glyph(item, frame, len(glyphs))
            if glyph is not None:
                glyphs.append(glyph)
        elif hasattr(item, "original_path"):
            path = _path(item, frame)
            if path is not None:
                paths.append(path)
        elif hasattr(item, "stream"):
            covers.append((len(glyphs), _sides(item, frame)))
        if len(glyphs) > settings.most_characters:
            raise too_many(name, page, "characters", settings.most_characters)
        if len(paths) > settings.most_rules:
            raise too_many(name, page, "lines", settings.most_rules)
    shown = tuple(_covered(glyphs, covers) if covers else glyphs)
    return Drawing(width=frame.width, height=frame.height, glyphs=shown, paths=tuple(paths))


def _sides(item: Any, frame: _Frame) -> Sides:
    x0, bottom = frame.point(item.x0, item.y0)
    x1, top = frame.point(item.x1, item.y1)
    return x0, top, x1, bottom


def _covered(glyphs: list[Glyph], covers: list[tuple[int, Sides]]) -> Iterator[Glyph]:
    """Mark the glyphs that a picture drawn later lies over."""
    for place, glyph in enumerate(glyphs):
        above = [sides for before, sides in covers if place < before]
        x, y = (glyph.x0 + glyph.x1) / 2, (glyph.top + glyph.bottom) / 2
        yield glyph._replace(hidden=True) if above and lies_under(x, y, above) else glyph


def cannot_be_decoded(pdf: io.BytesIO) -> bool:
    """True for a page, the only one of `pdf`, whose content is packed in a way that does not open.

    So is content that begins a text and breaks off.
    """
    with _quiet_engine(), pdfplumber.open(pdf) as document:
        for stream in document.pages[0].page_obj.contents:
            resolved = resolve1(stream)
            packed = getattr(resolved, "rawdata", None)
            if not packed:
                continue
            try:
                data = resolved.get_data()
            except (PSException, ValueError, TypeError, KeyError, zlib.error):
                return True
            if not data or (b"BT" in data and b"ET" not in data):
                return True
    return False


@contextmanager
def _quiet_engine() -> Iterator[None]:
    """Keep the engine's remarks on odd PDFs off the terminal; what cannot be read raises anyway."""
    logger = logging.getLogger("pdfminer")
    level = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        logger.setLevel(level)


class _Frame:
    """From the engine's points (media box rotated, y upwards) to the displayed frame (crop box, y down)."""

    def __init__(self, plain: Any) -> None:
        media = _ordered(plain.page_obj.mediabox)
        if media[2] - media[0] <= 0 or media[3] - media[1] <= 0:
            media = NO_BOX
        crop = _ordered(plain.page_obj.cropbox)
        box = (
            max(media[0], crop[0]),
            max(media[1], crop[1]),
            min(media[2], crop[2]),
            min(media[3], crop[3]),
        )
        if box[2] - box[0] <= 0 or box[3] - box[1] <= 0:
            box = media
        left, bottom, right, top = _turned_box(box, media, plain.page_obj.rotate)
        self.left, self.head = left, top
        self.width, self.height = right - left, top - bottom

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Return the point in the displayed frame."""
        return x - self.left, self.head - y

    def shows(self, x: float, y: float) -> bool:
        """True when a point of the displayed frame lies on the page."""
        return -CROP_PLAY <= x <= self.width + CROP_PLAY and -CROP_PLAY <= y <= self.height + CROP_PLAY


def _ordered(box: Any) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = (float(v) for v in box)
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _turned_box(
    box: tuple[float, float, float, float], media: tuple[float, float, float, float], rotate: int
) -> tuple[float, float, float, float]:
    """Turn a box of the PDF's own axes as the engine turns its points for /Rotate."""
    x0, y0, x1, y1 = box
    if rotate == 90:
        return y0 - media[1], media[2] - x1, y1 - media[1], media[2] - x0
    if rotate == 180:
        return media[2] - x1, media[3] - y1, media[2] - x0, media[3] - y0
    if rotate == 270:
        return media[3] - y1, x0 - media[0], media[3] - y0, x1 - media[0]
    return x0 - media[0], y0 - media[1], x1 - media[0], y1 - media[1]


def _leaves(container: Any) -> Iterator[Any]:
    """Walk the layout's objects in drawing order, into forms as well."""
    stack = [iter(container)]
    while stack:
        for item in stack[-1]:
            if hasattr(item, "__iter__"):
                stack.append(iter(item))
                break
            yield item
        else:
            stack.pop()


def _glyph(item: Any, frame: _Frame, order: int) -> Glyph | None:
    x0, bottom = frame.point(item.x0, item.y0)
    x1, top = frame.point(item.x1, item.y1)
    if not frame.shows((x0 + x1) / 2, (top + bottom) / 2):
        return None
    a, b, _, _, e, f = item.matrix
    angle = snapped(math.degrees(math.atan2(b, a))) if (a or b) else 0
    size = _drawn_size(item, angle)
    if not SMALLEST_GLYPH <= size < math.inf:
        return None
    origin = frame.point(e, f)
    return Glyph(
        text=item.get_text(),
        x0=x0,
        top=top,
        x1=x1,
        bottom=bottom,
        size=size,
        font=_font_name(item.fontname),
        color=_rgb(item.graphicstate.ncolor, getattr(item.ncs, "name", "")),
        angle=angle,
        origin_x=origin[0],
        origin_y=origin[1],
        order=order,
    )


def _drawn_size(item: Any, angle: int) -> float:
    """Return the font size in points of the page: the box's side across the reading direction."""
    if angle in (0, 180):
        return float(item.height)
    if angle in (90, 270):
        return float(item.width)
    # A slanted box mixes advance and size; the engine turns (advance, size) by the angle.
    a, b = item.matrix[:2]
    stretch = math.hypot(a, b)
    advance = abs(item.adv) * stretch
    sine, cosine = abs(math.sin(math.radians(angle))), abs(math.cos(math.radians(angle)))
    return float(max(item.height - advance * sine, 0.0) / max(cosine, 0.1))


def _font_name(name: Any) -> str:
    return name.decode("latin-1") if isinstance(name, bytes) else str(name)


def _path(item: Any, frame: _Frame) -> Path | None:
    if not (item.stroke or item.fill):
        return None
    runs = _straight_runs(item.original_path or (), frame)
    x0, bottom = frame.point(item.x0, item.y0)
    x1, top = frame.point(item.x1, item.y1)
    if not all(map(math.isfinite, (x0, x1, top, bottom))):
        return None
    if x1 < -CROP_PLAY or x0 > frame.width + CROP_PLAY:
        return None
    if bottom < -CROP_PLAY or top > frame.height + CROP_PLAY:
        return None
    return Path(
        runs=runs,
        x0=x0,
        top=top,
        x1=x1,
        bottom=bottom,
        box=is_box(runs),
        stroke=bool(item.stroke),
        fill=bool(item.fill),
        fill_color=_rgb(item.non_stroking_color, ""),
    )


def _straight_runs(path: Any, frame: _Frame) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the path's straight parts; curves interrupt them."""
    runs: list[list[tuple[float, float]]] = []
    start: tuple[float, float] | None = None
    for operator, *points in path:
        if operator == "m" and points:
            start = frame.point(*points[-1])
            runs.append([start])
        elif operator == "l" and points and runs:
            runs[-1].append(frame.point(*points[-1]))
        elif operator == "h" and start is not None and runs:
            runs[-1].append(start)
        elif points:
            runs.append([frame.point(*points[-1])])
    return tuple(tuple(run) for run in runs if len(run) > 1)


def _rgb(color: Any, space: str) -> Color:
    """Return a colour as RGB 0–1; what has no plain reading (patterns) counts as black."""
    parts = color if isinstance(color, tuple | list) else (color,)
    if not all(isinstance(part, int | float) for part in parts):
        return BLACK
    values = [min(max(float(part), 0.0), 1.0) for part in parts]
    if len(values) == 1:
        # A spot colour's one number is its ink: full ink is dark (ISO 32000-1, 8.6.6.4).
        tone = 1.0 - values[0] if space in ("Separation", "DeviceN") else values[0]
        return tone, tone, tone
    if len(values) == 3:
        return values[0], values[1], values[2]
    if len(values) == 4:
        ink = 1.0 - values[3]
        return (1.0 - values[0]) * ink, (1.0 - values[1]) * ink, (1.0 - values[2]) * ink
    return BLACK
