"""Page readings as they are kept until their document is read to its end: each in a few bytes.

A table as records takes ten times the room, and a long manual has thousands. What a page worker hands
back goes through bytes in any case; so they are left as they are until the whole document is there.
"""

from __future__ import annotations

import pickle
import zlib
from collections.abc import Sequence

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
