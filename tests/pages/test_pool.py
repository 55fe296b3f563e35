"""Page workers: order, bounds, bad pages named, and no process left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import psutil
import pytest
from reportlab.pdfgen.canvas import Canvas

from fixtures.hostile import HOSTILE, write_hostile
from tests.pages import tasks
from tests.pages.drawn import draw_pdf
from xref.errors import PasswordNeeded, UnreadableDocument
from xref.pages.pool import PagePool
from xref.pages.reader import DocumentReader
from xref.settings import Settings

ROOT = Path(__file__).resolve().parent.parent.parent
SETTINGS = Settings(workers=1, pages_per_task=4, page_seconds=40, worker_megabytes=500)
#: Bad files with more to say than that they do no harm.
OVERLOADED = {
    "inflating.pdf": (2, "MB"),
    "rules.pdf": (1, "lines"),
    "characters.pdf": (1, "characters"),
    "enormous.pdf": (1, "size"),
}


@pytest.fixture(scope="module")
def pool() -> Iterator[PagePool]:
    """One worker for the whole file: it has to survive all of it."""
    with PagePool(SETTINGS) as made:
        yield made


def _numbered(path: Path, count: int, prefix: str = "page") -> Path:
    def page(number: int) -> Callable[[Canvas], None]:
        return lambda canvas: canvas.drawString(72, 700, f"{prefix}{number}")

    return draw_pdf(path, *(page(n) for n in range(1, count + 1)))


def test_outcomes_come_in_page_order(tmp_path: Path) -> None:
    """Two workers or one, the outcomes come in the order the pages were asked for."""
    path = _numbered(tmp_path / "a.pdf", 23)
    with PagePool(Settings(workers=2, pages_per_task=3)) as pool:
        assert pool.page_count(path) == 23
        outcomes = list(pool.run(path, "", tasks.first_word, range(1, 24)))
        some = list(pool.run(path, "", tasks.first_word, [9, 2, 17]))
    assert [(o.page, o.result, o.problem) for o in outcomes] == [(n, f"page{n}", "") for n in range(1, 24)]
    assert [o.result for o in some] == ["page9", "page2", "page17"]


def test_documents_begun_together_do_not_mix(tmp_path: Path, pool: PagePool) -> None:
    """A document's pages are begun before they are asked for; each document gets its own, in order."""
    one, other = _numbered(tmp_path / "a.pdf", 9, "one"), _numbered(tmp_path / "b.pdf", 5, "other")
    first = pool.run(one, "", tasks.first_word, range(1, 10))
    second = pool.run(other, "", tasks.first_word, range(1, 6))
    bad = pool.run(tmp_path / "missing.pdf", "", tasks.first_word, range(1, 3))
    assert [o.result for o in second] == [f"other{n}" for n in range(1, 6)]
    assert [o.result for o in first] == [f"one{n}" for n in range(1, 10)]
    with pytest.raises(UnreadableDocument):
        list(bad)


def test_a_document_opened_anew_in_between_is_read_alike(tmp_path: Path) -> None:
    """How often a worker opens the file does not show in what it reads."""
    path = _numbered(tmp_path / "a.pdf", 9)
    with PagePool(Settings(workers=1, pages_per_task=2, pages_per_opening=3)) as pool:
        assert pool.page_count(path) == 9
        outcomes = list(pool.run(path, "", tasks.first_word, range(1, 10)))
    assert [o.result for o in outcomes] == [f"page{n}" for n in range(1, 10)]


@pytest.mark.parametrize(
    ("task", "why"),
    [
        (tasks.end_on_three, "broke the program"),
        (tasks.swell_on_three, "more than 500 MB"),
        (tasks.raise_on_three, "KeyError"),
    ],
)
def test_only_the_guilty_page_is_left_out(
    pool: PagePool, tmp_path: Path, task: Callable[[DocumentReader, int], int], why: str
) -> None:
    """A page that ends, hangs, swells or upsets its worker is named; all others are read."""
    path = _numbered(tmp_path / "a.pdf", 6)
    outcomes = list(pool.run(path, "", task, range(1, 7)))
    assert [o.result for o in outcomes] == [1, 2, None, 4, 5, 6]
    (problem,) = [o.problem for o in outcomes if o.problem]
    assert why in problem and "a.pdf: page 3" in problem and problem.isprintable()


def test_a_page_that_never_ends_is_left_out(tmp_path: Path) -> None:
    """A page over its time is named; the others are read."""
    path = _numbered(tmp_path / "a.pdf", 4)
    with PagePool(Settings(workers=1, page_seconds=2)) as pool:
        outcomes = list(pool.run(path, "", tasks.hang_on_three, range(1, 5)))
    assert [o.result for o in outcomes] == [1, 2, None, 4]
    assert "a.pdf: page 3 took more than 2 seconds" in outcomes[2].problem


