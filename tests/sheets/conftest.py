"""The invented sheet in each format, written once."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from sample import crop, mast_sheet

from xref.sheets.module import SHEET_SUFFIXES, write_module_sheet


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Return the sheet's files by suffix."""
    folder = tmp_path_factory.mktemp("sheet")
    files = {suffix: folder / f"sheet{suffix}" for suffix in SHEET_SUFFIXES}
    for path in files.values():
        write_module_sheet(mast_sheet(), path, pictures=crop)
    return files
