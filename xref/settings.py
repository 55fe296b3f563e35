"""One frozen `Settings`: every threshold by name, with its reason. Lengths are points unless said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

#: Rows read by another reader version are read anew. Raise it when the reading changes.
READER_VERSION = "11"


#: Pages and documents make records by the thousand and let go of nearly all. To look for circles among them
#: after every 700, as usual, takes a tenth of the time; after so many it does not show.
COLLECT_AFTER = 50_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Thresholds of the whole program. Frozen, so a worker cannot drift from its parent."""

    workers: int = 0  #: page workers; 0 = one per core
    pages_per_task: int = 16  #: so few that progress moves, so many that opening a file is paid rarely
    pages_per_opening: int = 1_000  #: then a worker opens the file anew: its engine keeps what it has seen
    page_seconds: float = 60.0  #: a page that takes longer is named and skipped; honest ones take < 2 s
    worker_megabytes: int = 900  #: resident memory bound of one page worker
    largest_page_points: float = 20_000.0  #: 7 m; the PDF limit without UserUnit is 14,400
    most_rules: int = 20_000  #: lines and boxes on a page; a pinout page seen has < 3,000
    most_characters: int = 60_000  #: characters on a page; a dense one has < 15,000
    engine: Literal["pdfium", "plumber"] = "pdfium"  #: reads pages in full; the other one to compare with
    picture_dpi: int = 110  #: page pictures: text of 6 pt stays readable, files stay small
    near_score: float = 75.0  #: rapidfuzz ratio (0–100) below which a name is not worth offering
    most_near: int = 8  #: how many near names are offered


DEFAULT = Settings()