def test_a_document_that_changed_is_opened_anew(pool: PagePool, tmp_path: Path) -> None:
    """A worker keeps a document open only as long as the file stays the same."""
    path = _numbered(tmp_path / "a.pdf", 1, "before")
    first = [o.result for o in pool.run(path, "", tasks.first_word, [1])]
    path.unlink()
    _numbered(path, 1, "afterwards")
    assert first + [o.result for o in pool.run(path, "", tasks.first_word, [1])] == ["before1", "afterwards1"]


@pytest.mark.parametrize("name", [name for name in HOSTILE if name not in OVERLOADED])
def test_bad_input_never_breaks_the_run(pool: PagePool, tmp_path: Path, name: str) -> None:
    """Each bad file gives an error of one line or its pages, each read or named with a problem."""
    (path,) = write_hostile(tmp_path, [name])
    if HOSTILE[name][1] == "open":
        with pytest.raises(UnreadableDocument) as caught:
            pool.page_count(path)
        assert caught.value.message.isprintable()
        return
    pages = range(1, min(pool.page_count(path), 3) + 1)
    outcomes = list(pool.run(path, "", tasks.whole_page, pages))
    assert [o.page for o in outcomes] == list(pages)
    assert all((o.result is None) == bool(o.problem) and o.problem.isprintable() for o in outcomes)


@pytest.mark.parametrize("name", OVERLOADED)
def test_overloaded_pages_are_named_and_the_others_read(pool: PagePool, tmp_path: Path, name: str) -> None:
    """A page that inflates, or holds too much, costs itself and not its neighbours."""
    bad, why = OVERLOADED[name]
    (path,) = write_hostile(tmp_path, [name])
    outcomes = list(pool.run(path, "", tasks.whole_page, range(1, pool.page_count(path) + 1)))
    assert why in outcomes[bad - 1].problem
    assert all(o.result and o.result[0] for o in outcomes if o.page != bad)


def test_opening_errors_reach_the_caller(pool: PagePool, tmp_path: Path) -> None:
    """A document that needs a password says so from the worker as well."""
    (path,) = write_hostile(tmp_path, ["encrypted.pdf"])
    with pytest.raises(PasswordNeeded, match="password"):
        list(pool.run(path, "", tasks.first_word, [1]))


def test_memory_stays_flat_over_pages(pool: PagePool, tmp_path: Path) -> None:
    """A worker keeps nothing of the pages it has read."""

    def page(canvas: Canvas) -> None:
        for row in range(50):
            canvas.drawString(
                72, 740 - 14 * row, f"{row} BK/WH 14{row:02} supply of the lamp on the left side"
            )

    path = draw_pdf(tmp_path / "a.pdf", *[page] * 60)
    seen = [o.result for o in pool.run(path, "", tasks.worker_memory, range(1, 61))]
    assert None not in seen
    assert max(seen[30:]) - max(seen[10:30]) < 12_000_000  # type: ignore[operator]


_SCRIPT = """
import sys
from pathlib import Path
from tests.pages import tasks
from xref.pages.pool import PagePool
from xref.settings import Settings

if __name__ == "__main__":
    with PagePool(Settings(workers=2, pages_per_task=1)) as pool:
        print(pool.page_count(Path(sys.argv[1])), flush=True)
        list(pool.run(Path(sys.argv[1]), "", tasks.wait_long, range(1, 9)))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="sends the signal of Ctrl-C as POSIX systems do")
@pytest.mark.parametrize("how", ["SIGINT", "SIGKILL"])
def test_an_ended_parent_leaves_no_process(tmp_path: Path, how: str) -> None:
    """After Ctrl-C or the parent's sudden death no worker lives on."""
    path = _numbered(tmp_path / "a.pdf", 8)
    script = tmp_path / "run.py"
    script.write_text(_SCRIPT, encoding="utf-8")
    parent = subprocess.Popen(
        [sys.executable, str(script), str(path)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    assert parent.stdout is not None and parent.stdout.readline() == b"8\n"
    family = psutil.Process(parent.pid).children(recursive=True)
    assert family
    parent.send_signal(getattr(signal, how))
    parent.wait(timeout=20)
    parent.stdout.close()
    _, alive = psutil.wait_procs(family, timeout=20)
    assert not [p for p in alive if p.status() != psutil.STATUS_ZOMBIE]


def test_an_abandoned_run_leaves_the_pool_usable(tmp_path: Path) -> None:
    """Whoever stops reading outcomes half-way can start another run."""
    path = _numbered(tmp_path / "a.pdf", 40)
    with PagePool(Settings(workers=1, pages_per_task=2)) as pool:
        run = pool.run(path, "", tasks.first_word, range(1, 41))
        assert next(run).result == "page1"
        run.close()  # type: ignore[attr-defined]
        assert [o.result for o in pool.run(path, "", tasks.first_word, [40])] == ["page40"]
