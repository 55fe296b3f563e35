"""What leaves the program.

In: pins, answers and module sheets. Out: CSV, XLSX, Parquet and JSON tables, the cross-reference
sheet of a module as PDF, XLSX, HTML or CSV, pictures of pages with their rows marked, drawn nets.
"""
