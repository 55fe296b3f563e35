"""In: colour texts as printed, a document's key. Out: schemes, decoded base, stripe and ring colours.
Every ambiguity is returned as such; nothing is chosen in silence."""
