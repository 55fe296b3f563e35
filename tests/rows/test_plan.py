"""Which column means what, and how a block of columns is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, planned
from xref.rows.assemble import table_to_rows
from xref.rows.quality import table_quality

WIDE = (60, 80, 70, 150)
PLAIN = (("1", "BK", "1440", "Lamp, left"), ("2", "BU/YE", "1441", "Horn"), ("3", "RD", "1442", "Fan motor"))


@pytest.mark.parametrize(
    ("header", "roles"),
    [
        (("Cavity", "Color", "Circuit", "Function"), ("cavity", "color", "circuit", "function")),
        (("Pin No.", "Wire Colour", "Wire No.", "Description"), ("cavity", "color", "circuit", "function")),
        (("Terminal", "Colour code", "Ckt.", "Signal"), ("cavity", "color", "circuit", "signal")),
        (("Kammer", "Farbe", "Leitungs-Nr.", "Funktion"), ("cavity", "color", "circuit", "function")),
        (("Kontakt-Nr.", "Aderfarbe", "Stromkreis", "Benennung"), ("cavity", "color", "circuit", "function")),
        (("Broche", "Couleur", "Circuit", "Fonction"), ("cavity", "color", "circuit", "function")),
        (("Cavity", "Colour", "Circiut", "Functlon"), ("cavity", "color", "circuit", "function")),
    ],
)
def test_header_words_give_columns_their_roles(
    tmp_path: Path, header: tuple[str, ...], roles: tuple[str, ...]
) -> None:
    """Header words of several languages, misprinted ones too, name the same roles (common trade practice)."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *PLAIN), WIDE)
    _, (plan,) = planned(page)
    assert plan.kind == "pins"
    assert plan.columns == {role: j for j, role in enumerate(roles)}
    assert plan.guessed == ()


@pytest.mark.parametrize(
    ("texts", "role"), [(("0.5", "0.75", "1.5"), "size"), (("0.5 BK", "0.75 BU", "1.5 RD/WH"), "color")]
)
def test_cells_decide_where_a_header_word_may_mean_two_things(
    tmp_path: Path, texts: tuple[str, ...], role: str
) -> None:
    """`Wire` stands over sizes with colours, colours or numbers; what the cells look like decides."""
    word = "Wire size" if role == "size" else "Wire"
    rows = [("Pin", word, "Function"), *zip("123", texts, ("Lamp", "Horn", "Fan motor"), strict=True)]
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, (60, 90, 150)))
    assert plan.columns[role] == 1


