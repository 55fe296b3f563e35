"""Page readings as they are kept until their document is read to its end: each in a few bytes.

A table as records takes ten times the room, and a long manual has thousands. What a page worker hands
back goes through bytes in any case; so they are left as they are until the whole document is there.
"""

from __future__ import annotations

import gc
import pickle
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from xref.settings import COLLECT_AFTER
from xref.tables.page import PageReading

#: A reading with tables, pressed; one without, as it is.
Kept = bytes | PageReading

#: The quickest way to press: it gains most of the room.
QUICK = 1


def keep(reading: PageReading) -> Kept:
    """Return a reading as it is handed over by a page worker of this program."""
    if reading.outcome != "read":
        return reading
    return zlib.compress(pickle.dumps(reading, pickle.HIGHEST_PROTOCOL), QUICK)


def kept_to_readings(kept: Sequence[Kept]) -> list[PageReading]:
    """Return the readings of a document's pages."""
    return [r if isinstance(r, PageReading) else pickle.loads(zlib.decompress(r)) for r in kept]


@contextmanager
def seldom_collecting() -> Iterator[None]:
    """Look for circles of records less often while a document is brought to its end."""
    usual = gc.get_threshold()
    gc.set_threshold(COLLECT_AFTER)
    try:
        yield
    finally:
        gc.set_threshold(*usual)
