"""`xref check` as processes: what a person with dirty hands types, and what is true afterwards."""

from __future__ import annotations

import csv
import json
import re
import shutil
from pathlib import Path
from typing import Any

import pymupdf
import pytest
from PIL import Image

from tests.cli.sample import MAST, fill
from tests.conftest import ROOT, RunXref
from tests.harness.sample import filled
from tests.store.sample import pin
from tests.tables.drawn import Page
from xref.cli.app import load_command
from xref.cli.check import SUBCOMMANDS
from xref.records import DOUBTS
from xref.store.work import Work
from xref.workspace import Workspace

README = (ROOT / "README.md").read_text(encoding="utf-8")


def doubts(xref: RunXref, *options: str) -> list[dict[str, Any]]:
    """Return the rows `xref check` lists."""
    answer = json.loads(xref("check", *options, "--json").stdout)
    found: list[dict[str, Any]] = answer["doubts"]
    return found


def circuit(xref: RunXref, number: str) -> list[dict[str, Any]]:
    """Return the appearances of a circuit."""
    found: list[dict[str, Any]] = json.loads(xref("circuit", number, "--json").stdout)["appearances"]
    return found


@pytest.mark.parametrize("name", SUBCOMMANDS)
def test_every_subcommand_has_help_and_a_place_in_the_readme(name: str) -> None:
    """What can be decided, with each of its options, is described; README shows it."""
    command = load_command("check").commands[name]
    assert re.fullmatch(r"[A-Z].+\.", (command.help or "").splitlines()[0])
    for parameter in command.params:
        assert "--help" in parameter.opts or getattr(parameter, "help", None), f"{name} {parameter.opts}"
    assert re.search(rf"(xref check |`){name}\b", README)
    missing = {option for p in command.params for option in p.opts if option not in README}
    assert {option for option in missing if option.startswith("--")} <= {"--help"}


def test_the_list_says_what_is_doubted_and_what_to_do(xref: RunXref, tmp_path: Path) -> None:
    """The row with its number and place, the doubt in words, where to look, and the commands."""
    fill(tmp_path)
    done = xref("check")
    assert done.returncode == 0
    assert "1 row in doubt." in done.stdout
    assert f"row-assembled – {DOUBTS['row-assembled']}" in done.stdout
    assert "Look whether all of these texts stand on one printed row." in done.stdout
    assert re.search(r"loom\.pdf p\. 1, table 1\n +D1 +S3:a +1440 +BU/YE", done.stdout)
    assert "xref check accept D1" in done.stdout
    assert "loom.pdf p. 2: a picture without text" in done.stdout
    assert xref("check", "--strict").returncode == 1


def test_an_accepted_row_is_no_doubt_any_more_anywhere(xref: RunXref, tmp_path: Path) -> None:
    """After `accept` no answer doubts the row, and each says who accepted it and when."""
    fill(tmp_path)
    assert [row["row"] for row in doubts(xref)] == ["D1"]
    done = xref("check", "accept", "D1")
    assert done.returncode == 0 and "1 row accepted." in done.stdout
    assert xref("check", "--strict").returncode == 0
    shown = xref("circuit", "1440", "--strict")
    assert shown.returncode == 0 and "DOUBT" not in shown.stdout
    assert re.search(r"accepted by the person \(\d{4}-\d\d-\d\d \d\d:\d\d:\d\d UTC\)", shown.stdout)
    (row,) = [a for a in circuit(xref, "1440") if a["connector"] == "S3"]
    assert row["flags"] == [] and row["notices"][0].startswith("accepted-by-person@20")


def grounds(folder: Path) -> None:
    """Put four rows of circuit 31 into an index, each in doubt whether it is a number, and one of 440."""
    rows = [
        pin(
            name,
            "1",
            "31",
            row_no=n,
            flags=("potential-undecided", "row-assembled"),
            role="component",
            component=name,
            x0=50.0,
            x1=500.0,
            top=100.0 + 20 * n,
            bottom=118.0 + 20 * n,
        )
        for n, name in enumerate(("M1", "M2", "M3", "M4"))
    ]
    filled(folder, *rows, pin("M1", "2", "440", row_no=9, top=300.0, bottom=318.0, x0=50.0, x1=500.0))


def notices(xref: RunXref, number: str) -> str:
    """Return the sentences about a circuit."""
    return " ".join(json.loads(xref("circuit", number, "--json").stdout)["notices"])