def test_a_table_without_header_is_read_by_what_its_cells_look_like(tmp_path: Path) -> None:
    """Numbers that count up are cavities, clear codes colours; what may be a circuit is marked as guessed."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled(PLAIN, WIDE)
    table, (plan,) = planned(page)
    assert not table.has_header
    assert plan.columns == {"cavity": 0, "color": 1, "circuit": 2, "function": 3}
    assert set(plan.guessed) == {"circuit"}


def test_a_twin_table_is_two_blocks(tmp_path: Path) -> None:
    """Where the cavity column comes again with other cavities, the table goes on beside itself."""
    rows = (
        ("Pin", "Color", "Circuit", "Pin", "Color", "Circuit"),
        ("1", "BK", "1440", "3", "RD", "1442"),
        ("2", "BU", "1441", "4", "GN", "1443"),
    )
    _, plans = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, (40, 60, 60) * 2))
    assert [p.columns for p in plans] == [
        {"cavity": 0, "color": 1, "circuit": 2},
        {"cavity": 3, "color": 4, "circuit": 5},
    ]
    assert [p.kind for p in plans] == ["pins", "pins"]


def test_a_mirrored_twin_table_is_two_blocks(tmp_path: Path) -> None:
    """Signal, pin | pin, signal: each cavity goes with the signal on its own side."""
    rows = (("Signal", "Pin", "Pin", "Signal"), ("Lamp", "1", "2", "Horn"), ("Fan", "3", "4", "Pump"))
    _, plans = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, (90, 40, 40, 90)))
    assert [p.columns for p in plans] == [{"signal": 0, "cavity": 1}, {"cavity": 2, "signal": 3}]


def test_the_same_cavities_twice_are_two_halves(tmp_path: Path) -> None:
    """Where both blocks print the same cavity in each row, they are the halves of an in-line connector."""
    rows = (
        ("Half A", "", "", "Half B", "", ""),
        ("Pin", "Color", "Circuit", "Pin", "Color", "Circuit"),
        ("1", "BK", "1440", "1", "RD", "1440"),
        ("2", "BU", "1441", "2", "GN", "1441"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled(rows, (40, 60, 60) * 2, spans=[((0, 0), (2, 0)), ((3, 0), (5, 0))])
    _, (plan,) = planned(page)
    assert (plan.kind, plan.halves) == ("pair", ("Half A", "Half B"))
    assert plan.columns == {"cavity": 0, "color": 1, "circuit": 2}
    assert plan.other == {"cavity": 3, "color": 4, "circuit": 5}


def test_two_colors_under_one_cavity_are_two_halves(tmp_path: Path) -> None:
    """One cavity column and colour and circuit twice: both halves in a row, named by their group headers."""
    rows = (
        ("Pin", "Half A", "", "Half B", ""),
        ("", "Color", "Circuit", "Color", "Circuit"),
        ("1", "BK", "1440", "RD", "1440"),
        ("2", "BU", "1441", "GN", "1441"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled(rows, (40, 60, 60, 60, 60), spans=[((0, 0), (0, 1)), ((1, 0), (2, 0)), ((3, 0), (4, 0))])
    _, (plan,) = planned(page)
    assert (plan.kind, plan.halves) == ("pair", ("Half A", "Half B"))
    assert plan.columns == {"cavity": 0, "color": 1, "circuit": 2}
    assert plan.other == {"color": 3, "circuit": 4}


@pytest.mark.xfail(strict=True, reason="`Color side A` is taken for a column of halves; colours are lost")
def test_halves_named_beside_the_header_word(tmp_path: Path) -> None:
    """`Color side A` and `Color side B` are the colours of two halves."""
    rows = (
        ("Pin", "Color side A", "Circuit", "Color side B"),
        ("1", "BK", "1440", "RD"),
        ("2", "BU", "1441", "GN"),
    )
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, (40, 90, 60, 90)))
    assert (plan.kind, plan.halves) == ("pair", ("side A", "side B"))
    assert (plan.columns["color"], plan.other["color"]) == (1, 3)


@pytest.mark.parametrize(
    ("header", "near", "far"),
    [
        (("Wire No.", "Color", "From", "To"), 2, 3),
        (("Circuit", "Colour", "From", "To"), 2, 3),
        (("Leitung", "Farbe", "Von", "Nach"), 2, 3),
    ],
)
def test_a_from_to_list_has_two_ends_in_a_row(
    tmp_path: Path, header: tuple[str, ...], near: int, far: int
) -> None:
    """A wire list is told by its two end columns."""
    rows = (header, ("1440", "BK", "X5:1", "A10:3"), ("1441", "BU", "X5:2", "A10:4"))
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Wire list").ruled(rows, (70, 70, 90, 90)))
    assert (plan.kind, plan.columns["goes_from"], plan.columns["goes_to"]) == ("ends", near, far)


def test_an_end_may_have_its_cavity_in_a_column_of_its_own(tmp_path: Path) -> None:
    """From, pin, to, pin: the second pin belongs to the far end."""
    rows = (
        ("Wire No.", "Color", "From", "Pin", "To", "Pin"),
        ("1440", "BK", "X5", "1", "A10", "3"),
        ("1441", "BU", "X5", "2", "A10", "4"),
    )
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Wire list").ruled(rows, (60,) * 6))
    assert plan.kind == "ends"
    assert (plan.columns["cavity"], plan.other["far_cavity"]) == (3, 5)


@pytest.mark.parametrize(
    ("kind", "word", "names"), [("splice", "Splice", ("SP1", "SP2")), ("ground", "Ground", ("G1", "G2"))]
)
def test_lists_of_splices_and_grounds_are_told_by_their_first_column(
    tmp_path: Path, kind: str, word: str, names: tuple[str, str]
) -> None:
    """Where a splice or ground column stands for the cavity, each row is a wire at that splice or ground."""
    rows = ((word, "Circuit", "Color"), (names[0], "1440", "BK"), (names[1], "1441", "BU"))
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading(f"{word}s").ruled(rows, (70, 70, 70)))
    assert (plan.kind, plan.columns[kind]) == (kind, 0)


def test_a_list_of_fuses_is_told_by_its_first_column(tmp_path: Path) -> None:
    """Fuse, rating and circuit make a fuse list."""
    rows = (
        ("Fuse", "Rating", "Circuit", "Function"),
        ("F1", "10 A", "1440", "Lamp"),
        ("F2", "5 A", "1441", "Horn"),
    )
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Fuse box F100").ruled(rows, (60, 60, 60, 90)))
    assert plan.kind == "fuse"
    assert plan.columns == {"fuse": 0, "rating": 1, "circuit": 2, "function": 3}


@pytest.mark.parametrize(
    "rows",
    [
        (
            ("Item", "Quantity", "Part No."),
            ("1", "2", "88-1440"),
            ("2", "1", "88-1441"),
            ("3", "4", "88-1442"),
        ),
        (("Thread", "Torque", "Tool"), ("M6", "9", "10 mm"), ("M8", "22", "13 mm")),
        (
            ("Step", "Action"),
            ("1", "Turn the key switch off"),
            ("2", "Unplug the connector"),
            ("3", "Measure"),
        ),
    ],
)
def test_other_tables_have_no_plan(tmp_path: Path, rows: tuple[tuple[str, ...], ...]) -> None:
    """Part lists, torques and steps are no pinouts."""
    page = Page(tmp_path / "a.pdf").heading("Maintenance").ruled(rows, (90, 120, 90)[: len(rows[0])])
    _, plans = planned(page)
    assert plans == []


def test_a_header_may_name_the_connector(tmp_path: Path) -> None:
    """`U6 pin` over the cavities says whose they are."""
    rows = (("U6 pin", "Signal"), ("1", "Lamp left"), ("2", "Horn relay"))
    _, (plan,) = planned(Page(tmp_path / "a.pdf").ruled(rows, (60, 120)))
    assert plan.name == "U6"


def test_a_header_that_only_hints_at_a_half_names_no_column(tmp_path: Path) -> None:
    """A header of which only "side" is known says nothing of its column, and breaks nothing."""
    rows = (
        ("Cavity", "Color", "Side xyzzy"),
        ("1", "BK", "left"),
        ("2", "BU/YE", "left"),
        ("3", "RD", "left"),
    )
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, (60, 80, 90)))
    assert (plan.columns["cavity"], plan.columns["color"]) == (0, 1)
    assert "half" not in plan.columns


def test_a_column_of_several_facts_is_named_by_one_of_them(tmp_path: Path) -> None:
    """Circuit, size and colour under `Wire` leave the use to the column that says so."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    body = (
        ("1", "GD531 2,5 BK", "Lamp left"),
        ("2", "GF129 0,5 RD", "Horn relay"),
        ("3", "GF804 1,5 GN", "Fan"),
        ("4", "GF787 0,75 YE", "Pump"),
    )
    _, (plan,) = planned(page.ruled((("Pin", "Wire", "Function"), *body), (40, 120, 120)))
    assert plan.columns["function"] == 2
    assert {"circuit", "size", "color", "function"} <= plan.facts


