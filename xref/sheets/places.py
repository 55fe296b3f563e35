"""Where a circuit goes on, put into words: other ends, what it passes on the way, what feeds it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from xref.data.fuse_sides import is_fed_side
from xref.harness.answers import CircuitAnswer, PassThrough, SheetLine
from xref.records import Pin
from xref.sheets.printed import Place
from xref.sheets.texts import on_one_line

PageOf = Callable[[Pin], str]
_ROLE_WORDS = {"ground": "ground", "fuse": "fuse"}


def spot(pin: Pin) -> str:
    """Return connector, half and cavity of a pin as one name."""
    name = f"{pin.connector} {pin.half}" if pin.half else pin.connector
    return on_one_line(f"{name}:{pin.cavity}")


def ends_of(line: SheetLine, own: frozenset[tuple[str, str, str]], page_of: PageOf) -> tuple[Place, ...]:
    """Return every other end, ground and fuse of the line's circuit, each once with all its pages.

    `own` holds (machine, connector, half) of the connectors on this sheet: such ends move along.
    """
    if line.others is None:
        return ()
    cavities: dict[tuple[str, str, str, str], list[Pin]] = {}
    for pin in (*line.others.ends, *line.others.grounds, *line.others.fuses):
        cavities.setdefault((pin.machine, pin.connector, pin.half, pin.cavity), []).append(pin)
    cavities.pop((line.pin.machine, line.pin.connector, line.pin.half, line.pin.cavity), None)
    return tuple(_end(rows, where[:3] in own, page_of) for where, rows in cavities.items())


def _end(rows: Sequence[Pin], on_this_sheet: bool, page_of: PageOf) -> Place:
    what = next(filter(None, (on_one_line(pin.component or pin.connector_name) for pin in rows)), "")
    kind = next(filter(None, (_ROLE_WORDS.get(pin.role, "") for pin in rows)), "")
    said = [what, kind if kind not in what.lower() else ""]
    said += [f"only {on_one_line(option)}" for option in _options(rows)]
    what = ", ".join(filter(None, said))
    if on_this_sheet:
        what = f"{what} — on this sheet" if what else "on this sheet"
    pages = ", ".join(dict.fromkeys(page_of(pin) for pin in rows))
    return Place(at=spot(rows[0]), what=what, page=pages)


def _options(rows: Sequence[Pin]) -> list[str]:
    return list(dict.fromkeys(pin.option for pin in rows if pin.option))


def on_the_way(others: CircuitAnswer | None) -> tuple[str, ...]:
    """Return in-line cavities in the order given, then splices, then changes of the number."""
    if others is None:
        return ()
    said = [_through(passing) for passing in others.pass_throughs]
    said += [f"splice {on_one_line(pin.connector)}" for pin in others.splices]
    said += [
        f"continues as {on_one_line(further.circuit)} beyond {_border(further.at)}"
        for further in others.continues_as
    ]
    return tuple(dict.fromkeys(said))


def _border(pin: Pin) -> str:
    return f"splice {on_one_line(pin.connector)}" if pin.role == "splice" else spot(pin)


def _through(passing: PassThrough) -> str:
    cavities = tuple(dict.fromkeys(half.cavity for half in passing.halves))
    name = on_one_line(f"{passing.connector}:{'/'.join(cavities)}")
    if passing.missing_half and passing.likely:
        return f"{name} (plugged into which half is not decided)"
    if passing.missing_half:
        halves = " and ".join(dict.fromkeys(half.half for half in passing.halves if half.half))
        return f"{name} (only half {halves} in the documents)" if halves else f"{name} (one half missing)"
    return name


def fed_by(line: SheetLine) -> tuple[str, ...]:
    """Return each fuse on the circuit with what the manual prints about it."""
    fuses: dict[str, list[Pin]] = {}
    for pin in (*line.feeding, *(line.others.fuses if line.others else ())):
        if is_fed_side(pin.role, pin.cavity):
            continue  # the wire comes to this fuse, and is not what it protects
        fuses.setdefault(spot(pin), []).append(pin)
    # a size that is a wire's cross-section says nothing about the fuse, and reads like its amperes
    return tuple(
        " ".join(
            dict.fromkeys(
                on_one_line(text)
                for text in (
                    at,
                    *(pin.function for pin in rows),
                    *(pin.size for pin in rows if pin.size_mm2 is None),
                )
                if text
            )
        )
        for at, rows in fuses.items()
    )
