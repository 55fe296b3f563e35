"""The plan file: a small TOML file in which a person says which modules move where."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from xref.data.fuzzy import likest
from xref.errors import UsageError

#: Left on a plug that is cut off and at each end of an extension, metres: two crimps and a mistake fit on
#: it. A default of this project, not a figure of any standard.
TAIL_METRES = 0.15
#: Names less alike than this (0–100) are not offered for a misprinted key.
_ALIKE = 60.0

#: What stands where something is still to be filled in: as `xref plan new` and the questions write it, and
#: what people put there themselves. None of these is a place or a supply.
STILL_OPEN = frozenset({"", "…", "...", "?", "??", "???"})
#: No volts, metres of a way or of a tail are more; infinity and what is no number at all are not taken.
_MOST = 1e6
#: Kinds of characters that are no text: control, invisible direction marks, halves of characters.
_UNSHOWN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
#: Names of open lines in one message.
_MOST_NAMED = 6

#: Where the TOML reader stopped, and a number as it is written in German.
_AT_LINE = re.compile(r"line (\d+)")
_COMMA_NUMBER = re.compile(r"=\s*\d+,\d")
#: Letters of a line that a message shows.
_MOST_SHOWN = 60
#: More metres than this are not left on a plug: centimetres were meant.
_LONGEST_TAIL = 3.0
#: No way along a vehicle is taken to be longer, metres: centimetres or millimetres were meant. A default of
#: this project.
_LONGEST_WAY = 100.0

Rest = Literal["stays", "left behind"]

#: Every key there is, table by table; "" are the keys outside any table.
KEYS: dict[str, tuple[str, ...]] = {
    "": ("machine", "rest", "system_volts"),
    "drop": ("components",),
    "inlines": ("keep",),
    "tails": ("metres",),
    "shorten": ("nets",),
    "bridge": ("nets",),
    "safety": ("accepted",),
}
#: Tables whose keys are names of the person's own.
_NAMED = ("place", "host", "route")


class PlanError(UsageError):
    """The plan file says something that cannot be followed; the message names file and key."""

    code = "plan"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFile:
    """What the person says, name for name as written."""

    name: str = "the plan"  #: how messages call the file
    machine: str | None = None
    rest: Rest = "stays"
    system_volts: float | None = None
    place: Mapping[str, str] = field(default_factory=dict)
    drop: tuple[str, ...] = ()
    host: Mapping[str, str] = field(default_factory=dict)
    keep: tuple[str, ...] = ()
    route: Mapping[frozenset[str], float] = field(default_factory=dict)
    tail_m: float = TAIL_METRES
    shorten: tuple[str, ...] = ()
    bridge: tuple[str, ...] = ()
    accepted: tuple[str, ...] = ()

    def route_m(self, one: str, other: str) -> float | None:
        """Return the metres between two places, None where the person gave none: never 0."""
        return self.route.get(frozenset((one, other)))


def read_plan(path: Path) -> PlanFile:
    """Read a plan file.

    Raises:
        PlanError: the file is not there, is no TOML, or holds a key or value the plan does not know.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise PlanError(f"{path}: cannot be read ({error.strerror}).", hint="Check the name.") from error
    except UnicodeDecodeError as error:
        raise PlanError(f"{path}: is not UTF-8 text.", hint="Save it as UTF-8.") from error
    return parse_plan(text, str(path))


