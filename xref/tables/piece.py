"""What a header's line is made of: words with where they stand."""

from __future__ import annotations

from typing import Protocol, TypeVar


class Piece(Protocol):
    """A piece of a header's line."""

    @property
    def text(self) -> str:
        """Its words."""
        ...

    @property
    def x0(self) -> float:
        """Where it begins, points."""
        ...

    @property
    def x1(self) -> float:
        """Where it ends, points."""
        ...


P = TypeVar("P", bound=Piece)
