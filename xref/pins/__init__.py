"""In: the rows of a whole document. Out: pins and connectors, each vouched for or with named doubts.
Scheme, continuation, sizes and roles of connectors are decided here, for the document as a whole."""
