"""What a meter showed, as typed: a number with its unit, or an open circuit."""

from __future__ import annotations

import re

from xref.errors import UsageError

#: A comma before three figures may part thousands: `1,234`; after a 0 it does not.
_UNCLEAR_COMMA = re.compile(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)")
#: A number alone.
_BARE = re.compile(r"[<>≤≥~≈]?\s*[-+−]?\d+(?:[.,]\d+)?")
#: `0.3 ohm`, `0,3 Ω`, `> 20 MΩ`, `24.1V`.
_READING = re.compile(r"[<>≤≥~≈]?\s*[-+−]?\d+(?:[.,]\d+)?\s*(?P<unit>[^\W\d_]\S*|°\w+|%)", re.UNICODE)
#: A reading in ohms; `>` before it says that it is more than the meter shows.
_OHMS = re.compile(
    r"[<≤~≈]?\s*[-+−]?(?P<number>\d+(?:[.,]\d+)?)\s*(?P<prefix>[mkKM]?)(?:[Ωω\u2126]|[Oo]hms?|OHMS?|R)"
)
#: A reading in volts or amperes.
_LIVE = re.compile(
    r"[<>≤≥~≈]?\s*[-+−]?\s*(?P<number>\d+(?:[.,]\d+)?)\s*(?P<prefix>[mkKM]?)(?P<unit>V|v|[Vv]olts?|A)(?:\s?[DA]C)?"
)
#: Less is what a meter picks up from the air, or its last figure. Defaults of this project.
LEAST_VOLTS, LEAST_AMPERES = 0.5, 0.01
_FACTORS = {"": 1.0, "m": 0.001, "k": 1000.0, "K": 1000.0, "M": 1_000_000.0}
#: Ohms up to which a wire is taken to be through: any wire of a vehicle has far less, and any meter shows
#: this much with dirty probes. A default of this project.
MOST_OHMS = 50.0
#: How meters and people write that nothing flows.
_OPEN = frozenset({"ol", "o.l", "0l", "0.l", "o.l.", "open", "inf", "infinite", "∞"})
#: A reading is short; more is a note.
LONGEST = 40


def is_open(value: str) -> bool:
    """Whether a reading says that no current flows: `OL`, `open`, `∞`, with a unit or without."""
    first = value.split()[0] if value.split() else ""
    return first.casefold() in _OPEN


def shows_continuity(value: str) -> bool:
    """Whether a reading says that a wire is through: some ohms. Volts and amperes mean that it is live.

    Above `MOST_OHMS` it is no wire but what hangs on it, or a body across the probes.
    """
    found = _OHMS.fullmatch(" ".join(value.split()))
    if found is None or _UNCLEAR_COMMA.search(value):
        return False
    return _amount(found) <= MOST_OHMS


def why_no_continuity(value: str) -> str:
    """Return what a reading that shows no continuity shows instead, in words; "" where it shows it."""
    if shows_continuity(value):
        return ""
    if is_live(value):
        return "it is live"
    if is_open(value):
        return "it is open"
    if _OHMS.fullmatch(" ".join(value.split())):
        return f"a wire has at most {MOST_OHMS:.0f} ohm"
    return "that is no number of ohms"


def is_live(value: str) -> bool:
    """Whether a reading says that a wire is live: of `LEAST_VOLTS` or `LEAST_AMPERES`, or more."""
    found = _LIVE.fullmatch(" ".join(value.split()))
    return found is not None and _amount(found) >= (LEAST_AMPERES if found["unit"] == "A" else LEAST_VOLTS)


def _amount(found: re.Match[str]) -> float:
    return float(found["number"].replace(",", ".")) * _FACTORS[found["prefix"]]


def checked_reading(text: str) -> str:
    """Return a reading with its blanks folded; raises UsageError where it is none, or may be two.

    A comma is a point (`0,4 ohm`) but where it may part thousands; a number alone may be ohms or volts.
    """
    value = " ".join(text.split())
    unclear = _UNCLEAR_COMMA.search(value)
    if unclear is not None and len(value) <= LONGEST:
        point, none = unclear[0].replace(",", "."), unclear[0].replace(",", "")
        raise UsageError(
            f"{text!r} may be {point} or {none}.", hint=f"Write it with a point or without a comma: {point}."
        )
    if len(value) <= LONGEST and _BARE.fullmatch(value):
        raise UsageError(
            f"{text!r} has no unit: it may be ohms or volts.",
            hint=f'Write --value "{value} ohm" or "{value} V".',
        )
    if is_open(value) and len(value) <= LONGEST:
        return value
    if len(value) <= LONGEST and _READING.fullmatch(value):
        return value
    raise UsageError(
        f"{text!r} is no reading: a number with its unit, or OL for an open circuit.",
        hint='Write --value "0.3 ohm"; words go into --note.',
    )
