"""A drawing as PNG, PDF or SVG file: the same shapes at the same places."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from xref.records import Box
from xref.sheets.drawing import (
    CAPITAL,
    Area,
    Color,
    Drawing,
    Fill,
    Label,
    Page,
    Shape,
    Stroke,
    font,
    runs_of,
    text_width,
)
from xref.sheets.files import DRAWING_SUFFIXES, suffix_among, written_whole
from xref.sheets.texts import on_one_line

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

#: Dots per point of a PNG that is never smaller than its page's picture.
_POINTS_PER_INCH = 72
#: Dots per point where there is no picture: a drawing as wide as a phone fills the sharpest of them.
_DOTS_PER_POINT = 3.0
#: No PNG has more dots than this: it would take hundreds of megabytes to open.
_MOST_DOTS = 60_000_000


def write_drawing(drawing: Drawing, path: Path, pages: Sequence[Drawing] = ()) -> None:
    """Write the drawing whole or not at all; the ending decides the format.

    `pages`, where given, are what a PDF holds in its stead: the same on paper.

    Raises:
        UsageError: the suffix is none of the three.
        CannotWrite: the file cannot be written.
    """
    suffix = suffix_among(path, DRAWING_SUFFIXES, "a drawing")
    with written_whole(path) as beside:
        if suffix == ".png":
            image, scale = _painted(drawing)
            dots = scale * _POINTS_PER_INCH
            image.save(beside, "PNG", dpi=(dots, dots))
        elif suffix == ".svg":
            beside.write_text("".join(_svg(drawing)), encoding="utf-8")
        else:
            from xref.sheets.paper import write_drawing_pdf

            write_drawing_pdf(pages or (drawing,), beside)


def _painted(drawing: Drawing) -> tuple[Image, float]:
    from PIL import Image as Pictures

    picture, box = drawing.picture, drawing.picture_box
    scale = picture.width / box.width if picture is not None and box is not None else _DOTS_PER_POINT
    scale = min(scale, (_MOST_DOTS / (drawing.width * drawing.height)) ** 0.5)
    sheet = Pictures.new(
        "RGB", (round(drawing.width * scale), round(drawing.height * scale)), (255, 255, 255)
    )
    if picture is not None and box is not None:
        sheet.paste(picture, (round(box.x0 * scale), round(box.top * scale)))
    for shape in drawing.shapes:
        _paint(sheet, shape, scale)
    return sheet, scale


def painted_page(page: Page, dpi: float) -> Image:
    """Return a page as a picture of so many dots per inch."""
    from PIL import Image as Pictures

    scale = dpi / _POINTS_PER_INCH
    size = (round(page.width * scale), round(page.height * scale))
    sheet = Pictures.new("RGB", size, (255, 255, 255))
    for shape in page.shapes:
        _paint(sheet, shape, scale)
    return sheet


def _paint(sheet: Image, shape: Shape, scale: float) -> None:
    from PIL import ImageDraw

    pen = ImageDraw.Draw(sheet)
    if isinstance(shape, Stroke):
        _paint_stroke(pen, shape, scale)
    elif isinstance(shape, Area):
        box = shape.box
        edges = [edge * scale for edge in (box.x0, box.top, box.x1, box.bottom)]
        pen.rectangle(edges, fill=shape.color)
    elif isinstance(shape, Fill):
        pen.polygon([(x * scale, y * scale) for x, y in shape.points], fill=shape.color)
    elif shape.turned:
        _paint_turned(sheet, shape, scale)
    else:
        _paint_text(pen, shape, shape.x, shape.middle, scale)


def _paint_text(pen: ImageDraw, label: Label, x: float, middle: float, scale: float) -> None:
    for east, run in runs_of(on_one_line(label.text)):
        baseline = (middle + label.size * CAPITAL / 2) * scale
        used = font(east, label.bold, label.size * scale)
        pen.text((x * scale, baseline), run, font=used, fill=label.color, anchor="ls")
        x += text_width(run, label.size, bold=label.bold)


def _paint_turned(sheet: Image, label: Label, scale: float) -> None:
    """Paint a text lying and lay it down turned; only its ink covers what is there."""
    from PIL import Image as Pictures
    from PIL import ImageDraw

    box = label.box
    size = (round(box.height * scale) + 1, round(box.width * scale) + 1)
    lying = Pictures.new("RGB", size, (0, 0, 0))
    _paint_text(ImageDraw.Draw(lying), replace(label, color=(255, 255, 255)), 0, box.width / 2, scale)
    ink = lying.convert("L").rotate(90, expand=True)
    at = (round(box.x0 * scale), round(box.bottom * scale) - ink.height)
    sheet.paste(Pictures.new("RGB", ink.size, label.color), at, ink)


def _paint_stroke(pen: ImageDraw, stroke: Stroke, scale: float) -> None:
    wide = max(1, round(stroke.width * scale))
    for (x0, y0), (x1, y1) in _dashes(stroke):
        pen.line((x0 * scale, y0 * scale, x1 * scale, y1 * scale), fill=stroke.color, width=wide)


def _dashes(stroke: Stroke) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the visible pieces of a stroke; each side begins with a dash."""
    for (x0, y0), (x1, y1) in zip(stroke.points, stroke.points[1:], strict=False):
        if not stroke.dash:
            yield (x0, y0), (x1, y1)
            continue
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        done, turn = 0.0, 0
        while done < length:
            step = min(stroke.dash[turn % len(stroke.dash)], length - done)
            if turn % 2 == 0:
                a, b = done / length, (done + step) / length
                yield (x0 + (x1 - x0) * a, y0 + (y1 - y0) * a), (x0 + (x1 - x0) * b, y0 + (y1 - y0) * b)
            done, turn = done + step, turn + 1


