"""What every test may use: where the project lies, and runs of the command as a person makes them."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

#: No test passes or fails by the clock: a busy machine is no fault of the program. And what passed once
#: passes again; who looks for more asks for other examples each time: --hypothesis-profile=searching.
settings.register_profile("repeatable", deadline=None, derandomize=True)
settings.register_profile("searching", deadline=None)
settings.load_profile("repeatable")

#: A shell that starts a run in the background lets it ignore Ctrl-C, and all programs it starts: the tests
#: of what Ctrl-C does would prove nothing.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

ROOT = Path(__file__).resolve().parent.parent

#: Settings of the person who runs the tests; none of them may change what a test sees.
_PERSONAL = ("XREF_PASSWORD", "XREF_WORKSPACE", "NO_COLOR", "COLUMNS", "TERM", "FORCE_COLOR")

RunXref = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def xref(tmp_path: Path) -> RunXref:
    """Run `xref` as a process of its own in an empty folder; answers with exit code, stdout and stderr."""

    def run(*arguments: object, cwd: Path = tmp_path, **environment: str) -> subprocess.CompletedProcess[str]:
        kept = {name: value for name, value in os.environ.items() if name not in _PERSONAL}
        return subprocess.run(
            [sys.executable, "-m", "xref", *map(str, arguments)],
            cwd=cwd,
            env={**kept, "PYTHONPATH": str(ROOT), **environment},
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
        )

    return run
