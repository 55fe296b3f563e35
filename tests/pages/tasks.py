"""What page workers are asked to do in the tests; workers import it by name."""

from __future__ import annotations

import os
import time

import psutil

from xref.pages.reader import DocumentReader


def whole_page(reader: DocumentReader, page: int) -> tuple[bool, str, int]:
    """Do what indexing does with a page."""
    triage = reader.triage(page)
    content = reader.content(page)
    return triage.candidate, triage.why, len(content.words)


def first_word(reader: DocumentReader, page: int) -> str:
    """Return the page's first word."""
    return reader.content(page).words[0].text


def worker_memory(reader: DocumentReader, page: int) -> int:
    """Read the page and return the worker's resident memory in bytes."""
    reader.content(page)
    return int(psutil.Process().memory_info().rss)


def end_on_three(reader: DocumentReader, page: int) -> int:
    """End the worker without a word on page 3."""
    if page == 3:
        os._exit(7)
    return page


def hang_on_three(reader: DocumentReader, page: int) -> int:
    """Never finish page 3."""
    while page == 3:
        time.sleep(0.01)
    return page


def swell_on_three(reader: DocumentReader, page: int) -> int:
    """Take memory without end on page 3."""
    held = []
    while page == 3:
        held.append(bytearray(8_000_000))
        time.sleep(0.005)
    return page


def raise_on_three(reader: DocumentReader, page: int) -> int:
    """Raise what an engine may raise on page 3."""
    if page == 3:
        raise KeyError("\x1b[31mbytes of the page")
    return page


def wait_long(reader: DocumentReader, page: int) -> int:
    """Take so long that somebody will lose patience."""
    time.sleep(60)
    return page