def _svg(drawing: Drawing) -> Iterator[str]:
    wide, high = f"{drawing.width:.2f}", f"{drawing.height:.2f}"
    yield '<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" '
    yield 'xmlns:xlink="http://www.w3.org/1999/xlink" '
    # on blank paper a point is a phone's dot; a page keeps its size in print
    unit = "pt" if drawing.picture is not None else ""
    yield f'width="{wide}{unit}" height="{high}{unit}" viewBox="0 0 {wide} {high}">\n'
    yield '<rect width="100%" height="100%" fill="#ffffff"/>\n'
    if drawing.picture is not None and drawing.picture_box is not None:
        out = io.BytesIO()
        drawing.picture.save(out, "PNG")
        data = base64.b64encode(out.getvalue()).decode("ascii")
        yield f"<image {_place(drawing.picture_box)} "
        yield f'preserveAspectRatio="none" xlink:href="data:image/png;base64,{data}"/>\n'
    for shape in drawing.shapes:
        if isinstance(shape, Stroke):
            points = _points(shape.points)
            dash = f' stroke-dasharray="{_numbers(shape.dash)}"' if shape.dash else ""
            yield f'<polyline points="{points}" fill="none" stroke="{_hex(shape.color)}" '
            yield f'stroke-width="{shape.width:.2f}"{dash}/>\n'
        elif isinstance(shape, Area):
            yield f'<rect {_place(shape.box)} fill="{_hex(shape.color)}"/>\n'
        elif isinstance(shape, Fill):
            yield f'<polygon points="{_points(shape.points)}" fill="{_hex(shape.color)}"/>\n'
        else:
            yield _svg_text(shape)
    yield "</svg>\n"


def _svg_text(label: Label) -> str:
    """Return a text; its width is given, so that another font than the one measured does not run over."""
    text = on_one_line(label.text)
    wide = text_width(text, label.size, bold=label.bold)
    weight = ' font-weight="bold"' if label.bold else ""
    turned = f'transform="rotate(-90 {label.x:.2f} {label.middle:.2f})" ' if label.turned else ""
    return (
        f'<text {turned}x="{label.x:.2f}" y="{label.middle + label.size * CAPITAL / 2:.2f}" '
        'font-family="Noto Sans SemiCondensed, Noto Sans, Arial, sans-serif" '
        f'font-size="{label.size:.2f}"{weight} '
        f'fill="{_hex(label.color)}" textLength="{wide:.2f}" lengthAdjust="spacingAndGlyphs" '
        f'xml:space="preserve">{escape(text)}</text>\n'
    )


def _place(box: Box) -> str:
    return f'x="{box.x0:.2f}" y="{box.top:.2f}" width="{box.width:.2f}" height="{box.height:.2f}"'


def _points(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{x:.2f},{y:.2f}" for x, y in points)


def _numbers(values: Sequence[float]) -> str:
    return " ".join(f"{value:g}" for value in values)


def _hex(color: Color) -> str:
    return "#" + "".join(f"{part:02x}" for part in color)
