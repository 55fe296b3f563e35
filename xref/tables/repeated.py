"""Headers that repeat as a whole (`Wire Way Wire Way`): what one block's column is, the other's is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from xref.data.words import fold


def counterparts(headers: Sequence[str]) -> Mapping[int, tuple[int, ...]]:
    """Return for each column those under the same words in the other blocks; {} where nothing repeats."""
    texts = [fold(t) for t in headers]
    count = len(texts)
    for period in range(2, count // 2 + 1):
        if count % period or len({t for t in texts[:period] if t}) < 2:
            continue
        if all(texts[j] == texts[j % period] for j in range(count)):
            return {j: tuple(k for k in range(j % period, count, period) if k != j) for j in range(count)}
    return {}
