"""Colour names -> words for people, and swatches for drawing."""

from __future__ import annotations

import re
from functools import cache

from xref.colors.schemes import swatches

#: Drawn where a colour is not known: a neutral grey that no wire swatch uses.
_NO_SWATCH = "#D9D9D9"
#: How far light and dark forms without a swatch of their own lie from the plain colour to white
#: or black; far enough to be told apart, near enough to be known as that colour.
_LIGHTER = 0.55
_DARKER = 0.45
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")


def in_words(base: str, stripe: str = "", ring: str = "") -> str:
    """Say a wire's colours: "white with red stripe and black ring"; "" without a base."""
    marks = [f"{color} {what}" for color, what in ((stripe, "stripe"), (ring, "ring")) if color]
    if not base or not marks:
        return base
    return f"{base} with {' and '.join(marks)}"


@cache
def css_hex(color_name: str) -> str:
    """Return `#RRGGBB` for a colour name; a neutral light grey for a name that is unknown."""
    table = swatches()
    if color_name in table:
        return table[color_name]
    shade, _, plain = color_name.partition(" ")
    if plain in table and shade in ("light", "dark"):
        toward, share = (255, _LIGHTER) if shade == "light" else (0, _DARKER)
        mixed = (round(c + (toward - c) * share) for c in _channels(table[plain]))
        return "#" + "".join(f"{channel:02X}" for channel in mixed)
    return _NO_SWATCH


def _channels(hex_color: str) -> tuple[int, int, int]:
    if not _HEX.fullmatch(hex_color):
        raise ValueError(f"not a colour of the form #RRGGBB: {hex_color!r}")
    return int(hex_color[1:3], 16), int(hex_color[3:5], 16), int(hex_color[5:7], 16)


def luminance(hex_color: str) -> float:
    """Return the relative luminance, 0 to 1 (WCAG 2.1, definition of relative luminance)."""
    linear = []
    for channel in _channels(hex_color):
        share = channel / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def text_on(hex_color: str) -> str:
    """Return `#000000` or `#FFFFFF`, whichever has more contrast on the swatch (WCAG 2.1, 1.4.3)."""
    light = luminance(hex_color)
    on_black, on_white = (light + 0.05) / 0.05, 1.05 / (light + 0.05)
    return "#000000" if on_black >= on_white else "#FFFFFF"
