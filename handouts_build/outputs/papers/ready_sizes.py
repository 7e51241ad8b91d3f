"""The ready sizes of a project side by side, as one small table on the handout.

This module owns which rows stand there: the sizes and the blanks that differ. What
follows from them is on the papers of each ready size.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from handouts_build.language import tr
from handouts_build.outputs.papers.runs import pieces
from handouts_build.sheet import Sheet

__all__ = ["ready_table"]

_MOST_ROWS = 14
_MOST_COLUMNS = 3
"""More would not stand side by side on a page."""


def ready_table(sheet: Sheet) -> dict[str, Any] | None:
    """The table's heads and rows; None where there are no ready sizes.

    Args:
        sheet: The project, worked out.
    """
    shown = sheet.ready[:_MOST_COLUMNS]
    if not shown:
        return None
    sheets = (sheet, *(ready.sheet for ready in shown))
    rows = list(_rows(sheets))[:_MOST_ROWS]
    return {
        "heads": [pieces(head) for head in (tr("As published"), *(ready.says for ready in shown))],
        "rows": [{"says": pieces(says), "values": [pieces(value) for value in values]} for says, values in rows],
    }


def _rows(sheets: tuple[Sheet, ...]) -> Iterator[tuple[str, list[str]]]:
    """What each row says, and its value on every sheet."""
    for sizes in zip(*(sheet.sizes for sheet in sheets), strict=True):
        values = [str(size.printed) for size in sizes]
        if len(set(values)) > 1:
            yield sizes[0].says, values
    for parts in zip(*(sheet.parts for sheet in sheets), strict=True):
        # What falls off another part is not sawn, so it has no blank to choose.
        if parts[0].falls_off:
            continue
        blanks = [part.blank.told(lambda printed: printed.lead) for part in parts]
        if len(set(blanks)) > 1 and not parts[0].falls_off:
            yield tr("{part}: {shape} blank", part=parts[0].title, shape=tr(parts[0].blank.shape)), blanks
