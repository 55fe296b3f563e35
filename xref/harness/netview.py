"""The nets some pins belong to: their maps, their ways as steps, what is missing of them and what is odd."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from xref.harness.agreed import agreed
from xref.harness.answers import NetView
from xref.harness.likely import Likely, likely_of
from xref.harness.listed import spliced
from xref.harness.netmap import NetMap, map_of, place_of
from xref.harness.nets import ON_THE_PATH
from xref.harness.oddities import place
from xref.harness.sentences import as_sentence
from xref.harness.steps import is_stated, steps_of_net
from xref.records import NET_FLAGS, Pin
from xref.store.index import Index

#: Flags of a net that say what is missing are said cavity by cavity instead.
_SAID_BY_CAVITY = frozenset({"mate-missing", "pins-in-doubt"})
#: A voltage's name stands in thousands of rows and nets; nobody follows more of them than this at once.
MOST_NETS, _MOST_PINS = 40, 400


def net_map(index: Index, pins: Sequence[Pin]) -> NetMap:
    """Return the map of a net's pins."""
    filled = agreed(index, pins)
    connectors = {(pin.machine, pin.connector) for pin in filled if pin.role == "inline"}
    mates = [mate for machine, name in sorted(connectors) for mate in index.mates(machine, name)]
    return map_of(filled, dict.fromkeys(mates))


def nets_with(index: Index, pins: Sequence[Pin]) -> tuple[NetView, ...]:
    """Return the nets these pins are in, the first MOST_NETS of them, each told from the pins on."""
    pins = pins[:_MOST_PINS]
    of = index.nets_of(pins)
    numbers = list(dict.fromkeys(of[pin] for pin in pins if pin in of))[:MOST_NETS]
    flags, rows = index.net_flags(numbers), index.pins_of_nets(numbers)
    return tuple(
        _view(
            index,
            number,
            net_map(index, rows[number]),
            flags[number],
            [p for p in pins if of.get(p) == number],
        )
        for number in numbers
    )


def _view(index: Index, number: int, net: NetMap, flags: tuple[str, ...], asked: Sequence[Pin]) -> NetView:
    tops = tuple(steps_of_net(net, (place_of(pin) for pin in asked)))
    return NetView(
        net=number,
        machine=asked[0].machine,
        flags=flags,
        ends=tuple(stop.pins[0] for stop in net.stops.values() if stop.role not in ON_THE_PATH),
        tops=tops,
        order="stated" if is_stated(tops) else "not stated",
        missing=tuple(missing_of(net, flags, likely_in(index, net))),
        notices=tuple(notices_of(net, flags)),
    )


def likely_in(index: Index, net: NetMap) -> list[Likely]:
    """Return what the lone in-line halves of a net may be plugged into."""
    pins = (pin for place in net.unmated for pin in net.stops[place].pins)
    return list(likely_of(index, pins).values())


def missing_of(net: NetMap, flags: Iterable[str], likely: Iterable[Likely] = ()) -> list[str]:
    """Return sentences for what of a net is not in the documents, cavity by cavity.

    Of a half that is like another one it is said that this is not decided.
    """
    alike = {item.half: item.sentence() for item in likely}
    said = [as_sentence(text) for text in alike.values()]
    said += [
        f"The other half of {name}{f' half {half}' if half else ''} is not in these documents at cavity "
        f"{net.stops[name, half, key].pins[0].cavity}: an end is missing."
        for name, half, key in net.unmated
        if (name, half) not in alike
    ]
    if "end-missing" in flags and not said:
        said.append("An end is missing in these documents: fewer than two were read.")
    if "splice-one-leg" in flags:
        said.append("Only one leg of a splice is in these documents: an end is missing.")
    return said + [as_sentence(splice.sentence()) for splice in spliced(net) if not splice.known]


def notices_of(net: NetMap, flags: Iterable[str]) -> list[str]:
    """Return sentences for what is odd about a net, but for what is missing."""
    said = []
    for flag in flags:
        if flag in ("end-missing", "splice-one-leg", "splice-listed") or flag in _SAID_BY_CAVITY:
            continue
        words = NET_FLAGS[flag]
        said.append(as_sentence(words))
    said += [as_sentence(splice.sentence()) for splice in spliced(net) if splice.known and not splice.stated]
    doubtful = [pin for pin in net.rows if pin.flags]
    if doubtful:
        places = dict.fromkeys(place(pin) for pin in doubtful)
        said.append(f"May have been misread: {', '.join(places)}. Compare with the page.")
    return said
