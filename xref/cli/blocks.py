"""Rows and pages as a person reads them at arm's length: short columns, doubts in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from xref.cli.terminal import Row, Screen, Style
from xref.cli.text import listed, page_ranges
from xref.colors.words import in_words
from xref.harness.answers import Near, Outdated
from xref.harness.same import rows_once, same_pins
from xref.harness.size_words import size_words
from xref.records import DOUBTS, PageNote, Pin, notice_words

if TYPE_CHECKING:
    from xref.store.documents import SamePages

#: Documents named in one line; the doctor names them all.
_MOST_NAMED = 5

#: Notices said once for a whole answer or by a mark of their own, not under each row.
_SAID_ELSEWHERE = {"same-color-in-connector", "reversed-colors-in-connector"}


def where(pin: Pin) -> str:
    """Return the pin's place: `X5:12 half A`."""
    half = f" half {pin.half}" if pin.half else ""
    return f"{pin.connector}:{pin.cavity}{half}"


def color_words(pin: Pin) -> str:
    """Return the wire's colours in words; says so when the code has no decided meaning."""
    if pin.base_color:
        return in_words(pin.base_color, pin.stripe_color, pin.ring_color)
    return "colour not decided" if pin.color_code else ""


def page_of(pin: Pin) -> str:
    """Return where the row stands in the manual: `loom.pdf p. 12 (printed 3-4)`."""
    printed = f" (printed {pin.page_label})" if pin.page_label not in ("", str(pin.page)) else ""
    return f"{pin.document} p. {pin.page}{printed}"


def appearances(pins: Iterable[Pin], with_circuit: bool = False) -> list[Row]:
    """Return one row per pin: place, code, colour in words, function; below it every page that prints it.

    `with_circuit` adds the circuit behind the place, for groups in which it is not the same everywhere.
    """
    return [_appearance(group, with_circuit) for group in same_pins(pins)]


def _appearance(group: Sequence[Pin], with_circuit: bool) -> Row:
    pin = next((row for row in group if row.color_code), group[0])
    code = pin.color_code or ("–" if pin.status != "unused" else "")
    function = function_of(group)
    said = function if pin.status == "used" else f"{function} ({pin.status})".strip()
    circuit = (f"circuit {pin.circuit}" if pin.circuit else "no circuit",) if with_circuit else ()
    notes: list[tuple[str, Style]] = []
    heads: set[str] = set()
    for row, further in rows_once(group):
        head = _head_words(row)
        own = (
            row.color_code if row.color_code not in ("", pin.color_code) else "",
            row.function if row.function not in ("", function) else "",
        )
        notes += [
            (
                " · ".join(
                    [
                        *(text for text in own if text),
                        _details(row, "" if head in heads else head),
                        *map(page_of, further),
                    ]
                ),
                "",
            ),
            *remarks(row),
        ]
        heads.add(head)
    return Row(cells=(where(pin), *circuit, code, color_words(pin), said), notes=notes)


def function_of(group: Sequence[Pin]) -> str:
    """Return the first function that is printed for a pin."""
    return next((pin.function for pin in group if pin.function), "")


def _head_words(pin: Pin) -> str:
    return " · ".join(dict.fromkeys(filter(None, (pin.component, pin.connector_name))))


def _details(pin: Pin, head: str) -> str:
    """Return one line about a row; `head` names its connector, "" where that was just said."""
    parts = (
        head,
        f"size {size_words(pin)}" if pin.size else "",
        f"only {pin.option}" if pin.option else "",
        f"goes to {pin.goes_to}" if pin.goes_to else "",
        f"harness {pin.harness}" if pin.harness and pin.harness not in _head_words(pin) else "",
        page_of(pin),
    )
    return " · ".join(dict.fromkeys(part for part in parts if part))


def remarks(pin: Pin) -> list[tuple[str, Style]]:
    """Return the pin's doubts and notices in words."""
    notices: list[tuple[str, Style]] = [
        (f"Note: {notice_words(name)}", "") for name in pin.notices if name not in _SAID_ELSEWHERE
    ]
    return [*doubts(pin.flags), *notices]


def doubts(flags: Iterable[str]) -> list[tuple[str, Style]]:
    """Return doubts in words."""
    return [(f"DOUBT: {DOUBTS.get(flag, flag)} ({flag}) – look at the page", "doubt") for flag in flags]


def block(screen: Screen, title: str, rows: Sequence[Row]) -> None:
    """Write a titled group of rows; nothing if there are none."""
    if rows:
        screen.line()
        screen.line(title, "bold")
        screen.rows(rows)


