"""Where each full-size template stands on which page.

This module owns the packing: templates and their words onto as few pages as a
simple rule gives, never scaled, with the bar to measure on every page. The drawings
come from `figures.templates`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.figures.templates.catalog import Room, Template, bar, templates
from handouts_build.language import tr
from handouts_build.outputs.papers.content import common
from handouts_build.outputs.papers.runs import pieces
from handouts_build.outputs.words import ACTUAL_SIZE
from handouts_build.paper import PaperSize
from handouts_build.sheet import Sheet

__all__ = ["has_templates", "templates_data"]

_MARGIN = 13.0
_TOP = 19.0
_BOTTOM = 25.0
_GAP = 6.0
_OPENING = 25.0
"""Height of the title and its words on the first page, in mm."""
_NARROW = 30.0
"""A drawing narrower than this has its words beside it."""
_WORDS_BESIDE = 38.0
_BETWEEN = 3.0
_ABOVE = 1.5


@dataclass
class _Item:
    """A drawing with the place for its words."""

    figure: Figure
    template: Template
    piece: int
    beside: bool
    words_width: float
    words_height: float

    @property
    def width(self) -> float:
        if self.beside:
            return self.figure.width_mm + _BETWEEN + self.words_width
        return max(self.figure.width_mm, self.words_width)

    @property
    def height(self) -> float:
        if self.beside:
            return max(self.figure.height_mm, self.words_height)
        return self.figure.height_mm + _ABOVE + self.words_height


def _stacked(items: list[_Item]) -> float:
    """Height of items one below the other, in mm."""
    return sum(item.height for item in items) + _GAP * (len(items) - 1)


@dataclass
class _TemplateRow:
    """Columns of items side by side; the tallest of those at their heads gives the row its height."""

    columns: list[list[_Item]]

    @property
    def width(self) -> float:
        return sum(column[0].width for column in self.columns) + _GAP * (len(self.columns) - 1)

    @property
    def height(self) -> float:
        return max(column[0].height for column in self.columns)

    def takes(self, item: _Item, width: float) -> bool:
        """Put the item below others or beside them, if there is room; whether there was.

        Args:
            item: No taller than the row.
            width: Of the page, in mm.
        """
        for column in self.columns[1:]:
            if item.width <= column[0].width + 0.5 and _stacked([*column, item]) <= self.height:
                column.append(item)
                return True
        if self.width + _GAP + item.width <= width:
            self.columns.append([item])
            return True
        return False


def has_templates(sheet: Sheet, paper: PaperSize) -> bool:
    """Whether the sheet yields any template.

    Args:
        sheet: The project, worked out.
        paper: What it would be printed on.
    """
    return bool(templates(sheet, _room(paper)))


def templates_data(sheet: Sheet, paper: PaperSize) -> tuple[dict[str, Any], dict[str, str]]:
    """The templates' data and drawings by id.

    Args:
        sheet: The project, worked out; it yields a template.
        paper: What they are printed on.
    """
    width, height = _page(paper)
    pages = _pages(templates(sheet, _room(paper)), width, height)
    if not pages[0]:
        # Nothing fits below the title: what is long is cut shorter, so that no page stands empty.
        pages = _pages(templates(sheet, _room(paper, below=_OPENING)), width, height)
    drawings: dict[str, str] = {}
    laid = [[[[_entry(item, drawings) for item in column] for column in row.columns] for row in page] for page in pages]
    svg, bar_width, bar_height = bar()
    drawings["bar"] = svg
    data = common(sheet, paper)
    data |= {
        "pages": laid, "margin": _MARGIN, "top": _TOP, "bottom": _BOTTOM, "gap": _GAP, "opening": _OPENING,
        "bar": {"width": bar_width, "height": bar_height, "alt": tr("Bar to measure: 100 mm above, 4 in below.")},
    }  # fmt: skip
    data["words"] |= {
        "actual_size": tr(ACTUAL_SIZE),
        "templates": tr(
            "The bar at the foot of every page is 100 mm long above and 4 in long below if the print is true. "
            "Cut on solid outlines; dashed lines are for gluing or show where wood is."
        ),
    }
    return data, drawings


def _page(paper: PaperSize) -> tuple[float, float]:
    """Width and height that a page gives to templates, in mm."""
    return paper.width - 2 * _MARGIN, paper.height - _TOP - _BOTTOM - 1.0


def _room(paper: PaperSize, below: float = 0.0) -> Room:
    """The largest drawing that fits on a page, or below something of some height on it, in mm."""
    width, height = _page(paper)
    return Room(width, height - below - _ABOVE - _words_height(0.0))


def _words_height(width: float) -> float:
    """Room for a template's words above a drawing of some width, in mm."""
    return 13.0 if width >= 75 else 18.0


def _items(found: tuple[Template, ...]) -> list[_Item]:
    """Every piece of every template, with the place for its words."""
    items = []
    for template in found:
        for number, figure in enumerate(template.pieces, start=1):
            if figure.width_mm < _NARROW:
                items.append(
                    _Item(figure, template, number, True, _WORDS_BESIDE, min(45.0, max(30.0, figure.height_mm)))
                )
            else:
                width = max(figure.width_mm, 46.0)
                items.append(_Item(figure, template, number, False, width, _words_height(width)))
    return items


def _pages(found: tuple[Template, ...], width: float, height: float) -> list[list[_TemplateRow]]:
    """Rows on pages. Tall things first, each in the first row it fits, or below something no narrower."""
    rows: list[_TemplateRow] = []
    for item in sorted(_items(found), key=lambda item: (-round(item.height), -round(item.width))):
        if not any(row.takes(item, width) for row in rows):
            rows.append(_TemplateRow([[item]]))
    pages: list[list[_TemplateRow]] = [[]]
    rooms = [height - _OPENING]
    for row in rows:
        place = next((number for number, room in enumerate(rooms) if row.height <= room), len(rooms))
        if place == len(rooms):
            pages.append([])
            rooms.append(height)
        pages[place].append(row)
        rooms[place] -= row.height + _GAP
    return pages


def _entry(item: _Item, drawings: dict[str, str]) -> dict[str, Any]:
    """An item as the template reads it."""
    name = f"drawing-{len(drawings) + 1}"
    drawings[name] = item.figure.svg
    piece_count = len(item.template.pieces)
    return {
        "id": name,
        "alt": item.figure.alt,
        "width": item.figure.width_mm,
        "height": item.figure.height_mm,
        "box": item.width,
        "beside": item.beside,
        "words_width": item.words_width,
        "words_height": item.words_height,
        "title": pieces(item.template.title),
        "piece": tr("Piece {number} of {count}", number=item.piece, count=piece_count) if piece_count > 1 else "",
        "use": pieces(item.template.use) if item.piece == 1 else [],
        "first": item.piece == 1,
    }
