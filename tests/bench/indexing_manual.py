"""Draws the long manual that indexing is measured on: few pinouts among much prose and other tables."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

#: Pages in a hundred that hold pinouts, and that hold tables which are none; the rest is prose.
PINOUTS, OTHER_TABLES = 12, 15
CAVITIES = (8, 24)
ROW, LEFT, TOP = 16.0, 56.0, 770.0
COLORS = ("RD", "BU", "GN", "YE", "BK", "WH", "BN", "VT", "OG", "GY")
THINGS = ("pump", "valve", "sensor", "lamp", "relay", "motor", "switch", "heater", "horn", "fan", "brake")
SIDES = ("left", "right", "front", "rear", "upper", "lower")
KINDS = ("supply", "signal", "return", "request", "status")
SENTENCES = (
    "Remove the cover and keep the bolts apart, because they are of different length.",
    "Before work on the electrical system the battery is disconnected and the keys are taken out.",
    "The oil level is checked with the mast lowered and the engine at rest for ten minutes.",
    "Clean the mating faces, fit a new gasket and tighten the screws crosswise in two passes.",
    "If the noise remains, replace the bearing and measure the clearance again.",
    "The harness runs along the left frame rail and is held by clips every 300 mm.",
    "Only trained persons may work on the lifting chain and on the brake.",
    "Raise the machine on firm ground, put stands under the frame and secure the wheels.",
)
FASTENERS = ("Pos.", "Fastener", "Torque Nm", "Thread")
FUSES = ("Fuse", "Rating", "Protects")
FAULTS = ("Code", "Description", "Remedy")
PLACES = ("Conn.", "Part", "Location", "Page")


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A row as drawn."""

    page: int
    connector: str
    cavity: str
    color: str
    circuit: str


def draw_manual(path: Path, pages: int, seed: int) -> list[Known]:
    """Write a manual of so many pages and return the rows on its pinout pages."""
    dice = random.Random(seed)
    canvas = Canvas(str(path), pagesize=A4, invariant=1)
    known: list[Known] = []
    for page in range(1, pages + 1):
        canvas.setFont("Helvetica", 9)
        canvas.drawCentredString(A4[0] / 2, 30, str(page))
        # Spread evenly, so that any part of the manual holds the same share.
        place = page * 37 % 100
        if place < PINOUTS:
            known += _pinout(canvas, page, dice)
        elif place < PINOUTS + OTHER_TABLES:
            _other_table(canvas, page, dice)
        else:
            _prose(canvas, page, dice)
        canvas.showPage()
    canvas.save()
    return known


def _pinout(canvas: Canvas, page: int, dice: random.Random) -> list[Known]:
    connector = f"C{page}"
    known, rows = [], [("Cavity", "Color", "Circuit", "Size", "Function")]
    for cavity in range(1, dice.randint(*CAVITIES) + 1):
        color = "/".join(dice.sample(COLORS, dice.choice((1, 2))))
        circuit = str(1000 + dice.randrange(8000))
        rows.append((str(cavity), color, circuit, dice.choice(("0.5", "1.5", "2.5")), _thing(dice)))
        known.append(Known(page=page, connector=connector, cavity=str(cavity), color=color, circuit=circuit))
    _heading(canvas, f"Connector {connector} - {dice.choice(THINGS).capitalize()} controller")
    _table(canvas, rows, (50.0, 70.0, 70.0, 50.0, 220.0))
    return known


def _other_table(canvas: Canvas, page: int, dice: random.Random) -> None:
    kind = page % 4
    numbers = range(1, dice.randint(8, 18))
    if kind == 0:
        rows = [FASTENERS, *((str(n), _thing(dice), str(dice.randint(6, 180)), "M8") for n in numbers)]
    elif kind == 1:
        rows = [FUSES, *((f"F{n}", f"{dice.choice((5, 10, 15))} A", _thing(dice)) for n in numbers)]
    elif kind == 2:
        rows = [FAULTS, *((f"{dice.randint(100, 999)}", _thing(dice), SENTENCES[4][:52]) for _ in numbers)]
    else:
        rows = [PLACES, *((f"C{dice.randint(1, 900)}", _thing(dice), "mast foot", "4-17") for _ in numbers)]
    _heading(canvas, ("Torques", "Fuse ratings", "Fault codes", "Connector locations")[kind])
    _table(canvas, rows, (60.0, 130.0, 260.0, 50.0)[: len(rows[0])])


def _prose(canvas: Canvas, page: int, dice: random.Random) -> None:
    _heading(canvas, f"{page // 20 + 1}.{page % 20 + 1} {dice.choice(THINGS).capitalize()}: remove and fit")
    top = TOP - 30
    for line in range(dice.randint(25, 45)):
        lead = f"{line // 5 + 1}. " if line % 5 == 0 else "    "
        canvas.drawString(LEFT, top - 14 * line, lead + dice.choice(SENTENCES))


def _heading(canvas: Canvas, text: str) -> None:
    canvas.setFont("Helvetica-Bold", 12)
    canvas.drawString(LEFT, TOP, text)
    canvas.setFont("Helvetica", 9)


def _table(canvas: Canvas, rows: list[tuple[str, ...]], widths: tuple[float, ...]) -> None:
    top = TOP - 20
    for row in rows:
        x = LEFT
        for text, width in zip(row, widths, strict=True):
            canvas.rect(x, top - ROW, width, ROW)
            canvas.drawString(x + 4, top - ROW + 5, text)
            x += width
        top -= ROW


def _thing(dice: random.Random) -> str:
    return f"{dice.choice(SIDES)} {dice.choice(THINGS)} {dice.choice(KINDS)}"
