"""In: a PDF file. Out: pages worth reading with the reason, their words, rules and fills, and pictures.
Whichever engine read them, the frame is the same (content.py). Doors: pdfplumber, pypdfium2."""
