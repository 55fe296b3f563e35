"""Pins told in lines that are no table: a line a pin, a line a signal, several pins in a line."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins

SOCKET = (("Indicator left", "yellow"), ("Rear fog lamp", "blue"), ("Ground", "white"), ("Stop lamp", "red"))
Read = list[tuple[str, str, str, str, str]]


def _page(tmp_path: Path, lines: Sequence[str]) -> Page:
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Pump controller")
    for text in lines:
        page.line(text)
    return page


def _read(tmp_path: Path, lines: Sequence[str]) -> Read:
    found = pins(_page(tmp_path, lines)).pins
    return [(p.connector, p.cavity, p.color_code, p.circuit, p.function) for p in found]


def _signals(tmp_path: Path, lines: Sequence[str]) -> list[tuple[str, str, str]]:
    """Where no circuits are printed, the signal's name stands for the circuit."""
    return [(connector, cavity, circuit) for connector, cavity, _, circuit, _ in _read(tmp_path, lines)]


@pytest.mark.parametrize(
    ("lines", "facts"),
    [
        (
            ("Pin 1: 0239; VI; Salida PWM", "Pin 2: 0080; BL-AM; Masa", "Pin 3: 0297; AZ; Señal"),
            [("VI", "0239", "Salida PWM"), ("BL-AM", "0080", "Masa"), ("AZ", "0297", "Señal")],
        ),
        (
            ("Pin 1 - Sensor feed (RD BU) 1440", "Pin 2 - Ground (BK) 1441", "Pin 3 - Signal (GN YE) 1442"),
            [("RD BU", "1440", "Sensor feed"), ("BK", "1441", "Ground"), ("GN YE", "1442", "Signal")],
        ),
        (
            ("Vía A VD S861 Cargador", "Vía B MR P587 Referencia 5 V", "Vía C AZ/VD L971 Masa"),
            [("VD", "S861", "Cargador"), ("MR", "P587", "Referencia 5 V"), ("AZ/VD", "L971", "Masa")],
        ),
        (
            ("A. (BKYE) 917F Feed", "B. (PK) 187F Horn relay", "C. (BNBU) 752F Return"),
            [("BKYE", "917F", "Feed"), ("PK", "187F", "Horn relay"), ("BNBU", "752F", "Return")],
        ),
    ],
)
def test_the_facts_of_a_line_part(
    tmp_path: Path, lines: tuple[str, ...], facts: list[tuple[str, str, str]]
) -> None:
    """Colour, circuit and use of a line are told apart by brackets, semicolons and their forms."""
    assert [(color, circuit, use) for _, _, color, circuit, use in _read(tmp_path, lines)] == facts


def test_a_line_may_hold_several_pins_of_a_signal(tmp_path: Path) -> None:
    """`Pins 2-4` goes on a list of `Pin`, and each of its cavities is a row."""
    found = _signals(tmp_path, ("Pin 1 - RXD", "Pins 2-4 - GND", "Pin 5 - CAN_H", "Pins 6 & 7 - VCC"))
    assert [(cavity, signal) for _, cavity, signal in found] == [
        ("1", "RXD"),
        ("2", "GND"),
        ("3", "GND"),
        ("4", "GND"),
        ("5", "CAN_H"),
        ("6", "VCC"),
        ("7", "VCC"),
    ]


def test_pins_without_a_word_need_every_number(tmp_path: Path) -> None:
    """Names of signals behind bare numbers are pins where none is missing, and nothing where one is."""
    glued = ("1: GND", "2, 3: VCC", "4 & 5: CAN_H", "6: DIN3", "7: RXD")
    assert [c for _, c, *_ in _read(tmp_path, glued)] == [str(n) for n in range(1, 8)]
    several = ("1) GND", "2,3) VCC", "4) CAN_H", "5-7) DIN3")
    assert [c for _, c, *_ in _read(tmp_path, several)] == [str(n) for n in range(1, 8)]
    whole = ("1 = GND", "2 to 4 = VCC", "5 = CAN_H", "6-7 = DIN3")
    assert [c for _, c, *_ in _read(tmp_path, whole)] == [str(n) for n in range(1, 8)]
    assert _read(tmp_path, ("1 = GND", "4 = VCC", "5 = CAN_H", "8 = DIN3")) == []


