"""Sources that a page or paper names, numbered in the order they are first named."""

from __future__ import annotations

from handouts_build.sheet import Citation

__all__ = ["Citations"]


class Citations:
    """The sources named so far: one of the same text keeps its number."""

    def __init__(self) -> None:
        self._cited: dict[tuple[str, str], Citation] = {}

    @property
    def listed(self) -> tuple[Citation, ...]:
        """Every source named so far, the first one first."""
        return tuple(self._cited.values())

    def number(self, source: Citation) -> int:
        """The number that stands for a source, from 1."""
        key = (source.id, source.text)
        self._cited.setdefault(key, source)
        return list(self._cited).index(key) + 1
