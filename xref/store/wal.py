"""Switching a file of SQLite to its write-ahead log, also while another process makes the same switch."""

from __future__ import annotations

import sqlite3
import time

#: How often, and after how many seconds, the switch is tried again: for this one SQLite does not wait.
_TRIES = 50
_PAUSE = 0.05


def use_wal(connection: sqlite3.Connection) -> None:
    """Switch the file to WAL mode. Raises sqlite3.OperationalError if another holds it all the while."""
    for last in (False,) * _TRIES + (True,):
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError:
            if last:
                raise
            time.sleep(_PAUSE)
