"""`xref color` as a process."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.sample import fill
from tests.conftest import RunXref


def test_a_code_is_explained_without_an_index(xref: RunXref) -> None:
    """BU/YE is blue with yellow in IEC 60757 (BU blue, YE yellow), also before anything is indexed."""
    done = xref("color", "BU/YE")
    assert done.returncode == 0
    assert "blue with yellow stripe" in done.stdout
    answer = json.loads(xref("color", "BU/YE", "--json").stdout)
    assert set(answer) == {"code", "readings", "here"}
    assert {"base": "blue", "stripe": "yellow", "ring": ""}.items() <= answer["readings"][0].items()
    assert all(reading["source"] for reading in answer["readings"])
    assert answer["here"] == {}


@pytest.mark.parametrize("code", ["Q9Q9", "ZZ"])
def test_an_unknown_code_is_found_nowhere(xref: RunXref, code: str) -> None:
    """A text that is no colour code, or a colour on itself, gives an empty list and exit code 1."""
    done = xref("color", code, "--json")
    assert done.returncode == 1
    assert json.loads(done.stdout)["readings"] == []


def test_the_scheme_of_each_document_is_named(xref: RunXref, tmp_path: Path) -> None:
    """Where documents are indexed, the answer says which scheme each uses."""
    fill(tmp_path)
    assert json.loads(xref("color", "GN", "--json").stdout)["here"] == {"loom.pdf": ""}
    assert "undecided" in xref("color", "GN").stdout
