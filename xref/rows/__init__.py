"""In: tables of cells. Out: rows with a role for each value (cavity, colour, circuit, size, function …).
Header words come from data; headerless columns are told by what their cells look like."""