def near_names(screen: Screen, title: str, near: Sequence[Near]) -> None:
    """Write names that resemble the asked one, each with its reason."""
    if not near:
        return
    machines = {item.machine for item in near}
    screen.line()
    screen.line(title, "bold")
    several = len(machines) > 1
    screen.rows([Row(cells=(item.name, item.why, item.machine if several else "")) for item in near])


def unread_pages(screen: Screen, notes: Sequence[PageNote]) -> None:
    """Write which pages could not be read, and which only in part: what stands there is in no answer."""
    whole = [note for note in notes if note.outcome == "unread"]
    partly = [note for note in notes if note.outcome != "unread"]
    for title, some in (
        ("NOT READ – what stands on these pages is in no answer:", whole),
        ("READ ONLY IN PART – a table on these pages is in no answer:", partly),
    ):
        if some:
            screen.line()
            screen.line(title, "doubt")
        for line in unread_lines(some):
            screen.line(line, "", 2)


def partly_read(screen: Screen, notes: Sequence[PageNote]) -> None:
    """Write on which pages a picture stands beside the text: what the picture shows was not read."""
    pages: dict[str, list[int]] = defaultdict(list)
    for note in notes:
        pages[note.document].append(note.page)
    rows = [Row(cells=(name, f"p. {page_ranges(numbers)}")) for name, numbers in pages.items()]
    block(screen, "A PICTURE ON THESE PAGES WAS NOT READ, only the text beside it", rows)


def unread_lines(notes: Iterable[PageNote]) -> list[str]:
    """Return one line per document and reason: `loom.pdf p. 3, 7–9: picture only`."""
    pages: dict[tuple[str, str], list[int]] = defaultdict(list)
    for note in notes:
        pages[note.document, note.why].append(note.page)
    return [f"{document} p. {page_ranges(numbers)}: {why}" for (document, why), numbers in pages.items()]


def outdated(screen: Screen, documents: Sequence[Outdated]) -> None:
    """Write which documents are not as they were when their rows were read."""
    names: dict[str, list[str]] = defaultdict(list)
    for item in documents:
        names[item.why].append(item.document)
    for why, found in names.items():
        screen.line()
        more = f" and {len(found) - _MOST_NAMED} more" if len(found) > _MOST_NAMED else ""
        screen.line(f"OUT OF DATE? {', '.join(found[:_MOST_NAMED])}{more}: {why}.", "doubt")


def same_pages(screen: Screen, pairs: Sequence[SamePages]) -> None:
    """Write which pages stand in two documents (or twice in one): their rows are one pin each."""
    runs: list[tuple[SamePages, SamePages]] = []
    for pair in pairs:
        if runs and _goes_on(runs[-1][1], pair):
            runs[-1] = (runs[-1][0], pair)
        else:
            runs.append((pair, pair))
    rows = [
        Row(
            cells=(
                f"{first.document} p. {page_ranges(range(first.page, last.page + 1))}",
                f"also {first.other} p. {page_ranges(range(first.other_page, last.other_page + 1))}",
            )
        )
        for first, last in runs
    ]
    block(screen, "THE SAME PAGES TWICE (their rows are shown once, with both pages)", rows)


def _goes_on(one: SamePages, other: SamePages) -> bool:
    same = (one.machine, one.document, one.other) == (other.machine, other.document, other.other)
    return same and other.page - one.page == other.other_page - one.other_page == 1


def same_pages_to_json(pair: SamePages) -> dict[str, object]:
    """Return the pair of pages as it stands in JSON answers."""
    return {
        "document": pair.document,
        "page": pair.page,
        "other_document": pair.other,
        "other_page": pair.other_page,
    }


def by_machine(pins: Iterable[Pin]) -> Iterator[tuple[str, list[Pin]]]:
    """Group pins by machine, in order of appearance: nothing of two machines belongs together."""
    groups: dict[str, list[Pin]] = {}
    for pin in pins:
        groups.setdefault(pin.machine, []).append(pin)
    yield from groups.items()


def machine_words(machine: str) -> str:
    """Return how a machine is named in a heading; the unnamed one has no words."""
    return f" · machine {machine}" if machine else ""


def cavities(names: Sequence[str]) -> str:
    """Return `cavity 3` or `cavities 3, 7 and 8`."""
    return f"{'cavity' if len(names) == 1 else 'cavities'} {listed(names)}"
