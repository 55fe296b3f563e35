"""Short ids for wire ends, the same in every plan, and the texts on labels."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

from xref.harness.netmap import Place
from xref.records import Pin

#: Letters and digits that no eye takes for one another, however small and smeared they are printed:
#: without 0 O Q, 1 I L, 2 Z, 5 S, 6 G, 8 B, and one of M N and of U V.
ALPHABET = "ACDEFHJKMPRTWXY3479"
#: So many signs make chance likenesses rare in a plan of a few hundred wires; those that meet get one more.
LENGTH = 4
#: What stands behind the id on the end of an extension: a word, so that nobody needs a key to signs.
EXTENSION = "ext"


def ids_of(ends: Iterable[tuple[str, Place, str]]) -> dict[tuple[str, Place, str], str]:
    """Return an id for each wire end (machine, cavity, circuit), unique among them.

    The id comes of the end itself, so that a label that was printed stays right when the plan changes; only
    two ends whose ids meet by chance get longer ones.
    """
    found: dict[str, list[tuple[str, Place, str]]] = {}
    for end in dict.fromkeys(ends):
        found.setdefault(_signs(end, LENGTH), []).append(end)
    ids: dict[tuple[str, Place, str], str] = {}
    for text, alike in found.items():
        if len(alike) == 1:
            ids[alike[0]] = text
            continue
        length = LENGTH
        while len({_signs(end, length) for end in alike}) < len(alike):
            length += 1
        ids |= {end: _signs(end, length) for end in alike}
    return ids


def _signs(end: tuple[str, Place, str], length: int) -> str:
    machine, place, circuit = end
    text = "\x1f".join((machine, *place, circuit))
    number = int.from_bytes(hashlib.sha256(text.encode("utf-8")).digest(), "big")
    signs = []
    for _ in range(length):
        number, at = divmod(number, len(ALPHABET))
        signs.append(ALPHABET[at])
    return "".join(signs)


def with_cavity(connector: str, cavity: str) -> str:
    """Return a cavity by name: `X5:7`; a stud that has none by its own: `MP3`."""
    return f"{connector}:{cavity}" if cavity else connector


def spoken(place: Place, cavity: str = "") -> str:
    """Return a cavity as a label names it: `X5A:7`, `A30 X1:C4`."""
    return with_cavity(f"{place[0]}{place[1]}", cavity or place[2])


def cavity_words(pin: Pin) -> str:
    """Return a cavity as a sentence names it, as printed: `X5 A:7`."""
    return with_cavity(f"{pin.connector}{' ' + pin.half if pin.half else ''}", pin.cavity)


def label(id_: str, circuit: str, near: str, far: str) -> str:
    """Return the text on one stub: which cut, which circuit, what it hangs on and where it led.

    The other stub of the cut bears the same with near and far exchanged, so that both find each other.
    """
    return " ".join(filter(None, (id_, circuit, f"{near}>{far}")))


def extension_labels(
    circuit: str, one: tuple[Sequence[str], str], other: tuple[Sequence[str], str]
) -> tuple[str, str]:
    """Return the texts on the two ends of an extension, each given as (ids of the stubs on it, place).

    An end bears the id of the stub it is joined to, so that whoever joins looks for two alike; of several
    stubs the first, and how many more. Where the far end is joined to another cut, that one's id stands
    before its place.
    """

    def text(here: tuple[Sequence[str], str], there: tuple[Sequence[str], str]) -> str:
        (first, *more), (far, *_) = here[0], there[0]
        head = f"{first}+{len(more)}" if more else first
        way = there[1] if far == first else f"{far} {there[1]}"
        return label(f"{head} {EXTENSION}", circuit, here[1], way)

    return text(one, other), text(other, one)
