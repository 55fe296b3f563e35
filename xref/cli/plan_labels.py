"""`xref plan labels PLAN.toml -o FILE`: one label per wire end, to be printed before the first cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.options import JsonOption, PlanArgument, session_of
from xref.cli.plan_words import worked_plan
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import counted
from xref.errors import UsageError

if TYPE_CHECKING:
    from xref.moves.label_fit import Label, Tape
    from xref.moves.records import Plan

#: So many labels that do not fit are named on the screen; the table and --json name all.
_MOST_NAMED = 10


class KindName(StrEnum):
    """What is put on a wire."""

    FLAG = "flag"
    SLEEVE = "sleeve"
    WRAP = "wrap"


class SheetName(StrEnum):
    """Sheets of paper labels are printed on."""

    A4 = "A4"
    LETTER = "Letter"


OutputOption = Annotated[
    Path, typer.Option("--output", "-o", metavar="FILE", help="Labels as .pdf, .png, .csv or .xlsx.")
]
KindOption = Annotated[
    KindName, typer.Option("--kind", help="Flag, sleeve, or wrap (thin wires get a flag instead).")
]
WidthOption = Annotated[
    float, typer.Option("--width", metavar="MM", help="Width of the tape, or of a sleeve laid flat.")
]
FlagOption = Annotated[
    float | None,
    typer.Option("--flag", metavar="MM", help="Length of one flag (default: 20, or what the texts need)."),
]
GapOption = Annotated[float, typer.Option("--gap", metavar="MM", help="Added to a flag's tape.")]
DiameterOption = Annotated[
    float | None,
    typer.Option("--od", metavar="MM", help="Outer diameter of the wires (default: by their size)."),
]
TapeOption = Annotated[
    bool,
    typer.Option("--tape", help="For continuous tape: one page per label (default).", show_default=False),
]
SheetOption = Annotated[
    SheetName | None, typer.Option("--sheet", help="For sheets of this paper, with cut lines.")
]
AlongOption = Annotated[
    bool, typer.Option("--along", help="Marks along extensions too, as on aircraft.", show_default=False)
]
RollOption = Annotated[
    float | None, typer.Option("--roll", metavar="METRES", help="Length of a roll: how many are needed.")
]
PlainOption = Annotated[
    bool, typer.Option("--plain", help="CSV without apostrophes (see export).", show_default=False)
]
FitOption = Annotated[
    bool, typer.Option("--strict", help="Exit code 1 if a text does not fit.", show_default=False)
]


def run(
    ctx: typer.Context,
    file: PlanArgument,
    output: OutputOption,
    kind: KindOption = KindName.FLAG,
    width: WidthOption = 12.0,
    flag: FlagOption = None,
    gap: GapOption = 2.0,
    od: DiameterOption = None,
    tape: TapeOption = False,
    sheet: SheetOption = None,
    along: AlongOption = False,
    roll: RollOption = None,
    plain: PlainOption = False,
    as_json: JsonOption = False,
    strict: FitOption = False,
) -> int:
    """Write one label per wire end: both stubs of each cut, both ends of each extension.

    Print them before the first cut. A text that does not fit is said, never cut short.
    """
    _check({"--width": width, "--flag": flag, "--od": od, "--roll": roll}, gap)
    if tape and sheet is not None:
        raise UsageError("--tape and --sheet exclude each other.", hint="Give one of them.")
    from xref.moves.label_fit import FLAG_MM, Tape, labelled, longer_flag
    from xref.moves.labels import wire_ends
    from xref.sheets.labels import measure, write_labels

    plan = worked_plan(session_of(ctx).workspace, file)
    stock = Tape(kind=kind.value, width_mm=width, flag_mm=flag or FLAG_MM, gap_mm=gap, od_mm=od)
    labels = labelled(wire_ends(plan, along=along), stock, measure)
    flags = [label for label in labels if label.kind == "flag" and not label.fits]
    if flag is None and flags and (needed := longer_flag(flags, stock, measure)) is not None:
        stock = replace(stock, flag_mm=needed)
        labels = labelled((label.end for label in labels), stock, measure)
    written: tuple[Path, ...] = ()
    if labels:
        paper = sheet.value if sheet is not None else ""
        written = write_labels(labels, output, title=f"Labels of {file.name}", sheet=paper, plain=plain)
    if as_json:
        write_json(_to_json(labels, written, roll))
    else:
        _print(results(), plan, labels, written, stock, roll, along)
    return 0 if labels and not (strict and any(not label.fits for label in labels)) else 1


#: A longer label than this many millimetres, or a roll of so many metres, is a slip of the hand.
_ABSURD = 1000.0


def _check(lengths: Mapping[str, float | None], gap: float) -> None:
    """Raise UsageError where a length is none."""
    for name, value in lengths.items():
        if value is not None and not 0 < value < _ABSURD:
            raise UsageError(f"{name} {value:g} is no length.", hint="Give a number above 0.")
    if not 0 <= gap < _ABSURD:
        raise UsageError(f"--gap {gap:g} is no length.", hint="Give 0 or more.")


def _print(
    screen: Screen,
    plan: Plan,
    labels: Sequence[Label],
    written: Sequence[Path],
    stock: Tape,
    roll: float | None,
    along: bool,
) -> None:
    from xref.moves.label_fit import rolls, tape_m
    from xref.moves.labels import unmeasured

    if not labels:
        screen.line("This plan cuts nothing, so there is nothing to label.", "bold")
        return
    more = f" and {len(written) - 1} more" if len(written) > 1 else ""
    screen.line(f"{counted(len(labels), 'label')} written: {written[0]}{more}", "bold")
    sides = Counter(label.end.side for label in labels)
    rows = [
        Row(cells=("on stubs of cuts", str(sides["plug"] + sides["loom"]))),
        Row(cells=("on ends of extensions", str(sides["extension"]))),
        Row(cells=("along extensions", str(sides["along"]))),
        Row(cells=("tape", f"{tape_m(labels):.2f} m of {stock.width_mm:g} mm")),
        Row(cells=("one flag", f"{stock.flag_mm:g} mm" if stock.kind != "sleeve" else "0")),
    ]
    if roll is not None:
        rows.append(Row(cells=("rolls", f"{rolls(labels, roll)} of {roll:g} m")))
    screen.rows([row for row in rows if row.cells[1] != "0"])
    _print_remarks(screen, labels, stock)
    if along and (left_out := unmeasured(plan)):
        screen.line(f"{counted(left_out, 'extension')} without a length, not marked: [route].", "", 2)
    screen.line("Print and apply them before the first cut; read each back aloud.", "", 2)
    _print_too_long(screen, labels, stock)


def _print_remarks(screen: Screen, labels: Sequence[Label], stock: Tape) -> None:
    instead = sum(label.kind != stock.kind for label in labels)
    if instead:
        screen.line(f"{counted(instead, 'wire end')} too thin for a wrap: flags instead.", "", 2)
    unknown = [label for label in labels if not label.od_known]
    if unknown:
        screen.line(
            f"{counted(len(unknown), 'label')} on wires of unknown size: made for {unknown[0].od_mm:g} mm. "
            "Measure one; --od MM.",
            "doubt",
            2,
        )


def _print_too_long(screen: Screen, labels: Sequence[Label], stock: Tape) -> None:
    from xref.moves.label_fit import longer_flag
    from xref.sheets.labels import measure

    bad = [label for label in labels if not label.fits]
    if not bad:
        return
    screen.line()
    screen.line(f"DO NOT FIT – crossed out where printed ({len(bad)} of {len(labels)})", "doubt")
    screen.rows(
        [Row(cells=(label.end.id, label.end.text, label.end.color, label.why)) for label in bad[:_MOST_NAMED]]
    )
    if len(bad) > _MOST_NAMED:
        screen.line(f"… and {len(bad) - _MOST_NAMED} more: see does_not_fit in a .csv, or --json.", "", 2)
    flags = [label for label in bad if label.kind == "flag"]
    length = longer_flag(flags, stock, measure) if flags else None
    if length is not None:
        screen.line(f"All fit on flags of {length:g} mm: --flag {length:g}", "", 2)
    elif any(label.kind == "wrap" for label in bad):
        screen.line("Once round these wires is too little for the text: --kind flag or sleeve.", "", 2)
    else:
        screen.line("A wider tape helps (--width), or shorter names of places in the plan.", "", 2)


def _to_json(labels: Sequence[Label], written: Sequence[Path], roll: float | None) -> dict[str, object]:
    from xref.moves.label_fit import rolls, tape_m

    return {
        "file": str(written[0]) if written else None,
        "files": [str(path) for path in written],
        "labels": [_label_json(label) for label in labels],
        "count": len(labels),
        "tape_m": tape_m(labels),
        "rolls": None if roll is None else rolls(labels, roll),
        "too_long": [
            {"id": label.end.id, "text": label.end.text, "why": label.why}
            for label in labels
            if not label.fits
        ],
    }


def _label_json(label: Label) -> dict[str, object]:
    end = label.end
    return {
        "order": end.order,
        "id": end.id,
        "cut": end.cut,
        "side": end.side,
        "text": end.text,
        "lines": [line.text for line in label.lines],
        "circuit": end.pin.circuit,
        "colors": end.color,
        "color_code": end.color_code,
        "connector": end.pin.connector,
        "half": end.pin.half,
        "cavity": end.pin.cavity,
        "place": end.place,
        "kind": label.kind,
        "length_mm": label.length_mm,
        "size_mm2": end.size_mm2,
        "od_mm": label.od_mm,
        "od_known": label.od_known,
        "fits": label.fits,
    }
