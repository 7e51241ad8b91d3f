"""Where drawings stand on a paper: rows, and the numbers they get.

This module owns which drawings share a row and that each is printed once. It leaves
what a drawing shows to `figures` and how rows look to the templates.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.language import listed, tr
from handouts_build.outputs.papers.runs import pieces

__all__ = ["GUTTER", "Drawings", "Placing", "figure_numbers", "in_rows", "wide_of"]

GUTTER = 4.0
"""Between drawings of a row, in mm; each has a margin of its own besides."""


class Drawings:
    """The drawings of a paper: SVG by id, and what the template needs to place each."""

    def __init__(self) -> None:
        self.svgs: dict[str, str] = {}

    def add(self, figure: Figure) -> dict[str, Any]:
        """A figure's entry in the data."""
        name = f"drawing-{len(self.svgs) + 1}"
        self.svgs[name] = figure.svg
        return {
            "id": name,
            "alt": figure.alt,
            "title": pieces(figure.title),
            "width": figure.width_mm,
            "height": figure.height_mm,
        }


def wide_of(row: Sequence[Figure]) -> float:
    """Width of figures side by side, in mm."""
    return sum(figure.width_mm for figure in row) + GUTTER * (len(row) - 1)


class Placing:
    """Each figure once, where it is first called for."""

    def __init__(self, figures: Iterable[Figure], drawings: Drawings, room: float) -> None:
        self._left = list(figures)
        self._drawings = drawings
        self._count = 0
        self._numbers: dict[str, list[int]] = {}
        self.room = room

    def take(self, group: str) -> list[Figure]:
        """The figures of a group that have no place yet."""
        found = [figure for figure in self._left if figure.group == group]
        self._left = [figure for figure in self._left if figure.group != group]
        return found

    def numbers(self, groups: Sequence[str]) -> list[int]:
        """The numbers of the figures of some groups, wherever they stand."""
        return sorted(number for group in groups for number in self._numbers.get(group, []))

    def rest(self) -> list[Figure]:
        """The figures that no step called for."""
        found, self._left = self._left, []
        return found

    def _in_rows(self, figures: Sequence[Figure]) -> list[list[Figure]]:
        rows: list[list[Figure]] = []
        for figure in figures:
            if rows and wide_of([*rows[-1], figure]) <= self.room:
                rows[-1].append(figure)
            else:
                rows.append([figure])
        return rows

    def rows(self, figures: Sequence[Figure]) -> list[list[dict[str, Any]]]:
        """Figures in rows as wide as the text, each at the size it is drawn for."""
        return [
            [self.cell(figure, min(figure.width_mm, self.room)) for figure in row] for row in self._in_rows(figures)
        ]

    def cell(self, figure: Figure, width: float) -> dict[str, Any]:
        """A figure's entry with its number and its width.

        Args:
            figure: The drawing.
            width: What it is given, in mm.
        """
        self._count += 1
        self._numbers.setdefault(figure.group, []).append(self._count)
        return {**self._drawings.add(figure), "cell": width, "number": self._count}


def in_rows(ranked: Sequence[tuple[Figure, float]], width: float, height: float, gap: float) -> list[list[Figure]]:
    """As many drawings as there is room for, in rows; those that come first are placed first.

    Args:
        ranked: Drawings with the height each takes, its title counted, in mm.
        width: Of a row, in mm.
        height: Of all rows, in mm.
        gap: Between rows, in mm.
    """
    rows: list[list[Figure]] = []
    highs: list[float] = []
    for figure, high in ranked:
        for place, row in enumerate(rows):
            more = max(0.0, high - highs[place])
            if wide_of([*row, figure]) <= width and sum(highs) + gap * (len(highs) - 1) + more <= height:
                row.append(figure)
                highs[place] += more
                break
        else:
            if figure.width_mm <= width and sum(highs) + gap * len(highs) + high <= height:
                rows.append([figure])
                highs.append(high)
    return rows


def figure_numbers(numbers: Sequence[int]) -> str:
    """Rising numbers in words: `2`, `2 and 3`, `2 to 4`, `1, 3 and 4`."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return tr("{first} to {last}", first=numbers[0], last=numbers[-1])
    return listed(numbers)
