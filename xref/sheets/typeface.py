"""Which font sets which character; nothing is left to a font that does not have it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from xref.sheets.texts import fit_for_files

FONTS = Path(__file__).parent / "fonts"
REGULAR = FONTS / "NotoSans-SemiCondensedRegular.ttf"
BOLD = FONTS / "NotoSans-SemiCondensedBold.ttf"
SIGNS = FONTS / "DejaVuSansCondensed.ttf"
JAPANESE = FONTS / "VLPGothic-JapaneseSubset.ttf"

Face = tuple[str, Callable[[str], bool]]


def in_runs(text: str, faces: Sequence[Face]) -> list[tuple[str, str]]:
    """Cut a text into (font, run). A character no font has is written out, as in `[U+1F600]`.

    `faces` are (name, has it the character) in the order of preference; the last resort is the first.
    """
    runs: list[tuple[str, str]] = []
    for character in fit_for_files(text):
        name = next((name for name, has in faces if has(character)), "")
        if not name:
            name, character = faces[0][0], f"[U+{ord(character):04X}]"
        if runs and runs[-1][0] == name:
            runs[-1] = (name, runs[-1][1] + character)
        else:
            runs.append((name, character))
    return runs
