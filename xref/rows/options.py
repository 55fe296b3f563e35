"""Columns side by side that stand for variants of the machine: marked ones, and one fact once for each.

A column of marks says for which variants a row holds; columns of one role with a variant each hold what
differs. Only headers that name variants make it clear. Where they may, nothing is guessed: the columns count
as unread.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.data.legend_words import legend_marks, plain_mark
from xref.pages.blanknotes import is_note
from xref.tables.table import Band, Cell, Table
from xref.tables.variants import names_property, names_variant
from xref.tables.vocabulary import DESIGNATOR, best_role, header_roles

#: Marks stand in so many columns side by side at least.
FEWEST = 2
#: This share of the texts of a column are marks where most are, and some are not.
MOSTLY = 0.8
#: A header is a known word from this score on.
KNOWN = 0.45
#: A header of its own is a known phrase from this score on.
WHOLE = 0.96
#: More than this share of the headers must name variants; the others, if unknown, then do too.
SHARE = 0.5
#: What may differ from variant to variant.
VARYING = frozenset({"circuit", "color", "size", "function", "signal"})
#: Signs that stand between a role and its variant, or round the variant.
_SIGNS = re.compile(r"[:()\[\]]|\s[-–—]\s")


#: The columns of a role, each with its variant.
Varying = tuple[tuple[str, tuple[tuple[str, int], ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """How the columns of variants of a block are read.

    `marked` gives each column of marks its variant, `varying` the columns of a role, each with its variant.
    `unclear` are columns of marks that may be some and are not read; columns of one role that may be some
    are read as in any other table, and `doubtful`.
    """

    marked: tuple[tuple[str, int], ...] = ()
    yes: frozenset[str] = frozenset()  #: the marks that say that a row holds
    varying: Varying = ()
    unclear: tuple[int, ...] = ()
    doubtful: tuple[int, ...] = ()

    @property
    def columns(self) -> dict[str, int]:
        """The columns to read beside those with a role of their own, by names for their texts."""
        marked = {f"option {n}": j for n, (_, j) in enumerate(self.marked)}
        return marked | {f"{role} {n}": j for role, of in self.varying for n, (_, j) in enumerate(of) if n}

    def within(self, first: int, last: int) -> Options:
        """Return what of it lies between two columns."""
        return Options(
            marked=tuple(m for m in self.marked if first <= m[1] <= last),
            yes=self.yes,
            varying=tuple(v for v in self.varying if all(first <= j <= last for _, j in v[1])),
            unclear=tuple(j for j in self.unclear if first <= j <= last),
            doubtful=tuple(j for j in self.doubtful if first <= j <= last),
        )

    def doubted(self) -> Options:
        """Return the same columns as ones that are not read."""
        unclear = tuple(sorted({*self.unclear, *self.columns.values()}))
        return Options(unclear=unclear, doubtful=self.doubtful)


NONE = Options()


def option_columns(table: Table) -> Options:
    """Find the columns of variants in a table."""
    if not table.has_header or table.taught:
        return NONE
    varying, doubtful = _varying(table)
    marked: list[tuple[str, int]] = []
    yes: set[str] = set()
    unclear: list[int] = []
    for run in _marked_runs(table):
        mark = _mark_for_yes({plain_mark(t) for j in run for t in _texts(table, j)})
        if mark and _are_variants(table, run):
            marked += [(name, j) for name, j in zip(_names(table, run), run, strict=True)]
            yes.add(mark)
        elif not all(names_property(table.header[j]) for j in run):
            unclear += run
    return Options(
        marked=tuple(marked), yes=frozenset(yes), varying=varying, unclear=tuple(unclear), doubtful=doubtful
    )


def without_options(table: Table, options: Options) -> Table:
    """Return a table without what its columns of variants hold; one that varies keeps its first, plain."""
    blanked = {*options.columns.values(), *options.unclear}
    plain = {of[0][1]: best for role, of in options.varying if (best := _word(table, role, of[0][1]))}
    groups = table.groups
    if groups:
        gone = blanked | set(plain)
        groups = tuple("" if j in gone else g for j, g in enumerate(groups))
    header = tuple("" if j in blanked else plain.get(j, t) for j, t in enumerate(table.header))
    bands = tuple(
        replace(b, cells=tuple(_blank(c) if j in blanked else c for j, c in enumerate(b.cells)))
        for b in table.bands
    )
    return replace(table, header=header, groups=groups, bands=bands)


def _blank(cell: Cell) -> Cell:
    return Cell(text="", box=cell.box)


def _texts(table: Table, j: int) -> list[str]:
    return [t for b in table.bands if b.cells[j].first and (t := b.cells[j].text.strip())]


def _marked_runs(table: Table) -> Iterable[list[int]]:
    """Yield the runs of columns side by side that have headers and hold marks."""
    run: list[int] = []
    for j in range(table.columns + 1):
        if j < table.columns and table.header[j] and _mostly_marks(_texts(table, j)):
            run.append(j)
            continue
        if len(run) >= FEWEST:
            yield run
        run = []


def _mostly_marks(texts: Sequence[str]) -> bool:
    marks = legend_marks("yes") | legend_marks("no")
    like = [t for t in texts if plain_mark(t) in marks]
    yes = [t for t in like if plain_mark(t) in legend_marks("yes")]
    return bool(yes) and len(like) >= MOSTLY * len(texts)


def _mark_for_yes(used: set[str]) -> str:
    """Return the mark for yes of an alphabet with one at most for no, "" for any other texts.

    A cross says yes, but no beside a ring; a full and an empty ring may say anything.
    """
    said = used & legend_marks("yes")
    yes = said - legend_marks("no") or said
    no = used - yes
    alphabet = len(yes) == 1 and len(no) <= 1 and no <= legend_marks("no")
    return next(iter(yes)) if alphabet else ""


def _are_variants(table: Table, run: Sequence[int]) -> bool:
    """True when the headers name variants, or one over them all says so."""
    names = _names(table, run)
    if len(set(names)) < len(names) or any(names_property(n) for n in names):
        return False
    groups = {table.groups[j] for j in run} if table.groups else set()
    others = {g for j, g in enumerate(table.groups) if j not in run}
    over = groups.pop() if len(groups) == 1 else ""
    over = over or (table.header[run[0]] if names != [table.header[j] for j in run] else "")
    if over and over not in others and header_roles(over).get("option", 0.0) >= KNOWN:
        return True
    sure = [n for n in names if names_variant(n)]
    rest = [n for n in names if n not in sure]
    known = any(best_role(n)[1] >= KNOWN for n in rest)
    return len(sure) > SHARE * len(names) and not known


def _names(table: Table, run: Sequence[int]) -> list[str]:
    """Return the headers of columns of marks without the word for options that stands over them all."""
    return [_without_option(table.header[j]) for j in run]


def _without_option(text: str) -> str:
    tokens = text.split()
    for n in range(len(tokens) - 1, 0, -1):
        if header_roles(" ".join(tokens[:n])).get("option", 0.0) >= WHOLE:
            return " ".join(tokens[n:])
    return text


def _varying(table: Table) -> tuple[Varying, tuple[int, ...]]:
    """Return the roles whose header stands there once for each of two variants or more, with their columns.

    Beside them those of which nothing tells whether the words beside the role name variants.
    """
    found: dict[str, list[tuple[str, int]]] = {}
    for j in range(table.columns):
        role, variant = _role_and_variant(table, j)
        if role:
            found.setdefault(role, []).append((variant, j))
    out: list[tuple[str, tuple[tuple[str, int], ...]]] = []
    doubtful: list[int] = []
    for role, of in found.items():
        names = [v for v, _ in of]
        columns = [j for _, j in of]
        between = set(range(columns[0], columns[-1])) - {j for o in found.values() for _, j in o}
        sure = sum(map(names_variant, names))
        if len(of) < FEWEST or len(set(names)) < len(of):
            continue
        if not between and sure > SHARE * len(of):
            out.append((role, tuple(of)))
        elif not any(table.groups):
            doubtful += columns
    return tuple(out), tuple(doubtful)


def _role_and_variant(table: Table, j: int) -> tuple[str, str]:
    """Part a header, with the one over it, into a role and the rest: `Circuit (diesel)` is one."""
    own, over = table.header[j], table.groups[j] if table.groups else ""
    for word, rest in ((own, over), (over, own), *_parted(own)):
        role, score = best_role(word) if word and rest else ("", 0.0)
        if role in VARYING and score >= WHOLE and _may_be_variant(rest):
            return role, rest
    return "", ""


def _may_be_variant(text: str) -> bool:
    """True unless a text is a known header word, the name of a connector, or the mark of a half."""
    known = best_role(text)[1] >= KNOWN and not names_variant(text)
    return not known and len(text) > 1 and not names_property(text) and not DESIGNATOR.fullmatch(text)


def _parted(text: str) -> Iterable[tuple[str, str]]:
    tokens = _SIGNS.sub(" ", text).split()
    for n in range(len(tokens) - 1, 0, -1):
        yield " ".join(tokens[:n]), " ".join(tokens[n:])
        yield " ".join(tokens[n:]), " ".join(tokens[:n])


def _word(table: Table, role: str, j: int) -> str:
    """Return the words of a column's header that name its role, without the variant."""
    own, over = table.header[j], table.groups[j] if table.groups else ""
    for word, rest in ((own, over), (over, own), *_parted(own)):
        if rest and best_role(word)[0] == role and best_role(word)[1] >= WHOLE:
            return word
    return own


def without_legend(table: Table, options: Options) -> Table:
    """Drop the lines that say what marks (`x = fitted`) or blank cells mean."""
    marks = "|".join(re.escape(mark) for mark in options.yes) or "(?!)"
    legend = re.compile(rf"(?:{marks})\s*[=:–—-]\s*\w.*", re.IGNORECASE)
    texts = [" ".join(c.text for c in band.cells if c.text and c.first) for band in table.bands]
    kept = [not (legend.fullmatch(t) or is_note(t)) for t in texts]
    if all(kept):
        return table
    return replace(table, bands=tuple(b for b, keep in zip(table.bands, kept, strict=True) if keep))


def over_variants(texts: Mapping[str, str], band: Band, options: Options) -> dict[str, str]:
    """Give the columns of variants that one ruled cell reaches over the same text."""
    out = dict(texts)
    for role, of in options.varying:
        first = of[0][1]
        cell = band.cells[first]
        for n, (_, j) in enumerate(of):
            if n and not out[f"{role} {n}"] and cell.text and cell.col_span > j - first:
                out[f"{role} {n}"] = out[role]
    return out
