"""Ohms between two points of a network of resistors, by solving its node equations."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

#: (point, point, ohms above 0)
Resistor = tuple[Hashable, Hashable, float]


def ohms_between(resistors: Iterable[Resistor], one: Hashable, other: Hashable) -> float | None:
    """Return the ohms a meter shows between two points, None where nothing joins them.

    Raises:
        ValueError: a resistor has 0 ohm or less; what is joined without one is one point.
    """
    if one == other:
        return 0.0
    links = [item for item in resistors if item[0] != item[1]]
    if any(ohms <= 0 for _, _, ohms in links):
        raise ValueError("a resistor needs more than 0 ohm")
    points = _reached(links, one)
    if other not in points:
        return None
    # `other` is held at 0 V and one ampere flows into `one`: its voltage is the ohms that are asked for
    rows = {point: number for number, point in enumerate(p for p in points if p != other)}
    size = len(rows)
    matrix = [[0.0] * size + [0.0] for _ in range(size)]
    matrix[rows[one]][size] = 1.0
    for start, end, ohms in links:
        if start not in points:
            continue
        for here, there in ((start, end), (end, start)):
            if here in rows:
                matrix[rows[here]][rows[here]] += 1 / ohms
                if there in rows:
                    matrix[rows[here]][rows[there]] -= 1 / ohms
    return _solved(matrix)[rows[one]]


def _reached(links: list[Resistor], start: Hashable) -> list[Hashable]:
    near: dict[Hashable, list[Hashable]] = {}
    for one, other, _ in links:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    seen = dict.fromkeys([start])
    todo = [start]
    while todo:
        for point in near.get(todo.pop(), ()):
            if point not in seen:
                seen[point] = None
                todo.append(point)
    return list(seen)


def _solved(matrix: list[list[float]]) -> list[float]:
    """Return the solution of equations written as rows with their right side last."""
    size = len(matrix)
    for column in range(size):
        best = max(range(column, size), key=lambda row: abs(matrix[row][column]))
        matrix[column], matrix[best] = matrix[best], matrix[column]
        pivot = [value / matrix[column][column] for value in matrix[column]]
        matrix[column] = pivot
        for row in range(size):
            factor = matrix[row][column]
            if row != column and factor:
                matrix[row] = [a - factor * b for a, b in zip(matrix[row], pivot, strict=True)]
    return [row[size] for row in matrix]
