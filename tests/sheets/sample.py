"""An invented module's sheet with everything that may stand on one. Not from any machine."""

from __future__ import annotations

from PIL import Image, ImageDraw

from xref.harness.answers import (
    CircuitAnswer,
    ConnectorView,
    Continuation,
    ModuleSheet,
    Near,
    PassThrough,
    SheetLine,
    SheetPart,
)
from xref.records import Connector, PageNote, Pin

MAST = "mast-and-hydraulics.pdf"
DRIVE = "drive-and-body.pdf"
COLOURS = (
    ("BK", "black", "", ""), ("WH/BK", "white", "black", ""), ("RD/YE", "red", "yellow", ""),
    ("GN", "green", "", ""), ("BU/WH/RD", "blue", "white", "red"), ("YE/GN", "yellow", "green", ""),
    ("BN", "brown", "", ""), ("GY/PK", "grey", "pink", ""), ("VT", "violet", "", ""), ("XQ", "", "", ""),
)  # fmt: skip
LONG = (
    "Lift pressure transducer supply, filtered, shared with the tilt cylinder's position sensor and "
    "the load weighing display in the operator's overhead guard"
)

FUNCTIONS = (
    LONG,
    "Steuergerät Hubmast: Überdruckschalter, Masse Größe ½ Ω → 5 V",
    "マスト制御器 圧力センサ電源（左）",
    "CAN high",
    "Tilt valve <b>B</b> & return",
)


def pin(connector: str, cavity: str, **more: object) -> Pin:
    """Return a pin of the mast manual unless said otherwise."""
    given: dict[str, object] = {"machine": "Forklift", "document": MAST, "page": 12, "table_no": 1}
    return Pin(connector=connector, cavity=cavity, **{**given, **more})  # type: ignore[arg-type]


def answer(own: Pin, ends: int, passes: int) -> CircuitAnswer:
    """Return a circuit with so many other ends and pass-throughs."""
    others = tuple(
        pin(f"P{30 + n} X{n % 2 + 1}", str(n + 3), component=f"Pump motor controller {n + 1}",
            circuit=own.circuit, role="component", page=40 + n, document=DRIVE)
        for n in range(ends)
    )  # fmt: skip
    through = tuple(
        PassThrough(
            machine="Forklift",
            connector=f"X{5 + n}",
            halves=(pin(f"X{5 + n}", "12", half="A", role="inline"),) if n == 2 else tuple(
                pin(f"X{5 + n}", "12", half=half, role="inline") for half in "AB"
            ),
            missing_half=n == 2,
        )
        for n in range(passes)
    )  # fmt: skip
    ground = (pin("G3", "1", role="ground", component="Mast foot"),) if passes else ()
    return CircuitAnswer(
        circuit=own.circuit,
        appearances=(own, *others),
        ends=(own, *others),
        pass_throughs=through,
        grounds=ground,
        splices=(pin("S14", "", role="splice"),) if ends == 2 else (),
        fuses=(),
        continues_as=(Continuation(circuit="1452", at=pin("X5", "12", half="A")),) if ends == 3 else (),
    )


def wired(number: int, connector: str, **more: object) -> SheetLine:
    """Return a wired line; its content follows from the number."""
    code, base, stripe, ring = COLOURS[number % len(COLOURS)]
    own = pin(
        connector, str(number), circuit=f"{1400 + number}{'A' if number % 7 == 0 else ''}", color_code=code,
        base_color=base, stripe_color=stripe, ring_color=ring, size="0.75" if number % 3 else "1.5 mm²",
        component="Mast controller",
        function=FUNCTIONS[number % 5],
        **more,
    )  # fmt: skip
    feeding = (pin("F12", "1", role="fuse", function="10 A", document=DRIVE),) if number % 4 == 0 else ()
    return SheetLine(pin=own, others=answer(own, number % 7, number % 4), feeding=feeding)


def mast_sheet() -> ModuleSheet:
    """Return the sheet of a mast controller with two connectors."""
    lines = [wired(n, "M12 X1") for n in range(1, 35)]
    doubtful = ("readings-disagree", "color-unknown")
    lines.append(wired(35, "M12 X1", flags=doubtful, notices=("circuit-once",)))
    lines.append(wired(36, "M12 X1"))
    lines.append(SheetLine(pin=wired(37, "M12 X1").pin, others=None))
    second = pin("M12 X1", "36", circuit="1990", color_code="RD/YE", base_color="red", stripe_color="yellow")
    lines.insert(36, SheetLine(pin=second, others=answer(second, 1, 0)))
    lines.append(SheetLine(pin=pin("M12 X1", "38", status="unused"), others=None))
    lines.append(SheetLine(pin=pin("M12 X1", "39", status="not stated"), others=None))
    head = Connector(
        machine="Forklift", connector="M12 X1", role="component", component="Mast controller",
        connector_name="Mast controller, main plug", color="grey",

        location="Left mast foot, behind the cover", gender="female", cavities_stated=40,
        cavities_read=39, document=MAST, pages=(12, 13),
    )  # fmt: skip
    view = ConnectorView(
        connector=head,
        pins=tuple(line.pin for line in lines),
        missing=("40",),
        same_color=(("2", "12", "22"),),
        reversed_color=(("3", "36"),),
    )
    small = [wired(n, "M12 X2", flags=("under-watermark",) if n == 2 else ()) for n in (1, 2, 3)]
    other = Connector(
        machine="Forklift", connector="M12 X2", half="A", component="Mast controller", document=MAST,
        cavities_read=3, view="from the wire side", flags=("heading-uncertain",),
    )  # fmt: skip
    return ModuleSheet(
        asked=("Mast controller",),
        parts=(
            SheetPart(view=view, lines=tuple(lines)),
            SheetPart(
                view=ConnectorView(connector=other, pins=tuple(x.pin for x in small)), lines=tuple(small)
            ),
        ),
        taken=(("M12 X1", "its component is “Mast controller”"), ("M12 X2", "same designator M12")),
        not_taken=(Near(name="Mast lamp", why="another component whose name begins alike"),),
        unread_pages=(
            PageNote(document=DRIVE, page=7, page_label="", outcome="unread", why="only a picture"),
        ),
    )


def crop(of: Pin) -> Image.Image:
    """Return a picture as a crop of a page might be."""
    image = Image.new("RGB", (820, 60), "white")
    pen = ImageDraw.Draw(image)
    pen.rectangle((4, 4, 815, 55), outline="black", width=2)
    pen.text(
        (20, 22), f"{of.cavity}   {of.circuit}   {of.color_code}   row as printed in the manual", fill="black"
    )
    return image
