"""What must hold of any reading: order of pages, company of other documents, a table read back."""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.conftest import RunXref
from tests.tables.drawn import Page
from xref.pipeline import read_document
from xref.records import Pin

MANUALS = Path(__file__).parent.parent / "examples" / "manuals"
HEADERS = {
    "cavity": "Pin",
    "color": "Wire Color",
    "circuit": "Circuit",
    "size": "mm²",
    "function": "Function",
}
CODES = ("BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "BU/YE", "GN-WH", "RD/BK")
FUNCTIONS = ("Horn relay", "Lift valve supply", "Work lamp left", "Tilt sensor 5 V", "CAN high", "Ground")
WIDTHS = {"cavity": 50, "color": 80, "circuit": 70, "size": 50, "function": 150}


def _facts(pin: Pin) -> tuple[str, ...]:
    return (pin.connector, pin.half, pin.cavity, pin.color_code, pin.circuit, pin.size, pin.status)


@pytest.mark.parametrize("name", ["q16-drive-and-power", "q16-mast-and-hydraulics"])
def test_the_order_of_pages_makes_no_vouched_row_another(tmp_path: Path, name: str) -> None:
    """A manual with its pages turned round may lose rows to doubt, but vouches for no other ones."""
    path = MANUALS / f"{name}.pdf"
    source = pypdfium2.PdfDocument(str(path))
    turned = pypdfium2.PdfDocument.new()
    turned.import_pages(source, list(range(len(source)))[::-1])
    turned.save(str(tmp_path / path.name))
    before = {_facts(p) for p in read_document(path).pins}
    after = [p for p in read_document(tmp_path / path.name).pins if not p.flags]
    assert after
    assert [p for p in after if _facts(p) not in before] == []


def _rows(path: Path) -> Counter[tuple[str, ...]]:
    columns = (
        "connector",
        "half",
        "cavity",
        "color_code",
        "circuit",
        "function",
        "size",
        "status",
        "page",
        "flags",
    )
    with path.open(encoding="utf-8-sig", newline="") as file:
        return Counter(tuple(row[c] for c in columns) for row in csv.DictReader(file))


def test_a_document_gives_the_same_rows_alone_and_among_others(xref: RunXref, tmp_path: Path) -> None:
    """What one document says does not depend on which others were indexed with it."""
    names = [p for p in sorted(MANUALS.glob("*.pdf")) if "scan" not in p.stem][:3]
    together: Counter[tuple[str, ...]] = Counter()
    for n, path in enumerate(names):
        alone = f"alone{n}"
        assert xref("-w", alone, "index", str(path)).returncode == 0
        assert xref("-w", alone, "export", str(tmp_path / f"{n}.csv"), "--plain").returncode == 0
        together += _rows(tmp_path / f"{n}.csv")
    assert xref("-w", "all", "index", *map(str, names)).returncode == 0
    assert xref("-w", "all", "export", str(tmp_path / "all.csv"), "--plain").returncode == 0
    assert _rows(tmp_path / "all.csv") == together


@st.composite
def _tables(draw: st.DrawFn) -> tuple[list[str], list[dict[str, str]]]:
    """A pinout: its columns in some order, and its rows."""
    more = draw(st.lists(st.sampled_from(["size", "function"]), unique=True, max_size=2))
    columns = draw(st.permutations(["cavity", "color", "circuit", *more]))
    count = draw(st.integers(3, 14))
    names = draw(
        st.sampled_from(
            [
                [str(n) for n in range(1, 15)],
                [f"{n:02d}" for n in range(1, 15)],
                [f"{a}{n}" for a in "ABCDE" for n in range(1, 4)],
            ]
        )
    )
    circuit = draw(st.sampled_from(["{:04d}", "L{:02d}-04", "{:d}A", "GA{:03d}"]))
    numbers = st.integers(100, 989)
    rows = [
        {
            "cavity": names[n],
            "color": draw(st.sampled_from(CODES)),
            "circuit": circuit.format(draw(numbers)),
            "size": draw(st.sampled_from(["0.5", "0.75", "1.5", "2.5"])),
            "function": draw(st.sampled_from(FUNCTIONS)),
        }
        for n in range(count)
    ]
    return list(columns), rows


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(drawn=_tables(), ruled=st.booleans())
def test_a_table_read_back_is_the_table_drawn_or_in_doubt(
    drawn: tuple[list[str], list[dict[str, str]]], ruled: bool
) -> None:
    """Whatever the order of its columns: each row comes back as drawn, or carries a doubt."""
    columns, rows = drawn
    cells = [[HEADERS[c] for c in columns], *([row[c] for c in columns] for row in rows)]
    with TemporaryDirectory() as folder:
        page = Page(Path(folder) / "a.pdf").heading("Connector X5 - Mast controller")
        widths = [WIDTHS[c] for c in columns]
        if ruled:
            page.ruled(cells, widths)
        else:
            page.aligned(cells, [72 + sum(widths[:n]) for n in range(len(columns))])
        pins = read_document(page.save()).pins
    keys = [c for c in ("color", "circuit", "size") if c in columns]
    known = {r["cavity"]: tuple(r[c] for c in keys) for r in rows}
    fields = {"color": "color_code", "circuit": "circuit", "size": "size"}
    wrong = [
        p
        for p in pins
        if not p.flags
        and (p.connector != "X5" or known.get(p.cavity) != tuple(getattr(p, fields[c]) for c in keys))
    ]
    assert not wrong
    assert {p.cavity for p in pins} == set(known)
