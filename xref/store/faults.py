"""Faults of the program itself: the traceback goes into a log, the person gets a sentence."""

from __future__ import annotations

import time
import traceback
from pathlib import Path

from xref.pages.pdfium import shown_name
from xref.store.account import Problem
from xref.workspace import Workspace

#: So many characters of older reports stay in the log of errors.
LOG_KEPT = 200_000


def fault_to_problem(path: Path, error: Exception, workspace: Workspace) -> Problem:
    """Keep the traceback in the log of errors, and say in one sentence that there is one."""
    log = workspace.error_log
    text = "".join(traceback.format_exception(error))
    message = f"{shown_name(path)}: a fault of xref ({type(error).__name__}) kept it from being read"
    try:
        old = log.read_text(encoding="utf-8", errors="replace")[-LOG_KEPT:] if log.is_file() else ""
        stamp = time.strftime("%Y-%m-%d %H:%M:%S")
        log.write_text(f"{old}{stamp} {path}\n{text}\n", encoding="utf-8", errors="backslashreplace")
    except OSError:
        return Problem(path=str(path), message=f"{message}.", fault=True)
    return Problem(path=str(path), message=f"{message}; the details are in {log}.", fault=True)
