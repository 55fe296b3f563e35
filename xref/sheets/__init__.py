"""In: pins and answers. Out: files: CSV, XLSX, Parquet, JSON, the cross-reference sheet, page pictures.
Text from a PDF is untrusted: escaped for the format it goes into."""
