"""A net drawn: every end, in-line and splice in a form of its own, legible, nothing over anything else."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from pathlib import Path

import pymupdf
import pytest
from hypothesis import given, settings
from PIL import Image, ImageChops

from tests.harness.test_steps import any_net
from tests.harness.wired import inline, mapped, row, star, viewed
from xref.errors import CannotWrite, UsageError
from xref.harness.answers import CircuitAnswer, TraceAnswer
from xref.harness.routes import routes_between
from xref.harness.steps import Kind, Step
from xref.records import Box, Pin
from xref.sheets.drawing import Area, Drawing, Label
from xref.sheets.drawing_files import write_drawing
from xref.sheets.net_files import on_a_screen, pages_of, write_circuit_drawing, write_trace_drawing
from xref.sheets.net_layout import HEIGHTS, SHAPE, WIDTH, Layout, Line, Node, laid_out
from xref.sheets.net_plan import plan_of_circuit
from xref.sheets.net_shapes import shapes_of
from xref.sheets.printed import Wire

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '</text><script>alert("x")</script>&\x1b[31m\u202e'

NETS: dict[str, list[Pin]] = {
    "way": [
        row("A1:1", "component", to="X5A:7", component="Pump controller"),
        *inline("X5:7"),
        row("B2:4", "fuse", to="X5B:7", component="Fuse box"),
    ],
    "hub": [
        *star(3, splice=False),
        *inline("X5:7"),
        row("G1:1", "ground"),
        row("F1:3", "fuse"),
        row("M1:1", "unknown"),
    ],
    "splice of sixty": star(60, splice=True),
    "sixty nobody says where": star(60, splice=False),
    "no mate": [row("A1:1", "component", to="X5A:3"), row("X5:3", "inline", half="A")],
    "long words": [
        row("A1:1", "component", component="Steuergerät Hubmastneigungsverstellung " * 4),
        row(
            "B" * 40 + ":1", "component", code="WH", document="a_very_long_name_without_a_blank" * 3 + ".pdf"
        ),
    ],
}


def _answer(pins: Sequence[Pin]) -> CircuitAnswer:
    return CircuitAnswer(circuit="1440", appearances=tuple(pins), nets=(viewed(pins),))


def _layout(pins: Sequence[Pin]) -> Layout:
    return laid_out(plan_of_circuit(_answer(pins)))


def _tight(label: Label) -> Box:
    """The letters themselves, without the room between lines."""
    box, half = label.box, 0.4 * label.size
    return Box(x0=box.x0, top=label.middle - half, x1=box.x1, bottom=label.middle + half)


def _meet(one: Box, other: Box) -> bool:
    across = one.x0 < other.x1 - 0.01 and other.x0 < one.x1 - 0.01
    return across and one.top < other.bottom - 0.01 and other.top < one.bottom - 0.01


def _assert_legible(layout: Layout) -> None:
    words = [_tight(label) for label in layout.labels]
    bodies = [
        Box(x0=node.x - SHAPE / 2, top=node.top, x1=node.x + SHAPE / 2, bottom=node.bottom)
        for node in layout.nodes
    ]
    lines = [shape.box for shape in shapes_of(layout) if isinstance(shape, Area)]
    for box in (*words, *bodies):
        assert box.x0 >= 0 and box.x1 <= layout.width + 0.01
        assert box.top >= 0 and box.bottom <= layout.height
    for one, other in itertools.combinations(words, 2):
        assert not _meet(one, other)
    for one, other in itertools.combinations(bodies, 2):
        assert not _meet(one, other)
    for word in words:
        assert not any(_meet(word, box) for box in (*bodies, *lines))


@pytest.mark.parametrize("name", [name for name in NETS if "sixty" not in name])
def test_nothing_lies_over_anything_else(name: str) -> None:
    """Words meet neither words nor shapes nor wires, and all keep within a phone's width."""
    layout = _layout(NETS[name])
    assert layout.width == WIDTH <= 390
    assert min(label.size for label in layout.labels) >= 12
    _assert_legible(layout)


@settings(max_examples=25, deadline=None)
@given(pins=any_net())
def test_no_net_is_drawn_illegibly(pins: list[Pin]) -> None:
    """Whatever the rows say, the drawing keeps to its rules."""
    _assert_legible(_layout(pins))


def _grey(kind: Kind) -> Image.Image:
    """Return one shape in greyscale, without words in it."""
    node = Node(kind=kind, x=40, top=20, bottom=20 + HEIGHTS[kind], step=Step(kind, ()))
    layout = Layout(width=80, height=90, nodes=[node])
    shapes = tuple(shape for shape in shapes_of(layout) if not isinstance(shape, Label))
    path = Path(_grey.folder) / f"{kind}.png"  # type: ignore[attr-defined]
    write_drawing(Drawing(width=80, height=90, shapes=shapes), path)
    return Image.open(path).convert("L")


