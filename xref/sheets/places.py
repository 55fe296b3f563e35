"""Where a circuit goes on, put into words: other ends, what it passes on the way, what feeds it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from xref.harness.answers import CircuitAnswer, PassThrough, SheetLine
from xref.records import Pin
from xref.sheets.printed import Place
from xref.sheets.texts import on_one_line

PageOf = Callable[[Pin], str]
_ROLE_WORDS = {"splice": "splice", "ground": "ground", "fuse": "fuse"}


def spot(pin: Pin) -> str:
    """Return connector, half and cavity of a pin as one name."""
    name = f"{pin.connector} {pin.half}" if pin.half else pin.connector
    return on_one_line(f"{name}:{pin.cavity}")


def ends_of(line: SheetLine, own: frozenset[tuple[str, str, str]], page_of: PageOf) -> tuple[Place, ...]:
    """Return every other end and ground of the line's circuit, each once.

    `own` holds (machine, connector, half) of the connectors on this sheet: such ends move along.
    """
    if line.others is None:
        return ()
    places: dict[tuple[str, str], Place] = {}
    for pin in (*line.others.ends, *line.others.grounds):
        if _same_cavity(pin, line.pin):
            continue
        what = on_one_line(pin.component or pin.connector_name)
        kind = _ROLE_WORDS.get(pin.role, "")
        if kind and kind not in what.lower():
            what = f"{what}, {kind}" if what else kind
        if (pin.machine, pin.connector, pin.half) in own:
            what = f"{what} — on this sheet" if what else "on this sheet"
        place = Place(at=spot(pin), what=what, page=page_of(pin))
        key = (place.at, place.what)
        if key in places:  # the same end printed on another page
            place = Place(at=place.at, what=place.what, page=_joined(places[key].page, place.page))
        places[key] = place
    return tuple(places.values())


def _joined(pages: str, more: str) -> str:
    return pages if more in pages.split(", ") else f"{pages}, {more}"


def _same_cavity(one: Pin, other: Pin) -> bool:
    return (one.machine, one.connector, one.half, one.cavity) == (
        other.machine,
        other.connector,
        other.half,
        other.cavity,
    )


def on_the_way(others: CircuitAnswer | None) -> tuple[str, ...]:
    """Return in-line cavities in the order given, then splices, then changes of the number."""
    if others is None:
        return ()
    said = [_through(passing) for passing in others.pass_throughs]
    said += [f"splice {spot(pin) if pin.cavity else on_one_line(pin.connector)}" for pin in others.splices]
    said += [
        f"continues as {on_one_line(further.circuit)} beyond {spot(further.at)}"
        for further in others.continues_as
    ]
    return tuple(dict.fromkeys(said))


def _through(passing: PassThrough) -> str:
    cavities = tuple(dict.fromkeys(half.cavity for half in passing.halves))
    name = on_one_line(f"{passing.connector}:{'/'.join(cavities)}")
    if passing.missing_half:
        halves = " and ".join(dict.fromkeys(half.half for half in passing.halves if half.half))
        return f"{name} (only half {halves} in the documents)" if halves else f"{name} (one half missing)"
    return name


def fed_by(line: SheetLine) -> tuple[str, ...]:
    """Return each fuse on the circuit with what the manual prints about it."""
    fuses: Iterable[Pin] = (*line.feeding, *(line.others.fuses if line.others else ()))
    said = []
    for pin in fuses:
        parts = dict.fromkeys(on_one_line(text) for text in (pin.function, pin.size) if text)
        said.append(" ".join([spot(pin), *parts]))
    return tuple(dict.fromkeys(said))
