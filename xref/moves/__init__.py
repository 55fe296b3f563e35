"""In: nets of the index, and a plan file in which a person says what moves where.
Out: what happens to every net: fates, crossings, cuts, joins, caps, links, in-lines that go, questions."""
