"""A colour key in running text: `BK = black`, `schwarz (sw), braun (br)`, `BK is for black, BN for brown`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from xref.colors.key import CODE, is_plausible
from xref.colors.language import color_words, colors_of_word, fold_word, words_of_kind
from xref.colors.schemes import fold_code, schemes

#: What may stand between a code and its word.
_TIE = re.compile(r"[=:＝：–—-]+|\.{2,}")
#: Of these, what holds over the end of a line; a dash there may be a blank cell.
_FIRM = re.compile(r"[=:＝：]+")
_CLOSERS = frozenset(",;()|[]\n、，；（）")
_OPENERS = frozenset("(（")
_SIGNS = re.escape("".join(_CLOSERS - {"\n"}))
_TOKEN = re.compile(rf"[=:＝：–—-]+|\.{{2,}}|[{_SIGNS}\n]|[^\s=:＝：–—{_SIGNS}-]+")
#: Longest colour word in tokens ("light sky blue" is not one; "sky blue", "light green" are), and longest
#: words for `means`.
_LONGEST = 2
#: So many codes that nothing ties to their words must follow one another: prose may hold two.
_FEWEST_RUN = 3
#: A code that the end of a line parts from its word is a short one.
_SHORT = 3


@dataclass(frozen=True, slots=True)
class _Entry:
    """A code and its colour word: where they stand among the tokens, and whether a sign ties them."""

    code: str
    word: str
    start: int
    end: int
    code_at: int
    word_at: int
    tied: bool


def key_pairs_in_text(text: str) -> list[tuple[str, str]]:
    """Return the (code, colour word) pairs printed in running text: `BK = black`, `BK black  RD red`."""
    tokens = _tokens(text)
    before: list[_Entry] = []
    after: list[_Entry] = []
    at = 0
    while at < len(tokens):
        word, length = _word_at(tokens, at)
        if not word:
            at += 1
            continue
        before += [e for e in (_before(tokens, at, length, word),) if e]
        after += [e for e in (_after(tokens, at, length, word),) if e]
        at += length
    found = _in_step(before, after)
    runs = _runs(tokens, found)
    return [(e.code, e.word) for run in runs for e in run if e.tied or len(run) >= _FEWEST_RUN]


def _tokens(text: str) -> list[str]:
    """Cut a text into words and signs; a slash between a code and its word (`BK/black`) is a sign."""
    out: list[str] = []
    for found in _TOKEN.findall(text):
        token = found.rstrip(".") or found
        code, slash, word = token.partition("/")
        if slash and colors_of_word(word) and _is_known(code, word):
            out += [code, "=", word]
        else:
            out.append(token)
    return out


def _word_at(tokens: Sequence[str], at: int) -> tuple[str, int]:
    """Return the longest colour word that begins at a token, and how many tokens it takes."""
    for length in range(_LONGEST, 0, -1):
        text = " ".join(tokens[at : at + length])
        if len(tokens) >= at + length and colors_of_word(text) and len(text) > 1:
            return text, length
        if text in color_words():
            return text, length
    return "", 0


def _before(tokens: Sequence[str], at: int, length: int, word: str) -> _Entry | None:
    """Return the code that stands before a colour word, tied to it or directly beside it."""
    place, tied, said = at - 1, False, False
    over = place >= 0 and tokens[place] == "\n"
    place -= over
    if place >= 0 and (_FIRM if over else _TIE).fullmatch(tokens[place]):
        place, tied = place - 1, True
    elif place > 0 and tokens[place] in _OPENERS and tokens[at + length : at + length + 1] in ([")"], ["）"]):
        place, said = place - 1, True
    elif means := _means(tokens, place):
        place, said = place - means, True
    if place < 0 or tokens[place] in _CLOSERS:
        return None
    code, start = tokens[place], place
    if place > 0 and fold_word(tokens[place - 1]).rstrip(".") in ("lt", "dk"):
        code, start = f"{tokens[place - 1]} {code}", place - 1
    if not CODE.fullmatch(code) or not (tied or _stands_beside(code, word)):
        return None
    if over and not tied and not (len(code) <= _SHORT and _begins(tokens, start)):
        return None
    return _Entry(code, word, start, at + length, place, at, tied or said)


def _means(tokens: Sequence[str], at: int) -> int:
    """Return how many tokens up to a place say `means`, 0 if they do not."""
    for length in range(_LONGEST, 0, -1):
        said = fold_word(" ".join(tokens[max(0, at - length + 1) : at + 1]))
        if at >= length and said in words_of_kind("means"):
            return length
    return 0


def _begins(tokens: Sequence[str], at: int) -> bool:
    """Tell whether an entry of a list begins at a token: behind a comma or an `and`."""
    return at > 0 and (tokens[at - 1] in ",;、，；" or fold_word(tokens[at - 1]) in words_of_kind("and"))


def _after(tokens: Sequence[str], at: int, length: int, word: str) -> _Entry | None:
    """Return the code that follows a colour word: in brackets, behind a tie, or directly."""
    place = at + length
    tied = place < len(tokens) and (tokens[place] in _OPENERS or bool(_TIE.fullmatch(tokens[place])))
    place += tied
    if place >= len(tokens):
        return None
    code = tokens[place]
    if not CODE.fullmatch(code) or not _stands_beside(code, word):
        return None
    return _Entry(code, word, at, place + 1, place, at, tied)


def _in_step(before: Sequence[_Entry], after: Sequence[_Entry]) -> list[_Entry]:
    """Return the entries as most are printed, codes before or behind; others where their code is free.

    `schwarz BK blau BU` says what BK and BU are, and not that BK is blue.
    """
    first, rest = (after, before) if len(after) > len(before) else (before, after)
    codes = {e.code_at for e in first}
    words = {e.word_at for e in first}
    free = [e for e in rest if e.code_at not in codes and e.word_at not in words]
    return sorted([*first, *free], key=lambda e: e.start)


def _runs(tokens: Sequence[str], entries: Sequence[_Entry]) -> list[list[_Entry]]:
    """Part entries into runs between which stands nothing but commas, an `and`, and further colour words."""
    runs: list[list[_Entry]] = []
    for entry in entries:
        between = tokens[runs[-1][-1].end : entry.start] if runs else []
        if runs and all(_only_joins(t) for t in between):
            runs[-1].append(entry)
        else:
            runs.append([entry])
    return runs


def _only_joins(token: str) -> bool:
    if token in _CLOSERS or _TIE.fullmatch(token) or fold_word(token) in words_of_kind("and"):
        return True
    return bool(colors_of_word(token))


def _stands_beside(code: str, color_text: str) -> bool:
    """Tell whether a code without a tie is one: prose (`the red wire`) must give no pairs."""
    short = code.isupper() and len(code) <= _SHORT
    return _is_known(code, color_text) or (
        short and any(is_plausible(code, color) for color in colors_of_word(color_text))
    )


def _is_known(code: str, color_text: str) -> bool:
    """Tell whether some scheme knows a code for a colour."""
    folded = fold_code(code)
    known = schemes().values()
    return any(color in s.folded.get(folded, ()) for color in colors_of_word(color_text) for s in known)