def test_a_preposition_over_codes_says_nothing_of_ends(tmp_path: Path) -> None:
    """The `de` of a broken `Color de cable` over colour codes is no column of connectors."""
    page = Page(tmp_path / "a.pdf").heading("Conector X5")
    body = (("1", "88", "0,5", "NG"), ("2", "43", "1,5", "BL"), ("3", "73", "2,5", "VD/GR"))
    _, (plan,) = planned(page.ruled((("Vía", "Línea", "Sección", "de"), *body), (40, 60, 60, 60)))
    assert "goes_from" not in plan.columns


def test_numbers_and_fields_beside_letters_are_no_pinout(tmp_path: Path) -> None:
    """A map of a diagram's fields has letters at its side like cavities, but no words."""
    page = Page(tmp_path / "a.pdf").heading("Fields of the diagram")
    body = (("", "1", "2", "3"), ("A", "7/C", "X5", "3/D"), ("B", "2/A", "X9", "1/C"), ("C", "9/B", "", "X7"))
    _, plans = planned(page.aligned(body, (60, 110, 160, 210)))
    assert plans == []


def test_a_header_of_size_and_colour_proves_single_letters(tmp_path: Path) -> None:
    """Under a word for colour, a letter behind each size is one, of whatever scheme."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    body = (
        ("1", "1.5 N", "L30-09"),
        ("2", "0.75 H", "L25-09"),
        ("3", "2.5 Z", "L4-03"),
        ("4", "0.5 B-S", "L9-01"),
    )
    _, (plan,) = planned(page.ruled((("Pin", "Size / Color", "Circuit"), *body), (40, 80, 80)))
    assert plan.orders == (("color", ("size", "color")),)


def test_two_headers_over_one_column_are_a_bad_cut(tmp_path: Path) -> None:
    """A reading whose column has the headers of two, and cells that do not part, is worth less."""

    def worth(name: str, header: tuple[str, ...]) -> float:
        page = Page(tmp_path / name).heading("Connector X5")
        body = (("1", "L30-09", "Pump feed"), ("2", "L25-09", "Horn relay"), ("3", "L4-03", "Ground"))
        table, _ = planned(page.ruled((header, *body), (40, 120, 120)))
        return table_quality(table).worth

    whole = worth("a.pdf", ("Pin", "Circuit", "Function"))
    assert worth("b.pdf", ("Pin", "Circuit Color", "Function")) < whole / 2


def test_a_slash_between_colour_words_stays(tmp_path: Path) -> None:
    """`rot / violett` behind a circuit and a size is one code as printed."""
    body = (("1", "1005 1,5 rot / violett"), ("2", "1006 0,5 grau"), ("3", "1007 2,5 grau / blau"))
    page = Page(tmp_path / "a.pdf").heading("Stecker X5").ruled((("Pin", "Leitung"), *body), (40, 140))
    table, (plan,) = planned(page)
    assert [r.values["color"] for r in table_to_rows(table, plan)] == ["rot / violett", "grau", "grau / blau"]


def test_a_column_whose_header_says_wire_is_unread_where_its_cells_do_not_part(tmp_path: Path) -> None:
    """Cells that nobody can part under a word for the wire make their rows doubtful."""
    body = (
        ("1", "14 L/Gr 66 2 7", "Pump feed"),
        ("2", "20 7 Y/Br", "Horn relay"),
        ("3", "G/Lg 3 59", "Ground"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    _, (plan,) = planned(page.ruled((("Pin", "Wire", "Function"), *body), (40, 120, 120)))
    assert plan.unread == (1,)


def test_a_circuit_of_one_figure_is_one_behind_size_and_colour(tmp_path: Path) -> None:
    """`20 R/P 5` parts like `14 L/Gr 66` in the other rows."""
    body = (("1", "14 L/Gr 66"), ("2", "20 Y/Br 20"), ("3", "16 G/Lg 59"), ("4", "20 R/P 5"))
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((("Pin", "Wire"), *body), (40, 120))
    table, (plan,) = planned(page)
    assert [r.values["circuit"] for r in table_to_rows(table, plan)] == ["66", "20", "59", "5"]
