"""A small invented harness, put into an index without reading a PDF."""

from __future__ import annotations

from pathlib import Path

from xref.harness.settle import settle_roles
from xref.records import Connector, Document, PageNote, Pin
from xref.settings import READER_VERSION
from xref.store.index import Index
from xref.workspace import Workspace

#: What a hostile or broken PDF may hold: a colour change, a direction override, a NUL.
HOSTILE = "pump\x1b[31m valve \u202e0441\u202c\x00"

MAST = "Mast controller"


def pins(machine: str = "", document: str = "loom.pdf") -> list[Pin]:
    """Circuit 1440 from a controller through X5, where it becomes 1452, and what lies beside it."""

    def pin(connector: str, cavity: str, circuit: str, code: str, row: int, **more: object) -> Pin:
        base, _, stripe = code.partition("/")
        names = {"BU": "blue", "YE": "yellow", "RD": "red", "": ""}
        return Pin(
            machine=machine,
            document=document,
            page=1,
            connector=connector,
            cavity=cavity,
            circuit=circuit,
            color_code=code,
            base_color=names[base],
            stripe_color=names[stripe],
            row_no=row,
            x0=50.0,
            x1=500.0,
            top=100.0 + 20 * row,
            bottom=118.0 + 20 * row,
            **more,  # type: ignore[arg-type]
        )

    return [
        pin(
            "M12 X1", "7", "1440", "BU/YE", 1, role="component", component="Mast controller", function=HOSTILE
        ),
        pin(
            "M12 X1", "8", "2001", "YE/BU", 2, role="component", component="Mast controller", function="Lamp"
        ),
        pin("X5", "12", "1440", "BU/YE", 3, role="inline", half="A"),
        pin("X5", "12", "1452", "RD", 4, role="inline", half="B"),
        pin("S3", "a", "1440", "BU/YE", 5, role="splice", flags=("row-assembled",)),
        pin("B16", "2", "1440A", "BU/YE", 6, role="component", component="Height sensor", function="Signal"),
    ]


def fill(
    folder: Path,
    machine: str = "",
    document: str = "loom.pdf",
    path: Path | None = None,
    settled: bool = True,
) -> Workspace:
    """Put the harness into the index of a folder."""
    import hashlib

    workspace = Workspace(folder)
    sha = hashlib.sha256(path.read_bytes()).hexdigest() if path else "0" * 64
    record = Document(
        machine=machine,
        name=document,
        path=str(path or folder / document),
        sha256=sha,
        pages=2,
        reader=READER_VERSION,
    )
    rows = pins(machine, document)
    heads = {(pin.connector, pin.half): pin for pin in rows}
    connectors = [
        Connector(
            machine=machine,
            connector=name,
            half=half,
            role=pin.role,
            component=pin.component,
            document=document,
            pages=(1,),
            cavities_stated=8 if name == "M12 X1" else None,
            cavities_read=sum((p.connector, p.half) == (name, half) for p in rows),
        )
        for (name, half), pin in heads.items()
    ]
    unread = PageNote(
        document=document,
        page=2,
        page_label="2",
        outcome="unread",
        why="a picture without text",
        machine=machine,
    )
    with Index.open(workspace, write=True) as index:
        index.replace(record, connectors, rows, [unread])
        if settled:
            settle_roles(index)
    return workspace