def test_an_accepted_row_leaves_open_whether_its_circuit_is_a_number(xref: RunXref, tmp_path: Path) -> None:
    """Read right is not told apart: nothing joins by 31, and the answer says how to settle it."""
    grounds(tmp_path)
    done = xref("check", "accept", "M1:1", "M2:1", "M3:1", "M4:1")
    said = " ".join(done.stdout.split())
    assert done.returncode == 0 and "Still open: whether 31 is a number or the name of a voltage." in said
    assert "xref check accept D1 --as number, or xref check accept D1 --as potential" in said
    assert {tuple(row["flags"]) for row in circuit(xref, "31")} == {("potential-undecided",)}
    assert "is not decided; do not join by it" in notices(xref, "31")
    assert ends_joined(xref) == 0
    assert xref("check", "correct", "M1:1", "--circuit", "31").returncode == 0
    assert ends_joined(xref) == 0, "the same text again decides nothing"


def ends_joined(xref: RunXref) -> int:
    """Return how many modules the first is wired to."""
    found = json.loads(xref("connector", "M1", "--neighbors", "--json").stdout)["neighbors"]
    return sum("31" in neighbor["circuits"] for neighbor in found)


@pytest.mark.parametrize(("kind", "joined"), [("number", 3), ("potential", 0)])
def test_the_person_says_whether_a_circuit_is_a_number(
    xref: RunXref, tmp_path: Path, kind: str, joined: int
) -> None:
    """For all rows at once: joined as a number, by no means as a potential; said by `circuit`; taken back."""
    grounds(tmp_path)
    done = xref("check", "accept", "M1:1", "--as", kind, "--circuit")
    assert "so in 3 other rows too; accepted are only these" in " ".join(done.stdout.split())
    rows = {row["connector"]: row for row in circuit(xref, "31")}
    assert rows["M1"]["flags"] == [] and rows["M2"]["flags"] == ["row-assembled"]
    assert ends_joined(xref) == joined
    assert "You decided that 31 is a" in notices(xref, "31") and "in all 4 rows (20" in notices(xref, "31")
    assert ("names a voltage" in notices(xref, "31")) == (kind == "potential")
    other = "potential" if kind == "number" else "number"
    xref("check", "accept", "M2:1", "--as", other)
    assert "in 1 of 4 rows" in notices(xref, "31") and "in 3 of 4 rows" in notices(xref, "31")
    assert "circuit taken as a" in xref("check", "decisions").stdout
    xref("check", "export", "d.csv")
    xref("check", "undo", "1", "2", "3", "4", "5")
    assert "is not decided; do not join by it" in notices(xref, "31")
    xref("check", "import", "d.csv")
    assert "in 3 of 4 rows" in notices(xref, "31")


def test_a_corrected_circuit_is_judged_anew(xref: RunXref, tmp_path: Path) -> None:
    """Another number is no voltage's name; 31 where nothing tells is open."""
    grounds(tmp_path)
    xref("check", "accept", "M1:1", "--as", "potential")
    xref("check", "correct", "M1:1", "--circuit", "441")
    (row,) = circuit(xref, "441")
    assert row["flags"] == [] and not any("potential" in notice for notice in row["notices"])
    xref("check", "correct", "M1:2", "--circuit", "31")
    assert "potential-undecided" in next(r for r in circuit(xref, "31") if r["cavity"] == "2")["flags"]
    for wrong in (("M1:1", "--as", "number"), ("M2:1", "--as", "wire"), ("M2:1", "--circuit")):
        assert xref("check", "accept", *wrong).returncode == 2, wrong


def test_a_corrected_row_is_found_by_what_the_person_says(xref: RunXref, tmp_path: Path) -> None:
    """The circuit and the decoded colour are the corrected ones in look-ups, find and export."""
    fill(tmp_path)
    done = xref("check", "correct", "B16:2", "--circuit", "1440", "--color", "RD/WH", "--function", "Tilt")
    assert done.returncode == 0 and "as read: circuit 1440A" in done.stdout
    (row,) = [a for a in circuit(xref, "1440") if a["connector"] == "B16"]
    assert (row["base_color"], row["stripe_color"], row["function"]) == ("red", "white", "Tilt")
    assert circuit(xref, "1440A") == []
    assert "B16:2" in xref("find", "tilt").stdout
    xref("export", "out.csv")
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        assert "1440A" not in {line["circuit"] for line in csv.DictReader(file)}


