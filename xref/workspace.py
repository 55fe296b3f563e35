"""Where things are kept: the folder that holds `.xref/`."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Workspace:
    """A folder with a derived `.xref/` in it. Creating the record touches nothing on disk."""

    folder: Path

    @property
    def derived(self) -> Path:
        """Folder of everything that may be deleted and is rebuilt."""
        return self.folder / ".xref"

    @property
    def index_db(self) -> Path:
        """The SQLite index."""
        return self.derived / "index.db"

    @property
    def search(self) -> Path:
        """Folder of the free-text index."""
        return self.derived / "search"

    @property
    def error_log(self) -> Path:
        """Tracebacks of faults, for whoever mends them; derived like the index."""
        return self.derived / "errors.log"

    @property
    def pictures(self) -> Path:
        """Folder of the pictures of doubtful rows, derived like the index."""
        return self.derived / "pictures"

    @property
    def work_db(self) -> Path:
        """What the person decided; never derived, never deleted by the program."""
        return self.folder / "xref-work.db"


def find_workspace(given: Path | None = None, start: Path | None = None) -> Workspace:
    """Return the given folder, else the nearest one upward that holds `.xref/`, else the current one."""
    if given is not None:
        return Workspace(given.expanduser().resolve())
    here = (start or Path.cwd()).resolve()
    for folder in (here, *here.parents):
        if (folder / ".xref").is_dir():
            return Workspace(folder)
    return Workspace(here)
