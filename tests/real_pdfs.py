"""Where real PDFs lie, if somebody has put them there; tests that want them skip otherwise."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

#: Folder of real documents that are not part of the project (their licences differ).
REAL_PDFS = Path(
    os.environ.get("XREF_REAL_PDFS", Path(__file__).resolve().parent.parent.parent / "shared" / "real")
)

needs_real_pdfs = pytest.mark.skipif(
    not REAL_PDFS.is_dir(), reason="no folder of real PDFs (set XREF_REAL_PDFS)"
)
