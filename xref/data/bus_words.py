"""What data buses are called, which of a pair a wire is, and what an ohmmeter between the two says."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

from xref.data.function_words import kinds_of

Side = Literal["H", "L"]

_MOST_KEPT = 65_536
#: `high speed` names a class of bus, not one of its two wires.
_SPEED = re.compile(r"\b(?:high|hi|low|lo|medium)[\s_-]*speed\b|\b[hlm]s[\s_-]*(?=can)")
#: `can1h`, `canl`: number and side are printed on to the name.
_GLUED = re.compile(r"(?P<name>[^\W\d_]{2,}\d*|[^\W\d_]+\d+)(?P<side>[hl])(?P<number>\d*)")
_SIGN = re.compile(r"(?P<stem>.*\w)[\s(]*(?P<side>[+−–-])\)?")
_SUFFIX = re.compile(r"(?P<stem>.*[\w])[\s_./-]*(?P<side>high|low|hi|lo|h|l)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class BusReading:
    """What a reading between H and L means: power off, battery disconnected, modules asleep."""

    least_ohm: float
    most_ohm: float | None  #: None: no upper end
    meaning: str
    note: str
    source: str


@cache
def bus_readings() -> tuple[BusReading, ...]:
    """Return the readings of a high-speed CAN pair, lowest first; between them lies what proves nothing."""
    return tuple(
        BusReading(
            least_ohm=float(row["least_ohm"]),
            most_ohm=float(row["most_ohm"]) if row["most_ohm"] else None,
            meaning=row["meaning"],
            note=row["note"],
            source=row["source"],
        )
        for row in _rows("bus_readings.csv")
    )


@cache
def terminator_ohms() -> tuple[float, float, float]:
    """Return least, nominal and most ohms of one terminator of high-speed CAN."""
    values = {row["name"]: float(row["value"]) for row in _rows("bus_values.csv")}
    return values["terminator_least"], values["terminator"], values["terminator_most"]


@lru_cache(maxsize=_MOST_KEPT)
def is_bus(*texts: str) -> bool:
    """Say whether functions or circuits name a data bus."""
    return "bus" in kinds_of(*texts) or bool(family_of(texts))


def family_of(texts: Iterable[str]) -> str:
    """Return the bus these texts name (`CAN`, `LIN` …), "" where they name none or several."""
    folded = " \n ".join(_folded(text) for text in texts)
    found = {family for family, pattern in _families() if pattern.search(folded)}
    return found.pop() if len(found) == 1 else ""


def not_high_speed(texts: Iterable[str]) -> str:
    """Return the word that says a bus is none of high-speed CAN, "" where none does."""
    folded = " \n ".join(_folded(text) for text in texts)
    return next((value for value, word in _words("not high-speed") if word in folded), "")


@lru_cache(maxsize=_MOST_KEPT)
def side_of(function: str) -> tuple[Side | None, str]:
    """Return which wire of a pair a function names, and the rest of it; None where it names none or both."""
    text = _SPEED.sub(" ", _folded(function)).strip()
    sign = _SIGN.fullmatch(text)
    if sign:
        return ("H" if sign["side"] == "+" else "L"), " ".join(sign["stem"].split())
    sides = dict(_sides())
    rest: list[str] = []
    found: set[Side] = set()
    tokens = [token for token in re.split(r"[\W_]+", text) if token]
    for number, token in enumerate(tokens):
        after_name = number > 0 and is_bus(tokens[number - 1])
        glued = _GLUED.fullmatch(token)
        if token in sides and (len(token) > 1 or after_name or number == len(tokens) - 1):
            found.add(sides[token])
        elif glued and is_bus(glued["name"]):
            found.add(sides[glued["side"]])
            rest.append(glued["name"] + glued["number"])
        else:
            rest.append(token)
    return (found.pop() if len(found) == 1 else None), " ".join(rest)


def side_of_circuit(circuit: str) -> tuple[Side | None, str]:
    """Return which wire of a pair the end of a circuit text names, and what stands before it."""
    text = unicodedata.normalize("NFKC", circuit).strip()
    found = _SIGN.fullmatch(text) or _SUFFIX.fullmatch(text)
    if found is None:
        return None, text
    side: Side = "H" if found["side"].casefold() in ("h", "hi", "high", "+") else "L"
    return side, found["stem"].rstrip(" _./-")


@cache
def _sides() -> tuple[tuple[str, Side], ...]:
    return tuple((word, "H" if value == "H" else "L") for value, word in _words("side"))


@cache
def _families() -> tuple[tuple[str, re.Pattern[str]], ...]:
    return tuple(
        (family, re.compile(rf"(?<![^\W\d_]){re.escape(word)}\d*[hl]?(?![^\W\d_])"))
        for family, word in _words("family")
    )


@cache
def _words(kind: str) -> tuple[tuple[str, str], ...]:
    return tuple(
        (row["value"], _folded(row["word"])) for row in _rows("bus_words.csv") if row["kind"] == kind
    )


def _rows(name: str) -> list[dict[str, str]]:
    text = files("xref.data").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _folded(text: str) -> str:
    return unicodedata.normalize("NFKC", text).casefold()
