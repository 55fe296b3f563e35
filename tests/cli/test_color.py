"""`xref color` as a process."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.sample import fill
from tests.conftest import RunXref
from tests.tables.drawn import Page


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


def _draw_key(path: Path, key: dict[str, str], code: str) -> Path:
    page = Page(path).heading("Key").ruled((("Code", "Colour"), *key.items()), (60, 90))
    page.heading("Connector X5 – Pump")
    rows = (("Cavity", "Colour", "Circuit"), ("1", code, "101"), ("2", "NE", "31"), ("3", "RO", "55"))
    return page.ruled(rows, (60, 80, 80)).save()


ITALIAN = {"NE": "nero", "RO": "rosso", "BI": "bianco", "VE": "verde", "GI": "giallo", "BL": "blu"}


def test_the_keys_of_the_documents_are_asked_first(xref: RunXref, tmp_path: Path) -> None:
    """A code that only a document's own key explains is explained by it, with the document's name."""
    xref("index", _draw_key(tmp_path / "loom.pdf", ITALIAN, "RO/BI"))
    done = xref("color", "VE/BI")
    assert done.returncode == 0
    assert "green with white stripe" in done.stdout
    assert "the key of loom.pdf" in done.stdout
    first = json.loads(xref("color", "VE/BI", "--json").stdout)["readings"][0]
    assert first == {
        "scheme": "key",
        "base": "green",
        "stripe": "white",
        "ring": "",
        "source": "the key of loom.pdf",
    }


def test_keys_that_differ_answer_each_for_itself(xref: RunXref, tmp_path: Path) -> None:
    """One code in two keys with two colours has both meanings, each with its document."""
    xref("index", _draw_key(tmp_path / "a.pdf", ITALIAN, "RO/BI"))
    xref("index", _draw_key(tmp_path / "b.pdf", ITALIAN | {"BL": "bianco", "BI": "blu"}, "RO/BI"))
    found = json.loads(xref("color", "BI", "--json").stdout)["readings"]
    assert [(r["base"], r["source"]) for r in found if r["scheme"] == "key"] == [
        ("white", "the key of a.pdf"),
        ("blue", "the key of b.pdf"),
    ]


def test_a_code_in_no_key_and_no_scheme_is_said_to_be_in_none(xref: RunXref, tmp_path: Path) -> None:
    """The answer names both places where it looked."""
    xref("index", _draw_key(tmp_path / "loom.pdf", ITALIAN, "RO/BI"))
    done = xref("color", "QX/ZZ")
    assert done.returncode == 1
    assert "No scheme known here and no key of your documents has the colour code QX/ZZ." in done.stdout
