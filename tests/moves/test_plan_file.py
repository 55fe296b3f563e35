"""The plan file: what it may say, and what is wrong with it in a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from xref.moves.plan_file import TAIL_METRES, PlanError, parse_plan, read_plan


def error(text: str) -> str:
    """Return what is said of a plan that cannot be followed."""
    with pytest.raises(PlanError) as raised:
        parse_plan(text, "move.toml")
    assert raised.value.exit_code == 2 and raised.value.message.startswith("move.toml")
    return f"{raised.value.message} {raised.value.hint}"


def test_an_empty_plan_is_a_plan() -> None:
    """Nothing is moved, and everything else is as it is by default."""
    plan = parse_plan("")
    assert (plan.place, plan.rest, plan.tail_m, plan.machine) == ({}, "stays", TAIL_METRES, None)


def test_everything_a_plan_may_say_is_read() -> None:
    """Each key lands where it belongs; names lose blanks around them."""
    plan = parse_plan(
        'machine = "lift"\nrest = "left behind"\nsystem_volts = 24\n'
        '[place]\n" Winch " = " aft "\n[drop]\ncomponents = ["Horn"]\n[host]\n"A1:1" = "fuse H3"\n'
        '[inlines]\nkeep = ["X5"]\n[route]\n"aft - fore" = 4\n[tails]\nmetres = 0.2\n'
        '[shorten]\nnets = ["7"]\n[safety]\naccepted = ["Brake light"]\n'
    )
    assert plan.place == {"Winch": "aft"} and plan.host == {"A1:1": "fuse H3"}
    assert plan.route_m("fore", "aft") == 4.0 and plan.route_m("fore", "mid") is None
    assert (plan.drop, plan.keep, plan.shorten, plan.accepted) == (
        ("Horn",),
        ("X5",),
        ("7",),
        ("Brake light",),
    )
    assert (plan.tail_m, plan.system_volts, plan.rest) == (0.2, 24.0, "left behind")


@pytest.mark.parametrize("open_", ['""', '"  "', '"…"', '"..."', '"?"'])
def test_a_place_that_is_still_open_is_an_error_that_names_it(open_: str) -> None:
    """A line nobody filled in never passes in silence, whatever stands for "later" in it."""
    said = error(f'[place]\n"Mast controller" = {open_}\nA40 = "aft"\nA50 = {open_}\n')
    assert "No place is given yet for Mast controller, A50." in said and "delete the line" in said
    said = error(f'[host]\n"A1:1" = {open_}\n')
    assert "Nothing is written yet at A1:1 in [host]" in said


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ('plce = "x"', "knows no key plce. Did you mean place?"),
        ("[plac]\n", "Did you mean place?"),
        ('[drop]\ncomponent = ["Horn"]', "knows no key drop.component. Did you mean drop.components?"),
        ("[inlines]\nkept = []", "inlines.keep"),
        ('place = "x"', "place is a table: write [place]"),
        ('rest = "goes"', 'It is "stays" or "left behind".'),
        ("machine = 3", "machine is not what it must be"),
        ("system_volts = true", "system_volts is not what it must be. It is a number with a point"),
        ("[tails]\nmetres = 0", "a number above 0"),
        ("[tails]\nmetres = -1", "a number above 0"),
        ("[place]\nA40 = 3", 'place."A40" is not what it must be. It is a text in quotes.'),
        ("[place]\nA30 X1 = 3", "is no TOML"),
        ('[drop]\ncomponents = "Horn"', "a list of names"),
        ('[route]\n"aft" = 3', "two places with"),
        ('[route]\n"aft - aft" = 3', "two places with"),
        ('[route]\n"aft - fore" = 0', "a number above 0"),
        ('[route]\n"aft - fore" = "far"', "It is a number"),
        ('[route]\n"aft - fore" = "4,2"', "It is a number with a point and without quotes: 4.2"),
        ('[route]\n"aft - fore" = 4,2', "metres are written with a point: 4.2"),
        ("[tails]\nmetres = 15", "15 cm are 0.15"),
        ('[route]\n"aft - fore" = 6500', "100 at most: 650 cm or 6500 mm are 6.5"),
        ('[route]\n"aft - fore" = 650', "in metres, 100 at most"),
        ("[place]\nA40 = “aft”", "quotes are straight"),
        ('[place]\nA40 = "aft"\nA40 = "fore"', 'this name or [table] is there already: give it once'),
        ('[place]\nA40 = "aft"\n[place]\nA50 = "fore"', "there already: give it once"),
        ('[place]\nA40 = "aft"\nA50 = "Aft"', "the places aft and Aft differ only in how they are written"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_in_a_sentence(text: str, wanted: str) -> None:
    """File, key, and what to write instead."""
    assert wanted in error(text)


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    """A missing file and one that is no text are errors of their own, not faults of the program."""
    with pytest.raises(PlanError, match="cannot be read"):
        read_plan(tmp_path / "none.toml")
    odd = tmp_path / "odd.toml"
    odd.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(PlanError, match="not UTF-8"):
        read_plan(odd)
    with pytest.raises(PlanError, match="cannot be read"):
        read_plan(tmp_path)


@pytest.mark.parametrize(
    "text",
    [
        "system_volts = nan",
        "system_volts = inf",
        "system_volts = 1" + "0" * 400,
        "system_volts = 1" + "0" * 5000,
        "[tails]\nmetres = nan",
        '[route]\n"a - b" = inf',
        '[route]\n"a - b" = 1\n"b - a" = 2',
        "machine = " + "[" * 5000,
        '[place]\n" M1" = "bow"\n"M1" = "stern"',
        '[place]\n"M1" = "bow\\u0000"',
        '[place]\n"M1" = "\\u001b[31mbow"',
        '[place]\n"M1\\u202e" = "bow"',
        '[place]\n"M1" = "bow"\n"M2" = "Bow"',
        '[host]\n"M1:1" = "fuse\\u0007"',
    ],
)
def test_hostile_texts_and_numbers(text: str) -> None:
    """Numbers that are none, texts nobody can see, and two spellings of one name are said, not followed."""
    with pytest.raises(PlanError) as caught:
        parse_plan(text)
    assert "\x1b" not in f"{caught.value}{caught.value.hint}"


def test_white_space_in_names() -> None:
    """A text over two lines is one line: it goes onto labels."""
    plan = parse_plan('[place]\n"Mast  controller" = "stern\\n locker"')
    assert plan.place == {"Mast controller": "stern locker"}