def test_decisions_are_listed_and_taken_back(xref: RunXref, tmp_path: Path) -> None:
    """`decisions` names each with its number, `undo` brings back what was read."""
    fill(tmp_path)
    xref("check", "correct", "B16:2", "--circuit", "7")
    listed = xref("check", "decisions")
    assert "B16:2 corrected to circuit 7 – loom.pdf p. 1" in listed.stdout
    assert xref("check", "undo", "1").returncode == 0
    assert len(circuit(xref, "1440A")) == 1
    assert xref("check", "undo", "1").returncode == 1
    assert xref("check", "decisions").returncode == 1


def test_decisions_travel_to_another_computer(xref: RunXref, tmp_path: Path) -> None:
    """Exported there, imported here, twice: laid once; on other content in doubt until accepted."""
    there, here = tmp_path / "there", tmp_path / "here"
    there.mkdir(), here.mkdir()
    fill(there)
    pdf = here / "loom.pdf"
    pdf.write_bytes(b"other bytes than there")
    fill(here, path=pdf)
    xref("check", "correct", "B16:2", "--circuit", "7", cwd=there)
    assert xref("check", "export", "d.csv", cwd=there).stdout == "1 decision written to d.csv.\n"
    shutil.copy(there / "d.csv", here)
    assert "1 decision imported." in xref("check", "import", "d.csv", cwd=here).stdout
    again = xref("check", "import", "d.csv", cwd=here)
    assert "0 decisions imported." in again.stdout and "1 were here already" in again.stdout
    rows = doubts(lambda *a: xref(*a, cwd=here))  # type: ignore[arg-type]
    assert (rows[0]["connector"], rows[0]["circuit"], rows[0]["flags"]) == (
        "B16",
        "7",
        ["correction-unconfirmed"],
    )


def test_a_connector_is_set(xref: RunXref, tmp_path: Path) -> None:
    """Role, harness and component of a connector are those the person gives, in its head and its rows."""
    fill(tmp_path)
    done = xref("check", "set", "B16", "--role", "inline", "--harness", "main", "--component", "")
    assert done.stdout == "Set: B16.\n"
    (head,) = json.loads(xref("connector", "B16", "--json").stdout)["connectors"]
    assert (head["role"], head["harness"], head["component"]) == ("inline", "main", "")
    assert head["pins"][0]["role"] == "inline"


def test_a_half_is_set_of_one_half_only(xref: RunXref, tmp_path: Path) -> None:
    """Both halves cannot be the same one: that is refused with the names of both, nothing is changed."""
    fill(tmp_path)
    done = xref("check", "set", "X5", "--half", "A")
    said = " ".join(done.stderr.split())
    assert done.returncode == 2 and "X5 has the halves A and B: one half cannot be both." in said
    assert "Name one: X5-A." in said
    assert {a["half"] for a in circuit(xref, "1440") + circuit(xref, "1452") if a["connector"] == "X5"} == {
        "A",
        "B",
    }
    assert xref("check", "set", "X5-A", "--half", "C").stdout == "Set: X5 A.\n"
    assert xref("check", "set", "X5", "--harness", "main").stdout == "Set: X5 B and X5 C.\n"


def test_what_is_no_pinout_is_gone(xref: RunXref, tmp_path: Path) -> None:
    """The rows of the table are in no answer; that they were put aside is listed and can be undone."""
    fill(tmp_path)
    doubts(xref)
    done = xref("check", "not-a-pinout", "D1")
    assert "6 rows of loom.pdf p. 1 put aside" in done.stdout
    assert xref("circuit", "1440").returncode == 1
    assert xref("check", "accept", "D1").returncode == 2
    xref("check", "undo", "1")
    assert len(circuit(xref, "1440")) == 3


def test_only_what_stands_in_the_way_of_a_module(xref: RunXref, tmp_path: Path) -> None:
    """--for takes the module's circuits along; a module nobody knows is nothing found."""
    fill(tmp_path)
    assert [row["connector"] for row in doubts(xref, "--for", MAST)] == ["S3"]
    assert doubts(xref, "--for", "Height sensor") == []
    assert xref("check", "--for", "Rudder").returncode == 1


