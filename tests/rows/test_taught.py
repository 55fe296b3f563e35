"""What a person lists as columns -> roles, and how such a table is read."""

from __future__ import annotations

import pytest

from xref.errors import UsageError
from xref.records import Box
from xref.rows.taught import roles_named, taught_plans
from xref.tables.layout import TaughtLayout
from xref.tables.table import Table


def table(*roles: str) -> Table:
    """Make a table of these columns without any cell."""
    edges = tuple(float(n) for n in range(len(roles) + 1))
    layout = TaughtLayout(roles=roles, edges=edges, header=("",) * len(roles))
    box = Box(x0=0, top=0, x1=1, bottom=1)
    return Table(
        page=1,
        number=1,
        kind="aligned",
        box=box,
        edges=edges,
        header=layout.header,
        header_score=0.0,
        bands=(),
        taught=layout,
    )


def test_roles_are_named_in_our_words_or_the_manuals() -> None:
    """Our own words, header words of a known language, and a dash for a column to leave out."""
    assert roles_named("cavity, color,-,goes to") == ("cavity", "color", "", "goes_to")
    assert roles_named("Pin,Farbe,Funktion") == ("cavity", "color", "function")


@pytest.mark.parametrize("text", ["color,circuit", "", "cavity,wombat", "-,-"])
def test_a_list_that_names_no_table_is_refused(text: str) -> None:
    """Without a cavity no row can be told from another, and an unknown word is no column."""
    with pytest.raises(UsageError):
        roles_named(text)


def test_a_plan_holds_each_column_under_its_role() -> None:
    """The columns stand in the plan as they were named, none of them guessed."""
    (plan,) = taught_plans(table("cavity", "", "color"))
    assert (plan.kind, plan.columns, plan.guessed) == ("pins", {"cavity": 0, "color": 2}, ())


def test_colour_twice_beside_one_cavity_is_an_in_line_with_both_halves() -> None:
    """The second column of a role is that of the other half."""
    (plan,) = taught_plans(table("circuit", "color", "cavity", "color", "circuit"))
    assert plan.kind == "pair" and plan.other == {"color": 3, "circuit": 4}


def test_from_and_to_are_the_two_ends_of_a_wire() -> None:
    """A from/to list gives both ends, each with its cavity where that has a column."""
    (plan,) = taught_plans(table("circuit", "goes_from", "cavity", "goes_to", "cavity"))
    assert plan.kind == "ends" and plan.other == {"end": 3, "far_cavity": 4}


def test_a_column_may_hold_several_facts() -> None:
    """They are named in the order printed; one word in two languages is one fact."""
    roles = roles_named("cavity,circuit/color,function")
    assert roles == ("cavity", "circuit/color", "function")
    (plan,) = taught_plans(table(*roles))
    assert plan.columns == {"cavity": 0, "color": 1, "function": 2}
    assert plan.orders == (("color", ("circuit", "color")),) and plan.told
    assert roles_named("pin,Farbe/Colour") == ("cavity", "color")
    two = taught_plans(table(*roles_named("cavity,size/color,cavity,size/color")))
    assert [p.columns for p in two] == [{"cavity": 0, "color": 1}, {"cavity": 2, "color": 3}]


@pytest.mark.parametrize(
    "text",
    [
        "cavity/circuit,color",
        "cavity,circuit/goes_to",
        "cavity,circuit/function/color",
        "cavity,circuit/color,color",
        "cavity,circuit/color,circuit/color",
        "cavity,circuit/wombat",
    ],
)
def test_facts_that_cannot_be_parted_are_refused(text: str) -> None:
    """Nothing of a column is dropped in silence: what cannot be read so is an error."""
    with pytest.raises(UsageError):
        roles_named(text)
