"""A wire's colours for a sheet: the code as printed, in words, and what is drawn."""

from __future__ import annotations

from xref.colors.words import css_hex, in_words
from xref.records import Pin
from xref.sheets.printed import Wire
from xref.sheets.texts import on_one_line


def wire_of(pin: Pin) -> Wire | None:
    """Return the wire of a row; None where it says nothing of its colour."""
    return wire_in_words(pin.color_code, pin.base_color, pin.stripe_color, pin.ring_color)


def wire_in_words(code: str, base: str, stripe: str, ring: str) -> Wire | None:
    """Return a wire's colours in words and as drawn, None where nothing is known of them."""
    if not (code or base):
        return None
    return Wire(
        code=on_one_line(code),
        words=in_words(base, stripe, ring) or "colour not known",
        base=css_hex(base) if base else "",
        stripe=css_hex(stripe) if stripe else "",
        ring=css_hex(ring) if ring else "",
        names=(base, stripe, ring),
    )
