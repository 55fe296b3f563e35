"""Places of wires and far ends: whose cavities a column of `X5:3` names."""

from __future__ import annotations

from xref.rows.wireplaces import places_column

FAR = ("-A11:29", "-A13:18", "-A11:37", "", "-A13:31", "-A11:26")
CIRCUITS = ("1518", "1683", "6629", "3405", "3318", "5581")
COUNT = ("1", "2", "3", "4", "5", "6")
FULL = ("A11:29", "A13:18", "A11:37", "A13:2", "A11:31", "A13:26")


def test_wires_without_a_place_have_their_own_cavities_elsewhere() -> None:
    """Where some wires go nowhere, the column tells only far ends."""
    assert places_column((COUNT, CIRCUITS, FAR), ("", "circuit", "goes_to")) == -1


def test_a_column_that_counts_on_holds_the_cavities() -> None:
    """A column under an unknown header that counts from 1 is nearer to cavities than far ends under `To`."""
    assert places_column((COUNT, CIRCUITS, FULL), ("", "circuit", "goes_to")) == -1
    assert places_column((CIRCUITS, FULL), ("circuit", "goes_to")) == 1


def test_rows_of_connectors_are_no_rows_of_wires() -> None:
    """Beside a column of connectors a place is where the wire goes on."""
    assert places_column((COUNT, CIRCUITS, FULL), ("connector", "circuit", "goes_to")) == -1
