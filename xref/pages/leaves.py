"""The objects of a page in drawing order, forms opened, and where their points are displayed."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import addressof, c_float
from dataclasses import dataclass

from xref.pages import calls
from xref.pages.pdfium import FORM_DEPTH

#: a b c d e f of (x, y) -> (a x + c y + e, b x + d y + f)
Matrix = tuple[float, float, float, float, float, float]

IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A text, path or picture; `handle` is good while the page is loaded."""

    handle: int
    kind: int
    matrix: Matrix  #: of the forms around it


class TooDeep(Exception):
    """Forms are nested deeper than anything honest is."""


def page_leaves(page: int) -> Iterator[Leaf]:
    """Yield what is drawn on the page, in drawing order. Raises `TooDeep`."""
    for place in range(calls.count_objects(page)):
        handle = calls.get_object(page, place)
        kind = calls.object_kind(handle)
        if kind == calls.FORM:
            yield from _inside(handle, IDENTITY, 1)
        else:
            yield Leaf(handle, kind, IDENTITY)


def _inside(form: int, outer: Matrix, depth: int) -> Iterator[Leaf]:
    if depth > FORM_DEPTH:
        raise TooDeep
    matrix = times(matrix_of(form), outer)
    for place in range(calls.count_inside(form)):
        handle = calls.get_inside(form, place)
        kind = calls.object_kind(handle)
        if kind == calls.FORM:
            yield from _inside(handle, matrix, depth + 1)
        else:
            yield Leaf(handle, kind, matrix)


def matrix_of(handle: int) -> Matrix:
    """Return an object's own matrix."""
    buffer = (c_float * 6)()
    if not calls.object_matrix(handle, addressof(buffer)):
        return IDENTITY
    a, b, c, d, e, f = buffer
    return a, b, c, d, e, f


def times(one: Matrix, other: Matrix) -> Matrix:
    """Return the matrix that does `one` first, then `other`."""
    if other is IDENTITY:
        return one
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The page as displayed: its size, and the matrix that brings the PDF's points there (y downwards)."""

    width: float
    height: float
    turn: int  #: /Rotate, degrees clockwise
    matrix: Matrix


def page_frame(page: int) -> Frame:
    """Return the displayed frame of a loaded page."""
    buffer = (c_float * 4)()
    calls.page_box(page, addressof(buffer))
    left, top, right, bottom = buffer
    width, height = right - left, top - bottom
    turn = calls.page_rotation(page) % 4 * 90
    matrix: Matrix = {
        0: (1.0, 0.0, 0.0, -1.0, -left, top),
        90: (0.0, 1.0, 1.0, 0.0, -bottom, -left),
        180: (-1.0, 0.0, 0.0, 1.0, right, -bottom),
        270: (0.0, -1.0, -1.0, 0.0, top, right),
    }[turn]
    if turn in (90, 270):
        width, height = height, width
    return Frame(width=width, height=height, turn=turn, matrix=matrix)
