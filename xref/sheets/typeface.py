"""Which font sets which character; nothing is left to a font that does not have it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from xref.sheets.texts import fit_for_files

FONTS = Path(__file__).parent / "fonts"
REGULAR = FONTS / "NotoSans-SemiCondensedRegular.ttf"
BOLD = FONTS / "NotoSans-SemiCondensedBold.ttf"
SIGNS = FONTS / "DejaVuSansCondensed.ttf"

#: TrueType fonts with Japanese that computers commonly have, with the number of the face in a collection.
#: (OpenType fonts with PostScript outlines cannot be embedded by reportlab and are not named.)
JAPANESE = (
    (Path("C:/Windows/Fonts/YuGothR.ttc"), 0),
    (Path("C:/Windows/Fonts/meiryo.ttc"), 0),
    (Path("C:/Windows/Fonts/msgothic.ttc"), 0),
    (Path("/System/Library/Fonts/Supplemental/Arial Unicode.ttf"), 0),
    (Path("/Library/Fonts/Arial Unicode.ttf"), 0),
    (Path("/usr/share/fonts/opentype/ipaexfont-gothic/ipaexg.ttf"), 0),
    (Path("/usr/share/fonts/opentype/ipafont-gothic/ipagp.ttf"), 0),
    (Path("/usr/share/fonts/truetype/fonts-japanese-gothic.ttf"), 0),
    (Path("/usr/share/fonts/truetype/vlgothic/VL-PGothic-Regular.ttf"), 0),
    (Path("/usr/share/fonts/truetype/droid/DroidSansFallbackFull.ttf"), 0),
)


def first_japanese() -> tuple[Path, int] | None:
    """Return the first Japanese TrueType font of this computer, or None."""
    return next((found for found in JAPANESE if found[0].is_file()), None)


def in_named_japanese(character: str) -> bool:
    """Tell whether the standard PDF font HeiseiKakuGo-W5 has the character (JIS X 0208, as cp932 has it)."""
    try:
        return len(character.encode("cp932")) == 2
    except UnicodeEncodeError:
        return False


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
