"""In: the command line. Out: text or JSON on stdout, talk on stderr, exit codes as grep's.
One command a file: parse, call, print; nothing else."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    0 found or done, 1 nothing found (or a doubt where `--strict` asks), 2 wrong use or unreadable
    input, 130 interrupted by Ctrl-C. Entry point of the `xref` script.
    """
    from xref.cli.app import run
    from xref.cli.terminal import prepare_streams

    prepare_streams()
    try:
        code = run(list(sys.argv[1:] if arguments is None else arguments))
        sys.stdout.flush()
    except BrokenPipeError:
        # the reader of our output (head, less) has gone; Python would complain once more at its end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code
