"""One error tree. A message says what is wrong, where, and what to do; exit codes sit on the classes."""

from __future__ import annotations


class XrefError(Exception):
    """Anything the person can do something about.

    `code` is the short name in JSON answers, `hint` what to type or do next.
    """

    exit_code = 2
    code = "error"

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class UsageError(XrefError):
    """The command was called with words that do not fit."""

    code = "usage"


class CannotWrite(XrefError):
    """A file could not be written: no such folder, no permission, open elsewhere, too large for its kind."""

    code = "write"


class UnreadableDocument(XrefError):
    """A file is not a PDF that can be read; the message is one line naming it."""

    code = "unreadable"


class PasswordNeeded(UnreadableDocument):
    """The document is encrypted and no (or a wrong) password was given."""

    code = "password"


class PageBroken(XrefError):
    """A page ran over its time or memory bound, or broke its worker."""

    code = "page"


class NoIndex(XrefError):
    """There is no index in the workspace yet."""

    code = "no-index"


class IndexDamaged(XrefError):
    """The index cannot be read; it is derived and can be rebuilt."""

    code = "index-damaged"


class WorkDamaged(XrefError):
    """The file of the person's decisions cannot be read; it is never deleted or rebuilt by the program."""

    code = "work-damaged"
