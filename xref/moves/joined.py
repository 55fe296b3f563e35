"""What hangs together, found by joining two at a time."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Generic, TypeVar

_Key = TypeVar("_Key")


class Joined(Generic[_Key]):
    """A union-find over anything that can be a key."""

    def __init__(self, keys: Iterable[_Key]) -> None:
        self._parent = {key: key for key in keys}

    def root(self, key: _Key) -> _Key:
        """Return what stands for all that a key is joined to."""
        parent = self._parent
        while parent[key] != key:
            parent[key] = parent[parent[key]]
            key = parent[key]
        return key

    def join(self, one: _Key, other: _Key) -> bool:
        """Join two; False where they were joined already."""
        one, other = self.root(one), self.root(other)
        self._parent[other] = one
        return one != other
