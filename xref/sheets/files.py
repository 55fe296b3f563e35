"""Whole files or none: writing beside the target, then putting it in place."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from xref.errors import CannotWrite, UsageError

#: Endings of the formats a drawing is written in.
DRAWING_SUFFIXES = (".png", ".pdf", ".svg")


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """Give a temporary path beside `path`; it becomes `path` when the block ends well, else it is removed.

    Raises:
        CannotWrite: a sentence for a missing folder, no permission, a full disk or a file open elsewhere.
    """
    path = Path(path)
    _check_target(path)
    # The suffix stays, because some writers choose their format by it.
    beside = path.with_name(f".{path.stem[:40]}-{secrets.token_hex(4)}.part{path.suffix}")
    try:
        yield beside
        os.replace(beside, path)  # noqa: PTH105 - the one call that replaces on every system
    except OSError as error:
        raise _sentence(error, path) from error
    finally:
        _remove(beside)


def suffix_among(path: Path, suffixes: Sequence[str], what: str) -> str:
    """Return the ending of a file's name, in small letters; `what` ("a table") is to be written to it.

    Raises:
        UsageError: the ending is none of the given ones.
    """
    suffix = path.suffix.lower()
    if suffix not in suffixes:
        raise UsageError(
            f"{path.name}: {what} is written as {', '.join(suffixes[:-1])} or {suffixes[-1]}, "
            f"and the name ends in {path.suffix or 'nothing of these'}.",
            hint="Give the file one of these endings.",
        )
    return suffix


def _check_target(path: Path) -> None:
    if path.is_dir():
        raise CannotWrite(f"{path} is a folder, not a file.", hint="Give a file name inside it.")
    if not path.parent.is_dir():
        raise CannotWrite(
            f"The folder {path.parent} does not exist, so {path.name} cannot be written.",
            hint="Make the folder first, or choose another place.",
        )


def _sentence(error: OSError, path: Path) -> CannotWrite:
    if isinstance(error, PermissionError):
        return CannotWrite(
            f"{path} cannot be written: no permission, or the file is open in another program.",
            hint="Close it there, or choose another name.",
        )
    reason = (error.strerror or str(error) or type(error).__name__).rstrip(".")
    return CannotWrite(f"{path} cannot be written: {reason}.", hint="Choose another place or name.")


def _remove(beside: Path) -> None:
    try:
        beside.unlink(missing_ok=True)
    except OSError:
        # A virus scanner may hold the remains for a moment; the target itself is untouched.
        return
