"""Making records by the million without looking for circles among them all the time."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

from xref.settings import COLLECT_AFTER


@contextmanager
def seldom_collecting() -> Iterator[None]:
    """Look for circles of records less often inside the block."""
    usual = gc.get_threshold()
    gc.set_threshold(COLLECT_AFTER)
    try:
        yield
    finally:
        gc.set_threshold(*usual)
