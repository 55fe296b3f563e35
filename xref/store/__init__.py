"""In: documents with their pins. Out: exact look-ups (SQLite) and free-text search (Whoosh).
The index is derived: it may be deleted and is rebuilt from the PDFs."""