def parse_plan(text: str, name: str = "the plan") -> PlanFile:
    """Read a plan from text; `name` is how messages call it. Raises PlanError."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PlanError(f"{name}: is no TOML: {error}.", hint=_toml_hint(text, str(error))) from error
    except (ValueError, RecursionError) as error:  # a number of thousands of digits, thousands of brackets
        raise PlanError(
            f"{name}: holds a number too long, or brackets too deep, to be read.",
            hint="A plan has short numbers and one list in a line.",
        ) from error
    _check_keys(data, name)
    read = _Reader(data, name)
    return PlanFile(
        name=name,
        machine=read.text("machine"),
        rest=read.rest(),
        system_volts=read.number("", "system_volts"),
        place=read.texts("place"),
        drop=read.names("drop", "components"),
        host=read.texts("host"),
        keep=read.names("inlines", "keep"),
        route=read.routes(),
        tail_m=read.tail(),
        shorten=read.names("shorten", "nets"),
        bridge=read.names("bridge", "nets"),
        accepted=read.names("safety", "accepted"),
    )


def _toml_hint(text: str, error: str) -> str:
    """Return what most likely makes a text no TOML, by the line the reader stopped at."""
    at = _AT_LINE.search(error)
    lines = text.split("\n")
    line = lines[int(at[1]) - 1].strip() if at and int(at[1]) <= len(lines) else ""
    shown = f"It is: {line[:_MOST_SHOWN]} – " if line else ""
    if "overwrite" in error or "declare" in error or "twice" in error:
        return f"{shown}this name or [table] is there already: give it once."
    if _COMMA_NUMBER.search(line):
        return f"{shown}metres are written with a point: 4.2"
    if set(line) & set("“”„«»‘’"):
        return f'{shown}quotes are straight: "…"'
    return f'{shown}a name with a blank or colon stands in quotes: "A30 X1:4" = "…"'


def _check_keys(data: Mapping[str, Any], name: str) -> None:
    tables = [table for table in (*KEYS, *_NAMED) if table]
    for key, value in data.items():
        if key in KEYS[""]:
            continue
        if key not in tables:
            raise _unknown(name, key, (*KEYS[""], *tables))
        if not isinstance(value, dict):
            raise PlanError(f"{name}: {key} is a table: write [{key}] on a line of its own.")
        for inner in value if key in KEYS else ():
            if inner not in KEYS[key]:
                raise _unknown(name, f"{key}.{inner}", tuple(f"{key}.{own}" for own in KEYS[key]))


def _unknown(name: str, key: str, known: Sequence[str]) -> PlanError:
    near = likest(key, known, score=_ALIKE)
    meant = f"Did you mean {near}? " if near else ""
    return PlanError(f"{name}: knows no key {key}.", hint=f"{meant}Known: {', '.join(known)}.")


def _still_open(name: str, table: str, keys: Sequence[str]) -> PlanError:
    left = len(keys) - _MOST_NAMED
    named = ", ".join(keys[:_MOST_NAMED]) + (f" and {left} more" if left > 0 else "")
    if table == "place":
        return PlanError(
            f"{name}: where is it to sit? No place is given yet for {named}.",
            hint=f'Write it between the quotes: "{keys[0]}" = "stern locker"; or delete the line.',
        )
    return PlanError(
        f"{name}: what does the new vehicle give? Nothing is written yet at {named} in [{table}].",
        hint="Write it between the quotes; or delete the line, then it is asked for.",
    )


class _Reader:
    """Takes values out of the parsed file, each of the kind it must be."""

    def __init__(self, data: Mapping[str, Any], name: str) -> None:
        self._data = data
        self._name = name

    def text(self, key: str) -> str | None:
        """Return a text outside the tables, None where it is left out."""
        value = self._data.get(key)
        if value is not None and not isinstance(value, str):
            raise self._wrong(key, "a text in quotes")
        return value

    def rest(self) -> Rest:
        """Return what becomes of all that is not named."""
        value = self._data.get("rest", "stays")
        if value == "stays":
            return "stays"
        if value == "left behind":
            return "left behind"
        raise self._wrong("rest", '"stays" or "left behind"')

    def number(self, table: str, key: str, least: float | None = None) -> float | None:
        """Return a number, None where it is left out."""
        value = (self._data.get(table, {}) if table else self._data).get(key)
        if value is None:
            return None
        named = f"{table}.{key}" if table else key
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self._wrong(named, "a number with a point and without quotes: 4.2")
        if not 0 <= value <= _MOST or (least is not None and value <= least):
            raise self._wrong(named, "a number above 0")
        return float(value)

    def tail(self) -> float:
        """Return the metres left on a plug."""
        metres = self.number("tails", "metres", least=0.0) or TAIL_METRES
        if metres > _LONGEST_TAIL:
            raise self._wrong("tails.metres", f"in metres, {_LONGEST_TAIL:g} at most: 15 cm are 0.15")
        return metres

    def texts(self, table: str) -> dict[str, str]:
        """Return a table of names and texts."""
        found: dict[str, str] = {}
        for printed, value in self._data.get(table, {}).items():
            key = self._plain(table, printed)
            if not isinstance(value, str):
                raise self._wrong(f'{table}."{key}"', "a text in quotes")
            if key in found:
                raise PlanError(f'{self._name}: {table}."{key}" stands there twice.', hint="Write it once.")
            found[key] = self._plain(f'{table}."{key}"', value)
        open_ = [key for key, value in found.items() if value.strip() in STILL_OPEN]
        if open_:
            raise _still_open(self._name, table, open_)
        for key, value in found.items():
            if table == "place" and " - " in value.replace("–", "-"):
                raise self._wrong(f'{table}."{key}"', 'a name without " - ", which stands between two places')
        if table == "place":
            self._one_spelling(found.values())
        return found

    def _plain(self, key: str, text: str) -> str:
        """Return a text on one line, without what a screen or a label cannot show."""
        folded = " ".join(text.split())
        if any(unicodedata.category(letter) in _UNSHOWN for letter in folded):
            raise self._wrong(f"{key} ({folded!r})", "a text of letters one can see")
        return folded

    def _one_spelling(self, places: Iterable[str]) -> None:
        """Refuse two spellings of one place: wires would be cut to run from it to itself."""
        known: dict[str, str] = {}
        for place in places:
            before = known.setdefault(unicodedata.normalize("NFKC", place).casefold(), place)
            if before != place:
                raise PlanError(
                    f"{self._name}: the places {before} and {place} differ only in how they are written.",
                    hint="Write a place the same in every line; two places need two names.",
                )

    def names(self, table: str, key: str) -> tuple[str, ...]:
        """Return a list of names."""
        value = self._data.get(table, {}).get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
            raise self._wrong(f"{table}.{key}", 'a list of names: ["X5", "X7"]')
        return tuple(self._plain(f"{table}.{key}", item) for item in value)

    def routes(self) -> dict[frozenset[str], float]:
        """Return the metres between pairs of places: `"stern locker - wheelhouse" = 4.2`."""
        found: dict[frozenset[str], float] = {}
        for key in self._data.get("route", {}):
            ends = [end.strip() for end in self._plain("route", key).split(" - ")]
            if len(ends) != 2 or not all(ends) or ends[0] == ends[1]:
                raise self._wrong(f'route."{key}"', 'two places with " - " between: "locker - wheelhouse"')
            if frozenset(ends) in found:
                raise PlanError(
                    f"{self._name}: the way {key} in [route] stands there twice.", hint="Write it once."
                )
            metres = self.number("route", key, least=0.0) or 0.0
            if metres > _LONGEST_WAY:
                wanted = f"in metres, {_LONGEST_WAY:g} at most: 650 cm or 6500 mm are 6.5"
                raise self._wrong(f'route."{key}"', wanted)
            found[frozenset(ends)] = metres
        return found

    def _wrong(self, key: str, wanted: str) -> PlanError:
        return PlanError(f"{self._name}: {key} is not what it must be.", hint=f"It is {wanted}.")
