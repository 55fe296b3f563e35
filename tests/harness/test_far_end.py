"""Where a row says its wire goes, as manuals write it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.moves.sample import pin, rows
from xref.harness.far_end import far_end
from xref.harness.netmap import map_of


@pytest.mark.parametrize(
    ("text", "connector", "cavity"),
    [
        ("X5:7", "X5", "7"),
        ("X5-B:7", "X5-B", "7"),
        ("A30 X1 : C4", "A30 X1", "C4"),
        ("X5/7", "X5", "7"),
        ("A30-X1-C4", "A30-X1", "C4"),
        ("X5 pin 3", "X5", "3"),
        ("X5 Kontakt 12", "X5", "12"),
        ("Mast controller", "", ""),
        ("", "", ""),
        ("chassis", "", ""),
    ],
)
def test_connector_and_cavity_are_parted(text: str, connector: str, cavity: str) -> None:
    """A colon, a dash, a stroke or a word parts them; a name alone has no cavity."""
    assert far_end(text) == (connector, cavity)


@pytest.mark.parametrize("mark", [":", "/", "-", " pin "])
def test_a_wire_is_laid_whatever_parts_the_cavity(mark: str) -> None:
    """Of four ends of one circuit each row names its own far end: two wires, and nothing is left open."""
    pins = [
        replace(row, goes_to=row.goes_to.replace(":", mark)) for row in rows("M1:1 5 S1:a", "S1:b 5 M2:1")
    ]
    net = map_of(pins, ())
    assert not net.hubs
    assert net.wires[("M1", "", "1")] == [(("S1", "", "a"), "5")]


def test_a_name_with_a_dash_is_not_cut_apart() -> None:
    """`S-1` names a splice, not cavity 1 of `S`."""
    net = map_of([pin("M1:1", "5", "S-1"), pin("S-1:a", "5", "M1:1"), pin("S-1:b", "5", "M2:1")], ())
    assert net.wires[("S-1", "", "a")] == [(("M1", "", "1"), "5")]