def test_pictures_are_drawn_when_asked(xref: RunXref, tmp_path: Path) -> None:
    """--pictures draws the row, marked, on its strip of the page, and the answer says where it lies."""
    pdf = tmp_path / "loom.pdf"
    with pymupdf.open() as document:
        document.new_page(width=595, height=842)
        document.save(pdf)
    fill(tmp_path, path=pdf)
    assert doubts(xref)[0]["picture"] is None and not (tmp_path / ".xref" / "pictures").exists()
    (row,) = doubts(xref, "--pictures")
    drawn = Path(row["picture"])
    assert drawn == tmp_path / ".xref" / "pictures" / "D1.png"
    image = Image.open(drawn).convert("RGB")
    scale = image.width / 595
    assert image.height < 300 * scale
    band = (int(300 * scale), int(138 * scale))  # the strip begins 130 points over the row, 18 high
    red, _, blue = image.getpixel(band)  # type: ignore[misc]
    assert red > 240 > blue
    shown = xref("check", "show", "D1", "--into", "here")
    assert (tmp_path / "here" / "D1.png").is_file() and str(Path("here") / "D1.png") in shown.stdout


def test_a_page_that_cannot_be_drawn_costs_no_answer(xref: RunXref, tmp_path: Path) -> None:
    """The document is gone: the rows are listed all the same, and why there is no picture is said."""
    fill(tmp_path)
    done = xref("check", "--pictures")
    assert done.returncode == 0 and "D1" in done.stdout
    assert "no longer at" in done.stderr


def test_a_changed_manual_says_what_became_of_the_decisions(xref: RunXref, tmp_path: Path) -> None:
    """Indexed again, a row that is still there is in doubt until accepted; one that is gone is named."""

    def draw(*rows: tuple[str, ...]) -> None:
        page = Page(tmp_path / "loom.pdf").heading("Connector X1")
        page.ruled((("Cavity", "Color", "Circuit", "Function"), *rows), (60, 80, 70, 150)).save()
        assert xref("index", "loom.pdf").returncode == 0

    lamp, horn, fan = ("1", "BK", "1440", "Lamp"), ("2", "BU/YE", "1441", "Horn"), ("3", "RD", "1442", "Fan")
    draw(lamp, horn, fan)
    xref("check", "correct", "X1:1", "--circuit", "7")
    xref("check", "correct", "X1:3", "--circuit", "9")
    draw(lamp, horn, ("4", "GN", "1450", "Pump"))
    (row,) = circuit(xref, "7")
    assert (row["cavity"], row["flags"]) == ("1", ["correction-unconfirmed"])
    again = json.loads(xref("index", "loom.pdf", "--json").stdout)
    (adrift,) = again["decisions_adrift"]
    assert adrift["decision"] == 2 and "loom.pdf was changed since" in adrift["why"]
    xref("check", "accept", "X1:1")
    assert circuit(xref, "7")[0]["flags"] == []
    assert "decision 2" in xref("check").stdout


def test_columns_are_taught(xref: RunXref, tmp_path: Path) -> None:
    """A table nobody could read is read as it was taught, at once, and in doubt in another edition."""
    page = Page(tmp_path / "strange.pdf").heading("Connector X1")
    rows = [("Qaz", "Wsx", "Rfv"), ("1", "K100", "Lamp left"), ("2", "K101", "Horn"), ("3", "K102", "Pump")]
    page.aligned(rows, (60, 130, 260)).save()
    xref("index", "strange.pdf")
    assert circuit(xref, "K101") == []
    done = xref("check", "teach", "strange.pdf", "1", "--columns", "pin,circuit,function")
    assert done.returncode == 0 and "3 rows read in these columns, on page 1" in done.stdout
    (row,) = circuit(xref, "K101")
    assert (row["connector"], row["cavity"], row["function"], row["flags"]) == ("X1", "2", "Horn", [])
    shutil.rmtree(tmp_path / ".xref")
    page = Page(tmp_path / "strange.pdf").heading("Connector X1")
    page.aligned(rows[:3], (60, 130, 260)).save()  # another edition, one row less
    xref("index", "strange.pdf")
    assert [row["flags"] for row in circuit(xref, "K101")] == [["correction-unconfirmed"]]
    Page(tmp_path / "strange.pdf").heading("Connector X1").save()
    assert "nothing in strange.pdf stands in the columns taught" in xref("index", "strange.pdf").stdout
    page = Page(tmp_path / "strange.pdf").heading("Connector X1")
    page.aligned(rows, (60, 130, 260)).save()
    xref("index", "strange.pdf")
    assert [row["flags"] for row in circuit(xref, "K101")] == [[]]
    undone = xref("check", "undo", "1")
    assert "strange.pdf was read anew without these columns" in undone.stdout
    assert circuit(xref, "K101") == []


