"""Functions of pdfium under prototypes of our own: addresses as plain numbers, results into buffers.

A page has thousands of characters, and turning an argument into an object costs more than what the
library does with it. The functions stay within memory that the caller owns and return at once, so they
keep Python's lock; loading pages and text does not come this way. Names and arguments are those of the
library's public headers (fpdf_text.h, fpdf_edit.h, fpdfview.h).
"""

from __future__ import annotations

from collections.abc import Callable
from ctypes import PYFUNCTYPE, c_double, c_float, c_int, c_uint, c_ulong, c_void_p
from typing import Any

from xref.pages.pdfium import address

#: Kinds of page objects (FPDF_PAGEOBJ_…).
TEXT, PATH, IMAGE, FORM = 1, 2, 3, 5
#: Kinds of path segments (FPDF_SEGMENT_…).
LINE_TO, BEZIER_TO, MOVE_TO = 0, 1, 2
#: Text render modes that leave nothing to be seen (FPDF_TEXTRENDERMODE_INVISIBLE, _CLIP).
UNSEEN_MODES = frozenset({3, 7})


def _call(name: str, result: Any, *arguments: Any) -> Callable[..., Any]:
    return PYFUNCTYPE(result, *arguments)(address(name))


count_objects = _call("FPDFPage_CountObjects", c_int, c_void_p)
get_object = _call("FPDFPage_GetObject", c_void_p, c_void_p, c_int)
count_inside = _call("FPDFFormObj_CountObjects", c_int, c_void_p)
get_inside = _call("FPDFFormObj_GetObject", c_void_p, c_void_p, c_ulong)
object_kind = _call("FPDFPageObj_GetType", c_int, c_void_p)
object_matrix = _call("FPDFPageObj_GetMatrix", c_int, c_void_p, c_void_p)
object_bounds = _call("FPDFPageObj_GetBounds", c_int, c_void_p, c_void_p, c_void_p, c_void_p, c_void_p)
transform_object = _call("FPDFPageObj_Transform", None, c_void_p, *[c_double] * 6)
set_active = _call("FPDFPageObj_SetIsActive", c_int, c_void_p, c_int)
has_transparency = _call("FPDFPageObj_HasTransparency", c_int, c_void_p)
fill_color = _call("FPDFPageObj_GetFillColor", c_int, c_void_p, c_void_p, c_void_p, c_void_p, c_void_p)
count_marks = _call("FPDFPageObj_CountMarks", c_int, c_void_p)
get_mark = _call("FPDFPageObj_GetMark", c_void_p, c_void_p, c_ulong)
mark_text = _call(
    "FPDFPageObjMark_GetParamStringValue", c_int, c_void_p, c_void_p, c_void_p, c_ulong, c_void_p
)

draw_mode = _call("FPDFPath_GetDrawMode", c_int, c_void_p, c_void_p, c_void_p)
count_segments = _call("FPDFPath_CountSegments", c_int, c_void_p)
get_segment = _call("FPDFPath_GetPathSegment", c_void_p, c_void_p, c_int)
segment_point = _call("FPDFPathSegment_GetPoint", c_int, c_void_p, c_void_p, c_void_p)
segment_kind = _call("FPDFPathSegment_GetType", c_int, c_void_p)
segment_closes = _call("FPDFPathSegment_GetClose", c_int, c_void_p)

load_text = _call("FPDFText_LoadPage", c_void_p, c_void_p)
close_text = _call("FPDFText_ClosePage", None, c_void_p)
count_characters = _call("FPDFText_CountChars", c_int, c_void_p)
character_object = _call("FPDFText_GetTextObject", c_void_p, c_void_p, c_int)
character_code = _call("FPDFText_GetUnicode", c_uint, c_void_p, c_int)
character_box = _call("FPDFText_GetLooseCharBox", c_int, c_void_p, c_int, c_void_p)
character_ink = _call(
    "FPDFText_GetCharBox", c_int, c_void_p, c_int, c_void_p, c_void_p, c_void_p, c_void_p
)  # left, right, bottom, top
character_origin = _call("FPDFText_GetCharOrigin", c_int, c_void_p, c_int, c_void_p, c_void_p)
is_generated = _call("FPDFText_IsGenerated", c_int, c_void_p, c_int)
has_no_meaning = _call("FPDFText_HasUnicodeMapError", c_int, c_void_p, c_int)
is_hyphen = _call("FPDFText_IsHyphen", c_int, c_void_p, c_int)

font_of = _call("FPDFTextObj_GetFont", c_void_p, c_void_p)
font_size = _call("FPDFTextObj_GetFontSize", c_int, c_void_p, c_void_p)
render_mode = _call("FPDFTextObj_GetTextRenderMode", c_int, c_void_p)
font_name = _call("FPDFFont_GetBaseFontName", c_ulong, c_void_p, c_void_p, c_ulong)
font_descent = _call("FPDFFont_GetDescent", c_int, c_void_p, c_float, c_void_p)
glyph_width = _call("FPDFFont_GetGlyphWidth", c_int, c_void_p, c_uint, c_float, c_void_p)

page_box = _call("FPDF_GetPageBoundingBox", c_int, c_void_p, c_void_p)
page_rotation = _call("FPDFPage_GetRotation", c_int, c_void_p)
