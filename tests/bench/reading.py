"""How well pinouts are read: `python -m tests.bench.reading --manuals 40 [--held-out] [--layout NAME]`.

Draws manuals from a seed, reads each, and compares with what was drawn; then the real documents beside
the repository, where they are. `--makers` draws whole manuals of invented makers instead. Prints per layout
(or `--by place|producer|document`) recall and precision in percent, doubts, and silently wrong rows per
10,000 vouched ones.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path

from fixtures.makers import draw, makers
from fixtures.stick.manual import LAYOUTS, make_manual
from tests.bench.reading_doubts import print_doubts
from tests.bench.reading_pages import PageScore, pages_from_json, print_pages, score_pages
from tests.bench.reading_score import FIELDS, Read, Score, Tally, Wrong, known_from_csv, score_document
from xref.records import PageNote

#: Real documents that hold no pinout: no row may come from them.
WITHOUT_PINOUTS = ("pp_warn.pdf", "cm_budget.pdf")


def _read(path: Path) -> tuple[list[Read], Sequence[PageNote]]:
    """Pins and page notes of a document. One that cannot be read counts as read empty, and is named."""
    from xref.errors import XrefError
    from xref.pipeline import read_document

    try:
        reading = read_document(path)
    except XrefError as error:
        print(f"not read: {path.name}: {error}", file=sys.stderr)
        return [], ()
    return list(reading.pins), reading.page_notes


def _drawn(asked: argparse.Namespace, out: Path) -> Iterator[Path]:
    """Draw the manuals asked for, one by one; if asked, those that lie there are taken as they are."""
    layouts = set(asked.layout) if asked.layout else None
    held = "held_" if asked.held_out else ""
    for seed in range(asked.seed, asked.seed + asked.manuals):
        names = makers(held=asked.held_out) if asked.makers else [""]
        for name in names:
            path = out / (f"maker_{name}_{seed:05d}.pdf" if name else f"manual_{held}{seed:05d}.pdf")
            if asked.drawn and path.with_suffix(".json").is_file():
                yield path
            elif name:
                try:
                    yield draw(name, seed, out).path
                except RuntimeError as error:
                    print(f"not drawn: {name}: {error}", file=sys.stderr)
            else:
                yield make_manual(
                    seed, out, layouts=layouts, held_out=bool(asked.held_out), producer=asked.producer
                ).path


def score_drawn(asked: argparse.Namespace) -> tuple[Score, PageScore, float]:
    """Score drawn manuals and their pages; also seconds spent reading."""
    score, pages, seconds = Score(), PageScore(), 0.0
    with tempfile.TemporaryDirectory() as folder:
        for path in _drawn(asked, Path(asked.keep) if asked.keep else Path(folder)):
            known = known_from_csv(path.with_suffix(".csv"))
            of_pages = pages_from_json(path.with_suffix(".json"))
            begin = time.perf_counter()
            pins, notes = _read(path)
            seconds += time.perf_counter() - begin
            score_document(score, path.name, known, pins, of_pages.distractors)
            score_pages(pages, path.name, of_pages, notes, (p.page for p in pins), (k.page for k in known))
            if asked.plain:
                from tests.bench.reading_plain import add_plain

                add_plain(path, known)
    return score, pages, seconds


def score_real() -> Score | None:
    """Score the real documents: their pages with truth, and two documents without pinouts."""
    from tests.real_pdfs import REAL_PDFS

    if not (REAL_PDFS / "truth").is_dir():
        return None
    score = Score()
    for file in sorted((REAL_PDFS / "truth").glob("*.csv")):
        path = REAL_PDFS / f"{file.stem}.pdf"
        known = known_from_csv(file, path.name)
        pages = {row.page for row in known}
        score_document(score, path.name, known, [p for p in _read(path)[0] if p.page in pages], ())
    for name in WITHOUT_PINOUTS:
        pins, _ = _read(REAL_PDFS / name)
        score_document(score, name, [], pins, {p.page for p in pins})
    return score


def _line(name: str, tally: Tally) -> str:
    share = " ".join(f"{tally.share(tally.fields[f], tally.found):6.1f}" for f in FIELDS)
    return (
        f"{name[:26]:26} {tally.known:6} {tally.read:6} {tally.share(tally.found, tally.known):6.1f} "
        f"{tally.recall:6.1f} "
        f"{tally.precision:6.1f} {tally.share(tally.doubted, tally.read) if tally.read else 0.0:6.1f} "
        f"{tally.silent:6} {tally.silent_per_10k:7.0f} {tally.silent_any:6} {tally.on_distractors:6}  {share}"
    )


def print_score(title: str, score: Score, tag: str) -> None:
    """Print a score by the values of a tag, worst recall first; without a tag only the sum."""
    names = " ".join(f"{f[:6]:>6}" for f in FIELDS)
    print(
        f"\n{title}\n{tag:26}"
        f"  known   read found% recall% prec% doubt% silent per10k anywrg no-pin"
        f"  of the found rows, right: {names}"
    )
    parts = score.by[tag] if tag else {}
    for name, tally in sorted(parts.items(), key=lambda item: (item[1].recall, item[1].precision)):
        print(_line(name or "-", tally))
    print(_line("ALL", score.total))


def print_worst(score: Score, show: int) -> None:
    """Print the tables with most wrong rows, and examples of wrong rows, silent ones first."""
    tables: dict[tuple[str, int, str, str], Counter[str]] = defaultdict(Counter)
    for wrong in score.wrong:
        if set(wrong.kind.split()) <= {"role", "status", "colors"} and not wrong.silent:
            continue
        name = wrong.known.connector if wrong.known else "?"
        layout = wrong.known.layout if wrong.known else ""
        tables[wrong.document, wrong.page, name, layout][wrong.kind] += 1
    print("\nworst tables (document, page, connector, layout: rows by what is wrong)")
    for at, kinds in sorted(tables.items(), key=lambda item: -sum(item[1].values()))[:15]:
        listed = ", ".join(f"{n}× {k}" for k, n in kinds.most_common(4))
        print(f"  {at[0]} p{at[1]} {at[2]} {at[3]}: {listed}")
    for wrong in sorted(score.wrong, key=lambda w: not w.silent)[:show]:
        print(_example(wrong))


def _example(wrong: Wrong) -> str:
    def text(row: object) -> str:
        if row is None:
            return "–"
        fields = (
            "connector",
            "half",
            "cavity",
            "color_code",
            "circuit",
            "size",
            "function",
            "status",
            "role",
        )
        return " ¦ ".join(str(getattr(row, f)) for f in fields)

    flags = " ".join(wrong.read.flags) if wrong.read else ""
    silent = "SILENT " if wrong.silent else ""
    lead = f"{silent}{wrong.document} p{wrong.page} {wrong.kind}"
    return f"{lead}\n    known {text(wrong.known)}\n    read  {text(wrong.read)}  [{flags}]"


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.reading", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--manuals", type=int, default=30)
    parser.add_argument(
        "--held-out",
        type=int,
        nargs="?",
        const=1,
        default=0,
        choices=(0, 1, 2, 3),
        help="only what ordinary draws never use (2, 3: a further batch of makers); prints the sum alone, "
        "unless asked for more",
    )
    parser.add_argument(
        "--makers",
        action="store_true",
        help="manuals of invented makers, `--manuals` of each, not mixed layouts",
    )
    parser.add_argument("--layout", action="append", choices=sorted(LAYOUTS))
    parser.add_argument("--producer", default="", help="draw all with this program")
    parser.add_argument("--by", default="", choices=["layout", "place", "producer", "document"])
    parser.add_argument(
        "--doubts", action="store_true", help="how often each doubt was right, and what was silently wrong"
    )
    parser.add_argument(
        "--show-wrong", type=int, default=0, metavar="N", help="print N wrong rows, silent ones first"
    )
    parser.add_argument(
        "--plain", action="store_true", help="also what plain table finders give on the same pages"
    )
    parser.add_argument("--no-real", action="store_true", help="leave the real documents out")
    parser.add_argument(
        "--keep", default="", metavar="DIR", help="draw into this folder and leave the manuals there"
    )
    parser.add_argument(
        "--drawn", action="store_true", help="with --keep: take manuals that lie there as they are"
    )
    return parser.parse_args()


def main() -> int:
    """Draw, read, score, print."""
    asked = _asked()
    # Whoever looks at held-out tables while developing has none left to measure with.
    hidden = asked.held_out and not asked.by and not asked.show_wrong
    score, pages, seconds = score_drawn(asked)
    title = f"drawn manuals, seeds {asked.seed}–{asked.seed + asked.manuals - 1}"
    print_score(title, score, "" if hidden else asked.by or "layout")
    print_pages(pages, places=not hidden)
    if asked.doubts:
        print_doubts(score.judged, places=not hidden)
    if not hidden:
        print_worst(score, asked.show_wrong)
    print(f"\nread in {seconds:.1f} s")
    if asked.plain:
        from tests.bench.reading_plain import print_plain

        print_plain()
    real = None if asked.no_real else score_real()
    if real is not None:
        print_score("real documents", real, "document")
        if asked.doubts:
            print_doubts(real.judged)
        print_worst(real, asked.show_wrong)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