def test_a_column_taught_to_hold_two_facts_gives_both(xref: RunXref, tmp_path: Path) -> None:
    """Circuit and colour of one cell are parted; a cell that does not part is in doubt."""
    page = Page(tmp_path / "strange.pdf").heading("Connector X1")
    rows = [
        ("Qaz", "Wsx", "Rfv"),
        ("1", "1440 BU/YE", "Lamp left"),
        ("2", "1441 RD", "Horn"),
        ("3", "1442", "Fan"),
    ]
    page.aligned(rows, (60, 130, 260)).save()
    xref("index", "strange.pdf")
    done = xref("check", "teach", "strange.pdf", "1", "--columns", "cavity,circuit/color,function")
    assert done.returncode == 0, done.stderr
    read = json.loads(xref("connector", "X1", "--json").stdout)["connectors"][0]["pins"]
    assert [(p["cavity"], p["circuit"], p["color_code"]) for p in read[:2]] == [
        ("1", "1440", "BU/YE"),
        ("2", "1441", "RD"),
    ]
    assert [p["flags"] for p in read[:2]] == [[], []] and "text-overfull" in read[2]["flags"]


def test_columns_taken_back_while_the_document_is_away_are_said_to_stay(
    xref: RunXref, tmp_path: Path
) -> None:
    """What cannot be read anew stays as it was read, and the answer says until when."""
    page = Page(tmp_path / "strange.pdf").heading("Connector X1")
    rows = [("Qaz", "Wsx", "Rfv"), ("1", "K100", "Lamp left"), ("2", "K101", "Horn"), ("3", "K102", "Pump")]
    page.aligned(rows, (60, 130, 260)).save()
    xref("index", "strange.pdf")
    xref("check", "teach", "strange.pdf", "1", "--columns", "pin,circuit,function")
    (tmp_path / "strange.pdf").rename(tmp_path / "gone")
    undone = " ".join(xref("check", "undo", "1").stdout.split())
    assert "The rows of strange.pdf still stand in the columns that were taught" in undone
    assert "They go with the next xref index." in undone
    assert len(circuit(xref, "K101")) == 1


@pytest.mark.parametrize(
    "arguments",
    [
        ("accept", "D99"),
        ("accept", "X5:12"),
        ("correct", "B16:2"),
        ("correct", "B16:2", "--status", "maybe"),
        ("set", "X77", "--role", "inline"),
        ("set", "B16", "--role", "wombat"),
        ("set", "B16"),
        ("set", "X5", "--mates", "X5"),
        ("not-a-pinout", "other.pdf", "1"),
        ("teach", "loom.pdf", "1", "--columns", "color"),
        ("teach", "loom.pdf", "9", "--columns", "cavity"),
        ("import", "missing.csv"),
        ("export", "out.xlsx"),
        ("nonsense",),
    ],
    ids=" ".join,
)
def test_what_cannot_be_done_is_said_and_nothing_is_decided(
    xref: RunXref, tmp_path: Path, arguments: tuple[str, ...]
) -> None:
    """Wrong use is one error with exit code 2, and leaves no decision behind."""
    fill(tmp_path)
    done = xref("check", *arguments, "--json")
    assert done.returncode == 2, done.stdout
    assert set(json.loads(done.stdout)) == {"error"} and "Traceback" not in done.stderr
    with Work.open(Workspace(tmp_path)) as work:
        assert work.kept() == []


def test_without_an_index_there_is_nothing_to_check(xref: RunXref, tmp_path: Path) -> None:
    """In an empty folder the command says what to do, and leaves the folder empty."""
    done = xref("check")
    assert done.returncode == 2 and "xref index" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_doubts_are_exported_as_a_table(xref: RunXref, tmp_path: Path) -> None:
    """One line per row and doubt, with what it means and where to look."""
    fill(tmp_path)
    assert xref("export", "d.csv", "--table", "doubts").stdout == "1 row written to d.csv.\n"
    with (tmp_path / "d.csv").open(encoding="utf-8-sig", newline="") as file:
        (line,) = csv.DictReader(file)
    assert (line["row"], line["doubt"], line["connector"]) == ("D1", "row-assembled", "S3")
