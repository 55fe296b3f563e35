"""A small manual for tests that need a real PDF and no more."""

from __future__ import annotations

from pathlib import Path

from reportlab.pdfgen.canvas import Canvas


def draw_manual(
    path: Path, connector: str = "C1", circuit: str = "1440", pages: int = 1, picture_pages: int = 0
) -> Path:
    """Draw one ruled pinout a page (C1, C11, C12 …), then pages that are nothing but a grey picture."""
    path.parent.mkdir(parents=True, exist_ok=True)
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for page in range(pages):
        name = connector if page == 0 else f"{connector}{page}"
        canvas.setFont("Helvetica-Bold", 12)
        canvas.drawString(60, 760, f"Connector {name} - Pump controller")
        canvas.setFont("Helvetica", 10)
        rows = (
            ("Cavity", "Color", "Circuit", "Function"),
            ("1", "BU/YE", circuit, "Lift valve"),
            ("2", "BK", "3001", "Ground"),
            ("3", "RD", "1001", "Supply"),
        )
        for i, row in enumerate(rows):
            for j, text in enumerate(row):
                canvas.rect(60 + 110 * j, 722 - 18 * i, 110, 18)
                canvas.drawString(64 + 110 * j, 727 - 18 * i, text)
        canvas.showPage()
    for _ in range(picture_pages):
        from PIL import Image

        canvas.drawInlineImage(Image.new("L", (60, 80), 128), 0, 0, 595, 842)
        canvas.showPage()
    canvas.save()
    return path