def test_signals_with_their_places(tmp_path: Path) -> None:
    """A line that names a signal and its places is a row of each connector it names."""
    lines = ("GND: H1-29, H1-30, K3-4", "CAN_H: H1-1", "+12V: K3-1, H1/A2")
    assert _signals(tmp_path, lines) == [
        ("H1", "29", "GND"),
        ("H1", "30", "GND"),
        ("K3", "4", "GND"),
        ("H1", "1", "CAN_H"),
        ("K3", "1", "+12V"),
        ("H1", "A2", "+12V"),
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ("Pins:", "1 GND  2 +5V  3 CAN_H", "4 CAN_L  6 DIN3"),
        ("Pins:", "1=GND 2=+5V 3=CAN_H", "4=CAN_L 6=DIN3"),
        ("Pins: 1 GND, 2 +5V, 3 CAN_H,", "4 CAN_L, 6 DIN3."),
    ],
)
def test_pins_one_behind_the_other(tmp_path: Path, lines: tuple[str, ...]) -> None:
    """Under or behind a word for pins, numbers that count on have the name that follows each."""
    assert _signals(tmp_path, lines) == [
        ("X5", "1", "GND"),
        ("X5", "2", "+5V"),
        ("X5", "3", "CAN_H"),
        ("X5", "4", "CAN_L"),
        ("X5", "6", "DIN3"),
    ]


def test_settings_one_behind_the_other_are_no_pins(tmp_path: Path) -> None:
    """Without a word for pins, numbers with names behind them may be the settings of a switch."""
    assert _read(tmp_path, ("Switch:", "1=ON 2=OFF 3=ON 4=OFF")) == []


def test_dots_lead_to_what_a_pin_is_for(tmp_path: Path) -> None:
    """A line with dots between a pin and its use heads no table, though both are words of headers."""
    uses = ("Pump feed", "Ground", "Signal")
    lines = [f"Pin {n} ........................ {use}" for n, use in enumerate(uses, 1)]
    assert [(c, use) for _, c, _, _, use in _read(tmp_path, lines)] == [
        ("1", "Pump feed"),
        ("2", "Ground"),
        ("3", "Signal"),
    ]


def test_as_many_lines_as_the_head_says_are_pins(tmp_path: Path) -> None:
    """Uses behind bare numbers are pins where the block over them gives their number."""

    def read(ways: str) -> list[tuple[str, str]]:
        page = Page(tmp_path / "a.pdf").heading("Brake light switch")
        page.aligned((("Connector", "X274"), ("Cavities", ways)), (60, 140), bold_first=False, down=24)
        for n, use in enumerate(uses, 1):
            page.line(f"{n} ........................ {use}")
        return [(p.cavity, p.function) for p in pins(page).pins]

    uses = ("Pump feed", "Sensor ground", "Relay control", "Lamp left", "Lamp right", "Fan motor")
    assert read("6") == [(str(n), use) for n, use in enumerate(uses, 1)]
    assert read("8") == []


def test_dots_may_lead_from_what_is_said_to_the_color(tmp_path: Path) -> None:
    """A numbered line whose text is led on to a colour is a pin; one that is led on to a page is none."""
    lines = [f"{n}  {what} {'.' * 40} {color}" for n, (what, color) in enumerate(SOCKET, start=1)]
    page = Page(tmp_path / "a.pdf").heading("Trailer socket X9")
    for line in lines:
        page.line(line)
    assert [(p.cavity, p.color_code, p.function) for p in pins(page).pins] == [
        (str(n), color, what) for n, (what, color) in enumerate(SOCKET, start=1)
    ]
    contents = Page(tmp_path / "b.pdf").heading("Contents")
    for n, (what, _) in enumerate(SOCKET, start=1):
        contents.line(f"{n}  {what} {'.' * 40} {4 * n}")
    assert not pins(contents).pins


def test_brackets_may_name_the_wire_before_its_color(tmp_path: Path) -> None:
    """`Pin 3 (wire BU/YE): Horn` says what colour the wire has, and an item may say that none is there."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    for n, text in enumerate(
        ("(wire BC/GR): Lamp, left", "(wire MR): Horn", ": not used", "(wire JN): Fan"), 1
    ):
        page.line(f"Pin {n} {text}")
    assert [(p.cavity, p.color_code, p.function, p.status) for p in pins(page).pins] == [
        ("1", "BC/GR", "Lamp, left", "used"),
        ("2", "MR", "Horn", "used"),
        ("3", "", "", "unused"),
        ("4", "JN", "Fan", "used"),
    ]