def test_kinds_differ_in_form_and_not_only_in_colour(tmp_path: Path) -> None:
    """Any two kinds of stop differ in a good part of their dots, in black and white and without words."""
    _grey.folder = tmp_path  # type: ignore[attr-defined]
    pictures = {kind: _grey(kind) for kind in ("end", "half", "splice", "ground", "fuse", "hub", "again")}
    for (one, a), (other, b) in itertools.combinations(pictures.items(), 2):
        differs = sum(ImageChops.difference(a, b).point(lambda value: 255 * (value > 100)).histogram()[200:])
        inked = sum(a.point(lambda value: 255 * (value < 128)).histogram()[200:])
        assert differs > 0.4 * inked, (one, other)


def _painted(wire: Wire | None, tmp_path: Path) -> Image.Image:
    layout = Layout(width=40, height=80)
    layout.lines.append(Line(look="wire", points=((20, 0), (20, 80)), wire=wire))
    path = tmp_path / "wire.png"
    write_drawing(on_a_screen(layout), path)
    return Image.open(path).convert("RGB")


@pytest.mark.parametrize(
    ("base", "stripe"),
    [("#008000", "#ff0000"), ("#9400d3", "#8b4513"), ("#ffffff", "#ffff00"), ("#000000", "#000080")],
)
def test_base_and_stripe_stay_two_in_black_and_white(base: str, stripe: str, tmp_path: Path) -> None:
    """Across a wire, outline, base, an edge and the stripe follow; the edge stands out from both in grey."""
    image = _painted(Wire(code="", words="", base=base, stripe=stripe), tmp_path)
    row_of = [image.getpixel((x, 120)) for x in range(image.width)]
    rgb = {color: tuple(bytes.fromhex(color[1:])) for color in (base, stripe)}
    assert row_of[60] == rgb[stripe] and rgb[base] in row_of and (0, 0, 0) in row_of
    grey = image.convert("L")
    # from inside the outline to the middle of the stripe
    across = [grey.getpixel((x, 120)) for x in range(47, 61)]
    assert max(abs(level - across[-1]) for level in across) > 60


def test_light_and_unknown_colours_are_outlined_and_unlike(tmp_path: Path) -> None:
    """A white wire has black edges; one whose colour is not known is marked along its middle."""
    white = _painted(Wire(code="", words="", base="#ffffff"), tmp_path).convert("L")
    unknown = _painted(None, tmp_path).convert("L")
    assert white.getpixel((60, 120)) == 255 and white.getpixel((60 - 17, 120)) == 0
    middle = {unknown.getpixel((60, y)) for y in range(240)}
    assert middle == {0, 255}


def test_a_ring_is_drawn_across_the_wire(tmp_path: Path) -> None:
    """A ring colour shows as bars over the whole width, a stripe as a band along it."""
    image = _painted(Wire(code="", words="", base="#ffffff", ring="#ff0000"), tmp_path)
    column = [image.getpixel((60, y)) == (255, 0, 0) for y in range(image.height)]
    assert 4 <= sum(1 for one, other in itertools.pairwise(column) if other and not one) <= 8


def test_what_is_not_stated_is_dashed_and_no_wire() -> None:
    """Between ends that meet nobody says where no wire runs through; a stated net has no dashes."""
    hub, stated = _layout(NETS["hub"]), _layout(NETS["way"])
    assert {line.look for line in hub.lines} == {"wire", "dashes"}
    assert {line.look for line in stated.lines} == {"wire"}
    assert any("not stated" in label.text for label in hub.labels)
    assert not any("not stated" in label.text for label in stated.labels)


def test_the_code_stands_beside_every_wire() -> None:
    """No colour is told by colour alone: each link of the net has its code in words."""
    layout = _layout(star(5, splice=True))
    assert sum(label.text == "GN/YE" for label in layout.labels) == 5


def test_two_colours_of_one_wire_are_both_drawn() -> None:
    """Where two tables give a wire's ends different colours, neither is hidden."""
    layout = _layout([row("A1:1", "component", code="GN/YE"), row("B1:1", "component", code="WH")])
    assert [line.wire.code for line in layout.lines if line.wire] == ["GN/YE", "WH"]
    assert any(label.text == "GN/YE / WH" for label in layout.labels)


def test_a_missing_half_and_a_doubt_are_said() -> None:
    """A half whose mate was not read faces a dashed one, in words too; so a row that may be misread."""
    pins = NETS["no mate"]
    said = " ".join(label.text for label in _layout(pins).labels)
    assert "THE OTHER HALF IS NOT KNOWN" in said


