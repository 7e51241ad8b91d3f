"""A sheet as a table in the terminal.

This module owns that table and no computing; it is the dimensions sheet for those
who have the lathe and a laptop side by side.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.language import tr
from handouts_build.sheet import Sheet

__all__ = ["dimensions_table"]

Row = tuple[str, str, str]


def dimensions_table(sheet: Sheet) -> str:
    """Sizes and main dimensions, in columns: what, the unit that leads, the other."""
    sizes = [(size.says, size.printed.lead, size.printed.other) for size in sheet.sizes]
    blocks = [(tr("Sizes"), sizes)] if sizes else []
    for group in sheet.groups:
        rows = [
            (dimension.says, dimension.printed.lead, dimension.printed.other)
            for dimension in group.dimensions
            if dimension.main
        ]
        if rows:
            blocks.append((group.title, rows))
    # A write-up of words and photographs alone has none.
    wide = max((len(lead) for _, rows in blocks for _, lead, _ in rows), default=0)
    other = max((len(second) for _, rows in blocks for _, _, second in rows), default=0)
    return "\n".join((sheet.title, "", *_lines(blocks, wide, other))) + "\n"


def _lines(blocks: list[tuple[str, list[Row]]], wide: int, other: int) -> Iterator[str]:
    for title, rows in blocks:
        yield title
        for says, lead, second in rows:
            yield f"  {lead:>{wide}}  {second:>{other}}  {says}"
        yield ""
