"""In: the content of one page. Out: tables of cells, each with the heading that names its connector.
Ruled tables by their rules, the rest by the columns of their words; the better validated is kept."""
