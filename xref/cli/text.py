"""Text made fit for a terminal: control characters made visible, widths, wrapping.

What a PDF says is printed on somebody's terminal. Escape sequences could move the cursor or retitle
the window, direction overrides could show `1440` as `0441`; neither may reach the screen.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence


def harmless(text: str) -> str:
    """Return `text` on one line, with every character that does not print written as its number.

    White space of any kind becomes a space. Control, format (bidi overrides, zero-width), private,
    unassigned and surrogate characters become `\\x1b`, `\\u202e` and the like: visible, because a
    character dropped in silence would turn one circuit number into another.
    """
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else _visible(char) for char in text)


def _visible(char: str) -> str:
    if char.isspace() and char not in "\x1c\x1d\x1e\x1f":
        return " "
    code = ord(char)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def width_of(text: str) -> int:
    """Return how many columns of a terminal `text` takes; East Asian wide characters take two."""
    if text.isascii():
        return len(text)
    return sum(_char_width(char) for char in text)


def _char_width(char: str) -> int:
    if unicodedata.combining(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def wrapped(text: str, width: int) -> list[str]:
    """Break `text` at spaces into lines of at most `width` columns; a longer word is cut, never dropped."""
    width = max(width, 2)  # a wide character must fit
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        candidate = f"{line} {word}" if line else word
        if width_of(candidate) <= width:
            line = candidate
            continue
        if line:
            lines.append(line)
        *full, line = _pieces(word, width)
        lines.extend(full)
    if line or not lines:
        lines.append(line)
    return lines


def _pieces(word: str, width: int) -> list[str]:
    pieces = [""]
    for char in word:
        if width_of(pieces[-1] + char) > width:
            pieces.append("")
        pieces[-1] += char
    return pieces


def padded(text: str, width: int) -> str:
    """Return `text` filled with spaces to `width` columns."""
    return text + " " * max(0, width - width_of(text))


def page_ranges(pages: Iterable[int]) -> str:
    """Write page numbers shortly: 3, 7, 8, 9 becomes `3, 7–9`."""
    runs: list[list[int]] = []
    for page in sorted(set(pages)):
        if runs and page == runs[-1][1] + 1:
            runs[-1][1] = page
        else:
            runs.append([page, page])
    return ", ".join(str(first) if first == last else f"{first}–{last}" for first, last in runs)


def counted(number: int, one: str, many: str = "") -> str:
    """Return the number with its noun: `1 page`, `1,200 pages`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str]) -> str:
    """Return names as a person lists them: `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def span(seconds: float) -> str:
    """Return a time span in words: `0.4 s`, `12 s`, `3 min`, `2 h 5 min`."""
    if seconds < 9.95:
        return f"{max(seconds, 0):.1f} s"
    if seconds < 90:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60} min"