@pytest.mark.parametrize("suffix", [".svg", ".png", ".pdf"])
@pytest.mark.parametrize("name", list(NETS))
def test_every_format_is_a_sound_file(name: str, suffix: str, tmp_path: Path) -> None:
    """SVG parses, PNG opens with three dots for each of a phone, PDF pages are A4."""
    path = tmp_path / f"net{suffix}"
    assert write_circuit_drawing(_answer(NETS[name]), path)
    if suffix == ".svg":
        root = ET.fromstring(path.read_text(encoding="utf-8"))
        assert float(root.attrib["width"]) == WIDTH
        texts = {element.text for element in root.iter(f"{SVG}text")}
        assert "Circuit 1440" in texts
    elif suffix == ".png":
        image = Image.open(path)
        assert image.width >= 2 * WIDTH
    else:
        with pymupdf.open(path) as document:
            for page in document:
                assert (round(page.rect.width), round(page.rect.height)) == (595, 842)
                assert all(span["size"] >= 7.9 for span in _spans(page))


def _spans(page: pymupdf.Page) -> list[dict[str, float]]:
    blocks = page.get_text("dict")["blocks"]
    return [span for block in blocks for line in block.get("lines", ()) for span in line["spans"]]


@pytest.mark.parametrize("name", ["splice of sixty", "sixty nobody says where"])
def test_a_large_net_is_whole_on_its_pages(name: str, tmp_path: Path) -> None:
    """All sixty ends stand on the pages, each once, no word cut; columns say where they go on."""
    layout = _layout(NETS[name])
    drawn = [label.text for page in pages_of(layout) for label in page.shapes if isinstance(label, Label)]
    for n in range(1, 61):
        assert drawn.count(f"A{n}:{n % 7 + 1}") == 1
    strip = sum(isinstance(shape, Label) for shape in shapes_of(layout))
    marks = [text for text in drawn if "column" in text or text.startswith("page ")]
    assert len(drawn) - len(marks) == strip
    assert "goes on in column 2" in marks
    for page in pages_of(layout):
        boxes = [_tight(label) for label in page.shapes if isinstance(label, Label)]
        assert all(box.x0 >= 0 and box.x1 <= page.width and box.bottom <= page.height for box in boxes)


def test_a_very_long_strip_is_set_in_columns(tmp_path: Path) -> None:
    """A picture is never so high that a viewer refuses it."""
    layout = _layout(star(200, splice=True))
    drawing = on_a_screen(layout)
    assert drawing.height <= 9000 and drawing.width > WIDTH
    write_drawing(drawing, tmp_path / "net.png")
    assert Image.open(tmp_path / "net.png").height <= 27_000


def test_text_of_a_pdf_does_nothing_in_an_svg(tmp_path: Path) -> None:
    """Markup in a component's name, a document's and a circuit's is text; control characters are seen."""
    pins = [
        row("A1:1", "component", component=HOSTILE, circuit=HOSTILE, document=HOSTILE, code=HOSTILE),
        row("B1:1", "component", circuit=HOSTILE),
    ]
    answer = CircuitAnswer(circuit=HOSTILE, appearances=tuple(pins), nets=(viewed(pins),))
    for suffix in (".svg", ".png", ".pdf"):
        assert write_circuit_drawing(answer, tmp_path / f"net{suffix}")
    text = (tmp_path / "net.svg").read_text(encoding="utf-8")
    root = ET.fromstring(text)
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
        "svg",
        "rect",
        "polyline",
        "polygon",
        "text",
    }
    assert "<script" not in text and "\x1b" not in text


def test_a_way_is_drawn_and_no_way_draws_nothing(tmp_path: Path) -> None:
    """Each way of a trace is a part of the drawing; where there is none, no file is left behind."""
    net = mapped(NETS["way"])
    routes = tuple(routes_between(net, ("A1", "", "1"), ("B2", "", "4")))
    answer = TraceAnswer(start="A1:1", end="B2:4", paths=routes, notices=("Of note.",))
    assert write_trace_drawing(answer, tmp_path / "way.svg")
    root = ET.fromstring((tmp_path / "way.svg").read_text(encoding="utf-8"))
    texts = [element.text for element in root.iter(f"{SVG}text")]
    places = [text for text in texts if text and text.startswith(("A1:", "X5:", "B2:"))]
    assert places == ["A1:1 to B2:4", "A1:1", "X5:7 half A", "X5:7 half B", "B2:4"] and "Of note." in texts
    assert not write_trace_drawing(TraceAnswer(start="a", end="b", paths=()), tmp_path / "none.svg")
    assert not (tmp_path / "none.svg").exists()


def test_a_file_that_cannot_be_written_is_a_sentence(tmp_path: Path) -> None:
    """Another ending, and a folder that is not there, are named."""
    with pytest.raises(UsageError, match=r"\.svg"):
        write_circuit_drawing(_answer(NETS["way"]), tmp_path / "net.bmp")
    with pytest.raises(CannotWrite, match="does not exist"):
        write_circuit_drawing(_answer(NETS["way"]), tmp_path / "nowhere" / "net.svg")
