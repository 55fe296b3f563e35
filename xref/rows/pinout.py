"""Is a table with a column of cavities a pinout? Lists of fuses, jumpers, ports and relays look like one."""

from __future__ import annotations

from collections.abc import Sequence

from xref.colors.language import colors_of_word
from xref.data.fuse_colors import fuse_colors
from xref.data.legend_words import is_sign_of_yes
from xref.data.words import fold, words_of
from xref.rows.content import cavity_share
from xref.rows.evidence import filled_texts, in_words, names_of_signals, sure_cavities
from xref.rows.roles import Column, column_texts
from xref.tables.table import Table

#: Terminal numbers of relays (DIN 72552): a list of these alone explains a relay.
RELAY_TERMINALS = frozenset({"30", "85", "86", "87", "87a", "87b"})
#: So many different ones, and this share of the cavities, make such a list.
FEWEST_TERMINALS = 3
RELAY_SHARE = 0.6
#: Where only texts stand beside them, this share of the cavities must look like some.
CAVITIES = 0.5
#: This share of the rows must show the colour of a blade fuse for a list of fuses.
FUSES = 0.8
#: So many rows that name but a few cavities, this share of them, set jumpers.
FEWEST_SETTINGS = 5
SETTINGS = 0.25


def _ways_said(table: Table) -> int:
    """Return how many cavities the block of keys over a table says there are; 0 where it says nothing."""
    said = (value for key, value in table.head if fold(key) in words_of("ways") and value.isdecimal())
    return int(next(said, "0"))


def _names_signals(table: Table, best: dict[str, Column]) -> bool:
    """True when the texts of a list are names of signals: numbered steps and menus are not."""
    texts = [t for r in ("function", "signal") if r in best for t in column_texts(table, best[r].index)]
    said = filled_texts(texts)
    return bool(said) and names_of_signals(said)


def _are_fuses(table: Table, best: dict[str, Column]) -> bool:
    """True where the colours are those of blade fuses of the ratings beside them."""
    if "rating" not in best or "color" not in best:
        return False
    rows = [(b.cells[best["rating"].index].text, b.cells[best["color"].index].text) for b in table.bands]
    told = [(fuse_colors(a), set(colors_of_word(b))) for a, b in rows if a and b]
    return bool(told) and sum(bool(known & said) for known, said in told) >= FUSES * len(told)


def _are_settings(table: Table, best: dict[str, Column], cavities: Sequence[str]) -> bool:
    """True for jumpers (`2-3` again and again), and for ports and keys: other headers, colours in words."""
    few = len(set(cavities)) <= max(2, SETTINGS * len(cavities))
    if few and len(cavities) >= FEWEST_SETTINGS and "connector" not in best:
        return True
    if "distractor" not in best or "color" not in best:
        return False
    colors = column_texts(table, best["color"].index)
    return in_words(colors) or len(set(filled_texts(colors))) < 2


def is_pinout(table: Table, best: dict[str, Column]) -> bool:
    """A cavity column and something a wire has; tables to measure or to tighten are no pinouts."""
    roles = set(best) | {fact for c in best.values() for fact in c.order}
    texts = [t for t in column_texts(table, best["cavity"].index) if t]
    if len(texts) > 1 and len(set(texts)) == 1 and is_sign_of_yes(texts[0]):
        return False  # crosses under a word such as `position`
    if table.kind == "list" and not table.header[0] and not {"color", "circuit"} & roles:
        return _names_signals(table, best) or _ways_said(table) == len(table.bands)
    unnamed = best["cavity"].score == 0.0 and table.has_header
    if "distractor" in roles and (unnamed or not sure_cavities(column_texts(table, best["cavity"].index))):
        return False  # contacts of repair kits, sizes of pins, keys of a panel: none are counted cavities
    named = "circuit" in roles and not ("circuit" in best and best["circuit"].guessed)
    if not named and (_are_fuses(table, best) or _are_settings(table, best, texts)):
        return False
    if table.has_header and best["cavity"].guessed and not named and "color" not in roles:
        return False  # a numbered list under words nobody knows
    if unnamed and not named and "color" in best and in_words(column_texts(table, best["color"].index)):
        return False  # lamps and keys by their colours
    if "color" in roles or ("circuit" in roles and "distractor" not in roles):
        return True
    relay = [t for t in texts if t.casefold() in RELAY_TERMINALS]
    if len(set(relay)) >= FEWEST_TERMINALS and len(relay) >= RELAY_SHARE * len(texts):
        return False  # what the terminals of a relay mean, not who is wired to them
    if roles & {"function", "signal", "goes_to"}:
        looks = cavity_share(texts) >= CAVITIES or bool(best["cavity"].order) or "connector" in roles
        return "distractor" not in roles and looks
    return False
